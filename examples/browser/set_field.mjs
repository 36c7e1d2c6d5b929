// A field of sets on the table: typed a word for each, or built of a shape and a tile.
import { fill, make, say } from './elements.mjs';
import { drawTile, nameOf, sayTiles, splitTiles } from './tiles.mjs';
import { placeOf } from './tile_field.mjs';
import { Refused } from './desk.mjs';
import { Tray } from './tray.mjs';

const SHAPES = { pung: 3, kong: 4, quint: 5, sextet: 6, chow: 3 };

/** A set as a word: "444D", "EEEJ", "123B".
 * @param {keyof typeof SHAPES} shape @param {string} kind @param {number} jokers
 * @returns {string | null} null where there is no such set */
export function wordOf(shape, kind, jokers) {
    const size = SHAPES[shape];
    if (shape === 'chow') {
        const rank = Number(kind[0]);
        return rank >= 1 && rank <= 7 ? `${rank}${rank + 1}${rank + 2}${kind[1]}` : null;
    }
    if (jokers >= size || kind === 'J') return null;
    const tiles = size - jokers;
    const alike = /^[1-9]/.test(kind) ? kind[0].repeat(tiles) + kind[1] : kind.repeat(tiles);
    return alike + 'J'.repeat(jokers);
}

/**
 * @typedef {object} SetOptions
 * @property {string} id
 * @property {string} label
 * @property {string} hint
 * @property {(sets: string) => void} changed
 * @property {import('./desk.mjs').Desk} desk
 */

export class SetField {
    #value = '';
    /** @type {SetOptions} */ #options;

    /** @param {SetOptions} options */
    constructor(options) {
        const { id, label, hint } = options;
        this.#options = options;
        this.input = make('input', { id, autocomplete: 'off', autocapitalize: 'off', spellcheck: 'false',
            'aria-describedby': `${id}-hint ${id}-error`, on: { change: () => this.#read(this.input.value) } });
        this.shown = make('ul', { class: 'sets', 'aria-label': label });
        this.error = make('p', { class: 'error', id: `${id}-error`, hidden: true });
        this.shape = make('select', {}, ...Object.keys(SHAPES).map((shape) => make('option', {}, shape)));
        this.jokers = make('select', {}, ...[0, 1, 2, 3, 4, 5].map((count) => make('option', {}, String(count))));
        this.tray = new Tray(`Tile of the set: ${label}`, (kind) => this.#build(kind));
        this.element = make('div', { class: 'field' },
            make('div', { class: 'field-head' }, make('label', { for: id }, label)),
            this.shown, this.input, make('p', { class: 'hint', id: `${id}-hint` }, hint), this.error,
            make('details', {}, make('summary', {}, 'Tap sets'),
                make('p', { class: 'settings' }, make('label', {}, 'Set ', this.shape),
                    make('label', {}, 'Jokers in it ', this.jokers)),
                make('p', { class: 'hint' }, 'Tap its tile; for a chow, the lowest.'), this.tray.element));
    }

    /** @param {string} set */
    useSet(set) {
        this.tray.layOut(set);
    }

    /** @param {string} sets */
    show(sets) {
        if (sets === this.#value) return;
        this.#value = sets;
        this.input.value = sets;
        this.#draw();
    }

    /** @param {string} text */
    async #read(text) {
        try {
            const read = await this.#options.desk.ask(`sets of ${this.#options.id}`, 'tiles', { sets: text });
            if (read === null) return;
            this.#refuse(null, text);
            this.#value = read.sets.join(' ');
            this.input.value = this.#value;
            this.#draw();
            this.#options.changed(this.#value);
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

    /** @param {string} kind */
    async #build(kind) {
        const shape = /** @type {keyof typeof SHAPES} */ (this.shape.value);
        const word = wordOf(shape, kind, Number(this.jokers.value));
        if (word === null) {
            this.#refuse(new Refused(`no ${shape} of ${nameOf(kind)} with that many jokers`, 0), '');
            return;
        }
        this.input.value = `${this.#value} ${word}`;
        await this.#read(this.input.value);
        say(`${shape} of ${nameOf(kind)} added`);
    }

    #draw() {
        const words = this.#value.split(' ').filter(Boolean);
        fill(this.shown, ...words.map((word, i) => make('li', {},
            make('button', { type: 'button', 'aria-label': `take away ${sayTiles(splitTiles(word))}`,
                on: { click: () => this.#remove(words, i) } },
                ...splitTiles(word).map((tile) => drawTile(tile))))));
    }

    /** @param {string[]} words @param {number} at */
    async #remove(words, at) {
        await this.#read(words.toSpliced(at, 1).join(' '));
        this.input.focus();
    }
}
