/*
 * nearhand, chapter 5: which tiles to pass.
 */
#ifndef NEARHAND_PASS_H
#define NEARHAND_PASS_H

#include "nearhand_rank.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---------------------------------------------------------- passing --- */

/* Most tiles in a pass, and the most different passes that a hand can have. */
#define NH_PASS_MAX 3
#define NH_PASSES_MAX 2024u /* C(NH_TARGET_MAX, NH_PASS_MAX) */

/* As many tiles as the list's Charleston passes. */
#define NH_PASS_AS_LIST (-1)

/* A pass P of a hand H, followed by as many tiles Q from the unseen ones: with
 * d(X) the tiles away of the nearest chosen pattern from the hand X,
 *
 *     E(P) = expected / draws = sum over all Q of Pr(Q) * d(H - P + Q).
 *
 * The passed tiles are gone: they are in no Q, and targets that would need them
 * are dead. All figures are exact; `draws` is nh_passing's. */
typedef struct nh_choice {
    nh_tiles pass;
    uint8_t away;        /* d(H - P); NH_AWAY_NONE when no live target remains */
    uint32_t nearest;    /* patterns at that distance: see nh_distances */
    uint32_t within_one; /* patterns at most one tile farther */
    uint64_t expected;   /* UINT64_MAX when no live target remains */
    uint64_t nearer;     /* draws Q after which d(H - P + Q) < d(H) */
} nh_choice;

/* What holds for all passes of a hand. */
typedef struct nh_passing {
    uint8_t away;    /* d(H), before the pass; NH_AWAY_NONE when no target is live */
    uint32_t unseen; /* tiles in neither the hand nor `seen` */
    uint64_t draws;  /* C(unseen, tiles): all possible Q */
    size_t passes;   /* different passes that are allowed */
    size_t rows;     /* choices written */
} nh_passing;

/* What to weigh. Start from NH_PASS_QUESTION: passes of as many tiles as the list
 * has it, for every pattern, with nothing known beside the hand. */
typedef struct nh_pass_question {
    size_t size;         /* of this struct, as NH_PASS_QUESTION sets it */
    size_t choice_size;  /* of nh_choice: choice i stands choice_size * i bytes behind the first */
    size_t passing_size; /* of nh_passing */
    const nh_situation *situation; /* NULL: nothing is known */
    const uint8_t *chosen;         /* as in nh_rank_question */
    const nh_cancel *cancel;       /* NULL: the work is not cancelled */
    int tiles;                     /* of the pass, 0 to NH_PASS_MAX, or NH_PASS_AS_LIST */
} nh_pass_question;

#define NH_PASS_QUESTION                                                                           \
    {                                                                                              \
        sizeof(nh_pass_question), sizeof(nh_choice), sizeof(nh_passing), NULL, NULL, NULL,         \
            NH_PASS_AS_LIST                                                                        \
    }

/* Finds the best passes of a hand: the least E(P) first; of those alike the one
 * with more draws that bring the hand nearer; then with more patterns within one
 * tile; then in the order of hand notation. Jokers and the kinds that the list's
 * Charleston keeps are never passed.
 *
 * A NULL question is NH_PASS_QUESTION. At most `capacity` choices are written;
 * NH_PASSES_MAX are always enough. With fewer, passes that cannot be among them
 * are left out of the work. `error` may be NULL.
 *
 * Returns NH_OK; NH_ERROR_ARGUMENT, with nothing written, for a value of the question
 * or the situation that is out of range; after any other error `*passing` has no
 * rows and NH_AWAY_NONE: NH_ERROR_TILES for an empty hand or one larger than
 * nh_list_hand_most, one with too few tiles that may be passed, hand and seen
 * tiles that the set does not have, or fewer unseen tiles than are passed;
 * NH_ERROR_LIMIT when the hand takes too much work, which takes a list that is
 * made for it, and may not for a smaller `capacity`; NH_ERROR_CANCELLED.
 * Allocates nothing. Thread-safe with one workspace a thread. Cost: milliseconds;
 * no draw is listed: what a draw does follows from what the near families of
 * shares lack. */
