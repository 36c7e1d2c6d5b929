/* The question "tiles": tiles and sets as a player typed them, written as hands and sets
 * are written everywhere else. Nothing is worked out. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <string.h>

static bool add_parsed_sets(struct asked *asked, struct answer *answer) {
    nh_set sets[NH_SETS_MAX];
    size_t count;
    const char *text;
    if (!asked_text(asked, "sets", &text) ||
        nh_sets_parse(asked->list, text, strlen(text), sets, NH_SETS_MAX, &count, &asked->error) !=
            NH_OK)
        return false;
    open_array(answer, "sets");
    for (size_t i = 0; i < count; i++)
        add_set(answer, NULL, &sets[i]);
    close_array(answer);
    return true;
}

bool answer_tiles(struct asked *asked, struct answer *answer) {
    nh_tiles tiles;
    asked->list = asked->desk->list;
    if (!asked_tiles(asked, "tiles", &tiles))
        return false;
    add_tiles(answer, "tiles", &tiles);
    add_whole(answer, "count", nh_tiles_total(&tiles));
    return add_parsed_sets(asked, answer);
}
