// The page without a network: the service worker keeps every file of it.
import { find } from './elements.mjs';

export async function keepOffline() {
    if (!('serviceWorker' in navigator)) return;
    try {
        await navigator.serviceWorker.register('offline.js');
        await navigator.serviceWorker.ready;
        find('offline').textContent = 'It works offline from now on.';
    } catch {
        // Private windows and plain http do not allow it: the page works as long as its server does.
    }
}
