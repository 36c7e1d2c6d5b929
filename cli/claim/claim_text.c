/* The answer of claim for people: what the hand waits for, a row for each of the best
 * claims with the discard after it, and what it gives up.
 *
 *   Now 2 away; 17.6% in 20 draws for Light Airs.
 *   Claim 3D for a set.
 *   Tile  Unseen  For          Discard  After  In 20 draws  Change
 *   3D         2  pung 33DJ    W            1        24.1%   +6.5%  Light Airs
 *                 gives up Boathouse (concealed), Kittiwake
 */
#include "claim/claim_task.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "patterns/marked.h"

#include <stdio.h>
#include <string.h>

#define GAP 2

/* ------------------------------------------------------------- summary --- */

static void now_out(const struct claim_answer *answer) {
    const nh_claiming *claiming = &answer->claiming;
    struct text text;
    text_clear(&text);
    if (claiming->away == NH_AWAY_NONE) {
        text_add(&text, "No pattern is possible.");
    } else {
        char chance[PERCENT_SIZE];
        const char *name = nh_list_pattern(answer->question->list, claiming->pattern)->name;
        percent_text(claiming->chance,
                     nh_natural_compare(&claiming->completing, &claiming->draws) == 0, chance);
        text_add_format(&text, "Now %u away; %s in %d draw%s for ", claiming->away, chance,
                        answer->question->draws, plural((size_t)answer->question->draws));
        text_add_cut(&text, name, strlen(name), LINE_WIDTH - text.width - 1);
        text_add(&text, ".");
    }
    text_print(&text);
}

/* The tiles of claims to win, or of those for a set that are worth it. */
static nh_tiles tiles_claimed(const struct claim_answer *answer, bool win) {
    nh_tiles tiles = {{0}};
    for (size_t i = 0; i < answer->claiming.rows; i++) {
        const nh_claim *claim = &answer->claims[i];
        if ((claim->use == NH_CLAIM_WIN) == win && claim->worth)
            tiles.count[claim->kind] = 1;
    }
    return tiles;
}

/* "Claim 2C R to win." */
static void advice_text(const nh_tiles *tiles, const char *purpose, struct text *text) {
    if (nh_tiles_total(tiles) == 0)
        return;
    text_add(text, text->width > 0 ? " Claim" : "Claim");
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (tiles->count[kind] > 0)
            text_add_format(text, " %s", nh_kind_notation(kind));
    text_add(text, purpose);
}

/* A tile that wins is claimed for nothing else. */
static void advice_out(const struct claim_answer *answer) {
    nh_tiles wins = tiles_claimed(answer, true), sets = tiles_claimed(answer, false);
    struct flow flow = {.indent = 0};
    struct text text;
    text_clear(&text);
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (wins.count[kind] > 0)
            sets.count[kind] = 0;
    advice_text(&wins, " to win.", &text);
    advice_text(&sets, " for a set.", &text);
    if (text.width == 0)
        text_add(&text, "Claim nothing: wait for your own draw.");
    output_text(answer->question->style.bold);
    flow_words(&flow, text.bytes);
    output_text(answer->question->style.plain);
    flow_end(&flow);
}

/* ---------------------------------------------------------------- table --- */

enum { TILE, UNSEEN, USE, DISCARD, AFTER, CHANCE, CHANGE, COLUMNS };
static const int widths[COLUMNS] = {4, 6, 14, 7, 5, 12, 6};
static const bool leftward[COLUMNS] = {[TILE] = true, [USE] = true, [DISCARD] = true};

static void row_text(struct text *text, const char *cells[COLUMNS]) {
    int end = 0;
    text_clear(text);
    for (int i = 0; i < COLUMNS; i++) {
        end += widths[i] + (i > 0 ? GAP : 0);
        if (leftward[i]) {
            text_pad(text, end - widths[i]);
            text_add(text, cells[i]);
        } else if (cells[i][0] != '\0')
            text_add_right(text, cells[i], end);
    }
    text_pad(text, end);
}

static void head_out(const struct claim_answer *answer) {
    const struct style *style = &answer->question->style;
    char chance[32];
    snprintf(chance, sizeof chance, "In %d draw%s", answer->question->draws,
             plural((size_t)answer->question->draws));
    const char *cells[COLUMNS] = {"Tile", "Unseen", "For", "Discard", "After", chance, "Change"};
    struct text text;
    row_text(&text, cells);
    output_text(style->dim);
    output_bytes(text.bytes, text.length);
    output_format("%s\n", style->plain);
}

#define USE_SIZE (NH_TILES_TEXT_SIZE + 8)

