// The views of the page, by the address after #: one is in sight, and only that one asks
// the worker anything.
import { find } from './elements.mjs';

/**
 * @typedef {object} View
 * @property {() => void} refresh
 * @property {() => void} [leave]
 */

export class Views {
    #now = '';

    /** @param {Record<string, View[]>} views the parts of each view */
    constructor(views) {
        this.views = views;
        addEventListener('hashchange', () => this.#go(true));
    }

    start() {
        this.#go(false);
    }

    /** Asks again what the view in sight shows. */
    refresh() {
        for (const part of this.views[this.#now] ?? []) part.refresh();
    }

    /** @param {boolean} moved whether the player went there */
    #go(moved) {
        const asked = location.hash.slice(1);
        if (moved && !(asked in this.views)) return; // a place within the page
        const next = asked in this.views ? asked : Object.keys(this.views)[0];
        if (next !== this.#now) for (const part of this.views[this.#now] ?? []) part.leave?.();
        this.#now = next;
        for (const name of Object.keys(this.views)) find(`view-${name}`).hidden = name !== next;
        for (const link of document.querySelectorAll('nav a'))
            if (link.getAttribute('href') === `#${next}`) link.setAttribute('aria-current', 'page');
            else link.removeAttribute('aria-current');
        const title = find(`title-${next}`);
        document.title = `${title.textContent} – nearhand`;
        if (moved) {
            title.focus();
            scrollTo(0, 0);
        }
        this.refresh();
    }
}
