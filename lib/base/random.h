/* Random numbers that are the same everywhere: ChaCha20, of which a seed and a
 * stream's number choose a sequence. */
#ifndef NH_BASE_RANDOM_H
#define NH_BASE_RANDOM_H

#include "nearhand_table.h"

/* Words of a state and of a block, and of the blocks that are made at a time. */
#define CHACHA_WORDS 16
#define FILL_WORDS 64

/* What the words of an nh_random are; numbers of 64 bits have their low half first. */
enum {
    RANDOM_SEED = 0,
    RANDOM_STREAM = 2,
    RANDOM_BLOCK = 4, /* the counter of the block to be made next */
    RANDOM_USED = 5,  /* how many of the words below were given */
    RANDOM_WORD = 6,
    RANDOM_END = RANDOM_WORD + FILL_WORDS
};
_Static_assert(RANDOM_END == NH_RANDOM_STATE_WORDS, "an nh_random is as long as its parts");

/* The block function of RFC 8439, section 2.3, on states that follow one another:
 * `state` has the counter of the first in its word 12. The words of block after
 * block, as the 32-bit words that serialize to the key stream's little-endian
 * bytes. */
void chacha_blocks(const uint32_t state[CHACHA_WORDS], uint32_t words[FILL_WORDS]);

/* Makes the next words. */
void random_fill(nh_random *random);

static inline uint32_t random_word(nh_random *random) {
    if (random->state[RANDOM_USED] >= FILL_WORDS) /* more: it was never started */
        random_fill(random);
    return random->state[RANDOM_WORD + random->state[RANDOM_USED]++];
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
