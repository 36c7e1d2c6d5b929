/* Questions of the interface that are wrong, older or newer than the library, or
 * cancelled; batches that are wrong for all hands. */
#define _DEFAULT_SOURCE /* usleep, mkstemp */
#include "api.h"
#include "ask.h"
#include "sharing.h"

#include <pthread.h>

static nh_list *list;
static nh_workspace *workspace;
static const char hand_text[] = "1122B 345C 67D EE RR";

static void set_up(void) {
    list = read_list(wide_list);
    workspace = new_workspace(list);
}

static void tear_down(void) {
    nh_workspace_free(workspace);
    nh_list_free(list);
}

/* ------------------------------------------------------------ defaults --- */

START_TEST(a_workspace_knows_its_list) {
    ck_assert_ptr_eq(nh_workspace_list(workspace), list);
}
END_TEST

START_TEST(null_asks_the_default_question) {
    nh_tiles hand = tiles_of(hand_text);
    nh_ranked plain[WIDE_PATTERNS], asked[WIDE_PATTERNS];
    nh_ranking ranking, other;
    nh_rank_question question = NH_RANK_QUESTION;
    ck_assert_int_eq(nh_rank(workspace, &hand, NULL, plain, WIDE_PATTERNS, &ranking, NULL), NH_OK);
    ck_assert_int_eq(nh_rank(workspace, &hand, &question, asked, WIDE_PATTERNS, &other, NULL),
                     NH_OK);
    ck_assert_uint_eq(ranking.rows, WIDE_PATTERNS);
    for (size_t i = 0; i < ranking.rows; i++) {
        ck_assert_uint_eq(plain[i].pattern, asked[i].pattern);
        ck_assert(nh_tiles_equal(&plain[i].target, &asked[i].target));
        ck_assert_double_eq(plain[i].chance, asked[i].chance);
    }
    nh_passing passing;
    nh_choice choice;
    ck_assert_int_eq(nh_pass(workspace, &hand, NULL, &choice, 1, &passing, NULL), NH_OK);
    ck_assert_int_eq(nh_tiles_total(&choice.pass), nh_list_charleston(list)->tiles);
}
END_TEST

/* --------------------------------------------------------------- orders --- */

static double worth_of(const nh_ranked *row) {
    const nh_pattern *pattern = nh_list_pattern(list, row->pattern);
    return pattern->has_points ? pattern->points * row->chance : 0;
}

/* Whether b may not stand before a in the order. */
static bool stands_before(nh_order order, const nh_ranked *a, const nh_ranked *b) {
    if (order == NH_ORDER_AWAY)
        return a->away <= b->away;
    if (order == NH_ORDER_CHANCE)
        return nh_natural_compare(&a->completing, &b->completing) >= 0;
    return worth_of(a) >= worth_of(b) * (1 - 1e-12);
}

/* Every order has the same rows, and the first rows alone are the first of all. */
START_TEST(orders_sort_the_same_rows) {
    size_t moved = 0;
    for (unsigned number = 0; number < 40; number++) {
        nh_tiles hand = deal(list, number);
        nh_ranked plain[WIDE_PATTERNS], rows[WIDE_PATTERNS], first[2];
        nh_ranking ranking;
        nh_rank_question question = NH_RANK_QUESTION;
        ck_assert_int_eq(nh_rank(workspace, &hand, &question, plain, WIDE_PATTERNS, &ranking, NULL),
                         NH_OK);
        for (nh_order order = NH_ORDER_AWAY; order <= NH_ORDER_WORTH; order++) {
            question.order = order;
            ck_assert_int_eq(
                nh_rank(workspace, &hand, &question, rows, WIDE_PATTERNS, &ranking, NULL), NH_OK);
            ck_assert_int_eq(nh_rank(workspace, &hand, &question, first, 2, &ranking, NULL), NH_OK);
            bool met[WIDE_PATTERNS] = {false};
            for (size_t i = 0; i < WIDE_PATTERNS; i++) {
                ck_assert(!met[rows[i].pattern]);
                met[rows[i].pattern] = true;
                ck_assert(i == 0 || stands_before(order, &rows[i - 1], &rows[i]));
                moved += rows[i].pattern != plain[i].pattern;
            }
            ck_assert_uint_eq(first[0].pattern, rows[0].pattern);
            ck_assert_uint_eq(first[1].pattern, rows[1].pattern);
        }
    }
    ck_assert_uint_gt(moved, 0);
    nh_tiles hand = tiles_of(hand_text);
    nh_ranking ranking;
    nh_error error;
    nh_rank_question question = NH_RANK_QUESTION;
    question.order = (nh_order)3;
    ck_assert_int_eq(nh_rank(workspace, &hand, &question, NULL, 0, &ranking, &error),
                     NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "order is 3; 0 to 2");
}
END_TEST

