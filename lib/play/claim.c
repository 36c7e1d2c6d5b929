/* Which discards of other players to claim.
 *
 * A claim for a set makes the hand nearer only by a pattern that the tile alone makes
 * nearer: with its groups less the set a target lacks no fewer tiles than the whole target
 * does of the hand with the tile. So distances of the hand with each tile, which take
 * microseconds, say which claims are worth working out, and which patterns are needed of
 * what is left of the list then. Mostly these are a few.
 *
 * What a claim gives up is looked for among the patterns that are near without it, once
 * it is known to bring the hand nearer. */
#include "play/claim.h"
#include "base/binomials.h"
#include "base/memory.h"
#include "base/question.h"
#include "base/sort.h"
#include "base/status.h"
#include "families/work.h"
#include "list/draft.h"
#include "play/check.h"
#include "play/open_rest.h"
#include "tiles/table_sets.h"

#include <string.h>

/* Steps of work for the claims of a hand: as much as a list may take to load. */
#define CLAIMS_WORK_MAX LIST_WORK_MAX

/* Steps of a rest for one of a ranking, which takes longer. */
#define STEPS_RANKED 4u

/* A hand for which claims are sought. */
struct claimer {
    const struct claim_memory *memory;
    const nh_claim_question *question;
    nh_situation situation; /* to which discards are added */
    nh_tiles hand;
    nh_tiles unseen;
    nh_claiming *claiming;
    uint8_t *before; /* distance of each pattern without a claim */
    uint8_t *with;   /* of the hand with the tile at hand */
    uint8_t *chosen; /* patterns, for the rest at hand */
    uint8_t *dead;   /* of each pattern, while what is given up is sought */
    nh_claim *claims;
    size_t count;
    struct rest_pool pool;
    uint64_t work; /* steps so far */
};

/* A set that a tile makes with tiles of the hand. */
struct open_set {
    nh_set set;
    nh_tiles hand; /* what is left of it */
    bool replaced; /* a tile is drawn for it, and none discarded */
};

/* ------------------------------------------------------- without a claim --- */

/* The query of another hand than the whole one, for which query_set cannot fail any more:
 * tiles have changed places, or come from those that are unseen. */
static void set_claim_query(const struct claimer *claimer, const nh_list *list,
                            const nh_tiles *hand, struct query *query) {
    query_set(query, list, hand, &claimer->situation, NULL);
    query->cancel = claimer->question->cancel;
}

/* The first row of a ranking; false where nothing is live. */
static bool rank_first(struct query *query, int draws, const struct rank_memory *memory,
                       nh_ranked *row, nh_ranking *ranking) {
    nh_rank_question question = NH_RANK_QUESTION;
    question.draws = draws;
    rank_patterns(query, &question, memory, row, 1, ranking);
    return ranking->rows > 0;
}

/* The discard that is asked about is gone then. */
static nh_status rank_without(struct claimer *claimer, nh_error *error) {
    const struct claim_memory *memory = claimer->memory;
    nh_claiming *claiming = claimer->claiming;
    nh_situation situation = claimer->situation;
    int tile = claimer->question->tile;
    struct query query;
    nh_ranked row;
    nh_ranking ranking;
    if (tile != NH_CLAIM_ANY && situation.seen.count[tile] < UINT8_MAX)
        situation.seen.count[tile]++;
    nh_status status = query_set(&query, memory->list, &claimer->hand, &situation, error);
    if (status != NH_OK)
        return status;
    query.cancel = claimer->question->cancel;
    claimer->unseen = tiles_without(&query.left, &claimer->hand);
    if (tile != NH_CLAIM_ANY)
        claimer->unseen.count[tile]++;
    bool live = rank_first(&query, claimer->question->draws, &memory->rank, &row, &ranking);
    memcpy(claimer->before, memory->rank.away, memory->list->pattern_count);
    *claiming =
        (nh_claiming){.away = ranking.nearest, .draws = ranking.draws, .unseen = ranking.unseen};
    if (live) {
        claiming->pattern = row.pattern;
        claiming->chance = row.chance;
        claiming->completing = row.completing;
    }
    if (ranking.unseen > 0 || tile != NH_CLAIM_ANY) {
        unsigned left = tile == NH_CLAIM_ANY ? ranking.unseen - 1 : ranking.unseen;
        unsigned draws = (unsigned)claimer->question->draws;
        draws = draws < left ? draws : left;
        claiming->claim_draws = memory->list->binomials[BINOMIAL(left, draws)];
    }
    return NH_OK;
}

