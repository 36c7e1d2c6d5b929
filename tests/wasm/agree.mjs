// The module answers as the program does, byte for byte, but for the spelling of numbers,
// which JSON.stringify makes the same.
//
//     node agree.mjs PACKAGE PROGRAM [HANDS]
import { common, complaints, dealt, linesOf } from './native.mjs';
import { readdir, readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import path from 'node:path';

const [folder, program, hands = '10000'] = process.argv.slice(2);
const { start, ListError, QuestionError } = await import(path.resolve(folder, 'nearhand.mjs'));
const bytes = await readFile(path.join(folder, 'nearhand.wasm'));
const nearhand = await start(bytes);
let passed = 0;
let failed = 0;

function check(good, what) {
    if (good) passed++;
    else {
        failed++;
        console.log(`FAILED: ${what}`);
    }
}

const native = (words, input) => linesOf(program, words, input);

// How many answers of the module differ from the lines of the program.
function differences(lines, answers) {
    let differ = lines.length === answers.length ? 0 : 1;
    for (const [i, line] of lines.entries()) {
        const same = JSON.stringify(JSON.parse(line)) === JSON.stringify(answers[i]);
        if (!same && differ++ === 0)
            console.log(`${line.slice(0, 400)}\n${JSON.stringify(answers[i]).slice(0, 400)}`);
    }
    return differ;
}

const BYTES_MOST = 180_000; // it is fetched before anything runs
check(bytes.length <= BYTES_MOST, `the module has ${bytes.length} bytes, more than ${BYTES_MOST}`);
check(WebAssembly.Module.imports(new WebAssembly.Module(bytes)).length === 0, 'the module imports nothing');

for (const name of ['club', 'jokers', 'traditional']) {
    const list = nearhand.load(await readFile(path.join(folder, 'patterns', `${name}.json`)));
    const all = dealt(program, name, hands);
    const some = all.slice(0, Math.ceil(all.length / 50));
    const few = all.slice(0, Math.ceil(all.length / 200));
    const compare = (what, group, words, answer) => {
        const lines = native([...words, '--list', name, '--json'], group.join('\n') + '\n');
        check(differences(lines, group.map(answer)) === 0, `${name}: ${what}`);
        console.log(`${name}: ${what}, ${group.length} hands`);
    };
    compare('the best target', all, ['rank', '--top', '1'], (h) => list.rank(h, { top: 1 }));
    compare('every target', some, ['rank'], (h) => list.rank(h));
    compare('by worth, with tiles seen', some,
        ['rank', '--top', '3', '--order', 'worth', '--seen', '1B 2C 3D', '--seat', 'south'],
        (h) => list.rank(h, { top: 3, order: 'worth', seen: '1B 2C 3D', seat: 'south' }));
    compare('five passes', few, ['pass', '--top', '5'], (h) => list.pass(h, { top: 5 }));
    const subset = (what, group, words, answer) => {
        const lines = native([...words, '--list', name, '--json'], group.join('\n') + '\n');
        // The program says more: what both say is the same, in the same order.
        const same = lines.map((line, i) => {
            const told = answer(group[i]);
            return JSON.stringify(common(JSON.parse(line), told)) === JSON.stringify(told);
        });
        check(lines.length === group.length && same.every(Boolean), `${name}: ${what}`);
        console.log(`${name}: ${what}, ${group.length} hands`);
    };
    // One tile fewer, of a suit that has another.
    const waiting = few.map((hand) => hand.replace(/[1-9](?=[1-9]+[BCD])/, ''));
    subset('discards', few, ['discard', '--top', '5'], (h) => list.discard(h, { top: 5 }));
    subset('claims', waiting, ['claim'], (h) => list.claim(h));
    subset('complete or not', few, ['check'], (h) => list.check(h));
    // Another player with a set, and tiles gone; one's own hand without copies of those.
    const beside = few.slice(0, 20).map((hand) => hand.replace(/\bE+/g, ''));
    compare('readings', beside, ['read', '--exposed', 'EEE', '--discarded', 'E', '--file', '-'],
        (h) => list.read({ hand: h, exposed: 'EEE', seen: 'E' }));
    const about = list.about();
    check(about.patterns.length === list.audit().patterns.length, `${name}: audit`);
    list.close();
    try {
        list.rank('1B');
        check(false, 'a list that was closed');
    } catch (error) {
        check(error instanceof QuestionError, 'a list that was closed');
    }
}

const list = nearhand.load(await readFile(path.join(folder, 'patterns', 'club.json')));
const seats = native(['deal', '--list', 'club', '--seed', '18446744073709551615', '--table'])
    .filter((line) => !line.startsWith('#')).map((line) => line.split('\t')[0]);
const { hands: four } = list.deal('18446744073709551615');
check(JSON.stringify(Object.values(four)) === JSON.stringify(seats), 'four hands of a deal');

function refused(question, words, column) {
    try {
        question();
        check(false, `not refused: ${words}`);
    } catch (error) {
        check(error instanceof QuestionError && error.message.includes(words) &&
            (column === undefined || error.column === column), `${words}: ${error}`);
    }
}

refused(() => list.rank('2B 77Z'), 'Z', 6);
refused(() => list.rank(''), 'no tiles');
refused(() => list.rank('2B', { draws: 161 }), 'draws');
refused(() => list.rank('2B', { top: 1.5 }), 'top');
refused(() => list.rank('2B', { seat: 'up' }), 'seat');
refused(() => list.rank('2B', { patterns: ['nobody'] }), 'nobody');
refused(() => list.rank('2B', { patterns: 'nobody' }), 'patterns');
refused(() => list.rank('2B', { exposed: '123' }), 'suit');
refused(() => list.rank('2B', { order: 'luck' }), 'order');
refused(() => list.pass('2B 3B 4B', { count: 4 }), 'count');
refused(() => list.deal('-1'), 'seed');

const typed = list.tiles({ tiles: '2468 bam 33 dots soap', sets: '444d, eee' });
check(typed.tiles === '2468B 33D Wh' && typed.count === 7, 'tiles in words');
check(typed.sets.join(' ') === '444D EEE', 'sets as they are written');
refused(() => list.tiles({ tiles: '33333B' }), '3B', 5);
refused(() => list.tiles({ sets: 'EEE 12B' }), '12B', 5);
refused(() => list.rank('2B', { marked: 1 }), 'marked');

// The marks of a target's groups add up to what it says of the whole target.
const sum = (groups, role) =>
    list.tiles({ tiles: groups.map((group) => group[role] ?? '').join(' ') }).tiles;
const many = dealt(program, 'club', 50);
check(many.every((hand) => list.rank(hand, { marked: true, top: 5 }).targets.every((target) =>
    target.marked.length === target.groups.length && sum(target.marked, 'keep') === target.keep &&
    sum(target.marked, 'need') === target.need)), 'marked groups');
const open = list.rank('2468B 246C 33D W', { marked: true, exposed: 'EEE', top: 1 }).targets[0];
check(sum(open.marked, 'shown') === 'EEE', 'a set on the table is marked');

try {
    nearhand.load('{"format": 1,\n "patterns": [}');
    check(false, 'a list with mistakes');
} catch (error) {
    check(error instanceof ListError && error.mistakes[0].line === 2, 'mistakes have their place');
}

// Every mistake of a list, with its place, in the words of the program.
const badLists = fileURLToPath(new URL('../lists/bad', import.meta.url));
let alike = 0;
for (const name of (await readdir(badLists)).filter((file) => file.endsWith('.json'))) {
    const file = path.join(badLists, name);
    let own = ['it is taken'];
    try {
        nearhand.load(await readFile(file)).close();
    } catch (error) {
        own = error.mistakes.map((mistake) => [file, mistake.line, mistake.column].filter((part) => part !== 0).join(':') +
            `: ${mistake.text}${mistake.warning ? ` [${mistake.warning}]` : ''}`);
    }
    const told = complaints(program, ['check', '--list', file, '1B']);
    const same = told.join('\n') === own.join('\n');
    check(same, `${name}: ${own[0]}, not ${told[0]}`);
    alike += same;
}
console.log(`${alike} lists with mistakes`);

// Text and numbers of a list come back as they were.
const odd = { title: 'a "b" \\ c\n\u0001 d é 龍', points: [0.1, -2.5, 1e-300, 12345678901234567890, 1.7976931348623157e308] };
const oddList = nearhand.load(JSON.stringify({
    format: 1, title: odd.title,
    patterns: odd.points.map((points, i) => ({
        name: `p${i}`, points,
        groups: [1, 2, 3, 4].map((pung) => ({ pung, suit: 'bam' })).concat({ pair: 5, suit: 'bam' }),
    })),
}));
const said = oddList.about();
check(said.title === odd.title, `a title comes back as ${said.title}`);
check(said.patterns.every((pattern, i) => Object.is(pattern.points, odd.points[i])), 'points come back');
oddList.close();

// Lists that are closed give their memory back.
const text = await readFile(path.join(folder, 'patterns', 'club.json'));
function openAndClose(times) {
    for (let i = 0; i < times; i++) {
        const again = nearhand.load(text);
        again.rank('2468B 246C 33D E', { exposed: 'NNN' });
        again.close();
    }
    return nearhand.memorySize;
}
check(openAndClose(3) === openAndClose(20), 'memory of lists that are closed');

console.log(`${passed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
