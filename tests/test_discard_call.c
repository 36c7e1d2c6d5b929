/* The contract of nh_discard: defaults, values out of range, hands that it refuses,
 * programs built with other headers, cancelling. */
#define _DEFAULT_SOURCE /* usleep, mkstemp */
#include "api.h"
#include "ask.h"
#include "sharing.h"

#include <pthread.h>

static nh_list *list;
static nh_workspace *workspace;
static const char hand_text[] = "1122B 345C 67D EE RRR";

static void set_up(void) {
    list = read_list(wide_list);
    workspace = new_workspace(list);
}

static void tear_down(void) {
    nh_workspace_free(workspace);
    nh_list_free(list);
}

static void expect_words(nh_status status, const nh_error *error, const char *words) {
    ck_assert_int_eq(status, NH_ERROR_ARGUMENT);
    ck_assert_int_eq(error->status, NH_ERROR_ARGUMENT);
    ck_assert_msg(strstr(error->text, words) != NULL, "\"%s\" does not say \"%s\"", error->text,
                  words);
}

START_TEST(null_asks_the_default_question) {
    const nh_tiles hand = tiles_of(hand_text);
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_discard_choice plain[NH_DISCARDS_MAX], asked[NH_DISCARDS_MAX];
    nh_discarding discarding, other;
    question.look = 3;
    question.draws = 20;
    ck_assert_int_eq(nh_discard(workspace, &hand, NULL, plain, NH_DISCARDS_MAX, &discarding, NULL),
                     NH_OK);
    ck_assert_int_eq(nh_discard(workspace, &hand, &question, asked, NH_DISCARDS_MAX, &other, NULL),
                     NH_OK);
    ck_assert_uint_eq(discarding.rows, 9);
    ck_assert_uint_eq(discarding.look, 3);
    for (size_t i = 0; i < discarding.rows; i++) {
        ck_assert_uint_eq(plain[i].kind, asked[i].kind);
        ck_assert_uint_eq(plain[i].expected, asked[i].expected);
        ck_assert_double_eq(plain[i].chance, asked[i].chance);
    }
}
END_TEST

START_TEST(errors_name_the_wrong_value) {
    const nh_tiles hand = tiles_of(hand_text);
    nh_error error;
    nh_discarding discarding;
    nh_situation situation = {0};
    static const struct {
        int look, draws, order;
        const char *words;
    } wrong[] = {{0, 20, 0, "look is 0; 1 to 3"},
                 {4, 20, 0, "look is 4; 1 to 3"},
                 {3, -1, 0, "draws is -1; 0 to 160"},
                 {3, 161, 0, "draws is 161; 0 to 160"},
                 {3, 20, 4, "order is 4; 0 to 3"}};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        nh_discard_question question = NH_DISCARD_QUESTION;
        question.look = wrong[i].look;
        question.draws = wrong[i].draws;
        question.order = (nh_discard_order)wrong[i].order;
        expect_words(nh_discard(workspace, &hand, &question, NULL, 0, &discarding, &error), &error,
                     wrong[i].words);
    }
    nh_discard_question question = {0};
    expect_words(nh_discard(workspace, &hand, &question, NULL, 0, &discarding, &error), &error,
                 "start from NH_DISCARD_QUESTION");
    question = (nh_discard_question)NH_DISCARD_QUESTION;
    question.choice_size = 0;
    expect_words(nh_discard(workspace, &hand, &question, NULL, 0, &discarding, &error), &error,
                 "choice_size is 0");
    question = (nh_discard_question)NH_DISCARD_QUESTION;
    question.discarding_size = 0;
    expect_words(nh_discard(workspace, &hand, &question, NULL, 0, &discarding, &error), &error,
                 "discarding_size is 0");
    question = (nh_discard_question)NH_DISCARD_QUESTION;
    question.situation = &situation;
    expect_words(nh_discard(workspace, &hand, &question, NULL, 0, &discarding, &error), &error,
                 "start from NH_SITUATION");
    situation = (nh_situation)NH_SITUATION;
    situation.seat = (nh_wind)9;
    expect_words(nh_discard(workspace, &hand, &question, NULL, 0, &discarding, &error), &error,
                 "the seat wind is 9");
}
END_TEST

