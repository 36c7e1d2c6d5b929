/* Numbers whose median is asked for: sorted in memory while they are few, else counted
 * digit by digit, some in a file. */
#include "progress/values.h"
#include "io/message.h"

#include <stdlib.h>
#include <string.h>

#define ROOM_LEAST 16
#define DIGIT_BITS 16
#define DIGITS (1u << DIGIT_BITS)
#define READ_COUNT 1024 /* values read of the file at a time */

static bool spill_held(struct values *values) {
    bool good = spill_write(&values->file, values->held, values->count * sizeof *values->held);
    values->count = 0;
    return good;
}

static bool grow_held(struct values *values) {
    size_t room = values->room == 0 ? ROOM_LEAST : 2 * values->room;
    if (room > values->most)
        room = values->most;
    double *larger = realloc(values->held, room * sizeof *larger);
    if (larger == NULL)
        return short_of_memory();
    values->held = larger;
    values->room = room;
    return true;
}

bool values_include(struct values *values, double value) {
    if (values->count == values->most && !spill_held(values))
        return false;
    if (values->count == values->room && !grow_held(values))
        return false;
    values->held[values->count++] = value;
    return true;
}

uint64_t values_count(const struct values *values) {
    return values->file.size / sizeof *values->held + values->count;
}

/* -------------------------------------------------------------- median --- */

static int compare_doubles(const void *left, const void *right) {
    double a = *(const double *)left;
    double b = *(const double *)right;
    return (a > b) - (a < b);
}

/* What of a value is known, and how many have each next digit. */
struct digits {
    int shift; /* bits behind the digit */
    uint64_t known;
    uint64_t count[DIGITS];
};

static void count_digits(struct digits *digits, const double *value, size_t count) {
    for (size_t i = 0; i < count; i++) {
        uint64_t bits;
        memcpy(&bits, &value[i], sizeof bits);
        if (digits->shift == 64 - DIGIT_BITS ||
            bits >> (digits->shift + DIGIT_BITS) == digits->known)
            digits->count[bits >> digits->shift & (DIGITS - 1)]++;
    }
}

static bool count_file(struct digits *digits, struct spill_file *file) {
    double value[READ_COUNT];
    for (uint64_t place = 0; place < file->size;) {
        size_t size =
            file->size - place < sizeof value ? (size_t)(file->size - place) : sizeof value;
        if (!spill_read(file, place, value, size))
            return false;
        count_digits(digits, value, size / sizeof *value);
        place += size;
    }
    return true;
}

/* The value that `rank` others precede. Doubles that are not negative are in the order
 * of their bits: the digits of the value sought are found one after the other, by counting
 * which come next behind those known. */
static bool ranked_value(struct values *values, uint64_t rank, double *value) {
    struct digits *digits = malloc(sizeof *digits);
    if (digits == NULL)
        return short_of_memory();
    digits->known = 0;
    bool good = true;
    for (int shift = 64 - DIGIT_BITS; good && shift >= 0; shift -= DIGIT_BITS) {
        digits->shift = shift;
        memset(digits->count, 0, sizeof digits->count);
        good = count_file(digits, &values->file);
        count_digits(digits, values->held, values->count);
        uint64_t digit = 0;
        while (good && rank >= digits->count[digit])
            rank -= digits->count[digit++];
        digits->known = digits->known << DIGIT_BITS | digit;
    }
    memcpy(value, &digits->known, sizeof *value);
    free(digits);
    return good;
}

bool values_median(struct values *values, double *median) {
    uint64_t count = values_count(values);
    double below = 0;
    if (values->file.size == 0) {
        qsort(values->held, values->count, sizeof *values->held, compare_doubles);
        *median = values->held[count / 2];
        below = values->held[(count - 1) / 2];
    } else if (!ranked_value(values, count / 2, median) ||
               !ranked_value(values, (count - 1) / 2, &below)) {
        return false;
    }
    if (count % 2 == 0)
        *median = (below + *median) / 2;
    return true;
}

void values_clear(struct values *values) {
    values->count = 0;
    if (values->file.size > 0)
        spill_close(&values->file);
}

void values_free(struct values *values) {
    values_clear(values);
    spill_close(&values->file);
    free(values->held);
    values->held = NULL;
}
