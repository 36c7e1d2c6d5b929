/* The question "list": what a list says of itself. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

static void add_patterns(cJSON *answer, const nh_list *list) {
    cJSON *patterns = cJSON_AddArrayToObject(answer, "patterns");
    for (size_t i = 0; i < nh_list_size(list); i++) {
        const nh_pattern *pattern = nh_list_pattern(list, i);
        cJSON *object = cJSON_CreateObject();
        cJSON_AddItemToArray(patterns, object);
        add_pattern(object, pattern);
        cJSON_AddBoolToObject(object, "concealed", pattern->concealed);
        add_text(object, "note", pattern->note);
    }
}

/* The directions of each round, as the list writes them. */
static void add_charleston(cJSON *answer, const nh_charleston *charleston) {
    cJSON *object = cJSON_AddObjectToObject(answer, "charleston");
    cJSON *rounds = cJSON_AddArrayToObject(object, "rounds");
    cJSON_AddNumberToObject(object, "tiles", charleston->tiles);
    cJSON_AddNumberToObject(object, "courtesy", charleston->courtesy);
    for (unsigned i = 0; i < charleston->rounds; i++) {
        cJSON *round = cJSON_CreateArray();
        cJSON_AddItemToArray(rounds, round);
        for (unsigned j = 0; j < charleston->steps[i]; j++)
            cJSON_AddItemToArray(round, cJSON_CreateString(nh_direction_name(
                                            (nh_direction)charleston->direction[i][j])));
    }
}

static void add_warnings(cJSON *answer, const nh_list *list) {
    cJSON *warnings = cJSON_AddArrayToObject(answer, "warnings");
    for (size_t i = 0; i < nh_list_warnings(list); i++)
        cJSON_AddItemToArray(warnings, cJSON_CreateString(nh_list_warning(list, i)->text));
}

bool answer_list(struct asked *asked, cJSON *answer) {
    if (!asked_read(asked, false))
        return false;
    const nh_list *list = asked->list;
    add_text(answer, "title", nh_list_title(list));
    add_text(answer, "edition", nh_list_edition(list));
    add_text(answer, "note", nh_list_note(list));
    cJSON_AddNumberToObject(answer, "hand", nh_list_hand_size(list));
    cJSON_AddNumberToObject(answer, "hand_most", nh_list_hand_most(list));
    add_tiles(answer, "set", nh_list_set(list));
    add_patterns(answer, list);
    add_charleston(answer, nh_list_charleston(list));
    add_warnings(answer, list);
    return true;
}
