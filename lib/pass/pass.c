/* The best pass: for every set of tiles that may be passed, how near the hand is
 * on average once as many unseen tiles have come in.
 *
 * Let R be the hand without the passed tiles, c its distance, and k tiles drawn.
 * Each brings it one tile nearer at most, so only targets up to c + k - 1 away
 * can matter, and
 *
 *     E = c - Pr(at least 1 nearer) - Pr(at least 2) - Pr(at least 3).
 *
 * A draw brings the hand i nearer when it does so to some product of the list: a
 * product at c + l must come i + l nearer, and what it gains is the sum of what
 * its four families gain. Which tiles do that is in tables (gain.h); the draws of
 * all products are put together as a set (nearer.h), and its draws are counted.
 *
 * Jokers. The draws are told apart by how many jokers they have. With these the
 * hand has J in all, which its parts share out; a product is taken once for each
 * way to do so, since the best of them is the product's distance (match.c), for
 * the hand and for each draw. A family takes no more jokers than its shares have
 * use for.
 *
 * Tiles that are gone. Where jokers alone can be some tiles of a target, and
 * their number, the excess, could be more than the jokers left, a product is
 * taken once for each way to share these out too, with only those shares whose
 * excess is within their part's. */
#include "base/sort.h"
#include "base/status.h"
#include "workspace.h"

#include <string.h>

/* The question. */
struct passer {
    const nh_list *list;
    nh_workspace *workspace;
    const nh_tiles *hand;
    const nh_situation *situation;
    const uint8_t *chosen;
    unsigned count; /* tiles to be drawn */
    unsigned before;
    unsigned jokers_unseen;
    const nh_cancel *cancel;
};

/* The hand without the passed tiles. */
struct rest {
    struct query query;
    struct near_rows rows;
    unsigned away, nearest, within_one;
    size_t near_count; /* of the workspace's near products */
};

static const struct gains no_gains; /* of the family of nothing */

/* ----------------------------------------------------------------- work --- */

/* Steps of work for one hand: some seconds. */
#define PASS_WORK_MAX 500000000u

/* Steps for a product's draws that are added to a set. Tables do not count: they
 * may be remembered, and whether an answer is given must not hang on that. */
#define STEPS_ADDED 16u

static bool within_work(const struct passer *passer) {
    return passer->workspace->pass.work <= PASS_WORK_MAX && !cancel_asked(passer->cancel);
}

static void spend(const struct passer *passer, uint64_t steps) {
    passer->workspace->pass.work += steps;
}

/* ------------------------------------------------------- products, near --- */

/* One way after another to share jokers, and excess, out to the four parts of a
 * product. */
struct search {
    const struct passer *passer;
    const struct rest *rest;
    const struct product *product;
    unsigned jokers; /* held and drawn */
    unsigned tiles;  /* drawn beside jokers */
    unsigned farthest;
    bool adding;           /* draws are added; else only `nearest` is sought */
    unsigned level;        /* of the products to be added: tiles beyond `nearest` */
    unsigned nearest;      /* distance with these jokers */
    unsigned open[PARTS];  /* jokers that this part and those behind it have use for */
    uint8_t joker[PARTS];  /* how they are shared out */
    uint8_t excess[PARTS]; /* likewise, or ANY_EXCESS */
};

static const struct family *family_of(const struct search *search, int part) {
    return &search->passer->list->families[search->product->family[part]];
}

/* The most jokers for which rows have the distance. */
static unsigned known_jokers(const struct search *search) {
    return search->rest->rows.many ? search->rest->query.jokers : KERNEL_JOKERS;
}

/* A bound from below for the distance of a part's family: it is the distance up
 * to the number of jokers that rows know of. */
static unsigned least_away(const struct search *search, int part, unsigned jokers) {
    const struct near_rows *rows = &search->rest->rows;
    unsigned known = known_jokers(search);
    uint32_t number = family_number(search->passer->list, part, search->product->family[part]);
    unsigned away = near_value(rows, part, number, jokers < known ? jokers : known);
    unsigned beyond = jokers < known ? 0 : jokers - known;
    return away < beyond ? 0 : away - beyond;
}

/* Of a product at `level` only shares up to D + tiles - 1 - level matter: a gain of
 * m tiles at e and more is m - e, and level + 1 at least. */
