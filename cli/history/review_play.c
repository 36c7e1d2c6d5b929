/* The review of the game after the passes: what each discard cost, whether claims paid,
 * and how it ended. */
#include "history/review.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "numbers/double_text.h"

#include <string.h>

#define COST_SHOWN 0.0005 /* rounds to more than nothing */

static void discard_line(const struct review_discard *discard) {
    struct text line;
    text_clear(&line);
    text_add_format(&line, "  %4u  %-5s  %-4s  ", discard->turn, nh_kind_notation(discard->mine),
                    nh_kind_notation(discard->best));
    text_add_format(&line, "%8.3f  %8.3f  %8.3f", discard->expected, discard->best_expected,
                    discard->cost);
    text_print(&line);
}

static void discards_out(const struct review_play *play) {
    size_t judged = 0, best = 0;
    double cost = 0;
    for (size_t i = 0; i < play->discards; i++) {
        judged += play->discard[i].judged;
        best += play->discard[i].judged && play->discard[i].cost < COST_SHOWN;
        cost += play->discard[i].judged ? play->discard[i].cost : 0;
    }
    if (judged == 0)
        return;
    output_format("%zu of your %zu discard%s cost nothing; together they cost %.3f tiles.\n", best,
                  judged, plural(judged), cost);
    if (best == judged)
        return;
    output_text("The others, with the tiles away on average 3 tiles later:\n"
                "  Turn  Yours  Best     Yours      Best      Cost\n");
    for (size_t i = 0; i < play->discards; i++)
        if (play->discard[i].judged && play->discard[i].cost >= COST_SHOWN)
            discard_line(&play->discard[i]);
}

/* --------------------------------------------------------------- claims --- */

static void add_set_words(struct text *text, const nh_set *set) {
    char tiles[NH_TILES_TEXT_SIZE];
    nh_tiles all;
    nh_set_tiles(set, &all);
    nh_tiles_format(&all, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add(text, tiles);
}

static bool was_best(const struct review_claim *claim) {
    return claim->known && claim->chance >= claim->best_chance;
}

static void add_better(struct text *text, const struct review_claim *claim) {
    char chance[PERCENT_SIZE];
    percent_text(claim->best_chance, claim->best_wins, chance);
    if (claim->best_wins)
        text_add(text, "it completes your hand.");
    else if (claim->best_waits)
        text_add_format(text, "waiting has %s.", chance);
    else {
        text_add(text, "claiming ");
        add_set_words(text, &claim->best_set);
        text_add_format(text, " has %s.", chance);
    }
}

/* Of what was claimed, and of what would have been better claimed. */
static void claim_out(const struct review_claim *claim) {
    char chance[PERCENT_SIZE];
    struct flow flow = {.indent = 2};
    struct text text;
    if (claim->wins || (!claim->claimed && was_best(claim)))
        return;
    text_clear(&text);
    text_add_format(&text, "Turn %u, %s: you ", claim->turn, nh_kind_notation(claim->kind));
    if (claim->claimed) {
        text_add(&text, "claimed ");
        add_set_words(&text, &claim->set);
    } else
        text_add(&text, "let it go");
    percent_text(claim->chance, false, chance);
    if (claim->known)
        text_add_format(&text, ", a chance of %s: ", chance);
    else
        text_add(&text, ", which brings you no closer: ");
    if (was_best(claim))
        text_add(&text, "right.");
    else
        add_better(&text, claim);
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

static void claims_out(const struct review_play *play) {
    size_t right = 0;
    for (size_t i = 0; i < play->claims; i++)
        right += was_best(&play->claim[i]);
    if (play->claims == 0)
        return;
    output_format(
        "You could claim %zu discard%s; %zu decision%s right by the chance in %d draws.\n",
        play->claims, plural(play->claims), right, right == 1 ? " was" : "s were",
        NH_DRAWS_DEFAULT);
    for (size_t i = 0; i < play->claims; i++)
        claim_out(&play->claim[i]);
}

/* ------------------------------------------------------------------ end --- */

static void end_out(const struct review_play *play) {
    char points[DOUBLE_TEXT_SIZE];
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    if (play->winner == NULL)
        text_add_format(&text, "Nobody won: the wall was used up after %u turns.", play->turns);
    else {
        if (play->mine)
            text_add_format(&text, "You won in turn %u", play->turns);
        else
            text_add_format(&text, "The player in the %s won in turn %u", play->winner,
                            play->turns);
        if (play->from != NULL)
            text_add_format(&text, " with a discard of the %s", play->from);
        text_add(&text, ": ");
        text_add_cut(&text, play->pattern, strlen(play->pattern), 40);
        double_text(play->points, points);
        if (play->has_points)
            text_add_format(&text, ", %s point%s", points, strcmp(points, "1") == 0 ? "" : "s");
        text_add(&text, ".");
    }
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

void review_play_print(const struct review_play *play) {
    end_out(play);
    discards_out(play);
    claims_out(play);
}
