/* Sums over a set of targets or shares. */
#include "audit/tally.h"
#include "base/binomials.h"
#include "base/natural.h"

#include <string.h>

struct tally tally_add(struct tally a, struct tally b) {
    return (struct tally){natural_add(a.targets, b.targets), natural_add(a.natural, b.natural),
                          natural_add(a.ways, b.ways)};
}

struct tally tally_multiply(struct tally a, struct tally b) {
    return (struct tally){natural_multiply(a.targets, b.targets),
                          natural_multiply(a.natural, b.natural), natural_multiply(a.ways, b.ways)};
}

void tally_need(const nh_list *list, bool honours, const uint8_t need[PART_KINDS],
                struct tally *tally) {
    uint64_t ways = 1;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        unsigned copies = COPIES;
        if (honours)
            copies = slot < PART_KINDS - 1 ? list->set.count[NH_EAST + slot] : 0;
        ways *= need[slot] > copies
                    ? 0
                    : list->binomials[BINOMIAL(copies, (unsigned)need[slot])].limb[0];
    }
    struct tally one = {natural_from(1), natural_from(ways > 0), natural_from(ways)};
    *tally = tally_add(*tally, one);
}

bool same_need(const struct share *a, const struct share *b) {
    return memcmp(a->need, b->need, PART_KINDS) == 0;
}

/* Shares of a family stand sorted by need: those that differ only in jokers
 * follow one another and count once. */
void tally_family(const nh_list *list, const struct family *family, struct tally *tally) {
    const struct share *shares = list->shares + family->first;
    for (uint32_t i = 0; i < family->count; i++)
        if (i == 0 || !same_need(&shares[i], &shares[i - 1]))
            tally_need(list, family->honours, shares[i].need, tally);
}
