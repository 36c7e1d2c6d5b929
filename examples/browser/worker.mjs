// The worker: it has the module and the list that is open, and answers one message at a
// time, so that the page never waits.
//
// In:  { id, open: text }             a list's JSON
//      { id, ask, question }          a question about the list that is open
// Out: { id, answer }                 for a list: what it says of itself
//      { id, refused: { text, column } }
//      { id, mistakes }               the list has these, and the one before stays open
//      { id, broken: text }           anything else that went wrong
import { start, ListError, QuestionError } from './package/nearhand.mjs';

const started = start();
/** @type {import('./package/nearhand.mjs').List | null} */
let list = null;

/** @param {string} text */
async function open(text) {
    const nearhand = await started;
    const opened = nearhand.load(text);
    list?.close();
    list = opened;
    return { ...opened.about(), version: nearhand.version };
}

/** @param {string} ask @param {object} question */
function answer(ask, question) {
    if (list === null) throw new QuestionError('no list is open', 0);
    const answered = JSON.parse(list.askText(ask, question));
    if (answered.error) throw new QuestionError(answered.error.text, answered.error.column);
    return answered;
}

addEventListener('message', async ({ data }) => {
    const { id } = data;
    try {
        const told = data.open !== undefined ? await open(data.open) : answer(data.ask, data.question);
        postMessage({ id, answer: told });
    } catch (error) {
        if (error instanceof ListError) postMessage({ id, mistakes: error.mistakes });
        else if (error instanceof QuestionError)
            postMessage({ id, refused: { text: error.message, column: error.column } });
        else postMessage({ id, broken: String(error) });
    }
});
