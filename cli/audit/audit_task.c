/* The task audit: reads its options and has every pattern of a list counted. */
#include "audit/audit_task.h"
#include "io/message.h"
#include "io/options.h"
#include "io/output.h"
#include "patterns/list_files.h"
#include "task.h"

#include <stdlib.h>

static const struct option option_table[] = {SHARED_OPTION_ROWS, {NULL, 0, NULL, 0}};

static int help(void) {
    output_text("nearhand audit [OPTION ...] [FILE|NAME]\n"
                "\n"
                "Counts what the patterns of a list stand for, exactly, and tells what is odd:\n"
                "patterns with the same targets, patterns that lie within others (whoever has\n"
                "the one has the other), variants that give no target.\n"
                "\n"
                "  Targets     the different hands that complete the pattern\n"
                "  Ways        the same with every single tile counted as different, no jokers\n"
                "  Dealt 1 in  how rarely a whole hand dealt at random is one of them; - is never\n"
                "\n"
                "  --list FILE|NAME    the list, if it is not the word after audit: a file, or\n"
                "                      club (if not told), jokers, traditional\n"
                "  --prevailing WIND   the prevailing wind, E, S, W or N; without it all count\n"
                "  --seat WIND         the player's own wind, likewise\n"
                "  --json              one JSON object\n"
                "\n"
                "Example: nearhand audit traditional\n");
    return STATUS_ANSWERED;
}

static bool take(int option, const char *value, void *options) {
    return option_shared(option, value, options);
}

static bool count_all(struct audit *audit, const struct shared_options *options) {
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
            status = NH_OK; /* told as a warning */
    }
    if (status == NH_OK && !warnings_find(audit, &audit->warnings))
        status = NH_ERROR_MEMORY;
    if (status != NH_OK)
        complain("%s", nh_status_text(status));
    return status == NH_OK;
}

static int run(const struct shared_options *options) {
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

int audit_run(int argc, char **argv) {
    struct shared_options options = {0};
    if (!options_read(argc, argv, option_table, take, &options) ||
        !option_list_word(argc, argv, &options))
        return STATUS_USAGE;
    return options.help ? help() : run(&options);
}
