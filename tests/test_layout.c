/*
 * Layouts of targets against the plain reference: of every target of a random list,
 * and of many of the shipped ones, all layouts add up to it, let jokers serve in just
 * the ways that the reference finds, and have a group for each that the list writes.
 * NEARHAND_SEED chooses the lists, NEARHAND_TRIES how many.
 */
#include "trial.h"

#include "suite.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LISTS = 150, PATTERNS = 3, TARGETS_MOST = 40, WAYS_MOST = 4096 };

static struct { long targets, layouts, refused; } done;

/* What is asked of the layouts of one target. */
typedef struct asking {
    const trial *at;
    const nh_tiles *target;
    const cJSON *pattern;
    size_t first, end; /* the sums of the reference that have these tiles */
    const ref_targets *targets;
    bool met[WAYS_MOST]; /* by sum */
    long layouts;
} asking;

static const cJSON *pattern_of(const cJSON *list, size_t index) {
    return cJSON_GetArrayItem(cJSON_GetObjectItem(list, "patterns"), (int)index);
}

/* How many groups a variant comes to, each time that one is taken counted. */
static int groups_written(const cJSON *pattern, uint32_t variant) {
    const cJSON *groups = cJSON_GetObjectItem(pattern, "groups");
    if (groups == NULL) {
        groups = cJSON_GetArrayItem(cJSON_GetObjectItem(pattern, "variants"), (int)variant);
        if (cJSON_IsObject(groups)) {
            groups = cJSON_GetObjectItem(groups, "groups");
        }
    }
    int count = 0;
    const cJSON *group;
    cJSON_ArrayForEach(group, groups) {
        const cJSON *times = cJSON_GetObjectItem(group, "times");
        count += times == NULL ? 1 : times->valueint;
    }
    return count;
}

/* The tiles of all pieces, and those of them that jokers may be. */
static void add_up(const nh_layout *layout, nh_tiles *tiles, nh_tiles *open) {
    *tiles = *open = (nh_tiles){{0}};
    for (int i = 0; i < layout->pieces; i++) {
        nh_tiles piece;
        nh_piece_tiles(&layout->piece[i], &piece);
        ck_assert_int_eq(nh_tiles_total(&piece), layout->piece[i].tiles);
        ck_assert(nh_tiles_add(tiles, &piece));
        ck_assert(layout->piece[i].jokers == 0 ||
                  layout->piece[i].jokers == layout->piece[i].tiles);
        if (layout->piece[i].jokers > 0) {
            ck_assert(nh_tiles_add(open, &piece));
        }
    }
}

static bool look_at(const nh_layout *layout, void *context) {
    asking *asked = context;
    const trial *at = asked->at;
    nh_tiles tiles, open, groups = {{0}};
    add_up(layout, &tiles, &open);
    MUST(at, nh_tiles_equal(&tiles, asked->target));
    MUST(at, layout->groups == groups_written(asked->pattern, layout->variant));
    for (unsigned i = 0; i < layout->groups; i++) {
        nh_tiles group;
        nh_layout_group(layout, i, &group);
        MUST(at, nh_tiles_total(&group) > 0 && nh_tiles_add(&groups, &group));
    }
    MUST(at, nh_tiles_equal(&groups, asked->target));
    for (int i = 1; i < layout->pieces; i++) {
        MUST(at, layout->piece[i].group == layout->piece[i - 1].group ||
                     layout->piece[i].group == layout->piece[i - 1].group + 1);
    }
    bool known = false;
    for (size_t i = asked->first; i < asked->end; i++) {
        if (nh_tiles_equal(&asked->targets->sums[i].jokerable, &open)) {
            asked->met[i - asked->first] = known = true;
        }
    }
    MUST(at, known);
    asked->layouts++;
    return true;
}

static bool keep_one(const nh_layout *layout, void *context) {
    *(nh_layout *)context = *layout;
    return false;
}

