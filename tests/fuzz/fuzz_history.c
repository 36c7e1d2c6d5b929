/* A history of any bytes, through the program's own reader and everything that it
 * says of one. Every line of the file is a record, damaged or blank; the sums are
 * sums of the rounds; JSON, text and drawing are sound and agree, and are the same where
 * memory is so little that everything is sorted in a file. A record that the program
 * adds to such a file counts, and harms no other.
 *
 * cli/history/history_lines.c is compiled with `read` named as below, so that the
 * file comes in pieces and reads are interrupted. */
#define _GNU_SOURCE /* memfd_create, memmem */
#include "../../cli/history/history.h"
#include "../../cli/io/output.h"
#include "../../cli/io/utf8.h"
#include "../../cli/progress/chart.h"
#include "../../cli/progress/progress_task.h"
#include "../../cli/task.h"
#include "fuzz.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/types.h>
#include <unistd.h>

#define SHOWN 3           /* sessions of the table */
#define LITTLE_MEMORY 600 /* some records */
#define TAGS 16           /* open at a time in a drawing */

ssize_t fuzz_read(int descriptor, void *buffer, size_t size);

/* A file in memory, by the name that the program opens it with. */
struct file {
    int descriptor;
    char path[32];
};

static struct file history;
static unsigned reads;

static void make_file(struct file *file, const char *name) {
    file->descriptor = memfd_create(name, MFD_CLOEXEC);
    MUST(file->descriptor >= 0);
    snprintf(file->path, sizeof file->path, "/proc/self/fd/%d", file->descriptor);
}

/* Some reads are interrupted, others give little. */
ssize_t fuzz_read(int descriptor, void *buffer, size_t size) {
    unsigned turn = reads++ % 4;
    if (turn == 0) {
        errno = EINTR;
        return -1;
    }
    size_t most = turn == 1 ? 1 : turn == 2 ? 100 : size;
    return read(descriptor, buffer, most < size ? most : size);
}

/* ------------------------------------------------------------ the file --- */

/* A walk through the lines; `number` counts from 1. */
struct walk {
    const char *next, *end;
    const char *line;
    size_t length, number;
};

static bool next_line(struct walk *walk) {
    if (walk->next == walk->end)
        return false;
    const char *newline = memchr(walk->next, '\n', (size_t)(walk->end - walk->next));
    walk->line = walk->next;
    walk->length = (size_t)((newline != NULL ? newline : walk->end) - walk->line);
    walk->next = newline != NULL ? newline + 1 : walk->end;
    walk->number++;
    return true;
}

static bool is_blank(const struct walk *walk) {
    for (size_t i = 0; i < walk->length; i++)
        if (walk->line[i] != ' ' && walk->line[i] != '\t' && walk->line[i] != '\r')
            return false;
    return true;
}

/* ------------------------------------------------------------ the sums --- */

/* Half of the values lie on either side of the median. */
struct sides {
    size_t below, above, all;
};

static void add_side(struct sides *sides, double value, double middle) {
    MUST(isfinite(value) && value >= 0);
    sides->below += value <= middle;
    sides->above += value >= middle;
    sides->all++;
}

static bool halves(const struct sides *sides) {
    return 2 * sides->below >= sides->all && 2 * sides->above >= sides->all;
}

static const cJSON *item_of(const cJSON *object, const char *key) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    MUST(item != NULL);
    return item;
}

static bool is_text(const cJSON *object, const char *key, const char *text) {
    const char *own = cJSON_GetStringValue(item_of(object, key));
    return text == NULL || own == NULL ? text == own : strcmp(own, text) == 0;
}

static bool belongs(const cJSON *object, const struct practice_sum *sum) {
    return is_text(object, "list", sum->list) && is_text(object, "level", sum->level) &&
           (sum->session == NULL || is_text(object, "session", sum->session)) &&
           (long)item_of(object, "limit")->valuedouble == sum->limit;
}

/* The lines of the file that are rounds. */
struct rounds {
    cJSON **object;
    size_t count;
};

static void add_round_sides(const cJSON *object, const struct practice_sum *sum,
                            struct sides *seconds, struct sides *costs, size_t *within) {
    const cJSON *pass;
    double own = item_of(object, "seconds")->valuedouble;
    add_side(seconds, own, sum->seconds);
    *within += own <= item_of(object, "limit")->valuedouble;
    cJSON_ArrayForEach(pass, item_of(object, "passes")) {
        if (!cJSON_IsNull(item_of(pass, "cost")))
            add_side(costs, item_of(pass, "cost")->valuedouble, sum->cost);
    }
}

