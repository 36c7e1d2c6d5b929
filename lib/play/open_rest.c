/* A rest for a few hands. Its memory is small, for it does not live long. */
#include "play/open_rest.h"
#include "base/memory.h"
#include "base/status.h"

nh_status open_rest_make(struct open_rest *rest, const nh_list *list, const nh_set *set,
                         const uint8_t *chosen, struct rest_pool *pool,
                         const nh_allocator *allocator, nh_error *error) {
    *rest = (struct open_rest){.allocator = *allocator};
    nh_status status = list_rest(list, set, 1, chosen, pool, allocator, &rest->list, error);
    if (status != NH_OK)
        return status;
    rest->away = memory_new(allocator, list->pattern_count, 1);
    bool good = rest->away != NULL && row_memo_init_small(&rest->rows, rest->list, allocator);
    good = good && rank_scratch_init(&rest->scratch, rest->list, allocator);
    if (!good)
        return error_set(error, NH_ERROR_MEMORY, 0, "%s", nh_status_text(NH_ERROR_MEMORY));
    rest->memory = (struct rank_memory){&rest->rows, rest->away, &rest->scratch};
    return NH_OK;
}

void open_rest_free(struct open_rest *rest) {
    rank_scratch_free(&rest->scratch, &rest->allocator);
    row_memo_free(&rest->rows);
    memory_release(&rest->allocator, rest->away);
    nh_list_free(rest->list);
}
