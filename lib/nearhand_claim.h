/*
 * nearhand, chapter 10: which discards to claim, which jokers to take from the table.
 */
#ifndef NEARHAND_CLAIM_H
#define NEARHAND_CLAIM_H

#include "nearhand_play.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ------------------------------------------------------------- claims --- */

/* More claims than any hand has: each kind to win, as four sets alike, as three chows. */
#define NH_CLAIMS_MAX (35u * 8u)

/* What a claim is for: to win, or to lay a set open, which is a value of nh_shape from
 * NH_PUNG to NH_CHOW. */
#define NH_CLAIM_WIN 0

/* Most patterns that a claim names as given up. */
#define NH_GIVEN_UP_MAX 8

/* A claim for a hand H: tile t wins, or it makes a set with tiles of H, after which the
 * player discards. The discard is the best one: fewest tiles away, then the highest
 * chance, then the order of hand notation. A kong that draws a replacement tile has none.
 * `away`, `pattern` and `chance` are those of the first row of nh_rank for what is then
 * left of the hand and of the list; for a win the most points, 0 away, certain. */
typedef struct nh_claim {
    uint8_t kind; /* of the tile that is claimed */
    uint8_t use;  /* NH_CLAIM_WIN, or nh_shape */
    uint8_t away;
    uint8_t discard; /* the kind; NH_KINDS for none */
    uint8_t copies;  /* unseen tiles of the kind */
    bool worth;      /* its chance is larger than without the claim */
    nh_set set;      /* as it lies on the table; all zero for a win */
    uint32_t pattern;
    double chance;
    nh_natural completing;              /* `chance` of nh_claiming.claim_draws, exactly */
    uint32_t given_up_count;            /* patterns that are at most one tile farther than the
                                           nearest without the claim, and dead with it */
    uint32_t given_up[NH_GIVEN_UP_MAX]; /* the first of them: concealed ones before others,
                                          then nearest first, then in list order */
} nh_claim;

/* What holds for the hand, before any claim. */
typedef struct nh_claiming {
    uint8_t away;           /* without a claim; NH_AWAY_NONE when no target is live */
    uint32_t pattern;       /* of the first row of nh_rank for H; 0 when there is none */
    double chance;          /* of that row; 0 when there is none */
    nh_natural completing;  /* `chance` of `draws`, exactly */
    nh_natural draws;       /* C(unseen, draws of the question) */
    nh_natural claim_draws; /* C(u, draws of the question), u the unseen tiles after a claim */
    uint32_t unseen;        /* tiles in neither the hand nor `seen`; nor the `tile` asked about */
    size_t claims;          /* claims that win, or bring the hand nearer */
    size_t rows;            /* rows written */
} nh_claiming;

/* Every discard, one by one. */
#define NH_CLAIM_ANY (-1)

/* What to claim. Start from NH_CLAIM_QUESTION. */
typedef struct nh_claim_question {
    size_t size;                   /* of this struct, as NH_CLAIM_QUESTION sets it */
    size_t claim_size;             /* of nh_claim: row i stands claim_size * i bytes behind
                                      the first */
    size_t claiming_size;          /* of nh_claiming */
    const nh_situation *situation; /* NULL: nothing is known */
    const nh_cancel *cancel;       /* NULL: the work is not cancelled */
    int draws;                     /* for the chance, as in nh_rank_question */
    int tile;                /* NH_CLAIM_ANY, or the kind of the one discard that is asked about:
                                it is not among the tiles seen, and without a claim it is gone */
    bool leave_out_given_up; /* the claims' given_up stays empty, which saves work */
} nh_claim_question;

#define NH_CLAIM_QUESTION                                                                          \
    {                                                                                              \
        sizeof(nh_claim_question), sizeof(nh_claim), sizeof(nh_claiming), NULL, NULL,              \
            NH_DRAWS_DEFAULT, NH_CLAIM_ANY, false                                                  \
    }

/* Finds every discard of another player that is worth a thought for a hand between its turns, one
 * tile short of whole: those that win, and those that nh_list_play lets be claimed for a set
 * and that bring the hand nearer, each with what comes of it. A set takes naturals of the
 * hand first, then jokers; a chow none. Own sets on the table: the workspace is one of
 * nh_list_rest. Whose discard a chow may be (nh_play_rules) is left to the caller. With
 * `tile` only that discard is looked at, and the figures without a claim are those with
 * the tile gone.
 *
 * Rows stand wins first, then by chance, the order of hand notation, the size of the set; at most
 * `capacity` of them are written to `claims`. A NULL question is NH_CLAIM_QUESTION; `error` may be
 * NULL.
 *
 * Returns NH_OK; NH_ERROR_ARGUMENT, with nothing written, for a value of the question out of
 * range; after any other error `*claiming` has no rows and NH_AWAY_NONE: NH_ERROR_TILES as
 * nh_rank does, and for a `tile` of which no copy is left; NH_ERROR_MEMORY; NH_ERROR_LIMIT where
 * all sets together take too much work; NH_ERROR_CANCELLED. Takes memory from the workspace's
 * allocator, and gives it back. Thread-safe with one workspace a thread. Cost: milliseconds, as
 * what is left of the list is worked out for each set, of the patterns that it brings nearer; for
 * one tile a fraction. */
NH_API nh_status nh_claims(nh_workspace *workspace, const nh_tiles *hand,
                           const nh_claim_question *question, nh_claim *claims, size_t capacity,
                           nh_claiming *claiming, nh_error *error);

/* ----------------------------------------------------------- exchanges --- */

/* A tile of the hand put in place of a joker of a set on the table, which comes to the
 * hand. */
typedef struct nh_exchange {
    uint8_t kind;  /* of the tile that is given */
    bool own;      /* the set is the player's own: one of nh_list_sets */
    uint8_t away;  /* of the hand afterwards; NH_AWAY_NONE when no target is live */
    bool complete; /* the hand is complete afterwards, as nh_check says */
    uint32_t set;  /* its number, among nh_list_sets or the question's sets */
} nh_exchange;

/* Which jokers lie on the table. Start from NH_EXCHANGE_QUESTION. */
typedef struct nh_exchange_question {
    size_t size;                   /* of this struct, as NH_EXCHANGE_QUESTION sets it */
    size_t exchange_size;          /* of nh_exchange */
    const nh_situation *situation; /* its seen tiles have those of the sets among them */
    const nh_set *sets;            /* of the other players; their own sets are known */
    size_t set_count;
} nh_exchange_question;

#define NH_EXCHANGE_QUESTION                                                                       \
    { sizeof(nh_exchange_question), sizeof(nh_exchange), NULL, NULL, 0 }

/* Finds the jokers that a hand can take from the table, one by one, whether the list lets it
 * (nh_play_rules) or not: for each tile of the hand and each set with a joker that stands for
 * it, how far the hand is afterwards. Rows stand nearest first, then in the order of hand
 * notation, own sets first; `*count` is how many there are, of which at most `capacity` are
 * written. A NULL question is NH_EXCHANGE_QUESTION; `error` may be NULL.
 *
 * Returns NH_OK; NH_ERROR_ARGUMENT for a value of the question out of range, such as a set
 * that is none or whose tiles are not among those seen; NH_ERROR_TILES as nh_rank does.
 * Allocates nothing. Thread-safe with one workspace a thread. Cost: some microseconds for
 * each tile that can be given. */
NH_API nh_status nh_exchanges(nh_workspace *workspace, const nh_tiles *hand,
                              const nh_exchange_question *question, nh_exchange *exchanges,
                              size_t capacity, size_t *count, nh_error *error);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_CLAIM_H */
