/* A ranked pattern for people, by itself. */
#ifndef CLI_PATTERNS_ROW_TEXT_H
#define CLI_PATTERNS_ROW_TEXT_H

#include "io/style.h"
#include "nearhand.h"

/* Writes the pattern, and below it the target against the hand:
 *
 *   Boathouse (Charts 10.6), 15 points
 *       234B | 678B | 4(5)6C | EEE | 33D  don't need W
 */
void row_text_out(const nh_list *list, const nh_ranked *row, const nh_pattern *about,
                  const nh_layout *layout, const struct style *style, bool unicode);

#endif
