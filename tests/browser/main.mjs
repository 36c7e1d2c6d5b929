// Runs the tests of the page, topic by topic, and counts.
//
//     node main.mjs TOOLS PROGRAM [TOPIC ...]
import { check, counts, openBrowser, serve } from './harness.mjs';
import { readdir } from 'node:fs/promises';
import path from 'node:path';

const [tools, program, ...chosen] = process.argv.slice(2);
const here = import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname);
const topics = (await readdir(here)).filter((name) => /^test_.*\.mjs$/.test(name)).sort()
    .map((name) => name.slice('test_'.length, -'.mjs'.length))
    .filter((name) => chosen.length === 0 || chosen.includes(name));

const folder = path.join(tools, 'page');
const server = await serve(folder);
const browser = await openBrowser(tools);
const elsewhere = new Set();
browser.context.on('request', (request) => {
    if (!request.url().startsWith('http://localhost:')) elsewhere.add(request.url());
});

for (const topic of topics) {
    const before = { ...counts }, begun = Date.now();
    try {
        const { test } = await import(`./test_${topic}.mjs`);
        await test({ tools, program, folder, context: browser.context, address: server.address });
    } catch (error) {
        check(false, `${topic}: ${error.stack}`);
    }
    console.log(`${topic}: ${counts.passed - before.passed} passed, ${counts.failed - before.failed} failed, ${((Date.now() - begun) / 1000).toFixed(1)} s`);
}
check([...elsewhere].filter((url) => !/^(blob|data|about|chrome)/.test(url)).length === 0,
    `requests to elsewhere: ${[...elsewhere].join(' ')}`);

await browser.close();
await server.stop();
console.log(`${counts.passed} passed, ${counts.failed} failed`);
process.exit(counts.failed > 0 ? 1 : 0);
