/* Practice sheet and key as one HTML file, to be printed from a browser: no
 * script, nothing fetched, tiles drawn by the page with hand notation beside them.
 * It is XML as well. */
#include "deal/dealing.h"
#include "io/markup.h"
#include "io/output.h"
#include "io/style.h"
#include "io/text.h"
#include "patterns/marked.h"
#include "patterns/useful.h"
#include "sheet/sheet_task.h"
#include "sheet/tile_drawing.h"

#include <inttypes.h>
#include <stdbool.h>

static const struct style plain = {false, "", "", "", ""};

/* -------------------------------------------------------------- frame --- */

static const char style_sheet[] =
    "body { margin: 0 auto; max-width: 46rem; padding: 1rem; color: #000; background: #fff;\n"
    "  font: 1rem/1.4 sans-serif; overflow-wrap: anywhere; }\n"
    "h1 { margin: 0 0 .5rem; font-size: 1.4rem; line-height: 1.2; }\n"
    "h2 { margin: 0; font-size: 1.2rem; }\n"
    "h3 { margin: 0; font-size: 1rem; }\n"
    "p { margin: .3rem 0; }\n"
    ".key { margin-top: 3rem; }\n"
    ".hand { margin-top: .8rem; border-top: 1px solid #000; padding-top: .5rem; }\n"
    ".dealt .tile { width: 2.7rem; height: 3.6rem; }\n"
    ".key .dealt .tile { width: 1.9rem; height: 2.533rem; }\n"
    ".notation { font-size: .85rem; white-space: nowrap; }\n"
    ".sheet .notation { display: block; }\n"
    ".write { display: flex; gap: 1rem; align-items: flex-end; margin-top: .5rem; }\n"
    ".write b { flex: 0 0 8.5rem; font-weight: normal; }\n"
    ".write i { flex: 1; border-bottom: 1px solid #000; }\n"
    ".write .box { flex: 0 0 2.4rem; height: 2.7rem; border: 1px solid #000; }\n"
    "table { width: 100%; margin-top: .4rem; border-collapse: collapse; font-size: .9rem; }\n"
    "th, td { padding: .15rem .6rem .15rem 0; text-align: left; vertical-align: middle; }\n"
    "thead th { border-bottom: 1px solid #000; }\n"
    "tbody th { font-weight: normal; }\n"
    ".passes { width: 30rem; max-width: 100%; }\n"
    ".passes tbody tr:first-child, .passes tbody tr:first-child th,\n"
    ".discards tbody tr:first-child, .discards tbody tr:first-child th { font-weight: bold; }\n"
    ".why, .dangers { font-size: .9rem; }\n"
    ".shown .tile { width: 1.5rem; height: 2rem; }\n"
    ".shown .tiles { margin-right: .3rem; }\n"
    ".sheet .shown .notation { display: inline; margin-right: 1rem; }\n"
    ".dangers .tile { width: 1.2em; height: 1.6em; }\n"
    ".dangers span.danger { display: inline-block; white-space: nowrap; margin-right: 1rem; }\n"
    ".number { width: 5.5rem; text-align: right; }\n"
    ".away { width: 2.5rem; text-align: right; }\n"
    ".share { width: 3.2rem; text-align: right; }\n"
    ".patterns td:last-child { width: 62%; padding-left: .6rem; }\n"
    "@page { margin: 14mm; }\n"
    "@media print {\n"
    "  body { max-width: none; padding: 0; font-size: 10pt; }\n"
    "  table { margin-top: .2rem; font-size: 9.5pt; line-height: 1.2; }\n"
    "  .why, .dangers { margin: .15rem 0; font-size: 9.5pt; line-height: 1.2; }\n"
    "  thead th { white-space: nowrap; }\n"
    "  h1, h2, h3 { break-after: avoid; }\n"
    "  .hand { break-inside: avoid; }\n"
    "  .sheet + .key { break-before: page; margin-top: 0; }\n"
    "}\n";

static void sheet_begin(const struct sheet *sheet) {
    const char *title = nh_list_title(sheet->list);
    markup_page_begin("Practice sheet", title);
    output_text(tile_styles);
    output_text(style_sheet);
    markup_page_body();
    tile_symbols_out();
    output_text("<h1>");
    markup_name(title);
    output_text("</h1>\n");
}

static void section_end(void) {
    output_text("</section>\n");
}

/* The style sheet begins the key on a new page. */
static void between_hands(void) {
}

/* -------------------------------------------------------------- tiles --- */

