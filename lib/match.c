/* The distance of a hand to families, products and patterns.
 *
 * A target is the sum of its four shares, so what it lacks is the sum of what
 * its shares lack, and the best of a product is the sum of the best of its
 * families. Jokers tie the parts together: with j of them for a part its best
 * share is at least(missing - min(j, open)), and the parts share the hand's
 * jokers in every way there is. For a single target that split loses nothing:
 * min(J, a + b) is the largest min(i, a) + min(J - i, b). */
#include "match.h"

#include <string.h>

uint64_t share_bits(const uint8_t count[PART_KINDS], bool honours) {
    uint64_t bits = 0;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        unsigned most = honours && slot == 7 ? FLOWERS_MAX : COPIES;
        if (honours && slot > 7)
            break;
        unsigned tiles = count[slot] < most ? count[slot] : most;
        bits |= ((UINT64_C(1) << tiles) - 1u) << (4 * slot);
    }
    return bits;
}

static bool situation_fits(const nh_situation *situation) {
    return situation->draws >= 0 && situation->draws <= NH_DRAWS_MAX &&
           (unsigned)situation->prevailing <= NH_WIND_NORTH &&
           (unsigned)situation->seat <= NH_WIND_NORTH;
}

nh_status query_set(struct query *query, const nh_list *list, const nh_tiles *hand,
                    const nh_situation *situation, nh_error *error) {
    if (!situation_fits(situation))
        return error_set(error, NH_ERROR_ARGUMENT, 0,
                         "draws must be 0 to %d, winds one of the four or unknown", NH_DRAWS_MAX);
    *query = (struct query){.list = list, .hand = *hand};
    bool anything_gone = false;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int gone = situation->seen.count[kind];
        if (hand->count[kind] + gone > list->set.count[kind])
            return error_set(error, NH_ERROR_TILES, 0,
                             "hand and seen tiles together have %d of %s, but the set has %d",
                             hand->count[kind] + gone, nh_kind_notation(kind),
                             list->set.count[kind]);
        query->left.count[kind] = (uint8_t)(list->set.count[kind] - gone);
        anything_gone |= gone > 0;
    }
    for (int part = 0; part < PARTS; part++) {
        query->have[part] = share_bits(hand->count + part * PART_KINDS, part == PART_HONOUR);
        query->live[part] = share_bits(query->left.count + part * PART_KINDS, part == PART_HONOUR);
    }
    query->jokers = hand->count[NH_JOKER];
    query->jokers_left = query->left.count[NH_JOKER];
    query->short_of_jokers = anything_gone && list->set.count[NH_JOKER] > 0;
    query->prevailing = (uint8_t)situation->prevailing;
    query->seat = (uint8_t)situation->seat;
    return NH_OK;
}

/* hard has the bits of need - joker: those must come as the tiles themselves. */
struct fit fit_share(const struct query *query, int part, const struct family *family,
                     uint32_t index) {
    uint64_t bits = query->list->bits[family->first + index];
    uint64_t hard = query->list->hard[family->first + index];
    unsigned missing = family->size - bit_count(bits & query->have[part]);
    unsigned closed = bit_count(hard & ~query->have[part]);
    struct fit fit = {(uint8_t)missing, (uint8_t)(missing - closed), 0, true};
    fit.live = (hard & ~query->live[part]) == 0;
    fit.excess = (uint8_t)(family->size - bit_count(bits & query->live[part]));
    return fit;
}

/* ----------------------------------------------------------- families --- */

/* Without jokers in the hand: the most tiles in common, among live shares. */
static uint8_t nearest_plain(const struct query *query, int part, const struct family *family) {
    const uint64_t *bits = query->list->bits + family->first;
    const uint64_t *hard = query->list->hard + family->first;
    uint64_t have = query->have[part], dead = ~query->live[part];
    int most = -1;
    for (uint32_t i = 0; i < family->count; i++) {
        int common = (hard[i] & dead) != 0 ? -1 : (int)bit_count(bits[i] & have);
        most = common > most ? common : most;
    }
    return (uint8_t)(most < 0 ? FAR : family->size - most);
}

/* With jokers: the least missing for each number of open tiles, then for each
 * number of jokers the best use of them. */
static void nearest_with_jokers(const struct query *query, int part, const struct family *family,
                                uint8_t *near) {
    uint8_t least[JOKERS_MAX + 1];
    memset(least, FAR, sizeof least);
    for (uint32_t i = 0; i < family->count; i++) {
        struct fit fit = fit_share(query, part, family, i);
        unsigned open = fit.open < query->jokers ? fit.open : query->jokers;
        if (fit.live && fit.missing < least[open])
            least[open] = fit.missing;
    }
    for (unsigned j = 0; j <= query->jokers; j++) {
        near[j] = FAR;
        for (unsigned open = 0; open <= query->jokers; open++) {
            unsigned used = open < j ? open : j;
            if (least[open] < FAR && least[open] - used < near[j])
                near[j] = (uint8_t)(least[open] - used);
        }
    }
}

