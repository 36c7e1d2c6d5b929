/* Questions that grow: structs of the interface whose first field is their size. */
#ifndef NH_BASE_QUESTION_H
#define NH_BASE_QUESTION_H

#include "nearhand_base.h"

/* The bytes up to the end of a field: a struct that has it is not smaller. Fields are
 * pointers, too. NOLINTBEGIN(bugprone-sizeof-expression) */
#define SIZE_PAST(type, field) (offsetof(type, field) + sizeof(((type *)NULL)->field))
/* NOLINTEND(bugprone-sizeof-expression) */

/* Reads a question of any version into `full`, which has the defaults of this one:
 * fields that `given` (NULL for none) is too short for keep them. `least` is
 * SIZE_PAST the last field of the first version. `name` is the initialiser, for the error.
 * Refused are:
 *   - a smaller size, as of a zeroed struct;
 *   - one that is no multiple of the alignment of size_t: no struct that begins with a size_t
 *     has it, and it may end within a pointer;
 *   - a larger one than `full_size` if any byte beyond is not zero. */
nh_status question_read(void *full, size_t full_size, const void *given, size_t least,
                        const char *name, nh_error *error);

/* Copies an answer to the caller, who knows `size` bytes of it: fewer than there
 * are, or more, which are zeroed. */
void answer_write(void *to, size_t size, const void *full, size_t full_size);

#endif
