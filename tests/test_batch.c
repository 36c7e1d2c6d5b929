/* Passes of many hands in threads: as those of each hand alone. Rankings of many
 * hands are in test_memory.c. */
#define _POSIX_C_SOURCE 200809L
#include "ask.h"
#include "sharing.h"

#include <pthread.h>

#define BATCH 12
#define TOP 3
#define TILES 3

struct batch {
    nh_tiles hands[BATCH];
    nh_choice choices[BATCH * TOP];
    nh_passing passings[BATCH];
    nh_status statuses[BATCH];
};

static void deal_batch(const nh_list *list, struct batch *batch) {
    memset(batch, 0xA5, sizeof *batch);
    for (unsigned i = 0; i < BATCH; i++)
        batch->hands[i] = deal(list, i);
}

static nh_status pass_batch(const nh_list *list, const nh_allocator *allocator, unsigned jobs,
                            struct batch *batch) {
    nh_situation situation = NH_SITUATION;
    return ask_pass_batch(list, allocator, batch->hands, BATCH, &situation, TILES, NULL, TOP, jobs,
                          batch->choices, batch->passings, batch->statuses);
}

static nh_status pass_alone(nh_workspace *workspace, const nh_tiles *hand, nh_choice *choices,
                            nh_passing *passing) {
    nh_situation situation = NH_SITUATION;
    return ask_pass(workspace, hand, &situation, TILES, NULL, choices, TOP, passing, NULL);
}

static bool same_choice(const nh_choice *a, const nh_choice *b) {
    return nh_tiles_equal(&a->pass, &b->pass) && a->away == b->away && a->nearest == b->nearest &&
           a->within_one == b->within_one && a->expected == b->expected && a->nearer == b->nearer;
}

static bool same_passing(const nh_passing *a, const nh_passing *b) {
    return a->away == b->away && a->unseen == b->unseen && a->draws == b->draws &&
           a->passes == b->passes && a->rows == b->rows;
}

/* Whether hand i of the batch has the answer that it has alone. */
static bool same_answer(nh_workspace *workspace, const struct batch *batch, int i) {
    nh_choice choices[TOP];
    nh_passing passing;
    bool same = batch->statuses[i] == NH_OK &&
                pass_alone(workspace, &batch->hands[i], choices, &passing) == NH_OK;
    same = same && passing.rows == TOP && same_passing(&batch->passings[i], &passing);
    for (int row = 0; same && row < TOP; row++)
        same = same_choice(&batch->choices[i * TOP + row], &choices[row]);
    return same;
}

static void assert_batch(const nh_list *list, const struct batch *batch, int except) {
    nh_workspace *workspace = new_workspace(list);
    for (int i = 0; i < BATCH; i++)
        ck_assert_msg(i == except || same_answer(workspace, batch, i), "hand %d", i);
    nh_workspace_free(workspace);
}

START_TEST(batches_answer_as_single_calls) {
    static const unsigned jobs[] = {1, 2, 5, 0, NH_JOBS_MAX};
    static struct batch batch;
    nh_list *list = read_list(wide_list);
    for (size_t i = 0; i < sizeof jobs / sizeof *jobs; i++) {
        deal_batch(list, &batch);
        ck_assert_int_eq(pass_batch(list, NULL, jobs[i], &batch), NH_OK);
        assert_batch(list, &batch, -1);
    }
    nh_list_free(list);
}
END_TEST

START_TEST(batches_go_on_past_a_bad_hand) {
    enum { BAD = 7 };
    static struct batch batch;
    nh_list *list = read_list(wide_list);
    deal_batch(list, &batch);
    batch.hands[BAD].count[NH_EAST] = 5;
    ck_assert_int_eq(pass_batch(list, NULL, 2, &batch), NH_OK);
    assert_batch(list, &batch, BAD);
    ck_assert_int_eq(batch.statuses[BAD], NH_ERROR_TILES);
    ck_assert_uint_eq(batch.passings[BAD].rows, 0);
    ck_assert_uint_eq(batch.passings[BAD].passes, 0);
    ck_assert_uint_eq(batch.passings[BAD].away, NH_AWAY_NONE);
    nh_list_free(list);
}
END_TEST

START_TEST(batches_may_leave_out_choices_and_statuses) {
    static struct batch batch;
    nh_situation situation = NH_SITUATION;
    nh_list *list = read_list(wide_list);
    deal_batch(list, &batch);
    ck_assert_int_eq(ask_pass_batch(list, NULL, batch.hands, BATCH, &situation, TILES, NULL, 0, 2,
                                    NULL, batch.passings, NULL),
                     NH_OK);
    for (int i = 0; i < BATCH; i++) {
        ck_assert_uint_eq(batch.passings[i].rows, 0);
        ck_assert_uint_gt(batch.passings[i].passes, TOP);
    }
    nh_list_free(list);
}
END_TEST