/* -------------------------------------------------- what is not a question --- */

static void expect_words(nh_status status, const nh_error *error, const char *words) {
    ck_assert_int_eq(status, NH_ERROR_ARGUMENT);
    ck_assert_int_eq(error->status, NH_ERROR_ARGUMENT);
    ck_assert_msg(strstr(error->text, words) != NULL, "\"%s\" does not say \"%s\"", error->text,
                  words);
}

START_TEST(zeroed_questions_are_refused) {
    nh_tiles hand = tiles_of(hand_text);
    nh_error error;
    nh_ranking ranking;
    nh_passing passing;
    nh_ahead ahead;
    nh_figures figures;
    uint8_t away[WIDE_PATTERNS];
    nh_rank_question rank = {0};
    nh_pass_question pass = {0};
    nh_ahead_question look = {0};
    nh_audit_question audit = {0};
    nh_situation situation = {0};
    nh_rank_hands ranks = {0};
    nh_pass_hands passes = {0};
    expect_words(nh_rank(workspace, &hand, &rank, NULL, 0, &ranking, &error), &error,
                 "start from NH_RANK_QUESTION");
    expect_words(nh_pass(workspace, &hand, &pass, NULL, 0, &passing, &error), &error,
                 "start from NH_PASS_QUESTION");
    expect_words(nh_pass_ahead(workspace, &hand, &look, &ahead, &error), &error,
                 "start from NH_AHEAD_QUESTION");
    expect_words(nh_audit_figures(list, 0, &audit, &figures, &error), &error,
                 "start from NH_AUDIT_QUESTION");
    expect_words(nh_distances(workspace, &hand, &situation, away, &error), &error,
                 "start from NH_SITUATION");
    expect_words(nh_rank_batch(list, &ranks, &error), &error, "start from NH_RANK_HANDS");
    expect_words(nh_pass_batch(list, &passes, &error), &error, "start from NH_PASS_HANDS");
    rank = (nh_rank_question)NH_RANK_QUESTION;
    rank.situation = &situation;
    expect_words(nh_rank(workspace, &hand, &rank, NULL, 0, &ranking, &error), &error,
                 "start from NH_SITUATION");
    rank = (nh_rank_question)NH_RANK_QUESTION;
    rank.row_size = 0;
    expect_words(nh_rank(workspace, &hand, &rank, NULL, 0, &ranking, &error), &error,
                 "row_size is 0");
}
END_TEST

/* A size that ends within a pointer would leave half an address. Sizes that no struct has are
 * refused, and so is one that ends before the last field of the first version. */
START_TEST(sizes_that_cut_a_field_are_refused) {
    nh_tiles hand = tiles_of(hand_text);
    nh_cancel *cancel = NULL;
    nh_figures figures;
    nh_ranking ranking;
    nh_error error;
    ck_assert_int_eq(nh_cancel_new(NULL, &cancel), NH_OK);
    for (size_t size = 0; size <= sizeof(nh_audit_question); size++) {
        nh_audit_question audit = NH_AUDIT_QUESTION;
        audit.size = size;
        audit.cancel = cancel;
        nh_status status = nh_audit_figures(list, 0, &audit, &figures, &error);
        if (status != NH_OK)
            expect_words(status, &error, "start from NH_AUDIT_QUESTION");
        ck_assert(status == NH_OK || size < sizeof audit);
        ck_assert(status != NH_OK || size % _Alignof(size_t) == 0);
    }
    for (size_t size = 0; size <= sizeof(nh_rank_question); size++) {
        nh_rank_question rank = NH_RANK_QUESTION;
        rank.size = size;
        rank.cancel = cancel;
        nh_status status = nh_rank(workspace, &hand, &rank, NULL, 0, &ranking, &error);
        if (status != NH_OK)
            expect_words(status, &error, "start from NH_RANK_QUESTION");
        ck_assert(status == NH_OK || size < sizeof rank);
        ck_assert(status != NH_OK || size % _Alignof(size_t) == 0);
    }
    nh_cancel_free(cancel);
}
END_TEST

