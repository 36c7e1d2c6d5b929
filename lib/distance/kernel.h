/* The inner loops of the matcher, in plain C and for wider vectors. */
#ifndef NH_DISTANCE_KERNEL_H
#define NH_DISTANCE_KERNEL_H

#include "compile/lanes.h"

/* Most jokers in a hand for which every kernel takes products; the portable one
 * takes any number. */
#define KERNEL_JOKERS 3

/* Farther than any target: the sum of four distances is FAR or more when one of
 * them is. */
#define FAR 31

/* The distance of a family in one byte: the five low bits are the distance
 * without jokers, and bit 4 + j is set when joker number j brings it one nearer.
 * A joker never brings more: the best use of j + 1 jokers is at most one better
 * than the best use of j. */
#define NEAR_BITS 31u

/* Bytes behind a row that kernels may read, as they read whole registers. */
#define ROW_READ_BEHIND 256

/* The distances of all families in each part, by family number. Up to
 * KERNEL_JOKERS jokers: row[part] has one byte for each, as said above, and
 * ROW_READ_BEHIND bytes behind the last may be read. For more jokers (`many`) there
 * are jokers + 1 rows of plain distances. A row has `stride[part]` bytes. */
struct near_rows {
    const uint8_t *row[PARTS];
    uint32_t pages[PARTS]; /* numbers of families / 256, rounded up */
    uint32_t stride[PARTS];
    bool many;
};

/* The distance of a family with at most j jokers for its part. */
static inline unsigned near_value(const struct near_rows *rows, int part, uint32_t number,
                                  unsigned j) {
    if (rows->many)
        return rows->row[part][j * rows->stride[part] + number];
    unsigned byte = rows->row[part][number];
    unsigned away = byte & NEAR_BITS;
    for (unsigned i = 0; i < j; i++)
        away -= byte >> (5 + i) & 1u;
    return away;
}

struct kernels {
    const char *name;
    /* The most bits that one of `count` words has in common with `have`, of
     * those whose `hard` word has no bit of `dead`; -1 when there are none. */
    int (*most_common)(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                       uint64_t dead);
    /* Writes the indices of the live words that have exactly `common` bits in
     * common with `have`, ascending; their number. */
    size_t (*find_common)(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                          uint64_t dead, int common, uint32_t *found);
    /* For j = 0 to KERNEL_JOKERS the least number of tiles that a live word
     * lacks of `size` when jokers may be j of those not in `hard`; FAR when no
     * word is live. */
    void (*least_lacking)(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                          uint64_t dead, unsigned size, uint8_t least[KERNEL_JOKERS + 1]);
    /* Writes the indices of the live words that lack at most `farthest` of `size`
     * tiles when jokers may be `jokers` of those not in `hard`, ascending; their
     * number. */
    size_t (*find_lacking)(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                           uint64_t dead, unsigned size, unsigned jokers, unsigned farthest,
                           uint32_t *found);
    /* The least distance of products first .. first + count - 1, with 0 to
     * KERNEL_JOKERS jokers to share out. Up to the next multiple of LANES there
     * are repetitions of them. FAR or more when none is live. */
    unsigned (*least_away)(const struct lanes *lanes, size_t first, size_t count,
                           const struct near_rows *rows, unsigned jokers);
    /* Writes the numbers, from first on, of the products that are exactly `away`
     * (below FAR) away, ascending; their number. `found` has room for `count`. */
    size_t (*find_away)(const struct lanes *lanes, size_t first, size_t count,
                        const struct near_rows *rows, unsigned jokers, unsigned away,
                        uint32_t *found);
};

/* The kernels that this processor runs best. */
const struct kernels *kernels_best(void);

/* The same for a list of so many families. */
const struct kernels *kernels_for_families(size_t families);

/* The distance of one product with these family numbers. */
unsigned away_of_product(const uint16_t family[PARTS], const struct near_rows *rows,
                         unsigned jokers);

/* The same without jokers; for rows that are not `many`. */
static inline unsigned away_without_jokers(const uint16_t family[PARTS],
                                           const struct near_rows *rows) {
    unsigned away = 0;
    for (int part = 0; part < PARTS; part++)
        away += rows->row[part][family[part]] & NEAR_BITS;
    return away;
}

/* Kernels by number, from 0, the portable ones, on; NULL past the last. Those
 * that the processor cannot run are left out. */
const struct kernels *kernels_at(int index);

/* ------------------------------------- between the files of the kernels --- */

/* Machines with wider vectors: for these kernels, and for those of draws in pass/. */
#if defined(__x86_64__) && defined(__GNUC__)
#define KERNELS_X86 1
#elif defined(__aarch64__) && defined(__GNUC__) && __BYTE_ORDER__ == __ORDER_LITTLE_ENDIAN__
#define KERNELS_NEON 1
#endif

/* The kernels for wider vectors that this processor runs, from 0 on. */
const struct kernels *kernels_of_processor(int index);

/* The portable kernels, for what the others leave to them. */
int most_common_portable(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                         uint64_t dead);
size_t find_common_portable(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                            uint64_t dead, int common, uint32_t *found);
void least_lacking_portable(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                            uint64_t dead, unsigned size, uint8_t least[KERNEL_JOKERS + 1]);
size_t find_lacking_portable(const uint64_t *bits, const uint64_t *hard, size_t count,
                             uint64_t have, uint64_t dead, unsigned size, unsigned jokers,
                             unsigned farthest, uint32_t *found);
unsigned least_away_portable(const struct lanes *lanes, size_t first, size_t count,
                             const struct near_rows *rows, unsigned jokers);
size_t find_away_portable(const struct lanes *lanes, size_t first, size_t count,
                          const struct near_rows *rows, unsigned jokers, unsigned away,
                          uint32_t *found);

/* How many tiles: the number of bits of a word. */
static inline unsigned bit_count(uint64_t bits) {
    bits -= bits >> 1 & 0x5555555555555555u;
    bits = (bits & 0x3333333333333333u) + (bits >> 2 & 0x3333333333333333u);
    bits = (bits + (bits >> 4)) & 0x0F0F0F0F0F0F0F0Fu;
    return (unsigned)(bits * 0x0101010101010101u >> 56);
}

#endif
