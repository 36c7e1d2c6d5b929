/* Jokers that a hand can take from sets on the table. */
#ifndef CLI_PATTERNS_EXCHANGES_H
#define CLI_PATTERNS_EXCHANGES_H

#include "io/json.h"
#include "io/text.h"
#include "nearhand.h"
#include "patterns/list_sets.h"

/* More exchanges than any table has: one for each set. */
#define EXCHANGES_MOST (NH_SEATS * NH_SETS_MAX)

/* What nh_exchanges found for a hand, and where. */
struct exchanges {
    const nh_list *list; /* with the player's own sets */
    const struct other_sets *others;
    nh_exchange rows[EXCHANGES_MOST];
    size_t count;
    uint8_t away; /* of the hand without an exchange */
};

/* Finds them; none where the rules of the list do not let jokers be taken. */
nh_status exchanges_find(nh_workspace *workspace, const nh_tiles *hand,
                         const nh_situation *situation, const struct other_sets *others,
                         uint8_t away, struct exchanges *found, nh_error *error);

/* The key "exchanges". */
void exchanges_json(struct json *json, const struct exchanges *found);

/* The exchange that wins or, where none does, brings the hand closest, to say before any
 * discard; nothing where none brings it closer:
 *
 *   First take the joker of 44DJ for 4D: 1 closer, 2 away.
 */
void exchange_first_text(struct text *text, const struct exchanges *found);

/* A line for each, and nothing where there is none:
 *
 *   In your turn 4D takes the joker of 44DJ: 1 closer, 2 away.
 */
void exchanges_text(const struct exchanges *found);

#endif
