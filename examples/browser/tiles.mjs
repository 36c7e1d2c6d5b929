// Tiles: their notation, their names, and their drawings. The drawings are the symbols
// of tiles.svg, which become a part of the page once.
import { make } from './elements.mjs';

const SVG = 'http://www.w3.org/2000/svg';
const SUITS = { B: 'bam', C: 'crak', D: 'dot' };
const HONOURS = {
    E: 'east wind', S: 'south wind', W: 'west wind', N: 'north wind',
    R: 'red dragon', G: 'green dragon', Wh: 'white dragon', F: 'flower', J: 'joker',
};

/** Rows of the tray: each suit, then the rest. */
export const ROWS = [
    ...Object.keys(SUITS).map((suit) => ({
        name: `${SUITS[/** @type {'B'} */ (suit)]}s`,
        kinds: [...'123456789'].map((rank) => rank + suit),
    })),
    { name: 'winds, dragons, flowers and jokers', kinds: Object.keys(HONOURS) },
];

const KINDS = ROWS.flatMap((row) => row.kinds);

/** The tiles of a text in notation, one by one: "33D Wh" is 3D, 3D, Wh.
 * @param {string} text as the library writes it @returns {string[]} */
export function splitTiles(text) {
    const words = text.match(/[1-9]+[BCD]|Wh|[ESWNRGFJ]/g) ?? [];
    return words.flatMap((word) => {
        const suit = word.at(-1) ?? '';
        return suit in SUITS ? [...word.slice(0, -1)].map((rank) => rank + suit) : [word];
    });
}

/** @param {string[]} tiles */
export function sortTiles(tiles) {
    return tiles.toSorted((a, b) => KINDS.indexOf(a) - KINDS.indexOf(b));
}

/** How many of each kind. @param {string[]} tiles @returns {Map<string, number>} */
export function countTiles(tiles) {
    const counts = new Map();
    for (const tile of tiles) counts.set(tile, (counts.get(tile) ?? 0) + 1);
    return counts;
}

/** "3 bam". @param {string} kind */
export function nameOf(kind) {
    const suit = /** @type {'B'} */ (kind.at(-1));
    return suit in SUITS && kind.length === 2
        ? `${kind[0]} ${SUITS[suit]}`
        : HONOURS[/** @type {'E'} */ (kind)];
}

/** "2, 3 bam, east wind". @param {string[]} tiles */
export function sayTiles(tiles) {
    return tiles.map((tile, i) => {
        const next = tiles[i + 1];
        const goesOn = next !== undefined && tile.length === 2 && next.length === 2 &&
            tile[1] === next[1] && tile !== 'Wh' && next !== 'Wh';
        return goesOn ? tile[0] : nameOf(tile);
    }).join(', ');
}

/** Makes the drawings a part of the page. @param {string} source the text of tiles.svg */
export function addDrawings(source) {
    const drawn = new DOMParser().parseFromString(source, 'image/svg+xml').documentElement;
    document.body.append(document.importNode(drawn, true));
}

/**
 * What a tile is to the hand: there, by a joker, still needed, on the table.
 * @typedef {'keep' | 'joked' | 'need' | 'shown'} Role
 */

/** One tile; what it is called is said by what it stands in.
 * @param {string} kind @param {Role} [role] */
export function drawTile(kind, role = 'keep') {
    const drawing = document.createElementNS(SVG, 'svg');
    drawing.setAttribute('class', `tile ${role}`);
    drawing.setAttribute('viewBox', '0 0 60 80');
    drawing.setAttribute('aria-hidden', 'true');
    for (const symbol of role === 'joked' ? [`t-${kind}`, 'joker-stands'] : [`t-${kind}`]) {
        const use = document.createElementNS(SVG, 'use');
        use.setAttribute('href', `#${symbol}`);
        drawing.append(use);
    }
    return drawing;
}

/** Tiles in a row, with their names for those who listen. @param {string} text in notation */
export function drawTiles(text) {
    const tiles = splitTiles(text);
    return make('span', { class: 'tiles', role: 'img', 'aria-label': sayTiles(tiles) },
        ...tiles.map((tile) => drawTile(tile)));
}

const ROLE_WORDS = { keep: '', joked: 'by a joker ', need: 'needed ', shown: 'on the table ' };
const ROLES = /** @type {Role[]} */ (Object.keys(ROLE_WORDS));

/** @param {Record<string, string>} group the tiles of each role */
function drawGroup(group) {
    const tiles = ROLES.flatMap((role) =>
        splitTiles(group[role] ?? '').map((kind) => ({ kind, role })));
    tiles.sort((a, b) => KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind));
    return make('span', { class: 'group' }, ...tiles.map(({ kind, role }) => drawTile(kind, role)));
}

/** @param {Record<string, string>} group */
function sayGroup(group) {
    return ROLES.filter((role) => group[role])
        .map((role) => ROLE_WORDS[role] + sayTiles(splitTiles(group[role]))).join(', ');
}

/** A target in its groups: what the hand has stands above the line, what it needs is sunk.
 * @param {Array<Record<string, string>>} groups */
export function drawTarget(groups) {
    return make('div', { class: 'target-tiles', role: 'img', 'aria-label': groups.map(sayGroup).join('; ') },
        ...groups.map(drawGroup));
}
