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
    if (!review->own_set)
        return;
    clock_text(review->apart, seconds);
    output_format("Drawing and typing took %s, which does not count.\n", seconds);
}

/* --------------------------------------------------------------- passes --- */

static void why_out(const struct review_why *why) {
    char tiles[NH_TILES_TEXT_SIZE], nearer[PERCENT_SIZE], best_nearer[PERCENT_SIZE];
    struct flow flow = {.indent = 4};
    struct text text;
    text_clear(&text);
    if (why->pattern != NULL) {
        nh_tiles_format(&why->tiles, NH_STYLE_LETTERS, tiles, sizeof tiles);
        text_add_cut(&text, why->pattern, strlen(why->pattern), 40);
        text_add_format(&text, " uses %s: ", tiles);
        if (why->away > NH_TARGET_MAX)
            text_add_format(&text, "%d away after the best pass, out of reach after yours.",
                            why->best_away);
        else
            text_add_format(&text, "%d away after the best pass, %d after yours.", why->best_away,
                            why->away);
    } else {
        percent_text(why->nearer, false, nearer);
        percent_text(why->best_nearer, false, best_nearer);
        text_add(&text, "No close pattern loses a tile; the chance of getting closer is ");
        if (strcmp(nearer, best_nearer) == 0)
            text_add_format(&text, "about the same, %s.", nearer);
        else
            text_add_format(&text, "%s, after the best pass %s.", nearer, best_nearer);
    }
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

/* Tiles, and how many more that came in went on unseen. */
static void add_tile_words(struct text *line, const nh_tiles *tiles, unsigned unseen) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, NH_STYLE_LETTERS, text, sizeof text);
    text_add(line, text[0] != '\0' ? text : unseen > 0 ? "" : "nothing");
    if (unseen > 0)
        text_add_format(line, "%s+%u", text[0] != '\0' ? " " : "", unseen);
}

static void pass_line(const struct review_pass *pass) {
    struct text line;
    text_clear(&line);
    text_add(&line, "  ");
    if (pass->charleston > 0)
        text_add_format(&line, "%u ", pass->charleston);
    text_add(&line, pass->step);
    text_pad(&line, 13);
    add_tile_words(&line, &pass->mine, pass->unseen);
    text_pad(&line, 28);
    add_tile_words(&line, &pass->best, 0);
    text_pad(&line, 43);
    if (pass->judged)
        text_add_format(&line, "%8.3f  %8.3f  %8.3f", pass->expected, pass->best_expected,
                        pass->cost);
    else
        text_add(&line, "no pattern can be reached any more");
    text_print(&line);
    if (pass->judged && pass->why.known)
        why_out(&pass->why);
}

static void passes_out(const struct review *review) {
    if (review->passes > 0)
        output_text("Your passes and the best ones, with the tiles away on average after each:\n"
                    "  Pass       Yours          Best              Yours      Best      Cost\n");
    for (size_t i = 0; i < review->passes; i++)
        pass_line(&review->pass[i]);
}

/* --------------------------------------------------------------- votes --- */

/* Tiles away, or that no pattern can be reached. */
static const char *away_text(double away, char *buffer, size_t size) {
    if (away > NH_TARGET_MAX)
        return "nothing in reach";
    snprintf(buffer, size, "%.3f away", away);
    return buffer;
}

/* Tiles away for those who stop, where the player across wants so many in the courtesy. The
 * more they want, the more there is to choose from: it never grows. */
static double stopping_with(const struct review_vote *vote, size_t wanted) {
    return wanted == 0 ? vote->stopping : vote->courtesy[wanted - 1];
}

/* From how many tiles that the player across wants on stopping is as good as one more pass,
 * or better than it; more than there are courtesies for never. */
static size_t stop_as_good(const struct review_vote *vote) {
    size_t wanted = 0;
    while (wanted <= vote->courtesies && stopping_with(vote, wanted) > vote->expected)
        wanted++;
    return wanted;
}

static size_t stop_better(const struct review_vote *vote) {
    size_t wanted = 0;
    while (wanted <= vote->courtesies && stopping_with(vote, wanted) >= vote->expected)
        wanted++;
    return wanted;
}

/* "if the player across wants 2 or more." */
static void add_across(struct text *text, const char *before, const struct review_vote *vote,
                       size_t from) {
    text_add_format(text, "%s the player across wants %zu%s.", before, from,
                    from < vote->courtesies ? " or more" : "");
}

static void add_yes_verdict(struct text *text, const struct review_vote *vote) {
    size_t as_good = stop_as_good(vote), better = stop_better(vote);
    if (better == 0)
        text_add(text, "stopping would have been better.");
    else if (better <= vote->courtesies)
        add_across(text, "right unless", vote, better);
    else if (as_good == 0)
        text_add(text, "no difference.");
    else if (as_good <= vote->courtesies)
        add_across(text, "right; stopping costs nothing if", vote, as_good);
    else
        text_add(text, "right.");
}

