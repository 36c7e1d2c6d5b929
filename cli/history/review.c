/* The review of a round as text. */
#include "history/review.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"

#include <stdio.h>
#include <string.h>

/* Tiles to replace after the passes: common practice. */
#define GOOD_MOST 3
#define LONG_MOST 5

/* The aim that counts for the tiles to replace: the best placed; NULL for none. */
static const struct review_aim *best_aim(const struct review *review) {
    const struct review_aim *best = NULL;
    for (size_t i = 0; i < review->aims; i++)
        if (review->aim[i].place > 0 && (best == NULL || review->aim[i].place < best->place))
            best = &review->aim[i];
    return best;
}

static void time_line(const struct review *review) {
    char seconds[CLOCK_SIZE];
    char limit[CLOCK_SIZE];
    clock_text(review->seconds, seconds);
    clock_text(review->limit, limit);
    output_format("Time %s of %s: %s.\n", seconds, limit,
                  review->seconds <= review->limit ? "within the limit" : "over the limit");
}

static void pass_line(const struct review_pass *pass) {
    char tiles[NH_TILES_TEXT_SIZE];
    struct text line;
    text_clear(&line);
    text_add(&line, "  ");
    if (pass->charleston > 0)
        text_add_format(&line, "%u ", pass->charleston);
    text_add(&line, pass->step);
    text_pad(&line, 13);
    nh_tiles_format(&pass->mine, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add(&line, tiles);
    text_pad(&line, 28);
    nh_tiles_format(&pass->best, NH_STYLE_LETTERS, tiles, sizeof tiles);
    text_add(&line, tiles);
    text_pad(&line, 43);
    if (pass->judged)
        text_add_format(&line, "%8.3f  %8.3f  %8.3f", pass->expected, pass->best_expected,
                        pass->cost);
    else
        text_add(&line, "no pattern can be reached any more");
    text_print(&line);
}

static void passes_out(const struct review *review) {
    if (review->passes > 0)
        output_text("Your passes and the best ones, with the tiles away on average after each:\n"
                    "  Pass       Yours          Best              Yours      Best      Cost\n");
    for (size_t i = 0; i < review->passes; i++)
        pass_line(&review->pass[i]);
}

/* Tiles away, or that no pattern can be reached. */
static const char *away_text(double away, int decimals, char *buffer, size_t size) {
    if (away > NH_TARGET_MAX)
        return "none in reach";
    snprintf(buffer, size, "%.*f", decimals, away);
    return buffer;
}

static void vote_line(const struct review_vote *vote) {
    char expected[32];
    char stopping[32];
    const char *verdict = vote->expected < vote->stopping
                              ? (vote->agreed ? "right" : "going on would have been better")
                          : vote->expected > vote->stopping
                              ? (vote->agreed ? "stopping would have been better" : "right")
                              : "no difference";
    output_format("Charleston %u, you said %s: %s.\n"
                  "  Tiles away on average: %s after a best pass, %s without it.\n",
                  vote->charleston, vote->agreed ? "yes" : "no", verdict,
                  away_text(vote->expected, 3, expected, sizeof expected),
                  away_text(vote->stopping, 0, stopping, sizeof stopping));
}

static void add_pattern(struct text *line, const char *pattern) {
    text_add_cut(line, pattern, strlen(pattern), 40);
}

static void aim_line(const struct review *review, const struct review_aim *aim) {
    struct text line;
    text_clear(&line);
    text_add(&line, "You went for ");
    add_pattern(&line, aim->pattern);
    if (aim->place == 0) {
        text_add(&line, ": it can no longer be reached.");
    } else {
        text_add(&line, ": ");
        if (aim->place > 1)
            text_add_format(&line, "%zu%s ", aim->place, ordinal_ending(aim->place));
        text_add(&line, "closest");
        if (review->live > 0)
            text_add_format(&line, " of %zu", review->live);
        text_add_format(&line, ", %d away.", aim->away);
    }
    text_print(&line);
}

static void nearest_line(const struct review *review) {
    struct text line;
    const struct review_aim *best = best_aim(review);
    if (review->nearest.place == 0 || (best != NULL && best->place == 1))
        return;
    text_clear(&line);
    text_add(&line, "Closest is ");
    add_pattern(&line, review->nearest.pattern);
    text_add_format(&line, ", %d away.", review->nearest.away);
    text_print(&line);
}

static void replace_line(const struct review *review) {
    const struct review_aim *best = best_aim(review);
    if (best == NULL)
        return;
    output_format("Tiles to replace: %d, %s (common practice: up to %d good, up to %d long).\n",
                  best->replace,
                  best->replace <= GOOD_MOST   ? "good"
                  : best->replace <= LONG_MOST ? "long"
                                               : "very long",
                  GOOD_MOST, LONG_MOST);
}

void review_print(const struct review *review) {
    time_line(review);
    passes_out(review);
    for (size_t i = 0; i < review->votes; i++)
        vote_line(&review->vote[i]);
    for (size_t i = 0; i < review->aims; i++)
        aim_line(review, &review->aim[i]);
    nearest_line(review);
    replace_line(review);
}
