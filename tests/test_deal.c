/* Deals: no tile is lost, every tile is as likely everywhere as any other, and
 * the deals of a seed stay what they are. How even counts are is judged by the
 * chi-square distribution of the GNU Scientific Library, for fixed seeds. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "random_list.h"

#include <gsl/gsl_cdf.h>

static const char usual[] =
    "{'format':1,'title':'Usual','tiles':{'flowers':8,'jokers':8},'patterns':"
    "[{'name':'Sets','groups':[{'set':'any','times':4},{'pair':'any'}]}]}";

/* One suit, 36 tiles; hands of two and of one. */
static const char little[] = "{'format':1,'title':'Little','hand':2,'tiles':{'suits':['bam'],"
                             "'winds':false,'dragons':false},'patterns':"
                             "[{'name':'Pair','groups':[{'pair':'any'}]}]}";

static nh_deal deal_of(const nh_list *list, uint64_t seed, uint64_t number) {
    nh_deal deal;
    ck_assert_int_eq(nh_deal_table(list, seed, number, &deal), NH_OK);
    return deal;
}

static nh_tiles sum_of(const nh_tiles *a, const nh_tiles *b) {
    nh_tiles sum = *a;
    for (int kind = 0; kind < NH_KINDS; kind++)
        sum.count[kind] = (uint8_t)(sum.count[kind] + b->count[kind]);
    return sum;
}

static void expect_same(const nh_tiles *a, const nh_tiles *b) {
    ck_assert_mem_eq(a->count, b->count, sizeof a->count);
}

/* -------------------------------------------------------------- drawing --- */

/* The law of the header, the plain way: a row of tiles, a place, the last tile
 * into the gap. */
static nh_tiles draw_plainly(nh_random *random, nh_tiles *from, int count) {
    int row[NH_KINDS * UINT8_MAX], length = 0;
    nh_tiles drawn = {{0}};
    for (int kind = 0; kind < NH_KINDS; kind++)
        for (int i = 0; i < from->count[kind]; i++)
            row[length++] = kind;
    for (int i = 0; i < count && length > 0; i++) {
        const int place = (int)nh_random_below(random, (uint32_t)length);
        drawn.count[row[place]]++;
        from->count[row[place]]--;
        row[place] = row[--length];
    }
    return drawn;
}

/* Kinds of no tile, of few, of as many as there can be. */
static nh_tiles random_tiles(random_source *source) {
    static const int mosts[] = {1, 5, 9, 17, 256};
    const int most = mosts[random_below(source, 5)];
    nh_tiles tiles = {{0}};
    for (int kind = 0; kind < NH_KINDS; kind++)
        tiles.count[kind] = (uint8_t)random_below(source, most);
    return tiles;
}

START_TEST(draws_follow_their_law) {
    const uint64_t seed = random_seed(1618);
    random_source source = {seed};
    long drawn = 0;
    for (int i = 0; i < 3000; i++) {
        nh_tiles from = random_tiles(&source);
        nh_tiles plain_from = from, out = {{0}}, plain_out = {{0}};
        nh_random random;
        nh_random_start(&random, random_next(&source), random_next(&source));
        nh_random same = random;
        for (int go = 0; go < 3; go++) {
            const int count = random_below(&source, 40) - 2;
            const nh_tiles more = draw_plainly(&same, &plain_from, count);
            plain_out = sum_of(&plain_out, &more);
            nh_deal_draw(&random, &from, count, &out);
            expect_same(&from, &plain_from);
            expect_same(&out, &plain_out);
        }
        ck_assert_uint_eq(nh_random_next(&random), nh_random_next(&same));
        drawn += nh_tiles_total(&out);
    }
    printf("seed %llu, %ld tiles drawn\n", (unsigned long long)seed, drawn);
    ck_assert_int_gt(drawn, 20000);
}
END_TEST

