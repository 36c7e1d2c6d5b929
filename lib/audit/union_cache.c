/* Unions of products, remembered. */
#include "audit/union_cache.h"

#include <string.h>

static uint64_t hash_of(const struct product *products, size_t count, int part) {
    uint64_t hash = (uint64_t)count * PARTS + (unsigned)part;
    for (size_t i = 0; i < count; i++)
        for (int other = part; other < PARTS; other++) {
            hash = (hash ^ products[i].family[other]) * UINT64_C(0x9E3779B97F4A7C15);
            hash ^= hash >> 32;
        }
    return hash;
}

static bool is_union(const struct known_union *known, const struct product *products, size_t count,
                     int part) {
    if (known->count != count || known->part != part)
        return false;
    size_t rest = (size_t)(PARTS - part);
    for (size_t i = 0; i < count; i++)
        if (memcmp(known->families + i * rest, products[i].family + part,
                   rest * sizeof *known->families) != 0)
            return false;
    return true;
}

/* The slot that has the union, or the empty one where it belongs. */
static struct known_union *slot_of(const struct unions *unions, const struct product *products,
                                   size_t count, int part, uint64_t hash) {
    size_t slot = (size_t)hash & (unions->capacity - 1);
    for (; unions->slots[slot].families != NULL; slot = (slot + 1) & (unions->capacity - 1))
        if (unions->slots[slot].hash == hash &&
            is_union(&unions->slots[slot], products, count, part))
            break;
    return &unions->slots[slot];
}

const struct tally *unions_find(const struct unions *unions, const struct product *products,
                                size_t count, int part) {
    if (unions->used == 0)
        return NULL;
    const struct known_union *known =
        slot_of(unions, products, count, part, hash_of(products, count, part));
    return known->families == NULL ? NULL : &known->tally;
}

#define CAPACITY_FIRST 64u

static bool grow(struct unions *unions) {
    size_t capacity = unions->capacity == 0 ? CAPACITY_FIRST : 2 * unions->capacity;
    struct known_union *slots = memory_new(unions->allocator, capacity, sizeof *slots);
    if (slots == NULL)
        return false;
    for (size_t i = 0; i < unions->capacity; i++) {
        const struct known_union *known = &unions->slots[i];
        if (known->families == NULL)
            continue;
        size_t slot = (size_t)known->hash & (capacity - 1);
        while (slots[slot].families != NULL)
            slot = (slot + 1) & (capacity - 1);
        slots[slot] = *known;
    }
    memory_release(unions->allocator, unions->slots);
    unions->slots = slots;
    unions->capacity = capacity;
    return true;
}

bool unions_keep(struct unions *unions, const struct product *products, size_t count, int part,
                 const struct tally *tally) {
    if (unions->products + count > UNIONS_PRODUCTS_MAX)
        return true;
    if (2 * unions->used >= unions->capacity && !grow(unions))
        return false;
    size_t rest = (size_t)(PARTS - part);
    uint32_t *families = memory_new_raw(unions->allocator, count * rest, sizeof *families);
    if (families == NULL)
        return false;
    for (size_t i = 0; i < count; i++)
        memcpy(families + i * rest, products[i].family + part, rest * sizeof *families);
    uint64_t hash = hash_of(products, count, part);
    *slot_of(unions, products, count, part, hash) =
        (struct known_union){families, count, hash, *tally, part};
    unions->used++;
    unions->products += count;
    return true;
}

void unions_free(struct unions *unions) {
    for (size_t i = 0; i < unions->capacity; i++)
        memory_release(unions->allocator, unions->slots[i].families);
    memory_release(unions->allocator, unions->slots);
    *unions = (struct unions){unions->allocator, NULL, 0, 0, 0};
}
