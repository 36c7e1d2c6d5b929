/* One hand after another: the players read with it, and the answer written. Each thread
 * has a reader of its own. */
#include "hands/hand_line.h"
#include "io/message.h"
#include "io/unread.h"
#include "players/player_targets.h"
#include "read/read_task.h"

#include <stdlib.h>

struct hand_reader {
    const struct read_question *question;
    struct target_finder finders[PLAYERS_MOST];
    nh_ranked *rows; /* room for one of each pattern and player, and as many layouts */
    nh_layout *layouts;
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
    bool good = reader->rows != NULL && reader->layouts != NULL;
    for (size_t i = 0; i < question->players.count && good; i++)
        good = target_finder_start(&reader->finders[i], question->players.player[i].list);
    if (good)
        return reader;
    hand_reader_free(reader);
    return NULL;
}

void hand_reader_free(struct hand_reader *reader) {
    for (size_t i = 0; i < PLAYERS_MOST; i++)
        target_finder_end(&reader->finders[i]);
    free(reader->rows);
    free(reader->layouts);
    free(reader);
}

/* ----------------------------------------------------------- answering --- */

/* For each pattern that is shown a target that the player can have. */
static nh_status find_examples(struct hand_reader *reader, struct read_answer *answer,
                               size_t player, nh_error *error) {
    const struct read_question *question = reader->question;
    const nh_reading *reading = answer->players.reading[player];
    struct player_targets *targets = &answer->targets[player];
    size_t size = nh_list_size(question->whole);
    targets->rows = reader->rows + player * size;
    targets->layouts = reader->layouts + player * size;
    return player_targets_find(
        &reader->finders[player], &question->players, player, reading, &answer->hand,
        reading->patterns < question->top ? reading->patterns : question->top, targets->rows,
        targets->layouts, error);
}

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
