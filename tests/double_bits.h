/* A double and its bits. */
#ifndef TESTS_DOUBLE_BITS_H
#define TESTS_DOUBLE_BITS_H

#include <stdint.h>
#include <string.h>

static inline double of_bits(uint64_t bits) {
    double number;
    memcpy(&number, &bits, sizeof number);
    return number;
}

static inline uint64_t bits_of(double number) {
    uint64_t bits;
    memcpy(&bits, &number, sizeof bits);
    return bits;
}

#endif
