/*
 * Shares over many deals and games against what they are known to be: how far hands of one
 * suit are from complete, which tiles a wall gives, and how often a hand is complete after
 * so many draws. NEARHAND_SEED chooses the deals, NEARHAND_TRIES how many.
 *
 * Sources, by their number in test_published.c:
 *   [5] mahjong-lurker.xyz, "清一色の組み合わせ".
 */
#include "ask.h"
#include "nearhand.h"
#include "random_list.h"
#include "suite.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sf_gamma.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SEED = 118800, HANDS = 100000, GAMES = 20000 };

/* A share that comes by chance once in 100,000 times is a fault. */
#define UNLIKELY 1e-5
#define ERRORS 4.0 /* standard errors: once in 16,000 times */

static nh_list *read_list(const char *json) {
    nh_list *list = NULL;
    ck_assert_int_eq(nh_list_read(json, strlen(json), NULL, &list, NULL), NH_OK);
    return list;
}

/* Whether counts follow their expectations, by the chi-square test. */
static void check_counts(const char *what, const long *counts, const double *expected,
                         int classes) {
    double sum = 0;
    for (int i = 0; i < classes; i++) {
        double difference = (double)counts[i] - expected[i];
        sum += difference * difference / expected[i];
    }
    double chance = gsl_cdf_chisq_Q(sum, classes - 1);
    printf("%s: chi-square %.1f of %d classes, by chance %.4f\n", what, sum, classes, chance);
    ck_assert_msg(chance > UNLIKELY, "%s: chi-square %f, by chance %g", what, sum, chance);
}

/* -------------------------------------------------------------- one suit --- */

enum { SUIT_TILES = 36, HAND = 14, FARTHEST = 2 };

typedef struct one_suit {
    nh_list *list;
    nh_workspace *workspace;
    long hands[FARTHEST + 1];  /* different ones, by tiles away */
    double ways[FARTHEST + 1]; /* of dealing them */
} one_suit;

static int away_of(const one_suit *suit, const nh_tiles *hand) {
    nh_situation situation = NH_SITUATION;
    uint8_t away[2];
    ck_assert_int_eq(nh_distances(suit->workspace, hand, &situation, away, NULL), NH_OK);
    int least = away[0] < away[1] ? away[0] : away[1];
    ck_assert_int_le(least, FARTHEST);
    return least;
}

/* Every different hand, with the ways in which its tiles come out of the suit. */
static void count_hands(one_suit *suit, nh_tiles *hand, int kind, int left, double ways) {
    static const double of_four[] = {1, 4, 6, 4, 1};
    if (kind == 9) {
        if (left > 0)
            return;
        int away = away_of(suit, hand);
        suit->hands[away]++;
        suit->ways[away] += ways;
        return;
    }
    for (int count = 0; count <= 4 && count <= left; count++) {
        hand->count[kind] = (uint8_t)count;
        count_hands(suit, hand, kind + 1, left - count, ways * of_four[count]);
    }
    hand->count[kind] = 0;
}

/* Source: [5]: of 118,800 hands 13,277 are complete, 91,437 one tile away, 14,086 two.
 * Those dealt come in the shares of their ways. */
