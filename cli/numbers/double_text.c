/* Doubles as text: the fewest of 15, 16 or 17 digits that read back as the same double.
 *
 * A double v is m * 2^q with m < 2^53. The power of ten that gives it 17 digits before the
 * point is 5^k * 2^k, so that
 *
 *     v * 10^k = (m * 5^k) / 2^s,  s = -(q + k),
 *
 * and m * 5^k is a whole number below 2^116 for k <= 27. Two words hold it, and nothing is
 * rounded. A text reads back as v when it is at most half a step of m away from it, which is
 * 5^k / 2^(s + 1) here: a comparison of whole numbers as well. The few doubles outside this
 * range are printed and read back. */
#include "numbers/double_text.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DIGITS 17
#define TEN_16 UINT64_C(10000000000000000)
#define TEN_17 UINT64_C(100000000000000000)

#define FRACTION_BITS 52
#define HIDDEN_BIT (UINT64_C(1) << FRACTION_BITS)
#define EXPONENT_BIAS 1023
#define EXPONENT_MASK 0x7FFu

/* Exponents of two for which k is 3 to 27 and s is 1 to 63. */
#define EXPONENT_LEAST (-36)
#define EXPONENT_MOST 45

#define FIVE_10 UINT64_C(9765625)
#define FIVE_20 (FIVE_10 * FIVE_10)
static const uint64_t powers_of_five[] = {
    1,
    5,
    25,
    125,
    625,
    3125,
    15625,
    78125,
    390625,
    1953125,
    FIVE_10,
    FIVE_10 * 5,
    FIVE_10 * 25,
    FIVE_10 * 125,
    FIVE_10 * 625,
    FIVE_10 * 3125,
    FIVE_10 * 15625,
    FIVE_10 * 78125,
    FIVE_10 * 390625,
    FIVE_10 * 1953125,
    FIVE_20,
    FIVE_20 * 5,
    FIVE_20 * 25,
    FIVE_20 * 125,
    FIVE_20 * 625,
    FIVE_20 * 3125,
    FIVE_20 * 15625,
    FIVE_20 * 78125,
};

/* whole + part / 2^64 */
struct fixed {
    uint64_t whole, part;
};

static int fixed_compare(struct fixed a, struct fixed b) {
    if (a.whole != b.whole)
        return a.whole < b.whole ? -1 : 1;
    return (a.part > b.part) - (a.part < b.part);
}

static struct fixed fixed_twice(struct fixed a) {
    return (struct fixed){a.whole << 1 | a.part >> 63, a.part << 1};
}

/* a * b / 2^shift, where that is below 2^64, for shifts of 1 to 63. */
static struct fixed scaled_product(uint64_t a, uint64_t b, unsigned shift) {
    uint64_t a0 = a & UINT32_MAX, a1 = a >> 32, b0 = b & UINT32_MAX, b1 = b >> 32;
    uint64_t middle = a1 * b0 + (a0 * b0 >> 32), other = a0 * b1 + (middle & UINT32_MAX);
    uint64_t high = a1 * b1 + (middle >> 32) + (other >> 32), low = a * b;
    return (struct fixed){high << (64 - shift) | low >> shift, low << (64 - shift)};
}

/* A positive double with 17 digits before the point. */
struct scaled {
    uint64_t mantissa;
    struct fixed value; /* v * 10^power */
    struct fixed half;  /* half a step of the mantissa, likewise */
    int power;
};

static struct scaled scale(uint64_t mantissa, int exponent) {
    /* floor(log10 v) or one less: 1233 / 4096 is just below log10(2), 93 of them just below 28 */
    int power = 16 - ((exponent + 93) * 1233 / 4096 - 28);
    struct scaled scaled = {.mantissa = mantissa, .power = power};
    unsigned shift = (unsigned)(FRACTION_BITS - exponent - power);
    scaled.value = scaled_product(mantissa, powers_of_five[power], shift);
    if (scaled.value.whole >= TEN_17) {
        scaled.power--;
        shift++;
        scaled.value = scaled_product(mantissa, powers_of_five[scaled.power], shift);
    }
    uint64_t five = powers_of_five[scaled.power];
    scaled.half = (struct fixed){five >> shift >> 1, five << (63 - shift)};
    return scaled;
}

