/* Deals: tiles drawn from a set, four hands of a table, two dice. */
#include "table/deal.h"
#include "base/random.h"
#include "tiles/tiles.h"

#include <string.h>

/* Nearly every kind has at most so many tiles, which are laid with one store. */
#define AT_ONCE 8
#define ROW_MAX (NH_KINDS * UINT8_MAX)

/* Lays the tiles in a row, in the order of the kinds; returns how many. */
static uint32_t lay_out(const nh_tiles *tiles, uint8_t row[ROW_MAX + AT_ONCE]) {
    uint32_t length = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        memset(row + length, kind, AT_ONCE);
        if (tiles->count[kind] > AT_ONCE)
            memset(row + length, kind, tiles->count[kind]);
        length += tiles->count[kind];
    }
    return length;
}

void nh_deal_draw(nh_random *random, nh_tiles *from, int count, nh_tiles *out) {
    uint8_t row[ROW_MAX + AT_ONCE];
    uint32_t left = lay_out(from, row);
    for (; count > 0 && left > 0; count--) {
        uint32_t place = random_bounded(random, left);
        uint8_t kind = row[place];
        row[place] = row[--left];
        from->count[kind]--;
        out->count[kind]++;
    }
}

static uint8_t throw_die(nh_random *random) {
    return (uint8_t)(1 + random_bounded(random, 6));
}

/* East is 1; the sum counts round from there. */
static nh_wind wind_of(int sum) {
    return (nh_wind)(NH_WIND_EAST + (sum - 1) % NH_SEATS);
}

nh_status deal_next(const nh_list *list, nh_random *random, nh_deal *deal) {
    const nh_tiles *set = nh_list_set(list);
    int size = nh_list_hand_size(list);
    if (nh_tiles_total(set) < NH_SEATS * (size - 1) + 1)
        return NH_ERROR_ARGUMENT;
    *deal = (nh_deal){.wall = *set};
    for (int seat = 0; seat < NH_SEATS; seat++)
        nh_deal_draw(random, &deal->wall, seat == 0 ? size : size - 1, &deal->hand[seat]);
    for (int die = 0; die < 2; die++)
        deal->dice[die] = throw_die(random);
    deal->prevailing = wind_of(deal->dice[0] + deal->dice[1]);
    return NH_OK;
}

nh_status nh_deal_table(const nh_list *list, uint64_t seed, uint64_t number, nh_deal *deal) {
    nh_random random;
    nh_random_start(&random, seed, number);
    return deal_next(list, &random, deal);
}
