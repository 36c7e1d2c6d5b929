/*
 * nearhand, chapter 4: how far a hand is from each pattern, which targets are
 * the best to go for, one hand at a time or many.
 */
#ifndef NEARHAND_RANK_H
#define NEARHAND_RANK_H

#include "nearhand_list.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---------------------------------------------------------- situation --- */

/* What is known beside the hand. Start from NH_SITUATION; a question without a
 * situation knows nothing. */
typedef struct nh_situation {
    size_t size;        /* of the struct, as NH_SITUATION sets it */
    nh_tiles seen;      /* tiles known to be gone: exposed sets, earlier passes */
    nh_wind prevailing; /* prevailing wind */
    nh_wind seat;       /* seat wind */
} nh_situation;

#define NH_SITUATION                                                                               \
    { sizeof(nh_situation), {{0}}, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN }

/* Scratch memory for questions about hands. It belongs to one list, which must
 * outlive it, and serves one thread at a time. Questions allocate nothing. */
typedef struct nh_workspace nh_workspace;

/* `allocator` may be NULL for the C library's. Returns NH_OK or NH_ERROR_MEMORY.
 * Size: at most 17 MiB, and a few for the list's largest family. */
NH_API nh_status nh_workspace_new(const nh_list *list, const nh_allocator *allocator,
                                  nh_workspace **workspace);
NH_API void nh_workspace_free(nh_workspace *workspace); /* NULL is ignored */

/* The list that a workspace was made for. */
NH_API const nh_list *nh_workspace_list(const nh_workspace *workspace);

/* ------------------------------------------------------------ ranking --- */

#define NH_DRAWS_DEFAULT 20
#define NH_DRAWS_MAX 160
#define NH_AWAY_NONE 255 /* the pattern has no live target */

/* The best live target of one pattern for a hand H:
 *   keep  = H in common with the target, and the jokers used (as jokers);
 *   need  = target less keep, where jokers stand for the tiles that are the
 *           hardest to draw;
 *   spare = H less keep.
 * away = tiles in need, always: total(target) - total(keep).
 * completing / nh_ranking.draws is the chance, exactly. Of the targets that
 * are nearest, the one with the highest chance is given. One exception: where
 * jokers can complete the same tiles in ways that come from different choices
 * of a pattern, and more than some thousand targets are equally near, the one
 * given is the likeliest by a single way, or better; its chance is still exact. */
typedef struct nh_ranked {
    uint32_t pattern; /* index in the list */
    uint8_t away;
    uint8_t prevailing; /* nh_wind: the prevailing wind that the target presumes,
                           or unknown */
    uint8_t seat;       /* nh_wind: likewise the seat wind */
    nh_tiles target;
    nh_tiles keep;
    nh_tiles need;
    nh_tiles spare;
    nh_tiles joked; /* the target's tiles that jokers of `keep` stand for */
    double chance;
    nh_natural completing; /* sets of draws, of all possible ones, that complete
                              the target */
} nh_ranked;

/* What holds for a whole ranking. */
typedef struct nh_ranking {
    size_t live;       /* patterns that still have a live target: the full number of
                          rows */
    size_t rows;       /* rows written */
    size_t within_one; /* patterns at most one tile farther than the nearest */
    nh_natural draws;  /* C(unseen, draws): all possible sets of draws */
    uint32_t unseen;   /* tiles in neither the hand nor `seen` */
    uint8_t nearest;   /* tiles away of the first row; NH_AWAY_NONE when none is live */
} nh_ranking;

/* The order of the rows. Each pattern has its nearest target in any order, and of
 * these the likeliest. */
typedef enum nh_order {
    NH_ORDER_AWAY = 0, /* tiles away; then chance, points, list order */
    NH_ORDER_CHANCE,   /* chance; then tiles away, points, list order */
    NH_ORDER_WORTH     /* points times chance, none for no points; then as above. The
                          product is a double: its relative error is at most 2^-50 */
} nh_order;

/* What to rank. Start from NH_RANK_QUESTION, which asks for every pattern with
 * nothing known beside the hand. Its sizes let the answers grow in later versions:
 * a program gets as much of them as the header that it was built with has. */
