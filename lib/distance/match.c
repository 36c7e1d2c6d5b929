/* The distance of a hand to families, products and patterns.
 *
 * A target is the sum of its four shares, so what it lacks is the sum of what
 * its shares lack, and the best of a product is the sum of the best of its
 * families. Jokers tie the parts together: with j of them for a part its best
 * share is at least(missing - min(j, open)), and the parts share the hand's
 * jokers in every way there is. For a single target that split loses nothing:
 * min(J, a + b) is the largest min(i, a) + min(J - i, b). */
#include "distance/match.h"
#include "base/status.h"
#include "compile/share_bits.h"

#include <string.h>

nh_status check_winds(const nh_situation *situation, nh_error *error) {
    nh_status status = check_wind("prevailing", situation->prevailing, error);
    return status == NH_OK ? check_wind("seat", situation->seat, error) : status;
}

/* Whether the set holds hand and gone tiles together; fills `left` then. Eight
 * counts lie side by side in a word: those of a set are small, so that with a bit
 * lent to each count of the set none borrows from its neighbour, and the bit is
 * still there where the tiles suffice. */
static bool set_holds(const nh_tiles *set, const nh_tiles *hand, const nh_tiles *gone,
                      nh_tiles *left) {
    static const uint8_t starts[] = {0, 8, 16, 24, NH_KINDS - 8};
    const uint64_t lent = UINT64_C(0x8080808080808080), large = UINT64_C(0xC0C0C0C0C0C0C0C0);
    uint64_t kept = lent, beyond = 0;
    for (size_t i = 0; i < sizeof starts; i++) {
        uint64_t all, held, away;
        memcpy(&all, set->count + starts[i], sizeof all);
        memcpy(&held, hand->count + starts[i], sizeof held);
        memcpy(&away, gone->count + starts[i], sizeof away);
        beyond |= (held | away) & large;
        kept &= (all | lent) - (held + away);
        all -= away;
        memcpy(left->count + starts[i], &all, sizeof all);
    }
    return (kept & lent) == lent && beyond == 0;
}

/* Tells the first kind of which hand and gone tiles are more than there are. */
static nh_status report_too_many(const nh_tiles *set, const nh_tiles *hand, const nh_tiles *gone,
                                 nh_error *error) {
    int kind = 0;
    while (hand->count[kind] + gone->count[kind] <= set->count[kind])
        kind++;
    return error_set(
        error, NH_ERROR_TILES, 0, "hand and seen tiles together have %d of %s, but the set has %d",
        hand->count[kind] + gone->count[kind], nh_kind_notation(kind), set->count[kind]);
}

nh_status query_set(struct query *query, const nh_list *list, const nh_tiles *hand,
                    const nh_situation *situation, nh_error *error) {
    nh_status status = check_winds(situation, error);
    if (status != NH_OK)
        return status;
    *query = (struct query){.list = list, .hand = *hand};
    const nh_tiles *set = &list->set, *gone = &situation->seen;
    if (!set_holds(set, hand, gone, &query->left))
        return report_too_many(set, hand, gone, error);
    query->jokers = hand->count[NH_JOKER];
    query->jokers_left = query->left.count[NH_JOKER];
    query->short_of_jokers =
        set->count[NH_JOKER] > 0 && memcmp(&query->left, set, sizeof *set) != 0;
    query->prevailing = (uint8_t)situation->prevailing;
    query->seat = (uint8_t)situation->seat;
    return NH_OK;
}

void query_add_bits(struct query *query) {
    for (int part = 0; part < PARTS && !query->has_bits; part++) {
        bool honours = part == PART_HONOUR;
        query->have[part] = share_bits(query->hand.count + part * PART_KINDS, honours);
        query->live[part] = share_bits(query->left.count + part * PART_KINDS, honours);
    }
    query->has_bits = true;
}

/* hard has the bits of need - joker: those must come as the tiles themselves.
 */
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

/* ----------------------------------------------------------- products --- */

static bool wind_applies(uint8_t presumed, uint8_t known) {
    return presumed == 0 || known == 0 || presumed == known;
}

/* The distance when jokers can run out: combinations of different fits are looked
 * at, part by part, as long as they can come nearer than `nearest`. What the
 * parts so far lack together and each further part lacks with all jokers for
 * itself is a bound, since min(J, a + b) is at most min(J, a) + min(J, b). */
struct strict_search {
    const struct query *query;
    const struct product *product;
    unsigned rest_away[PARTS + 1]; /* least that the parts from here on can add */
    unsigned bound;                /* no target is nearer */
    unsigned nearest;
};

static unsigned away_of(const struct query *query, unsigned missing, unsigned open) {
    return missing - (open < query->jokers ? open : query->jokers);
}

#define FITS_MAX (NH_TARGET_MAX + 1)