/* The sum against its rounds; the first of them. */
static size_t sum_holds(const struct rounds *rounds, const struct practice_sum *sum) {
    struct sides seconds = {0}, costs = {0};
    size_t first = rounds->count, within = 0;
    for (size_t i = rounds->count; i-- > 0;) {
        if (!belongs(rounds->object[i], sum))
            continue;
        first = i;
        add_round_sides(rounds->object[i], sum, &seconds, &costs, &within);
    }
    MUST(isfinite(sum->seconds) && isfinite(sum->cost));
    MUST(sum->rounds > 0 && sum->rounds == seconds.all && halves(&seconds));
    MUST(sum->has_cost == (costs.all > 0) && halves(&costs));
    MUST(!(sum->within < (double)within / (double)sum->rounds) &&
         !(sum->within > (double)within / (double)sum->rounds));
    MUST(strncmp(sum->day, item_of(rounds->object[first], "time")->valuestring,
                 HISTORY_DAY_SIZE - 1) == 0);
    return first;
}

/* Each round is in one sum, in the order of the first round of each. */
static void sums_hold(struct practice *practice, const struct rounds *rounds,
                      enum practice_kind kind) {
    struct practice_sum sum;
    size_t all = 0, sums = 0, sessions = 0, before = 0;
    practice_first(practice, kind);
    while (practice_next(practice, kind, &sum)) {
        size_t first = sum_holds(rounds, &sum);
        MUST(sums == 0 || first > before);
        MUST((sum.session != NULL) == (kind == PRACTICE_SESSIONS));
        before = first;
        all += sum.rounds;
        sessions += sum.sessions;
        sums++;
    }
    MUST(!practice->failed && all == practice->round_count);
    MUST(sessions == practice->session_count && practice->fixed <= all);
    MUST(sums == (kind == PRACTICE_GROUPS ? practice->group_count : practice->session_count));
}

/* ---------------------------------------------------------- its answers --- */

/* UTF-8 without control characters but for ends of lines; how many there are. */
static size_t shown_lines(const char *bytes, size_t length) {
    size_t lines = 0;
    for (size_t at = 0; at < length;) {
        uint32_t character;
        size_t taken = utf8_decode(bytes + at, length - at, &character);
        MUST(taken > 1 || (unsigned char)bytes[at] < 0x80);
        MUST(character == '\n' || (character >= 0x20 && (character < 0x7F || character >= 0xA0)));
        lines += character == '\n';
        at += taken;
    }
    return lines;
}

static bool is_number(const cJSON *object, const char *key, double number) {
    double given = cJSON_GetNumberValue(item_of(object, key));
    return isfinite(given) && !(given < number) && !(given > number);
}

/* What is not UTF-8 comes back as U+FFFD; other names come back as they are. */
static bool is_name(const cJSON *object, const char *key, const char *name) {
    const char *given = cJSON_GetStringValue(item_of(object, key));
    if (name == NULL || given == NULL)
        return name == NULL && given == NULL && cJSON_IsNull(item_of(object, key));
    return strcmp(given, name) == 0 || strstr(given, "\xEF\xBF\xBD") != NULL;
}

static void sum_agrees(const cJSON *object, const struct practice_sum *sum) {
    if (sum->session != NULL)
        MUST(is_name(object, "session", sum->session));
    MUST(is_name(object, "day", sum->day) && is_name(object, "list", sum->list));
    MUST(is_name(object, "level", sum->level));
    MUST(is_number(object, "limit", (double)sum->limit));
    MUST(is_number(object, "sessions", (double)sum->sessions));
    MUST(is_number(object, "rounds", (double)sum->rounds));
    MUST(is_number(object, "seconds", sum->seconds) && is_number(object, "within", sum->within));
    if (sum->has_cost)
        MUST(is_number(object, "cost", sum->cost));
    else
        MUST(cJSON_IsNull(item_of(object, "cost")));
}

static void sums_agree(const cJSON *array, struct practice *practice, enum practice_kind kind) {
    struct practice_sum sum;
    const cJSON *object = array->child;
    practice_first(practice, kind);
    for (; practice_next(practice, kind, &sum); object = object->next) {
        MUST(object != NULL);
        sum_agrees(object, &sum);
    }
    MUST(object == NULL);
}

