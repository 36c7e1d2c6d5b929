/* The fits of families, and the distance of a product where jokers can run out. */
#include "distance/family_fits.h"

#include <string.h>

#define BUCKET_BITS 10
#define FITS_SLOTS ((size_t)BUCKET << BUCKET_BITS)

/* Numbers of missing tiles, and of excess, that a share can have; with each pair of
 * them one fit is the best. */
#define NUMBERS (NH_TARGET_MAX + 1)
#define FAMILY_FITS_MAX ((size_t)NUMBERS * NUMBERS)
#define FITS_MAX ((size_t)1 << 15)

bool fits_memo_init(struct fits_memo *memo, const nh_list *list, const nh_allocator *allocator) {
    *memo = (struct fits_memo){.allocator = *allocator};
    if (list->set.count[NH_JOKER] == 0)
        return true;
    memo->tags = memory_new(allocator, FITS_SLOTS, sizeof *memo->tags);
    memo->slots = memory_new_raw(allocator, FITS_SLOTS, sizeof *memo->slots);
    memo->fits = memory_new_raw(allocator, FITS_MAX, sizeof *memo->fits);
    return memo->tags != NULL && memo->slots != NULL && memo->fits != NULL;
}

void fits_memo_free(struct fits_memo *memo) {
    memory_release(&memo->allocator, memo->tags);
    memory_release(&memo->allocator, memo->slots);
    memory_release(&memo->allocator, memo->fits);
}

void fits_forget(struct fits_memo *memo) {
    if (memo->tags != NULL)
        memset(memo->tags, 0, FITS_SLOTS * sizeof *memo->tags);
    memo->used = 0;
    memo->turn = 0;
}

void fits_reserve(struct fits_memo *memo) {
    if (memo->used + PARTS * FAMILY_FITS_MAX > FITS_MAX)
        fits_forget(memo);
}

/* ---------------------------------------------------------- of a family --- */

/* For each number of missing tiles and each excess the fewest closed ones of a
 * live share; FAR where there is no such share. */
struct fewest {
    uint8_t closed[NUMBERS][NUMBERS]; /* [missing][excess] */
    uint32_t excess;
    unsigned most_missing, most_excess;
};

static void find_fewest(const struct query *query, int part, const struct family *family,
                        struct fewest *fewest) {
    memset(fewest->closed, FAR, sizeof fewest->closed);
    fewest->excess = fewest->most_missing = fewest->most_excess = 0;
    const uint64_t *bits = query->list->bits + family->first;
    const uint64_t *hard = query->list->hard + family->first;
    uint64_t have = query->have[part], live = query->live[part];
    for (uint32_t i = 0; i < family->count; i++) {
        if ((hard[i] & ~live) != 0)
            continue;
        unsigned missing = family->size - bit_count(bits[i] & have);
        unsigned excess = family->size - bit_count(bits[i] & live);
        unsigned closed = bit_count(hard[i] & ~have);
        uint8_t *least = &fewest->closed[missing][excess];
        *least = (uint8_t)(closed < *least ? closed : *least);
        fewest->excess |= 1u << excess;
        fewest->most_missing = missing > fewest->most_missing ? missing : fewest->most_missing;
        fewest->most_excess = excess > fewest->most_excess ? excess : fewest->most_excess;
    }
}

/* Writes the fits that none of those with fewer missing tiles or less excess
 * beats; their number. */
static uint32_t keep_unbeaten(const struct fewest *fewest, struct fit *fits) {
    uint8_t least[NUMBERS]; /* closed tiles, with so many missing or fewer and the excess so far */
    uint32_t count = 0;
    memset(least, FAR, sizeof least);
    for (unsigned excess = 0; excess <= fewest->most_excess; excess++) {
        unsigned before = FAR; /* likewise, with fewer missing */
        for (unsigned missing = 0; missing <= fewest->most_missing; missing++) {
            unsigned closed = fewest->closed[missing][excess];
            before = least[missing] < before ? least[missing] : before;
            if (closed < before) {
                fits[count++] = (struct fit){(uint8_t)missing, (uint8_t)(missing - closed),
                                             (uint8_t)excess, true};
                before = closed;
            }
            least[missing] = (uint8_t)before;
        }
    }
    return count;
}

struct family_fits fits_find(const struct query *query, struct fits_memo *memo, int part,
                             uint32_t family) {
    struct tag wanted = {query->have[part], query->live[part]};
    wanted.key |= (uint64_t)family << 36 | TAG_USED;
    size_t bucket = tag_bucket(&wanted, BUCKET_BITS), slot = bucket;
    for (; slot < bucket + BUCKET && memo->tags[slot].key != 0; slot++)
        if (tags_equal(&memo->tags[slot], &wanted))
            return memo->slots[slot];
    if (slot == bucket + BUCKET)
        slot = bucket + memo->turn++ % BUCKET;
    struct fewest fewest;
    struct fit *fits = memo->fits + memo->used;
    find_fewest(query, part, &query->list->families[family], &fewest);
    memo->slots[slot] = (struct family_fits){fits, keep_unbeaten(&fewest, fits), fewest.excess};
    memo->used += memo->slots[slot].count;
    memo->work += query->list->families[family].count;
    memo->tags[slot] = wanted;
    return memo->slots[slot];
}

unsigned fits_away(const struct family_fits *fits, unsigned jokers, unsigned excess) {
    unsigned least = FAR;
    for (uint32_t i = 0; i < fits->count; i++) {
        const struct fit *fit = &fits->fits[i];
        unsigned away = fit->missing - (fit->open < jokers ? fit->open : jokers);
        least = fit->excess <= excess && away < least ? away : least;
    }
    return least;
}

/* ---------------------------------------------------------- of a product --- */

/* One fit of each part is put together with one of each other, part by part, as
 * long as they can come nearer than `nearest`. What the parts so far lack together
 * and each further part lacks at least is a bound, since min(J, a + b) is at most
 * min(J, a) + min(J, b). */
struct joining {
    const struct query *query;
    const struct family_fits *fits;
    unsigned behind[PARTS + 1]; /* the least that the parts from here on add */
    unsigned bound, nearest;
};

static void join_fits(struct joining *joining, int part, struct fit sum) {
    unsigned jokers = joining->query->jokers;
    unsigned away = sum.missing - (sum.open < jokers ? sum.open : jokers) + joining->behind[part];
    if (sum.excess > joining->query->jokers_left || away >= joining->nearest)
        return;
    if (part == PARTS) {
        joining->nearest = away;
        return;
    }
    const struct family_fits *fits = &joining->fits[part];
    for (uint32_t i = 0; i < fits->count && joining->nearest > joining->bound; i++) {
        const struct fit *fit = &fits->fits[i];
        struct fit next = {(uint8_t)(sum.missing + fit->missing), (uint8_t)(sum.open + fit->open),
                           (uint8_t)(sum.excess + fit->excess), true};
        join_fits(joining, part + 1, next);
    }
}

unsigned fits_away_together(const struct query *query, const struct family_fits fits[PARTS],
                            const unsigned least[PARTS], unsigned bound, unsigned nearest) {
    struct joining joining = {query, fits, {0}, bound, nearest};
    for (int part = PARTS - 1; part >= 0; part--)
        joining.behind[part] = joining.behind[part + 1] + least[part];
    join_fits(&joining, 0, (struct fit){0, 0, 0, true});
    return joining.nearest;
}
