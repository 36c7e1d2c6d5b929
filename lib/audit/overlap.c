/* The ways that two patterns have in common: those of each less those of both together.
 * Only products that may have a target in common are counted. */
#include "audit/audit_question.h"
#include "base/natural.h"
#include "base/question.h"

#include <string.h>

/* Whether two families meet, for pairs that come again. Each pair has one place, which it
 * may lose to another. */
#define MEETINGS 4096u

struct meeting {
    uint32_t a, b;
    bool known, meet;
};

/* What is compared, of which both have a part. */
struct comparing {
    struct family_counting families;
    struct meeting *meetings;
};

/* Whether two families have a share of the same tiles. */
static bool look_for_meeting(struct family_counting *families, uint32_t a, uint32_t b) {
    const nh_list *list = families->list;
    const struct family *x = &list->families[a], *y = &list->families[b];
    uint32_t i = 0, j = 0;
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

static bool families_meet(struct comparing *comparing, uint32_t a, uint32_t b) {
    uint32_t hash = (a * UINT32_C(0x9E3779B1) ^ b) * UINT32_C(0x85EBCA77);
    struct meeting *meeting = &comparing->meetings[(hash >> 16) % MEETINGS];
    if (a == b)
        return true;
    if (!meeting->known || meeting->a != a || meeting->b != b)
        *meeting = (struct meeting){a, b, true, look_for_meeting(&comparing->families, a, b)};
    return meeting->meet;
}

static bool products_meet(struct comparing *comparing, const struct product *a,
                          const struct product *b) {
    const nh_list *list = comparing->families.list;
    for (int part = 0; part < PARTS; part++)
        if (list->families[a->family[part]].size != list->families[b->family[part]].size)
            return false;
    for (int part = 0; part < PARTS; part++)
        if (!families_meet(comparing, a->family[part], b->family[part]))
            return false;
    return true;
}

/* The products of a pattern, and which of them meet one of the other's. */
struct side {
    struct product *products;
    bool *meets;
    size_t count, meeting;
};

static bool side_start(const nh_list *list, size_t pattern, const nh_audit_question *question,
                       struct side *side) {
    *side = (struct side){.count = 0};
    side->products = products_for(list, pattern, question, &side->count);
    side->meets = memory_new(&list->allocator, side->count, sizeof *side->meets);
    return side->products != NULL && side->meets != NULL;
}

static void side_end(const nh_list *list, struct side *side) {
    memory_release(&list->allocator, side->products);
    memory_release(&list->allocator, side->meets);
}

static void mark_meeting(struct comparing *comparing, struct side *a, struct side *b) {
    struct counting *counting = &comparing->families.counting;
    for (size_t i = 0; i < a->count && counting->status == NH_OK; i++) {
        counting_spend(counting, b->count);
        for (size_t j = 0; j < b->count; j++) {
            if ((a->meets[i] && b->meets[j]) ||
                !products_meet(comparing, &a->products[i], &b->products[j]))
                continue;
            a->meeting += !a->meets[i];
            b->meeting += !b->meets[j];
            a->meets[i] = b->meets[j] = true;
        }
    }
}

static void add_meeting(struct family_counting *families, const struct side *side) {
    for (size_t i = 0; i < side->count; i++)
        if (side->meets[i])
            family_counting_add(families, &side->products[i], 1, 0);
}

static nh_natural union_ways(struct family_counting *families) {
    struct totals totals;
    family_counting_union(families, &totals);
    return totals_ways(&totals);
}

static nh_natural meeting_ways(struct family_counting *families, const struct side *side) {
    add_meeting(families, side);
    return union_ways(families);
}

/* The ways of all products, where those that meet are known. */
static nh_natural all_ways(struct family_counting *families, const struct side *side,
                           nh_natural meeting) {
    if (side->meeting == side->count)
        return meeting;
    family_counting_add(families, side->products, side->count, 0);
    return union_ways(families);
}

static void find_overlap(struct comparing *comparing, struct side *a, struct side *b,
                         nh_overlap *overlap) {
    struct family_counting *families = &comparing->families;
    *overlap = (nh_overlap){.of_a = 0};
    mark_meeting(comparing, a, b);
    if (a->meeting == 0 || families->counting.status != NH_OK)
        return;
    nh_natural of_a = meeting_ways(families, a), of_b = meeting_ways(families, b);
    add_meeting(families, a);
    nh_natural together = meeting_ways(families, b);
    if (families->counting.status != NH_OK)
        return;
    overlap->ways = natural_subtract(natural_add(of_a, of_b), together);
    of_a = all_ways(families, a, of_a);
    of_b = all_ways(families, b, of_b);
    overlap->of_a = nh_natural_ratio(&overlap->ways, &of_a);
    overlap->of_b = nh_natural_ratio(&overlap->ways, &of_b);
}

static nh_status compare_ways(const nh_list *list, size_t a, size_t b,
                              const nh_audit_question *question, nh_overlap *overlap) {
    struct comparing comparing;
    struct side first, second;
    nh_status status = NH_ERROR_MEMORY;
    bool started = family_counting_start(&comparing.families, list, false, question->cancel);
    bool good = side_start(list, a, question, &first);
    good = side_start(list, b, question, &second) && good;
    comparing.meetings = memory_new(&list->allocator, MEETINGS, sizeof *comparing.meetings);
    if (started && good && comparing.meetings != NULL) {
        find_overlap(&comparing, &first, &second, overlap);
        status = comparing.families.counting.status;
    }
    memory_release(&list->allocator, comparing.meetings);
    side_end(list, &first);
    side_end(list, &second);
    family_counting_end(&comparing.families);
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
