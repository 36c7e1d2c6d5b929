/* Doubles from digits and as digits. Both ways a whole number times powers of ten and of two
 * is rounded once: it is multiplied out as a long number, then divided, and whether a division
 * left something is remembered. */
#include "wasm/libc/decimal.h"

#include <limits.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

/* Halfway between two doubles a number has 767 digits at most: of those beyond, only whether
 * any is not zero counts. */
#define DIGITS_MOST 768
/* A number with fewer digits before the point, or more zeros behind it, is infinite or zero. */
#define POWER_MOST 309
#define POWER_LEAST (-324)
/* 10^(DIGITS_MOST + 1 + 323) and 64 more bits, the largest that is divided by, in words. */
#define WORDS_MOST 120

struct long_number {
    int words;
    bool inexact;              /* a division left something */
    uint32_t word[WORDS_MOST]; /* the least first; the last is not 0 */
};

static void times_plus(struct long_number *number, uint32_t factor, uint32_t plus) {
    uint64_t carry = plus;
    for (int i = 0; i < number->words; i++) {
        carry += (uint64_t)number->word[i] * factor;
        number->word[i] = (uint32_t)carry;
        carry >>= 32;
    }
    if (carry != 0)
        number->word[number->words++] = (uint32_t)carry;
}

static void divide_by(struct long_number *number, uint32_t divisor) {
    uint64_t rest = 0;
    for (int i = number->words; i-- > 0;) {
        rest = rest << 32 | number->word[i];
        number->word[i] = (uint32_t)(rest / divisor);
        rest %= divisor;
    }
    if (number->words > 0 && number->word[number->words - 1] == 0)
        number->words--;
    number->inexact |= rest != 0;
}

/* Times base^power. Nothing is multiplied after a division, so what that leaves is below one
 * all the time. */
static void times_power(struct long_number *number, uint32_t base, int power) {
    int left = power < 0 ? -power : power;
    while (left > 0) {
        uint32_t step = 1;
        for (; left > 0 && step <= UINT32_MAX / base; left--)
            step *= base;
        if (power > 0)
            times_plus(number, step, 0);
        else
            divide_by(number, step);
    }
}

static int bits_of_long(const struct long_number *number) {
    return number->words == 0 ? 0
                              : 32 * number->words - __builtin_clz(number->word[number->words - 1]);
}

static uint64_t low_words(const struct long_number *number) {
    uint64_t high = number->words > 1 ? number->word[1] : 0;
    return high << 32 | (number->words > 0 ? number->word[0] : 0);
}

/* ------------------------------------------------------------- reading --- */

/* m / 2^shift, half to even; `inexact` if the true number is a little above m. */
static uint64_t shift_rounded(uint64_t m, int shift, bool inexact) {
    if (shift > 64)
        return 0;
    uint64_t half = UINT64_C(1) << (shift - 1), down = shift == 64 ? 0 : m >> shift;
    uint64_t rest = m & (half + (half - 1));
    return down + (rest > half || (rest == half && (inexact || down % 2 == 1)));
}

/* A long number times 2^power: its upper 64 bits, rounded to the 53 of a double or to the
 * fewer of a small one. */
static uint64_t bits_of_double(struct long_number *number, int power) {
    int surplus = bits_of_long(number) - 64;
    times_power(number, 2, -surplus);
    power += surplus;
    int exponent = power + 63, shift = 11;
    if (exponent < -1022) {
        shift += -1022 - exponent;
        exponent = -1022;
    }
    uint64_t mantissa = shift_rounded(low_words(number), shift, number->inexact);
    const uint64_t infinity = UINT64_C(0x7FF) << 52;
    /* the highest bit of the mantissa adds one to the exponent, unless the number is small */
    uint64_t bits = ((uint64_t)(exponent + 1022) << 52) + mantissa;
    return exponent > 1023 || bits > infinity ? infinity : bits;
}

static uint64_t scaled_bits(struct long_number *number, int digits, int ten) {
    if (number->words == 0 || digits + ten <= POWER_LEAST)
        return 0;
    if (digits + ten > POWER_MOST)
        return UINT64_C(0x7FF) << 52;
    int two = 0;
    if (ten < 0) { /* so many bits that 64 are left: 10 is below 2^(10 / 3) */
        two = -ten * 10 / 3 + 65 - bits_of_long(number);
        two = two > 0 ? two : 0;
        times_power(number, 2, two);
    }
    times_power(number, 10, ten);
    return bits_of_double(number, -two);
}

struct digits_read {
    struct long_number number;
    int digits; /* of the number, which begins with none that is 0 */
    int ten;    /* the power of ten that it is times */
    bool any;
};

static const char *read_digits(struct digits_read *read, const char *text, bool behind_point) {
    for (; *text >= '0' && *text <= '9'; text++) {
        read->any = true;
        read->ten -= behind_point;
        if (read->digits == 0 && *text == '0')
            continue;
        if (read->digits < DIGITS_MOST) {
            times_plus(&read->number, 10, (uint32_t)(*text - '0'));
            read->digits++;
        } else {
            read->ten++;
            read->number.inexact |= *text != '0';
        }
    }
    return text;
}

