/* Unions of products that an audit has counted already: the same rests come up
 * behind many classes of shares. */
#ifndef NH_AUDIT_UNION_CACHE_H
#define NH_AUDIT_UNION_CACHE_H

#include "audit/tally.h"
#include "base/memory.h"

struct known_union {
    uint32_t *families; /* of the products, from `part` on; NULL in an empty slot */
    size_t count;       /* products */
    uint64_t hash;
    struct tally tally;
    int part;
};

/* A table by hashes, at most half full. It starts as {allocator}. */
struct unions {
    const nh_allocator *allocator;
    struct known_union *slots;
    size_t capacity, used;
    size_t products; /* of all */
};

/* The union of sorted, different products over the parts from `part` on, or NULL
 * if it has not been kept. */
const struct tally *unions_find(const struct unions *unions, const struct product *products,
                                size_t count, int part);

/* Keeps a union that was not found, but none past UNIONS_PRODUCTS_MAX products,
 * which costs time alone. False when memory is short. */
#define UNIONS_PRODUCTS_MAX 2000000u
bool unions_keep(struct unions *unions, const struct product *products, size_t count, int part,
                 const struct tally *tally);

void unions_free(struct unions *unions);

#endif
