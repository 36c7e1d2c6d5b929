/* Shares sorted, and those dropped that others make needless. */
#include "families/packed_share.h"

#include <string.h>

struct share share_unpack(const struct packed_share *packed) {
    struct share share;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        share.need[slot] = (uint8_t)count_at(packed->need, slot);
        share.joker[slot] = (uint8_t)count_at(packed->joker, slot);
    }
    return share;
}

/* The end of the run, each share after the one before it, that begins at `start`. */
static size_t run_end(const struct packed_share *shares, size_t start, size_t count) {
    size_t end = start + (start < count);
    while (end < count && packed_before(&shares[end - 1], &shares[end]))
        end++;
    return end;
}

/* Merges two runs; of equal shares one stays. The end of what is written. */
static struct packed_share *merge_share_runs(const struct packed_share *left,
                                             const struct packed_share *middle,
                                             const struct packed_share *end,
                                             struct packed_share *to) {
    const struct packed_share *right = middle;
    while (left < middle && right < end) {
        bool equal = packed_equal(left, right);
        bool first = equal || packed_before(left, right);
        *to++ = first ? *left : *right;
        left += first;
        right += !first || equal;
    }
    memcpy(to, left, (size_t)(middle - left) * sizeof *to);
    to += middle - left;
    memcpy(to, right, (size_t)(end - right) * sizeof *to);
    return to + (end - right);
}

/* Sorts shares by merging the sorted runs that they stand in, two and two, until
 * one is left. A family is sorted, and still is when the same share is added to
 * each of its own: so runs are long. The number of different shares. */
static size_t sort_shares(struct packed_share *shares, struct packed_share *spare, size_t count) {
    struct packed_share *from = shares, *to = spare;
    while (run_end(from, 0, count) < count) {
        struct packed_share *at = to;
        for (size_t start = 0, end; start < count; start = end) {
            size_t middle = run_end(from, start, count);
            end = run_end(from, middle, count);
            at = merge_share_runs(from + start, from + middle, from + end, at);
        }
        count = (size_t)(at - to);
        struct packed_share *merged = to;
        to = from;
        from = merged;
    }
    if (from != shares)
        memcpy(shares, from, count * sizeof *shares);
    return count;
}

/* Whether jokers may be at least as many of each kind. */
static bool jokers_at_least(const struct packed_share *a, const struct packed_share *b) {
    return kinds_below(a->joker, b->joker) == 0;
}

/* Adds a share to shares[same .. kept), which have the same tiles and come before it:
 * none of them has as many jokers of each kind. Drops those that it makes needless. How
 * many are kept. */
static size_t keep_share(struct packed_share *shares, size_t same, size_t kept,
                         struct packed_share share) {
    size_t to = same;
    for (size_t j = same; j < kept; j++)
        if (!jokers_at_least(&share, &shares[j]))
            shares[to++] = shares[j];
    shares[to] = share;
    return to + 1;
}

size_t packed_tidy(struct packed_share *shares, struct packed_share *spare, size_t count) {
    count = sort_shares(shares, spare, count);
    size_t kept = 0, same = 0; /* shares[same .. kept) have the tiles of the last */
    for (size_t i = 0; i < count; i++) {
        if (kept == 0 || shares[same].need != shares[i].need) {
            same = kept;
            shares[kept++] = shares[i];
        } else {
            kept = keep_share(shares, same, kept, shares[i]);
        }
    }
    return kept;
}