START_TEST(hands_dealt_of_one_suit) {
    one_suit suit = {.list = read_list(
                         "{\"format\":1,\"title\":\"One suit\",\"patterns\":["
                         "{\"name\":\"Four sets and a pair\",\"groups\":[{\"set\":\"any\","
                         "\"suit\":\"bam\",\"times\":4},{\"pair\":\"any\",\"suit\":\"bam\"}]},"
                         "{\"name\":\"Seven pairs\",\"groups\":[{\"pair\":\"any\",\"suit\":\"bam\","
                         "\"times\":7,\"distinct\":true}]}]}")};
    static const long published[FARTHEST + 1] = {13277, 91437, 14086};
    nh_tiles hand = {{0}}, all = {{0}};
    nh_random random;
    long dealt[FARTHEST + 1] = {0};
    double expected[FARTHEST + 1];
    const int hands = random_tries(HANDS);
    ck_assert_int_eq(nh_workspace_new(suit.list, NULL, &suit.workspace), NH_OK);
    count_hands(&suit, &hand, 0, HAND, 1);
    for (int away = 0; away <= FARTHEST; away++) {
        ck_assert_int_eq(suit.hands[away], published[away]);
        expected[away] = hands * suit.ways[away] / gsl_sf_choose(SUIT_TILES, HAND);
    }
    for (int kind = 0; kind < 9; kind++)
        all.count[kind] = 4;
    nh_random_start(&random, random_seed(SEED), 0);
    for (int i = 0; i < hands; i++) {
        nh_tiles left = all, drawn = {{0}};
        nh_deal_draw(&random, &left, HAND, &drawn);
        dealt[away_of(&suit, &drawn)]++;
    }
    printf("seed %llu, %d hands: %ld complete, %ld one tile away, %ld two\n",
           (unsigned long long)random_seed(SEED), hands, dealt[0], dealt[1], dealt[2]);
    check_counts("tiles away", dealt, expected, FARTHEST + 1);
    nh_workspace_free(suit.workspace);
    nh_list_free(suit.list);
}
END_TEST

/* ----------------------------------------------------------------- games --- */

/* Nobody claims anything; south wins when complete, and keeps what the target needs. */
typedef struct drawing {
    nh_game *game;
    nh_workspace *workspace;
    nh_tiles target;       /* the only one */
    nh_tiles south;        /* as dealt */
    int draws;             /* of south */
    long first[NH_KINDS];  /* tiles that walls began with */
    bool begun, completed; /* the first tile is drawn; south is complete after DRAWS draws */
} drawing;

enum { DRAWS = 12 };

static nh_status no_pass(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    (void)context;
    (void)view;
    (void)move;
    (void)error;
    return NH_OK;
}

/* A tile that the target does not need, or any where all are needed. */
static uint8_t useless(const nh_tiles *hand, const nh_tiles *target) {
    uint8_t kind = 0;
    for (uint8_t i = 0; i < NH_KINDS; i++) {
        if (hand->count[i] > target->count[i])
            return i;
        kind = hand->count[i] > 0 ? i : kind;
    }
    return kind;
}

static nh_status keep_useful(void *context, const nh_game_view *view, nh_game_move *move,
                             nh_error *error) {
    const drawing *at = context;
    (void)error;
    if (!view->in_turn)
        return NH_OK;
    bool south = view->seat == 1;
    bool complete = memcmp(&view->hand, &at->target, sizeof view->hand) == 0;
    move->act = south && complete && view->may_win ? NH_ACT_WIN : NH_ACT_DISCARD;
    move->kind = south || view->tile == NH_KINDS ? useless(&view->hand, &at->target) : view->tile;
    return NH_OK;
}

static void hear(void *context, const nh_event *event) {
    drawing *at = context;
    if (event->type == NH_EVENT_DEAL) {
        at->south = event->hands[1];
        at->draws = 0;
        at->begun = at->completed = false;
    }
    if (event->type == NH_EVENT_DRAW && !at->begun) {
        at->first[event->kind]++;
        at->begun = true;
    }
    at->draws += event->type == NH_EVENT_DRAW && event->seat == 1;
    if (event->type == NH_EVENT_WIN)
        at->completed = at->draws <= DRAWS;
}

/* The chance that `draws` of the unseen tiles hold all that the target still lacks: counted
 * over how many of each lacking kind come. */
