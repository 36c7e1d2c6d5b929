/* Switches that stop long work. */
#include "base/cancel.h"
#include "base/memory.h"
#include "base/status.h"

nh_status nh_cancel_new(const nh_allocator *allocator, nh_cancel **cancel) {
    nh_allocator own = memory_default(allocator);
    *cancel = memory_new(&own, 1, sizeof **cancel);
    if (*cancel == NULL)
        return NH_ERROR_MEMORY;
    (*cancel)->allocator = own;
    atomic_init(&(*cancel)->asked, 0);
    return NH_OK;
}

void nh_cancel_free(nh_cancel *cancel) {
    if (cancel == NULL)
        return;
    nh_allocator allocator = cancel->allocator;
    memory_release(&allocator, cancel);
}

void nh_cancel_now(nh_cancel *cancel) {
    atomic_store_explicit(&cancel->asked, 1, memory_order_relaxed);
}

void nh_cancel_clear(nh_cancel *cancel) {
    atomic_store_explicit(&cancel->asked, 0, memory_order_relaxed);
}

nh_status cancel_error(nh_error *error) {
    return error_set(error, NH_ERROR_CANCELLED, 0, "%s", nh_status_text(NH_ERROR_CANCELLED));
}
