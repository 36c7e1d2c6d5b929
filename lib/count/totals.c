/* Sums over contents of one part, and over whole targets or hands. */
#include "count/totals.h"
#include "base/natural.h"

/* By Pascal's rule; copies of a kind are few. Jokers are no contents. */
struct kind_ways kind_ways_of(const nh_tiles *copies) {
    struct kind_ways all = {{{0}}};
    for (int kind = 0; kind < PARTS * PART_KINDS; kind++) {
        uint32_t *ways = all.ways[kind];
        ways[0] = 1;
        for (unsigned n = 0; kind != NH_JOKER && n < copies->count[kind]; n++)
            for (unsigned k = n + 1; k > 0; k--)
                ways[k] += ways[k - 1];
    }
    return all;
}

void tally_add_contents(struct tally *tally, const struct kind_ways *ways, int part,
                        uint64_t contents) {
    uint64_t product = 1;
    for (int slot = 0; slot < PART_KINDS; slot++)
        product *= ways->ways[part * PART_KINDS + slot][contents_slot(contents, slot)];
    tally->all++;
    tally->held += product > 0;
    tally->ways += product;
}

struct totals totals_of_none(void) {
    return (struct totals){.least = NH_TARGET_MAX};
}

struct totals totals_of_empty(void) {
    struct totals totals = {.all = natural_from(1), .held = natural_from(1)};
    totals.ways[0] = natural_from(1);
    return totals;
}

/* No target has more than NH_TARGET_MAX tiles, so the sums are within the array. */
void totals_add(struct totals *totals, const struct tally *tally, unsigned tiles,
                const struct totals *rest) {
    totals->all = natural_add(totals->all, natural_scale(rest->all, tally->all));
    totals->held = natural_add(totals->held, natural_scale(rest->held, tally->held));
    for (unsigned i = rest->least; i <= rest->most; i++)
        totals->ways[tiles + i] =
            natural_add(totals->ways[tiles + i], natural_scale(rest->ways[i], tally->ways));
    if (tiles + rest->least < totals->least)
        totals->least = (uint8_t)(tiles + rest->least);
    if (tiles + rest->most > totals->most)
        totals->most = (uint8_t)(tiles + rest->most);
}

nh_natural totals_ways(const struct totals *totals) {
    nh_natural sum = {{0}};
    for (unsigned i = 0; i <= NH_TARGET_MAX; i++)
        sum = natural_add(sum, totals->ways[i]);
    return sum;
}
