/* Natural numbers below 2^192 as three 64-bit limbs. Where the compiler has no product of
 * 128 bits it is built from 32-bit halves. */
#include "base/natural.h"

#include <string.h>

#define LIMBS 3

nh_natural natural_from(uint64_t value) {
    return (nh_natural){{value, 0, 0}};
}

nh_natural natural_add(nh_natural a, nh_natural b) {
    uint64_t carry = 0;
    for (int i = 0; i < LIMBS; i++) {
        uint64_t sum = a.limb[i] + b.limb[i];
        uint64_t overflow = sum < a.limb[i];
        a.limb[i] = sum + carry;
        carry = overflow | (a.limb[i] < sum);
    }
    return a;
}

nh_natural natural_subtract(nh_natural a, nh_natural b) {
    uint64_t borrow = 0;
    for (int i = 0; i < LIMBS; i++) {
        uint64_t difference = a.limb[i] - b.limb[i];
        uint64_t underflow = a.limb[i] < b.limb[i];
        a.limb[i] = difference - borrow;
        borrow = underflow | (difference < borrow);
    }
    return a;
}

/* The 128-bit product of two limbs. */
#ifdef __SIZEOF_INT128__
__extension__ typedef unsigned __int128 two_limbs;

static void multiply_limbs(uint64_t a, uint64_t b, uint64_t *high, uint64_t *low) {
    two_limbs product = (two_limbs)a * b;
    *low = (uint64_t)product;
    *high = (uint64_t)(product >> 64);
}
#else
static void multiply_limbs(uint64_t a, uint64_t b, uint64_t *high, uint64_t *low) {
    uint64_t a0 = a & UINT32_MAX, a1 = a >> 32, b0 = b & UINT32_MAX, b1 = b >> 32;
    uint64_t low_low = a0 * b0, middle_a = a1 * b0, middle_b = a0 * b1;
    uint64_t middle = (low_low >> 32) + (middle_a & UINT32_MAX) + (middle_b & UINT32_MAX);
    *low = (middle << 32) | (low_low & UINT32_MAX);
    *high = a1 * b1 + (middle_a >> 32) + (middle_b >> 32) + (middle >> 32);
}
#endif

void natural_add_product(nh_natural *sum, const nh_natural *number, uint64_t factor) {
    uint64_t carry = 0;
    for (int i = 0; i < LIMBS; i++) {
        uint64_t high, low;
        multiply_limbs(number->limb[i], factor, &high, &low);
        low += carry;
        high += low < carry;
        sum->limb[i] += low;
        carry = high + (sum->limb[i] < low);
    }
}

nh_natural natural_scale(nh_natural a, uint64_t factor) {
    nh_natural product = {{0}};
    natural_add_product(&product, &a, factor);
    return product;
}

nh_natural natural_multiply(nh_natural a, nh_natural b) {
    nh_natural product = natural_scale(a, b.limb[0]);
    for (int shift = 1; shift < LIMBS; shift++) {
        nh_natural part = natural_scale(a, b.limb[shift]);
        nh_natural moved = {{0}};
        for (int i = shift; i < LIMBS; i++)
            moved.limb[i] = part.limb[i - shift];
        product = natural_add(product, moved);
    }
    return product;
}

int nh_natural_compare(const nh_natural *a, const nh_natural *b) {
    for (int i = LIMBS - 1; i >= 0; i--)
        if (a->limb[i] != b->limb[i])
            return a->limb[i] < b->limb[i] ? -1 : 1;
    return 0;
}

/* Each conversion and addition rounds once, and the parts are not negative:
 * three roundings of at most 2^-53 each. */
double nh_natural_double(const nh_natural *number) {
    double value = 0.0;
    for (int i = LIMBS - 1; i >= 0; i--)
        value = value * 0x1p64 + (double)number->limb[i];
    return value;
}

static bool is_zero(const nh_natural *number) {
    return (number->limb[0] | number->limb[1] | number->limb[2]) == 0;
}

double nh_natural_ratio(const nh_natural *dividend, const nh_natural *divisor) {
    if (is_zero(divisor))
        return 0.0;
    if (nh_natural_compare(dividend, divisor) == 0)
        return 1.0;
    return nh_natural_double(dividend) / nh_natural_double(divisor);
}

/* Divides by 10^9 and returns the remainder, 32 bits at a time. */
static uint32_t divide_by_billion(nh_natural *number, int limbs) {
    uint64_t remainder = 0;
    for (int i = limbs - 1; i >= 0; i--) {
        uint64_t high = (remainder << 32) | (number->limb[i] >> 32);
        uint64_t low = ((high % 1000000000u) << 32) | (number->limb[i] & UINT32_MAX);
        number->limb[i] = ((high / 1000000000u) << 32) | (low / 1000000000u);
        remainder = low % 1000000000u;
    }
    return (uint32_t)remainder;
}

/* Writes a number that ends before digits[at]; where it begins. */
static size_t write_small(char *digits, size_t at, uint64_t number) {
    do
        digits[--at] = (char)('0' + number % 10);
    while ((number /= 10) > 0);
    return at;
}

size_t nh_natural_format(const nh_natural *number, char *buffer, size_t size) {
    char digits[NH_NATURAL_TEXT_SIZE];
    size_t at = sizeof digits;
    nh_natural rest = *number;
    for (int limbs = LIMBS; limbs > 1;) {
        if (rest.limb[limbs - 1] == 0) {
            limbs--;
            continue;
        }
        uint32_t chunk = divide_by_billion(&rest, limbs);
        for (int i = 0; i < 9; i++, chunk /= 10)
            digits[--at] = (char)('0' + chunk % 10);
    }
    at = write_small(digits, at, rest.limb[0]);
    size_t length = sizeof digits - at;
    if (size > 0) {
        size_t kept = length < size ? length : size - 1;
        memcpy(buffer, digits + at, kept);
        buffer[kept] = '\0';
    }
    return length;
}
