/* The products of the groups of a variant, remembered for the values of their letters. */
#ifndef NH_COMPILE_GROUP_MEMO_H
#define NH_COMPILE_GROUP_MEMO_H

#include "compile/unknowns.h"

struct group_memo {
    struct compiler *compiler;
    const struct draft_groups *groups;
    const struct unknowns *unknowns;
    struct remembered_group *slots; /* hash table */
    size_t count, slot_count;
    struct products products; /* of all that is remembered */
    struct products fresh;    /* of the last that was worked out */
};

/* The products of group number `index` under the current assignment. They stand until
 * the next call. */
struct products group_products(struct group_memo *memo, size_t index);

void group_memo_free(struct group_memo *memo);

#endif
