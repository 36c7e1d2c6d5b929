/* A target as a player reads it against the hand: which of its tiles are there
 * and which are still needed. */
#include "patterns/marked.h"
#include "io/flow.h"

#include <string.h>

#define ROLE_NONE ROLES

struct mark {
    const char *before, *style, *after;
};

/* How each role is set off. */
struct marks {
    struct mark mark[ROLES];
    const char *plain;
};

static struct marks marks_of(const struct style *style) {
    struct marks marks = {{[ROLE_KEPT] = {"", style->bold, ""},
                           [ROLE_JOKED] = {"<", style->bold, ">"},
                           [ROLE_NEEDED] = {"(", "", ")"},
                           [ROLE_SHOWN] = {"", style->bold, ""},
                           [ROLE_SHOWN_JOKED] = {"<", style->bold, ">"}},
                          style->plain};
    if (style->on)
        marks.mark[ROLE_NEEDED] = (struct mark){"", style->underline, ""};
    return marks;
}

static bool on_table(enum tile_role role) {
    return role == ROLE_SHOWN || role == ROLE_SHOWN_JOKED;
}

/* Ends the role of the tiles before and begins that of the next ones. Brackets stand around
 * all that follows one another on the table. */
static void turn(struct text *text, const struct marks *marks, enum tile_role *role,
                 enum tile_role next) {
    if (*role == next)
        return;
    if (*role != ROLE_NONE) {
        text_add_style(text, marks->plain);
        text_add(text, marks->mark[*role].after);
    }
    if (on_table(*role) != on_table(next))
        text_add(text, on_table(next) ? "[" : "]");
    if (next != ROLE_NONE) {
        text_add(text, marks->mark[next].before);
        text_add_style(text, marks->mark[next].style);
    }
    *role = next;
}

/* Kinds that are written as one word. */
static const struct word {
    int first, last;
} words[] = {
    {NH_BAM_1, NH_BAM_1 + 8}, {NH_CRAK_1, NH_CRAK_1 + 8}, {NH_DOT_1, NH_DOT_1 + 8},
    {NH_EAST, NH_NORTH},      {NH_RED, NH_RED},           {NH_GREEN, NH_GREEN},
    {NH_WHITE, NH_WHITE},     {NH_FLOWER, NH_FLOWER},
};
#define WORDS (sizeof words / sizeof *words)

static int tiles_of(const nh_tiles *tiles, struct word word) {
    int total = 0;
    for (int kind = word.first; kind <= word.last; kind++)
        total += tiles->count[kind];
    return total;
}

/* A suit's letter stands once, after its ranks. */
static bool shares_letter(struct word word, bool unicode) {
    return !unicode && word.last - word.first == 8;
}

static void add_tile(struct text *text, int kind, struct word word, bool unicode) {
    if (unicode)
        text_add(text, nh_kind_unicode(kind));
    else
        text_add_bytes(text, nh_kind_notation(kind),
                       shares_letter(word, unicode) ? 1 : strlen(nh_kind_notation(kind)));
}

static void add_word(struct text *text, const struct marked_group *roles, struct word word,
                     const struct marks *marks, bool unicode) {
    enum tile_role now = ROLE_NONE;
    for (int kind = word.first; kind <= word.last; kind++)
        for (enum tile_role role = ROLE_KEPT; role < ROLES; role++)
            for (int i = 0; i < roles->tiles[role].count[kind]; i++) {
                turn(text, marks, &now, role);
                add_tile(text, kind, word, unicode);
            }
    turn(text, marks, &now, ROLE_NONE);
    if (shares_letter(word, unicode))
        text_add_bytes(text, nh_kind_notation(word.first) + 1, 1);
}

static void add_roles(struct text *text, const struct marked_group *roles,
                      const struct marks *marks, bool unicode) {
    const char *gap = "";
    for (size_t i = 0; i < WORDS; i++) {
        int tiles = 0;
        for (int role = 0; role < ROLES; role++)
            tiles += tiles_of(&roles->tiles[role], words[i]);
        if (tiles == 0)
            continue;
        text_add(text, gap);
        add_word(text, roles, words[i], marks, unicode);
        gap = " ";
    }
}

