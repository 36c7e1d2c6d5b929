/* Products kept apart by which of the sets on the table they account for. */
#include "rests/masked.h"
#include "families/product_merge.h"

void masked_add_nothing(struct pool *pool, struct masked *out) {
    products_add_nothing(pool, &out->of[0]);
}

void masked_add_sum(struct pool *pool, const struct shown *shown, const struct masked *a,
                    const struct masked *b, unsigned later, struct masked *out) {
    for (unsigned x = 0; x <= shown->full; x++) {
        if (a->of[x].count == 0)
            continue;
        for (unsigned y = 0; y <= shown->full; y++)
            if ((x & y) == 0 && b->of[y].count > 0 && (shown->full & ~(x | y | later)) == 0)
                products_add_sum(pool, &a->of[x], &b->of[y], &out->of[x | y]);
    }
}

void masked_append(struct pool *pool, const struct shown *shown, const struct masked *from,
                   struct masked *out) {
    for (unsigned mask = 0; mask <= shown->full; mask++)
        products_append(pool, &from->of[mask], &out->of[mask]);
}

void masked_merge(struct pool *pool, const struct shown *shown, struct masked *masked) {
    for (unsigned mask = 0; mask <= shown->full; mask++)
        if (masked->of[mask].count > 1)
            products_merge(pool, &masked->of[mask]);
}

void masked_free(const struct pool *pool, const struct shown *shown, struct masked *masked) {
    for (unsigned mask = 0; mask <= shown->full; mask++)
        products_free(pool, &masked->of[mask]);
}

bool masked_empty(const struct shown *shown, const struct masked *masked) {
    for (unsigned mask = 0; mask <= shown->full; mask++)
        if (masked->of[mask].count > 0)
            return false;
    return true;
}
