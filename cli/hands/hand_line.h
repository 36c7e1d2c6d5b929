/* A hand out of a line. */
#ifndef CLI_HANDS_HAND_LINE_H
#define CLI_HANDS_HAND_LINE_H

#include "io/input.h"
#include "nearhand.h"

/* Reads the tiles of a line; false with the error. */
bool hand_read(const nh_list *list, const struct line *line, nh_tiles *hand, nh_error *error);

/* The same for a hand that somebody says is complete: it may have more tiles than that. */
bool claimed_read(const nh_list *list, const struct line *line, nh_tiles *hand, nh_error *error);

/* Whether a hand has as many tiles as before play: those of a whole one, or one less. Any
 * other number is most often a tile mistyped. False with the error. */
bool hand_before_play(const nh_list *list, const nh_tiles *hand, nh_error *error);

/* Whether a hand has as many tiles as when it has drawn and not yet discarded: those of a
 * whole one, which has less the sets on the table. False with the error. */
bool hand_before_discard(const nh_list *list, const nh_tiles *hand, nh_error *error);

/* The column of a hand's first tile of which there are, with the tiles seen, more
 * than the set holds; 0 for none. */
uint32_t hand_excess(const nh_list *list, const struct line *line, const nh_tiles *seen);

#endif
