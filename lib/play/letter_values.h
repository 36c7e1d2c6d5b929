/* Which values the letters of a variant can have in a target. */
#ifndef NH_PLAY_LETTER_VALUES_H
#define NH_PLAY_LETTER_VALUES_H

#include "compile/unknowns.h"

/* The values of each unknown as bits, in the order of the unknowns. */
struct letter_values {
    uint16_t of[UNKNOWNS_MAX];
};

/* Finds the values that no group by itself rules out. */
void letter_values_find(const struct draft_groups *groups, const struct unknowns *unknowns,
                        const nh_tiles *target, struct letter_values *values);

static inline bool letter_value_fits(const struct letter_values *values, int index, int value) {
    return (values->of[index] >> value & 1u) != 0;
}

#endif
