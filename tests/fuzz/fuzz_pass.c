/* Passes of hands that the bytes deal, with small lists that a grammar makes of
 * them, against the plain reference: every draw is listed. Most tiles are gone,
 * so that few draws are left; all that is asked of a list uses one workspace. */
#include "../ask.h"
#include "../draws.h"
#include "both.h"

#include <string.h>

#define SUMS_MAX 300
#define QUESTIONS 4
#define STEP_MAX 5000  /* draws times sums, for a pass */
#define WORK_MAX 40000 /* the same, for all passes of a hand */
#define FEW_MAX 5
#define COURSES_MAX 8

/* A hand and what is asked of it. */
struct question {
    struct both *both;
    nh_tiles hand;
    unsigned count;
    bool all; /* patterns count, or only these */
    uint8_t chosen[GRAMMAR_PATTERNS_MAX];
    nh_passing passing;
    nh_choice choices[NH_PASSES_MAX];
};

static bool is_chosen(const struct question *asked, size_t pattern) {
    return asked->all || asked->chosen[pattern] != 0;
}

static const uint8_t *chosen_of(const struct question *asked) {
    return asked->all ? NULL : asked->chosen;
}

/* ------------------------------------------------- which hand, and what --- */

static nh_tiles without(const nh_tiles *tiles, const nh_tiles *less) {
    nh_tiles rest = *tiles;
    for (int kind = 0; kind < NH_KINDS; kind++)
        rest.count[kind] = (uint8_t)(rest.count[kind] - less->count[kind]);
    return rest;
}

static void add_kind(nh_tiles *tiles, const nh_tiles *rest, int kind, int count) {
    int left = rest->count[kind] - tiles->count[kind];
    tiles->count[kind] = (uint8_t)(tiles->count[kind] + (count < left ? count : left));
}

/* A sum that the hand is to be near, if the pattern has one. */
static const ref_sum *pick_sum(const struct both *both, struct decisions *decisions) {
    const ref_targets *targets = &both->targets[decide(decisions, (int)both->patterns)];
    return targets->count == 0 ? NULL : &targets->sums[decide(decisions, (int)targets->count)];
}

/* Some tiles of the sum, or jokers for them, and strangers. */
static void deal_hand(struct question *asked, struct decisions *decisions, const ref_sum *sum) {
    const nh_tiles *set = nh_list_set(asked->both->list);
    int most = nh_list_hand_most(asked->both->list);
    int strangers = decide(decisions, most);
    asked->hand = (nh_tiles){{0}};
    for (int kind = 0; sum != NULL && kind < NH_KINDS; kind++) {
        if (sum->tiles.count[kind] == 0)
            continue;
        int which = decide(decisions, 16);
        add_kind(&asked->hand, set, kind, which % (sum->tiles.count[kind] + 1));
        if (which > 11)
            add_kind(&asked->hand, set, NH_JOKER, sum->jokerable.count[kind] > 0);
    }
    for (int i = 0; i < strangers || nh_tiles_total(&asked->hand) == 0; i++) {
        int kind = decide(decisions, NH_KINDS);
        while (set->count[kind] == asked->hand.count[kind])
            kind = (kind + 1) % NH_KINDS;
        asked->hand.count[kind]++;
        if (nh_tiles_total(&asked->hand) == nh_tiles_total(set))
            break;
    }
    for (int kind = 0; nh_tiles_total(&asked->hand) > most; kind = (kind + 1) % NH_KINDS)
        asked->hand.count[kind] =
            (uint8_t)(asked->hand.count[kind] - (asked->hand.count[kind] > 0));
}

