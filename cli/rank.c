/* The task rank: reads its options and its hands, and has each hand ranked. */
#include "rank.h"
#include "lists.h"
#include "message.h"
#include "options.h"
#include "output.h"
#include "sections.h"
#include "task.h"
#include "text.h"
#include "unread.h"
#include "utf8.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define TOP_MOST 1000000L

/* ---------------------------------------------------------- options --- */

struct rank_options {
    struct shared_options shared;
    const char **seen; /* texts of --seen, as they came */
    int seen_count;
    const char **sections;
    int section_count;
    long draws, top;
    bool unicode;
};

enum { OPTION_TOP = OPTION_OWN, OPTION_SEEN, OPTION_SECTION, OPTION_DRAWS, OPTION_UNICODE };

static const struct option option_table[] = {
    SHARED_OPTION_ROWS,
    {"top", required_argument, NULL, OPTION_TOP},
    {"seen", required_argument, NULL, OPTION_SEEN},
    {"section", required_argument, NULL, OPTION_SECTION},
    {"draws", required_argument, NULL, OPTION_DRAWS},
    {"unicode", no_argument, NULL, OPTION_UNICODE},
    {NULL, 0, NULL, 0},
};

static int help(void) {
    output_text("nearhand rank [OPTION ...] [HAND]\n"
                "\n"
                "Ranks the patterns of a list by how many tiles a hand is away from them, then\n"
                "by the chance of getting those. Without a HAND, each line of standard input is\n"
                "one; text behind a tab is its label, and lines that begin with # are remarks.\n"
                "\n"
                "  --list FILE|NAME    a list in a file, or by name: club (if not told), jokers,\n"
                "                      traditional, or one in ~/.local/share/nearhand/lists\n"
                "  --seen TILES        tiles known to be gone: exposed, discarded, passed\n"
                "  --prevailing WIND   the prevailing wind and your own, E, S, W or N; without\n"
                "  --seat WIND         them each wind is tried, and the answer tells which\n"
                "  --section TEXT      only sections with TEXT in their name; may be repeated\n"
                "  --draws K           the chance is that of K more tiles, 20 if not told: what\n"
                "                      one of four players draws until all 136 tiles are gone\n"
                "  --top N             the first N patterns; 10 if not told, with --json all\n"
                "  --unicode           writes tiles as Unicode tile characters\n"
                "  --json              one JSON object a line\n"
                "\n"
                "Example: nearhand rank --list jokers --seen \"444D F\" 2468B 246C 33D EEW R Wh\n");
    return STATUS_ANSWERED;
}

/* There is room for as many texts of --seen and --section as there are words. */
static bool take(int option, const char *value, void *taken) {
    struct rank_options *options = taken;
    switch (option) {
    case OPTION_TOP:
        return option_number("--top", value, 0, TOP_MOST, &options->top);
    case OPTION_SEEN:
        options->seen[options->seen_count++] = value;
        return true;
    case OPTION_SECTION:
        options->sections[options->section_count++] = value;
        return true;
    case OPTION_DRAWS:
        return option_number("--draws", value, 0, NH_DRAWS_MAX, &options->draws);
    case OPTION_UNICODE:
        options->unicode = true;
        return true;
    default:
        return option_shared(option, value, &options->shared);
    }
}

/* ------------------------------------------------------------ hands --- */

/* Everything that is made once and serves for every hand. */
struct ranker {
    nh_list *list;
    nh_workspace *workspace;
    nh_ranked *rows;
    uint8_t *chosen;
    struct rank_question question;
    bool json, batch;
    bool answered; /* some hand was, so far */
    int status;
};

size_t rank_shown(const struct rank_answer *answer, long otherwise) {
    long top = answer->question->top == TOP_ALL ? otherwise : answer->question->top;
    size_t rows = answer->ranking.rows;
    return top == TOP_ALL || (size_t)top > rows ? rows : (size_t)top;
}

size_t rank_dead(const struct rank_answer *answer, void (*tell)(const char *name, void *context),
                 void *context) {
    const struct rank_question *question = answer->question;
    size_t dead = 0;
    if (answer->ranking.rows == nh_list_size(question->list))
        return 0;
    for (size_t i = 0; i < nh_list_size(question->list); i++) {
        bool gone = question->chosen == NULL || question->chosen[i] != 0;
        for (size_t row = 0; gone && row < answer->ranking.rows; row++)
            gone = answer->rows[row].pattern != i;
        if (!gone)
            continue;
        dead++;
        if (tell != NULL)
            tell(nh_list_pattern(question->list, i).name, context);
    }
    return dead;
}

static uint32_t characters(const char *text, size_t length) {
    uint32_t count = 0;
    for (size_t at = 0; at < length; count++) {
        uint32_t character;
        at += utf8_decode(text + at, length - at, &character);
    }
    return count;
}

/* The place in a hand where, with the tiles seen, a kind comes to more than
 * the set holds: that is where the two together cannot be read. */
static uint32_t column_of_excess(const struct ranker *ranker, const struct line *line) {
    char seen[NH_TILES_TEXT_SIZE];
    size_t length =
        nh_tiles_format(&ranker->question.situation.seen, NH_STYLE_LETTERS, seen, sizeof seen);
    char *both = malloc(length + 1 + line->tiles_length);
    if (both == NULL)
        return 0;
    memcpy(both, seen, length);
    both[length] = ' ';
    memcpy(both + length + 1, line->text, line->tiles_length);
    nh_tiles tiles;
    nh_error error;
    nh_status status =
        nh_tiles_parse(ranker->list, both, length + 1 + line->tiles_length, &tiles, &error);
    free(both);
    return status == NH_ERROR_TILES && error.column > length + 1
               ? error.column - (uint32_t)length - 1
               : 0;
}

