/* The questions of a drill. What cannot be understood is explained and asked
 * again; the time that takes belongs to the decision. */
#define _DEFAULT_SOURCE /* strsep */
#include "drill/drill_task.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "patterns/described.h"
#include "patterns/patterns_by_name.h"
#include "patterns/sections.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

/* A kind of question: what may be typed, and a function that reads an answer
 * or explains why it cannot. */
struct question {
    const char *text, *help;
    bool (*read)(const struct drill *drill, const char *line, void *answer);
    void *answer;
};

static void explain(const char *text) {
    struct flow flow = {.indent = 2};
    flow_words(&flow, text);
    flow_end(&flow);
}

/* ----------------------------------------------------------- the list --- */

/* How a pattern is called where there is room for little. */
static void add_number(struct text *text, const nh_list *list, size_t index) {
    const char *ref = nh_list_pattern(list, index)->ref;
    if (ref != NULL)
        text_add_cut(text, ref, strlen(ref), 12);
    else
        text_add_format(text, "%zu", index + 1);
}

static void show_list(const nh_list *list) {
    struct flow flow = {.indent = 2};
    for (size_t i = 0; i < nh_list_size(list); i++) {
        nh_pattern pattern = *nh_list_pattern(list, i);
        struct text text;
        text_clear(&text);
        if (section_opens(list, i)) {
            flow_end(&flow);
            flow.indent = 0;
            text_add_cut(&text, pattern.section, strlen(pattern.section), 20);
            text_add(&text, ":");
            flow_add(&flow, &text, 0);
            flow.indent = 2;
            text_clear(&text);
        }
        add_number(&text, list, i);
        text_add(&text, " ");
        text_add_cut(&text, pattern.name, strlen(pattern.name), 40);
        flow_add(&flow, &text, 3);
    }
    flow_end(&flow);
}

#define SHOWN_MOST 6 /* patterns that a word may mean */

/* The word names no pattern, or several. */
static void explain_pattern(const nh_list *list, const char *word, const uint8_t *chosen,
                            size_t found) {
    struct flow flow = {.indent = 2};
    struct text text;
    text_clear(&text);
    text_add(&text, "'");
    text_add_cut(&text, word, strlen(word), 30);
    text_add(&text, found == 0 ? "' is no pattern of the list; list shows them."
                               : "' may be more than one:");
    flow_add(&flow, &text, 0);
    size_t shown = 0;
    for (size_t i = 0; i < nh_list_size(list) && shown < found && shown < SHOWN_MOST; i++) {
        if (chosen[i] == 0)
            continue;
        nh_pattern pattern = *nh_list_pattern(list, i);
        text_clear(&text);
        add_number(&text, list, i);
        text_add(&text, " ");
        text_add_cut(&text, pattern.name, strlen(pattern.name), 40);
        text_add(&text, ++shown < found ? "," : ".");
        flow_add(&flow, &text, 1);
    }
    if (shown > 0 && shown < found)
        flow_words(&flow, "and others.");
    flow_end(&flow);
}

/* All of a pattern, or of the few that a word may mean. */
static void show_patterns(const struct drill *drill, const char *word) {
    uint8_t chosen[NH_PATTERNS_MAX] = {0};
    size_t found = patterns_find(drill->list, word, chosen);
    if (found == 0 || found > SHOWN_MOST) {
        explain_pattern(drill->list, word, chosen, found);
        return;
    }
    for (size_t i = 0; i < nh_list_size(drill->list); i++)
        if (chosen[i] != 0)
            described_out(drill->list, drill->workspace, i, 2);
}

/* ------------------------------------------------------------- asking --- */

static bool is_word(const char *line, const char *word) {
    return strcasecmp(line, word) == 0;
}

static enum drill_end ask(struct drill *drill, const struct question *question, double *seconds) {
    char line[PROMPT_LINE_SIZE];
    double start = prompt_start();
    for (;;) {
        if (!prompt_ask(&drill->prompt, question->text, line) || is_word(line, "quit"))
            return DRILL_QUIT;
        if (is_word(line, "skip"))
            return DRILL_SKIPPED;
        if (is_word(line, "list"))
            show_list(drill->list);
        else if (strncasecmp(line, "list ", 5) == 0)
            show_patterns(drill, line + 5 + strspn(line + 5, " \t"));
        else if (is_word(line, "?")) {
            explain(question->help);
            explain("list shows the patterns, list NAME all of one; skip leaves this round, quit "
                    "ends the session.");
        } else if (question->read(drill, line, question->answer))
            break;
    }
    *seconds += prompt_seconds(&drill->prompt, start);
    return DRILL_DONE;
}

