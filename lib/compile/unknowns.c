/* The letters of a variant, and the winds of the player: what takes values. */
#include "compile/unknowns.h"

static void unknown_add(struct unknowns *unknowns, uint8_t type, int letter) {
    unknowns->item[unknowns->count++] = (struct unknown){type, (uint8_t)letter};
}

static bool group_uses(const struct draft_group *group, const struct unknown *unknown) {
    switch (unknown->type) {
    case UNKNOWN_SUIT:
        return group->suit_letters >> unknown->letter & 1u;
    case UNKNOWN_RANK:
    case UNKNOWN_HONOUR:
        return group->tile_letters >> unknown->letter & 1u;
    case UNKNOWN_PREVAILING:
        return group->uses_prevailing;
    default:
        return group->uses_seat;
    }
}

static int count_of_type(const struct unknowns *unknowns, uint8_t type) {
    int count = 0;
    for (int i = 0; i < unknowns->count; i++)
        count += unknowns->item[i].type == type;
    return count;
}

bool unknowns_find(const struct draft_groups *groups, const struct draft_letter letters[LETTERS],
                   struct unknowns *unknowns) {
    uint32_t suits = 0, tiles = 0;
    bool prevailing = false, seat = false;
    for (size_t i = 0; i < groups->count; i++) {
        const struct draft_group *group = &groups->items[i];
        suits |= group->suit_letters;
        tiles |= group->tile_letters;
        prevailing |= group->uses_prevailing;
        seat |= group->uses_seat;
    }
    unknowns->count = 0;
    if (prevailing)
        unknown_add(unknowns, UNKNOWN_PREVAILING, 0);
    if (seat)
        unknown_add(unknowns, UNKNOWN_SEAT, 0);
    for (int letter = 0; letter < LETTERS; letter++)
        if (suits >> letter & 1u)
            unknown_add(unknowns, UNKNOWN_SUIT, letter);
    for (int letter = 0; letter < LETTERS; letter++)
        if (tiles >> letter & 1u)
            unknown_add(unknowns, letters[letter].honours ? UNKNOWN_HONOUR : UNKNOWN_RANK, letter);
    for (size_t i = 0; i < groups->count; i++) {
        unknowns->level[i] = 0;
        for (int u = 0; u < unknowns->count; u++)
            if (group_uses(&groups->items[i], &unknowns->item[u]))
                unknowns->level[i] = (uint8_t)(u + 1);
    }
    return count_of_type(unknowns, UNKNOWN_SUIT) <= SUITS &&
           count_of_type(unknowns, UNKNOWN_RANK) <= PART_KINDS &&
           count_of_type(unknowns, UNKNOWN_HONOUR) <= NH_FLOWER - NH_EAST;
}

/* Whether another unknown of the type, before `index`, has the value. */
static bool is_taken(const struct unknowns *unknowns, int index, const uint8_t *values, int value) {
    for (int i = 0; i < index; i++)
        if (unknowns->item[i].type == unknowns->item[index].type &&
            values[unknowns->item[i].letter] == value)
            return true;
    return false;
}

bool unknown_assign(struct compiler *compiler, const struct unknowns *unknowns, int index,
                    int value) {
    struct assignment *now = &compiler->now;
    int letter = unknowns->item[index].letter;
    switch (unknowns->item[index].type) {
    case UNKNOWN_PREVAILING:
        now->prevailing = (uint8_t)(value + 1);
        return value < 4;
    case UNKNOWN_SEAT:
        now->seat = (uint8_t)(value + 1);
        return value < 4;
    case UNKNOWN_SUIT:
        if (value >= SUITS || compiler->draft->set.count[value * PART_KINDS] == 0 ||
            is_taken(unknowns, index, now->suit, value))
            return false;
        now->suit[letter] = (uint8_t)value;
        return true;
    case UNKNOWN_HONOUR:
        if (!(compiler->variant->letters[letter].values >> value & 1u) ||
            is_taken(unknowns, index, now->honour, value))
            return false;
        now->honour[letter] = (uint8_t)value;
        return true;
    default:
        if (!(compiler->variant->letters[letter].values >> value & 1u) ||
            is_taken(unknowns, index, now->rank, value + 1))
            return false;
        now->rank[letter] = (uint8_t)(value + 1);
        return true;
    }
}

void unknown_forget(struct compiler *compiler, const struct unknowns *unknowns, int index) {
    if (unknowns->item[index].type == UNKNOWN_PREVAILING)
        compiler->now.prevailing = 0;
    if (unknowns->item[index].type == UNKNOWN_SEAT)
        compiler->now.seat = 0;
}
