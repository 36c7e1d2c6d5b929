// nearhand as a module for browsers and Node. Everything is computed where it runs;
// nothing is sent anywhere.
//
//     import { start } from './nearhand.mjs';
//     const nearhand = await start();
//     const list = nearhand.load(textOfTheList);
//     list.rank('2468B 246C 33D EEW R Wh', { top: 5 });

/**
 * Tiles in hand notation: "2468B 246C 33D EEW R Wh".
 * @typedef {string} Tiles
 */

/**
 * @typedef {'east' | 'south' | 'west' | 'north' | 'E' | 'S' | 'W' | 'N'} Wind
 */

/**
 * What is known beside the hand; all of it may be left out.
 * @typedef {object} Situation
 * @property {Tiles} [seen] tiles known to be gone
 * @property {string} [exposed] one's own sets on the table, a word each: "444D EEEJ"
 * @property {Wind} [prevailing]
 * @property {Wind} [seat]
 * @property {string[]} [patterns] only these patterns, by name
 * @property {string[]} [sections] only the patterns of these sections
 */

/**
 * @typedef {object} Target
 * @property {string} pattern
 * @property {string | null} section
 * @property {string | null} ref
 * @property {number | null} points
 * @property {number} away tiles still lacking
 * @property {Tiles} target the complete hand
 * @property {string[]} groups the target in the groups of its pattern
 * @property {Tiles} keep tiles of the hand that belong to it
 * @property {Tiles} need tiles that are lacking
 * @property {Tiles} spare tiles of the hand that do not belong to it
 * @property {number} chance that the draws complete it
 * @property {string} chance_exact the same as a fraction
 * @property {boolean} concealed
 * @property {Tiles} joked tiles of the target that jokers stand for
 * @property {Marked[]} [marked] the groups held against the hand, where it is asked for
 * @property {'E' | 'S' | 'W' | 'N'} [prevailing]
 * @property {'E' | 'S' | 'W' | 'N'} [seat]
 */

/**
 * The tiles of a group by what they are to the hand; those without tiles are left out.
 * @typedef {object} Marked
 * @property {Tiles} [keep] in the hand
 * @property {Tiles} [joked] a joker of the hand stands for them
 * @property {Tiles} [need] still needed
 * @property {Tiles} [shown] on the table
 */

/**
 * @typedef {object} Ranking
 * @property {1} format
 * @property {Tiles} hand
 * @property {number} tiles
 * @property {Target[]} targets the best target of each pattern, best first
 * @property {number | null} nearest
 * @property {number} within_one
 * @property {number} draws
 * @property {number} unseen
 * @property {string[]} dead patterns that can no longer be made
 */

/**
 * @typedef {object} Choice
 * @property {Tiles} pass
 * @property {number | null} expected tiles away on average once as many have come in
 * @property {string | null} expected_exact
 * @property {number} nearer share of the draws that bring the hand nearer
 * @property {string} nearer_exact
 * @property {number | null} away
 * @property {string[]} keeps patterns that are then the nearest
 */

/**
 * @typedef {object} Passing
 * @property {1} format
 * @property {Tiles} hand
 * @property {number} count tiles of the best pass
 * @property {number | null} away
 * @property {Tiles} pass
 * @property {number | null} expected
 * @property {string | null} expected_exact
 * @property {Choice[]} choices best first
 * @property {number} passes how many there are
 * @property {number} tiles
 */

/**
 * @typedef {object} Mistake
 * @property {number} line from 1; 0 where it is not known
 * @property {number} column
 * @property {string | null} pattern
 * @property {string} text
 * @property {string | null} warning
 */

/** A list that has mistakes: `mistakes` says which, with line and column. */
export class ListError extends Error {
    /** @param {Mistake[]} mistakes @param {string} status */
    constructor(mistakes, status) {
        super(mistakes.length > 0 ? mistakes[0].text : status);
        this.name = 'ListError';
        this.mistakes = mistakes;
    }
}

/** A question that cannot be answered; `column` is the place in the tiles, from 1, or 0. */
export class QuestionError extends Error {
    /** @param {string} text @param {number} column */
    constructor(text, column) {
        super(text);
        this.name = 'QuestionError';
        this.column = column;
    }
}

/** A list that is open. Close it when it is no longer needed. */
export class List {
    #module;
    #desk;

    /** @param {Module} module @param {number} desk */
    constructor(module, desk) {
        this.#module = module;
        this.#desk = desk;
    }

    /** The answer to a question, as JSON text.
     * @param {string} ask @param {object} [question] @returns {string} */
    askText(ask, question = {}) {
        if (this.#desk === 0) throw new QuestionError('the list was closed', 0);
        return this.#module.ask(this.#desk, JSON.stringify({ ...question, ask }));
    }

    /** @param {string} ask @param {object} [question] @returns {any} */
    #ask(ask, question) {
        const answer = JSON.parse(this.askText(ask, question));
        if (answer.error) throw new QuestionError(answer.error.text, answer.error.column);
        return answer;
    }

    /** What the list says of itself: title, patterns, rules of the Charleston. */
    about() {
        return this.#ask('list');
    }

