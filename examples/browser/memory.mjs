// What this device remembers between visits: the hand and the list, nothing else. A
// browser that does not let pages remember anything is no error.

const PREFIX = 'nearhand ';

/** @param {string} key @returns {any} null where there is nothing */
export function recall(key) {
    try {
        return JSON.parse(localStorage.getItem(PREFIX + key) ?? 'null');
    } catch {
        return null;
    }
}

/** @param {string} key @param {any} value */
export function remember(key, value) {
    try {
        localStorage.setItem(PREFIX + key, JSON.stringify(value));
    } catch {
        // Full, or not allowed: it is only not remembered.
    }
}

export function forgetAll() {
    try {
        for (const key of Object.keys(localStorage))
            if (key.startsWith(PREFIX)) localStorage.removeItem(key);
    } catch {
        // Nothing was remembered.
    }
}