static void search_strictly(struct strict_search *search, int part, struct fit sum) {
    const struct query *query = search->query;
    unsigned away = away_of(query, sum.missing, sum.open) + search->rest_away[part];
    if (sum.excess > query->jokers_left || away >= search->nearest)
        return;
    if (part == PARTS) {
        search->nearest = away;
        return;
    }
    const struct family *family = &query->list->families[search->product->family[part]];
    /* tried[missing][excess]: bits of the numbers of open tiles seen already */
    uint32_t tried[FITS_MAX][FITS_MAX] = {{0}};
    for (uint32_t i = 0; i < family->count && search->nearest > search->bound; i++) {
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

/* The distance of product i of a run where jokers can run out, or `nearest` when it
 * is not below. The
 * distance that takes no heed of jokers running out is a bound, and where they
 * cannot it is the distance. */
static unsigned away_below(const struct query *query, const struct near_rows *rows,
                           const struct run *run, uint32_t i, unsigned nearest) {
    const uint16_t *family = query->list->lanes.together[run->first + i];
    unsigned bound = away_of_product(family, rows, query->jokers);
    if (bound >= nearest)
        return nearest;
    if (excess_of_product(query->shortage, family) <= query->jokers_left)
        return bound;
    struct strict_search search = {
        query, &query->list->products[run->product + i], {0}, bound, nearest};
    for (int part = PARTS - 1; part >= 0; part--) /* all jokers for each part */
        search.rest_away[part] =
            search.rest_away[part + 1] + near_value(rows, part, family[part], query->jokers);
    search_strictly(&search, 0, (struct fit){0, 0, 0, true});
    return search.nearest;
}

bool product_applies(const struct query *query, const struct product *product) {
    return wind_applies(product->prevailing, query->prevailing) &&
           wind_applies(product->seat, query->seat);
}

static bool run_applies(const struct query *query, const struct run *run) {
    return wind_applies(run->prevailing, query->prevailing) && wind_applies(run->seat, query->seat);
}

static const struct kernels *kernels_for(const struct query *query) {
    return query->jokers <= KERNEL_JOKERS ? query->list->kernels : kernels_at(0);
}

/* Whether jokers can run out in products of a pattern. */
static bool can_run_out(const struct query *query, const struct list_pattern *pattern) {
    return query->short_of_jokers && query->shortage->pattern[pattern - query->list->patterns];
}

/* The least distance of a pattern's products that takes no heed of jokers
 * running out. */
static unsigned least_bound(const struct query *query, const struct near_rows *rows,
                            const struct list_pattern *pattern) {
    const nh_list *list = query->list;
    unsigned least = FAR;
    const struct run *run = list->runs + pattern->run_first;
    for (uint32_t r = 0; r < pattern->run_count; r++, run++) {
        if (!run_applies(query, run))
            continue;
        unsigned away = kernels_for(query)->least_away(&list->lanes, run->first, run->count, rows,
                                                       query->jokers);
        least = away < least ? away : least;
    }
    return least;
}

/* Whether a product whose bound is `away` is as near as that. */
static bool bound_is_reached(const struct query *query, const struct near_rows *rows,
                             const struct run *run, unsigned away) {
    uint32_t found[LANES];
    for (uint32_t i = 0; i < run->count; i += LANES) {
        size_t rest = run->count - i < LANES ? run->count - i : LANES;
        size_t count = kernels_for(query)->find_away(&query->list->lanes, run->first + i, rest,
                                                     rows, query->jokers, away, found);
        for (size_t k = 0; k < count; k++)
            if (away_below(query, rows, run, found[k] - run->first, away + 1) == away)
                return true;
    }
    return false;
}

/* Where jokers can run out the bound is tried first, as it nearly always is the
 * distance. */
static unsigned pattern_away_strictly(const struct query *query, const struct near_rows *rows,
                                      const struct list_pattern *pattern, unsigned bound) {
    unsigned nearest = FAR;
    const struct run *runs = query->list->runs + pattern->run_first;
    for (uint32_t r = 0; r < pattern->run_count; r++)
        if (run_applies(query, &runs[r]) && bound_is_reached(query, rows, &runs[r], bound))
            return bound;
    for (uint32_t r = 0; r < pattern->run_count; r++)
        for (uint32_t i = 0; i < runs[r].count && run_applies(query, &runs[r]); i++)
            nearest = away_below(query, rows, &runs[r], i, nearest);
    return nearest;
}

unsigned pattern_away(const struct query *query, const struct near_rows *rows,
                      const struct list_pattern *pattern) {
    unsigned bound = least_bound(query, rows, pattern);
    if (bound >= FAR || !can_run_out(query, pattern))
        return bound;
    return pattern_away_strictly(query, rows, pattern, bound);
}

size_t products_at(const struct query *query, const struct near_rows *rows,
                   const struct list_pattern *pattern, uint32_t run_number, unsigned away,
                   uint32_t *found) {
    const nh_list *list = query->list;
    const struct run *run = &list->runs[pattern->run_first + run_number];
    if (!run_applies(query, run))
        return 0;
    size_t count = 0;
    if (can_run_out(query, pattern)) {
        for (uint32_t i = 0; i < run->count; i++) {
            found[count] = run->product + i;
            count += away_below(query, rows, run, i, away + 1) == away;
        }
        return count;
    }
    count = kernels_for(query)->find_away(&list->lanes, run->first, run->count, rows, query->jokers,
                                          away, found);
    for (size_t i = 0; i < count; i++)
        found[i] += run->product - run->first;
    return count;
}