/* Pictures, with the notation for those who learn it. */
static void tiles_out(const nh_tiles *tiles) {
    struct text text;
    tiles_drawn_out(tiles);
    text_clear(&text);
    marked_tiles(&text, tiles, "", &plain, false);
    output_text(" <span class=\"notation\" aria-hidden=\"true\">");
    markup_text(&text);
    output_text("</span>");
}

static void hand_begin(const struct sheet_hand *hand) {
    struct text about;
    sheet_hand_about(hand, &about);
    output_format("<section class=\"hand\">\n<h3>Hand %" PRIu64, hand->number);
    if (about.length > 0) {
        output_text(": ");
        markup_name(about.bytes);
    }
    output_text("</h3>\n<p class=\"dealt\">");
    tiles_out(&hand->tiles);
    output_text("</p>\n");
}

/* -------------------------------------------------------------- sheet --- */

static void sheet_head(const struct sheet *sheet) {
    struct text seed;
    sheet_seed(sheet, &seed);
    output_format("<section class=\"sheet\">\n<h2>Practice sheet</h2>\n<p>%s", seed.bytes);
    if (sheet->asks == ASKS_READING)
        output_text(SHEET_ASKS_READING);
    else if (sheet->asks == ASKS_DISCARD)
        output_text(SHEET_ASKS_DISCARD);
    else
        output_format("Which %s do you pass first, and which patterns do you go for?",
                      sheet_tiles_passed(sheet));
    output_text("</p>\n");
}

/* Sets with their label, each drawn by itself. */
static void sets_out(const char *label, const nh_set *sets, size_t count) {
    struct text text;
    output_format("<b>%s:</b> ", label);
    for (size_t i = 0; i < count; i++) {
        nh_tiles set;
        nh_set_tiles(&sets[i], &set);
        tiles_drawn_out(&set);
    }
    text_clear(&text);
    sheet_sets_add(&text, sets, count);
    output_format("<span class=\"notation\" aria-hidden=\"true\">%s</span>\n",
                  count == 0 ? "none" : text.bytes);
}

/* What lies on the table. */
static void table_out(const struct sheet_table *table) {
    struct text name;
    sheet_player_name(table, &name);
    output_text("<p class=\"shown\">");
    sets_out(name.bytes, table->sets, table->set_count);
    if (table->own_count > 0)
        sets_out("Your sets", table->own, table->own_count);
    if (table->other_count > 0)
        sets_out("Other sets", table->others, table->other_count);
    output_text("</p>\n<p class=\"shown\"><b>Discards:</b> ");
    tiles_out(&table->discards);
    output_text("</p>\n");
}

/* A label with boxes or lines to write on. */
static void ask_out(const char *label, unsigned boxes) {
    output_format("<b>%s:</b>", label);
    for (unsigned i = 0; i < boxes; i++)
        output_text(" <i class=\"box\"></i>");
    output_text(boxes > 0 ? "" : " <i></i> <i></i>");
}

static void ask_line_out(const char *label, unsigned boxes) {
    output_text("<p class=\"write\">");
    ask_out(label, boxes);
    output_text("</p>\n");
}

static void ask_reading_out(const struct sheet_hand *hand) {
    table_out(&hand->table);
    output_text("<p class=\"write\">");
    ask_out("Their patterns", 0);
    ask_out("Safest discard", 1);
    output_text("</p>\n");
}

static void sheet_hand(const struct sheet *sheet, const struct sheet_hand *hand) {
    struct text pass;
    hand_begin(hand);
    if (sheet->asks == ASKS_READING)
        ask_reading_out(hand);
    else if (sheet->asks == ASKS_DISCARD) {
        ask_line_out("Discard", 1);
        ask_line_out("Useful tiles", 0);
    } else {
        text_clear(&pass);
        text_add_format(&pass, "Pass %s", sheet_tiles_passed(sheet));
        ask_line_out(pass.bytes, sheet->count);
        ask_line_out("Patterns", 0);
    }
    section_end();
}

/* ---------------------------------------------------------------- key --- */

#define SHEET_JOKED "; with a J in the corner: a joker stands for it"

