/* Parts of surveys, through the program's own reader. What the program wrote is read back
 * as it was, in any order of its parts; of a part in which anything was changed the reader
 * takes nothing, or what it said before; bytes that nobody wrote are refused, or are a part.
 * The first input of a run tears a part at every byte and changes every byte of it. */
#define _GNU_SOURCE /* memfd_create */
#include "../../cli/io/output.h"
#include "../../cli/survey/fingerprint.h"
#include "../../cli/survey/survey_task.h"
#include "fuzz.h"

#include <fcntl.h>
#include <stdbool.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#define PARTS 3
#define GAMES_MOST 40

static const char list_text[] =
    "{\"format\":1,\"title\":\"Small\",\"hand\":5,\"patterns\":["
    "{\"name\":\"One\",\"points\":5,\"groups\":[{\"pung\":\"any\"},{\"pair\":\"any\"}]},"
    "{\"name\":\"Two\",\"points\":12.5,\"variants\":[[{\"quint\":\"flower\"}],"
    "[{\"chow\":\"n\",\"suit\":\"x\"},{\"pair\":\"dragon\"}]]}],\"tiles\":{\"flowers\":5}}";

static nh_list *list;
static struct survey_key key;
/* A file in memory, by the name that the program opens it with. */
static struct file {
    int descriptor;
    char path[32];
} part_file;
static int nowhere;

/* ---------------------------------------------------------------- files --- */

static void write_file(const char *bytes, size_t length) {
    MUST(ftruncate(part_file.descriptor, 0) == 0);
    MUST(pwrite(part_file.descriptor, bytes, length, 0) == (ssize_t)length);
}

/* What the reader complains of is not for the log. */
static bool read_part(const char *bytes, size_t length, struct counts *counts) {
    write_file(bytes, length);
    int errors = dup(STDERR_FILENO);
    MUST(errors >= 0 && dup2(nowhere, STDERR_FILENO) >= 0);
    bool good = part_read(part_file.path, &key, counts);
    MUST(dup2(errors, STDERR_FILENO) >= 0);
    close(errors);
    return good;
}

static struct page write_part(const struct counts *counts) {
    struct page page = {0};
    output_to(&page);
    survey_json(&key, counts);
    output_to(NULL);
    MUST(!page.failed);
    return page;
}

static bool same_counts(const struct counts *a, const struct counts *b) {
    char prints[2][FINGERPRINT_SIZE];
    fingerprint_counts(&key, a, prints[0]);
    fingerprint_counts(&key, b, prints[1]);
    return strcmp(prints[0], prints[1]) == 0;
}

/* ---------------------------------------------------------------- games --- */

/* A game that ended as the decisions say. */
static void count_game(struct decisions *decisions, struct counts *counts, uint64_t number) {
    nh_game_end end = {.won = decide(decisions, 4) > 0};
    uint8_t away[2];
    uint64_t again;
    for (int hand = 0; hand < 2 * NH_SEATS; hand++) {
        away[0] = (uint8_t)decide(decisions, 4);
        away[1] = (uint8_t)decide(decisions, 4);
        counts_add_hand(counts, away, hand >= NH_SEATS);
    }
    end.turns = 1 + (unsigned)decide(decisions, 200);
    end.wall = (unsigned)decide(decisions, 90);
    end.seat = decide(decisions, NH_SEATS);
    end.from = decide(decisions, NH_SEATS);
    end.pattern.pattern = (uint32_t)decide(decisions, 2);
    end.pattern.variant = end.pattern.pattern == 1 ? (uint32_t)decide(decisions, 2) : 0;
    counts_add_end(counts, &end);
    MUST(counts_add_range(counts, (struct game_range){number, number}, &again));
}

/* ---------------------------------------------------------------- checks --- */

/* Nothing but what it was made of is read from changed bytes. */
static void must_be_same_or_refused(const char *bytes, size_t length, const struct counts *made) {
    struct counts counts;
    MUST(counts_new(&counts, list));
    if (read_part(bytes, length, &counts))
        MUST(same_counts(&counts, made));
    else
        MUST(counts.games == 0 && counts.ranges == 0 && counts.turns == 0);
    counts_free(&counts);
}