NH_API nh_status nh_pass(nh_workspace *workspace, const nh_tiles *hand,
                         const nh_pass_question *question, nh_choice *choices, size_t capacity,
                         nh_passing *passing, nh_error *error);

/* Many hands to pass from. Start from NH_PASS_HANDS; see nh_rank_hands. */
typedef struct nh_pass_hands {
    size_t size; /* of this struct, as NH_PASS_HANDS sets it */
    const nh_tiles *hands;
    size_t hand_count;
    const nh_pass_question *question; /* the same for all; NULL: NH_PASS_QUESTION */
    size_t top;                       /* choices for each hand */
    nh_choice *choices;               /* hand_count * top; may be NULL when top is 0 */
    nh_passing *passings;             /* hand_count */
    nh_status *statuses;              /* hand_count, or NULL */
    unsigned jobs;                    /* threads; 0: one for each processor */
    const nh_allocator *allocator;    /* for the threads' workspaces; NULL: the C library's */
} nh_pass_hands;

#define NH_PASS_HANDS                                                                              \
    { sizeof(nh_pass_hands), NULL, 0, NULL, 0, NULL, NULL, NULL, 0, NULL }

/* The passes of many hands in threads: the same answers as nh_pass for each with
 * a capacity of `top`. What it returns, and how the answers stand, is as for
 * nh_rank_batch. Thread-safe. */
NH_API nh_status nh_pass_batch(const nh_list *list, const nh_pass_hands *batch, nh_error *error);

/* -------------------------------------------------------- looking ahead --- */

/* Most passes after the first that are looked at together: a Charleston has no
 * more. */
#define NH_FURTHER_MAX 64u

/* What simulated courses of play came to: how many there were, and the sums of
 * the tiles away at their ends and of the squares. The estimate is sum / courses;
 * its standard error sqrt((squares / courses - estimate^2) / (courses - 1)).
 * Complete: it will not grow. */
typedef struct nh_ahead {
    uint64_t courses;
    uint64_t sum;
    uint64_t squares;
} nh_ahead;

/* What to simulate. Start from NH_AHEAD_QUESTION and set the pass. */
typedef struct nh_ahead_question {
    size_t size;                   /* of this struct, as NH_AHEAD_QUESTION sets it */
    const nh_situation *situation; /* NULL: nothing is known */
    const uint8_t *chosen;         /* as in nh_rank_question */
    const nh_cancel *cancel;       /* NULL: the work is not cancelled */
    nh_tiles pass;                 /* the first pass, at most NH_PASS_MAX tiles */
    unsigned further;              /* passes after it, 0 to NH_FURTHER_MAX */
    uint64_t seed;                 /* courses are streams of this seed: nh_random_start */
    uint64_t first;                /* the first of them */
    uint64_t courses;              /* how many */
} nh_ahead_question;

#define NH_AHEAD_QUESTION                                                                          \
    { sizeof(nh_ahead_question), NULL, NULL, NULL, {{0}}, 0, 0, 0, 0 }

/* Estimates how near the hand is after the pass and `further` passes more, of as
 * many tiles each, every one the best by its exact E(P). Unlike nh_pass this is
 * a simulation: what comes in is drawn at random from the unseen tiles. Passes
 * that are given the same courses have the same luck, so that their difference is
 * known better than either. Courses can be split between threads and their sums
 * added. A course ends early where no further pass can be made; courses after
 * which no target is live are not counted.
 *
 * Returns NH_OK; NH_ERROR_TILES for a pass that the hand does not have or that
 * may not be made; NH_ERROR_LIMIT when some pass on the way takes too much work;
 * and what nh_pass does of hand and situation. Allocates nothing. Thread-safe
 * with one workspace a thread. Cost: courses * further times that of nh_pass with
 * a capacity of 1. */
NH_API nh_status nh_pass_ahead(nh_workspace *workspace, const nh_tiles *hand,
                               const nh_ahead_question *question, nh_ahead *ahead, nh_error *error);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_PASS_H */
