/* The answer of read for people: which patterns are left, then how dangerous tiles are.
 *
 *   2 sets on the table, 7 tiles hidden: 3 of 63 patterns left.
 *   Boathouse (Charts 10.6), 15 points
 *       61.2%  [EEE] | [444D] | 678B | 33D
 *   ...
 *   Your tiles, the safest 5B:
 *   Danger  Tile  Yours  Unseen
 *    12.4%  3D        2       1  ##########
 *       0%  5B        1       3  safest
 */
#include "io/flow.h"
#include "io/output.h"
#include "patterns/described.h"
#include "patterns/marked.h"
#include "players/player_shown.h"
#include "read/read_task.h"

#include <stdio.h>

#define GAP 2
#define INDENT 4
#define SHARE_WIDTH 10
#define BAR_WIDTH 40

static void sentence_out(const char *sentence) {
    struct flow flow = {.indent = 0};
    flow_words(&flow, sentence);
    flow_end(&flow);
}

/* -------------------------------------------------------------- patterns --- */

static void player_out(const struct read_answer *answer, size_t index) {
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    player_add(&text, &answer->question->players, &answer->players, index,
               answer->question->several);
    output_text(answer->question->style.bold);
    flow_words(&flow, text.bytes);
    output_text(answer->question->style.plain);
    flow_end(&flow);
}

/* The share of a pattern, and a target with the sets on the table in brackets. */
static void share_out(const nh_list *list, const nh_reading *reading,
                      const struct player_targets *player, size_t index) {
    static const struct style unstyled = {false, "", "", "", ""};
    const nh_read_pattern *row = nh_reading_pattern(reading, index);
    struct flow flow = {.indent = INDENT};
    char share[PERCENT_SIZE] = "";
    struct text text;
    text_clear(&text);
    if (reading->status == NH_OK)
        percent_text(row->share, nh_natural_compare(&row->ready, &reading->ready) == 0, share);
    if (share[0] != '\0')
        text_add_right(&text, share, SHARE_WIDTH - INDENT);
    else
        text_add(&text, row->status == NH_OK ? "possible" : "not counted");
    flow_add(&flow, &text, 0);
    if (nh_tiles_total(&player->rows[index].target) > 0) {
        text_clear(&text);
        marked_target(&text, list, &player->rows[index], &player->layouts[index], &unstyled, false);
        flow_add(&flow, &text, GAP);
        text_clear(&text);
        marked_their_winds(&text, &player->rows[index]);
        if (text.width > 0)
            flow_add(&flow, &text, GAP);
    }
    flow_end(&flow);
}

static void patterns_out(const struct read_answer *answer, size_t index) {
    const nh_reading *reading = answer->players.reading[index];
    size_t shown =
        reading->patterns < answer->question->top ? reading->patterns : answer->question->top;
    for (size_t i = 0; i < shown; i++) {
        uint32_t pattern = nh_reading_pattern(reading, i)->pattern;
        pattern_heading_out(nh_list_pattern(answer->question->whole, pattern), 0);
        share_out(answer->question->players.player[index].list, reading, &answer->targets[index],
                  i);
    }
    if (shown < reading->patterns)
        output_format("%zu more pattern%s; --top %zu shows all.\n", reading->patterns - shown,
                      plural(reading->patterns - shown), reading->patterns);
    if (reading->uncounted > 0)
        output_format("%zu of these take%s too much work to count.\n", reading->uncounted,
                      reading->uncounted == 1 ? "s" : "");
}

static bool any_jokers(const nh_set *sets, size_t count) {
    bool any = false;
    for (size_t i = 0; i < count; i++)
        any = any || sets[i].jokers > 0;
    return any;
}

static void legend_out(const struct read_answer *answer) {
    bool shares = false, shown = false, joked = false;
    struct text text;
    for (size_t i = 0; i < answer->question->players.count; i++) {
        size_t count;
        const nh_set *sets = nh_list_sets(answer->question->players.player[i].list, &count);
        if (answer->players.reading[i]->patterns == 0)
            continue;
        shown = shown || count > 0;
        joked = joked || any_jokers(sets, count);
        shares = shares || answer->players.reading[i]->status == NH_OK;
    }
    if (!shares)
        return;
    text_clear(&text);
    text_add(&text, "% of hidden hands one tile short, with an example");
    text_add(&text, shown ? "; [ ] on the table" : "");
    text_add(&text, joked ? ", < > a joker stands for it." : ".");
    sentence_out(text.bytes);
}

/* ----------------------------------------------------------------- tiles --- */

/* Ends of columns, and where those begin that are written from the left. */
enum { DANGER_END = 6, TILE_BEGIN = 8, HELD_END = 18, UNSEEN_END = 26, BAR_BEGIN = 28 };

