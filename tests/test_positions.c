/*
 * Hands in the course of play: on random small lists a player draws, claims and discards at
 * random, and others discard. Before every move the figures for what the player's sets leave
 * of the list (distances, chances, discards with their averages) are those of a plain scan
 * of listed rests. The sets are taken from the list one by one, as they were claimed, or all
 * at once.
 * NEARHAND_SEED chooses the games, NEARHAND_TRIES how many, in per cent.
 */
#define _DEFAULT_SOURCE /* mkstemp */
#include "listed_rests.h"

#include "api.h"
#include "ask.h"
#include "draws.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    LISTS = 40,
    PATTERNS = 2,
    HAND_MOST = 8,
    GAMES = 4,          /* with each list */
    TURNS = 9,          /* at most */
    SOME = 2,           /* discards of a hand that are scanned, about */
    PLAIN_MOST = 20000, /* draws times rests that an average is listed over */
};

static struct { long waiting, drawn, sets, jokers, choices, averages, rows, dead, most_sets; } done;

/* A player in a game. The hand and the tiles gone are those of `at`. */
typedef struct position {
    trial *at;
    table on;
    rests all[PATTERNS_MOST];
    nh_list *list; /* what the sets leave; the list itself without any */
    nh_workspace *workspace;
    nh_tiles wall; /* what nobody has shown */
} position;

/* ------------------------------------------------------- the plain scan --- */

/* With tiles seen beside those on the player's own table. */
static nh_tiles all_gone(const position *now, const nh_tiles *seen) {
    nh_tiles gone = *seen;
    ck_assert(nh_tiles_add(&gone, &now->on.tiles));
    return gone;
}

static int scan_away(const remaining *rest, const void *context) {
    const position *now = context;
    const nh_tiles gone = all_gone(now, &rest->seen);
    int least = NH_AWAY_NONE;
    for (size_t p = 0; p < now->at->patterns; p++) {
        const int away = rests_away(now->at, &now->all[p], &rest->hand, &gone);
        least = away < least ? away : least;
    }
    return least;
}

/* The largest chance of a nearest rest of a pattern. */
static nh_natural scan_chance(const position *now, size_t pattern, const nh_tiles *hand,
                              const nh_tiles *seen) {
    const ref_targets targets = {.sums = now->all[pattern].sums, .count = now->all[pattern].count};
    const nh_tiles gone = all_gone(now, seen);
    return reference_best_completing(now->at->plain, &targets, hand, &gone, now->at->draws);
}

/* Of the patterns that are so near, the likeliest. */
static nh_natural scan_best_chance(const position *now, const remaining *rest, int away) {
    const nh_tiles gone = all_gone(now, &rest->seen);
    nh_natural best = {{0}};
    for (size_t p = 0; p < now->at->patterns; p++) {
        if (rests_away(now->at, &now->all[p], &rest->hand, &gone) != away) {
            continue;
        }
        const nh_natural one = scan_chance(now, p, &rest->hand, &rest->seen);
        best = reference_compare(one, best) > 0 ? one : best;
    }
    return best;
}

/* ------------------------------------------------------------- comparing --- */

/* Every pattern's distance and chance. */
static void compare_ranks(const position *now) {
    const trial *at = now->at;
    nh_ranked rows[PATTERNS_MOST];
    nh_ranking ranking;
    const nh_tiles gone = all_gone(now, &at->situation.seen);
    MUST(at, ask_rank(now->workspace, &at->hand, &at->situation, at->draws, NULL, rows,
                      at->patterns, &ranking, NULL) == NH_OK);
    size_t live = 0;
    for (size_t p = 0; p < at->patterns; p++) {
        const int away = rests_away(at, &now->all[p], &at->hand, &gone);
        bool found = false;
        for (size_t i = 0; i < ranking.rows; i++) {
            if (rows[i].pattern != p) {
                continue;
            }
            found = true;
            const nh_natural chance = scan_chance(now, p, &at->hand, &at->situation.seen);
            MUST(at, rows[i].away == away);
            MUST(at, reference_compare(rows[i].completing, chance) == 0);
        }
        MUST(at, found == (away != NH_AWAY_NONE));
        live += found;
    }
    MUST(at, ranking.rows == live);
    done.rows += (long)live;
    done.dead += live == 0;
}

static long rests_in_all(const position *now) {
    long count = 0;
    for (size_t p = 0; p < now->at->patterns; p++) {
        count += (long)now->all[p].count;
    }
    return count;
}

