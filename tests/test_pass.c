/*
 * Passes: expectations against listing every draw, by the plain reference and
 * by distances; their laws, their order, and a simulation.
 */
#include "nearhand.h"
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    LISTS = 60,
    PATTERNS = 3,         /* in a random list */
    HANDS = 6,            /* for each list */
    PLAIN_MOST = 1500000, /* draws times sums that the reference goes through */
    LISTED_MOST = 150000, /* draws of all passes that distances go through */
    DEALS = 4,            /* of a shipped list */
    SIMULATED = 20000     /* draws of the simulation */
};

/* What was compared, printed at the end. */
static struct { long plain, listed, passes, none, jokers, short_of_jokers; } done;

/* A hand and what is asked of it. */
typedef struct question {
    trial at;
    unsigned count;
    uint8_t chosen[PATTERNS_MOST];
    nh_passing passing;
    nh_choice choices[NH_PASSES_MAX];
} question;

/* ------------------------------------------------------- the plain way --- */

/* The hand after a pass. */
typedef struct remaining {
    const question *asked;
    nh_tiles hand, seen, unseen;
    int (*away)(const struct remaining *rest);
} remaining;

/* Sums over all draws: of the ways, of the distances, of the nearer ones. */
typedef struct draw_sums {
    uint64_t ways, expected, nearer;
    bool none;
} draw_sums;

static int away_by_reference(const remaining *rest) {
    const trial *at = &rest->asked->at;
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < at->patterns; i++) {
        if (rest->asked->chosen[i] == 0) {
            continue;
        }
        const int away = reference_away(at->plain, &at->targets[i], &rest->hand, &rest->seen);
        least = away < least ? away : least;
    }
    return least;
}

static int away_by_distances(const remaining *rest) {
    const trial *at = &rest->asked->at;
    uint8_t away[PATTERNS_MOST];
    nh_situation situation = at->situation;
    situation.seen = rest->seen;
    MUST(at, nh_distances(at->list, at->workspace, &rest->hand, &situation, away, NULL) == NH_OK);
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < at->patterns; i++) {
        if (rest->asked->chosen[i] != 0 && away[i] < least) {
            least = away[i];
        }
    }
    return least;
}

static uint64_t choose(unsigned n, unsigned k) {
    uint64_t ways = 1;
    for (unsigned i = 0; i < k; i++) {
        ways = ways * (n - i) / (i + 1);
    }
    return ways;
}

/* Goes through all draws of `left` more tiles of the kinds from `kind` on. */
static void list_draws(remaining *rest, int kind, unsigned left, uint64_t ways, int before,
                       draw_sums *sums) {
    if (left == 0) {
        const int away = rest->away(rest);
        sums->ways += ways;
        sums->none |= away == NH_AWAY_NONE;
        sums->expected += ways * (uint64_t)away;
        sums->nearer += away < before ? ways : 0;
        return;
    }
    if (kind == NH_KINDS) {
        return;
    }
    const unsigned copies = rest->unseen.count[kind];
    for (unsigned drawn = 0; drawn <= left && drawn <= copies; drawn++) {
        rest->hand.count[kind] = (uint8_t)(rest->hand.count[kind] + drawn);
        list_draws(rest, kind + 1, left - drawn, ways * choose(copies, drawn), before, sums);
        rest->hand.count[kind] = (uint8_t)(rest->hand.count[kind] - drawn);
    }
}

static remaining rest_of(const question *asked, const nh_tiles *pass,
                         int (*away)(const remaining *)) {
    const trial *at = &asked->at;
    remaining rest = {.asked = asked, .hand = at->hand, .seen = at->situation.seen, .away = away};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        rest.unseen.count[kind] = (uint8_t)(nh_list_set(at->list)->count[kind] -
                                            rest.hand.count[kind] - rest.seen.count[kind]);
        rest.hand.count[kind] = (uint8_t)(rest.hand.count[kind] - pass->count[kind]);
        rest.seen.count[kind] = (uint8_t)(rest.seen.count[kind] + pass->count[kind]);
    }
    return rest;
}

static const char *describe(const question *asked, const nh_choice *choice) {
    static char text[21000];
    char pass[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&choice->pass, NH_STYLE_LETTERS, pass, sizeof pass);
    snprintf(text, sizeof text, "pass of %u \"%s\": %s", asked->count, pass, explain(&asked->at));
    return text;
}

