/* Deals that train patterns. */
#ifndef CLI_DEAL_TRAINING_H
#define CLI_DEAL_TRAINING_H

#include "nearhand.h"
#include "patterns/choice.h"

#include <stdbool.h>
#include <stdint.h>

/* Most deals that are looked at in a search. */
#define TRAINING_DEALS_MAX 200000

/* ------------------------------------------------------------- options --- */

/* What the options say: all deals will do where no pattern is left out. */
struct training_options {
    struct pattern_choice choice;
    long within; /* TRAINING_CLOSEST if not given */
};

#define TRAINING_CLOSEST (-1)

/* The rows of a task that deals. `member` is the training_options of its options, and has
 * no parentheses. NOLINTBEGIN(bugprone-macro-parentheses) */
#define TRAIN_AIM_ROW(options, member)                                                             \
    {                                                                                              \
        "aim", "PATTERN", "only deals where no other pattern is closer; repeatable",               \
            ADDS_TEXT(options, member.choice.aims)                                                 \
    }
#define TRAIN_SECTION_ROW(options, member)                                                         \
    {                                                                                              \
        "section", "SECTION", "the same for the patterns of a section; repeatable",                \
            ADDS_TEXT(options, member.choice.sections)                                             \
    }
#define TRAIN_POINTS_ROW(options, member)                                                          \
    {                                                                                              \
        "points-from", "N", "the same for patterns of at least N points",                          \
            .seldom = true, SETS_NUMBER(options, member.choice.points, 1, CHOICE_POINTS_MOST)      \
    }
#define TRAIN_WITHIN_ROW(options, member)                                                          \
    {                                                                                              \
        "within", "N", "instead: only deals where such a pattern is at most N away",               \
            SETS_NUMBER(options, member.within, 0, NH_TARGET_MAX)                                  \
    }
/* NOLINTEND(bugprone-macro-parentheses) */

/* Whether deals are picked at all. */
bool training_picks(const struct training_options *options);

/* Says what is wrong with the options, if anything is, and returns false. */
bool training_agrees(const struct training_options *options);

/* --------------------------------------------------------------- deals --- */

/* What a deal must have for a seat. */
struct training {
    const nh_list *list;
    nh_workspace *workspace;
    const uint8_t *chosen; /* patterns; NULL: any deal will do */
    int within;            /* one of them is at most so many tiles away; TRAINING_CLOSEST: none
                              is closer than one of them */
    int seat;
    uint64_t seed;
};

/* The first deal from number `first` on that trains the patterns. Returns false where the
 * next TRAINING_DEALS_MAX have none, the set is too small, or a signal asked to stop. */
bool training_deal(const struct training *training, uint64_t first, uint64_t *number);

/* Says on standard error that no deal from number `first` on was found. */
void training_complain(const struct training *training, uint64_t first);

#endif
