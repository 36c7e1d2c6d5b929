/* The question which patterns a hand goes for. */
#define _DEFAULT_SOURCE /* strsep */
#include "drill/drill_ask.h"
#include "patterns/patterns_by_name.h"

#include <stdio.h>
#include <string.h>

static size_t first_of(const nh_list *list, const uint8_t *chosen) {
    size_t first = 0;
    while (first < nh_list_size(list) && chosen[first] == 0)
        first++;
    return first;
}

/* The one pattern that the word names, or false after saying why there is none. */
static bool find_pattern(const nh_list *list, const char *word, size_t *pattern) {
    uint8_t chosen[NH_PATTERNS_MAX] = {0};
    size_t found = word[0] == '\0' ? 0 : patterns_find(list, word, chosen);
    *pattern = first_of(list, chosen);
    if (found != 1)
        explain_pattern(list, word, chosen, found);
    return found == 1;
}

static bool add_aim(const struct drill *drill, const char *word, struct drill_round *round) {
    size_t pattern;
    if (!find_pattern(drill->list, word, &pattern))
        return false;
    for (size_t i = 0; i < round->aims; i++)
        if (round->aim[i].pattern == pattern)
            return true;
    if (round->aims == REVIEW_AIMS_MAX) {
        explain("That is more patterns than a hand can go for: at most 8.");
        return false;
    }
    round->aim[round->aims++].pattern = (uint32_t)pattern;
    return true;
}

static char *without_spaces(char *word) {
    word += strspn(word, " \t");
    for (size_t length = strlen(word); length > 0 && strchr(" \t", word[length - 1]) != NULL;)
        word[--length] = '\0';
    return word;
}

/* The whole line may be a name with a comma in it. */
static bool parse_aims(const struct drill *drill, const char *line, void *taken) {
    struct drill_round *round = taken;
    uint8_t chosen[NH_PATTERNS_MAX] = {0};
    char copy[PROMPT_LINE_SIZE];
    snprintf(copy, sizeof copy, "%s", line);
    round->aims = 0;
    if (line[0] == '\0') {
        explain("Name a pattern; list shows them.");
        return false;
    }
    if (strchr(line, ',') == NULL || patterns_find(drill->list, line, chosen) == 1)
        return add_aim(drill, line, round);
    char *rest = copy;
    for (char *word; (word = strsep(&rest, ",")) != NULL;)
        if (!add_aim(drill, without_spaces(word), round))
            return false;
    return true;
}

enum drill_end ask_aims(struct drill *drill, struct drill_round *round, double *seconds) {
    struct question question = {
        .text = "Which pattern do you go for",
        .help = "Type the pattern that the hand goes for: its number on the list, its name, or a "
                "part of the name; several with commas between them.",
        .read = parse_aims,
        .answer = round};
    return ask(drill, &question, seconds);
}
