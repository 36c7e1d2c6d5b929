/* The hidden tiles of one part, in classes that no product tells apart.
 *
 * Hidden tiles are of a class when they fit the same families, nearly fit the same, and
 * are as many. Tiles **nearly fit** a family when they fit it with one tile more, of
 * which a copy is left. A count looks at few families at a time; then classes that differ
 * in others only are put together, once for each choice of families. */
#ifndef NH_READ_PART_CLASSES_H
#define NH_READ_PART_CLASSES_H

#include "read/part_hands.h"

/* What is known of the tiles. */
struct hidden_tiles {
    nh_tiles unseen; /* the hidden ones are among them */
    nh_tiles mine;   /* with whom one looks */
    int most;        /* tiles of the hidden hand, jokers too */
};

/* Hidden tiles that are alike for some choice of families. */
struct part_class {
    uint32_t fits, nearly; /* sets of families, in the sets of the part's hands */
    uint32_t first, count; /* how many hands there are: in the weights */
};

/* So many hands of so many tiles, each tile counted as different. At most C(36, n). */
struct class_weight {
    uint64_t ways;
    uint32_t tiles;
};

struct part_classes {
    struct part_hands *hands;
    struct read_work *work;
    int part;
    bool by_joker_differs; /* some tiles nearly fit more with a joker than without */
    size_t whole_count;    /* classes for all families: the first of the items */
    size_t whole_sets;     /* the sets of families that these have are below this place */
    struct part_class *items;
    size_t count, capacity;
    struct class_weight *weights;
    size_t weight_count, weight_capacity;
    struct sequences choices; /* whether `nearly` matters, and families as bits */
    struct class_range *of_choice;
    size_t choice_capacity;
    struct classes_scratch *scratch;
};

struct class_range {
    uint32_t first, count; /* in the items */
};

/* Makes the classes of a part. `by_joker`: a joker may be the tile more. */
bool part_classes_fill(struct part_classes *classes, struct part_hands *hands, int part,
                       const struct hidden_tiles *tiles, bool by_joker);

/* The classes for a choice of families, as bits, which must not be in a table of the
 * classes; without `nearly`, no class has any. */
struct class_range classes_for(struct part_classes *classes, const uint32_t *families, bool nearly);

void part_classes_free(struct part_classes *classes);

/* In how many ways the tiles of an entry can be hidden: 0 where they cannot. */
uint64_t hidden_ways(const struct part_hands *hands, int part, const struct hidden_tiles *tiles,
                     uint64_t entry, uint32_t *count);

/* Whether a copy of the tile of a slot is left once an entry is hidden. */
bool copy_is_left(int part, const struct hidden_tiles *tiles, uint64_t entry, int slot);

#endif