START_TEST(all_are_drawn_where_there_are_fewer) {
    nh_tiles from, out = {{0}}, all;
    memset(from.count, UINT8_MAX, sizeof from.count);
    all = from;
    nh_random random;
    nh_random_start(&random, 1, 1);
    nh_deal_draw(&random, &from, 0, &out);
    nh_deal_draw(&random, &from, -5, &out);
    ck_assert_int_eq(nh_tiles_total(&out), 0);
    nh_deal_draw(&random, &from, 100000, &out);
    ck_assert_int_eq(nh_tiles_total(&from), 0);
    expect_same(&out, &all);
    nh_deal_draw(&random, &from, 1, &out);
    expect_same(&out, &all);
}
END_TEST

/* ---------------------------------------------------------------- deals --- */

static void expect_whole(const nh_list *list, const nh_deal *deal) {
    nh_tiles sum = deal->wall;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const int size = nh_list_hand_size(list) - (seat > 0);
        ck_assert_int_eq(nh_tiles_total(&deal->hand[seat]), size);
        sum = sum_of(&sum, &deal->hand[seat]);
    }
    expect_same(&sum, nh_list_set(list));
}

START_TEST(no_tile_is_lost) {
    const uint64_t seed = random_seed(2718);
    random_source source = {seed};
    printf("seed %llu\n", (unsigned long long)seed);
    for (int i = 0; i < 60; i++) {
        char *json = random_list(&source, 1, NH_HAND_MAX);
        nh_list *list = NULL;
        ck_assert_int_eq(nh_list_read(json, strlen(json), NULL, &list, NULL), NH_OK);
        for (int deals = 0; deals < 200; deals++) {
            const uint64_t of = random_next(&source), number = random_next(&source);
            const nh_deal deal = deal_of(list, of, number);
            expect_whole(list, &deal);
            const nh_deal again = deal_of(list, of, number);
            ck_assert_mem_eq(&deal, &again, sizeof deal);
        }
        nh_list_free(list);
        free(json);
    }
}
END_TEST

/* 29 tiles are dealt out to the last one; 28 are too few. */
START_TEST(a_set_that_is_too_small) {
    nh_list *enough = read_list("{'format':1,'title':'Enough','hand':8,'tiles':{'suits':[],"
                                "'flowers':1},'patterns':[{'name':'P','groups':"
                                "[{'kong':'honour'},{'kong':'wind'}]}]}");
    nh_list *short_by_one = read_list("{'format':1,'title':'Short','hand':8,'tiles':{'suits':[]},"
                                      "'patterns':[{'name':'P','groups':"
                                      "[{'kong':'honour'},{'kong':'wind'}]}]}");
    nh_deal deal = deal_of(enough, 1, 1);
    expect_whole(enough, &deal);
    ck_assert_int_eq(nh_tiles_total(&deal.wall), 0);
    const nh_deal before = deal;
    ck_assert_int_eq(nh_tiles_total(nh_list_set(short_by_one)), 28);
    ck_assert_int_eq(nh_deal_table(short_by_one, 1, 2, &deal), NH_ERROR_ARGUMENT);
    ck_assert_mem_eq(&deal, &before, sizeof deal);
    nh_list_free(enough);
    nh_list_free(short_by_one);
}
END_TEST

