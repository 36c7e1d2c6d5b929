// Numbers and lists of names as a player reads them.

/** "1 tile", "3 tiles". @param {number} count @param {string} word */
export function plural(count, word) {
    return `${count.toLocaleString('en')} ${word}${count === 1 ? '' : 's'}`;
}

/** "2.2%". @param {number} share */
export function percent(share) {
    if (share > 0 && share < 0.0005) return 'under 0.1%';
    return `${(100 * share).toFixed(1)}%`;
}

/** A number of tiles away on average. @param {number | null} value */
export function average(value) {
    return value === null ? 'out of reach' : value.toFixed(3);
}

/** "71st". @param {number} place */
export function ordinal(place) {
    const tens = place % 100;
    const ending = tens > 10 && tens < 14 ? 'th' : ['th', 'st', 'nd', 'rd'][place % 10] ?? 'th';
    return `${place}${ending}`;
}

/** The first names, and how many there are besides.
 * @param {string[]} names @param {number} most @param {number} [all] of which `names` may lack some */
export function some(names, most, all = names.length) {
    const left = all - Math.min(most, names.length);
    if (left <= 0) return names.join(', ');
    return `${names.slice(0, most).join(', ')} and ${left} more`;
}

/** "1:05". @param {number} seconds */
export function minutes(seconds) {
    const whole = Math.max(0, Math.ceil(seconds));
    return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

/** A pattern's section and place on the list: "Tides 1.5".
 * @param {{section: string | null, ref: string | null}} pattern */
export function placeOnList(pattern) {
    return [pattern.section, pattern.ref].filter(Boolean).join(' ');
}
