// A field of tiles: typed as players write them, or tapped. What cannot be read is shown
// with its place, and the tiles before stay.
import { fill, make, say } from './elements.mjs';
import { drawTile, nameOf, sayTiles, splitTiles } from './tiles.mjs';
import { Refused } from './desk.mjs';
import { Tray } from './tray.mjs';

/**
 * @typedef {object} FieldOptions
 * @property {string} id
 * @property {string} label
 * @property {string} hint
 * @property {boolean} [open] whether the tray is in sight at once
 * @property {(tiles: string) => void} changed
 * @property {import('./desk.mjs').Desk} desk
 */

const PAUSE = 250; // ms after the last key before typed tiles are read

export class TileField {
    #value = '';
    /** @type {string[]} */ #before = [];
    /** @type {FieldOptions} */ #options;
    #set = '';
    #timer = 0;

    /** @param {FieldOptions} options */
    constructor(options) {
        const { id, label, hint } = options;
        this.#options = options;
        this.input = make('input', { id, autocomplete: 'off', autocapitalize: 'off', spellcheck: 'false',
            'aria-describedby': `${id}-hint ${id}-error`,
            on: { input: () => this.#typed(), change: () => this.#read(this.input.value, true) } });
        this.rack = make('ul', { class: 'rack', 'aria-label': label });
        this.count = make('span', { class: 'count' });
        this.error = make('p', { class: 'error', id: `${id}-error`, hidden: true });
        this.tray = new Tray(`Add tiles: ${label}`, (kind) => this.#put([...splitTiles(this.#value), kind], kind));
        this.element = make('div', { class: 'field' },
            make('div', { class: 'field-head' }, make('label', { for: id }, label), this.count,
                this.#button('Undo', () => this.#undo()), this.#button('Clear', () => this.#put([]))),
            this.rack, this.input, make('p', { class: 'hint', id: `${id}-hint` }, hint), this.error,
            make('details', { open: options.open }, make('summary', {}, 'Tap tiles'), this.tray.element));
    }

    /** Lays out the tray for a list. @param {string} set */
    useSet(set) {
        this.#set = set;
        this.tray.layOut(set);
        this.tray.limit(this.#value, set);
    }

    /** Shows what has changed elsewhere, which can be undone too. @param {string} tiles */
    show(tiles) {
        if (tiles === this.#value) return;
        this.#before.push(this.#value);
        this.#value = tiles;
        if (document.activeElement !== this.input) this.input.value = tiles;
        this.#draw();
    }

    /** @param {string} text @param {() => void} press */
    #button(text, press) {
        return make('button', { type: 'button', class: 'plain', on: { click: press },
            'aria-label': `${text}: ${this.#options.label}` }, text);
    }

    #typed() {
        clearTimeout(this.#timer);
        this.#timer = setTimeout(() => this.#read(this.input.value, false), PAUSE);
    }

    /** Reads typed tiles. @param {string} text @param {boolean} rewrite */
    async #read(text, rewrite) {
        clearTimeout(this.#timer);
        try {
            const read = await this.#options.desk.ask(`tiles of ${this.#options.id}`, 'tiles', { tiles: text });
            if (read === null) return;
            this.#refuse(null, text);
            if (rewrite) this.input.value = read.tiles;
            this.#take(read.tiles);
        } catch (error) {
            if (!(error instanceof Refused)) throw error;
            this.#refuse(error, text);
        }
    }

    /** @param {Refused | null} error @param {string} text */
    #refuse(error, text) {
        this.error.hidden = error === null;
        this.input.setAttribute('aria-invalid', String(error !== null));
        fill(this.error, ...(error === null ? [] : placeOf(error, text)));
    }

    /** Tiles of which one was tapped, if any. @param {string[]} tiles @param {string} [added] */
    async #put(tiles, added) {
        const text = tiles.join(' ');
        this.input.value = text;
        await this.#read(text, true);
        if (added) say(`${nameOf(added)} added: ${this.count.textContent}`);
    }

    /** @param {string} tiles */
    #take(tiles) {
        if (tiles === this.#value) return;
        this.#before.push(this.#value);
        this.#value = tiles;
        this.#draw();
        this.#options.changed(tiles);
    }

    #undo() {
        const tiles = this.#before.pop();
        if (tiles === undefined) return;
        this.#value = tiles;
        this.input.value = tiles;
        this.#refuse(null, '');
        this.#draw();
        this.#options.changed(tiles);
        say(tiles === '' ? 'no tiles' : sayTiles(splitTiles(tiles)));
    }

    #draw() {
        const tiles = splitTiles(this.#value);
        this.count.textContent = tiles.length === 1 ? '1 tile' : `${tiles.length} tiles`;
        fill(this.rack, ...tiles.map((tile, i) => make('li', {},
            make('button', { type: 'button', 'aria-label': `take out ${nameOf(tile)}`,
                on: { click: () => this.#remove(tiles, i) } }, drawTile(tile)))));
        this.tray.limit(this.#value, this.#set);
    }

    /** @param {string[]} tiles @param {number} at */
    async #remove(tiles, at) {
        await this.#put(tiles.toSpliced(at, 1));
        say(`${nameOf(tiles[at])} taken out: ${this.count.textContent}`);
        const buttons = this.rack.querySelectorAll('button');
        (buttons[Math.min(at, buttons.length - 1)] ?? this.input).focus();
    }
}

/** The words of an error, and under them the text with its place marked.
 * @param {Refused} error @param {string} text */
export function placeOf(error, text) {
    const letters = [...text];
    const words = make('span', {}, `${error.message[0].toUpperCase()}${error.message.slice(1)}.`);
    if (error.column < 1 || error.column > letters.length) return [words];
    const at = error.column - 1;
    return [words, make('span', { class: 'place' }, ` Column ${error.column}: `,
        make('code', {}, letters.slice(0, at).join(''), make('mark', {}, letters[at]),
            letters.slice(at + 1).join('')))];
}
