/* Lists that version 0.1 reads keep their targets: the three that it came with
 * (lists/v0.1), and random ones of its grammar. lists/v0.1/counts.txt has what
 * 0.1 counted: the figures of each pattern of the three, and for each random
 * list a hash of the figures of its patterns and of the distances of hands.
 *
 *     NEARHAND_COUNTS=FILE test_old_lists
 *
 * writes that file. It was written with this test built against 0.1.
 * NEARHAND_TRIES below 100 looks at that per cent of the random lists. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "ask.h"
#include "random_list.h"

enum { LISTS = 1000, PATTERNS = 2, HANDS = 8, SEED = 2024 };

#define FOLDER NH_TEST_ROOT "/tests/lists/v0.1/"

/* ------------------------------------------------------------- figures --- */

struct figures {
    char targets[NH_NATURAL_TEXT_SIZE], ways[NH_NATURAL_TEXT_SIZE];
    char dealt_ways[NH_NATURAL_TEXT_SIZE], joker_only[NH_NATURAL_TEXT_SIZE];
};

static struct figures figures_of(const nh_list *list, size_t pattern) {
    nh_figures count;
    struct figures figures;
    ck_assert_int_eq(ask_figures(list, pattern, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &count), NH_OK);
    nh_natural_format(&count.targets, figures.targets, sizeof figures.targets);
    nh_natural_format(&count.ways, figures.ways, sizeof figures.ways);
    nh_natural_format(&count.dealt_ways, figures.dealt_ways, sizeof figures.dealt_ways);
    nh_natural_format(&count.joker_only, figures.joker_only, sizeof figures.joker_only);
    return figures;
}

/* FNV-1a with 64 bits (Fowler, Noll, Vo; draft-eastlake-fnv), from memory; any
 * other hash would serve. */
static void hash_text(uint64_t *hash, const char *text) {
    for (; *text != '\0'; text++)
        *hash = (*hash ^ (unsigned char)*text) * UINT64_C(0x100000001b3);
}

static void hash_figures(uint64_t *hash, const nh_list *list, size_t pattern) {
    struct figures figures = figures_of(list, pattern);
    const char *const texts[] = {figures.targets, figures.ways, figures.dealt_ways,
                                 figures.joker_only};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        hash_text(hash, texts[i]);
        hash_text(hash, " ");
    }
}

/* Distances of random hands, of every size that a hand of the list may have. */
static void hash_distances(uint64_t *hash, const nh_list *list, random_source *source) {
    nh_workspace *workspace = new_workspace(list);
    for (int i = 0; i < HANDS; i++) {
        nh_tiles pool = *nh_list_set(list);
        nh_tiles hand =
            random_draw(source, &pool, 1 + random_below(source, nh_list_hand_most(list)));
        nh_situation situation = NH_SITUATION;
        uint8_t away[PATTERNS];
        ck_assert_int_eq(nh_distances(workspace, &hand, &situation, away, NULL), NH_OK);
        for (size_t p = 0; p < nh_list_size(list); p++) {
            char text[8];
            snprintf(text, sizeof text, "%u ", away[p]);
            hash_text(hash, text);
        }
    }
    nh_workspace_free(workspace);
}

static nh_list *list_of(const char *json) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    nh_status status = nh_list_read(json, strlen(json), NULL, &list, &mistakes);
    ck_assert_msg(status == NH_OK, "%s: %s", json, nh_mistakes_at(mistakes, 0)->text);
    nh_mistakes_free(mistakes);
    return list;
}

/* ------------------------------------------------------------ the table --- */

/* Writes the lines of the table, one after the other. */
static void write_shipped(FILE *table, const char *name) {
    char path[512];
    snprintf(path, sizeof path, "%s%s.json", FOLDER, name);
    nh_list *list = NULL;
    ck_assert_int_eq(nh_list_load(path, NULL, &list, NULL), NH_OK);
    for (size_t i = 0; i < nh_list_size(list); i++) {
        struct figures figures = figures_of(list, i);
        fprintf(table, "%s\t%s\t%s\t%s\t%s\t%s\n", name, nh_list_pattern(list, i)->name,
                figures.targets, figures.ways, figures.dealt_ways, figures.joker_only);
    }
    nh_list_free(list);
}

static void write_random(FILE *table, int lists) {
    random_source source = {SEED};
    for (int i = 0; i < lists; i++) {
        char *json = random_list_0_1(&source, PATTERNS, NH_HAND_MAX);
        nh_list *list = list_of(json);
        uint64_t hash = UINT64_C(0xcbf29ce484222325);
        for (size_t p = 0; p < nh_list_size(list); p++)
            hash_figures(&hash, list, p);
        hash_distances(&hash, list, &source);
        fprintf(table, "random\t%d\t%016llx\n", i, (unsigned long long)hash);
        nh_list_free(list);
        free(json);
    }
}

static void write_table(FILE *table, int lists) {
    write_shipped(table, "traditional");
    write_shipped(table, "club");
    write_shipped(table, "jokers");
    write_random(table, lists);
    ck_assert_int_eq(ferror(table), 0);
    rewind(table);
}

START_TEST(targets_are_those_of_0_1) {
    const char *wanted = getenv("NEARHAND_COUNTS");
    int lists = wanted != NULL || random_tries(LISTS) > LISTS ? LISTS : random_tries(LISTS);
    FILE *now = wanted != NULL ? fopen(wanted, "w+") : tmpfile();
    ck_assert_ptr_nonnull(now);
    write_table(now, lists);
    if (wanted != NULL) {
        fclose(now);
        return;
    }
    FILE *before = fopen(FOLDER "counts.txt", "r");
    ck_assert_ptr_nonnull(before);
    char line[512], other[512];
    int lines = 0;
    for (; fgets(line, sizeof line, now) != NULL; lines++) {
        ck_assert_ptr_nonnull(fgets(other, sizeof other, before));
        ck_assert_str_eq(line, other);
    }
    ck_assert_int_gt(lines, lists + 100);
    printf("%d lines as 0.1 counted them\n", lines);
    fclose(before);
    fclose(now);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("old lists");
    ADD_TESTS(suite, "old lists", targets_are_those_of_0_1);
    return run_suite(suite);
}