/* ------------------------------------------------------------------ wins --- */

static nh_claim claim_of(const struct claimer *claimer, int kind) {
    return (nh_claim){
        .kind = (uint8_t)kind, .discard = NH_KINDS, .copies = claimer->unseen.count[kind]};
}

/* `query` is that of the hand with the tile. */
static nh_status add_win(struct claimer *claimer, struct query *query, int kind, nh_error *error) {
    const struct rank_memory *memory = &claimer->memory->rank;
    nh_check_question question = NH_CHECK_QUESTION;
    nh_completed row = {.pattern = 0};
    nh_checking checking;
    nh_status status =
        check_hand(query, &question, memory->rows, memory->away, &row, 1, &checking, error);
    if (status != NH_OK || checking.completed == 0)
        return status;
    nh_claim claim = claim_of(claimer, kind);
    claim.use = NH_CLAIM_WIN;
    claim.pattern = row.pattern;
    claim.chance = 1;
    claim.completing = claimer->claiming->claim_draws;
    claim.worth = true;
    claimer->claims[claimer->count++] = claim;
    return NH_OK;
}

/* ------------------------------------------------------------------ sets --- */

/* Tiles alike: naturals of the hand first, then jokers. */
static bool open_alike(const struct claimer *claimer, int kind, int shape, struct open_set *open) {
    const nh_list *list = claimer->memory->list;
    int naturals = claimer->hand.count[kind];
    naturals = naturals < shape - 1 ? naturals : shape - 1;
    int jokers = shape - 1 - naturals;
    if (!rules_allow(&list->draft->play, shape) || jokers > claimer->hand.count[NH_JOKER])
        return false;
    open->set = (nh_set){(uint8_t)shape, (uint8_t)kind, (uint8_t)shape, (uint8_t)jokers};
    open->hand = claimer->hand;
    open->hand.count[kind] = (uint8_t)(open->hand.count[kind] - naturals);
    open->hand.count[NH_JOKER] = (uint8_t)(open->hand.count[NH_JOKER] - jokers);
    open->replaced = shape == NH_KONG && list->most > list->hand;
    return true;
}

/* A chow from `first` on, with the tile `kind` in it, of naturals. */
static bool open_chow(const struct claimer *claimer, int kind, int first, struct open_set *open) {
    if (!claimer->memory->list->draft->play.chow || kind >= NH_EAST ||
        first / PART_KINDS != kind / PART_KINDS || !chow_begins_at(first))
        return false;
    open->hand = claimer->hand;
    for (int i = first; i < first + 3; i++) {
        if (i == kind)
            continue;
        if (open->hand.count[i] == 0)
            return false;
        open->hand.count[i]--;
    }
    open->set = (nh_set){NH_CHOW, (uint8_t)first, 3, 0};
    open->replaced = false;
    return true;
}

/* What is left of the chosen patterns with the set open. */
static nh_status make_rest(struct claimer *claimer, const struct open_set *open,
                           struct open_rest *rest, nh_error *error) {
    const struct claim_memory *memory = claimer->memory;
    nh_status status = open_rest_make(rest, memory->list, &open->set, claimer->chosen,
                                      &claimer->pool, memory->allocator, error);
    claimer->work += claimer->pool.pool.all_work + claimer->pool.pool.work;
    if (status == NH_OK && claimer->work > CLAIMS_WORK_MAX)
        return error_set(error, NH_ERROR_LIMIT, 0, "the claims of this hand take too much work");
    return status;
}

