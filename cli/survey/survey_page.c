/* The survey as a page: tables with bars, and the plot of points against wins. No script,
 * nothing fetched; for screens of any width, light and dark, and for paper. */
#include "io/markup.h"
#include "io/output.h"
#include "io/text.h"
#include "survey/survey_plot.h"
#include "survey/survey_task.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>

static const char styles[] =
    ":root { color-scheme: light dark; --ink: #1d1d1b; --paper: #fff; --quiet: #5c5c58;\n"
    "  --rule: #d5d5cf; --bar: #48606b; --far: #9a2f0d; --band: #e6e9e4; }\n"
    "@media (prefers-color-scheme: dark) { :root { --ink: #ecebe6; --paper: #17191a;\n"
    "  --quiet: #aaaaa3; --rule: #3c4143; --bar: #9db8c4; --far: #ff9a70; --band: #2a3030; } }\n"
    "body { margin: 0 auto; max-width: 44rem; padding: 1rem; color: var(--ink);\n"
    "  background: var(--paper); font: 1rem/1.4 sans-serif; overflow-wrap: break-word; }\n"
    "h1 { margin: 0; font-size: 1.5rem; line-height: 1.2; }\n"
    "h2 { margin: 2.2rem 0 .3rem; font-size: 1.2rem; }\n"
    "p { margin: .4rem 0; }\n"
    "table { width: 100%; margin-top: .8rem; border-collapse: collapse; font-size: .9rem;\n"
    "  font-variant-numeric: tabular-nums; }\n"
    "caption { padding-bottom: .3rem; text-align: left; color: var(--quiet); }\n"
    "th, td { padding: .22rem .8rem .22rem 0; text-align: left; vertical-align: top;\n"
    "  font-weight: normal; border-bottom: 1px solid var(--rule); }\n"
    "th:last-child, td:last-child { padding-right: 0; }\n"
    "thead th, thead .number { vertical-align: bottom; border-bottom: 1px solid var(--ink); "
    "font-weight: bold;\n"
    "  white-space: normal; }\n"
    "tbody th { width: 32%; }\n"
    ".number { text-align: right; white-space: nowrap; }\n"
    ".place { color: var(--quiet); }\n"
    ".range { color: var(--quiet); white-space: nowrap; }\n"
    ".far { font-weight: bold; color: var(--far); }\n"
    ".share { display: flex; flex-wrap: wrap; align-items: center; }\n"
    ".share > span { flex: 0 0 12rem; }\n"
    ".share > .bar { flex: 1 1 6rem; }\n"
    ".bar { display: block; width: 100%; min-width: 5rem; height: .75rem; }\n"
    ".bar rect { fill: var(--bar); }\n"
    ".bar path { stroke: var(--ink); stroke-width: 1.5; vector-effect: non-scaling-stroke; }\n"
    ".bar.dealt rect { fill: none; stroke: var(--bar); vector-effect: non-scaling-stroke; }\n"
    ".even { stroke-dasharray: 3 2; }\n"
    ".plot { display: block; width: 100%; max-width: 34rem; margin: .8rem 0; font-size: 14px; }\n"
    ".plot text { fill: var(--ink); }\n"
    ".plot .grid { stroke: var(--rule); }\n"
    ".plot .band { fill: var(--band); }\n"
    ".plot .fair { stroke: var(--quiet); stroke-dasharray: 6 3; fill: none; }\n"
    ".plot .near { fill: var(--bar); stroke: var(--paper); }\n"
    ".plot path.far { fill: var(--far); stroke: var(--paper); }\n"
    ".note { color: var(--quiet); font-size: .9rem; }\n"
    "@media (max-width: 34rem) { th, td { padding-right: .4rem; } table { font-size: .8rem; }\n"
    "  .range { display: block; font-size: .72rem; } .bar { min-width: 2.5rem; }\n"
    "  .share > span { flex-basis: 100%; } }\n"
    "@page { margin: 14mm; }\n"
    "@media print {\n"
    "  :root { color-scheme: light; --ink: #000; --paper: #fff; --quiet: #444; --rule: #ccc;\n"
    "    --bar: #555; --far: #000; --band: #e8e8e8; }\n"
    "  body { max-width: none; padding: 0; font-size: 10pt; }\n"
    "  h2, h2 + p, caption { break-after: avoid; }\n"
    "  tr, .plot { break-inside: avoid; }\n"
    "  .plot { max-width: 13cm; }\n"
    "}\n";

