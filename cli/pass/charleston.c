/* Passes before play: which tiles may go, where they go, and hands that change
 * so that no tile is lost. */
#include "pass/charleston.h"

nh_tiles charleston_passable(const nh_list *list, const nh_tiles *hand) {
    const nh_tiles *keep = &nh_list_charleston(list)->keep;
    nh_tiles passable = *hand;
    for (int kind = 0; kind < NH_KINDS; kind++)
        if (keep->count[kind] > 0 || kind == NH_JOKER)
            passable.count[kind] = 0;
    return passable;
}

const char *charleston_direction(nh_direction direction) {
    static const char *const words[] = {
        [NH_RIGHT] = "right", [NH_ACROSS] = "across", [NH_LEFT] = "left"};
    return words[direction];
}

int charleston_receiver(int seat, nh_direction direction) {
    static const int steps[] = {[NH_RIGHT] = 1, [NH_ACROSS] = 2, [NH_LEFT] = 3};
    return (seat + steps[direction]) % NH_SEATS;
}

void tiles_add(nh_tiles *tiles, const nh_tiles *more) {
    for (int kind = 0; kind < NH_KINDS; kind++)
        tiles->count[kind] = (uint8_t)(tiles->count[kind] + more->count[kind]);
}

void tiles_take(nh_tiles *tiles, const nh_tiles *fewer) {
    for (int kind = 0; kind < NH_KINDS; kind++)
        tiles->count[kind] = (uint8_t)(tiles->count[kind] - fewer->count[kind]);
}

void charleston_turn(nh_tiles hand[NH_SEATS], const nh_tiles pass[NH_SEATS],
                     nh_direction direction) {
    for (int seat = 0; seat < NH_SEATS; seat++) {
        tiles_take(&hand[seat], &pass[seat]);
        tiles_add(&hand[charleston_receiver(seat, direction)], &pass[seat]);
    }
}

void charleston_courtesy(nh_tiles hand[NH_SEATS], int seat, const nh_tiles *mine,
                         const nh_tiles *theirs) {
    int opposite = charleston_receiver(seat, NH_ACROSS);
    tiles_take(&hand[seat], mine);
    tiles_add(&hand[opposite], mine);
    tiles_take(&hand[opposite], theirs);
    tiles_add(&hand[seat], theirs);
}

nh_tiles charleston_gone(const nh_list *list, const nh_tiles *hand, const nh_tiles *passed) {
    const nh_tiles *set = nh_list_set(list);
    nh_tiles gone = *passed;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        uint8_t elsewhere = (uint8_t)(set->count[kind] - hand->count[kind]);
        if (gone.count[kind] > elsewhere)
            gone.count[kind] = elsewhere;
    }
    return gone;
}
