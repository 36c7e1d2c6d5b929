/* How near a hand is on average when tiles have come in.
 *
 * Let R be the hand without the tiles that went, c its distance, and k tiles come. Each
 * brings it one tile nearer at most, so that
 *
 *     E = c - Pr(at least 1 nearer) - Pr(at least 2) - ... - Pr(at least k).
 *
 * Draws with different numbers of jokers are counted apart. Those with j of them have a
 * distance to start from, that of R with j jokers more, and the rest of their tiles
 * bring it nearer: which do is gathered from the near products (draw_gather.h). */
#ifndef NH_PASS_EXPECTATION_H
#define NH_PASS_EXPECTATION_H

#include "pass/draw_gather.h"

/* Memory for one hand at a time. */
struct expect_scratch {
    struct remains_scratch remains;
    struct gather gather;
    struct unseen unseen;
    uint64_t work; /* steps for the hand */
};

bool expect_scratch_init(struct expect_scratch *scratch, const nh_list *list,
                         const nh_allocator *allocator);
void expect_scratch_free(struct expect_scratch *scratch, const nh_allocator *allocator);

/* What all hands that are left of one hand have in common. */
struct outlook {
    const nh_list *list;
    struct row_memo *rows;
    struct expect_scratch *scratch;
    const nh_situation *situation; /* without the tiles that go */
    const uint8_t *chosen;
    const nh_cancel *cancel;
    unsigned before; /* distance of the whole hand */
    unsigned jokers_unseen;
};

/* Prepares the scratch for a hand whose query is set. */
void outlook_start(struct outlook *outlook, const struct query *query);

/* False once the work is too much or was cancelled: answers are not complete then. */
bool outlook_goes_on(const struct outlook *outlook);

/* The draws with so many jokers: how many of them come to which distance. */
struct reach {
    uint64_t draws;               /* in all; 0 when there are none */
    uint64_t times;               /* draws of the jokers, for each of the others */
    unsigned nearest;             /* with the jokers alone */
    unsigned tiles;               /* beside jokers */
    uint64_t nearer[NH_PASS_MAX]; /* draws that come at least 1, 2, 3 nearer than that */
};

/* The draws that are counted in reaches of two and three tiles beside jokers, as
 * lists: those at least i + 1 nearer, as far as LISTED_NEARER. */
#define LISTED_NEARER 2u
struct reach_lists {
    struct draw_list two[LISTED_NEARER], three[LISTED_NEARER];
};

struct expectation {
    unsigned away; /* of R; NH_AWAY_NONE when no target is live: nothing is nearer then */
    unsigned nearest, within_one;
    uint64_t expected; /* sum of the distances over all draws; UINT64_MAX likewise */
    uint64_t nearer;   /* draws that come nearer than the whole hand was */
    uint64_t useful;   /* kinds but jokers, of which a tile alone brings R nearer. Empty where
                          fewer tiles than come are unseen beside jokers */
    struct reach reach[NH_PASS_MAX + 1]; /* by jokers drawn */
    bool brief;                          /* all draws count as one nearer: bounds, as below */
};

/* The distance of `hand`, less the tiles `gone` of it; NH_AWAY_NONE when no target is live. */
unsigned away_after(const struct outlook *outlook, const nh_tiles *hand, const nh_tiles *gone);

/* Fills the expectation of `hand`, less the tiles `gone` of it, when `coming` unseen
 * tiles come in, 0 to NH_PASS_MAX; as many as went or not. `lists` may be NULL.
 *
 * A brief look is taken where R is farther than the whole hand: all draws count as one
 * nearer, unless their jokers alone complete it, and only those that come two nearer or more
 * are found, which takes a fraction of the time. All numbers of draws are upper bounds then,
 * and the sum of distances is a lower one. */
void expect_after(const struct outlook *outlook, const nh_tiles *hand, const nh_tiles *gone,
                  unsigned coming, bool brief, struct expectation *expectation,
                  struct reach_lists *lists);

#endif
