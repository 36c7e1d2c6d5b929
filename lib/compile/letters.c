/* Groups without letters or winds of the player are free: their sum is worked
 * out once for a variant. For the others each letter is given each of its values,
 * depth first, and a group is added as soon as its letters have values, so that
 * what leads to no target is left early. The sum of a union is the union of the
 * sums: merging the products of the bound groups before the free ones are added
 * loses nothing. */
#include "compile/letters.h"
#include "compile/choices.h"
#include "compile/unknowns.h"

struct binding {
    struct compiler *compiler;
    const struct draft_groups *groups;
    struct unknowns unknowns;
    struct products found;
    bool apart; /* groups are not added up: each must have a choice */
};

static bool binding_fine(const struct binding *binding) {
    return compiler_fine(binding->compiler);
}

/* Adds the groups that are bound at a level to the sum so far. */
static void add_level(struct binding *binding, int level, const struct products *before,
                      struct products *out) {
    struct pool *pool = binding->compiler->pool;
    products_append(pool, before, out);
    for (size_t i = 0; i < binding->groups->count && binding_fine(binding); i++) {
        if (binding->unknowns.level[i] != level)
            continue;
        struct products one = {0}, longer = {0};
        add_group(binding->compiler, &binding->groups->items[i], &one);
        if (binding->apart && one.count > 0) {
            products_free(pool, &one);
            continue;
        }
        products_add_sum(pool, out, &one, &longer);
        if (longer.count > 1)
            products_merge(pool, &longer);
        products_free(pool, &one);
        products_free(pool, out);
        *out = longer;
    }
}

#define MERGE_EVERY 16384

/* Gives values to the unknowns from `index` on; `before` is the sum of the
 * groups that are bound already. */
static void bind(struct binding *binding, int index, const struct products *before) {
    if (index == binding->unknowns.count) {
        size_t merged = binding->found.count / MERGE_EVERY;
        products_append(binding->compiler->pool, before, &binding->found);
        if (binding->found.count / MERGE_EVERY > merged)
            products_merge(binding->compiler->pool, &binding->found);
        return;
    }
    for (int value = 0; value < UNKNOWN_VALUES && binding_fine(binding); value++) {
        if (binding->apart && binding->found.count > 0)
            break;
        if (!unknown_assign(binding->compiler, &binding->unknowns, index, value))
            continue;
        if (++binding->compiler->assignments > NH_ASSIGNMENTS_MAX) {
            binding->compiler->pool->status = NH_ERROR_LIMIT;
            return;
        }
        struct products sum = {0};
        add_level(binding, index + 1, before, &sum);
        if (sum.count > 0)
            bind(binding, index + 1, &sum);
        products_free(binding->compiler->pool, &sum);
    }
    unknown_forget(binding->compiler, &binding->unknowns, index);
}

void add_assignments(struct compiler *compiler, const struct draft_groups *groups,
                     struct products *out) {
    struct pool *pool = compiler->pool;
    struct binding binding = {.compiler = compiler, .groups = groups};
    compiler->now = (struct assignment){.prevailing = 0};
    if (!unknowns_find(groups, compiler->variant->letters, &binding.unknowns))
        return; /* different letters cannot all differ */
    struct products nothing = {0}, free_sum = {0};
    products_add_nothing(pool, &nothing);
    bind(&binding, 0, &nothing);
    products_merge(pool, &binding.found);
    add_level(&binding, 0, &nothing, &free_sum);
    products_add_sum(pool, &binding.found, &free_sum, out);
    products_free(pool, &nothing);
    products_free(pool, &binding.found);
    products_free(pool, &free_sum);
}

bool letters_can_fit(struct compiler *compiler, const struct draft_groups *groups) {
    struct binding binding = {.compiler = compiler, .groups = groups, .apart = true};
    struct products nothing = {0};
    compiler->now = (struct assignment){.prevailing = 0};
    if (!unknowns_find(groups, compiler->variant->letters, &binding.unknowns))
        return false;
    products_add_nothing(compiler->pool, &nothing);
    bind(&binding, 0, &nothing);
    bool fit = binding.found.count > 0;
    products_free(compiler->pool, &nothing);
    products_free(compiler->pool, &binding.found);
    return fit;
}
