/* The task audit: counts every pattern of a list. */
#include "audit/audit_counts.h"
#include "options/option_row.h"
#include "patterns/list_files.h"
#include "patterns/list_sets.h"
#include "task.h"

struct audit_options {
    const char *list;
    struct texts exposed;
    nh_wind prevailing, seat;
    bool samples, json;
};

static const struct option_row rows[] = {
    LIST_ROW(struct audit_options),
    {"exposed", "SETS", "your own sets on the table: what is left to make",
     ADDS_TEXT(struct audit_options, exposed)},
    {"prevailing", "WIND", "the prevailing wind: E, S, W or N; without it all count",
     SETS_WIND(struct audit_options, prevailing)},
    SEAT_ROW(struct audit_options),
    {"samples", NULL, "a hand of each variant", SETS_FLAG(struct audit_options, samples)},
    {"json", NULL, "one JSON object", SETS_FLAG(struct audit_options, json)},
    {0},
};

static int audit_list(const nh_list *list, const struct audit_options *options) {
    size_t sets;
    nh_list_sets(list, &sets);
    struct audit audit = {.list = list,
                          .size = nh_list_size(list),
                          .jokers = nh_list_set(list)->count[NH_JOKER] > 0,
                          .rest = sets > 0,
                          .question = NH_AUDIT_QUESTION};
    audit.question.prevailing = options->prevailing;
    audit.question.seat = options->seat;
    bool counted = audit_count(&audit, options->json || options->samples);
    if (counted && options->json)
        audit_json(&audit);
    else if (counted)
        audit_text(&audit);
    audit_free(&audit);
    return counted ? STATUS_ANSWERED : STATUS_USAGE;
}

static int run(void *given, int count, char *const *words) {
    const struct audit_options *options = given;
    (void)count;
    (void)words;
    nh_list *whole = list_open(options->list), *list = NULL;
    int status = STATUS_USAGE;
    if (whole == NULL)
        return STATUS_USAGE;
    if (list_take_sets(whole, options->exposed.text, options->exposed.count, &list))
        status = audit_list(list, options);
    if (list != whole)
        nh_list_free(list);
    nh_list_free(whole);
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
        "Dealt 1 in\thow rarely a random deal of a whole hand is one of them, jokers standing in; "
        "- for never",
    .rows = rows,
    .example = "nearhand audit traditional",
    .defaults = &(const struct audit_options){0},
    .size = sizeof(struct audit_options),
    .run = run,
};
