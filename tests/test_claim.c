/*
 * Claims and exchanges on random lists with sets on the table, in two ways. Every claim
 * of a hand is worked out straight: each tile, each set, each discard, by nh_list_rest and
 * nh_rank (which test_rests and test_reference hold against listing).
 * And some claims of each hand the plain way, by rests that are listed. NEARHAND_SEED
 * chooses the lists, NEARHAND_TRIES how many.
 */
#define _DEFAULT_SOURCE /* mkstemp */
#include "listed_rests.h"
#include "many_ways_list.h"

#include "api.h"
#include "ask.h"
#include "sharing.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LISTS = 20, PATTERNS = 3, TABLES = 4, HANDS = 12, PLAIN_SETS = 1 };

static struct {
    long hands, wins, sets, chows, kongs, jokers, worthless, given_up, plain, exchanges, nearer;
    long won;
    long tiles, last; /* last: of a tile without which the hand is farther away */
} done;

/* ----------------------------------------------------------------- lists --- */

/* A list with rules of play before its other keys. */
static char *with_rules(random_source *source, char *json) {
    static const char *const shapes[] = {"pung", "kong", "quint", "sextet", "chow"};
    char rules[200];
    size_t length = (size_t)snprintf(rules, sizeof rules, "{\"play\":{\"claims\":[");
    const char *between = "";
    for (int i = 0; i < 5; i++) {
        if (random_percent(source, 75)) {
            length += (size_t)snprintf(rules + length, sizeof rules - length, "%s\"%s\"", between,
                                       shapes[i]);
            between = ",";
        }
    }
    length += (size_t)snprintf(rules + length, sizeof rules - length, "]},");
    ck_assert_int_eq(json[0], '{');
    char *whole = malloc(length + strlen(json));
    ck_assert_ptr_nonnull(whole);
    memcpy(whole, rules, length);
    memcpy(whole + length, json + 1, strlen(json));
    free(json);
    return whole;
}

/* ------------------------------------------------------------- candidates --- */

/* A set that a tile makes with tiles of a hand, and what is left of the hand. */
typedef struct candidate {
    int kind;
    nh_set set;
    nh_tiles hand;
    bool replaced;
} candidate;

static bool rules_let(const nh_play_rules *rules, int shape) {
    const bool lets[] = {rules->pung, rules->kong, rules->quint, rules->sextet};
    return lets[shape - NH_PUNG];
}

static size_t list_candidates(const nh_list *list, const nh_tiles *hand, int kind,
                              candidate all[8]) {
    const nh_play_rules *rules = nh_list_play(list);
    size_t count = 0, sets;
    nh_list_sets(list, &sets);
    if (sets == NH_SETS_MAX) {
        return 0;
    }
    for (int shape = NH_PUNG; shape <= NH_SEXTET; shape++) {
        candidate one = {kind, {(uint8_t)shape, (uint8_t)kind, (uint8_t)shape, 0}, *hand, false};
        int left = shape - 1;
        for (; left > 0 && one.hand.count[kind] > 0; left--) {
            one.hand.count[kind]--;
        }
        for (; left > 0 && one.hand.count[NH_JOKER] > 0; left--) {
            one.hand.count[NH_JOKER]--;
            one.set.jokers++;
        }
        one.replaced = shape == NH_KONG && nh_list_hand_most(list) > nh_list_hand_size(list);
        if (left == 0 && rules_let(rules, shape)) {
            all[count++] = one;
        }
    }
    for (int place = 0; place < 3 && rules->chow && kind < NH_EAST; place++) {
        const int first = kind - place;
        candidate one = {kind, {NH_CHOW, (uint8_t)first, 3, 0}, *hand, false};
        bool can = first >= 0 && first / 9 == kind / 9 && first % 9 <= 6;
        for (int i = first; can && i < first + 3; i++) {
            can = i == kind || one.hand.count[i] > 0;
            one.hand.count[i] = (uint8_t)(one.hand.count[i] - (can && i != kind));
        }
        if (can) {
            all[count++] = one;
        }
    }
    return count;
}

/* ---------------------------------------------------------- straight claims --- */

/* Ranks a hand with a discard gone; NH_KINDS for none. */
static nh_ranking rank_after(const trial *at, nh_workspace *workspace, const nh_tiles *hand,
                             int discard, nh_ranked *row) {
    nh_situation known = at->situation;
    nh_tiles left = *hand;
    nh_ranking ranking;
    if (discard < NH_KINDS) {
        left.count[discard]--;
        known.seen.count[discard]++;
    }
    MUST(at, ask_rank(workspace, &left, &known, at->draws, NULL, row, 1, &ranking, NULL) == NH_OK);
    return ranking;
}

/* The best discard after a set; false where none leaves the hand nearer than `below`. */
static bool straight_set(const trial *at, nh_workspace *after, const candidate *one, int below,
                         nh_claim *claim) {
    bool found = false;
    for (int kind = 0; kind <= NH_KINDS; kind++) {
        nh_ranked row;
        const bool none = kind == NH_KINDS;
        if (none != one->replaced || kind == NH_JOKER || (!none && one->hand.count[kind] == 0)) {
            continue;
        }
        const nh_ranking ranking = rank_after(at, after, &one->hand, kind, &row);
        if (ranking.rows == 0 || row.away >= below) {
            continue;
        }
        const bool better = !found || row.away < claim->away ||
                            (row.away == claim->away &&
                             nh_natural_compare(&row.completing, &claim->completing) > 0);
        if (better) {
            claim->away = row.away;
            claim->discard = (uint8_t)kind;
            claim->pattern = row.pattern;
            claim->chance = row.chance;
            claim->completing = row.completing;
            found = true;
        }
    }
    return found;
}

/* The patterns within one tile of the nearest that are dead after the claim. */
static void straight_given_up(const trial *at, nh_workspace *after, const candidate *one,
                              const uint8_t *before, int nearest, nh_claim *claim) {
    uint8_t away[PATTERNS_MOST];
    nh_situation known = at->situation;
    nh_tiles hand = one->hand;
    if (claim->discard < NH_KINDS) {
        hand.count[claim->discard]--;
        known.seen.count[claim->discard]++;
    }
    MUST(at, nh_distances(after, &hand, &known, away, NULL) == NH_OK);
    for (int way = 0; way < 4; way++) {
        for (uint32_t p = 0; p < at->patterns; p++) {
            const bool concealed = nh_list_pattern(at->list, p)->concealed;
            if (concealed == (way < 2) && before[p] != NH_AWAY_NONE &&
                before[p] == nearest + way % 2 && away[p] == NH_AWAY_NONE) {
                claim->given_up[claim->given_up_count++] = p;
            }
        }
    }
}

/* A fraction a/b is larger than c/d: both as whole numbers below 2^192 need no more than
 * their quotients here, where equal ones are equal fractions of the same kind. */
static bool is_larger(const trial *at, const nh_claiming *claiming, const nh_natural *completing) {
    const int unseen = (int)claiming->unseen, draws = at->draws;
    if (draws >= unseen) {
        return reference_compare(*completing, claiming->completing) > 0;
    }
    const nh_natural left = reference_multiply(*completing, reference_number((unsigned)unseen));
    const nh_natural right =
        reference_multiply(claiming->completing, reference_number((unsigned)(unseen - draws)));
    return reference_compare(left, right) > 0;
}

