/* A target as a player reads it against the hand: which of its tiles are there
 * and which are still needed. */
#include "patterns/marked.h"

#include <string.h>

/* What a tile of a target is to the hand. */
enum role { ROLE_KEPT, ROLE_JOKED, ROLE_NEEDED, ROLES, ROLE_NONE = ROLES };

struct mark {
    const char *before, *style, *after;
};

/* How each role is set off. */
struct marks {
    struct mark mark[ROLES];
    const char *plain;
};

static struct marks marks_of(const struct style *style) {
    struct marks marks = {{{"", style->bold, ""}, {"<", style->bold, ">"}, {"(", "", ")"}},
                          style->plain};
    if (style->on)
        marks.mark[ROLE_NEEDED] = (struct mark){"", style->underline, ""};
    return marks;
}

/* Ends the role of the tiles before and begins that of the next ones. */
static void turn(struct text *text, const struct marks *marks, enum role *role, enum role next) {
    if (*role == next)
        return;
    if (*role != ROLE_NONE) {
        text_add_style(text, marks->plain);
        text_add(text, marks->mark[*role].after);
    }
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

/* A suit's letter stands once, behind its ranks. */
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

static void add_word(struct text *text, const nh_ranked *row, struct word word,
                     const struct marks *marks, bool unicode) {
    enum role role = ROLE_NONE;
    for (int kind = word.first; kind <= word.last; kind++) {
        int tiles = row->target.count[kind];
        int needed = row->need.count[kind];
        int joked = row->joked.count[kind];
        for (int i = 0; i < tiles; i++) {
            turn(text, marks, &role,
                 i < tiles - needed - joked ? ROLE_KEPT
                 : i < tiles - needed       ? ROLE_JOKED
                                            : ROLE_NEEDED);
            add_tile(text, kind, word, unicode);
        }
    }
    turn(text, marks, &role, ROLE_NONE);
    if (shares_letter(word, unicode))
        text_add_bytes(text, nh_kind_notation(word.first) + 1, 1);
}

void marked_target(struct text *text, const nh_ranked *row, const struct style *style,
                   bool unicode) {
    struct marks marks = marks_of(style);
    const char *gap = "";
    for (size_t i = 0; i < WORDS; i++) {
        if (tiles_of(&row->target, words[i]) == 0)
            continue;
        text_add(text, gap);
        add_word(text, row, words[i], &marks, unicode);
        gap = " ";
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

void marked_legend(struct text *text, bool needed, bool joked, const struct style *style) {
    if (needed && style->on) {
        text_add_style(text, style->underline);
        text_add(text, "underlined");
        text_add_style(text, style->plain);
        text_add(text, " still needed");
    } else if (needed)
        text_add(text, "( ) still needed");
    if (joked)
        text_add(text, needed ? "   < > a joker stands for it" : "< > a joker stands for it");
}