/* -------------------------------------------------------------- discards --- */

/* What is left of the hand with one discard, or none. */
struct after {
    uint8_t discard;
    bool live;
    unsigned away;
    nh_ranked row;
};

static void look_at(struct claimer *claimer, const struct open_set *open,
                    const struct open_rest *rest, int discard, struct query *query) {
    nh_tiles hand = open->hand;
    nh_tiles seen = claimer->situation.seen;
    if (discard < NH_KINDS) {
        hand.count[discard]--;
        claimer->situation.seen.count[discard]++;
    }
    set_claim_query(claimer, rest->list, &hand, query);
    claimer->situation.seen = seen;
}

/* The best of the discards that leave the hand nearest. */
static void rank_discards(struct claimer *claimer, const struct open_set *open,
                          struct open_rest *rest, const uint8_t away[NH_KINDS],
                          struct after *best) {
    for (int kind = 0; kind < NH_JOKER; kind++) {
        struct query query;
        nh_ranked row;
        nh_ranking ranking;
        if (away[kind] != best->away)
            continue;
        look_at(claimer, open, rest, kind, &query);
        rank_first(&query, claimer->question->draws, &rest->memory, &row, &ranking);
        claimer->work += STEPS_RANKED * rest->scratch.best.work;
        if (best->live && nh_natural_compare(&row.completing, &best->row.completing) <= 0)
            continue;
        best->live = true;
        best->discard = (uint8_t)kind;
        best->row = row;
    }
}

/* Only those that leave it nearer than `below` are looked at. */
static void best_discard(struct claimer *claimer, const struct open_set *open,
                         struct open_rest *rest, unsigned below, struct after *best) {
    uint8_t away[NH_KINDS];
    memset(away, NH_AWAY_NONE, sizeof away);
    best->away = NH_AWAY_NONE;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        struct query query;
        struct near_rows near;
        if (open->hand.count[kind] == 0)
            continue;
        look_at(claimer, open, rest, kind, &query);
        away[kind] = (uint8_t)find_distances(&query, NULL, &rest->rows, &near, rest->away);
        best->away = away[kind] < best->away ? away[kind] : best->away;
    }
    if (best->away < below)
        rank_discards(claimer, open, rest, away, best);
}

static void rank_replaced(struct claimer *claimer, const struct open_set *open,
                          struct open_rest *rest, struct after *best) {
    struct query query;
    nh_ranking ranking;
    look_at(claimer, open, rest, NH_KINDS, &query);
    best->discard = NH_KINDS;
    best->live = rank_first(&query, claimer->question->draws, &rest->memory, &best->row, &ranking);
    best->away = ranking.nearest;
}

/* -------------------------------------------------------------- given up --- */

/* Patterns at most one tile farther than the nearest. */
static bool is_near(const struct claimer *claimer, size_t pattern) {
    return claimer->before[pattern] < NH_AWAY_NONE &&
           claimer->before[pattern] <= claimer->claiming->away + 1;
}

/* Writes the dead ones of a kind, concealed or not, that are `away`. */
static void name_given_up(const struct claimer *claimer, bool concealed, unsigned away,
                          nh_claim *claim) {
    const nh_list *list = claimer->memory->list;
    for (uint32_t i = 0; i < list->pattern_count; i++) {
        if (!is_near(claimer, i) || claimer->dead[i] == 0 || claimer->before[i] != away ||
            list->patterns[i].about.concealed != concealed)
            continue;
        if (claim->given_up_count < NH_GIVEN_UP_MAX)
            claim->given_up[claim->given_up_count] = i;
        claim->given_up_count++;
    }
}

/* The distances of the patterns of a rest once the claim is made. */
static void find_after(struct claimer *claimer, const struct open_set *open, struct open_rest *rest,
                       const nh_claim *claim) {
    struct query query;
    struct near_rows near;
    look_at(claimer, open, rest, claim->discard, &query);
    find_distances(&query, NULL, &rest->rows, &near, rest->away);
}