typedef struct claims {
    nh_claim of[NH_CLAIMS_MAX];
    size_t count;
} claims;

/* Whether the tile alone brings a hand nearer: no set of it can otherwise. */
static bool brings_nearer(const trial *at, nh_workspace *workspace, const nh_tiles *full,
                          int below) {
    uint8_t away[PATTERNS_MOST];
    bool nearer = false;
    MUST(at, nh_distances(workspace, full, &at->situation, away, NULL) == NH_OK);
    for (size_t p = 0; p < at->patterns; p++) {
        nearer |= away[p] < below;
    }
    return nearer;
}

/* The claims of one tile, where the hand is so far away without it. */
static void straight_claims_of(const trial *at, nh_workspace *workspace, const nh_tiles *hand,
                               int kind, const uint8_t *before, const nh_claiming *claiming,
                               bool same_draws, bool every, claims *all) {
    const nh_list *list = nh_workspace_list(workspace);
    const int copies =
        nh_list_set(list)->count[kind] - hand->count[kind] - at->situation.seen.count[kind];
    nh_tiles full = *hand;
    nh_completed row;
    nh_checking checking;
    candidate sets[8];
    if (copies == 0) {
        return;
    }
    full.count[kind]++;
    nh_check_question check = NH_CHECK_QUESTION;
    check.situation = &at->situation;
    MUST(at, nh_check(workspace, &full, &check, &row, 1, &checking, NULL) == NH_OK);
    const nh_claim start = {.kind = (uint8_t)kind, .discard = NH_KINDS, .copies = (uint8_t)copies};
    if (checking.completed > 0) {
        nh_claim win = start;
        win.pattern = row.pattern;
        win.chance = 1;
        win.completing = claiming->claim_draws;
        win.worth = true;
        all->of[all->count++] = win;
    }
    const size_t count = every || brings_nearer(at, workspace, &full, claiming->away)
                             ? list_candidates(list, hand, kind, sets)
                             : 0;
    for (size_t i = 0; i < count; i++) {
        nh_list *rest = NULL;
        nh_workspace *after = NULL;
        nh_claim claim = start;
        MUST(at, nh_list_rest(list, &sets[i].set, 1, NULL, &rest, NULL) == NH_OK);
        MUST(at, nh_workspace_new(rest, NULL, &after) == NH_OK);
        claim.use = sets[i].set.shape;
        claim.set = sets[i].set;
        if (straight_set(at, after, &sets[i], claiming->away, &claim)) {
            claim.worth = same_draws ? reference_compare(claim.completing, claiming->completing) > 0
                                     : is_larger(at, claiming, &claim.completing);
            straight_given_up(at, after, &sets[i], before, claiming->away, &claim);
            all->of[all->count++] = claim;
        }
        nh_workspace_free(after);
        nh_list_free(rest);
    }
}

/* Three hands in four leave out the sets of tiles that do not bring them nearer. */
static void straight_claims(const trial *at, nh_workspace *workspace, const nh_tiles *hand,
                            const nh_claiming *claiming, claims *all) {
    const bool every = random_percent(at->source, 25);
    uint8_t before[PATTERNS_MOST];
    MUST(at, nh_distances(workspace, hand, &at->situation, before, NULL) == NH_OK);
    all->count = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        straight_claims_of(at, workspace, hand, kind, before, claiming, false, every, all);
    }
}

/* ------------------------------------------------------------ comparison --- */

static bool same_claim(const nh_claim *a, const nh_claim *b) {
    return a->kind == b->kind && a->use == b->use && a->away == b->away &&
           a->discard == b->discard && a->copies == b->copies && a->worth == b->worth &&
           memcmp(&a->set, &b->set, sizeof a->set) == 0 && a->pattern == b->pattern &&
           a->chance == b->chance && nh_natural_compare(&a->completing, &b->completing) == 0 &&
           a->given_up_count == b->given_up_count &&
           memcmp(a->given_up, b->given_up, a->given_up_count * sizeof *a->given_up) == 0;
}

/* Whether b may not stand before a. */
static bool in_order(const nh_claim *a, const nh_claim *b) {
    const bool wins = a->use == NH_CLAIM_WIN, other = b->use == NH_CLAIM_WIN;
    const int chance = nh_natural_compare(&a->completing, &b->completing);
    if (wins != other) {
        return wins;
    }
    if (chance != 0) {
        return chance > 0;
    }
    if (a->kind != b->kind || a->use != b->use) {
        return a->kind != b->kind ? a->kind < b->kind : a->use < b->use;
    }
    return a->set.kind < b->set.kind;
}

static void count_claim(const nh_claim *claim) {
    done.wins += claim->use == NH_CLAIM_WIN;
    done.sets += claim->use != NH_CLAIM_WIN;
    done.chows += claim->use == NH_CHOW;
    done.kongs += claim->use != NH_CLAIM_WIN && claim->discard == NH_KINDS;
    done.jokers += claim->set.jokers > 0;
    done.worthless += !claim->worth;
    done.given_up += claim->given_up_count > 0;
}

static void compare_claims(const trial *at, const nh_claim *rows, size_t count, int most,
                           const claims *straight) {
    MUST(at, count == straight->count);
    for (size_t i = 0; i < count; i++) {
        bool found = false;
        for (size_t k = 0; k < count; k++) {
            found |= same_claim(&rows[i], &straight->of[k]);
        }
        MUST(at, found);
        MUST(at, i == 0 || in_order(&rows[i - 1], &rows[i]));
        MUST(at, rows[i].use == NH_CLAIM_WIN || rows[i].away <= most);
        count_claim(&rows[i]);
    }
}

/* ----------------------------------------------------------- plain claims --- */

/* The nearest of listed rests and its chance, over all patterns. */
typedef struct plain_row {
    int away;
    nh_natural completing;
} plain_row;

static plain_row plain_first(const trial *at, const rests *all, const nh_tiles *hand,
                             const nh_tiles *gone) {
    plain_row best = {NH_AWAY_NONE, {{0}}};
    for (size_t p = 0; p < at->patterns; p++) {
        const int away = rests_away(at, &all[p], hand, gone);
        const ref_targets targets = {.sums = all[p].sums, .count = all[p].count};
        if (away == NH_AWAY_NONE || away > best.away) {
            continue;
        }
        const nh_natural completing =
            reference_best_completing(at->plain, &targets, hand, gone, at->draws);
        if (away < best.away || reference_compare(completing, best.completing) > 0) {
            best = (plain_row){away, completing};
        }
    }
    return best;
}

static plain_row plain_after(const trial *at, const table *on, const candidate *one) {
    plain_row best = {NH_AWAY_NONE, {{0}}};
    table with = *on;
    rests all[PATTERNS_MOST];
    nh_tiles tiles;
    nh_set_tiles(&one->set, &tiles);
    ck_assert(nh_tiles_add(&with.tiles, &tiles));
    with.sets[with.count++] = one->set;
    for (size_t p = 0; p < at->patterns; p++) {
        all[p] = rests_of(at, p, &with);
    }
    for (int kind = 0; kind <= NH_KINDS; kind++) {
        const bool none = kind == NH_KINDS;
        if (none != one->replaced || kind == NH_JOKER || (!none && one->hand.count[kind] == 0)) {
            continue;
        }
        nh_tiles hand = one->hand, gone = at->situation.seen;
        ck_assert(nh_tiles_add(&gone, &with.tiles));
        if (!none) {
            hand.count[kind]--;
            gone.count[kind]++;
        }
        const plain_row row = plain_first(at, all, &hand, &gone);
        if (row.away < best.away ||
            (row.away == best.away && reference_compare(row.completing, best.completing) > 0)) {
            best = row;
        }
    }
    for (size_t p = 0; p < at->patterns; p++) {
        free(all[p].sums);
    }
    return best;
}

