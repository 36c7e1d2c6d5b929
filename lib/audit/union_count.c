/* How many targets a union of products has, without listing them.
 *
 * A pattern is a union of products that may overlap. To count the union, the
 * shares of one part are put into classes by the families that hold them; all
 * shares of a class go together with the same products, and so with the same
 * union over the other parts:
 *
 *     |union| = sum over classes of |class| * |union of their products' rests|.
 *
 * Families of different size have no share in common. Ways are counted alike,
 * each share weighted with its product of C(copies, needed).
 *
 * In each part there can be as many classes as sets of families that overlap.
 * No list that is played comes near AUDIT_WORK_MAX steps; a list made for it can,
 * and gets an error. */
#include "audit/union_count.h"
#include "base/cancel.h"
#include "base/natural.h"
#include "base/question.h"
#include "base/sort.h"
#include "base/status.h"

#include <stdlib.h>
#include <string.h>

/* Steps of work for one call: some seconds. */
#define AUDIT_WORK_MAX 300000000u

/* Steps for a share or product that is sorted among others. */
#define STEPS_SORTED 16u

void counter_spend(struct counter *counter, uint64_t steps) {
    counter->work += steps;
    if (counter->work > AUDIT_WORK_MAX)
        counter->status = NH_ERROR_LIMIT;
    else if (cancel_asked(counter->cancel))
        counter->status = NH_ERROR_CANCELLED;
}

/* A product reduced to the number of its family in the part at hand. */
struct entry {
    uint8_t need[PART_KINDS];
    uint32_t family;
};

/* Steps for a share or product that is sorted among others. */
#define STEPS_SORTED 16u

static int product_compare(const void *a, const void *b) {
    const struct product *x = a, *y = b;
    for (int part = 0; part < PARTS; part++)
        if (x->family[part] != y->family[part])
            return x->family[part] < y->family[part] ? -1 : 1;
    return 0;
}

/* Sorts products and puts those of the same rest together: only families from
 * `part` on matter, and winds no more. */
static size_t drop_repeated(struct product *products, size_t count, int part) {
    for (size_t i = 0; i < count; i++) {
        memset(products[i].family, 0, (size_t)part * sizeof(uint32_t));
        products[i].prevailing = products[i].seat = 0;
    }
    qsort(products, count, sizeof *products, product_compare);
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || product_compare(&products[i], &products[kept - 1]) != 0)
            products[kept++] = products[i];
    return kept;
}

static int entry_compare(const void *a, const void *b) {
    const struct entry *x = a, *y = b;
    int order = memcmp(x->need, y->need, PART_KINDS);
    if (order != 0)
        return order;
    return x->family < y->family ? -1 : x->family > y->family;
}

/* A class of shares: those that the same families hold. */
struct class {
    const struct entry *entries; /* of one of its shares: which families */
    uint32_t families;
    struct tally tally;
};

static int class_compare(const void *a, const void *b) {
    const struct class *x = a, *y = b;
    if (x->families != y->families)
        return x->families < y->families ? -1 : 1;
    for (uint32_t i = 0; i < x->families; i++)
        if (x->entries[i].family != y->entries[i].family)
            return x->entries[i].family < y->entries[i].family ? -1 : 1;
    return 0;
}

static struct tally count_union(struct counter *counter, const struct product *products,
                                size_t count, int part);

/* The same, but what was counted before is not counted again. */
static struct tally count_known(struct counter *counter, const struct product *products,
                                size_t count, int part) {
    const struct tally *known = unions_find(&counter->unions, products, count, part);
    if (known != NULL)
        return *known;
    struct tally tally = count_union(counter, products, count, part);
    if (counter->status == NH_OK && !unions_keep(&counter->unions, products, count, part, &tally))
        counter->status = NH_ERROR_MEMORY;
    return tally;
}

