/* Batches of hands, workspaces in several threads, and another thread that cancels. The
 * answers are those of single calls. See calls.h. */
#define _POSIX_C_SOURCE 200809L
#include "calls.h"

#include <pthread.h>
#include <string.h>

enum { HANDS = 5, TOP = 2 };

/* ----------------------------------------------------- another thread --- */

struct canceller {
    nh_cancel *cancel;
    int turns; /* that it waits */
};

static void *cancel_soon(void *context) {
    const struct canceller *canceller = context;
    for (volatile int i = 0; i < canceller->turns; i++)
        ;
    nh_cancel_now(canceller->cancel);
    return NULL;
}

/* Starts it, now and then. */
static bool begin_cancelling(struct world *world, struct canceller *canceller, pthread_t *thread) {
    if (!one_in(world, 8))
        return false;
    *canceller = (struct canceller){world->cancel, decide(world->decisions, 256) * 200};
    world->cancelled = true;
    MUST(pthread_create(thread, NULL, cancel_soon, canceller) == 0);
    return true;
}

/* ------------------------------------------------------------- batches --- */

struct hands {
    const nh_list *list;
    nh_tiles hand[HANDS];
    size_t count;
    nh_ranked rows[HANDS * TOP];
    nh_ranking rankings[HANDS];
    nh_status statuses[HANDS];
};

static bool same_rows(const nh_ranked *a, const nh_ranked *b, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (a[i].pattern != b[i].pattern || a[i].away != b[i].away ||
            !nh_tiles_equal(&a[i].target, &b[i].target) ||
            nh_natural_compare(&a[i].completing, &b[i].completing) != 0)
            return false;
    return true;
}

/* What a single call says, unless the switch was on in one of the two. */
static void hand_agrees(const struct hands *hands, size_t i, nh_workspace *workspace,
                        const nh_rank_question *question) {
    nh_ranked rows[TOP];
    nh_ranking ranking;
    nh_status status = nh_rank(workspace, &hands->hand[i], question, rows, TOP, &ranking, NULL);
    if (status == NH_ERROR_CANCELLED || hands->statuses[i] == NH_ERROR_CANCELLED)
        return;
    MUST(status == hands->statuses[i] && ranking.rows == hands->rankings[i].rows);
    MUST(ranking.nearest == hands->rankings[i].nearest);
    MUST(same_rows(rows, hands->rows + i * TOP, ranking.rows));
}

static void hands_agree(const struct hands *hands, const nh_rank_question *question) {
    nh_workspace *workspace = NULL;
    MUST(nh_workspace_new(hands->list, NULL, &workspace) == NH_OK);
    for (size_t i = 0; i < hands->count; i++)
        hand_agrees(hands, i, workspace, question);
    nh_workspace_free(workspace);
}

static void rank_many(struct world *world, struct hands *hands) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_rank_hands batch = NH_RANK_HANDS;
    struct canceller canceller;
    pthread_t thread;
    question.cancel = one_in(world, 2) ? world->cancel : NULL;
    question.draws = any_int(world, 0, NH_DRAWS_MAX);
    batch.question = one_in(world, 4) ? NULL : &question;
    batch.hands = hands->hand;
    batch.hand_count = hands->count;
    batch.rows = hands->rows;
    batch.rankings = one_in(world, 32) ? NULL : hands->rankings;
    batch.statuses = hands->statuses;
    batch.top = TOP;
    batch.jobs = (unsigned)any_int(world, 0, 3);
    batch.allocator = &world->allocator;
    if (batch.jobs > 4 && batch.jobs <= NH_JOBS_MAX)
        batch.jobs = NH_JOBS_MAX + 1;
    bool cancelling = begin_cancelling(world, &canceller, &thread);
    nh_status status = nh_rank_batch(hands->list, &batch, error_of(world));
    if (cancelling)
        MUST(pthread_join(thread, NULL) == 0);
    returned(world, status,
             MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT) | MAY(NH_ERROR_MEMORY) | MAY(NH_ERROR_CANCELLED));
    if (status == NH_OK && batch.rankings != NULL)
        hands_agree(hands, batch.question);
}

