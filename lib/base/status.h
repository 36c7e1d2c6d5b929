/* Errors as values, and the version. */
#ifndef NH_BASE_STATUS_H
#define NH_BASE_STATUS_H

#include "nearhand_base.h"

/* Fills `error` (may be NULL) and returns `status`. */
nh_status error_set(nh_error *error, nh_status status, uint32_t column, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

#endif
