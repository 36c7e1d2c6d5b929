/* The inner loops of the matcher, in plain C and for wider vectors. */
#ifndef NH_KERNEL_H
#define NH_KERNEL_H

#include "tiles.h"

/* Lanes of the widest kernel: runs of products are padded to a multiple. */
#define LANES 64

/* Most jokers in a hand for which every kernel takes products; the portable one
 * takes any number. */
#define KERNEL_JOKERS 3

/* Products for the kernels: the four family numbers of each, apart by part. A
 * number is low + 256 * high. */
struct lanes {
    const uint16_t (*together)[PARTS];
    const uint8_t *low[PARTS], *high[PARTS];
};

/* rows[part] has jokers + 1 rows of least distances, `stride[part]` bytes each;
 * at least 256 bytes behind the last row may be read. */
struct near_rows {
    const uint8_t *row[PARTS];
    uint32_t stride[PARTS];
    uint32_t pages[PARTS]; /* numbers of families / 256, rounded up */
};

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

/* The distance of one product with these family numbers. */
unsigned away_of_product(const uint16_t family[PARTS], const struct near_rows *rows,
                         unsigned jokers);

/* Kernels by number, from 0, the portable ones, on; NULL past the last. Those
 * that the processor cannot run are left out. */
const struct kernels *kernels_at(int index);

/* Farther than any target. */
#define FAR 100

/* How many tiles: the number of bits of a word. */
static inline unsigned bit_count(uint64_t bits) {
    bits -= bits >> 1 & 0x5555555555555555u;
    bits = (bits & 0x3333333333333333u) + (bits >> 2 & 0x3333333333333333u);
    bits = (bits + (bits >> 4)) & 0x0F0F0F0F0F0F0F0Fu;
    return (unsigned)(bits * 0x0101010101010101u >> 56);
}

#endif