static double chance_of(const nh_tiles *set, const nh_tiles *hand, const nh_tiles *target, int kind,
                        int draws, int others) {
    if (kind == NH_KINDS)
        return draws < 0 || draws > others ? 0 : gsl_sf_choose((unsigned)others, (unsigned)draws);
    int unseen = set->count[kind] - hand->count[kind];
    int lack = target->count[kind] - hand->count[kind];
    if (lack <= 0)
        return chance_of(set, hand, target, kind + 1, draws, others + unseen);
    double ways = 0;
    for (int come = lack; come <= unseen && come <= draws; come++)
        ways += gsl_sf_choose((unsigned)unseen, (unsigned)come) *
                chance_of(set, hand, target, kind + 1, draws - come, others);
    return ways;
}

static double exact_chance(const drawing *at, const nh_tiles *set) {
    int unseen = nh_tiles_total(set) - nh_tiles_total(&at->south);
    return chance_of(set, &at->south, &at->target, 0, DRAWS, 0) /
           gsl_sf_choose((unsigned)unseen, DRAWS);
}

static double rank_chance(const drawing *at) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_situation situation = NH_SITUATION;
    nh_ranking ranking;
    nh_ranked row;
    question.situation = &situation;
    question.draws = DRAWS;
    ck_assert_int_eq(nh_rank(at->workspace, &at->south, &question, &row, 1, &ranking, NULL), NH_OK);
    return row.chance;
}

/* One pattern with one target, no claims, one player who draws for it: the share of the
 * hands that are complete after so many draws is the chance, which is counted here and by
 * nh_rank. The first tile of a wall is any of those that are not dealt. */
START_TEST(one_player_draws_for_one_target) {
    nh_list *list = read_list("{\"format\":1,\"title\":\"One target\",\"hand\":5,"
                              "\"tiles\":{\"suits\":[\"bam\",\"crak\"]},"
                              "\"charleston\":{\"rounds\":[]},\"patterns\":[{\"name\":\"Only\","
                              "\"groups\":[{\"pair\":2,\"suit\":\"bam\"},{\"chow\":5,\"suit\":"
                              "\"crak\"}]}]}");
    const nh_tiles *set = nh_list_set(list);
    const int games = random_tries(GAMES);
    drawing at = {.game = NULL};
    double expected = 0, variance = 0, kinds[NH_KINDS];
    long completed = 0, counts[NH_KINDS];
    int classes = 0;
    at.target.count[1] = 2;
    at.target.count[13] = at.target.count[14] = at.target.count[15] = 1;
    ck_assert_int_eq(nh_game_new(list, NULL, &at.game), NH_OK);
    ck_assert_int_eq(nh_workspace_new(list, NULL, &at.workspace), NH_OK);
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_game_seat(at.game, seat, no_pass, NULL, keep_useful, &at);
    nh_game_listen(at.game, hear, &at);
    for (int i = 1; i <= games; i++) {
        nh_game_end end;
        nh_error error;
        ck_assert_msg(
            nh_game_run(at.game, random_seed(SEED), (uint64_t)i, &end, sizeof end, &error) == NH_OK,
            "%s", error.text);
        double chance = exact_chance(&at, set);
        ck_assert_double_eq_tol(chance, rank_chance(&at), 1e-12);
        completed += at.completed;
        expected += chance;
        variance += chance * (1 - chance);
    }
    const double off = ((double)completed - expected) / sqrt(variance);
    printf(
        "seed %llu, %d games: %ld complete after %d draws, %.1f expected, %.2f standard errors\n",
        (unsigned long long)random_seed(SEED), games, completed, DRAWS, expected, off);
    ck_assert_double_le(fabs(off), ERRORS);
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (set->count[kind] > 0) {
            counts[classes] = at.first[kind];
            kinds[classes++] = (double)games * set->count[kind] / nh_tiles_total(set);
        }
    check_counts("first tiles of walls", counts, kinds, classes);
    nh_workspace_free(at.workspace);
    nh_game_free(at.game);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("shares");
    TCase *known = tcase_create("shares that are known");
    tcase_add_test(known, hands_dealt_of_one_suit);
    tcase_add_test(known, one_player_draws_for_one_target);
    suite_add_tcase(suite, known);
    return run_suite(suite);
}
