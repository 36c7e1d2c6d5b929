// Every view with something on it, for tests that look at all of them.
import { goTo, HAND, type, useList } from './harness.mjs';

const BROKEN = '{"format": 1,\n "title": "Broken", "patterns": [{"name": "A", "groups": [{"pung": "n"}]}]}';

async function jokers(page) {
    await useList(page, 'jokers');
    await goTo(page, 'hand');
    await type(page, 'hand-tiles', '2468B 246C 33D EE JJ F');
    await page.locator('.target').first().waitFor();
    await page.locator('#passes-answer .passes').waitFor();
}

/** What leads to each scene, in this order. */
export const SCENES = {
    async hand(page) {
        await goTo(page, 'hand');
        await type(page, 'hand-tiles', HAND);
        await page.locator('.target').first().waitFor();
        await page.locator('#passes-answer .passes').waitFor();
    },
    async mistyped(page) {
        await page.locator('#hand-tiles').fill('2468B 33X');
        await page.locator('#hand-tiles-error').waitFor();
    },
    async play(page) {
        await type(page, 'hand-tiles', '2468B 246C 33D WW');
        await goTo(page, 'play');
        await type(page, 'play-sets', 'EEE');
        await type(page, 'play-gone', '3D 7B');
        await page.locator('#view-play summary').first().click();
        await page.locator('#turn-answer table').waitFor();
        await page.locator('#player-ask').click();
        await page.locator('#player-answer table').first().waitFor();
    },
    async practice(page) {
        await type(page, 'play-sets', '');
        await goTo(page, 'practice');
    },
    async choosing(page) {
        await page.locator('#practice-seed').fill('7');
        await page.locator('#practice-start').click();
        for (const tile of [1, 4, 5]) await page.locator('#practice-chooser .choose button').nth(tile).click();
    },
    async review(page) {
        await page.locator('#practice-chooser button.main').click();
        await page.locator('#practice-answer .target').first().waitFor();
    },
    async lists(page) {
        await goTo(page, 'lists');
        await page.locator('#lists-count').click();
        await page.locator('#lists-contents th', { hasText: 'Targets' }).waitFor();
    },
    async mistakes(page) {
        await page.locator('#lists-file').setInputFiles({ name: 'broken.json', mimeType: 'application/json', buffer: Buffer.from(BROKEN) });
        await page.locator('.mistakes').waitFor();
    },
    jokers,
};
