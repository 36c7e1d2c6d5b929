/* Groups without letters or winds of the player are free: their sum is worked
 * out once for a variant. For the others each letter is given each of its values,
 * depth first, and a group is added as soon as its letters have values, so that
 * what leads to no target is left early. The sum of a union is the union of the
 * sums: merging the products of the bound groups before the free ones are added
 * loses nothing. */
#include "compile/letters.h"
#include "compile/choices.h"

/* One letter or wind of a variant that takes values. */
enum unknown_type { UNKNOWN_SUIT, UNKNOWN_RANK, UNKNOWN_PREVAILING, UNKNOWN_SEAT };

struct unknown {
    uint8_t type, letter;
};

#define UNKNOWNS_MAX (2 * LETTERS + 2)

struct binding {
    struct compiler *compiler;
    const struct draft_groups *groups;
    struct unknown unknowns[UNKNOWNS_MAX];
    int unknown_count;
    uint8_t level[NH_GROUPS_MAX]; /* how many unknowns have values when a group is added; 0
                                     for free groups */
    struct products found;
};

static bool binding_fine(const struct binding *binding) {
    return compiler_fine(binding->compiler);
}

static void add_unknown(struct binding *binding, uint8_t type, int letter) {
    binding->unknowns[binding->unknown_count++] = (struct unknown){type, (uint8_t)letter};
}

static bool group_uses(const struct draft_group *group, const struct unknown *unknown) {
    switch (unknown->type) {
    case UNKNOWN_SUIT:
        return group->suit_letters >> unknown->letter & 1u;
    case UNKNOWN_RANK:
        return group->rank_letters >> unknown->letter & 1u;
    case UNKNOWN_PREVAILING:
        return group->uses_prevailing;
    default:
        return group->uses_seat;
    }
}

static int count_unknowns(const struct binding *binding, uint8_t type) {
    int count = 0;
    for (int i = 0; i < binding->unknown_count; i++)
        count += binding->unknowns[i].type == type;
    return count;
}

/* Lists the unknowns of a variant and the level at which each group is bound.
 */
static void find_unknowns(struct binding *binding) {
    uint32_t suits = 0, ranks = 0;
    bool prevailing = false, seat = false;
    for (size_t i = 0; i < binding->groups->count; i++) {
        const struct draft_group *group = &binding->groups->items[i];
        suits |= group->suit_letters;
        ranks |= group->rank_letters;
        prevailing |= group->uses_prevailing;
        seat |= group->uses_seat;
    }
    binding->unknown_count = 0;
    if (prevailing)
        add_unknown(binding, UNKNOWN_PREVAILING, 0);
    if (seat)
        add_unknown(binding, UNKNOWN_SEAT, 0);
    for (int letter = 0; letter < LETTERS; letter++)
        if (suits >> letter & 1u)
            add_unknown(binding, UNKNOWN_SUIT, letter);
    for (int letter = 0; letter < LETTERS; letter++)
        if (ranks >> letter & 1u)
            add_unknown(binding, UNKNOWN_RANK, letter);
    for (size_t i = 0; i < binding->groups->count; i++) {
        binding->level[i] = 0;
        for (int u = 0; u < binding->unknown_count; u++)
            if (group_uses(&binding->groups->items[i], &binding->unknowns[u]))
                binding->level[i] = (uint8_t)(u + 1);
    }
}

/* Adds the groups that are bound at a level to the sum so far. */
static void add_level(struct binding *binding, int level, const struct products *before,
                      struct products *out) {
    struct pool *pool = binding->compiler->pool;
    products_append(pool, before, out);
    for (size_t i = 0; i < binding->groups->count && binding_fine(binding); i++) {
        if (binding->level[i] != level)
            continue;
        struct products one = {0}, longer = {0};
        add_group(binding->compiler, &binding->groups->items[i], &one);
        products_add_sum(pool, out, &one, &longer);
        if (longer.count > 1)
            products_merge(pool, &longer);
        products_free(pool, &one);
        products_free(pool, out);
        *out = longer;
    }
}

/* Gives the unknown at `index` its value number `value`; false when it may not
 * have it: different letters differ. */
static bool assign(struct binding *binding, int index, int value) {
    struct assignment *now = &binding->compiler->now;
    const struct unknown *unknown = &binding->unknowns[index];
    int letter = unknown->letter;
    const struct draft_variant *variant = binding->compiler->variant;
    switch (unknown->type) {
    case UNKNOWN_PREVAILING:
        now->prevailing = (uint8_t)(value + 1);
        return value < 4;
    case UNKNOWN_SEAT:
        now->seat = (uint8_t)(value + 1);
        return value < 4;
    case UNKNOWN_SUIT:
        if (value >= SUITS || binding->compiler->draft->set.count[value * PART_KINDS] == 0)
            return false;
        for (int i = 0; i < index; i++)
            if (binding->unknowns[i].type == UNKNOWN_SUIT &&
                now->suit[binding->unknowns[i].letter] == value)
                return false;
        now->suit[letter] = (uint8_t)value;
        return true;
    default:
        if (!(variant->letters[letter].values >> value & 1u))
            return false;
        for (int i = 0; i < index; i++)
            if (binding->unknowns[i].type == UNKNOWN_RANK &&
                now->rank[binding->unknowns[i].letter] == value + 1)
                return false;
        now->rank[letter] = (uint8_t)(value + 1);
        return true;
    }
}

#define MERGE_EVERY 16384

/* Gives values to the unknowns from `index` on; `before` is the sum of the
 * groups that are bound already. */
static void bind(struct binding *binding, int index, const struct products *before) {
    if (index == binding->unknown_count) {
        size_t merged = binding->found.count / MERGE_EVERY;
        products_append(binding->compiler->pool, before, &binding->found);
        if (binding->found.count / MERGE_EVERY > merged)
            products_merge(binding->compiler->pool, &binding->found);
        return;
    }
    for (int value = 0; value < PART_KINDS && binding_fine(binding); value++) {
        if (!assign(binding, index, value))
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
    if (binding->unknowns[index].type == UNKNOWN_PREVAILING)
        binding->compiler->now.prevailing = 0;
    if (binding->unknowns[index].type == UNKNOWN_SEAT)
        binding->compiler->now.seat = 0;
}

void add_assignments(struct compiler *compiler, const struct draft_groups *groups,
                     struct products *out) {
    struct pool *pool = compiler->pool;
    struct binding binding = {.compiler = compiler, .groups = groups};
    compiler->now = (struct assignment){.prevailing = 0};
    find_unknowns(&binding);
    if (count_unknowns(&binding, UNKNOWN_SUIT) > SUITS ||
        count_unknowns(&binding, UNKNOWN_RANK) > PART_KINDS)
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
