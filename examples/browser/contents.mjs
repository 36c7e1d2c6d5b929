// What is on the list in use: its patterns by section, and their figures once counted.
import { fill, find, make, makeTable } from './elements.mjs';
import { answerInto, showMore } from './answers.mjs';
import { placeOnList, plural } from './words.mjs';

const FIRST = 100;

/** "1 in 7,200,000". @param {number | null} share */
function odds(share) {
    if (share === null) return 'not counted';
    return share === 0 ? 'never' : `1 in ${Number((1 / share).toPrecision(3)).toLocaleString('en')}`;
}

/** @param {string | null} digits */
const grouped = (digits) => digits === null ? 'not counted' : BigInt(digits).toLocaleString('en');

/** @param {any} pattern @returns {string[]} */
const notesOf = ({ concealed, note }) => [concealed ? 'concealed' : null, note].filter(Boolean);

export class Contents {
    #shown = FIRST;
    /** @type {any[] | null} */ #figures = null;

    /** @param {import('./desk.mjs').Desk} desk @param {import('./table.mjs').Table} table */
    constructor(desk, table) {
        this.desk = desk;
        this.table = table;
        this.place = find('lists-contents');
        find('lists-count').addEventListener('click', () => this.#count());
        table.addEventListener('list', () => {
            this.#shown = FIRST;
            this.#figures = null;
            this.draw();
        });
    }

    draw() {
        const { title, edition, note, patterns, warnings, hand } = this.table.about;
        find('title-contents').textContent = [title, edition].filter(Boolean).join(', ');
        fill(find('lists-about'), note ? make('p', {}, note) : null,
            make('p', {}, `${plural(patterns.length, 'pattern')}; a hand has ${plural(hand, 'tile')}.`),
            warnings.length === 0 ? null : make('ul', { class: 'warnings' },
                ...warnings.map((/** @type {string} */ text) => make('li', {}, `Warning: ${text}`))));
        fill(this.place, ...this.#table(patterns));
    }

    #count() {
        answerInto(this.place, this.desk.ask('audit', 'audit', {}), (answer) => {
            this.#figures = answer.patterns;
            return this.#table(this.table.about.patterns);
        });
    }

    /** @param {any[]} patterns */
    #table(patterns) {
        const figures = this.#figures;
        const rows = patterns.slice(0, this.#shown).map((pattern, i) => [
            [pattern.pattern, ...notesOf(pattern).map((note) => make('span', { class: 'small note' }, note))],
            placeOnList(pattern), pattern.points === null ? '' : String(pattern.points),
            ...(figures ? [grouped(figures[i].targets), odds(figures[i].dealt)] : [])]);
        const headings = ['Pattern', 'On the list', 'Points', ...(figures ? ['Targets', 'Dealt'] : [])];
        return [
            makeTable(figures ? 'Patterns, with the hands that complete each, and how often one is dealt without jokers' : 'Patterns of the list',
                headings, rows, 'contents'),
            showMore(rows.length, patterns.length, 'patterns', (shown) => {
                this.#shown = shown;
                fill(this.place, ...this.#table(patterns));
            }),
        ];
    }
}
