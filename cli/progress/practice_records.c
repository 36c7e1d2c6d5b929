/* Rounds, and sums of rounds, as bytes. Numbers that are sorted by have their high bytes
 * first; texts end in a zero byte, so that none is the beginning of another; an absent text
 * is a byte 0, another has a byte 1 before it. */
#include "progress/practice_records.h"
#include "io/message.h"

#include <stdlib.h>
#include <string.h>

#define LIMIT_SIZE 4
#define PLACE_SIZE 8

/* -------------------------------------------------------------- making --- */

/* A record that is made in memory of the practice. */
struct maker {
    struct practice *practice;
    bool good;
};

static bool maker_room(struct practice *practice, size_t needed) {
    if (needed <= practice->record_room)
        return true;
    unsigned char *larger = realloc(practice->record, 2 * needed);
    if (larger == NULL) {
        short_of_memory();
        return false;
    }
    practice->record = larger;
    practice->record_room = 2 * needed;
    return true;
}

static void maker_bytes(struct maker *maker, const void *bytes, size_t size) {
    struct practice *practice = maker->practice;
    maker->good = maker->good && maker_room(practice, practice->record_size + size);
    if (!maker->good)
        return;
    memcpy(practice->record + practice->record_size, bytes, size);
    practice->record_size += size;
}

static void maker_number(struct maker *maker, uint64_t number, int size) {
    unsigned char bytes[PLACE_SIZE];
    for (int i = 0; i < size; i++)
        bytes[i] = (unsigned char)(number >> 8 * (size - 1 - i));
    maker_bytes(maker, bytes, (size_t)size);
}

static void maker_text(struct maker *maker, const char *text) {
    maker_bytes(maker, text, strlen(text) + 1);
}

static void maker_text_or_none(struct maker *maker, const char *text) {
    maker_number(maker, text != NULL, 1);
    if (text != NULL)
        maker_text(maker, text);
}

bool round_record_make(struct practice *practice, const struct history_round *round,
                       const struct round_figures *figures) {
    struct maker maker = {practice, true};
    const cJSON *pass;
    practice->record_size = 0;
    maker_number(&maker, (uint32_t)round->limit, LIMIT_SIZE);
    maker_text(&maker, round->list);
    maker_text_or_none(&maker, round->level);
    maker_text(&maker, round->session);
    maker_number(&maker, practice->round_count, PLACE_SIZE);
    maker_bytes(&maker, figures, sizeof *figures);
    cJSON_ArrayForEach(pass, round->passes) {
        double cost;
        if (!history_pass_cost(pass, &cost))
            continue;
        cost += 0.0; /* no negative zero */
        maker_bytes(&maker, &cost, sizeof cost);
    }
    return maker.good;
}

bool sum_record_make(struct practice *practice, practice_place first,
                     const struct sum_figures *figures, const struct round_record *key,
                     const char *session) {
    struct maker maker = {practice, true};
    practice->record_size = 0;
    maker_number(&maker, first, PLACE_SIZE);
    maker_bytes(&maker, figures, sizeof *figures);
    maker_text(&maker, key->list);
    maker_text_or_none(&maker, key->level);
    maker_text_or_none(&maker, session);
    return maker.good;
}

/* ------------------------------------------------------------- reading --- */

static uint64_t next_number(const unsigned char **at, int size) {
    uint64_t number = 0;
    for (int i = 0; i < size; i++)
        number = number << 8 | *(*at)++;
    return number;
}

static const char *next_text(const unsigned char **at) {
    const char *text = (const char *)*at;
    *at += strlen(text) + 1;
    return text;
}

static const char *next_text_or_none(const unsigned char **at) {
    return next_number(at, 1) != 0 ? next_text(at) : NULL;
}

void round_key_read(const unsigned char *bytes, struct round_record *record) {
    const unsigned char *at = bytes;
    record->limit = (uint32_t)next_number(&at, LIMIT_SIZE);
    record->list = next_text(&at);
    record->level = next_text_or_none(&at);
    record->group_size = (size_t)(at - bytes);
    record->session = next_text(&at);
    record->session_size = (size_t)(at - bytes);
}

void round_record_read(const unsigned char *bytes, size_t size, struct round_record *record) {
    round_key_read(bytes, record);
    const unsigned char *at = bytes + record->session_size;
    record->number = next_number(&at, PLACE_SIZE);
    memcpy(&record->figures, at, sizeof record->figures);
    record->cost = at + sizeof record->figures;
    record->costs = (size_t)(bytes + size - record->cost) / sizeof(double);
}

/* The last digits of a number. */
static void digits_out(uint32_t number, int count, char *text) {
    for (; count > 0; number /= 10)
        text[--count] = (char)('0' + number % 10);
}

void practice_day_text(uint32_t day, char text[HISTORY_DAY_SIZE]) {
    memcpy(text, "0000-00-00", HISTORY_DAY_SIZE);
    digits_out(day / 10000, 4, text);
    digits_out(day / 100, 2, text + 5);
    digits_out(day, 2, text + 8);
}

static void clock_out(uint32_t minute, char text[PRACTICE_CLOCK_SIZE]) {
    memcpy(text, "00:00", PRACTICE_CLOCK_SIZE);
    digits_out(minute / 60, 2, text);
    digits_out(minute % 60, 2, text + 3);
}

void sum_record_read(const unsigned char *bytes, struct practice_sum *sum) {
    const unsigned char *at = bytes + PLACE_SIZE;
    struct sum_figures figures;
    memcpy(&figures, at, sizeof figures);
    at += sizeof figures;
    *sum = (struct practice_sum){.limit = (long)figures.limit,
                                 .sessions = (size_t)figures.sessions,
                                 .rounds = (size_t)figures.rounds,
                                 .seconds = figures.seconds,
                                 .within = figures.within,
                                 .cost = figures.cost,
                                 .has_cost = figures.has_cost != 0,
                                 .group = figures.group,
                                 .latest = figures.latest};
    sum->list = next_text(&at);
    sum->level = next_text_or_none(&at);
    sum->session = next_text_or_none(&at);
    practice_day_text(figures.day, sum->day);
    if (sum->session != NULL && figures.minute != MINUTE_NONE)
        clock_out(figures.minute, sum->clock);
}
