/* Ranking: distances, best targets, their order. */
#include "rank/rank.h"
#include "base/memory.h"
#include "base/question.h"
#include "base/sort.h"

bool rank_scratch_init(struct rank_scratch *scratch, const nh_list *list,
                       const nh_allocator *allocator) {
    scratch->rows = memory_new(allocator, list->pattern_count, sizeof *scratch->rows);
    return best_scratch_init(&scratch->best, list, allocator) && scratch->rows != NULL;
}

void rank_scratch_free(struct rank_scratch *scratch, const nh_allocator *allocator) {
    best_scratch_free(&scratch->best);
    memory_release(allocator, scratch->rows);
}

/* -------------------------------------------------------------- order --- */

/* By what rows are sorted. */
struct order {
    const nh_list *list;
    nh_order order;
};

static int compare_worth(const nh_list *list, const struct row *a, const struct row *b) {
    double worth[2];
    const struct row *rows[] = {a, b};
    for (int i = 0; i < 2; i++) {
        const nh_pattern *pattern = &list->patterns[rows[i]->pattern].about;
        worth[i] = pattern->has_points
                       ? pattern->points * nh_natural_double(&rows[i]->best.completing)
                       : 0;
    }
    return (worth[0] < worth[1]) - (worth[0] > worth[1]);
}

/* Below 0 where row a stands before row b: more points, none last, then earlier. */
static int compare_points(const nh_list *list, const struct row *a, const struct row *b) {
    const nh_pattern *x = &list->patterns[a->pattern].about;
    const nh_pattern *y = &list->patterns[b->pattern].about;
    if (x->has_points != y->has_points)
        return x->has_points ? -1 : 1;
    if (x->has_points && x->points != y->points)
        return x->points > y->points ? -1 : 1;
    return a->pattern < b->pattern ? -1 : 1;
}

static bool row_before(const void *left, const void *right, const void *context) {
    const struct order *order = context;
    const struct row *a = left, *b = right;
    int away = (a->away > b->away) - (a->away < b->away);
    int chance = nh_natural_compare(&b->best.completing, &a->best.completing);
    int compared = order->order == NH_ORDER_AWAY    ? away
                   : order->order == NH_ORDER_WORTH ? compare_worth(order->list, a, b)
                                                    : chance;
    if (compared == 0)
        compared = chance;
    if (compared == 0)
        compared = away;
    if (compared == 0)
        compared = compare_points(order->list, a, b);
    return compared < 0;
}

/* ------------------------------------------------------------ results --- */

static void add_share(const struct query *query, const struct row *row, int part, nh_ranked *ranked,
                      nh_tiles *open) {
    const struct family *family = &query->list->families[row->best.product->family[part]];
    const struct share *share = &query->list->shares[family->first + row->best.share[part]];
    for (int slot = 0; slot < PART_KINDS; slot++) {
        int kind = part * PART_KINDS + slot;
        if (kind == NH_JOKER)
            continue;
        uint8_t need = share->need[slot], held = query->hand.count[kind];
        uint8_t kept = need < held ? need : held;
        uint8_t missing = (uint8_t)(need - kept);
        ranked->target.count[kind] = need;
        ranked->keep.count[kind] = kept;
        ranked->need.count[kind] = missing;
        open->count[kind] = missing < share->joker[slot] ? missing : share->joker[slot];
    }
}

/* The open kind that is hardest to draw: the fewest unseen tiles to spare, then
 * the fewest unseen; -1 when none is open. */
static int hardest_open(const struct query *query, const nh_ranked *ranked, const nh_tiles *open) {
    int hardest = -1, spare = 0, unseen = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        if (open->count[kind] == 0)
            continue;
        int unseen_here = query->left.count[kind] - query->hand.count[kind];
        int spare_here = unseen_here - ranked->need.count[kind];
        if (hardest < 0 || spare_here < spare || (spare_here == spare && unseen_here < unseen)) {
            hardest = kind;
            spare = spare_here;
            unseen = unseen_here;
        }
    }
    return hardest;
}

static void use_jokers(const struct query *query, nh_ranked *ranked, nh_tiles *open) {
    for (unsigned joker = 0; joker < query->jokers; joker++) {
        int kind = hardest_open(query, ranked, open);
        if (kind < 0)
            return;
        open->count[kind]--;
        ranked->need.count[kind]--;
        ranked->joked.count[kind]++;
        ranked->keep.count[NH_JOKER]++;
    }
}

