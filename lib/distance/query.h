/* A hand and what is known beside it, as the matcher reads it. */
#ifndef NH_DISTANCE_QUERY_H
#define NH_DISTANCE_QUERY_H

#include "base/cancel.h"
#include "compile/compiled.h"
#include "distance/kernel.h"

/* Where jokers can run out (joker_shortage.h). */
struct shortage {
    const uint8_t *excess[PARTS]; /* by family number: the most of a live share, or more */
    const bool *pattern;          /* by number: whether they can in one of its products */
    struct fits_memo *fits;       /* for the distances where they can: family_fits.h */
};

/* A hand and what is known beside it, as the matcher needs it. */
struct query {
    const nh_list *list;
    nh_tiles hand, left;               /* left: the set less the tiles that are gone */
    uint64_t have[PARTS], live[PARTS]; /* hand and left as bits, once they are needed */
    bool has_bits;
    unsigned jokers;                 /* held */
    unsigned jokers_left;            /* held or unseen */
    bool short_of_jokers;            /* they can run out, for tiles that only they can be */
    const struct shortage *shortage; /* where; NULL while it is not known */
    uint8_t prevailing, seat;
    const nh_cancel *cancel; /* stops long work; may be NULL */
};

/* How a share compares with the hand. away = missing - min(jokers, open). */
struct fit {
    uint8_t missing; /* tiles that the hand lacks */
    uint8_t open;    /* those that jokers may be */
    uint8_t excess;  /* tiles that are gone: only jokers can be them */
    bool live;
};

struct fit fit_share(const struct query *query, int part, const struct family *family,
                     uint32_t index);

/* The most jokers that a live target of these families may need for tiles that
 * are gone. */
static inline unsigned excess_of_product(const struct shortage *shortage,
                                         const uint16_t family[PARTS]) {
    unsigned excess = 0;
    for (int part = 0; part < PARTS; part++)
        excess += shortage->excess[part][family[part]];
    return excess;
}

/* Whether the winds are in range. */
nh_status check_winds(const nh_situation *situation, nh_error *error);

/* Checks hand and situation; NH_OK, or what nh_rank says of them. `situation` has
 * the size of this version. */
nh_status query_set(struct query *query, const nh_list *list, const nh_tiles *hand,
                    const nh_situation *situation, nh_error *error);

/* Fills have and live. fit_share needs them. */
void query_add_bits(struct query *query);

#endif