/* `rest` has the patterns that come nearer; of the other near ones that are not concealed
 * another is worked out. */
static nh_status find_given_up(struct claimer *claimer, const struct open_set *open,
                               struct open_rest *rest, nh_claim *claim, nh_error *error) {
    const nh_list *list = claimer->memory->list;
    unsigned nearest = claimer->claiming->away;
    nh_status status = NH_OK;
    bool any = false;
    find_after(claimer, open, rest, claim);
    for (size_t i = 0; i < list->pattern_count; i++) {
        claimer->dead[i] = is_near(claimer, i) && rest->away[i] == NH_AWAY_NONE;
        claimer->chosen[i] =
            claimer->dead[i] && claimer->chosen[i] == 0 && !list->patterns[i].about.concealed;
        any = any || claimer->chosen[i] != 0;
    }
    if (any) {
        struct open_rest other;
        status = make_rest(claimer, open, &other, error);
        if (status == NH_OK)
            find_after(claimer, open, &other, claim);
        for (size_t i = 0; status == NH_OK && i < list->pattern_count; i++)
            claimer->dead[i] &= other.away[i] == NH_AWAY_NONE;
        open_rest_free(&other);
    }
    for (int way = 0; way < 4 && status == NH_OK; way++)
        name_given_up(claimer, way < 2, nearest + (unsigned)way % 2, claim);
    return status;
}

/* ----------------------------------------------------------------- worth --- */

/* Whether a claim's chance a / C(u - 1, k) is larger than b / C(u, k) without it. As
 * C(u, k) = C(u - 1, k) u / (u - k), that is a u > b (u - k); where all unseen tiles are
 * drawn both numbers of draws are 1. They are the same where the tile is gone without
 * the claim. */
static bool is_worth(const struct claimer *claimer, const nh_natural *completing) {
    const nh_claiming *claiming = claimer->claiming;
    unsigned unseen = claiming->unseen, draws = (unsigned)claimer->question->draws;
    if (draws >= unseen || claimer->question->tile != NH_CLAIM_ANY)
        return nh_natural_compare(completing, &claiming->completing) > 0;
    nh_natural with = natural_scale(*completing, unseen);
    nh_natural without = natural_scale(claiming->completing, unseen - draws);
    return nh_natural_compare(&with, &without) > 0;
}

static nh_status add_set_claims(struct claimer *claimer, int kind, const struct open_set *open,
                                nh_error *error) {
    struct open_rest rest;
    struct after best = {.live = false};
    nh_status status = make_rest(claimer, open, &rest, error);
    if (status == NH_OK && open->replaced)
        rank_replaced(claimer, open, &rest, &best);
    else if (status == NH_OK)
        best_discard(claimer, open, &rest, claimer->claiming->away, &best);
    if (best.live && best.away < claimer->claiming->away) {
        nh_claim claim = claim_of(claimer, kind);
        claim.use = open->set.shape;
        claim.set = open->set;
        claim.away = (uint8_t)best.away;
        claim.discard = best.discard;
        claim.pattern = best.row.pattern;
        claim.chance = best.row.chance;
        claim.completing = best.row.completing;
        claim.worth = is_worth(claimer, &claim.completing);
        if (!claimer->question->leave_out_given_up)
            status = find_given_up(claimer, open, &rest, &claim, error);
        claimer->claims[claimer->count++] = claim;
    }
    open_rest_free(&rest);
    return status;
}

/* Chooses the patterns that the tile makes nearer than the hand is without it; false if
 * there are none for which a set may lie open. */
static bool choose_nearer(struct claimer *claimer) {
    const nh_list *list = claimer->memory->list;
    bool any = false;
    for (size_t i = 0; i < list->pattern_count; i++) {
        claimer->chosen[i] =
            claimer->with[i] < claimer->claiming->away && !list->patterns[i].about.concealed;
        any = any || claimer->chosen[i] != 0;
    }
    return any;
}

