// The mistakes of a list, each with its place and the line of the file that has it.
import { make } from './elements.mjs';
import { plural } from './words.mjs';

const WIDTH = 64; // letters of a line that are shown

/** The part of a line about a column, and where the column is in it.
 * @param {string} line @param {number} column from 1 */
function excerpt(line, column) {
    const letters = [...line];
    const from = Math.max(0, Math.min(column - 1 - WIDTH / 2, letters.length - WIDTH));
    return { letters: letters.slice(from, from + WIDTH), at: column - 1 - from };
}

/** @param {string[]} lines @param {import('./package/nearhand.mjs').Mistake} mistake */
function row(lines, { line, column, text, warning }) {
    const where = line > 0 ? `Line ${line}, column ${column}` : 'The whole file';
    const words = make('p', {}, make('strong', {}, `${where}: `), text, warning ? ` (${warning})` : '');
    if (line < 1 || line > lines.length) return make('li', {}, words);
    const { letters, at } = excerpt(lines[line - 1], column);
    return make('li', {}, words, make('pre', {}, letters.slice(0, at).join(''),
        make('mark', {}, letters[at] ?? ' '), letters.slice(at + 1).join('')));
}

/** @param {string} file @param {string} source its text
 * @param {import('./package/nearhand.mjs').Mistake[]} mistakes */
export function mistakesShown(file, source, mistakes) {
    const lines = source.split(/\r\n|\n|\r/);
    return make('section', { class: 'mistakes', role: 'alert', 'aria-labelledby': 'title-mistakes' },
        make('h2', { id: 'title-mistakes' }, `${file}: ${plural(mistakes.length, 'mistake')}`),
        make('p', {}, 'The list in use stays as it was. Fix the file and open it again.'),
        make('ol', {}, ...mistakes.map((mistake) => row(lines, mistake))));
}
