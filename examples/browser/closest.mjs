// The patterns that a hand is closest to, on shelves by tiles away.
import { answerInto, explain, showMore } from './answers.mjs';
import { find, make, say } from './elements.mjs';
import { legend, targetRow } from './target.mjs';
import { plural } from './words.mjs';

const FIRST = 10;

/** Targets that follow one another with the same distance. @param {any[]} targets */
function shelvesOf(targets) {
    /** @type {Map<number, any[]>} */
    const shelves = new Map();
    for (const target of targets) shelves.set(target.away, [...(shelves.get(target.away) ?? []), target]);
    return [...shelves];
}

/** @param {any} answer */
function summaryOf({ tiles, nearest, within_one: within }) {
    if (nearest === null) return `${plural(tiles, 'tile')}: no pattern of the list can be made.`;
    return `${plural(tiles, 'tile')}: closest pattern ${nearest} away; ${within - 1} others within a tile of it.`;
}

export class Closest {
    #shown = FIRST;

    /** @param {import('./desk.mjs').Desk} desk @param {import('./table.mjs').Table} table */
    constructor(desk, table) {
        this.desk = desk;
        this.table = table;
        this.place = find('closest-answer');
        this.order = find('rank-order');
        this.draws = find('rank-draws');
        for (const control of [this.order, this.draws])
            control.addEventListener('change', () => this.refresh());
        table.addEventListener('change', () => { this.#shown = FIRST; });
    }

    refresh() {
        const { hand } = this.table.facts;
        if (hand === '') {
            explain(this.place, 'Type or tap a hand, or deal one: its closest patterns stand here.');
            return;
        }
        const question = { ...this.table.situation, hand, marked: true, top: this.#shown,
            order: this.order.value, draws: this.draws.valueAsNumber };
        answerInto(this.place, this.desk.ask('closest', 'rank', question), (answer) => this.#draw(answer));
    }

    /** @param {any} answer */
    #draw(answer) {
        const summary = summaryOf(answer);
        const live = this.table.about.patterns.length - answer.dead.length;
        const row = (/** @type {boolean} */ withAway) => (/** @type {any} */ target) =>
            targetRow(target, answer.draws, withAway);
        const shelves = this.order.value === 'away'
            ? shelvesOf(answer.targets).map(([away, targets]) => make('section', { class: 'shelf' },
                make('h3', {}, make('span', { class: 'away' }, String(away)), ' away'),
                make('ol', {}, ...targets.map(row(false)))))
            : [make('ol', { class: 'shelf' }, ...answer.targets.map(row(true)))];
        say(summary);
        return [
            make('p', { class: 'summary' }, summary), legend(), ...shelves,
            answer.dead.length > 0 ? make('p', { class: 'hint' }, `${plural(answer.dead.length, 'pattern')} can no longer be made.`) : null,
            showMore(answer.targets.length, live, 'patterns', (shown) => {
                this.#shown = shown;
                this.refresh();
            }),
        ];
    }
}
