/* The figures of every pattern of a list and what is odd about them, which audit_text
 * and audit_json write. */
#ifndef CLI_AUDIT_LIST_AUDIT_H
#define CLI_AUDIT_LIST_AUDIT_H

#include "audit/points_line.h"
#include "nearhand.h"

#include <stdbool.h>
#include <stddef.h>

/* Sentences without a full stop, in the order of the list. */
struct warnings {
    char **text;
    size_t count;
};

/* A target of a variant, in its groups; no tiles where the variant has none. */
struct sample {
    nh_tiles target;
    nh_layout layout; /* without groups where finding one takes too much work */
};

/* A pattern's figures; those past a limit of work are not known. */
struct figure {
    bool known;
    nh_figures count;
    bool dealt_known; /* with jokers, where the set has any */
    nh_dealt dealt;
    struct points_place points;
    struct sample *samples; /* of each variant; NULL unless they are wanted */
};

/* Patterns that have a tenth of their ways in common, and neither all. */
struct shared_ways {
    size_t a, b;
    nh_overlap overlap;
};

struct audit {
    const nh_list *list;
    size_t size; /* patterns */
    bool jokers; /* the set has some */
    bool rest;   /* sets lie on the table: figures say what is left to make */
    nh_audit_question question;
    struct figure *figures;  /* of each */
    unsigned char *relation; /* of each to each, see audit_pairs.h */
    struct shared_ways *shared;
    size_t shared_count, shared_capacity;
    struct points_line line;
    bool *arose; /* of each pattern's accepted warnings, see accepted.h */
    struct warnings warnings;
};

/* Finds out what is odd: patterns with the same targets, patterns within others,
 * variants without a target, what could not be worked out, accepted warnings that do
 * not arise. False when memory is short. */
bool warnings_find(struct audit *audit);
void warnings_free(struct warnings *warnings);

/* The odds of being dealt a pattern, jokers standing in; 0 where they are not known. */
static inline double chance_dealt(const struct audit *audit, size_t pattern) {
    const struct figure *figure = &audit->figures[pattern];
    if (audit->jokers)
        return figure->dealt_known ? figure->dealt.chance : 0;
    return figure->known ? figure->count.dealt : 0;
}

void audit_json(const struct audit *audit);
void audit_text(const struct audit *audit);

#endif