static nh_status add_claims_of(struct claimer *claimer, int kind, nh_error *error) {
    const struct claim_memory *memory = claimer->memory;
    nh_tiles hand = claimer->hand;
    struct query query;
    struct open_set open;
    hand.count[kind]++;
    set_claim_query(claimer, memory->list, &hand, &query);
    nh_status status = add_win(claimer, &query, kind, error);
    if (status != NH_OK || memory->list->set_count == NH_SETS_MAX)
        return status;
    memcpy(claimer->with, memory->rank.away, memory->list->pattern_count); /* by add_win */
    for (int shape = NH_PUNG; shape <= NH_SEXTET + 3 && status == NH_OK; shape++) {
        bool can = shape <= NH_SEXTET
                       ? open_alike(claimer, kind, shape, &open)
                       : open_chow(claimer, kind, kind - shape + NH_SEXTET + 1, &open);
        if (can && cancel_asked(claimer->question->cancel))
            return cancel_error(error);
        if (can && choose_nearer(claimer))
            status = add_set_claims(claimer, kind, &open, error);
    }
    return status;
}

/* ------------------------------------------------------------------ call --- */

/* Wins first; then the higher chance, notation, the size of the set. A chow comes behind,
 * from the lowest rank on. */
static bool claim_before(const void *left, const void *right, const void *context) {
    const nh_claim *a = left, *b = right;
    (void)context;
    bool a_wins = a->use == NH_CLAIM_WIN, b_wins = b->use == NH_CLAIM_WIN;
    if (a_wins != b_wins)
        return a_wins;
    int chance = nh_natural_compare(&a->completing, &b->completing);
    if (chance != 0)
        return chance > 0;
    if (a->kind != b->kind)
        return a->kind < b->kind;
    return a->use != b->use ? a->use < b->use : a->set.kind < b->set.kind;
}

static nh_status work_out(struct claimer *claimer, nh_error *error) {
    nh_status status = rank_without(claimer, error);
    int tile = claimer->question->tile;
    for (int kind = 0; kind < NH_JOKER && status == NH_OK; kind++)
        if (claimer->unseen.count[kind] > 0 && (tile == NH_CLAIM_ANY || tile == kind))
            status = add_claims_of(claimer, kind, error);
    if (status == NH_OK && cancel_asked(claimer->question->cancel))
        status = cancel_error(error);
    return status;
}

nh_status find_claims(const struct claim_memory *memory, const nh_tiles *hand,
                      const nh_claim_question *question, nh_claim *claims, size_t capacity,
                      nh_claiming *claiming, nh_error *error) {
    size_t patterns = memory->list->pattern_count;
    struct claimer claimer = {.memory = memory,
                              .question = question,
                              .situation = *question->situation,
                              .hand = *hand,
                              .claiming = claiming};
    uint8_t *bytes = memory_new(memory->allocator, 4 * patterns, 1);
    claimer.claims = memory_new_raw(memory->allocator, NH_CLAIMS_MAX, sizeof *claimer.claims);
    nh_status status = NH_OK;
    if (bytes == NULL || claimer.claims == NULL) {
        status = error_set(error, NH_ERROR_MEMORY, 0, "%s", nh_status_text(NH_ERROR_MEMORY));
    } else {
        claimer.before = bytes;
        claimer.chosen = bytes + patterns;
        claimer.dead = bytes + 2 * patterns;
        claimer.with = bytes + 3 * patterns;
        status = work_out(&claimer, error);
    }
    if (status == NH_OK) {
        sort_in_place(claimer.claims, claimer.count, sizeof *claimer.claims, claim_before, NULL);
        claiming->claims = claimer.count;
        claiming->rows = claimer.count < capacity ? claimer.count : capacity;
        for (size_t i = 0; i < claiming->rows; i++)
            answer_write((char *)claims + i * question->claim_size, question->claim_size,
                         &claimer.claims[i], sizeof *claimer.claims);
    }
    rest_pool_free(&claimer.pool);
    memory_release(memory->allocator, bytes);
    memory_release(memory->allocator, claimer.claims);
    return status;
}
