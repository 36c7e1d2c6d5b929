/* How many draws are in sets, and in several: every kernel that this processor runs against
 * looking at each draw, with random sets and random unseen tiles. */
#include "../lib/pass/draw_count.h"
#include "random_list.h"
#include "suite.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define SETS 3
#define ROUNDS 150

static random_source source;

/* A word of some of `kinds`, one in 2^`times` of them. */
static uint64_t some_of(uint64_t kinds, int times) {
    for (int i = 0; i < times; i++)
        kinds &= random_next(&source);
    return kinds;
}

/* All kinds of the set but jokers, from x on. */
static uint64_t kinds_from(int x) {
    return ((UINT64_C(1) << NH_JOKER) - 1u) & ~below_kind(x);
}

static void pick_unseen(struct unseen *unseen) {
    uint8_t count[NH_KINDS];
    const bool few = random_below(&source, 3) == 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        const int most = kind == NH_FLOWER ? 8 : 4;
        const int tiles = random_below(&source, most + 1);
        count[kind] = (uint8_t)(few && random_below(&source, 4) > 0 ? 0 : tiles);
    }
    unseen_set(unseen, count);
}

/* Tables of a part, of which each row has some slots from its own on. */
static void pick_gains(struct gains *gains, int part, int times) {
    const unsigned slots = part == PART_HONOUR ? 8 : PART_KINDS;
    memset(gains, 0, sizeof *gains);
    gains->levels = 7;
    for (unsigned x = 0; x < slots; x++) {
        const uint64_t from = ((1u << slots) - 1u) & ~((1u << x) - 1u);
        for (int level = 0; level < NH_PASS_MAX - 1; level++) {
            gains->pair[level].row[x] = (uint16_t)some_of(from, times);
            gains->pair_rows[level] |= (uint16_t)((gains->pair[level].row[x] != 0) << x);
        }
        for (unsigned y = x; y < slots; y++)
            for (int level = 0; level < NH_PASS_MAX; level++)
                gains->triple[level].row[triple_row((int)x, (int)y)] =
                    (uint16_t)some_of(from & ~((1u << y) - 1u), times - 1);
    }
}

/* What a set has by the words that it is given by. */
struct plain_set {
    uint64_t single, pair[NH_KINDS], triple[NH_KINDS][NH_KINDS];
};

static void add_tables(struct draw_set *set, struct plain_set *plain, int part, int times,
                       unsigned most) {
    struct gains gains;
    const unsigned gain = 1 + (unsigned)random_below(&source, 3);
    const int shift = part * PART_KINDS;
    pick_gains(&gains, part, times);
    draws_add_within(set, part, &gains, gain, most);
    for (int x = 0; x < PART_KINDS; x++) {
        if (gain < 3)
            plain->pair[shift + x] |= (uint64_t)gains.pair[2 - gain].row[x] << shift;
        for (int y = x; y < PART_KINDS; y++)
            plain->triple[shift + x][shift + y] |=
                (uint64_t)gains.triple[3 - gain].row[triple_row(x, y)] << shift;
    }
}

/* Draws with one tile of each of three parts. */
static void add_parts(struct draw_set *set, struct plain_set *plain, uint64_t kinds) {
    draws_add_three_parts(set, kinds);
    for (int x = 0; x < NH_KINDS; x++)
        for (int y = x + 1; y < NH_KINDS; y++)
            for (int z = y + 1; z < NH_KINDS; z++) {
                const bool apart =
                    x / PART_KINDS < y / PART_KINDS && y / PART_KINDS < z / PART_KINDS;
                const uint64_t all = UINT64_C(1) << x | UINT64_C(1) << y | UINT64_C(1) << z;
                if (apart && (kinds & all) == all)
                    plain->triple[x][y] |= UINT64_C(1) << z;
            }
}

/* A set of draws of at most so many tiles, 2 or 3; of 2, what an earlier set had of 3 may
 * still be there. */