/* ------------------------------------------------------------- groups --- */

/* The roles of the whole target. */
static struct marked_group roles_of(const nh_ranked *row) {
    struct marked_group roles = {
        {[ROLE_KEPT] = row->target, [ROLE_JOKED] = row->joked, [ROLE_NEEDED] = row->need}};
    nh_tiles_take(&roles.tiles[ROLE_KEPT], &row->joked);
    nh_tiles_take(&roles.tiles[ROLE_KEPT], &row->need);
    return roles;
}

/* How many tiles of a piece are jokers on the table. */
static uint8_t jokers_shown(const nh_list *list, const nh_piece *piece) {
    size_t count;
    const nh_set *sets = nh_list_sets(list, &count);
    return piece->shown > 0 && piece->shown <= count ? sets[piece->shown - 1].jokers : 0;
}

/* A set on the table, in which jokers may stand for tiles that are alike. */
static void fill_shown(const nh_piece *piece, uint8_t jokers, struct marked_group *group) {
    nh_tiles joked = {{0}};
    nh_tiles tiles;
    nh_piece_tiles(piece, &tiles);
    joked.count[piece->kind] = jokers;
    nh_tiles_take(&tiles, &joked);
    nh_tiles_add(&group->tiles[ROLE_SHOWN], &tiles);
    nh_tiles_add(&group->tiles[ROLE_SHOWN_JOKED], &joked);
}

/* Gives the tiles of a piece of the hand their roles, out of those that are left: kept
 * before joked before needed, but joked only where jokers may be. */
static void fill_piece(const nh_piece *piece, struct marked_group *left,
                       struct marked_group *group) {
    nh_tiles tiles;
    nh_piece_tiles(piece, &tiles);
    for (int kind = 0; kind < NH_KINDS; kind++)
        for (enum tile_role role = ROLE_KEPT; role < ROLES; role++) {
            if (role == ROLE_JOKED && piece->jokers == 0)
                continue;
            uint8_t *from = &left->tiles[role].count[kind];
            uint8_t count = tiles.count[kind] < *from ? tiles.count[kind] : *from;
            *from = (uint8_t)(*from - count);
            tiles.count[kind] = (uint8_t)(tiles.count[kind] - count);
            group->tiles[role].count[kind] = (uint8_t)(group->tiles[role].count[kind] + count);
        }
}

/* Fills the groups, those pieces first that jokers cannot be: what jokers stand for
 * then has room in the others. */
static void fill_groups(const nh_list *list, const nh_ranked *row, const nh_layout *layout,
                        struct marked_group groups[NH_TARGET_MAX]) {
    struct marked_group left = roles_of(row);
    memset(groups, 0, NH_TARGET_MAX * sizeof *groups);
    for (int open = 0; open < 2; open++)
        for (int i = 0; i < layout->pieces; i++) {
            const nh_piece *piece = &layout->piece[i];
            if ((piece->jokers > 0) != open)
                continue;
            if (piece->shown > 0)
                fill_shown(piece, jokers_shown(list, piece), &groups[piece->group]);
            else
                fill_piece(piece, &left, &groups[piece->group]);
        }
}

/* Whether a group is a single tile. Such groups that follow one another are shown as
 * one. */
static bool is_single(const struct marked_group *group) {
    int tiles = 0;
    for (int role = 0; role < ROLES; role++)
        tiles += nh_tiles_total(&group->tiles[role]);
    return tiles == 1;
}

static void join_roles(struct marked_group *into, const struct marked_group *more) {
    for (int role = 0; role < ROLES; role++)
        nh_tiles_add(&into->tiles[role], &more->tiles[role]);
}

