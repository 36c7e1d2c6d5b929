/* The figures of a pattern. */
#include "audit/audit_question.h"
#include "base/binomials.h"
#include "base/natural.h"
#include "base/question.h"

/* The totals of a pattern's products: of those with `size` tiles, unless it is 0. */
static void count_pattern(struct family_counting *families, size_t pattern,
                          const nh_audit_question *question, int size, struct totals *totals) {
    size_t count = 0;
    struct product *products = products_for(families->list, pattern, question, &count);
    if (products == NULL)
        counting_fail(&families->counting, NH_ERROR_MEMORY);
    else
        family_counting_add(families, products, count, size);
    memory_release(&families->list->allocator, products);
    family_counting_union(families, totals);
}

static nh_natural deals_of(const nh_list *list) {
    const nh_natural none = {{0}};
    unsigned tiles = (unsigned)nh_tiles_total(&list->off_table), hand = (unsigned)list->hand;
    return hand > tiles ? none : list->binomials[BINOMIAL(tiles, hand)];
}

static nh_status find_figures(const nh_list *list, size_t pattern,
                              const nh_audit_question *question, nh_figures *figures) {
    struct family_counting families;
    struct totals totals = totals_of_none();
    nh_natural deals = deals_of(list);
    nh_status status = NH_ERROR_MEMORY;
    if (family_counting_start(&families, list, false, question->cancel)) {
        count_pattern(&families, pattern, question, 0, &totals);
        status = families.counting.status;
    }
    family_counting_end(&families);
    *figures = (nh_figures){.targets = totals.all,
                            .ways = totals_ways(&totals),
                            .dealt_ways = totals.ways[list->hand],
                            .joker_only = natural_subtract(totals.all, totals.held)};
    figures->dealt = nh_natural_ratio(&figures->dealt_ways, &deals);
    return status;
}

nh_status nh_audit_figures(const nh_list *list, size_t pattern, const nh_audit_question *question,
                           nh_figures *figures, nh_error *error) {
    nh_audit_question asked;
    nh_figures full;
    nh_status status = read_audit_question(list, pattern, pattern, question, &asked, error);
    if (status == NH_OK)
        status = counted(find_figures(list, pattern, &asked, &full), error);
    if (status == NH_OK)
        answer_write(figures, asked.figures_size, &full, sizeof full);
    return status;
}

static nh_status find_dealt(const nh_list *list, size_t pattern, const nh_audit_question *question,
                            nh_dealt *dealt) {
    struct family_counting families;
    struct totals totals = totals_of_none();
    nh_status status = NH_ERROR_MEMORY;
    *dealt = (nh_dealt){.deals = deals_of(list)};
    if (family_counting_start(&families, list, true, question->cancel)) {
        count_pattern(&families, pattern, question, list->hand, &totals);
        status = families.counting.status;
    }
    if (status == NH_OK)
        dealt->hands = hands_in_totals(&families, &totals, list->hand);
    family_counting_end(&families);
    dealt->chance = nh_natural_ratio(&dealt->hands, &dealt->deals);
    return status;
}

nh_status nh_audit_dealt(const nh_list *list, size_t pattern, const nh_audit_question *question,
                         nh_dealt *dealt, nh_error *error) {
    nh_audit_question asked;
    nh_dealt full;
    nh_status status = read_audit_question(list, pattern, pattern, question, &asked, error);
    if (status == NH_OK)
        status = counted(find_dealt(list, pattern, &asked, &full), error);
    if (status == NH_OK)
        answer_write(dealt, asked.dealt_size, &full, sizeof full);
    return status;
}

size_t nh_audit_variants(const nh_list *list, size_t pattern) {
    return pattern < list->pattern_count ? list->patterns[pattern].variant_count : 0;
}

bool nh_audit_variant_live(const nh_list *list, size_t pattern, size_t variant) {
    return variant < nh_audit_variants(list, pattern) &&
           list->variant_live[list->patterns[pattern].variant_first + variant];
}
