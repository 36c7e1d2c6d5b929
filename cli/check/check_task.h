/* The task check: what was asked, and the answer for one hand, which check_text and
 * check_json write. */
#ifndef CLI_CHECK_CHECK_TASK_H
#define CLI_CHECK_CHECK_TASK_H

#include "check/kongs.h"
#include "io/input.h"
#include "io/style.h"
#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

/* What was asked, beside the hands. */
struct check_question {
    const nh_list *whole;
    const nh_list *list; /* less the sets on the table */
    nh_situation situation;
    bool json, unicode;
    bool batch; /* hands are lines of input */
    struct style style;
};

/* A pattern that the hand completes, or one of the closest. */
struct check_row {
    nh_ranked ranked; /* a complete hand needs nothing, and all of it is kept */
    nh_layout layout;
    nh_pattern about; /* with the points of the variant where the hand is complete */
};

struct check_answer {
    const struct check_question *question;
    const struct line *line;
    nh_tiles hand;
    bool complete;
    int whole;       /* tiles that the concealed part of a complete hand has */
    uint8_t nearest; /* tiles away; NH_AWAY_NONE when no pattern is possible */
    const struct check_row *rows;
    size_t row_count;
    /* Patterns that the hand would complete with all its sets concealed. */
    const nh_completed *without_sets;
    size_t without_count;
    struct kong_in_the_way kong;
};

/* ----------------------------------------------------------- hands --- */

/* What one thread checks hands with. */
struct checker;

struct checker *checker_new(const struct check_question *question); /* NULL without memory */
void checker_free(struct checker *checker);

/* Answers a hand, or says what is wrong with it and returns false. */
bool checker_answer(struct checker *checker, const struct line *line);

/* --------------------------------------------------------- formats --- */

/* For people; in a batch, below a blank line and the hand with its label. */
void check_text(const struct check_answer *answer);

/* One JSON object. */
void check_json(const struct check_answer *answer);

#endif