START_TEST(hands_that_cannot_be_are_refused) {
    nh_error error;
    nh_discarding discarding;
    nh_discard_choice choice;
    const nh_tiles empty = {{0}}, large = tiles_of("22223333B 4444C 5555D"),
                   many = tiles_of("1111B EE"), joker = tiles_of("J");
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_situation situation = NH_SITUATION;
    question.situation = &situation;
    situation.seen = tiles_of("1B");
    const nh_tiles hands[] = {empty, large, many};
    const char *const words[] = {"a hand of this list has 1 to ", " tiles, not 16", "1B"};
    for (size_t i = 0; i < sizeof hands / sizeof *hands; i++) {
        ck_assert_int_eq(
            nh_discard(workspace, &hands[i], &question, &choice, 1, &discarding, &error),
            NH_ERROR_TILES);
        ck_assert_ptr_nonnull(strstr(error.text, words[i]));
        ck_assert_uint_eq(discarding.rows, 0);
        ck_assert_uint_eq(discarding.away, NH_AWAY_NONE);
    }
    nh_list *with_jokers =
        read_list("{'format':1,'title':'a','hand':14,'tiles':{'jokers':8},'patterns':"
                  "[{'name':'a','groups':[{'pung':'any','times':4},{'pair':'any'}]},"
                  "{'name':'b','groups':[{'kong':'south'},{'pung':'red'},"
                  "{'kong':'east'},{'kong':'west'}]}]}");
    nh_workspace *other = new_workspace(with_jokers);
    ck_assert_int_eq(nh_discard(other, &joker, NULL, &choice, 1, &discarding, &error), NH_OK);
    ck_assert_uint_eq(discarding.rows, 0); /* jokers are never discarded */
    ck_assert_uint_eq(discarding.discards, 0);
    ck_assert_uint_eq(discarding.away, 13);
    const nh_tiles more = tiles_of("1111B 222B 333B 444B EE"); /* one tile more than a target */
    ck_assert_int_eq(nh_discard(other, &more, NULL, &choice, 1, &discarding, &error), NH_OK);
    ck_assert_uint_eq(discarding.away, 0);
    ck_assert(!discarding.complete);
    nh_workspace_free(other);
    nh_list_free(with_jokers);
}
END_TEST

/* A choice as a later version has it. */
struct later_choice {
    nh_discard_choice known;
    uint64_t more;
};

START_TEST(programs_of_other_versions_get_what_they_know) {
    enum { EARLIER = offsetof(nh_discard_choice, expected) };
    const nh_tiles hand = tiles_of(hand_text);
    nh_discard_choice plain[NH_DISCARDS_MAX];
    struct later_choice later[NH_DISCARDS_MAX];
    unsigned char earlier[NH_DISCARDS_MAX][EARLIER];
    nh_discarding discarding;
    nh_discard_question question = NH_DISCARD_QUESTION;
    ck_assert_int_eq(nh_discard(workspace, &hand, NULL, plain, NH_DISCARDS_MAX, &discarding, NULL),
                     NH_OK);
    question.choice_size = sizeof *later;
    memset(later, 0xA5, sizeof later);
    ck_assert_int_eq(
        nh_discard(workspace, &hand, &question, &later->known, NH_DISCARDS_MAX, &discarding, NULL),
        NH_OK);
    question.choice_size = EARLIER;
    ck_assert_int_eq(nh_discard(workspace, &hand, &question, (nh_discard_choice *)(void *)earlier,
                                NH_DISCARDS_MAX, &discarding, NULL),
                     NH_OK);
    for (size_t i = 0; i < discarding.rows; i++) {
        ck_assert_uint_eq(later[i].known.expected, plain[i].expected);
        ck_assert_uint_eq(later[i].more, 0);
        ck_assert_mem_eq(earlier[i], &plain[i], EARLIER);
    }
}
END_TEST

START_TEST(cancelled_discards_end) {
    const nh_tiles hand = tiles_of(hand_text);
    nh_error error;
    nh_cancel *cancel = NULL;
    nh_discard_choice choice;
    nh_discarding discarding;
    nh_discard_question question = NH_DISCARD_QUESTION;
    ck_assert_int_eq(nh_cancel_new(NULL, &cancel), NH_OK);
    question.cancel = cancel;
    nh_cancel_now(cancel);
    ck_assert_int_eq(nh_discard(workspace, &hand, &question, &choice, 1, &discarding, &error),
                     NH_ERROR_CANCELLED);
    ck_assert_uint_eq(discarding.rows, 0);
    ck_assert_str_eq(error.text, "the work was cancelled");
    nh_discard_hands batch = NH_DISCARD_HANDS;
    nh_status status = NH_OK;
    batch.hands = &hand;
    batch.hand_count = 1;
    batch.question = &question;
    batch.discardings = &discarding;
    batch.statuses = &status;
    ck_assert_int_eq(nh_discard_batch(list, &batch, &error), NH_ERROR_CANCELLED);
    ck_assert_int_eq(status, NH_ERROR_CANCELLED);
    nh_cancel_clear(cancel);
    ck_assert_int_eq(nh_discard(workspace, &hand, &question, &choice, 1, &discarding, &error),
                     NH_OK);
    nh_cancel_free(cancel);
}
END_TEST

