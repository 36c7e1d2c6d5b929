/* One hand after the other: read, ranked, and written in the format that was
 * asked for. Each thread has a ranker of its own. */
#include "hands/hand_line.h"
#include "io/unread.h"
#include "patterns/layout_memo.h"
#include "patterns/list_sets.h"
#include "rank/rank_task.h"

#include <stdlib.h>

struct ranker {
    const struct rank_question *question;
    nh_workspace *workspace;
    nh_ranked *rows;
    nh_layout *layouts;
    struct layout_memo *memo;
    struct rank_section *sections; /* NULL unless they are asked for */
    struct section_map *map;       /* likewise */
    size_t capacity;               /* rows that are ranked */
    uint8_t *away;
    uint8_t *open; /* as in the answers */
};

/* Which patterns the winds that were given leave open. */
static bool find_open(struct ranker *ranker) {
    const nh_situation *situation = &ranker->question->situation;
    if (situation->prevailing == NH_WIND_UNKNOWN && situation->seat == NH_WIND_UNKNOWN)
        return true;
    ranker->open = malloc(nh_list_size(ranker->question->list));
    return ranker->open != NULL && open_patterns(ranker->workspace, situation->prevailing,
                                                 situation->seat, ranker->open, NULL) == NH_OK;
}

struct ranker *ranker_new(const struct rank_question *question) {
    struct ranker *ranker = calloc(1, sizeof *ranker);
    if (ranker == NULL)
        return NULL;
    size_t size = nh_list_size(question->list);
    bool by_section = question->by == BY_SECTION;
    ranker->question = question;
    ranker->capacity = by_section ? size : question->top;
    ranker->rows = malloc((ranker->capacity + 1) * sizeof *ranker->rows);
    ranker->layouts = malloc((ranker->capacity + 1) * sizeof *ranker->layouts);
    if (by_section) {
        ranker->sections = malloc(size * sizeof *ranker->sections);
        ranker->map = section_map_new(question);
    }
    ranker->memo = layout_memo_new(question->list);
    ranker->away = malloc(size);
    if (ranker->rows != NULL && ranker->layouts != NULL && ranker->memo != NULL &&
        ranker->away != NULL &&
        (!by_section || (ranker->sections != NULL && ranker->map != NULL)) &&
        nh_workspace_new(question->list, NULL, &ranker->workspace) == NH_OK && find_open(ranker))
        return ranker;
    ranker_free(ranker);
    return NULL;
}

void ranker_free(struct ranker *ranker) {
    nh_workspace_free(ranker->workspace);
    free(ranker->rows);
    free(ranker->layouts);
    layout_memo_free(ranker->memo);
    free(ranker->sections);
    section_map_free(ranker->map);
    free(ranker->away);
    free(ranker->open);
    free(ranker);
}

/* ------------------------------------------------------ what is asked --- */

static bool is_chosen(const struct rank_answer *answer, size_t pattern) {
    const uint8_t *chosen = answer->question->chosen;
    return chosen == NULL || chosen[pattern] != 0;
}

static bool is_dead(const struct rank_answer *answer, size_t pattern, enum rank_dead why) {
    bool by_winds = answer->open != NULL && answer->open[pattern] == NH_AWAY_NONE;
    return is_chosen(answer, pattern) && answer->away[pattern] == NH_AWAY_NONE &&
           (why == DEAD_ANYHOW || by_winds == (why == DEAD_BY_WINDS));
}

size_t rank_dead(const struct rank_answer *answer, enum rank_dead why,
                 void (*tell)(const char *name, void *context), void *context) {
    const nh_list *list = answer->question->list;
    size_t dead = 0;
    if (answer->question->chosen_count == answer->ranking.live)
        return 0;
    for (size_t i = 0; i < nh_list_size(list); i++) {
        if (!is_dead(answer, i, why))
            continue;
        tell(nh_list_pattern(list, i)->name, context);
        dead++;
    }
    return dead;
}

