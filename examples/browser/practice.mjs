// Practice: a hand is dealt, tiles to pass are chosen against the clock, and the review
// says what the pass costs. The worker finds the best pass meanwhile.
import { fill, find, make, makeTable, say } from './elements.mjs';
import { judge, passesTable, sayJudgement, sayKeeps } from './judge.mjs';
import { legend, targetRow } from './target.mjs';
import { minutes, plural } from './words.mjs';
import { Chooser } from './chooser.mjs';
import { Clock } from './clock.mjs';
import { Refused } from './desk.mjs';
import { anySeed } from './side.mjs';

const ALL = 2024;
const SEATS = /** @type {const} */ (['E', 'S', 'W', 'N']);
const NAMES = { E: 'east, the dealer', S: 'south', W: 'west', N: 'north' };
const CALLS = [60, 30, 10]; // seconds left that are said

/**
 * @typedef {object} Round
 * @property {number} number
 * @property {string} hand
 * @property {Promise<any>} passes
 * @property {Promise<any>} targets
 */

export class Practice {
    #seed = '';
    #number = 0;
    /** @type {Round | null} */ #round = null;
    /** @type {Array<{number: number, seconds: number, pass: string, place: string, cost: number | null}>} */
    #rounds = [];
    /** Seconds left at which to speak next. @type {number[]} */ #calls = [];

