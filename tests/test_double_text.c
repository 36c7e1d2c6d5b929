/* Doubles as text, held against printf and strtod: numbers of every size, quotients of
 * whole numbers, short decimals and what lies next to them, powers of two, numbers half way
 * between two texts. NEARHAND_DOUBLES says how many of each kind; 10000000 take a minute. */
#define _POSIX_C_SOURCE 200809L
#include "double_bits.h"
#include "numbers/double_text.h"
#include "random_list.h"
#include "suite.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static random_source source;
static uint64_t seed, count;

static void look(double number) {
    char text[DOUBLE_TEXT_SIZE], plain[64];
    for (int digits = 15; digits <= 17; digits++) {
        snprintf(plain, sizeof plain, "%.*g", digits, number);
        if (bits_of(strtod(plain, NULL)) == bits_of(number))
            break;
    }
    size_t length = double_text(number, text);
    if (strcmp(text, plain) != 0 || length != strlen(plain))
        ck_abort_msg("%a is %s, not %s, with seed %llu", number, plain, text,
                     (unsigned long long)seed);
}

static void look_around(double number) {
    look(number);
    look(nextafter(number, 0));
    look(nextafter(number, 2 * number));
    look(-number);
}

START_TEST(numbers_of_every_size) {
    look(0.0);
    look(-0.0);
    look(5e-324);
    for (uint64_t i = 0; i < count / 10; i++) {
        double number = of_bits(random_next(&source));
        if (isfinite(number))
            look(number);
    }
}
END_TEST

/* From 2^-40 to 2^50, past both ends of what is worked out without printf. */
START_TEST(numbers_near_one) {
    for (uint64_t i = 0; i < count; i++) {
        uint64_t exponent = 1023 - 40 + (uint64_t)random_below(&source, 90);
        look(of_bits(exponent << 52 | random_next(&source) >> 12));
    }
}
END_TEST

START_TEST(quotients) {
    for (uint64_t i = 0; i < count; i++) {
        uint64_t whole = 1 + (random_next(&source) >> random_below(&source, 60));
        uint64_t part = random_next(&source) % whole;
        look((double)part / (double)whole);
    }
}
END_TEST

START_TEST(short_decimals_and_their_neighbours) {
    for (uint64_t i = 0; i < count / 10; i++) {
        char text[64];
        uint64_t digits = random_next(&source) >> random_below(&source, 64);
        snprintf(text, sizeof text, "%llue-%d", (unsigned long long)digits,
                 random_below(&source, 30));
        double number = strtod(text, NULL);
        if (number > 0)
            look_around(number);
    }
}
END_TEST

START_TEST(powers) {
    for (int exponent = -1074; exponent < 1024; exponent++)
        look_around(ldexp(1, exponent));
    for (int exponent = -300; exponent <= 300; exponent++)
        look_around(pow(10, exponent));
}
END_TEST

/* With few bits after the point, so that the eighteenth digit is a 5 and the last, or the
 * text lies half way between two doubles. */
START_TEST(halves) {
    for (uint64_t i = 0; i < count; i++) {
        int bits = random_below(&source, 54);
        uint64_t mantissa = (random_next(&source) >> 11) & ~((UINT64_C(1) << bits >> 1) - 1);
        look(ldexp((double)mantissa, -random_below(&source, 90)));
    }
}
END_TEST

int main(void) {
    const char *wanted = getenv("NEARHAND_DOUBLES");
    count = wanted != NULL ? strtoull(wanted, NULL, 10) : 100000;
    seed = random_seed(1);
    source.state = seed;
    Suite *suite = suite_create("doubles as text");
    TCase *tests = tcase_create("all");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, numbers_of_every_size);
    tcase_add_test(tests, numbers_near_one);
    tcase_add_test(tests, quotients);
    tcase_add_test(tests, short_decimals_and_their_neighbours);
    tcase_add_test(tests, powers);
    tcase_add_test(tests, halves);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
