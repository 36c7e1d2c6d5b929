// The tray: every tile of the list's set to tap. Arrow keys move within it, so that it is
// one stop of the Tab key.
import { countTiles, drawTile, nameOf, ROWS, splitTiles } from './tiles.mjs';
import { fill, make } from './elements.mjs';

/** What a step of an arrow key is. @type {Record<string, [number, number]>} */
const STEPS = {
    ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0],
    Home: [0, -99], End: [0, 99],
};

export class Tray {
    /** @type {HTMLButtonElement[][]} */ #rows = [];
    /** @type {(kind: string) => void} */ #pick;

    /** @param {string} label @param {(kind: string) => void} pick */
    constructor(label, pick) {
        this.#pick = pick;
        this.element = make('div', { class: 'tray', role: 'toolbar', 'aria-label': label,
            on: { keydown: (/** @type {KeyboardEvent} */ event) => this.#move(event) } });
    }

    /** Lays out the tiles of a list's set. @param {string} set in notation */
    layOut(set) {
        const copies = countTiles(splitTiles(set));
        const kinds = ROWS.map((row) => row.kinds.filter((kind) => copies.has(kind)));
        this.#rows = kinds.filter((row) => row.length > 0)
            .map((row) => row.map((kind) => this.#button(kind)));
        fill(this.element, ...this.#rows.map((row) => make('div', { class: 'tray-row' }, ...row)));
        if (this.#rows.length > 0) this.#rows[0][0].tabIndex = 0;
    }

    /** Tiles of which all copies are in use cannot be tapped.
     * @param {string} used @param {string} set */
    limit(used, set) {
        const left = countTiles(splitTiles(set));
        for (const tile of splitTiles(used)) left.set(tile, (left.get(tile) ?? 0) - 1);
        for (const button of this.#rows.flat())
            button.setAttribute('aria-disabled', String((left.get(button.value) ?? 0) <= 0));
    }

    /** @param {string} kind */
    #button(kind) {
        return make('button', { type: 'button', value: kind, 'aria-label': nameOf(kind), tabindex: '-1',
            on: {
                click: (/** @type {Event} */ { currentTarget }) => {
                    const button = /** @type {HTMLButtonElement} */ (currentTarget);
                    this.#focus(button, false);
                    if (button.getAttribute('aria-disabled') !== 'true') this.#pick(kind);
                },
            } }, drawTile(kind));
    }

    /** @param {HTMLButtonElement} button @param {boolean} go */
    #focus(button, go) {
        for (const each of this.#rows.flat()) each.tabIndex = each === button ? 0 : -1;
        if (go) button.focus();
    }

    /** @param {KeyboardEvent} event */
    #move(event) {
        const step = STEPS[event.key];
        const row = this.#rows.findIndex((each) => each.includes(/** @type {any} */ (event.target)));
        if (step === undefined || row < 0) return;
        event.preventDefault();
        const column = this.#rows[row].indexOf(/** @type {any} */ (event.target));
        const next = this.#rows[clamp(row + step[0], this.#rows.length)];
        this.#focus(next[clamp(column + step[1], next.length)], true);
    }
}

/** @param {number} index @param {number} length */
function clamp(index, length) {
    return Math.min(Math.max(index, 0), length - 1);
}