/* The first of the products, sorted from `part` on, that has this family there. */
static size_t first_with(const struct product *products, size_t count, int part, uint32_t family) {
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (products[middle].family[part] < family)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* The union of the rests of those products whose family in `part` is one of
 * the class's. */
static struct tally count_rest(struct counter *counter, const struct product *products,
                               size_t count, int part, const struct class *class) {
    struct tally tally = {0};
    if (part == PARTS - 1)
        return (struct tally){natural_from(1), natural_from(1), natural_from(1)};
    struct product *rest = memory_new_raw(&counter->list->allocator, count, sizeof *rest);
    if (rest == NULL) {
        counter->status = NH_ERROR_MEMORY;
        return tally;
    }
    size_t kept = 0;
    for (uint32_t f = 0; f < class->families; f++)
        for (size_t i = first_with(products, count, part, class->entries[f].family);
             i < count && products[i].family[part] == class->entries[f].family; i++)
            rest[kept++] = products[i];
    counter_spend(counter, kept * STEPS_SORTED);
    kept = drop_repeated(rest, kept, part + 1);
    tally = count_known(counter, rest, kept, part + 1);
    memory_release(&counter->list->allocator, rest);
    return tally;
}

/* Lists the shares of all families from families[0] to families[count - 1]. */
static struct entry *list_entries(struct counter *counter, const uint32_t *families, size_t count,
                                  size_t *entry_count) {
    const nh_list *list = counter->list;
    size_t total = 0;
    for (size_t i = 0; i < count; i++)
        total += list->families[families[i]].count;
    counter_spend(counter, total * 2 * STEPS_SORTED);
    if (counter->status != NH_OK)
        return NULL;
    struct entry *entries = memory_new(&list->allocator, total, sizeof *entries);
    if (entries == NULL) {
        counter->status = NH_ERROR_MEMORY;
        return NULL;
    }
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        const struct family *family = &list->families[families[i]];
        const struct share *shares = list->shares + family->first;
        for (uint32_t s = 0; s < family->count; s++) {
            if (s > 0 && same_need(&shares[s], &shares[s - 1]))
                continue;
            memcpy(entries[at].need, shares[s].need, PART_KINDS);
            entries[at++].family = families[i];
        }
    }
    qsort(entries, at, sizeof *entries, entry_compare);
    *entry_count = at;
    return entries;
}

/* Puts sorted entries into classes; at most one for each entry. */
static size_t classify(const nh_list *list, bool honours, const struct entry *entries, size_t count,
                       struct class *classes) {
    size_t found = 0;
    for (size_t i = 0; i < count;) {
        size_t end = i + 1;
        while (end < count && memcmp(entries[end].need, entries[i].need, PART_KINDS) == 0)
            end++;
        classes[found] = (struct class){&entries[i], (uint32_t)(end - i), {{{0}}, {{0}}, {{0}}}};
        tally_need(list, honours, entries[i].need, &classes[found++].tally);
        i = end;
    }
    qsort(classes, found, sizeof *classes, class_compare);
    size_t kept = 0;
    for (size_t i = 0; i < found; i++) {
        if (kept > 0 && class_compare(&classes[i], &classes[kept - 1]) == 0)
            classes[kept - 1].tally = tally_add(classes[kept - 1].tally, classes[i].tally);
        else
            classes[kept++] = classes[i];
    }
    return kept;
}

/* The union over families of one size: several that may overlap. */
static struct tally count_overlapping(struct counter *counter, const struct product *products,
                                      size_t count, int part, const uint32_t *families,
                                      size_t family_count) {
    const nh_list *list = counter->list;
    struct tally sum = {0};
    size_t entry_count = 0;
    struct entry *entries = list_entries(counter, families, family_count, &entry_count);
    if (entries == NULL)
        return sum;
    struct class *classes = memory_new(&list->allocator, entry_count, sizeof *classes);
    if (classes == NULL) {
        counter->status = NH_ERROR_MEMORY;
    } else {
        size_t found = classify(list, part == PART_HONOUR, entries, entry_count, classes);
        for (size_t i = 0; i < found && counter->status == NH_OK; i++)
            sum =
                tally_add(sum, tally_multiply(classes[i].tally, count_rest(counter, products, count,
                                                                           part, &classes[i])));
    }
    memory_release(&list->allocator, classes);
    memory_release(&list->allocator, entries);
    return sum;
}

static struct tally count_one_family(struct counter *counter, const struct product *products,
                                     size_t count, int part, uint32_t family) {
    struct entry entry = {.family = family};
    struct class class = {&entry, 1, counter->family_tallies[family]};
    return tally_multiply(class.tally, count_rest(counter, products, count, part, &class));
}

static bool key_before(const void *a, const void *b, const void *context) {
    (void)context;
    return *(const uint64_t *)a < *(const uint64_t *)b;
}

/* The families of sorted products in a part, each once, sorted by size. */
static size_t find_families(const nh_list *list, const struct product *products, size_t count,
                            int part, uint64_t *keys) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        uint32_t family = products[i].family[part];
        uint64_t key = (uint64_t)list->families[family].size << 32 | family;
        if (kept == 0 || key != keys[kept - 1])
            keys[kept++] = key;
    }
    sort_in_place(keys, kept, sizeof *keys, key_before, NULL);
    return kept;
}

