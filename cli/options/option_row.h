/* An option of a task is one row of the task's table. The reader, the help, the
 * manual page and completion all work from that row. */
#ifndef CLI_OPTIONS_OPTION_ROW_H
#define CLI_OPTIONS_OPTION_ROW_H

#include "nearhand.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* How a value is read, and the type of the member that it is stored in. */
enum option_kind {
    OPTION_FLAG,     /* bool, set to true; the option has no value */
    OPTION_TEXT,     /* const char * */
    OPTION_TEXTS,    /* struct texts; the option may be repeated */
    OPTION_NUMBER,   /* long, from `least` to `most` */
    OPTION_UNSIGNED, /* uint64_t, from `least` to `most` */
    OPTION_SEED,     /* struct seed */
    OPTION_WIND,     /* nh_wind */
    OPTION_CHOICE,   /* int, a place in `choices` */
    OPTION_SPECIAL   /* `read_value` stores it */
};

struct option_row {
    const char *name; /* without the dashes */
    const char *word; /* stands for the value in the help; NULL where there is none */
    const char *text; /* what it does */
    bool seldom;      /* left out of the help that fits a screen */
    enum option_kind kind;
    size_t place; /* of the member in the task's options */
    uint64_t least, most;
    const char *const *choices; /* the last one is NULL */
    /* `value` is NULL where `word` is. Says what is wrong and returns false. */
    bool (*read_value)(const char *value, void *options);
};

/* The values of an option that may be repeated. */
struct texts {
    const char **text;
    int count;
};

/* A seed, if one was given. */
struct seed {
    bool given;
    uint64_t value;
};

/* Where a member is to which `pointer` may point; any other does not compile. A
 * type has no parentheses. NOLINTBEGIN(bugprone-macro-parentheses) */
#define MEMBER_PLACE(options, member, pointer)                                                     \
    _Generic(&((options *)0)->member, pointer : offsetof(options, member))
/* NOLINTEND(bugprone-macro-parentheses) */

/* The end of a row: where its value goes. */
#define SETS_FLAG(options, member)                                                                 \
    .kind = OPTION_FLAG, .place = MEMBER_PLACE(options, member, bool *)
#define SETS_TEXT(options, member)                                                                 \
    .kind = OPTION_TEXT, .place = MEMBER_PLACE(options, member, const char **)
#define ADDS_TEXT(options, member)                                                                 \
    .kind = OPTION_TEXTS, .place = MEMBER_PLACE(options, member, struct texts *)
#define SETS_NUMBER(options, member, from, to)                                                     \
    .kind = OPTION_NUMBER, .place = MEMBER_PLACE(options, member, long *), .least = (from),        \
    .most = (to)
#define SETS_UNSIGNED(options, member, from, to)                                                   \
    .kind = OPTION_UNSIGNED, .place = MEMBER_PLACE(options, member, uint64_t *), .least = (from),  \
    .most = (to)
#define SETS_SEED(options, member)                                                                 \
    .kind = OPTION_SEED, .place = MEMBER_PLACE(options, member, struct seed *)
#define SETS_WIND(options, member)                                                                 \
    .kind = OPTION_WIND, .place = MEMBER_PLACE(options, member, nh_wind *)
#define SETS_CHOICE(options, member, words)                                                        \
    .kind = OPTION_CHOICE, .place = MEMBER_PLACE(options, member, int *), .choices = (words)

/* Rows that several tasks have in the same words. */
#define LIST_ROW(options)                                                                          \
    {                                                                                              \
        "list", "FILE|NAME", "list: club (the default), jokers, traditional or your own",          \
            SETS_TEXT(options, list)                                                               \
    }
#define PREVAILING_ROW(options)                                                                    \
    {                                                                                              \
        "prevailing", "WIND", "the prevailing wind: E, S, W or N; otherwise each is tried",        \
            SETS_WIND(options, prevailing)                                                         \
    }
#define SEAT_ROW(options)                                                                          \
    { "seat", "WIND", "your own wind, in the same way", SETS_WIND(options, seat) }
#define SEEN_ROW(options)                                                                          \
    {                                                                                              \
        "seen", "TILES", "tiles that are gone: exposed, discarded or passed",                      \
            ADDS_TEXT(options, seen)                                                               \
    }
#define EXPOSED_ROW(options)                                                                       \
    {                                                                                              \
        "exposed", "SETS", "your own sets on the table: 444D EEEJ; HAND is the rest",              \
            ADDS_TEXT(options, exposed)                                                            \
    }
#define OTHERS_ROW(options)                                                                        \
    {                                                                                              \
        "others", "SETS", "sets of other players on the table; they count as seen",                \
            ADDS_TEXT(options, others)                                                             \
    }
#define JOBS_ROW(options, to)                                                                      \
    {                                                                                              \
        "jobs", "N", "threads for many hands; the default is one for each processor",              \
            .seldom = true, SETS_NUMBER(options, jobs, 1, to)                                      \
    }

#endif