/* ---------------------------------------------------------------- pieces --- */

static void percent_out(const struct share *share, int digits) {
    output_format("%.*f&#160;%% <span class=\"range\">(%.*f to %.*f)</span>", digits,
                  100 * share->of, digits, 100 * share->low, digits, 100 * share->high);
}

/* A share in figures and as a bar. */
static void share_cell(const struct share *share, int digits, double most) {
    output_text("<td><div class=\"share\"><span>");
    percent_out(share, digits);
    output_text("</span>");
    survey_bar(share, most, "won");
    output_text("</div></td>");
}

/* The first cell of a pattern's row. */
static void pattern_head(const struct counts *counts, size_t pattern, size_t place) {
    output_format("<tr><th scope=\"row\"><span class=\"place\">%zu.</span> ", place + 1);
    markup_name(nh_list_pattern(counts->list, pattern)->name);
    output_text("</th>");
}

static void table_end(void) {
    output_text("</tbody>\n</table>\n");
}

/* ----------------------------------------------------------------- games --- */

static void head_out(const struct survey_key *key, const struct counts *counts) {
    static const char *const passes[] = {[NH_PASS_BEST] = "make the exact best passes",
                                         [NH_PASS_SPARE] =
                                             "pass what the closest target does not need"};
    static const char *const claims[] = {[NH_CLAIM_WORTH] = "claim sets that raise the chance",
                                         [NH_CLAIM_ALWAYS] =
                                             "claim every set that brings them closer",
                                         [NH_CLAIM_NEVER] = "claim no sets, only wins"};
    output_text("<h1>");
    markup_name(key->list);
    output_format("</h1>\n<p>%" PRIu64 " whole game%s, seed %" PRIu64 ". All four players %s, "
                  "choose discards by <i>%s</i>, %d tile%s ahead, and %s.</p>\n"
                  "<p class=\"note\">In brackets, and as lines on the bars: where the true figure "
                  "lies with 95&#160;%% probability.</p>\n",
                  counts->games, plural(counts->games), key->seed, passes[key->way.pass],
                  survey_discards[key->way.discard], key->way.look, plural((size_t)key->way.look),
                  claims[key->way.claim]);
}

static void share_row(const char *head, uint64_t part, uint64_t whole, const char *of) {
    struct share share = share_of(part, whole);
    output_format("<tr><th scope=\"row\">%s</th><td class=\"number\">%" PRIu64 "</td><td>", head,
                  part);
    if (whole > 0) {
        percent_out(&share, 1);
        output_format(" of %s", of);
    }
    output_text("</td></tr>\n");
}

static void mean_row(const char *head, uint64_t sum, uint64_t count, const char *what) {
    if (count > 0)
        output_format(
            "<tr><th scope=\"row\">%s</th><td class=\"number\">%.1f</td><td>%s</td></tr>\n", head,
            (double)sum / (double)count, what);
}

static void games_out(const struct counts *counts) {
    uint64_t wins = counts->games - counts->walls, drawn = 0;
    for (size_t i = 0; i < nh_list_size(counts->list); i++)
        drawn += counts->pattern[i].drawn;
    output_text("<h2>The games</h2>\n<table>\n<caption>How the games ended</caption>\n<tbody>\n");
    share_row("Won", wins, counts->games, "the games");
    share_row("Won by one’s own draw", drawn, wins, "the wins");
    share_row("Won by another’s discard", wins - drawn, wins, "the wins");
    share_row("Wall used up", counts->walls, counts->games, "the games");
    mean_row("Length", counts->turns, counts->games, "turns of all players, on average");
    mean_row("Wall left after a win", counts->wall_left, wins, "tiles, on average");
    table_end();
}