    /** The nearest target of each pattern.
     * @param {Tiles} hand
     * @param {Situation & {top?: number, draws?: number,
     *         order?: 'away' | 'chance' | 'worth', marked?: boolean}} [question]
     * @returns {Ranking} */
    rank(hand, question) {
        return this.#ask('rank', { ...question, hand });
    }

    /** The best passes; `count` tiles, or as many as the list has it.
     * @param {Tiles} hand
     * @param {Situation & {top?: number, count?: number}} [question]
     * @returns {Passing} */
    pass(hand, question) {
        return this.#ask('pass', { ...question, hand });
    }

    /** Which tile to discard from a hand that has drawn; `look` tiles ahead, 3 if not said.
     * @param {Tiles} hand
     * @param {Situation & {top?: number, look?: number, draws?: number,
     *         order?: 'away' | 'expected' | 'chance' | 'worth'}} [question] */
    discard(hand, question) {
        return this.#ask('discard', { ...question, hand });
    }

    /** Which discards of others to claim for a hand between its turns.
     * @param {Tiles} hand @param {Situation & {draws?: number}} [question] */
    claim(hand, question) {
        return this.#ask('claim', { ...question, hand });
    }

    /** Whether a claimed hand is complete, and for which patterns.
     * @param {Tiles} hand @param {Situation} [question] */
    check(hand, question) {
        return this.#ask('check', { ...question, hand });
    }

    /** What another player can still be making, and which tiles are dangerous: `exposed`
     * are their sets, `hand` one's own tiles.
     * @param {Situation & {hand?: Tiles, hidden?: number}} [question] */
    read(question) {
        return this.#ask('read', question);
    }

    /** The figures of each pattern.
     * @param {Situation} [question] */
    audit(question) {
        return this.#ask('audit', question);
    }

    /** Four hands, the same for a seed and number everywhere. Both are digits, since a
     * seed may be larger than a number of JavaScript.
     * @param {string} seed @param {string} [deal] */
    deal(seed, deal = '1') {
        return this.#ask('deal', { seed, deal });
    }

    /** Tiles and sets as they were typed, written as they are everywhere else.
     * @param {{tiles?: Tiles, sets?: string}} typed
     * @returns {{format: 1, tiles: Tiles, count: number, sets: string[]}} */
    tiles(typed) {
        return this.#ask('tiles', typed);
    }

    close() {
        this.#module.close(this.#desk);
        this.#desk = 0;
    }
}

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** The module, started. */
export class Module {
    #exports;

    /** @param {WebAssembly.Instance} instance */
    constructor(instance) {
        this.#exports = /** @type {any} */ (instance.exports);
        this.#exports._initialize();
    }

    /** @param {number} at @returns {string} */
    #text(at) {
        const bytes = new Uint8Array(this.#exports.memory.buffer);
        return decoder.decode(bytes.subarray(at, bytes.indexOf(0, at)));
    }

    /** Lends bytes to a call: address and length.
     * @template T @param {Uint8Array} bytes
     * @param {(at: number, length: number) => T} call @returns {T} */
    #lend(bytes, call) {
        const at = this.#exports.nearhand_reserve(bytes.length);
        new Uint8Array(this.#exports.memory.buffer).set(bytes, at);
        try {
            return call(at, bytes.length);
        } finally {
            this.#exports.nearhand_release(at);
        }
    }

    get version() {
        return this.#text(this.#exports.nearhand_version());
    }

    /** Bytes of memory that the module has. It never gives any back to its host. */
    get memorySize() {
        return this.#exports.memory.buffer.byteLength;
    }

    /** Opens a list: its JSON, as text or bytes of UTF-8.
     * @param {string | Uint8Array} list @returns {List} @throws {ListError} */
    load(list) {
        const bytes = typeof list === 'string' ? encoder.encode(list) : list;
        const desk = this.#lend(bytes, this.#exports.nearhand_open);
        if (desk !== 0) return new List(this, desk);
        const { mistakes, status } = JSON.parse(this.#text(this.#exports.nearhand_answer()));
        throw new ListError(mistakes, status);
    }

    /** @param {number} desk @param {string} question @returns {string} */
    ask(desk, question) {
        const answer = this.#lend(encoder.encode(question), (at, length) =>
            this.#exports.nearhand_ask(desk, at, length));
        return this.#text(answer);
    }

    /** @param {number} desk */
    close(desk) {
        this.#exports.nearhand_close(desk);
    }
}

/** @param {URL} url @returns {Promise<BufferSource>} */
async function bytesOf(url) {
    if (url.protocol === 'file:') {
        const { readFile } = await import('node:fs/promises');
        return readFile(url);
    }
    const response = await fetch(url);
    if (!response.ok) throw new Error(`${url}: ${response.status}`);
    return response.arrayBuffer();
}

/** Starts the module, of nearhand.wasm beside this file or of what is given.
 * @param {BufferSource | WebAssembly.Module} [source] @returns {Promise<Module>} */
export async function start(source) {
    const from = source ?? (await bytesOf(new URL('nearhand.wasm', import.meta.url)));
    const module = from instanceof WebAssembly.Module ? from : await WebAssembly.compile(from);
    return new Module(await WebAssembly.instantiate(module));
}
