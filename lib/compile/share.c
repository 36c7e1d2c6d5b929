/* Shares sorted, and those dropped that others make needless. */
#include "compile/share.h"

#include <string.h>

/* Eight bytes as a number that is ordered as memcmp orders them. */
static uint64_t ordered_word(const uint8_t *bytes) {
    uint64_t word;
    memcpy(&word, bytes, sizeof word);
#if __BYTE_ORDER__ == __ORDER_LITTLE_ENDIAN__
    word = __builtin_bswap64(word);
#endif
    return word;
}

/* Whether share a stands before share b, as memcmp orders them. */
static bool stands_before(const struct share *a, const struct share *b) {
    const uint8_t *x = (const uint8_t *)a, *y = (const uint8_t *)b;
    uint64_t first = ordered_word(x), second = ordered_word(y);
    if (first != second)
        return first < second;
    return memcmp(x + sizeof first, y + sizeof first, sizeof *a - sizeof first) < 0;
}

/* The end of the sorted run that begins at `start`. */
static size_t run_end(const struct share *shares, size_t start, size_t count) {
    size_t end = start + (start < count);
    while (end < count && !stands_before(&shares[end], &shares[end - 1]))
        end++;
    return end;
}

static void merge_runs(const struct share *left, const struct share *middle,
                       const struct share *end, struct share *to) {
    const struct share *right = middle;
    while (left < middle && right < end)
        *to++ = stands_before(right, left) ? *right++ : *left++;
    memcpy(to, left, (size_t)(middle - left) * sizeof *to);
    memcpy(to + (middle - left), right, (size_t)(end - right) * sizeof *to);
}

/* Sorts shares by merging the sorted runs that they stand in, two and two, until
 * one is left; `spare` has as much room. A family is sorted, and is so still when
 * the same share is added to each of its own: so runs are long. */
static void sort_shares(struct share *shares, struct share *spare, size_t count) {
    struct share *from = shares, *to = spare;
    while (run_end(from, 0, count) < count) {
        for (size_t start = 0, end; start < count; start = end) {
            size_t middle = run_end(from, start, count);
            end = run_end(from, middle, count);
            merge_runs(from + start, from + middle, from + end, to + start);
        }
        struct share *merged = to;
        to = from;
        from = merged;
    }
    if (from != shares)
        memcpy(shares, from, count * sizeof *shares);
}

int share_size(const struct share *share) {
    int size = 0;
    for (int slot = 0; slot < PART_KINDS; slot++)
        size += share->need[slot];
    return size;
}

static bool jokers_at_least(const struct share *a, const struct share *b) {
    for (int slot = 0; slot < PART_KINDS; slot++)
        if (a->joker[slot] < b->joker[slot])
            return false;
    return true;
}

size_t shares_tidy(struct share *shares, struct share *spare, size_t count) {
    sort_shares(shares, spare, count);
    size_t kept = 0, same = 0; /* shares[same .. kept) have the tiles of the last */
    for (size_t i = 0; i < count; i++) {
        struct share share = shares[i];
        if (kept == 0 || memcmp(shares[same].need, share.need, PART_KINDS) != 0)
            same = kept;
        bool needless = false;
        for (size_t j = same; j < kept && !needless; j++)
            needless = jokers_at_least(&shares[j], &share);
        if (needless)
            continue;
        size_t to = same;
        for (size_t j = same; j < kept; j++)
            if (!jokers_at_least(&share, &shares[j]))
                shares[to++] = shares[j];
        shares[to] = share;
        kept = to + 1;
    }
    return kept;
}
