/* Whether kongs on the table are what spoils a hand: with a pung in place of one it would
 * be complete, but a claimed kong does not count for the pung of a pattern. */
#ifndef CLI_CHECK_KONGS_H
#define CLI_CHECK_KONGS_H

#include "nearhand.h"

#include <stdbool.h>

/* What the list leaves with pungs in place of kongs: for each choice of kongs one, the
 * fewest kongs first. Worked out when it is needed first. */
struct kongs_as_pungs;

struct kongs_as_pungs *kongs_new(const nh_list *whole, const nh_list *list); /* or NULL */
void kongs_free(struct kongs_as_pungs *kongs);                               /* NULL is ignored */

/* A pattern that the hand would complete, and the tile of a kong that stands in its way. */
struct kong_in_the_way {
    bool found;
    nh_completed row;
    uint8_t kind;
};

nh_status kongs_find(struct kongs_as_pungs *kongs, const nh_tiles *hand,
                     const nh_situation *situation, struct kong_in_the_way *way, nh_error *error);

#endif