/* Some sets of the hand: claimed exactly when listing finds them nearer, with its figures. */
static void check_plainly(const trial *at, const nh_list *list, const table *on,
                          const nh_tiles *hand, const nh_claiming *claiming, const nh_claim *rows) {
    int left = PLAIN_SETS;
    const int start = random_below(at->source, NH_JOKER);
    for (int i = 0; i < NH_JOKER && left > 0 && on->count < NH_SETS_MAX; i++) {
        const int kind = (start + i) % NH_JOKER;
        candidate sets[8];
        const size_t count = list_candidates(list, hand, kind, sets);
        const int copies =
            nh_list_set(list)->count[kind] - hand->count[kind] - at->situation.seen.count[kind];
        if (count == 0 || copies == 0) {
            continue;
        }
        const candidate *one = &sets[random_below(at->source, (int)count)];
        const plain_row plain = plain_after(at, on, one);
        bool found = false;
        for (size_t k = 0; k < claiming->rows; k++) {
            if (rows[k].kind == kind && memcmp(&rows[k].set, &one->set, sizeof one->set) == 0) {
                MUST(at, rows[k].away == plain.away);
                MUST(at, reference_compare(rows[k].completing, plain.completing) == 0);
                found = true;
            }
        }
        MUST(at, found == (plain.away < claiming->away));
        done.plain++;
        left--;
    }
}

/* -------------------------------------------------------------- exchanges --- */

/* How far the hand is with a joker for the tile; whether it is a rest then, to the last tile. */
static int away_exchanged(const trial *at, const rests *all, const table *on, const nh_tiles *hand,
                          int kind, bool *complete) {
    nh_tiles after = *hand, gone = at->situation.seen;
    int least = NH_AWAY_NONE;
    ck_assert(nh_tiles_add(&gone, &on->tiles));
    after.count[kind]--;
    after.count[NH_JOKER]++;
    gone.count[kind]++;
    gone.count[NH_JOKER]--;
    *complete = false;
    for (size_t p = 0; p < at->patterns; p++) {
        for (size_t i = 0; i < all[p].count; i++) {
            const ref_sum *sum = &all[p].sums[i];
            const int away = reference_sum_away(at->plain, sum, &after, &gone);
            least = away < least ? away : least;
            *complete |= away == 0 && nh_tiles_total(&sum->tiles) == nh_tiles_total(&after);
        }
    }
    return least;
}

/* Sets of another player out of the unseen tiles, mostly of kinds that the hand has; their
 * tiles are seen from now on. */
static size_t lay_others(trial *at, const nh_list *list, nh_set sets[2]) {
    nh_tiles left = *nh_list_set(list);
    size_t count = 0;
    ck_assert(nh_tiles_take(&left, &at->hand) && nh_tiles_take(&left, &at->situation.seen));
    for (int i = 0; i < 12 && count < 2; i++) {
        const int kind = random_below(at->source, NH_JOKER), size = 3 + random_below(at->source, 3);
        const int jokers = 1 + random_below(at->source, size - 1);
        const nh_set set = {(uint8_t)size, (uint8_t)kind, (uint8_t)size, (uint8_t)jokers};
        nh_tiles tiles;
        nh_set_tiles(&set, &tiles);
        if ((at->hand.count[kind] > 0 || random_percent(at->source, 20)) &&
            nh_tiles_take(&left, &tiles)) {
            ck_assert(nh_tiles_add(&at->situation.seen, &tiles));
            sets[count++] = set;
        }
    }
    return count;
}

/* A rest with a stranger in place of a tile that a joker may be, which lies in a set of the
 * stranger's kind; false where the tiles do not allow it. */
static bool lay_winning(trial *at, const nh_list *list, const rests *all, nh_set *set) {
    const rests *from = &all[random_below(at->source, (int)at->patterns)];
    const int stranger = random_below(at->source, NH_JOKER);
    nh_tiles left = *nh_list_set(list), tiles;
    *set = (nh_set){NH_PUNG, (uint8_t)stranger, 3, 1};
    nh_set_tiles(set, &tiles);
    if (from->count == 0 || !nh_tiles_take(&left, &tiles)) {
        return false;
    }
    const ref_sum *sum = &from->sums[random_below(at->source, (int)from->count)];
    nh_tiles hand = sum->tiles;
    int open = 0;
    while (open < NH_JOKER && sum->jokerable.count[open] == 0) {
        open++;
    }
    if (open == NH_JOKER) {
        return false;
    }
    hand.count[open]--;
    hand.count[stranger]++;
    if (!nh_tiles_take(&left, &hand)) {
        return false;
    }
    at->hand = hand;
    at->situation.seen = tiles;
    return true;
}

static size_t exchanges_of(const nh_set *sets, size_t count, const nh_tiles *hand) {
    size_t all = 0;
    for (size_t i = 0; i < count; i++) {
        all += sets[i].jokers > 0 && hand->count[sets[i].kind] > 0;
    }
    return all;
}

static void check_exchanges(trial *at, nh_workspace *workspace, const rests *all, const table *on) {
    nh_set others[2];
    nh_exchange rows[NH_SETS_MAX + 2];
    nh_exchange_question question = NH_EXCHANGE_QUESTION;
    size_t count;
    const nh_tiles seen = at->situation.seen;
    const nh_tiles hand = at->hand;
    question.set_count = random_percent(at->source, 20) &&
                                 lay_winning(at, nh_workspace_list(workspace), all, &others[0])
                             ? 1
                             : lay_others(at, nh_workspace_list(workspace), others);
    question.sets = others;
    question.situation = &at->situation;
    MUST(at, nh_exchanges(workspace, &at->hand, &question, rows, NH_SETS_MAX + 2, &count, NULL) ==
                 NH_OK);
    MUST(at, count == exchanges_of(on->sets, on->count, &at->hand) +
                          exchanges_of(others, question.set_count, &at->hand));
    nh_situation known = at->situation;
    uint8_t away[PATTERNS_MOST];
    int before = NH_AWAY_NONE;
    MUST(at, nh_distances(workspace, &at->hand, &known, away, NULL) == NH_OK);
    for (size_t p = 0; p < at->patterns; p++) {
        before = away[p] < before ? away[p] : before;
    }
    for (size_t i = 0; i < count; i++) {
        const nh_set *set = rows[i].own ? &on->sets[rows[i].set] : &others[rows[i].set];
        MUST(at, rows[i].set < (rows[i].own ? on->count : question.set_count));
        MUST(at, set->kind == rows[i].kind && set->jokers > 0);
        bool complete;
        MUST(at, rows[i].away == away_exchanged(at, all, on, &at->hand, rows[i].kind, &complete));
        MUST(at, rows[i].complete == complete);
        done.won += complete;
        const nh_exchange *last = &rows[i > 0 ? i - 1 : 0];
        MUST(at, i == 0 || last->away < rows[i].away ||
                     (last->away == rows[i].away &&
                      (last->kind < rows[i].kind ||
                       (last->kind == rows[i].kind &&
                        (last->own > rows[i].own ||
                         (last->own == rows[i].own && last->set < rows[i].set))))));
        done.exchanges++;
        done.nearer += rows[i].away < before;
    }
    nh_exchange first;
    size_t again;
    MUST(at, nh_exchanges(workspace, &at->hand, &question, &first, 1, &again, NULL) == NH_OK);
    MUST(at, again == count);
    MUST(at, count == 0 || (first.kind == rows[0].kind && first.own == rows[0].own &&
                            first.away == rows[0].away && first.set == rows[0].set));
    at->situation.seen = seen;
    at->hand = hand;
}

