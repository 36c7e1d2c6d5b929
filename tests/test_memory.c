/* What callers share and supply: memory from an allocator of theirs, each of
 * whose calls may fail, and one list for several threads. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "ask.h"
#include "narrow_list.h"
#include "sharing.h"

#include <pthread.h>

/* Mistakes outside and inside of patterns, and a name that stands twice. */
static const char mistaken_list[] =
    "{'format': 2, 'title': 'Wrong Turn List', 'hand': 5, 'patterns': [\n"
    "  {'name': 'Ebb', 'groups': [{'pung': 1}, {'pear': 2}]},\n"
    "  {'name': 'Ebb', 'points': 'many', 'groups': [{'pung': 'red'}, {'pair': 'east'}]}\n"
    "]}\n";

#define MISTAKEN 6

/* -------------------------------------------------------------- memory --- */

START_TEST(lists_and_workspaces_use_the_allocator) {
    struct counting of_list = {.fail_at = NEVER}, of_workspace = {.fail_at = NEVER};
    nh_allocator list_memory = counted_by(&of_list), workspace_memory = counted_by(&of_workspace);
    nh_list *list = NULL;
    nh_workspace *workspace = NULL;
    ck_assert_int_eq(try_list(wide_list, &list_memory, &list, NULL), NH_OK);
    ck_assert_uint_gt(of_list.blocks, 0);
    ck_assert_int_eq(nh_workspace_new(list, &workspace_memory, &workspace), NH_OK);
    ck_assert_uint_gt(of_workspace.blocks, 0);
    nh_workspace_free(workspace);
    ck_assert_uint_eq(of_workspace.blocks, 0);
    nh_list_free(list);
    ck_assert_uint_eq(of_list.blocks, 0);
}
END_TEST

START_TEST(ranking_takes_no_memory) {
    struct counting counting = {.fail_at = NEVER};
    nh_allocator allocator = counted_by(&counting);
    nh_list *list = NULL;
    nh_workspace *workspace = NULL;
    ck_assert_int_eq(try_list(wide_list, &allocator, &list, NULL), NH_OK);
    ck_assert_int_eq(nh_workspace_new(list, &allocator, &workspace), NH_OK);
    size_t calls = counting.calls, releases = counting.releases;
    nh_tiles hand = tiles_of("2468B 246C 33D EEW R J");
    nh_situation situation = NH_SITUATION;
    situation.seen = tiles_of("FF 99D J");
    nh_ranked rows[WIDE_PATTERNS];
    nh_ranking ranking;
    uint8_t away[WIDE_PATTERNS];
    ck_assert_int_eq(ask_rank(workspace, &hand, &situation, NH_DRAWS_DEFAULT, NULL, rows,
                              WIDE_PATTERNS, &ranking, NULL),
                     NH_OK);
    ck_assert_uint_eq(ranking.rows, WIDE_PATTERNS);
    ck_assert_int_eq(nh_distances(workspace, &hand, &situation, away, NULL), NH_OK);
    for (size_t i = 0; i < WIDE_PATTERNS; i++)
        ck_assert_uint_eq(away[rows[i].pattern], rows[i].away);
    ck_assert_uint_eq(counting.calls, calls);
    ck_assert_uint_eq(counting.releases, releases);
    nh_workspace_free(workspace);
    nh_list_free(list);
    ck_assert_uint_eq(counting.blocks, 0);
}
END_TEST

/* Reads with allocation number `failing` failing, alone or with all after it;
 * true when the reading did not come to it. Memory that is short is told as
 * such, and nothing is lost. */
static bool read_failing(const char *json, size_t failing, bool fail_on) {
    struct counting counting = {.fail_at = failing, .fail_on = fail_on};
    nh_allocator allocator = counted_by(&counting);
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    nh_status status = try_list(json, &allocator, &list, &mistakes);
    bool whole = counting.calls <= failing;
    ck_assert_msg(status == (whole ? NH_OK : NH_ERROR_MEMORY), "allocation %zu fails: %s", failing,
                  nh_status_text(status));
    ck_assert_ptr_null(mistakes);
    ck_assert_int_eq(list != NULL, whole);
    nh_list_free(list);
    ck_assert_msg(counting.blocks == 0, "allocation %zu fails: %zu blocks are lost", failing,
                  counting.blocks);
    return whole;
}

/* More letters than are gone through one by one; limits that split what groups can be, in a
 * variant with more than its groups; groups whose choices differ. */
