/* Chance by counting. A set of draws is described by how many tiles it takes of each
 * kind. For a kind of which n tiles are missing, h of them hard (no joker may
 * be them), and u are unseen, the draws that take q >= h of them leave a gap of
 * max(0, n - q) for jokers:
 *
 *     F(x, y) = sum over q = h .. u of C(u, q) x^(q - h) y^max(0, n - q).
 *
 * In the product of all F the coefficient of x^a y^g counts the draws of `a`
 * tiles of the lacking kinds, beside all the hard ones, that leave a gap of g. The other
 * draws come from the rest of the unseen tiles, among them enough jokers: at least g less
 * those that the hand holds. All sums are of whole numbers: the count is exact.
 */
#include "rank/chance.h"

#include <string.h>

/* Coefficients stay below 2^63 while the lacking kinds have at most 62 unseen
 * tiles in all, since they add up to at most 2 to that number. */
#define NARROW_MAX 62
#define GAP_MAX NH_TARGET_MAX

struct polynomial {
    uint64_t at[GAP_MAX + 1][NARROW_MAX + 1]; /* [gap][tiles drawn beside the hard ones] */
    unsigned gap, drawn;                      /* largest exponents */
    unsigned most;                            /* exponents of x past this cannot count */
};

static const nh_natural *choose(const struct draws *draws, unsigned n, unsigned k) {
    static const nh_natural none = {{0, 0, 0}};
    return k <= n ? &draws->binomials[BINOMIAL(n, k)] : &none;
}

/* C(u, q), q <= u, for the at most 8 unseen tiles of a kind, or 16 jokers. */
static uint64_t choose_small(const struct draws *draws, unsigned u, unsigned q) {
    return draws->binomials[BINOMIAL(u, q)].limb[0];
}

/* Grows to new largest exponents; new coefficients are 0. */
static void grow_exponents(struct polynomial *product, unsigned gap, unsigned drawn) {
    if (drawn > product->most)
        drawn = product->most;
    for (unsigned g = 0; g <= product->gap; g++)
        for (unsigned a = product->drawn + 1; a <= drawn; a++)
            product->at[g][a] = 0;
    for (unsigned g = product->gap + 1; g <= gap; g++)
        for (unsigned a = 0; a <= drawn; a++)
            product->at[g][a] = 0;
    product->gap = gap;
    product->drawn = drawn;
}

/* A new coefficient where the kind leaves no gap. */
static uint64_t sum_of_row(const uint64_t *row, const uint64_t *ways, unsigned a, unsigned span) {
    uint64_t sum = row[a] * ways[0];
    for (unsigned e = 1; e <= span && e <= a; e++)
        sum += row[a - e] * ways[e];
    return sum;
}

/* A new coefficient where jokers may be `open` of the kind: e tiles beside the hard ones
 * leave a gap of the others. */
static uint64_t sum_of_rows(const struct polynomial *product, const uint64_t *ways, unsigned g,
                            unsigned a, unsigned span, unsigned open) {
    uint64_t sum = 0;
    for (unsigned e = open > g ? open - g : 0; e <= span && e <= a; e++)
        sum += product->at[e < open ? g - (open - e) : g][a - e] * ways[e];
    return sum;
}

/* Multiplies by the F of one kind, in place. A new coefficient is a sum over old ones with
 * fewer tiles or a smaller gap, so going down both exponents finds these untouched. */
static void multiply(struct polynomial *product, const struct draws *draws,
                     const struct lack *lack) {
    const unsigned open = lack->missing - lack->hard, span = lack->unseen - lack->hard;
    uint64_t ways[FLOWERS_MAX + 1];
    for (unsigned e = 0; e <= span; e++)
        ways[e] = choose_small(draws, lack->unseen, lack->hard + e);
    grow_exponents(product, product->gap + open, product->drawn + span);
    for (unsigned g = product->gap + 1; g-- > 0;)
        for (unsigned a = product->drawn + 1; a-- > 0;)
            product->at[g][a] = open == 0 ? sum_of_row(product->at[g], ways, a, span)
                                          : sum_of_rows(product, ways, g, a, span, open);
}

/* Adds `factor` times the ways to draw `rest` tiles from the `others` (neither lacking
 * kinds nor jokers) and the jokers, at least `least` of them jokers. */
static void add_rest(const struct draws *draws, unsigned others, unsigned rest, unsigned least,
                     uint64_t factor, nh_natural *sum) {
    if (least == 0) {
        natural_add_product(sum, choose(draws, others + draws->jokers_unseen, rest), factor);
        return;
    }
    nh_natural ways = {{0}};
    for (unsigned q = least; q <= draws->jokers_unseen && q <= rest; q++)
        natural_add_product(&ways, choose(draws, others, rest - q),
                            choose_small(draws, draws->jokers_unseen, q));
    natural_add_product(sum, &ways, factor);
}

static nh_natural count_narrow(const struct draws *draws, const struct lack *lacks, int count) {
    nh_natural sum = {{0}};
    unsigned kinds_unseen = 0, hard = 0;
    bool possible = true;
    for (int i = 0; i < count; i++) {
        kinds_unseen += lacks[i].unseen;
        hard += lacks[i].hard;
        possible = possible && lacks[i].hard <= lacks[i].unseen;
    }
    if (!possible || hard > draws->draws)
        return sum;
    struct polynomial product;
    product.gap = product.drawn = 0;
    product.most = draws->draws - hard;
    product.at[0][0] = 1;
    for (int i = 0; i < count; i++)
        multiply(&product, draws, &lacks[i]);
    unsigned others = draws->unseen - draws->jokers_unseen - kinds_unseen;
    for (unsigned g = 0; g <= product.gap; g++) {
        unsigned least = g > draws->jokers_held ? g - draws->jokers_held : 0;
        if (least > draws->jokers_unseen)
            break;
        /* multiply sets every coefficient up to gap and drawn */
        /* NOLINTNEXTLINE(clang-analyzer-core.*) */
        for (unsigned a = 0; a <= product.drawn; a++)
            if (product.at[g][a] != 0)
                add_rest(draws, others, product.most - a, least, product.at[g][a], &sum);
    }
    return sum;
}

/* Where the unseen tiles are too many for narrow coefficients, the draws that
 * take q of the last kind are counted for each q, among fewer tiles. A gap of that kind is a joker
 * less in the hand, or more to be drawn; it is carried as a lack that has no unseen tiles. */
nh_natural chance_count(const struct draws *draws, const struct lack *lacks, int count) {
    unsigned kinds_unseen = 0;
    for (int i = 0; i < count; i++)
        kinds_unseen += lacks[i].unseen;
    if (kinds_unseen <= NARROW_MAX)
        return count_narrow(draws, lacks, count);
    int last = count - 1;
    while (lacks[last].unseen == 0)
        last--;
    struct lack open = lacks[last];
    nh_natural sum = natural_from(0);
    for (unsigned q = open.hard; q <= open.unseen && q <= draws->draws; q++) {
        struct lack others[PARTS * PART_KINDS];
        memcpy(others, lacks, (size_t)count * sizeof *lacks);
        uint8_t gap = (uint8_t)(q < open.missing ? open.missing - q : 0);
        others[last] = (struct lack){gap, 0, 0};
        struct draws fewer = *draws;
        fewer.unseen -= open.unseen;
        fewer.draws -= q;
        nh_natural ways = chance_count(&fewer, others, count);
        natural_add_product(&sum, &ways, choose_small(draws, open.unseen, q));
    }
    return sum;
}