static void add_no_verdict(struct text *text, const struct review_vote *vote) {
    size_t as_good = stop_as_good(vote), better = stop_better(vote);
    if (as_good == 0)
        text_add(text, better > vote->courtesies ? "no difference." : "right.");
    else if (as_good <= vote->courtesies)
        add_across(text, "right only if", vote, as_good);
    else
        text_add(text, "going on would have been better.");
}

static void vote_out(const struct review_vote *vote) {
    char away[32];
    struct flow verdict = {.indent = 0}, flow = {.indent = 2};
    struct text text;
    text_clear(&text);
    text_add_format(&text, "Charleston %u, you said %s: ", vote->charleston,
                    vote->agreed ? "yes" : "no");
    flow_words(&verdict, text.bytes);
    verdict.indent = 2;
    text_clear(&text);
    if (vote->agreed)
        add_yes_verdict(&text, vote);
    else
        add_no_verdict(&text, vote);
    flow_words(&verdict, text.bytes);
    flow_end(&verdict);
    text_clear(&text);
    text_add_format(&text, "One more pass leaves %s on average",
                    away_text(vote->expected, away, sizeof away));
    text_add_format(&text, ", stopping %s", away_text(vote->stopping, away, sizeof away));
    for (size_t i = 0; i < vote->courtesies; i++)
        text_add_format(&text,
                        i == 0 ? "; with the courtesy %.3f if the player across wants %zu"
                               : ", %.3f if %zu",
                        vote->courtesy[i], i + 1);
    text_add(&text, ".");
    flow_words(&flow, text.bytes);
    flow_end(&flow);
}

/* ------------------------------------------------------- the final hand --- */

static void add_pattern_name(struct text *line, const char *pattern) {
    text_add_cut(line, pattern, strlen(pattern), 40);
}

static void add_away_words(struct text *line, int away) {
    if (away == 0)
        text_add(line, ", complete.");
    else
        text_add_format(line, ", %d away.", away);
}

/* The target in its groups, the tiles that it needs and those that it does not. */
static void target_out(const struct review_aim *aim) {
    struct flow flow = {.indent = 4};
    struct text text;
    char tiles[NH_TILES_TEXT_SIZE];
    if (aim->shown == NULL)
        return;
    text_clear(&text);
    text_add(&text, aim->shown);
    flow_add(&flow, &text, 0);
    if (nh_tiles_total(&aim->need) > 0) {
        text_clear(&text);
        nh_tiles_format(&aim->need, NH_STYLE_LETTERS, tiles, sizeof tiles);
        text_add_format(&text, "needs %s", tiles);
        flow_add(&flow, &text, 2);
    }
    if (nh_tiles_total(&aim->spare) > 0) {
        text_clear(&text);
        nh_tiles_format(&aim->spare, NH_STYLE_LETTERS, tiles, sizeof tiles);
        text_add_format(&text, "don't need %s", tiles);
        flow_add(&flow, &text, 2);
    }
    flow_end(&flow);
}

static void aim_line(const struct review *review, const struct review_aim *aim) {
    struct text line;
    text_clear(&line);
    text_add(&line, "You went for ");
    add_pattern_name(&line, aim->pattern);
    if (aim->place == 0) {
        text_add(&line, ": it can no longer be reached.");
    } else {
        text_add(&line, ": ");
        if (aim->place > 1)
            text_add_format(&line, "%zu%s ", aim->place, ordinal_ending(aim->place));
        text_add(&line, "closest");
        if (review->live > 0)
            text_add_format(&line, " of %zu", review->live);
        add_away_words(&line, aim->away);
    }
    text_print(&line);
    target_out(aim);
}

static void nearest_line(const struct review *review) {
    struct text line;
    const struct review_aim *best = best_aim(review);
    if (review->nearest.place == 0 || (best != NULL && best->place == 1))
        return;
    text_clear(&line);
    text_add(&line, "Closest is ");
    add_pattern_name(&line, review->nearest.pattern);
    add_away_words(&line, review->nearest.away);
    text_print(&line);
    target_out(&review->nearest);
}

static void replace_line(const struct review *review) {
    const struct review_aim *best = best_aim(review);
    if (best == NULL || best->away == 0)
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
        vote_out(&review->vote[i]);
    for (size_t i = 0; i < review->aims; i++)
        aim_line(review, &review->aim[i]);
    nearest_line(review);
    replace_line(review);
    if (review->play.played)
        review_play_print(&review->play);
}
