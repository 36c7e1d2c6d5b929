// What lies before the player, and the list in use: what every view asks about. A view
// changes a part of it, and all who listen hear `change`; a new list is `list`.
import { recall, remember } from './memory.mjs';

/**
 * Tiles and sets as the library writes them.
 * @typedef {object} Facts
 * @property {string} hand the concealed tiles
 * @property {string} sets one's own on the table
 * @property {string} gone tiles that are known to be gone
 * @property {string} seat
 * @property {string} prevailing
 * @property {string} theirs another player's sets
 */

/** @type {Facts} */
const EMPTY = { hand: '', sets: '', gone: '', seat: '', prevailing: '', theirs: '' };

export class Table extends EventTarget {
    /** @type {Facts} */ #facts;
    /** What the list says of itself. @type {any} */ #about = null;

    constructor() {
        super();
        this.#facts = { ...EMPTY, ...recall('table') };
    }

    get facts() {
        return this.#facts;
    }

    get about() {
        return this.#about;
    }

    /** @param {Partial<Facts>} changes */
    change(changes) {
        const facts = { ...this.#facts, ...changes };
        if (JSON.stringify(facts) === JSON.stringify(this.#facts)) return;
        this.#facts = facts;
        remember('table', facts);
        this.dispatchEvent(new Event('change'));
    }

    clear() {
        this.change(EMPTY);
    }

    /** @param {any} about */
    useList(about) {
        this.#about = about;
        this.dispatchEvent(new Event('list'));
        this.dispatchEvent(new Event('change'));
    }

    /** The winds and the tiles that are gone, for a question. */
    get situation() {
        const { gone, seat, prevailing } = this.#facts;
        return {
            seen: [gone, spell(this.#facts.theirs)].join(' '),
            exposed: this.#facts.sets,
            ...(seat && { seat }),
            ...(prevailing && { prevailing }),
        };
    }
}

/** The tiles of sets: "444D EEEJ" is "444D EEE J". @param {string} sets */
export function spell(sets) {
    return sets.replaceAll('J', ' J ');
}