static void seats_out(const struct counts *counts) {
    static const char *const seats[NH_SEATS] = {"East, who deals", "South", "West", "North"};
    uint64_t wins = counts->games - counts->walls;
    double most = 0.25;
    if (wins == 0)
        return;
    for (int seat = 0; seat < NH_SEATS; seat++)
        most = fmax(most, share_of(counts->seat_wins[seat], wins).high);
    output_text("<table>\n<caption>Who won; an even share is 25&#160;%</caption>\n"
                "<thead><tr><th scope=\"col\">Seat</th><th scope=\"col\">Share of the wins</th>"
                "</tr></thead>\n<tbody>\n");
    for (int seat = 0; seat < NH_SEATS; seat++) {
        struct share share = share_of(counts->seat_wins[seat], wins);
        output_format("<tr><th scope=\"row\">%s</th>", seats[seat]);
        share_cell(&share, 1, most);
        output_text("</tr>\n");
    }
    table_end();
}

/* ------------------------------------------------------------------ wins --- */

static void win_row(const struct counts *counts, size_t pattern, size_t place, double most) {
    const struct pattern_counts *count = &counts->pattern[pattern];
    uint64_t wins = counts_wins(counts, pattern);
    struct share share = share_of(wins, counts->games - counts->walls);
    pattern_head(counts, pattern, place);
    share_cell(&share, 2, most);
    if (wins == 0)
        output_text("<td class=\"number\">–</td><td class=\"number\">–</td></tr>\n");
    else
        output_format("<td class=\"number\">%.0f&#160;%%</td><td class=\"number\">%.0f</td></tr>\n",
                      100 * (double)count->drawn / (double)wins,
                      (double)count->turns / (double)wins);
}

