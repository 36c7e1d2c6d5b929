/* The question "discard": which tile to let go in play. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <string.h>

/* The patterns that the hand is nearest to once the tile is gone. */
static bool add_discard_keeps(struct asked *asked, struct answer *answer,
                              const nh_discard_choice *choice) {
    nh_tiles hand = asked->hand;
    nh_situation situation = asked->situation;
    hand.count[choice->kind]--;
    situation.seen.count[choice->kind]++;
    return add_nearest(asked, answer, "keeps", &hand, &situation, choice->away);
}

static bool add_choice(struct asked *asked, struct answer *answer, const nh_discard_choice *choice,
                       const nh_discarding *discarding) {
    bool live = choice->away != NH_AWAY_NONE;
    open_object(answer, NULL);
    add_text(answer, "discard", nh_kind_notation(choice->kind));
    add_away(answer, "away", choice->away);
    add_tiles(answer, "useful", &choice->useful);
    add_whole(answer, "useful_count", choice->useful_count);
    if (live) {
        add_fraction(answer, "expected", choice->expected, discarding->draws);
    } else {
        add_null(answer, "expected");
        add_null(answer, "expected_exact");
    }
    add_double(answer, "chance", choice->chance);
    add_ratio(answer, "chance_exact", &choice->completing, &discarding->chance_draws);
    add_text(answer, "pattern", live ? nh_list_pattern(asked->list, choice->pattern)->name : NULL);
    bool good = add_discard_keeps(asked, answer, choice);
    close_object(answer);
    return good;
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

bool answer_discard(struct asked *asked, struct answer *answer) {
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
    open_array(answer, "choices");
    for (size_t i = 0; i < discarding.rows; i++)
        if (!add_choice(asked, answer, &rows[i], &discarding))
            return false;
    close_array(answer);
    add_whole(answer, "discards", (int64_t)discarding.discards);
    add_whole(answer, "tiles", nh_tiles_total(&asked->hand));
    add_whole(answer, "look", discarding.look);
    add_whole(answer, "draws", question.draws);
    add_whole(answer, "unseen", discarding.unseen);
    return true;
}
