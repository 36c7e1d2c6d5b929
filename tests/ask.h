/* The questions of the interface in one call each, for tests that ask many. */
#ifndef NH_TESTS_ASK_H
#define NH_TESTS_ASK_H

#include "nearhand.h"

static inline nh_status ask_rank(nh_workspace *workspace, const nh_tiles *hand,
                                 const nh_situation *situation, int draws, const uint8_t *chosen,
                                 nh_ranked *rows, size_t capacity, nh_ranking *ranking,
                                 nh_error *error) {
    nh_rank_question question = NH_RANK_QUESTION;
    question.situation = situation;
    question.draws = draws;
    question.chosen = chosen;
    return nh_rank(workspace, hand, &question, rows, capacity, ranking, error);
}

static inline nh_status ask_pass(nh_workspace *workspace, const nh_tiles *hand,
                                 const nh_situation *situation, unsigned tiles,
                                 const uint8_t *chosen, nh_choice *choices, size_t capacity,
                                 nh_passing *passing, nh_error *error) {
    nh_pass_question question = NH_PASS_QUESTION;
    question.situation = situation;
    question.tiles = (int)tiles;
    question.chosen = chosen;
    return nh_pass(workspace, hand, &question, choices, capacity, passing, error);
}

static inline nh_status ask_ahead(nh_workspace *workspace, const nh_tiles *hand,
                                  const nh_situation *situation, const nh_tiles *pass,
                                  unsigned further, const uint8_t *chosen, uint64_t seed,
                                  uint64_t first, uint64_t courses, nh_ahead *ahead,
                                  nh_error *error) {
    nh_ahead_question question = NH_AHEAD_QUESTION;
    question.situation = situation;
    question.pass = *pass;
    question.further = further;
    question.chosen = chosen;
    question.seed = seed;
    question.first = first;
    question.courses = courses;
    return nh_pass_ahead(workspace, hand, &question, ahead, error);
}

static inline nh_status ask_figures(const nh_list *list, size_t pattern, nh_wind prevailing,
                                    nh_wind seat, nh_figures *figures) {
    nh_audit_question question = NH_AUDIT_QUESTION;
    question.prevailing = prevailing;
    question.seat = seat;
    return nh_audit_figures(list, pattern, &question, figures, NULL);
}

static inline nh_status ask_relation(const nh_list *list, size_t a, size_t b,
                                     nh_relation *relation) {
    return nh_audit_relation(list, a, b, NULL, relation, NULL);
}

static inline nh_status ask_rank_batch(const nh_list *list, const nh_allocator *allocator,
                                       const nh_tiles *hands, size_t hand_count,
                                       const nh_situation *situation, const uint8_t *chosen,
                                       size_t top, unsigned jobs, nh_ranked *rows,
                                       nh_ranking *rankings, nh_status *statuses) {
    nh_rank_question question = NH_RANK_QUESTION;
    question.situation = situation;
    question.chosen = chosen;
    nh_rank_hands batch = NH_RANK_HANDS;
    batch.hands = hands;
    batch.hand_count = hand_count;
    batch.question = &question;
    batch.top = top;
    batch.rows = rows;
    batch.rankings = rankings;
    batch.statuses = statuses;
    batch.jobs = jobs;
    batch.allocator = allocator;
    return nh_rank_batch(list, &batch, NULL);
}

static inline nh_status ask_pass_batch(const nh_list *list, const nh_allocator *allocator,
                                       const nh_tiles *hands, size_t hand_count,
                                       const nh_situation *situation, unsigned tiles,
                                       const uint8_t *chosen, size_t top, unsigned jobs,
                                       nh_choice *choices, nh_passing *passings,
                                       nh_status *statuses) {
    nh_pass_question question = NH_PASS_QUESTION;
    question.situation = situation;
    question.tiles = (int)tiles;
    question.chosen = chosen;
    nh_pass_hands batch = NH_PASS_HANDS;
    batch.hands = hands;
    batch.hand_count = hand_count;
    batch.question = &question;
    batch.top = top;
    batch.choices = choices;
    batch.passings = passings;
    batch.statuses = statuses;
    batch.jobs = jobs;
    batch.allocator = allocator;
    return nh_pass_batch(list, &batch, NULL);
}

#endif
