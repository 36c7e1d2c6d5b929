/* One list, read by the library and by the plain reference. */
#include "trial.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *explain(const trial *at) {
    static char text[20000];
    char hand[NH_TILES_TEXT_SIZE];
    char seen[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&at->hand, NH_STYLE_LETTERS, hand, sizeof hand);
    nh_tiles_format(&at->situation.seen, NH_STYLE_LETTERS, seen, sizeof seen);
    snprintf(text, sizeof text,
             "seed %llu, hand \"%s\", seen \"%s\", prevailing %d, seat %d, draws %d, list\n%s",
             (unsigned long long)at->seed, hand, seen, (int)at->situation.prevailing,
             (int)at->situation.seat, at->draws, at->json);
    return text;
}

void open_list(trial *at, char *json) {
    at->json = json;
    at->plain = reference_read(json);
    nh_mistakes *mistakes = NULL;
    const nh_status status = nh_list_read(json, strlen(json), NULL, &at->list, &mistakes);
    ck_assert_msg(status == NH_OK, "%s: %s\n%s", nh_status_text(status),
                  nh_mistakes_size(mistakes) ? nh_mistakes_at(mistakes, 0)->text : "", json);
    ck_assert_int_eq(nh_workspace_new(at->list, NULL, &at->workspace), NH_OK);
    at->patterns = nh_list_size(at->list);
    ck_assert_uint_eq(at->patterns, reference_patterns(at->plain));
    ck_assert_uint_le(at->patterns, PATTERNS_MOST);
}

void close_list(trial *at) {
    nh_workspace_free(at->workspace);
    nh_list_free(at->list);
    reference_free(at->plain);
    free(at->json);
}

void expand(trial *at) {
    for (size_t i = 0; i < at->patterns; i++) {
        const bool written = reference_expand(at->plain, i, at->situation.prevailing,
                                              at->situation.seat, RANDOM_SUMS_MAX, &at->targets[i]);
        ck_assert(written);
    }
}

void release(trial *at) {
    for (size_t i = 0; i < at->patterns; i++) {
        reference_release(&at->targets[i]);
    }
}

void pick_hand(trial *at) {
    random_source *source = at->source;
    const ref_targets *targets = &at->targets[random_below(source, (int)at->patterns)];
    const int whole = nh_list_hand_size(at->list);
    int size = whole - (random_percent(source, 30) ? 1 : 0);
    if (random_percent(source, 15)) {
        size = 1 + random_below(source, nh_list_hand_most(at->list));
    }
    nh_tiles pool = *nh_list_set(at->list);
    if (targets->count > 0 && random_percent(source, 60)) {
        const ref_sum *sum = &targets->sums[random_below(source, (int)targets->count)];
        const int strangers = random_below(source, 1 + (size < 6 ? size : 6));
        at->hand = random_near(source, &pool, &sum->tiles, &sum->jokerable, size, strangers);
    } else {
        at->hand = random_draw(source, &pool, size);
    }
}

void pick_seen(trial *at) {
    random_source *source = at->source;
    nh_tiles left = *nh_list_set(at->list);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        left.count[kind] = (uint8_t)(left.count[kind] - at->hand.count[kind]);
    }
    const int total = nh_tiles_total(&left);
    const int way = random_below(source, 10);
    const int most = way < 4 ? 1 : way < 7 ? total / 3 + 1 : total + 1;
    at->situation.seen = random_draw(source, &left, random_below(source, most));
    const int jokers = left.count[NH_JOKER];
    if (random_percent(source, 30) && jokers > 0) {
        at->situation.seen.count[NH_JOKER] += (uint8_t)(jokers - random_below(source, 2));
    }
}

int try_lists(trial *at, const trials *all) {
    const int count = random_tries(all->lists);
    at->seed = random_seed(all->seed);
    random_source source = {at->seed};
    at->source = &source;
    for (int i = 0; i < count; i++) {
        open_list(at, all->make(&source));
        at->situation = (nh_situation)NH_SITUATION;
        if (random_percent(&source, all->winds)) {
            at->situation.prevailing = (nh_wind)random_below(&source, 5);
            at->situation.seat = (nh_wind)random_below(&source, 5);
        }
        expand(at);
        for (int turn = 0; turn < all->turns; turn++) {
            all->check(at);
        }
        release(at);
        close_list(at);
    }
    at->source = NULL;
    return count;
}