START_TEST(errors_name_the_wrong_value) {
    nh_tiles hand = tiles_of(hand_text);
    nh_error error;
    nh_ranking ranking;
    nh_passing passing;
    nh_figures figures;
    nh_relation relation;
    nh_rank_question rank = NH_RANK_QUESTION;
    rank.draws = 161;
    expect_words(nh_rank(workspace, &hand, &rank, NULL, 0, &ranking, &error), &error,
                 "draws is 161; 0 to 160");
    rank.draws = -1;
    expect_words(nh_rank(workspace, &hand, &rank, NULL, 0, &ranking, &error), &error,
                 "draws is -1; 0 to 160");
    nh_pass_question pass = NH_PASS_QUESTION;
    pass.tiles = 9;
    expect_words(nh_pass(workspace, &hand, &pass, NULL, 0, &passing, &error), &error,
                 "tiles is 9; a pass has 0 to 3");
    pass.tiles = -2;
    expect_words(nh_pass(workspace, &hand, &pass, NULL, 0, &passing, &error), &error,
                 "tiles is -2; a pass has 0 to 3");
    nh_audit_question audit = NH_AUDIT_QUESTION;
    audit.seat = (nh_wind)7;
    expect_words(nh_audit_figures(list, 0, &audit, &figures, &error), &error,
                 "the seat wind is 7; 0 (unknown) to 4");
    expect_words(nh_audit_figures(list, 5, NULL, &figures, &error), &error,
                 "pattern is 5; the list has 0 to 4");
    audit = (nh_audit_question)NH_AUDIT_QUESTION;
    audit.figures_size = 0;
    expect_words(nh_audit_figures(list, 0, &audit, &figures, &error), &error, "figures_size is 0");
    audit = (nh_audit_question)NH_AUDIT_QUESTION;
    audit.dealt_size = 0;
    expect_words(nh_audit_figures(list, 0, &audit, &figures, &error), &error, "dealt_size is 0");
    audit = (nh_audit_question)NH_AUDIT_QUESTION;
    audit.overlap_size = 0;
    expect_words(nh_audit_figures(list, 0, &audit, &figures, &error), &error, "overlap_size is 0");
    expect_words(nh_audit_relation(list, 0, 9, NULL, &relation, &error), &error,
                 "pattern is 9; the list has 0 to 4");
}
END_TEST

/* --------------------------------------------------------------- growth --- */

/* A question as a later version of the header has it. */
struct later_question {
    nh_rank_question known;
    uint64_t more;
};

/* A row as a later version has it. */
struct later_row {
    nh_ranked known;
    uint64_t more;
};

START_TEST(later_programs_ask_what_is_known) {
    nh_tiles hand = tiles_of(hand_text);
    nh_error error;
    nh_ranked plain[WIDE_PATTERNS];
    struct later_row rows[WIDE_PATTERNS];
    nh_ranking ranking, other;
    struct later_question question = {.known = NH_RANK_QUESTION};
    question.known.size = sizeof question;
    question.known.row_size = sizeof *rows;
    memset(rows, 0xA5, sizeof rows);
    ck_assert_int_eq(nh_rank(workspace, &hand, NULL, plain, WIDE_PATTERNS, &other, NULL), NH_OK);
    ck_assert_int_eq(
        nh_rank(workspace, &hand, &question.known, &rows->known, WIDE_PATTERNS, &ranking, NULL),
        NH_OK);
    for (size_t i = 0; i < ranking.rows; i++) {
        ck_assert_uint_eq(rows[i].known.pattern, plain[i].pattern);
        ck_assert_double_eq(rows[i].known.chance, plain[i].chance);
        ck_assert_uint_eq(rows[i].more, 0);
    }
    question.more = 1;
    expect_words(
        nh_rank(workspace, &hand, &question.known, &rows->known, WIDE_PATTERNS, &ranking, &error),
        &error, "cannot do");
}
END_TEST

/* A row of an earlier header ends with its spare tiles. */
START_TEST(earlier_programs_get_as_much_as_they_know) {
    enum { EARLIER = offsetof(nh_ranked, joked) };
    nh_tiles hand = tiles_of(hand_text);
    unsigned char rows[WIDE_PATTERNS + 1][EARLIER];
    nh_ranked plain[WIDE_PATTERNS];
    nh_ranking ranking;
    nh_rank_question question = NH_RANK_QUESTION;
    question.row_size = EARLIER;
    question.ranking_size = offsetof(nh_ranking, unseen);
    memset(rows, 0xA5, sizeof rows);
    memset(&ranking, 0xA5, sizeof ranking);
    ck_assert_int_eq(nh_rank(workspace, &hand, &question, (nh_ranked *)(void *)rows, WIDE_PATTERNS,
                             &ranking, NULL),
                     NH_OK);
    ck_assert_uint_eq(ranking.rows, WIDE_PATTERNS);
    ck_assert_uint_eq(ranking.unseen, 0xA5A5A5A5);
    ck_assert_int_eq(nh_rank(workspace, &hand, NULL, plain, WIDE_PATTERNS, &ranking, NULL), NH_OK);
    for (size_t i = 0; i < WIDE_PATTERNS; i++)
        ck_assert_mem_eq(rows[i], &plain[i], offsetof(nh_ranked, spare));
    for (size_t i = 0; i < EARLIER; i++)
        ck_assert_uint_eq(rows[WIDE_PATTERNS][i], 0xA5);
}
END_TEST

