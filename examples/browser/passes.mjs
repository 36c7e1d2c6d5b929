// Which tiles to pass, and how good a pass of one's own is.
import { answerInto, showMore } from './answers.mjs';
import { fill, find, make } from './elements.mjs';
import { judge, passesTable, sayJudgement, sayKeeps } from './judge.mjs';
import { Chooser } from './chooser.mjs';
import { percent } from './words.mjs';

const FIRST = 5;
const ALL = 2024; // more than any hand has

export class Passes {
    #shown = FIRST;

    /** @param {import('./desk.mjs').Desk} desk @param {import('./table.mjs').Table} table */
    constructor(desk, table) {
        this.desk = desk;
        this.table = table;
        this.section = find('passes');
        this.place = find('passes-answer');
        this.count = find('pass-count');
        this.own = find('own-pass');
        this.verdict = make('div', { class: 'answer' });
        this.chooser = new Chooser('Tiles of your pass', 'How good is it?', (tiles) => this.#judge(tiles));
        fill(find('own-pass-chooser'), this.chooser.element, this.verdict);
        this.count.addEventListener('change', () => this.refresh());
        table.addEventListener('change', () => { this.#shown = FIRST; });
        table.addEventListener('list', () => this.#offerCounts());
    }

    refresh() {
        const { hand, sets } = this.table.facts;
        this.section.hidden = hand === '' || sets !== '';
        if (this.section.hidden) return;
        this.chooser.layOut(hand, Number(this.count.value));
        fill(this.verdict);
        answerInto(this.place, this.desk.ask('passes', 'pass', this.#question(this.#shown)),
            (answer) => this.#draw(answer));
    }

    /** @param {number} top */
    #question(top) {
        return { ...this.table.situation, hand: this.table.facts.hand, count: Number(this.count.value), top };
    }

    #offerCounts() {
        const usual = this.table.about.charleston.tiles;
        fill(this.count, ...[1, 2, 3].map((count) =>
            make('option', { value: count, selected: count === usual }, String(count))));
    }

    /** @param {any} answer */
    #draw(answer) {
        if (answer.choices.length === 0) return [make('p', {}, 'No tile of this hand may be passed.')];
        const [best] = answer.choices;
        const after = best.expected === null ? 'no pattern is within reach after it.'
            : `${best.away} away after the pass; ${best.expected.toFixed(3)} on average with ${answer.count} new tiles; closer than now in ${percent(best.nearer)}.`;
        return [
            make('p', { class: 'summary' }, 'Pass ', make('b', {}, best.pass), `: ${after}`),
            passesTable(answer, answer.choices.length, null),
            make('p', { class: 'hint' }, sayKeeps(best)),
            showMore(answer.choices.length, answer.passes, 'passes', (shown) => {
                this.#shown = shown;
                this.refresh();
            }),
        ];
    }

    /** @param {string[]} tiles */
    #judge(tiles) {
        answerInto(this.verdict, this.desk.ask('own pass', 'pass', this.#question(ALL)), (answer) => {
            const mine = judge(answer, tiles);
            if (mine === null) return [make('p', {}, 'These tiles may not be passed.')];
            return [make('p', { class: 'summary', role: 'status' }, sayJudgement(mine)), make('p', { class: 'hint' }, sayKeeps(mine.choice))];
        });
    }
}
