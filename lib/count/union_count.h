/* How many a union of products has: of targets, or of hands that complete them.
 *
 * A product is four sets of contents, one for each part of the set of tiles, and stands
 * for everything that takes its contents from them. What the sets hold is the
 * caller's: the tiles that a target needs, or those of a hand that jokers make up
 * (compile/families and count/family_contents). */
#ifndef NH_COUNT_UNION_COUNT_H
#define NH_COUNT_UNION_COUNT_H

#include "count/union_cache.h"

/* Steps of work for all that one counting does, each of some nanoseconds; and how many
 * contents it may hold at a time, for each of which it needs some 30 bytes. */
#define COUNT_WORK_MAX 300000000u
#define COUNT_ROOM_MAX 4000000u

/* Sorted contents of one part, each once. */
struct content_set {
    uint64_t *items;
    size_t count;
    uint8_t least, most;   /* tiles of one of them; least > most for an empty set */
    struct tally *of_size; /* of those with `least` tiles, and so on to `most` */
};

/* Four sets, by their numbers. */
struct quad {
    uint32_t set[PARTS];
};

/* The different products of the sets from one part on: item i is of set[i] and of item
 * next[i] of the next level. Items are sorted by their sets. */
struct count_level {
    uint32_t *set, *next;
    size_t count;
    uint64_t *marks; /* a bit for each item; all 0 between uses */
};

struct counting {
    const nh_allocator *allocator;
    const nh_cancel *cancel;
    struct kind_ways kinds;
    struct content_set *sets;
    size_t set_count, set_capacity;
    struct count_level levels[PARTS];
    struct union_cache known;
    uint64_t work, room;
    nh_status status; /* NH_OK until memory is short, a limit is passed, or it is cancelled */
};

/* Begins to count with the copies that there are of each kind: in the whole set, or of
 * tiles unseen. Never fails; counting_end frees what it holds. */
void counting_start(struct counting *counting, const nh_allocator *allocator,
                    const nh_tiles *copies, const nh_cancel *cancel);
void counting_end(struct counting *counting);

/* Notes the first thing that goes wrong. */
void counting_fail(struct counting *counting, nh_status status);

/* Counts steps of work. Loops that take many of them look at the status. */
void counting_spend(struct counting *counting, uint64_t steps);

/* Takes the sorted contents `items`, each once, from the counting's allocator, which
 * `counting` frees even when it has failed. Returns the number of the set; sets whose
 * contents have the same copies in several parts serve for each of them. */
uint32_t counting_add_set(struct counting *counting, int part, uint64_t *items, size_t count);

/* The totals of the union; nothing of use unless the status is NH_OK after it. */
void counting_union(struct counting *counting, const struct quad *quads, size_t count,
                    struct totals *totals);

#endif
