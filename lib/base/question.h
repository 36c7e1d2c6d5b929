/* Questions that grow: structs of the interface whose first field is their size. */
#ifndef NH_BASE_QUESTION_H
#define NH_BASE_QUESTION_H

#include "nearhand_base.h"

/* The bytes up to the end of a field: a struct that has it is not smaller. */
#define SIZE_PAST(type, field) (offsetof(type, field) + sizeof(((type *)NULL)->field))

/* Reads a question of any version into `full`, which has the defaults of this one:
 * fields that `given` (NULL for none) is too short for keep them. `least` is
 * SIZE_PAST the last field of the first version. Refuses a smaller size, as of a
 * zeroed struct, one that no struct with a size in it can have, which would cut a pointer
 * in two, and one with fields beyond `full_size` that are not zero; `name` is the
 * initialiser, for the error. */
nh_status question_read(void *full, size_t full_size, const void *given, size_t least,
                        const char *name, nh_error *error);

/* Copies an answer to the caller, who knows `size` bytes of it: fewer than there
 * are, or more, which are zeroed. */
void answer_write(void *to, size_t size, const void *full, size_t full_size);

#endif