size_t rank_complete(const struct rank_answer *answer) {
    size_t complete = 0;
    if (answer->ranking.nearest > 0)
        return 0;
    for (size_t i = 0; i < nh_list_size(answer->question->list); i++)
        complete += is_chosen(answer, i) && answer->away[i] == 0;
    return complete;
}

double rank_worth(const struct rank_answer *answer, const nh_ranked *row) {
    const nh_pattern *pattern = nh_list_pattern(answer->question->list, row->pattern);
    return pattern->has_points ? pattern->points * row->chance : 0;
}

/* ------------------------------------------------------ what is wrong --- */

static bool refuse(const struct ranker *ranker, const struct line *line, const nh_error *error) {
    switch (ranker->question->format) {
    case FORMAT_TEXT:
        unread_text(line, error, ranker->question->batch);
        break;
    case FORMAT_JSON:
        unread_json(line, error);
        break;
    case FORMAT_TSV:
        unread_tsv(ranker->question, line, error);
        break;
    }
    return false;
}

/* ---------------------------------------------------------- answering --- */

/* The groups of the targets that are shown. */
static void lay_out(struct ranker *ranker, const struct rank_answer *answer) {
    const struct rank_question *question = ranker->question;
    if (question->format == FORMAT_TSV)
        return;
    if (question->by == BY_PATTERN)
        layout_memo_rows(ranker->memo, ranker->rows, answer->ranking.rows, ranker->layouts);
    for (size_t i = 0; i < answer->sections_shown; i++) {
        const nh_ranked *best = answer->sections[i].best;
        layout_memo_rows(ranker->memo, best, 1, &ranker->layouts[best - ranker->rows]);
    }
}

static void find_sections(struct ranker *ranker, struct rank_answer *answer) {
    size_t top = ranker->question->top;
    if (ranker->question->by != BY_SECTION)
        return;
    answer->section_count = rank_find_sections(ranker->map, answer, ranker->sections);
    answer->sections = ranker->sections;
    answer->sections_shown = answer->section_count < top ? answer->section_count : top;
}

/* Of patterns only the rows that are shown are made; what the answer says of the others
 * depends on their distances alone. Sections need the rows of all patterns. */
static nh_status rank_one_hand(struct ranker *ranker, struct rank_answer *answer, nh_error *error) {
    const struct rank_question *question = ranker->question;
    nh_rank_question asked = NH_RANK_QUESTION;
    asked.situation = &question->situation;
    asked.chosen = question->chosen;
    asked.draws = question->draws;
    asked.order = question->order;
    nh_status status = nh_rank(ranker->workspace, &answer->hand, &asked, ranker->rows,
                               ranker->capacity, &answer->ranking, error);
    if (status != NH_OK)
        return status;
    find_sections(ranker, answer);
    lay_out(ranker, answer);
    if (answer->ranking.live == question->chosen_count && answer->ranking.nearest > 0)
        return NH_OK;
    answer->away = ranker->away;
    return nh_distances(ranker->workspace, &answer->hand, &question->situation, ranker->away,
                        error);
}

static void write_answer(const struct rank_answer *answer) {
    switch (answer->question->format) {
    case FORMAT_TEXT:
        rank_text(answer);
        break;
    case FORMAT_JSON:
        rank_json(answer);
        break;
    case FORMAT_TSV:
        rank_tsv(answer);
        break;
    }
}

bool ranker_answer(struct ranker *ranker, const struct line *line) {
    struct rank_answer answer = {.question = ranker->question,
                                 .line = line,
                                 .rows = ranker->rows,
                                 .layouts = ranker->layouts,
                                 .open = ranker->open};
    nh_error error = {NH_OK, 0, ""};
    if (!hand_read(ranker->question->list, line, &answer.hand, &error))
        return refuse(ranker, line, &error);
    if (rank_one_hand(ranker, &answer, &error) != NH_OK) {
        if (error.column == 0)
            error.column =
                hand_excess(ranker->question->list, line, &ranker->question->situation.seen);
        return refuse(ranker, line, &error);
    }
    write_answer(&answer);
    return true;
}
