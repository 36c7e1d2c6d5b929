/* How many hidden hands are one tile short of some product, without listing them.
 *
 * The hidden tiles of one part are put into classes; all tiles of a class go with the
 * same products, and so with the same union of what is left of these:
 *
 *     |ready| = sum over classes of |class| * |ready for the products' tails|.
 *
 * A tail **needs** the missing tile still, or has it already and **lacks** none but
 * jokers: a class leaves a tail as it is where it fits the family, and gives it the tile
 * where it nearly fits. A set of tails with what each needs is a state, and every state is
 * counted once. Hands are counted by their tiles, jokers apart: the jokers of a hidden
 * hand are those that it has more. */
#ifndef NH_READ_READY_COUNT_H
#define NH_READ_READY_COUNT_H

#include "read/part_classes.h"
#include "read/tails.h"

/* What a tail can be, as bits of a state's numbers: tail * 4 + these. */
enum { TAIL_NEEDS = 1, TAIL_LACKS_NONE = 2, TAIL_BITS = 3 };

struct front; /* the state at one depth of the count */

struct ready_count {
    struct read_work *work;
    const struct hidden_tiles *tiles;
    struct tail_tables *tails;
    struct part_hands *hands[2]; /* of suits, of honours */
    struct part_classes classes[PARTS];
    struct sequences states;
    nh_natural *values; /* of each state: hands of 0 tiles, of 1, ... of the most */
    size_t value_capacity;
    struct front *fronts;
    uint32_t sizes; /* numbers of tiles: 0 to sizes - 1 */
};

/* Begins counts over products whose tails and hands are made; `by_joker` as classes have
 * it. ready_count_free frees it in any case. */
bool ready_count_start(struct ready_count *count, struct tail_tables *tails,
                       struct part_hands *suits, struct part_hands *honours,
                       const struct hidden_tiles *tiles, bool by_joker);
void ready_count_free(struct ready_count *count);

/* The hidden hands that are ready for some of these tails of all parts, by their tiles:
 * writes `sizes` numbers. */
bool count_ready(struct ready_count *count, const uint32_t *tails, size_t tail_count,
                 nh_natural *ready);

/* The hands of the other parts that complete a product when `part` has tiles that fit
 * these families (a set of the part's hands). Writes `sizes` numbers. */
bool count_others(struct ready_count *count, int part, uint32_t fits, nh_natural *others);

#endif
