/* Every kernel that this processor runs, against the portable one, on random
 * words and rows of every size around the width of a register. */
#include "../lib/compile/share_bits.h"
#include "../lib/distance/kernel.h"
#include "suite.h"

#include <check.h>
#include <inttypes.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* splitmix64, by Sebastiano Vigna, public domain; written from its definition. */
static uint64_t state;

static uint64_t random_word(void) {
    uint64_t z = state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ z >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ z >> 27) * UINT64_C(0x94D049BB133111EB);
    return z ^ z >> 31;
}

/* A word of which each bit is set once in 2^`times`. */
static uint64_t sparse_word(int times) {
    uint64_t word = random_word();
    for (int i = 1; i < times; i++)
        word &= random_word();
    return word;
}

/* Counts in unary, written the plain way: see share_bits.h. */
static uint64_t plain_bits(const uint8_t count[PART_KINDS], bool honours) {
    uint64_t bits = 0;
    for (int slot = 0; slot < (honours ? 8 : 9); slot++) {
        int most = honours && slot == 7 ? 8 : 4;
        for (int tile = 0; tile < count[slot] && tile < most; tile++)
            bits |= UINT64_C(1) << (4 * slot + tile);
    }
    return bits;
}

START_TEST(test_bits) {
    for (int round = 0; round < 100000; round++) {
        uint8_t count[PART_KINDS];
        uint8_t below = round % 2 == 0 ? 6 : 128;
        for (int slot = 0; slot < PART_KINDS; slot++)
            count[slot] = (uint8_t)(random_word() % below);
        ck_assert_uint_eq(share_bits(count, false), plain_bits(count, false));
        ck_assert_uint_eq(share_bits(count, true), plain_bits(count, true));
    }
}
END_TEST

#define WORDS 300
#define WORD_BITS ((UINT64_C(1) << 36) - 1)

START_TEST(test_words) {
    const struct kernels *plain = kernels_at(0);
    uint64_t bits[WORDS], hard[WORDS];
    uint32_t found[WORDS + 1], expected[WORDS + 1];
    for (int round = 0; round < 2000; round++) {
        size_t count = (size_t)(random_word() % (WORDS + 1));
        for (size_t i = 0; i < count; i++) {
            bits[i] = sparse_word(3) & WORD_BITS;
            hard[i] = bits[i] & random_word();
        }
        uint64_t have = random_word() & WORD_BITS;
        uint64_t dead = round % 4 == 0 ? WORD_BITS : sparse_word(3);
        int most = plain->most_common(bits, hard, count, have, dead);
        for (int k = 1; kernels_at(k) != NULL; k++)
            ck_assert_int_eq(kernels_at(k)->most_common(bits, hard, count, have, dead), most);
        uint8_t lacking[KERNEL_JOKERS + 1], own_lacking[KERNEL_JOKERS + 1];
        plain->least_lacking(bits, hard, count, have, dead, 30, lacking);
        ck_assert_int_eq(lacking[0], most < 0 ? FAR : 30 - most);
        for (int k = 1; kernels_at(k) != NULL; k++) {
            kernels_at(k)->least_lacking(bits, hard, count, have, dead, 30, own_lacking);
            ck_assert_int_eq(memcmp(lacking, own_lacking, sizeof lacking), 0);
        }
        unsigned jokers = (unsigned)(random_word() % (KERNEL_JOKERS + 1));
        unsigned farthest = lacking[jokers] + (unsigned)(random_word() % 3);
        size_t near =
            plain->find_lacking(bits, hard, count, have, dead, 30, jokers, farthest, expected);
        ck_assert_int_eq(near > 0, most >= 0); /* there is one at the least distance */
        ck_assert_uint_eq(most < 0 || lacking[jokers] == 0
                              ? 0
                              : plain->find_lacking(bits, hard, count, have, dead, 30, jokers,
                                                    lacking[jokers] - 1u, found),
                          0); /* and none below */
        for (int k = 1; kernels_at(k) != NULL; k++) {
            size_t own = kernels_at(k)->find_lacking(bits, hard, count, have, dead, 30, jokers,
                                                     farthest, found);
            ck_assert_uint_eq(own, near);
            ck_assert_int_eq(memcmp(found, expected, near * sizeof *found), 0);
        }
        int common = most > 0 ? most - (int)(random_word() % 2) : 0;
        size_t kept = plain->find_common(bits, hard, count, have, dead, common, expected);
        for (int k = 1; kernels_at(k) != NULL; k++) {
            size_t own = kernels_at(k)->find_common(bits, hard, count, have, dead, common, found);
            ck_assert_uint_eq(own, kept);
            ck_assert_int_eq(memcmp(found, expected, kept * sizeof *found), 0);
        }
    }
}
END_TEST

