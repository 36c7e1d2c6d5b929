/* What the fuzz targets share: the entry that libFuzzer calls, and a check that
 * ends the process where it does not hold, so that libFuzzer keeps the input. */
#ifndef NH_FUZZ_H
#define NH_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#define MUST(what)                                                                                 \
    do {                                                                                           \
        if (!(what)) {                                                                             \
            fprintf(stderr, "%s:%d: does not hold: %s\n", __FILE__, __LINE__, #what);              \
            abort();                                                                               \
        }                                                                                          \
    } while (0)

/* Bytes as a row of decisions. Once they are used up every decision is 0. */
struct decisions {
    const uint8_t *bytes;
    size_t left;
};

/* 0 to choices - 1; a byte decides, two where there are more than 256. */
static inline int decide(struct decisions *decisions, int choices) {
    unsigned value = 0;
    MUST(choices > 0);
    for (int i = 0; i < (choices > 256 ? 2 : 1) && decisions->left > 0; i++) {
        value = value << 8 | *decisions->bytes++;
        decisions->left--;
    }
    return (int)(value % (unsigned)choices);
}

#endif
