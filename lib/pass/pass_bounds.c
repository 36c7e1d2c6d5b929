/* Lower bounds for passes. */
#include "pass/pass_bounds.h"

static void look_at_alone(struct pass_bounds *bounds, int kind, bool brief) {
    nh_tiles one = {{0}};
    struct tile_alone *alone = &bounds->alone[bounds->place[kind]];
    one.count[kind] = 1;
    expect_after(bounds->outlook, bounds->hand, &one, bounds->tiles, brief, &alone->expectation,
                 &alone->lists);
}

void bounds_set(struct pass_bounds *bounds, const nh_tiles *passable) {
    uint8_t kinds = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (passable->count[kind] == 0 || !outlook_goes_on(bounds->outlook))
            continue;
        bounds->alone[kinds].looked = 0;
        bounds->place[kind] = kinds++;
        look_at_alone(bounds, kind, true);
    }
}

bool bounds_look_closely(struct pass_bounds *bounds, const nh_tiles *pass, unsigned looks) {
    bool better = false;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (pass->count[kind] == 0)
            continue;
        struct tile_alone *alone = &bounds->alone[bounds->place[kind]];
        if (alone->expectation.brief && outlook_goes_on(bounds->outlook)) {
            look_at_alone(bounds, kind, false);
            alone->looked = ++bounds->looks;
        }
        better |= alone->looked > looks;
    }
    return better;
}

/* The kinds of a pass; how many. */
static unsigned kinds_alone(const struct pass_bounds *bounds, const nh_tiles *pass,
                            const struct tile_alone *alone[NH_PASS_MAX]) {
    unsigned kinds = 0;
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (pass->count[kind] > 0)
            alone[kinds++] = &bounds->alone[bounds->place[kind]];
    return kinds;
}

/* How many draws of a reach come to `away` at most. */
static uint64_t draws_up_to(const struct reach *reach, unsigned away) {
    if (away >= reach->nearest)
        return reach->draws;
    unsigned nearer = reach->nearest - away;
    return nearer <= reach->tiles ? reach->nearer[nearer - 1] : 0;
}

/* The most draws with `drawn` jokers that come to `away` at most. */
static uint64_t most_draws(const struct tile_alone *const alone[], unsigned kinds, unsigned drawn,
                           unsigned away) {
    uint64_t most = UINT64_MAX;
    for (unsigned i = 0; i < kinds; i++) {
        uint64_t draws = draws_up_to(&alone[i]->expectation.reach[drawn], away);
        most = draws < most ? draws : most;
    }
    return most;
}

/* With `drawn` jokers alone the hand is at least so far after the pass. */
static unsigned nearest_after(const struct tile_alone *const alone[], unsigned kinds,
                              unsigned drawn) {
    unsigned nearest = 0;
    for (unsigned i = 0; i < kinds; i++) {
        unsigned here = alone[i]->expectation.reach[drawn].nearest;
        nearest = here > nearest ? here : nearest;
    }
    return nearest;
}

uint64_t bound_quickly(const struct pass_bounds *bounds, const nh_tiles *pass) {
    const struct tile_alone *alone[NH_PASS_MAX];
    unsigned kinds = kinds_alone(bounds, pass, alone);
    uint64_t bound = 0;
    for (unsigned i = 0; i < kinds; i++)
        if (alone[i]->expectation.away == NH_AWAY_NONE)
            return UINT64_MAX;
    for (unsigned drawn = 0; drawn <= bounds->tiles; drawn++) {
        const struct reach *reach = &alone[0]->expectation.reach[drawn];
        unsigned nearest = reach->draws > 0 ? nearest_after(alone, kinds, drawn) : 0;
        for (unsigned away = 0; away < nearest; away++)
            bound += reach->times * (reach->draws - most_draws(alone, kinds, drawn, away));
    }
    return bound;
}

/* Draws to be counted: those with `drawn` jokers that come to `away` at most. */
struct asked_draws {
    unsigned drawn, away;
    uint64_t most;  /* of them, by the tiles of the pass one by one */
    uint64_t least; /* if there are fewer the pass is out, and need not be counted further */
    bool roughly;   /* an upper bound will do */
};

/* How many of the draws the tiles have in common, as draws_in_common counts them; if `roughly`,
 * an upper bound; `most` where fewer than two tiles rule out any draw. */
static uint64_t common_draws(const struct pass_bounds *bounds,
                             const struct tile_alone *const alone[], unsigned kinds,
                             const struct asked_draws *asked) {
    const struct unseen *unseen = &bounds->outlook->scratch->unseen;
    const struct draw_list *lists[NH_PASS_MAX];
    unsigned tiles = bounds->tiles - asked->drawn, count = 0;
    for (unsigned i = 0; i < kinds; i++) {
        unsigned nearest = alone[i]->expectation.reach[asked->drawn].nearest;
        if (nearest > asked->away + alone[i]->expectation.brief) /* else all draws do */
            lists[count++] = tiles == 2 ? &alone[i]->lists.two[nearest - asked->away - 1]
                                        : &alone[i]->lists.three[nearest - asked->away - 1];
    }
    if (count < 2)
        return asked->most;
    if (asked->roughly && tiles == 3)
        return draws_in_common_at_most(lists, count);
    return draws_in_common(lists, count, unseen, tiles, asked->least);
}

uint64_t bound_better(const struct pass_bounds *bounds, const nh_tiles *pass, uint64_t quick,
                      uint64_t worst, bool roughly) {
    const struct tile_alone *alone[NH_PASS_MAX];
    unsigned kinds = kinds_alone(bounds, pass, alone);
    for (unsigned drawn = 0; drawn + 2 <= bounds->tiles; drawn++) {
        const struct reach *reach = &alone[0]->expectation.reach[drawn];
        unsigned nearest = reach->draws > 0 ? nearest_after(alone, kinds, drawn) : 0;
        /* draws that come several tiles nearer are too few to make much of a difference */
        for (unsigned nearer = 1; nearer <= LISTED_NEARER && nearer <= nearest && quick <= worst;
             nearer++) {
            unsigned away = nearest - nearer;
            uint64_t most = most_draws(alone, kinds, drawn, away);
            uint64_t fewer = (worst - quick) / reach->times; /* more than that are too many */
            struct asked_draws asked = {drawn, away, most, most > fewer ? most - fewer : 0,
                                        roughly};
            if (most > 0)
                quick += reach->times * (most - common_draws(bounds, alone, kinds, &asked));
        }
    }
    return quick;
}
