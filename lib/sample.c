/* One target of a variant, to look at: the one with the most ways. The variant is worked
 * out again, since a loaded list keeps the products of all variants together. */
#include "base/binomials.h"
#include "base/natural.h"
#include "compile/compile_pattern.h"
#include "compile/compiled.h"
#include "rests/rest_list.h"

#include <string.h>

/* A target, and what makes it a better sample than others: that it needs few tiles which
 * are not there, and then that it has many ways for those that are. */
struct sampled {
    nh_tiles target;
    unsigned excess;
    nh_natural ways;
};

/* Of targets that are alike otherwise the one that comes first in hand notation, with
 * the most of the first tiles. */
static bool is_better_sample(const struct sampled *a, const struct sampled *b) {
    if (a->excess != b->excess)
        return a->excess < b->excess;
    int order = nh_natural_compare(&a->ways, &b->ways);
    return order != 0 ? order > 0 : memcmp(&a->target, &b->target, sizeof a->target) > 0;
}

/* A share of a part as a target by itself; false where jokers cannot be what is not there. */
static bool sample_share(const nh_list *list, int part, const struct share *share,
                         struct sampled *sampled) {
    uint64_t ways = 1;
    *sampled = (struct sampled){.excess = 0};
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int kind = part * PART_KINDS + slot;
        unsigned need = share->need[slot];
        unsigned copies = kind == NH_JOKER ? 0 : list->off_table.count[kind];
        unsigned held = need < copies ? need : copies;
        if (need - held > share->joker[slot])
            return false;
        if (need > 0)
            sampled->target.count[kind] = (uint8_t)need;
        sampled->excess += need - held;
        ways *= list->binomials[BINOMIAL(copies, held)].limb[0];
    }
    sampled->ways = natural_from(ways);
    return true;
}

/* The best share of a family in a part, once it was looked for. */
struct family_best {
    struct sampled sampled;
    bool known, found;
};

static const struct family_best *best_of_family(const struct pool *pool, const nh_list *list,
                                                int part, uint32_t number,
                                                struct family_best *bests) {
    struct family_best *best = &bests[number * PARTS + (uint32_t)part];
    const struct family *family = &pool->families[number];
    for (uint32_t i = 0; !best->known && i < family->count; i++) {
        struct share share = share_unpack(&pool->shares[family->first + i]);
        struct sampled one;
        if (!sample_share(list, part, &share, &one) ||
            (best->found && !is_better_sample(&one, &best->sampled)))
            continue;
        best->sampled = one;
        best->found = true;
    }
    best->known = true;
    return best;
}

/* The best target of a product: parts are chosen by themselves. */
static bool sample_product(const struct pool *pool, const nh_list *list,
                           const struct product *product, struct family_best *bests,
                           struct sampled *best) {
    *best = (struct sampled){.ways = natural_from(1)};
    for (int part = 0; part < PARTS; part++) {
        const struct family_best *one =
            best_of_family(pool, list, part, product->family[part], bests);
        if (!one->found)
            return false;
        best->excess += one->sampled.excess;
        best->ways = natural_multiply(best->ways, one->sampled.ways);
        best->target = tiles_with(&best->target, &one->sampled.target);
    }
    return best->excess <= list->off_table.count[NH_JOKER];
}

static nh_status best_sample(const struct pool *pool, const nh_list *list,
                             const struct products *products, nh_tiles *target) {
    struct sampled best = {.excess = NH_TARGET_MAX + 1};
    struct family_best *bests =
        memory_new(&list->allocator, pool->family_count * PARTS, sizeof *bests);
    if (bests == NULL)
        return NH_ERROR_MEMORY;
    for (size_t i = 0; i < products->count; i++) {
        struct sampled one;
        if (sample_product(pool, list, &products->items[i], bests, &one) &&
            is_better_sample(&one, &best))
            best = one;
    }
    memory_release(&list->allocator, bests);
    *target = best.target;
    return NH_OK;
}

static nh_status find_sample(const nh_list *list, size_t pattern, size_t variant,
                             nh_tiles *target) {
    struct pool pool;
    struct products products = {0};
    struct compiler compiler = {
        .pool = &pool, .draft = list->draft, .pattern = &list->draft->patterns[pattern]};
    nh_status status = NH_ERROR_MEMORY;
    if (pool_init(&pool, &list->allocator, &list->set)) {
        if (list->set_count > 0)
            compile_rest_variant(&pool, list, pattern, variant, &products);
        else
            compile_variant(&compiler, &compiler.pattern->variants[variant], &products);
        status = pool.status;
    }
    if (status == NH_OK)
        status = best_sample(&pool, list, &products, target);
    products_free(&pool, &products);
    pool_free(&pool);
    return status;
}

nh_status nh_audit_sample(const nh_list *list, size_t pattern, size_t variant, nh_tiles *target,
                          nh_error *error) {
    nh_status status = check_pattern(list, pattern, error);
    if (status != NH_OK)
        return status;
    if (variant >= list->patterns[pattern].variant_count)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "variant is %zu; the pattern has 0 to %zu",
                         variant, (size_t)list->patterns[pattern].variant_count - 1);
    *target = (nh_tiles){{0}};
    if (!nh_audit_variant_live(list, pattern, variant))
        return NH_OK;
    status = find_sample(list, pattern, variant, target);
    return status == NH_OK ? NH_OK : error_set(error, status, 0, "%s", nh_status_text(status));
}
