/* Classes of contents, found by a hash of the sets that hold them. */
#include "count/classes.h"

static uint64_t hash_sets(const uint64_t *sets, size_t set_count) {
    uint64_t hash = set_count;
    for (size_t i = 0; i < set_count; i++) {
        hash = (hash ^ (sets[i] & CLASS_SET_MASK)) * UINT64_C(0x9E3779B97F4A7C15);
        hash ^= hash >> 32;
    }
    return hash;
}

static bool has_sets(const struct class *class, const uint64_t *sets, size_t set_count) {
    if (class->set_count != set_count)
        return false;
    for (size_t i = 0; i < set_count; i++)
        if (((class->sets[i] ^ sets[i]) & CLASS_SET_MASK) != 0)
            return false;
    return true;
}

/* The slot of the first class with these sets, or the empty one where it belongs. */
static uint32_t *slot_of_sets(const struct classes *classes, const uint64_t *sets,
                              size_t set_count) {
    size_t slot = (size_t)hash_sets(sets, set_count) & (classes->slot_count - 1);
    while (classes->slots[slot] != 0 &&
           !has_sets(&classes->items[classes->slots[slot] - 1], sets, set_count))
        slot = (slot + 1) & (classes->slot_count - 1);
    return &classes->slots[slot];
}

/* The class of contents, made if it is not there; NULL when memory is short. */
static struct class *class_of(const nh_allocator *allocator, struct classes *classes,
                              const uint64_t *sets, size_t set_count, unsigned tiles) {
    uint32_t *slot = slot_of_sets(classes, sets, set_count);
    uint32_t last = *slot;
    for (uint32_t at = *slot; at != 0; at = classes->items[at - 1].next) {
        if (classes->items[at - 1].tiles == tiles)
            return &classes->items[at - 1];
        last = at;
    }
    if (!memory_reserve(allocator, (void **)&classes->items, &classes->capacity, classes->count + 1,
                        sizeof *classes->items))
        return NULL;
    struct class *made = &classes->items[classes->count++];
    *made = (struct class){.sets = sets,
                           .set_count = (uint32_t)set_count,
                           .tiles = (uint8_t)tiles,
                           .first_of_sets = last == 0};
    if (last == 0)
        *slot = (uint32_t)classes->count;
    else
        classes->items[last - 1].next = (uint32_t)classes->count;
    return made;
}

bool classes_find(const nh_allocator *allocator, const struct kind_ways *kinds, int part,
                  const uint64_t *entries, size_t entry_count, struct classes *classes) {
    size_t slot_count = 16;
    while (slot_count < 2 * entry_count)
        slot_count *= 2;
    classes->slot_count = slot_count;
    classes->slots = memory_new(allocator, slot_count, sizeof *classes->slots);
    if (classes->slots == NULL)
        return false;
    for (size_t i = 0; i < entry_count;) {
        uint64_t contents = entries[i] >> CLASS_SET_BITS;
        size_t end = i + 1;
        while (end < entry_count && entries[end] >> CLASS_SET_BITS == contents)
            end++;
        struct class *class =
            class_of(allocator, classes, entries + i, end - i, contents_tiles(contents));
        if (class == NULL)
            return false;
        tally_add_contents(&class->tally, kinds, part, contents);
        i = end;
    }
    return true;
}

void classes_free(const nh_allocator *allocator, struct classes *classes) {
    memory_release(allocator, classes->items);
    memory_release(allocator, classes->slots);
}
