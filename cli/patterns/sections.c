/* The sections of a list, and patterns chosen by section. */
#include "patterns/sections.h"
#include "io/message.h"
#include "io/text.h"
#include "patterns/name_match.h"

#include <string.h>

bool section_opens(const nh_list *list, size_t index) {
    const char *section = nh_list_pattern(list, index)->section;
    bool opens = section != NULL;
    for (size_t i = 0; opens && i < index; i++) {
        const char *earlier = nh_list_pattern(list, i)->section;
        opens = earlier == NULL || strcmp(earlier, section) != 0;
    }
    return opens;
}

const char *pattern_section(const nh_pattern *pattern) {
    return pattern->section;
}

static void complain_unknown_section(const nh_list *list, const char *name) {
    struct text names;
    text_clear(&names);
    for (size_t i = 0; i < nh_list_size(list); i++) {
        if (!section_opens(list, i))
            continue;
        text_add(&names, names.length == 0 ? "" : ", ");
        text_add(&names, nh_list_pattern(list, i)->section);
    }
    if (names.length == 0)
        misused("--section: the list has no sections");
    else
        misused("--section: no section is called '%s'; the list has %s", name, names.bytes);
}

bool section_choose(const nh_list *list, const char *name, uint8_t *chosen) {
    if (named_choose(list, pattern_section, name, chosen))
        return true;
    complain_unknown_section(list, name);
    return false;
}