static void wins_out(const struct counts *counts, const size_t *order) {
    double most = 0;
    size_t size = nh_list_size(counts->list), never = 0;
    for (size_t i = 0; i < size; i++) {
        most = fmax(most, share_of(counts_wins(counts, i), counts->games - counts->walls).high);
        never += counts_wins(counts, i) == 0;
    }
    output_text(
        "<h2>What wins</h2>\n<table>\n<caption>The patterns by their share of the wins, how "
        "often they were won by the winner’s own draw, and in which turn on average</caption>\n"
        "<thead><tr><th scope=\"col\">Pattern</th><th scope=\"col\">Share of the wins</th>"
        "<th scope=\"col\" class=\"number\">Own draw</th>"
        "<th scope=\"col\" class=\"number\">Turn</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < size; i++)
        win_row(counts, order[i], i, most);
    table_end();
    if (never > 0)
        output_format("<p class=\"note\">Never won: %zu of %zu patterns.</p>\n", never, size);
}

/* --------------------------------------------------------------- nearest --- */

static void closest_cell(uint64_t hands, uint64_t alone, uint64_t all) {
    struct share share = share_of(hands, all);
    output_format(
        "<td class=\"number\">%.1f&#160;%% <span class=\"range\">alone %.1f&#160;%%</span>"
        "</td>",
        100 * share.of, all == 0 ? 0 : 100 * (double)alone / (double)all);
}

static void closest_out(const struct counts *counts, const size_t *order) {
    size_t size = nh_list_size(counts->list);
    uint64_t hands = NH_SEATS * counts->games;
    double most = 0;
    for (size_t i = 0; i < size; i++) {
        const struct pattern_counts *count = &counts->pattern[i];
        most = fmax(most, share_of(count->dealt, hands).high);
        most = fmax(most, share_of(count->passed, hands).high);
    }
    output_text(
        "<h2>What hands are close to</h2>\n<table>\n<caption>Hands to which a pattern is the "
        "closest, with others or alone: when dealt (hollow bar), and after the passes (full "
        "bar)</caption>\n<thead><tr><th scope=\"col\">Pattern</th>"
        "<th scope=\"col\" class=\"number\">Dealt</th>"
        "<th scope=\"col\" class=\"number\">After the passes</th>"
        "<th scope=\"col\">Bars</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < size; i++) {
        const struct pattern_counts *count = &counts->pattern[order[i]];
        struct share dealt = share_of(count->dealt, hands), passed = share_of(count->passed, hands);
        pattern_head(counts, order[i], i);
        closest_cell(count->dealt, count->dealt_alone, hands);
        closest_cell(count->passed, count->passed_alone, hands);
        output_text("<td>");
        survey_bar(&dealt, most, "dealt");
        survey_bar(&passed, most, "passed");
        output_text("</td></tr>\n");
    }
    table_end();
}

/* ---------------------------------------------------------------- points --- */

/* Three digits, or all of a whole number. */
static void fair_text(double points, char *buffer, size_t size) {
    snprintf(buffer, size, points < 1000 ? "%.3g" : "%.0f", points);
}

static void fair_cell(const struct pay *pay) {
    char fair[32], low[32], high[32];
    fair_text(pay->fair, fair, sizeof fair);
    fair_text(pay->low, low, sizeof low);
    fair_text(pay->high, high, sizeof high);
    if (pay->has_fair)
        output_format("<td class=\"number\">%s <span class=\"range\">(%s to %s)</span></td>", fair,
                      low, high);
    else
        output_text("<td class=\"number\">–</td>");
}

static void pay_row(const struct counts *counts, size_t pattern, size_t place) {
    struct pay pay = pay_of(counts, pattern);
    pattern_head(counts, pattern, place);
    if (pay.has_paid)
        output_format("<td class=\"number\">%.4g</td>", pay.paid);
    else
        output_text("<td class=\"number\">–</td>");
    fair_cell(&pay);
    output_format("<td class=\"number\">%.1f</td><td class=\"far\">%s</td></tr>\n", pay.per_100,
                  pay.off > 0   ? "▼ too much"
                  : pay.off < 0 ? "▲ too little"
                                : "");
}

static void points_out(const struct counts *counts, const size_t *order) {
    output_text("<h2>What it pays</h2>\n");
    if (fair_points_together(counts) <= 0) {
        output_text("<p>No pattern that was won has points.</p>\n");
        return;
    }
    output_text(
        "<p>With <i>fair points</i> all patterns that were won bring the same, and together "
        "as many points as they did.</p>\n");
    if (survey_plot(counts, order))
        output_text("<p class=\"note\">On the dashed line points are fair; the band is a third to "
                    "either side. ▲ pays too little, ▼ too much, beyond what chance explains: the "
                    "numbers are those of the tables.</p>\n");
    output_text("<table>\n<caption>Points of a win, those that would be fair, and points that the "
                "pattern brought in 100 games</caption>\n"
                "<thead><tr><th scope=\"col\">Pattern</th>"
                "<th scope=\"col\" class=\"number\">Pays</th>"
                "<th scope=\"col\" class=\"number\">Fair</th>"
                "<th scope=\"col\" class=\"number\">In 100 games</th>"
                "<th scope=\"col\">Far off</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < nh_list_size(counts->list); i++)
        pay_row(counts, order[i], i);
    table_end();
}

void survey_page(const struct survey_key *key, const struct counts *counts, const size_t *order) {
    markup_page_begin("Survey", key->list);
    output_text(styles);
    markup_page_body();
    output_text("<main>\n");
    head_out(key, counts);
    games_out(counts);
    seats_out(counts);
    wins_out(counts, order);
    points_out(counts, order);
    closest_out(counts, order);
    output_text("</main>\n");
    markup_page_end();
}
