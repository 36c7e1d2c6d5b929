/* Every pattern of a list beside every other. */
#include "audit/audit_pairs.h"
#include "audit/accepted.h"

#include <stdlib.h>

static unsigned reversed(unsigned relation) {
    return relation == NH_WITHIN ? NH_CONTAINS : relation == NH_CONTAINS ? NH_WITHIN : relation;
}

/* A pair that is the same concerns both patterns, and either may accept it; of one within
 * the other, the inner may. */
static bool accepted_pair(struct audit *audit, size_t a, size_t b, unsigned relation) {
    switch (relation) {
    case NH_EQUAL: {
        bool by_a = accepted_warning_of(audit, a, "same");
        return accepted_warning_of(audit, b, "same") || by_a;
    }
    case NH_WITHIN:
        return accepted_warning_of(audit, a, "within");
    case NH_CONTAINS:
        return accepted_warning_of(audit, b, "within");
    case RELATION_UNKNOWN:
        return accepted_warning_of(audit, a, "uncounted");
    default:
        return false;
    }
}

static bool keep_shared(struct audit *audit, size_t a, size_t b, const nh_overlap *overlap) {
    if (audit->shared_count == audit->shared_capacity) {
        size_t capacity = audit->shared_capacity == 0 ? 64 : 2 * audit->shared_capacity;
        struct shared_ways *grown = realloc(audit->shared, capacity * sizeof *grown);
        if (grown == NULL)
            return false;
        audit->shared = grown;
        audit->shared_capacity = capacity;
    }
    audit->shared[audit->shared_count++] = (struct shared_ways){a, b, *overlap};
    return true;
}

/* Of two patterns of which neither lies within the other. */
static nh_status compare_pair_ways(struct audit *audit, size_t a, size_t b) {
    nh_overlap overlap;
    nh_status status = nh_audit_overlap(audit->list, a, b, &audit->question, &overlap, NULL);
    if (status != NH_OK)
        return status;
    bool much = overlap.of_a >= SHARE_LEAST || overlap.of_b >= SHARE_LEAST;
    return !much || keep_shared(audit, a, b, &overlap) ? NH_OK : NH_ERROR_MEMORY;
}

static bool compare_pair(struct audit *audit, size_t a, size_t b) {
    nh_relation found = NH_NEITHER;
    nh_status status = nh_audit_relation(audit->list, a, b, NULL, &found, NULL);
    if (status == NH_OK && found == NH_NEITHER)
        status = compare_pair_ways(audit, a, b);
    if (status != NH_OK && status != NH_ERROR_LIMIT)
        return false;
    unsigned relation = status == NH_OK ? (unsigned)found : RELATION_UNKNOWN;
    if (accepted_pair(audit, a, b, relation))
        relation = RELATION_ACCEPTED;
    audit->relation[a * audit->size + b] = (unsigned char)relation;
    audit->relation[b * audit->size + a] = (unsigned char)reversed(relation);
    return true;
}

bool compare_patterns(struct audit *audit) {
    audit->relation = calloc(audit->size * audit->size, 1);
    if (audit->relation == NULL)
        return false;
    for (size_t a = 0; a < audit->size; a++)
        for (size_t b = a + 1; b < audit->size; b++)
            if (!compare_pair(audit, a, b))
                return false;
    return true;
}
