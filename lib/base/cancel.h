/* Switches that stop long work. */
#ifndef NH_BASE_CANCEL_H
#define NH_BASE_CANCEL_H

#include "nearhand_base.h"

#include <stdatomic.h>

struct nh_cancel {
    nh_allocator allocator;
    atomic_int asked;
};

/* Whether the work is to stop; `cancel` may be NULL. Cheap enough for inner loops
 * of some hundred instructions. */
static inline bool cancel_asked(const nh_cancel *cancel) {
    return cancel != NULL && atomic_load_explicit(&cancel->asked, memory_order_relaxed) != 0;
}

/* The error of work that was stopped. */
nh_status cancel_error(nh_error *error);

#endif
