/* How two patterns lie to one another.
 *
 * One lies within the other when every hand that is complete for it is complete for the
 * other as well, jokers among the tiles of hands. That is so when each of its products
 * lies within one of the other's, or else when adding its products to the other's leaves
 * the number of hands as it is. A few hands of it are tried on the other first. */
#include "audit/audit_question.h"
#include "audit/sample_hands.h"
#include "compile/twins.h"

#include <string.h>

/* Steps to find a share in a family. */
#define STEPS_FOUND 16u

/* ------------------------------------------------- product by product --- */

static bool jokers_within(const struct share *inner, const struct share *outer) {
    for (int slot = 0; slot < PART_KINDS; slot++)
        if (inner->joker[slot] > outer->joker[slot])
            return false;
    return true;
}

/* Whether a share of the family has the same tiles, and jokers may be at least as many
 * of them. */
static bool family_holds(const nh_list *list, const struct family *family,
                         const struct share *share) {
    uint32_t first, count = find_twins(list, family, share, &first);
    for (uint32_t i = first; i < first + count; i++)
        if (jokers_within(share, &list->shares[i]))
            return true;
    return false;
}

static bool family_within(struct family_counting *families, uint32_t a, uint32_t b) {
    const nh_list *list = families->list;
    const struct family *inner = &list->families[a], *outer = &list->families[b];
    if (a == b)
        return true;
    counting_spend(&families->counting, (uint64_t)inner->count * STEPS_FOUND);
    for (uint32_t i = 0; i < inner->count; i++)
        if (!family_holds(list, outer, &list->shares[inner->first + i]))
            return false;
    return true;
}

static bool product_within(struct family_counting *families, const struct product *a,
                           const struct product *b) {
    const nh_list *list = families->list;
    counting_spend(&families->counting, PARTS);
    for (int part = 0; part < PARTS; part++)
        if (list->families[a->family[part]].size != list->families[b->family[part]].size)
            return false;
    for (int part = 0; part < PARTS; part++)
        if (!family_within(families, a->family[part], b->family[part]))
            return false;
    return true;
}

/* Whether a product lies within one of `b`, which is looked for from product `*at`
 * on and left there. */
static bool within_some(struct family_counting *families, const struct product *inner,
                        const struct list_pattern *b, uint32_t *at) {
    for (uint32_t i = 0; i < b->count && families->counting.status == NH_OK; i++) {
        if (product_within(families, inner, &families->list->products[b->first + *at]))
            return true;
        *at = (*at + 1) % b->count;
    }
    return false;
}

/* Whether each product of `a` lies within one of `b`: then all of `a` does. In
 * patterns that are written alike, products that are the same follow one another. */
static bool products_within(struct family_counting *families, const struct list_pattern *a,
                            const struct list_pattern *b) {
    uint32_t at = 0;
    for (uint32_t i = 0; i < a->count; i++)
        if (!within_some(families, &families->list->products[a->first + i], b, &at))
            return false;
    return true;
}

/* --------------------------------------------------------- by counting --- */

/* Totals of the products of `size` tiles (of any number if it is 0) of `b`, and of `a`
 * as well unless it is NULL. */
static void count_both(struct family_counting *families, const struct list_pattern *a,
                       const struct list_pattern *b, int size, struct totals *totals) {
    const nh_list *list = families->list;
    family_counting_add(families, list->products + b->first, b->count, size);
    if (a != NULL)
        family_counting_add(families, list->products + a->first, a->count, size);
    family_counting_union(families, totals);
}

/* Whether adding the targets of `a` to those of `b` leaves their number as it is. With
 * jokers that is asked of targets for which there are tiles: the others are no hands. */
static bool targets_are_same(struct family_counting *plain, const struct list_pattern *a,
                             const struct list_pattern *b) {
    struct totals alone, together;
    bool jokers = plain->copies.count[NH_JOKER] > 0;
    count_both(plain, NULL, b, 0, &alone);
    count_both(plain, a, b, 0, &together);
    return jokers ? nh_natural_compare(&alone.held, &together.held) == 0
                  : nh_natural_compare(&alone.all, &together.all) == 0;
}

/* The same for hands with jokers. Those of targets of another size have another number of
 * tiles, jokers among them. */
static bool hands_are_same(struct family_counting *jokers, const struct list_pattern *a,
                           const struct list_pattern *b) {
    bool same = true;
    for (int size = 1; size <= NH_TARGET_MAX && same; size++) {
        struct totals alone, together;
        count_both(jokers, NULL, b, size, &alone);
        count_both(jokers, a, b, size, &together);
        nh_natural before = hands_in_totals(jokers, &alone, size);
        nh_natural after = hands_in_totals(jokers, &together, size);
        same = jokers->counting.status == NH_OK && nh_natural_compare(&before, &after) == 0;
    }
    return same;
}

/* What is counted of a pair of patterns: without jokers, and with them. */
struct pair_counting {
    struct family_counting plain, jokers;
};

static bool is_within(struct pair_counting *pair, const struct list_pattern *a,
                      const struct list_pattern *b) {
    if (sample_outside(&pair->plain, a, b))
        return false;
    if (products_within(&pair->plain, a, b))
        return true;
    if (pair->plain.counting.status != NH_OK || !targets_are_same(&pair->plain, a, b))
        return false;
    return pair->plain.copies.count[NH_JOKER] == 0 || hands_are_same(&pair->jokers, a, b);
}

static nh_status worst_status(const struct pair_counting *pair) {
    nh_status status = pair->plain.counting.status;
    return status != NH_OK ? status : pair->jokers.counting.status;
}

static nh_status relate_patterns(const nh_list *list, size_t a, size_t b, const nh_cancel *cancel,
                                 nh_relation *relation) {
    struct pair_counting pair;
    const struct list_pattern *first = &list->patterns[a], *second = &list->patterns[b];
    nh_status status = NH_ERROR_MEMORY;
    bool plain = family_counting_start(&pair.plain, list, false, cancel);
    bool jokers = family_counting_start(&pair.jokers, list, true, cancel);
    if (plain && jokers) {
        bool within = is_within(&pair, first, second);
        bool contains = worst_status(&pair) == NH_OK && is_within(&pair, second, first);
        status = worst_status(&pair);
        if (status == NH_OK)
            *relation = within && contains ? NH_EQUAL
                        : within           ? NH_WITHIN
                        : contains         ? NH_CONTAINS
                                           : NH_NEITHER;
    }
    family_counting_end(&pair.plain);
    family_counting_end(&pair.jokers);
    return status;
}

nh_status nh_audit_relation(const nh_list *list, size_t a, size_t b,
                            const nh_audit_question *question, nh_relation *relation,
                            nh_error *error) {
    nh_audit_question asked;
    nh_status status = read_audit_question(list, a, b, question, &asked, error);
    if (status != NH_OK)
        return status;
    return counted(relate_patterns(list, a, b, asked.cancel, relation), error);
}
