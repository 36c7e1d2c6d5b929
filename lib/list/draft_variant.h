/* The variants of a pattern: groups, with what holds for them. */
#ifndef NH_LIST_DRAFT_VARIANT_H
#define NH_LIST_DRAFT_VARIANT_H

#include "list/draft.h"
#include "list/json_reader.h"

/* Reads what a pattern or a variant says of itself in "points", "concealed",
 * "note", "limits", "ranks" and "letters" in place of what `variant` has. */
void draft_read_terms(struct json_reader *reader, const cJSON *object,
                      struct draft_variant *variant);

/* Reads the "groups" or "variants" of a pattern; `whole` has what the pattern says
 * for all of them. */
void draft_read_variants(struct json_reader *reader, const cJSON *object,
                         const struct draft_variant *whole, struct draft_pattern *pattern);

/* Complains of variants whose size fits no hand of `hand` tiles. */
void draft_check_sizes(struct json_reader *reader, const struct draft_pattern *pattern, int hand);

#endif
