// Lists of one's own: a good one is used, one with mistakes shows them with their places
// and changes nothing; what a player may type wrong; long work that is stopped.
import { cellsOf, check, equal, goTo, openPage, type, until, useList } from './harness.mjs';

const GOOD = `{
  "format": 1,
  "title": "Pilot Cutters",
  "patterns": [
    {"name": "Bow Wave", "points": 20,
     "groups": [{"set": "any", "times": 4}, {"pair": "any"}]}
  ]
}`;
const BROKEN = GOOD.replace('"set"', '"sett"').replace('"points": 20', '"points": "twenty"');

const openFile = (page, name, text) => page.locator('#lists-file')
    .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });

/** Where a text stands: line and column from 1. */
function placeOf(text, part) {
    const before = text.slice(0, text.indexOf(part)).split('\n');
    return `Line ${before.length}, column ${before.at(-1).length + 1}:`;
}

async function ownLists(page) {
    await goTo(page, 'lists');
    await openFile(page, 'mine.json', GOOD);
    await page.locator('#in-use', { hasText: 'Pilot Cutters' }).waitFor();
    equal((await cellsOf(page, '#lists-contents')).map((row) => [row[0], row[2]]), [['Bow Wave', '20']], 'patterns of an own list');
    await openFile(page, 'broken.json', BROKEN);
    const mistakes = page.locator('.mistakes li');
    await mistakes.first().waitFor();
    const places = await mistakes.locator('strong').allTextContents();
    check(places.some((place) => place.trim() === placeOf(BROKEN, '"sett"')), `place of an unknown key: ${places}`);
    check(places.some((place) => place.trim() === placeOf(BROKEN, '"points"')), `place of a wrong value: ${places}`);
    const marked = await mistakes.filter({ hasText: 'sett' }).last().locator('mark').textContent();
    equal(marked, '"', 'the mark in the line of the file');
    equal(await page.locator('#in-use').textContent(), 'Pilot Cutters', 'the list in use stays');
    await openFile(page, 'cut.json', GOOD.slice(0, 60));
    await page.locator('.mistakes h2', { hasText: 'cut.json' }).waitFor();
    // A list of one's own is remembered, until it is forgotten.
    await page.reload();
    await page.locator('#in-use', { hasText: 'Pilot Cutters' }).waitFor();
    await page.locator('#forget').click();
    await page.reload();
    await page.locator('#in-use', { hasText: 'Tern Rock Tile Club' }).waitFor();
    check(true, 'a list is remembered, and forgotten');
}

async function figures(page) {
    await goTo(page, 'lists');
    await page.locator('#lists-count').click();
    await page.locator('#lists-contents th', { hasText: 'Targets' }).waitFor();
    const rows = await cellsOf(page, '#lists-contents');
    check(rows.length > 30 && rows.every((row) => /^[\d,]+$/.test(row[3]) && /^(1 in [\d,]+|never)$/.test(row[4])), 'targets and odds');
}

async function wrongTiles(page) {
    await goTo(page, 'hand');
    await type(page, 'hand-tiles', '2468B EE');
    check(await until(async () => (await page.locator('#hand-side .rack').first().locator('button').count()) === 6), 'tiles are laid out');
    await page.locator('#hand-tiles').fill('2468B 33X');
    const error = page.locator('#hand-tiles-error');
    await error.waitFor();
    check(/Column 9:/.test(await error.textContent()), `place of a wrong tile: ${await error.textContent()}`);
    equal(await error.locator('mark').textContent(), 'X', 'the wrong tile is marked');
    equal(await page.locator('#hand-tiles').getAttribute('aria-invalid'), 'true', 'the field is wrong');
    equal(await page.locator('#hand-side .rack').first().locator('button').count(), 6, 'the tiles before stay');
    await type(page, 'hand-tiles', '2468 bam soap');
    await error.waitFor({ state: 'hidden' });
    equal(await page.locator('#hand-tiles').inputValue(), '2468B Wh', 'tiles in words are written as tiles');
    await page.getByRole('button', { name: 'Clear: Tiles of the hand' }).click();
    check(await until(async () => await page.locator('#hand-tiles').inputValue() === ''), 'cleared');
    await page.getByRole('button', { name: 'Undo: Tiles of the hand' }).click();
    equal(await page.locator('#hand-tiles').inputValue(), '2468B Wh', 'undone');
    await page.locator('#hand-side').getByRole('button', { name: 'Deal me a hand' }).click();
    check(await until(async () => /14 tiles/.test(await page.locator('#hand-side .count').textContent())), 'a hand is dealt');
    await page.getByRole('button', { name: 'Undo: Tiles of the hand' }).click();
    equal(await page.locator('#hand-tiles').inputValue(), '2468B Wh', 'a deal is undone too');
}

async function wrongSeed(page) {
    await goTo(page, 'practice');
    await page.locator('#practice-seed').fill('18446744073709551616');
    await page.locator('#practice-start').click();
    await page.locator('#practice-error', { hasText: 'seed' }).waitFor();
    check(await page.locator('#practice-form').isVisible(), 'a seed that is too large deals nothing');
    await page.locator('#practice-seed').fill('18446744073709551615');
    await page.locator('#practice-start').click();
    await page.locator('#practice-round').waitFor();
}

/* Patterns whose choices overlap so that counting each takes a second or more. */
const HEAVY = JSON.stringify({
    format: 1, title: 'Trawl', tiles: { flowers: 8, jokers: 8 },
    patterns: [...'ABCDEF'].map((name) => ({
        name,
        groups: [{ single: 'suited' }, { set: 'any' }, { single: 'wind' }, { single: 'b', suit: 'any' },
            { chow: 'b', suit: 'y' }, { pair: 'any', times: 2 }, { single: 'c', suit: 'any' }],
    })),
});

async function stopped(page) {
    await goTo(page, 'lists');
    await openFile(page, 'heavy.json', HEAVY);
    await page.locator('#in-use', { hasText: 'Trawl' }).waitFor();
    await page.locator('#lists-count').click();
    await page.locator('#work').waitFor();
    const frames = await page.evaluate(() => new Promise((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(() => resolve(true)));
    }));
    check(frames, 'the page moves on while the worker works');
    await page.locator('#work-stop').click();
    await page.locator('#lists-contents', { hasText: 'Stopped' }).waitFor();
    await page.locator('#work').waitFor({ state: 'hidden' });
    await useList(page, 'traditional');
    await goTo(page, 'play');
    await type(page, 'play-tiles', '123B 456C 789D EEE SS');
    await page.locator('#turn-answer', { hasText: 'omplete' }).waitFor();
    check(true, 'after a stop the page answers again');
}

export async function test({ context, address }) {
    const page = await openPage(context, address);
    await ownLists(page);
    await figures(page);
    await wrongTiles(page);
    await wrongSeed(page);
    await stopped(page);
    await useList(page, 'club');
    await page.close();
}