size_t distances_size(const nh_list *list) {
    return PARTS * list->family_count * (list->set.count[NH_JOKER] + 1u);
}

void distances_fill(const struct query *query, uint8_t *near) {
    const nh_list *list = query->list;
    for (int part = 0; part < PARTS; part++) {
        for (size_t i = 0; i < list->family_count; i++, near += query->jokers + 1) {
            if (!(list->used[i] >> part & 1u))
                continue;
            if (query->jokers == 0)
                *near = nearest_plain(query, part, &list->families[i]);
            else
                nearest_with_jokers(query, part, &list->families[i], near);
        }
    }
}

/* ----------------------------------------------------------- products --- */

bool product_applies(const struct query *query, const struct product *product) {
    return (product->prevailing == 0 || query->prevailing == 0 ||
            product->prevailing == query->prevailing) &&
           (product->seat == 0 || query->seat == 0 || product->seat == query->seat);
}

static const uint8_t *row_of(const struct query *query, const uint8_t *near, int part,
                             uint32_t family) {
    return near + ((size_t)part * query->list->family_count + family) * (query->jokers + 1u);
}

/* The best way to part the hand's jokers over the four shares. */
static unsigned away_with_jokers(const struct query *query, const uint8_t *near,
                                 const struct product *product) {
    unsigned jokers = query->jokers;
    unsigned best[JOKERS_MAX + 1];
    const uint8_t *first = row_of(query, near, 0, product->family[0]);
    for (unsigned j = 0; j <= jokers; j++)
        best[j] = first[j];
    for (int part = 1; part < PARTS; part++) {
        const uint8_t *row = row_of(query, near, part, product->family[part]);
        for (unsigned j = jokers + 1; j-- > 0;) {
            unsigned least = best[j] + row[0];
            for (unsigned here = 1; here <= j; here++)
                if (best[j - here] + row[here] < least)
                    least = best[j - here] + row[here];
            best[j] = least;
        }
    }
    return best[jokers];
}

/* The distance when jokers may run out: every combination of different fits is
 * looked at, part by part. */
struct strict_search {
    const struct query *query;
    const struct product *product;
    unsigned nearest;
};

static unsigned away_of(const struct query *query, unsigned missing, unsigned open) {
    return missing - (open < query->jokers ? open : query->jokers);
}

#define FITS_MAX (NH_TARGET_MAX + 1)

static void search_strictly(struct strict_search *search, int part, struct fit sum) {
    const struct query *query = search->query;
    if (sum.excess > query->jokers_left)
        return;
    if (part == PARTS) {
        unsigned away = away_of(query, sum.missing, sum.open);
        search->nearest = away < search->nearest ? away : search->nearest;
        return;
    }
    const struct family *family = &query->list->families[search->product->family[part]];
    /* tried[missing][excess]: bits of the numbers of open tiles seen already */
    uint32_t tried[FITS_MAX][FITS_MAX] = {{0}};
    for (uint32_t i = 0; i < family->count; i++) {
        struct fit fit = fit_share(query, part, family, i);
        uint32_t mark = 1u << fit.open;
        if (!fit.live || (tried[fit.missing][fit.excess] & mark) != 0)
            continue;
        tried[fit.missing][fit.excess] |= mark;
        struct fit next = {(uint8_t)(sum.missing + fit.missing), (uint8_t)(sum.open + fit.open),
                           (uint8_t)(sum.excess + fit.excess), true};
        search_strictly(search, part + 1, next);
    }
}

unsigned product_away(const struct query *query, const uint8_t *near,
                      const struct product *product) {
    unsigned away = 0;
    if (query->jokers > 0)
        away = away_with_jokers(query, near, product);
    else
        for (int part = 0; part < PARTS; part++)
            away += *row_of(query, near, part, product->family[part]);
    if (away >= FAR || !query->short_of_jokers)
        return away;
    struct strict_search search = {query, product, FAR};
    search_strictly(&search, 0, (struct fit){0, 0, 0, true});
    return search.nearest;
}

unsigned pattern_away(const struct query *query, const uint8_t *near,
                      const struct list_pattern *pattern) {
    unsigned nearest = FAR;
    const struct product *product = query->list->products + pattern->first;
    for (uint32_t i = 0; i < pattern->count; i++, product++) {
        if (!product_applies(query, product))
            continue;
        unsigned away = product_away(query, near, product);
        nearest = away < nearest ? away : nearest;
    }
    return nearest;
}