static void check_target(const trial *at, const cJSON *json, size_t pattern, size_t first) {
    static asking asked;
    asked = (asking){.at = at,
                     .target = &at->targets[pattern].sums[first].tiles,
                     .pattern = pattern_of(json, pattern),
                     .first = first,
                     .end = reference_next(&at->targets[pattern], first),
                     .targets = &at->targets[pattern]};
    if (asked.end - first > WAYS_MOST) {
        return;
    }
    nh_layout_question question = NH_LAYOUT_QUESTION;
    question.prevailing = at->situation.prevailing;
    question.seat = at->situation.seat;
    MUST(at, nh_layouts_each(at->list, pattern, asked.target, &question, look_at, &asked, NULL) ==
                 NH_OK);
    const bool has_jokers = reference_set(at->plain)->count[NH_JOKER] > 0;
    for (size_t i = first; i < asked.end && has_jokers; i++) {
        MUST(at, asked.met[i - first]);
    }
    nh_layout layout, again;
    MUST(at, nh_layout_first(at->list, pattern, asked.target, &question, &layout, NULL) == NH_OK);
    MUST(at, nh_layouts_each(at->list, pattern, asked.target, &question, keep_one, &again, NULL) ==
                 NH_OK);
    MUST(at, memcmp(layout.piece, again.piece, layout.pieces * sizeof *layout.piece) == 0);
    done.targets++;
    done.layouts += asked.layouts;
}

/* One tile of a target exchanged: mostly no target any more. */
static void check_stranger(const trial *at, size_t pattern, const nh_tiles *target) {
    nh_tiles tiles = *target;
    int away = random_below(at->source, NH_JOKER);
    while (tiles.count[away] == 0) {
        away = (away + 1) % NH_JOKER;
    }
    tiles.count[away]--;
    tiles.count[random_below(at->source, NH_JOKER)]++;
    nh_layout layout;
    nh_layout_question question = NH_LAYOUT_QUESTION;
    question.prevailing = at->situation.prevailing;
    question.seat = at->situation.seat;
    const bool is_target =
        reference_find(&at->targets[pattern], &tiles) < at->targets[pattern].count;
    nh_error error;
    const nh_status status = nh_layout_first(at->list, pattern, &tiles, &question, &layout, &error);
    MUST(at, status == (is_target ? NH_OK : NH_ERROR_TILES));
    done.refused += !is_target;
}

static void check_list(trial *at, char *text) {
    open_list(at, text);
    cJSON *json = cJSON_Parse(text);
    ck_assert_ptr_nonnull(json);
    at->situation = (nh_situation)NH_SITUATION;
    at->situation.prevailing = (nh_wind)random_below(at->source, 5);
    at->situation.seat = (nh_wind)random_below(at->source, 5);
    expand(at);
    for (size_t i = 0; i < at->patterns; i++) {
        const ref_targets *targets = &at->targets[i];
        const size_t step = targets->distinct / TARGETS_MOST + 1;
        size_t number = 0;
        for (size_t first = 0; first < targets->count; first = reference_next(targets, first)) {
            if (number++ % step == 0) {
                check_target(at, json, i, first);
                check_stranger(at, i, &targets->sums[first].tiles);
            }
        }
    }
    release(at);
    cJSON_Delete(json);
    close_list(at);
}

START_TEST(layouts_of_random_lists) {
    static trial at;
    const int count = random_tries(LISTS);
    at.seed = random_seed(20261126);
    random_source source = {at.seed};
    at.source = &source;
    for (int i = 0; i < count; i++) {
        check_list(&at, random_list(&source, PATTERNS, NH_HAND_MAX));
    }
    at.source = NULL;
    printf("seed %llu: %ld targets with %ld layouts, %ld strangers refused\n",
           (unsigned long long)at.seed, done.targets, done.layouts, done.refused);
    ck_assert_int_gt(done.targets, count);
    ck_assert_int_gt(done.layouts, done.targets);
    ck_assert_int_gt(done.refused, count);
}
END_TEST

/* -------------------------------------------------------- shipped lists --- */

