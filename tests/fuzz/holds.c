/* What holds for every list and every hand. See holds.h. */
#include "holds.h"
#include "../ask.h"

#include <string.h>

static void report_holds(const nh_mistakes *mistakes, const char *json, size_t length) {
    uint32_t lines = 1;
    for (size_t i = 0; i < length; i++)
        lines += json[i] == '\n';
    size_t count = nh_mistakes_size(mistakes);
    MUST(count > 0 && count <= NH_MISTAKES_MAX + 1);
    for (size_t i = 0; i < count; i++) {
        nh_mistake mistake = *nh_mistakes_at(mistakes, i);
        MUST(mistake.text != NULL && mistake.text[0] != '\0');
        MUST(mistake.line <= lines && mistake.column <= length + 1);
        MUST((mistake.line == 0) == (mistake.column == 0));
        MUST(mistake.pattern == NULL || strlen(mistake.pattern) <= NH_TEXT_MAX);
    }
}

static void about_holds(const nh_list *list) {
    int hand = nh_list_hand_size(list), most = nh_list_hand_most(list);
    MUST(hand >= 2 && hand <= NH_HAND_MAX && most >= hand && most <= NH_TARGET_MAX);
    MUST(nh_list_size(list) >= 1 && nh_list_size(list) <= NH_PATTERNS_MAX);
    MUST(nh_list_title(list)[0] != '\0' && nh_tiles_total(nh_list_set(list)) >= hand);
    for (size_t i = 0; i < nh_list_size(list); i++) {
        bool live = false;
        MUST(nh_list_pattern(list, i)->name[0] != '\0');
        for (size_t v = 0; v < nh_audit_variants(list, i); v++)
            live |= nh_audit_variant_live(list, i, v);
        MUST(live);
    }
}

nh_list *list_holds(const char *json, size_t length) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    nh_status status = nh_list_read(json, length, NULL, &list, &mistakes);
    MUST(status == NH_OK || status == NH_ERROR_LIST);
    MUST((list != NULL) == (status == NH_OK) && (mistakes != NULL) == (status != NH_OK));
    if (list == NULL)
        report_holds(mistakes, json, length);
    else
        about_holds(list);
    nh_mistakes_free(mistakes);
    return list;
}

static void row_holds(const nh_list *list, const nh_tiles *hand, const nh_situation *situation,
                      const nh_ranked *row) {
    const nh_tiles *set = nh_list_set(list);
    MUST(nh_tiles_total(&row->need) == row->away && row->need.count[NH_JOKER] == 0);
    MUST(nh_tiles_total(&row->target) == nh_tiles_total(&row->keep) + row->away);
    MUST(row->joked.count[NH_JOKER] == 0 && row->target.count[NH_JOKER] == 0);
    MUST(nh_tiles_total(&row->joked) == row->keep.count[NH_JOKER]);
    int short_of = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int natural = kind == NH_JOKER ? 0 : row->keep.count[kind];
        MUST(row->target.count[kind] == natural + row->joked.count[kind] + row->need.count[kind]);
        MUST(hand->count[kind] == row->keep.count[kind] + row->spare.count[kind]);
        int unseen = set->count[kind] - hand->count[kind] - situation->seen.count[kind];
        short_of += row->need.count[kind] > unseen ? row->need.count[kind] - unseen : 0;
    }
    MUST(short_of <= set->count[NH_JOKER]);
    MUST(row->chance >= 0 && row->chance <= 1);
    MUST(row->away > 0 || row->chance >= 1);
}

static void rows_hold(const nh_ranked *rows, const nh_ranking *ranking, const uint8_t *away,
                      size_t patterns) {
    size_t live = 0, within_one = 0;
    for (size_t i = 0; i < patterns; i++)
        live += away[i] != NH_AWAY_NONE;
    MUST(ranking->live == live && ranking->rows == live);
    MUST(ranking->nearest == (live > 0 ? rows[0].away : NH_AWAY_NONE));
    for (size_t i = 0; i < live; i++) {
        MUST(rows[i].pattern < patterns && away[rows[i].pattern] == rows[i].away);
        MUST(nh_natural_compare(&rows[i].completing, &ranking->draws) <= 0);
        within_one += rows[i].away <= ranking->nearest + 1;
        MUST(i == 0 || rows[i - 1].away < rows[i].away ||
             (rows[i - 1].away == rows[i].away &&
              nh_natural_compare(&rows[i - 1].completing, &rows[i].completing) >= 0));
    }
    MUST(ranking->within_one == within_one);
}

