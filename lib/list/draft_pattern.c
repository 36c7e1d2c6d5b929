/* Patterns: what a list says of each, and that no two have one name. */
#include "list/draft_pattern.h"
#include "list/draft_letters.h"
#include "list/draft_limits.h"
#include "list/draft_variant.h"
#include "list/warning_names.h"

#include <string.h>

/* What a pattern says of itself where its variants differ: the most points, and
 * concealed where all are. */
static void sum_up_variants(struct draft_pattern *pattern) {
    nh_pattern *about = &pattern->about;
    about->concealed = true;
    about->has_points = false;
    for (size_t v = 0; v < pattern->variant_count; v++) {
        const nh_pattern *variant = &pattern->variants[v].about;
        about->concealed &= variant->concealed;
        if (variant->has_points && (!about->has_points || variant->points > about->points)) {
            about->points = variant->points;
            about->has_points = true;
        }
    }
}

static void read_one_pattern(struct json_reader *reader, const cJSON *object, int hand,
                             struct draft_pattern *pattern) {
    static const char *const keys[] = {"name",   "section",   "ref",    "note",     "points",
                                       "accept", "concealed", "groups", "variants", "ranks",
                                       "limits", "letters",   NULL};
    if (!cJSON_IsObject(object)) {
        reader_complain(reader, "a pattern must be an object");
        return;
    }
    const cJSON *name = json_member(object, "name");
    if (cJSON_IsString(name) && strlen(name->valuestring) <= NH_TEXT_MAX)
        reader->pattern_name = name->valuestring;
    size_t before = reader->mistakes->errors;
    reader_check_keys(reader, object, keys);
    struct draft_variant whole = {.limits = draft_no_limits()};
    draft_letters_any(whole.letters);
    whole.about.name = reader_text(reader, object, "name", true);
    whole.about.section = reader_text(reader, object, "section", false);
    whole.about.ref = reader_text(reader, object, "ref", false);
    read_accepted(reader, object, pattern);
    reader->accepted = pattern->accepted;
    reader->accepted_count = pattern->accepted_count;
    draft_read_terms(reader, object, &whole);
    draft_read_variants(reader, object, &whole, pattern);
    pattern->about = whole.about;
    sum_up_variants(pattern);
    if (reader->mistakes->errors == before && !reader->memory_short)
        draft_check_sizes(reader, pattern, hand);
}

/* The next character of a name as names are compared: capitals as small letters,
 * spaces in a row as one, none at the ends. 0 at the end. */
static char next_of_name(const char **name) {
    const char *at = *name;
    bool spaces = *at == ' ';
    while (*at == ' ')
        at++;
    if (*at == '\0') {
        *name = at;
        return '\0';
    }
    if (spaces) {
        *name = at;
        return ' ';
    }
    *name = at + 1;
    return (char)(*at >= 'A' && *at <= 'Z' ? *at - 'A' + 'a' : *at);
}

static bool same_name(const char *a, const char *b) {
    a += strspn(a, " ");
    b += strspn(b, " ");
    char x, y;
    do {
        x = next_of_name(&a);
        y = next_of_name(&b);
    } while (x == y && x != '\0');
    return x == y;
}

/* Players could not tell such patterns apart, nor name one of them. */
static void check_name(struct json_reader *reader, const struct draft *draft, size_t index) {
    const char *name = draft->patterns[index].about.name;
    for (size_t i = 0; i < index && name != NULL; i++) {
        const char *earlier = draft->patterns[i].about.name;
        if (earlier == NULL || !same_name(name, earlier))
            continue;
        reader->pattern = (int)index;
        reader->pattern_name = name;
        reader_enter_key(reader, "patterns");
        reader_enter_item(reader, (int)index);
        reader_enter_key(reader, "name");
        if (strcmp(name, earlier) == 0)
            reader_complain(reader, "duplicate name: pattern %zu has it already", i + 1);
        else
            reader_complain(reader,
                            "duplicate name: pattern %zu has it already, but for capitals or "
                            "spaces: \"%s\"",
                            i + 1, earlier);
        reader->depth = 0;
        break;
    }
}

void draft_read_patterns(struct json_reader *reader, const cJSON *root, struct draft *draft) {
    const cJSON *array = json_member(root, "patterns");
    size_t count = (size_t)json_count(array);
    if (array == NULL) {
        reader_complain(reader, "\"patterns\" is missing");
        return;
    }
    reader_enter_key(reader, "patterns");
    if (count == 0 || count > NH_PATTERNS_MAX) {
        reader_complain(reader, "\"patterns\" must be an array of 1 to %u patterns",
                        NH_PATTERNS_MAX);
        count = 0;
    }
    draft->patterns = reader_new(reader, count, sizeof *draft->patterns);
    draft->pattern_count = draft->patterns == NULL ? 0 : count;
    const cJSON *item = json_first(array);
    for (size_t i = 0; i < draft->pattern_count; i++, item = item->next) {
        reader_enter_item(reader, (int)i);
        reader->pattern = (int)i;
        reader->pattern_name = NULL;
        read_one_pattern(reader, item, draft->hand, &draft->patterns[i]);
        reader->accepted_count = 0;
        reader_leave(reader);
    }
    reader_leave(reader);
    for (size_t i = 0; i < draft->pattern_count; i++)
        check_name(reader, draft, i);
    reader->pattern = -1;
    reader->pattern_name = NULL;
}
