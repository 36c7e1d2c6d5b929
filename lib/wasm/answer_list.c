/* The question "list": what a list says of itself. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

static void add_patterns(struct answer *answer, const nh_list *list) {
    open_array(answer, "patterns");
    for (size_t i = 0; i < nh_list_size(list); i++) {
        const nh_pattern *pattern = nh_list_pattern(list, i);
        open_object(answer, NULL);
        add_pattern(answer, pattern);
        add_flag(answer, "concealed", pattern->concealed);
        add_text(answer, "note", pattern->note);
        close_object(answer);
    }
    close_array(answer);
}

/* The directions of each round, as the list writes them. */
static void add_charleston(struct answer *answer, const nh_charleston *charleston) {
    open_object(answer, "charleston");
    open_array(answer, "rounds");
    for (unsigned i = 0; i < charleston->rounds; i++) {
        open_array(answer, NULL);
        for (unsigned j = 0; j < charleston->steps[i]; j++)
            add_text(answer, NULL, nh_direction_name((nh_direction)charleston->direction[i][j]));
        close_array(answer);
    }
    close_array(answer);
    add_whole(answer, "tiles", charleston->tiles);
    add_whole(answer, "courtesy", charleston->courtesy);
    close_object(answer);
}

static void add_warnings(struct answer *answer, const nh_list *list) {
    open_array(answer, "warnings");
    for (size_t i = 0; i < nh_list_warnings(list); i++)
        add_text(answer, NULL, nh_list_warning(list, i)->text);
    close_array(answer);
}

bool answer_list(struct asked *asked, struct answer *answer) {
    if (!asked_read(asked, false))
        return false;
    const nh_list *list = asked->list;
    add_text(answer, "title", nh_list_title(list));
    add_text(answer, "edition", nh_list_edition(list));
    add_text(answer, "note", nh_list_note(list));
    add_whole(answer, "hand", nh_list_hand_size(list));
    add_whole(answer, "hand_most", nh_list_hand_most(list));
    add_tiles(answer, "set", nh_list_set(list));
    add_patterns(answer, list);
    add_charleston(answer, nh_list_charleston(list));
    add_warnings(answer, list);
    return true;
}
