/* A group that is taken several times with different tiles, where sets lie on the
 * table. The tiles that must differ are those of the whole choices, shown ones too,
 * so the ways to take the group once are listed and selected from. */
#include "rests/rest_distinct.h"

#include <stdlib.h>
#include <string.h>

static void list_group(struct compiler *compiler, const struct shown *shown,
                       const struct draft_group *group, struct options *out);

static void free_options(const struct compiler *compiler, struct options *options) {
    memory_release(compiler->pool->allocator, options->items);
}

static bool join_options(const struct option *a, const struct option *b, struct option *sum) {
    if ((a->mask & b->mask) != 0)
        return false;
    *sum = *a;
    sum->mask = a->mask | b->mask;
    sum->whole = tiles_with(&sum->whole, &b->whole);
    for (int part = 0; part < PARTS; part++) {
        sum->shares[part].need += b->shares[part].need;
        sum->shares[part].joker += b->shares[part].joker;
    }
    return true;
}

/* Every option of `a` with every one of `b`. */
static void multiply_options(struct compiler *compiler, const struct options *a,
                             const struct options *b, struct options *out) {
    struct pool *pool = compiler->pool;
    pool_work(pool, 16 * (uint64_t)a->count * b->count);
    for (size_t i = 0; i < a->count && compiler_fine(compiler); i++)
        for (size_t j = 0; j < b->count; j++) {
            struct option sum;
            if (!join_options(&a->items[i], &b->items[j], &sum))
                continue;
            if (out->count >= NH_CHOICES_MAX)
                pool_past_limit(pool, LIMIT_DISTINCT);
            if (!compiler_fine(compiler) ||
                !pool_reserve(pool, (void **)&out->items, &out->capacity, out->count + 1,
                              sizeof *out->items))
                return;
            out->items[out->count++] = sum;
        }
}

static void append_options(struct compiler *compiler, const struct options *from,
                           struct options *out) {
    if (from->count > 0 && pool_reserve(compiler->pool, (void **)&out->items, &out->capacity,
                                        out->count + from->count, sizeof *out->items)) {
        memcpy(out->items + out->count, from->items, from->count * sizeof *from->items);
        out->count += from->count;
    }
}

static int option_compare(const void *a, const void *b) {
    const struct option *x = a, *y = b;
    int order = memcmp(&x->whole, &y->whole, sizeof x->whole);
    for (int part = 0; part < PARTS && order == 0; part++)
        order = packed_before(&x->shares[part], &y->shares[part])   ? -1
                : packed_before(&y->shares[part], &x->shares[part]) ? 1
                                                                    : 0;
    return order != 0 ? order : x->mask - y->mask;
}

/* Sorts options by their tiles, and drops those that come twice. */
static void sort_options(struct options *options) {
    size_t kept = 0;
    if (options->count > 0)
        qsort(options->items, options->count, sizeof *options->items, option_compare);
    for (size_t i = 0; i < options->count; i++)
        if (kept == 0 || option_compare(&options->items[i], &options->items[kept - 1]) != 0)
            options->items[kept++] = options->items[i];
    options->count = kept;
}

static void list_array(struct compiler *compiler, const struct shown *shown,
                       const struct draft_groups *groups, struct options *out) {
    struct option nothing = {.mask = 0};
    struct options sum = {0}, start = {&nothing, 1, 1};
    append_options(compiler, &start, &sum);
    for (size_t i = 0; i < groups->count && compiler_fine(compiler); i++) {
        struct options one = {0}, longer = {0};
        list_group(compiler, shown, &groups->items[i], &one);
        multiply_options(compiler, &sum, &one, &longer);
        free_options(compiler, &one);
        free_options(compiler, &sum);
        sum = longer;
        sort_options(&sum); /* two groups alike list the same tiles in two orders */
    }
    append_options(compiler, &sum, out);
    free_options(compiler, &sum);
}

