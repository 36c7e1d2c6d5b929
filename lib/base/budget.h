/* An allocator that gives only so much memory at a time. */
#ifndef NH_BASE_BUDGET_H
#define NH_BASE_BUDGET_H

#include "nearhand.h"

struct budget {
    const nh_allocator *from; /* where the memory comes from */
    size_t held, most;        /* bytes given now, and at most */
    bool passed;              /* once a block was refused because it was too much */
};

/* An allocator for blocks within the budget. The budget stays where it is. */
nh_allocator budget_allocator(struct budget *budget);

#endif
