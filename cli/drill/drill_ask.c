/* The questions of a drill: asking until the answer can be used, tiles, yes or no, and
 * numbers. */
#include "drill/drill_ask.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "system/clock.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

void explain(const char *sentence) {
    struct flow flow = {.indent = 2};
    flow_words(&flow, sentence);
    flow_end(&flow);
}

bool is_word(const char *line, const char *word) {
    return strcasecmp(line, word) == 0;
}

/* ------------------------------------------------------------- asking --- */

#define ASKED_SIZE 160

/* The question with the time that is left, or how far it is over. */
static void add_clock(const struct drill *drill, const struct question *question, double start,
                      char asked[ASKED_SIZE]) {
    char clock[CLOCK_SIZE];
    double left = (double)drill->limit - drill->spent;
    if (drill->prompt.fixed < 0)
        left -= clock_seconds() - start;
    clock_text(left >= 0 ? left : -left, clock);
    if (question->untimed)
        snprintf(asked, ASKED_SIZE, "%s", question->text);
    else if (question->unclocked)
        snprintf(asked, ASKED_SIZE, "%s (clock stopped)", question->text);
    else
        snprintf(asked, ASKED_SIZE, "%s (%s %s)", question->text, clock,
                 left >= 0 ? "left" : "over");
}

static void help_out(const struct drill *drill, const struct question *question) {
    explain(question->help);
    explain("list: all names; list NAME: a pattern in words, or the names in a section; skip: "
            "leaves this round; quit: ends the session.");
    if (drill->own != NULL)
        explain("undo: back to the question before.");
}

static enum drill_end confirm_skip(struct drill *drill) {
    char line[PROMPT_LINE_SIZE];
    for (;;) {
        if (!prompt_ask(&drill->prompt, "Skip this round? It will not be kept; yes or no", line) ||
            is_word(line, "quit"))
            return DRILL_QUIT;
        if (is_word(line, "yes") || is_word(line, "y"))
            return DRILL_SKIPPED;
        if (is_word(line, "no") || is_word(line, "n"))
            return DRILL_DONE;
        explain("Type yes or no.");
    }
}

/* Words that every question takes. True where the line was one; `end` then says whether
 * to go on asking. */
static bool take_word(struct drill *drill, const struct question *question, const char *line,
                      enum drill_end *end) {
    if (is_word(line, "quit"))
        *end = DRILL_QUIT;
    else if (is_word(line, "skip"))
        *end = confirm_skip(drill);
    else if (is_word(line, "undo") && drill->own != NULL)
        *end = DRILL_UNDO;
    else if (is_word(line, "list"))
        show_list(drill->list);
    else if (strncasecmp(line, "list ", 5) == 0)
        show_named(drill, line + 5 + strspn(line + 5, " \t"));
    else if (is_word(line, "?") || is_word(line, "help"))
        help_out(drill, question);
    else
        return false;
    return true;
}

/* Reads lines until one answers. */
static enum drill_end ask_again(struct drill *drill, const struct question *question,
                                double start) {
    char line[PROMPT_LINE_SIZE], asked[ASKED_SIZE];
    enum drill_end end = DRILL_DONE;
    while (end == DRILL_DONE) {
        add_clock(drill, question, start, asked);
        if (!prompt_ask(&drill->prompt, asked, line))
            return DRILL_QUIT;
        if (take_word(drill, question, line, &end))
            continue;
        if (question->decided != NULL && line[0] == '\0') {
            *question->decided = true;
            break;
        }
        if (question->read(drill, line, question->answer))
            break;
    }
    return end;
}

enum drill_end ask(struct drill *drill, const struct question *question, double *seconds) {
    double start = clock_seconds();
    enum drill_end end = ask_again(drill, question, start);
    double taken =
        question->unclocked ? clock_seconds() - start : prompt_seconds(&drill->prompt, start);
    if (end != DRILL_DONE && end != DRILL_UNDO)
        return end;
    if (question->unclocked) {
        drill->apart += drill->prompt.fixed < 0 ? taken : 0;
        return end;
    }
    drill->spent += question->untimed ? 0 : taken;
    if (seconds != NULL)
        *seconds += taken;
    return end;
}

/* -------------------------------------------------------------- tiles --- */

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

void explain_error(const char *line, const nh_error *error) {
    char text[NH_ERROR_TEXT_SIZE + 1];
    show_place(line, error->column);
    snprintf(text, sizeof text, "%s.", error->text);
    if (text[0] >= 'a' && text[0] <= 'z')
        text[0] = (char)(text[0] - 'a' + 'A');
    explain(text);
}

struct tiles_answer {
    const nh_view *view;
    nh_move move;
};

