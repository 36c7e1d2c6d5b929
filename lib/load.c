/* Pattern lists loaded and freed, and what a list says of itself. */
#include "compile/compile_list.h"
#include "distance/kernel.h"
#include "list/draft_list.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

/* Reads the draft and compiles it. The arena keeps the draft and its texts. */
static nh_status fill_list(const char *json, size_t length, nh_list *list, nh_mistakes *mistakes) {
    struct draft *draft = arena_new(&list->arena, 1, sizeof *draft);
    if (draft == NULL)
        return NH_ERROR_MEMORY;
    if (!draft_read(json, length, &list->arena, draft, mistakes))
        return mistakes->errors > 0 && !mistakes->memory_short ? NH_ERROR_LIST : NH_ERROR_MEMORY;
    list->draft = draft;
    list->title = draft->title;
    list->edition = draft->edition;
    list->note = draft->note;
    list->hand = draft->hand;
    list->set = list->off_table = draft->set;
    list->charleston = draft->charleston;
    nh_status status = compile_list(draft, list, mistakes);
    list->kernels = kernels_for_families(list->family_count);
    draft->json = NULL; /* the caller's, who has it no longer */
    draft->length = 0;
    return status;
}

/* Hands the report of a failure to the caller, if it is wanted. */
static nh_status give_mistakes(nh_status status, nh_mistakes *report, nh_mistakes **mistakes) {
    bool failed = status == NH_ERROR_LIST || status == NH_ERROR_FILE;
    if (mistakes != NULL && failed)
        *mistakes = report;
    else
        nh_mistakes_free(report);
    return status;
}

nh_status nh_list_read(const char *json, size_t length, const nh_allocator *allocator,
                       nh_list **list, nh_mistakes **mistakes) {
    nh_allocator own = memory_default(allocator);
    *list = NULL;
    if (mistakes != NULL)
        *mistakes = NULL;
    nh_mistakes *report = mistakes_new(&own);
    nh_list *filled = memory_new(&own, 1, sizeof *filled);
    nh_status status = NH_ERROR_MEMORY;
    if (report != NULL && filled != NULL) {
        filled->allocator = own;
        filled->arena.allocator = &filled->allocator;
        status = fill_list(json, length, filled, report);
        mistakes_sort(report);
        if (status == NH_OK) {
            filled->warnings = report;
            report = NULL;
            *list = filled;
        } else {
            nh_list_free(filled);
        }
    } else {
        memory_release(&own, filled);
    }
    return give_mistakes(status, report, mistakes);
}

/* The whole of an open file, growing; NULL with `*problem` set on failure. */
static char *read_all(FILE *file, const nh_allocator *allocator, size_t *length,
                      nh_status *problem) {
    char *text = NULL;
    size_t capacity = 0;
    *length = 0;
    for (;;) {
        if (!memory_reserve(allocator, (void **)&text, &capacity, *length + 65536, 1)) {
            *problem = NH_ERROR_MEMORY;
            break;
        }
        size_t got = fread(text + *length, 1, capacity - *length, file);
        *length += got;
        /* a signal that the caller's program handles */
        bool interrupted = ferror(file) && errno == EINTR;
        if (ferror(file) && !interrupted) {
            *problem = NH_ERROR_FILE;
            break;
        }
        if (interrupted)
            clearerr(file);
        else if (got == 0 || *length > NH_LIST_BYTES_MAX)
            return text;
    }
    memory_release(allocator, text);
    return NULL;
}

static nh_status report_file(const char *path, int error, const nh_allocator *allocator,
                             nh_mistakes **mistakes) {
    nh_mistakes *report = mistakes_new(allocator);
    if (report == NULL)
        return NH_ERROR_MEMORY;
    char text[512];
    snprintf(text, sizeof text, "%.300s: cannot be read: %s", path, strerror(error));
    mistakes_add(report, (struct place){0, 0}, NULL, NULL, text);
    return give_mistakes(NH_ERROR_FILE, report, mistakes);
}

nh_status nh_list_load(const char *path, const nh_allocator *allocator, nh_list **list,
                       nh_mistakes **mistakes) {
    nh_allocator own = memory_default(allocator);
    *list = NULL;
    if (mistakes != NULL)
        *mistakes = NULL;
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        return report_file(path, errno, &own, mistakes);
    size_t length = 0;
    nh_status status = NH_OK;
    errno = 0;
    char *text = read_all(file, &own, &length, &status);
    int error = errno != 0 ? errno : EIO;
    fclose(file);
    if (text == NULL)
        return status == NH_ERROR_FILE ? report_file(path, error, &own, mistakes) : status;
    status = nh_list_read(text, length, &own, list, mistakes);
    memory_release(&own, text);
    return status;
}

void nh_list_free(nh_list *list) {
    if (list == NULL)
        return;
    nh_allocator allocator = list->allocator;
    memory_release(&allocator, list->products);
    memory_release(&allocator, list->families);
    memory_release(&allocator, list->shares);
    memory_release(&allocator, list->bits);
    memory_release(&allocator, list->hard);
    memory_release(&allocator, list->runs);
    memory_release(&allocator, list->lane_memory);
    if (list->whole == NULL)
        memory_release(&allocator, list->binomials);
    nh_mistakes_free(list->warnings);
    arena_free(&list->arena);
    memory_release(&allocator, list);
}

const char *nh_list_title(const nh_list *list) {
    return list->title;
}

const char *nh_list_edition(const nh_list *list) {
    return list->edition;
}

const char *nh_list_note(const nh_list *list) {
    return list->note;
}

int nh_list_hand_size(const nh_list *list) {
    return list->hand;
}

int nh_list_hand_most(const nh_list *list) {
    return list->most;
}

const nh_tiles *nh_list_set(const nh_list *list) {
    return &list->off_table;
}

size_t nh_list_size(const nh_list *list) {
    return list->pattern_count;
}

const nh_pattern *nh_list_pattern(const nh_list *list, size_t index) {
    return index < list->pattern_count ? &list->patterns[index].about : NULL;
}

size_t nh_list_warnings(const nh_list *list) {
    return nh_mistakes_size(list->warnings);
}

const nh_mistake *nh_list_warning(const nh_list *list, size_t index) {
    return nh_mistakes_at(list->warnings, index);
}

const nh_pattern *nh_list_variant(const nh_list *list, size_t index, size_t variant) {
    const struct draft *draft = list->draft;
    if (index >= draft->pattern_count || variant >= draft->patterns[index].variant_count)
        return NULL;
    return &draft->patterns[index].variants[variant].about;
}

bool nh_list_accepts(const nh_list *list, size_t index, const char *warning) {
    const struct draft *draft = list->draft;
    if (index >= draft->pattern_count)
        return false;
    const struct draft_pattern *pattern = &draft->patterns[index];
    for (size_t i = 0; i < pattern->accepted_count; i++)
        if (strcmp(pattern->accepted[i].name, warning) == 0)
            return true;
    return false;
}

const char *nh_list_accepted(const nh_list *list, size_t index, size_t number, bool *met) {
    const struct draft *draft = list->draft;
    if (index >= draft->pattern_count || number >= draft->patterns[index].accepted_count)
        return NULL;
    *met = draft->patterns[index].accepted[number].met;
    return draft->patterns[index].accepted[number].name;
}

const nh_play_rules *nh_list_play(const nh_list *list) {
    return &list->draft->play;
}

const nh_charleston *nh_list_charleston(const nh_list *list) {
    return &list->charleston;
}