/* A line for each that is damaged, whose number is noted, and the answer. */
static void json_agrees(struct practice *practice, const struct page *page, int damaged_at[]) {
    size_t damaged = 0;
    MUST(!page->failed && !page_has_error(page));
    for (size_t at = 0; at < page->length;) {
        const char *line = page->bytes + at;
        const char *newline = memchr(line, '\n', page->length - at);
        MUST(newline != NULL);
        size_t length = (size_t)(newline - line);
        for (size_t i = 0; i < length; i++)
            MUST((unsigned char)line[i] >= 0x20);
        cJSON *object = cJSON_ParseWithLength(line, length);
        MUST(object != NULL && is_number(object, "format", 1));
        at += length + 1;
        if (at < page->length) {
            MUST(damaged < practice->damaged && cJSON_IsString(item_of(object, "error")));
            damaged_at[damaged++] = item_of(object, "line")->valueint;
        } else {
            MUST(is_number(object, "rounds", (double)practice->round_count));
            MUST(is_number(object, "fixed", (double)practice->fixed));
            MUST(is_number(object, "damaged", (double)practice->damaged));
            sums_agree(item_of(object, "groups"), practice, PRACTICE_GROUPS);
            sums_agree(item_of(object, "sessions"), practice, PRACTICE_SESSIONS);
        }
        cJSON_Delete(object);
    }
    MUST(damaged == practice->damaged);
}

/* Each line is blank, or reported as damaged, or the next round. */
static struct rounds rounds_of(const struct practice *practice, const char *bytes, size_t size,
                               const int damaged_at[]) {
    struct walk walk = {.next = bytes, .end = bytes + size};
    struct rounds rounds = {calloc(practice->round_count + 1, sizeof(cJSON *)), 0};
    size_t damaged = 0;
    MUST(rounds.object != NULL);
    while (next_line(&walk)) {
        if (is_blank(&walk))
            continue;
        if (damaged < practice->damaged && (size_t)damaged_at[damaged] == walk.number) {
            damaged++;
            continue;
        }
        cJSON *object = cJSON_ParseWithLength(walk.line, walk.length);
        MUST(rounds.count < practice->round_count && cJSON_IsObject(object));
        MUST(memchr(walk.line, '\0', walk.length) == NULL);
        rounds.object[rounds.count++] = object;
    }
    MUST(damaged == practice->damaged && rounds.count == practice->round_count);
    return rounds;
}

static void free_rounds(struct rounds *rounds) {
    for (size_t i = 0; i < rounds->count; i++)
        cJSON_Delete(rounds->object[i]);
    free(rounds->object);
}

/* The next tag of a drawing: its name, whether it opens or closes, and where it
 * ends. What is in it is the program's own, but for numbers. */
static size_t tag_holds(const char *text, size_t length, char *open[], size_t *depth,
                        size_t *sessions) {
    static char *const names[] = {"svg", "title", "rect", "text", "path", "polyline", "g"};
    static const char session[] = "<g class=\"session\">";
    const char *end = memchr(text, '>', length);
    MUST(end != NULL);
    size_t taken = (size_t)(end - text) + 1, skip = 1 + (text[1] == '/');
    if (text[1] == '?')
        return taken;
    size_t name = strcspn(text + skip, " />"), which = 0;
    while (which < 7 &&
           (strlen(names[which]) != name || memcmp(names[which], text + skip, name) != 0))
        which++;
    MUST(which < 7);
    MUST(memmem(text, taken, "inf", 3) == NULL && memmem(text, taken, "nan", 3) == NULL);
    if (skip == 2) {
        MUST(*depth > 0 && open[--*depth] == names[which]);
    } else {
        *sessions += taken == sizeof session - 1 && memcmp(text, session, taken) == 0;
        if (end[-1] != '/') {
            MUST(*depth < TAGS);
            open[(*depth)++] = names[which];
        }
    }
    return taken;
}

static void drawing_holds(const struct practice *practice, const char *text, size_t length) {
    char *open[TAGS];
    size_t depth = 0, sessions = 0;
    (void)shown_lines(text, length);
    for (size_t at = 0; at < length;) {
        const char *rest = text + at;
        if (*rest == '<') {
            at += tag_holds(rest, length - at, open, &depth, &sessions);
            continue;
        }
        if (*rest == '&')
            MUST(strncmp(rest, "&amp;", 5) == 0 || strncmp(rest, "&lt;", 4) == 0 ||
                 strncmp(rest, "&gt;", 4) == 0);
        MUST(*rest != '>');
        at++;
    }
    MUST(depth == 0 && sessions >= practice->session_count &&
         sessions <= 2 * practice->session_count);
}

static void draw(struct practice *practice, struct page *page) {
    output_to(page);
    MUST(practice_drawing(practice));
    page_add(page, false, "", 1); /* ends the text */
    output_to(NULL);
    MUST(!page->failed && page->length > 1);
}