/* The tiles, and behind a + how many of those that come in go on unseen. */
static bool read_parts(const struct drill *drill, const char *line, bool blind, nh_move *move) {
    const char *plus = blind ? strchr(line, '+') : NULL;
    size_t length = plus != NULL ? (size_t)(plus - line) : strlen(line);
    nh_error error;
    if (nh_tiles_parse(drill->list, line, length, &move->tiles, &error) != NH_OK) {
        explain_error(line, &error);
        return false;
    }
    if (plus == NULL)
        return true;
    plus += 1 + strspn(plus + 1, " \t");
    if (plus[0] < '0' || plus[0] > '9' || plus[1] != '\0') {
        explain("Behind the + type how many of the tiles that come in you hand on.");
        return false;
    }
    move->blind = (uint8_t)(plus[0] - '0');
    return true;
}

/* Whether own and unseen tiles together are a pass. */
static bool adds_up(const nh_view *view, const nh_move *move) {
    char text[128];
    int own = nh_tiles_total(&move->tiles);
    if (own + move->blind == view->count)
        return true;
    snprintf(text, sizeof text, "A pass has %d tiles; you typed %d of yours and %d unseen.",
             view->count, own, move->blind);
    explain(text);
    return false;
}

static bool parse_tiles_typed(const struct drill *drill, const char *line, void *taken) {
    struct tiles_answer *answer = taken;
    const nh_view *view = answer->view;
    nh_move move = NH_MOVE;
    nh_error error = {NH_OK, 0, ""};
    if (!read_parts(drill, line, view->step.blind, &move))
        return false;
    if (view->step.blind && !adds_up(view, &move))
        return false;
    unsigned own = (unsigned)view->count - move.blind;
    if (nh_charleston_check(nh_list_charleston(drill->list), &view->hand, &move.tiles, own,
                            &error) != NH_OK) {
        explain_error(line, &error);
        if (drill->own != NULL)
            explain("If a tile was mistyped before, undo goes back to it.");
        return false;
    }
    answer->move = move;
    return true;
}

enum drill_end ask_tiles(struct drill *drill, const char *text, const nh_view *view, nh_move *move,
                         double *seconds) {
    char help[512];
    bool decided = false;
    struct tiles_answer answer = {.view = view};
    const nh_tiles *tile_set = nh_list_set(drill->list);
    snprintf(help, sizeof help,
             "Type %d of your tiles, such as 2B 9C N: bams B, craks C, dots D, winds "
             "E S W N, dragons R G Wh%s.%s",
             view->count, tile_set->count[NH_FLOWER] > 0 ? ", flowers F" : "",
             tile_set->count[NH_JOKER] > 0 ? " Jokers are never passed." : "");
    if (view->step.blind)
        snprintf(help + strlen(help), sizeof help - strlen(help),
                 " Or fewer, and +1 to +%d for tiles that come in and go on unseen: 2B 9C +1.",
                 view->count);
    if (drill->own != NULL)
        snprintf(help + strlen(help), sizeof help - strlen(help),
                 " Enter alone stops the clock before you type them.");
    struct question decide = {
        .text = text, .help = help, .read = parse_tiles_typed, .answer = &answer};
    struct question type = {.text = "Which do you pass",
                            .help = help,
                            .read = parse_tiles_typed,
                            .answer = &answer,
                            .unclocked = true};
    if (drill->own != NULL)
        decide.decided = &decided;
    enum drill_end end;
    do {
        decided = false;
        end = ask(drill, &decide, seconds);
        if (end == DRILL_DONE && decided)
            end = ask(drill, &type, NULL);
    } while (end == DRILL_UNDO && decided);
    *move = answer.move;
    return end;
}

/* --------------------------------------------------- yes and numbers --- */

static bool read_yes(const struct drill *drill, const char *line, void *taken) {
    bool *yes = taken;
    (void)drill;
    *yes = is_word(line, "yes") || is_word(line, "y");
    if (*yes || is_word(line, "no") || is_word(line, "n"))
        return true;
    explain("Type yes or no.");
    return false;
}

enum drill_end ask_yes(struct drill *drill, const char *text, bool *yes, double *seconds) {
    bool answer = false;
    struct question question = {
        .text = text,
        .help = "Type yes (or y) to go on, no (or n) to stop; one who stops is enough.",
        .read = read_yes,
        .answer = &answer};
    enum drill_end end = ask(drill, &question, seconds);
    *yes = answer;
    return end;
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
    snprintf(text, sizeof text, "Type a number from 0 to %d.", answer->most);
    explain(text);
    return false;
}

enum drill_end ask_count(struct drill *drill, const char *text, int most, int *count,
                         double *seconds) {
    struct count_answer answer = {.most = most};
    struct question question = {
        .text = text,
        .help = "Type how many tiles you want to exchange with the player across; the smaller "
                "number of the two is exchanged.",
        .read = read_count,
        .answer = &answer};
    enum drill_end end = ask(drill, &question, seconds);
    *count = answer.count;
    return end;
}