static void pass_many(struct world *world, struct hands *hands) {
    static nh_choice choices[HANDS * TOP];
    static nh_passing passings[HANDS];
    nh_pass_question question = NH_PASS_QUESTION;
    nh_pass_hands batch = NH_PASS_HANDS;
    struct canceller canceller;
    pthread_t thread;
    question.cancel = one_in(world, 2) ? world->cancel : NULL;
    question.tiles = any_int(world, NH_PASS_AS_LIST, NH_PASS_MAX);
    batch.question = &question;
    batch.hands = hands->hand;
    batch.hand_count = hands->count;
    batch.choices = choices;
    batch.passings = passings;
    batch.top = TOP;
    batch.jobs = (unsigned)decide(world->decisions, 4);
    batch.allocator = &world->allocator;
    bool cancelling = begin_cancelling(world, &canceller, &thread);
    nh_status status = nh_pass_batch(hands->list, &batch, error_of(world));
    if (cancelling)
        MUST(pthread_join(thread, NULL) == 0);
    returned(world, status,
             MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT) | MAY(NH_ERROR_MEMORY) | MAY(NH_ERROR_CANCELLED));
}

static void discard_many(struct world *world, struct hands *hands) {
    static nh_discard_choice choices[HANDS * TOP];
    static nh_discarding discardings[HANDS];
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_discard_hands batch = NH_DISCARD_HANDS;
    question.look = any_int(world, 1, NH_LOOK_MAX);
    question.cancel = one_in(world, 2) ? world->cancel : NULL;
    batch.question = &question;
    batch.hands = hands->hand;
    batch.hand_count = hands->count;
    batch.choices = choices;
    batch.discardings = discardings;
    batch.statuses = hands->statuses;
    batch.top = TOP;
    batch.jobs = (unsigned)decide(world->decisions, 4);
    batch.allocator = &world->allocator;
    nh_status status = nh_discard_batch(hands->list, &batch, error_of(world));
    returned(world, status,
             MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT) | MAY(NH_ERROR_MEMORY) | MAY(NH_ERROR_CANCELLED));
}

/* ---------------------------------------------- a workspace a thread --- */

struct player {
    nh_workspace *workspace;
    nh_tiles hand;
    nh_ranked rows[TOP];
    nh_ranking ranking;
    nh_status status;
};

static void *rank_in_thread(void *context) {
    struct player *player = context;
    player->status =
        nh_rank(player->workspace, &player->hand, NULL, player->rows, TOP, &player->ranking, NULL);
    return NULL;
}

/* Two hands of one list or of two, at once and then one after the other. */
static void rank_at_once(struct world *world) {
    struct player players[2], again;
    pthread_t thread;
    int places[2] = {pick_workspace(world), pick_workspace(world)};
    if (places[0] == NOTHING || places[0] == places[1])
        return;
    for (int i = 0; i < 2; i++) {
        players[i].workspace = world->workspaces[places[i]];
        const nh_list *list = nh_workspace_list(players[i].workspace);
        players[i].hand = any_tiles(world, nh_list_set(list), nh_list_hand_size(list));
    }
    MUST(pthread_create(&thread, NULL, rank_in_thread, &players[0]) == 0);
    rank_in_thread(&players[1]);
    MUST(pthread_join(thread, NULL) == 0);
    for (int i = 0; i < 2; i++) {
        again = players[i];
        rank_in_thread(&again);
        MUST(again.status == players[i].status && again.ranking.rows == players[i].ranking.rows);
        MUST(same_rows(again.rows, players[i].rows, again.ranking.rows));
    }
}

void call_batches(struct world *world) {
    static struct hands hands;
    int place = pick_list(world), way = decide(world->decisions, 8);
    if (way < 2) {
        rank_at_once(world);
        return;
    }
    if (place == NOTHING)
        return;
    hands.list = world->lists[place];
    hands.count = (size_t)decide(world->decisions, HANDS + 1);
    for (size_t i = 0; i < hands.count; i++)
        hands.hand[i] = any_tiles(world, nh_list_set(hands.list), nh_list_hand_size(hands.list));
    if (way < 5)
        rank_many(world, &hands);
    else if (way < 7)
        pass_many(world, &hands);
    else
        discard_many(world, &hands);
}
