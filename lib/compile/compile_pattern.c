/* A pattern is worked out variant by variant. */
#include "compile/compile_pattern.h"
#include "compile/letters.h"
#include "compile/no_target.h"
#include "compile/pattern_limits.h"
#include "compile/pattern_place.h"
#include "families/product_merge.h"

bool compile_variant(struct compiler *compiler, const struct draft_variant *variant,
                     struct products *out) {
    struct pool *pool = compiler->pool;
    struct products whole = {0}, limited = {0};
    compiler->variant = variant;
    add_assignments(compiler, &variant->groups, &whole);
    add_within_limits(compiler, &whole, &limited);
    products_merge(pool, &limited);
    products_append(pool, &limited, out);
    bool live = limited.count > 0;
    products_free(pool, &whole);
    products_free(pool, &limited);
    return live;
}

size_t compile_pattern(struct compiler *compiler, bool *variant_live, struct products *all,
                       nh_mistakes *mistakes) {
    const struct draft_pattern *pattern = compiler->pattern;
    struct pool *pool = compiler->pool;
    struct products products = {0};
    compiler->assignments = 0;
    pool_next_pattern(pool);
    for (size_t v = 0; v < pattern->variant_count && compiler_fine(compiler); v++)
        variant_live[v] = compile_variant(compiler, &pattern->variants[v], &products);
    products_merge(pool, &products);
    if (compiler_fine(compiler) && products.count == 0) {
        struct json_reader reader = reader_at_pattern(compiler->draft, pattern, mistakes);
        complain_of_no_target(compiler, &reader);
    }
    products_append_pattern(pool, &products, all);
    size_t count = products.count;
    products_free(pool, &products);
    return count;
}