static void list_once(struct compiler *compiler, const struct shown *shown,
                      const struct draft_group *group, struct options *out) {
    if (group->shape != SHAPE_ONE_OF)
        list_plain(compiler, shown, group, out);
    for (size_t i = 0; i < group->alternative_count && compiler_fine(compiler); i++)
        list_array(compiler, shown, &group->alternatives[i], out);
}

/* One past the last option with the tiles of option `first`. */
static size_t same_tiles_end(const struct options *options, size_t first) {
    size_t end = first + 1;
    while (end < options->count &&
           nh_tiles_equal(&options->items[end].whole, &options->items[first].whole))
        end++;
    return end;
}

/* All ways to take a group as often as it is to be taken, listed: selections of
 * different tiles where they must differ. */
static void list_selections(struct compiler *compiler, const struct options *once, int times,
                            struct options *out) {
    struct options taken[NH_TIMES_MAX + 1] = {{0}};
    struct option nothing = {.mask = 0};
    struct options start = {&nothing, 1, 1};
    append_options(compiler, &start, &taken[0]);
    for (size_t i = 0; i < once->count && compiler_fine(compiler);) {
        size_t end = same_tiles_end(once, i);
        struct options one = {once->items + i, end - i, end - i};
        for (int j = times; j >= 1; j--)
            multiply_options(compiler, &taken[j - 1], &one, &taken[j]);
        i = end;
    }
    append_options(compiler, &taken[times], out);
    for (int j = 0; j <= times; j++)
        free_options(compiler, &taken[j]);
}

static void list_group(struct compiler *compiler, const struct shown *shown,
                       const struct draft_group *group, struct options *out) {
    struct options once = {0};
    list_once(compiler, shown, group, &once);
    sort_options(&once);
    if (group->distinct && group->times > 1) {
        list_selections(compiler, &once, group->times, out);
    } else {
        struct options sum = {0};
        append_options(compiler, &once, &sum);
        for (int i = 1; i < group->times && compiler_fine(compiler); i++) {
            struct options longer = {0};
            multiply_options(compiler, &sum, &once, &longer);
            free_options(compiler, &sum);
            sum = longer;
            sort_options(&sum);
        }
        append_options(compiler, &sum, out);
        free_options(compiler, &sum);
    }
    free_options(compiler, &once);
}

/* -------------------------------------------------------------- products --- */

/* Lets one choice more be taken, or not: `one` has all its ways. */
static void select_masked(struct compiler *compiler, const struct shown *shown,
                          struct masked *taken, const struct masked *one, int times) {
    for (int j = times; j >= 1; j--) {
        masked_add_sum(compiler->pool, shown, &taken[j - 1], one, shown->full, &taken[j]);
        masked_merge(compiler->pool, shown, &taken[j]);
    }
}

void add_rest_distinct(struct compiler *compiler, const struct shown *shown,
                       const struct draft_group *group, struct masked *out) {
    struct pool *pool = compiler->pool;
    struct options once = {0};
    struct masked *taken = memory_new(pool->allocator, (size_t)group->times + 1, sizeof *taken);
    if (taken == NULL) {
        pool_short_of_memory(pool);
        return;
    }
    list_once(compiler, shown, group, &once);
    sort_options(&once);
    if (once.count > NH_CHOICES_MAX)
        pool_past_limit(pool, LIMIT_DISTINCT);
    masked_add_nothing(pool, &taken[0]);
    for (size_t i = 0; i < once.count && compiler_fine(compiler);) {
        size_t end = same_tiles_end(&once, i);
        struct masked one = {0};
        for (; i < end; i++)
            products_add_target(pool, once.items[i].shares, presumed_prevailing(compiler, group),
                                presumed_seat(compiler, group), &one.of[once.items[i].mask]);
        select_masked(compiler, shown, taken, &one, group->times);
        masked_free(pool, shown, &one);
    }
    masked_append(pool, shown, &taken[group->times], out);
    for (int j = 0; j <= group->times; j++)
        masked_free(pool, shown, &taken[j]);
    memory_release(pool->allocator, taken);
    free_options(compiler, &once);
}
