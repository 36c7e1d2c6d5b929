/* Play after the passes, with small lists that a grammar makes of the bytes: sets on the
 * table as the bytes write or pick them, then hands for what is left of the list. Discards
 * are held against distances and against listing every draw, complete hands against
 * discards, claims that win against complete hands. */
#include "../draws.h"
#include "grammar.h"
#include "holds.h"

#include <string.h>

#define QUESTIONS 4
#define DRAWS_MAX 1000 /* that are listed for a hand */
#define SETS_PICKED 3

/* A hand and what is asked of it. */
struct question {
    const nh_list *rest;
    nh_workspace *workspace;
    nh_tiles hand;
    nh_situation situation;
    nh_discard_question asked;
    nh_discarding discarding;
    nh_discard_choice choices[NH_DISCARDS_MAX];
};

/* ------------------------------------------------------------ distances --- */

static int away_of_rest(const remaining *rest, const void *context) {
    const struct question *asked = context;
    uint8_t away[GRAMMAR_PATTERNS_MAX];
    nh_situation situation = asked->situation;
    int least = NH_AWAY_NONE;
    situation.seen = rest->seen;
    MUST(nh_distances(asked->workspace, &rest->hand, &situation, away, NULL) == NH_OK);
    for (size_t i = 0; i < nh_list_size(asked->rest); i++)
        least = away[i] < least ? away[i] : least;
    return least;
}

static remaining after_discard(const struct question *asked, int kind) {
    nh_tiles tile = {{0}};
    if (kind < NH_KINDS)
        tile.count[kind] = 1;
    return pass_tiles(nh_list_set(asked->rest), &asked->hand, &asked->situation.seen, &tile);
}

/* ------------------------------------------------------------- discards --- */

static void useful_holds(const struct question *asked, const nh_discard_choice *choice) {
    remaining rest = after_discard(asked, choice->kind);
    unsigned count = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        bool useful = false;
        if (rest.unseen.count[kind] > 0 && choice->away != NH_AWAY_NONE) {
            rest.hand.count[kind]++;
            useful = away_of_rest(&rest, asked) < choice->away;
            rest.hand.count[kind]--;
        }
        MUST(choice->useful.count[kind] == (useful ? rest.unseen.count[kind] : 0));
        count += choice->useful.count[kind];
    }
    MUST(choice->useful_count == count);
}

static void choice_holds(const struct question *asked, const nh_discard_choice *choice) {
    remaining rest = after_discard(asked, choice->kind);
    MUST(choice->kind < NH_JOKER && asked->hand.count[choice->kind] > 0);
    MUST(choice->away == away_of_rest(&rest, asked));
    MUST(choice->away >= asked->discarding.away);
    MUST((choice->expected == UINT64_MAX) == (choice->away == NH_AWAY_NONE));
    MUST(choice->away != NH_AWAY_NONE || choice->chance <= 0);
    MUST(choice->chance >= 0 && choice->chance <= 1);
    useful_holds(asked, choice);
    if (different_sets(&rest.unseen, asked->discarding.look) > DRAWS_MAX)
        return;
    draw_sums sums = list_draws(&rest, asked->discarding.look, 0, away_of_rest, asked);
    MUST(sums.ways == asked->discarding.draws);
    MUST(sums.none || choice->expected == sums.expected);
}

/* False where it takes more work than the library gives it. */
static bool ask(struct question *asked, size_t capacity) {
    asked->asked.situation = &asked->situation;
    nh_status status = nh_discard(asked->workspace, &asked->hand, &asked->asked, asked->choices,
                                  capacity, &asked->discarding, NULL);
    MUST(status == NH_OK || status == NH_ERROR_LIMIT);
    return status == NH_OK;
}

static bool same_figures(const nh_discard_choice *a, const nh_discard_choice *b) {
    return a->kind == b->kind && a->away == b->away && a->nearest == b->nearest &&
           a->within_one == b->within_one && a->pattern == b->pattern &&
           nh_tiles_equal(&a->useful, &b->useful) && a->expected == b->expected &&
           nh_natural_compare(&a->completing, &b->completing) == 0;
}

/* The first few are found with less work. */
static void few_agree(const struct question *asked, struct decisions *decisions) {
    static struct question few;
    size_t capacity = 1 + (size_t)decide(decisions, 4);
    few = *asked;
    if (!ask(&few, capacity))
        return;
    size_t rows = capacity < asked->discarding.rows ? capacity : asked->discarding.rows;
    MUST(few.discarding.rows == rows);
    for (size_t i = 0; i < rows; i++)
        MUST(same_figures(&few.choices[i], &asked->choices[i]));
}

/* ------------------------------------------------- complete hands, claims --- */

static void completed_holds(const struct question *asked) {
    nh_completed rows[GRAMMAR_PATTERNS_MAX];
    nh_checking checking;
    nh_check_question question = NH_CHECK_QUESTION;
    question.situation = &asked->situation;
    nh_status status = nh_check(asked->workspace, &asked->hand, &question, rows,
                                GRAMMAR_PATTERNS_MAX, &checking, NULL);
    MUST(status == NH_OK || status == NH_ERROR_LIMIT);
    if (status != NH_OK)
        return;
    MUST(checking.nearest == asked->discarding.away);
    MUST((checking.completed > 0) == asked->discarding.complete);
    for (size_t i = 0; i < checking.rows; i++)
        MUST(nh_tiles_total(&rows[i].target) == nh_tiles_total(&asked->hand));
}

