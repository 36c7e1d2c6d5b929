/* What the player's decisions come to, beside the best ones. */
#include "drill/figures.h"
#include "io/message.h"

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
    struct figures *figures = calloc(1, sizeof *figures);
    if (figures == NULL)
        return NULL;
    figures->workspace = workspace;
    figures->rows = calloc(nh_list_size(nh_workspace_list(workspace)), sizeof *figures->rows);
    if (figures->rows != NULL)
        return figures;
    figures_free(figures);
    return NULL;
}

void figures_free(struct figures *figures) {
    if (figures != NULL)
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

/* ------------------------------------------------------ passes, votes --- */

static const struct passes *find_passes(struct figures *figures, const nh_view *view, int tiles) {
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
    if (passes->known)
        return passes;
    complain("the best pass could not be worked out: %s",
             error.text[0] != '\0' ? error.text : nh_status_text(status));
    return NULL;
}

static double average(uint64_t expected, const nh_passing *passing) {
    return (double)expected / (double)passing->draws;
}

bool figures_of_pass(struct figures *figures, const nh_view *view, const nh_tiles *mine,
                     struct pass_figures *found) {
    const struct passes *passes = find_passes(figures, view, nh_tiles_total(mine));
    if (passes == NULL)
        return false;
    const nh_choice *best = &passes->choices[0], *own = best;
    for (size_t i = 0; i < passes->passing.rows; i++)
        if (nh_tiles_equal(&passes->choices[i].pass, mine))
            own = &passes->choices[i];
    *found = (struct pass_figures){.best = best->pass, .judged = own->expected != UINT64_MAX};
    if (!found->judged)
        return true;
    found->expected = average(own->expected, &passes->passing);
    found->best_expected = average(best->expected, &passes->passing);
    found->cost = average(own->expected - best->expected, &passes->passing);
    return true;
}

bool figures_of_vote(struct figures *figures, const nh_view *view, struct vote_figures *found) {
    const struct passes *passes = find_passes(figures, view, view->count);
    if (passes == NULL)
        return false;
    uint64_t expected = passes->choices[0].expected;
    found->expected = expected == UINT64_MAX ? NH_AWAY_NONE : average(expected, &passes->passing);
    found->stopping = passes->passing.away;
    return true;
}

/* ------------------------------------------------------- the final hand --- */

static struct aim_figures aim_of(const struct figures *figures, uint32_t pattern, size_t rows) {
    struct aim_figures aim = {.pattern = pattern};
    for (size_t i = 0; i < rows; i++)
        if (figures->rows[i].pattern == pattern) {
            aim.place = i + 1;
            aim.away = figures->rows[i].away;
            aim.replace = nh_tiles_total(&figures->rows[i].spare);
        }
    return aim;
}

bool figures_of_aims(struct figures *figures, const nh_view *view, struct aim_figures *aims,
                     size_t count, struct aim_figures *nearest, size_t *live) {
    nh_situation situation = situation_of(view);
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking;
    nh_error error;
    question.situation = &situation;
    if (nh_rank(figures->workspace, &view->hand, &question, figures->rows, nh_list_size(view->list),
                &ranking, &error) != NH_OK) {
        complain("the hand could not be ranked: %s", error.text);
        return false;
    }
    *live = ranking.live;
    *nearest = (struct aim_figures){.place = 0};
    if (ranking.rows > 0)
        *nearest = aim_of(figures, figures->rows[0].pattern, ranking.rows);
    for (size_t i = 0; i < count; i++)
        aims[i] = aim_of(figures, aims[i].pattern, ranking.rows);
    return true;
}
