/* The question "discard": which tile to let go in play. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <string.h>

/* The patterns that the hand is nearest to once the tile is gone. */
static bool add_discard_keeps(struct asked *asked, cJSON *object, const nh_discard_choice *choice) {
    nh_tiles hand = asked->hand;
    nh_situation situation = asked->situation;
    hand.count[choice->kind]--;
    situation.seen.count[choice->kind]++;
    return add_nearest(asked, object, "keeps", &hand, &situation, choice->away);
}

static bool add_choice(struct asked *asked, cJSON *choices, const nh_discard_choice *choice,
                       const nh_discarding *discarding) {
    cJSON *object = cJSON_CreateObject();
    bool live = choice->away != NH_AWAY_NONE;
    cJSON_AddItemToArray(choices, object);
    cJSON_AddStringToObject(object, "discard", nh_kind_notation(choice->kind));
    add_away(object, "away", choice->away);
    add_tiles(object, "useful", &choice->useful);
    cJSON_AddNumberToObject(object, "useful_count", choice->useful_count);
    if (live) {
        add_fraction(object, "expected", choice->expected, discarding->draws);
    } else {
        cJSON_AddNullToObject(object, "expected");
        cJSON_AddNullToObject(object, "expected_exact");
    }
    add_double(object, "chance", choice->chance);
    add_ratio(object, "chance_exact", &choice->completing, &discarding->chance_draws);
    add_text(object, "pattern", live ? nh_list_pattern(asked->list, choice->pattern)->name : NULL);
    return add_discard_keeps(asked, object, choice);
}

static bool read_discard_order(struct asked *asked, nh_discard_order *order) {
    static const char *const names[] = {[NH_DISCARD_AWAY] = "away",
                                        [NH_DISCARD_EXPECTED] = "expected",
                                        [NH_DISCARD_CHANCE] = "chance",
                                        [NH_DISCARD_WORTH] = "worth"};
    const char *text;
    *order = NH_DISCARD_AWAY;
    if (!asked_text(asked, "order", &text))
        return false;
    for (int i = 0; i < 4; i++)
        if (strcmp(text, names[i]) == 0)
            *order = (nh_discard_order)i;
    return *text == '\0' || strcmp(text, names[*order]) == 0 ||
           asked_refuse(asked, "order is away, expected, chance or worth");
}

bool answer_discard(struct asked *asked, cJSON *answer) {
    nh_discard_question question = NH_DISCARD_QUESTION;
    nh_discard_choice rows[NH_DISCARDS_MAX];
    nh_discarding discarding;
    int top;
    if (!asked_read(asked, true) ||
        !asked_whole(asked, "top", 1, NH_DISCARDS_MAX, NH_DISCARDS_MAX, &top) ||
        !asked_whole(asked, "look", 1, NH_LOOK_MAX, NH_LOOK_MAX, &question.look) ||
        !asked_whole(asked, "draws", 0, NH_DRAWS_MAX, NH_DRAWS_DEFAULT, &question.draws) ||
        !read_discard_order(asked, &question.order))
        return false;
    question.situation = &asked->situation;
    question.chosen = asked->chosen;
    if (nh_discard(asked->workspace, &asked->hand, &question, rows, (size_t)top, &discarding,
                   &asked->error) != NH_OK)
        return false;
    add_tiles(answer, "hand", &asked->hand);
    add_exposed(answer, asked->list);
    add_away(answer, "away", discarding.away);
    add_text(answer, "discard", discarding.rows > 0 ? nh_kind_notation(rows[0].kind) : NULL);
    cJSON *choices = cJSON_AddArrayToObject(answer, "choices");
    for (size_t i = 0; i < discarding.rows; i++)
        if (!add_choice(asked, choices, &rows[i], &discarding))
            return false;
    cJSON_AddNumberToObject(answer, "discards", (double)discarding.discards);
    cJSON_AddNumberToObject(answer, "tiles", nh_tiles_total(&asked->hand));
    cJSON_AddNumberToObject(answer, "look", discarding.look);
    cJSON_AddNumberToObject(answer, "draws", question.draws);
    cJSON_AddNumberToObject(answer, "unseen", discarding.unseen);
    return true;
}
