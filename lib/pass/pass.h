/* The best passes of a hand. */
#ifndef NH_PASS_PASS_H
#define NH_PASS_PASS_H

#include "pass/pass_scratch.h"

/* What questions about passes work with. */
struct pass_memory {
    const nh_list *list;
    struct row_memo *rows;
    struct pass_scratch *scratch;
};

/* Answers nh_pass, whose question is checked and says how many tiles: full rows of
 * this version. */
nh_status find_passes(const struct pass_memory *memory, const nh_tiles *hand,
                      const nh_pass_question *question, nh_choice *choices, size_t capacity,
                      nh_passing *passing, nh_error *error);

/* Checks that the hand, whose query is set, can pass `count` tiles: what nh_pass
 * says of it. */
nh_status check_passing(const struct query *query, unsigned count, nh_error *error);

#endif