/* What is left of a sum, or nothing, and some kinds: all the rest was seen. */
static nh_tiles pick_unseen(struct question *asked, struct decisions *decisions,
                            const ref_sum *sum) {
    nh_tiles rest = without(nh_list_set(asked->both->list), &asked->hand), unseen = {{0}};
    int kinds = decide(decisions, 12), spare = decide(decisions, 3);
    for (int kind = 0; sum != NULL && kind < NH_KINDS; kind++) {
        int lacking = sum->tiles.count[kind] - asked->hand.count[kind];
        if (lacking > 0)
            add_kind(&unseen, &rest, kind, lacking + spare);
    }
    for (int i = 0; i < kinds; i++)
        add_kind(&unseen, &rest, decide(decisions, NH_KINDS), 1 + decide(decisions, 4));
    add_kind(&unseen, &rest, NH_JOKER, decide(decisions, 4));
    return unseen;
}

static long sums_of(const struct question *asked) {
    long sums = 1;
    for (size_t i = 0; i < asked->both->patterns; i++)
        if (is_chosen(asked, i))
            sums += (long)asked->both->targets[i].count;
    return sums;
}

/* Draws times sums, for one pass. */
static long step_of(const struct question *asked, const nh_tiles *unseen) {
    return different_sets(unseen, asked->count) * sums_of(asked);
}

/* The hand, how many tiles it passes, and what was seen: more and more kinds of
 * tiles, until not too many draws are left. */
static void pick_question(struct question *asked, struct decisions *decisions) {
    struct both *both = asked->both;
    const ref_sum *near = decide(decisions, 4) > 0 ? pick_sum(both, decisions) : NULL;
    deal_hand(asked, decisions, near);
    nh_tiles passable = passable_tiles(both->list, &asked->hand);
    nh_tiles unseen = pick_unseen(asked, decisions, near);
    int most = nh_tiles_total(&passable);
    int count = decide(decisions, 2 * NH_PASS_MAX);
    count = count < NH_PASS_MAX ? count : NH_PASS_MAX;
    asked->count = (unsigned)(count < most ? count : most);
    for (int kind = decide(decisions, NH_KINDS); step_of(asked, &unseen) > STEP_MAX;
         kind = (kind + 1) % NH_KINDS)
        unseen.count[kind] = 0;
    if ((int)asked->count > nh_tiles_total(&unseen))
        asked->count = (unsigned)nh_tiles_total(&unseen);
    nh_tiles rest = without(nh_list_set(both->list), &asked->hand);
    both->situation.seen = without(&rest, &unseen);
}

/* ------------------------------------------------------- the plain way --- */

static int plain_away(const remaining *rest, const void *context) {
    const struct question *asked = context;
    const struct both *both = asked->both;
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < both->patterns; i++) {
        if (!is_chosen(asked, i))
            continue;
        int away = reference_away(both->plain, &both->targets[i], &rest->hand, &rest->seen);
        least = away < least ? away : least;
    }
    return least;
}

static remaining after_pass(const struct question *asked, const nh_tiles *pass) {
    return pass_tiles(nh_list_set(asked->both->list), &asked->hand, &asked->both->situation.seen,
                      pass);
}

/* How many chosen patterns are that near. */
static uint32_t plain_within(const struct question *asked, const remaining *rest, int away) {
    const struct both *both = asked->both;
    uint32_t count = 0;
    for (size_t i = 0; i < both->patterns; i++) {
        if (!is_chosen(asked, i))
            continue;
        int one = reference_away(both->plain, &both->targets[i], &rest->hand, &rest->seen);
        count += one != NH_AWAY_NONE && one <= away;
    }
    return count;
}

static void choice_agrees(const struct question *asked, const nh_choice *choice) {
    remaining rest = after_pass(asked, &choice->pass);
    draw_sums sums = list_draws(&rest, asked->count, asked->passing.away, plain_away, asked);
    int away = plain_away(&rest, asked);
    MUST(sums.ways == asked->passing.draws);
    MUST(choice->away == away);
    MUST(choice->nearest == plain_within(asked, &rest, away));
    MUST(choice->within_one == plain_within(asked, &rest, away + 1));
    MUST(sums.none == (away == NH_AWAY_NONE));
    MUST(choice->expected == (sums.none ? UINT64_MAX : sums.expected));
    MUST(choice->nearer == (sums.none ? 0 : sums.nearer));
}

