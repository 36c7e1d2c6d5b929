/* Chance by counting. A set of draws is described by how many tiles it takes of each
 * kind. For a kind of which n tiles are missing, h of them hard (no joker may
 * be them), and u are unseen, the draws that take q >= h of them leave a gap of
 * max(0, n - q) for jokers:
 *
 *     F(x, y) = sum over q = h .. u of C(u, q) x^q y^max(0, n - q).
 *
 * In the product of all F the coefficient of x^a y^g counts the draws of `a`
 * tiles of the lacking kinds that leave a gap of g. The other k - a draws come
 * from the rest of the unseen tiles, among them enough jokers: at least g less
 * those that the hand holds. All sums are of whole numbers: the count is exact.
 */
#include "rank/chance.h"

#include <string.h>

/* Coefficients stay below 2^63 while the lacking kinds have at most 62 unseen
 * tiles in all, since they add up to at most 2 to that number. */
#define NARROW_MAX 62
#define GAP_MAX NH_TARGET_MAX

struct polynomial {
    uint64_t at[GAP_MAX + 1][NARROW_MAX + 1]; /* [gap][tiles drawn] */
    unsigned gap, drawn;                      /* largest exponents */
};

static nh_natural choose(const struct draws *draws, unsigned n, unsigned k) {
    return k <= n ? draws->binomials[BINOMIAL(n, k)] : natural_from(0);
}

/* C(u, q), q <= u, for the at most 8 unseen tiles of a kind, or 16 jokers. */
static uint64_t choose_small(const struct draws *draws, unsigned u, unsigned q) {
    return draws->binomials[BINOMIAL(u, q)].limb[0];
}

/* Multiplies by the F of one kind, in place; terms past `draws` tiles cannot
 * count and are left out. A new coefficient is a sum over old ones with fewer
 * tiles or a smaller gap, so going down both exponents finds these untouched. */
static void multiply(struct polynomial *product, const struct draws *draws,
                     const struct lack *lack) {
    const unsigned old_gap = product->gap, old_drawn = product->drawn;
    unsigned drawn = old_drawn + lack->unseen;
    product->gap = old_gap + lack->missing - lack->hard;
    product->drawn = drawn < draws->draws ? drawn : draws->draws;
    uint64_t ways[FLOWERS_MAX + 1];
    for (unsigned q = 0; q <= lack->unseen; q++)
        ways[q] = choose_small(draws, lack->unseen, q);
    for (unsigned g = product->gap + 1; g-- > 0;) {
        for (unsigned a = product->drawn + 1; a-- > 0;) {
            uint64_t sum = 0;
            for (unsigned q = lack->hard; q <= lack->unseen && q <= a; q++) {
                unsigned gap = q < lack->missing ? lack->missing - q : 0;
                if (gap <= g && g - gap <= old_gap && a - q <= old_drawn)
                    sum += product->at[g - gap][a - q] * ways[q];
            }
            product->at[g][a] = sum;
        }
    }
}

/* Ways to draw `rest` tiles from the `others` (neither lacking kinds nor
 * jokers) and the jokers, at least `least` of them jokers. */
static nh_natural draw_rest(const struct draws *draws, unsigned others, unsigned rest,
                            unsigned least) {
    if (least == 0)
        return choose(draws, others + draws->jokers_unseen, rest);
    nh_natural sum = natural_from(0);
    for (unsigned q = least; q <= draws->jokers_unseen && q <= rest; q++)
        sum = natural_add(sum, natural_scale(choose(draws, others, rest - q),
                                             choose_small(draws, draws->jokers_unseen, q)));
    return sum;
}

static nh_natural count_narrow(const struct draws *draws, const struct lack *lacks, int count) {
    struct polynomial product;
    product.gap = product.drawn = 0;
    product.at[0][0] = 1;
    unsigned kinds_unseen = 0;
    for (int i = 0; i < count; i++) {
        multiply(&product, draws, &lacks[i]);
        kinds_unseen += lacks[i].unseen;
    }
    unsigned others = draws->unseen - draws->jokers_unseen - kinds_unseen;
    nh_natural sum = natural_from(0);
    for (unsigned g = 0; g <= product.gap; g++) {
        unsigned least = g > draws->jokers_held ? g - draws->jokers_held : 0;
        if (least > draws->jokers_unseen)
            break;
        for (unsigned a = 0; a <= product.drawn; a++) {
            /* multiply sets every coefficient up to gap and drawn */
            /* NOLINTNEXTLINE(clang-analyzer-core.*) */
            uint64_t taken = product.at[g][a];
            if (taken == 0)
                continue;
            nh_natural rest = draw_rest(draws, others, draws->draws - a, least);
            sum = natural_add(sum, natural_scale(rest, taken));
        }
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
        sum = natural_add(sum, natural_scale(chance_count(&fewer, others, count),
                                             choose_small(draws, open.unseen, q)));
    }
    return sum;
}
