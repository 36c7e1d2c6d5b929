/* Random numbers: the generator against the vectors of RFC 8439, and numbers
 * below a bound, each of which as many numbers of the generator stand for. */
#define _POSIX_C_SOURCE 200809L
#include "../lib/base/random.h"
#include "api.h"
#include "random_list.h"

#define BLOCK CHACHA_WORDS

/* ------------------------------------------------------------- vectors --- */

/* Words of the key, the counter and the words of the nonce, and the block that
 * they give: the vectors of RFC 8439, section 2.3.2 and appendix A.1 (numbers 1
 * to 5), from memory. OpenSSL 3.0.19 (enc -chacha20) gives the same. */
static const struct {
    const char *name;
    uint32_t key[8], counter, nonce[3], block[BLOCK];
} vectors[] = {
    {"section 2.3.2",
     {0x03020100, 0x07060504, 0x0b0a0908, 0x0f0e0d0c, 0x13121110, 0x17161514, 0x1b1a1918,
      0x1f1e1d1c},
     1,
     {0x09000000, 0x4a000000, 0},
     {0xe4e7f110, 0x15593bd1, 0x1fdd0f50, 0xc47120a3, 0xc7f4d1c7, 0x0368c033, 0x9aaa2204,
      0x4e6cd4c3, 0x466482d2, 0x09aa9f07, 0x05d7c214, 0xa2028bd9, 0xd19c12b5, 0xb94e16de,
      0xe883d0cb, 0x4e3c50a2}},
    {"appendix A.1, 1",
     {0},
     0,
     {0},
     {0xade0b876, 0x903df1a0, 0xe56a5d40, 0x28bd8653, 0xb819d2bd, 0x1aed8da0, 0xccef36a8,
      0xc70d778b, 0x7c5941da, 0x8d485751, 0x3fe02477, 0x374ad8b8, 0xf4b8436a, 0x1ca11815,
      0x69b687c3, 0x8665eeb2}},
    {"appendix A.1, 2",
     {0},
     1,
     {0},
     {0xbee7079f, 0x7a385155, 0x7c97ba98, 0x0d082d73, 0xa0290fcb, 0x6965e348, 0x3e53c612,
      0xed7aee32, 0x7621b729, 0x434ee69c, 0xb03371d5, 0xd539d874, 0x281fed31, 0x45fb0a51,
      0x1f0ae1ac, 0x6f4d794b}},
    {"appendix A.1, 3",
     {0, 0, 0, 0, 0, 0, 0, 0x01000000},
     1,
     {0},
     {0x2452eb3a, 0x9249f8ec, 0x8d829d9b, 0xddd4ceb1, 0xe8252083, 0x60818b01, 0xf38422b8,
      0x5aaa49c9, 0xbb00ca8e, 0xda3ba7b4, 0xc4b592d1, 0xfdf2732f, 0x4436274e, 0x2561b3c8,
      0xebdd4aa6, 0xa0136c00}},
    {"appendix A.1, 4",
     {0xff00},
     2,
     {0},
     {0xfb4dd572, 0x4bc42ef1, 0xdf922636, 0x327f1394, 0xa78dea8f, 0x5e269039, 0xa1bebbc1,
      0xcaf09aae, 0xa25ab213, 0x48a6b46c, 0x1b9d9bcb, 0x092c5be6, 0x546ca624, 0x1bec45d5,
      0x87f47473, 0x96f0992e}},
    {"appendix A.1, 5",
     {0},
     0,
     {0, 0, 0x02000000},
     {0x374dc6c2, 0x3736d58c, 0xb904e24a, 0xcd3f93ef, 0x88228b1a, 0x96a4dfb3, 0x5b76ab72,
      0xc727ee54, 0x0e0e978a, 0xf3145c95, 0x1b748ea8, 0xf786c297, 0x99c28f5f, 0x628314e8,
      0x398a19fa, 0x6ded1b53}},
};
#define VECTORS ((int)(sizeof vectors / sizeof *vectors))

static void state_of(int vector, uint32_t counter, uint32_t state[BLOCK]) {
    static const uint32_t constants[4] = {0x61707865, 0x3320646e, 0x79622d32, 0x6b206574};
    memcpy(state, constants, sizeof constants);
    memcpy(state + 4, vectors[vector].key, sizeof vectors[vector].key);
    state[12] = counter;
    memcpy(state + 13, vectors[vector].nonce, sizeof vectors[vector].nonce);
}

