/* The report of a list's mistakes, as it grows while the list is read. */
#ifndef NH_LIST_MISTAKES_H
#define NH_LIST_MISTAKES_H

#include "base/memory.h"
#include "list/json_place.h"
#include "nearhand.h"

struct mistake {
    uint32_t line, column;
    char *pattern; /* NULL outside of a pattern */
    char *text;
    nh_mistake shown; /* as the caller sees it */
};

struct nh_mistakes {
    nh_allocator allocator;
    struct mistake *items;
    size_t count, capacity;
    bool memory_short; /* a mistake could not be noted */
    size_t walked;     /* bytes of text, to find places */
};

nh_mistakes *mistakes_new(const nh_allocator *allocator);

/* Notes a mistake; past NH_MISTAKES_MAX only that there are more. */
void mistakes_add(nh_mistakes *mistakes, uint32_t line, uint32_t column, const char *pattern,
                  const char *text);

/* The place of the mistake that comes next: see locate_path. None where it would
 * not be told, or once many mistakes of a long text have taken long enough. */
struct place mistakes_place(nh_mistakes *mistakes, const char *json, size_t length,
                            const struct step *path, int depth);

/* The mistakes in the order of the text, stable where lines are equal. */
void mistakes_sort(nh_mistakes *mistakes);

#endif