/* ---------------------------------------------------------- random lists --- */

/* A hand of so many tiles of a rest that some claim may bring it nearer. */
static nh_tiles hand_of_rest(const trial *at, const rests *all, int size, nh_tiles *pool) {
    const rests *from = &all[random_below(at->source, (int)at->patterns)];
    if (from->count == 0) {
        return random_draw(at->source, pool, size);
    }
    const ref_sum *sum = &from->sums[random_below(at->source, (int)from->count)];
    const int strangers = 1 + random_below(at->source, 4);
    const nh_tiles hand =
        random_near(at->source, pool, &sum->tiles, &sum->jokerable, size, strangers);
    ck_assert(nh_tiles_take(pool, &hand));
    return hand;
}

/* A hand that waits, near a rest, and some tiles that are seen. */
static void pick_waiting(trial *at, const nh_list *rest, const rests *all) {
    nh_tiles pool = *nh_list_set(rest);
    int size = nh_list_hand_size(rest) - 1;
    if (random_percent(at->source, 10)) {
        size = random_below(at->source, nh_list_hand_most(rest) + 1);
    }
    at->hand = random_percent(at->source, 70) ? hand_of_rest(at, all, size, &pool)
                                              : hand_near_rests(at, all, size, &pool);
    const int seen = random_percent(at->source, 60) ? random_below(at->source, 60) : 0;
    at->situation.seen = random_draw(at->source, &pool, seen);
    at->draws = random_percent(at->source, 80) ? random_below(at->source, 30)
                                               : random_below(at->source, NH_DRAWS_MAX + 1);
}

static void check_hand(trial *at, nh_workspace *workspace, const rests *all, const table *on) {
    static nh_claim rows[NH_CLAIMS_MAX], first[NH_CLAIMS_MAX];
    static claims straight;
    nh_claiming claiming, cut;
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_ranked row;
    pick_waiting(at, nh_workspace_list(workspace), all);
    question.situation = &at->situation;
    question.draws = at->draws;
    MUST(at,
         nh_claims(workspace, &at->hand, &question, rows, NH_CLAIMS_MAX, &claiming, NULL) == NH_OK);
    const nh_ranking ranking = rank_after(at, workspace, &at->hand, NH_KINDS, &row);
    MUST(at, claiming.away == ranking.nearest && claiming.unseen == ranking.unseen);
    MUST(at, nh_natural_compare(&claiming.draws, &ranking.draws) == 0);
    MUST(at, claiming.rows == claiming.claims);
    if (ranking.rows > 0) {
        MUST(at, claiming.pattern == row.pattern && claiming.chance == row.chance);
        MUST(at, nh_natural_compare(&claiming.completing, &row.completing) == 0);
    }
    straight_claims(at, workspace, &at->hand, &claiming, &straight);
    for (size_t i = 0; i < claiming.rows; i++) {
        MUST(at, rows[i].use == NH_CLAIM_WIN || rows[i].away + 1 == claiming.away);
    }
    compare_claims(at, rows, claiming.rows, claiming.away, &straight);
    if (random_percent(at->source, 25)) {
        check_plainly(at, nh_workspace_list(workspace), on, &at->hand, &claiming, rows);
    }
    const size_t room = (size_t)random_below(at->source, (int)claiming.rows + 2);
    MUST(at, nh_claims(workspace, &at->hand, &question, first, room, &cut, NULL) == NH_OK);
    MUST(at, cut.claims == claiming.claims);
    MUST(at, cut.rows == (room < claiming.rows ? room : claiming.rows));
    for (size_t i = 0; i < cut.rows; i++) {
        MUST(at, same_claim(&first[i], &rows[i]));
    }
    check_exchanges(at, workspace, all, on);
    done.hands++;
}

/* A kind, most often one that brings the hand nearer; now and then its last copy is left. */
static int pick_discard(trial *at, nh_workspace *workspace, int nearest) {
    const nh_tiles *set = nh_list_set(nh_workspace_list(workspace));
    int kind = 0;
    for (int i = 0; i < 10; i++) {
        nh_tiles full = at->hand;
        kind = random_below(at->source, NH_JOKER);
        full.count[kind]++;
        const int others = set->count[kind] - at->hand.count[kind];
        if (at->situation.seen.count[kind] < others &&
            brings_nearer(at, workspace, &full, nearest)) {
            break;
        }
    }
    const int others = set->count[kind] - at->hand.count[kind];
    if (others > 0 && random_percent(at->source, 50)) {
        at->situation.seen.count[kind] = (uint8_t)(others - 1);
    }
    return kind;
}

/* The one discard on the table, without which the hand has a tile less to hope for. */
static void check_tile(trial *at, nh_workspace *workspace) {
    static nh_claim rows[NH_CLAIMS_MAX];
    static claims straight;
    nh_ranked row, kept;
    const int nearest = rank_after(at, workspace, &at->hand, NH_KINDS, &kept).nearest;
    const int kind = pick_discard(at, workspace, nearest);
    const bool brief = random_percent(at->source, 50);
    nh_claiming claiming;
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_situation gone = at->situation;
    uint8_t before[PATTERNS_MOST];
    question.situation = &at->situation;
    question.draws = at->draws;
    question.tile = kind;
    question.leave_out_given_up = brief;
    const nh_status status =
        nh_claims(workspace, &at->hand, &question, rows, NH_CLAIMS_MAX, &claiming, NULL);
    gone.seen.count[kind]++;
    if (nh_distances(workspace, &at->hand, &gone, before, NULL) != NH_OK) {
        MUST(at, status == NH_ERROR_TILES && claiming.rows == 0);
        return;
    }
    MUST(at, status == NH_OK);
    const nh_ranking now = rank_after(at, workspace, &at->hand, NH_KINDS, &kept);
    nh_ranking ranking;
    MUST(at,
         ask_rank(workspace, &at->hand, &gone, at->draws, NULL, &row, 1, &ranking, NULL) == NH_OK);
    MUST(at, claiming.away == ranking.nearest && claiming.unseen == ranking.unseen);
    MUST(at, nh_natural_compare(&claiming.draws, &ranking.draws) == 0);
    MUST(at, nh_natural_compare(&claiming.claim_draws, &ranking.draws) == 0);
    MUST(at,
         ranking.rows == 0 || (claiming.pattern == row.pattern && claiming.chance == row.chance &&
                               nh_natural_compare(&claiming.completing, &row.completing) == 0));
    straight.count = 0;
    straight_claims_of(at, workspace, &at->hand, kind, before, &claiming, true, true, &straight);
    for (size_t i = 0; i < straight.count && brief; i++) {
        straight.of[i].given_up_count = 0;
    }
    compare_claims(at, rows, claiming.rows, claiming.away - 1, &straight);
    done.tiles += claiming.rows > 0;
    done.last += claiming.rows > 0 && claiming.away > now.nearest;
}