typedef struct nh_rank_question {
    size_t size;         /* of this struct, as NH_RANK_QUESTION sets it */
    size_t row_size;     /* of nh_ranked: row i stands row_size * i bytes behind the first */
    size_t ranking_size; /* of nh_ranking */
    const nh_situation *situation; /* NULL: nothing is known */
    const uint8_t *chosen;         /* NULL: all patterns; else nh_list_size bytes, of which
                                      those that are not zero choose patterns */
    const nh_cancel *cancel;       /* NULL: the work is not cancelled */
    int draws;                     /* for the chance, 0 to NH_DRAWS_MAX; more than are unseen
                                      means all */
    nh_order order;
} nh_rank_question;

#define NH_RANK_QUESTION                                                                           \
    {                                                                                              \
        sizeof(nh_rank_question), sizeof(nh_ranked), sizeof(nh_ranking), NULL, NULL, NULL,         \
            NH_DRAWS_DEFAULT, NH_ORDER_AWAY                                                        \
    }

/* Ranks the patterns for a hand in the order of the question: fewer tiles away,
 * higher chance, more points (none last), earlier in the list. Chances are compared
 * as whole numbers, never by rounding.
 *
 * A NULL question is NH_RANK_QUESTION. The hand may have any number of tiles, and
 * none. At most `capacity` rows are written to `rows`, best first; a pattern
 * without a live target has none. `error` may be NULL.
 * Of a pattern's nearest targets the likeliest is given, unless finding it takes
 * more work than a hand is allowed, which takes a list that is made for it: then
 * the likeliest of those that were looked at. Distances and the chances that are
 * given are exact all the same.
 *
 * Returns NH_OK; NH_ERROR_ARGUMENT, with nothing written, for a value of the question
 * or the situation that is out of range; after any other error `*ranking` has no
 * rows and NH_AWAY_NONE: NH_ERROR_TILES when hand and seen tiles together hold
 * more copies of a tile than the set; NH_ERROR_CANCELLED. Allocates nothing.
 * Thread-safe with one workspace a thread. Cost: a few microseconds for the
 * distances, and some for each row with its chance. */
NH_API nh_status nh_rank(nh_workspace *workspace, const nh_tiles *hand,
                         const nh_rank_question *question, nh_ranked *rows, size_t capacity,
                         nh_ranking *ranking, nh_error *error);

/* ---------------------------------------------------------- distances --- */

/* Tiles away alone: away[i] for every pattern i of the list, NH_AWAY_NONE for
 * one without a live target; the same numbers as nh_rank gives, and its errors.
 * `situation` may be NULL. Cost: about 1 to 3 microseconds for a shipped list. */
NH_API nh_status nh_distances(nh_workspace *workspace, const nh_tiles *hand,
                              const nh_situation *situation, uint8_t *away, nh_error *error);

/* -------------------------------------------------------------- batch --- */

/* Most threads of a batch. */
#define NH_JOBS_MAX 1024u

/* Many hands to rank. Start from NH_RANK_HANDS and set the hands and where the
 * answers go: hand i has its rows from row i * top on, as many as rankings[i].rows
 * tells, and its reason in statuses[i] if it cannot be ranked; then rankings[i] has
 * no rows, nothing live and NH_AWAY_NONE. */
typedef struct nh_rank_hands {
    size_t size; /* of this struct, as NH_RANK_HANDS sets it */
    const nh_tiles *hands;
    size_t hand_count;
    const nh_rank_question *question; /* the same for all; NULL: NH_RANK_QUESTION */
    size_t top;                       /* rows for each hand */
    nh_ranked *rows;                  /* hand_count * top; may be NULL when top is 0 */
    nh_ranking *rankings;             /* hand_count */
    nh_status *statuses;              /* hand_count, or NULL */
    unsigned jobs;                    /* threads; 0: one for each processor */
    const nh_allocator *allocator;    /* for the threads' workspaces; NULL: the C library's */
} nh_rank_hands;

#define NH_RANK_HANDS                                                                              \
    { sizeof(nh_rank_hands), NULL, 0, NULL, 0, NULL, NULL, NULL, 0, NULL }

/* Ranks many hands in threads: the same answers as nh_rank for each hand, in the
 * same order, for any number of threads.
 *
 * Returns NH_OK when all hands were looked at; NH_ERROR_ARGUMENT for a value that
 * is wrong for all hands, with nothing written; NH_ERROR_MEMORY when not even one
 * thread could be given its workspace; NH_ERROR_CANCELLED, where the hands that
 * were not reached have that status. Every thread makes a workspace of its own:
 * give many hands to one call. A library that is built without threads works in
 * the caller's. Thread-safe. */
NH_API nh_status nh_rank_batch(const nh_list *list, const nh_rank_hands *batch, nh_error *error);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_RANK_H */
