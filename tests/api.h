/* What the tests of the public interface share. Their lists are written with '
 * for ", so that they read as JSON does. */
#ifndef NH_TESTS_API_H
#define NH_TESTS_API_H

#include "nearhand.h"
#include "suite.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct json {
    char text[4096];
    size_t length;
};

static inline struct json json_of(const char *quoted) {
    struct json json = {.length = strlen(quoted)};
    ck_assert_uint_lt(json.length, sizeof json.text);
    for (size_t i = 0; i < json.length; i++)
        json.text[i] = (char)(quoted[i] == '\'' ? '"' : quoted[i]);
    return json;
}

static inline nh_status try_list(const char *quoted, const nh_allocator *allocator, nh_list **list,
                                 nh_mistakes **mistakes) {
    struct json json = json_of(quoted);
    return nh_list_read(json.text, json.length, allocator, list, mistakes);
}

static inline nh_list *read_list(const char *quoted) {
    nh_list *list = NULL;
    ck_assert_int_eq(try_list(quoted, NULL, &list, NULL), NH_OK);
    ck_assert_ptr_nonnull(list);
    return list;
}

/* A file of a list, named by what mkstemp makes of the path. */
static inline void write_list(char *path, const char *quoted) {
    struct json json = json_of(quoted);
    int file = mkstemp(path);
    ck_assert_int_ge(file, 0);
    ck_assert_int_eq(write(file, json.text, json.length), (ssize_t)json.length);
    ck_assert_int_eq(close(file), 0);
}

static inline nh_workspace *new_workspace(const nh_list *list) {
    nh_workspace *workspace = NULL;
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    ck_assert_ptr_nonnull(workspace);
    return workspace;
}

static inline nh_tiles tiles_of(const char *text) {
    nh_tiles tiles = {{0}};
    ck_assert_int_eq(nh_tiles_parse(NULL, text, strlen(text), &tiles, NULL), NH_OK);
    return tiles;
}

/* Adds tests to a suite, up to NULL, with their name for a tag. They take the
 * time that they take. */
static inline void add_tests(Suite *suite, const char *name, const TTest *const *tests) {
    TCase *tcase = tcase_create(name);
    tcase_set_tags(tcase, name);
    tcase_set_timeout(tcase, 0);
    for (; *tests != NULL; tests++)
        tcase_add_test(tcase, *tests);
    suite_add_tcase(suite, tcase);
}

#define ADD_TESTS(suite, name, ...)                                                                \
    add_tests(suite, name, (const TTest *const[]){__VA_ARGS__, NULL})

#endif
