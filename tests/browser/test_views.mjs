// Every view, looked at: no violation that axe knows, light or dark; nothing to press smaller
// than 24 pixels; nothing wider than the screen from a phone on; nothing that moves for those
// who do not want it; and the answers on paper. Pictures are kept to be looked at.
import { check, equal, openPage, until, useList } from './harness.mjs';
import { mkdir, readFile } from 'node:fs/promises';
import { SCENES } from './scenes.mjs';
import path from 'node:path';

const WIDTHS = [360, 768, 1280];

/** Of the rules only that of contrast depends on light and dark. */
async function violations(page, rules) {
    const found = await page.evaluate((only) => axe.run(document,
        { resultTypes: ['violations'], ...(only && { runOnly: only }) }), rules);
    return found.violations.map((violation) => `${violation.id} at ${violation.nodes.map((node) => node.target).join(' ').slice(0, 200)}: ${violation.nodes[0].failureSummary.slice(0, 300)}`);
}

/** Controls in sight that are smaller than 24 pixels; links in a sentence may be. */
const small = (page) => page.evaluate(() =>
    [...document.querySelectorAll('button, input, select, summary, nav a, .in-use a')]
        .filter((element) => element.checkVisibility({ visibilityProperty: true }))
        .map((element) => ({ element, box: element.getBoundingClientRect() }))
        .filter(({ element, box }) => (box.width < 24 || box.height < 24) &&
            !(element.matches('input[type=radio]') && element.closest('label').getBoundingClientRect().height >= 24))
        .map(({ element, box }) => `${element.outerHTML.slice(0, 80)} ${box.width} x ${box.height}`));

async function paper(page) {
    await page.emulateMedia({ media: 'print' });
    check(await page.locator('footer strong').isVisible(), 'the line on house rules is printed');
    check(await page.locator('.target').first().isVisible(), 'targets are printed');
    for (const hidden of ['nav', '.tray >> nth=0', '#pass-count', '#work-stop'])
        check(!await page.locator(hidden).isVisible(), `${hidden} is not printed`);
    await page.emulateMedia({ media: null });
}

async function pictures(page, folder, name) {
    for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 900 });
        const wide = await page.evaluate(() => document.scrollingElement.scrollWidth);
        check(wide <= width, `${name} is ${wide} pixels wide on a screen of ${width}`);
        await page.screenshot({ path: path.join(folder, `${name}-${width}.png`), fullPage: true });
    }
}

async function look(page, folder, name) {
    check(await until(() => page.evaluate(() => document.querySelector('[aria-busy=true]') === null)), `${name} is finished`);
    await page.emulateMedia({ colorScheme: 'light' });
    equal(await violations(page), [], `${name}, light`);
    equal(await small(page), [], `${name}: large enough to touch`);
    await pictures(page, folder, name);
    await page.emulateMedia({ colorScheme: 'dark' });
    equal(await violations(page, ['color-contrast']), [], `${name}, dark`);
    await page.screenshot({ path: path.join(folder, `${name}-dark.png`) });
}

export async function test({ context, address, tools }) {
    const axe = await readFile(path.join(tools, 'node_modules/axe-core/axe.min.js'), 'utf8');
    const folder = path.join(tools, 'pictures');
    await mkdir(folder, { recursive: true });
    const page = await openPage(context, address);
    await page.evaluate(axe);
    await page.emulateMedia({ reducedMotion: 'reduce' });
    for (const [name, go] of Object.entries(SCENES)) {
        await go(page);
        await look(page, folder, name);
        if (name === 'choosing')
            equal(await page.locator('.choose button').first().evaluate((button) => getComputedStyle(button).transitionDuration), '0s', 'nothing moves');
        if (name === 'hand') await paper(page);
    }
    await useList(page, 'club');
    await page.close();
}