/* --------------------------------------------------------------- batches --- */

enum { HANDS = 5 };

START_TEST(batches_refuse_what_is_wrong_for_all) {
    nh_tiles hands[HANDS];
    nh_ranking rankings[HANDS];
    nh_passing passings[HANDS];
    nh_error error;
    for (unsigned i = 0; i < HANDS; i++)
        hands[i] = deal(list, i);
    memset(rankings, 0xA5, sizeof rankings);
    nh_rank_question rank = NH_RANK_QUESTION;
    nh_rank_hands ranks = NH_RANK_HANDS;
    ranks.hands = hands;
    ranks.hand_count = HANDS;
    ranks.rankings = rankings;
    ranks.question = &rank;
    rank.draws = 161;
    expect_words(nh_rank_batch(list, &ranks, &error), &error, "draws is 161; 0 to 160");
    ck_assert_uint_eq(rankings[0].unseen, 0xA5A5A5A5); /* nothing is written */
    rank.draws = 5;
    nh_situation situation = NH_SITUATION;
    situation.prevailing = (nh_wind)9;
    rank.situation = &situation;
    expect_words(nh_rank_batch(list, &ranks, &error), &error, "the prevailing wind is 9");
    rank.situation = NULL;
    ranks.jobs = NH_JOBS_MAX + 1;
    expect_words(nh_rank_batch(list, &ranks, &error), &error, "jobs is 1025; 0 to 1024");
    ranks.jobs = 1;
    ranks.top = 1;
    expect_words(nh_rank_batch(list, &ranks, &error), &error, "rows is NULL");
    ranks.top = 0;
    ranks.hands = NULL;
    expect_words(nh_rank_batch(list, &ranks, &error), &error, "hands is NULL");
    nh_pass_question pass = NH_PASS_QUESTION;
    nh_pass_hands passes = NH_PASS_HANDS;
    passes.hands = hands;
    passes.hand_count = HANDS;
    passes.passings = passings;
    passes.question = &pass;
    pass.tiles = 9;
    expect_words(nh_pass_batch(list, &passes, &error), &error, "tiles is 9; a pass has 0 to 3");
    pass.tiles = 3;
    passes.passings = NULL;
    expect_words(nh_pass_batch(list, &passes, &error), &error, "passings is NULL");
}
END_TEST

/* ------------------------------------------------------------- cancelling --- */

START_TEST(cancelled_questions_end) {
    nh_tiles hand = tiles_of(hand_text);
    nh_error error;
    nh_cancel *cancel = NULL;
    nh_ranked row;
    nh_ranking ranking;
    nh_choice choice;
    nh_passing passing;
    nh_ahead ahead;
    nh_figures figures;
    nh_relation relation;
    nh_rank_question rank = NH_RANK_QUESTION;
    nh_pass_question pass = NH_PASS_QUESTION;
    nh_ahead_question look = NH_AHEAD_QUESTION;
    nh_audit_question audit = NH_AUDIT_QUESTION;
    ck_assert_int_eq(nh_cancel_new(NULL, &cancel), NH_OK);
    rank.cancel = pass.cancel = look.cancel = audit.cancel = cancel;
    look.courses = 3;
    for (int cancelled = 0; cancelled < 2; cancelled++) {
        nh_status expected = cancelled ? NH_ERROR_CANCELLED : NH_OK;
        if (cancelled)
            nh_cancel_now(cancel);
        ck_assert_int_eq(nh_rank(workspace, &hand, &rank, &row, 1, &ranking, &error), expected);
        ck_assert_uint_eq(ranking.rows, !cancelled);
        ck_assert_int_eq(nh_pass(workspace, &hand, &pass, &choice, 1, &passing, &error), expected);
        ck_assert_uint_eq(passing.rows, !cancelled);
        ck_assert_int_eq(nh_pass_ahead(workspace, &hand, &look, &ahead, &error), expected);
        ck_assert_int_eq(nh_audit_figures(list, 1, &audit, &figures, &error), expected);
        ck_assert_int_eq(nh_audit_relation(list, 0, 1, &audit, &relation, &error), expected);
        if (cancelled)
            ck_assert_str_eq(error.text, "the work was cancelled");
    }
    nh_cancel_clear(cancel);
    ck_assert_int_eq(nh_rank(workspace, &hand, &rank, &row, 1, &ranking, &error), NH_OK);
    nh_cancel_free(cancel);
    nh_cancel_free(NULL);
}
END_TEST