static void same_pages(const struct page *a, const struct page *b) {
    MUST(!a->failed && !b->failed && a->length == b->length);
    MUST(a->length == 0 || memcmp(a->bytes, b->bytes, a->length) == 0);
}

static void drawings_agree(struct practice *practice, struct practice *little) {
    struct page page = {0}, again = {0};
    draw(practice, &page);
    draw(little, &again);
    same_pages(&page, &again);
    drawing_holds(practice, page.bytes, page.length - 1);
    page_free(&page);
    page_free(&again);
}

/* ---------------------------------------------------------------- input --- */

static struct history_lines open_history(void) {
    struct history_lines lines;
    MUST(history_open(&lines, history.path) == HISTORY_OPEN);
    return lines;
}

static struct practice read_history(struct page *page, bool as_json, size_t memory) {
    struct practice practice;
    struct history_lines lines = open_history();
    practice_begin(&practice, memory);
    output_to(page);
    MUST(practice_read(&practice, &lines, as_json));
    history_close(&lines);
    if (as_json)
        practice_json(&practice);
    else
        practice_text(&practice, SHOWN, practice.round_count % 2 == 0);
    output_to(NULL);
    MUST(!practice.failed);
    return practice;
}

/* The same with little memory, as JSON and as text. */
static struct practice read_in_little(const struct page *json, const struct page *text) {
    struct page page = {0}, again = {0};
    struct practice other = read_history(&page, false, LITTLE_MEMORY);
    same_pages(&page, text);
    practice_free(&other);
    other = read_history(&again, true, LITTLE_MEMORY);
    same_pages(&again, json);
    page_free(&page);
    page_free(&again);
    return other;
}

/* All rounds in a list, and the review of each, are text that can be shown. */
static void rounds_agree(const struct practice *practice) {
    struct page page = {0};
    struct history_lines lines = open_history();
    output_to(&page);
    int status = rounds_list(&lines);
    MUST(status == (practice->damaged > 0 ? STATUS_UNREAD : STATUS_ANSWERED));
    history_close(&lines);
    for (size_t number = LAST_ROUND; number <= practice->round_count; number++) {
        lines = open_history();
        status = round_review(&lines, number);
        MUST(status == STATUS_ANSWERED || status == STATUS_UNREAD);
        history_close(&lines);
    }
    output_to(NULL);
    MUST(!page.failed && shown_lines(page.bytes, page.length) >= practice->round_count);
    page_free(&page);
}

static void check_added(const struct practice *before) {
    static const char record[] =
        "{\"format\":1,\"time\":\"2026-02-03T20:15:00Z\",\"session\":\"last\",\"list\":\"Club\","
        "\"level\":null,\"limit\":90,\"clock\":\"real\",\"seconds\":75.5,\"passes\":[]}";
    struct page page = {0};
    MUST(history_append(history.path, record, sizeof record - 1));
    struct practice after = read_history(&page, true, PRACTICE_MEMORY);
    MUST(after.round_count == before->round_count + 1 && after.damaged == before->damaged);
    MUST(after.last_day == 20260203);
    practice_free(&after);
    page_free(&page);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct page json = {0}, text = {0};
    if (history.descriptor == 0)
        make_file(&history, "history");
    MUST(ftruncate(history.descriptor, 0) == 0);
    MUST(pwrite(history.descriptor, data, size, 0) == (ssize_t)size);
    struct practice practice = read_history(&json, true, PRACTICE_MEMORY);
    struct practice again = read_history(&text, false, PRACTICE_MEMORY);
    struct practice little = read_in_little(&json, &text);
    int *damaged_at = calloc(practice.damaged + 1, sizeof *damaged_at);
    MUST(damaged_at != NULL);
    json_agrees(&practice, &json, damaged_at);
    struct rounds rounds = rounds_of(&practice, (const char *)data, size, damaged_at);
    sums_hold(&practice, &rounds, PRACTICE_GROUPS);
    sums_hold(&practice, &rounds, PRACTICE_SESSIONS);
    free_rounds(&rounds);
    free(damaged_at);
    MUST(again.round_count == practice.round_count && again.damaged == practice.damaged);
    MUST(!text.failed && shown_lines(text.bytes, text.length) >= 1 + practice.damaged);
    drawings_agree(&practice, &little);
    rounds_agree(&practice);
    check_added(&practice);
    practice_free(&practice);
    practice_free(&again);
    practice_free(&little);
    page_free(&json);
    page_free(&text);
    return 0;
}