/* The exponent, if there is a whole one. */
static const char *read_exponent(const char *text, int *exponent) {
    const char *at = text;
    int value = 0;
    if (*at != 'e' && *at != 'E')
        return text;
    at++;
    bool negative = *at == '-';
    at += *at == '-' || *at == '+';
    if (*at < '0' || *at > '9')
        return text;
    for (; *at >= '0' && *at <= '9'; at++)
        if (value < INT_MAX / 100)
            value = value * 10 + (*at - '0');
    *exponent = negative ? -value : value;
    return at;
}

double decimal_read(const char *text, const char **end) {
    struct digits_read read;
    int exponent = 0;
    bool negative = *text == '-';
    read.number.words = read.digits = read.ten = 0;
    read.number.inexact = read.any = false;
    const char *at = read_digits(&read, text + negative, false);
    if (*at == '.')
        at = read_digits(&read, at + 1, true);
    *end = text;
    if (!read.any)
        return 0;
    *end = read_exponent(at, &exponent);
    if (read.number.inexact) { /* a digit that stands for those that were left out */
        times_plus(&read.number, 10, 1);
        read.digits++;
        read.ten--;
        read.number.inexact = false;
    }
    uint64_t bits = scaled_bits(&read.number, read.digits, read.ten + exponent);
    double number;
    bits |= (uint64_t)negative << 63;
    memcpy(&number, &bits, sizeof number);
    return number;
}

/* ------------------------------------------------------------- writing --- */

#define DIGITS_WRITTEN 17
#define TEN_TO_16 UINT64_C(10000000000000000)

/* The 17 digits of mantissa * 2^power, and the power of ten of the first. */
static uint64_t seventeen_digits(uint64_t mantissa, int power, int *first) {
    struct long_number number = {.words = 0};
    number.word[number.words++] = (uint32_t)mantissa;
    if (mantissa >> 32 != 0)
        number.word[number.words++] = (uint32_t)(mantissa >> 32);
    /* floor(log10) or one less: 1233 / 4096 is just below log10(2), 1116 of them below 336 */
    int log = power + bits_of_long(&number) - 1;
    *first = (log + 1116) * 1233 / 4096 - 336;
    int ten = DIGITS_WRITTEN - *first; /* 18 or 19 digits */
    times_power(&number, 10, ten > 0 ? ten : 0);
    times_power(&number, 2, power > 0 ? power : 0);
    times_power(&number, 10, ten < 0 ? ten : 0);
    times_power(&number, 2, power < 0 ? power : 0);
    uint64_t whole = low_words(&number), unit = 10;
    if (whole >= 100 * TEN_TO_16) {
        unit = 100;
        ++*first;
    }
    uint64_t digits = whole / unit, rest = whole % unit;
    digits += rest > unit / 2 || (rest == unit / 2 && (number.inexact || digits % 2 == 1));
    if (digits == 10 * TEN_TO_16) {
        digits = TEN_TO_16;
        ++*first;
    }
    return digits;
}

static char *write_exponent(int exponent, char *to) {
    unsigned size = (unsigned)(exponent < 0 ? -exponent : exponent);
    *to++ = 'e';
    *to++ = exponent < 0 ? '-' : '+';
    if (size >= 100)
        *to++ = (char)('0' + size / 100);
    *to++ = (char)('0' + size / 10 % 10);
    *to++ = (char)('0' + size % 10);
    return to;
}

/* The point stands behind digit `point`; zeros fill the places that have no digit. */
static char *place_digits(const char *digits, int count, int point, char *to) {
    for (int i = point < 0 ? point : 0; i < count || i <= point; i++) {
        *to++ = i >= 0 && i < count ? digits[i] : '0';
        if (i == point && i + 1 < count)
            *to++ = '.';
    }
    return to;
}

void decimal_write(double number, char *buffer) {
    char text[DIGITS_WRITTEN];
    uint64_t bits;
    int first = 0, count = 1;
    memcpy(&bits, &number, sizeof bits);
    char *to = buffer;
    if (bits >> 63 != 0)
        *to++ = '-';
    int exponent = (int)(bits >> 52 & 0x7FF);
    uint64_t mantissa = bits & ((UINT64_C(1) << 52) - 1), digits = 0;
    if (exponent > 0)
        mantissa |= UINT64_C(1) << 52;
    else
        exponent = 1;
    if (mantissa != 0)
        digits = seventeen_digits(mantissa, exponent - 1075, &first);
    for (int i = DIGITS_WRITTEN; i-- > 0; digits /= 10) {
        text[i] = (char)('0' + digits % 10);
        if (count == 1 && text[i] != '0')
            count = i + 1;
    }
    bool plain = first >= -4 && first < DIGITS_WRITTEN;
    to = place_digits(text, count, plain ? first : 0, to);
    if (!plain)
        to = write_exponent(first, to);
    *to = '\0';
}