static const char lettered_list[] =
    "{'format': 1, 'title': 'Many Buoys List', 'hand': 5, 'patterns': [\n"
    "  {'name': 'Letters', 'groups': [{'single': 'a', 'suit': 'x'}, {'single': ['b', 'b+1'], "
    "'suit': 'x'}, {'single': 'c', 'suit': 'y'}, {'pair': 'd', 'suit': 'y'}]}]}\n";
static const char limited_list[] =
    "{'format': 1, 'title': 'Marked Channel List', 'hand': 4, 'patterns': [\n"
    "  {'name': 'Limits', 'variants': [{'groups': [{'single': 'any', 'times': 4}],\n"
    "    'limits': {'suits': [0, 2], 'least': {'terminal': 1, 'wind': 1},"
    " 'most': {'simple': 2}}, 'note': 'near the shore'},\n"
    "    {'groups': [{'pair': 'a', 'suit': 'x'}, {'pair': 'b', 'suit': 'y'}], 'letters': {'a': [1, "
    "2], 'b': [3, 4]}}]}]}\n";
static const char distinct_list[] =
    "{'format': 1, 'title': 'Two Lights List', 'hand': 6, 'tiles': {'jokers': 2}, 'patterns': [\n"
    "  {'name': 'Apart', 'groups': [{'one_of': [{'pung': [1, 2, 3], 'suit': 'bam'},\n"
    "    [{'pair': 'wind'}, {'single': 'red'}]], 'times': 2, 'distinct': true}]}]}\n";

static const char *const read_lists[] = {narrow_list, lettered_list, limited_list, distinct_list};
#define READ_LISTS (sizeof read_lists / sizeof *read_lists)

START_TEST(reading_bears_one_failure) {
    for (size_t i = 0; i < READ_LISTS; i++) {
        size_t failing = 0;
        while (!read_failing(read_lists[i], failing, false))
            failing++;
        ck_assert_uint_gt(failing, i == 0 ? 100 : 50);
    }
}
END_TEST

START_TEST(reading_bears_memory_running_out) {
    for (size_t i = 0; i < READ_LISTS; i++) {
        size_t failing = 0;
        while (!read_failing(read_lists[i], failing, true))
            failing++;
        ck_assert_uint_gt(failing, i == 0 ? 100 : 50);
    }
}
END_TEST

/* The first failures, and from there on ever fewer of them. */
START_TEST(reading_at_length_bears_failures) {
    size_t failing = 0;
    while (!read_failing(wide_list, failing, false))
        failing += 1 + failing / 20;
    ck_assert_uint_gt(failing, 500);
}
END_TEST

/* Patterns without a target, which are reported once all is worked out. */
static const char hopeless_list[] =
    "{'format': 1, 'title': 'Low Tide List', 'hand': 5, 'patterns': [\n"
    "  {'name': 'Reef', 'groups': [{'quint': 1, 'suit': 'bam'}]},\n"
    "  {'name': 'Bar', 'groups': [{'pung': 1, 'suit': 'bam'}, {'pair': 1, 'suit': 'bam'}]},\n"
    "  {'name': 'Ebb', 'groups': [{'pung': 1, 'suit': 'bam'}, {'pair': 'red'}]},\n"
    "  {'name': 'Sand', 'groups': [{'quint': 'n', 'suit': 'x'}]},\n"
    "  {'name': 'Mud', 'groups': [{'quint': 'any'}]}]}\n";

/* A list with mistakes stays one, or memory is short; a report comes with the
 * first only. */
static void assert_reports(const char *json, size_t least) {
    bool whole = false;
    for (size_t failing = 0; !whole; failing++) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_list *list = NULL;
        nh_mistakes *mistakes = NULL;
        nh_status status = try_list(json, &allocator, &list, &mistakes);
        ck_assert_ptr_null(list);
        ck_assert(status == NH_ERROR_LIST || status == NH_ERROR_MEMORY);
        ck_assert_int_eq(mistakes != NULL, status == NH_ERROR_LIST);
        whole = counting.calls <= failing;
        if (whole)
            ck_assert_uint_eq(nh_mistakes_size(mistakes), least);
        nh_mistakes_free(mistakes);
        ck_assert_uint_eq(counting.blocks, 0);
    }
}

START_TEST(reports_bear_failures) {
    assert_reports(mistaken_list, MISTAKEN);
    assert_reports(hopeless_list, 4);
}
END_TEST