/* Rounds to a multiple of `unit`, half to even. Whether that reads back as the number: a
 * mantissa that is a power of two has half as large a step below it, and an even one takes
 * what lies half way to the next. */
static bool round_to(const struct scaled *scaled, uint64_t unit, uint64_t *rounded) {
    struct fixed value = scaled->value;
    struct fixed down = {value.whole % unit, value.part};
    struct fixed up = {unit - down.whole - (value.part > 0), 0 - value.part};
    int compared = fixed_compare(down, up);
    uint64_t below = value.whole - down.whole;
    bool goes_up = compared > 0 || (compared == 0 && below / unit % 2 == 1);
    *rounded = goes_up ? below + unit : below;
    struct fixed distance = goes_up ? up : down;
    if (!goes_up && scaled->mantissa == HIDDEN_BIT)
        distance = fixed_twice(distance);
    int within = fixed_compare(distance, scaled->half);
    return within < 0 || (within == 0 && scaled->mantissa % 2 == 0);
}

/* ---------------------------------------------------------------- text --- */

static char *put_bytes_of(char *to, const char *bytes, int count) {
    memcpy(to, bytes, (size_t)count);
    return to + count;
}

/* The digits as "%.*g" lays them out, where `first` is the power of ten of the first. */
static char *lay_digits(char *to, const char *digits, int count, int first) {
    static const char zeros[] = "00000000000000";
    if (first < -4) { /* below 10^-4, with at most two digits of exponent */
        *to++ = digits[0];
        if (count > 1)
            *to++ = '.';
        to = put_bytes_of(to, digits + 1, count - 1);
        to = put_bytes_of(to, "e-", 2);
        *to++ = (char)('0' + -first / 10);
        *to++ = (char)('0' + -first % 10);
    } else if (first < 0) {
        to = put_bytes_of(to, "0.", 2);
        to = put_bytes_of(to, zeros, -first - 1);
        to = put_bytes_of(to, digits, count);
    } else if (count <= first + 1) {
        to = put_bytes_of(to, digits, count);
        to = put_bytes_of(to, zeros, first + 1 - count);
    } else {
        to = put_bytes_of(to, digits, first + 1);
        *to++ = '.';
        to = put_bytes_of(to, digits + first + 1, count - first - 1);
    }
    return to;
}

static size_t text_of(const struct scaled *scaled, bool negative, char *buffer) {
    uint64_t rounded;
    if (!round_to(scaled, 100, &rounded) && !round_to(scaled, 10, &rounded))
        round_to(scaled, 1, &rounded);
    int first = DIGITS - 1 - scaled->power;
    if (rounded == TEN_17) {
        rounded = TEN_16;
        first++;
    }
    char digits[DIGITS];
    for (int i = DIGITS; i-- > 0; rounded /= 10)
        digits[i] = (char)('0' + rounded % 10);
    int count = DIGITS;
    while (digits[count - 1] == '0')
        count--;
    char *end = buffer;
    if (negative)
        *end++ = '-';
    end = lay_digits(end, digits, count, first);
    *end = '\0';
    return (size_t)(end - buffer);
}

static size_t print_and_read_back(double number, char *buffer) {
    int length = 0;
    for (int digits = 15; digits <= DIGITS; digits++) {
        length = snprintf(buffer, DOUBLE_TEXT_SIZE, "%.*g", digits, number);
        double back = strtod(buffer, NULL);
        if (!(back < number) && !(back > number))
            break;
    }
    return (size_t)length;
}

size_t double_text(double number, char *buffer) {
    uint64_t bits;
    memcpy(&bits, &number, sizeof bits);
    int exponent = (int)(bits >> FRACTION_BITS & EXPONENT_MASK) - EXPONENT_BIAS;
    if (exponent < EXPONENT_LEAST || exponent > EXPONENT_MOST)
        return print_and_read_back(number, buffer);
    struct scaled scaled = scale(HIDDEN_BIT | (bits & (HIDDEN_BIT - 1)), exponent);
    return text_of(&scaled, bits >> 63 != 0, buffer);
}