static void check_choice(const question *asked, const nh_choice *choice,
                         int (*away)(const remaining *)) {
    const nh_tiles nothing = {{0}};
    remaining before = rest_of(asked, &nothing, away);
    remaining after = rest_of(asked, &choice->pass, away);
    const int nearest = away(&before);
    draw_sums sums = {0};
    MUST(&asked->at, asked->passing.away == nearest);
    if (choice->away != away(&after)) {
        ck_abort_msg("%d away after the %s", choice->away, describe(asked, choice));
    }
    list_draws(&after, 0, asked->count, 1, nearest, &sums);
    MUST(&asked->at, sums.ways == asked->passing.draws);
    if (sums.none) {
        MUST(&asked->at, choice->expected == UINT64_MAX && choice->nearer == 0);
        done.none++;
        return;
    }
    if (sums.expected != choice->expected || sums.nearer != choice->nearer) {
        ck_abort_msg("expected %llu, nearer %llu, but by listing %llu and %llu of %llu: %s",
                     (unsigned long long)choice->expected, (unsigned long long)choice->nearer,
                     (unsigned long long)sums.expected, (unsigned long long)sums.nearer,
                     (unsigned long long)sums.ways, describe(asked, choice));
    }
}

/* ---------------------------------------------------------- random lists --- */

static void ask(question *asked, size_t capacity) {
    trial *at = &asked->at;
    nh_error error = {0};
    const nh_status status =
        nh_pass(at->list, at->workspace, &at->hand, &at->situation, asked->count, asked->chosen,
                asked->choices, capacity, &asked->passing, &error);
    if (status != NH_OK) {
        ck_abort_msg("%s: %s", error.text, explain(at));
    }
}

/* Tiles of the hand that may be passed. */
static int passable(const trial *at) {
    int tiles = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (nh_list_charleston(at->list)->keep.count[kind] == 0) {
            tiles += at->hand.count[kind];
        }
    }
    return tiles;
}

static int unseen(const trial *at) {
    return nh_tiles_total(nh_list_set(at->list)) - nh_tiles_total(&at->hand) -
           nh_tiles_total(&at->situation.seen);
}

/* How many different draws there are, tiles of a kind being alike. */
static long different_draws(unsigned count) {
    return count == 0 ? 1 : count == 1 ? 35 : count == 2 ? 630 : 7770;
}

static void pick_question(question *asked) {
    trial *at = &asked->at;
    random_source *source = at->source;
    pick_hand(at);
    pick_seen(at);
    asked->count = (unsigned)random_below(source, 4);
    while ((int)asked->count > passable(at) || (int)asked->count > unseen(at)) {
        asked->count--;
    }
    const bool some = random_percent(source, 25);
    for (size_t i = 0; i < at->patterns; i++) {
        asked->chosen[i] = !some || random_percent(source, 50);
    }
    asked->chosen[random_below(source, (int)at->patterns)] = 1;
}

static void check_hand(question *asked) {
    trial *at = &asked->at;
    ask(asked, NH_PASSES_MAX);
    const size_t rows = asked->passing.rows;
    MUST(at, rows == asked->passing.passes && rows > 0);
    long sums = 0;
    for (size_t i = 0; i < at->patterns; i++) {
        sums += asked->chosen[i] != 0 ? (long)at->targets[i].count : 0;
    }
    const long draws = different_draws(asked->count);
    if (draws * sums <= PLAIN_MOST) {
        check_choice(asked, &asked->choices[0], away_by_reference);
        check_choice(asked, &asked->choices[random_below(at->source, (int)rows)],
                     away_by_reference);
        done.plain += 2;
    }
    for (size_t i = 0; i < rows; i++) {
        if ((long)rows * draws > LISTED_MOST && random_below(at->source, (int)rows) > 3) {
            continue;
        }
        check_choice(asked, &asked->choices[i], away_by_distances);
        done.listed++;
    }
    done.passes += (long)rows;
    done.jokers += at->hand.count[NH_JOKER] > 0;
    done.short_of_jokers += at->situation.seen.count[NH_JOKER] > 4;
}

START_TEST(random_lists) {
    static question asked;
    const uint64_t seed = random_seed(20250611);
    random_source source = {seed};
    memset(&done, 0, sizeof done);
    asked.at = (trial){.source = &source, .seed = seed};
    for (int i = 0; i < LISTS; i++) {
        open_list(&asked.at, random_list(&source, PATTERNS, NH_HAND_MAX));
        asked.at.situation = (nh_situation)NH_SITUATION_DEFAULT;
        asked.at.situation.prevailing = (nh_wind)random_below(&source, 5);
        asked.at.situation.seat = (nh_wind)random_below(&source, 5);
        expand(&asked.at);
        for (int hand = 0; hand < HANDS; hand++) {
            pick_question(&asked);
            check_hand(&asked);
        }
        release(&asked.at);
        close_list(&asked.at);
    }
    printf("seed %llu: %ld passes, %ld held against the reference, %ld against all draws, %ld "
           "without a live target, %ld hands with jokers, %ld with many jokers gone\n",
           (unsigned long long)seed, done.passes, done.plain, done.listed, done.none, done.jokers,
           done.short_of_jokers);
    ck_assert_int_ge(done.plain, LISTS);
    ck_assert_int_ge(done.listed, 10L * LISTS);
    ck_assert_int_ge(done.jokers, LISTS / 10);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("pass");
    TCase *tests = tcase_create("pass");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, random_lists);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
