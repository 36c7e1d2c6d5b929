/* Patterns chosen by what they are called. */
#include "patterns/patterns_by_name.h"
#include "io/message.h"
#include "options/spelling.h"
#include "patterns/name_match.h"

#include <stdio.h>
#include <strings.h>

static const char *name_of(const nh_pattern *pattern) {
    return pattern->name;
}

static bool has_number(const nh_list *list, size_t index, const char *word) {
    const char *ref = nh_list_pattern(list, index)->ref;
    char place[24];
    snprintf(place, sizeof place, "%zu", index + 1);
    return strcasecmp(ref != NULL ? ref : place, word) == 0;
}

static size_t find_number(const nh_list *list, const char *word, uint8_t *chosen) {
    size_t found = 0;
    for (size_t i = 0; i < nh_list_size(list); i++) {
        if (!has_number(list, i, word))
            continue;
        chosen[i] = 1;
        found++;
    }
    return found;
}

size_t patterns_find(const nh_list *list, const char *word, uint8_t *chosen) {
    size_t found = find_number(list, word, chosen);
    return found > 0 ? found : named_choose(list, name_of, word, chosen);
}

bool patterns_choose(const nh_list *list, const char *option, const char *word, uint8_t *chosen) {
    if (patterns_find(list, word, chosen) > 0)
        return true;
    struct spelling spelling = {.typed = word};
    for (size_t i = 0; i < nh_list_size(list); i++)
        spelling_try(&spelling, nh_list_pattern(list, i)->name);
    if (spelling.closest != NULL)
        misused("%s: no pattern is called '%s'; did you mean '%s'?", option, word,
                spelling.closest);
    else
        misused("%s: no pattern is called '%s'; nearhand lists NAME shows them all", option, word);
    return false;
}
