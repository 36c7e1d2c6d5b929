/* The letters of a variant, and the winds of the player: what takes values. */
#ifndef NH_COMPILE_UNKNOWNS_H
#define NH_COMPILE_UNKNOWNS_H

#include "compile/compiler.h"

enum unknown_type {
    UNKNOWN_SUIT,
    UNKNOWN_RANK,
    UNKNOWN_HONOUR,
    UNKNOWN_PREVAILING,
    UNKNOWN_SEAT,
    UNKNOWN_TYPES
};

struct unknown {
    uint8_t type, letter;
};

#define UNKNOWNS_MAX (2 * LETTERS + 2)

/* Values that an unknown may be tried with: 0 to UNKNOWN_VALUES - 1. */
#define UNKNOWN_VALUES PART_KINDS

/* The unknowns of some groups in the order in which they take values. */
struct unknowns {
    struct unknown item[UNKNOWNS_MAX];
    int count;
    uint8_t level[NH_GROUPS_MAX]; /* how many unknowns must have values before a group says
                                     which tiles it is; 0 where it uses none */
};

/* Finds the unknowns of groups, where letters stand for what the variant says.
 * False where different letters cannot all differ. */
bool unknowns_find(const struct draft_groups *groups, const struct draft_letter letters[LETTERS],
                   struct unknowns *unknowns);

/* Puts those that share groups with few others last. */
void unknowns_reorder(const struct draft_groups *groups, struct unknowns *unknowns);

/* About how many ways there are to give them values; at least as many as there are,
 * where all can differ. */
uint64_t unknowns_assignments(const struct compiler *compiler, const struct unknowns *unknowns);

/* Gives the unknown at `index` its value number `value`; false when it may not have
 * it: different letters differ. Those before it have their values. */
bool unknown_assign(struct compiler *compiler, const struct unknowns *unknowns, int index,
                    int value);

/* The values of some unknowns, given as bits, in one key. */
struct values {
    uint64_t word[2];
};

struct values unknowns_values(const struct compiler *compiler, const struct unknowns *unknowns,
                              uint32_t chosen);

static inline bool values_equal(const struct values *a, const struct values *b) {
    return a->word[0] == b->word[0] && a->word[1] == b->word[1];
}

/* The value of an unknown, and all that it may have, as bits that are the same for
 * values which exclude each other; none for winds of the player. */
uint32_t unknown_value_bit(const struct compiler *compiler, const struct unknowns *unknowns,
                           int index);
uint32_t unknown_range_bits(const struct compiler *compiler, const struct unknowns *unknowns,
                            int index);

bool group_uses(const struct draft_group *group, const struct unknown *unknown);

/* Ends the values of the unknown at `index`. */
void unknown_forget(struct compiler *compiler, const struct unknowns *unknowns, int index);

#endif
