/* The question "check": whether a claimed hand is complete. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#define ROWS 64 /* most patterns of an answer */

bool answer_check(struct asked *asked, cJSON *answer) {
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
    cJSON_AddBoolToObject(answer, "complete", checking.completed > 0);
    cJSON *patterns = cJSON_AddArrayToObject(answer, "patterns");
    for (size_t i = 0; i < checking.rows; i++) {
        nh_pattern pattern = *nh_list_pattern(asked->list, rows[i].pattern);
        cJSON *object = cJSON_CreateObject();
        cJSON_AddItemToArray(patterns, object);
        pattern.points = rows[i].points;
        pattern.has_points = rows[i].has_points;
        add_pattern(object, &pattern);
        add_tiles(object, "target", &rows[i].target);
        add_tiles(object, "joked", &rows[i].joked);
    }
    add_away(answer, "nearest", checking.nearest);
    cJSON_AddNumberToObject(answer, "tiles", nh_tiles_total(&asked->hand));
    cJSON_AddNumberToObject(answer, "whole", nh_list_hand_size(asked->list));
    return true;
}
