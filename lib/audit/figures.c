/* The figures of a pattern. */
#include "audit/union_count.h"
#include "base/binomials.h"
#include "base/natural.h"
#include "base/question.h"

/* Copies a pattern's products that a player with these winds may go for. */
static struct product *products_for(const nh_list *list, size_t index, nh_wind prevailing,
                                    nh_wind seat, size_t *count) {
    const struct list_pattern *pattern = &list->patterns[index];
    struct product *products = memory_new(&list->allocator, pattern->count, sizeof *products);
    *count = 0;
    for (uint32_t i = 0; products != NULL && i < pattern->count; i++) {
        const struct product *product = &list->products[pattern->first + i];
        bool applies =
            (product->prevailing == 0 || prevailing == NH_WIND_UNKNOWN ||
             product->prevailing == (uint8_t)prevailing) &&
            (product->seat == 0 || seat == NH_WIND_UNKNOWN || product->seat == (uint8_t)seat);
        if (applies)
            products[(*count)++] = *product;
    }
    return products;
}

static nh_status count_pattern(const nh_list *list, size_t pattern,
                               const nh_audit_question *question, nh_figures *figures) {
    struct counter counter;
    nh_status status = counter_start(&counter, list, question->cancel);
    if (status != NH_OK)
        return status;
    size_t product_count = 0;
    struct product *products =
        products_for(list, pattern, question->prevailing, question->seat, &product_count);
    if (products == NULL)
        counter.status = NH_ERROR_MEMORY;
    struct tally all = {0}, dealt = {0};
    if (counter.status == NH_OK)
        all = count_products(&counter, products, product_count, 0);
    if (counter.status == NH_OK)
        dealt = count_products(&counter, products, product_count, list->hand);
    memory_release(&list->allocator, products);
    counter_end(&counter);
    *figures = (nh_figures){.targets = all.targets, .ways = all.ways, .dealt_ways = dealt.ways};
    figures->joker_only = natural_subtract(all.targets, all.natural);
    nh_natural deals =
        list->binomials[BINOMIAL((unsigned)nh_tiles_total(&list->set), (unsigned)list->hand)];
    figures->dealt = nh_natural_ratio(&figures->dealt_ways, &deals);
    return counter.status;
}

nh_status nh_audit_figures(const nh_list *list, size_t pattern, const nh_audit_question *question,
                           nh_figures *figures, nh_error *error) {
    nh_audit_question asked;
    nh_figures full;
    nh_status status = check_pattern(list, pattern, error);
    if (status == NH_OK)
        status = read_audit_question(list, question, &asked, error);
    if (status != NH_OK)
        return status;
    status = counted(count_pattern(list, pattern, &asked, &full), error);
    if (status == NH_OK)
        answer_write(figures, asked.figures_size, &full, sizeof full);
    return status;
}

size_t nh_audit_variants(const nh_list *list, size_t pattern) {
    return pattern < list->pattern_count ? list->patterns[pattern].variant_count : 0;
}

bool nh_audit_variant_live(const nh_list *list, size_t pattern, size_t variant) {
    return variant < nh_audit_variants(list, pattern) &&
           list->variant_live[list->patterns[pattern].variant_first + variant];
}