static void tear_and_change(const struct page *part, const struct counts *made) {
    static const char others[] = "0159-.eE\"{}[],: x";
    for (size_t length = 0; length + 2 < part->length; length++) {
        struct counts counts;
        MUST(counts_new(&counts, list));
        MUST(!read_part(part->bytes, length, &counts) && counts.games == 0);
        counts_free(&counts);
    }
    for (size_t at = 0; at < part->length; at++) {
        char was = part->bytes[at];
        for (size_t i = 0; i < sizeof others - 1; i++) {
            part->bytes[at] = others[i];
            must_be_same_or_refused(part->bytes, part->length, made);
        }
        part->bytes[at] = was;
    }
}

struct parts {
    struct counts part[PARTS], whole;
    struct page page[PARTS];
};

/* The same games in parts and in one run. */
static void play(struct decisions *decisions, struct parts *parts) {
    int games = 1 + decide(decisions, GAMES_MOST);
    MUST(counts_new(&parts->whole, list));
    for (int i = 0; i < PARTS; i++)
        MUST(counts_new(&parts->part[i], list));
    for (int i = 0; i < games; i++) {
        struct decisions again = *decisions;
        count_game(decisions, &parts->part[i * PARTS / games], (uint64_t)i + 1);
        count_game(&again, &parts->whole, (uint64_t)i + 1);
    }
    for (int i = 0; i < PARTS; i++)
        parts->page[i] = write_part(&parts->part[i]);
}

/* Parts in any order are the one run, and none counts twice. */
static void merge(struct decisions *decisions, const struct parts *parts) {
    int first = decide(decisions, PARTS), step = 1 + decide(decisions, PARTS - 1);
    struct counts merged;
    MUST(counts_new(&merged, list));
    for (int i = 0; i < PARTS; i++) {
        int next = (first + i * step) % PARTS;
        const struct page *page = &parts->page[next];
        MUST(read_part(page->bytes, page->length, &merged));
        if (parts->part[next].games > 0)
            MUST(!read_part(page->bytes, page->length, &merged));
    }
    MUST(same_counts(&merged, &parts->whole));
    counts_free(&merged);
}

static void check_written(struct decisions *decisions) {
    static bool torn;
    struct parts parts;
    struct page *page = &parts.page[0];
    play(decisions, &parts);
    merge(decisions, &parts);
    if (!torn)
        tear_and_change(page, &parts.part[0]);
    torn = true;
    for (int i = 0; i < 4; i++) {
        page->bytes[decide(decisions, (int)page->length)] = (char)decide(decisions, 256);
        must_be_same_or_refused(page->bytes, page->length, &parts.part[0]);
    }
    for (int i = 0; i < PARTS; i++) {
        page_free(&parts.page[i]);
        counts_free(&parts.part[i]);
    }
    counts_free(&parts.whole);
}

/* Whatever is read is written as a part that reads the same. */
static void check_bytes(const char *bytes, size_t length) {
    struct counts counts;
    MUST(counts_new(&counts, list));
    if (read_part(bytes, length, &counts)) {
        struct page page = write_part(&counts);
        must_be_same_or_refused(page.bytes, page.length, &counts);
        page_free(&page);
    } else {
        MUST(counts.games == 0 && counts.ranges == 0);
    }
    counts_free(&counts);
}

static void prepare(void) {
    if (list != NULL)
        return;
    MUST(nh_list_read(list_text, sizeof list_text - 1, NULL, &list, NULL) == NH_OK);
    key = (struct survey_key){.list = nh_list_title(list), .seed = 1, .way = NH_WAY};
    snprintf(key.print, sizeof key.print, "0123456789abcdef");
    nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
    MUST(nowhere >= 0);
    part_file.descriptor = memfd_create("part", MFD_CLOEXEC);
    MUST(part_file.descriptor >= 0);
    snprintf(part_file.path, sizeof part_file.path, "/proc/self/fd/%d", part_file.descriptor);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    prepare();
    if (size > 0 && data[0] == '{') {
        check_bytes((const char *)data, size);
        return 0;
    }
    struct decisions decisions = {data, size};
    check_written(&decisions);
    return 0;
}
