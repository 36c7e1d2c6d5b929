/* Sequences of numbers, each kept once. */
#include "read/sequences.h"
#include "base/hash.h"

#include <string.h>

#define SLOTS_FIRST 64u

/* Steps for a sequence that is looked up: for any, and for so many numbers. */
#define STEPS_PLACE 6u
#define STEPS_NUMBERS 8u

static bool fail_memory(struct sequences *sequences) {
    sequences->work->status = NH_ERROR_MEMORY;
    return false;
}

static bool grow_slots(struct sequences *sequences) {
    size_t slot_count = sequences->slot_count == 0 ? SLOTS_FIRST : 2 * sequences->slot_count;
    if (!read_hold(sequences->work, (slot_count - sequences->slot_count) * sizeof(uint32_t)))
        return false;
    uint32_t *slots = memory_new(sequences->work->allocator, slot_count, sizeof *slots);
    if (slots == NULL)
        return fail_memory(sequences);
    for (size_t i = 0; i < sequences->count; i++) {
        size_t slot = sequences->items[i].hash & (slot_count - 1);
        while (slots[slot] != 0)
            slot = (slot + 1) & (slot_count - 1);
        slots[slot] = (uint32_t)i + 1;
    }
    memory_release(sequences->work->allocator, sequences->slots);
    sequences->slots = slots;
    sequences->slot_count = slot_count;
    return true;
}

/* Keeps a sequence that is not there, in the free slot `slot`. */
static uint32_t keep_sequence(struct sequences *sequences, const uint32_t *numbers,
                              struct sequence item, size_t slot) {
    size_t bytes = item.length * sizeof *numbers + sizeof item;
    if (!read_hold(sequences->work, bytes))
        return SEQUENCE_NONE;
    if (!memory_reserve(sequences->work->allocator, (void **)&sequences->numbers,
                        &sequences->number_capacity, sequences->number_count + item.length,
                        sizeof *numbers) ||
        !memory_reserve(sequences->work->allocator, (void **)&sequences->items,
                        &sequences->capacity, sequences->count + 1, sizeof item)) {
        fail_memory(sequences);
        return SEQUENCE_NONE;
    }
    memcpy(sequences->numbers + sequences->number_count, numbers, item.length * sizeof *numbers);
    sequences->number_count += item.length;
    sequences->items[sequences->count++] = item;
    sequences->slots[slot] = (uint32_t)sequences->count;
    return (uint32_t)sequences->count - 1;
}

uint32_t sequences_place(struct sequences *sequences, const uint32_t *numbers, uint32_t length) {
    if (!read_spend(sequences->work, STEPS_PLACE + length / STEPS_NUMBERS))
        return SEQUENCE_NONE;
    if (2 * sequences->count >= sequences->slot_count && !grow_slots(sequences))
        return SEQUENCE_NONE;
    struct sequence item = {sequences->number_count, length,
                            (uint32_t)hash_numbers(length, numbers, length)};
    size_t slot = item.hash & (sequences->slot_count - 1);
    for (; sequences->slots[slot] != 0; slot = (slot + 1) & (sequences->slot_count - 1)) {
        uint32_t place = sequences->slots[slot] - 1;
        const struct sequence *other = &sequences->items[place];
        if (other->hash == item.hash && other->length == length &&
            memcmp(sequences->numbers + other->first, numbers, length * sizeof *numbers) == 0)
            return place;
    }
    return keep_sequence(sequences, numbers, item, slot);
}

void sequences_free(struct sequences *sequences) {
    memory_release(sequences->work->allocator, sequences->numbers);
    memory_release(sequences->work->allocator, sequences->items);
    memory_release(sequences->work->allocator, sequences->slots);
}
