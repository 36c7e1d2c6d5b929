/* Hands of a sheet that the player gives: one in words, or lines of files and of standard
 * input. All of them are read before anything is written: every mistyped line gets a message,
 * and no sheet is written without its hand. */
#define _DEFAULT_SOURCE /* FIONREAD */
#include "hands/answer.h"
#include "hands/hand_line.h"
#include "io/message.h"
#include "io/unread.h"
#include "sheet/sheet_hands.h"
#include "task.h"

#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

#define PIPE_PATIENCE 1000 /* milliseconds */

void sheet_hands_free(struct sheet_hands *hands) {
    for (size_t i = 0; i < hands->count; i++)
        free(hands->hand[i].label);
    free(hands->hand);
    *hands = (struct sheet_hands){0};
}

/* ----------------------------------------------------- standard input --- */

bool hands_piped(void) {
    struct stat about;
    return fstat(STDIN_FILENO, &about) == 0 &&
           (S_ISREG(about.st_mode) || S_ISFIFO(about.st_mode) || S_ISSOCK(about.st_mode));
}

/* A pipe that nobody writes to may stay open for ever, so the wait has an end. */
static bool pipe_has_bytes(void) {
    struct pollfd polled = {.fd = STDIN_FILENO, .events = POLLIN};
    int bytes = 0, ready;
    do
        ready = poll(&polled, 1, PIPE_PATIENCE);
    while (ready < 0 && errno == EINTR);
    return ready > 0 && ioctl(STDIN_FILENO, FIONREAD, &bytes) == 0 && bytes > 0;
}

bool hands_unused(void) {
    struct stat about;
    if (!hands_piped() || fstat(STDIN_FILENO, &about) != 0)
        return false;
    if (S_ISREG(about.st_mode))
        return lseek(STDIN_FILENO, 0, SEEK_CUR) < about.st_size;
    return pipe_has_bytes();
}

/* ---------------------------------------------------------- one by one --- */

/* The wind that a part of a label names, behind a word: "seat north". */
static void read_wind(const char *part, size_t length, const char *word, nh_wind *wind) {
    size_t skip = strlen(word);
    if (length <= skip || strncmp(part, word, skip) != 0)
        return;
    for (nh_wind each = NH_WIND_EAST; each <= NH_WIND_NORTH; each++) {
        const char *name = nh_wind_name(each);
        if (strlen(name) == length - skip && strncmp(part + skip, name, length - skip) == 0)
            *wind = each;
    }
}

/* The winds in a label, as nearhand deal writes it: "deal 7, prevailing north, seat east". */
static void read_label_winds(struct sheet_hand *hand) {
    const char *part = hand->label;
    nh_wind prevailing = NH_WIND_UNKNOWN, seat = NH_WIND_UNKNOWN;
    while (part != NULL && *part != '\0') {
        size_t length = strcspn(part, ",");
        read_wind(part, length, "prevailing ", &prevailing);
        read_wind(part, length, "seat ", &seat);
        part += length;
        part += strspn(part, ", ");
    }
    if (prevailing == NH_WIND_UNKNOWN || seat == NH_WIND_UNKNOWN)
        return;
    hand->winds_in_label = true;
    hand->prevailing = prevailing;
    hand->seat = seat;
}

static bool copy_label(const struct line *line, struct sheet_hand *hand) {
    if (line->label == NULL || line->label_length == 0)
        return true;
    hand->label = malloc(line->label_length + 1);
    if (hand->label == NULL)
        return short_of_memory();
    memcpy(hand->label, line->label, line->label_length);
    hand->label[line->label_length] = '\0';
    return true;
}

/* What is read, and how it went. */
struct reading {
    const nh_list *list;
    const struct sheet_source *source;
    struct sheet_hands *hands;
    bool numbered; /* mistakes have the numbers of their lines */
    size_t unread;
};

static bool has_size(const struct reading *reading, const nh_tiles *hand, nh_error *error) {
    return reading->source->drawn ? hand_before_discard(reading->list, hand, error)
                                  : hand_before_play(reading->list, hand, error);
}

