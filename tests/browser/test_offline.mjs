// The page without a network: everything is there once it was loaded, and nothing of it may
// ask another address.
import { check, equal, goTo, HAND, openBrowser, openPage, ready, serve, type, until, useList } from './harness.mjs';

async function refusesElsewhere(page) {
    // What is refused is said on the console too, which would count as an error of the page.
    const refused = await page.evaluate(async () => {
        const said = new Promise((resolve) => {
            addEventListener('securitypolicyviolation', (event) => resolve(event.effectiveDirective), { once: true });
        });
        await fetch('https://example.org/').catch(() => {});
        return said;
    });
    equal(refused, 'connect-src', 'a request to another address is refused by the policy');
}

export async function test({ tools, folder }) {
    const server = await serve(folder);
    const browser = await openBrowser(tools);
    try {
        const page = await openPage(browser.context, server.address);
        check(await until(async () => /offline/.test(await page.locator('#offline').textContent())), 'the service worker is ready');
        await server.stop();
        await browser.context.setOffline(true);
        await page.reload();
        await ready(page);
        await type(page, 'hand-tiles', HAND);
        await page.locator('.passes').waitFor();
        await page.locator('.target').first().waitFor();
        check((await page.locator('.target').count()) === 10, 'offline: closest patterns');
        await useList(page, 'traditional');
        equal(await page.locator('#in-use').textContent(), 'Traditional hands', 'offline: another list');
        await goTo(page, 'practice');
        await page.locator('#practice-start').click();
        await page.locator('#practice-round').waitFor();
        check((await page.locator('#practice-chooser .choose button').count()) >= 13, 'offline: a hand is dealt');
        const shown = await page.evaluate(async () => (await fetch('nearhand.webmanifest')).json());
        const icons = await page.evaluate((names) => Promise.all(names.map(async (name) => {
            const image = new Image();
            image.src = name;
            await image.decode();
            return image.naturalWidth > 0;
        })), shown.icons.map((icon) => icon.src));
        check(shown.display === 'standalone' && icons.length === 2 && icons.every(Boolean), 'offline: manifest and icons');
        page.removeAllListeners('console');
        await refusesElsewhere(page);
    } finally {
        await browser.close();
        await server.stop();
    }
}