static const struct gains *gains_of(const struct search *search, int part) {
    if (family_of(search, part)->size == 0)
        return &no_gains;
    unsigned jokers = search->joker[part], excess = search->excess[part];
    bool known = jokers <= known_jokers(search) && excess == ANY_EXCESS;
    unsigned depth = search->adding ? search->tiles - 1 - search->level : 0;
    return gains_find(&search->rest->query, &search->passer->workspace->pass.gains, part,
                      search->product->family[part], jokers, excess, depth,
                      known ? least_away(search, part, jokers) : FAR);
}

/* Takes the product with its jokers as they are shared out now. */
static void take(struct search *search, const struct gains *const gains[PARTS]) {
    unsigned away = 0;
    for (int part = 0; part < PARTS; part++)
        away += gains[part]->away;
    if (!search->adding) {
        search->nearest = away < search->nearest ? away : search->nearest;
        search->farthest = search->nearest;
        return;
    }
    if (away != search->nearest + search->level)
        return;
    struct draw_set *sets = search->passer->workspace->pass.nearer;
    spend(search->passer, (search->tiles - search->level) * STEPS_ADDED);
    for (unsigned gain = search->level + 1; gain <= search->tiles; gain++)
        draws_add(&sets[gain - search->level - 1], gains, gain, search->tiles);
}

static void share_excess(struct search *search, int part, const uint8_t most[PARTS],
                         unsigned left) {
    if (part == PARTS) {
        const struct gains *gains[PARTS];
        for (int i = 0; i < PARTS; i++)
            gains[i] = gains_of(search, i);
        take(search, gains);
        return;
    }
    unsigned all = left < most[part] ? left : most[part];
    /* the last part takes what is left */
    for (unsigned here = part == PARTS - 1 ? all : 0; here <= all; here++) {
        search->excess[part] = (uint8_t)here;
        share_excess(search, part + 1, most, left - here);
    }
}

/* All jokers are shared out, and the product is near enough without heed of the
 * excess. */
static void take_shared(struct search *search) {
    const struct gains *gains[PARTS];
    uint8_t most[PARTS];
    unsigned excess = 0;
    memset(search->excess, ANY_EXCESS, sizeof search->excess);
    for (int part = 0; part < PARTS; part++) {
        gains[part] = gains_of(search, part);
        most[part] = gains[part]->excess;
        excess += most[part];
    }
    if (excess <= search->rest->query.jokers_left)
        take(search, gains);
    else
        share_excess(search, 0, most, search->rest->query.jokers_left);
}

static void share_jokers(struct search *search, int part, unsigned left, unsigned away) {
    spend(search->passer, 1);
    if (away > search->farthest)
        return;
    if (part == PARTS) {
        take_shared(search);
        return;
    }
    unsigned behind = part + 1 < PARTS ? search->open[part + 1] : 0;
    unsigned here = search->open[part] - behind;
    unsigned least = left > behind ? left - behind : 0;
    for (unsigned jokers = least; jokers <= here && jokers <= left; jokers++) {
        search->joker[part] = (uint8_t)jokers;
        share_jokers(search, part + 1, left - jokers, away + least_away(search, part, jokers));
    }
}

static void search_product(struct search *search, uint32_t product) {
    search->product = &search->passer->list->products[product];
    unsigned open = 0;
    for (int part = PARTS; part-- > 0;) {
        open += family_of(search, part)->jokers;
        search->open[part] = open;
    }
    share_jokers(search, 0, search->jokers < open ? search->jokers : open, 0);
}

/* Goes through the products that can be `farthest` away or nearer. */
static void search_products(struct search *search, unsigned jokers_drawn) {
    const struct near_product *near = search->passer->workspace->pass.near;
    for (size_t i = 0; i < search->rest->near_count && within_work(search->passer); i++)
        if (near[i].away <= search->farthest + jokers_drawn)
            search_product(search, near[i].product);
}

/* Whether jokers can run out in products of a pattern. */
static bool runs_out(const struct rest *rest, size_t pattern) {
    const struct query *query = &rest->query;
    return query->short_of_jokers && (query->shortage == NULL || query->shortage->pattern[pattern]);
}

/* Notes the products that can be up to c + count - 1 away: without heed of
 * jokers that run out, and so maybe nearer than their pattern. */