/* A word of so many bits. */
static uint64_t word_of(unsigned size) {
    uint64_t word = 0;
    while (bit_count(word) < size)
        word |= UINT64_C(1) << random_word() % 36;
    return word;
}

/* Words of one size, as the shares of a family are: each kernel finds those of
 * which kernel.h tells, one by one. */
START_TEST(test_lacking) {
    uint64_t bits[WORDS], hard[WORDS];
    uint32_t found[WORDS + 1];
    for (int round = 0; round < 200; round++) {
        size_t count = (size_t)(random_word() % (WORDS + 1));
        unsigned size = (unsigned)(random_word() % 9), jokers = (unsigned)(random_word() % 4);
        uint64_t have = random_word() & WORD_BITS, dead = sparse_word(4);
        for (size_t i = 0; i < count; i++) {
            bits[i] = word_of(size);
            hard[i] = bits[i] & random_word();
        }
        for (unsigned farthest = 0; farthest <= size; farthest++)
            for (int k = 0; kernels_at(k) != NULL; k++) {
                size_t own = kernels_at(k)->find_lacking(bits, hard, count, have, dead, size,
                                                         jokers, farthest, found);
                size_t at = 0;
                for (uint32_t i = 0; i < count; i++) {
                    unsigned missing = bit_count(bits[i] & ~have);
                    unsigned closed = bit_count(hard[i] & ~have);
                    if ((hard[i] & dead) == 0 && closed <= farthest && missing <= farthest + jokers)
                        ck_assert(at < own && found[at++] == i);
                }
                ck_assert_uint_eq(at, own);
            }
    }
}
END_TEST

#define FAMILIES 700 /* three pages of 256 */
#define PRODUCTS 640

struct products {
    uint16_t together[PRODUCTS][PARTS];
    uint8_t low[PARTS][PRODUCTS], high[PARTS][PRODUCTS];
    struct lanes lanes;
};

/* `count` random products, the last one repeated up to a whole register. */
static void make_products(struct products *products, size_t count, unsigned families) {
    products->lanes.together = (const uint16_t(*)[PARTS])products->together;
    for (int part = 0; part < PARTS; part++) {
        products->lanes.low[part] = products->low[part];
        products->lanes.high[part] = products->high[part];
        for (size_t i = 0; i < (count + LANES - 1) / LANES * LANES; i++) {
            uint16_t family = products->together[count - 1][part];
            if (i < count)
                family = (uint16_t)(random_word() % families);
            products->together[i][part] = family;
            products->low[part][i] = (uint8_t)family;
            products->high[part][i] = (uint8_t)(family >> 8);
        }
    }
}

/* A distance that a row may hold: no more jokers help than tiles are lacking,
 * and FAR stays FAR. */
static uint8_t random_near(void) {
    unsigned away = (unsigned)(random_word() % (NH_TARGET_MAX + 1));
    if (random_word() % 8 == 0)
        return FAR;
    return (uint8_t)(away < KERNEL_JOKERS ? away : away | (random_word() % 8) << 5);
}

