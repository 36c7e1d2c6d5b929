/* The program's reader of lines, with reads that end anywhere, are interrupted
 * or find nothing yet: what it gives must be the lines that the whole bytes
 * have, told apart in one plain walk.
 *
 * cli/io/input.c is compiled with `read`, `poll` and `open` named as below. Of the
 * input a byte from 0xF8 on is a sign: 0xFF ends a read here, the others repeat
 * the byte before, up to some ten thousand times, so that lines become too
 * long. */
#include "../../cli/io/input.h"
#include "fuzz.h"

#include <errno.h>
#include <poll.h>
#include <stdbool.h>
#include <string.h>
#include <sys/types.h>

#define BYTES_MAX (1u << 20)
#define STOPS_MAX 64
#define MARK "\xEF\xBB\xBF"

int fuzz_poll(struct pollfd *polled, nfds_t count, int timeout);
ssize_t fuzz_read(int descriptor, void *buffer, size_t size);
int fuzz_open(const char *path, int flags, ...);

/* The bytes, and where a read of them ends. */
static struct {
    char bytes[BYTES_MAX];
    size_t length, at;
    size_t stop[STOPS_MAX];
    uint8_t how[STOPS_MAX]; /* what comes at the stop */
    size_t stops, next;
} stream;

enum { STOP_SHORT, STOP_INTERRUPTED, STOP_AGAIN, STOP_DRY, STOP_WAYS };

static void make_stream(struct decisions *decisions) {
    stream.length = stream.at = stream.stops = stream.next = 0;
    while (decisions->left > 0 && stream.length < BYTES_MAX - 70000) {
        int byte = decide(decisions, 256);
        if (byte < 0xF8) {
            stream.bytes[stream.length++] = (char)byte;
        } else if (byte < 0xFF) {
            size_t times = (size_t)decide(decisions, 256) << (byte - 0xF8) << 2;
            char before = stream.length > 0 ? stream.bytes[stream.length - 1] : ' ';
            memset(stream.bytes + stream.length, before, times);
            stream.length += times;
        } else if (stream.stops < STOPS_MAX) {
            stream.stop[stream.stops] = stream.length;
            stream.how[stream.stops++] = (uint8_t)decide(decisions, STOP_WAYS);
        }
    }
}

/* Takes the stop that is due, if it is of this kind. */
static bool stops_here(int how) {
    if (stream.next == stream.stops || stream.stop[stream.next] != stream.at ||
        stream.how[stream.next] != how)
        return false;
    stream.next++;
    return true;
}

int fuzz_open(const char *path, int flags, ...) {
    (void)path;
    (void)flags;
    return 1000;
}

int fuzz_poll(struct pollfd *polled, nfds_t count, int timeout) {
    (void)count;
    if (stops_here(STOP_DRY) && timeout == 0)
        return 0;
    polled[0].revents = POLLIN;
    polled[1].revents = 0;
    return 1;
}

ssize_t fuzz_read(int descriptor, void *buffer, size_t size) {
    (void)descriptor;
    if (stops_here(STOP_INTERRUPTED) || stops_here(STOP_AGAIN)) {
        errno = stream.how[stream.next - 1] == STOP_AGAIN ? EAGAIN : EINTR;
        return -1;
    }
    (void)stops_here(STOP_SHORT);
    size_t left = stream.length - stream.at;
    if (stream.next < stream.stops)
        left = stream.stop[stream.next] - stream.at;
    /* nothing at all is only said at the end */
    if (left == 0 && stream.at < stream.length)
        left = 1;
    MUST(size > 0);
    size_t count = left < size ? left : size;
    memcpy(buffer, stream.bytes + stream.at, count);
    stream.at += count;
    while (stream.next < stream.stops && stream.stop[stream.next] < stream.at)
        stream.next++;
    return (ssize_t)count;
}

/* ---------------------------------------------------- the plain walk --- */

struct walk {
    size_t at;
    unsigned long number;
};

static bool is_blank(const char *text, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (text[i] != ' ' && text[i] != '\t' && text[i] != '\v' && text[i] != '\f' &&
            text[i] != '\r')
            return false;
    return true;
}

/* The next line that is neither blank nor a remark; false at the end. */
static bool next_line(struct walk *walk, struct line *line) {
    while (walk->at < stream.length) {
        const char *text = stream.bytes + walk->at;
        size_t left = stream.length - walk->at;
        const char *newline = memchr(text, '\n', left);
        size_t length = newline == NULL ? left : (size_t)(newline - text);
        walk->at += length + (newline != NULL);
        walk->number++;
        bool too_long = length > INPUT_LINE_MAX;
        length = too_long ? INPUT_LINE_MAX : length;
        if (walk->number == 1 && length >= 3 && memcmp(text, MARK, 3) == 0) {
            text += 3;
            length -= 3;
        }
        if (!too_long && length > 0 && text[length - 1] == '\r')
            length--;
        if ((length > 0 && text[0] == '#') || (!too_long && is_blank(text, length)))
            continue;
        *line = (struct line){
            .number = walk->number, .text = text, .length = length, .too_long = too_long};
        const char *tab = memchr(text, '\t', length);
        line->tiles_length = tab == NULL ? length : (size_t)(tab - text);
        line->label = tab == NULL ? NULL : tab + 1;
        line->label_length = tab == NULL ? 0 : length - line->tiles_length - 1;
        return true;
    }
    return false;
}

static bool same_bytes(const char *a, size_t a_length, const char *b, size_t b_length) {
    return a_length == b_length && (a_length == 0 || memcmp(a, b, a_length) == 0);
}

static void lines_agree(struct walk *walk, const struct lines *lines) {
    MUST(lines->count <= LINES_MAX);
    for (size_t i = 0; i < lines->count; i++) {
        const struct line *given = &lines->line[i];
        struct line due;
        MUST(next_line(walk, &due));
        MUST(given->number == due.number && given->too_long == due.too_long);
        MUST(same_bytes(given->text, given->length, due.text, due.length));
        MUST(given->tiles_length == due.tiles_length);
        MUST((given->label == NULL) == (due.label == NULL) && given->source == NULL);
        MUST(same_bytes(given->label, given->label_length, due.label, due.label_length));
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const char *const names[] = {"file"};
    struct decisions decisions = {data, size};
    struct input input = {.names = names, .count = 1};
    struct lines lines = {0};
    struct walk walk = {0, 0};
    struct line line;
    enum input_result result;
    make_stream(&decisions);
    do {
        result = input_read(&input, &lines);
        MUST(result == INPUT_MORE || result == INPUT_DRY || result == INPUT_END);
        MUST(result == INPUT_END || lines.count > 0);
        lines_agree(&walk, &lines);
    } while (result != INPUT_END);
    MUST(!next_line(&walk, &line) && stream.at == stream.length);
    lines_free(&lines);
    input_free(&input);
    return 0;
}
