/* One hand after another: the players read with it, and the answer written. Each thread
 * has a reader of its own. */
#include "hands/hand_line.h"
#include "io/message.h"
#include "io/unread.h"
#include "patterns/row_layouts.h"
#include "read/read_task.h"

#include <stdlib.h>

struct hand_reader {
    const struct read_question *question;
    nh_workspace *workspaces[PLAYERS_MOST];
    nh_ranked *rows; /* room for one of each pattern and player, and as many layouts */
    nh_ranked *ranked;
    nh_layout *layouts;
    uint8_t *chosen;
    bool cancelled; /* the last answer */
};

struct hand_reader *hand_reader_new(const struct read_question *question) {
    struct hand_reader *reader = calloc(1, sizeof *reader);
    if (reader == NULL)
        return NULL;
    size_t size = nh_list_size(question->whole);
    reader->question = question;
    reader->rows = malloc(question->players.count * size * sizeof *reader->rows);
    reader->layouts = malloc(question->players.count * size * sizeof *reader->layouts);
    reader->ranked = malloc(size * sizeof *reader->ranked);
    reader->chosen = malloc(size);
    bool good = reader->rows != NULL && reader->layouts != NULL && reader->ranked != NULL &&
                reader->chosen != NULL;
    for (size_t i = 0; i < question->players.count && good; i++)
        good = nh_workspace_new(question->players.player[i].list, NULL, &reader->workspaces[i]) ==
               NH_OK;
    if (good)
        return reader;
    hand_reader_free(reader);
    return NULL;
}

void hand_reader_free(struct hand_reader *reader) {
    for (size_t i = 0; i < PLAYERS_MOST; i++)
        nh_workspace_free(reader->workspaces[i]);
    free(reader->rows);
    free(reader->layouts);
    free(reader->ranked);
    free(reader->chosen);
    free(reader);
}

/* ------------------------------------------------------------- examples --- */

/* The rows of a ranking in the order of the reading; a pattern whose target has another
 * size than is hidden gets no tiles. */
static void sort_rows(const struct hand_reader *reader, size_t ranked, size_t shown,
                      const nh_reading *reading, struct player_targets *player) {
    for (size_t i = 0; i < shown; i++) {
        uint32_t pattern = nh_reading_pattern(reading, i)->pattern;
        player->rows[i] = (nh_ranked){.pattern = pattern};
        for (size_t j = 0; j < ranked; j++) {
            nh_ranked row = reader->ranked[j];
            if (row.pattern != pattern || nh_tiles_total(&row.target) != reading->hidden + 1)
                continue;
            row.keep = row.target;
            row.need = (nh_tiles){{0}};
            player->rows[i] = row;
        }
    }
}

/* For each pattern that is shown a target that the player can have: for an empty hand the
 * likeliest one. */
static nh_status find_examples(struct hand_reader *reader, struct read_answer *answer, size_t index,
                               nh_error *error) {
    const struct read_question *question = reader->question;
    const nh_reading *reading = answer->players.reading[index];
    struct player_targets *player = &answer->targets[index];
    size_t size = nh_list_size(question->whole), shown = reading->patterns;
    nh_situation situation = question->players.player[index].situation;
    nh_rank_question asked = NH_RANK_QUESTION;
    nh_ranking ranking;
    const nh_tiles none = {{0}};
    shown = shown < question->top ? shown : question->top;
    player->rows = reader->rows + index * size;
    player->layouts = reader->layouts + index * size;
    for (size_t i = 0; i < size; i++)
        reader->chosen[i] = 0;
    for (size_t i = 0; i < shown; i++)
        reader->chosen[nh_reading_pattern(reading, i)->pattern] = 1;
    nh_tiles_add(&situation.seen, &answer->hand);
    asked.situation = &situation;
    asked.chosen = reader->chosen;
    asked.cancel = question->players.cancel;
    nh_status status =
        nh_rank(reader->workspaces[index], &none, &asked, reader->ranked, size, &ranking, error);
    if (status != NH_OK)
        return status;
    sort_rows(reader, ranking.rows, shown, reading, player);
    lay_out_rows(question->players.player[index].list, player->rows, shown, player->layouts);
    return NH_OK;
}

/* ----------------------------------------------------------- answering --- */

static nh_status read_players(struct hand_reader *reader, struct read_answer *answer,
                              nh_error *error) {
    const struct read_question *question = reader->question;
    nh_status status =
        players_reading_find(&question->players, &answer->hand, &answer->players, error);
    if (question->json)
        return status;
    for (size_t i = 0; status == NH_OK && i < PLAYERS_MOST && answer->players.reading[i] != NULL;
         i++)
        status = find_examples(reader, answer, i, error);
    return status;
}

static bool refuse(struct hand_reader *reader, const struct line *line, nh_error *error) {
    reader->cancelled = error->status == NH_ERROR_CANCELLED;
    if (reader->cancelled)
        return false;
    if (line == NULL) {
        complain("%s", error->text);
        return false;
    }
    if (error->column == 0)
        error->column = hand_excess(reader->question->whole, line, &reader->question->players.gone);
    if (reader->question->json)
        unread_json(line, error);
    else
        unread_text(line, error, reader->question->batch);
    return false;
}

bool hand_reader_answer(struct hand_reader *reader, const struct line *line) {
    const struct read_question *question = reader->question;
    struct read_answer answer = {.question = question, .line = line};
    nh_error error = {NH_OK, 0, ""};
    bool good = (line == NULL || hand_read(question->whole, line, &answer.hand, &error)) &&
                read_players(reader, &answer, &error) == NH_OK;
    if (good) {
        if (question->json)
            reading_json(&answer);
        else
            reading_text(&answer);
    }
    players_reading_free(&answer.players);
    return good || refuse(reader, line, &error);
}

bool hand_reader_cancelled(const struct hand_reader *reader) {
    return reader->cancelled;
}
