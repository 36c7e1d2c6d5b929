/* Every hand that is complete for a pattern, written out one by one. */
#include "reference_hands.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

typedef struct writing {
    const nh_tiles *copies;
    const ref_sum *sum;
    nh_tiles hand; /* so far; its jokers are the tiles that they stand for */
    ref_hands *out;
    size_t capacity, bound;
    bool too_many;
} writing;

static void push_hand(writing *at) {
    ref_hands *out = at->out;
    if (out->count == at->bound) {
        at->too_many = true;
        return;
    }
    if (out->count == at->capacity) {
        at->capacity = at->capacity == 0 ? 64 : 2 * at->capacity;
        out->item = realloc(out->item, at->capacity * sizeof *out->item);
        assert(out->item != NULL);
    }
    out->item[out->count++] = at->hand;
}

/* Every number of tiles of this kind, and of those behind it. */
static void write_kinds(writing *at, int kind) {
    if (at->too_many || at->hand.count[NH_JOKER] > at->copies->count[NH_JOKER]) {
        return;
    }
    if (kind == NH_JOKER) {
        push_hand(at);
        return;
    }
    const int need = at->sum->tiles.count[kind];
    for (int jokers = 0; jokers <= at->sum->jokerable.count[kind]; jokers++) {
        if (need - jokers > at->copies->count[kind]) {
            continue;
        }
        at->hand.count[kind] = (uint8_t)(need - jokers);
        at->hand.count[NH_JOKER] = (uint8_t)(at->hand.count[NH_JOKER] + jokers);
        write_kinds(at, kind + 1);
        at->hand.count[NH_JOKER] = (uint8_t)(at->hand.count[NH_JOKER] - jokers);
    }
}

static int compare_hands(const void *a, const void *b) {
    return memcmp(a, b, sizeof(nh_tiles));
}

static void drop_repeated(ref_hands *hands) {
    size_t kept = 0;
    if (hands->count > 0) {
        qsort(hands->item, hands->count, sizeof *hands->item, compare_hands);
    }
    for (size_t i = 0; i < hands->count; i++) {
        if (kept == 0 || compare_hands(&hands->item[i], &hands->item[kept - 1]) != 0) {
            hands->item[kept++] = hands->item[i];
        }
    }
    hands->count = kept;
}

bool reference_hands(const nh_tiles *copies, const ref_sum *sums, size_t count, size_t bound,
                     ref_hands *hands) {
    *hands = (ref_hands){NULL, 0};
    writing at = {.copies = copies, .out = hands, .bound = bound};
    for (size_t i = 0; i < count; i++) {
        at.sum = &sums[i];
        write_kinds(&at, 0);
    }
    if (at.too_many) {
        reference_release_hands(hands);
        return false;
    }
    drop_repeated(hands);
    return true;
}

void reference_release_hands(ref_hands *hands) {
    free(hands->item);
    *hands = (ref_hands){NULL, 0};
}

static nh_natural ways_of(const nh_tiles *copies, const nh_tiles *hand) {
    nh_natural ways = reference_number(1);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        ways = reference_multiply(ways, reference_choose(copies->count[kind], hand->count[kind]));
    }
    return ways;
}

nh_natural reference_dealt(const nh_tiles *copies, const ref_hands *hands, int size) {
    nh_natural sum = reference_number(0);
    for (size_t i = 0; i < hands->count; i++) {
        if (nh_tiles_total(&hands->item[i]) == size) {
            sum = reference_add(sum, ways_of(copies, &hands->item[i]));
        }
    }
    return sum;
}

static bool is_among(const ref_hands *hands, const nh_tiles *hand) {
    return hands->count > 0 &&
           bsearch(hand, hands->item, hands->count, sizeof *hands->item, compare_hands) != NULL;
}

static bool all_among(const ref_hands *inner, const ref_hands *outer) {
    for (size_t i = 0; i < inner->count; i++) {
        if (!is_among(outer, &inner->item[i])) {
            return false;
        }
    }
    return true;
}

nh_relation reference_hands_relation(const ref_hands *a, const ref_hands *b) {
    const bool within = all_among(a, b);
    const bool contains = all_among(b, a);
    if (within && contains) {
        return NH_EQUAL;
    }
    return within ? NH_WITHIN : contains ? NH_CONTAINS : NH_NEITHER;
}

nh_natural reference_common_ways(const nh_tiles *copies, const ref_hands *a, const ref_hands *b) {
    nh_natural sum = reference_number(0);
    for (size_t i = 0; i < a->count; i++) {
        if (a->item[i].count[NH_JOKER] == 0 && is_among(b, &a->item[i])) {
            sum = reference_add(sum, ways_of(copies, &a->item[i]));
        }
    }
    return sum;
}
