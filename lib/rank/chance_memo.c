/* Chances that were counted, remembered. What a target's chance depends on is little: how many
 * tiles of how many kinds are lacking, and how many of them are unseen, whichever kinds they
 * are. Over many hands the same numbers come again and again: the 52,204 counts for 20,000
 * hands of a list without jokers are of 204 different ones. A hash of them gives the only slot
 * of a chance; the slot has them in full, so a chance is only ever that of exactly these. */
#include "rank/chance_memo.h"

#include <string.h>

#define SLOT_BITS 9

struct chance_slot {
    bool used;
    uint8_t count; /* of lacks */
    uint8_t unseen, jokers_unseen, jokers_held, draws;
    lack_number numbers[NH_TARGET_MAX];
    nh_natural completing;
};

bool chance_memo_init(struct chance_memo *memo, const nh_allocator *allocator) {
    memo->slots = memory_new(allocator, (size_t)1 << SLOT_BITS, sizeof *memo->slots);
    return memo->slots != NULL;
}

void chance_memo_free(struct chance_memo *memo, const nh_allocator *allocator) {
    memory_release(allocator, memo->slots);
}

static size_t slot_of_lacks(const struct draws *draws, const lack_number *numbers, int count) {
    const uint64_t spread = UINT64_C(0x9E3779B97F4A7C15);
    uint64_t hash = (uint64_t)draws->unseen << 32 | draws->draws << 16 | draws->jokers_held;
    for (int i = 0; i < count; i++)
        hash = (hash * spread) ^ numbers[i];
    return (size_t)(hash * spread >> (64 - SLOT_BITS));
}

static bool slot_has(const struct chance_slot *slot, const struct draws *draws,
                     const lack_number *numbers, int count) {
    return slot->used && slot->count == count && slot->unseen == draws->unseen &&
           slot->draws == draws->draws && slot->jokers_unseen == draws->jokers_unseen &&
           slot->jokers_held == draws->jokers_held &&
           memcmp(slot->numbers, numbers, (size_t)count * sizeof *numbers) == 0;
}

static nh_natural count_numbers(const struct draws *draws, const lack_number *numbers, int count) {
    struct lack lacks[NH_TARGET_MAX] = {{0, 0, 0}};
    for (int i = 0; i < count; i++)
        lacks[i] = lack_of_number(numbers[i]);
    return chance_count(draws, lacks, count);
}

nh_natural chance_of(struct chance_memo *memo, const struct draws *draws,
                     const lack_number *numbers, int count) {
    struct chance_slot *slot = &memo->slots[slot_of_lacks(draws, numbers, count)];
    if (!slot_has(slot, draws, numbers, count)) {
        *slot = (struct chance_slot){.used = true,
                                     .count = (uint8_t)count,
                                     .unseen = (uint8_t)draws->unseen,
                                     .jokers_unseen = (uint8_t)draws->jokers_unseen,
                                     .jokers_held = (uint8_t)draws->jokers_held,
                                     .draws = (uint8_t)draws->draws};
        memcpy(slot->numbers, numbers, (size_t)count * sizeof *numbers);
        slot->completing = count_numbers(draws, numbers, count);
    }
    return slot->completing;
}