/* Each vector in each of the blocks that are made together. */
START_TEST(blocks_are_those_of_the_rfc) {
    for (uint32_t before = 0; before < FILL_WORDS / BLOCK; before++) {
        uint32_t state[BLOCK], words[FILL_WORDS];
        state_of(_i, vectors[_i].counter - before, state);
        chacha_blocks(state, words);
        for (int word = 0; word < BLOCK; word++)
            ck_assert_msg(words[before * BLOCK + (uint32_t)word] == vectors[_i].block[word],
                          "%s, %u blocks behind, word %d", vectors[_i].name, before, word);
    }
}
END_TEST

static void expect_block(nh_random *random, int vector) {
    for (int word = 0; word < BLOCK; word++)
        ck_assert_uint_eq(nh_random_next(random), vectors[vector].block[word]);
}

static void skip(nh_random *random, int numbers) {
    for (int i = 0; i < numbers; i++)
        nh_random_next(random);
}

/* The vectors whose keys and nonces are of the kind that seeds and streams
 * make. */
START_TEST(seeds_and_streams_are_keys_and_nonces) {
    nh_random random;
    nh_random_start(&random, 0, 0);
    expect_block(&random, 1);
    expect_block(&random, 2);
    nh_random_start(&random, 0xff00, 0);
    skip(&random, 2 * BLOCK);
    expect_block(&random, 4);
    nh_random_start(&random, 0, UINT64_C(2) << 56);
    expect_block(&random, 5);
}
END_TEST

/* Every byte of the seed and of the stream counts: at the place where the RFC
 * has it. */
START_TEST(every_byte_counts) {
    const uint64_t byte = UINT64_C(0xa5) << 8 * _i;
    const uint32_t low = (uint32_t)byte, high = (uint32_t)(byte >> 32);
    uint32_t state[BLOCK], words[FILL_WORDS];
    nh_random random;
    state_of(1, 0, state);
    state[4] = low;
    state[5] = high;
    chacha_blocks(state, words);
    nh_random_start(&random, byte, 0);
    for (int i = 0; i < FILL_WORDS; i++)
        ck_assert_uint_eq(nh_random_next(&random), words[i]);
    state_of(1, 0, state);
    state[14] = low;
    state[15] = high;
    chacha_blocks(state, words);
    nh_random_start(&random, 0, byte);
    for (int i = 0; i < FILL_WORDS; i++)
        ck_assert_uint_eq(nh_random_next(&random), words[i]);
}
END_TEST

START_TEST(a_copy_goes_on_alone) {
    nh_random random;
    nh_random_start(&random, 12, 34);
    for (int i = 0; i < 3 * FILL_WORDS; i++) {
        nh_random copy = random;
        const uint32_t number = nh_random_next(&copy);
        skip(&copy, 2 * FILL_WORDS);
        ck_assert_uint_eq(nh_random_next(&random), number);
    }
}
END_TEST

/* As the header says; 2^36 numbers would take minutes, so that the counter is
 * set near its end. */
START_TEST(the_numbers_come_again_after_the_last_block) {
    uint32_t state[BLOCK], words[FILL_WORDS];
    nh_random random, first;
    nh_random_start(&random, 0, 0);
    random.state[RANDOM_BLOCK] = 0u - FILL_WORDS / BLOCK;
    state_of(1, random.state[RANDOM_BLOCK], state);
    chacha_blocks(state, words);
    for (int i = 0; i < FILL_WORDS; i++)
        ck_assert_uint_eq(nh_random_next(&random), words[i]);
    nh_random_start(&first, 0, 0);
    for (int i = 0; i < 2 * FILL_WORDS; i++)
        ck_assert_uint_eq(nh_random_next(&random), nh_random_next(&first));
}
END_TEST

/* ------------------------------------------------------ below a bound --- */

#define NUMBERS (UINT64_C(1) << 32)

/* A generator that gives one number and, should that be refused, another. */
static nh_random giving(uint32_t number, uint32_t otherwise) {
    nh_random random;
    nh_random_start(&random, 0, 0);
    random.state[RANDOM_USED] = 0;
    random.state[RANDOM_WORD] = number;
    random.state[RANDOM_WORD + 1] = otherwise;
    return random;
}

