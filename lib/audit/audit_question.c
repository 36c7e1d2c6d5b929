/* The questions of audits, and the products that they are about. */
#include "audit/audit_question.h"
#include "base/cancel.h"
#include "base/question.h"

nh_status read_audit_question(const nh_list *list, size_t a, size_t b,
                              const nh_audit_question *given, nh_audit_question *question,
                              nh_error *error) {
    *question = (nh_audit_question)NH_AUDIT_QUESTION;
    nh_status status = check_pattern(list, a, error);
    if (status == NH_OK)
        status = check_pattern(list, b, error);
    if (status == NH_OK)
        status = question_read(question, sizeof *question, given,
                               SIZE_PAST(nh_audit_question, cancel), "NH_AUDIT_QUESTION", error);
    const char *none = question->figures_size == 0   ? "figures_size"
                       : question->dealt_size == 0   ? "dealt_size"
                       : question->overlap_size == 0 ? "overlap_size"
                                                     : NULL;
    if (status == NH_OK && none != NULL)
        status = error_set(error, NH_ERROR_ARGUMENT, 0, "%s is 0; an initialiser sets it", none);
    if (status == NH_OK)
        status = check_wind("prevailing", question->prevailing, error);
    return status == NH_OK ? check_wind("seat", question->seat, error) : status;
}

nh_status counted(nh_status status, nh_error *error) {
    if (status == NH_OK)
        return NH_OK;
    if (status == NH_ERROR_CANCELLED)
        return cancel_error(error);
    return error_set(error, status, 0, "%s",
                     status == NH_ERROR_LIMIT ? "counting this takes too much work"
                                              : nh_status_text(status));
}

struct product *products_for(const nh_list *list, size_t pattern, const nh_audit_question *question,
                             size_t *count) {
    const struct list_pattern *about = &list->patterns[pattern];
    nh_wind prevailing = question->prevailing, seat = question->seat;
    struct product *products = memory_new(&list->allocator, about->count, sizeof *products);
    *count = 0;
    for (uint32_t i = 0; products != NULL && i < about->count; i++) {
        const struct product *product = &list->products[about->first + i];
        bool applies =
            (product->prevailing == 0 || prevailing == NH_WIND_UNKNOWN ||
             product->prevailing == (uint8_t)prevailing) &&
            (product->seat == 0 || seat == NH_WIND_UNKNOWN || product->seat == (uint8_t)seat);
        if (applies)
            products[(*count)++] = *product;
    }
    return products;
}
