// An answer in its place on the page: while it is worked out, when it is there, and when
// there is none.
import { fill, make } from './elements.mjs';
import { Refused } from './desk.mjs';

/**
 * Draws an answer when it comes. One that a newer question replaced draws nothing.
 * @param {HTMLElement} place
 * @param {Promise<any>} asked
 * @param {(answer: any) => import('./elements.mjs').Child[]} draw
 */
export async function answerInto(place, asked, draw) {
    place.setAttribute('aria-busy', 'true');
    try {
        const answer = await asked;
        if (answer === null) return;
        fill(place, ...draw(answer));
    } catch (error) {
        if (!(error instanceof Refused)) throw error;
        explain(place, `${error.message[0].toUpperCase()}${error.message.slice(1)}.`);
    }
    place.removeAttribute('aria-busy');
}

/** Words in place of an answer. @param {HTMLElement} place @param {string} text */
export function explain(place, text) {
    place.removeAttribute('aria-busy');
    fill(place, make('p', { class: 'explains' }, text));
}

/**
 * How much is shown of how many, with buttons for more.
 * @param {number} shown @param {number} all @param {string} word
 * @param {(shown: number) => void} show
 */
export function showMore(shown, all, word, show) {
    if (shown >= all) return make('p', { class: 'more' }, `All ${all} ${word} shown.`);
    const next = Math.min(shown + 10, all);
    const button = (/** @type {string} */ text, /** @type {number} */ count) =>
        make('button', { type: 'button', on: { click: () => show(count) } }, text);
    return make('p', { class: 'more' }, `${shown} of ${all} ${word} shown. `,
        button(`Show ${next - shown} more`, next),
        next < all ? button(`Show all ${all}`, all) : null);
}
