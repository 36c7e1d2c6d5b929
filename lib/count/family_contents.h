/* The contents that stand for the families of a list: the tiles of their shares, or
 * those of hands that jokers complete to them; and unions of products of them. */
#ifndef NH_COUNT_FAMILY_CONTENTS_H
#define NH_COUNT_FAMILY_CONTENTS_H

#include "compile/compiled.h"
#include "count/union_count.h"

/* A set of contents that stands for a family, or for those shares of it that need
 * `excess` tiles more than there are. */
struct family_set {
    uint32_t number; /* of the set */
    uint8_t excess;
};

/* Those of a family in one part: `count` of them from `first` on, once it is `made`. */
struct family_place {
    uint32_t first;
    uint16_t count;
    bool made;
};

struct family_counting {
    const nh_list *list;
    struct counting counting;
    nh_tiles copies;             /* of each kind, jokers too */
    bool with_jokers;            /* jokers stand in: contents are a hand's tiles, jokers aside */
    bool suits_alike;            /* the same copies in all suits: a set serves for each */
    struct family_place *places; /* of each family in each part */
    struct family_set *sets;
    size_t set_count, set_capacity;
    struct quad *quads; /* the products of the next union */
    size_t quad_count, quad_capacity;
};

/* Begins to count with the tiles that are not on the table. False when memory is short;
 * family_counting_end is called in any case. */
bool family_counting_start(struct family_counting *families, const nh_list *list, bool with_jokers,
                           const nh_cancel *cancel);
void family_counting_end(struct family_counting *families);

/* Adds products to the next union: of those with `size` tiles only, unless it is 0.
 * Targets that nobody can complete with the tiles that there are do not count. */
void family_counting_add(struct family_counting *families, const struct product *products,
                         size_t count, int size);

/* The totals of the union, after which the next begins. With jokers the numbers of tiles
 * are those of hands, jokers aside; without, those of targets. */
void family_counting_union(struct family_counting *families, struct totals *totals);

/* With jokers: how many hands of `size` tiles, jokers among them and each tile counted as
 * different, are in a union of products of that size. */
nh_natural hands_in_totals(const struct family_counting *families, const struct totals *totals,
                           int size);

/* The tiles of a product's targets. */
int product_size(const nh_list *list, const struct product *product);

#endif
