/* What is odd about a list, in sentences. What concerns one pattern comes to one
 * sentence, however many others it names. */
#define _POSIX_C_SOURCE 200809L
#include "audit/accepted.h"
#include "audit/audit_pairs.h"

#include <stdio.h>
#include <stdlib.h>

/* Patterns from `first` on that are so related to pattern `a`. */
static size_t count_related(const struct audit *audit, size_t a, unsigned wanted, size_t first) {
    size_t found = 0;
    for (size_t b = first; b < audit->size; b++)
        found += b != a && relation_of(audit, a, b) == wanted;
    return found;
}

/* Names them: "x", "y" and "z". */
static void write_related(FILE *file, const struct audit *audit, size_t a, unsigned wanted,
                          size_t first) {
    size_t all = count_related(audit, a, wanted, first);
    size_t left = all;
    for (size_t b = first; b < audit->size; b++) {
        if (b == a || relation_of(audit, a, b) != wanted)
            continue;
        const char *before = left == all ? "" : left == 1 ? " and " : ", ";
        fprintf(file, "%s\"%s\"", before, nh_list_pattern(audit->list, b)->name);
        left--;
    }
}

/* ---------------------------------------------------------- sentences --- */

/* A sentence is written to a stream that ends up as one more text. */
struct sentence {
    FILE *file;
    char *text;
    size_t length;
};

static bool sentence_begin(struct sentence *sentence) {
    sentence->text = NULL;
    sentence->file = open_memstream(&sentence->text, &sentence->length);
    return sentence->file != NULL;
}

static bool sentence_end(struct sentence *sentence, struct warnings *warnings) {
    bool failed = ferror(sentence->file) != 0;
    failed = fclose(sentence->file) != 0 || failed;
    char **grown =
        failed ? NULL : realloc(warnings->text, (warnings->count + 1) * sizeof *warnings->text);
    if (grown == NULL) {
        free(sentence->text);
        return false;
    }
    warnings->text = grown;
    warnings->text[warnings->count++] = sentence->text;
    return true;
}

/* Once for all patterns that are the same, at the first of them. */
static bool warn_equal(const struct audit *audit, size_t a, struct warnings *warnings) {
    size_t all = count_related(audit, a, NH_EQUAL, 0);
    size_t later = count_related(audit, a, NH_EQUAL, a + 1);
    if (later == 0 || later < all)
        return true;
    struct sentence sentence;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file, "\"%s\" has the same targets as ",
            nh_list_pattern(audit->list, a)->name);
    write_related(sentence.file, audit, a, NH_EQUAL, a + 1);
    return sentence_end(&sentence, warnings);
}

static bool warn_within(const struct audit *audit, size_t a, struct warnings *warnings) {
    if (count_related(audit, a, NH_WITHIN, 0) == 0)
        return true;
    struct sentence sentence;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file, "\"%s\" lies within ", nh_list_pattern(audit->list, a)->name);
    write_related(sentence.file, audit, a, NH_WITHIN, 0);
    return sentence_end(&sentence, warnings);
}

static bool warn_variants(struct audit *audit, size_t a) {
    for (size_t variant = 0; variant < nh_audit_variants(audit->list, a); variant++) {
        if (nh_audit_variant_live(audit->list, a, variant) ||
            accepted_warning_of(audit, a, "empty-variant"))
            continue;
        struct sentence sentence;
        if (!sentence_begin(&sentence))
            return false;
        fprintf(sentence.file, "\"%s\": variant %zu gives no target",
                nh_list_pattern(audit->list, a)->name, variant + 1);
        if (!sentence_end(&sentence, &audit->warnings))
            return false;
    }
    return true;
}

static bool warn_uncounted(struct audit *audit, size_t a) {
    const struct figure *figure = &audit->figures[a];
    struct sentence sentence;
    if (figure->known && (figure->dealt_known || !audit->jokers))
        return true;
    if (accepted_warning_of(audit, a, "uncounted"))
        return true;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file,
            figure->known ? "\"%s\": how often it is dealt with jokers takes too much work to count"
                          : "\"%s\" is not counted: its choices overlap in too many ways",
            nh_list_pattern(audit->list, a)->name);
    return sentence_end(&sentence, &audit->warnings);
}

static bool warn_uncompared(const struct audit *audit, size_t a, struct warnings *warnings) {
    struct sentence sentence;
    if (count_related(audit, a, RELATION_UNKNOWN, a + 1) == 0)
        return true;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file, "\"%s\" takes too much work to compare with ",
            nh_list_pattern(audit->list, a)->name);
    write_related(sentence.file, audit, a, RELATION_UNKNOWN, a + 1);
    return sentence_end(&sentence, warnings);
}

/* Of the list as a whole. */
static bool warn_charleston(const nh_list *list, struct warnings *warnings) {
    const nh_charleston *charleston = nh_list_charleston(list);
    unsigned tiles = charleston->tiles, courtesy = charleston->courtesy;
    struct sentence sentence;
    if (tiles <= NH_PASS_MAX && courtesy <= NH_PASS_MAX)
        return true;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file,
            "the Charleston passes up to %u tiles at a time: best passes are found for %d at most",
            tiles > courtesy ? tiles : courtesy, NH_PASS_MAX);
    return sentence_end(&sentence, warnings);
}

/* What loading the list has found. */
static bool warn_loaded(const nh_list *list, struct warnings *warnings) {
    for (size_t i = 0; i < nh_list_warnings(list); i++) {
        const nh_mistake *warning = nh_list_warning(list, i);
        struct sentence sentence;
        if (!sentence_begin(&sentence))
            return false;
        fprintf(sentence.file, "%s (line %u)", warning->text, (unsigned)warning->line);
        if (!sentence_end(&sentence, warnings))
            return false;
    }
    return true;
}

/* An accepted warning that does not arise may hide one that comes later. */
static bool warn_needless(void *context, size_t pattern, const char *warning, bool arose) {
    struct audit *audit = context;
    struct sentence sentence;
    if (arose)
        return true;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file, "\"%s\" accepts the warning \"%s\", which does not arise",
            nh_list_pattern(audit->list, pattern)->name, warning);
    return sentence_end(&sentence, &audit->warnings);
}

/* Notes what patterns accept of that which is no sentence. */
static void note_accepted(struct audit *audit) {
    for (size_t i = 0; i < audit->shared_count; i++) {
        accepted_warning_of(audit, audit->shared[i].a, "overlap");
        accepted_warning_of(audit, audit->shared[i].b, "overlap");
    }
    for (size_t a = 0; a < audit->size; a++)
        if (audit->figures[a].points.far != 0)
            accepted_warning_of(audit, a, "points");
}

bool warnings_find(struct audit *audit) {
    struct warnings *warnings = &audit->warnings;
    bool found = true;
    for (size_t a = 0; audit->rest && found && a < audit->size; a++)
        found = warn_uncounted(audit, a);
    if (audit->rest)
        return found;
    found = warn_loaded(audit->list, warnings) && compare_patterns(audit) &&
            warn_charleston(audit->list, warnings);
    note_accepted(audit);
    for (size_t a = 0; found && a < audit->size; a++)
        found = warn_equal(audit, a, warnings) && warn_within(audit, a, warnings) &&
                warn_variants(audit, a) && warn_uncounted(audit, a) &&
                warn_uncompared(audit, a, warnings) &&
                accepted_each(audit, a, warn_needless, audit);
    return found;
}

void warnings_free(struct warnings *warnings) {
    for (size_t i = 0; i < warnings->count; i++)
        free(warnings->text[i]);
    free(warnings->text);
}