static void claims_hold(const struct question *asked) {
    static nh_claim claims[NH_CLAIMS_MAX];
    nh_claiming claiming;
    nh_claim_question question = NH_CLAIM_QUESTION;
    question.situation = &asked->situation;
    nh_status status = nh_claims(asked->workspace, &asked->hand, &question, claims, NH_CLAIMS_MAX,
                                 &claiming, NULL);
    MUST(status == NH_OK || status == NH_ERROR_LIMIT);
    for (size_t i = 0; status == NH_OK && i < claiming.rows; i++) {
        nh_tiles with = asked->hand;
        nh_checking checking;
        nh_check_question check = NH_CHECK_QUESTION;
        check.situation = &asked->situation;
        MUST(claims[i].kind < NH_JOKER && claims[i].copies > 0);
        with.count[claims[i].kind]++;
        if (nh_check(asked->workspace, &with, &check, NULL, 0, &checking, NULL) != NH_OK)
            continue;
        MUST(claims[i].use != NH_CLAIM_WIN || checking.completed > 0);
        MUST(claims[i].use == NH_CLAIM_WIN || claims[i].away < claiming.away);
    }
}

/* ---------------------------------------------------------------- input --- */

/* Sets as somebody writes them. */
static size_t write_sets(const nh_list *list, struct decisions *decisions, nh_set *sets) {
    static const char characters[] = "123456789BCDESWNRGWhFJ0 ,\n\xF0";
    char text[24];
    size_t length = (size_t)decide(decisions, sizeof text), count = 0;
    for (size_t i = 0; i < length; i++)
        text[i] = characters[decide(decisions, sizeof characters - 1)];
    nh_error error;
    nh_status status = nh_sets_parse(list, text, length, sets, NH_SETS_MAX, &count, &error);
    MUST(status == NH_OK || (status == NH_ERROR_TILES && error.column > 0));
    return status == NH_OK ? count : 0;
}

/* Sets of any kind, jokers in them. */
static size_t pick_sets(struct decisions *decisions, nh_set *sets) {
    size_t count = (size_t)decide(decisions, SETS_PICKED + 1);
    for (size_t i = 0; i < count; i++) {
        int shape = NH_PUNG + decide(decisions, NH_CHOW - NH_PUNG + 1);
        int tiles = shape == NH_CHOW ? 3 : shape;
        sets[i] = (nh_set){.shape = (uint8_t)shape,
                           .kind = (uint8_t)decide(decisions, NH_JOKER + 1),
                           .tiles = (uint8_t)tiles,
                           .jokers = (uint8_t)decide(decisions, tiles + 1)};
    }
    return count;
}

static void hand_holds(const nh_list *rest, nh_workspace *workspace, struct decisions *decisions) {
    static struct question asked;
    int draws;
    asked = (struct question){.rest = rest, .workspace = workspace, .asked = NH_DISCARD_QUESTION};
    grammar_situation(decisions, &asked.situation, &draws);
    grammar_hand(decisions, nh_list_set(rest), nh_list_hand_most(rest), &asked.hand,
                 &asked.situation.seen);
    asked.asked.draws = draws;
    asked.asked.look = 1 + decide(decisions, NH_LOOK_MAX);
    asked.asked.order = (nh_discard_order)decide(decisions, NH_DISCARD_WORTH + 1);
    if (nh_tiles_total(&asked.hand) == 0 || !ask(&asked, NH_DISCARDS_MAX))
        return;
    for (size_t i = 0; i < asked.discarding.rows; i++)
        choice_holds(&asked, &asked.choices[i]);
    few_agree(&asked, decisions);
    completed_holds(&asked);
    if (decide(decisions, 4) == 3)
        claims_hold(&asked);
}

/* The second half of the bytes is for sets and hands, however much the list takes. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const struct grammar_size small = {2, 14, 4, 2};
    struct decisions listed = {data, size / 2}, played = {data + size / 2, size - size / 2};
    nh_set sets[NH_SETS_MAX];
    const char *json = grammar_list(&listed, &small);
    nh_list *list = list_holds(json, strlen(json)), *rest = NULL;
    nh_workspace *workspace = NULL;
    if (list == NULL)
        return 0;
    size_t count =
        decide(&played, 2) == 1 ? write_sets(list, &played, sets) : pick_sets(&played, sets);
    nh_status status = nh_list_rest(list, sets, count, NULL, &rest, NULL);
    MUST(status == NH_OK || status == NH_ERROR_TILES || status == NH_ERROR_ARGUMENT ||
         status == NH_ERROR_LIMIT);
    if (status == NH_OK && nh_workspace_new(rest, NULL, &workspace) == NH_OK)
        for (int i = 0; i < QUESTIONS; i++)
            hand_holds(rest, workspace, &played);
    nh_workspace_free(workspace);
    nh_list_free(rest);
    nh_list_free(list);
    return 0;
}
