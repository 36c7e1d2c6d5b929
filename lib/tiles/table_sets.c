/* Sets that lie on the table: which tiles make one, and who may claim it. */
#include "tiles/table_sets.h"
#include "base/status.h"
#include "tiles/tiles.h"

bool chow_begins_at(int kind) {
    return kind >= 0 && kind < NH_EAST && kind % PART_KINDS <= PART_KINDS - 3;
}

nh_status check_set(const nh_set *set, nh_error *error) {
    bool row = set->shape == NH_CHOW;
    bool good = row ? set->tiles == 3 && set->jokers == 0 && chow_begins_at(set->kind)
                    : set->shape >= NH_PUNG && set->shape <= NH_SEXTET &&
                          set->tiles == set->shape && set->jokers < set->tiles &&
                          set->kind < NH_JOKER;
    return good ? NH_OK
                : error_set(error, NH_ERROR_ARGUMENT, 0,
                            "a set of shape %d, tile %d, %d tiles and %d jokers is not a set",
                            set->shape, set->kind, set->tiles, set->jokers);
}

void nh_set_tiles(const nh_set *set, nh_tiles *tiles) {
    *tiles = (nh_tiles){{0}};
    if (check_set(set, NULL) != NH_OK)
        return;
    if (set->shape == NH_CHOW) {
        for (int i = 0; i < 3; i++)
            tiles->count[set->kind + i] = 1;
        return;
    }
    tiles->count[set->kind] = (uint8_t)(set->tiles - set->jokers);
    tiles->count[NH_JOKER] = set->jokers;
}

bool rules_allow(const nh_play_rules *rules, int shape) {
    switch (shape) {
    case NH_PUNG:
        return rules->pung;
    case NH_KONG:
        return rules->kong;
    case NH_QUINT:
        return rules->quint;
    case NH_SEXTET:
        return rules->sextet;
    case NH_CHOW:
        return rules->chow;
    default:
        return false;
    }
}
