/* Random numbers that are the same everywhere: ChaCha20, of which a seed and a
 * stream's number pick a sequence. */
#ifndef NH_BASE_RANDOM_H
#define NH_BASE_RANDOM_H

#include "nearhand.h"

/* The block function of RFC 8439, section 2.3, on NH_RANDOM_BLOCKS states that
 * follow one another: `state` has the counter of the first in its word 12. The
 * words of block after block, as the 32-bit words that serialize to the key
 * stream's little-endian bytes. */
#define CHACHA_WORDS 16
void chacha_blocks(const uint32_t state[CHACHA_WORDS], uint32_t words[NH_RANDOM_WORDS]);

/* Makes the next words. */
void random_fill(nh_random *random);

static inline uint32_t random_word(nh_random *random) {
    if (random->used == NH_RANDOM_WORDS)
        random_fill(random);
    return random->word[random->used++];
}

/* Of the 2^32 numbers x, each result has as many with floor(x * bound / 2^32)
 * equal to it as any other, once those with x * bound mod 2^32 below
 * 2^32 mod bound are refused. The method: D. Lemire, "Fast random integer
 * generation in an interval", ACM Transactions on Modeling and Computer
 * Simulation 29 (2019), from memory; tests/test_random.c counts. */
static inline uint32_t random_bounded(nh_random *random, uint32_t bound) {
    uint64_t product = (uint64_t)random_word(random) * bound;
    if ((uint32_t)product < bound) {
        uint32_t refused = (0u - bound) % bound;
        while ((uint32_t)product < refused)
            product = (uint64_t)random_word(random) * bound;
    }
    return (uint32_t)(product >> 32);
}

#endif
