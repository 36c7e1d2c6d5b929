/* Warnings of groups that are allowed and yet seldom meant. */
#ifndef NH_LIST_GROUP_WARNINGS_H
#define NH_LIST_GROUP_WARNINGS_H

#include "list/draft.h"
#include "list/json_reader.h"

/* "chow-class": a class of which a chow or run asks the first tile alone. */
void group_warn_class_of_run(struct json_reader *reader, const struct draft_group *group);

/* "suit-letter": the suits "b", "c" and "d" of the groups in an array. */
void groups_warn_suit_letters(struct json_reader *reader, const cJSON *array,
                              const struct draft_groups *groups);

#endif