START_TEST(test_products) {
    const struct kernels *plain = kernels_at(0);
    struct near_rows rows;
    static struct products products;
    static uint8_t memory[PARTS][704 + 256];
    rows.many = false;
    for (int round = 0; round < 2000; round++) {
        unsigned families = 1 + (unsigned)(random_word() % FAMILIES);
        size_t count = 1 + (size_t)(random_word() % (PRODUCTS - LANES));
        make_products(&products, count, families);
        for (int part = 0; part < PARTS; part++) {
            rows.row[part] = memory[part];
            rows.pages[part] = (families + 255) / 256;
            rows.stride[part] = (families + 15) / 16 * 16;
            for (size_t i = 0; i < sizeof memory[part]; i++)
                memory[part][i] = random_near();
        }
        for (unsigned jokers = 0; jokers <= KERNEL_JOKERS; jokers++) {
            unsigned away = plain->least_away(&products.lanes, 0, count, &rows, jokers);
            away = away < FAR ? away : FAR;
            uint32_t expected[PRODUCTS], found[PRODUCTS];
            size_t kept =
                plain->find_away(&products.lanes, 0, count, &rows, jokers, away, expected);
            ck_assert(kept > 0 || away == FAR);
            for (int k = 1; kernels_at(k) != NULL; k++) {
                size_t own_kept =
                    kernels_at(k)->find_away(&products.lanes, 0, count, &rows, jokers, away, found);
                ck_assert_uint_eq(own_kept, kept);
                ck_assert_int_eq(memcmp(found, expected, kept * sizeof *found), 0);
                unsigned own = kernels_at(k)->least_away(&products.lanes, 0, count, &rows, jokers);
                ck_assert_uint_eq(own < FAR ? own : FAR, away);
            }
            for (int k = 0; kernels_at(k) != NULL && away < FAR && round % 16 == 0; k++) {
                /* those that are one farther, one by one */
                size_t at = 0, farther = kernels_at(k)->find_away(&products.lanes, 0, count, &rows,
                                                                  jokers, away + 1, found);
                for (uint32_t i = 0; i < count; i++)
                    if (away_of_product(products.together[i], &rows, jokers) == away + 1)
                        ck_assert(at < farther && found[at++] == i);
                ck_assert_uint_eq(at, farther);
            }
        }
    }
}
END_TEST

/* The least distance over all ways to share jokers out to the parts from `part` on. */
static unsigned least_of_ways(const uint16_t family[PARTS], const struct near_rows *rows, int part,
                              unsigned jokers) {
    if (part == PARTS)
        return 0;
    unsigned least = UINT_MAX;
    for (unsigned here = 0; here <= jokers; here++) {
        unsigned away = near_value(rows, part, family[part], here) +
                        least_of_ways(family, rows, part + 1, jokers - here);
        least = away < least ? away : least;
    }
    return least;
}

START_TEST(test_sharing) {
    uint8_t memory[PARTS];
    const uint16_t family[PARTS] = {0};
    struct near_rows rows = {.many = false};
    for (int round = 0; round < 20000; round++) {
        for (int part = 0; part < PARTS; part++) {
            memory[part] = random_near();
            rows.row[part] = &memory[part];
        }
        for (unsigned jokers = 0; jokers <= KERNEL_JOKERS; jokers++)
            ck_assert_uint_eq(away_of_product(family, &rows, jokers),
                              least_of_ways(family, &rows, 0, jokers));
        ck_assert_uint_eq(away_without_jokers(family, &rows), least_of_ways(family, &rows, 0, 0));
    }
}
END_TEST

int main(void) {
    const char *seed = getenv("NEARHAND_SEED");
    state = seed != NULL ? strtoull(seed, NULL, 10) : 20261125;
    printf("seed %" PRIu64 "; kernels:", state);
    for (int k = 0; kernels_at(k) != NULL; k++)
        printf(" %s", kernels_at(k)->name);
    printf("\n");
    Suite *suite = suite_create("kernel");
    TCase *words = tcase_create("kernels");
    tcase_set_timeout(words, 120);
    tcase_add_test(words, test_bits);
    tcase_add_test(words, test_words);
    tcase_add_test(words, test_lacking);
    tcase_add_test(words, test_products);
    tcase_add_test(words, test_sharing);
    suite_add_tcase(suite, words);
    return run_suite(suite);
}
