/* Shares as the compiler adds and compares them: the nine counts of a part side by
 * side in one word. */
#ifndef NH_FAMILIES_PACKED_SHARE_H
#define NH_FAMILIES_PACKED_SHARE_H

#include "families/share.h"

/* Seven bits a kind, the first kind highest: words are ordered as the counts are.
 * No count is above half of what fits, so that the sum of two shares fits, and the
 * top bit of each kind is free to show a borrow. */
#define COUNT_BITS 7
#define COUNT_MASK 0x7Fu

/* The top bit of every kind. */
#define COUNT_BORROWS UINT64_C(0x4081020408102040)

struct packed_share {
    uint64_t need, joker;
};

/* So many tiles of one kind, by its slot in the part. */
static inline uint64_t packed_count(int slot, unsigned tiles) {
    return (uint64_t)tiles << (COUNT_BITS * (PART_KINDS - 1 - slot));
}

static inline unsigned count_at(uint64_t packed, int slot) {
    return (unsigned)(packed >> (COUNT_BITS * (PART_KINDS - 1 - slot))) & COUNT_MASK;
}

/* The top bits of the kinds of which `a` has fewer than `b`. */
static inline uint64_t kinds_below(uint64_t a, uint64_t b) {
    return ~((a | COUNT_BORROWS) - b) & COUNT_BORROWS;
}

/* The counts of `a` less those of `b`, none for kinds of which it has no more. */
static inline uint64_t packed_beyond(uint64_t a, uint64_t b) {
    uint64_t more = kinds_below(b, a);
    return ((a | COUNT_BORROWS) - b) & (more - (more >> (COUNT_BITS - 1)));
}

/* The sum of all counts, below 128: the product has it in its highest count. */
static inline unsigned packed_total(uint64_t packed) {
    return (unsigned)(packed * UINT64_C(0x0102040810204081) >> (COUNT_BITS * (PART_KINDS - 1))) &
           COUNT_MASK;
}

static inline bool packed_equal(const struct packed_share *a, const struct packed_share *b) {
    return a->need == b->need && a->joker == b->joker;
}

static inline bool packed_before(const struct packed_share *a, const struct packed_share *b) {
    return a->need != b->need ? a->need < b->need : a->joker < b->joker;
}

struct share share_unpack(const struct packed_share *packed);

/* Sorts shares, drops repeated ones, and those that another with the same tiles
 * makes needless by what jokers may be. The number left. `spare` has room for as
 * many. */
size_t packed_tidy(struct packed_share *shares, struct packed_share *spare, size_t count);

#endif