static void use_text(const nh_claim *claim, char *text, size_t size) {
    char set[NH_TILES_TEXT_SIZE];
    if (claim->use == NH_CLAIM_WIN) {
        snprintf(text, size, "to win");
        return;
    }
    set_text(&claim->set, set);
    snprintf(text, size, "%s %s", claim_use_word(claim), set);
}

static void figures_out(const struct claim_answer *answer, const nh_claim *claim) {
    const nh_claiming *claiming = &answer->claiming;
    char unseen[8], use[USE_SIZE], after[8] = "", change[32] = "";
    char chance[PERCENT_SIZE] = "";
    struct text text;
    snprintf(unseen, sizeof unseen, "%u", claim->copies);
    use_text(claim, use, sizeof use);
    if (claim->use != NH_CLAIM_WIN) {
        snprintf(after, sizeof after, "%u", claim->away);
        percent_text(claim->chance,
                     nh_natural_compare(&claim->completing, &claiming->claim_draws) == 0, chance);
        snprintf(change, sizeof change, "%+.1f%%", 100 * (claim->chance - claiming->chance));
    }
    const char *cells[COLUMNS] = {nh_kind_notation(claim->kind),
                                  unseen,
                                  use,
                                  claim->discard < NH_KINDS ? nh_kind_notation(claim->discard) : "",
                                  after,
                                  chance,
                                  change};
    const char *name = nh_list_pattern(answer->question->list, claim->pattern)->name;
    row_text(&text, cells);
    text_pad(&text, text.width + GAP);
    text_add_cut(&text, name, strlen(name), LINE_WIDTH - text.width);
    text_print(&text);
}

/* ------------------------------------------------------ below each claim --- */

#define BELOW_INDENT 14
#define GIVEN_UP_SHOWN 4

static void flow_name(struct flow *flow, const char *name, const char *behind) {
    struct text piece;
    text_clear(&piece);
    text_add_cut(&piece, name, strlen(name), LINE_WIDTH - BELOW_INDENT - text_width(behind));
    text_add(&piece, behind);
    flow_add(flow, &piece, 1);
}

static void given_up_out(const struct claim_answer *answer, const nh_claim *claim) {
    const nh_list *list = answer->question->list;
    uint32_t count = claim->given_up_count;
    uint32_t shown = count > GIVEN_UP_SHOWN + 1 ? GIVEN_UP_SHOWN : count;
    struct flow flow = {.indent = BELOW_INDENT};
    if (count == 0)
        return;
    flow_words(&flow, "gives up");
    for (uint32_t i = 0; i < shown; i++) {
        const nh_pattern *pattern = nh_list_pattern(list, claim->given_up[i]);
        const char *comma = i + 1 < count ? "," : "";
        char behind[24];
        snprintf(behind, sizeof behind, "%s%s", pattern->concealed ? " (concealed)" : "", comma);
        flow_name(&flow, pattern->name, behind);
    }
    if (shown < count) {
        char more[24];
        snprintf(more, sizeof more, "%u more", count - shown);
        flow_name(&flow, more, "");
    }
    flow_end(&flow);
}

static void worth_out(const nh_claim *claim) {
    struct flow flow = {.indent = BELOW_INDENT};
    if (claim->worth)
        return;
    flow_words(&flow, "better wait for your own draw");
    flow_end(&flow);
}

static void claims_out(const struct claim_answer *answer) {
    size_t rows = answer->claiming.rows, top = answer->question->top;
    size_t shown = rows < top ? rows : top;
    bool chow = false;
    if (shown > 0)
        head_out(answer);
    for (size_t i = 0; i < shown; i++) {
        figures_out(answer, &answer->claims[i]);
        worth_out(&answer->claims[i]);
        given_up_out(answer, &answer->claims[i]);
        chow = chow || answer->claims[i].use == NH_CHOW;
    }
    if (shown < rows)
        output_format("%zu more claim%s; --top %zu shows all.\n", rows - shown,
                      plural(rows - shown), rows);
    if (chow && !nh_list_play(answer->question->list)->chow_from_any)
        output_text("A chow takes only the discard of the player to your left.\n");
}

void claim_text(const struct claim_answer *answer) {
    if (answer->question->batch) {
        output_text("\n");
        marked_heading(&answer->hand, answer->line, &answer->question->style);
    }
    now_out(answer);
    if (answer->claiming.away != NH_AWAY_NONE || answer->claiming.rows > 0)
        advice_out(answer);
    claims_out(answer);
    exchanges_text(&answer->exchanges);
}