static nh_list *load_shipped(const char *name) {
    char path[4096];
    nh_list *list = NULL;
    snprintf(path, sizeof path, "%s/patterns/%s.json", NH_TEST_ROOT, name);
    ck_assert_int_eq(nh_list_load(path, NULL, &list, NULL), NH_OK);
    return list;
}

/* The best target of each pattern has a layout that lets jokers be what they are. */
static void check_rows(nh_workspace *workspace, const nh_tiles *hand) {
    const nh_list *list = nh_workspace_list(workspace);
    static nh_ranked rows[NH_PATTERNS_MAX];
    nh_ranking ranking;
    ck_assert_int_eq(nh_rank(workspace, hand, NULL, rows, NH_PATTERNS_MAX, &ranking, NULL), NH_OK);
    for (size_t i = 0; i < ranking.rows; i++) {
        nh_layout layout;
        nh_tiles tiles, open;
        nh_layout_question question = NH_LAYOUT_QUESTION;
        question.joked = &rows[i].joked;
        question.prevailing = (nh_wind)rows[i].prevailing;
        question.seat = (nh_wind)rows[i].seat;
        ck_assert_int_eq(
            nh_layout_first(list, rows[i].pattern, &rows[i].target, &question, &layout, NULL),
            NH_OK);
        add_up(&layout, &tiles, &open);
        ck_assert(nh_tiles_equal(&tiles, &rows[i].target));
        ck_assert(nh_tiles_take(&open, &rows[i].joked));
        done.layouts++;
    }
}

START_TEST(layouts_of_shipped_targets) {
    static const char *const names[] = {"club", "jokers", "traditional"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        nh_list *list = load_shipped(names[i]);
        nh_workspace *workspace = NULL;
        ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
        for (uint64_t number = 1; number <= 60; number++) {
            nh_deal deal;
            ck_assert_int_eq(nh_deal_table(list, 5, number, &deal), NH_OK);
            check_rows(workspace, &deal.hand[0]);
        }
        nh_workspace_free(workspace);
        nh_list_free(list);
    }
    printf("%ld layouts of shipped targets\n", done.layouts);
}
END_TEST

/* As much of a layout as there is room for, and of a piece as there are kinds. */
START_TEST(pieces_past_the_end_have_no_tiles) {
    const nh_piece pieces[] = {{.shape = NH_RUN, .kind = NH_WHITE, .tiles = 4},
                               {.shape = NH_PUNG, .kind = NH_KINDS, .tiles = 3}};
    nh_layout layout = {.groups = 1, .pieces = 255};
    nh_tiles tiles;
    for (size_t i = 0; i < sizeof pieces / sizeof *pieces; i++) {
        nh_piece_tiles(&pieces[i], &tiles);
        ck_assert_int_eq(nh_tiles_total(&tiles), 0);
    }
    for (int i = 0; i < NH_TARGET_MAX; i++)
        layout.piece[i] = (nh_piece){.shape = NH_SINGLE, .kind = (uint8_t)i, .tiles = 1};
    nh_layout_group(&layout, 0, &tiles);
    ck_assert_int_eq(nh_tiles_total(&tiles), NH_TARGET_MAX);
}
END_TEST

/* ------------------------------------------------------- known targets --- */

static nh_list *read_json(const char *quoted) {
    char json[2048];
    nh_list *list = NULL;
    size_t length = strlen(quoted);
    ck_assert_uint_lt(length, sizeof json);
    for (size_t i = 0; i <= length; i++)
        json[i] = (char)(quoted[i] == '\'' ? '"' : quoted[i]);
    ck_assert_int_eq(nh_list_read(json, length, NULL, &list, NULL), NH_OK);
    return list;
}

static nh_tiles parsed(const char *text) {
    nh_tiles tiles;
    ck_assert_int_eq(nh_tiles_parse(NULL, text, strlen(text), &tiles, NULL), NH_OK);
    return tiles;
}

#define LIST "{'format': 1, 'title': 'Laid', 'hand': "

