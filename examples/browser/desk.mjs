// The page's side of the worker: questions one after the other, of which a newer one in
// the same slot replaces the one that waits, and work that can be stopped.

/** A question that the library refused, in words for the player. */
export class Refused extends Error {
    /** @param {string} text @param {number} column in the tiles, from 1, or 0 */
    constructor(text, column) {
        super(text);
        this.name = 'Refused';
        this.column = column;
    }
}

/** The player stopped the work. */
export class Stopped extends Refused {
    constructor() {
        super('stopped before it was worked out', 0);
    }
}

/** A list that has mistakes. */
export class Mistaken extends Error {
    /** @param {import('./package/nearhand.mjs').Mistake[]} mistakes */
    constructor(mistakes) {
        super(mistakes[0]?.text ?? 'the list cannot be read');
        this.name = 'Mistaken';
        this.mistakes = mistakes;
    }
}

/**
 * @typedef {object} Job
 * @property {string} slot
 * @property {object} message
 * @property {(answer: any) => void} resolve
 * @property {(error: Error) => void} reject
 */

/** Fires `busy` when work begins and `idle` when there is none. */
export class Desk extends EventTarget {
    /** @type {Worker} */ #worker;
    /** @type {Job[]} */ #waiting = [];
    /** @type {Job | null} */ #current = null;
    /** The text of the list that is open, for a new worker. @type {string | null} */ #list = null;
    #id = 0;

    constructor() {
        super();
        this.#worker = this.#hire();
    }

    /** Opens a list and gives what it says of itself; the list before stays if it cannot.
     * @param {string} text @returns {Promise<any>} */
    async open(text) {
        const about = await this.#put('list', { open: text });
        if (about !== null) this.#list = text;
        return about;
    }

    /**
     * The answer; null where a newer question of the slot took its place.
     * @param {string} slot @param {string} ask @param {object} question @returns {Promise<any>}
     */
    ask(slot, ask, question) {
        return this.#put(slot, { ask, question });
    }

    /** Ends the work of now and what waits, and opens the list in a new worker. */
    stop() {
        this.#worker.terminate();
        const dropped = [...(this.#current ? [this.#current] : []), ...this.#waiting];
        this.#current = null;
        this.#waiting = [];
        this.#worker = this.#hire();
        for (const job of dropped) job.reject(new Stopped());
        if (this.#list !== null) this.#put('list', { open: this.#list }).catch(() => {});
        else this.dispatchEvent(new Event('idle'));
    }

    #hire() {
        const worker = new Worker(new URL('worker.mjs', import.meta.url), { type: 'module' });
        worker.addEventListener('message', ({ data }) => this.#finish(data));
        worker.addEventListener('error', (event) => {
            event.preventDefault();
            this.#finish({ id: this.#id, broken: event.message || 'the worker did not start' });
        });
        return worker;
    }

    /** @param {string} slot @param {object} message @returns {Promise<any>} */
    #put(slot, message) {
        return new Promise((resolve, reject) => {
            this.#waiting = this.#waiting.filter((job) => {
                if (job.slot === slot) job.resolve(null);
                return job.slot !== slot;
            });
            this.#waiting.push({ slot, message, resolve, reject });
            this.#next();
        });
    }

    #next() {
        if (this.#current !== null) return;
        const job = this.#waiting.shift();
        if (job === undefined) {
            this.dispatchEvent(new Event('idle'));
            return;
        }
        this.#current = job;
        this.#worker.postMessage({ ...job.message, id: ++this.#id });
        this.dispatchEvent(new Event('busy'));
    }

    /** @param {any} told */
    #finish(told) {
        const job = this.#current;
        if (job === null || told.id !== this.#id) return;
        this.#current = null;
        if (told.answer !== undefined) job.resolve(this.#isStale(job) ? null : told.answer);
        else if (told.mistakes) job.reject(new Mistaken(told.mistakes));
        else if (told.refused) job.reject(new Refused(told.refused.text, told.refused.column));
        else job.reject(new Error(told.broken));
        this.#next();
    }

    /** @param {Job} job */
    #isStale(job) {
        return 'ask' in job.message && this.#waiting.some((waiting) => waiting.slot === job.slot);
    }
}
