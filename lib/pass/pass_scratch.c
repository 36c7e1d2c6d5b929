/* Memory for passes. */
#include "pass/pass_scratch.h"

bool pass_scratch_init(struct pass_scratch *scratch, const nh_list *list,
                       const nh_allocator *allocator) {
    bool good = expect_scratch_init(&scratch->expect, list, allocator);
    scratch->alone = memory_new_raw(allocator, (size_t)list->most, sizeof *scratch->alone);
    scratch->choices = memory_new_raw(allocator, NH_PASSES_MAX, sizeof *scratch->choices);
    scratch->rows = memory_new_raw(allocator, NH_PASSES_MAX, sizeof *scratch->rows);
    scratch->heap = memory_new_raw(allocator, NH_PASSES_MAX, sizeof *scratch->heap);
    return good && scratch->heap != NULL && scratch->alone != NULL && scratch->choices != NULL &&
           scratch->rows != NULL;
}

void pass_scratch_free(struct pass_scratch *scratch, const nh_allocator *allocator) {
    expect_scratch_free(&scratch->expect, allocator);
    memory_release(allocator, scratch->alone);
    memory_release(allocator, scratch->choices);
    memory_release(allocator, scratch->rows);
    memory_release(allocator, scratch->heap);
}