/* The union of products, over the parts from `part` on. */
static struct tally count_union(struct counter *counter, const struct product *products,
                                size_t count, int part) {
    struct tally sum = {0};
    counter_spend(counter, count);
    const nh_allocator *allocator = &counter->list->allocator;
    uint64_t *keys = memory_new(allocator, count, sizeof *keys);
    uint32_t *families = memory_new(allocator, count, sizeof *families);
    if (keys == NULL || families == NULL)
        counter->status = NH_ERROR_MEMORY;
    size_t found = 0;
    if (counter->status == NH_OK)
        found = find_families(counter->list, products, count, part, keys);
    for (size_t i = 0; i < found; i++)
        families[i] = (uint32_t)keys[i];
    for (size_t i = 0; i < found && counter->status == NH_OK;) {
        size_t end = i + 1;
        while (end < found && keys[end] >> 32 == keys[i] >> 32)
            end++;
        struct tally tally =
            end == i + 1 ? count_one_family(counter, products, count, part, families[i])
                         : count_overlapping(counter, products, count, part, families + i, end - i);
        sum = tally_add(sum, tally);
        i = end;
    }
    memory_release(allocator, keys);
    memory_release(allocator, families);
    return sum;
}

void counter_end(struct counter *counter) {
    unions_free(&counter->unions);
    memory_release(&counter->list->allocator, counter->family_tallies);
}

nh_status counter_start(struct counter *counter, const nh_list *list, const nh_cancel *cancel) {
    *counter =
        (struct counter){.list = list, .cancel = cancel, .unions = {.allocator = &list->allocator}};
    counter->family_tallies =
        memory_new(&list->allocator, list->family_count, sizeof *counter->family_tallies);
    return counter->family_tallies == NULL ? NH_ERROR_MEMORY : NH_OK;
}

/* Tallies the families that products use, each once. */
static void tally_families(struct counter *counter, const struct product *products, size_t count) {
    const nh_list *list = counter->list;
    for (size_t i = 0; i < count * PARTS; i++) {
        uint32_t family = products[i / PARTS].family[i % PARTS];
        static const nh_natural zero;
        if (nh_natural_compare(&counter->family_tallies[family].targets, &zero) == 0)
            tally_family(list, &list->families[family], &counter->family_tallies[family]);
    }
}

static int size_of_product(const nh_list *list, const struct product *product) {
    int size = 0;
    for (int part = 0; part < PARTS; part++)
        size += list->families[product->family[part]].size;
    return size;
}

struct tally count_products(struct counter *counter, const struct product *products, size_t count,
                            int size) {
    const nh_list *list = counter->list;
    struct tally tally = {0};
    struct product *own = memory_new(&list->allocator, count, sizeof *own);
    if (own == NULL) {
        counter->status = NH_ERROR_MEMORY;
        return tally;
    }
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (size == 0 || size_of_product(list, &products[i]) == size)
            own[kept++] = products[i];
    tally_families(counter, own, kept);
    kept = drop_repeated(own, kept, 0);
    tally = count_union(counter, own, kept, 0);
    memory_release(&list->allocator, own);
    return tally;
}

nh_status read_audit_question(const nh_list *list, const nh_audit_question *given,
                              nh_audit_question *question, nh_error *error) {
    *question = (nh_audit_question)NH_AUDIT_QUESTION;
    nh_status status =
        question_read(question, sizeof *question, given, SIZE_PAST(nh_audit_question, cancel),
                      "NH_AUDIT_QUESTION", error);
    if (status == NH_OK && list->set_count > 0)
        return error_set(error, NH_ERROR_ARGUMENT, 0,
                         "%zu sets lie on the table; only a whole list can be audited",
                         list->set_count);
    if (status == NH_OK && question->figures_size == 0)
        status =
            error_set(error, NH_ERROR_ARGUMENT, 0, "figures_size is 0; an initialiser sets it");
    if (status == NH_OK)
        status = check_wind("prevailing", question->prevailing, error);
    return status == NH_OK ? check_wind("seat", question->seat, error) : status;
}

/* The status of a count that ended, with its error. */
nh_status counted(nh_status status, nh_error *error) {
    if (status == NH_OK)
        return NH_OK;
    if (status == NH_ERROR_CANCELLED)
        return cancel_error(error);
    return error_set(error, status, 0, "%s",
                     status == NH_ERROR_LIMIT ? "counting this takes too much work"
                                              : nh_status_text(status));
}
