// What a player lays before the page, beside the answers: the hand, and what is known of
// the table. The views Hand and Play each have one, and both show the same table.
import { Refused } from './desk.mjs';
import { explain } from './answers.mjs';
import { fill, make } from './elements.mjs';
import { SetField } from './set_field.mjs';
import { spell } from './table.mjs';
import { TileField } from './tile_field.mjs';

const WINDS = ['', 'east', 'south', 'west', 'north'];
const SAMPLE = '2468B 246C 33D EEW R Wh';

/** @param {string} label @param {string} key @param {import('./table.mjs').Table} table */
function windChoice(label, key, table) {
    const choice = make('select', { on: { change: () => table.change({ [key]: choice.value }) } },
        ...WINDS.map((wind) => make('option', { value: wind }, wind || 'not known')));
    const show = () => { choice.value = /** @type {any} */ (table.facts)[key]; };
    table.addEventListener('change', show);
    show();
    return make('label', {}, `${label} `, choice);
}

/** Digits of a seed that nobody chose. @returns {string} */
export function anySeed() {
    return String(crypto.getRandomValues(new BigUint64Array(1))[0]);
}

export class Side {
    /**
     * @param {string} name for ids
     * @param {import('./desk.mjs').Desk} desk
     * @param {import('./table.mjs').Table} table
     * @param {boolean} withSets
     */
    constructor(name, desk, table, withSets) {
        this.table = table;
        this.desk = desk;
        this.hand = new TileField({ id: `${name}-tiles`, label: withSets ? 'Concealed tiles' : 'Tiles of the hand',
            hint: 'As in 2468B 33D EE Wh F, or in words: 33 dots, soap, flower.', open: !withSets, desk,
            changed: (hand) => table.change({ hand }) });
        this.gone = new TileField({ id: `${name}-gone`, label: 'Tiles gone',
            hint: 'Discards, and others’ sets: tiles that cannot come any more.', desk,
            changed: (gone) => table.change({ gone }) });
        this.sets = withSets ? new SetField({ id: `${name}-sets`, label: 'Your sets on the table',
            hint: 'A word for each set: 444D EEEJ 123B.', desk, changed: (sets) => table.change({ sets }) }) : null;
        this.note = make('p', { class: 'hint' });
        this.trouble = make('div', { role: 'status' });
        this.element = make('div', {}, this.hand.element,
            make('p', { class: 'settings' }, this.#button('Deal me a hand', () => this.#deal()),
                this.#button('Sample hand', () => table.change({ hand: SAMPLE }))),
            this.trouble,
            this.sets?.element, withSets ? this.gone.element : this.note,
            make('p', { class: 'settings' }, windChoice('Your seat', 'seat', table),
                windChoice('Prevailing wind', 'prevailing', table)));
        table.addEventListener('change', () => this.#show());
        table.addEventListener('list', () => this.#useSet());
        this.#show();
    }

    /** @param {string} text @param {() => void} press */
    #button(text, press) {
        return make('button', { type: 'button', on: { click: press } }, text);
    }

    #useSet() {
        const { set } = this.table.about;
        for (const field of [this.hand, this.gone, this.sets]) field?.useSet(set);
    }

    #show() {
        const { hand, gone, sets, theirs } = this.table.facts;
        this.hand.show(hand);
        this.gone.show(gone);
        this.sets?.show(sets);
        const counted = [sets && `your sets ${sets}`, (gone || theirs) && `tiles gone ${`${gone} ${spell(theirs)}`.trim()}`].filter(Boolean);
        this.note.textContent = counted.length > 0 ? `Counted too, from Play: ${counted.join('; ')}.` : '';
    }

    async #deal() {
        try {
            const answer = await this.desk.ask('deal', 'deal', { seed: anySeed() });
            if (answer !== null) this.table.change({ hand: answer.hands.E, sets: '', gone: '', theirs: '' });
            fill(this.trouble);
        } catch (error) {
            if (!(error instanceof Refused)) throw error;
            explain(this.trouble, `No hand is dealt: ${error.message}.`);
        }
    }
}
