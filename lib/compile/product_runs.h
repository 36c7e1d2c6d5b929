/* The products of a loaded list, laid out for kernels. */
#ifndef NH_COMPILE_PRODUCT_RUNS_H
#define NH_COMPILE_PRODUCT_RUNS_H

#include "compile/compiled.h"

/* Adds the runs and the lanes. False when memory is short. */
bool list_add_runs(nh_list *list);

#endif
