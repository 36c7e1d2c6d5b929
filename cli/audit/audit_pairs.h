/* Every pattern of a list beside every other: how their hands relate, and how many ways
 * they have in common. */
#ifndef CLI_AUDIT_AUDIT_PAIRS_H
#define CLI_AUDIT_AUDIT_PAIRS_H

#include "audit/list_audit.h"

/* In place of an nh_relation: of a pair that is past a limit of work, and of one that
 * a pattern accepts. */
#define RELATION_UNKNOWN (NH_CONTAINS + 1)
#define RELATION_ACCEPTED (NH_CONTAINS + 2)

/* Shares of ways below this are not told. */
#define SHARE_LEAST 0.1

/* Fills audit->relation and audit->shared. False when memory is short. */
bool compare_patterns(struct audit *audit);

static inline unsigned relation_of(const struct audit *audit, size_t a, size_t b) {
    return audit->relation[a * audit->size + b];
}

#endif
