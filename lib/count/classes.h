/* Classes of contents: those that the same sets hold. */
#ifndef NH_COUNT_CLASSES_H
#define NH_COUNT_CLASSES_H

#include "base/memory.h"
#include "count/totals.h"

/* An entry is contents, with the number of a set that holds them in the low bits. */
#define CLASS_SET_BITS (64 - CONTENTS_BITS)
#define CLASS_SET_MASK ((UINT64_C(1) << CLASS_SET_BITS) - 1u)

/* Contents of as many tiles that the same sets hold. */
struct class {
    const uint64_t *sets; /* entries whose low bits are the sets */
    uint32_t set_count;
    uint32_t next; /* the class with the same sets and another number of tiles, and one */
    uint8_t tiles;
    bool first_of_sets; /* no other has it for its next */
    struct tally tally;
};

struct classes {
    struct class *items;
    size_t count, capacity;
    uint32_t *slots; /* a hash table of classes, and one, that are the first of their sets */
    size_t slot_count;
};

/* Puts sorted entries into classes, which refer to them. False when memory is short. */
bool classes_find(const nh_allocator *allocator, const struct kind_ways *kinds, int part,
                  const uint64_t *entries, size_t entry_count, struct classes *classes);
void classes_free(const nh_allocator *allocator, struct classes *classes);

/* The class with the same sets that comes next, or NULL. */
static inline const struct class *class_of_next_size(const struct classes *classes,
                                                     const struct class *class) {
    return class->next == 0 ? NULL : &classes->items[class->next - 1];
}

#endif
