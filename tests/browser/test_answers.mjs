// The module in the browser answers as the program does, every digit; and the page shows
// the same figures.
import { cellsOf, check, equal, goTo, HAND, openPage, type, until, useList } from './harness.mjs';
import { common, dealt, linesOf } from '../wasm/native.mjs';
import path from 'node:path';

const HANDS = 8;

/** What the module in the page says to questions about hands of a list. */
function askModule(page, name, asked) {
    return page.evaluate(async ([list, questions]) => {
        const { start } = await import(new URL('package/nearhand.mjs', document.baseURI).href);
        const text = await (await fetch(`package/patterns/${list}.json`)).text();
        const opened = (await start()).load(text);
        return questions.map(([ask, question]) => opened.askText(ask, question));
    }, [name, asked]);
}

async function compare(page, folder, program, name) {
    const file = path.join(folder, 'package/patterns', `${name}.json`);
    const hands = [...new Set([HAND, ...dealt(program, file, HANDS)])];
    for (const [ask, words, question] of [
        ['rank', ['rank', '--top', '4'], { top: 4 }],
        ['pass', ['pass', '--top', '5'], { top: 5 }],
        ['discard', ['discard', '--top', '5'], { top: 5 }],
    ]) {
        const lines = linesOf(program, [...words, '--list', file, '--json'], hands.join('\n') + '\n');
        const answers = await askModule(page, name, hands.map((hand) => [ask, { ...question, hand }]));
        equal(lines.length, hands.length, `${name}: ${ask}, answers of the program`);
        // The program says more of discards; of the others the same.
        const same = answers.every((text, i) => {
            const [said, told] = [JSON.parse(lines[i]), JSON.parse(text)];
            return JSON.stringify(ask === 'discard' ? common(said, told) : said) === JSON.stringify(told);
        });
        check(same, `${name}: ${ask} of ${hands.length} hands differs from the program`);
    }
}

const percent = (share) => `${(100 * share).toFixed(1)}%`;

/** The figures on the page are those of the program. */
async function shown(page, folder, program) {
    const file = path.join(folder, 'package/patterns/club.json');
    const ask = (words) => JSON.parse(linesOf(program, [...words, '--list', file, '--json', HAND])[0]);
    const [rank, pass, discard] = [ask(['rank', '--top', '10']), ask(['pass', '--top', '5']), ask(['discard', '--top', '5'])];
    await goTo(page, 'hand');
    await type(page, 'hand-tiles', HAND);
    await page.locator('.target').first().waitFor();
    await page.locator('.passes').waitFor();
    const facts = await page.locator('#closest-answer .target').evaluateAll((rows) =>
        rows.map((row) => [row.querySelector('h4').firstChild.textContent, row.querySelector('b').textContent,
            /([\d.]+%) in/.exec(row.querySelector('.facts').textContent)[1]]));
    equal(facts, rank.targets.map((target) => [target.pattern, target.need, percent(target.chance)]), 'closest patterns');
    const passes = (await cellsOf(page, '.passes')).map((row) => [row[1], row[2], row[3], row[4]]);
    equal(passes, pass.choices.map((choice) => [choice.pass, String(choice.away), choice.expected.toFixed(3), percent(choice.nearer)]), 'passes');
    check((await page.locator('#passes-answer .more').textContent()).startsWith(`5 of ${pass.passes} passes`), 'how many passes there are');
    check((await page.locator('#closest-answer .more').textContent()).startsWith('10 of '), 'how many patterns there are');
    await goTo(page, 'play');
    await page.locator('#turn-answer table').waitFor();
    const discards = (await cellsOf(page, '#turn-answer')).map((row) => row.slice(0, 5));
    equal(discards, discard.choices.map((choice) => [choice.discard, String(choice.away), choice.expected.toFixed(3),
        String(choice.useful_count), percent(choice.chance)]), 'discards');
}

/** A pass of one's own is judged as the program judges it. */
async function ownPass(page, folder, program) {
    const file = path.join(folder, 'package/patterns/club.json');
    const all = JSON.parse(linesOf(program, ['pass', '--top', '400', '--list', file, '--json', HAND])[0]);
    const place = all.choices.findIndex((choice) => choice.pass === '2C 33D');
    const cost = all.choices[place].expected - all.choices[0].expected;
    await goTo(page, 'hand');
    await page.locator('#own-pass summary').click();
    for (const tile of ['2 crak', '3 dot', '3 dot'])
        await page.locator(`#own-pass button[aria-label="${tile}"][aria-pressed=false]`).first().click();
    await page.getByRole('button', { name: 'How good is it?' }).click();
    const verdict = page.locator('#own-pass .summary');
    await verdict.waitFor();
    const text = await verdict.textContent();
    check(text.includes(`2C 33D is ${place + 1}`) && text.includes(`of ${all.choices.length} and costs ${cost.toFixed(3)} `), `own pass: ${text}`);
}

/** Sets on the table, claims, danger: with the numbers of the program. */
async function play(page, folder, program) {
    const file = path.join(folder, 'package/patterns/club.json');
    const ask = (words) => JSON.parse(linesOf(program, [...words, '--list', file, '--json'])[0]);
    await goTo(page, 'play');
    await type(page, 'play-sets', 'EEE');
    await type(page, 'play-tiles', '2468B 246C 33D W');
    const claims = ask(['claim', '--exposed', 'EEE', '2468B 246C 33D W']);
    const summary = page.locator('#turn-answer .summary');
    check(await until(async () => /^Claim /.test(await summary.textContent())), 'claims are shown');
    equal((await cellsOf(page, '#turn-answer')).map((row) => [row[0], row[4]]),
        claims.claims.map((claim) => [claim.tile, percent(claim.chance)]), 'claims');
    await type(page, 'player-sets', '444D');
    const read = ask(['read', '--exposed', '444D', '--seen', 'EEE', '2468B 246C 33D W']);
    await page.locator('#player-ask').click();
    await page.locator('#player-answer table').first().waitFor();
    const dangers = Object.fromEntries((await cellsOf(page, '#player-answer .wide:nth-of-type(1)')).map((row) => [row[0], row[1]]));
    const worst = read.tiles.find((tile) => tile.mine > 0);
    equal(dangers[worst.tile], percent(worst.danger), `danger of ${worst.tile}`);
    equal(await page.locator('#player-answer .wide').last().locator('tbody tr').first().locator('th').evaluate((cell) => cell.firstChild.textContent),
        read.patterns[0].pattern, 'likeliest pattern of the player');
    await type(page, 'player-hidden', '2');
    await page.locator('#player-ask').click();
    const player = page.locator('#player-answer');
    check(await until(async () => /nothing can be said of dangers/.test(await player.textContent())),
        'no dangers of a player whom no pattern fits');
    equal(await player.locator('table').count(), 0, 'nor a table of them');
    await type(page, 'player-hidden', '');
    await type(page, 'play-sets', '');
    await type(page, 'player-sets', '');
}

export async function test({ context, address, folder, program }) {
    const page = await openPage(context, address);
    for (const name of ['club', 'jokers', 'traditional']) await compare(page, folder, program, name);
    await useList(page, 'club');
    await shown(page, folder, program);
    await ownPass(page, folder, program);
    await play(page, folder, program);
    await page.close();
}