static void check_table(trial *at) {
    const table on = lay_table(at);
    rests all[PATTERNS_MOST] = {{0}};
    nh_list *rest = NULL;
    nh_workspace *workspace = NULL;
    for (size_t p = 0; p < at->patterns; p++) {
        all[p] = rests_of(at, p, &on);
    }
    MUST(at, nh_list_rest(at->list, on.sets, on.count, NULL, &rest, NULL) == NH_OK);
    MUST(at, nh_workspace_new(rest, NULL, &workspace) == NH_OK);
    for (int i = 0; i < HANDS; i++) {
        check_hand(at, workspace, all, &on);
        check_tile(at, workspace);
    }
    nh_workspace_free(workspace);
    nh_list_free(rest);
    for (size_t p = 0; p < at->patterns; p++) {
        free(all[p].sums);
    }
}

static char *next_list(random_source *source) {
    char *json = random_list(source, PATTERNS, NH_HAND_MAX);
    return with_rules(source, json);
}

START_TEST(hands_of_random_lists) {
    static trial at;
    try_lists(&at, &(trials){20261129, LISTS, 50, TABLES, next_list, check_table});
    printf("seed %llu: %ld hands: %ld wins, %ld sets (%ld chows, %ld without a discard, %ld with "
           "jokers), %ld not worth it, %ld give something up; %ld listed; %ld exchanges, %ld "
           "nearer, %ld winning; %ld discards claimed, %ld of a last tile\n",
           (unsigned long long)at.seed, done.hands, done.wins, done.sets, done.chows, done.kongs,
           done.jokers, done.worthless, done.given_up, done.plain, done.exchanges, done.nearer,
           done.won, done.tiles, done.last);
    ck_assert_int_gt(done.wins, 0);
    ck_assert_int_gt(done.sets, done.hands / 100);
    ck_assert_int_gt(done.exchanges, done.nearer);
    ck_assert_int_gt(done.nearer, 0);
    ck_assert_int_gt(done.won, 0);
    ck_assert_int_gt(done.tiles, 0);
    ck_assert_int_gt(done.last, 0);
}
END_TEST

/* ------------------------------------------------------------ known hands --- */

static const char doors[] =
    "{'format': 1, 'title': 'Doors', 'hand': 8, 'tiles': {'jokers': 4},"
    " 'play': {'claims': ['pung', 'chow'], 'exchange': true}, 'patterns': ["
    "{'name': 'Hatch', 'points': 20, 'concealed': true,"
    " 'groups': [{'pung': 'any'}, {'pung': 'any'}, {'pair': 'any'}]},"
    "{'name': 'Bulkhead', 'points': 10,"
    " 'groups': [{'pung': 'n', 'suit': 'x'}, {'pung': 'n', 'suit': 'y'}, {'pair': 'dragon'}]},"
    "{'name': 'Gangway',"
    " 'groups': [{'chow': 'n', 'suit': 'x'}, {'chow': 'n', 'suit': 'y'}, {'pair': 'wind'}]}]}";

static size_t claims_of(const nh_list *list, const char *hand_text, int draws, nh_claim *rows,
                        nh_claiming *claiming) {
    nh_workspace *workspace = new_workspace(list);
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_tiles hand = tiles_of(hand_text);
    question.draws = draws;
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, rows, 8, claiming, NULL), NH_OK);
    nh_workspace_free(workspace);
    return claiming->rows;
}

START_TEST(a_pair_waits_for_its_pung) {
    nh_list *list = read_list(doors);
    nh_claim rows[8];
    nh_claiming claiming;
    /* 2C wins by either pattern, of which the concealed one gives more points; so does R,
     * as the third of a pung beside a pair of 2C */
    ck_assert_uint_eq(claims_of(list, "222B 22C RR", 1, rows, &claiming), 2);
    ck_assert(rows[0].use == NH_CLAIM_WIN && rows[0].kind == NH_CRAK_1 + 1);
    ck_assert(rows[1].use == NH_CLAIM_WIN && rows[1].kind == NH_RED);
    ck_assert(rows[0].pattern == 0 && rows[0].copies == 2 && rows[0].worth);
    ck_assert_double_eq(rows[0].chance, 1);
    /* of a hand that is two away a claim gives the concealed pattern up */
    ck_assert_uint_eq(claims_of(list, "22B 22C RR 9D", 2, rows, &claiming), 2);
    for (int i = 0; i < 2; i++) {
        ck_assert(rows[i].use == NH_PUNG && rows[i].away == 1 && rows[i].pattern == 1);
        ck_assert(rows[i].discard == NH_DOT_1 + 8 && rows[i].given_up_count == 1);
        ck_assert(rows[i].given_up[0] == 0);
    }
    nh_list_free(list);
}
END_TEST

START_TEST(chows_take_naturals_in_each_place) {
    nh_list *list = read_list(doors);
    nh_claim rows[8];
    nh_claiming claiming;
    ck_assert_uint_eq(claims_of(list, "3B 234C EE J", 1, rows, &claiming), 0);
    const size_t count = claims_of(list, "34B 234C E S", 1, rows, &claiming);
    ck_assert_uint_eq(claiming.away, 2);
    ck_assert_uint_eq(count, 1);
    ck_assert(rows[0].use == NH_CHOW && rows[0].set.kind == NH_BAM_1 + 1);
    ck_assert_uint_eq(rows[0].kind, NH_BAM_1 + 1);
    nh_list_free(list);
}
END_TEST

/* Equal chances: the smaller set first, then the lower chow. */
START_TEST(equal_claims_go_by_their_sets) {
    nh_list *list =
        read_list("{'format': 1, 'title': 'Kongs', 'hand': 8, 'tiles': {'jokers': 4}, 'patterns': ["
                  "{'name': 'Pungs', 'groups': [{'pung': 2, 'suit': 'x'}, {'pung': 3, 'suit': 'x'},"
                  " {'pair': 'dragon'}]},"
                  "{'name': 'Kong', 'groups': [{'kong': 2, 'suit': 'x'}, {'pair': 3, 'suit': 'x'},"
                  " {'pair': 'dragon'}]}]}");
    nh_list *chows = read_list(doors);
    nh_claim rows[8];
    nh_claiming claiming;
    ck_assert_uint_ge(claims_of(list, "22B J 33B R 9C", 0, rows, &claiming), 2);
    ck_assert(rows[0].kind == NH_BAM_1 + 1 && rows[0].use == NH_PUNG);
    ck_assert(rows[1].kind == NH_BAM_1 + 1 && rows[1].use == NH_KONG);
    ck_assert(rows[0].chance == 0 && !rows[0].worth);
    ck_assert_uint_ge(claims_of(chows, "134B 14C E S", 0, rows, &claiming), 2);
    ck_assert(rows[0].use == NH_CHOW && rows[0].set.kind == NH_BAM_1);
    ck_assert(rows[1].use == NH_CHOW && rows[1].set.kind == NH_BAM_1 + 1);
    ck_assert_uint_eq(rows[1].kind, NH_BAM_1 + 1);
    nh_list_free(chows);
    nh_list_free(list);
}
END_TEST

