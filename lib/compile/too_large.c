/* A list that is too large is refused with the pattern and the group to change: of the
 * pattern that passed a limit, or took most work of all, the group with the most
 * choices. These are counted as the group is written, under all values of its letters,
 * and without regard to the other groups: enough to compare groups of a pattern. */
#include "compile/too_large.h"
#include "base/bits.h"
#include "compile/named_kinds.h"
#include "compile/pattern_place.h"

#include <stdio.h>

/* --------------------------------------------------------------- choices --- */

static double kinds_in_class(const struct draft_group *group, uint8_t class) {
    int kinds = 0;
    for (int kind = 0; kind < NH_FLOWER; kind++)
        kinds += in_class(kind, class) &&
                 (group->suit_type != SUIT_GIVEN || kind / PART_KINDS == group->suit);
    return kinds;
}

static double choices_of_atom(const struct draft_variant *variant, const struct draft_group *group,
                              const struct atom *atom) {
    double suits = group->suit_type == SUIT_GIVEN ? 1 : SUITS;
    double values = count_bits(variant->letters[atom->letter].values);
    switch (atom->type) {
    case ATOM_RANK:
        return suits;
    case ATOM_LETTER:
        if (atom->other_sign != 0)
            values *= count_bits(variant->letters[atom->other].values);
        return suits * values;
    case ATOM_HONOUR_LETTER:
        return values;
    case ATOM_CLASS:
        return kinds_in_class(group, atom->value);
    case ATOM_PREVAILING:
    case ATOM_SEAT:
        return NH_NORTH - NH_EAST + 1;
    default:
        return 1;
    }
}

/* So many of `choices`: different ones, or each any number of times. */
static double choices_taken(double choices, const struct draft_group *group) {
    double taken = 1;
    for (int i = 0; i < group->times; i++)
        taken *= (group->distinct ? choices - i : choices + i) / (i + 1);
    return taken;
}

static double choices_of(const struct draft_variant *variant, const struct draft_group *group) {
    double choices = 0;
    for (size_t i = 0; i < group->atom_count; i++)
        choices += choices_of_atom(variant, group, &group->atoms[i]);
    if (group->shape == SHAPE_SET)
        choices *= 2;
    for (size_t i = 0; i < group->alternative_count; i++) {
        const struct draft_groups *groups = &group->alternatives[i];
        double together = 1;
        for (size_t j = 0; j < groups->count; j++)
            together *= choices_of(variant, &groups->items[j]);
        choices += together;
    }
    return choices_taken(choices, group);
}

/* ---------------------------------------------------------------- groups --- */

static int letters_of(const struct draft_group *group) {
    return count_bits(group->tile_letters) + count_bits(group->suit_letters);
}

static bool has_distinct(const struct draft_group *group) {
    if (group->distinct && group->times > 1)
        return true;
    for (size_t i = 0; i < group->alternative_count; i++)
        for (size_t j = 0; j < group->alternatives[i].count; j++)
            if (has_distinct(&group->alternatives[i].items[j]))
                return true;
    return false;
}

/* How much a group has to do with passing a limit. */
static double weight_of(const struct draft_variant *variant, const struct draft_group *group,
                        enum work_limit limit) {
    if (limit == LIMIT_LETTERS)
        return letters_of(group);
    if (limit == LIMIT_DISTINCT && !has_distinct(group))
        return 0;
    return choices_of(variant, group);
}

/* A group of a pattern, and where it stands. */
struct culprit {
    const struct draft_pattern *pattern;
    const struct draft_variant *variant;
    size_t group;
    double weight;
};

static void weigh_groups(const struct draft_variant *variant, enum work_limit limit,
                         struct culprit *culprit) {
    for (size_t g = 0; g < variant->groups.count; g++) {
        double weight = weight_of(variant, &variant->groups.items[g], limit);
        if (weight > culprit->weight) {
            culprit->variant = variant;
            culprit->group = g;
            culprit->weight = weight;
        }
    }
}

/* ---------------------------------------------------------------- advice --- */

static const char *advice_for(const struct draft_group *group) {
    if (group->shape == SHAPE_ONE_OF)
        return group->times > 1 ? "give it fewer alternatives, or take it fewer times"
                                : "give it fewer alternatives";
    if (group->times > 1)
        return "name fewer tiles, or take it fewer times";
    if (group->tile_letters != 0)
        return "give its letters fewer values with \"letters\"";
    return "name fewer tiles";
}

static void write_choices(double choices, char *text, size_t size) {
    if (choices < 1e6)
        snprintf(text, size, "%u", (unsigned)(choices + 0.5));
    else
        snprintf(text, size, "more than a million");
}

static void complain_at(struct json_reader *reader, const struct culprit *culprit,
                        enum work_limit limit) {
    const struct draft_group *group = &culprit->variant->groups.items[culprit->group];
    char choices[40];
    write_choices(culprit->weight, choices, sizeof choices);
    switch (limit) {
    case LIMIT_LETTERS:
        reader_complain(reader,
                        "the letters of this pattern can have values in more than %u ways, and "
                        "this group uses the most of them (%d): use fewer letters, or give them "
                        "fewer values with \"letters\"",
                        NH_ASSIGNMENTS_MAX, letters_of(group));
        break;
    case LIMIT_DISTINCT:
        reader_complain(reader, "\"distinct\" is for at most %u choices; name fewer tiles",
                        NH_CHOICES_MAX);
        break;
    case LIMIT_PATTERN:
        reader_complain(reader,
                        "the pattern stands for more combinations than can be worked out, and "
                        "this group has the most choices (%s): %s, or make two patterns of this "
                        "one",
                        choices, advice_for(group));
        break;
    default:
        reader_complain(reader,
                        "the patterns together stand for more combinations than can be worked "
                        "out; this pattern takes the most work, and this group has the most "
                        "choices (%s): %s, or move the pattern to another list",
                        choices, advice_for(group));
    }
}

void complain_of_size(const struct compiler *compiler, const struct heaviest *heaviest,
                      nh_mistakes *mistakes) {
    enum work_limit limit = compiler->pool->passed;
    if (limit == LIMIT_LIST && compiler->draft->pattern_count == 1)
        limit = LIMIT_PATTERN; /* another list would not help */
    struct culprit culprit = {.pattern =
                                  limit == LIMIT_LIST ? heaviest->pattern : compiler->pattern};
    culprit.variant = culprit.pattern->variants; /* there is one at least */
    for (size_t v = 0; v < culprit.pattern->variant_count; v++)
        weigh_groups(&culprit.pattern->variants[v], limit, &culprit);
    struct json_reader reader = reader_at_pattern(compiler->draft, culprit.pattern, mistakes);
    enter_variant(&reader, culprit.pattern, culprit.variant);
    enter_group(&reader, culprit.pattern, culprit.variant, culprit.group);
    complain_at(&reader, &culprit, limit);
}
