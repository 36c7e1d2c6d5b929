/* The ways to take a plain group once, where sets lie on the table. */
#ifndef NH_RESTS_REST_CHOICES_H
#define NH_RESTS_REST_CHOICES_H

#include "compile/compiler.h"
#include "rests/masked.h"

/* One way to take a group once: its tiles, and what is left of it. */
struct option {
    nh_tiles whole;
    struct packed_share shares[PARTS]; /* of the tiles that are not on the table */
    uint8_t mask;
};

struct options {
    struct option *items;
    size_t count, capacity;
};

/* Lists the ways to take a plain group once. */
void list_plain(struct compiler *compiler, const struct shown *shown,
                const struct draft_group *group, struct options *out);

/* The winds that a group presumes, and only those. */
uint8_t presumed_prevailing(const struct compiler *compiler, const struct draft_group *group);
uint8_t presumed_seat(const struct compiler *compiler, const struct draft_group *group);

#endif