static void *cancel_soon(void *cancel) {
    usleep(20000);
    nh_cancel_now(cancel);
    return NULL;
}

/* Another thread stops a batch that would take long; what was not reached says so. */
START_TEST(cancelled_batches_end) {
    enum { MANY = 200000 };
    nh_tiles *hands = calloc(MANY, sizeof *hands);
    nh_discarding *discardings = calloc(MANY, sizeof *discardings);
    nh_status *statuses = calloc(MANY, sizeof *statuses);
    nh_cancel *cancel = NULL;
    pthread_t thread;
    size_t answered = 0;
    ck_assert(hands != NULL && discardings != NULL && statuses != NULL);
    ck_assert_int_eq(nh_cancel_new(NULL, &cancel), NH_OK);
    for (unsigned i = 0; i < MANY; i++)
        hands[i] = deal(list, i);
    nh_discard_question question = NH_DISCARD_QUESTION;
    question.cancel = cancel;
    nh_discard_hands batch = NH_DISCARD_HANDS;
    batch.hands = hands;
    batch.hand_count = MANY;
    batch.discardings = discardings;
    batch.statuses = statuses;
    batch.question = &question;
    batch.jobs = 2;
    ck_assert_int_eq(pthread_create(&thread, NULL, cancel_soon, cancel), 0);
    ck_assert_int_eq(nh_discard_batch(list, &batch, NULL), NH_ERROR_CANCELLED);
    pthread_join(thread, NULL);
    for (size_t i = 0; i < MANY; i++) {
        ck_assert(statuses[i] == NH_OK || statuses[i] == NH_ERROR_CANCELLED);
        ck_assert(statuses[i] == NH_OK || discardings[i].away == NH_AWAY_NONE);
        answered += statuses[i] == NH_OK;
    }
    ck_assert_uint_lt(answered, MANY);
    nh_cancel_free(cancel);
    free(hands);
    free(discardings);
    free(statuses);
}
END_TEST

/* An allocator of which a call fails, and all that follow. */
struct failing {
    size_t calls, fail_at, blocks;
};

static void *resize_or_fail(void *context, void *pointer, size_t size) {
    struct failing *failing = context;
    if (failing->calls++ >= failing->fail_at)
        return NULL;
    failing->blocks += pointer == NULL;
    return realloc(pointer, size);
}

static void release_block(void *context, void *pointer) {
    struct failing *failing = context;
    failing->blocks -= pointer != NULL;
    free(pointer);
}

/* One thread with its memory is enough for every answer. */
START_TEST(batches_bear_failures) {
    enum { FEW = 6 };
    nh_tiles hands[FEW];
    nh_discard_choice wanted[FEW], choices[FEW];
    nh_discarding discardings[FEW];
    bool whole = false;
    size_t refused = 0;
    nh_discard_hands batch = NH_DISCARD_HANDS;
    for (unsigned i = 0; i < FEW; i++) {
        nh_discarding discarding;
        hands[i] = deal(list, i);
        ck_assert_int_eq(nh_discard(workspace, &hands[i], NULL, &wanted[i], 1, &discarding, NULL),
                         NH_OK);
    }
    batch.hands = hands;
    batch.hand_count = FEW;
    batch.discardings = discardings;
    batch.choices = choices;
    batch.top = 1;
    batch.jobs = 2;
    for (size_t at = 0; !whole; at++) {
        struct failing failing = {.fail_at = at};
        nh_allocator allocator = {resize_or_fail, release_block, &failing};
        batch.allocator = &allocator;
        nh_status status = nh_discard_batch(list, &batch, NULL);
        whole = failing.calls <= at;
        ck_assert(status == NH_OK || (!whole && status == NH_ERROR_MEMORY));
        refused += status == NH_ERROR_MEMORY;
        for (size_t i = 0; status == NH_OK && i < FEW; i++)
            ck_assert(choices[i].kind == wanted[i].kind &&
                      choices[i].expected == wanted[i].expected);
        ck_assert_uint_eq(failing.blocks, 0);
    }
    ck_assert_uint_gt(refused, 1);
}
END_TEST

