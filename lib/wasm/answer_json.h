/* Answers as JSON text, written from front to back: what a value of the library is there. The
 * keys are those that the program prints. */
#ifndef NH_WASM_ANSWER_JSON_H
#define NH_WASM_ANSWER_JSON_H

#include "nearhand.h"

#include <stddef.h>

/* Start from {0}. Memory that runs out ends the module by a trap. */
struct answer {
    char *text; /* without a zero byte at its end until finish_answer */
    size_t length, room;
    bool comma; /* one is due before the next value */
};

void restart_answer(struct answer *answer); /* it says nothing yet, and keeps its memory */
void finish_answer(struct answer *answer);

/* Each value has its key, or NULL in an array. Keys need no escapes. */
void open_object(struct answer *answer, const char *key);
void close_object(struct answer *answer);
void open_array(struct answer *answer, const char *key);
void close_array(struct answer *answer);

void add_null(struct answer *answer, const char *key);
void add_flag(struct answer *answer, const char *key, bool flag);
void add_whole(struct answer *answer, const char *key, int64_t number);   /* not below 0 */
void add_digits(struct answer *answer, const char *key, uint64_t number); /* as text */
void add_double(struct answer *answer, const char *key, double value);    /* every bit of it */
void add_text(struct answer *answer, const char *key, const char *text);  /* NULL is null */

void add_tiles(struct answer *answer, const char *key, const nh_tiles *tiles);
void add_natural(struct answer *answer, const char *key, const nh_natural *number); /* as text */

/* "part/whole", as it is. */
void add_ratio(struct answer *answer, const char *key, const nh_natural *part,
               const nh_natural *whole);

/* As a number, and under KEY_exact in lowest terms; `whole` is not 0. */
void add_fraction(struct answer *answer, const char *key, uint64_t part, uint64_t whole);

/* Tiles away; null for NH_AWAY_NONE. */
void add_away(struct answer *answer, const char *key, uint8_t away);

/* "pattern", "section", "ref", "points". */
void add_pattern(struct answer *answer, const nh_pattern *pattern);

/* Tiles as a word, without spaces; likewise a set: "444D", "EEEJ". */
void add_joined(struct answer *answer, const char *key, const nh_tiles *tiles);
void add_set(struct answer *answer, const char *key, const nh_set *set);

/* "exposed", the sets that a list is the rest of. */
void add_exposed(struct answer *answer, const nh_list *list);

/* "marked": the groups of a layout of the row's target, each with what the hand has of it. */
void add_marked(struct answer *answer, const nh_ranked *row, const nh_layout *layout);

#endif /* NH_WASM_ANSWER_JSON_H */