static void pick_set(struct draw_set *set, struct plain_set *plain, unsigned most) {
    const int times = 2 + random_below(&source, 6);
    memset(plain, 0, sizeof *plain);
    draws_clear(set, most);
    plain->single = some_of(kinds_from(0), times);
    draws_add_single(set, plain->single);
    for (int x = 0; x < NH_KINDS; x++)
        set->pair[x] = plain->pair[x] = some_of(kinds_from(x), times);
    for (int part = 0; part < PARTS; part++)
        add_tables(set, plain, part, times, most);
    if (most == 3)
        add_parts(set, plain, some_of(kinds_from(0), 1));
    draws_end(set, most);
}

static bool is_single(const struct plain_set *plain, int x) {
    return (plain->single >> x & 1u) != 0;
}

static bool has_pair(const struct plain_set *plain, int x, int y) {
    return is_single(plain, x) || is_single(plain, y) || (plain->pair[x] >> y & 1u) != 0;
}

static bool has_triple(const struct plain_set *plain, int x, int y, int z) {
    return has_pair(plain, x, y) || has_pair(plain, x, z) || has_pair(plain, y, z) ||
           (plain->triple[x][y] >> z & 1u) != 0;
}

/* Ways to draw x <= y <= z. */
static uint64_t plain_ways(const struct unseen *unseen, int x, int y, int z) {
    nh_tiles draw = {{0}};
    uint64_t ways = 1;
    draw.count[x]++;
    draw.count[y]++;
    draw.count[z]++;
    for (int kind = 0; kind < NH_KINDS; kind++)
        ways *= draws_of(unseen->count[kind], draw.count[kind]);
    return ways;
}

/* How many draws three sets have in common, by the first tile and the part of the last. */
static uint64_t plain_common(const struct plain_set *const plain[SETS], const struct unseen *unseen,
                             uint64_t number[NH_KINDS][PARTS]) {
    uint64_t sum = 0;
    memset(number, 0, NH_KINDS * sizeof *number);
    for (int x = 0; x < NH_KINDS; x++)
        for (int y = x; y < NH_KINDS; y++)
            for (int z = y; z < NH_KINDS; z++) {
                bool all = true;
                for (int i = 0; i < SETS; i++)
                    all &= has_triple(plain[i], x, y, z);
                const uint64_t ways = all ? plain_ways(unseen, x, y, z) : 0;
                number[x][z / PART_KINDS] += ways;
                sum += ways;
            }
    return sum;
}

static uint64_t plain_few(const struct plain_set *plain, const struct unseen *unseen,
                          unsigned tiles) {
    uint64_t sum = 0;
    for (int x = 0; x < NH_KINDS; x++) {
        if (tiles == 1)
            sum += is_single(plain, x) ? unseen->count[x] : 0;
        for (int y = x; tiles == 2 && y < NH_KINDS; y++)
            if (has_pair(plain, x, y))
                sum += x == y ? draws_of(unseen->count[x], 2)
                              : (uint64_t)unseen->count[x] * unseen->count[y];
    }
    return sum;
}

static void check_rows(const struct draw_list *list, const struct plain_set *plain,
                       const struct unseen *unseen) {
    for (int x = 0; x < NH_KINDS; x++)
        for (int y = x; y < NH_KINDS; y++)
            for (int z = y; z < NH_KINDS; z++) {
                if (unseen->count[x] == 0 || unseen->count[y] == 0 || unseen->count[z] == 0)
                    continue;
                const bool listed =
                    (list->listed[x] >> y & 1u) != 0 && (list->row[pair_row(x, y)] >> z & 1u) != 0;
                ck_assert_msg(listed == has_triple(plain, x, y, z), "%d %d %d", x, y, z);
            }
}

static void check_list(const struct draw_set *set, const struct plain_set *plain,
                       const struct unseen *unseen, struct draw_list *list) {
    const struct plain_set *const alone[SETS] = {plain, plain, plain};
    uint64_t number[NH_KINDS][PARTS];
    const uint64_t all = plain_common(alone, unseen, number);
    memset(list, 0xA5, sizeof *list); /* of any earlier hand */
    ck_assert_uint_eq(draws_count(set, unseen, 1), plain_few(plain, unseen, 1));
    ck_assert_uint_eq(draws_count(set, unseen, 2), plain_few(plain, unseen, 2));
    ck_assert_uint_eq(draws_count(set, unseen, 3), all);
    ck_assert_uint_eq(draws_list(set, unseen, 3, list), all);
    check_rows(list, plain, unseen);
    for (int x = 0; x < NH_KINDS; x++)
        for (int part = 0; part < PARTS; part++)
            ck_assert_uint_eq(list->number[x][part], number[x][part]);
}

