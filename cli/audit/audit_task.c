/* The task audit: counts every pattern of a list. */
#include "audit/audit_task.h"
#include "io/message.h"
#include "io/output.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "task.h"

#include <stdlib.h>

struct audit_options {
    const char *list;
    nh_wind prevailing, seat;
    bool json;
};

static const struct option_row rows[] = {
    LIST_ROW(struct audit_options),
    {"prevailing", "WIND", "the prevailing wind: E, S, W or N; without it all count",
     SETS_WIND(struct audit_options, prevailing)},
    SEAT_ROW(struct audit_options),
    {"json", NULL, "one JSON object", SETS_FLAG(struct audit_options, json)},
    {0},
};

static bool count_all(struct audit *audit, const struct audit_options *options) {
    audit->figures = calloc(audit->size, sizeof *audit->figures);
    nh_status status = audit->figures == NULL ? NH_ERROR_MEMORY : NH_OK;
    nh_audit_question question = NH_AUDIT_QUESTION;
    question.prevailing = options->prevailing;
    question.seat = options->seat;
    for (size_t i = 0; status == NH_OK && i < audit->size; i++) {
        struct figure *figure = &audit->figures[i];
        status = nh_audit_figures(audit->list, i, &question, &figure->count, NULL);
        figure->known = status == NH_OK;
        if (status == NH_ERROR_LIMIT)
            status = NH_OK; /* a warning says it */
    }
    if (status == NH_OK && !warnings_find(audit, &audit->warnings))
        status = NH_ERROR_MEMORY;
    if (status != NH_OK)
        complain("%s", nh_status_text(status));
    return status == NH_OK;
}

static int run(void *given, int count, char *const *words) {
    const struct audit_options *options = given;
    (void)count;
    (void)words;
    nh_list *list = list_open(options->list);
    if (list == NULL)
        return STATUS_USAGE;
    struct audit audit = {.list = list, .size = nh_list_size(list)};
    int status = count_all(&audit, options) ? STATUS_ANSWERED : STATUS_USAGE;
    if (status == STATUS_ANSWERED && options->json)
        audit_json(&audit);
    else if (status == STATUS_ANSWERED)
        audit_text(&audit);
    warnings_free(&audit.warnings);
    free(audit.figures);
    nh_list_free(list);
    return status;
}

const struct task audit_task = {
    .name = "audit",
    .summary = "the figures of a list: targets, ways and odds of each pattern",
    .word = WORD_LIST,
    .about =
        "Counts exactly what each pattern of a list stands for, and warns of what looks odd: "
        "patterns with the same targets, patterns within others (every hand of the one is a hand "
        "of the other), variants without a target.\n"
        "Targets\tthe different hands that complete the pattern\n"
        "Ways\tthe same, with each single tile counted as different and without jokers\n"
        "Dealt 1 in\thow rarely a random deal of a whole hand is one of them; - for never",
    .rows = rows,
    .example = "nearhand audit traditional",
    .defaults = &(const struct audit_options){0},
    .size = sizeof(struct audit_options),
    .run = run,
};