/* Whether a number is refused; if not, it must give `result`. */
static bool refused(uint32_t number, uint32_t bound, uint32_t result) {
    nh_random random = giving(number, UINT32_MAX);
    const uint32_t given = nh_random_below(&random, bound);
    if (random.state[RANDOM_USED] == 1)
        ck_assert_uint_eq(given, result);
    else
        ck_assert_uint_eq(given, bound - 1); /* what the other number gives */
    ck_assert_uint_le(random.state[RANDOM_USED], 2);
    return random.state[RANDOM_USED] == 2;
}

/* The numbers that stand for a result follow one another, and the first of them
 * alone may be refused: the products of the others with the bound are at least
 * `bound` beyond a multiple of 2^32. So few of them tell how many are taken:
 * exactly floor(2^32 / bound), for every result. */
static void count_result(uint32_t bound, uint32_t result) {
    const uint64_t first = (result * NUMBERS + bound - 1) / bound;
    const uint64_t behind = ((result + UINT64_C(1)) * NUMBERS + bound - 1) / bound;
    uint64_t taken = behind - first;
    for (uint64_t number = first; number < behind && number < first + 3; number++) {
        if (!refused((uint32_t)number, bound, result))
            continue;
        ck_assert_uint_eq(number, first);
        taken--;
    }
    ck_assert(!refused((uint32_t)(behind - 1), bound, result) || behind - 1 == first);
    ck_assert_msg(taken == NUMBERS / bound, "%lu numbers stand for %u below %u",
                  (unsigned long)taken, result, bound);
}

START_TEST(every_result_has_as_many_numbers) {
    for (uint32_t bound = 1; bound <= 400; bound++)
        for (uint32_t result = 0; result < bound; result++)
            count_result(bound, result);
}
END_TEST

START_TEST(so_it_is_for_large_bounds) {
    static const uint32_t edges[] = {
        0x7fffffff, 0x80000000, 0x80000001, 0xc0000000, 0xfffffffe, 0xffffffff, 0x10000, 0x10001,
    };
    const int count = (int)(sizeof edges / sizeof *edges);
    const uint64_t seed = random_seed(8439);
    random_source source = {seed};
    printf("seed %llu\n", (unsigned long long)seed);
    for (int i = 0; i < 20000; i++) {
        uint32_t bound =
            i < 50 * count ? edges[i % count] : (uint32_t)(random_next(&source) >> (32 + i % 31));
        bound += bound == 0;
        const uint32_t results[] = {0, (uint32_t)(random_next(&source) % bound), bound - 1};
        for (int result = 0; result < 3; result++)
            count_result(bound, results[result]);
    }
}
END_TEST

/* Refused numbers follow one another as well. */
START_TEST(as_many_are_refused_as_it_takes) {
    nh_random random = giving(0, 0);
    random.state[RANDOM_WORD + 2] = 0;
    random.state[RANDOM_WORD + 3] = 1; /* of 2^32 numbers one alone, 0, is too many for 3 */
    ck_assert_uint_eq(nh_random_below(&random, 3), 0);
    ck_assert_uint_eq(random.state[RANDOM_USED], 4);
}
END_TEST

START_TEST(a_bound_of_one_or_none) {
    nh_random random;
    nh_random_start(&random, 5, 6);
    for (int i = 0; i < 100; i++) {
        ck_assert_uint_eq(nh_random_below(&random, 1), 0);
        ck_assert_uint_eq(nh_random_below(&random, 0), 0);
    }
}
END_TEST

/* Any words at all are a sequence. */
START_TEST(what_was_never_started_gives_numbers) {
    nh_random random;
    memset(&random, 255, sizeof random);
    for (int i = 0; i < 2 * NH_RANDOM_STATE_WORDS; i++)
        ck_assert_uint_lt(nh_random_below(&random, 9), 9);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("random");
    TCase *loops = tcase_create("vectors");
    tcase_add_loop_test(loops, blocks_are_those_of_the_rfc, 0, VECTORS);
    tcase_add_loop_test(loops, every_byte_counts, 0, 8);
    suite_add_tcase(suite, loops);
    ADD_TESTS(suite, "sequences", seeds_and_streams_are_keys_and_nonces, a_copy_goes_on_alone,
              the_numbers_come_again_after_the_last_block, what_was_never_started_gives_numbers);
    ADD_TESTS(suite, "below", every_result_has_as_many_numbers, so_it_is_for_large_bounds,
              as_many_are_refused_as_it_takes, a_bound_of_one_or_none);
    return run_suite(suite);
}
