/* How many targets a union of products has. */
#ifndef NH_AUDIT_UNION_COUNT_H
#define NH_AUDIT_UNION_COUNT_H

#include "audit/union_cache.h"

struct counter {
    const nh_list *list;
    const nh_cancel *cancel;
    struct tally *family_tallies; /* of each family in each kind of part */
    struct unions unions;
    uint64_t work;
    nh_status status;
};

nh_status counter_start(struct counter *counter, const nh_list *list, const nh_cancel *cancel);
void counter_end(struct counter *counter);

/* Counts steps: a look at a share or a product. Loops that take many of them look
 * at the status as they go. */
void counter_spend(struct counter *counter, uint64_t steps);

/* Counts the union of products; of those of one size only unless `size` is 0. */
struct tally count_products(struct counter *counter, const struct product *products, size_t count,
                            int size);

/* Reads the question of an audit; fills `error` with what is wrong with it. */
nh_status read_audit_question(const nh_list *list, const nh_audit_question *given,
                              nh_audit_question *question, nh_error *error);

/* The status of a count that ended, with its error. */
nh_status counted(nh_status status, nh_error *error);

#endif
