/* Sharing out jokers, and where they can run out the excess, over a product. */
#include "pass/joker_splits.h"

#include <string.h>

/* The most jokers for which rows have the distance. */
static unsigned known_jokers(const struct remains *remains) {
    return remains->rows.many ? remains->query.jokers : KERNEL_JOKERS;
}

/* The highest excess of a live share that is at most `most`; -1 when there is none. */
static int highest_excess(const struct family_fits *fits, unsigned most) {
    uint32_t numbers = fits->excess & ((UINT32_C(2) << most) - 1u);
    return numbers == 0 ? -1 : 31 - __builtin_clz(numbers);
}

static void share_jokers(struct split_search *search, int part, unsigned jokers, unsigned excess,
                         unsigned away);

/* Gives a part its jokers, and each excess that it may have of the `excess` left. */
static void share_excess(struct split_search *search, int part, unsigned given, unsigned jokers,
                         unsigned excess, unsigned away) {
    const struct family_fits *fits = &search->fits[part];
    struct gains_wanted *wanted = &search->split.part[part];
    unsigned behind = search->excess[part + 1], unused = excess > behind ? excess - behind : 0;
    int here = highest_excess(fits, excess);
    bool more = true;
    while (here >= 0 && more) {
        unsigned away_here = fits_away(fits, given, (unsigned)here);
        wanted->away = (uint8_t)away_here;
        wanted->excess = (uint8_t)(fits->excess >> here == 1 ? ANY_EXCESS : (unsigned)here);
        share_jokers(search, part + 1, jokers, excess - (unsigned)here, away + away_here);
        more = (unsigned)here > unused; /* else the parts behind have all they can take */
        here = here == 0 ? -1 : highest_excess(fits, (unsigned)here - 1);
    }
}

/* Shares out what is left to the parts from `part` on. */
static void share_jokers(struct split_search *search, int part, unsigned jokers, unsigned excess,
                         unsigned away) {
    search->steps++;
    if (search->stopped || away + search->behind[part] > search->farthest)
        return;
    if (part == PARTS) {
        search->split.away = away;
        search->stopped = !search->found(search->context, &search->split);
        return;
    }
    unsigned behind = search->open[part + 1], here = search->open[part] - behind;
    struct gains_wanted *wanted = &search->split.part[part];
    for (unsigned given = jokers > behind ? jokers - behind : 0; given <= here && given <= jokers;
         given++) {
        wanted->jokers = (uint8_t)given;
        if (search->scarce) {
            share_excess(search, part, given, jokers - given, excess, away);
            continue;
        }
        wanted->away = search->away[part][given];
        wanted->excess = ANY_EXCESS;
        share_jokers(search, part + 1, jokers - given, excess, away + wanted->away);
    }
}

/* The distances of a part by its jokers; those of a scarce product ignore that they
 * run out, and are lower bounds. */
static void find_away(struct split_search *search, int part, uint32_t family) {
    const struct remains *remains = search->remains;
    const nh_list *list = remains->query.list;
    unsigned open = list->families[family].jokers, known = known_jokers(remains);
    unsigned most = open < search->jokers ? open : search->jokers;
    uint32_t number = family_number(list, part, family);
    for (unsigned jokers = 0; jokers <= most; jokers++)
        search->away[part][jokers] =
            (uint8_t)(jokers <= known ? near_value(&remains->rows, part, number, jokers)
                                      : fits_away(&search->fits[part], jokers, ANY_EXCESS));
    search->open[part] = search->open[part + 1] + open;
    search->excess[part] = search->excess[part + 1];
    if (search->scarce) /* a near product has live shares in each part */
        search->excess[part] += 31u - (unsigned)__builtin_clz(search->fits[part].excess);
    search->behind[part] = search->behind[part + 1] + search->away[part][most];
}

/* The one way without jokers. */
static void find_only_split(struct split_search *search, const struct near_product *near) {
    const struct remains *remains = search->remains;
    const struct contender *contender = &remains->contenders[near->contender];
    const nh_list *list = remains->query.list;
    search->split.away = near->away;
    search->steps++;
    for (int part = 0; part < PARTS; part++) {
        uint32_t number = contender->family[part];
        unsigned away = near_value(&remains->rows, part, number, 0);
        search->split.part[part] = (struct gains_wanted){family_numbered(list, part, number), 0,
                                                         ANY_EXCESS, (uint8_t)away};
    }
    search->stopped = !search->found(search->context, &search->split);
}

void find_splits(struct split_search *search, const struct near_product *near) {
    const struct query *query = &search->remains->query;
    const struct contender *contender = &search->remains->contenders[near->contender];
    search->scarce = near->scarce;
    search->stopped = false;
    if (search->jokers == 0 && !near->scarce) {
        find_only_split(search, near);
        return;
    }
    bool needs_fits = near->scarce || search->jokers > known_jokers(search->remains);
    if (needs_fits)
        fits_reserve(search->remains->fits);
    for (int part = PARTS; part-- > 0;) {
        uint32_t family = family_numbered(query->list, part, contender->family[part]);
        search->split.part[part].family = family;
        if (needs_fits)
            search->fits[part] = fits_find(query, search->remains->fits, part, family);
        find_away(search, part, family);
    }
    unsigned open = search->open[0];
    share_jokers(search, 0, search->jokers < open ? search->jokers : open, query->jokers_left, 0);
}