static void write_row(const struct query *query, const struct draws *draws, const struct row *row,
                      nh_ranked *ranked) {
    nh_tiles open = {{0}};
    *ranked = (nh_ranked){.pattern = row->pattern, .away = row->away};
    for (int part = 0; part < PARTS; part++)
        add_share(query, row, part, ranked, &open);
    use_jokers(query, ranked, &open);
    ranked->spare = tiles_without(&query->hand, &ranked->keep);
    const struct product *product = row->best.product;
    ranked->prevailing = query->prevailing == 0 ? product->prevailing : 0;
    ranked->seat = query->seat == 0 ? product->seat : 0;
    ranked->completing = row->best.completing;
    nh_natural all = draws->binomials[BINOMIAL(draws->unseen, draws->draws)];
    ranked->chance = nh_natural_ratio(&ranked->completing, &all);
}

static struct draws draws_for(const struct query *query, unsigned most) {
    int unseen = nh_tiles_total(&query->left) - nh_tiles_total(&query->hand);
    struct draws draws = {.binomials = query->list->binomials};
    draws.unseen = (unsigned)unseen;
    draws.jokers_held = query->jokers;
    draws.jokers_unseen = query->jokers_left - query->jokers;
    draws.draws = most < draws.unseen ? most : draws.unseen;
    return draws;
}

/* Counts the live patterns by distance; returns the farthest that a row may be
 * when there is room for `capacity` rows. */
static unsigned count_live(const uint8_t *away, size_t count, size_t capacity,
                           nh_ranking *ranking) {
    size_t at[FAR] = {0};
    for (size_t i = 0; i < count; i++) {
        if (away[i] == NH_AWAY_NONE)
            continue;
        at[away[i]]++;
        ranking->live++;
    }
    if (ranking->live == 0)
        return 0;
    ranking->within_one = at[ranking->nearest] + at[ranking->nearest + 1];
    ranking->rows = ranking->live < capacity ? ranking->live : capacity;
    unsigned farthest = ranking->nearest;
    for (size_t room = at[farthest]; room < ranking->rows; room += at[farthest])
        farthest++;
    return farthest;
}

/* Fills the scratch's rows with the patterns that are near enough to be among the
 * first `capacity`; their number. Only for these is the best target sought. */
static size_t find_rows(struct query *query, const struct draws *draws,
                        const nh_rank_question *question, size_t capacity,
                        const struct rank_memory *memory, nh_ranking *ranking) {
    const nh_list *list = query->list;
    struct near_rows near;
    ranking->nearest =
        (uint8_t)find_distances(query, question->chosen, memory->rows, &near, memory->away);
    unsigned farthest = count_live(memory->away, list->pattern_count, capacity, ranking);
    if (ranking->rows == 0)
        return 0;
    if (question->order != NH_ORDER_AWAY)
        farthest = FAR; /* any pattern may be the first */
    query_add_bits(query);
    struct rank_scratch *scratch = memory->scratch;
    best_scratch_clear(&scratch->best);
    scratch->best.work = 0;
    size_t count = 0;
    for (uint32_t i = 0; i < list->pattern_count; i++) {
        if (memory->away[i] > farthest)
            continue;
        struct row *row = &scratch->rows[count++];
        row->pattern = i;
        row->away = memory->away[i];
        best_target(query, draws, &near, &list->patterns[i], row->away, &scratch->best, &row->best);
    }
    return count;
}

void rank_patterns(struct query *query, const nh_rank_question *question,
                   const struct rank_memory *memory, nh_ranked *rows, size_t capacity,
                   nh_ranking *ranking) {
    const nh_list *list = query->list;
    struct row *found = memory->scratch->rows;
    struct draws draws = draws_for(query, (unsigned)question->draws);
    *ranking = (nh_ranking){.nearest = NH_AWAY_NONE, .unseen = draws.unseen};
    ranking->draws = list->binomials[BINOMIAL(draws.unseen, draws.draws)];
    size_t count = find_rows(query, &draws, question, capacity, memory, ranking);
    sort_in_place(found, count, sizeof *found, row_before, &(struct order){list, question->order});
    for (size_t i = 0; i < ranking->rows; i++) {
        nh_ranked row;
        write_row(query, &draws, &found[i], &row);
        answer_write((char *)rows + i * question->row_size, question->row_size, &row, sizeof row);
    }
}
