/* Another player's hidden hands, listed one by one. */
#include "hidden_hands.h"

/* Adds to `completes` the kinds that make a hidden hand a target. Of the tiles that it
 * lacks one may be the kind; jokers must stand for the others. */
static bool complete_target(const ref_sum *target, const nh_tiles *hand, const bool *left,
                            bool *completes) {
    int lack[NH_KINDS], closed = 0, closed_kind = -1, lacking = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        lack[kind] = target->tiles.count[kind] - hand->count[kind];
        if (lack[kind] < 0) {
            return false;
        }
        lacking += lack[kind];
        if (lack[kind] > target->jokerable.count[kind]) {
            closed += lack[kind] - target->jokerable.count[kind];
            closed_kind = kind;
        }
    }
    if (lacking != hand->count[NH_JOKER] + 1 || closed > 1) {
        return false;
    }
    bool any = false;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        const bool is_one =
            kind == NH_JOKER ? closed == 0 : lack[kind] > 0 && (closed == 0 || kind == closed_kind);
        completes[kind] = completes[kind] || (is_one && left[kind]);
        any = any || (is_one && left[kind]);
    }
    return any;
}

static void count_hand(hidden_hands *all, const nh_tiles *hand, uint64_t ways) {
    bool left[NH_KINDS], completes[NH_KINDS] = {false}, ready = false;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        left[kind] = all->unseen.count[kind] - hand->count[kind] + all->mine.count[kind] > 0;
    }
    for (size_t p = 0; p < all->patterns; p++) {
        bool of_pattern = false;
        for (size_t i = 0; i < all->targets[p].count; i++) {
            of_pattern |= complete_target(&all->targets[p].sums[i], hand, left, completes);
        }
        all->of_pattern[p] += of_pattern ? ways : 0;
        ready = ready || of_pattern;
    }
    all->hands += ways;
    all->ready += ready ? ways : 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        all->wins[kind] += completes[kind] ? ways : 0;
    }
    all->listed++;
}

/* Lists the hands that have these tiles of the kinds below `kind`. */
static void list_from(hidden_hands *all, int kind, nh_tiles *hand, int more, uint64_t ways) {
    if (kind == NH_KINDS) {
        if (more == 0) {
            count_hand(all, hand, ways);
        }
        return;
    }
    uint64_t choices = 1;
    for (int held = 0; held <= all->unseen.count[kind] && held <= more; held++) {
        hand->count[kind] = (uint8_t)held;
        list_from(all, kind + 1, hand, more - held, ways * choices);
        choices = choices * (uint64_t)(all->unseen.count[kind] - held) / (uint64_t)(held + 1);
    }
    hand->count[kind] = 0;
}

void list_hidden_hands(hidden_hands *all) {
    nh_tiles hand = {{0}};
    list_from(all, 0, &hand, all->hidden, 1);
}

long different_hidden_hands(const nh_tiles *unseen, int hidden) {
    long ways[NH_TARGET_MAX + 1] = {1};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        for (int all = hidden; all > 0; all--) {
            for (int held = 1; held <= unseen->count[kind] && held <= all; held++) {
                ways[all] += ways[all - held];
            }
            ways[all] = ways[all] > HIDDEN_HANDS_MOST ? HIDDEN_HANDS_MOST + 1 : ways[all];
        }
    }
    return ways[hidden];
}
