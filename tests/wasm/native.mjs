// The program's answers, to hold those of the module against.
import { execFileSync, spawnSync } from 'node:child_process';

/** The lines that the program prints. */
export function linesOf(program, words, input = '') {
    const text = execFileSync(program, words, { input, maxBuffer: 1 << 30 }).toString();
    return text.trimEnd().split('\n');
}

/** The lines that it prints about what is wrong. */
export function complaints(program, words) {
    return spawnSync(program, words).stderr.toString().trimEnd().split('\n');
}

/** Hands of a list, the same each time. */
export function dealt(program, list, count) {
    return linesOf(program, ['deal', '--list', list, '--seed', '4711', '--hands', String(count)])
        .filter((line) => !line.startsWith('#')).map((line) => line.split('\t')[0]);
}

/** Of what the program said, what the module says too, in the same order. */
export function common(said, own) {
    if (Array.isArray(own)) return own.map((each, i) => common(said?.[i], each));
    if (own === null || typeof own !== 'object') return said;
    return Object.fromEntries(Object.keys(own).map((key) => [key, common(said?.[key], own[key])]));
}
