// A pattern with its nearest target, as a row of the answers.
import { drawTarget } from './tiles.mjs';
import { make } from './elements.mjs';
import { percent, placeOnList } from './words.mjs';

const WINDS = { E: 'east', S: 'south', W: 'west', N: 'north' };

/** @param {any} target */
function windsOf({ prevailing, seat }) {
    const said = [
        ...(prevailing ? [`${WINDS[/** @type {'E'} */ (prevailing)]} is prevailing`] : []),
        ...(seat ? [`you are ${WINDS[/** @type {'E'} */ (seat)]}`] : []),
    ];
    return said.length > 0 ? `if ${said.join(' and ')}` : null;
}

/** @param {any} target @param {number} draws @returns {string} */
function factsOf(target, draws) {
    return [
        target.points === null ? null : `${target.points} points`,
        `${percent(target.chance)} in ${draws} draws`,
        target.worth === undefined || target.worth === null ? null : `worth ${target.worth.toFixed(2)} points`,
        target.concealed ? 'concealed' : null,
        windsOf(target),
    ].filter(Boolean).join(' · ');
}

/** @param {any} target @param {number} draws @param {boolean} withAway */
export function targetRow(target, draws, withAway) {
    return make('li', { class: 'target' },
        make('h4', {}, target.pattern, ' ', make('span', { class: 'where' }, placeOnList(target))),
        make('p', { class: 'facts' }, withAway ? `${target.away} away · ` : '', factsOf(target, draws)),
        drawTarget(target.marked),
        make('p', { class: 'letters' },
            ...(target.need === '' ? ['Complete'] : ['Needs ', make('b', {}, target.need)]),
            target.spare === '' ? '' : `; don’t need ${target.spare}`));
}

/** What the marks mean. */
export function legend() {
    return make('p', { class: 'legend' }, 'On the line: you have it. ',
        'Sunk and dashed: still needed. Black J: a joker stands for it. Barred: on the table.');
}
