/* Rests, the plain way. See listed_rests.h. */
#include "listed_rests.h"

#include <stdlib.h>
#include <string.h>

enum { RESTS_MOST = 400000 };

static void push_rest(rests *all, const nh_tiles *tiles, const nh_tiles *open) {
    if (all->count == all->capacity) {
        all->capacity = all->capacity == 0 ? 64 : 2 * all->capacity;
        all->sums = realloc(all->sums, all->capacity * sizeof *all->sums);
        ck_assert_ptr_nonnull(all->sums);
    }
    ck_assert_uint_lt(all->count, RESTS_MOST);
    all->sums[all->count++] = (ref_sum){*tiles, *open};
}

/* ----------------------------------------------------------- plain rests --- */

typedef struct listing {
    const table *on;
    rests *out;
    const trial *at;
    size_t pattern;
    uint32_t variant;
} listing;

static bool is_piece(const nh_piece *piece, const nh_set *set) {
    const bool row = piece->shape == NH_CHOW || piece->shape == NH_RUN;
    return piece->kind == set->kind && piece->tiles == set->tiles && row == (set->shape == NH_CHOW);
}

/* A claimed kong draws a tile where patterns are larger than a hand: the player holds one
 * tile more than the kong took, and a target that has no place for it cannot be made. */
static int tiles_to_hold(const nh_list *list, const table *on) {
    const bool replaced = nh_list_hand_most(list) > nh_list_hand_size(list);
    int tiles = nh_list_hand_size(list);
    for (size_t i = 0; i < on->count; i++) {
        tiles -= replaced && on->sets[i].shape == NH_KONG ? 3 : on->sets[i].tiles;
    }
    return tiles;
}

/* Gives set number `at` and those behind it pieces that are not used. */
static void give_pieces(const listing *asked, const nh_layout *layout, bool *used, size_t at) {
    if (at < asked->on->count) {
        for (int i = 0; i < layout->pieces; i++) {
            if (!used[i] && is_piece(&layout->piece[i], &asked->on->sets[at])) {
                used[i] = true;
                give_pieces(asked, layout, used, at + 1);
                used[i] = false;
            }
        }
        return;
    }
    nh_tiles tiles = {{0}}, open = {{0}};
    for (int i = 0; i < layout->pieces; i++) {
        nh_tiles piece;
        nh_piece_tiles(&layout->piece[i], &piece);
        if (!used[i]) {
            ck_assert(nh_tiles_add(&tiles, &piece));
            ck_assert(layout->piece[i].jokers == 0 || nh_tiles_add(&open, &piece));
        }
    }
    if (nh_tiles_total(&tiles) >= tiles_to_hold(asked->at->list, asked->on)) {
        push_rest(asked->out, &tiles, &open);
    }
}

/* A concealed variant goes with no set on the table. */
static bool list_rests(const nh_layout *layout, void *context) {
    const listing *asked = context;
    if (asked->variant != ANY_VARIANT && layout->variant != asked->variant) {
        return true;
    }
    if (asked->on->count > 0 &&
        nh_list_variant(asked->at->list, asked->pattern, layout->variant)->concealed) {
        return true;
    }
    bool used[NH_TARGET_MAX] = {false};
    give_pieces(context, layout, used, 0);
    return true;
}

static int compare_sums(const void *a, const void *b) {
    return memcmp(a, b, sizeof(ref_sum));
}

rests rests_of(const trial *at, size_t pattern, const table *on) {
    return rests_of_variant(at, pattern, ANY_VARIANT, on);
}

