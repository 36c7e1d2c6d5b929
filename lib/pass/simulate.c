/* Looking further than one pass: what a hand comes to when the best pass follows
 * upon the best pass, by simulation. */
#include "base/status.h"
#include "workspace.h"

/* A hand in the course of the Charleston. */
struct course {
    nh_tiles hand, unseen;
    nh_situation situation;
};

static void let_go(struct course *course, const nh_tiles *pass) {
    course->hand = tiles_without(&course->hand, pass);
    course->situation.seen = tiles_with(&course->situation.seen, pass);
}

static unsigned nearest_away(const nh_list *list, nh_workspace *workspace, const uint8_t *chosen,
                             const struct course *course) {
    struct query query;
    struct near_rows rows;
    query_set(&query, list, &course->hand, &course->situation, NULL);
    return find_distances(&query, chosen, &rows, workspace, workspace->away);
}

/* One course of play from the pass on, whose distance at the end is added. */
static nh_status play(const nh_list *list, nh_workspace *workspace, struct course course,
                      const nh_tiles *pass, unsigned count, unsigned further, const uint8_t *chosen,
                      nh_random *random, nh_ahead *ahead, nh_error *error) {
    let_go(&course, pass);
    nh_deal_draw(random, &course.unseen, (int)count, &course.hand);
    for (unsigned i = 0; i < further; i++) {
        nh_choice best;
        nh_passing passing;
        nh_status status = nh_pass(list, workspace, &course.hand, &course.situation, count, chosen,
                                   &best, 1, &passing, error);
        if (status == NH_ERROR_LIMIT)
            return status;
        if (status != NH_OK)
            break; /* too few tiles are left to be passed, or unseen */
        let_go(&course, &best.pass);
        nh_deal_draw(random, &course.unseen, (int)count, &course.hand);
    }
    unsigned away = nearest_away(list, workspace, chosen, &course);
    ahead->courses += away != NH_AWAY_NONE;
    ahead->sum += away != NH_AWAY_NONE ? away : 0;
    ahead->squares += away != NH_AWAY_NONE ? (uint64_t)away * away : 0;
    return NH_OK;
}

static nh_status check_tiles(const struct query *query, const nh_tiles *pass, nh_error *error) {
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

nh_status nh_pass_ahead(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                        const nh_situation *situation, const nh_tiles *pass, unsigned further,
                        const uint8_t *chosen, uint64_t seed, uint64_t first, uint64_t count,
                        nh_ahead *ahead, nh_error *error) {
    struct query query;
    nh_status status = query_set(&query, list, hand, situation, error);
    unsigned tiles = (unsigned)nh_tiles_total(pass);
    if (status == NH_OK)
        status = check_passing(&query, tiles, error);
    if (status == NH_OK)
        status = check_tiles(&query, pass, error);
    if (status == NH_OK && further > NH_FURTHER_MAX)
        status = error_set(error, NH_ERROR_ARGUMENT, 0,
                           "at most %u further passes can be looked at", NH_FURTHER_MAX);
    if (status != NH_OK)
        return status;
    struct course course = {
        .hand = *hand, .unseen = tiles_without(&query.left, hand), .situation = *situation};
    *ahead = (nh_ahead){.courses = 0};
    for (uint64_t i = first; status == NH_OK && i < first + count; i++) {
        nh_random random;
        nh_random_start(&random, seed, i);
        status = play(list, workspace, course, pass, tiles, further, chosen, &random, ahead, error);
    }
    return status;
}