static void find_near(const struct passer *passer, struct rest *rest) {
    struct query query = rest->query;
    nh_workspace *workspace = passer->workspace;
    struct near_product *near = workspace->pass.near;
    uint32_t *found = workspace->rank.best.products;
    rest->near_count = 0;
    query.short_of_jokers = false;
    for (size_t i = 0; i < passer->list->pattern_count; i++) {
        const struct list_pattern *pattern = &passer->list->patterns[i];
        if (workspace->away[i] >= rest->away + passer->count)
            continue;
        unsigned away = runs_out(rest, i) ? 0 : workspace->away[i];
        for (; away < rest->away + passer->count; away++) {
            for (uint32_t run = 0; run < pattern->run_count; run++) {
                size_t count = products_at(&query, &rest->rows, pattern, run, away, found);
                for (size_t k = 0; k < count; k++)
                    near[rest->near_count++] = (struct near_product){found[k], (uint8_t)away};
            }
        }
    }
}

/* ---------------------------------------------------------- expectation --- */

/* Adds the draws with `drawn` jokers: the sum of distances after them, and how
 * many are nearer than before the pass. */
static void add_draws(const struct passer *passer, const struct rest *rest, unsigned drawn,
                      nh_choice *choice) {
    struct pass_scratch *pass = &passer->workspace->pass;
    unsigned tiles = passer->count - drawn;
    struct search search = {.passer = passer, .rest = rest, .tiles = tiles};
    search.jokers = rest->query.jokers + drawn;
    search.nearest = search.farthest = rest->away;
    if (drawn > 0)
        search_products(&search, drawn);
    search.adding = true;
    for (unsigned i = 0; i < tiles; i++)
        memset(&pass->nearer[i], 0, sizeof pass->nearer[i]);
    for (search.level = 0; search.level < tiles; search.level++) {
        search.farthest = search.nearest + search.level;
        search_products(&search, drawn);
    }
    uint64_t times = draws_of(passer->jokers_unseen, drawn);
    uint64_t all = draws_of(pass->unseen.total, tiles);
    /* those at most d(H) - 1 away, from `nearest` away on */
    uint64_t nearer = search.nearest < passer->before ? all : 0;
    uint64_t sum = search.nearest * all;
    for (unsigned i = 0; i < tiles; i++) {
        uint64_t ways = draws_count(&pass->nearer[i], &pass->unseen, tiles);
        sum -= ways;
        if (search.nearest - (i + 1) + 1 == passer->before)
            nearer = ways;
    }
    choice->expected += times * sum;
    choice->nearer += times * nearer;
}

static void find_rest(const struct passer *passer, const nh_tiles *pass, struct rest *rest) {
    nh_workspace *workspace = passer->workspace;
    nh_situation situation = *passer->situation;
    nh_tiles hand = tiles_without(passer->hand, pass);
    situation.seen = tiles_with(&situation.seen, pass);
    query_set(&rest->query, passer->list, &hand, &situation, NULL);
    rest->away = find_distances(&rest->query, passer->chosen, &workspace->memo, &rest->rows,
                                workspace->away);
    query_add_bits(&rest->query);
    rest->nearest = rest->within_one = 0;
    for (size_t i = 0; i < passer->list->pattern_count; i++) {
        unsigned away = workspace->away[i];
        rest->nearest += away != NH_AWAY_NONE && away == rest->away;
        rest->within_one += away != NH_AWAY_NONE && away <= rest->away + 1;
    }
}

static void look_at(const struct passer *passer, nh_choice *choice) {
    struct rest rest;
    if (!within_work(passer))
        return;
    find_rest(passer, &choice->pass, &rest);
    choice->away = (uint8_t)rest.away;
    choice->nearest = rest.nearest;
    choice->within_one = rest.within_one;
    choice->expected = choice->nearer = 0;
    if (rest.away == NH_AWAY_NONE) {
        choice->expected = UINT64_MAX;
        return;
    }
    find_near(passer, &rest);
    for (unsigned drawn = 0; drawn <= passer->count && drawn <= passer->jokers_unseen; drawn++)
        if (passer->count - drawn <= passer->workspace->pass.unseen.total)
            add_draws(passer, &rest, drawn, choice);
}

/* --------------------------------------------------------------- passes --- */

static nh_tiles passable_of(const nh_list *list, const nh_tiles *hand) {
    nh_tiles passable = *hand;
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (list->charleston.keep.count[kind] > 0)
            passable.count[kind] = 0;
    return passable;
}

/* Lists the passes of `count` tiles from `kind` on, in order: first those with
 * as many as can be of the first kind. */
