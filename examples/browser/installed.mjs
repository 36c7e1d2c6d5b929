// The page without a network: the service worker keeps every file of it.
import { find } from './elements.mjs';

export async function keepOffline() {
    if (!('serviceWorker' in navigator)) return;
    try {
        // Whether there is a newer version is asked of the server, not of what the browser keeps.
        await navigator.serviceWorker.register('offline.js', { updateViaCache: 'none' });
        await navigator.serviceWorker.ready;
        find('offline').textContent = 'It works offline from now on.';
    } catch {
        // Private windows and plain http do not allow it: the page works as long as its server does.
    }
}
