/* Bits of a word that stand for members of a set. */
#ifndef NH_BASE_BITS_H
#define NH_BASE_BITS_H

#include <stdint.h>

static inline int count_bits(uint64_t bits) {
    int count = 0;
    for (; bits != 0; bits &= bits - 1)
        count++;
    return count;
}

/* The place of the lowest bit; not for 0. */
static inline uint32_t lowest_bit(uint64_t bits) {
    uint32_t place = 0;
    for (int half = 32; half > 0; half /= 2)
        if ((bits & ((UINT64_C(1) << half) - 1)) == 0) {
            bits >>= half;
            place += (uint32_t)half;
        }
    return place;
}

#endif
