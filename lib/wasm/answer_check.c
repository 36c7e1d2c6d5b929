/* The question "check": whether a claimed hand is complete. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#define ROWS 64 /* most patterns of an answer */

bool answer_check(struct asked *asked, struct answer *answer) {
    nh_check_question question = NH_CHECK_QUESTION;
    nh_completed rows[ROWS];
    nh_checking checking;
    if (!asked_read(asked, true))
        return false;
    question.situation = &asked->situation;
    if (nh_check(asked->workspace, &asked->hand, &question, rows, ROWS, &checking, &asked->error) !=
        NH_OK)
        return false;
    add_tiles(answer, "hand", &asked->hand);
    add_exposed(answer, asked->list);
    add_flag(answer, "complete", checking.completed > 0);
    open_array(answer, "patterns");
    for (size_t i = 0; i < checking.rows; i++) {
        nh_pattern pattern = *nh_list_pattern(asked->list, rows[i].pattern);
        open_object(answer, NULL);
        pattern.points = rows[i].points;
        pattern.has_points = rows[i].has_points;
        add_pattern(answer, &pattern);
        add_tiles(answer, "target", &rows[i].target);
        add_tiles(answer, "joked", &rows[i].joked);
        close_object(answer);
    }
    close_array(answer);
    add_away(answer, "nearest", checking.nearest);
    add_whole(answer, "tiles", nh_tiles_total(&asked->hand));
    add_whole(answer, "whole", nh_list_hand_size(asked->list));
    return true;
}