/* So many patterns that each array of them is a block of memory of its own:
 * only such blocks fail. */
START_TEST(long_lists_bear_failures) {
    static char text[60000];
    size_t at = (size_t)snprintf(text, sizeof text,
                                 "{\"format\":1,\"title\":\"Long Shore List\",\"hand\":2,"
                                 "\"patterns\":[");
    for (int i = 0; i < 400; i++)
        at += (size_t)snprintf(text + at, sizeof text - at,
                               "%s{\"name\":\"%d\",\"groups\":[{\"pair\":%d,\"suit\":\"bam\"}]}",
                               i == 0 ? "" : ",", i, i % 9 + 1);
    at += (size_t)snprintf(text + at, sizeof text - at, "]}");
    ck_assert_uint_lt(at, sizeof text - 1);
    nh_status status = NH_ERROR_MEMORY;
    size_t failing = 0;
    for (; status != NH_OK; failing++) {
        struct counting counting = {.fail_at = failing, .least = 8000};
        nh_allocator allocator = counted_by(&counting);
        nh_list *list = NULL;
        status = nh_list_read(text, at, &allocator, &list, NULL);
        ck_assert_int_eq(status == NH_OK, counting.calls <= failing);
        ck_assert(status == NH_OK || status == NH_ERROR_MEMORY);
        nh_list_free(list);
        ck_assert_uint_eq(counting.blocks, 0);
    }
    ck_assert_uint_gt(failing, 10);
}
END_TEST

/* A file that is not there is reported, or memory is short. */
START_TEST(missing_files_bear_failures) {
    nh_status status = NH_ERROR_MEMORY;
    for (size_t failing = 0; status != NH_ERROR_FILE || failing < 4; failing++) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_list *list = NULL;
        nh_mistakes *mistakes = NULL;
        status = nh_list_load("/no/such/list.json", &allocator, &list, &mistakes);
        ck_assert(status == NH_ERROR_FILE || (failing == 0 && status == NH_ERROR_MEMORY));
        ck_assert_int_eq(mistakes != NULL, status == NH_ERROR_FILE);
        nh_mistakes_free(mistakes);
        ck_assert_uint_eq(counting.blocks, 0);
    }
}
END_TEST

START_TEST(loading_bears_failures) {
    char path[] = "/tmp/nearhand-test-XXXXXX";
    write_list(path, narrow_list);
    nh_status status = NH_ERROR_MEMORY;
    for (size_t failing = 0; status != NH_OK; failing++) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_list *list = NULL;
        status = nh_list_load(path, &allocator, &list, NULL);
        ck_assert(status == NH_OK || status == NH_ERROR_MEMORY);
        nh_list_free(list);
        ck_assert_uint_eq(counting.blocks, 0);
    }
    ck_assert_int_eq(unlink(path), 0);
}
END_TEST

START_TEST(workspaces_bear_failures) {
    nh_list *list = read_list(wide_list);
    nh_status status = NH_ERROR_MEMORY;
    size_t failing = 0;
    for (; status != NH_OK; failing++) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_workspace *workspace = NULL;
        status = nh_workspace_new(list, &allocator, &workspace);
        ck_assert(status == NH_OK || status == NH_ERROR_MEMORY);
        ck_assert_int_eq(workspace != NULL, status == NH_OK);
        nh_workspace_free(workspace);
        ck_assert_uint_eq(counting.blocks, 0);
    }
    ck_assert_uint_gt(failing, 1);
    nh_list_free(list);
}
END_TEST

START_TEST(switches_bear_failures) {
    for (size_t failing = 0; failing < 2; failing++) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_cancel *cancel;
        ck_assert_int_eq(nh_cancel_new(&allocator, &cancel),
                         failing == 0 ? NH_ERROR_MEMORY : NH_OK);
        ck_assert_int_eq(cancel == NULL, failing == 0);
        nh_cancel_free(cancel);
        ck_assert_uint_eq(counting.blocks, 0);
    }
}
END_TEST

