// A clock that runs down, or up where there is no limit.

const TICK = 200; // ms

export class Clock {
    #begun = 0;
    #timer = 0;

    /** @param {(left: number, gone: number) => void} tick seconds @param {() => void} end */
    constructor(tick, end) {
        this.tick = tick;
        this.end = end;
    }

    /** @param {number} limit seconds; 0 for none */
    start(limit) {
        this.stop();
        this.#begun = performance.now();
        const step = () => {
            this.tick(limit - this.gone, this.gone);
            if (limit === 0 || this.gone < limit) return;
            this.stop();
            this.end();
        };
        this.#timer = setInterval(step, TICK);
        step();
    }

    /** Seconds since it started. */
    get gone() {
        return (performance.now() - this.#begun) / 1000;
    }

    stop() {
        clearInterval(this.#timer);
    }
}