/* A hand that the tiles on the table leave copies for. */
static bool fits_table(const struct reading *reading, const struct line *line, const nh_tiles *hand,
                       nh_error *error) {
    const struct sheet_table *table = reading->source->table;
    if (table == NULL)
        return true;
    nh_tiles gone = table->discards;
    const nh_tiles *set = nh_list_set(reading->list);
    for (size_t i = 0; i < table->set_count; i++) {
        nh_tiles tiles;
        nh_set_tiles(&table->sets[i], &tiles);
        nh_tiles_add(&gone, &tiles);
    }
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int known = gone.count[kind] + hand->count[kind];
        if (known <= set->count[kind])
            continue;
        *error = (nh_error){NH_ERROR_TILES, hand_excess(reading->list, line, &gone), ""};
        snprintf(error->text, sizeof error->text,
                 "hand and table together have %d of %s, but the set has %d", known,
                 nh_kind_notation((uint8_t)kind), set->count[kind]);
        return false;
    }
    return true;
}

/* False where there is no point in reading on. */
static bool read_hand(struct reading *reading, const struct line *line) {
    struct sheet_hands *hands = reading->hands;
    struct sheet_hand *hand = &hands->hand[hands->count];
    nh_error error;
    if (!hand_read(reading->list, line, &hand->tiles, &error) ||
        !has_size(reading, &hand->tiles, &error) ||
        !fits_table(reading, line, &hand->tiles, &error)) {
        unread_text(line, &error, reading->numbered);
        reading->unread++;
        return true;
    }
    if (hands->count == SHEET_HANDS_MOST) {
        misused("a sheet has at most %d hands", SHEET_HANDS_MOST);
        return false;
    }
    hand->number = ++hands->count;
    if (reading->source->table != NULL)
        hand->table = *reading->source->table;
    if (!copy_label(line, hand))
        return false;
    read_label_winds(hand);
    if (reading->source->prevailing != NH_WIND_UNKNOWN)
        hand->prevailing = reading->source->prevailing;
    if (reading->source->seat != NH_WIND_UNKNOWN)
        hand->seat = reading->source->seat;
    return true;
}

/* ---------------------------------------------------------- all of them --- */

static int explain_failure(const struct input *input, enum input_result result) {
    if (result == INPUT_STOPPED)
        return STATUS_STOPPED;
    complain("%s could not be read: %s", input_source(input), strerror(input->error));
    return STATUS_USAGE;
}

static int read_lines(struct reading *reading, struct input *input) {
    struct lines lines = {0};
    enum input_result result;
    bool going = true;
    hands_prompt(input);
    do {
        result = input_read(input, &lines);
        for (size_t i = 0; going && i < lines.count; i++)
            going = read_hand(reading, &lines.line[i]);
    } while (going && (result == INPUT_MORE || result == INPUT_DRY));
    lines_free(&lines);
    if (!going)
        return STATUS_USAGE;
    return result == INPUT_END ? STATUS_ANSWERED : explain_failure(input, result);
}

/* Whether files were read that have no hand. */
static int check_count(const struct reading *reading, bool empty) {
    if (reading->unread > 0) {
        complain("no sheet is written: %zu hand%s could not be read", reading->unread,
                 reading->unread == 1 ? "" : "s");
        return STATUS_UNREAD;
    }
    if (reading->hands->count > 0 || empty)
        return STATUS_ANSWERED;
    complain("no sheet is written: there is no hand in the input");
    return STATUS_USAGE;
}

static int read_files(struct reading *reading, bool *empty) {
    static const char *const standard_input[] = {"-"};
    const struct texts *files = reading->source->files;
    struct input input = {.names = standard_input, .count = 1};
    if (files->count > 0)
        input = (struct input){.names = files->text, .count = (size_t)files->count};
    int status = read_lines(reading, &input);
    *empty = files->count == 0 && input.number == 0;
    input_free(&input);
    return status == STATUS_ANSWERED ? check_count(reading, *empty) : status;
}

int hands_given(const nh_list *list, const struct sheet_source *source, struct sheet_hands *hands,
                bool *empty) {
    struct reading reading = {list, source, hands, source->hand == NULL, 0};
    *empty = false;
    hands->hand = calloc(SHEET_HANDS_MOST + 1, sizeof *hands->hand);
    if (hands->hand == NULL) {
        short_of_memory();
        return STATUS_USAGE;
    }
    if (source->hand == NULL)
        return read_files(&reading, empty);
    struct line line = line_of_argument(source->hand);
    if (!read_hand(&reading, &line))
        return STATUS_USAGE;
    return reading.unread > 0 ? STATUS_UNREAD : STATUS_ANSWERED;
}