static void compare_discards(const position *now) {
    const trial *at = now->at;
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_discard_choice choices[NH_DISCARDS_MAX];
    nh_discarding discarding;
    question.situation = &at->situation;
    question.draws = at->draws;
    question.look = 1 + random_below(at->source, NH_LOOK_MAX);
    MUST(at, nh_discard(now->workspace, &at->hand, &question, choices, NH_DISCARDS_MAX, &discarding,
                        NULL) == NH_OK);
    for (size_t i = 0; i < discarding.rows; i++) {
        nh_tiles tile = {{0}};
        if (random_below(at->source, (int)discarding.rows) >= SOME) {
            continue;
        }
        tile.count[choices[i].kind] = 1;
        const remaining rest =
            pass_tiles(nh_list_set(now->list), &at->hand, &at->situation.seen, &tile);
        const int away = scan_away(&rest, now);
        MUST(at, choices[i].away == away);
        const nh_natural chance = scan_best_chance(now, &rest, away);
        MUST(at, away == NH_AWAY_NONE || reference_compare(choices[i].completing, chance) == 0);
        done.choices++;
        if (different_sets(&rest.unseen, discarding.look) * rests_in_all(now) > PLAIN_MOST) {
            continue;
        }
        const draw_sums sums = list_draws(&rest, discarding.look, 0, scan_away, now);
        MUST(at, discarding.draws == sums.ways);
        MUST(at, choices[i].expected == (sums.none ? UINT64_MAX : sums.expected));
        done.averages++;
    }
}

/* --------------------------------------------------------------- playing --- */

static void list_again(position *now) {
    for (size_t p = 0; p < now->at->patterns; p++) {
        free(now->all[p].sums);
        now->all[p] = rests_of(now->at, p, &now->on);
    }
}

/* Takes the last set from the list that the others have left, or all from the whole. */
static void take_last_set(position *now) {
    const trial *at = now->at;
    nh_list *rest = NULL;
    const bool at_once = random_percent(at->source, 30);
    if (at_once) {
        MUST(at, nh_list_rest(at->list, now->on.sets, now->on.count, NULL, &rest, NULL) == NH_OK);
    } else {
        MUST(at, nh_list_rest(now->list, &now->on.sets[now->on.count - 1], 1, NULL, &rest, NULL) ==
                     NH_OK);
    }
    nh_workspace_free(now->workspace);
    if (now->list != at->list) {
        nh_list_free(now->list);
    }
    now->list = rest;
    MUST(at, nh_workspace_new(rest, NULL, &now->workspace) == NH_OK);
    list_again(now);
}

/* A set with the tile, of naturals and jokers of the hand as chance has it. */
static bool set_with(const position *now, int kind, nh_set *set) {
    random_source *source = now->at->source;
    nh_tiles hand = now->at->hand, tiles;
    if (random_percent(source, 30) && kind < NH_EAST) {
        const int first = kind - random_below(source, 3);
        *set = (nh_set){NH_CHOW, (uint8_t)(first < 0 ? 0 : first), 3, 0};
        if (first < 0 || first / 9 != kind / 9 || first % 9 > 6) {
            return false;
        }
    } else {
        const int shape = NH_PUNG + random_below(source, 3);
        const int lacking = shape - 1 - hand.count[kind];
        const int jokers = random_percent(source, 10) ? random_below(source, shape)
                           : lacking > 0              ? lacking
                                                      : 0;
        *set = (nh_set){(uint8_t)shape, (uint8_t)kind, (uint8_t)shape, (uint8_t)jokers};
    }
    nh_set_tiles(set, &tiles);
    tiles.count[kind]--;
    return nh_tiles_take(&hand, &tiles) && now->on.count < NH_SETS_MAX;
}

static void discard_any(position *now) {
    trial *at = now->at;
    const nh_tiles tile = random_draw(at->source, &at->hand, 1);
    ck_assert(nh_tiles_add(&at->situation.seen, &tile));
}

/* One tile is taken from the wall. */
static int next_tile(position *now) {
    const nh_tiles one = random_draw(now->at->source, &now->wall, 1);
    int kind = 0;
    while (one.count[kind] == 0) {
        kind++;
    }
    return kind;
}