/* Common practice, by the sum of the dice. */
START_TEST(the_dice_tell_the_wind) {
    static const nh_wind winds[13] = {
        [5] = NH_WIND_EAST,   [9] = NH_WIND_EAST,  [2] = NH_WIND_SOUTH,  [6] = NH_WIND_SOUTH,
        [10] = NH_WIND_SOUTH, [3] = NH_WIND_WEST,  [7] = NH_WIND_WEST,   [11] = NH_WIND_WEST,
        [4] = NH_WIND_NORTH,  [8] = NH_WIND_NORTH, [12] = NH_WIND_NORTH,
    };
    nh_list *list = read_list(little);
    bool thrown[7][7] = {{false}};
    for (uint64_t number = 0; number < 1000; number++) {
        const nh_deal deal = deal_of(list, 3, number);
        for (int die = 0; die < 2; die++)
            ck_assert(deal.dice[die] >= 1 && deal.dice[die] <= 6);
        ck_assert_int_eq(deal.prevailing, winds[deal.dice[0] + deal.dice[1]]);
        thrown[deal.dice[0]][deal.dice[1]] = true;
    }
    for (int one = 1; one <= 6; one++)
        for (int other = 1; other <= 6; other++)
            ck_assert(thrown[one][other]);
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------------------- evenness --- */

#define CELLS_MAX 1296

/* How often things came about, and how often that is expected. */
struct tally {
    int cells;
    double seen[CELLS_MAX], expected[CELLS_MAX];
};

/* Fails where chi-square is beyond its 1 in 10,000 quantile at either end: too
 * uneven, or too even to be random. `scale` is for counts that vary less than
 * those of independent tries. */
static void expect_even(const struct tally *tally, double scale, const char *what) {
    double square = 0;
    for (int i = 0; i < tally->cells; i++) {
        const double off = tally->seen[i] - tally->expected[i];
        square += off * off / tally->expected[i];
    }
    const double below = gsl_cdf_chisq_P(square * scale, tally->cells - 1);
    printf("%s: chi-square %.1f of %d degrees, quantile %.4f\n", what, square * scale,
           tally->cells - 1, below);
    ck_assert_msg(below > 1e-4 && below < 1 - 1e-4, "%s: quantile %g", what, below);
}

enum { EVEN_DEALS = 40000, POSITIONS = NH_SEATS + 1 };

/* n of N tiles without replacement: the covariance of the counts is that of n
 * tiles with replacement times (N - n) / (N - 1). */
static void expect_kinds(const nh_list *list, const nh_tiles *first, const double *counts,
                         const char *name) {
    const nh_tiles *set = nh_list_set(list);
    const double all = nh_tiles_total(set), some = nh_tiles_total(first);
    struct tally tally = {0};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (set->count[kind] == 0)
            continue;
        tally.seen[tally.cells] = counts[kind];
        tally.expected[tally.cells++] = EVEN_DEALS * some * set->count[kind] / all;
    }
    expect_even(&tally, (all - 1) / (all - some), name);
}

START_TEST(every_position_gets_every_kind_alike) {
    static const char *const names[POSITIONS] = {"dealer", "south", "west", "north", "wall"};
    nh_list *list = read_list(usual);
    static double counts[POSITIONS][NH_KINDS];
    nh_deal deal;
    for (uint64_t number = 0; number < EVEN_DEALS; number++) {
        deal = deal_of(list, 20, number);
        for (int place = 0; place < POSITIONS; place++)
            for (int kind = 0; kind < NH_KINDS; kind++)
                counts[place][kind] +=
                    (place < NH_SEATS ? deal.hand[place] : deal.wall).count[kind];
    }
    for (int place = 0; place < POSITIONS; place++)
        expect_kinds(list, place < NH_SEATS ? &deal.hand[place] : &deal.wall, counts[place],
                     names[place]);
    nh_list_free(list);
}
END_TEST

START_TEST(dice_and_winds_are_even) {
    nh_list *list = read_list(little);
    struct tally pairs = {.cells = 36}, sums = {.cells = 11}, winds = {.cells = 4};
    for (int one = 0; one < 6; one++)
        for (int other = 0; other < 6; other++) {
            const double expected = EVEN_DEALS / 36.0;
            const int sum = one + other + 2;
            pairs.expected[6 * one + other] += expected;
            sums.expected[sum - 2] += expected;
            winds.expected[(sum - 1) % 4] += expected;
        }
    for (uint64_t number = 0; number < EVEN_DEALS; number++) {
        const nh_deal deal = deal_of(list, 21, number);
        pairs.seen[6 * (deal.dice[0] - 1) + deal.dice[1] - 1]++;
        sums.seen[deal.dice[0] + deal.dice[1] - 2]++;
        winds.seen[deal.prevailing - NH_WIND_EAST]++;
    }
    expect_even(&pairs, 1, "dice");
    expect_even(&sums, 1, "sums of dice");
    expect_even(&winds, 1, "prevailing winds");
    nh_list_free(list);
}
END_TEST

static int only_tile(const nh_tiles *hand) {
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (hand->count[kind] > 0)
            return kind;
    return 0;
}

/* What south, west, north and the dice have to do with one another in a deal,
 * and south's tiles of deals, and of seeds, that follow one another: nothing,
 * but that a tile is dealt once. */
