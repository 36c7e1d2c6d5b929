/* Records and medians of the program, in memory and in files, against the plain way: all of
 * them in one array, sorted. The memory allowed goes from less than a record to more than
 * all of them. */
#define _POSIX_C_SOURCE 200809L
#include "double_bits.h"
#include "io/message.h"
#include "progress/values.h"
#include "random_list.h"
#include "sorting/sorter.h"
#include "suite.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define RECORDS_MOST 3000
#define RECORD_SIZE 40
#define VALUES_MOST 40000

static random_source source;
static uint64_t seed;
static char told[4096]; /* the last message */

void complain(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(told, sizeof told, format, arguments);
    va_end(arguments);
}

bool short_of_memory(void) {
    ck_abort_msg("memory is short");
    return false;
}

/* ------------------------------------------------------------- records --- */

struct record {
    unsigned char bytes[RECORD_SIZE];
    size_t length;
};

static struct record records[RECORDS_MOST];

static int compare(const void *left, const void *right) {
    const struct record *a = left;
    const struct record *b = right;
    int order = memcmp(a->bytes, b->bytes, a->length < b->length ? a->length : b->length);
    return order != 0 ? order : (a->length > b->length) - (a->length < b->length);
}

/* Few bytes, so that some are the same and some the beginning of others. */
static void make_record(struct record *record) {
    record->length = (size_t)random_below(&source, RECORD_SIZE + 1);
    int letters = random_below(&source, 3) == 0 ? 1 : 256;
    for (size_t i = 0; i < record->length; i++)
        record->bytes[i] = (unsigned char)random_below(&source, letters);
}

static void look_through(struct sorter *sorter, size_t count) {
    const unsigned char *bytes;
    size_t length = 0;
    ck_assert(sorter_begin(sorter));
    for (size_t i = 0; i < count; i++) {
        bytes = sorter_next(sorter, &length);
        if (bytes == NULL || length != records[i].length ||
            memcmp(bytes, records[i].bytes, length) != 0)
            ck_abort_msg("record %zu of %zu with seed %llu", i, count, (unsigned long long)seed);
    }
    ck_assert_ptr_null(sorter_next(sorter, &length));
    ck_assert(!sorter->failed);
}

static void sort_some(size_t count, size_t memory) {
    struct sorter sorter = {.memory = memory};
    for (size_t i = 0; i < count; i++) {
        make_record(&records[i]);
        ck_assert(sorter_include(&sorter, records[i].bytes, records[i].length));
    }
    qsort(records, count, sizeof *records, compare);
    look_through(&sorter, count);
    look_through(&sorter, count);
    sorter_free(&sorter);
}

START_TEST(records_come_in_order) {
    static const size_t memories[] = {0, 100, 1000, 10000, 1000000};
    for (int turn = 0; turn < random_tries(20); turn++)
        for (size_t i = 0; i < sizeof memories / sizeof *memories; i++)
            sort_some((size_t)random_below(&source, RECORDS_MOST + 1), memories[i]);
    for (size_t i = 0; i < sizeof memories / sizeof *memories; i++)
        for (size_t count = 0; count < 40; count++)
            sort_some(count, memories[i]);
}
END_TEST

/* A record that has more bytes than the memory allowed, between small ones. */
START_TEST(large_records_have_room) {
    static unsigned char large[100000];
    for (size_t memory = 0; memory <= 1000; memory += 500) {
        struct sorter sorter = {.memory = memory};
        size_t length = 0;
        for (size_t i = 0; i < 100; i++) {
            large[0] = (unsigned char)(100 - i);
            ck_assert(sorter_include(&sorter, large, i % 3 == 0 ? sizeof large : 1 + i % 7));
        }
        ck_assert(sorter_begin(&sorter));
        for (size_t i = 100; i-- > 0;) {
            const unsigned char *bytes = sorter_next(&sorter, &length);
            ck_assert_ptr_nonnull(bytes);
            ck_assert_uint_eq(bytes[0], 100 - i);
            ck_assert_uint_eq(length, i % 3 == 0 ? sizeof large : 1 + i % 7);
        }
        sorter_free(&sorter);
    }
}
END_TEST

START_TEST(a_missing_folder_is_an_error) {
    struct sorter sorter = {.memory = 0};
    struct values values = {.most = 1};
    ck_assert_int_eq(setenv("TMPDIR", "/nowhere/at/all", 1), 0);
    ck_assert(sorter_include(&sorter, "one", 3));
    ck_assert(!sorter_include(&sorter, "two", 3));
    ck_assert(sorter.failed && !sorter_begin(&sorter));
    ck_assert_str_eq(told, "a temporary file in /nowhere/at/all could not be written: No such "
                           "file or directory; TMPDIR names another folder");
    told[0] = '\0';
    ck_assert(values_include(&values, 1) && !values_include(&values, 2));
    ck_assert_str_ne(told, "");
    sorter_free(&sorter);
    values_free(&values);
    ck_assert_int_eq(unsetenv("TMPDIR"), 0);
}
END_TEST

/* ------------------------------------------------------------- medians --- */

static double numbers[VALUES_MOST];

static int compare_numbers(const void *left, const void *right) {
    double a = *(const double *)left;
    double b = *(const double *)right;
    return (a > b) - (a < b);
}

static double draw_number(void) {
    double part = (double)(random_next(&source) >> 11) / 9007199254740992.0;
    switch (random_below(&source, 5)) {
    case 0:
        return 0;
    case 1:
        return random_below(&source, 4);
    case 2:
        return part * 1e-300;
    case 3:
        return part * 1e9;
    default:
        return part;
    }
}

static void median_of_some(struct values *values, size_t count) {
    double median = -1;
    for (size_t i = 0; i < count; i++) {
        numbers[i] = draw_number();
        ck_assert(values_include(values, numbers[i]));
    }
    ck_assert_uint_eq(values_count(values), count);
    qsort(numbers, count, sizeof *numbers, compare_numbers);
    double below = numbers[(count - 1) / 2];
    double above = numbers[count / 2];
    ck_assert(values_median(values, &median));
    double wanted = count % 2 == 0 ? (below + above) / 2 : above;
    if (bits_of(median) != bits_of(wanted))
        ck_abort_msg("%.17g, not %.17g of %zu with seed %llu", median, wanted, count,
                     (unsigned long long)seed);
    values_clear(values);
}

/* In memory and in a file, one after the other. */
START_TEST(medians_are_exact) {
    static const size_t mosts[] = {1, 7, 1000, 100000};
    for (size_t i = 0; i < sizeof mosts / sizeof *mosts; i++) {
        struct values values = {.most = mosts[i]};
        for (size_t count = 1; count < 30; count++)
            median_of_some(&values, count);
        for (int turn = 0; turn < random_tries(5); turn++)
            median_of_some(&values, 1 + (size_t)random_below(&source, VALUES_MOST));
        values_free(&values);
    }
}
END_TEST

int main(void) {
    seed = random_seed(20261126);
    printf("seed %llu\n", (unsigned long long)seed);
    source.state = seed;
    Suite *suite = suite_create("sorter");
    TCase *cases = tcase_create("sorter");
    tcase_set_timeout(cases, 0);
    tcase_add_test(cases, records_come_in_order);
    tcase_add_test(cases, large_records_have_room);
    tcase_add_test(cases, a_missing_folder_is_an_error);
    tcase_add_test(cases, medians_are_exact);
    suite_add_tcase(suite, cases);
    return run_suite(suite);
}
