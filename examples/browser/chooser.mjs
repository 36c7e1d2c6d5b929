// Tiles of a hand to choose from: so many of them, jokers never.
import { drawTile, nameOf, splitTiles } from './tiles.mjs';
import { fill, make, say } from './elements.mjs';
import { plural } from './words.mjs';

export class Chooser {
    /** @type {HTMLButtonElement[]} */ #buttons = [];
    #count = 3;
    /** @type {(tiles: string[]) => void} */ #done;

    /** @param {string} label @param {string} doneText @param {(tiles: string[]) => void} done */
    constructor(label, doneText, done) {
        this.#done = done;
        this.tiles = make('div', { class: 'rack choose', role: 'group', 'aria-label': label });
        this.message = make('p', { class: 'hint', role: 'status' });
        this.element = make('div', {}, this.tiles, this.message,
            make('button', { type: 'button', class: 'main', on: { click: () => this.#finish() } }, doneText));
    }

    /** @param {string} hand @param {number} count how many are to be chosen */
    layOut(hand, count) {
        this.#count = count;
        this.#buttons = splitTiles(hand).map((tile) => this.#button(tile));
        fill(this.tiles, ...this.#buttons);
        this.#show();
    }

    /** The tiles chosen so far. */
    get chosen() {
        return this.#buttons.filter(isPressed).map((button) => button.value);
    }

    focus() {
        this.#buttons[0]?.focus();
    }

    /** @param {string} tile */
    #button(tile) {
        const never = tile === 'J';
        return make('button', { type: 'button', value: tile, 'aria-pressed': 'false',
            'aria-disabled': String(never), 'aria-label': never ? 'joker, never passed' : nameOf(tile),
            on: { click: (/** @type {Event} */ event) => this.#press(/** @type {any} */ (event.currentTarget)) } },
            drawTile(tile));
    }

    /** @param {HTMLButtonElement} button */
    #press(button) {
        if (button.value === 'J') this.#tell('Jokers are never passed.');
        else if (!isPressed(button) && this.chosen.length === this.#count)
            this.#tell(`You have chosen ${plural(this.#count, 'tile')}: take one back first.`);
        else {
            button.setAttribute('aria-pressed', String(!isPressed(button)));
            this.#show();
        }
    }

    #show() {
        this.#tell(`${this.chosen.length} of ${plural(this.#count, 'tile')} chosen.`);
    }

    /** @param {string} text */
    #tell(text) {
        this.message.textContent = text;
    }

    #finish() {
        const { chosen } = this;
        if (chosen.length === this.#count) this.#done(chosen);
        else {
            this.#tell(`Pass ${plural(this.#count, 'tile')}; you chose ${chosen.length}.`);
            say('');
        }
    }
}

/** @param {HTMLButtonElement} button */
function isPressed(button) {
    return button.getAttribute('aria-pressed') === 'true';
}
