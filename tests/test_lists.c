/* Lists from files: every bad one is refused with the words that its row of the
 * index names, every good and every shipped one is taken. */
#define _POSIX_C_SOURCE 200809L
#include "../lib/nearhand.h"
#include "ask.h"
#include "suite.h"

#include <check.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PATH_SIZE 1024

/* Whether a mistake of the report has the words; each must name a line. */
static bool told(const nh_mistakes *mistakes, const char *words) {
    bool found = false;
    for (size_t i = 0; i < nh_mistakes_size(mistakes); i++) {
        nh_mistake mistake = *nh_mistakes_at(mistakes, i);
        ck_assert_msg(mistake.line > 0, "no line for: %s", mistake.text);
        found |= strstr(mistake.text, words) != NULL;
    }
    return found;
}

START_TEST(test_bad_lists) {
    FILE *index = fopen(NH_TEST_ROOT "/tests/lists/bad/index.tsv", "r");
    ck_assert_ptr_nonnull(index);
    char line[PATH_SIZE];
    int count = 0;
    while (fgets(line, sizeof line, index) != NULL) {
        char *rest;
        const char *name = strtok_r(line, "\t", &rest);
        (void)strtok_r(NULL, "\t", &rest);
        const char *words = strtok_r(NULL, "\t\n", &rest);
        ck_assert(name != NULL && words != NULL);
        char path[PATH_SIZE];
        snprintf(path, sizeof path, "%s/tests/lists/bad/%s", NH_TEST_ROOT, name);
        nh_list *list;
        nh_mistakes *mistakes;
        nh_status status = nh_list_load(path, NULL, &list, &mistakes);
        ck_assert_msg(status == NH_ERROR_LIST, "%s: %s", name, nh_status_text(status));
        ck_assert_ptr_null(list);
        ck_assert_msg(told(mistakes, words), "%s: nothing says \"%s\", but: %s", name, words,
                      nh_mistakes_at(mistakes, 0)->text);
        nh_mistakes_free(mistakes);
        count++;
    }
    fclose(index);
    printf("%d bad lists refused\n", count);
    ck_assert_int_ge(count, 100);
}
END_TEST

/* Loads every list of a folder; how many. */
static int load_folder(const char *folder) {
    char path[PATH_SIZE];
    snprintf(path, sizeof path, "%s/%s", NH_TEST_ROOT, folder);
    DIR *entries = opendir(path);
    ck_assert_ptr_nonnull(entries);
    int count = 0;
    for (struct dirent *entry; (entry = readdir(entries)) != NULL;) {
        const char *name = entry->d_name;
        if (strstr(name, ".json") == NULL || strstr(name, ".schema.") != NULL)
            continue;
        snprintf(path, sizeof path, "%s/%s/%s", NH_TEST_ROOT, folder, name);
        nh_list *list;
        nh_mistakes *mistakes;
        nh_status status = nh_list_load(path, NULL, &list, &mistakes);
        ck_assert_msg(status == NH_OK, "%s: %s", name, nh_mistakes_at(mistakes, 0)->text);
        ck_assert_uint_gt(nh_list_size(list), 0);
        nh_list_free(list);
        count++;
    }
    closedir(entries);
    return count;
}

START_TEST(test_good_lists) {
    ck_assert_int_ge(load_folder("tests/lists/good"), 12);
    ck_assert_int_eq(load_folder("patterns"), 3);
}
END_TEST

/* A hand of few tiles lies equally near to very many targets whose ways overlap. */
START_TEST(test_few_tiles_end) {
    static const char *const hands[] = {"J", "1B", "E", "JJJJJJ 1B", "1B 9C"};
    nh_list *list;
    ck_assert_int_eq(nh_list_load(NH_TEST_ROOT "/patterns/jokers.json", NULL, &list, NULL), NH_OK);
    nh_workspace *workspace;
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    nh_ranked rows[64];
    for (size_t i = 0; i < sizeof hands / sizeof *hands; i++) {
        nh_tiles hand;
        nh_situation situation = NH_SITUATION;
        nh_ranking ranking;
        ck_assert_int_eq(nh_hand_parse(list, hands[i], strlen(hands[i]), &hand, NULL), NH_OK);
        ck_assert_int_eq(ask_rank(workspace, &hand, &situation, NH_DRAWS_DEFAULT, NULL, rows, 64,
                                  &ranking, NULL),
                         NH_OK);
        ck_assert_uint_eq(ranking.rows, nh_list_size(list));
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("lists");
    TCase *lists = tcase_create("lists");
    tcase_set_timeout(lists, 300);
    tcase_add_test(lists, test_bad_lists);
    tcase_add_test(lists, test_good_lists);
    tcase_add_test(lists, test_few_tiles_end);
    suite_add_tcase(suite, lists);
    return run_suite(suite);
}