START_TEST(targets_are_laid_out_as_written) {
    static const struct {
        const char *list, *sets, *target;
        unsigned variant;
        const char *pieces; /* shape, first tile and set of each */
    } rows[] = {
        /* a variant with more letters for suits than there are suits has no target */
        {LIST "4, 'patterns': [{'name': 'a', 'variants': [[{'single': 1, 'suit': 'w'}, {'single': "
              "1, 'suit': 'x'}, {'single': 1, 'suit': 'y'}, {'single': 1, 'suit': 'z'}], "
              "[{'pair': 1, 'suit': 'x'}, {'single': 1, 'suit': 'y'}, {'single': 1, 'suit': "
              "'z'}]]}]}",
         "", "11B 1C 1D", 1, "2 1B 0, 1 1C 0, 1 1D 0"},
        /* the pung on the table is one of the pieces, not a pair and a single */
        {LIST "5, 'patterns': [{'name': 'a', 'variants': [[{'pair': 3, 'suit': 'bam'}, {'single': "
              "3, 'suit': 'bam'}, {'pair': 'red'}], [{'pung': 3, 'suit': 'bam'}, {'pair': "
              "'red'}]]}]}",
         "333B", "RR", 1, "3 3B 1, 2 R 0"},
        /* and a chow is no pung with the same first tile */
        {LIST "8, 'patterns': [{'name': 'a', 'groups': [{'set': 'any', 'times': 2}, {'pair': "
              "'red'}]}]}",
         "123B", "111B RR", 0, "3 1B 0, 7 1B 1, 2 R 0"},
        /* with a class beside it, a suit letter is any suit */
        {LIST "5, 'patterns': [{'name': 'a', 'groups': [{'pair': ['east', 5], 'suit': 'x'}, "
              "{'pung': 7, 'suit': 'x'}]}]}",
         "", "777C EE", 0, "2 E 0, 3 7C 0"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_list *list = read_json(rows[i].list), *rest = NULL;
        nh_set sets[NH_SETS_MAX];
        nh_layout layout;
        size_t count;
        char pieces[256] = "";
        size_t at = 0;
        const nh_tiles target = parsed(rows[i].target);
        ck_assert_int_eq(nh_sets_parse(list, rows[i].sets, strlen(rows[i].sets), sets, NH_SETS_MAX,
                                       &count, NULL),
                         NH_OK);
        ck_assert_int_eq(nh_list_rest(list, sets, count, NULL, &rest, NULL), NH_OK);
        ck_assert_int_eq(nh_layout_first(rest, 0, &target, NULL, &layout, NULL), NH_OK);
        ck_assert_uint_eq(layout.variant, rows[i].variant);
        for (int p = 0; p < layout.pieces; p++)
            at += (size_t)snprintf(pieces + at, sizeof pieces - at, "%s%u %s %u", p > 0 ? ", " : "",
                                   layout.piece[p].shape, nh_kind_notation(layout.piece[p].kind),
                                   layout.piece[p].shown);
        ck_assert_str_eq(pieces, rows[i].pieces);
        nh_list_free(rest);
        nh_list_free(list);
    }
}
END_TEST

static bool count_layouts(const nh_layout *layout, void *context) {
    (void)layout;
    ++*(int *)context;
    return true;
}

/* Asks for the first and for all layouts; both are refused alike. */
static void refuse(const nh_list *list, size_t pattern, const nh_tiles *target,
                   const nh_layout_question *question, nh_status status, const char *words) {
    nh_error error;
    nh_layout layout;
    int seen = 0;
    memset(&layout, 9, sizeof layout);
    const nh_layout before = layout;
    ck_assert_int_eq(nh_layout_first(list, pattern, target, question, &layout, &error), status);
    ck_assert_str_eq(error.text, words);
    ck_assert_mem_eq(&layout, &before, sizeof layout);
    ck_assert_int_eq(nh_layouts_each(list, pattern, target, question, count_layouts, &seen, &error),
                     status);
    ck_assert_str_eq(error.text, words);
    ck_assert_int_eq(seen, 0);
}

START_TEST(what_cannot_be_laid_out_is_refused) {
    nh_list *list = read_json(LIST "14, 'patterns': [{'name': 'Sand', 'groups': [{'single': 'any'},"
                                   "{'single': 'any'},{'single': 'any'},{'single': 'any'},{'single'"
                                   ": 'any'},{'single': 'any'},{'single': 'any'},{'single': 'any'},"
                                   "{'single': 'any'},{'single': 'any'},{'single': 'any'},{'single'"
                                   ": 'any'},{'pair': 1, 'suit': 'bam'}]}]}");
    nh_tiles target = parsed("11B 234567891C ESN"), few = parsed("11B"),
             many = parsed("1111222233334444555566667B");
    nh_layout_question wrong[4] = {NH_LAYOUT_QUESTION, NH_LAYOUT_QUESTION, NH_LAYOUT_QUESTION,
                                   NH_LAYOUT_QUESTION};
    wrong[0].layout_size = 0;
    wrong[1].prevailing = (nh_wind)5;
    wrong[2].seat = (nh_wind)9;
    wrong[3].size = 0;
    refuse(list, 0, &target, &wrong[0], NH_ERROR_ARGUMENT,
           "layout_size is 0; an initialiser sets it");
    refuse(list, 0, &target, &wrong[1], NH_ERROR_ARGUMENT,
           "the prevailing wind is 5; 0 (unknown) to 4");
    refuse(list, 0, &target, &wrong[2], NH_ERROR_ARGUMENT, "the seat wind is 9; 0 (unknown) to 4");
    char text[NH_ERROR_TEXT_SIZE];
    snprintf(text, sizeof text,
             "the question's size is 0, not %zu: it must start from NH_LAYOUT_QUESTION",
             sizeof wrong[3]);
    refuse(list, 0, &target, &wrong[3], NH_ERROR_ARGUMENT, text);
    refuse(list, 1, &target, NULL, NH_ERROR_ARGUMENT, "pattern is 1; the list has 0 to 0");
    refuse(list, 0, &many, NULL, NH_ERROR_TILES, "a target has at most 24 tiles, not 25");
    refuse(list, 0, &few, NULL, NH_ERROR_TILES, "the tiles are no target of \"Sand\"");
    refuse(list, 0, &target, NULL, NH_ERROR_LIMIT, "laying the target out takes too much work");
    nh_list_free(list);
}
END_TEST

/* Eight of one dragon take four jokers, and the set has three. */
START_TEST(more_jokers_than_the_set_has_are_no_target) {
    nh_list *list = read_json(LIST "8, 'tiles': {'jokers': 3}, 'patterns': [{'name': 'Stack',"
                                   "'groups': [{'quint': 'dragon'}, {'pung': 'dragon'}]}]}");
    nh_tiles mixed = {{0}}, alike = {{0}};
    nh_layout layout;
    mixed.count[NH_RED] = 5;
    mixed.count[NH_WHITE] = 3;
    alike.count[NH_RED] = 8;
    ck_assert_int_eq(nh_layout_first(list, 0, &mixed, NULL, &layout, NULL), NH_OK);
    refuse(list, 0, &alike, NULL, NH_ERROR_TILES, "the tiles are no target of \"Stack\"");
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("layout");
    TCase *tcase = tcase_create("layout");
    tcase_set_timeout(tcase, 0);
    tcase_add_test(tcase, layouts_of_random_lists);
    tcase_add_test(tcase, layouts_of_shipped_targets);
    tcase_add_test(tcase, pieces_past_the_end_have_no_tiles);
    tcase_add_test(tcase, targets_are_laid_out_as_written);
    tcase_add_test(tcase, what_cannot_be_laid_out_is_refused);
    tcase_add_test(tcase, more_jokers_than_the_set_has_are_no_target);
    suite_add_tcase(suite, tcase);
    return run_suite(suite);
}
