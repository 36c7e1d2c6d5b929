/* What is odd about a list. Every pattern is compared with every other; what
 * concerns one pattern comes to one sentence, however many others it names. */
#define _POSIX_C_SOURCE 200809L
#include "audit/audit_task.h"

#include <stdio.h>
#include <stdlib.h>

/* Of a pair whose relation is past a limit of work. */
#define UNKNOWN (NH_CONTAINS + 1)

/* relation[a * size + b] is the nh_relation of pattern a to pattern b, or UNKNOWN. */
struct relations {
    const nh_list *list;
    size_t size;
    unsigned char *relation;
};

static unsigned relation_of(const struct relations *relations, size_t a, size_t b) {
    return relations->relation[a * relations->size + b];
}

static unsigned reversed(unsigned relation) {
    return relation == NH_WITHIN ? NH_CONTAINS : relation == NH_CONTAINS ? NH_WITHIN : relation;
}

static bool compare_all(struct relations *relations) {
    size_t size = relations->size;
    relations->relation = calloc(size * size, 1);
    if (relations->relation == NULL)
        return false;
    for (size_t a = 0; a < size; a++)
        for (size_t b = a + 1; b < size; b++) {
            nh_relation found;
            nh_status status = nh_audit_relation(relations->list, a, b, NULL, &found, NULL);
            if (status != NH_OK && status != NH_ERROR_LIMIT)
                return false;
            unsigned relation = status == NH_OK ? (unsigned)found : UNKNOWN;
            relations->relation[a * size + b] = (unsigned char)relation;
            relations->relation[b * size + a] = (unsigned char)reversed(relation);
        }
    return true;
}

/* Patterns from `first` on that are so related to pattern `a`. */
static size_t count_related(const struct relations *relations, size_t a, unsigned wanted,
                            size_t first) {
    size_t found = 0;
    for (size_t b = first; b < relations->size; b++)
        found += b != a && relation_of(relations, a, b) == wanted;
    return found;
}

/* Names them: "x", "y" and "z". */
static void write_related(FILE *file, const struct relations *relations, size_t a, unsigned wanted,
                          size_t first) {
    size_t all = count_related(relations, a, wanted, first);
    size_t left = all;
    for (size_t b = first; b < relations->size; b++) {
        if (b == a || relation_of(relations, a, b) != wanted)
            continue;
        const char *before = left == all ? "" : left == 1 ? " and " : ", ";
        fprintf(file, "%s\"%s\"", before, nh_list_pattern(relations->list, b)->name);
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
static bool warn_equal(const struct relations *relations, size_t a, struct warnings *warnings) {
    size_t all = count_related(relations, a, NH_EQUAL, 0);
    size_t later = count_related(relations, a, NH_EQUAL, a + 1);
    if (later == 0 || later < all)
        return true;
    struct sentence sentence;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file, "\"%s\" has the same targets as ",
            nh_list_pattern(relations->list, a)->name);
    write_related(sentence.file, relations, a, NH_EQUAL, a + 1);
    return sentence_end(&sentence, warnings);
}

static bool warn_within(const struct relations *relations, size_t a, struct warnings *warnings) {
    if (count_related(relations, a, NH_WITHIN, 0) == 0)
        return true;
    struct sentence sentence;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file, "\"%s\" lies within ", nh_list_pattern(relations->list, a)->name);
    write_related(sentence.file, relations, a, NH_WITHIN, 0);
    return sentence_end(&sentence, warnings);
}

static bool warn_variants(const struct relations *relations, size_t a, struct warnings *warnings) {
    for (size_t variant = 0; variant < nh_audit_variants(relations->list, a); variant++) {
        if (nh_audit_variant_live(relations->list, a, variant))
            continue;
        struct sentence sentence;
        if (!sentence_begin(&sentence))
            return false;
        fprintf(sentence.file, "\"%s\": variant %zu gives no target",
                nh_list_pattern(relations->list, a)->name, variant + 1);
        if (!sentence_end(&sentence, warnings))
            return false;
    }
    return true;
}

static bool warn_uncounted(const struct relations *relations, size_t a, const struct figure *figure,
                           struct warnings *warnings) {
    struct sentence sentence;
    if (figure->known)
        return true;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file, "\"%s\" is not counted: its choices overlap in too many ways",
            nh_list_pattern(relations->list, a)->name);
    return sentence_end(&sentence, warnings);
}

static bool warn_uncompared(const struct relations *relations, size_t a,
                            struct warnings *warnings) {
    struct sentence sentence;
    if (count_related(relations, a, UNKNOWN, a + 1) == 0)
        return true;
    if (!sentence_begin(&sentence))
        return false;
    fprintf(sentence.file, "\"%s\" takes too much work to compare with ",
            nh_list_pattern(relations->list, a)->name);
    write_related(sentence.file, relations, a, UNKNOWN, a + 1);
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

bool warnings_find(const struct audit *audit, struct warnings *warnings) {
    struct relations relations = {.list = audit->list, .size = audit->size};
    bool found = warn_loaded(audit->list, warnings) && compare_all(&relations) &&
                 warn_charleston(audit->list, warnings);
    for (size_t a = 0; found && a < relations.size; a++)
        found = warn_equal(&relations, a, warnings) && warn_within(&relations, a, warnings) &&
                warn_variants(&relations, a, warnings) &&
                warn_uncounted(&relations, a, &audit->figures[a], warnings) &&
                warn_uncompared(&relations, a, warnings);
    free(relations.relation);
    return found;
}

void warnings_free(struct warnings *warnings) {
    for (size_t i = 0; i < warnings->count; i++)
        free(warnings->text[i]);
    free(warnings->text);
}