static size_t list_passes(const nh_tiles *tiles, unsigned count, int kind, nh_choice *pass,
                          nh_choice *choices, size_t listed) {
    if (count == 0) {
        choices[listed] = *pass;
        return listed + 1;
    }
    if (kind == NH_KINDS)
        return listed;
    unsigned most = tiles->count[kind] < count ? tiles->count[kind] : count;
    for (unsigned taken = most + 1; taken-- > 0;) {
        pass->pass.count[kind] = (uint8_t)taken;
        listed = list_passes(tiles, count - taken, kind + 1, pass, choices, listed);
    }
    pass->pass.count[kind] = 0;
    return listed;
}

static int pass_compare(const nh_choice *a, const nh_choice *b) {
    if (a->expected != b->expected)
        return a->expected < b->expected ? -1 : 1;
    if (a->nearer != b->nearer)
        return a->nearer > b->nearer ? -1 : 1;
    if (a->within_one != b->within_one)
        return a->within_one > b->within_one ? -1 : 1;
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (a->pass.count[kind] != b->pass.count[kind])
            return a->pass.count[kind] > b->pass.count[kind] ? -1 : 1;
    return 0;
}

static bool choice_before(const void *a, const void *b, const void *context) {
    (void)context;
    return pass_compare(a, b) < 0;
}

static void sort_choices(nh_choice *choices, size_t count) {
    sort_in_place(choices, count, sizeof *choices, choice_before, NULL);
}

/* --------------------------------------------------------- the first few --- */

/* When only the best passes are asked for, most need not be looked at: with
 * F(S) = the average of d(H - S + Q) over draws Q of as many tiles as for a whole
 * pass, F(S) <= F(P) for every S within P, since a hand without fewer tiles is
 * never farther. So a pass is left out when one of its tiles, or two, are bad
 * enough by themselves. 0 stands for what has not been worked out. */
struct bounds {
    uint64_t one[NH_KINDS];
    uint64_t two[NH_KINDS][NH_KINDS];
};

static uint64_t bound_of(const struct passer *passer, const nh_choice *pass, int without,
                         uint64_t *known) {
    if (*known == 0) {
        nh_choice part = *pass;
        part.pass.count[without]--;
        look_at(passer, &part);
        *known = part.expected;
    }
    return *known;
}

/* F of each tile by itself. */
static void find_ones(const struct passer *passer, const nh_tiles *passable,
                      struct bounds *bounds) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        nh_choice one = {.expected = 0};
        one.pass.count[kind] = passable->count[kind] > 0;
        if (one.pass.count[kind] == 0)
            continue;
        look_at(passer, &one);
        bounds->one[kind] = one.expected;
    }
}

/* Whether the pass can be among those up to `worst`. */
static bool can_be_good(const struct passer *passer, const nh_choice *pass, uint64_t worst,
                        struct bounds *bounds) {
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (pass->pass.count[kind] > 0 && bounds->one[kind] > worst)
            return false;
    for (int kind = 0; kind < NH_KINDS && passer->count == 3; kind++) {
        if (pass->pass.count[kind] == 0)
            continue;
        int pair[2], count = 0;
        for (int other = 0; other < NH_KINDS; other++)
            for (int i = other == kind; i < pass->pass.count[other]; i++)
                pair[count++] = other;
        if (bound_of(passer, pass, kind, &bounds->two[pair[0]][pair[1]]) > worst)
            return false;
    }
    return true;
}

/* Puts the choice in its place among the `count` best, of which there may be
 * `capacity`; how many there are then. */
static size_t insert_choice(nh_choice *best, size_t count, size_t capacity,
                            const nh_choice *choice) {
    if (count == capacity) {
        if (pass_compare(choice, &best[count - 1]) >= 0)
            return count;
        count--;
    }
    size_t place = count;
    for (; place > 0 && pass_compare(choice, &best[place - 1]) < 0; place--)
        best[place] = best[place - 1];
    best[place] = *choice;
    return count + 1;
}

/* All passes, of which the best are written. */
static size_t find_all(const struct passer *passer, nh_choice *all, size_t passes,
                       nh_choice *choices, size_t capacity) {
    for (size_t i = 0; i < passes; i++)
        look_at(passer, &all[i]);
    sort_choices(all, passes);
    size_t rows = passes < capacity ? passes : capacity;
    if (rows > 0 && within_work(passer))
        memcpy(choices, all, rows * sizeof *choices);
    return rows;
}

