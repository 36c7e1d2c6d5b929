/* What the player's decisions come to, beside the best ones. */
#include "drill/figures.h"
#include "io/message.h"
#include "patterns/list_sets.h"
#include "patterns/pass_reason.h"
#include "patterns/row_layouts.h"

#include <stdlib.h>

/* All passes of one number of tiles, best first, and the hand that they are of. */
struct passes {
    bool known;
    nh_tiles hand, gone;
    nh_passing passing;
    nh_choice choices[NH_PASSES_MAX];
};

struct figures {
    nh_workspace *workspace;
    nh_ranked *rows;                       /* one for each pattern */
    struct passes passes[NH_PASS_MAX + 1]; /* by their number of tiles */
};

struct figures *figures_new(nh_workspace *workspace) {
    size_t size = nh_list_size(nh_workspace_list(workspace));
    struct figures *figures = calloc(1, sizeof *figures);
    if (figures == NULL)
        return NULL;
    figures->workspace = workspace;
    figures->rows = calloc(size, sizeof *figures->rows);
    if (figures->rows != NULL)
        return figures;
    figures_free(figures);
    return NULL;
}

void figures_free(struct figures *figures) {
    if (figures == NULL)
        return;
    free(figures->rows);
    free(figures);
}

static nh_situation situation_of(const nh_view *view) {
    nh_situation situation = NH_SITUATION;
    situation.seen = view->gone;
    situation.prevailing = view->prevailing;
    situation.seat = nh_seat_wind(view->seat);
    return situation;
}

static bool figures_failed(const char *what, nh_status status, const nh_error *error) {
    complain("%s: %s", what, error->text[0] != '\0' ? error->text : nh_status_text(status));
    return false;
}

/* -------------------------------------------------------------- passes --- */

/* All passes of so many tiles; NULL after a message. */
static const struct passes *passes_of(struct figures *figures, const nh_view *view, int tiles) {
    struct passes *passes = &figures->passes[tiles];
    nh_situation situation = situation_of(view);
    nh_pass_question question = NH_PASS_QUESTION;
    nh_error error = {NH_OK, 0, ""};
    if (passes->known && nh_tiles_equal(&passes->hand, &view->hand) &&
        nh_tiles_equal(&passes->gone, &view->gone))
        return passes;
    question.situation = &situation;
    question.tiles = tiles;
    nh_status status = nh_pass(figures->workspace, &view->hand, &question, passes->choices,
                               NH_PASSES_MAX, &passes->passing, &error);
    passes->known = status == NH_OK;
    passes->hand = view->hand;
    passes->gone = view->gone;
    if (!passes->known)
        figures_failed("the best pass could not be worked out", status, &error);
    return passes->known ? passes : NULL;
}

/* A pass, and what its figures are parts of. */
struct judged {
    const nh_choice *choice;
    uint64_t draws;
};

static bool judged_is_dead(const struct judged *pass) {
    return pass->choice->expected == UINT64_MAX;
}

static double judged_average(const struct judged *pass) {
    return (double)pass->choice->expected / (double)pass->draws;
}

static double nearer(const struct judged *pass) {
    return (double)pass->choice->nearer / (double)pass->draws;
}

/* How much worse a's average is than b's, times both numbers of draws: exact, since an
 * average has less than 2^20 draws of at most NH_TARGET_MAX tiles. */
static int64_t excess_of(const struct judged *a, const struct judged *b) {
    return (int64_t)(a->choice->expected * b->draws) - (int64_t)(b->choice->expected * a->draws);
}

static double cost_of(const struct judged *mine, const struct judged *best) {
    if (mine->draws == best->draws)
        return (double)(mine->choice->expected - best->choice->expected) / (double)best->draws;
    return (double)excess_of(mine, best) / ((double)mine->draws * (double)best->draws);
}

/* The best pass of `least` to `most` tiles, of those alike the smallest. */
static bool find_best(struct figures *figures, const nh_view *view, int least, int most,
                      struct judged *best) {
    best->choice = NULL;
    for (int tiles = least; tiles <= most; tiles++) {
        const struct passes *passes = passes_of(figures, view, tiles);
        if (passes == NULL)
            return false;
        struct judged pass = {&passes->choices[0], passes->passing.draws};
        if (best->choice == NULL || (!judged_is_dead(&pass) && judged_is_dead(best)) ||
            (!judged_is_dead(&pass) && excess_of(&pass, best) < 0))
            *best = pass;
    }
    return true;
}

static bool find_mine(struct figures *figures, const nh_view *view, const nh_tiles *tiles,
                      struct judged *mine) {
    const struct passes *passes = passes_of(figures, view, nh_tiles_total(tiles));
    if (passes == NULL)
        return false;
    size_t place = 0;
    while (place + 1 < passes->passing.rows && !nh_tiles_equal(&passes->choices[place].pass, tiles))
        place++;
    *mine = (struct judged){&passes->choices[place], passes->passing.draws};
    return true;
}

/* ------------------------------------------------------ why a pass costs --- */

