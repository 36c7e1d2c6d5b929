/* Patterns chosen by what they, or their sections, are called. */
#include "patterns/name_match.h"

#include <string.h>
#include <strings.h>

static bool contains(const char *text, const char *part) {
    size_t length = strlen(part);
    for (; strlen(text) >= length; text++)
        if (strncasecmp(text, part, length) == 0)
            return true;
    return false;
}

static bool is_called(const char *text, const char *name) {
    return strcasecmp(text, name) == 0;
}

static size_t mark_named(const nh_list *list, const char *(*called)(const nh_pattern *pattern),
                         const char *name, bool (*fits)(const char *text, const char *name),
                         uint8_t *chosen) {
    size_t found = 0;
    for (size_t i = 0; i < nh_list_size(list); i++) {
        nh_pattern pattern = *nh_list_pattern(list, i);
        const char *text = called(&pattern);
        if (text == NULL || !fits(text, name))
            continue;
        chosen[i] = 1;
        found++;
    }
    return found;
}

size_t named_choose(const nh_list *list, const char *(*called)(const nh_pattern *pattern),
                    const char *name, uint8_t *chosen) {
    size_t found = mark_named(list, called, name, is_called, chosen);
    return found > 0 ? found : mark_named(list, called, name, contains, chosen);
}
