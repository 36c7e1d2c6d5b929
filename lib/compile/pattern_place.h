/* Where the parts of a pattern stand in the text of its list, for mistakes that show only
 * when it is worked out. */
#ifndef NH_COMPILE_PATTERN_PLACE_H
#define NH_COMPILE_PATTERN_PLACE_H

#include "list/draft.h"
#include "list/json_reader.h"

static inline struct json_reader reader_at_pattern(const struct draft *draft,
                                                   const struct draft_pattern *pattern,
                                                   nh_mistakes *mistakes) {
    struct json_reader reader = {.json = draft->json,
                                 .length = draft->length,
                                 .mistakes = mistakes,
                                 .pattern = (int)(pattern - draft->patterns),
                                 .pattern_name = pattern->about.name};
    reader_enter_key(&reader, "patterns");
    reader_enter_item(&reader, reader.pattern);
    return reader;
}

static inline void enter_variant(struct json_reader *reader, const struct draft_pattern *pattern,
                                 const struct draft_variant *variant) {
    if (!pattern->has_variants)
        return;
    reader_enter_key(reader, "variants");
    reader_enter_item(reader, (int)(variant - pattern->variants));
}

/* Group number `group` of a variant that was entered. */
static inline void enter_group(struct json_reader *reader, const struct draft_pattern *pattern,
                               const struct draft_variant *variant, size_t group) {
    if (!pattern->has_variants || variant->is_object)
        reader_enter_key(reader, "groups");
    reader_enter_item(reader, (int)group);
}

#endif
