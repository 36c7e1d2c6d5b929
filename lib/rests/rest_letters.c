/* Letters and winds of a variant are given values, where sets lie on the table: as in
 * compile/letters, and a value is left at once when some set can no longer have a
 * group. */
#include "rests/rest_letters.h"
#include "compile/unknowns.h"

struct rest_binding {
    struct compiler *compiler;
    const struct shown *shown;
    struct unknowns unknowns;
    unsigned later[UNKNOWNS_MAX + 1]; /* sets that groups bound later than a level may be */
    struct masked found;
};

static bool fine(const struct rest_binding *binding) {
    return compiler_fine(binding->compiler);
}

/* Groups are added level by level, and those that use no letter last. */
static void find_later(struct rest_binding *binding) {
    const struct draft_groups *groups = &binding->compiler->variant->groups;
    for (int level = 0; level <= binding->unknowns.count; level++)
        binding->later[level] = 0;
    for (size_t i = 0; i < groups->count; i++) {
        unsigned mask = sets_of_group(&groups->items[i], binding->shown);
        int own = binding->unknowns.level[i];
        for (int level = 0; level <= binding->unknowns.count; level++)
            if (own == 0 || own > level)
                binding->later[level] |= mask;
    }
}

/* Adds the groups that are bound at a level. `last` are the sets that groups after
 * this level may be. */
static void add_rest_level(struct rest_binding *binding, int level, const struct masked *before,
                           unsigned last, struct masked *out) {
    const struct draft_groups *groups = &binding->compiler->variant->groups;
    struct pool *pool = binding->compiler->pool;
    size_t left = 0;
    for (size_t i = 0; i < groups->count; i++)
        left += binding->unknowns.level[i] == level;
    masked_append(pool, binding->shown, before, out);
    for (size_t i = 0; i < groups->count && left > 0 && fine(binding); i++) {
        if (binding->unknowns.level[i] != level)
            continue;
        struct masked one = {0}, longer = {0};
        left--;
        add_rest_group(binding->compiler, binding->shown, &groups->items[i], &one);
        masked_add_sum(pool, binding->shown, out, &one, left > 0 ? binding->shown->full : last,
                       &longer);
        masked_merge(pool, binding->shown, &longer);
        masked_free(pool, binding->shown, &one);
        masked_free(pool, binding->shown, out);
        *out = longer;
    }
}

static void bind_rest(struct rest_binding *binding, int index, const struct masked *before) {
    struct pool *pool = binding->compiler->pool;
    if (index == binding->unknowns.count) {
        masked_append(pool, binding->shown, before, &binding->found);
        return;
    }
    for (int value = 0; value < UNKNOWN_VALUES && fine(binding); value++) {
        if (!unknown_assign(binding->compiler, &binding->unknowns, index, value))
            continue;
        if (++binding->compiler->assignments > NH_ASSIGNMENTS_MAX) {
            pool_past_limit(pool, LIMIT_LETTERS);
            return;
        }
        struct masked sum = {0};
        add_rest_level(binding, index + 1, before, binding->later[index + 1], &sum);
        if (!masked_empty(binding->shown, &sum))
            bind_rest(binding, index + 1, &sum);
        masked_free(pool, binding->shown, &sum);
    }
    unknown_forget(binding->compiler, &binding->unknowns, index);
}

void add_rests(struct compiler *compiler, const struct shown *shown, struct products *out) {
    struct pool *pool = compiler->pool;
    struct rest_binding binding = {.compiler = compiler, .shown = shown};
    compiler->now = (struct assignment){.prevailing = 0};
    if (!unknowns_find(&compiler->variant->groups, compiler->variant->letters, &binding.unknowns))
        return;
    find_later(&binding);
    if ((shown->full & ~(binding.later[0])) != 0)
        return; /* some set can be none of the groups */
    struct masked nothing = {0}, free_sum = {0}, whole = {0};
    masked_add_nothing(pool, &nothing);
    bind_rest(&binding, 0, &nothing);
    masked_merge(pool, shown, &binding.found);
    if (!masked_empty(shown, &binding.found)) {
        add_rest_level(&binding, 0, &nothing, shown->full, &free_sum);
        masked_add_sum(pool, shown, &binding.found, &free_sum, 0, &whole);
        products_append(pool, &whole.of[shown->full], out);
    }
    masked_free(pool, shown, &nothing);
    masked_free(pool, shown, &binding.found);
    masked_free(pool, shown, &free_sum);
    masked_free(pool, shown, &whole);
}
