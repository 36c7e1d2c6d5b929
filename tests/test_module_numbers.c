/* The numbers of the module for browsers, held against strtod and printf: doubles of every
 * size, texts of few digits and of many, texts half way between two doubles and just beside. */
#define _POSIX_C_SOURCE 200809L
#include "double_bits.h"
#include "random_list.h"
#include "suite.h"
#include "wasm/libc/decimal.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define TEXT_SIZE 2000

static random_source source;
static uint64_t seed;
static int count;

static double any_double(void) {
    for (;;) {
        double number = of_bits(random_next(&source));
        if (isfinite(number))
            return number;
    }
}

static void look_at_text(const char *text) {
    char *end;
    const char *own_end;
    double number = strtod(text, &end), own = decimal_read(text, &own_end);
    if (bits_of(number) != bits_of(own) || end != own_end)
        ck_abort_msg("%s is read as %a up to %td, not as %a up to %td, with seed %llu", text, own,
                     own_end - text, number, end - text, (unsigned long long)seed);
}

static void look_at_number(double number) {
    char text[64], own[DECIMAL_SIZE];
    snprintf(text, sizeof text, "%.17g", number);
    decimal_write(number, own);
    if (strcmp(text, own) != 0)
        ck_abort_msg("%a is written %s, not %s, with seed %llu", number, own, text,
                     (unsigned long long)seed);
    look_at_text(text);
}

START_TEST(chosen_texts) {
    static const char *const texts[] = {
        "",
        "-",
        "x",
        "-x",
        ".",
        "e5",
        "0",
        "-0",
        "00012",
        "1.",
        "0.000",
        "1e",
        "1e+",
        "1ex",
        "1.5e3",
        "1E-2x",
        "1e0000000005",
        "0e99999999999",
        "5e99999999999",
        "5e-99999999999",
        "9007199254740993",
        "9007199254740992.5",
        "9007199254740993.0000000000000000000000000000000000000000000000000000001",
        "1e308",
        "1e309",
        "1.7976931348623157e308",
        "1.7976931348623158e308",
        "1.797693134862315807e308",
        "1.7976931348623158079e308",
        "1.7976931348623159e308",
        "1e-323",
        "4.9e-324",
        "2.4703282292062327e-324",
        "2.4703282292062328e-324",
        "2.47e-324",
        "1e-324",
        "9e-325",
        "1e-400",
        "2.2250738585072011e-308",
        "2.2250738585072014e-308",
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        look_at_text(texts[i]);
}
END_TEST

START_TEST(chosen_numbers) {
    static const double numbers[] = {0.0,    1.0,     100.0,       0.1,
                                     0.0001, 0.00001, 1e15,        1e16,
                                     1e17,   1e18,    123456789.0, 99999999999999999.0,
                                     5e-324, DBL_MAX, DBL_MIN};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        look_at_number(numbers[i]);
        look_at_number(-numbers[i]);
    }
    for (int exponent = -1074; exponent < 1024; exponent++)
        look_at_number(ldexp(1, exponent));
    for (int exponent = -307; exponent <= 307; exponent++) {
        look_at_number(nextafter(pow(10, exponent), 0));
        look_at_number(pow(10, exponent));
    }
}
END_TEST

START_TEST(any_numbers) {
    for (int i = 0; i < count; i++) {
        look_at_number(any_double());
        uint64_t whole = 1 + (random_next(&source) >> random_below(&source, 60));
        uint64_t part = random_next(&source) % whole;
        look_at_number((double)part / (double)whole);
        look_at_number((double)part);
    }
}
END_TEST

START_TEST(any_texts) {
    char text[TEXT_SIZE];
    for (int i = 0; i < count; i++) {
        double number = any_double();
        int digits = 1 + random_below(&source, 25);
        snprintf(text, sizeof text, "%.*g", digits, number);
        look_at_text(text);
        unsigned long long before = random_next(&source) >> random_below(&source, 64);
        unsigned long long behind = random_next(&source) >> random_below(&source, 64);
        int exponent = random_below(&source, 700) - 350;
        snprintf(text, sizeof text, "%llu.%llue%d", before, behind, exponent);
        look_at_text(text);
    }
}
END_TEST

START_TEST(long_texts) {
    char text[TEXT_SIZE];
    for (int i = 0; i < count / 20; i++) {
        int digits = 1 + random_below(&source, 1200);
        for (int k = 0; k < digits; k++)
            text[k] = (char)('0' + random_below(&source, 10));
        text[random_below(&source, digits)] = '.';
        int exponent = random_below(&source, 800) - 600;
        snprintf(text + digits, sizeof text - (size_t)digits, "e%d", exponent);
        look_at_text(text);
    }
}
END_TEST

/* All digits of the number half way between a double and the next, of which there are 767 at
 * most; and the same with a 1 far behind. */
START_TEST(halves) {
    char text[TEXT_SIZE], beyond[TEXT_SIZE + 400];
    for (int i = 0; i < count / 20; i++) {
        double number = of_bits(random_next(&source) >> 1), next = nextafter(number, 2 * number);
        int zeros = random_below(&source, 300);
        if (!isfinite(next))
            continue;
        snprintf(text, sizeof text, "%.1100Lg", ((long double)number + (long double)next) / 2);
        look_at_text(text);
        int mantissa = (int)strcspn(text, "e");
        const char *point = strchr(text, '.') != NULL ? "" : ".";
        snprintf(beyond, sizeof beyond, "%.*s%s%0*d1%s", mantissa, text, point, zeros, 0,
                 text + mantissa);
        look_at_text(beyond);
    }
}
END_TEST

int main(void) {
    count = random_tries(20000);
    seed = random_seed(1);
    source.state = seed;
    Suite *suite = suite_create("numbers of the module");
    TCase *tests = tcase_create("all");
    tcase_add_test(tests, chosen_texts);
    tcase_add_test(tests, chosen_numbers);
    tcase_add_test(tests, any_numbers);
    tcase_add_test(tests, any_texts);
    tcase_add_test(tests, long_texts);
    tcase_add_test(tests, halves);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
