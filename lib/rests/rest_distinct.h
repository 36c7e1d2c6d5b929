/* A group that is taken several times with different tiles, where sets lie on the
 * table. */
#ifndef NH_RESTS_REST_DISTINCT_H
#define NH_RESTS_REST_DISTINCT_H

#include "rests/rest_choices.h"

/* Appends the products of such a group. */
void add_rest_distinct(struct compiler *compiler, const struct shown *shown,
                       const struct draft_group *group, struct masked *out);

#endif