/* Every pass, or as many as the work allows, from a place that is decided. */
static void choices_agree(const struct question *asked, struct decisions *decisions) {
    const nh_tiles nothing = {{0}};
    remaining before = after_pass(asked, &nothing);
    nh_tiles passable = passable_tiles(asked->both->list, &asked->hand);
    size_t rows = asked->passing.rows;
    MUST(asked->passing.away == plain_away(&before, asked));
    MUST((int)asked->passing.unseen == nh_tiles_total(&before.unseen));
    MUST(rows == asked->passing.passes);
    MUST((long)rows == different_sets(&passable, asked->count));
    long step = step_of(asked, &before.unseen);
    size_t first = (size_t)decide(decisions, (int)rows);
    for (size_t i = 0; i < rows && (i == 0 || (long)(i + 1) * step <= WORK_MAX); i++)
        choice_agrees(asked, &asked->choices[(first + i) % rows]);
}

/* ----------------------------------------------------------------- laws --- */

/* False where it takes more work than the library gives it. */
static bool ask(struct question *asked, size_t capacity) {
    struct both *both = asked->both;
    nh_status status = ask_pass(both->workspace, &asked->hand, &both->situation, asked->count,
                                chosen_of(asked), asked->choices, capacity, &asked->passing, NULL);
    MUST(status == NH_OK || status == NH_ERROR_LIMIT);
    return status == NH_OK;
}

/* Each pass is there once, in order. With no tile passed, it is the distance. */
static void order_holds(const struct question *asked) {
    for (size_t i = 1; i < asked->passing.rows; i++)
        MUST(compare_choices(&asked->choices[i - 1], &asked->choices[i]) < 0);
    if (asked->count > 0 || asked->passing.away == NH_AWAY_NONE)
        return;
    MUST(asked->passing.rows == 1 && asked->passing.draws == 1);
    MUST(asked->choices[0].expected == asked->passing.away * asked->passing.draws);
    MUST(asked->choices[0].away == asked->passing.away && asked->choices[0].nearer == 0);
}

/* The first few are found in another way. */
static void few_agree(const struct question *asked, struct decisions *decisions) {
    static struct question few;
    size_t capacity = 1 + (size_t)decide(decisions, FEW_MAX);
    few = *asked;
    if (!ask(&few, capacity))
        return;
    MUST(few.passing.passes == asked->passing.passes);
    MUST(few.passing.away == asked->passing.away && few.passing.draws == asked->passing.draws);
    MUST(few.passing.unseen == asked->passing.unseen);
    MUST(few.passing.rows == (capacity < asked->passing.rows ? capacity : asked->passing.rows));
    for (size_t i = 0; i < few.passing.rows; i++)
        MUST(same_choice(&few.choices[i], &asked->choices[i]));
}

static const nh_choice *find_choice(const struct question *asked, const nh_tiles *pass) {
    for (size_t i = 0; i < asked->passing.rows; i++)
        if (memcmp(&asked->choices[i].pass, pass, sizeof *pass) == 0)
            return &asked->choices[i];
    return NULL;
}

/* With fewer patterns no pass is better, and none is nearer. */
static void fewer_patterns(const struct question *asked, struct decisions *decisions) {
    static struct question fewer;
    fewer = *asked;
    fewer.all = false;
    for (size_t i = 0; i < asked->both->patterns; i++)
        fewer.chosen[i] = is_chosen(asked, i) && decide(decisions, 2) == 1;
    if (!ask(&fewer, NH_PASSES_MAX))
        return;
    MUST(fewer.passing.away >= asked->passing.away && fewer.passing.rows == asked->passing.rows);
    for (size_t i = 0; i < fewer.passing.rows; i++) {
        const nh_choice *all = find_choice(asked, &fewer.choices[i].pass);
        MUST(all != NULL && fewer.choices[i].expected >= all->expected);
        MUST(fewer.choices[i].away >= all->away);
    }
}

