/* What a pass comes to, the plain way. See draws.h. */
#include "draws.h"

#include <string.h>

remaining pass_tiles(const nh_tiles *set, const nh_tiles *hand, const nh_tiles *seen,
                     const nh_tiles *pass) {
    remaining rest = {.hand = *hand, .seen = *seen};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        rest.unseen.count[kind] =
            (uint8_t)(set->count[kind] - hand->count[kind] - seen->count[kind]);
        rest.hand.count[kind] = (uint8_t)(rest.hand.count[kind] - pass->count[kind]);
        rest.seen.count[kind] = (uint8_t)(rest.seen.count[kind] + pass->count[kind]);
    }
    return rest;
}

static uint64_t choose(unsigned n, unsigned k) {
    uint64_t ways = 1;
    for (unsigned i = 0; i < k; i++) {
        ways = ways * (n - i) / (i + 1);
    }
    return ways;
}

typedef struct listing {
    remaining rest;
    int before;
    away_of *away;
    const void *context;
    draw_sums sums;
} listing;

/* Goes through all draws of `left` more tiles of the kinds from `kind` on. */
static void draw_on(listing *at, int kind, unsigned left, uint64_t ways) {
    if (left == 0) {
        const int away = at->away(&at->rest, at->context);
        at->sums.ways += ways;
        at->sums.none |= away == NH_AWAY_NONE;
        at->sums.expected += ways * (uint64_t)away;
        at->sums.nearer += away < at->before ? ways : 0;
        return;
    }
    if (kind == NH_KINDS) {
        return;
    }
    const unsigned copies = at->rest.unseen.count[kind];
    uint8_t *held = &at->rest.hand.count[kind];
    for (unsigned drawn = 0; drawn <= left && drawn <= copies; drawn++) {
        *held = (uint8_t)(*held + drawn);
        draw_on(at, kind + 1, left - drawn, ways * choose(copies, drawn));
        *held = (uint8_t)(*held - drawn);
    }
}

draw_sums list_draws(const remaining *rest, unsigned count, int before, away_of *away,
                     const void *context) {
    listing at = {.rest = *rest, .before = before, .away = away, .context = context};
    draw_on(&at, 0, count, 1);
    return at.sums;
}

long different_sets(const nh_tiles *tiles, unsigned count) {
    long sets[NH_PASS_MAX + 1] = {1};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        for (unsigned size = NH_PASS_MAX; size > 0; size--) {
            for (unsigned taken = 1; taken <= size && taken <= tiles->count[kind]; taken++) {
                sets[size] += sets[size - taken];
            }
        }
    }
    return sets[count];
}

nh_tiles passable_tiles(const nh_list *list, const nh_tiles *hand) {
    nh_tiles passable = *hand;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (nh_list_charleston(list)->keep.count[kind] > 0) {
            passable.count[kind] = 0;
        }
    }
    return passable;
}

int compare_choices(const nh_choice *a, const nh_choice *b) {
    if (a->expected != b->expected) {
        return a->expected < b->expected ? -1 : 1;
    }
    if (a->nearer != b->nearer) {
        return a->nearer > b->nearer ? -1 : 1;
    }
    if (a->within_one != b->within_one) {
        return a->within_one > b->within_one ? -1 : 1;
    }
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (a->pass.count[kind] != b->pass.count[kind]) {
            return a->pass.count[kind] > b->pass.count[kind] ? -1 : 1;
        }
    }
    return 0;
}

bool same_choice(const nh_choice *a, const nh_choice *b) {
    return memcmp(&a->pass, &b->pass, sizeof a->pass) == 0 && a->expected == b->expected &&
           a->nearer == b->nearer && a->away == b->away && a->nearest == b->nearest &&
           a->within_one == b->within_one;
}
