/* Every block begins with its size. A block that grows counts once, though some
 * allocators hold it twice while it moves. */
#include "base/budget.h"

#include <stddef.h>
#include <stdint.h>

union header {
    size_t size;
    max_align_t align;
};

static void *budget_resize(void *context, void *pointer, size_t size) {
    struct budget *budget = context;
    union header *block = pointer != NULL ? (union header *)pointer - 1 : NULL;
    size_t before = block != NULL ? block->size : 0;
    if (size > budget->most - (budget->held - before)) {
        budget->passed = true;
        return NULL;
    }
    block = budget->from->resize(budget->from->context, block, sizeof *block + size);
    if (block == NULL)
        return NULL;
    block->size = size;
    budget->held = budget->held - before + size;
    return block + 1;
}

static void budget_release(void *context, void *pointer) {
    struct budget *budget = context;
    union header *block = (union header *)pointer - 1;
    budget->held -= block->size;
    budget->from->release(budget->from->context, block);
}

nh_allocator budget_allocator(struct budget *budget) {
    return (nh_allocator){budget_resize, budget_release, budget};
}
