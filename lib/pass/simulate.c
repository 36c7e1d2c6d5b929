/* Looking further than one pass: how near a hand comes when each further pass is the
 * best by itself, by simulation. */
#include "pass/simulate.h"
#include "base/status.h"
#include "distance/distances.h"

/* A hand in the course of the Charleston. */
struct course {
    nh_tiles hand, unseen;
    nh_situation situation;
};

static void let_go(struct course *course, const nh_tiles *pass) {
    course->hand = tiles_without(&course->hand, pass);
    course->situation.seen = tiles_with(&course->situation.seen, pass);
}

static unsigned nearest_away(const struct pass_memory *memory, const uint8_t *chosen,
                             const struct course *course) {
    struct query query;
    struct near_rows rows;
    query_set(&query, memory->list, &course->hand, &course->situation, NULL);
    return find_distances(&query, chosen, memory->rows, &rows,
                          memory->scratch->expect.remains.away);
}

/* One course of play from the pass on, whose distance at the end is added. */
static nh_status play_course(const struct pass_memory *memory, struct course course,
                             const nh_ahead_question *question, nh_random *random, nh_ahead *ahead,
                             nh_error *error) {
    nh_pass_question each = NH_PASS_QUESTION;
    each.situation = &course.situation;
    each.chosen = question->chosen;
    each.cancel = question->cancel;
    each.tiles = nh_tiles_total(&question->pass);
    let_go(&course, &question->pass);
    nh_deal_draw(random, &course.unseen, each.tiles, &course.hand);
    for (unsigned i = 0; i < question->further; i++) {
        nh_choice best;
        nh_passing passing;
        nh_status status = find_passes(memory, &course.hand, &each, &best, 1, &passing, error);
        if (status == NH_ERROR_TILES)
            break; /* too few are left to be passed, or unseen */
        if (status != NH_OK)
            return status;
        let_go(&course, &best.pass);
        nh_deal_draw(random, &course.unseen, each.tiles, &course.hand);
    }
    unsigned away = nearest_away(memory, question->chosen, &course);
    ahead->courses += away != NH_AWAY_NONE;
    ahead->sum += away != NH_AWAY_NONE ? away : 0;
    ahead->squares += away != NH_AWAY_NONE ? (uint64_t)away * away : 0;
    return NH_OK;
}

static nh_status check_pass_tiles(const struct query *query, const nh_tiles *pass,
                                  nh_error *error) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (pass->count[kind] > query->hand.count[kind])
            return error_set(error, NH_ERROR_TILES, 0, "the hand has %d of %s, not %d",
                             query->hand.count[kind], nh_kind_notation(kind), pass->count[kind]);
        if (pass->count[kind] > 0 && query->list->charleston.keep.count[kind] > 0)
            return error_set(error, NH_ERROR_TILES, 0, "%s may not be passed",
                             nh_kind_notation(kind));
    }
    return NH_OK;
}

nh_status simulate_passes(const struct pass_memory *memory, const nh_tiles *hand,
                          const nh_ahead_question *question, nh_ahead *ahead, nh_error *error) {
    struct query query;
    nh_status status = query_set(&query, memory->list, hand, question->situation, error);
    if (status == NH_OK)
        status = check_passing(&query, (unsigned)nh_tiles_total(&question->pass), error);
    if (status == NH_OK)
        status = check_pass_tiles(&query, &question->pass, error);
    if (status != NH_OK)
        return status;
    struct course course = {.hand = *hand,
                            .unseen = tiles_without(&query.left, hand),
                            .situation = *question->situation};
    *ahead = (nh_ahead){.courses = 0};
    for (uint64_t i = 0; status == NH_OK && i < question->courses; i++) {
        nh_random random;
        nh_random_start(&random, question->seed, question->first + i);
        status = cancel_asked(question->cancel)
                     ? cancel_error(error)
                     : play_course(memory, course, question, &random, ahead, error);
    }
    return status;
}
