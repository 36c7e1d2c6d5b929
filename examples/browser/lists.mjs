// Which list is in use: one that comes with nearhand, or a file on this device.
import { fill, find, make, say } from './elements.mjs';
import { recall, remember } from './memory.mjs';
import { Mistaken, Refused } from './desk.mjs';
import { Contents } from './contents.mjs';
import { mistakesShown } from './mistakes.mjs';

const SHIPPED = ['club', 'jokers', 'traditional'];
const REMEMBERED = 1 << 20; // a larger list of one's own is opened anew at each visit

/**
 * @typedef {object} Choice
 * @property {string} name of a list that comes with nearhand, or of a file
 * @property {string} [own] the text of a file
 */

/** @param {string} name @returns {Promise<string>} */
async function shippedText(name) {
    const response = await fetch(`package/patterns/${name}.json`);
    if (!response.ok) throw new Error(`The list ${name} cannot be fetched.`);
    return response.text();
}

export class Lists {
    /** @param {import('./desk.mjs').Desk} desk @param {import('./table.mjs').Table} table */
    constructor(desk, table) {
        this.desk = desk;
        this.table = table;
        this.mistakes = find('lists-mistakes');
        new Contents(desk, table);
        find('lists-file').addEventListener('change', (/** @type {any} */ { target }) => {
            if (target.files.length > 0) this.#openFile(target.files[0]);
        });
    }

    refresh() {}

    /** The list of the last visit, or the first one. */
    async start() {
        const last = /** @type {Choice | null} */ (recall('list'));
        await this.#offer();
        if (last !== null && (last.own !== undefined || SHIPPED.includes(last.name)) && await this.#use(last)) return;
        await this.#use({ name: SHIPPED[0] });
    }

    async #offer() {
        const titles = await Promise.all(SHIPPED.map(async (name) => JSON.parse(await shippedText(name))));
        fill(find('lists-shipped'), make('legend', {}, 'Lists that come with nearhand'),
            ...SHIPPED.map((name, i) => make('label', { class: 'choice' },
                make('input', { type: 'radio', name: 'list', value: name, on: { change: () => this.#use({ name }) } }),
                make('span', {}, [titles[i].title, titles[i].edition].filter(Boolean).join(', ')))));
    }

    /** @param {File} file */
    async #openFile(file) {
        const chosen = { name: file.name, own: await file.text() };
        if (await this.#use(chosen)) say(`${file.name} is the list in use`);
        find('lists-file').value = '';
    }

    /** @param {Choice} choice @returns {Promise<boolean>} whether it is in use now */
    async #use(choice) {
        const text = choice.own ?? await shippedText(choice.name);
        try {
            const about = await this.desk.open(text);
            if (about === null) return false;
            fill(this.mistakes);
            find('in-use').textContent = about.title ?? choice.name;
            find('version').textContent = about.version;
            for (const input of find('lists-shipped').querySelectorAll('input'))
                input.checked = choice.own === undefined && input.value === choice.name;
            if (text.length <= REMEMBERED) remember('list', choice);
            this.table.useList(about);
            return true;
        } catch (error) {
            if (error instanceof Mistaken) fill(this.mistakes, mistakesShown(choice.name, text, error.mistakes));
            else if (error instanceof Refused) fill(this.mistakes, make('p', { class: 'error', role: 'alert' }, `${choice.name}: ${error.message}.`));
            else throw error;
            return false;
        }
    }
}
