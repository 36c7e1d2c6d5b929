/* Workspaces, and distances of patterns. */
#include "workspace.h"

static bool pass_scratch_init(struct pass_scratch *pass, const nh_list *list,
                              const nh_allocator *allocator) {
    bool good = gain_memo_init(&pass->gains, list, allocator);
    pass->nearer = memory_new_raw(allocator, NH_PASS_MAX, sizeof *pass->nearer);
    pass->near = memory_new_raw(allocator, list->product_count, sizeof *pass->near);
    pass->choices = memory_new_raw(allocator, NH_PASSES_MAX, sizeof *pass->choices);
    return good && pass->nearer != NULL && pass->near != NULL && pass->choices != NULL;
}

static void pass_scratch_free(struct pass_scratch *pass, const nh_allocator *allocator) {
    gain_memo_free(&pass->gains);
    memory_release(allocator, pass->nearer);
    memory_release(allocator, pass->near);
    memory_release(allocator, pass->choices);
}

nh_status nh_workspace_new(const nh_list *list, const nh_allocator *allocator,
                           nh_workspace **workspace) {
    nh_allocator own = memory_default(allocator);
    *workspace = NULL;
    nh_workspace *made = memory_new(&own, 1, sizeof *made);
    if (made == NULL)
        return NH_ERROR_MEMORY;
    made->allocator = own;
    made->list = list;
    made->rows = memory_new(&own, list->pattern_count, sizeof *made->rows);
    made->away = memory_new(&own, list->pattern_count, 1);
    bool good = row_memo_init(&made->memo, list, &own) && made->rows != NULL && made->away != NULL;
    good &= best_scratch_init(&made->scratch, list, &own);
    good &= pass_scratch_init(&made->pass, list, &own);
    if (!good) {
        nh_workspace_free(made);
        return NH_ERROR_MEMORY;
    }
    *workspace = made;
    return NH_OK;
}

void nh_workspace_free(nh_workspace *workspace) {
    if (workspace == NULL)
        return;
    nh_allocator allocator = workspace->allocator;
    pass_scratch_free(&workspace->pass, &allocator);
    best_scratch_free(&workspace->scratch);
    memory_release(&allocator, workspace->rows);
    memory_release(&allocator, workspace->away);
    row_memo_free(&workspace->memo);
    memory_release(&allocator, workspace);
}

unsigned find_distances(struct query *query, const uint8_t *chosen, struct near_rows *near,
                        nh_workspace *workspace, uint8_t *away) {
    const nh_list *list = query->list;
    rows_find(query, &workspace->memo, near);
    if (query->short_of_jokers)
        query_add_bits(query);
    unsigned nearest = NH_AWAY_NONE;
    for (size_t i = 0; i < list->pattern_count; i++) {
        away[i] = NH_AWAY_NONE;
        if (chosen != NULL && chosen[i] == 0)
            continue;
        unsigned least = pattern_away(query, near, &list->patterns[i]);
        if (least >= FAR)
            continue;
        away[i] = (uint8_t)least;
        nearest = least < nearest ? least : nearest;
    }
    return nearest;
}

nh_status nh_distances(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                       const nh_situation *situation, uint8_t *away, nh_error *error) {
    struct query query;
    nh_status status = query_set(&query, list, hand, situation, error);
    if (status != NH_OK)
        return status;
    struct near_rows near;
    find_distances(&query, NULL, &near, workspace, away);
    return NH_OK;
}