/* A set that leaves a complete hand is as certain as a win. */
START_TEST(wins_stand_before_certain_sets) {
    nh_list *list =
        read_list("{'format': 1, 'title': 'Kongs', 'hand': 8, 'patterns': ["
                  "{'name': 'Pungs', 'groups': [{'pung': 2, 'suit': 'x'}, {'pung': 3, 'suit': 'x'},"
                  " {'pair': 'dragon'}]},"
                  "{'name': 'Kong', 'groups': [{'kong': 2, 'suit': 'x'}, {'pung': 3, 'suit': 'x'},"
                  " {'pair': 'dragon'}]}]}");
    nh_claim rows[8];
    nh_claiming claiming;
    ck_assert_uint_eq(claims_of(list, "2222B 33B RR", 20, rows, &claiming), 2);
    ck_assert(rows[0].use == NH_CLAIM_WIN && rows[0].kind == NH_BAM_1 + 2 && rows[0].pattern == 1);
    ck_assert(rows[1].use == NH_PUNG && rows[1].kind == NH_BAM_1 + 2 && rows[1].away == 0);
    ck_assert_int_eq(nh_natural_compare(&rows[0].completing, &rows[1].completing), 0);
    nh_list_free(list);
}
END_TEST

/* With as many sets on the table as there can be, a discard can only win. */
START_TEST(no_more_sets_than_a_table_holds) {
    static const char *const open = "111B 222B 333B 444B 555B 666B";
    nh_list *list =
        read_list("{'format': 1, 'title': 'Long', 'hand': 18, 'patterns': [{'name': 'Pungs',"
                  " 'groups': [{'pung': 'any', 'times': 6}]}]}");
    nh_list *rest = NULL;
    nh_set sets[NH_SETS_MAX];
    size_t count;
    nh_claim rows[8];
    nh_claiming claiming;
    ck_assert_int_eq(nh_sets_parse(list, open, strlen(open), sets, NH_SETS_MAX, &count, NULL),
                     NH_OK);
    ck_assert_int_eq(nh_list_rest(list, sets, count, NULL, &rest, NULL), NH_OK);
    ck_assert_uint_eq(claims_of(rest, "77B", 1, rows, &claiming), 0);
    ck_assert_uint_eq(claiming.away, 0);
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

/* Of more than eight patterns that are given up the first eight are named. With no tile
 * unseen nothing can be claimed. */
START_TEST(many_patterns_are_given_up) {
    char json[3000];
    int length = snprintf(json, sizeof json,
                          "{'format': 1, 'title': 'Many', 'hand': 5, 'patterns': ["
                          "{'name': 'Open', 'groups': [{'pung': 2, 'suit': 'bam'},"
                          " {'pair': 'east'}]}");
    for (int i = 0; i < 10; i++) {
        length += snprintf(json + length, sizeof json - (size_t)length,
                           ", {'name': 'Closed %d', 'concealed': true, 'groups': "
                           "[{'pung': 2, 'suit': 'bam'}, {'pair': 'east'}]}",
                           i);
    }
    snprintf(json + length, sizeof json - (size_t)length, "]}");
    nh_list *list = read_list(json);
    nh_workspace *workspace = new_workspace(list);
    nh_claim rows[8];
    nh_claiming claiming;
    ck_assert_uint_eq(claims_of(list, "22B E 9C", 5, rows, &claiming), 1);
    ck_assert(rows[0].use == NH_PUNG && rows[0].given_up_count == 10);
    for (uint32_t i = 0; i < NH_GIVEN_UP_MAX; i++)
        ck_assert_uint_eq(rows[0].given_up[i], i + 1);
    nh_tiles hand = tiles_of("22B EE 9C");
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_situation situation = NH_SITUATION;
    situation.seen = *nh_list_set(list);
    const nh_tiles unseen = tiles_of("2B");
    ck_assert(nh_tiles_take(&situation.seen, &hand) && nh_tiles_take(&situation.seen, &unseen));
    question.situation = &situation;
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, rows, 8, &claiming, NULL), NH_OK);
    ck_assert(claiming.unseen == 1 && claiming.claims == 1);
    situation.seen = *nh_list_set(list);
    ck_assert(nh_tiles_take(&situation.seen, &hand));
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, rows, 8, &claiming, NULL), NH_OK);
    ck_assert(claiming.unseen == 0 && claiming.claims == 0);
    hand = tiles_of("22B EE");
    situation.seen = *nh_list_set(list);
    ck_assert(nh_tiles_take(&situation.seen, &hand) && nh_tiles_take(&situation.seen, &unseen));
    question.tile = NH_BAM_1 + 1; /* the last tile of all is offered */
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, rows, 8, &claiming, NULL), NH_OK);
    ck_assert(claiming.unseen == 0 && claiming.claims == 1);
    ck_assert(rows[0].use == NH_CLAIM_WIN && rows[0].copies == 1 && rows[0].chance == 1);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* A pattern without the set is given up, though it is not concealed. */
static const char two_ways[] =
    "{'format': 1, 'title': 'Two ways', 'hand': 5, 'patterns': ["
    "{'name': 'Up', 'groups': [{'pung': 2, 'suit': 'bam'}, {'pair': 'east'}]},"
    "{'name': 'Down', 'groups': [{'pair': 2, 'suit': 'bam'}, {'pung': 'east'}]}]}";

START_TEST(what_is_not_concealed_is_given_up_too) {
    nh_list *list = read_list(two_ways);
    nh_claim rows[8];
    nh_claiming claiming;
    ck_assert_uint_eq(claims_of(list, "22B E 9C", 5, rows, &claiming), 1);
    ck_assert(rows[0].use == NH_PUNG && rows[0].kind == NH_BAM_1 + 1 && rows[0].pattern == 0);
    ck_assert(rows[0].given_up_count == 1 && rows[0].given_up[0] == 1);
    nh_list_free(list);
}
END_TEST

/* A kong with a tile that would win: with the tile drawn for it only the variant is left that
 * is farther away. */
START_TEST(kongs_that_come_no_nearer) {
    nh_list *list = read_list(
        "{'format': 1, 'title': 'Kongs', 'hand': 8, 'patterns': [{'name': 'P', 'variants': ["
        "[{'pair': 2, 'suit': 'bam', 'times': 2}, {'pair': 'red'}, {'pair': 'east'}],"
        "[{'kong': 2, 'suit': 'bam'}, {'pung': 9, 'suit': 'dot'}, {'pair': 'north'}]]}]}");
    nh_claim rows[8];
    nh_claiming claiming;
    ck_assert_uint_eq(claims_of(list, "222B RR EE", 5, rows, &claiming), 1);
    ck_assert_uint_eq(claiming.away, 1);
    ck_assert(rows[0].use == NH_CLAIM_WIN && rows[0].kind == NH_BAM_1 + 1);
    nh_list_free(list);
}
END_TEST

