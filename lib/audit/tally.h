/* Sums over a set of targets or shares. */
#ifndef NH_AUDIT_TALLY_H
#define NH_AUDIT_TALLY_H

#include "compile/compiled.h"

struct tally {
    nh_natural targets;
    nh_natural natural; /* targets that the tiles of the set can complete */
    nh_natural ways;
};

struct tally tally_add(struct tally a, struct tally b);
struct tally tally_multiply(struct tally a, struct tally b);

/* Whether two shares are the same tiles, wherever jokers may stand. */
bool same_need(const struct share *a, const struct share *b);

/* Adds a share, given by its tiles, and all shares of a family. */
void tally_need(const nh_list *list, bool honours, const uint8_t need[PART_KINDS],
                struct tally *tally);
void tally_family(const nh_list *list, const struct family *family, struct tally *tally);

#endif