size_t marked_groups(const nh_list *list, const nh_ranked *row, const nh_layout *layout,
                     struct marked_group groups[NH_TARGET_MAX]) {
    size_t count = 0;
    if (layout == NULL || layout->groups == 0) {
        groups[0] = roles_of(row);
        return 1;
    }
    fill_groups(list, row, layout, groups);
    for (unsigned i = 0; i < layout->groups; i++) {
        struct marked_group joined = groups[i];
        while (is_single(&groups[i]) && i + 1 < layout->groups && is_single(&groups[i + 1]))
            join_roles(&joined, &groups[++i]);
        groups[count++] = joined;
    }
    return count;
}

void marked_target(struct text *text, const nh_list *list, const nh_ranked *row,
                   const nh_layout *layout, const struct style *style, bool unicode) {
    struct marks marks = marks_of(style);
    struct marked_group groups[NH_TARGET_MAX];
    size_t count = marked_groups(list, row, layout, groups);
    for (size_t i = 0; i < count; i++) {
        text_add(text, i > 0 ? MARKED_BETWEEN : "");
        add_roles(text, &groups[i], &marks, unicode);
    }
}

void marked_tiles(struct text *text, const nh_tiles *tiles, const char *sequence,
                  const struct style *style, bool unicode) {
    char plain[NH_TILES_TEXT_SIZE];
    nh_tiles_format(tiles, unicode ? NH_STYLE_UNICODE : NH_STYLE_LETTERS, plain, sizeof plain);
    text_add_style(text, sequence);
    text_add(text, plain);
    text_add_style(text, style->plain);
}

#define LABEL_GAP 2

void marked_heading(const nh_tiles *hand, const struct line *line, const struct style *style) {
    struct text text;
    text_clear(&text);
    marked_tiles(&text, hand, style->bold, style, false);
    if (line->label != NULL && line->label_length > 0) {
        text_pad(&text, text.width + LABEL_GAP);
        text_add_cut(&text, line->label, line->label_length, LINE_WIDTH - text.width);
    }
    text_print(&text);
}

static void winds_add(struct text *text, const nh_ranked *row, const char *who) {
    if (row->prevailing != NH_WIND_UNKNOWN)
        text_add_format(text, "if %s is prevailing", nh_wind_name((nh_wind)row->prevailing));
    if (row->seat != NH_WIND_UNKNOWN)
        text_add_format(text, "%s %s are %s", row->prevailing != NH_WIND_UNKNOWN ? " and" : "if",
                        who, nh_wind_name((nh_wind)row->seat));
}

void marked_winds(struct text *text, const nh_ranked *row) {
    winds_add(text, row, "you");
}

void marked_their_winds(struct text *text, const nh_ranked *row) {
    winds_add(text, row, "they");
}

void marked_note(struct marks_seen *seen, const nh_list *list, const nh_ranked *row,
                 const nh_layout *layout) {
    seen->needed = seen->needed || nh_tiles_total(&row->need) > 0;
    seen->joked = seen->joked || nh_tiles_total(&row->joked) > 0;
    for (int i = 0; layout != NULL && i < layout->pieces; i++) {
        seen->shown = seen->shown || layout->piece[i].shown > 0;
        seen->joked = seen->joked || jokers_shown(list, &layout->piece[i]) > 0;
    }
}

void marked_legend(struct text *text, const struct marks_seen *seen, const struct style *style) {
    const char *gap = "";
    if (seen->needed && style->on) {
        text_add_style(text, style->underline);
        text_add(text, "underlined");
        text_add_style(text, style->plain);
        text_add(text, " still needed");
    } else if (seen->needed)
        text_add(text, "( ) still needed");
    if (seen->needed)
        gap = "   ";
    if (seen->joked) {
        text_add_format(text, "%s< > a joker stands for it", gap);
        gap = "   ";
    }
    if (seen->shown)
        text_add_format(text, "%s[ ] on the table", gap);
}

void marked_legend_out(const struct marks_seen *seen, const struct style *style) {
    struct text text;
    text_clear(&text);
    marked_legend(&text, seen, style);
    if (text.length > 0)
        text_print(&text);
}