static bool look_ahead(const struct question *asked, const nh_tiles *pass, unsigned further,
                       uint64_t first, uint64_t courses, nh_ahead *ahead) {
    const struct both *both = asked->both;
    nh_status status = ask_ahead(both->workspace, &asked->hand, &both->situation, pass, further,
                                 chosen_of(asked), 77, first, courses, ahead, NULL);
    MUST(status == NH_OK || status == NH_ERROR_LIMIT);
    return status == NH_OK;
}

/* The courses with no further pass, drawn one by one. */
static nh_ahead plain_courses(const struct question *asked, const nh_tiles *pass, uint64_t first,
                              uint64_t courses) {
    nh_ahead ahead = {0};
    for (uint64_t i = first; i < first + courses; i++) {
        remaining rest = after_pass(asked, pass);
        nh_random random;
        nh_random_start(&random, 77, i);
        nh_deal_draw(&random, &rest.unseen, (int)asked->count, &rest.hand);
        int away = plain_away(&rest, asked);
        if (away == NH_AWAY_NONE)
            continue;
        ahead.courses++;
        ahead.sum += (uint64_t)away;
        ahead.squares += (uint64_t)away * (uint64_t)away;
    }
    return ahead;
}

static bool same_ahead(const nh_ahead *a, const nh_ahead *b) {
    return a->courses == b->courses && a->sum == b->sum && a->squares == b->squares;
}

/* Courses come again, and can be split. */
static void courses_agree(const struct question *asked, struct decisions *decisions) {
    const nh_tiles *pass = &asked->choices[decide(decisions, (int)asked->passing.rows)].pass;
    unsigned further = (unsigned)decide(decisions, 3);
    uint64_t first = (uint64_t)decide(decisions, 256);
    uint64_t courses = (uint64_t)decide(decisions, COURSES_MAX + 1);
    uint64_t part = (uint64_t)decide(decisions, (int)courses + 1);
    nh_ahead all, again, left, right;
    if (!look_ahead(asked, pass, further, first, courses, &all) ||
        !look_ahead(asked, pass, further, first, part, &left) ||
        !look_ahead(asked, pass, further, first + part, courses - part, &right) ||
        !look_ahead(asked, pass, further, first, courses, &again))
        return;
    left.courses += right.courses;
    left.sum += right.sum;
    left.squares += right.squares;
    MUST(same_ahead(&all, &again) && same_ahead(&all, &left));
    MUST(all.courses <= courses);
    if (further == 0) {
        again = plain_courses(asked, pass, first, courses);
        MUST(same_ahead(&all, &again));
    }
}

/* ---------------------------------------------------------------- input --- */

static void passes_agree(struct both *both, struct decisions *decisions) {
    static struct question asked;
    asked = (struct question){.both = both, .all = decide(decisions, 4) != 3};
    for (size_t i = 0; !asked.all && i < both->patterns; i++)
        asked.chosen[i] = (uint8_t)decide(decisions, 2);
    pick_question(&asked, decisions);
    if (!ask(&asked, NH_PASSES_MAX))
        return;
    order_holds(&asked);
    choices_agree(&asked, decisions);
    few_agree(&asked, decisions);
    if (decide(decisions, 2) == 1)
        fewer_patterns(&asked, decisions);
    if (decide(decisions, 4) == 3)
        courses_agree(&asked, decisions);
}

/* The second half of the bytes is for the hands, however much the list takes. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const struct grammar_size small = {2, 7, 2, 2};
    struct decisions listed = {data, size / 2}, dealt = {data + size / 2, size - size / 2};
    struct both both;
    both_read(&both, &listed, &small);
    for (int i = 0; both.list != NULL && i < QUESTIONS; i++) {
        grammar_situation(&dealt, &both.situation, &both.draws);
        if (!both_expand(&both, SUMS_MAX))
            break;
        passes_agree(&both, &dealt);
        both_release(&both);
    }
    both_free(&both);
    return 0;
}
