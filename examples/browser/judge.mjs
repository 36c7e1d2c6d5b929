// A pass held against the best one.
import { make } from './elements.mjs';
import { average, ordinal, percent, some } from './words.mjs';
import { drawTiles, sortTiles, splitTiles } from './tiles.mjs';
import { makeTable } from './elements.mjs';

/**
 * @typedef {object} Judgement
 * @property {number} place from 1
 * @property {number} of
 * @property {number | null} cost tiles on average more than after the best pass; null where
 *     one of the two has no pattern within reach
 * @property {any} choice
 */

/** @param {string[]} tiles @returns {string} */
const spelled = (tiles) => sortTiles(tiles).join(' ');

/** @param {any} answer of "pass", with all passes @param {string[]} tiles
 * @returns {Judgement | null} null where it is no pass of this hand */
export function judge(answer, tiles) {
    const mine = spelled(tiles);
    const at = answer.choices.findIndex((/** @type {any} */ choice) => spelled(splitTiles(choice.pass)) === mine);
    if (at < 0) return null;
    return { place: at + 1, of: answer.passes, choice: answer.choices[at], cost: costOf(answer, answer.choices[at]) };
}

/** @param {any} answer @param {any} choice @returns {number | null} */
function costOf(answer, choice) {
    if (choice.expected === null || answer.choices[0].expected === null) return null;
    return choice.expected - answer.choices[0].expected;
}

/** @param {Judgement} judgement */
export function sayJudgement({ place, of, cost, choice }) {
    const where = `Your pass ${choice.pass} is ${place === 1 ? 'the best' : ordinal(place)} of ${of}`;
    if (cost === null) return `${where}; no pattern is within reach after it.`;
    if (cost === 0) return place === 1 ? `${where}.` : `${where} and as close on average as the best.`;
    return `${where} and costs ${cost.toFixed(3)} tiles on average.`;
}

/** The best passes, with the player's own if it is not among them.
 * @param {any} answer @param {number} top @param {Judgement | null} mine */
export function passesTable(answer, top, mine) {
    const row = (/** @type {any} */ choice, /** @type {number} */ place) => {
        const cost = costOf(answer, choice);
        return [
            String(place),
            [drawTiles(choice.pass), make('span', { class: 'spelled' }, choice.pass),
                mine?.place === place ? make('span', { class: 'yours' }, 'yours') : null],
            choice.away === null ? '–' : String(choice.away),
            average(choice.expected),
            percent(choice.nearer),
            cost === null ? '–' : cost === 0 ? '0' : cost.toFixed(3),
        ];
    };
    const rows = answer.choices.slice(0, top).map((/** @type {any} */ choice, /** @type {number} */ i) => row(choice, i + 1));
    if (mine !== null && mine.place > top) rows.push(row(mine.choice, mine.place));
    return makeTable('Passes, best first: tiles away after the pass, and on average with as many new tiles; how often that is closer than now; what it costs against the best',
        ['Place', 'Pass', 'After', 'Average', 'Closer', 'Costs'], rows, 'passes');
}

/** What a pass stays close to. @param {any} choice */
export function sayKeeps(choice) {
    if (choice.away === null) return 'No pattern of the list can be made after it.';
    return `Closest after it, ${choice.away} away: ${some(choice.keeps, 6)}.`;
}
