/*
 * A referee follows the events of games and knows the rules by itself: where every tile
 * is, whose turn it is, which sets may be claimed, which hands are complete. It fails the
 * test at the first event that is not legal.
 */
#ifndef NH_TESTS_REFEREE_H
#define NH_TESTS_REFEREE_H

#include "nearhand.h"

typedef struct referee {
    const nh_list *list;
    uint64_t seed, number; /* of the game that comes next */
    bool takes_every_win;  /* the players never let a win go */
    nh_tiles hand[NH_SEATS], discards[NH_SEATS], wall;
    nh_set sets[NH_SEATS][NH_SETS_MAX];
    size_t set_count[NH_SEATS];
    nh_list *rest[NH_SEATS]; /* what the sets leave of the list */
    nh_workspace *workspace[NH_SEATS];
    nh_wind prevailing;
    int seat; /* in turn */
    bool to_draw, to_discard, after_kong, over;
    bool changed;  /* since the claim: a tile drawn, a joker taken */
    int discarder; /* -1: no discard is offered */
    uint8_t offered;
    unsigned turns;
    long events, claims, exchanges, wins, walls, given_unseen;
} referee;

/* The referee's listener; its context is the referee. */
void referee_hears(void *context, const nh_event *event);

/* Frees what the referee noted of the last game. */
void referee_leaves(referee *of);

#endif
