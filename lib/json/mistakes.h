/* The report of a list's mistakes, as it grows while the list is read. */
#ifndef NH_JSON_MISTAKES_H
#define NH_JSON_MISTAKES_H

#include "base/memory.h"
#include "nearhand.h"
#include "json/json_place.h"

/* A mistake of the list, or a warning, which has a name. */
struct mistake {
    uint32_t line, column;
    char *pattern; /* NULL outside of a pattern */
    char *text;
    nh_mistake shown; /* as the caller sees it */
};

/* A warning that a pattern accepts, and whether it would have been one of those that
 * reading the list finds. */
struct accepted_warning {
    const char *name; /* static */
    bool met;
};

struct nh_mistakes {
    nh_allocator allocator;
    struct mistake *items;
    size_t count, capacity;
    size_t errors;     /* mistakes found; the others are warnings */
    bool memory_short; /* a mistake could not be noted */
    size_t walked;     /* bytes of text, to find places */
};

nh_mistakes *mistakes_new(const nh_allocator *allocator);

/* Notes a mistake, or with `warning` a warning of that name (static). Past
 * NH_MISTAKES_MAX it notes only that there are more, and warnings are dropped
 * from the half of that on. */
void mistakes_add(nh_mistakes *mistakes, struct place place, const char *pattern,
                  const char *warning, const char *text);

/* The place of the next mistake: see locate_path. None where that mistake would
 * be dropped, or once many mistakes of a long text have taken long enough. */
struct place mistakes_place(nh_mistakes *mistakes, const char *json, size_t length,
                            const struct step *path, int depth);

/* Sorts the mistakes in the order of the text, stable where lines are equal. */
void mistakes_sort(nh_mistakes *mistakes);

#endif
