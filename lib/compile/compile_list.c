/* A list is compiled pattern by pattern, with one pool of families for all. */
#include "compile/compile_list.h"
#include "compile/compile_pattern.h"
#include "compile/keep.h"
#include "compile/overlaps.h"
#include "compile/product_runs.h"
#include "compile/too_large.h"
#include "list/draft_size.h"

static int largest_size(const struct draft *draft) {
    int largest = draft->hand, misfit = 0;
    for (size_t i = 0; i < draft->pattern_count; i++)
        for (size_t v = 0; v < draft->patterns[i].variant_count; v++)
            draft_size_fits(&draft->patterns[i].variants[v].groups, draft->hand, &largest, &misfit);
    return largest;
}

bool make_room(const struct draft *draft, nh_list *list) {
    size_t variants = 0;
    for (size_t i = 0; i < draft->pattern_count; i++)
        variants += draft->patterns[i].variant_count;
    list->pattern_count = draft->pattern_count;
    list->patterns = arena_new(&list->arena, draft->pattern_count, sizeof *list->patterns);
    list->variant_live = arena_new(&list->arena, variants, sizeof *list->variant_live);
    return list->patterns != NULL && list->variant_live != NULL;
}

nh_status finish_list(struct pool *pool, struct products *all, nh_list *list) {
    find_overlaps(pool, all, list);
    nh_status status = pool->status == NH_OK ? list_keep_used(pool, all, list) : pool->status;
    if (status != NH_OK)
        return status;
    products_free(pool, all);
    if (!pool->kept)
        pool_free(pool);
    return list_add_tables(list) && list_add_runs(list) ? NH_OK : NH_ERROR_MEMORY;
}

/* Works out the patterns one after the other. */
static nh_status compile_patterns(struct compiler *compiler, nh_list *list, struct products *all,
                                  struct heaviest *heaviest, nh_mistakes *mistakes) {
    const struct draft *draft = compiler->draft;
    const struct pool *pool = compiler->pool;
    uint32_t variant = 0;
    for (size_t i = 0; i < draft->pattern_count && pool->status == NH_OK; i++) {
        compiler->pattern = &draft->patterns[i];
        uint32_t variants = (uint32_t)compiler->pattern->variant_count;
        uint32_t first = (uint32_t)all->count;
        uint32_t count =
            (uint32_t)compile_pattern(compiler, list->variant_live + variant, all, mistakes);
        list->patterns[i] = (struct list_pattern){.about = compiler->pattern->about,
                                                  .first = first,
                                                  .count = count,
                                                  .variant_first = variant,
                                                  .variant_count = variants};
        variant += variants;
        if (pool->work >= heaviest->work)
            *heaviest = (struct heaviest){compiler->pattern, pool->work};
    }
    return pool->status;
}

/* What a list comes to when all else went well. */
static nh_status status_of_mistakes(const nh_mistakes *mistakes) {
    return mistakes->memory_short ? NH_ERROR_MEMORY : mistakes->errors > 0 ? NH_ERROR_LIST : NH_OK;
}

nh_status compile_list(const struct draft *draft, nh_list *list, nh_mistakes *mistakes) {
    struct pool pool;
    struct products all = {0};
    struct compiler compiler = {.pool = &pool, .draft = draft};
    struct heaviest heaviest = {NULL, 0};
    nh_status status = NH_ERROR_MEMORY;
    if (pool_init(&pool, &list->allocator, &draft->set) && make_room(draft, list))
        status = compile_patterns(&compiler, list, &all, &heaviest, mistakes);
    if (status == NH_OK)
        status = status_of_mistakes(mistakes);
    if (status == NH_OK) {
        list->most = largest_size(draft);
        status = finish_list(&pool, &all, list);
    }
    if (status == NH_ERROR_LIMIT) {
        complain_of_size(&compiler, &heaviest, mistakes);
        status = status_of_mistakes(mistakes);
    }
    products_free(&pool, &all);
    pool_free(&pool);
    return status;
}
