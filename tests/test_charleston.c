/* Passes before play: where tiles go, and that none is lost on the way. */
#include "nearhand.h"
#include "pass/charleston.h"
#include "suite.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static nh_list *load(const char *name) {
    char path[4096];
    nh_list *list = NULL;
    snprintf(path, sizeof path, "%s/patterns/%s.json", NH_TEST_ROOT, name);
    ck_assert_int_eq(nh_list_load(path, NULL, &list, NULL), NH_OK);
    return list;
}

static uint64_t test_seed(void) {
    const char *seed = getenv("NEARHAND_SEED");
    return seed != NULL ? strtoull(seed, NULL, 10) : (uint64_t)time(NULL);
}

static void check_conserved(const nh_list *list, const nh_deal *deal, const nh_tiles *hand) {
    nh_tiles sum = deal->wall;
    for (int seat = 0; seat < NH_SEATS; seat++) {
        ck_assert_int_eq(nh_tiles_total(&hand[seat]), nh_tiles_total(&deal->hand[seat]));
        tiles_add(&sum, &hand[seat]);
    }
    for (int kind = 0; kind < NH_KINDS; kind++)
        ck_assert_int_eq(sum.count[kind], nh_list_set(list)->count[kind]);
}

/* As many tiles as `count`, any that may go. */
static nh_tiles random_pass(const nh_list *list, nh_random *random, const nh_tiles *hand,
                            int count) {
    nh_tiles passable = charleston_passable(list, hand);
    nh_tiles pass = {{0}};
    nh_deal_draw(random, &passable, count, &pass);
    return pass;
}

START_TEST(conserves) {
    static const char *const names[] = {"club", "jokers", "traditional"};
    nh_list *list = load(names[_i]);
    uint64_t seed = test_seed();
    nh_random random;
    nh_random_start(&random, seed, 1);
    printf("seed %llu\n", (unsigned long long)seed);
    for (uint64_t number = 1; number <= 300; number++) {
        nh_deal deal;
        nh_tiles hand[NH_SEATS];
        nh_tiles pass[NH_SEATS];
        ck_assert_int_eq(nh_deal_table(list, seed, number, &deal), NH_OK);
        for (int seat = 0; seat < NH_SEATS; seat++)
            hand[seat] = deal.hand[seat];
        for (int step = 0; step < 6; step++) {
            int count = 3;
            for (int seat = 0; seat < NH_SEATS; seat++) {
                nh_tiles passable = charleston_passable(list, &hand[seat]);
                if (nh_tiles_total(&passable) < count)
                    count = nh_tiles_total(&passable);
            }
            for (int seat = 0; seat < NH_SEATS; seat++)
                pass[seat] = random_pass(list, &random, &hand[seat], count);
            charleston_turn(hand, pass, (nh_direction)(step % 3));
            check_conserved(list, &deal, hand);
        }
        pass[1] = random_pass(list, &random, &hand[1], 2);
        pass[3] = random_pass(list, &random, &hand[3], 2);
        charleston_courtesy(hand, 1, &pass[1], &pass[3]);
        check_conserved(list, &deal, hand);
    }
    nh_list_free(list);
}
END_TEST

/* Each seat passes three tiles that no other has. */
START_TEST(directions) {
    static const int sender[3][NH_SEATS] = {
        [NH_RIGHT] = {3, 0, 1, 2}, [NH_ACROSS] = {2, 3, 0, 1}, [NH_LEFT] = {1, 2, 3, 0}};
    nh_tiles hand[NH_SEATS] = {{{0}}};
    nh_tiles pass[NH_SEATS] = {{{0}}};
    for (int seat = 0; seat < NH_SEATS; seat++) {
        hand[seat].count[seat] = 4;
        pass[seat].count[seat] = 3;
    }
    charleston_turn(hand, pass, (nh_direction)_i);
    for (int seat = 0; seat < NH_SEATS; seat++) {
        ck_assert_int_eq(charleston_receiver(sender[_i][seat], (nh_direction)_i), seat);
        ck_assert_int_eq(hand[seat].count[seat], 1);
        ck_assert_int_eq(hand[seat].count[sender[_i][seat]], 3);
        ck_assert_int_eq(nh_tiles_total(&hand[seat]), 4);
    }
}
END_TEST

START_TEST(courtesy) {
    nh_tiles hand[NH_SEATS] = {{{0}}};
    hand[1].count[NH_RED] = 2;
    hand[3].count[NH_GREEN] = 2;
    nh_tiles mine = {{[NH_RED] = 1}};
    nh_tiles theirs = {{[NH_GREEN] = 1}};
    charleston_courtesy(hand, 1, &mine, &theirs);
    ck_assert_int_eq(hand[1].count[NH_RED], 1);
    ck_assert_int_eq(hand[1].count[NH_GREEN], 1);
    ck_assert_int_eq(hand[3].count[NH_RED], 1);
    ck_assert_int_eq(hand[3].count[NH_GREEN], 1);
}
END_TEST

START_TEST(keeps_back) {
    nh_list *list = load("club"); /* which keeps flowers */
    nh_tiles hand = {{[NH_BAM_1] = 2, [NH_FLOWER] = 3, [NH_JOKER] = 1}};
    nh_tiles passable = charleston_passable(list, &hand);
    ck_assert_int_eq(passable.count[NH_BAM_1], 2);
    ck_assert_int_eq(nh_tiles_total(&passable), 2);
    nh_list_free(list);
}
END_TEST

/* Two passed and one of the four elsewhere: only one is surely gone. */
START_TEST(gone) {
    nh_list *list = load("club");
    nh_tiles hand = {{[NH_BAM_1] = 3}};
    nh_tiles passed = {{[NH_BAM_1] = 2, [NH_RED] = 2}};
    nh_tiles left = charleston_gone(list, &hand, &passed);
    ck_assert_int_eq(left.count[NH_BAM_1], 1);
    ck_assert_int_eq(left.count[NH_RED], 2);
    ck_assert_int_eq(nh_tiles_total(&left), 3);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("charleston");
    TCase *cases = tcase_create("passes");
    tcase_add_loop_test(cases, conserves, 0, 3);
    tcase_add_loop_test(cases, directions, 0, 3);
    tcase_add_test(cases, courtesy);
    tcase_add_test(cases, keeps_back);
    tcase_add_test(cases, gone);
    suite_add_tcase(suite, cases);
    return run_suite(suite);
}