static void key_head(const struct sheet *sheet) {
    struct text seed;
    sheet_seed(sheet, &seed);
    output_format("<section class=\"key\">\n<h2>Answer key</h2>\n<p>%s", seed.bytes);
    if (sheet->asks == ASKS_READING) {
        output_format("<b>Share</b>: " SHEET_SHARE ". <b>Danger</b>: " SHEET_DANGER
                      ". " SHEET_READING_MODEL " Dashed: hidden%s.</p>\n",
                      sheet_jokers(sheet) ? SHEET_JOKED : "");
        return;
    }
    output_text(sheet->asks == ASKS_DISCARD
                    ? "<b>After</b>: " SHEET_AFTER ". <b>On average</b>: " SHEET_DISCARD_AVERAGE
                      ". <b>Useful tiles</b>: " SHEET_USEFUL ". "
                    : "<b>On average</b>: tiles away from the closest pattern once new tiles have "
                      "come in, counted over all that may come. <b>Closer</b>: how often they "
                      "bring the hand closer than it was. ");
    output_format("<b>Away</b>: tiles that the hand still needs for a pattern. Dashed: still "
                  "needed%s.</p>\n",
                  sheet_jokers(sheet) ? SHEET_JOKED : "");
}

static void pass_out(const struct sheet_key *key, const nh_choice *choice) {
    char expected[SHEET_FIGURE_SIZE], nearer[SHEET_FIGURE_SIZE];
    sheet_expected(key, choice, expected);
    sheet_nearer(key, choice, nearer);
    output_text("<tr><th scope=\"row\">");
    tiles_out(&choice->pass);
    output_format("</th><td class=\"number\">%s</td><td class=\"number\">%s</td></tr>\n", expected,
                  nearer);
}

