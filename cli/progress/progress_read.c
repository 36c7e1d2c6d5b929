/* A history read line by line into a player's practice. */
#include "history/history_lines.h"
#include "progress/progress_task.h"

static bool read_round_line(struct practice *practice, const struct line *line, bool as_json) {
    struct history_round round;
    const char *wrong = history_round_read(line, &round);
    bool good = true;
    if (wrong != NULL) {
        history_damage(line, wrong, as_json);
        practice->damaged++;
    } else {
        good = practice_include(practice, &round);
    }
    history_round_free(&round);
    return good;
}

bool practice_read(struct practice *practice, struct history_lines *lines, bool as_json) {
    struct line line;
    bool good = true;
    while (good && history_next(lines, &line))
        good = read_round_line(practice, &line, as_json);
    return good && !lines->failed && practice_finish(practice);
}
