/* What one group of a pattern can be, where sets lie on the table: as compile/choices
 * has it, but that a choice which is a set on the table leaves nothing. */
#include "rests/rest_groups.h"
#include "compile/named_kinds.h"
#include "rests/rest_choices.h"
#include "rests/rest_distinct.h"

/* --------------------------------------------------------------- groups --- */

static void add_plain_rest(struct compiler *compiler, const struct shown *shown,
                           const struct draft_group *group, struct masked *out) {
    struct options options = {0};
    list_plain(compiler, shown, group, &options);
    for (size_t i = 0; i < options.count; i++)
        products_add_target(compiler->pool, options.items[i].shares,
                            presumed_prevailing(compiler, group), presumed_seat(compiler, group),
                            &out->of[options.items[i].mask]);
    memory_release(compiler->pool->allocator, options.items);
}

/* Appends the sum of `so_far` with one more group; frees `so_far`. */
static void extend(struct compiler *compiler, const struct shown *shown, struct masked *so_far,
                   const struct masked *more) {
    struct masked longer = {0};
    masked_add_sum(compiler->pool, shown, so_far, more, shown->full, &longer);
    masked_merge(compiler->pool, shown, &longer);
    masked_free(compiler->pool, shown, so_far);
    *so_far = longer;
}

static void add_alternative_rest(struct compiler *compiler, const struct shown *shown,
                                 const struct draft_groups *groups, struct masked *out) {
    struct masked sum = {0};
    masked_add_nothing(compiler->pool, &sum);
    for (size_t i = 0; i < groups->count && compiler_fine(compiler); i++) {
        struct masked one = {0};
        add_rest_group(compiler, shown, &groups->items[i], &one);
        extend(compiler, shown, &sum, &one);
        masked_free(compiler->pool, shown, &one);
    }
    masked_append(compiler->pool, shown, &sum, out);
    masked_free(compiler->pool, shown, &sum);
}

void add_rest_group(struct compiler *compiler, const struct shown *shown,
                    const struct draft_group *group, struct masked *out) {
    if (group->distinct && group->times > 1) {
        add_rest_distinct(compiler, shown, group, out);
        return;
    }
    struct masked once = {0}, sum = {0};
    if (group->shape != SHAPE_ONE_OF)
        add_plain_rest(compiler, shown, group, &once);
    for (size_t i = 0; i < group->alternative_count && compiler_fine(compiler); i++)
        add_alternative_rest(compiler, shown, &group->alternatives[i], &once);
    masked_merge(compiler->pool, shown, &once);
    masked_append(compiler->pool, shown, &once, &sum);
    for (int i = 1; i < group->times && compiler_fine(compiler); i++)
        extend(compiler, shown, &sum, &once);
    masked_append(compiler->pool, shown, &sum, out);
    masked_free(compiler->pool, shown, &once);
    masked_free(compiler->pool, shown, &sum);
}

/* ----------------------------------------------------------------- masks --- */

/* Whether an atom may name the kind: a letter may be anything. */
static bool may_name(const struct draft_group *group, const struct atom *atom, int kind) {
    bool suited = kind < NH_EAST;
    if (suited && group->suit_type == SUIT_GIVEN && kind / PART_KINDS != group->suit)
        return false;
    switch (atom->type) {
    case ATOM_RANK:
        return suited && kind % PART_KINDS + 1 == atom->offset;
    case ATOM_KIND:
        return kind == atom->value;
    case ATOM_CLASS:
        return kind < NH_FLOWER && in_class(kind, atom->value);
    case ATOM_PREVAILING:
    case ATOM_SEAT:
        return kind >= NH_EAST && kind <= NH_NORTH;
    default:
        return true;
    }
}

static bool has_shape(const struct draft_group *group, const nh_set *set) {
    if (set->shape == NH_CHOW)
        return group->shape == SHAPE_CHOW || group->shape == SHAPE_SET ||
               (group->shape == SHAPE_RUN && group->length == 3);
    return group->shape == set->tiles || (group->shape == SHAPE_SET && set->tiles == 3);
}

static bool may_be(const struct draft_group *group, const nh_set *set) {
    if (!has_shape(group, set))
        return false;
    for (size_t i = 0; i < group->atom_count; i++)
        if (may_name(group, &group->atoms[i], set->kind))
            return true;
    return false;
}

unsigned sets_of_group(const struct draft_group *group, const struct shown *shown) {
    unsigned mask = 0;
    for (size_t i = 0; i < shown->count; i++)
        if (may_be(group, &shown->sets[i]))
            mask |= 1u << i;
    for (size_t i = 0; i < group->alternative_count; i++)
        for (size_t j = 0; j < group->alternatives[i].count; j++)
            mask |= sets_of_group(&group->alternatives[i].items[j], shown);
    return mask;
}
