/* What a survey counts. */
#include "survey/counts.h"
#include "io/message.h"

#include <stdlib.h>
#include <string.h>

bool counts_new(struct counts *counts, const nh_list *list) {
    size_t size = nh_list_size(list);
    *counts = (struct counts){.list = list};
    counts->pattern = calloc(size, sizeof *counts->pattern);
    counts->variant_at = calloc(size + 1, sizeof *counts->variant_at);
    if (counts->variant_at == NULL || counts->pattern == NULL)
        return short_of_memory();
    for (size_t i = 0; i < size; i++)
        counts->variant_at[i + 1] = counts->variant_at[i] + nh_audit_variants(list, i);
    counts->variant_wins = calloc(counts->variant_at[size], sizeof *counts->variant_wins);
    return counts->variant_wins != NULL || short_of_memory();
}

void counts_free(struct counts *counts) {
    free(counts->range);
    free(counts->pattern);
    free(counts->variant_wins);
    free(counts->variant_at);
}

void counts_clear(struct counts *counts) {
    size_t size = nh_list_size(counts->list);
    counts->ranges = 0;
    counts->games = counts->walls = counts->turns = counts->wall_left = 0;
    memset(counts->seat_wins, 0, sizeof counts->seat_wins);
    memset(counts->pattern, 0, size * sizeof *counts->pattern);
    memset(counts->variant_wins, 0, counts->variant_at[size] * sizeof *counts->variant_wins);
}

/* --------------------------------------------------------------- games --- */

void counts_add_hand(struct counts *counts, const uint8_t *away, bool passed) {
    size_t size = nh_list_size(counts->list), nearest = 0, last = 0;
    uint8_t least = NH_AWAY_NONE;
    for (size_t i = 0; i < size; i++)
        least = away[i] < least ? away[i] : least;
    for (size_t i = 0; i < size && least != NH_AWAY_NONE; i++) {
        if (away[i] != least)
            continue;
        nearest++;
        last = i;
        *(passed ? &counts->pattern[i].passed : &counts->pattern[i].dealt) += 1;
    }
    if (nearest == 1)
        *(passed ? &counts->pattern[last].passed_alone : &counts->pattern[last].dealt_alone) += 1;
}

void counts_add_end(struct counts *counts, const nh_game_end *end) {
    counts->games++;
    counts->turns += end->turns;
    if (!end->won) {
        counts->walls++;
        return;
    }
    struct pattern_counts *pattern = &counts->pattern[end->pattern.pattern];
    counts->wall_left += end->wall;
    counts->seat_wins[end->seat]++;
    counts->variant_wins[counts->variant_at[end->pattern.pattern] + end->pattern.variant]++;
    *(end->from == end->seat ? &pattern->drawn : &pattern->claimed) += 1;
    pattern->turns += end->turns;
}

/* -------------------------------------------------------------- ranges --- */

bool counts_has(const struct counts *counts, uint64_t game) {
    for (size_t i = 0; i < counts->ranges; i++)
        if (game >= counts->range[i].first && game <= counts->range[i].last)
            return true;
    return false;
}

uint64_t counts_within(const struct counts *counts, struct game_range range) {
    uint64_t games = 0;
    for (size_t i = 0; i < counts->ranges; i++) {
        const struct game_range *own = &counts->range[i];
        uint64_t first = own->first > range.first ? own->first : range.first;
        uint64_t last = own->last < range.last ? own->last : range.last;
        games += first <= last ? last - first + 1 : 0;
    }
    return games;
}

static bool reserve_range(struct counts *counts) {
    if (counts->ranges < counts->range_capacity)
        return true;
    size_t capacity = 2 * counts->range_capacity + 4;
    struct game_range *range = realloc(counts->range, capacity * sizeof *range);
    if (range == NULL)
        return false;
    counts->range = range;
    counts->range_capacity = capacity;
    return true;
}

/* Ranges that touch become one, so that the same games are always the same ranges. */
static void join_ranges(struct counts *counts) {
    size_t kept = 0;
    for (size_t i = 1; i < counts->ranges; i++) {
        if (counts->range[kept].last + 1 == counts->range[i].first)
            counts->range[kept].last = counts->range[i].last;
        else
            counts->range[++kept] = counts->range[i];
    }
    counts->ranges = kept + 1;
}

bool counts_add_range(struct counts *counts, struct game_range range, uint64_t *again) {
    size_t at = 0;
    *again = 0;
    while (at < counts->ranges && counts->range[at].last < range.first)
        at++;
    if (at < counts->ranges && counts->range[at].first <= range.last) {
        *again = counts->range[at].first > range.first ? counts->range[at].first : range.first;
        return false;
    }
    if (!reserve_range(counts))
        return short_of_memory();
    memmove(counts->range + at + 1, counts->range + at,
            (counts->ranges - at) * sizeof *counts->range);
    counts->range[at] = range;
    counts->ranges++;
    join_ranges(counts);
    return true;
}

/* ----------------------------------------------------------------- sums --- */

static void add_pattern_counts(struct pattern_counts *to, const struct pattern_counts *more) {
    to->dealt += more->dealt;
    to->dealt_alone += more->dealt_alone;
    to->passed += more->passed;
    to->passed_alone += more->passed_alone;
    to->drawn += more->drawn;
    to->claimed += more->claimed;
    to->turns += more->turns;
}

void counts_add(struct counts *counts, const struct counts *more) {
    size_t size = nh_list_size(counts->list);
    counts->games += more->games;
    counts->walls += more->walls;
    counts->turns += more->turns;
    counts->wall_left += more->wall_left;
    for (int seat = 0; seat < NH_SEATS; seat++)
        counts->seat_wins[seat] += more->seat_wins[seat];
    for (size_t i = 0; i < size; i++)
        add_pattern_counts(&counts->pattern[i], &more->pattern[i]);
    for (size_t i = 0; i < counts->variant_at[size]; i++)
        counts->variant_wins[i] += more->variant_wins[i];
}

uint64_t counts_wins(const struct counts *counts, size_t pattern) {
    return counts->pattern[pattern].drawn + counts->pattern[pattern].claimed;
}

double counts_points(const struct counts *counts, size_t pattern) {
    double points = 0;
    for (size_t at = counts->variant_at[pattern]; at < counts->variant_at[pattern + 1]; at++) {
        const nh_pattern *variant =
            nh_list_variant(counts->list, pattern, at - counts->variant_at[pattern]);
        points += variant->points * (double)counts->variant_wins[at];
    }
    return points;
}
