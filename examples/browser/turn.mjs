// One's turn after the passes: complete or not, which tile to discard, which discards of
// others to claim. How many tiles there are says whose turn it is.
import { answerInto, explain, showMore } from './answers.mjs';
import { average, percent, plural, some } from './words.mjs';
import { drawTiles, splitTiles } from './tiles.mjs';
import { find, make, makeTable, say } from './elements.mjs';

const FIRST = 5;

/** @param {any} checked */
function sayComplete(checked) {
    if (checked.complete) {
        const names = checked.patterns.map((/** @type {any} */ row) =>
            row.points === null ? row.pattern : `${row.pattern} (${row.points} points)`);
        return `Mahjong: complete for ${some(names, 5)}.`;
    }
    if (checked.nearest === null) return 'No pattern of the list can be made any more.';
    return `Not complete: closest pattern ${checked.nearest} away.`;
}

/** @param {any} choice */
function discardRow(choice) {
    return [
        [drawTiles(choice.discard), make('span', { class: 'spelled' }, choice.discard)],
        choice.away === null ? '–' : String(choice.away),
        average(choice.expected),
        String(choice.useful_count),
        percent(choice.chance),
        choice.pattern ?? '–',
    ];
}

/** @param {any} claim */
function claimRow(claim) {
    return [
        [drawTiles(claim.tile), make('span', { class: 'spelled' }, claim.tile)],
        claim.use === 'win' ? 'to win' : `${claim.use} ${claim.set}`,
        claim.use === 'win' ? '–' : claim.discard ?? 'draw first',
        String(claim.away),
        percent(claim.chance),
        claim.worth ? 'yes' : 'no',
        [claim.pattern, claim.gives_up_count === 0 ? null : make('span', { class: 'small' },
            ` gives up ${some(claim.gives_up, 3, claim.gives_up_count)}`)],
    ];
}

export class Turn {
    #shown = FIRST;

    /** @param {import('./desk.mjs').Desk} desk @param {import('./table.mjs').Table} table */
    constructor(desk, table) {
        this.desk = desk;
        this.table = table;
        this.place = find('turn-answer');
        table.addEventListener('change', () => { this.#shown = FIRST; });
    }

    refresh() {
        const { hand } = this.table.facts;
        if (hand === '') {
            explain(this.place, 'Type or tap your concealed tiles; add the sets that you have on the table.');
            return;
        }
        answerInto(this.place, this.#ask({ ...this.table.situation, hand }), (turn) => turn);
    }

    /** What to show: as many tiles as a whole hand are one's own turn, one fewer waits.
     * @param {any} question @returns {Promise<any>} */
    async #ask(question) {
        const checked = await this.desk.ask('check', 'check', question);
        if (checked === null) return null;
        const lacks = checked.whole - checked.tiles;
        if (lacks > 1)
            return [make('p', { class: 'summary' },
                `${plural(checked.tiles, 'concealed tile')}: add ${lacks - 1} to see what to claim, ${lacks} for your own turn.`)];
        if (lacks === 1) return this.#claims(await this.desk.ask('turn', 'claim', question));
        const discards = await this.desk.ask('turn', 'discard', { ...question, top: this.#shown });
        return discards && [...this.#summary(sayComplete(checked)), ...this.#discards(discards)];
    }

    /** @param {string} text */
    #summary(text) {
        say(text);
        return [make('p', { class: 'summary' }, text)];
    }

    /** @param {any} answer */
    #discards(answer) {
        if (answer.choices.length === 0) return [make('p', {}, 'No tile of this hand may be discarded.')];
        const [best] = answer.choices;
        return [
            make('p', {}, 'Discard ', make('b', {}, best.discard), best.away === null ? '.' :
                `: ${best.away} away; ${plural(best.useful_count, 'unseen tile')} ${best.useful_count === 1 ? 'brings' : 'bring'} it closer.`),
            makeTable(`Discards, best first: tiles away after it, and on average with ${answer.look} more tiles; unseen tiles that bring it closer; the chance of the likeliest pattern in ${answer.draws} draws`,
                ['Discard', 'After', 'Average', 'Useful', 'Chance', 'Pattern'], answer.choices.map(discardRow)),
            best.useful === '' ? null : make('p', { class: 'hint' }, 'Useful after the best: ', drawTiles(unique(best.useful))),
            showMore(answer.choices.length, answer.discards, 'discards', (shown) => {
                this.#shown = shown;
                this.refresh();
            }),
        ];
    }

    /** @param {any} answer */
    #claims(answer) {
        if (answer === null) return null;
        const now = answer.away === null ? 'no pattern can be made any more.'
            : `now ${answer.away} away; ${percent(answer.chance)} in ${answer.draws} draws for ${answer.pattern}.`;
        const worth = answer.claims.filter((/** @type {any} */ claim) => claim.worth)
            .map((/** @type {any} */ claim) => claim.use === 'win' ? `${claim.tile} to win` : `${claim.tile} for a ${claim.use}`);
        return [
            ...this.#summary(worth.length > 0 ? `Claim ${some(worth, 8)}.` : 'Claim nothing yet.'),
            make('p', {}, `Waiting: ${now}`),
            answer.claims.length === 0 ? make('p', {}, 'No discard brings this hand closer by a claim.')
                : makeTable('Discards of others that may be claimed: what for, the tile to discard then, tiles away and chance after it, and whether the chance grows',
                    ['Tile', 'For', 'Discard', 'After', 'Chance', 'Worth it', 'Pattern'], answer.claims.map(claimRow)),
            answer.claims.length < answer.claim_count
                ? make('p', { class: 'more' }, `${answer.claims.length} of ${answer.claim_count} claims shown.`) : null,
        ];
    }
}

/** Each kind once. @param {string} tiles */
function unique(tiles) {
    return [...new Set(splitTiles(tiles))].join(' ');
}
