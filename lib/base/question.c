/* Questions that grow. */
#include "base/question.h"
#include "base/status.h"

#include <string.h>

nh_status question_read(void *full, size_t full_size, const void *given, size_t least,
                        const char *name, nh_error *error) {
    if (given == NULL)
        return NH_OK;
    size_t size;
    memcpy(&size, given, sizeof size);
    if (size < least || size % _Alignof(size_t) != 0)
        return error_set(error, NH_ERROR_ARGUMENT, 0,
                         "the question's size is %zu, not %zu: it must start from %s", size,
                         full_size, name);
    const unsigned char *bytes = given;
    for (size_t i = full_size; i < size; i++)
        if (bytes[i] != 0)
            return error_set(error, NH_ERROR_ARGUMENT, 0,
                             "the question asks for what version %s of the library cannot do",
                             NH_VERSION);
    memcpy(full, given, size < full_size ? size : full_size);
    return NH_OK;
}

void answer_write(void *to, size_t size, const void *full, size_t full_size) {
    memcpy(to, full, size < full_size ? size : full_size);
    if (size > full_size)
        memset((unsigned char *)to + full_size, 0, size - full_size);
}
