/* Products with some parts taken off: what is still to be met of them.
 *
 * A count goes through the parts of the set one after another. What it still has to look
 * at is a set of parts, as bits, and products reduced to these; equal ones are one tail. */
#ifndef NH_READ_TAILS_H
#define NH_READ_TAILS_H

#include "compile/compiled.h"
#include "read/sequences.h"

#define ALL_PARTS 15u

/* The tails of a set of parts. */
struct tails {
    struct sequences families; /* PARTS numbers each: those of parts taken off are 0 */
    uint32_t *shorter[PARTS];  /* each with one part less; NULL where no count needs it */
};

struct tail_tables {
    struct read_work *work;
    struct tails of[ALL_PARTS + 1];
    uint32_t *of_product;
    size_t most; /* of any set of parts */
};

/* The part that a count looks at first of some. */
static inline int first_part(unsigned parts) {
    int part = 0;
    while ((parts >> part & 1u) == 0)
        part++;
    return part;
}

/* Makes the tails of products: any part of all may come first, then the lowest of the
 * others. False when the work is to end; tails_free frees them in any case. */
bool tails_make(struct tail_tables *tails, const struct product *products, size_t product_count,
                struct read_work *work);
void tails_free(struct tail_tables *tails);

#endif
