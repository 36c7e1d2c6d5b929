/* Lists that some sets are taken from. */
#include "rests/rest.h"
#include "base/status.h"
#include "compile/compiled.h"
#include "distance/kernel.h"
#include "list/draft.h"
#include "rests/rest_list.h"
#include "tiles/table_sets.h"

#include <string.h>

/* Takes the sets out of the list's tiles. */
static nh_status take_sets(nh_list *rest, const nh_set *sets, size_t set_count, nh_error *error) {
    if (rest->set_count + set_count > NH_SETS_MAX)
        return error_set(error, NH_ERROR_TILES, 0, "%zu sets on the table; 0 to %d",
                         rest->set_count + set_count, NH_SETS_MAX);
    for (size_t i = 0; i < set_count; i++) {
        nh_tiles tiles;
        nh_status status = check_set(&sets[i], error);
        if (status != NH_OK)
            return status;
        nh_set_tiles(&sets[i], &tiles);
        for (int kind = 0; kind < NH_KINDS; kind++)
            if (tiles.count[kind] > rest->off_table.count[kind])
                return error_set(error, NH_ERROR_TILES, 0, "the sets hold more %s than there are",
                                 nh_kind_name(kind));
        rest->off_table = tiles_without(&rest->off_table, &tiles);
        rest->on_table = tiles_with(&rest->on_table, &tiles);
        rest->sets[rest->set_count++] = sets[i];
        bool replaced = sets[i].shape == NH_KONG && rest->most > rest->hand;
        rest->hand -= replaced ? 3 : sets[i].tiles;
        rest->most -= sets[i].tiles;
    }
    rest->hand = rest->hand > 1 ? rest->hand : 1;
    rest->most = rest->most > rest->hand ? rest->most : rest->hand;
    return NH_OK;
}

static nh_list *begin_rest(const nh_list *list, const nh_allocator *allocator) {
    nh_list *rest = memory_new(allocator, 1, sizeof *rest);
    if (rest == NULL)
        return NULL;
    rest->allocator = *allocator;
    rest->arena.allocator = &rest->allocator;
    rest->whole = list->whole != NULL ? list->whole : list;
    rest->draft = list->draft;
    rest->title = list->title;
    rest->edition = list->edition;
    rest->note = list->note;
    rest->charleston = list->charleston;
    rest->set = list->set;
    rest->on_table = list->on_table;
    rest->off_table = list->off_table;
    rest->hand = list->hand;
    rest->most = list->most;
    memcpy(rest->sets, list->sets, sizeof rest->sets);
    rest->set_count = list->set_count;
    return rest;
}

void rest_pool_free(struct rest_pool *pool) {
    if (pool->ready)
        pool_free(&pool->pool);
    pool->ready = false;
}

/* Bytes that a pool may hold before the next rest is begun. */
#define POOL_BYTES_MOST ((size_t)16 << 20)

/* Prepares a pool for one more rest; false when memory is short. */
static bool pool_prepare(struct rest_pool *pool, const nh_list *list,
                         const nh_allocator *allocator) {
    if (pool->ready && pool->pool.budget.held > POOL_BYTES_MOST)
        rest_pool_free(pool);
    if (pool->ready) {
        pool->pool.work = pool->pool.all_work = 0;
        return true;
    }
    pool->ready = true;
    bool good = pool_init(&pool->pool, allocator, &list->set);
    pool->pool.kept = true;
    return good;
}

/* Works out the rest of a list into `*rest`; where it is not NH_OK the pool is no longer
 * ready. */
static nh_status work_out_rest(const nh_list *list, const nh_set *sets, size_t set_count,
                               const uint8_t *chosen, struct rest_pool *pool,
                               const nh_allocator *allocator, nh_list **rest, nh_error *error) {
    *rest = begin_rest(list, allocator);
    nh_status status = NH_ERROR_MEMORY;
    if (*rest != NULL)
        status = take_sets(*rest, sets, set_count, error);
    if (status == NH_OK) {
        status = NH_ERROR_MEMORY;
        if (pool_prepare(pool, list, allocator))
            status = compile_rests(*rest, chosen, &pool->pool);
        if (status == NH_OK)
            (*rest)->kernels = kernels_for_families((*rest)->family_count);
        else
            rest_pool_free(pool);
        if (status == NH_ERROR_LIMIT)
            error_set(error, status, 0, "what is left of the list takes too much work");
    }
    if (status == NH_ERROR_MEMORY)
        error_set(error, status, 0, "%s", nh_status_text(status));
    if (status == NH_OK)
        return status;
    nh_list_free(*rest);
    *rest = NULL;
    return status;
}

nh_status list_rest(const nh_list *list, const nh_set *sets, size_t set_count,
                    const uint8_t *chosen, struct rest_pool *pool, const nh_allocator *allocator,
                    nh_list **rest, nh_error *error) {
    bool used = pool->ready;
    nh_status status = work_out_rest(list, sets, set_count, chosen, pool, allocator, rest, error);
    if (status == NH_ERROR_LIMIT && used) /* earlier rests may have filled the pool */
        status = work_out_rest(list, sets, set_count, chosen, pool, allocator, rest, error);
    return status;
}

nh_status nh_list_rest(const nh_list *list, const nh_set *sets, size_t set_count,
                       const nh_allocator *allocator, nh_list **rest, nh_error *error) {
    nh_allocator own = memory_default(allocator);
    struct rest_pool pool = {.ready = false};
    nh_status status = list_rest(list, sets, set_count, NULL, &pool, &own, rest, error);
    rest_pool_free(&pool);
    return status;
}

const nh_set *nh_list_sets(const nh_list *list, size_t *set_count) {
    *set_count = list->set_count;
    return list->sets;
}
