/* A list with the sets taken from it that lie on the table. */
#ifndef CLI_PATTERNS_LIST_SETS_H
#define CLI_PATTERNS_LIST_SETS_H

#include "nearhand.h"
#include "options/option_row.h"

#include <stdbool.h>

/* The texts of --exposed taken from `whole`: `*list` is the rest, to be freed before
 * `whole`, or `whole` itself where there are none. False with a message. */
bool list_take_sets(nh_list *whole, const char *const *texts, int count, nh_list **list);

/* The same for another option that names the sets of a player. */
bool list_less_sets(nh_list *whole, const char *option, const char *const *texts, int count,
                    nh_list **list);

/* The sets of other players on the table. Start from {.count = 0}. */
struct other_sets {
    nh_set sets[(NH_SEATS - 1) * NH_SETS_MAX];
    size_t count;
};

/* Reads the texts of an option, adds their sets to the others, and to the tiles seen. False
 * with a message. */
bool see_sets(const nh_list *list, const char *option, const struct texts *texts, nh_tiles *seen,
              struct other_sets *others);

/* Adds the tiles of the sets that a list is the rest of. */
void sets_see(const nh_list *list, nh_tiles *seen);

/* The tiles away of an empty hand from each pattern, with these winds and the sets of the
 * workspace's list, and all other tiles left: NH_AWAY_NONE where no hand can make it. `away`
 * has room for all patterns. */
nh_status open_patterns(nh_workspace *workspace, nh_wind prevailing, nh_wind seat, uint8_t *away,
                        nh_error *error);

/* Whether each pattern can be made with the sets that a list is the rest of, and how many
 * can. `possible` has room for all patterns. */
nh_status sets_possible(const nh_list *list, uint8_t *possible, size_t *count);

/* A set as players write it, "EEEJ". `text` has NH_TILES_TEXT_SIZE bytes. */
void set_text(const nh_set *set, char *text);

#endif
