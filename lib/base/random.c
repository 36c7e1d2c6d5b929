/* Random numbers that are the same everywhere: ChaCha20, four blocks at a time.
 * The order of bytes in memory does not matter. */
#include "base/random.h"

/* Four states side by side, lane by lane, which compilers turn into vectors. */
#define LANES 4
_Static_assert(LANES *CHACHA_WORDS == FILL_WORDS, "a filling is one block a lane");

#define DOUBLE_ROUNDS 10
#define COUNTER 12

/* One of the four lines of the quarter round: a += b; d ^= a; d <<<= left. */
static inline void step(uint32_t x[CHACHA_WORDS][LANES], int a, int b, int d, int left) {
    for (int lane = 0; lane < LANES; lane++) {
        x[a][lane] += x[b][lane];
        uint32_t mixed = x[d][lane] ^ x[a][lane];
        x[d][lane] = mixed << left | mixed >> (32 - left);
    }
}

static inline void quarter_round(uint32_t x[CHACHA_WORDS][LANES], int a, int b, int c, int d) {
    step(x, a, b, d, 16);
    step(x, c, d, b, 12);
    step(x, a, b, d, 8);
    step(x, c, d, b, 7);
}

static uint32_t state_word(const uint32_t state[CHACHA_WORDS], int word, int lane) {
    return state[word] + (word == COUNTER ? (uint32_t)lane : 0);
}

void chacha_blocks(const uint32_t state[CHACHA_WORDS], uint32_t words[FILL_WORDS]) {
    uint32_t x[CHACHA_WORDS][LANES];
    for (int word = 0; word < CHACHA_WORDS; word++)
        for (int lane = 0; lane < LANES; lane++)
            x[word][lane] = state_word(state, word, lane);
    for (int i = 0; i < DOUBLE_ROUNDS; i++) {
        quarter_round(x, 0, 4, 8, 12);
        quarter_round(x, 1, 5, 9, 13);
        quarter_round(x, 2, 6, 10, 14);
        quarter_round(x, 3, 7, 11, 15);
        quarter_round(x, 0, 5, 10, 15);
        quarter_round(x, 1, 6, 11, 12);
        quarter_round(x, 2, 7, 8, 13);
        quarter_round(x, 3, 4, 9, 14);
    }
    for (int lane = 0; lane < LANES; lane++)
        for (int word = 0; word < CHACHA_WORDS; word++)
            words[lane * CHACHA_WORDS + word] = x[word][lane] + state_word(state, word, lane);
}

void random_fill(nh_random *random) {
    /* The constants spell "expand 32-byte k"; of the key, the seed is the first
     * eight bytes, of the nonce, the stream the last eight. */
    const uint32_t state[CHACHA_WORDS] = {
        [0] = 0x61707865,
        [1] = 0x3320646e,
        [2] = 0x79622d32,
        [3] = 0x6b206574,
        [4] = random->state[RANDOM_SEED],
        [5] = random->state[RANDOM_SEED + 1],
        [COUNTER] = random->state[RANDOM_BLOCK],
        [14] = random->state[RANDOM_STREAM],
        [15] = random->state[RANDOM_STREAM + 1],
    };
    chacha_blocks(state, random->state + RANDOM_WORD);
    random->state[RANDOM_BLOCK] += LANES;
    random->state[RANDOM_USED] = 0;
}

void nh_random_start(nh_random *random, uint64_t seed, uint64_t stream) {
    const nh_random fresh = {.state = {
                                 [RANDOM_SEED] = (uint32_t)seed,
                                 [RANDOM_SEED + 1] = (uint32_t)(seed >> 32),
                                 [RANDOM_STREAM] = (uint32_t)stream,
                                 [RANDOM_STREAM + 1] = (uint32_t)(stream >> 32),
                                 [RANDOM_USED] = FILL_WORDS,
                             }};
    *random = fresh;
}

uint32_t nh_random_next(nh_random *random) {
    return random_word(random);
}

uint32_t nh_random_below(nh_random *random, uint32_t bound) {
    return random_bounded(random, bound);
}
