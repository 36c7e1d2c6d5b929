/* Audits, and readings of other players. See calls.h. */
#include "calls.h"

static nh_audit_question any_question(struct world *world) {
    nh_audit_question question = NH_AUDIT_QUESTION;
    if (one_in(world, 16))
        question.size = (size_t)decide(world->decisions, (int)sizeof question + 1);
    if (one_in(world, 4)) {
        question.prevailing = (nh_wind)any_int(world, NH_WIND_UNKNOWN, NH_WIND_NORTH);
        question.seat = (nh_wind)any_int(world, NH_WIND_UNKNOWN, NH_WIND_NORTH);
    }
    question.cancel = one_in(world, 2) ? world->cancel : NULL;
    return question;
}

#define MAY_FAIL                                                                                   \
    (MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT) | MAY(NH_ERROR_LIMIT) | MAY(NH_ERROR_MEMORY) |            \
     MAY(NH_ERROR_CANCELLED))

static void count_one(struct world *world, const nh_list *list, size_t pattern) {
    nh_audit_question question = any_question(world);
    nh_natural none = {{0}};
    nh_figures *figures = room_for(1, question.figures_size = any_size(world, sizeof *figures));
    nh_status status = nh_audit_figures(list, pattern, &question, figures, error_of(world));
    returned(world, status, MAY_FAIL);
    MUST(status != NH_OK || pattern < nh_list_size(list));
    if (status == NH_OK && question.figures_size >= sizeof *figures) {
        MUST(figures->dealt >= 0 && figures->dealt <= 1);
        MUST(nh_natural_compare(&figures->joker_only, &figures->targets) <= 0);
        MUST(nh_natural_compare(&figures->dealt_ways, &figures->ways) <= 0);
        MUST(nh_natural_compare(&figures->ways, &none) >= 0);
    }
    free(figures);
}

static void odds_of(struct world *world, const nh_list *list, size_t pattern) {
    nh_audit_question question = any_question(world);
    nh_dealt *dealt = room_for(1, question.dealt_size = any_size(world, sizeof *dealt));
    nh_status status = nh_audit_dealt(list, pattern, &question, dealt, error_of(world));
    returned(world, status, MAY_FAIL);
    if (status == NH_OK && question.dealt_size >= sizeof *dealt)
        MUST(dealt->chance >= 0 && dealt->chance <= 1 &&
             nh_natural_compare(&dealt->hands, &dealt->deals) <= 0);
    free(dealt);
}

static void relate(struct world *world, const nh_list *list, size_t a, size_t b) {
    nh_audit_question question = any_question(world);
    nh_relation relation = NH_CONTAINS;
    nh_status status = nh_audit_relation(list, a, b, &question, &relation, error_of(world));
    returned(world, status, MAY_FAIL);
    MUST(status != NH_OK || relation <= NH_CONTAINS);
    MUST(status != NH_OK || a != b || relation == NH_EQUAL || relation == NH_WITHIN);
}

static void overlap_of(struct world *world, const nh_list *list, size_t a, size_t b) {
    nh_audit_question question = any_question(world);
    nh_overlap *overlap = room_for(1, question.overlap_size = any_size(world, sizeof *overlap));
    nh_status status = nh_audit_overlap(list, a, b, &question, overlap, error_of(world));
    returned(world, status, MAY_FAIL);
    if (status == NH_OK && question.overlap_size >= sizeof *overlap)
        MUST(overlap->of_a >= 0 && overlap->of_a <= 1 && overlap->of_b >= 0 && overlap->of_b <= 1);
    free(overlap);
}

static void sample_of(struct world *world, const nh_list *list, size_t pattern) {
    nh_tiles target;
    size_t variant = (size_t)any_int(world, 0, 2);
    nh_status status = nh_audit_sample(list, pattern, variant, &target, error_of(world));
    returned(world, status, MAY_FAIL);
    MUST(status != NH_OK || variant < nh_audit_variants(list, pattern));
}

/* ------------------------------------------------------------ readings --- */

static void reading_holds(const nh_reading *reading) {
    MUST(nh_natural_compare(&reading->ready, &reading->hands) <= 0);
    for (size_t i = 0; i < reading->patterns; i++) {
        const nh_read_pattern *pattern = nh_reading_pattern(reading, i);
        MUST(pattern->share >= 0 && pattern->share <= 1);
        MUST(reading->status != NH_OK || nh_natural_compare(&pattern->ready, &reading->ready) <= 0);
    }
    for (size_t i = 0; i < reading->tiles; i++) {
        const nh_read_tile *tile = nh_reading_tile(reading, i);
        MUST(tile->kind < NH_JOKER && tile->danger >= 0 && tile->danger <= 1);
        MUST(nh_natural_compare(&tile->wins, &reading->ready) <= 0);
    }
    MUST(nh_reading_pattern(reading, reading->patterns) == NULL);
    MUST(nh_reading_tile(reading, reading->tiles) == NULL);
}

static void read_player(struct world *world, const nh_list *list) {
    nh_read_question question = NH_READ_QUESTION;
    nh_tiles mine = any_tiles(world, nh_list_set(list), nh_list_hand_size(list));
    nh_situation situation = any_situation(world, nh_list_set(list), &mine);
    if (one_in(world, 16))
        question.size = (size_t)decide(world->decisions, (int)sizeof question + 1);
    question.mine = one_in(world, 2) ? &mine : NULL;
    question.situation = one_in(world, 2) ? &situation : NULL;
    question.cancel = one_in(world, 2) ? world->cancel : NULL;
    if (one_in(world, 2))
        question.hidden = any_int(world, NH_HIDDEN_AS_LIST, nh_list_hand_size(list));
    nh_reading *reading = (nh_reading *)&question;
    nh_status status = nh_read(list, one_in(world, 8) ? NULL : &question, &world->allocator,
                               &reading, error_of(world));
    returned(world, status, MAY_REFUSE | MAY(NH_ERROR_MEMORY) | MAY(NH_ERROR_CANCELLED));
    MUST((reading != NULL) == (status == NH_OK));
    if (reading != NULL)
        reading_holds(reading);
    nh_reading_free(reading);
}

void call_audits(struct world *world) {
    int place = pick_list(world);
    if (place == NOTHING)
        return;
    const nh_list *list = world->lists[place];
    size_t a = (size_t)any_int(world, 0, 3), b = (size_t)any_int(world, 0, 3);
    switch (decide(world->decisions, 6)) {
    case 0:
        count_one(world, list, a);
        return;
    case 1:
        odds_of(world, list, a);
        return;
    case 2:
        relate(world, list, a, b);
        return;
    case 3:
        overlap_of(world, list, a, b);
        return;
    case 4:
        sample_of(world, list, a);
        return;
    default:
        read_player(world, list);
        return;
    }
}
