/* The list as a player looks at it within a drill: all patterns, a section, or all that
 * the list says of a pattern. */
#include "drill/drill_ask.h"
#include "io/flow.h"
#include "io/text.h"
#include "patterns/described.h"
#include "patterns/name_match.h"
#include "patterns/patterns_by_name.h"
#include "patterns/sections.h"

#include <string.h>
#include <strings.h>

/* How a pattern is called where there is room for little. */
static void add_number(struct text *text, const nh_list *list, size_t index) {
    const char *ref = nh_list_pattern(list, index)->ref;
    if (ref != NULL)
        text_add_cut(text, ref, strlen(ref), 12);
    else
        text_add_format(text, "%zu", index + 1);
}

static void add_shown_pattern(struct text *text, const nh_list *list, size_t index) {
    const char *name = nh_list_pattern(list, index)->name;
    add_number(text, list, index);
    text_add(text, " ");
    text_add_cut(text, name, strlen(name), 40);
}

/* The patterns that are chosen, or all for NULL. */
static void show_chosen(const nh_list *list, const uint8_t *chosen) {
    struct flow flow = {.indent = 2};
    for (size_t i = 0; i < nh_list_size(list); i++) {
        const char *section = nh_list_pattern(list, i)->section;
        struct text text;
        if (chosen != NULL && chosen[i] == 0)
            continue;
        text_clear(&text);
        if (section_opens(list, i)) {
            flow_end(&flow);
            flow.indent = 0;
            text_add_cut(&text, section, strlen(section), 20);
            text_add(&text, ":");
            flow_add(&flow, &text, 0);
            flow.indent = 2;
            text_clear(&text);
        }
        add_shown_pattern(&text, list, i);
        flow_add(&flow, &text, 3);
    }
    flow_end(&flow);
}

void show_list(const nh_list *list) {
    show_chosen(list, NULL);
}

#define SHOWN_MOST 6 /* patterns that a word may mean */

void explain_pattern(const nh_list *list, const char *word, const uint8_t *chosen, size_t found) {
    struct flow flow = {.indent = 2};
    struct text text;
    text_clear(&text);
    text_add(&text, "'");
    text_add_cut(&text, word, strlen(word), 30);
    text_add(&text, found == 0 ? "' is not a pattern of the list; list shows them."
                               : "' may be more than one:");
    flow_add(&flow, &text, 0);
    size_t shown = 0;
    for (size_t i = 0; i < nh_list_size(list) && shown < found && shown < SHOWN_MOST; i++) {
        if (chosen[i] == 0)
            continue;
        text_clear(&text);
        add_shown_pattern(&text, list, i);
        text_add(&text, ++shown < found ? "," : ".");
        flow_add(&flow, &text, 1);
    }
    if (shown > 0 && shown < found)
        flow_words(&flow, "and others.");
    flow_end(&flow);
}

static bool is_section(const nh_list *list, const char *word) {
    for (size_t i = 0; i < nh_list_size(list); i++) {
        const char *section = nh_list_pattern(list, i)->section;
        if (section != NULL && strcasecmp(section, word) == 0)
            return true;
    }
    return false;
}

/* A section by its name; else a pattern; else a section by a part of its name. */
void show_named(const struct drill *drill, const char *word) {
    const nh_list *list = drill->list;
    uint8_t chosen[NH_PATTERNS_MAX] = {0}, of_section[NH_PATTERNS_MAX] = {0};
    bool section = named_choose(list, pattern_section, word, of_section) > 0;
    size_t found = patterns_find(list, word, chosen);
    if (section && (found == 0 || is_section(list, word))) {
        show_chosen(list, of_section);
        return;
    }
    if (found == 0 || found > SHOWN_MOST) {
        explain_pattern(list, word, chosen, found);
        return;
    }
    for (size_t i = 0; i < nh_list_size(list); i++)
        if (chosen[i] != 0)
            described_out(list, i, 2);
}