/* How a pass promises to be, from what its tiles are by themselves. */
static uint64_t promise_of(const nh_tiles *pass, const struct bounds *bounds) {
    uint64_t promise = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (pass->count[kind] > 0 && bounds->one[kind] == UINT64_MAX)
            return UINT64_MAX;
        promise += bounds->one[kind] * pass->count[kind];
    }
    return promise;
}

/* The passes that promise most are looked at first. */
static size_t find_first(const struct passer *passer, const nh_tiles *passable, nh_choice *all,
                         size_t passes, nh_choice *best, size_t capacity) {
    struct bounds bounds = {{0}, {{0}}};
    size_t count = 0;
    find_ones(passer, passable, &bounds);
    for (size_t i = 0; i < passes; i++)
        all[i].expected = promise_of(&all[i].pass, &bounds);
    sort_choices(all, passes);
    for (size_t i = 0; i < passes; i++) {
        uint64_t worst = count < capacity ? UINT64_MAX : best[count - 1].expected;
        if (!can_be_good(passer, &all[i], worst, &bounds))
            continue;
        look_at(passer, &all[i]);
        count = insert_choice(best, count, capacity, &all[i]);
    }
    return count;
}

/* ----------------------------------------------------------------- call --- */

nh_status check_passing(const struct query *query, unsigned count, nh_error *error) {
    const nh_list *list = query->list;
    int total = nh_tiles_total(&query->hand);
    if (count > NH_PASS_MAX)
        return error_set(error, NH_ERROR_ARGUMENT, 0, "a pass has 0 to %d tiles, not %u",
                         NH_PASS_MAX, count);
    if (total == 0 || total > list->most)
        return error_set(error, NH_ERROR_TILES, 0, "a hand of this list has 1 to %d tiles, not %d",
                         list->most, total);
    nh_tiles passable = passable_of(list, &query->hand);
    if ((unsigned)nh_tiles_total(&passable) < count)
        return error_set(error, NH_ERROR_TILES, 0,
                         "only %d of the hand's tiles may be passed, not %u",
                         nh_tiles_total(&passable), count);
    int unseen = nh_tiles_total(&query->left) - total;
    if ((unsigned)unseen < count)
        return error_set(error, NH_ERROR_TILES, 0, "only %d tiles are unseen: %u cannot come in",
                         unseen, count);
    return NH_OK;
}

static void set_up(struct passer *passer, const struct query *query, nh_passing *passing) {
    nh_tiles none = {{0}}, unseen = tiles_without(&query->left, passer->hand);
    struct rest rest;
    passer->workspace->pass.work = 0;
    unseen_set(&passer->workspace->pass.unseen, unseen.count);
    passer->jokers_unseen = unseen.count[NH_JOKER];
    find_rest(passer, &none, &rest);
    passer->before = rest.away;
    *passing = (nh_passing){.away = (uint8_t)rest.away};
    passing->unseen = (uint32_t)nh_tiles_total(&unseen);
    passing->draws = draws_of(passing->unseen, passer->count);
}

nh_status find_passes(nh_workspace *workspace, const nh_tiles *hand,
                      const nh_pass_question *question, nh_choice *choices, size_t capacity,
                      nh_passing *passing, nh_error *error) {
    const nh_list *list = workspace->list;
    unsigned count = (unsigned)question->tiles;
    struct query query;
    nh_status status = query_set(&query, list, hand, question->situation, error);
    if (status == NH_OK)
        status = check_passing(&query, count, error);
    if (status != NH_OK)
        return status;
    struct passer passer = {list,  workspace, hand, question->situation, question->chosen,
                            count, 0,         0,    question->cancel};
    set_up(&passer, &query, passing);
    nh_choice *all = workspace->pass.choices, pass = {.expected = 0};
    nh_tiles passable = passable_of(list, hand);
    passing->passes = list_passes(&passable, count, 0, &pass, all, 0);
    if (capacity > 0 && capacity < passing->passes && count >= 2)
        passing->rows = find_first(&passer, &passable, all, passing->passes, choices, capacity);
    else
        passing->rows = find_all(&passer, all, passing->passes, choices, capacity);
    if (within_work(&passer))
        return NH_OK;
    passing->rows = 0;
    if (cancel_asked(question->cancel))
        return cancel_error(error);
    return error_set(error, NH_ERROR_LIMIT, 0, "the passes of this hand take too much work");
}