rests rests_of_variant(const trial *at, size_t pattern, uint32_t variant, const table *on) {
    rests all = {0};
    const ref_targets *targets = &at->targets[pattern];
    const listing asked = {on, &all, at, pattern, variant};
    nh_layout_question question = NH_LAYOUT_QUESTION;
    question.prevailing = at->situation.prevailing;
    question.seat = at->situation.seat;
    for (size_t i = 0; i < targets->count; i = reference_next(targets, i)) {
        MUST(at, nh_layouts_each(at->list, pattern, &targets->sums[i].tiles, &question, list_rests,
                                 (void *)&asked, NULL) == NH_OK);
    }
    if (all.count > 0) {
        qsort(all.sums, all.count, sizeof *all.sums, compare_sums);
    }
    size_t kept = 0;
    for (size_t i = 0; i < all.count; i++) {
        if (kept == 0 || compare_sums(&all.sums[i], &all.sums[kept - 1]) != 0) {
            all.sums[kept++] = all.sums[i];
        }
    }
    all.count = kept;
    return all;
}

/* ---------------------------------------------------------------- tables --- */

static bool keep_layout(const nh_layout *layout, void *context) {
    *(nh_layout *)context = *layout;
    return false;
}

/* Puts a set on the table, with jokers in it now and then, if the tiles allow it. */
static void put(const trial *at, table *on, nh_set set) {
    const nh_tiles *whole = nh_list_set(at->list);
    nh_tiles tiles, sum = on->tiles;
    if (set.shape != NH_CHOW && whole->count[NH_JOKER] > 0 && random_percent(at->source, 40)) {
        set.jokers = (uint8_t)(1 + random_below(at->source, set.tiles - 1));
    }
    nh_set_tiles(&set, &tiles);
    ck_assert(nh_tiles_add(&sum, &tiles));
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (sum.count[kind] > whole->count[kind]) {
            return;
        }
    }
    on->tiles = sum;
    on->sets[on->count++] = set;
}

table lay_table(const trial *at) {
    table on = {.count = 0};
    const size_t pattern = (size_t)random_below(at->source, (int)at->patterns);
    const ref_targets *targets = &at->targets[pattern];
    const size_t most = (size_t)random_below(at->source, 4);
    nh_layout layout = {.pieces = 0};
    if (targets->count > 0) {
        const ref_sum *sum = &targets->sums[random_below(at->source, (int)targets->count)];
        nh_layout_question question = NH_LAYOUT_QUESTION;
        question.prevailing = at->situation.prevailing;
        question.seat = at->situation.seat;
        nh_layouts_each(at->list, pattern, &sum->tiles, &question, keep_layout, &layout, NULL);
    }
    for (int i = 0; i < layout.pieces && on.count < most; i++) {
        const nh_piece *piece = &layout.piece[i];
        const bool row = piece->shape == NH_CHOW || piece->shape == NH_RUN;
        if (piece->tiles >= 3 && (!row || piece->tiles == 3) && piece->tiles <= 6) {
            put(at, &on,
                (nh_set){(uint8_t)(row ? NH_CHOW : piece->shape), piece->kind, piece->tiles, 0});
        }
    }
    if (random_percent(at->source, 10) && on.count < NH_SETS_MAX) {
        put(at, &on, (nh_set){NH_PUNG, (uint8_t)random_below(at->source, NH_FLOWER), 3, 0});
    }
    return on;
}

/* ----------------------------------------------------------------- hands --- */

int rests_away(const trial *at, const rests *all, const nh_tiles *hand, const nh_tiles *seen) {
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < all->count; i++) {
        const int away = reference_sum_away(at->plain, &all->sums[i], hand, seen);
        least = away < least ? away : least;
    }
    return least;
}

nh_tiles hand_near_rests(const trial *at, const rests *all, int size, nh_tiles *pool) {
    const size_t pattern = (size_t)random_below(at->source, (int)at->patterns);
    if (all[pattern].count == 0 || !random_percent(at->source, 60)) {
        return random_draw(at->source, pool, size);
    }
    const ref_sum *sum = &all[pattern].sums[random_below(at->source, (int)all[pattern].count)];
    const int strangers = random_below(at->source, 3);
    const nh_tiles hand =
        random_near(at->source, pool, &sum->tiles, &sum->jokerable, size, strangers);
    ck_assert(nh_tiles_take(pool, &hand));
    return hand;
}
