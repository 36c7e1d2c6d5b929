/* Calls on plain values: tiles, sets, winds, random numbers, the Charleston. Whatever the
 * values are, they answer. See calls.h. */
#include "calls.h"

#include <string.h>

static void tiles(struct world *world) {
    nh_tiles whole = {{0}}, a, b, both;
    memset(&whole, 4, sizeof whole);
    a = any_tiles(world, &whole, 24);
    b = any_tiles(world, &whole, 24);
    both = a;
    if (nh_tiles_add(&both, &b)) {
        MUST(nh_tiles_total(&both) == nh_tiles_total(&a) + nh_tiles_total(&b));
        MUST(nh_tiles_take(&both, &b));
    }
    MUST(nh_tiles_equal(&both, &a));
    size_t size = (size_t)decide(world->decisions, 64);
    char *text = room_for(size, 1);
    size_t length = nh_tiles_format(&a, (nh_style)decide(world->decisions, 2), text, size);
    MUST(size == 0 || strlen(text) == (length < size ? length : size - 1));
    free(text);
}

static void sets(struct world *world) {
    nh_set set = any_set(world);
    nh_tiles tiles;
    nh_set_tiles(&set, &tiles);
    MUST(nh_tiles_total(&tiles) == 0 || nh_tiles_total(&tiles) == set.tiles);
    nh_piece piece = {.shape = (uint8_t)any_int(world, NH_SINGLE, NH_RUN),
                      .kind = (uint8_t)any_int(world, 0, NH_KINDS - 1),
                      .tiles = (uint8_t)any_int(world, 1, 9)};
    nh_piece_tiles(&piece, &tiles);
    MUST(nh_tiles_total(&tiles) == 0 || nh_tiles_total(&tiles) == piece.tiles);
}

static void names(struct world *world) {
    int kind = any_int(world, 0, NH_KINDS - 1), wind = any_int(world, 0, NH_WIND_NORTH);
    int direction = any_int(world, NH_RIGHT, NH_LEFT), seat = any_int(world, 0, NH_SEATS - 1);
    bool good = kind >= 0 && kind < NH_KINDS;
    MUST((nh_kind_name(kind) != NULL) == good && (nh_kind_unicode(kind) != NULL) == good);
    MUST((nh_kind_notation(kind) != NULL) == good);
    good = wind >= NH_WIND_EAST && wind <= NH_WIND_NORTH;
    MUST((nh_wind_name((nh_wind)wind) != NULL) == good);
    MUST((nh_wind_letter((nh_wind)wind) != 0) == good);
    good = direction >= NH_RIGHT && direction <= NH_LEFT;
    MUST((nh_direction_name((nh_direction)direction) != NULL) == good);
    MUST(nh_status_text((nh_status)any_int(world, NH_OK, NH_ERROR_CANCELLED)) != NULL);
    bool sits = seat >= 0 && seat < NH_SEATS;
    MUST((nh_seat_wind(seat) != NH_WIND_UNKNOWN) == sits);
    int receiver = nh_seat_receiver(seat, (nh_direction)direction);
    int sender = nh_seat_sender(seat, (nh_direction)direction);
    MUST((receiver >= 0) == (sits && good) && (sender >= 0) == (sits && good));
    MUST(receiver < 0 || nh_seat_sender(receiver, (nh_direction)direction) == seat);
}

static void charlestons(struct world *world) {
    int place = pick_list(world);
    if (place == NOTHING)
        return;
    const nh_charleston *charleston = nh_list_charleston(world->lists[place]);
    nh_step step = nh_charleston_first(charleston);
    if (one_in(world, 2))
        step = (nh_step){.stage = (nh_stage)any_int(world, NH_STAGE_PASS, NH_STAGE_OVER),
                         .direction = (nh_direction)any_int(world, NH_RIGHT, NH_LEFT),
                         .round = (uint8_t)any_int(world, 0, 9),
                         .pass = (uint8_t)any_int(world, 0, 9)};
    MUST(nh_charleston_left(charleston, step) <= 64);
    MUST(nh_charleston_left_optional(charleston, step) <= 64);
    int steps = 0;
    while (step.stage != NH_STAGE_OVER && steps++ < 200)
        step = nh_charleston_next(charleston, step, one_in(world, 2));
    MUST(steps < 200);
    nh_status status = nh_charleston_pass(charleston, (unsigned)any_int(world, 1, 3),
                                          (unsigned)any_int(world, 1, 3), &step, error_of(world));
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT));
    const nh_tiles *set = nh_list_set(world->lists[place]);
    nh_tiles hand = any_tiles(world, set, 14), pass = any_tiles(world, &hand, 3);
    status = nh_charleston_check(charleston, &hand, &pass, (unsigned)any_int(world, 0, 3),
                                 error_of(world));
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_TILES));
    nh_tiles gone = nh_charleston_gone(set, &hand, &pass);
    MUST(nh_tiles_take(&pass, &gone));
}

static void randoms(struct world *world) {
    nh_random random;
    memset(&random, decide(world->decisions, 256), sizeof random);
    if (one_in(world, 2))
        nh_random_start(&random, (uint64_t)any_int(world, 0, 9), (uint64_t)any_int(world, 0, 9));
    uint32_t bound = (uint32_t)any_int(world, 0, 9);
    uint32_t below = nh_random_below(&random, bound);
    MUST(bound == 0 ? below == 0 : below < bound);
    nh_tiles from, out = {{0}};
    memset(&from, 4, sizeof from);
    int count = any_int(world, 0, 24);
    nh_deal_draw(&random, &from, count, &out);
    MUST(nh_tiles_total(&out) == (count < 0 ? 0 : count > 4 * NH_KINDS ? 4 * NH_KINDS : count));
    nh_tiles_add(&from, &out);
    MUST(nh_tiles_total(&from) == 4 * NH_KINDS);
}

static void deals(struct world *world) {
    int place = pick_list(world);
    nh_deal deal;
    if (place == NOTHING)
        return;
    error_of(world);
    world->error_given = false;
    const nh_list *list = world->lists[place];
    nh_status status = nh_deal_table(list, (uint64_t)any_int(world, 0, 9), 0, &deal);
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT));
    for (int seat = 0; status == NH_OK && seat < NH_SEATS; seat++)
        MUST(nh_tiles_total(&deal.hand[seat]) == nh_list_hand_size(list) - (seat > 0));
}

void call_values(struct world *world) {
    static void (*const calls[])(struct world *) = {tiles,       sets,    names,
                                                    charlestons, randoms, deals};
    calls[decide(world->decisions, 6)](world);
}
