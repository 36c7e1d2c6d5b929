/* The messages of the module for browsers, held against vsnprintf: every conversion that the
 * library uses, in buffers that are large enough and in such that are not. */
#include "suite.h"
#include "wasm/libc/format.h"

#include <limits.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static void look(const char *format, ...) __attribute__((format(printf, 1, 2)));

static void look(const char *format, ...) {
    for (size_t size = 0; size <= 64; size++) {
        char expected[64], own[64];
        va_list arguments;
        memset(expected, '#', sizeof expected);
        memset(own, '#', sizeof own);
        va_start(arguments, format);
        int length = vsnprintf(expected, size, format, arguments);
        va_end(arguments);
        va_start(arguments, format);
        int own_length = format_text(own, size, format, arguments);
        va_end(arguments);
        ck_assert_int_eq(own_length, length);
        ck_assert_mem_eq(own, expected, sizeof own);
    }
}

START_TEST(numbers) {
    look("%d %d %d", 0, 7, -1234);
    look("%d,%d", INT_MAX, INT_MIN);
    look("%u and %u", 0u, UINT_MAX);
    look("%zu: %zu", (size_t)10, SIZE_MAX);
}
END_TEST

START_TEST(words) {
    look("no \"%s\" in %s", "Pung", "the list");
    look("%s%s", "", "");
    look("%.3s|%.0s|%.60s", "abcdef", "gone", "short");
    look("%.*s%c%c", 2, "246B", 'x', '%');
    look("a hundred %%, 100%%");
}
END_TEST

/* Bytes that no zero ends are not read beyond the precision. */
START_TEST(unended_bytes) {
    const char bytes[3] = {'1', '2', '3'};
    look("%.*s", 3, bytes);
    look("%.2s", bytes);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("messages of the module");
    TCase *tests = tcase_create("all");
    tcase_add_test(tests, numbers);
    tcase_add_test(tests, words);
    tcase_add_test(tests, unended_bytes);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
