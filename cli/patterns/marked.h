/* A target as a player reads it against the hand: which of its tiles are there
 * and which are still needed. */
#ifndef CLI_PATTERNS_MARKED_H
#define CLI_PATTERNS_MARKED_H

#include "io/input.h"
#include "io/style.h"
#include "io/text.h"
#include "nearhand.h"

#include <stdbool.h>

/* What a tile of a target is to the hand. In a set on the table a joker stands for those
 * that are SHOWN_JOKED. */
enum tile_role { ROLE_KEPT, ROLE_JOKED, ROLE_NEEDED, ROLE_SHOWN, ROLE_SHOWN_JOKED, ROLES };

/* A group of a target, or single tiles that follow one another. */
struct marked_group {
    nh_tiles tiles[ROLES];
};

/* Fills in the groups of the target of a row, in the order of the list; one where the
 * layout is NULL or has no groups. `list` is the one that the layout is of, which knows the
 * sets on the table. Returns how many there are. */
size_t marked_groups(const nh_list *list, const nh_ranked *row, const nh_layout *layout,
                     struct marked_group groups[NH_TARGET_MAX]);

/* Stands between the groups of a target. */
#define MARKED_BETWEEN " | "

/* Adds the target of a row in its groups, or sorted as hands are where the layout is
 * NULL or has no groups. With styles the tiles kept are bold and those needed
 * underlined; without, those needed stand in parentheses. A tile that a joker stands
 * for is in angle brackets, a set on the table in square ones: [NNN<N>]. */
void marked_target(struct text *text, const nh_list *list, const nh_ranked *row,
                   const nh_layout *layout, const struct style *style, bool unicode);

/* Adds tiles in one style. */
void marked_tiles(struct text *text, const nh_tiles *tiles, const char *sequence,
                  const struct style *style, bool unicode);

/* Writes a hand and the label behind it as a line. */
void marked_heading(const nh_tiles *hand, const struct line *line, const struct style *style);

/* Adds the winds that the target of a row assumes, if the player gave none. */
void marked_winds(struct text *text, const nh_ranked *row);

/* The same of another player, who is "they". */
void marked_their_winds(struct text *text, const nh_ranked *row);

/* Marks that occur in targets. */
struct marks_seen {
    bool needed, joked, shown;
};

/* Notes the marks of a target; the layout may be NULL. */
void marked_note(struct marks_seen *seen, const nh_list *list, const nh_ranked *row,
                 const nh_layout *layout);

/* Adds what the marks mean, for those that occur: "( ) still needed   < > a joker stands
 * for it   [ ] on the table". */
void marked_legend(struct text *text, const struct marks_seen *seen, const struct style *style);

/* Writes that as a line, where there are any. */
void marked_legend_out(const struct marks_seen *seen, const struct style *style);

#endif
