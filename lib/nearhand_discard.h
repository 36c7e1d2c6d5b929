/*
 * nearhand, chapter 9: which tile to discard.
 */
#ifndef NEARHAND_DISCARD_H
#define NEARHAND_DISCARD_H

#include "nearhand_rank.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Most different tiles that a hand can discard. */
#define NH_DISCARDS_MAX NH_TARGET_MAX

/* Most tiles that a discard looks ahead. */
#define NH_LOOK_MAX 3

/* A tile that a hand H discards. With d(X) the tiles away of the nearest chosen pattern
 * from the hand X, the tile gone, and k more tiles Q that come from the unseen ones,
 *
 *     E = expected / draws = sum over all Q of Pr(Q) * d(H - tile + Q).
 *
 * All figures are exact; `draws` is nh_discarding's. */
typedef struct nh_discard_choice {
    uint8_t kind;          /* of the tile */
    uint8_t away;          /* d(H - tile); NH_AWAY_NONE when no live target remains */
    uint32_t nearest;      /* patterns at that distance: see nh_distances */
    uint32_t within_one;   /* patterns at most one tile farther */
    uint32_t pattern;      /* of the first row of nh_rank for H - tile; 0 when there is none */
    uint32_t useful_count; /* tiles in `useful` */
    nh_tiles useful;       /* unseen tiles, each of which alone brings H - tile nearer: of a
                              kind all that are unseen, or none */
    uint64_t expected;     /* UINT64_MAX when no live target remains */
    double chance;         /* of that row; 0 when there is none */
    nh_natural completing; /* likewise: `chance` of nh_discarding.chance_draws, exactly */
} nh_discard_choice;

/* What holds for all discards of a hand. */
typedef struct nh_discarding {
    uint8_t away;            /* d(H), before the discard; NH_AWAY_NONE when no target is live */
    bool complete;           /* a chosen pattern has a target of exactly the tiles of H, jokers
                                standing for some: see nh_discard */
    uint32_t look;           /* tiles that are looked ahead: no more than are unseen */
    uint32_t unseen;         /* tiles in neither the hand nor `seen` */
    uint64_t draws;          /* C(unseen, look): all possible Q */
    nh_natural chance_draws; /* C(unseen, draws of the question): see nh_ranking.draws */
    size_t discards;         /* different tiles that the hand can discard */
    size_t rows;             /* choices written */
} nh_discarding;

/* The order of the choices. What is equal in all of these stands in the order of hand
 * notation. */
typedef enum nh_discard_order {
    NH_DISCARD_AWAY = 0, /* fewer tiles away; then less expected, higher chance */
    NH_DISCARD_EXPECTED, /* less expected; then higher chance, fewer tiles away */
    NH_DISCARD_CHANCE,   /* higher chance; then fewer tiles away, less expected. The pattern
                            and its chance are those of the likeliest: NH_ORDER_CHANCE */
    NH_DISCARD_WORTH     /* more points times chance; then higher chance, and as above. The
                            pattern is the one most worth it: NH_ORDER_WORTH */
} nh_discard_order;

/* What to weigh. Start from NH_DISCARD_QUESTION: every pattern, three tiles ahead, with
 * nothing known beside the hand. */
typedef struct nh_discard_question {
    size_t size;                   /* of this struct, as NH_DISCARD_QUESTION sets it */
    size_t choice_size;            /* of nh_discard_choice: choice i stands choice_size * i bytes
                                      behind the first */
    size_t discarding_size;        /* of nh_discarding */
    const nh_situation *situation; /* NULL: nothing is known */
    const uint8_t *chosen;         /* as in nh_rank_question */
    const nh_cancel *cancel;       /* NULL: the work is not cancelled */
    int look;                      /* k, 1 to NH_LOOK_MAX */
    int draws;                     /* for the chance, as in nh_rank_question */
    nh_discard_order order;
} nh_discard_question;

#define NH_DISCARD_QUESTION                                                                        \
    {                                                                                              \
        sizeof(nh_discard_question), sizeof(nh_discard_choice), sizeof(nh_discarding), NULL, NULL, \
            NULL, NH_LOOK_MAX, NH_DRAWS_DEFAULT, NH_DISCARD_AWAY                                   \
    }

/* Finds the best tiles to discard from a hand that has drawn, in the order of the
 * question. Jokers are never discarded: a hand of nothing else has no choices. A hand
 * that is complete is weighed all the same, and called so in `*discarding`. Sets on the
 * table: make the workspace for what they leave of the list (nh_list_rest).
 *
 * A NULL question is NH_DISCARD_QUESTION. At most `capacity` choices are written;
 * NH_DISCARDS_MAX are always enough. With fewer, choices that cannot be among them are
 * left out of the work; with none, only `*discarding` is found. `error` may be NULL.
 *
 * Returns NH_OK; NH_ERROR_ARGUMENT, with nothing written, for a value of the question or
 * the situation that is out of range; after any other error `*discarding` has no rows
 * and NH_AWAY_NONE: NH_ERROR_TILES for an empty hand or one larger than
 * nh_list_hand_most, and for hand and seen tiles that the set does not have;
 * NH_ERROR_LIMIT when the hand takes too much work, which takes a list that is made for
 * it, and may not for a smaller `capacity`; NH_ERROR_CANCELLED.
 * Allocates nothing. Thread-safe with one workspace a thread. Cost: for a hand of 14 tiles
 * about 1 ms with the shipped club list and 3 ms with the list with jokers; for the best
 * choice alone less than half of that, and one tile ahead a fourth of that again. The
 * orders by chance and worth look for the likeliest target of every pattern: 5 ms and
 * 20 ms. */
NH_API nh_status nh_discard(nh_workspace *workspace, const nh_tiles *hand,
                            const nh_discard_question *question, nh_discard_choice *choices,
                            size_t capacity, nh_discarding *discarding, nh_error *error);

/* Many hands to discard from. Start from NH_DISCARD_HANDS; see nh_rank_hands. */
typedef struct nh_discard_hands {
    size_t size; /* of this struct, as NH_DISCARD_HANDS sets it */
    const nh_tiles *hands;
    size_t hand_count;
    const nh_discard_question *question; /* the same for all; NULL: NH_DISCARD_QUESTION */
    size_t top;                          /* choices for each hand */
    nh_discard_choice *choices;          /* hand_count * top; may be NULL when top is 0 */
    nh_discarding *discardings;          /* hand_count */
    nh_status *statuses;                 /* hand_count, or NULL */
    unsigned jobs;                       /* threads; 0: one for each processor */
    const nh_allocator *allocator;       /* for the threads' workspaces; NULL: the C library's */
} nh_discard_hands;

#define NH_DISCARD_HANDS                                                                           \
    { sizeof(nh_discard_hands), NULL, 0, NULL, 0, NULL, NULL, NULL, 0, NULL }

/* The discards of many hands in threads: the same answers as nh_discard for each with a
 * capacity of `top`. What it returns, and how the answers stand, is as for nh_rank_batch.
 * Thread-safe. */
NH_API nh_status nh_discard_batch(const nh_list *list, const nh_discard_hands *batch,
                                  nh_error *error);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_DISCARD_H */
