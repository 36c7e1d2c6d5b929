/* The answer of rank for spreadsheets and text tools: rows of columns with tabs
 * between them. */
#include "io/output.h"
#include "io/utf8.h"
#include "numbers/double_text.h"
#include "rank/rank_task.h"

#include <string.h>

/* By section a row has the figures of the section as well. The last column of all is
 * the error. */
void rank_tsv_head(const struct rank_question *question) {
    output_text("line\tlabel\thand\ttiles\t");
    if (question->by == BY_SECTION)
        output_text("patterns\tlive\twithin_one\t");
    output_text("pattern\tsection\tref\tpoints\taway\tchance\t");
    if (question->order == NH_ORDER_WORTH)
        output_text("worth\t");
    output_text("target\tkeep\tneed\tspare\terror\n");
}

/* Empty columns for a row without a target. */
static void no_target_out(const struct rank_question *question) {
    if (question->by == BY_SECTION)
        output_text("\t\t\t");
    output_text(question->order == NH_ORDER_WORTH ? "\t\t\t\t\t\t\t\t\t\t\t"
                                                  : "\t\t\t\t\t\t\t\t\t\t");
}

static void tab(void) {
    output_bytes("\t", 1);
}

/* What would break a row becomes a space, what is not UTF-8 U+FFFD. */
static void text_out(const char *text, size_t length) {
    for (size_t at = 0; at < length;) {
        uint32_t character;
        at += utf8_decode(text + at, length - at, &character);
        if (character < 0x20 || character == 0x7F)
            character = ' ';
        char bytes[4];
        output_bytes(bytes, utf8_encode(character, bytes));
    }
}

static bool begins_with(const char *text, size_t length, const char *beginning) {
    size_t wanted = strlen(beginning);
    return length >= wanted && memcmp(text, beginning, wanted) == 0;
}

/* Spreadsheets take what begins with one of these for a formula, or, with a quote,
 * take the quotes away first; some do not mind blanks before it. The last four are
 * the wide forms of the first. */
static bool seems_formula(const char *text, size_t length) {
    static const char *const beginnings[] = {"=", "+", "-", "@", "\"", "＝", "＋", "－", "＠"};
    while (length > 0 && (unsigned char)text[0] <= ' ') {
        text++;
        length--;
    }
    for (size_t i = 0; i < sizeof beginnings / sizeof *beginnings; i++)
        if (begins_with(text, length, beginnings[i]))
            return true;
    return false;
}

/* A column of text that came from a file. An apostrophe before it makes it text;
 * one that is there already is doubled, so that a reader can take the first away. */
static void cell_out(const char *text, size_t length) {
    if (seems_formula(text, length) || begins_with(text, length, "'"))
        output_bytes("'", 1);
    text_out(text, length);
}

static void string_out(const char *string) {
    if (string != NULL)
        cell_out(string, strlen(string));
}

static void double_out(double number) {
    char text[DOUBLE_TEXT_SIZE];
    double_text(number, text);
    output_text(text);
}

static void tiles_out(const nh_tiles *tiles) {
    char text[NH_TILES_TEXT_SIZE];
    output_bytes(text, nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text));
    tab();
}

/* Every column ends in a tab, except the error, which is the last. */
static void line_out(const struct line *line) {
    output_format("%lu\t", line->number);
    cell_out(line->label, line->label_length);
    tab();
}

void rank_tsv_pattern(const nh_pattern *pattern) {
    string_out(pattern->name);
    tab();
    string_out(pattern->section);
    tab();
    string_out(pattern->ref);
    tab();
    if (pattern->has_points)
        double_out(pattern->points);
    tab();
}

static void hand_out(const struct rank_answer *answer) {
    line_out(answer->line);
    tiles_out(&answer->hand);
    output_format("%d\t", nh_tiles_total(&answer->hand));
}

static void worth_out(const struct rank_answer *answer, const nh_ranked *row) {
    if (answer->question->order != NH_ORDER_WORTH)
        return;
    if (nh_list_pattern(answer->question->list, row->pattern)->has_points)
        double_out(rank_worth(answer, row));
    tab();
}

static void target_out(const struct rank_answer *answer, const nh_ranked *row) {
    rank_columns_out(answer->question, row->pattern);
    output_format("%d\t", row->away);
    double_out(row->chance);
    tab();
    worth_out(answer, row);
    tiles_out(&row->target);
    tiles_out(&row->keep);
    tiles_out(&row->need);
    tiles_out(&row->spare);
    output_text("\n");
}

static size_t sections_out(const struct rank_answer *answer) {
    for (size_t i = 0; i < answer->sections_shown; i++) {
        const struct rank_section *section = &answer->sections[i];
        hand_out(answer);
        output_format("%zu\t%zu\t%zu\t", section->patterns, section->live, section->within_one);
        target_out(answer, section->best);
    }
    return answer->sections_shown;
}

static size_t patterns_out(const struct rank_answer *answer) {
    for (size_t row = 0; row < answer->ranking.rows; row++) {
        hand_out(answer);
        target_out(answer, &answer->rows[row]);
    }
    return answer->ranking.rows;
}

/* A hand without a target to show has its row all the same. */
void rank_tsv(const struct rank_answer *answer) {
    size_t shown = answer->question->by == BY_SECTION ? sections_out(answer) : patterns_out(answer);
    if (shown > 0)
        return;
    hand_out(answer);
    no_target_out(answer->question);
    output_text("\n");
}

void unread_tsv(const struct rank_question *question, const struct line *line,
                const nh_error *error) {
    line_out(line);
    output_text("\t\t"); /* the hand and its tiles */
    no_target_out(question);
    if (line->source != NULL) {
        string_out(line->source);
        output_text(": ");
    }
    if (error->column > 0)
        output_format("column %u: ", (unsigned)error->column);
    text_out(error->text, strlen(error->text));
    output_text("\n");
}
