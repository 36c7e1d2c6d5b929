// Reading another player: which patterns they can be making, which tiles are dangerous.
import { answerInto, explain } from './answers.mjs';
import { drawTiles } from './tiles.mjs';
import { fill, find, make, makeTable, say } from './elements.mjs';
import { percent, placeOnList, plural } from './words.mjs';
import { SetField } from './set_field.mjs';
import { spell } from './table.mjs';

const PATTERNS = 8;
const TILES = 8;

/** A share as a bar and a number. @param {number} share @param {number} largest */
function bar(share, largest) {
    const filled = make('span', {});
    filled.style.inlineSize = `${largest > 0 ? (100 * share) / largest : 0}%`;
    return [make('span', { class: 'bar', 'aria-hidden': 'true' }, filled), ` ${percent(share)}`];
}

export class Player {
    /** @param {import('./desk.mjs').Desk} desk @param {import('./table.mjs').Table} table */
    constructor(desk, table) {
        this.desk = desk;
        this.table = table;
        this.place = find('player-answer');
        this.hidden = find('player-hidden');
        this.sets = new SetField({ id: 'player-sets', label: 'Their sets on the table',
            hint: 'A word for each set; leave it empty where there is none.', desk,
            changed: (theirs) => table.change({ theirs }) });
        fill(find('player-fields'), this.sets.element);
        find('player-ask').addEventListener('click', () => this.#ask());
        table.addEventListener('list', () => this.sets.useSet(table.about.set));
        table.addEventListener('change', () => this.refresh());
    }

    refresh() {
        this.sets.show(this.table.facts.theirs);
        explain(this.place, '');
    }

    #ask() {
        const { hand, sets, gone, theirs, seat, prevailing } = this.table.facts;
        const hidden = this.hidden.valueAsNumber;
        // The wind of the player is not one's own.
        const question = { hand, exposed: theirs, seen: `${gone} ${spell(sets)}`,
            ...(prevailing && { prevailing }), ...(Number.isNaN(hidden) ? {} : { hidden }) };
        answerInto(this.place, this.desk.ask('player', 'read', question), (answer) => this.#draw(answer, seat));
    }

    /** @param {any} answer @param {string} seat */
    #draw(answer, seat) {
        const { patterns, tiles } = answer;
        const all = this.table.about.patterns.length;
        const table = answer.exposed.length === 0 ? 'Nothing on the table' : `${plural(answer.exposed.length, 'set')} on the table`;
        const summary = `${table}, ${plural(answer.hidden, 'tile')} hidden: ${patterns.length} of ${plural(all, 'pattern')} left.`;
        const mine = tiles.filter((/** @type {any} */ tile) => tile.mine > 0);
        const others = tiles.filter((/** @type {any} */ tile) => tile.mine === 0).slice(0, TILES);
        const worst = Math.max(0, ...tiles.map((/** @type {any} */ tile) => tile.danger));
        const row = (/** @type {any} */ tile) => [
            [drawTiles(tile.tile), make('span', { class: 'spelled' }, tile.tile)],
            bar(tile.danger, worst), tile.mine > 0 ? String(tile.mine) : '', String(tile.unseen)];
        say(summary);
        if (patterns.length === 0)
            return [
                make('p', { class: 'summary' }, summary),
                make('p', { class: 'hint' }, 'Check their sets and the tiles hidden and gone: nothing can be said of dangers.'),
            ];
        return [
            make('p', { class: 'summary' }, summary),
            makeTable(`Dangerous tiles: yours, and ${others.length} of ${tiles.length - mine.length} others`,
                ['Tile', 'Danger', 'Yours', 'Unseen'], [...mine, ...others].map(row), 'bars'),
            makeTable(`What they can be making: ${Math.min(PATTERNS, patterns.length)} of ${patterns.length}, likeliest first`,
                ['Pattern', 'Share', 'Points'], patterns.slice(0, PATTERNS).map((/** @type {any} */ pattern) => [
                    [pattern.pattern, ' ', make('span', { class: 'where' }, placeOnList(pattern))],
                    pattern.share === null ? 'not counted' : bar(pattern.share, patterns[0].share),
                    pattern.points === null ? '' : String(pattern.points)]), 'bars'),
            make('p', { class: 'hint' }, 'Danger is the share of hidden hands one tile short that the tile completes, all of them taken as equally likely: what discards tell of a player’s plans is not in it.'),
            seat === '' ? null : make('p', { class: 'hint' }, 'Your seat is not counted as theirs: each wind is tried for them.'),
        ];
    }
}
