/* Groups without letters or winds of the player are free: their sum is worked
 * out once for a variant. For the others each letter is given each of its values,
 * depth first, and a group is added as soon as its letters have values, so that
 * what leads to no target is left early. The sum of a union is the union of the
 * sums: merging the products of the bound groups before the free ones are added
 * loses nothing. */
#include "compile/letters.h"
#include "compile/group_memo.h"
#include "compile/shared_letters.h"
#include "families/product_merge.h"

struct binding {
    struct compiler *compiler;
    const struct draft_groups *groups;
    struct unknowns unknowns;
    struct group_memo memo;
    struct products sums[UNKNOWNS_MAX + 1]; /* of the groups that are bound at each level */
    struct products spare;
    struct products found;
    bool apart; /* groups are not added up: each must have a choice */
};

static bool binding_fine(const struct binding *binding) {
    return compiler_fine(binding->compiler);
}

/* Adds one group to a sum. */
static void add_to_sum(struct binding *binding, size_t group, struct products *sum) {
    struct pool *pool = binding->compiler->pool;
    struct products one = group_products(&binding->memo, group);
    if (binding->apart && one.count > 0)
        return;
    struct products *longer = &binding->spare;
    longer->count = 0;
    products_add_sum(pool, sum, &one, longer);
    products_merge(pool, longer);
    struct products before = *sum;
    *sum = *longer;
    *longer = before;
}

/* The sum of the groups that are bound at a level, and of those before. */
static void add_level(struct binding *binding, int level, const struct products *before,
                      struct products *sum) {
    sum->count = 0;
    products_append(binding->compiler->pool, before, sum);
    for (size_t i = 0; i < binding->groups->count && binding_fine(binding); i++)
        if (binding->unknowns.level[i] == level)
            add_to_sum(binding, i, sum);
}

#define MERGE_EVERY 16384

static void add_found(struct binding *binding, const struct products *products) {
    size_t merged = binding->found.count / MERGE_EVERY;
    products_append(binding->compiler->pool, products, &binding->found);
    if (binding->found.count / MERGE_EVERY > merged)
        products_merge_unsorted(binding->compiler->pool, &binding->found);
}

/* Gives values to the unknowns from `index` on; sums[index] is that of the groups
 * which are bound already. */
static void bind(struct binding *binding, int index) {
    if (index == binding->unknowns.count) {
        add_found(binding, &binding->sums[index]);
        return;
    }
    for (int value = 0; value < UNKNOWN_VALUES && binding_fine(binding); value++) {
        if (binding->apart && binding->found.count > 0)
            break;
        if (!unknown_assign(binding->compiler, &binding->unknowns, index, value))
            continue;
        if (++binding->compiler->assignments > NH_ASSIGNMENTS_MAX) {
            pool_past_limit(binding->compiler->pool, LIMIT_LETTERS);
            return;
        }
        add_level(binding, index + 1, &binding->sums[index], &binding->sums[index + 1]);
        if (binding->sums[index + 1].count > 0)
            bind(binding, index + 1);
    }
    unknown_forget(binding->compiler, &binding->unknowns, index);
}

/* Up to so many assignments are gone through one by one. */
#define ONE_BY_ONE_MAX 500

/* Gives values to all; the sums are found then. False where different letters cannot
 * all differ. */
static bool bind_all(struct binding *binding) {
    struct pool *pool = binding->compiler->pool;
    struct compiler *compiler = binding->compiler;
    compiler->now = (struct assignment){.prevailing = 0};
    if (!unknowns_find(binding->groups, compiler->variant->letters, &binding->unknowns))
        return false;
    binding->memo.compiler = compiler;
    binding->memo.groups = binding->groups;
    binding->memo.unknowns = &binding->unknowns;
    if (!binding->apart && unknowns_assignments(compiler, &binding->unknowns) > ONE_BY_ONE_MAX) {
        add_shared_assignments(compiler, binding->groups, &binding->found);
        return true;
    }
    products_add_nothing(pool, &binding->sums[0]);
    bind(binding, 0);
    return true;
}

static void binding_free(struct binding *binding) {
    const struct pool *pool = binding->compiler->pool;
    for (int i = 0; i <= UNKNOWNS_MAX; i++)
        products_free(pool, &binding->sums[i]);
    products_free(pool, &binding->spare);
    products_free(pool, &binding->found);
    if (binding->memo.compiler != NULL)
        group_memo_free(&binding->memo);
}

void add_assignments(struct compiler *compiler, const struct draft_groups *groups,
                     struct products *out) {
    struct pool *pool = compiler->pool;
    struct binding binding = {.compiler = compiler, .groups = groups};
    struct products nothing = {0}, free_sum = {0};
    if (bind_all(&binding)) {
        products_merge(pool, &binding.found);
        products_add_nothing(pool, &nothing);
        add_level(&binding, 0, &nothing, &free_sum);
        products_add_sum(pool, &binding.found, &free_sum, out);
    }
    products_free(pool, &nothing);
    products_free(pool, &free_sum);
    binding_free(&binding);
}

bool letters_can_fit(struct compiler *compiler, const struct draft_groups *groups) {
    struct binding binding = {.compiler = compiler, .groups = groups, .apart = true};
    bind_all(&binding);
    bool fit = binding.found.count > 0;
    binding_free(&binding);
    return fit;
}
