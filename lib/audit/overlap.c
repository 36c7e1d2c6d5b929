/* The ways that two patterns have in common: those of each less those of both together.
 * Only products that may have a target in common are counted. */
#include "audit/audit_question.h"
#include "base/natural.h"
#include "base/question.h"

#include <string.h>

/* Whether two families have a share of the same tiles. */
static bool families_meet(struct family_counting *families, uint32_t a, uint32_t b) {
    const nh_list *list = families->list;
    const struct family *x = &list->families[a], *y = &list->families[b];
    uint32_t i = 0, j = 0;
    if (a == b)
        return true;
    counting_spend(&families->counting, (uint64_t)x->count + y->count);
    while (i < x->count && j < y->count) {
        int order =
            memcmp(list->shares[x->first + i].need, list->shares[y->first + j].need, PART_KINDS);
        if (order == 0)
            return true;
        i += order < 0;
        j += order > 0;
    }
    return false;
}

static bool products_meet(struct family_counting *families, const struct product *a,
                          const struct product *b) {
    const nh_list *list = families->list;
    for (int part = 0; part < PARTS; part++)
        if (list->families[a->family[part]].size != list->families[b->family[part]].size)
            return false;
    for (int part = 0; part < PARTS; part++)
        if (!families_meet(families, a->family[part], b->family[part]))
            return false;
    return true;
}

/* Marks the products of both patterns that meet one of the other. */
static void mark_meeting(struct family_counting *families, const struct product *a, size_t a_count,
                         const struct product *b, size_t b_count, bool *a_meets, bool *b_meets) {
    for (size_t i = 0; i < a_count && families->counting.status == NH_OK; i++) {
        counting_spend(&families->counting, b_count);
        for (size_t j = 0; j < b_count; j++)
            if (!(a_meets[i] && b_meets[j]) && products_meet(families, &a[i], &b[j]))
                a_meets[i] = b_meets[j] = true;
    }
}

static void add_marked(struct family_counting *families, const struct product *products,
                       size_t count, const bool *marks) {
    for (size_t i = 0; i < count; i++)
        if (marks[i])
            family_counting_add(families, &products[i], 1, 0);
}

static nh_natural union_ways(struct family_counting *families) {
    struct totals totals;
    family_counting_union(families, &totals);
    return totals_ways(&totals);
}

/* The ways in common, where both have products that meet. */
static nh_natural common_ways(struct family_counting *families, const struct product *a,
                              size_t a_count, const struct product *b, size_t b_count,
                              bool *marks) {
    bool *a_meets = marks, *b_meets = marks + a_count;
    mark_meeting(families, a, a_count, b, b_count, a_meets, b_meets);
    add_marked(families, a, a_count, a_meets);
    if (families->quad_count == 0)
        return (nh_natural){{0}};
    nh_natural of_a = union_ways(families);
    add_marked(families, b, b_count, b_meets);
    nh_natural of_b = union_ways(families);
    add_marked(families, a, a_count, a_meets);
    add_marked(families, b, b_count, b_meets);
    nh_natural together = union_ways(families);
    if (families->counting.status != NH_OK)
        return (nh_natural){{0}};
    return natural_subtract(natural_add(of_a, of_b), together);
}

static nh_natural all_ways(struct family_counting *families, const struct product *products,
                           size_t count) {
    family_counting_add(families, products, count, 0);
    return union_ways(families);
}

static void find_overlap(struct family_counting *families, const struct product *a, size_t a_count,
                         const struct product *b, size_t b_count, nh_overlap *overlap) {
    static const nh_natural none = {{0}};
    const nh_allocator *allocator = &families->list->allocator;
    bool *marks = memory_new(allocator, a_count + b_count, sizeof *marks);
    *overlap = (nh_overlap){.of_a = 0};
    if (marks == NULL)
        counting_fail(&families->counting, NH_ERROR_MEMORY);
    else
        overlap->ways = common_ways(families, a, a_count, b, b_count, marks);
    memory_release(allocator, marks);
    if (nh_natural_compare(&overlap->ways, &none) == 0)
        return;
    nh_natural of_a = all_ways(families, a, a_count), of_b = all_ways(families, b, b_count);
    overlap->of_a = nh_natural_ratio(&overlap->ways, &of_a);
    overlap->of_b = nh_natural_ratio(&overlap->ways, &of_b);
}

static nh_status compare_ways(const nh_list *list, size_t a, size_t b,
                              const nh_audit_question *question, nh_overlap *overlap) {
    struct family_counting families;
    size_t a_count = 0, b_count = 0;
    nh_status status = NH_ERROR_MEMORY;
    bool started = family_counting_start(&families, list, false, question->cancel);
    struct product *first = products_for(list, a, question, &a_count);
    struct product *second = products_for(list, b, question, &b_count);
    if (started && first != NULL && second != NULL) {
        find_overlap(&families, first, a_count, second, b_count, overlap);
        status = families.counting.status;
    }
    memory_release(&list->allocator, first);
    memory_release(&list->allocator, second);
    family_counting_end(&families);
    return status;
}

nh_status nh_audit_overlap(const nh_list *list, size_t a, size_t b,
                           const nh_audit_question *question, nh_overlap *overlap,
                           nh_error *error) {
    nh_audit_question asked;
    nh_overlap full;
    nh_status status = read_audit_question(list, a, b, question, &asked, error);
    if (status == NH_OK)
        status = counted(compare_ways(list, a, b, &asked, &full), error);
    if (status == NH_OK)
        answer_write(overlap, asked.overlap_size, &full, sizeof full);
    return status;
}
