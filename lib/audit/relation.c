/* How the targets of two patterns lie to one another.
 *
 * One lies within the other when each of its products lies within one of the
 * other's, or else when adding its products to the other's leaves their number of
 * targets as it is. A few targets of it are looked for in the other first. */
#include "audit/union_count.h"
#include "base/memory.h"

#include <string.h>

/* Steps to find a share in a family. */
#define STEPS_FOUND 16u

static bool family_holds(const nh_list *list, const struct family *family,
                         const struct share *share) {
    const struct share *shares = list->shares + family->first;
    uint32_t low = 0, high = family->count;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        int order = memcmp(shares[middle].need, share->need, PART_KINDS);
        if (order == 0)
            return true;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return false;
}

/* Of two families of one size. */
static bool family_within(struct counter *counter, uint32_t a, uint32_t b) {
    const nh_list *list = counter->list;
    const struct family *inner = &list->families[a], *outer = &list->families[b];
    if (a == b)
        return true;
    counter_spend(counter, (uint64_t)inner->count * STEPS_FOUND);
    for (uint32_t i = 0; i < inner->count; i++)
        if (!family_holds(list, outer, &list->shares[inner->first + i]))
            return false;
    return true;
}

static bool product_within(struct counter *counter, const struct product *a,
                           const struct product *b) {
    const nh_list *list = counter->list;
    counter_spend(counter, PARTS);
    for (int part = 0; part < PARTS; part++)
        if (list->families[a->family[part]].size != list->families[b->family[part]].size)
            return false;
    for (int part = 0; part < PARTS; part++)
        if (!family_within(counter, a->family[part], b->family[part]))
            return false;
    return true;
}

/* Whether the first target of a product is one of a pattern's. */
static bool first_target_in(struct counter *counter, const struct product *product,
                            const struct list_pattern *pattern) {
    const nh_list *list = counter->list;
    counter_spend(counter, (uint64_t)pattern->count * PARTS * STEPS_FOUND);
    for (uint32_t i = 0; i < pattern->count; i++) {
        const struct product *other = &list->products[pattern->first + i];
        int part = 0;
        while (part < PARTS &&
               family_holds(list, &list->families[other->family[part]],
                            &list->shares[list->families[product->family[part]].first]))
            part++;
        if (part == PARTS)
            return true;
    }
    return false;
}

/* Whether a product lies within one of `b`, which is looked for from product `*at`
 * on and left there. */
static bool within_some(struct counter *counter, const struct product *inner,
                        const struct list_pattern *b, uint32_t *at) {
    for (uint32_t i = 0; i < b->count && counter->status == NH_OK; i++) {
        if (product_within(counter, inner, &counter->list->products[b->first + *at]))
            return true;
        *at = (*at + 1) % b->count;
    }
    return false;
}

/* Whether each product of `a` lies within one of `b`: then all of `a` does. In
 * patterns that are written alike, products that are the same follow one another. */
static bool products_within(struct counter *counter, const struct list_pattern *a,
                            const struct list_pattern *b) {
    uint32_t at = 0;
    for (uint32_t i = 0; i < a->count; i++)
        if (!within_some(counter, &counter->list->products[a->first + i], b, &at))
            return false;
    return true;
}

#define SAMPLES 32

/* Some target of `a` that is not one of `b`, looked for in a few products. */
static bool sample_outside(struct counter *counter, const struct list_pattern *a,
                           const struct list_pattern *b) {
    const nh_list *list = counter->list;
    uint32_t step = a->count / SAMPLES + 1;
    for (uint32_t i = 0; i < a->count; i += step)
        if (!first_target_in(counter, &list->products[a->first + i], b))
            return true;
    return false;
}

/* Whether adding the products of `a` to those of `b` leaves their number of
 * targets as it is. */
static bool union_is_same(struct counter *counter, const struct list_pattern *a,
                          const struct list_pattern *b) {
    const nh_list *list = counter->list;
    size_t total = (size_t)a->count + b->count;
    struct product *both = memory_new(&list->allocator, total, sizeof *both);
    if (both == NULL) {
        counter->status = NH_ERROR_MEMORY;
        return false;
    }
    memcpy(both, list->products + b->first, b->count * sizeof *both);
    memcpy(both + b->count, list->products + a->first, a->count * sizeof *both);
    struct tally alone = count_products(counter, both, b->count, 0);
    struct tally together = {0};
    if (counter->status == NH_OK)
        together = count_products(counter, both, total, 0);
    memory_release(&list->allocator, both);
    return nh_natural_compare(&alone.targets, &together.targets) == 0;
}

static bool is_within(struct counter *counter, const struct list_pattern *a,
                      const struct list_pattern *b) {
    if (sample_outside(counter, a, b))
        return false;
    if (products_within(counter, a, b))
        return true;
    return counter->status == NH_OK && union_is_same(counter, a, b);
}

static nh_status compare_patterns(const nh_list *list, size_t a, size_t b, const nh_cancel *cancel,
                                  nh_relation *relation) {
    struct counter counter;
    nh_status status = counter_start(&counter, list, cancel);
    if (status != NH_OK)
        return status;
    bool within = is_within(&counter, &list->patterns[a], &list->patterns[b]);
    bool contains =
        counter.status == NH_OK && is_within(&counter, &list->patterns[b], &list->patterns[a]);
    counter_end(&counter);
    if (counter.status == NH_OK)
        *relation = within && contains ? NH_EQUAL
                    : within           ? NH_WITHIN
                    : contains         ? NH_CONTAINS
                                       : NH_NEITHER;
    return counter.status;
}

nh_status nh_audit_relation(const nh_list *list, size_t a, size_t b,
                            const nh_audit_question *question, nh_relation *relation,
                            nh_error *error) {
    nh_audit_question asked;
    nh_status status = check_pattern(list, a, error);
    if (status == NH_OK)
        status = check_pattern(list, b, error);
    if (status == NH_OK)
        status = read_audit_question(list, question, &asked, error);
    if (status != NH_OK)
        return status;
    return counted(compare_patterns(list, a, b, asked.cancel, relation), error);
}
