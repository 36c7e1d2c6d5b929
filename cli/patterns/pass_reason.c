/* What a pass does to the patterns that are close. */
#include "patterns/pass_reason.h"

/* Close patterns that are looked at. */
#define CLOSE_MOST 24

/* The patterns that are close, and how far each of the list is. */
struct closeness {
    nh_ranked rows[CLOSE_MOST];
    size_t count;
    uint8_t away[NH_PATTERNS_MAX];
};

static struct hand_known known_after_pass(const struct hand_known *before, const nh_tiles *pass) {
    struct hand_known after = *before;
    nh_tiles_take(&after.hand, pass);
    nh_tiles_add(&after.situation.seen, pass);
    return after;
}

static nh_status find_close(nh_workspace *workspace, const struct hand_known *known,
                            struct closeness *close, nh_error *error) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking = {.rows = 0};
    question.situation = &known->situation;
    nh_status status =
        nh_rank(workspace, &known->hand, &question, close->rows, CLOSE_MOST, &ranking, error);
    close->count = 0;
    while (status == NH_OK && close->count < ranking.rows &&
           close->rows[close->count].away <= ranking.nearest + 1)
        close->count++;
    return status == NH_OK
               ? nh_distances(workspace, &known->hand, &known->situation, close->away, error)
               : status;
}

/* Tiles of a pass beyond those of another that the target of a row keeps. */
static nh_tiles used_tiles(const nh_tiles *pass, const nh_tiles *other, const nh_ranked *row) {
    nh_tiles used = {{0}};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int more = pass->count[kind] - (other != NULL ? other->count[kind] : 0);
        int kept = row->keep.count[kind] < more ? row->keep.count[kind] : more;
        used.count[kind] = (uint8_t)(kept > 0 ? kept : 0);
    }
    return used;
}

static void note_kept(const struct closeness *before, const struct closeness *after,
                      struct pass_keeps *found) {
    for (size_t i = 0; i < after->count; i++) {
        const nh_ranked *row = &after->rows[i];
        if (row->away > before->away[row->pattern])
            continue;
        if (!found->keeps) {
            found->keeps = true;
            found->kept = row->pattern;
            found->kept_away = row->away;
        } else if (row->away == found->kept_away) {
            found->also++;
        }
    }
}

nh_status pass_keeps_find(nh_workspace *workspace, const struct hand_known *before,
                          const nh_tiles *pass, struct pass_keeps *found, nh_error *error) {
    struct hand_known left = known_after_pass(before, pass);
    struct closeness close, after;
    *found = (struct pass_keeps){.keeps = false};
    nh_status status = find_close(workspace, before, &close, error);
    if (status == NH_OK)
        status = find_close(workspace, &left, &after, error);
    if (status != NH_OK)
        return status;
    note_kept(&close, &after, found);
    for (size_t i = 0; i < close.count && !found->loses; i++) {
        const nh_ranked *row = &close.rows[i];
        found->lost_tiles = used_tiles(pass, NULL, row);
        found->lost = row->pattern;
        found->lost_before = row->away;
        found->lost_after = after.away[row->pattern];
        found->loses =
            found->lost_after > found->lost_before && nh_tiles_total(&found->lost_tiles) > 0;
    }
    return NH_OK;
}

nh_status pass_reason_find(nh_workspace *workspace, const struct hand_known *before,
                           const nh_tiles *pass, const nh_tiles *best, struct pass_reason *found,
                           nh_error *error) {
    struct hand_known after = known_after_pass(before, pass),
                      after_best = known_after_pass(before, best);
    struct closeness close;
    uint8_t away[NH_PATTERNS_MAX];
    *found = (struct pass_reason){.has_pattern = false};
    nh_status status = find_close(workspace, &after_best, &close, error);
    if (status == NH_OK)
        status = nh_distances(workspace, &after.hand, &after.situation, away, error);
    for (size_t i = 0; status == NH_OK && i < close.count && !found->has_pattern; i++) {
        const nh_ranked *row = &close.rows[i];
        found->tiles = used_tiles(pass, best, row);
        found->pattern = row->pattern;
        found->away = away[row->pattern];
        found->best_away = row->away;
        found->has_pattern = found->away > found->best_away && nh_tiles_total(&found->tiles) > 0;
    }
    return status;
}