/* -------------------------------------------------------------- tiles --- */

struct tiles_answer {
    const nh_view *view;
    nh_tiles tiles;
};

#define CARET_MOST 70 /* columns before a caret that is shown */

static void show_place(const char *line, unsigned column) {
    struct text text;
    text_clear(&text);
    text_add(&text, "  ");
    text_add(&text, line);
    if (column == 0 || column > CARET_MOST || text.width > LINE_WIDTH)
        return;
    text_print(&text);
    output_format("  %*s^\n", (int)column - 1, "");
}

/* The library's words as a sentence. */
static void explain_error(const nh_error *error) {
    char text[NH_ERROR_TEXT_SIZE + 1];
    snprintf(text, sizeof text, "%s.", error->text);
    if (text[0] >= 'a' && text[0] <= 'z')
        text[0] = (char)(text[0] - 'a' + 'A');
    explain(text);
}

static bool read_tiles(const struct drill *drill, const char *line, void *taken) {
    struct tiles_answer *answer = taken;
    nh_tiles tiles;
    nh_error error;
    if (nh_tiles_parse(drill->list, line, strlen(line), &tiles, &error) != NH_OK) {
        show_place(line, error.column);
        explain_error(&error);
        return false;
    }
    if (nh_charleston_check(nh_list_charleston(drill->list), &answer->view->hand, &tiles,
                            answer->view->count, &error) != NH_OK) {
        explain_error(&error);
        return false;
    }
    answer->tiles = tiles;
    return true;
}

enum drill_end ask_tiles(struct drill *drill, const char *question, const nh_view *view,
                         nh_tiles *tiles, double *seconds) {
    char help[256];
    struct tiles_answer answer = {.view = view};
    snprintf(help, sizeof help,
             "Type %d of your tiles, such as 2B 9C N: bams B, craks C, dots D, winds E S W N, "
             "dragons R G Wh, flowers F. Jokers are never passed.",
             view->count);
    enum drill_end end =
        ask(drill, &(struct question){question, help, read_tiles, &answer}, seconds);
    *tiles = answer.tiles;
    return end;
}

/* --------------------------------------------------- yes and numbers --- */

static bool read_yes(const struct drill *drill, const char *line, void *taken) {
    (void)drill;
    bool *yes = taken;
    *yes = is_word(line, "yes") || is_word(line, "y");
    if (*yes || is_word(line, "no") || is_word(line, "n"))
        return true;
    explain("yes or no is wanted.");
    return false;
}

enum drill_end ask_yes(struct drill *drill, const char *question, bool *yes, double *seconds) {
    const char *help = "Type yes (or y) to pass on, no (or n) to stop; one who stops is enough.";
    return ask(drill, &(struct question){question, help, read_yes, yes}, seconds);
}

struct count_answer {
    int most, count;
};

static bool read_count(const struct drill *drill, const char *line, void *taken) {
    (void)drill;
    struct count_answer *answer = taken;
    if (line[0] >= '0' && line[0] <= '9' && line[1] == '\0' && line[0] - '0' <= answer->most) {
        answer->count = line[0] - '0';
        return true;
    }
    char text[64];
    snprintf(text, sizeof text, "A number from 0 to %d is wanted.", answer->most);
    explain(text);
    return false;
}

enum drill_end ask_count(struct drill *drill, const char *question, int most, int *count,
                         double *seconds) {
    const char *help = "Type how many tiles you would exchange with the player opposite; the "
                       "smaller number of the two is exchanged.";
    struct count_answer answer = {.most = most};
    enum drill_end end =
        ask(drill, &(struct question){question, help, read_count, &answer}, seconds);
    *count = answer.count;
    return end;
}

/* ----------------------------------------------------------- patterns --- */

static size_t first_of(const nh_list *list, const uint8_t *chosen) {
    size_t first = 0;
    while (first < nh_list_size(list) && chosen[first] == 0)
        first++;
    return first;
}

/* The one pattern that the word names, or false once told why there is none. */
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
static bool read_aims(const struct drill *drill, const char *line, void *taken) {
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
    const char *help = "Type the pattern that the hand goes for: its number on the list, its "
                       "name, or a part of the name; several with commas between them.";
    return ask(drill, &(struct question){"Which pattern do you go for", help, read_aims, round},
               seconds);
}
