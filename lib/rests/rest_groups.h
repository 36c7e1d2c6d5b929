/* What one group of a pattern can be, where sets lie on the table. */
#ifndef NH_RESTS_REST_GROUPS_H
#define NH_RESTS_REST_GROUPS_H

#include "compile/compiler.h"
#include "rests/masked.h"

/* The sets that some choice of the group, or of one within it, could be, as a mask:
 * letters may have any value, so there may be too many. */
unsigned sets_of_group(const struct draft_group *group, const struct shown *shown);

/* Appends the products of a group under the current assignment of letters. */
void add_rest_group(struct compiler *compiler, const struct shown *shown,
                    const struct draft_group *group, struct masked *out);

#endif