static void tiles_head_out(const struct style *style) {
    output_format("%sDanger  Tile  Yours  Unseen%s\n", style->dim, style->plain);
}

static void bar_add(struct text *text, double part) {
    int length = (int)(part * BAR_WIDTH + 0.5);
    if (part > 0 && length == 0)
        length = 1;
    for (int i = 0; i < length; i++)
        text_add(text, "#");
}

static void tile_out(const struct tile_danger *tile, double largest, bool safest) {
    char danger[PERCENT_SIZE];
    char number[16];
    struct text text;
    text_clear(&text);
    percent_text(tile->danger, tile->danger >= 1.0, danger);
    text_add_right(&text, danger, DANGER_END);
    text_pad(&text, TILE_BEGIN);
    text_add(&text, nh_kind_notation(tile->kind));
    snprintf(number, sizeof number, "%u", tile->mine);
    text_add_right(&text, tile->mine > 0 ? number : "", HELD_END);
    snprintf(number, sizeof number, "%u", tile->unseen);
    text_add_right(&text, number, UNSEEN_END);
    if (tile->danger > 0 || safest)
        text_pad(&text, BAR_BEGIN);
    if (tile->danger > 0)
        bar_add(&text, tile->danger / largest);
    if (safest)
        text_add(&text, tile->danger > 0 ? " safest" : "safest");
    text_print(&text);
}

static double largest_danger(const struct read_answer *answer) {
    double largest = 0.0;
    for (size_t i = 0; i < answer->players.tile_count; i++)
        largest =
            answer->players.tiles[i].danger > largest ? answer->players.tiles[i].danger : largest;
    return largest;
}

static size_t own_tiles(const struct read_answer *answer) {
    size_t own = 0;
    while (own < answer->players.tile_count && answer->players.tiles[own].mine > 0)
        own++;
    return own;
}

/* "Your tiles, the safest E and R:" */
static void own_head_out(const struct read_answer *answer, size_t own, double least) {
    size_t first = own;
    struct text text;
    while (first > 0 && answer->players.tiles[first - 1].danger <= least)
        first--;
    text_clear(&text);
    text_add(&text, "Your tiles, the safest");
    for (size_t i = first; i < own; i++)
        text_add_format(&text, "%s %s",
                        i == first     ? ""
                        : i + 1 == own ? " and"
                                       : ",",
                        nh_kind_notation(answer->players.tiles[i].kind));
    text_add(&text, ":");
    text_print(&text);
}

static void own_out(const struct read_answer *answer, size_t own, double largest) {
    double least = own > 0 ? answer->players.tiles[own - 1].danger : 0.0;
    if (own == 0)
        return;
    own_head_out(answer, own, least);
    tiles_head_out(&answer->question->style);
    for (size_t i = 0; i < own; i++)
        tile_out(&answer->players.tiles[i], largest, answer->players.tiles[i].danger <= least);
}

static void others_out(const struct read_answer *answer, size_t own, double largest) {
    size_t others = answer->players.tile_count - own;
    size_t shown = others < answer->question->top ? others : answer->question->top;
    if (shown > 0) {
        output_text(own > 0 ? "Other dangerous tiles:\n" : "Dangerous tiles:\n");
        if (own == 0)
            tiles_head_out(&answer->question->style);
    }
    for (size_t i = 0; i < shown; i++)
        tile_out(&answer->players.tiles[own + i], largest, false);
    if (shown < others)
        output_format("%zu more tile%s; --top %zu shows all.\n", others - shown,
                      plural(others - shown), others);
}

/* What the figures take for granted. */
static void model_out(const struct read_answer *answer) {
    sentence_out(PLAYERS_MODEL);
    if (answer->question->players.count > 1)
        sentence_out(PLAYERS_MODEL_SEVERAL);
}

void reading_text(const struct read_answer *answer) {
    if (answer->question->batch) {
        output_text("\n");
        marked_heading(&answer->hand, answer->line, &answer->question->style);
    }
    for (size_t i = 0; i < answer->question->players.count; i++) {
        player_out(answer, i);
        patterns_out(answer, i);
    }
    if (answer->question->top > 0)
        legend_out(answer);
    if (!answer->players.counted) {
        sentence_out(PLAYERS_TOO_MUCH);
        return;
    }
    if (!players_reading_ready(&answer->players))
        return; /* nothing is known of dangers: the lines of the players say what to check */
    size_t own = own_tiles(answer);
    own_out(answer, own, largest_danger(answer));
    others_out(answer, own, largest_danger(answer));
    model_out(answer);
}
