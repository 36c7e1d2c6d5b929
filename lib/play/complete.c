/* Whether a hand, to the last tile, is a target.
 *
 * A target of as many tiles as the hand that is no tile away is the hand itself, with
 * each of its jokers for a tile that a joker may be. So in every part the target's
 * share holds all naturals of the hand, and what it needs beside them is open to
 * jokers. The sizes see to it that the jokers suffice, and the parts can be looked at
 * one by one. */
#include "play/complete.h"
#include "distance/match.h"

/* A product whose targets are gone through, part by part. */
struct completing {
    const struct query *query;
    const struct product *product;
    struct complete_target target;
    bool (*each)(const struct complete_target *target, void *context);
    void *context;
};

static bool share_completes(const struct query *query, int part, size_t share) {
    uint64_t need = query->list->bits[share], hard = query->list->hard[share];
    return (query->have[part] & ~need) == 0 && (hard & ~query->have[part]) == 0;
}

static void put_share(struct completing *completing, int part, const struct share *share) {
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int kind = part * PART_KINDS + slot;
        if (kind == NH_JOKER)
            continue;
        uint8_t need = share->need[slot], held = completing->query->hand.count[kind];
        completing->target.tiles.count[kind] = need;
        completing->target.joked.count[kind] = (uint8_t)(need - held);
    }
}

static bool go_through(struct completing *completing, int part) {
    if (part == PARTS)
        return completing->each(&completing->target, completing->context);
    const nh_list *list = completing->query->list;
    const struct family *family = &list->families[completing->product->family[part]];
    for (size_t i = family->first; i < family->first + family->count; i++) {
        if (!share_completes(completing->query, part, i))
            continue;
        put_share(completing, part, &list->shares[i]);
        if (!go_through(completing, part + 1))
            return false;
    }
    return true;
}

static int size_of_product(const nh_list *list, const struct product *product) {
    int size = 0;
    for (int part = 0; part < PARTS; part++)
        size += list->families[product->family[part]].size;
    return size;
}

bool complete_each(const struct query *query, const struct list_pattern *pattern,
                   bool (*each)(const struct complete_target *target, void *context),
                   void *context) {
    const nh_list *list = query->list;
    int tiles = nh_tiles_total(&query->hand);
    for (uint32_t i = pattern->first; i < pattern->first + pattern->count; i++) {
        const struct product *product = &list->products[i];
        if (!product_applies(query, product) || size_of_product(list, product) != tiles)
            continue;
        struct completing completing = {query, product, {.prevailing = 0}, each, context};
        completing.target.prevailing = query->prevailing == 0 ? product->prevailing : 0;
        completing.target.seat = query->seat == 0 ? product->seat : 0;
        if (!go_through(&completing, 0))
            return false;
    }
    return true;
}

static bool none_more(const struct complete_target *target, void *context) {
    (void)target;
    (void)context;
    return false;
}

bool is_complete(const struct query *query, const struct list_pattern *pattern) {
    return !complete_each(query, pattern, none_more, NULL);
}
