/* The groups, letters and limits of a pattern as its list writes them. */
#include "compile/compiled.h"
#include "list/draft.h"
#include "nearhand_groups.h"

#include <string.h>

/* The draft says all of these in the numbers of the interface. */
_Static_assert((int)SHAPE_RUN == (int)NH_RUN && SHAPE_SET == NH_GROUP_SET &&
                   SHAPE_ONE_OF == NH_GROUP_ONE_OF,
               "shapes");
_Static_assert((int)SUIT_ANY == (int)NH_SUIT_ANY, "suits");
_Static_assert((int)CLASS_ANY == (int)NH_CLASS_ANY && CLASSES == NH_CLASSES, "classes");
_Static_assert((int)ATOM_SEAT == (int)NH_WHICH_SEAT, "tiles");
_Static_assert((int)HONOURS_ONLY == (int)NH_HONOURS_ONLY, "honours");

/* Handles are the draft's own groups. */
static const nh_group *handle_of_group(const struct draft_group *group) {
    return (const nh_group *)group;
}

static const nh_groups *handle_of_groups(const struct draft_groups *groups) {
    return (const nh_groups *)groups;
}

static const struct draft_group *draft_of(const nh_group *group) {
    return (const struct draft_group *)group;
}

static const struct draft_groups *groups_of(const nh_groups *groups) {
    return (const struct draft_groups *)groups;
}

/* NULL where there is none. */
static const struct draft_variant *variant_of(const nh_list *list, size_t pattern, size_t variant) {
    const struct draft *draft = list->draft;
    if (pattern >= draft->pattern_count || variant >= draft->patterns[pattern].variant_count)
        return NULL;
    return &draft->patterns[pattern].variants[variant];
}

const nh_groups *nh_list_groups(const nh_list *list, size_t pattern, size_t variant) {
    const struct draft_variant *written = variant_of(list, pattern, variant);
    return written == NULL ? NULL : handle_of_groups(&written->groups);
}

size_t nh_groups_size(const nh_groups *groups) {
    return groups_of(groups)->count;
}

const nh_group *nh_groups_at(const nh_groups *groups, size_t index) {
    const struct draft_groups *written = groups_of(groups);
    return index < written->count ? handle_of_group(&written->items[index]) : NULL;
}

void nh_group_read(const nh_group *group, nh_group_terms *terms) {
    const struct draft_group *written = draft_of(group);
    *terms = (nh_group_terms){.shape = written->shape,
                              .length = written->length,
                              .times = written->times,
                              .suit_use = written->suit_type,
                              .suit = written->suit,
                              .distinct = written->distinct,
                              .tiles = (uint16_t)written->atom_count,
                              .alternatives = (uint16_t)written->alternative_count};
}

const nh_groups *nh_group_alternative(const nh_group *group, size_t index) {
    const struct draft_group *written = draft_of(group);
    return index < written->alternative_count ? handle_of_groups(&written->alternatives[index])
                                              : NULL;
}

bool nh_group_tile_at(const nh_group *group, size_t index, nh_group_tile *tile) {
    const struct draft_group *written = draft_of(group);
    if (index >= written->atom_count)
        return false;
    const struct atom *atom = &written->atoms[index];
    *tile = (nh_group_tile){.which = atom->type,
                            .value = atom->value,
                            .letter = atom->letter,
                            .sign = atom->sign,
                            .other = atom->other,
                            .other_sign = atom->other_sign,
                            .offset = atom->offset};
    return true;
}

unsigned nh_list_letter(const nh_list *list, size_t pattern, size_t variant, unsigned letter,
                        bool *honours) {
    const struct draft_variant *written = variant_of(list, pattern, variant);
    *honours = false;
    if (written == NULL || letter >= LETTERS)
        return 0;
    *honours = written->letters[letter].honours;
    return written->letters[letter].values;
}

bool nh_list_limits(const nh_list *list, size_t pattern, size_t variant, nh_limits *limits) {
    const struct draft_variant *written = variant_of(list, pattern, variant);
    if (written == NULL)
        return false;
    const struct draft_limits *given = &written->limits;
    *limits = (nh_limits){.suits_least = given->suits_least,
                          .suits_most = given->suits_most,
                          .honours = given->honours};
    memcpy(limits->ranks, given->ranks, sizeof limits->ranks);
    memcpy(limits->kinds, given->kinds, sizeof limits->kinds);
    memcpy(limits->least, given->least, sizeof limits->least);
    memcpy(limits->most, given->most, sizeof limits->most);
    return true;
}
