// How long the module takes, in Node and in browsers alike: each time is the best of several,
// and the median of those over the hands. What else runs on the machine then counts little.
const TIMES = 15;
const LOADS = 40;

function best(work, times = TIMES) {
    let least = Infinity;
    for (let i = 0; i < times; i++) {
        const begun = performance.now();
        work();
        least = Math.min(least, performance.now() - begun);
    }
    return least;
}

const median = (times) => times.toSorted((a, b) => a - b)[times.length >> 1];

/** A clock of browsers is coarse: as many questions at once as make it count. */
function bestAnswer(list, ask, question, together) {
    return best(() => {
        for (let i = 0; i < together; i++) list.askText(ask, question);
    }) / together;
}

/**
 * Milliseconds to start the module, once it is there, and to load a list; microseconds for a
 * ranking; milliseconds for the five best passes.
 * @param {(bytes: BufferSource) => Promise<any>} start @param {BufferSource} bytes
 * @param {string} text of the list @param {string[]} hands
 */
export async function measure(start, bytes, text, hands) {
    let nearhand, started = Infinity;
    for (let i = 0; i < TIMES; i++) {
        const begun = performance.now();
        nearhand = await start(bytes);
        started = Math.min(started, performance.now() - begun);
    }
    const load = best(() => nearhand.load(text).close(), LOADS);
    const list = nearhand.load(text);
    for (let i = 0; i < 200; i++) list.askText('rank', { hand: hands[i % hands.length], top: 3 });
    return {
        start: started,
        load,
        rank: 1000 * median(hands.map((hand) => bestAnswer(list, 'rank', { hand, top: 3 }, 20))),
        pass: median(hands.map((hand) => bestAnswer(list, 'pass', { hand, top: 5 }, 1))),
    };
}
