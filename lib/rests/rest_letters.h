/* Letters and winds of a variant are given values, where sets lie on the table. */
#ifndef NH_RESTS_REST_LETTERS_H
#define NH_RESTS_REST_LETTERS_H

#include "rests/rest_groups.h"

/* Appends what the groups of the variant leave when each set on the table has a group
 * of its own, over all assignments. */
void add_rests(struct compiler *compiler, const struct shown *shown, struct products *out);

#endif
