/* The task audit: the figures of every pattern of a list and what is odd about
 * them, which audit_text and audit_json write. */
#ifndef CLI_AUDIT_AUDIT_TASK_H
#define CLI_AUDIT_AUDIT_TASK_H

#include "nearhand.h"

#include <stdbool.h>
#include <stddef.h>

/* Sentences without a full stop, in the order of the list. */
struct warnings {
    char **text;
    size_t count;
};

/* A pattern's figures; those past a limit of work are not known. */
struct figure {
    bool known;
    nh_figures count;
};

struct audit {
    const nh_list *list;
    size_t size;            /* patterns */
    struct figure *figures; /* of each */
    struct warnings warnings;
};

/* Finds out what is odd: patterns with the same targets, patterns within
 * others, variants without a target, and what could not be worked out. False
 * when memory is short. */
bool warnings_find(const struct audit *audit, struct warnings *warnings);
void warnings_free(struct warnings *warnings);

void audit_json(const struct audit *audit);
void audit_text(const struct audit *audit);

#endif