/* ---------------------------------------------------------------- refused --- */

START_TEST(what_cannot_be_claimed_is_refused) {
    nh_list *list = read_list(doors);
    nh_workspace *workspace = new_workspace(list);
    nh_tiles hand = tiles_of("222B 22C RR");
    nh_claim row;
    nh_claiming claiming = {.rows = 7};
    nh_error error;
    nh_claim_question wrong[7] = {NH_CLAIM_QUESTION, NH_CLAIM_QUESTION, NH_CLAIM_QUESTION,
                                  NH_CLAIM_QUESTION, NH_CLAIM_QUESTION, NH_CLAIM_QUESTION,
                                  NH_CLAIM_QUESTION};
    wrong[0].size = 0;
    wrong[1].claim_size = 0;
    wrong[2].claiming_size = 0;
    wrong[3].draws = NH_DRAWS_MAX + 1;
    wrong[4].tile = NH_JOKER;
    wrong[5].tile = -2;
    wrong[6].draws = -1;
    for (int i = 0; i < 7; i++)
        ck_assert_int_eq(nh_claims(workspace, &hand, &wrong[i], &row, 1, &claiming, &error),
                         NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "draws is -1; 0 to 160");
    ck_assert_int_eq(nh_claims(workspace, &hand, &wrong[5], &row, 1, &claiming, &error),
                     NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "tile is -2; 0 to 34, or NH_CLAIM_ANY: jokers are never claimed");
    ck_assert_uint_eq(claiming.rows, 7);
    nh_claim_question question = NH_CLAIM_QUESTION;
    nh_situation situation = NH_SITUATION;
    question.situation = &situation;
    situation.seen = tiles_of("22B");
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, &row, 1, &claiming, &error),
                     NH_ERROR_TILES);
    ck_assert(claiming.rows == 0 && claiming.away == NH_AWAY_NONE);
    situation.seen = (nh_tiles){{0}};
    situation.seen.count[NH_RED] = UINT8_MAX;
    question.tile = NH_RED;
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, &row, 1, &claiming, &error),
                     NH_ERROR_TILES);
    situation.seen = (nh_tiles){{0}};
    question.tile = NH_CLAIM_ANY;
    nh_cancel *cancel = NULL;
    ck_assert_int_eq(nh_cancel_new(NULL, &cancel), NH_OK);
    nh_cancel_now(cancel);
    question.cancel = cancel;
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, &row, 1, &claiming, &error),
                     NH_ERROR_CANCELLED);
    nh_cancel_clear(cancel);
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, &row, 1, &claiming, &error), NH_OK);
    ck_assert(claiming.claims == 2 && claiming.rows == 1);
    nh_cancel_free(cancel);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* A hand that a discard completes in more ways than are gone through. */
START_TEST(too_many_ways_to_win_are_refused) {
    nh_list *list = read_list(many_ways_list);
    nh_workspace *workspace = new_workspace(list);
    nh_tiles hand = tiles_of("E JJJJJJJJJJJJ");
    nh_claim row;
    nh_claiming claiming;
    nh_error error;
    nh_claim_question question = NH_CLAIM_QUESTION;
    question.tile = NH_EAST;
    ck_assert_int_eq(nh_claims(workspace, &hand, &question, &row, 1, &claiming, &error),
                     NH_ERROR_LIMIT);
    ck_assert_str_eq(error.text, "the hand completes \"Anything\" in too many ways");
    ck_assert(claiming.claims == 0 && claiming.away == NH_AWAY_NONE);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

START_TEST(what_cannot_be_exchanged_is_refused) {
    nh_list *list = read_list(doors);
    nh_workspace *workspace = new_workspace(list);
    nh_tiles hand = tiles_of("222B 22C RR");
    nh_exchange row;
    size_t count = 7;
    nh_error error;
    nh_situation situation = NH_SITUATION;
    nh_exchange_question question = NH_EXCHANGE_QUESTION;
    nh_set set = {NH_PUNG, NH_CRAK_1 + 1, 3, 2};
    question.situation = &situation;
    question.sets = &set;
    question.set_count = 1;
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, &row, 1, &count, &error),
                     NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "the sets hold 1 2C, but only 0 are among the tiles seen");
    ck_assert_uint_eq(count, 0);
    nh_set_tiles(&set, &situation.seen);
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, &row, 1, &count, &error), NH_OK);
    ck_assert(count == 1 && row.kind == NH_CRAK_1 + 1 && !row.own && row.set == 0);
    set.tiles = 4;
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, &row, 1, &count, &error),
                     NH_ERROR_ARGUMENT);
    nh_set many[60];
    for (size_t i = 0; i < 60; i++)
        many[i] = (nh_set){NH_SEXTET, NH_EAST, 6, 0};
    question.sets = many;
    question.set_count = 60;
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, &row, 1, &count, &error),
                     NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "too many sets");
    question.sets = NULL;
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, &row, 1, &count, &error),
                     NH_ERROR_ARGUMENT);
    question.set_count = 0;
    question.exchange_size = 0;
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, &row, 1, &count, &error),
                     NH_ERROR_ARGUMENT);
    situation.seen = tiles_of("22B");
    question.exchange_size = sizeof row;
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, &row, 1, &count, &error),
                     NH_ERROR_TILES);
    question.size = 0;
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, &row, 1, &count, &error),
                     NH_ERROR_ARGUMENT);
    ck_assert_int_eq(nh_exchanges(workspace, &hand, NULL, &row, 1, &count, &error), NH_OK);
    ck_assert_uint_eq(count, 0);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* Own sets stand before those of others, and these in their order. */