START_TEST(ways_bear_failures) {
    nh_list *list = read_list(narrow_list);
    nh_workspace *workspace = new_workspace(list);
    for (size_t failing = 0; failing < 3; failing++) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_way_player *player;
        nh_error error = {NH_OK, 0, ""};
        ck_assert_int_eq(nh_way_player_new(workspace, NULL, &allocator, &player, &error),
                         failing < 2 ? NH_ERROR_MEMORY : NH_OK);
        ck_assert_int_eq(player == NULL, failing < 2);
        if (failing < 2)
            ck_assert_str_eq(error.text, nh_status_text(NH_ERROR_MEMORY));
        nh_way_player_free(player);
        ck_assert_uint_eq(counting.blocks, 0);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* Hands of pungs, claimed whatever for, after a look at what is left then. */
static const char pung_list[] =
    "{'format': 1, 'title': 'Low Pier List', 'hand': 8, 'tiles': {'jokers': 8}, 'charleston': "
    "{'tiles': 1, 'rounds': [['left']]}, 'patterns': [\n"
    "  {'name': 'Pungs', 'groups': [{'pung': 'any'}, {'pung': 'any'}, {'pair': 'any'}]}]}\n";

static nh_status pass_first(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    int kind = 0;
    (void)context, (void)error;
    while (view->hand.count[kind] == 0)
        kind++;
    move->tiles.count[kind] = 1;
    return NH_OK;
}

static nh_status claim_pungs(void *context, const nh_game_view *view, nh_game_move *move,
                             nh_error *error) {
    nh_workspace *workspace;
    (void)context;
    if (view->in_turn) {
        move->act = NH_ACT_DISCARD;
        while (view->hand.count[move->kind] == 0)
            move->kind++;
        return NH_OK;
    }
    const int own = view->hand.count[view->tile] < 2 ? view->hand.count[view->tile] : 2;
    if (own + view->hand.count[NH_JOKER] < 2)
        return NH_OK;
    move->act = NH_ACT_CLAIM;
    move->set = (nh_set){NH_PUNG, view->tile, 3, (uint8_t)(2 - own)};
    if (view->turn % 2 != 0) /* else the game has to find it */
        return NH_OK;
    nh_status status = nh_game_with_set(view, &move->set, &workspace, error);
    ck_assert_int_eq(workspace != NULL, status == NH_OK);
    return status;
}

/* Ends, with whatever allocation failing; the game can be played again after that. */
START_TEST(games_bear_failures) {
    nh_list *list = read_list(pung_list);
    nh_game_end whole_end = {.turns = 0};
    size_t failing = 0, unmade = 0;
    for (bool whole = false; !whole; failing += 1 + failing / 16) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_game *game = NULL;
        nh_game_end end;
        nh_status status = nh_game_new(list, &allocator, &game);
        ck_assert_int_eq(game != NULL, status == NH_OK);
        unmade += game == NULL;
        ck_assert(status == NH_OK || status == NH_ERROR_MEMORY);
        for (int seat = 0; game != NULL && seat < NH_SEATS; seat++)
            nh_game_seat(game, seat, pass_first, NULL, claim_pungs, NULL);
        if (game != NULL) {
            status = nh_game_run(game, 2, 1, &end, sizeof end, NULL);
            whole = counting.calls <= failing;
            ck_assert_int_eq(status, whole ? NH_OK : NH_ERROR_MEMORY);
            ck_assert_int_eq(nh_game_run(game, 2, 1, &end, sizeof end, NULL), NH_OK);
            whole_end.turns = whole_end.turns == 0 ? end.turns : whole_end.turns;
            ck_assert_uint_eq(end.turns, whole_end.turns);
        }
        nh_game_free(game);
        ck_assert_uint_eq(counting.blocks, 0);
    }
    ck_assert_uint_gt(unmade, 2);
    ck_assert_uint_gt(failing, 300);
    nh_list_free(list);
}
END_TEST

