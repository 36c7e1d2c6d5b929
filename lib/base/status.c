/* Errors as values, and the version. */
#include "base/status.h"

#include <stdarg.h>
#include <stdio.h>

const char *nh_version(void) {
    return NH_VERSION;
}

int nh_version_number(void) {
    return NH_VERSION_NUMBER;
}

const char *nh_status_text(nh_status status) {
    switch (status) {
    case NH_OK:
        return "no error";
    case NH_ERROR_MEMORY:
        return "memory is short";
    case NH_ERROR_ARGUMENT:
        return "a value is out of range";
    case NH_ERROR_TILES:
        return "the tiles cannot be read, or the set does not have them";
    case NH_ERROR_LIST:
        return "the list has mistakes";
    case NH_ERROR_FILE:
        return "the file cannot be read";
    case NH_ERROR_LIMIT:
        return "a limit was passed";
    case NH_ERROR_CANCELLED:
        return "the work was cancelled";
    }
    return "unknown status";
}

nh_status error_set(nh_error *error, nh_status status, uint32_t column, const char *format, ...) {
    if (error == NULL)
        return status;
    error->status = status;
    error->column = column;
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(error->text, sizeof error->text, format, arguments);
    va_end(arguments);
    return status;
}