    /** @param {import('./desk.mjs').Desk} desk @param {import('./table.mjs').Table} table */
    constructor(desk, table) {
        this.desk = desk;
        this.table = table;
        this.limit = find('practice-time');
        this.clock = new Clock((left, gone) => this.#tick(left, gone), () => this.#timeUp());
        this.chooser = new Chooser('Your hand: choose tiles to pass', 'Pass them', (tiles) => this.#review(tiles));
        fill(find('practice-chooser'), this.chooser.element);
        find('practice-form').addEventListener('submit', (/** @type {Event} */ event) => {
            event.preventDefault();
            this.#begin();
        });
        find('practice-next').addEventListener('click', () => this.#deal());
        for (const button of [find('practice-stop'), find('practice-change')])
            button.addEventListener('click', () => {
                this.leave();
                find('practice-start').focus();
            });
        table.addEventListener('list', () => this.leave());
    }

    refresh() {}

    /** The round ends where the view is left, without a review. */
    leave() {
        this.clock.stop();
        this.#round = null;
        find('practice-round').hidden = true;
        find('practice-review').hidden = true;
        find('practice-form').hidden = false;
    }

    #begin() {
        const seed = find('practice-seed').value.trim();
        this.#seed = seed === '' ? anySeed() : seed;
        this.#number = 0;
        this.#rounds = [];
        find('practice-rounds').hidden = true;
        this.#deal();
    }

    async #deal() {
        this.#number += 1;
        try {
            const deal = await this.desk.ask('practice deal', 'deal', { seed: this.#seed, deal: String(this.#number) });
            fill(find('practice-error'));
            if (deal !== null) this.#start(deal);
        } catch (error) {
            if (!(error instanceof Refused)) throw error;
            fill(find('practice-error'), `No hand is dealt: ${error.message}.`);
        }
    }

    /** @param {any} deal */
    #start(deal) {
        const { tiles, rounds } = this.table.about.charleston;
        const seat = SEATS[(this.#number - 1) % SEATS.length];
        const hand = deal.hands[seat];
        const question = { hand, seat, prevailing: deal.prevailing };
        const passes = this.desk.ask('practice passes', 'pass', { ...question, count: tiles, top: ALL });
        const targets = this.desk.ask('practice targets', 'rank', { ...question, top: 3, marked: true });
        for (const asked of [passes, targets]) asked.catch(() => {}); // the review says what went wrong
        this.#round = { number: this.#number, hand, passes, targets };
        this.#calls = [...CALLS];
        find('practice-form').hidden = true;
        find('practice-review').hidden = true;
        find('practice-round').hidden = false;
        find('title-round').textContent =
            `Hand ${this.#number}: pass ${plural(tiles, 'tile')}${rounds[0]?.[0] ? ` ${towards(rounds[0][0])}` : ''}. You are ${NAMES[seat]}; ${deal.prevailing} is prevailing.`;
        this.chooser.layOut(hand, tiles);
        find('title-round').focus();
        this.clock.start(Number(this.limit.value));
    }

    /** @param {number} left @param {number} gone */
    #tick(left, gone) {
        const limit = Number(this.limit.value);
        find('practice-clock').textContent = minutes(limit === 0 ? gone : left);
        find('practice-bar').style.inlineSize = `${limit === 0 ? 0 : Math.max(0, (100 * left) / limit)}%`;
        const due = this.#calls.filter((call) => limit > 0 && left <= call && call < limit);
        if (due.length === 0) return;
        this.#calls = this.#calls.filter((call) => !due.includes(call));
        say(`${plural(Math.ceil(left), 'second')} left`);
    }

    #timeUp() {
        const { chosen } = this.chooser;
        this.#review(chosen.length === this.table.about.charleston.tiles ? chosen : null);
    }

    /** @param {string[] | null} tiles null: the time was up before they were chosen */
    async #review(tiles) {
        const round = this.#round;
        if (round === null) return;
        this.#round = null;
        const seconds = this.clock.gone;
        this.clock.stop();
        find('practice-round').hidden = true;
        find('practice-review').hidden = false;
        const place = find('practice-answer');
        fill(place, make('p', {}, 'Working out the best pass…'));
        find('title-review').focus();
        try {
            const [passes, targets] = await Promise.all([round.passes, round.targets]);
            if (passes !== null && targets !== null) this.#show(round, seconds, tiles, passes, targets);
        } catch (error) {
            if (!(error instanceof Refused)) throw error;
            fill(place, make('p', { class: 'explains' }, `No review: ${error.message}.`));
        }
    }

    /** @param {Round} round @param {number} seconds @param {string[] | null} tiles
     * @param {any} passes @param {any} targets */
    #show(round, seconds, tiles, passes, targets) {
        const mine = tiles === null ? null : judge(passes, tiles);
        const verdict = mine === null ? 'The time was up before a pass was chosen.' : sayJudgement(mine);
        this.#rounds.push({ number: round.number, seconds, pass: mine?.choice.pass ?? 'none',
            place: mine === null ? '–' : `${mine.place} of ${mine.of}`, cost: mine?.cost ?? null });
        say(verdict);
        fill(find('practice-answer'),
            make('p', { class: 'summary' }, verdict, ` You took ${minutes(seconds)}.`),
            passesTable(passes, 3, mine),
            make('p', { class: 'hint' }, mine === null || mine.place === 1 ? '' : 'After yours. ', mine === null ? '' : sayKeeps(mine.choice)),
            make('h3', {}, 'Closest before the pass'), legend(),
            make('ol', { class: 'shelf' }, ...targets.targets.map((/** @type {any} */ target) => targetRow(target, targets.draws, true))));
        this.#showRounds();
    }

    #showRounds() {
        find('practice-rounds').hidden = false;
        const judged = this.#rounds.filter((round) => round.cost !== null);
        const sum = judged.reduce((total, round) => total + (round.cost ?? 0), 0);
        const mean = judged.length === 0 ? '' : ` A pass costs you ${(sum / judged.length).toFixed(3)} tiles on average.`;
        fill(find('practice-table'),
            make('p', {}, `${plural(this.#rounds.length, 'hand')} of seed ${this.#seed}.${mean}`),
            makeTable('Each hand: your pass, its place among all passes, what it cost, the time',
                ['Hand', 'Pass', 'Place', 'Costs', 'Time'], this.#rounds.map((round) => [String(round.number), round.pass,
                    round.place, round.cost === null ? '–' : round.cost.toFixed(3), minutes(round.seconds)])));
    }
}

/** @param {string} direction */
function towards(direction) {
    return direction === 'across' ? 'across' : `to the ${direction}`;
}
