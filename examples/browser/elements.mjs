// Elements made in one call. Data only ever becomes text or an attribute's value.

/**
 * @typedef {Node | string | null | undefined} Child
 */

/**
 * An element. Properties are attributes, but for `on`: listeners by event. A value of
 * false, null or undefined leaves the attribute out, and true makes it empty.
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Record<string, any>} [properties]
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function make(tag, properties = {}, ...children) {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(properties)) {
        if (name === 'on')
            for (const [event, listener] of Object.entries(value))
                element.addEventListener(event, listener);
        else if (value !== false && value !== null && value !== undefined)
            element.setAttribute(name, value === true ? '' : value);
    }
    fill(element, ...children);
    return element;
}

/** Replaces what an element holds. @param {Element} element @param {...Child} children */
export function fill(element, ...children) {
    element.replaceChildren(...children.filter((child) => child !== null && child !== undefined));
}

/**
 * The element with an id, which the page has.
 * @param {string} id @returns {any}
 */
export function find(id) {
    const element = document.getElementById(id);
    if (element === null) throw new Error(`the page has no #${id}`);
    return element;
}

/** Says something to those who listen to the page. @param {string} text */
export function say(text) {
    find('said').textContent = text;
}

/**
 * A table with a caption and headings. Cells are children, or arrays of them; the first
 * of a row is its heading.
 * @param {string} caption @param {string[]} headings @param {Array<Array<Child | Child[]>>} rows
 * @param {string} [kind] a class
 */
export function makeTable(caption, headings, rows, kind = '') {
    const cells = (/** @type {Array<Child | Child[]>} */ row) => row.map((cell, i) =>
        make(i === 0 ? 'th' : 'td', { scope: i === 0 ? 'row' : null }, ...[cell].flat()));
    return make('div', { class: 'wide', tabindex: '0', role: 'region', 'aria-label': caption },
        make('table', { class: kind },
            make('caption', {}, caption),
            make('thead', {}, make('tr', {},
                ...headings.map((heading) => make('th', { scope: 'col' }, heading)))),
            make('tbody', {}, ...rows.map((row) => make('tr', {}, ...cells(row))))));
}
