/* A list that some sets are taken from. */
#include "rests/rest_list.h"
#include "compile/compile_list.h"
#include "compile/pattern_limits.h"
#include "families/product_merge.h"
#include "rests/rest_letters.h"

/* Leaves out products of fewer tiles than the player has to hold: a claimed kong drew a tile
 * for its fourth, so a pattern in which it takes the place of other tiles of the hand can
 * no longer be made. All targets of a product have as many tiles. */
static void leave_out_small(const struct pool *pool, int least, struct products *products) {
    size_t kept = 0;
    for (size_t i = 0; i < products->count; i++) {
        int size = 0;
        for (int part = 0; part < PARTS; part++)
            size += pool->families[products->items[i].family[part]].size;
        if (size >= least)
            products->items[kept++] = products->items[i];
    }
    products->count = kept;
}

/* Appends what one variant leaves; returns whether that is anything. */
static bool add_variant(struct compiler *compiler, const struct shown *shown,
                        const struct draft_variant *variant, struct products *out) {
    struct pool *pool = compiler->pool;
    struct products whole = {0}, limited = {0};
    compiler->variant = variant;
    add_rests(compiler, shown, &whole);
    leave_out_small(pool, shown->least, &whole);
    products_merge(pool, &whole);
    add_within_limits(compiler, &whole, &limited);
    products_merge(pool, &limited);
    products_append(pool, &limited, out);
    bool live = limited.count > 0;
    products_free(pool, &whole);
    products_free(pool, &limited);
    return live;
}

/* The tiles that the sets stand for: jokers count as what they are there. */
static nh_tiles tiles_shown(const struct shown *shown) {
    nh_tiles all = {{0}};
    for (size_t i = 0; i < shown->count; i++) {
        nh_set set = shown->sets[i];
        nh_tiles tiles;
        set.jokers = 0;
        nh_set_tiles(&set, &tiles);
        all = tiles_with(&all, &tiles);
    }
    return all;
}

static struct shown shown_of(const nh_list *list) {
    struct shown shown = {list->sets, list->set_count, (1u << list->set_count) - 1u,
                          list->whole->hand};
    bool replaced = list->whole->most > list->whole->hand;
    for (size_t i = 0; i < list->set_count; i++)
        shown.least -= replaced && list->sets[i].shape == NH_KONG ? 3 : list->sets[i].tiles;
    return shown;
}

bool compile_rest_variant(struct pool *pool, const nh_list *list, size_t pattern, size_t variant,
                          struct products *out) {
    struct shown shown = shown_of(list);
    struct compiler compiler = {
        .pool = pool, .draft = list->draft, .pattern = &list->draft->patterns[pattern]};
    compiler.shown = tiles_shown(&shown);
    return add_variant(&compiler, &shown, &compiler.pattern->variants[variant], out);
}

static void add_pattern_rest(struct pool *pool, nh_list *list, size_t index,
                             const struct shown *shown, bool *variant_live, struct products *all) {
    struct compiler compiler = {
        .pool = pool, .draft = list->draft, .pattern = &list->draft->patterns[index]};
    struct products products = {0};
    compiler.shown = tiles_shown(shown);
    pool_next_pattern(pool);
    for (size_t v = 0; v < compiler.pattern->variant_count && compiler_fine(&compiler); v++) {
        const struct draft_variant *variant = &compiler.pattern->variants[v];
        variant_live[v] = !(shown->count > 0 && variant->about.concealed) &&
                          add_variant(&compiler, shown, variant, &products);
    }
    products_merge(pool, &products);
    list->patterns[index].first = (uint32_t)all->count;
    list->patterns[index].count = (uint32_t)products.count;
    products_append_pattern(pool, &products, all);
    products_free(pool, &products);
}

static nh_status add_pattern_rests(struct pool *pool, nh_list *list, const uint8_t *chosen,
                                   struct products *all) {
    struct shown shown = shown_of(list);
    uint32_t variant = 0;
    for (size_t i = 0; i < list->draft->pattern_count && pool->status == NH_OK; i++) {
        const struct draft_pattern *pattern = &list->draft->patterns[i];
        list->patterns[i].about = pattern->about;
        list->patterns[i].variant_first = variant;
        list->patterns[i].variant_count = (uint32_t)pattern->variant_count;
        if (chosen == NULL || chosen[i] != 0)
            add_pattern_rest(pool, list, i, &shown, list->variant_live + variant, all);
        variant += (uint32_t)pattern->variant_count;
    }
    return pool->status;
}

nh_status compile_rests(nh_list *list, const uint8_t *chosen, struct pool *pool) {
    struct products all = {0};
    nh_status status = NH_ERROR_MEMORY;
    if (make_room(list->draft, list))
        status = add_pattern_rests(pool, list, chosen, &all);
    if (status == NH_OK)
        status = finish_list(pool, &all, list);
    products_free(pool, &all);
    return status;
}