void ranking_holds(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                   const nh_situation *situation, int draws) {
    size_t patterns = nh_list_size(list);
    uint8_t *away = malloc(patterns);
    nh_ranked *rows = malloc(patterns * sizeof *rows);
    nh_ranking ranking;
    MUST(away != NULL && rows != NULL);
    MUST(nh_distances(workspace, hand, situation, away, NULL) == NH_OK);
    MUST(ask_rank(workspace, hand, situation, draws, NULL, rows, patterns, &ranking, NULL) ==
         NH_OK);
    rows_hold(rows, &ranking, away, patterns);
    for (size_t i = 0; i < ranking.rows; i++)
        row_holds(list, hand, situation, &rows[i]);
    free(rows);
    free(away);
}

/* False where counting takes more work than the library gives it. */
static bool count_holds(const nh_list *list, size_t pattern, nh_figures *count) {
    nh_natural none = {{0}};
    nh_status status = ask_figures(list, pattern, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, count);
    if (status == NH_ERROR_LIMIT)
        return false;
    MUST(status == NH_OK);
    MUST(nh_natural_compare(&count->targets, &none) > 0);
    MUST(nh_natural_compare(&count->joker_only, &count->targets) <= 0);
    MUST(nh_natural_compare(&count->dealt_ways, &count->ways) <= 0);
    MUST(count->dealt >= 0 && count->dealt <= 1);
    return true;
}

static bool find_relation(const nh_list *list, size_t a, size_t b, nh_relation *relation) {
    nh_status status = ask_relation(list, a, b, relation);
    MUST(status == NH_OK || status == NH_ERROR_LIMIT);
    return status == NH_OK;
}

static void relation_holds(const nh_list *list, size_t a, size_t b, const nh_figures *of_a,
                           const nh_figures *of_b) {
    nh_relation there, back;
    if (!find_relation(list, a, b, &there) || !find_relation(list, b, a, &back))
        return;
    MUST(there == (back == NH_WITHIN ? NH_CONTAINS : back == NH_CONTAINS ? NH_WITHIN : back));
    bool jokers = nh_list_set(list)->count[NH_JOKER] > 0;
    int order = jokers ? nh_natural_compare(&of_a->ways, &of_b->ways)
                       : nh_natural_compare(&of_a->targets, &of_b->targets);
    MUST(there != NH_EQUAL || order == 0);
    MUST(there != NH_WITHIN || order < 0 || (jokers && order == 0));
    MUST(a != b || there == NH_EQUAL);
}

/* Odds with jokers are no smaller; samples are there for the variants that live. */
static void odds_hold(const nh_list *list, size_t pattern, const nh_figures *figures) {
    nh_dealt dealt;
    nh_status status = nh_audit_dealt(list, pattern, NULL, &dealt, NULL);
    MUST(status == NH_OK || status == NH_ERROR_LIMIT);
    int order = status == NH_OK ? nh_natural_compare(&dealt.hands, &figures->dealt_ways) : 1;
    MUST(order >= 0 && (order == 0 || status != NH_OK || nh_list_set(list)->count[NH_JOKER] > 0));
    for (size_t v = 0; v < nh_audit_variants(list, pattern); v++) {
        nh_tiles sample;
        MUST(nh_audit_sample(list, pattern, v, &sample, NULL) == NH_OK);
        MUST((nh_tiles_total(&sample) > 0) == nh_audit_variant_live(list, pattern, v));
    }
}

/* What two patterns share is no more than either has, and all where they are one. */
static void overlap_holds(const nh_list *list, size_t a, size_t b, const nh_figures *of_a,
                          const nh_figures *of_b) {
    nh_overlap overlap;
    nh_status status = nh_audit_overlap(list, a, b, NULL, &overlap, NULL);
    MUST(status == NH_OK || status == NH_ERROR_LIMIT);
    if (status != NH_OK)
        return;
    MUST(nh_natural_compare(&overlap.ways, &of_a->ways) <= 0);
    MUST(nh_natural_compare(&overlap.ways, &of_b->ways) <= 0);
    MUST(a != b || nh_natural_compare(&overlap.ways, &of_a->ways) == 0);
}

void audit_holds(const nh_list *list, struct decisions *decisions) {
    nh_figures of_a, of_b;
    size_t a = (size_t)decide(decisions, (int)nh_list_size(list));
    size_t b = (size_t)decide(decisions, (int)nh_list_size(list));
    if (!count_holds(list, a, &of_a) || !count_holds(list, b, &of_b))
        return;
    odds_hold(list, a, &of_a);
    if (decide(decisions, 2) == 1)
        relation_holds(list, a, b, &of_a, &of_b);
    else
        overlap_holds(list, a, b, &of_a, &of_b);
}
