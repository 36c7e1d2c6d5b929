// A table of what the module takes in Node and in Chromium, beside this machine's own code.
//
//     node figures.mjs PACKAGE PROGRAM ASKED TOOLS
import { dealt, linesOf } from './native.mjs';
import { openBrowser, serve } from '../browser/harness.mjs';
import { readFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { measure } from './measure.mjs';
import path from 'node:path';

const [folder, program, asked, tools] = process.argv.slice(2);
const HANDS = 20;
const { start } = await import(path.resolve(folder, 'nearhand.mjs'));
const bytes = await readFile(path.join(folder, 'nearhand.wasm'));

async function inChromium(page, name, hands) {
    return page.evaluate(async ([list, dealtHands]) => {
        const here = (/** @type {string} */ file) => new URL(file, document.baseURI).href;
        const [module, measuring] = await Promise.all([import(here('package/nearhand.mjs')), import(here('measure.mjs'))]);
        const [wasm, text] = await Promise.all([
            (await fetch('package/nearhand.wasm')).arrayBuffer(), (await fetch(`package/patterns/${list}.json`)).text()]);
        return measuring.measure(module.start, wasm, text, dealtHands);
    }, [name, hands]);
}

const row = (what, figures) => console.log(`${what.padEnd(26)}${figures.start === undefined ? '      ' : figures.start.toFixed(1).padStart(6)}` +
    `${figures.load.toFixed(1).padStart(10)}${figures.rank.toFixed(1).padStart(10)}${figures.pass.toFixed(2).padStart(10)}`);

const server = await serve(path.join(tools, 'figures'));
const browser = await openBrowser(tools);
const page = await browser.context.newPage();
await page.goto(server.address);
console.log(`module ${bytes.length} bytes, ${gzipSync(bytes, { level: 9 }).length} gzipped`);
for (const name of ['club', 'jokers', 'traditional']) {
    const file = path.join(folder, 'patterns', `${name}.json`);
    const hands = dealt(program, file, HANDS);
    const native = (...words) => JSON.parse(linesOf(asked, [file, ...words], hands.join('\n') + '\n')[0]);
    console.log(`\n${name.padEnd(26)} start      load      rank    passes`);
    console.log('                              ms        ms        µs        ms');
    row('native', native());
    row('native, portable kernels', native('portable'));
    row('Node', await measure(start, bytes, await readFile(file, 'utf8'), hands));
    row('Chromium', await inChromium(page, name, hands));
}
await browser.close();
await server.stop();
