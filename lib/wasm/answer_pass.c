/* The question "pass": which tiles to let go in the Charleston. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

/* The patterns that the hand is nearest to once the tiles are gone. */
static bool add_pass_keeps(struct asked *asked, struct answer *answer, const nh_choice *choice) {
    nh_tiles hand = asked->hand;
    nh_situation situation = asked->situation;
    nh_tiles_take(&hand, &choice->pass);
    nh_tiles_add(&situation.seen, &choice->pass);
    return add_nearest(asked, answer, "keeps", &hand, &situation, choice->away);
}

static void add_expected(struct answer *answer, const nh_choice *choice, uint64_t draws) {
    if (choice->away != NH_AWAY_NONE) {
        add_fraction(answer, "expected", choice->expected, draws);
        return;
    }
    add_null(answer, "expected");
    add_null(answer, "expected_exact");
}

static bool add_choice_rows(struct asked *asked, struct answer *answer, const nh_passing *passing) {
    open_array(answer, "choices");
    for (size_t i = 0; i < passing->rows; i++) {
        const nh_choice *choice = &asked->desk->choices[i];
        open_object(answer, NULL);
        add_tiles(answer, "pass", &choice->pass);
        add_expected(answer, choice, passing->draws);
        add_fraction(answer, "nearer", choice->nearer, passing->draws);
        add_away(answer, "away", choice->away);
        if (!add_pass_keeps(asked, answer, choice))
            return false;
        close_object(answer);
    }
    close_array(answer);
    return true;
}

bool answer_pass(struct asked *asked, struct answer *answer) {
    nh_pass_question question = NH_PASS_QUESTION;
    nh_passing passing;
    int top;
    if (!asked_read(asked, true) || !asked_whole(asked, "top", 1, NH_PASSES_MAX, 5, &top) ||
        !asked_whole(asked, "count", 0, NH_PASS_MAX, NH_PASS_AS_LIST, &question.tiles))
        return false;
    question.situation = &asked->situation;
    question.chosen = asked->chosen;
    if (nh_pass(asked->workspace, &asked->hand, &question, asked->desk->choices, (size_t)top,
                &passing, &asked->error) != NH_OK)
        return false;
    const nh_choice *best = &asked->desk->choices[0];
    add_tiles(answer, "hand", &asked->hand);
    add_whole(answer, "count", nh_tiles_total(&best->pass));
    add_away(answer, "away", passing.away);
    add_tiles(answer, "pass", &best->pass);
    add_expected(answer, best, passing.draws);
    if (!add_choice_rows(asked, answer, &passing))
        return false;
    add_whole(answer, "passes", (int64_t)passing.passes);
    add_whole(answer, "tiles", nh_tiles_total(&asked->hand));
    return true;
}