START_TEST(own_jokers_come_first) {
    nh_list *list = read_list(doors), *rest = NULL;
    const nh_set own = {NH_PUNG, NH_CRAK_1 + 1, 3, 2}, others[] = {own, own};
    nh_tiles hand = tiles_of("22B 2C RR");
    nh_exchange rows[2];
    nh_situation situation = NH_SITUATION;
    nh_exchange_question question = NH_EXCHANGE_QUESTION;
    size_t count;
    ck_assert_int_eq(nh_list_rest(list, &own, 1, NULL, &rest, NULL), NH_OK);
    nh_workspace *workspace = new_workspace(rest), *whole = new_workspace(list);
    situation.seen = tiles_of("2C JJ");
    question.situation = &situation;
    question.sets = others;
    question.set_count = 1;
    ck_assert_int_eq(nh_exchanges(workspace, &hand, &question, rows, 2, &count, NULL), NH_OK);
    ck_assert_uint_eq(count, 2);
    ck_assert(rows[0].own && !rows[1].own && rows[0].away == rows[1].away);
    situation.seen = tiles_of("22C JJJJ");
    question.set_count = 2;
    ck_assert_int_eq(nh_exchanges(whole, &hand, &question, rows, 2, &count, NULL), NH_OK);
    ck_assert_uint_eq(count, 2);
    ck_assert(rows[0].set == 0 && rows[1].set == 1 && rows[0].away == rows[1].away);
    nh_workspace_free(workspace);
    nh_workspace_free(whole);
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

/* The nearest hand first, whatever the order of the sets; as many rows as there is room for. */
START_TEST(exchanges_that_bring_nearer_come_first) {
    static const char json[] =
        "{'format': 1, 'title': 'Doors', 'hand': 8, 'tiles': {'jokers': 4}, 'play': {'exchange': "
        "true}, 'patterns': ["
        "{'name': 'Far', 'groups': [{'pung': 1, 'suit': 'bam'}, {'pung': 9, 'suit': 'bam'}, "
        "{'pair': 'east'}]},"
        "{'name': 'Near', 'groups': [{'pung': 2, 'suit': 'x'}, {'pung': 2, 'suit': 'y'}, "
        "{'pair': 'dragon'}]}]}";
    static const struct {
        const char *hand;
        unsigned away, other;
        bool complete;
    } rows[] = {
        {"22B 22C RR 9D", 1, 2, false},     /* one tile too few */
        {"222B 22C RR 9D", 0, 1, true},     /* a joker for the third 2C */
        {"222B 22C RR 9D 9C", 0, 0, false}, /* one tile too many */
    };
    const nh_set sets[2] = {{NH_PUNG, NH_BAM_1 + 1, 3, 2}, {NH_PUNG, NH_DOT_1 + 8, 3, 1}};
    nh_list *list = read_list(json);
    nh_workspace *workspace = new_workspace(list);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int turned = 0; turned < 2; turned++)
            for (size_t room = 0; room < 3; room++) {
                const nh_set shown[2] = {sets[turned], sets[1 - turned]};
                const nh_tiles hand = tiles_of(rows[i].hand);
                nh_situation situation = NH_SITUATION;
                nh_exchange_question question = NH_EXCHANGE_QUESTION;
                nh_exchange found[3] = {{.kind = NH_KINDS}, {.kind = NH_KINDS}, {.kind = NH_KINDS}};
                size_t count;
                situation.seen = tiles_of("2B 99D JJJ");
                question.situation = &situation;
                question.sets = shown;
                question.set_count = 2;
                ck_assert_int_eq(
                    nh_exchanges(workspace, &hand, &question, found, room, &count, NULL), NH_OK);
                ck_assert_uint_eq(count, 2);
                ck_assert_uint_eq(found[room].kind, NH_KINDS); /* nothing past the room */
                ck_assert(room < 1 ||
                          (found[0].kind == NH_DOT_1 + 8 && found[0].away == rows[i].away &&
                           found[0].complete == rows[i].complete &&
                           found[0].set == (turned ? 0 : 1)));
                ck_assert(room < 2 || (found[1].kind == NH_BAM_1 + 1 && !found[1].complete));
                ck_assert(room < 2 || found[1].away >= rows[i].other);
            }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* Hands, and how many claims they have. */
static const struct {
    const char *list, *hand;
    size_t claims;
} tried[] = {{doors, "22B 22C RR 9D", 2},
             {doors, "222B 22C RR", 2}, /* wins */
             {two_ways, "22B E 9C", 1}, /* with what is given up */
             {doors, "1B 5C 9D E R", 0}};

/* An allocator that cancels at one of its calls. */
struct cancelling {
    nh_cancel *cancel;
    size_t calls, at;
};

static void *resize_and_cancel(void *context, void *pointer, size_t size) {
    struct cancelling *cancelling = context;
    if (cancelling->calls++ == cancelling->at)
        nh_cancel_now(cancelling->cancel);
    return realloc(pointer, size);
}

static void release_plainly(void *context, void *pointer) {
    (void)context;
    free(pointer);
}

static void cancel_everywhere(const char *json, const char *hand_text, size_t made) {
    nh_list *list = read_list(json);
    nh_tiles hand = tiles_of(hand_text);
    size_t cancelled = 0;
    for (size_t at = 0;; at++) {
        struct cancelling cancelling = {.at = SIZE_MAX};
        nh_allocator allocator = {resize_and_cancel, release_plainly, &cancelling};
        nh_workspace *workspace = NULL;
        nh_claim rows[8];
        nh_claiming claiming;
        nh_claim_question question = NH_CLAIM_QUESTION;
        ck_assert_int_eq(nh_cancel_new(NULL, &cancelling.cancel), NH_OK);
        ck_assert_int_eq(nh_workspace_new(list, &allocator, &workspace), NH_OK);
        cancelling.at = cancelling.calls + at;
        question.cancel = cancelling.cancel;
        nh_status status = nh_claims(workspace, &hand, &question, rows, 8, &claiming, NULL);
        bool whole = cancelling.calls <= cancelling.at;
        ck_assert_int_eq(status, whole ? NH_OK : NH_ERROR_CANCELLED);
        ck_assert_uint_eq(claiming.claims, whole ? made : 0);
        cancelled += !whole;
        nh_workspace_free(workspace);
        nh_cancel_free(cancelling.cancel);
        if (whole)
            break;
    }
    ck_assert_uint_gt(cancelled, 1);
    nh_list_free(list);
}

START_TEST(claims_end_when_they_are_cancelled) {
    for (size_t i = 0; i < sizeof tried / sizeof *tried; i++)
        cancel_everywhere(tried[i].list, tried[i].hand, tried[i].claims);
}
END_TEST

/* Each allocation failing in turn, after those of the workspace. */
static void fail_everywhere(const char *json, const char *hand_text, size_t made, bool on) {
    nh_list *list = read_list(json);
    nh_tiles hand = tiles_of(hand_text);
    size_t refused = 0;
    for (size_t failing = 0;; failing++) {
        struct counting counting = {.fail_at = SIZE_MAX, .fail_on = on};
        nh_allocator allocator = counted_by(&counting);
        nh_workspace *workspace = NULL;
        nh_claim rows[8];
        nh_claiming claiming;
        ck_assert_int_eq(nh_workspace_new(list, &allocator, &workspace), NH_OK);
        const size_t before = counting.calls, blocks = counting.blocks;
        counting.fail_at = before + failing;
        nh_status status = nh_claims(workspace, &hand, NULL, rows, 8, &claiming, NULL);
        bool whole = counting.calls <= before + failing;
        ck_assert_int_eq(status, whole ? NH_OK : NH_ERROR_MEMORY);
        ck_assert_uint_eq(claiming.claims, whole ? made : 0);
        ck_assert_uint_eq(counting.blocks, blocks);
        refused += !whole;
        nh_workspace_free(workspace);
        if (whole)
            break;
    }
    ck_assert_uint_gt(refused, 1);
    nh_list_free(list);
}

START_TEST(claims_bear_failing_memory) {
    for (size_t i = 0; i < sizeof tried / sizeof *tried; i++)
        for (int on = 0; on < 2; on++)
            fail_everywhere(tried[i].list, tried[i].hand, tried[i].claims, on != 0);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("claim");
    ADD_TESTS(suite, "claim", hands_of_random_lists, a_pair_waits_for_its_pung,
              chows_take_naturals_in_each_place, equal_claims_go_by_their_sets,
              wins_stand_before_certain_sets, no_more_sets_than_a_table_holds,
              many_patterns_are_given_up, what_is_not_concealed_is_given_up_too,
              kongs_that_come_no_nearer, own_jokers_come_first,
              exchanges_that_bring_nearer_come_first, too_many_ways_to_win_are_refused,
              what_cannot_be_claimed_is_refused, what_cannot_be_exchanged_is_refused,
              claims_end_when_they_are_cancelled, claims_bear_failing_memory);
    return run_suite(suite);
}
