/* The four parts of a set of tiles, and what the library knows of each kind. */
#ifndef NH_TILES_TILES_H
#define NH_TILES_TILES_H

#include "nearhand.h"

#include <stdarg.h>

/* Tiles fall into four parts: three suits of nine ranks, and the honours with
 * the flower. A kind is part * PART_KINDS + slot; slots of a suit are ranks
 * less one, slots of the honour part are E S W N R G Wh F. Jokers take the
 * honour part's last slot, but no target has any. */
enum { PART_BAM, PART_CRAK, PART_DOT, PART_HONOUR, PARTS };
#define PART_KINDS 9
#define SUITS 3

/* Copies of each kind in the fullest set. */
#define COPIES 4
#define FLOWERS_MAX 8
#define JOKERS_MAX 16

/* Tiles together, and what is left of them; every count fits. */
static inline nh_tiles tiles_with(const nh_tiles *tiles, const nh_tiles *more) {
    nh_tiles sum;
    for (int kind = 0; kind < NH_KINDS; kind++)
        sum.count[kind] = (uint8_t)(tiles->count[kind] + more->count[kind]);
    return sum;
}

static inline nh_tiles tiles_without(const nh_tiles *tiles, const nh_tiles *fewer) {
    nh_tiles rest;
    for (int kind = 0; kind < NH_KINDS; kind++)
        rest.count[kind] = (uint8_t)(tiles->count[kind] - fewer->count[kind]);
    return rest;
}

/* Fills `error` (may be NULL) and returns `status`. */
nh_status error_set(nh_error *error, nh_status status, uint32_t column, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Decodes one UTF-8 character; its length in bytes, or 0 where the text is not
 * UTF-8. `length` is at least 1. */
size_t tiles_decode(const char *text, size_t length, uint32_t *character);

/* The set and hand size that hand text is checked against: those of a list, or
 * the fullest ones for NULL. Defined with the list. */
nh_tiles list_set_or_full(const nh_list *list);
int list_most_or_full(const nh_list *list);

#endif
