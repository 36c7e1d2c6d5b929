/* A pattern is worked out variant by variant. */
#include "compile/compile_pattern.h"
#include "compile/letters.h"
#include "compile/no_target.h"
#include "compile/pattern_limits.h"
#include "families/product_merge.h"
#include "families/work.h"

/* Appends the products of one variant; returns whether there are any. */
static bool compile_variant(struct compiler *compiler, const struct draft_variant *variant,
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

static void note_list(nh_mistakes *mistakes, const char *text) {
    mistakes_add(mistakes, (struct place){0, 0}, NULL, NULL, text);
}

/* Notes why the pattern cannot be loaded, if it cannot. */
static void note_result(struct compiler *compiler, size_t count, nh_mistakes *mistakes) {
    const struct pool *pool = compiler->pool;
    const struct draft *draft = compiler->draft;
    struct json_reader reader = {.json = draft->json,
                                 .length = draft->length,
                                 .mistakes = mistakes,
                                 .pattern = (int)(compiler->pattern - draft->patterns),
                                 .pattern_name = compiler->pattern->about.name};
    reader_enter_key(&reader, "patterns");
    reader_enter_item(&reader, reader.pattern);
    if (pool->all_work + pool->work > LIST_WORK_MAX)
        note_list(mistakes,
                  "the patterns together stand for more combinations than can be worked out");
    else if (pool->status == NH_ERROR_LIMIT)
        reader_complain(&reader,
                        "it stands for more combinations than can be held: name fewer letters or "
                        "fewer choices");
    else if (pool->status == NH_OK && count == 0)
        complain_of_no_target(compiler, &reader);
}

size_t compile_pattern(struct compiler *compiler, bool *variant_live, struct products *all,
                       nh_mistakes *mistakes) {
    const struct draft_pattern *pattern = compiler->pattern;
    struct pool *pool = compiler->pool;
    struct products products = {0};
    compiler->assignments = 0;
    pool->all_work += pool->work;
    pool->work = 0;
    for (size_t v = 0; v < pattern->variant_count && compiler_fine(compiler); v++)
        variant_live[v] = compile_variant(compiler, &pattern->variants[v], &products);
    products_merge(pool, &products);
    note_result(compiler, products.count, mistakes);
    if (pool->status == NH_OK) {
        products_append(pool, &products, all);
        if (pool->status == NH_ERROR_LIMIT)
            note_list(mistakes,
                      "the patterns together stand for more combinations than can be held");
    }
    size_t count = products.count;
    products_free(pool, &products);
    return count;
}