static bool read_hand(const struct ranker *ranker, const struct line *line, nh_tiles *hand,
                      nh_error *error) {
    if (line->too_long) {
        error->status = NH_ERROR_LIMIT;
        error->column = characters(line->text, line->length);
        snprintf(error->text, sizeof error->text, "the line is longer than %u bytes",
                 INPUT_LINE_MAX);
        return false;
    }
    return nh_hand_parse(ranker->list, line->text, line->tiles_length, hand, error) == NH_OK;
}

static void refuse(struct ranker *ranker, const struct line *line, const nh_error *error) {
    ranker->status = STATUS_UNREAD;
    if (ranker->json)
        unread_json(line, error);
    else
        unread_text(line, error, ranker->batch);
}

static void answer_line(struct ranker *ranker, const struct line *line) {
    struct rank_answer answer = {.question = &ranker->question, .line = line, .rows = ranker->rows};
    nh_error error = {NH_OK, 0, ""};
    if (!read_hand(ranker, line, &answer.hand, &error)) {
        refuse(ranker, line, &error);
        return;
    }
    nh_status status = nh_rank(ranker->list, ranker->workspace, &answer.hand,
                               &ranker->question.situation, ranker->question.chosen, ranker->rows,
                               nh_list_size(ranker->list), &answer.ranking, &error);
    if (status != NH_OK) {
        if (error.column == 0)
            error.column = column_of_excess(ranker, line);
        refuse(ranker, line, &error);
        return;
    }
    if (ranker->json)
        rank_json(&answer);
    else
        rank_text(&answer, ranker->batch, !ranker->answered);
    ranker->answered = true;
}

static void answer_input(struct ranker *ranker) {
    struct input input = {.file = stdin};
    struct line line;
    enum input_result result = INPUT_LINE;
    if (isatty(STDIN_FILENO))
        fprintf(stderr, "Hands, one a line, such as 2468B 246C 33D EEW R Wh; Ctrl-D ends.\n");
    ranker->batch = true;
    /* Each answer is handed on at once, for those who wait for it before they
     * write the next hand. */
    while (output_flush() && (result = input_next(&input, &line)) == INPUT_LINE)
        answer_line(ranker, &line);
    if (result == INPUT_FAILED) {
        complain("standard input could not be read: %s", strerror(errno));
        ranker->status = STATUS_USAGE;
    }
    input_free(&input);
}

/* ---------------------------------------------------------- the task --- */

static bool short_of_memory(void) {
    complain("%s", nh_status_text(NH_ERROR_MEMORY));
    return false;
}

static bool choose_sections(struct ranker *ranker, const struct rank_options *options) {
    if (options->section_count == 0)
        return true;
    ranker->chosen = calloc(nh_list_size(ranker->list), 1);
    if (ranker->chosen == NULL)
        return short_of_memory();
    for (int i = 0; i < options->section_count; i++)
        if (!section_choose(ranker->list, options->sections[i], ranker->chosen))
            return false;
    ranker->question.chosen = ranker->chosen;
    return true;
}

static bool read_seen(struct ranker *ranker, const struct rank_options *options) {
    char *seen = join_words(options->seen_count, (char *const *)(const void *)options->seen);
    if (seen == NULL)
        return short_of_memory();
    bool read = option_tiles("--seen", seen, ranker->list, &ranker->question.situation.seen);
    free(seen);
    return read;
}

static bool prepare(struct ranker *ranker, const struct rank_options *options) {
    ranker->list = list_open(options->shared.list);
    if (ranker->list == NULL)
        return false;
    ranker->json = options->shared.json;
    ranker->question.list = ranker->list;
    ranker->question.top = options->top;
    ranker->question.unicode = options->unicode;
    nh_situation situation = NH_SITUATION_DEFAULT;
    situation.prevailing = options->shared.prevailing;
    situation.seat = options->shared.seat;
    situation.draws = (int)options->draws;
    ranker->question.situation = situation;
    if (!read_seen(ranker, options) || !choose_sections(ranker, options))
        return false;
    ranker->rows = malloc(nh_list_size(ranker->list) * sizeof *ranker->rows);
    if (ranker->rows == NULL)
        return short_of_memory();
    return nh_workspace_new(ranker->list, NULL, &ranker->workspace) == NH_OK || short_of_memory();
}

static void answer_words(struct ranker *ranker, int count, char *const *words) {
    char *hand = join_words(count, words);
    if (hand == NULL) {
        short_of_memory();
        ranker->status = STATUS_USAGE;
        return;
    }
    struct line line = line_of_argument(hand);
    answer_line(ranker, &line);
    free(hand);
}

static int run(const struct rank_options *options, int count, char *const *words) {
    struct ranker ranker = {.status = STATUS_ANSWERED};
    if (!prepare(&ranker, options))
        ranker.status = STATUS_USAGE;
    else if (count > 0)
        answer_words(&ranker, count, words);
    else
        answer_input(&ranker);
    nh_workspace_free(ranker.workspace);
    free(ranker.rows);
    free(ranker.chosen);
    nh_list_free(ranker.list);
    return ranker.status;
}

int rank_run(int argc, char **argv) {
    struct rank_options options = {.draws = NH_DRAWS_DEFAULT, .top = TOP_ALL};
    const char **texts = calloc(2 * (size_t)argc, sizeof *texts);
    if (texts == NULL) {
        short_of_memory();
        return STATUS_USAGE;
    }
    options.seen = texts;
    options.sections = texts + argc;
    int status = STATUS_USAGE;
    if (options_read(argc, argv, option_table, take, &options))
        status = options.shared.help ? help() : run(&options, argc - optind, argv + optind);
    free((void *)texts);
    return status;
}