/* Another player's discard, most often of a kind that the hand has. */
static int next_discard(position *now) {
    const nh_tiles *hand = &now->at->hand;
    const int start = random_below(now->at->source, NH_JOKER);
    const int alike = 1 + random_below(now->at->source, 3);
    for (int i = 0; i < NH_JOKER && random_percent(now->at->source, 98); i++) {
        const int kind = (start + i) % NH_JOKER;
        if (hand->count[kind] >= alike && now->wall.count[kind] > 0) {
            now->wall.count[kind]--;
            return kind;
        }
    }
    return next_tile(now);
}

/* Another player discards; false where the player claims it. */
static bool other_discards(position *now) {
    trial *at = now->at;
    const int kind = next_discard(now);
    nh_set set;
    nh_tiles tiles;
    if (kind == NH_JOKER || !set_with(now, kind, &set) || !random_percent(at->source, 80)) {
        at->situation.seen.count[kind]++;
        return true;
    }
    nh_set_tiles(&set, &tiles);
    ck_assert(nh_tiles_add(&now->on.tiles, &tiles));
    now->on.sets[now->on.count++] = set;
    tiles.count[kind]--;
    ck_assert(nh_tiles_take(&at->hand, &tiles));
    take_last_set(now);
    done.sets++;
    done.jokers += set.jokers > 0;
    done.most_sets = (long)now->on.count > done.most_sets ? (long)now->on.count : done.most_sets;
    const bool replaced =
        set.shape == NH_KONG && nh_list_hand_most(at->list) > nh_list_hand_size(at->list);
    if (replaced && nh_tiles_total(&now->wall) > 0) {
        at->hand.count[next_tile(now)]++;
    }
    return false;
}

static bool can_go_on(const position *now) {
    return nh_tiles_total(&now->wall) > 4 &&
           nh_tiles_total(&now->at->hand) < nh_list_hand_most(now->list);
}

static void play_turn(position *now) {
    trial *at = now->at;
    compare_ranks(now);
    done.waiting++;
    bool drawing = true;
    for (int other = 0; other < 3 && drawing && can_go_on(now); other++) {
        drawing = other_discards(now);
    }
    if (drawing && can_go_on(now)) {
        at->hand.count[next_tile(now)]++;
    }
    const int tiles = nh_tiles_total(&at->hand);
    if (tiles == 0 || tiles > nh_list_hand_most(now->list)) {
        return;
    }
    compare_discards(now);
    done.drawn++;
    if (tiles > at->hand.count[NH_JOKER]) {
        discard_any(now);
    }
}

/* Often with tiles that claims are made of: near a target, few kinds. */
static void deal_hand(position *now) {
    trial *at = now->at;
    now->wall = *nh_list_set(at->list);
    at->hand = hand_near_rests(at, now->all, nh_list_hand_size(at->list) - 1, &now->wall);
    const int seen = random_percent(at->source, 50) ? random_below(at->source, 70) : 0;
    const int most = nh_tiles_total(&now->wall) / 2;
    at->situation.seen = random_draw(at->source, &now->wall, seen < most ? seen : most);
    at->draws = random_below(at->source, 30);
}

static void play_game(trial *at) {
    position now = {.at = at, .list = at->list};
    MUST(at, nh_workspace_new(at->list, NULL, &now.workspace) == NH_OK);
    list_again(&now);
    deal_hand(&now);
    for (int turn = 0; turn < TURNS && can_go_on(&now); turn++) {
        play_turn(&now);
    }
    nh_workspace_free(now.workspace);
    if (now.list != at->list) {
        nh_list_free(now.list);
    }
    for (size_t p = 0; p < at->patterns; p++) {
        free(now.all[p].sums);
    }
}

static char *next_list(random_source *source) {
    return random_list(source, PATTERNS, HAND_MOST);
}

START_TEST(figures_in_play_are_those_of_listed_rests) {
    static trial at;
    try_lists(&at, &(trials){20261201, LISTS, 30, GAMES, next_list, play_game});
    printf("seed %llu: %ld hands that wait, %ld that have drawn; %ld sets claimed (%ld with "
           "jokers; at most %ld of one hand); %ld rows, %ld hands without any; %ld discards, "
           "%ld averages listed\n",
           (unsigned long long)at.seed, done.waiting, done.drawn, done.sets, done.jokers,
           done.most_sets, done.rows, done.dead, done.choices, done.averages);
    ck_assert_int_gt(done.sets, 0);
    ck_assert_int_gt(done.rows, done.dead);
    ck_assert_int_gt(done.averages, done.choices / 10);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("positions");
    ADD_TESTS(suite, "play", figures_in_play_are_those_of_listed_rests);
    return run_suite(suite);
}