START_TEST(batches_refuse_what_is_wrong_for_all) {
    const nh_tiles hand = tiles_of(hand_text);
    nh_error error;
    nh_discarding discarding;
    nh_situation situation = NH_SITUATION;
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_discard_hands batch = {0};
    expect_words(nh_discard_batch(list, &batch, &error), &error, "start from NH_DISCARD_HANDS");
    batch = (nh_discard_hands)NH_DISCARD_HANDS;
    batch.hands = &hand;
    batch.hand_count = 1;
    batch.question = &question;
    expect_words(nh_discard_batch(list, &batch, &error), &error, "discardings is NULL");
    batch.discardings = &discarding;
    batch.top = 1;
    expect_words(nh_discard_batch(list, &batch, &error), &error, "choices is NULL");
    question.look = 9;
    expect_words(nh_discard_batch(list, &batch, &error), &error, "look is 9; 1 to 3");
    question.look = 1;
    batch.top = 0;
    question.situation = &situation;
    situation.prevailing = (nh_wind)9;
    expect_words(nh_discard_batch(list, &batch, &error), &error, "the prevailing wind is 9");
}
END_TEST

/* The same pattern two thousand times, and near in many ways: all discards are too much,
 * and the workspace serves on. */
START_TEST(too_much_work_is_refused) {
    enum { SAME = 2000 };
    static char json[400000];
    size_t length = (size_t)snprintf(
        json, sizeof json,
        "{\"format\":1,\"title\":\"a\",\"hand\":14,\"tiles\":{\"jokers\":8,\"flowers\":8},"
        "\"patterns\":[");
    for (int i = 0; i < SAME; i++)
        length += (size_t)snprintf(
            json + length, sizeof json - length,
            "%s{\"name\":\"p%d\",\"groups\":[{\"pung\":\"a\",\"suit\":\"x\"},{\"pung\":\"b\","
            "\"suit\":\"x\"},{\"pung\":\"a\",\"suit\":\"y\"},{\"pung\":\"b\",\"suit\":\"y\"},"
            "{\"pair\":\"flower\"}]}",
            i > 0 ? "," : "", i);
    length += (size_t)snprintf(json + length, sizeof json - length, "]}");
    nh_list *heavy = NULL;
    ck_assert_int_eq(nh_list_read(json, length, NULL, &heavy, NULL), NH_OK);
    nh_workspace *other = new_workspace(heavy);
    const nh_tiles hand = tiles_of("FF JJJ EEE SSS WWW"), light = tiles_of("FF");
    nh_discard_choice choice;
    nh_discarding discarding;
    nh_error error;
    nh_discard_question question = NH_DISCARD_QUESTION;
    ck_assert_int_eq(nh_discard(other, &hand, NULL, &choice, 1, &discarding, &error),
                     NH_ERROR_LIMIT);
    ck_assert_uint_eq(discarding.rows, 0);
    ck_assert_str_eq(error.text, "the discards of this hand take too much work");
    question.look = 1;
    ck_assert_int_eq(nh_discard(other, &light, &question, &choice, 1, &discarding, &error), NH_OK);
    ck_assert_uint_eq(choice.away, 13);
    nh_workspace_free(other);
    nh_list_free(heavy);
}
END_TEST

/* Tests with a name that is their tag too. */
static TCase *add_group(Suite *suite, const char *name) {
    TCase *tcase = tcase_create(name);
    tcase_set_tags(tcase, name);
    tcase_set_timeout(tcase, 0);
    tcase_add_checked_fixture(tcase, set_up, tear_down);
    suite_add_tcase(suite, tcase);
    return tcase;
}

int main(void) {
    Suite *suite = suite_create("discard_call");
    TCase *call = add_group(suite, "call"), *threads = add_group(suite, "threads");
    tcase_add_test(call, null_asks_the_default_question);
    tcase_add_test(call, errors_name_the_wrong_value);
    tcase_add_test(call, hands_that_cannot_be_are_refused);
    tcase_add_test(call, programs_of_other_versions_get_what_they_know);
    tcase_add_test(call, cancelled_discards_end);
    tcase_add_test(call, batches_refuse_what_is_wrong_for_all);
    tcase_add_test(call, too_much_work_is_refused);
    tcase_add_test(threads, cancelled_batches_end);
    tcase_add_test(threads, batches_bear_failures);
    return run_suite(suite);
}