static void passes_out(const struct sheet_key *key) {
    if (key->passing.rows == 0) {
        output_format("<p>%s</p>\n", sheet_no_pass(key));
        return;
    }
    output_text("<table class=\"passes\">\n<thead><tr><th scope=\"col\">Best pass</th>"
                "<th scope=\"col\" class=\"number\">On average</th>"
                "<th scope=\"col\" class=\"number\">Closer</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < sheet_passes(key); i++)
        pass_out(key, &key->choices[i]);
    output_text("</tbody>\n</table>\n");
    size_t more = sheet_as_good(key);
    if (more > 0)
        output_format("<p>%zu more %s just as good.</p>\n", more, more == 1 ? "is" : "are");
}

/* The passes, and why the first of them is the best. */
static void explained_out(const struct sheet *sheet, const struct sheet_key *key) {
    struct text why;
    passes_out(key);
    sheet_why(sheet, key, &why);
    if (why.length == 0)
        return;
    output_text("<p class=\"why\"><bdi>");
    markup_text(&why);
    output_text("</bdi></p>\n");
}

static void discard_out(const struct sheet_key *key, const nh_discard_choice *choice) {
    char expected[SHEET_FIGURE_SIZE];
    nh_tiles tile = {{0}};
    struct text useful;
    tile.count[choice->kind] = 1;
    sheet_discard_expected(key, choice, expected);
    output_text("<tr><th scope=\"row\">");
    tiles_out(&tile);
    output_text("</th><td class=\"away\">");
    if (choice->away != NH_AWAY_NONE)
        output_format("%u", choice->away);
    output_format("</td><td class=\"number\">%s</td><td>%u%s", expected, choice->useful_count,
                  choice->useful_count > 0 ? ": " : "");
    text_clear(&useful);
    useful_add(&useful, &choice->useful, "\u00d7");
    markup_text(&useful);
    output_text("</td></tr>\n");
}

static void discards_out(const struct sheet_key *key) {
    if (sheet_discards(key) == 0) {
        output_format("<p>%s</p>\n", sheet_no_discard(key));
        return;
    }
    output_text("<table class=\"discards\">\n<thead><tr><th scope=\"col\">Best discard</th>"
                "<th scope=\"col\" class=\"away\">After</th>"
                "<th scope=\"col\" class=\"number\">On average</th>"
                "<th scope=\"col\">Useful tiles</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < sheet_discards(key); i++)
        discard_out(key, &key->discards[i]);
    output_text("</tbody>\n</table>\n");
    size_t more = sheet_discards_as_good(key);
    if (more > 0)
        output_format("<p>%zu more %s just as good.</p>\n", more, more == 1 ? "is" : "are");
}

static void pattern_out(const nh_list *list, const nh_pattern *pattern, const nh_ranked *row,
                        const nh_layout *layout) {
    struct text text;
    output_text("<tr><th scope=\"row\">");
    markup_name(pattern->name);
    output_text(pattern->concealed ? ", concealed</th><td>" : "</th><td>");
    sheet_place(pattern, &text);
    markup_name(text.bytes);
    output_format("</td><td class=\"away\">%d</td><td>", row->away);
    target_drawn_out(list, row, layout);
    text_clear(&text);
    marked_winds(&text, row);
    markup_text(&text);
    output_text("</td></tr>\n");
}

static void patterns_out(const struct sheet *sheet, const struct sheet_key *key) {
    if (key->ranking.rows == 0) {
        output_text("<p>" SHEET_NO_PATTERN "</p>\n");
        return;
    }
    output_text("<table class=\"patterns\">\n<thead><tr><th scope=\"col\">" SHEET_CLOSEST "</th>"
                "<th scope=\"col\">On the list</th><th scope=\"col\" class=\"away\">Away</th>"
                "<th scope=\"col\">Target</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < key->ranking.rows; i++) {
        nh_pattern pattern = *nh_list_pattern(sheet->list, key->rows[i].pattern);
        pattern_out(sheet->list, &pattern, &key->rows[i], &key->layouts[i]);
    }
    output_text("</tbody>\n</table>\n");
}

/* ------------------------------------------------------- the key's readings --- */

/* A pattern that is left, with its hidden tiles dashed. */
static void share_out(const struct sheet *sheet, const struct sheet_key *key, size_t index) {
    const nh_pattern *pattern = nh_list_pattern(sheet->list, key->rows[index].pattern);
    nh_ranked row = key->rows[index];
    char share[PERCENT_SIZE];
    struct text text;
    row.need = row.target;
    row.keep = (nh_tiles){{0}};
    sheet_share(key, index, share);
    output_text("<tr><th scope=\"row\">");
    markup_name(pattern->name);
    output_text(pattern->concealed ? ", concealed</th><td>" : "</th><td>");
    sheet_place(pattern, &text);
    markup_name(text.bytes);
    output_text("</td><td class=\"share\">");
    text_clear(&text);
    text_add(&text, share);
    markup_text(&text);
    output_text("</td><td>");
    if (nh_tiles_total(&row.target) > 0)
        target_drawn_out(key->player.player[0].list, &row, &key->layouts[index]);
    text_clear(&text);
    marked_their_winds(&text, &row);
    markup_text(&text);
    output_text("</td></tr>\n");
}

static void left_out(const struct sheet *sheet, const struct sheet_key *key) {
    output_text("<table class=\"patterns\">\n<thead><tr><th scope=\"col\">Patterns left</th>"
                "<th scope=\"col\">On the list</th><th scope=\"col\" class=\"share\">Share</th>"
                "<th scope=\"col\">Such as</th></tr></thead>\n<tbody>\n");
    for (size_t i = 0; i < key->left; i++)
        share_out(sheet, key, i);
    output_text("</tbody>\n</table>\n");
    if (key->more > 0)
        output_format("<p>%zu more pattern%s.</p>\n", key->more, plural(key->more));
}

static void dangers_out(const struct sheet_key *key) {
    output_text("<p class=\"dangers\"><b>Danger:</b> ");
    for (size_t i = 0; i < sheet_own_dangers(key); i++) {
        const struct tile_danger *tile = &key->reading.tiles[i];
        nh_tiles one = {{0}};
        char danger[PERCENT_SIZE];
        struct text text;
        one.count[tile->kind] = 1;
        percent_text(tile->danger, tile->danger >= 1.0, danger);
        text_clear(&text);
        text_add(&text, danger);
        output_text("<span class=\"danger\">");
        tiles_drawn_out(&one);
        markup_text(&text);
        output_text("</span> ");
    }
    output_text("</p>\n");
}

static void paragraph_out(const char *class, const char *words) {
    struct text text;
    text_clear(&text);
    text_add(&text, words);
    output_format("<p class=\"%s\">", class);
    markup_text(&text);
    output_text("</p>\n");
}

static void reading_out(const struct sheet *sheet, const struct sheet_hand *hand,
                        const struct sheet_key *key) {
    const char *none = sheet_no_reading(key);
    struct text text;
    if (key->reading.reading[0] != NULL) {
        sheet_player(hand, key, &text);
        paragraph_out("why", text.bytes);
    }
    if (none != NULL) {
        paragraph_out("why", none);
        return;
    }
    left_out(sheet, key);
    dangers_out(key);
    sheet_safest(key, &text);
    paragraph_out("why", text.bytes);
}

static void key_hand(const struct sheet *sheet, const struct sheet_hand *hand,
                     const struct sheet_key *key) {
    hand_begin(hand);
    if (sheet->asks == ASKS_READING) {
        reading_out(sheet, hand, key);
        section_end();
        return;
    }
    if (sheet->asks == ASKS_DISCARD)
        discards_out(key);
    else
        explained_out(sheet, key);
    patterns_out(sheet, key);
    section_end();
}

const struct sheet_form sheet_html = {sheet_begin, sheet_head,    sheet_hand,
                                      section_end, between_hands, key_head,
                                      key_hand,    section_end,   markup_page_end};