START_TEST(batches_of_nothing_and_of_too_many_jobs) {
    static struct batch batch;
    nh_situation situation = NH_SITUATION;
    nh_list *list = read_list(wide_list);
    deal_batch(list, &batch);
    ck_assert_int_eq(pass_batch(list, NULL, NH_JOBS_MAX + 1, &batch), NH_ERROR_ARGUMENT);
    ck_assert_int_eq(
        ask_pass_batch(list, NULL, NULL, 0, &situation, TILES, NULL, 0, 0, NULL, NULL, NULL),
        NH_OK);
    nh_list_free(list);
}
END_TEST

/* Hands that have no pass at all are answered soon. */
START_TEST(batches_of_more_hands_than_threads) {
    enum { MANY = NH_JOBS_MAX + 76 };
    static const nh_tiles hands[MANY];
    static nh_passing passings[MANY];
    static nh_status statuses[MANY];
    nh_situation situation = NH_SITUATION;
    nh_list *list = read_list(wide_list);
    ck_assert_int_eq(ask_pass_batch(list, NULL, hands, MANY, &situation, TILES, NULL, 0, 2, NULL,
                                    passings, statuses),
                     NH_OK);
    for (int i = 0; i < MANY; i++) {
        ck_assert_int_eq(statuses[i], NH_ERROR_TILES);
        ck_assert_uint_eq(passings[i].away, NH_AWAY_NONE);
    }
    nh_list_free(list);
}
END_TEST

/* One thread with its memory is enough for every answer. */
START_TEST(batches_bear_failures) {
    enum { FEW = 2 };
    static struct batch batch;
    nh_list *list = read_list(wide_list);
    nh_workspace *workspace = new_workspace(list);
    bool whole = false;
    size_t refused = 0;
    deal_batch(list, &batch);
    for (size_t failing = 0; !whole; failing++) {
        struct counting counting = {.fail_at = failing, .fail_on = true};
        nh_allocator allocator = counted_by(&counting);
        nh_situation situation = NH_SITUATION;
        nh_status status =
            ask_pass_batch(list, &allocator, batch.hands, FEW, &situation, TILES, NULL, TOP, 3,
                           batch.choices, batch.passings, batch.statuses);
        whole = counting.calls <= failing;
        ck_assert(status == NH_OK || (!whole && status == NH_ERROR_MEMORY));
        refused += status == NH_ERROR_MEMORY;
        for (int i = 0; status == NH_OK && i < FEW; i++)
            ck_assert(same_answer(workspace, &batch, i));
        ck_assert_uint_eq(counting.blocks, 0);
    }
    ck_assert_uint_gt(refused, 1);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* A thread that asks for passes, and looks ahead, beside others. */
struct player {
    const nh_list *list;
    const struct batch *batch;
    nh_ahead expected;
    int differs; /* checks are counted, not asserted: assertions are for one thread */
};

static nh_status look_ahead(nh_workspace *workspace, const nh_tiles *hand, const nh_tiles *pass,
                            nh_ahead *ahead) {
    nh_situation situation = NH_SITUATION;
    return ask_ahead(workspace, hand, &situation, pass, 1, NULL, 1, 0, 2, ahead, NULL);
}

static void *play(void *argument) {
    struct player *player = argument;
    nh_workspace *workspace = NULL;
    nh_ahead ahead;
    if (nh_workspace_new(player->list, NULL, &workspace) != NH_OK) {
        player->differs = BATCH;
        return NULL;
    }
    for (int i = 0; i < BATCH; i++)
        player->differs += !same_answer(workspace, player->batch, i);
    nh_status status =
        look_ahead(workspace, &player->batch->hands[0], &player->batch->choices[0].pass, &ahead);
    player->differs += status != NH_OK || ahead.sum != player->expected.sum ||
                       ahead.courses != player->expected.courses;
    nh_workspace_free(workspace);
    return NULL;
}

START_TEST(threads_share_a_list) {
    enum { THREADS = 3 };
    static struct batch batch;
    nh_list *list = read_list(wide_list);
    nh_workspace *workspace = new_workspace(list);
    struct player players[THREADS];
    pthread_t threads[THREADS];
    nh_ahead expected;
    deal_batch(list, &batch);
    ck_assert_int_eq(pass_batch(list, NULL, 1, &batch), NH_OK);
    ck_assert_int_eq(look_ahead(workspace, &batch.hands[0], &batch.choices[0].pass, &expected),
                     NH_OK);
    for (int i = 0; i < THREADS; i++) {
        players[i] = (struct player){list, &batch, expected, 0};
        ck_assert_int_eq(pthread_create(&threads[i], NULL, play, &players[i]), 0);
    }
    for (int i = 0; i < THREADS; i++) {
        ck_assert_int_eq(pthread_join(threads[i], NULL), 0);
        ck_assert_int_eq(players[i].differs, 0);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("batch");
    ADD_TESTS(suite, "threads", batches_answer_as_single_calls, batches_go_on_past_a_bad_hand,
              batches_may_leave_out_choices_and_statuses, batches_of_nothing_and_of_too_many_jobs,
              batches_of_more_hands_than_threads, batches_bear_failures);
    ADD_TESTS(suite, "shared", threads_share_a_list);
    return run_suite(suite);
}
