/* Values of options: text into the member that a row names. */
#include "options/option_value.h"
#include "io/message.h"
#include "io/text.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static void *member_of(const struct option_row *row, void *options) {
    return (char *)options + row->place;
}

static bool refuse_number(const struct option_row *row, const char *value) {
    misused("--%s takes a whole number from %" PRIu64 " to %" PRIu64 ", not '%s'", row->name,
            row->least, row->most, value);
    return false;
}

/* Digits alone: strtoull would take a sign and spaces. */
static bool read_unsigned(const char *value, uint64_t least, uint64_t most, uint64_t *number) {
    char *end;
    errno = 0;
    *number = strtoull(value, &end, 10);
    bool digits = value[0] >= '0' && value[0] <= '9' && *end == '\0';
    return digits && errno == 0 && *number >= least && *number <= most;
}

static bool store_number(const struct option_row *row, const char *value, long *member) {
    uint64_t number;
    if (!read_unsigned(value, row->least, row->most, &number))
        return refuse_number(row, value);
    *member = (long)number;
    return true;
}

static bool store_unsigned(const struct option_row *row, const char *value, uint64_t *member) {
    return read_unsigned(value, row->least, row->most, member) || refuse_number(row, value);
}

static bool store_seed(const struct option_row *row, const char *value, struct seed *member) {
    member->given = true;
    if (read_unsigned(value, 0, UINT64_MAX, &member->value))
        return true;
    misused("--%s takes a whole number from 0 to %" PRIu64 ", not '%s'", row->name, UINT64_MAX,
            value);
    return false;
}

/* E, S, W, N or the English word, in either case. */
static bool store_wind(const struct option_row *row, const char *value, nh_wind *member) {
    for (nh_wind wind = NH_WIND_EAST; wind <= NH_WIND_NORTH; wind++) {
        const char *name = nh_wind_name(wind);
        char letter[2] = {name[0], '\0'};
        if (strcasecmp(value, name) == 0 || strcasecmp(value, letter) == 0) {
            *member = wind;
            return true;
        }
    }
    misused("--%s takes a wind, E, S, W or N, not '%s'", row->name, value);
    return false;
}

/* "text, json or tsv" */
static void list_words(const struct option_row *row, struct text *text) {
    text_clear(text);
    for (int i = 0; row->choices[i] != NULL; i++) {
        text_add(text, i == 0 ? "" : row->choices[i + 1] == NULL ? " or " : ", ");
        text_add(text, row->choices[i]);
    }
}

static bool store_choice(const struct option_row *row, const char *value, int *member) {
    for (int i = 0; row->choices[i] != NULL; i++)
        if (strcmp(value, row->choices[i]) == 0) {
            *member = i;
            return true;
        }
    struct text choices;
    list_words(row, &choices);
    misused("--%s takes %s, not '%s'", row->name, choices.bytes, value);
    return false;
}

static bool add_value(struct texts *texts, const char *value) {
    size_t count = (size_t)texts->count;
    const char **grown = realloc((void *)texts->text, (count + 1) * sizeof *grown);
    if (grown == NULL)
        return short_of_memory();
    texts->text = grown;
    texts->text[texts->count++] = value;
    return true;
}

bool option_store(const struct option_row *row, const char *value, void *options) {
    void *member = member_of(row, options);
    switch (row->kind) {
    case OPTION_FLAG:
        *(bool *)member = true;
        return true;
    case OPTION_TEXT:
        *(const char **)member = value;
        return true;
    case OPTION_TEXTS:
        return add_value(member, value);
    case OPTION_NUMBER:
        return store_number(row, value, member);
    case OPTION_UNSIGNED:
        return store_unsigned(row, value, member);
    case OPTION_SEED:
        return store_seed(row, value, member);
    case OPTION_WIND:
        return store_wind(row, value, member);
    case OPTION_CHOICE:
        return store_choice(row, value, member);
    case OPTION_SPECIAL:
        break;
    }
    return row->read_value(value, options);
}

void options_free(const struct option_row *rows, void *options) {
    for (const struct option_row *row = rows; row->name != NULL; row++)
        if (row->kind == OPTION_TEXTS)
            free((void *)((struct texts *)member_of(row, options))->text);
}