static void *cancel_soon(void *cancel) {
    usleep(20000);
    nh_cancel_now(cancel);
    return NULL;
}

/* Another thread stops a batch that would take minutes; what was not reached says so. */
START_TEST(cancelled_batches_end) {
    enum { MANY = 100000 };
    nh_tiles *hands = calloc(MANY, sizeof *hands);
    nh_passing *passings = calloc(MANY, sizeof *passings);
    nh_status *statuses = calloc(MANY, sizeof *statuses);
    nh_cancel *cancel = NULL;
    pthread_t thread;
    ck_assert(hands != NULL && passings != NULL && statuses != NULL);
    ck_assert_int_eq(nh_cancel_new(NULL, &cancel), NH_OK);
    for (unsigned i = 0; i < MANY; i++)
        hands[i] = deal(list, i);
    nh_pass_question pass = NH_PASS_QUESTION;
    pass.cancel = cancel;
    nh_pass_hands batch = NH_PASS_HANDS;
    batch.hands = hands;
    batch.hand_count = MANY;
    batch.passings = passings;
    batch.statuses = statuses;
    batch.question = &pass;
    batch.jobs = 2;
    ck_assert_int_eq(pthread_create(&thread, NULL, cancel_soon, cancel), 0);
    ck_assert_int_eq(nh_pass_batch(list, &batch, NULL), NH_ERROR_CANCELLED);
    pthread_join(thread, NULL);
    size_t answered = 0;
    for (size_t i = 0; i < MANY; i++) {
        ck_assert(statuses[i] == NH_OK || statuses[i] == NH_ERROR_CANCELLED);
        ck_assert(statuses[i] == NH_OK || passings[i].away == NH_AWAY_NONE);
        answered += statuses[i] == NH_OK;
    }
    ck_assert_uint_lt(answered, MANY);
    nh_cancel_free(cancel);
    free(hands);
    free(passings);
    free(statuses);
}
END_TEST

/* ----------------------------------------------------------------- tiles --- */

START_TEST(tiles_add_take_and_equal) {
    nh_tiles tiles = tiles_of("11B E"), more = tiles_of("1B F"), sum = tiles_of("111B E F");
    ck_assert(nh_tiles_add(&tiles, &more));
    ck_assert(nh_tiles_equal(&tiles, &sum));
    ck_assert(!nh_tiles_equal(&tiles, &more));
    nh_tiles other = tiles_of("1C");
    ck_assert(!nh_tiles_take(&tiles, &other));
    ck_assert(nh_tiles_equal(&tiles, &sum));
    ck_assert(nh_tiles_take(&tiles, &more));
    ck_assert_int_eq(nh_tiles_total(&tiles), 3);
    tiles.count[NH_EAST] = 255;
    nh_tiles before = tiles;
    ck_assert(!nh_tiles_add(&tiles, &sum));
    ck_assert(nh_tiles_equal(&tiles, &before));
}
END_TEST

START_TEST(the_version_is_a_number_too) {
    ck_assert_int_eq(nh_version_number(), NH_VERSION_NUMBER);
    char text[32];
    snprintf(text, sizeof text, "%d.%d.%d", NH_VERSION_NUMBER / 1000000,
             NH_VERSION_NUMBER / 1000 % 1000, NH_VERSION_NUMBER % 1000);
    ck_assert_str_eq(text, nh_version());
}
END_TEST

int main(void) {
    Suite *suite = suite_create("questions");
    TCase *tcase = tcase_create("questions");
    tcase_set_timeout(tcase, 0);
    tcase_add_checked_fixture(tcase, set_up, tear_down);
    const TTest *const tests[] = {a_workspace_knows_its_list,
                                  null_asks_the_default_question,
                                  orders_sort_the_same_rows,
                                  zeroed_questions_are_refused,
                                  sizes_that_cut_a_field_are_refused,
                                  errors_name_the_wrong_value,
                                  later_programs_ask_what_is_known,
                                  earlier_programs_get_as_much_as_they_know,
                                  batches_refuse_what_is_wrong_for_all,
                                  cancelled_questions_end,
                                  cancelled_batches_end,
                                  tiles_add_take_and_equal,
                                  the_version_is_a_number_too,
                                  NULL};
    for (size_t i = 0; tests[i] != NULL; i++)
        tcase_add_test(tcase, tests[i]);
    suite_add_tcase(suite, tcase);
    return run_suite(suite);
}