START_TEST(tables_and_players_bear_failures) {
    nh_list *list = read_list(wide_list);
    nh_workspace *workspace = new_workspace(list);
    for (size_t failing = 0; failing < 3; failing++) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_table *table = NULL;
        nh_exact_player *player = NULL;
        ck_assert_int_eq(nh_table_new(list, &allocator, &table),
                         failing == 0 ? NH_ERROR_MEMORY : NH_OK);
        ck_assert_int_eq(nh_exact_player_new(workspace, &allocator, &player),
                         failing == 1 ? NH_ERROR_MEMORY : NH_OK);
        ck_assert_int_eq(table == NULL, failing == 0);
        ck_assert_int_eq(player == NULL, failing == 1);
        if (failing == 2) {
            ck_assert_int_eq(nh_table_deal(table, 1, 1, NULL), NH_OK);
            for (int seat = 0; seat < NH_SEATS; seat++)
                nh_table_seat(table, seat, nh_exact_play, player);
            while (nh_table_step(table).stage != NH_STAGE_OVER)
                ck_assert_int_eq(nh_table_play(table, NULL), NH_OK);
            ck_assert_uint_eq(counting.calls, 2); /* a game takes no memory */
        }
        nh_table_free(table);
        nh_exact_player_free(player);
        ck_assert_uint_eq(counting.blocks, 0);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

static nh_status audit(const nh_list *list, size_t task) {
    nh_figures count;
    nh_dealt dealt;
    nh_overlap overlap;
    nh_relation relation;
    nh_tiles sample;
    size_t pattern = task % WIDE_PATTERNS;
    switch (task / WIDE_PATTERNS) {
    case 0:
        return ask_figures(list, pattern, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &count);
    case 1:
        return nh_audit_dealt(list, pattern, NULL, &dealt, NULL);
    case 2:
        return nh_audit_overlap(list, pattern, 1, NULL, &overlap, NULL);
    case 3:
        return nh_audit_sample(list, pattern, 0, &sample, NULL);
    default:
        return ask_relation(list, pattern, 1, &relation);
    }
}

START_TEST(audits_bear_failures) {
    struct counting counting = {.fail_at = NEVER};
    nh_allocator allocator = counted_by(&counting);
    nh_list *list = NULL;
    ck_assert_int_eq(try_list(wide_list, &allocator, &list, NULL), NH_OK);
    size_t blocks = counting.blocks;
    for (size_t task = 0; task < 5 * WIDE_PATTERNS; task++) {
        nh_status status = NH_ERROR_MEMORY;
        for (size_t failing = 0; status != NH_OK; failing += 1 + failing / 8) {
            counting.calls = 0;
            counting.fail_at = failing;
            status = audit(list, task);
            ck_assert(status == NH_OK || status == NH_ERROR_MEMORY);
            ck_assert_int_eq(status == NH_OK, counting.calls <= failing);
            ck_assert_uint_eq(counting.blocks, blocks);
        }
    }
    nh_list_free(list);
    ck_assert_uint_eq(counting.blocks, 0);
}
END_TEST

/* The one lies within the two parts of the other together, and in none of them
 * alone: that is found by counting. */
START_TEST(relations_bear_failures) {
    struct counting counting = {.fail_at = NEVER};
    nh_allocator allocator = counted_by(&counting);
    nh_list *list = NULL;
    ck_assert_int_eq(
        try_list("{'format': 1, 'title': 'Two Piers List', 'hand': 4, 'patterns': [\n"
                 " {'name': 'Both', 'groups': [{'pair': [1, 2], 'suit': 'bam'},\n"
                 "   {'pair': 1, 'suit': 'crak'}]},\n"
                 " {'name': 'Each', 'variants': [\n"
                 "   [{'pair': 1, 'suit': 'bam'}, {'pair': [1, 2], 'suit': 'crak'}],\n"
                 "   [{'pair': 2, 'suit': 'bam'}, {'pair': [1, 3], 'suit': 'crak'}]]}]}",
                 &allocator, &list, NULL),
        NH_OK);
    size_t blocks = counting.blocks;
    for (size_t a = 0; a < 2; a++) {
        nh_relation relation = NH_NEITHER;
        nh_status status = NH_ERROR_MEMORY;
        size_t failing = 0;
        for (; status != NH_OK; failing++) {
            counting.calls = 0;
            counting.fail_at = failing;
            status = ask_relation(list, a, 1 - a, &relation);
            ck_assert_int_eq(status, counting.calls <= failing ? NH_OK : NH_ERROR_MEMORY);
            ck_assert_uint_eq(counting.blocks, blocks);
        }
        ck_assert_int_eq(relation, a == 0 ? NH_WITHIN : NH_CONTAINS);
        ck_assert_uint_gt(failing, 10);
    }
    nh_list_free(list);
}
END_TEST

/* All that a reading needs: jokers that can all be hidden, and own tiles. */
START_TEST(readings_bear_failures) {
    nh_list *list = read_list(narrow_list);
    nh_tiles mine = tiles_of("3B 4D");
    nh_read_question question = NH_READ_QUESTION;
    question.mine = &mine;
    nh_status status = NH_ERROR_MEMORY;
    size_t failing = 0;
    for (; status != NH_OK; failing++) {
        struct counting counting = {.fail_at = failing};
        nh_allocator allocator = counted_by(&counting);
        nh_reading *reading = NULL;
        status = nh_read(list, &question, &allocator, &reading, NULL);
        ck_assert_int_eq(status, counting.calls <= failing ? NH_OK : NH_ERROR_MEMORY);
        ck_assert_int_eq(reading != NULL, status == NH_OK);
        nh_reading_free(reading);
        ck_assert_uint_eq(counting.blocks, 0);
    }
    ck_assert_uint_gt(failing, 100);
    nh_list_free(list);
}
END_TEST

static bool count_live(const nh_example *example, void *context) {
    *(int *)context += example->live;
    return true;
}

/* Every allocation of the examples may fail, alone or with all after it. */
static void fail_examples(const char *json, size_t pattern, int examples, bool fail_on) {
    nh_list *list = read_list(json);
    bool whole = false;
    size_t failing = 0;
    for (; !whole; failing += json == narrow_list ? 1 + failing / 40 : 1) {
        struct counting counting = {.fail_at = failing, .fail_on = fail_on};
        nh_allocator allocator = counted_by(&counting);
        int live = 0;
        nh_status status = nh_examples_each(list, pattern, &allocator, count_live, &live, NULL);
        whole = counting.calls <= failing;
        ck_assert_int_eq(status, whole ? NH_OK : NH_ERROR_MEMORY);
        ck_assert(!whole || live == examples);
        ck_assert_uint_eq(counting.blocks, 0);
    }
    ck_assert_uint_gt(failing, 100);
    nh_list_free(list);
}

START_TEST(examples_bear_failures) {
    for (int fail_on = 0; fail_on < 2; fail_on++) {
        fail_examples(narrow_list, 3, 3, fail_on != 0);
        fail_examples(distinct_list, 0, 2, fail_on != 0);
    }
}
END_TEST

/* ------------------------------------------------------------- threads --- */

#define THREADS 4
#define HANDS 60

struct dealt {
    nh_tiles hand;
    nh_ranked rows[WIDE_PATTERNS];
    nh_ranking ranking;
};

struct player {
    const nh_list *list;
    const struct dealt *dealt;
    int first;   /* each player takes the hands in another order */
    int differs; /* hands that came out otherwise, or failed */
};

static bool same_row(const nh_ranked *a, const nh_ranked *b) {
    return a->pattern == b->pattern && a->away == b->away && a->prevailing == b->prevailing &&
           a->seat == b->seat && nh_tiles_equal(&a->target, &b->target) &&
           nh_tiles_equal(&a->keep, &b->keep) && nh_tiles_equal(&a->need, &b->need) &&
           nh_tiles_equal(&a->spare, &b->spare) && nh_tiles_equal(&a->joked, &b->joked) &&
           nh_natural_compare(&a->completing, &b->completing) == 0 && !(a->chance < b->chance) &&
           !(a->chance > b->chance);
}

static bool same_ranking(const struct dealt *a, const struct dealt *b) {
    bool same = a->ranking.rows == b->ranking.rows && a->ranking.live == b->ranking.live &&
                a->ranking.nearest == b->ranking.nearest &&
                a->ranking.within_one == b->ranking.within_one;
    for (size_t i = 0; same && i < a->ranking.rows; i++)
        same = same_row(&a->rows[i], &b->rows[i]);
    return same;
}

static nh_status rank_dealt(nh_workspace *workspace, struct dealt *dealt) {
    nh_situation situation = NH_SITUATION;
    return ask_rank(workspace, &dealt->hand, &situation, NH_DRAWS_DEFAULT, NULL, dealt->rows,
                    WIDE_PATTERNS, &dealt->ranking, NULL);
}

/* Checks are counted, not asserted: libcheck's assertions are for one thread. */
static void *play(void *argument) {
    struct player *player = argument;
    nh_workspace *workspace = NULL;
    nh_list *own = NULL;
    if (nh_workspace_new(player->list, NULL, &workspace) != NH_OK ||
        try_list(wide_list, NULL, &own, NULL) != NH_OK) {
        player->differs = HANDS;
    } else {
        for (int i = 0; i < HANDS; i++) {
            const struct dealt *expected = &player->dealt[(player->first + i) % HANDS];
            struct dealt again = {.hand = expected->hand};
            nh_status status = rank_dealt(workspace, &again);
            player->differs += status != NH_OK || !same_ranking(&again, expected);
        }
    }
    nh_list_free(own);
    nh_workspace_free(workspace);
    return NULL;
}

START_TEST(threads_share_a_list) {
    nh_list *list = read_list(wide_list);
    nh_workspace *workspace = new_workspace(list);
    static struct dealt dealt[HANDS];
    for (unsigned i = 0; i < HANDS; i++) {
        dealt[i].hand = deal(list, i);
        ck_assert_int_eq(rank_dealt(workspace, &dealt[i]), NH_OK);
        ck_assert_uint_gt(dealt[i].ranking.rows, 0);
    }
    ck_assert(!nh_tiles_equal(&dealt[0].hand, &dealt[1].hand));
    struct player players[THREADS];
    pthread_t threads[THREADS];
    for (int t = 0; t < THREADS; t++) {
        players[t] = (struct player){list, dealt, t * HANDS / THREADS, 0};
        ck_assert_int_eq(pthread_create(&threads[t], NULL, play, &players[t]), 0);
    }
    for (int t = 0; t < THREADS; t++) {
        ck_assert_int_eq(pthread_join(threads[t], NULL), 0);
        ck_assert_int_eq(players[t].differs, 0);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* Whatever the hand, the rows' tiles add up. */
START_TEST(rows_add_up) {
    nh_list *list = read_list(wide_list);
    nh_workspace *workspace = new_workspace(list);
    for (unsigned number = 0; number < HANDS; number++) {
        struct dealt dealt = {.hand = deal(list, number)};
        ck_assert_int_eq(rank_dealt(workspace, &dealt), NH_OK);
        for (size_t i = 0; i < dealt.ranking.rows; i++) {
            const nh_ranked *row = &dealt.rows[i];
            ck_assert_int_eq(nh_tiles_total(&row->need), row->away);
            ck_assert_uint_eq(row->joked.count[NH_JOKER] + row->need.count[NH_JOKER], 0);
            ck_assert_int_eq(nh_tiles_total(&row->joked), row->keep.count[NH_JOKER]);
            for (int kind = 0; kind < NH_KINDS; kind++) {
                int kept = kind == NH_JOKER ? 0 : row->keep.count[kind];
                ck_assert_int_eq(row->target.count[kind],
                                 kept + row->joked.count[kind] + row->need.count[kind]);
                ck_assert_int_eq(dealt.hand.count[kind],
                                 row->keep.count[kind] + row->spare.count[kind]);
            }
        }
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------------------- batches --- */

#define BATCH 150 /* more than two threads can take at once */
#define TOP 3

struct batch {
    nh_tiles hands[BATCH];
    nh_ranked rows[BATCH * TOP];
    nh_ranking rankings[BATCH];
    nh_status statuses[BATCH];
};

static void deal_batch(const nh_list *list, struct batch *batch) {
    memset(batch, 0xA5, sizeof *batch);
    for (unsigned i = 0; i < BATCH; i++)
        batch->hands[i] = deal(list, i);
}

static nh_status rank_batch(const nh_list *list, const nh_allocator *allocator, unsigned jobs,
                            struct batch *batch) {
    nh_situation situation = NH_SITUATION;
    return ask_rank_batch(list, allocator, batch->hands, BATCH, &situation, NULL, TOP, jobs,
                          batch->rows, batch->rankings, batch->statuses);
}

/* Every hand of a batch, but the one numbered `except`, has the answer that it
 * has alone. */
static void assert_batch(const nh_list *list, const struct batch *batch, int except) {
    nh_workspace *workspace = new_workspace(list);
    for (int i = 0; i < BATCH; i++) {
        if (i == except)
            continue;
        struct dealt alone = {.hand = batch->hands[i]};
        ck_assert_int_eq(batch->statuses[i], NH_OK);
        ck_assert_int_eq(rank_dealt(workspace, &alone), NH_OK);
        ck_assert_uint_eq(batch->rankings[i].live, alone.ranking.live);
        ck_assert_uint_eq(batch->rankings[i].rows, TOP);
        ck_assert_uint_eq(batch->rankings[i].nearest, alone.ranking.nearest);
        for (int row = 0; row < TOP; row++)
            ck_assert_msg(same_row(&batch->rows[i * TOP + row], &alone.rows[row]),
                          "hand %d, row %d", i, row);
    }
    nh_workspace_free(workspace);
}

START_TEST(batches_answer_as_single_calls) {
    static const unsigned jobs[] = {1, 2, 5, 0, NH_JOBS_MAX};
    static struct batch batch;
    nh_list *list = read_list(wide_list);
    for (size_t i = 0; i < sizeof jobs / sizeof *jobs; i++) {
        deal_batch(list, &batch);
        ck_assert_int_eq(rank_batch(list, NULL, jobs[i], &batch), NH_OK);
        assert_batch(list, &batch, -1);
    }
    nh_list_free(list);
}
END_TEST

START_TEST(batches_go_on_past_a_bad_hand) {
    enum { BAD = 77 };
    static struct batch batch;
    nh_list *list = read_list(wide_list);
    deal_batch(list, &batch);
    batch.hands[BAD].count[NH_EAST] = 5;
    ck_assert_int_eq(rank_batch(list, NULL, 2, &batch), NH_OK);
    assert_batch(list, &batch, BAD);
    ck_assert_int_eq(batch.statuses[BAD], NH_ERROR_TILES);
    ck_assert_uint_eq(batch.rankings[BAD].rows, 0);
    ck_assert_uint_eq(batch.rankings[BAD].live, 0);
    nh_list_free(list);
}
END_TEST

START_TEST(batches_may_leave_out_rows_and_statuses) {
    static struct batch batch;
    nh_situation situation = NH_SITUATION;
    nh_list *list = read_list(wide_list);
    deal_batch(list, &batch);
    ck_assert_int_eq(ask_rank_batch(list, NULL, batch.hands, BATCH, &situation, NULL, 0, 2, NULL,
                                    batch.rankings, NULL),
                     NH_OK);
    for (int i = 0; i < BATCH; i++) {
        ck_assert_uint_eq(batch.rankings[i].rows, 0);
        ck_assert_uint_eq(batch.rankings[i].live, WIDE_PATTERNS);
    }
    nh_list_free(list);
}
END_TEST

START_TEST(batches_refuse_too_many_jobs) {
    static struct batch batch;
    nh_list *list = read_list(wide_list);
    deal_batch(list, &batch);
    ck_assert_int_eq(rank_batch(list, NULL, NH_JOBS_MAX + 1, &batch), NH_ERROR_ARGUMENT);
    nh_list_free(list);
}
END_TEST

/* One thread with its memory is enough for every answer. */
START_TEST(batches_bear_failures) {
    static struct batch expected, batch;
    nh_list *list = read_list(wide_list);
    deal_batch(list, &expected);
    ck_assert_int_eq(rank_batch(list, NULL, 1, &expected), NH_OK);
    bool whole = false;
    size_t refused = 0;
    for (size_t failing = 0; !whole; failing++) {
        struct counting counting = {.fail_at = failing, .fail_on = true};
        nh_allocator allocator = counted_by(&counting);
        deal_batch(list, &batch);
        nh_status status = rank_batch(list, &allocator, 3, &batch);
        whole = counting.calls <= failing;
        ck_assert(status == NH_OK || (!whole && status == NH_ERROR_MEMORY));
        refused += status == NH_ERROR_MEMORY;
        for (size_t i = 0; status == NH_OK && i < (size_t)BATCH * TOP; i++)
            ck_assert(same_row(&batch.rows[i], &expected.rows[i]));
        ck_assert_uint_eq(counting.blocks, 0);
    }
    ck_assert_uint_gt(refused, 1);
    nh_list_free(list);
}
END_TEST

/* ---------------------------------------------------------------- suite --- */

int main(void) {
    Suite *suite = suite_create("memory");
    ADD_TESTS(suite, "allocator", lists_and_workspaces_use_the_allocator, ranking_takes_no_memory);
    ADD_TESTS(suite, "failures", reading_bears_one_failure, reading_bears_memory_running_out,
              reading_at_length_bears_failures, reports_bear_failures, long_lists_bear_failures,
              loading_bears_failures, missing_files_bear_failures, workspaces_bear_failures,
              switches_bear_failures, ways_bear_failures, games_bear_failures,
              tables_and_players_bear_failures, audits_bear_failures, relations_bear_failures,
              readings_bear_failures, examples_bear_failures);
    ADD_TESTS(suite, "rows", rows_add_up);
    ADD_TESTS(suite, "threads", batches_answer_as_single_calls, batches_go_on_past_a_bad_hand,
              batches_may_leave_out_rows_and_statuses, batches_refuse_too_many_jobs);
    ADD_TESTS(suite, "shared", threads_share_a_list, batches_bear_failures);
    return run_suite(suite);
}