START_TEST(what_is_dealt_together_is_even) {
    nh_list *list = read_list(little);
    struct tally hands = {.cells = 81}, dice = {.cells = 54}, deals = {.cells = 81},
                 seeds = {.cells = 81};
    for (int i = 0; i < 81; i++) {
        hands.expected[i] = EVEN_DEALS * 4.0 * (i / 9 == i % 9 ? 3 : 4) / (36 * 35);
        deals.expected[i] = seeds.expected[i] = EVEN_DEALS / 81.0;
    }
    for (int i = 0; i < 54; i++)
        dice.expected[i] = EVEN_DEALS / 54.0;
    const nh_deal first = deal_of(list, 22, 0);
    int before = only_tile(&first.hand[1]);
    for (uint64_t number = 1; number <= EVEN_DEALS; number++) {
        const nh_deal deal = deal_of(list, 22, number), other = deal_of(list, 23, number);
        const int south = only_tile(&deal.hand[1]), north = only_tile(&deal.hand[3]);
        hands.seen[9 * south + only_tile(&deal.hand[2])]++;
        dice.seen[6 * north + deal.dice[0] - 1]++;
        deals.seen[9 * before + south]++;
        seeds.seen[9 * south + only_tile(&other.hand[1])]++;
        before = south;
    }
    expect_even(&hands, 1, "south and west");
    expect_even(&dice, 1, "north and a die");
    expect_even(&deals, 1, "south in two deals");
    expect_even(&seeds, 1, "south of two seeds");
    nh_list_free(list);
}
END_TEST

/* --------------------------------------------------------------- for good --- */

/* Deals that must never change. tests/cli/deals.py works them out by itself. */
static const struct {
    uint64_t seed, number;
    const char *hand[NH_SEATS];
    uint8_t dice[2];
    nh_wind prevailing;
} golden[] = {
    {0,
     0,
     {"4689B 9C 2489D SW WhWh J", "29B 167799C 256D E G", "2567B 2477C 4D E R Wh J",
      "23345B 4566C 6D E F J"},
     {3, 2},
     NH_WIND_EAST},
    {1,
     1,
     {"1789B 1578C 9D E RR F J", "2238B 288C 23D N G JJ", "569B 4C 5779D ESWW J",
      "19B 1449C 345D ES G F"},
     {4, 3},
     NH_WIND_WEST},
    {20,
     2,
     {"469B 667C 369D ES G F J", "9B 15C 3566D S R Wh FF J", "689B 799C 248D EN R G",
      "16B 1124588C 79D SW"},
     {5, 4},
     NH_WIND_EAST},
    {UINT64_MAX,
     UINT64_MAX,
     {"5678B 79C 44D SWN Wh JJ", "12667B 17C 789D G FF", "23489B 55678D W G F",
      "458B 24569C 29D SN F"},
     {5, 6},
     NH_WIND_WEST},
};

START_TEST(deals_stay_what_they_are) {
    nh_list *list = read_list(usual);
    const nh_deal deal = deal_of(list, golden[_i].seed, golden[_i].number);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        char text[NH_TILES_TEXT_SIZE];
        nh_tiles_format(&deal.hand[seat], NH_STYLE_LETTERS, text, sizeof text);
        ck_assert_str_eq(text, golden[_i].hand[seat]);
    }
    ck_assert_mem_eq(deal.dice, golden[_i].dice, 2);
    ck_assert_int_eq(deal.prevailing, golden[_i].prevailing);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("deal");
    ADD_TESTS(suite, "draws", draws_follow_their_law, all_are_drawn_where_there_are_fewer);
    ADD_TESTS(suite, "deals", no_tile_is_lost, a_set_that_is_too_small, the_dice_tell_the_wind);
    ADD_TESTS(suite, "evenness", every_position_gets_every_kind_alike, dice_and_winds_are_even,
              what_is_dealt_together_is_even);
    TCase *loops = tcase_create("for good");
    tcase_add_loop_test(loops, deals_stay_what_they_are, 0, (int)(sizeof golden / sizeof *golden));
    suite_add_tcase(suite, loops);
    return run_suite(suite);
}
