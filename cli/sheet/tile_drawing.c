/* Tiles as pictures of an HTML page. */
#include "sheet/tile_drawing.h"
#include "io/output.h"
#include "io/text.h"
#include "patterns/marked.h"

#include <stdbool.h>

const char tile_styles[] =
    ".symbols { position: absolute; }\n"
    ".tile { width: 1.5em; height: 2em; margin-right: .08em; vertical-align: middle; }\n"
    ".tiles span { display: inline-block; white-space: nowrap; margin-right: .4em; }\n"
    ".tile.need { stroke-dasharray: 7 6; opacity: .6; }\n";

void tile_symbols_out(void) {
    output_bytes((const char *)tiles_svg, tiles_svg_size);
}

/* -------------------------------------------------------------- words --- */

static void suit_aloud(struct text *text, const nh_tiles *tiles, int first) {
    static const char *const suits[] = {"bam", "crak", "dot"};
    int said = 0;
    for (int kind = first; kind < first + 9; kind++)
        for (int i = 0; i < tiles->count[kind]; i++)
            text_add_format(text, "%s%d", said++ > 0 || text->length > 0 ? ", " : "",
                            kind - first + 1);
    if (said > 0)
        text_add_format(text, " %s%s", suits[first / 9], plural((size_t)said));
}

/* "2, 3, 4 bams, 2 east winds, joker". */
static void add_tiles_aloud(struct text *text, const nh_tiles *tiles) {
    for (int first = 0; first < NH_EAST; first += 9)
        suit_aloud(text, tiles, first);
    for (int kind = NH_EAST; kind < NH_KINDS; kind++) {
        size_t count = tiles->count[kind];
        if (count == 0)
            continue;
        text_add(text, text->length > 0 ? ", " : "");
        if (count > 1)
            text_add_format(text, "%zu ", count);
        text_add_format(text, "%s%s", nh_kind_name(kind), plural(count));
    }
}

static void say_group(struct text *text, const struct marked_group *group) {
    static const char *const words[ROLES] = {"", "by a joker ", "needed ", "on the table ",
                                             "on the table by a joker "};
    for (int role = ROLE_KEPT; role < ROLES; role++) {
        struct text tiles;
        text_clear(&tiles);
        add_tiles_aloud(&tiles, &group->tiles[role]);
        if (tiles.length > 0)
            text_add_format(text, "%s%s%s", text->length > 0 ? "; " : "", words[role], tiles.bytes);
    }
}

/* ----------------------------------------------------------- pictures --- */

static void tile_out(int kind, enum tile_role role) {
    output_format(
        "<svg class=\"tile%s\" viewBox=\"0 0 60 80\"><use href=\"#t-%s\"></use>%s</svg>",
        role == ROLE_NEEDED ? " need" : "", nh_kind_notation(kind),
        role == ROLE_JOKED || role == ROLE_SHOWN_JOKED ? "<use href=\"#joker-stands\"></use>" : "");
}

/* The tiles from `first` to `last` of all roles, together. */
static void stretch_out(const struct marked_group *group, int first, int last) {
    bool open = false;
    for (int kind = first; kind <= last; kind++)
        for (enum tile_role role = ROLE_KEPT; role < ROLES; role++)
            for (int i = 0; i < group->tiles[role].count[kind]; i++) {
                output_text(open ? "" : "<span>");
                open = true;
                tile_out(kind, role);
            }
    output_text(open ? "</span>" : "");
}

static void begin_tiles(const struct text *label) {
    output_format("<span class=\"tiles\" role=\"img\" aria-label=\"%s\">", label->bytes);
}

void tiles_drawn_out(const nh_tiles *tiles) {
    const struct marked_group hand = {{*tiles}};
    struct text label;
    text_clear(&label);
    add_tiles_aloud(&label, tiles);
    begin_tiles(&label);
    for (int first = 0; first < NH_EAST; first += 9)
        stretch_out(&hand, first, first + 8);
    stretch_out(&hand, NH_EAST, NH_NORTH);
    stretch_out(&hand, NH_RED, NH_WHITE);
    stretch_out(&hand, NH_FLOWER, NH_JOKER);
    output_text("</span>");
}

void target_drawn_out(const nh_list *list, const nh_ranked *row, const nh_layout *layout) {
    struct marked_group groups[NH_TARGET_MAX];
    size_t count = marked_groups(list, row, layout, groups);
    for (size_t i = 0; i < count; i++) {
        struct text label;
        text_clear(&label);
        say_group(&label, &groups[i]);
        begin_tiles(&label);
        stretch_out(&groups[i], 0, NH_JOKER);
        output_text("</span> ");
    }
}
