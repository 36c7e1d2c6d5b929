// A new version of the page takes the place of an older one: whole, and once no page has the
// older one open.
import { check, equal, openBrowser, openPage, ready, serve, until } from './harness.mjs';
import { appendFile, cp, mkdtemp, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { tmpdir } from 'node:os';

/** The text and the script of the page say that they are another version. */
async function makeNewer(folder) {
    const edit = async (file, from, to) => {
        const text = await readFile(path.join(folder, file), 'utf8');
        check(text.includes(from), `${file} has ${from}`);
        await writeFile(path.join(folder, file), text.replace(from, to));
    };
    await edit('index.html', '<html ', '<html data-text="newer" ');
    await appendFile(path.join(folder, 'main.mjs'), "\ndocument.documentElement.dataset.script = 'newer';\n");
    await edit('files.js', "const version = '", "const version = 'newer ");
}

/** As if it had lain on its server for long: browsers keep such files without asking again. */
async function makeOld(folder) {
    const then = new Date(Date.now() - 400 * 24 * 3600 * 1000);
    for (const file of await readdir(folder, { recursive: true })) await utimes(path.join(folder, file), then, then);
}

const versionOf = (page) => page.evaluate(() => {
    const { text = 'older', script = 'older' } = document.documentElement.dataset;
    return `${text} text, ${script} script`;
});

export async function test({ tools, folder: shipped }) {
    const folder = await mkdtemp(path.join(tmpdir(), 'nearhand-update-'));
    await cp(shipped, folder, { recursive: true });
    await makeOld(folder);
    const server = await serve(folder);
    const browser = await openBrowser(tools);
    try {
        const page = await openPage(browser.context, server.address);
        check(await until(async () => /offline/.test(await page.locator('#offline').textContent())), 'the older version is kept');
        await makeNewer(folder);
        const waiting = () => page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).waiting !== null);
        const seen = [];
        const isNewer = async () => {
            await page.goto('about:blank'); // no page has the older version open
            await page.goto(server.address);
            await ready(page);
            seen.push(await versionOf(page));
            await until(waiting, 5000); // browsers look for a newer version a little later
            return seen.at(-1) === 'newer text, newer script';
        };
        check(await until(isNewer), `the newer version comes, not only ${seen.at(-1)}`);
        const rest = seen.slice(0, -1).filter((version) => version !== 'older text, older script');
        equal(rest, [], 'until then all is of the older version');
        const kept = () => page.evaluate(async () => (await caches.keys()).map((name) => name.split(' ')[1]));
        check(await until(async () => (await kept()).join() === 'newer'), 'the older version is no longer kept');
    } finally {
        await browser.close();
        await server.stop();
        await rm(folder, { recursive: true });
    }
}
