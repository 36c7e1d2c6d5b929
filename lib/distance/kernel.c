/* The inner loops of the matcher in plain C, and the choice of kernels. What
 * they compute is said in kernel.h. */
#include "distance/kernel.h"

int most_common_portable(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                         uint64_t dead) {
    int most = -1;
    for (size_t i = 0; i < count; i++) {
        int common = (hard[i] & dead) != 0 ? -1 : (int)bit_count(bits[i] & have);
        most = common > most ? common : most;
    }
    return most;
}

size_t find_common_portable(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                            uint64_t dead, int common, uint32_t *found) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        found[kept] = (uint32_t)i;
        kept += (hard[i] & dead) == 0 && (int)bit_count(bits[i] & have) == common;
    }
    return kept;
}

void least_lacking_portable(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                            uint64_t dead, unsigned size, uint8_t least[KERNEL_JOKERS + 1]) {
    for (unsigned j = 0; j <= KERNEL_JOKERS; j++)
        least[j] = FAR;
    for (size_t i = 0; i < count; i++) {
        if ((hard[i] & dead) != 0)
            continue;
        unsigned missing = size - bit_count(bits[i] & have);
        unsigned open = missing - bit_count(hard[i] & ~have);
        for (unsigned j = 0; j <= KERNEL_JOKERS; j++) {
            unsigned lacking = missing - (open < j ? open : j);
            least[j] = (uint8_t)(lacking < least[j] ? lacking : least[j]);
        }
    }
}

size_t find_lacking_portable(const uint64_t *bits, const uint64_t *hard, size_t count,
                             uint64_t have, uint64_t dead, unsigned size, unsigned jokers,
                             unsigned farthest, uint32_t *found) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        unsigned missing = size - bit_count(bits[i] & have);
        found[kept] = (uint32_t)i;
        kept += missing <= farthest + jokers && (hard[i] & dead) == 0 &&
                bit_count(hard[i] & ~have) <= farthest;
    }
    return kept;
}

/* Which of the first three jokers bring two parts nearer together: bit j of the number of a
 * part is set when its joker j + 1 does, as in the three high bits of a row's bytes. The
 * most that i jokers in one part and j - i in the other bring, over all i, is one more than
 * the most for j - 1 or the same, so three bits say it again. */
static const uint8_t joined[8][8] = {{0, 1, 2, 3, 4, 5, 6, 7}, {1, 3, 5, 7, 1, 3, 5, 7},
                                     {2, 5, 2, 3, 2, 5, 6, 7}, {3, 7, 3, 7, 3, 7, 3, 7},
                                     {4, 1, 2, 3, 4, 5, 6, 7}, {5, 3, 5, 7, 5, 3, 5, 7},
                                     {6, 5, 6, 3, 6, 5, 6, 7}, {7, 7, 7, 7, 7, 7, 7, 7}};

/* The distance of a product with up to KERNEL_JOKERS jokers, which bring it as much nearer
 * as there are among them that do so. */
static unsigned away_with_few_jokers(const uint16_t family[PARTS], const struct near_rows *rows,
                                     unsigned jokers) {
    unsigned away = 0, nearer = 0;
    for (int part = 0; part < PARTS; part++) {
        unsigned byte = rows->row[part][family[part]];
        away += byte & NEAR_BITS;
        nearer = joined[nearer][byte >> 5];
    }
    nearer &= (1u << jokers) - 1u;
    return away - (nearer & 1u) - (nearer >> 1 & 1u) - (nearer >> 2);
}

/* Takes the best way to share `jokers` jokers out to the four parts. */
unsigned away_of_product(const uint16_t family[PARTS], const struct near_rows *rows,
                         unsigned jokers) {
    if (!rows->many)
        return away_with_few_jokers(family, rows, jokers);
    unsigned best[JOKERS_MAX + 1] = {0};
    for (int part = 0; part < PARTS; part++) {
        unsigned away[JOKERS_MAX + 1];
        for (unsigned j = 0; j <= jokers; j++)
            away[j] = near_value(rows, part, family[part], j);
        for (unsigned j = jokers + 1; j-- > 0;) {
            unsigned least = best[j] + away[0];
            for (unsigned here = 1; here <= j; here++)
                if (best[j - here] + away[here] < least)
                    least = best[j - here] + away[here];
            best[j] = least;
        }
    }
    return best[jokers];
}

static unsigned least_without_jokers(const struct lanes *lanes, size_t first, size_t count,
                                     const struct near_rows *rows) {
    unsigned least = FAR;
    for (size_t i = first; i < first + count; i++) {
        unsigned away = away_without_jokers(lanes->together[i], rows);
        least = away < least ? away : least;
    }
    return least;
}

unsigned least_away_portable(const struct lanes *lanes, size_t first, size_t count,
                             const struct near_rows *rows, unsigned jokers) {
    if (jokers == 0)
        return least_without_jokers(lanes, first, count, rows);
    unsigned least = FAR;
    for (size_t i = first; i < first + count; i++) {
        /* each joker brings one tile at most */
        if (away_without_jokers(lanes->together[i], rows) >= least + jokers)
            continue;
        unsigned away = away_of_product(lanes->together[i], rows, jokers);
        least = away < least ? away : least;
    }
    return least;
}

size_t find_away_portable(const struct lanes *lanes, size_t first, size_t count,
                          const struct near_rows *rows, unsigned jokers, unsigned away,
                          uint32_t *found) {
    size_t kept = 0;
    for (size_t i = first; i < first + count; i++) {
        unsigned plainly = away_without_jokers(lanes->together[i], rows);
        if (plainly < away || plainly > away + jokers)
            continue;
        if (jokers == 0 || away_of_product(lanes->together[i], rows, jokers) == away)
            found[kept++] = (uint32_t)i;
    }
    return kept;
}

static const struct kernels portable = {"portable",
                                        most_common_portable,
                                        find_common_portable,
                                        least_lacking_portable,
                                        find_lacking_portable,
                                        least_away_portable,
                                        find_away_portable};

#if !defined(KERNELS_X86) && !defined(KERNELS_NEON)
const struct kernels *kernels_of_processor(int index) {
    (void)index;
    return NULL;
}
#endif

const struct kernels *kernels_at(int index) {
    return index == 0 ? &portable : kernels_of_processor(index - 1);
}

const struct kernels *kernels_best(void) {
    const struct kernels *best = kernels_at(0);
    for (int i = 1; kernels_at(i) != NULL; i++)
        best = kernels_at(i);
    return best;
}

/* From so many families on the widest kernel's look-ups cost more than loads. */
#define FAMILIES_FOR_WIDE 2048

const struct kernels *kernels_for_families(size_t families) {
    return families < FAMILIES_FOR_WIDE ? kernels_best() : kernels_at(0);
}
