/* How a program of libcheck ends. */
#ifndef NH_TESTS_SUITE_H
#define NH_TESTS_SUITE_H

#include <check.h>
#include <stdlib.h>

/* Runs a suite and frees it; the status that main returns. */
static inline int run_suite(Suite *suite) {
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

#endif
