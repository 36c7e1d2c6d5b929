/* Which values the letters of a variant can have in a target, by each group alone: a pung of
 * rank n needs three tiles of that rank in some suit, a pung in suit x three alike in that
 * suit. Most values of most letters are ruled out so, before any of them is tried with those
 * of others; what is ruled out could not be laid, so layouts and their order stay the same. */
#include "play/letter_values.h"

#include <string.h>

/* The most tiles of one kind that the target has of each rank, suit and honour. */
struct most_alike {
    uint8_t rank[PART_KINDS], suit[SUITS], honour[HONOURS];
};

static struct most_alike most_alike_of(const nh_tiles *target) {
    struct most_alike most = {{0}, {0}, {0}};
    for (int suit = 0; suit < SUITS; suit++)
        for (int rank = 0; rank < PART_KINDS; rank++) {
            uint8_t tiles = target->count[suit * PART_KINDS + rank];
            most.rank[rank] = tiles > most.rank[rank] ? tiles : most.rank[rank];
            most.suit[suit] = tiles > most.suit[suit] ? tiles : most.suit[suit];
        }
    memcpy(most.honour, target->count + NH_EAST, sizeof most.honour);
    return most;
}

/* How many tiles of one kind the group needs at least. */
static int alike_in(const struct draft_group *group) {
    return group->shape <= SHAPE_SEXTET ? group->shape : 1;
}

/* Whether all tiles that the group names are of its suit. */
static bool names_ranks(const struct draft_group *group) {
    bool ranks = group->atom_count > 0;
    for (size_t i = 0; i < group->atom_count; i++)
        ranks = ranks && (group->atoms[i].type == ATOM_RANK || group->atoms[i].type == ATOM_LETTER);
    return ranks;
}

static uint16_t enough(const uint8_t *most, int count, int tiles) {
    uint16_t values = 0;
    for (int value = 0; value < count; value++)
        if (most[value] >= tiles)
            values = (uint16_t)(values | 1u << value);
    return values;
}

/* The values of a letter for a rank, which the atom may count up or down from. */
static uint16_t enough_of_rank(const struct most_alike *most, const struct atom *atom, int tiles) {
    uint16_t values = 0;
    for (int value = 0; value < PART_KINDS; value++) {
        int rank = atom->sign * (value + 1) + atom->offset;
        if (rank >= 1 && rank <= PART_KINDS && most->rank[rank - 1] >= tiles)
            values = (uint16_t)(values | 1u << value);
    }
    return values;
}

/* The values of an unknown that a group leaves; all where it does not use it, or not by
 * itself. */
static uint16_t values_left(const struct draft_group *group, const struct unknown *unknown,
                            const struct most_alike *most) {
    const struct atom *atom = group->atom_count == 1 ? group->atoms : NULL;
    const int tiles = alike_in(group);
    if (unknown->type == UNKNOWN_SUIT && group->suit_type == SUIT_LETTER &&
        group->suit == unknown->letter && names_ranks(group))
        return enough(most->suit, SUITS, tiles);
    if (unknown->type == UNKNOWN_RANK && atom != NULL && atom->type == ATOM_LETTER &&
        atom->letter == unknown->letter && atom->other_sign == 0)
        return enough_of_rank(most, atom, tiles);
    if (unknown->type == UNKNOWN_HONOUR && atom != NULL && atom->type == ATOM_HONOUR_LETTER &&
        atom->letter == unknown->letter)
        return enough(most->honour, HONOURS, tiles);
    return UINT16_MAX;
}

void letter_values_find(const struct draft_groups *groups, const struct unknowns *unknowns,
                        const nh_tiles *target, struct letter_values *values) {
    const struct most_alike most = most_alike_of(target);
    for (int u = 0; u < unknowns->count; u++) {
        values->of[u] = UINT16_MAX;
        for (size_t i = 0; i < groups->count; i++)
            values->of[u] &= values_left(&groups->items[i], &unknowns->item[u], &most);
    }
}
