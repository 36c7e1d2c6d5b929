/* Workspaces: the scratch of every stage, for one list. */
#include "workspace.h"

nh_status nh_workspace_new(const nh_list *list, const nh_allocator *allocator,
                           nh_workspace **workspace) {
    nh_allocator own = memory_default(allocator);
    *workspace = NULL;
    nh_workspace *made = memory_new(&own, 1, sizeof *made);
    if (made == NULL)
        return NH_ERROR_MEMORY;
    made->allocator = own;
    made->list = list;
    made->away = memory_new(&own, list->pattern_count, 1);
    bool good = row_memo_init(&made->memo, list, &own) && made->away != NULL;
    good &= rank_scratch_init(&made->rank, list, &own);
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
    rank_scratch_free(&workspace->rank, &allocator);
    memory_release(&allocator, workspace->away);
    row_memo_free(&workspace->memo);
    memory_release(&allocator, workspace);
}

const nh_list *nh_workspace_list(const nh_workspace *workspace) {
    return workspace->list;
}