START_TEST(test_triples) {
    static struct draw_set set[SETS];
    static struct plain_set plain[SETS];
    static struct draw_list list[SETS];
    const struct plain_set *const plains[SETS] = {&plain[0], &plain[1], &plain[2]};
    const struct draw_list *const lists[SETS] = {&list[0], &list[1], &list[2]};
    struct unseen unseen;
    long between = 0;
    for (int round = 0; round < random_tries(ROUNDS); round++) {
        uint64_t number[NH_KINDS][PARTS];
        pick_unseen(&unseen);
        for (int i = 0; i < SETS; i++)
            pick_set(&set[i], &plain[i], 3);
        const struct plain_set *const two[SETS] = {&plain[0], &plain[1], &plain[1]};
        const uint64_t of_two = plain_common(two, &unseen, number);
        const uint64_t common = plain_common(plains, &unseen, number);
        const uint64_t least = common + (uint64_t)random_below(&source, 1000);
        for (int k = 0; draw_kernels_at(k) != NULL; k++) {
            unseen.kernels = draw_kernels_at(k);
            for (int i = 0; i < SETS; i++)
                check_list(&set[i], &plain[i], &unseen, &list[i]);
            ck_assert_uint_eq(draws_in_common(lists, 2, &unseen, 3, 0), of_two);
            ck_assert_uint_eq(draws_in_common(lists, SETS, &unseen, 3, 0), common);
            const uint64_t bound = draws_in_common(lists, SETS, &unseen, 3, least + 1);
            ck_assert(bound >= common && bound <= least);
            ck_assert_uint_ge(draws_in_common_at_most(lists, SETS), bound);
        }
        between += common > 0 && common < draws_of(unseen.total, 3);
    }
    ck_assert_int_gt(between, 0);
}
END_TEST

/* Of two tiles: rows, and what three lists have in common. */
START_TEST(test_pairs) {
    static struct draw_set set[SETS];
    static struct plain_set plain[SETS];
    static struct draw_list list[SETS];
    const struct draw_list *const lists[SETS] = {&list[0], &list[1], &list[2]};
    struct unseen unseen;
    for (int round = 0; round < random_tries(ROUNDS); round++) {
        uint64_t common = 0;
        pick_unseen(&unseen);
        for (int i = 0; i < SETS; i++) {
            const unsigned most = 2 + (unsigned)random_below(&source, 2);
            pick_set(&set[i], &plain[i], most);
            ck_assert_uint_eq(draws_count(&set[i], &unseen, 2), plain_few(&plain[i], &unseen, 2));
            ck_assert_uint_eq(draws_list(&set[i], &unseen, 2, &list[i]),
                              plain_few(&plain[i], &unseen, 2));
        }
        for (int x = 0; x < NH_KINDS; x++)
            for (int y = x; y < NH_KINDS; y++)
                if (has_pair(&plain[0], x, y) && has_pair(&plain[1], x, y) &&
                    has_pair(&plain[2], x, y))
                    common += x == y ? draws_of(unseen.count[x], 2)
                                     : (uint64_t)unseen.count[x] * unseen.count[y];
        ck_assert_uint_eq(draws_in_common(lists, SETS, &unseen, 2, 0), common);
    }
}
END_TEST

int main(void) {
    const uint64_t seed = random_seed(20261126);
    source.state = seed;
    printf("seed %" PRIu64 "; kernels:", seed);
    for (int k = 0; draw_kernels_at(k) != NULL; k++)
        printf(" %s", draw_kernels_at(k)->name);
    printf("\n");
    Suite *suite = suite_create("draw_count");
    TCase *tests = tcase_create("counts");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, test_triples);
    tcase_add_test(tests, test_pairs);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
