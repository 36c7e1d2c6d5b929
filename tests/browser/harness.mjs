// What the tests of the page share: checks that are counted, a browser of their own, a
// server of the page. Nothing waits longer than PATIENCE.
import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import path from 'node:path';
import { tmpdir } from 'node:os';

export const PATIENCE = 30000; // ms
const ARGUMENTS = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
    '--disable-background-networking', '--disable-component-update', '--disable-sync'];

export const counts = { passed: 0, failed: 0 };

/** A check that goes on when it fails. */
export function check(good, what) {
    if (good) counts.passed++;
    else {
        counts.failed++;
        console.log(`FAILED: ${what}`);
    }
}

export function equal(got, wanted, what) {
    const [a, b] = [JSON.stringify(got), JSON.stringify(wanted)];
    check(a === b, `${what}: ${a?.slice(0, 300)} is not ${b?.slice(0, 300)}`);
}

/** Waits until something holds, and says whether it did. */
export async function until(holds, patience = PATIENCE) {
    const end = Date.now() + patience;
    for (;;) {
        if (await holds()) return true;
        if (Date.now() > end) return false;
        await new Promise((resolve) => setTimeout(resolve, 50));
    }
}

/** The page on a port of its own. */
export async function serve(folder) {
    const server = spawn('python3', ['-u', '-m', 'http.server', '0', '--bind', '127.0.0.1', '--directory', folder],
        { stdio: ['ignore', 'pipe', 'ignore'] });
    const ended = new Promise((resolve) => server.on('exit', resolve));
    const line = await new Promise((resolve, reject) => {
        createInterface({ input: server.stdout }).once('line', resolve);
        setTimeout(() => reject(new Error('no server')), PATIENCE).unref();
    });
    const port = /port (\d+)/.exec(line)[1];
    return {
        address: `http://localhost:${port}/`,
        async stop() {
            server.kill();
            await ended;
        },
    };
}

/** A browser with a profile of its own. */
export async function openBrowser(tools, options = {}) {
    const { chromium } = createRequire(path.resolve(tools, 'package.json'))('playwright-core');
    const profile = mkdtempSync(path.join(tmpdir(), 'nearhand-browser-'));
    const context = await chromium.launchPersistentContext(profile, {
        executablePath: '/usr/bin/chromium', headless: true, args: ARGUMENTS, timeout: 60000,
        viewport: { width: 1280, height: 900 }, serviceWorkers: 'allow', ...options,
    });
    context.setDefaultTimeout(PATIENCE);
    return {
        context,
        async close() {
            await context.close();
            rmSync(profile, { recursive: true, force: true });
        },
    };
}

/** A page that is ready to be used and remembers nothing; what goes wrong in it is a failure. */
export async function openPage(context, address) {
    const page = await context.newPage();
    page.on('pageerror', (error) => check(false, `an error of the page: ${error.stack}`));
    page.on('console', (message) => {
        if (message.type() === 'error') check(false, `the page says: ${message.text()}`);
    });
    await page.goto(address);
    await page.evaluate(() => localStorage.clear());
    await page.reload();
    await ready(page);
    return page;
}

/** The list is open. */
export async function ready(page) {
    await page.locator('#version', { hasText: '.' }).waitFor({ state: 'attached' });
}

/** Goes to a view, and shows a hand there if one is said. */
export async function goTo(page, view) {
    await page.locator(`nav a[href="#${view}"]`).click();
    await page.locator(`#view-${view}`).waitFor();
}

/** Types tiles into a field as a player does. */
export async function type(page, field, tiles) {
    await page.locator(`#${field}`).fill(tiles);
    await page.locator(`#${field}`).press('Enter');
}

/** Uses a list that comes with nearhand. */
export async function useList(page, name) {
    await goTo(page, 'lists');
    const title = await page.locator('#in-use').textContent();
    const radio = page.locator(`#lists-shipped input[value=${name}]`);
    if (await radio.isChecked()) return;
    await radio.check();
    await until(async () => await page.locator('#in-use').textContent() !== title);
}

export const HAND = '2468B 246C 33D EEW R Wh';

/** The text of each cell of a table, row by row. */
export function cellsOf(page, table) {
    return page.locator(`${table} tbody tr`).evaluateAll((rows) =>
        rows.map((row) => [...row.cells].map((cell) => cell.innerText.trim())));
}
