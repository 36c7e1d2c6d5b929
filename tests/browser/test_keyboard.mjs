// A walk through the page with the keyboard alone. Where the focus is can always be seen,
// and what has it is large enough to touch.
import { check, equal, HAND, openPage, until } from './harness.mjs';

const STEPS = 90; // presses of Tab at most to get anywhere

/** What has the focus: a selector's match, its outline, its size. */
const focused = (page, selector) => page.evaluate((wanted) => {
    const element = document.activeElement;
    const style = getComputedStyle(element);
    const box = element.getBoundingClientRect();
    return {
        there: element.matches(wanted),
        name: element.id || element.getAttribute('aria-label') || element.textContent.trim().slice(0, 30),
        body: element === document.body,
        seen: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
        large: box.width >= 24 && box.height >= 24,
        within: box.bottom > 0 && box.top < innerHeight,
    };
}, selector);

/** Tab until something has the focus. */
async function tabTo(page, selector, key = 'Tab') {
    for (let i = 0; i < STEPS; i++) {
        await page.keyboard.press(key);
        const at = await focused(page, selector);
        if (!at.body) check(at.seen && at.large && at.within, `focus on ${at.name}: ${JSON.stringify(at)}`);
        if (at.there) return;
    }
    check(false, `Tab does not get to ${selector}`);
}

const text = (page, selector) => page.locator(selector).textContent();

async function hand(page) {
    await page.keyboard.press('Tab');
    check((await focused(page, '.skip')).there, 'the first stop skips to the content');
    await page.keyboard.press('Enter');
    check((await focused(page, 'main')).there, 'the content has the focus');
    await tabTo(page, '#hand-tiles');
    await page.keyboard.type(HAND);
    await page.keyboard.press('Enter');
    await page.locator('.passes').waitFor();
    await tabTo(page, '#hand-side .tray button');
    for (const key of ['ArrowDown', 'ArrowDown', 'ArrowRight', 'End', 'Home', 'ArrowRight', 'ArrowRight']) await page.keyboard.press(key);
    equal((await focused(page, '.tray button')).name, '3 dot', 'arrow keys move within the tray');
    await page.keyboard.press('Enter');
    check(await until(async () => /15 tiles/.test(await text(page, '#hand-side .count'))), 'Enter adds a tile');
    await tabTo(page, '#hand-side .rack button', 'Shift+Tab');
    await page.keyboard.press('Enter');
    check(await until(async () => /14 tiles/.test(await text(page, '#hand-side .count'))), 'Enter takes a tile out');
    check(await until(async () => (await focused(page, '#hand-side .rack button')).there), 'the focus stays in the rack');
    await tabTo(page, '#own-pass summary');
    await page.keyboard.press('Enter');
    for (let i = 0; i < 3; i++) {
        await tabTo(page, '#own-pass .choose button[aria-pressed=false]');
        await page.keyboard.press('Space');
    }
    await tabTo(page, '#own-pass button.main');
    await page.keyboard.press('Enter');
    await page.locator('#own-pass .summary').waitFor();
    check(/^Your pass .* of \d+/.test(await text(page, '#own-pass .summary')), 'an own pass is judged');
}

async function practice(page) {
    await tabTo(page, 'nav a[href="#practice"]', 'Shift+Tab');
    await page.keyboard.press('Enter');
    check(await until(async () => (await focused(page, '#title-practice')).there), 'a view takes the focus to its heading');
    await tabTo(page, '#practice-seed');
    await page.keyboard.type('12');
    await tabTo(page, '#practice-start');
    await page.keyboard.press('Enter');
    check(await until(async () => (await focused(page, '#title-round')).there), 'the hand is announced');
    await tabTo(page, '#practice-chooser .choose button');
    await page.keyboard.press('Space');
    await tabTo(page, '#practice-chooser button.main');
    await page.keyboard.press('Enter');
    equal(await text(page, '#practice-chooser .hint'), 'Pass 3 tiles; you chose 1.', 'too few tiles');
    for (let i = 0; i < 2; i++) {
        await tabTo(page, '#practice-chooser .choose button[aria-pressed=false]', 'Shift+Tab');
        await page.keyboard.press('Space');
    }
    await tabTo(page, '#practice-chooser button.main');
    await page.keyboard.press('Enter');
    check(await until(async () => (await focused(page, '#title-review')).there), 'the review takes the focus');
    await page.locator('#practice-answer .summary').waitFor();
    check(/^Your pass .* You took 0:/.test(await text(page, '#practice-answer .summary')), 'the review says the cost and the time');
    await tabTo(page, '#practice-next');
    await page.keyboard.press('Enter');
    check(await until(async () => /^Hand 2:/.test(await text(page, '#title-round'))), 'the next hand is dealt');
}

async function lists(page) {
    await tabTo(page, 'nav a[href="#lists"]', 'Shift+Tab');
    await page.keyboard.press('Enter');
    check(await until(async () => (await focused(page, '#title-lists')).there), 'the lists take the focus to their heading');
    await tabTo(page, '#lists-shipped input');
    await page.keyboard.press('ArrowDown');
    check(await until(async () => await text(page, '#in-use') === 'Tern Rock Joker Night'), 'arrow keys choose a list');
    await page.keyboard.press('ArrowUp');
    check(await until(async () => await text(page, '#in-use') === 'Tern Rock Tile Club'), 'and back');
}

export async function test({ context, address }) {
    const page = await openPage(context, address);
    await hand(page);
    await practice(page);
    await lists(page);
    await page.close();
}
