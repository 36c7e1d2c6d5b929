/* The letters of a variant, and the winds of the player: what takes values. */
#ifndef NH_COMPILE_UNKNOWNS_H
#define NH_COMPILE_UNKNOWNS_H

#include "compile/compiler.h"

enum unknown_type { UNKNOWN_SUIT, UNKNOWN_RANK, UNKNOWN_HONOUR, UNKNOWN_PREVAILING, UNKNOWN_SEAT };

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

/* Gives the unknown at `index` its value number `value`; false when it may not have
 * it: different letters differ. Those before it have their values. */
bool unknown_assign(struct compiler *compiler, const struct unknowns *unknowns, int index,
                    int value);

/* Ends the values of the unknown at `index`. */
void unknown_forget(struct compiler *compiler, const struct unknowns *unknowns, int index);

#endif