static bool find_why(struct figures *figures, const nh_view *view, const struct judged *mine,
                     const struct judged *best, struct why_figures *why) {
    const struct hand_known before = {view->hand, situation_of(view)};
    struct pass_reason reason;
    nh_error error = {NH_OK, 0, ""};
    nh_status status = pass_reason_find(figures->workspace, &before, &mine->choice->pass,
                                        &best->choice->pass, &reason, &error);
    *why = (struct why_figures){.known = true,
                                .has_pattern = reason.has_pattern,
                                .pattern = reason.pattern,
                                .tiles = reason.tiles,
                                .away = reason.away,
                                .best_away = reason.best_away,
                                .nearer = nearer(mine),
                                .best_nearer = nearer(best)};
    return status == NH_OK || figures_failed("the pass could not be explained", status, &error);
}

bool figures_of_pass(struct figures *figures, const nh_view *view, const nh_tiles *mine, int least,
                     int most, struct pass_figures *found) {
    struct judged own, best;
    *found = (struct pass_figures){.judged = false};
    if (!find_best(figures, view, least, most, &best) || !find_mine(figures, view, mine, &own))
        return false;
    found->best = best.choice->pass;
    found->judged = !judged_is_dead(&own);
    if (!found->judged)
        return true;
    found->expected = judged_average(&own);
    found->best_expected = judged_average(&best);
    found->cost = cost_of(&own, &best);
    return excess_of(&own, &best) == 0 || find_why(figures, view, &own, &best, &found->why);
}

/* ---------------------------------------------------------------- votes --- */

static double average_or_none(const struct judged *pass) {
    return judged_is_dead(pass) ? NH_AWAY_NONE : judged_average(pass);
}

static int own_courtesy_most(const nh_view *view) {
    const nh_charleston *charleston = nh_list_charleston(view->list);
    nh_tiles passable = nh_charleston_passable(charleston, &view->hand);
    int most = nh_tiles_total(&passable);
    most = most < charleston->courtesy ? most : charleston->courtesy;
    return most < NH_PASS_MAX ? most : NH_PASS_MAX;
}

bool figures_of_vote(struct figures *figures, const nh_view *view, struct vote_figures *found) {
    const struct passes *passes = passes_of(figures, view, view->count);
    int most = own_courtesy_most(view);
    if (passes == NULL)
        return false;
    struct judged pass = {&passes->choices[0], passes->passing.draws};
    *found =
        (struct vote_figures){.expected = average_or_none(&pass), .stopping = passes->passing.away};
    for (int wanted = 1; wanted <= most; wanted++) {
        if (!find_best(figures, view, 0, wanted, &pass))
            return false;
        found->courtesy[found->courtesies++] = average_or_none(&pass);
    }
    return true;
}

/* ------------------------------------------------------- the final hand --- */

static struct aim_figures aim_at_pattern(const struct figures *figures, uint32_t pattern,
                                         size_t rows) {
    struct aim_figures aim = {.pattern = pattern};
    for (size_t i = 0; i < rows; i++)
        if (figures->rows[i].pattern == pattern) {
            aim.place = i + 1;
            aim.row = figures->rows[i];
            aim.away = aim.row.away;
            aim.replace = nh_tiles_total(&aim.row.spare);
            lay_out_rows(nh_workspace_list(figures->workspace), &aim.row, 1, &aim.layout);
        }
    return aim;
}

/* How many patterns no hand can make with these winds. */
static bool find_ruled_out(const struct figures *figures, const nh_situation *situation,
                           size_t *by_winds) {
    uint8_t away[NH_PATTERNS_MAX];
    nh_error error = {NH_OK, 0, ""};
    *by_winds = 0;
    if (situation->prevailing == NH_WIND_UNKNOWN && situation->seat == NH_WIND_UNKNOWN)
        return true;
    nh_status status =
        open_patterns(figures->workspace, situation->prevailing, situation->seat, away, &error);
    if (status != NH_OK)
        return figures_failed("the hand could not be ranked", status, &error);
    for (size_t i = 0; i < nh_list_size(nh_workspace_list(figures->workspace)); i++)
        *by_winds += away[i] == NH_AWAY_NONE;
    return true;
}

bool figures_of_aims(struct figures *figures, const nh_view *view, struct aim_figures *aims,
                     size_t count, struct aim_figures *nearest, struct reach *reach) {
    nh_situation situation = situation_of(view);
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking;
    nh_error error = {NH_OK, 0, ""};
    question.situation = &situation;
    nh_status status = nh_rank(figures->workspace, &view->hand, &question, figures->rows,
                               nh_list_size(view->list), &ranking, &error);
    if (status != NH_OK)
        return figures_failed("the hand could not be ranked", status, &error);
    reach->live = ranking.live;
    if (!find_ruled_out(figures, &situation, &reach->by_winds))
        return false;
    *nearest = (struct aim_figures){.place = 0};
    if (ranking.rows > 0)
        *nearest = aim_at_pattern(figures, figures->rows[0].pattern, ranking.rows);
    for (size_t i = 0; i < count; i++)
        aims[i] = aim_at_pattern(figures, aims[i].pattern, ranking.rows);
    return true;
}
