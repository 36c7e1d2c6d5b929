/* Hands of a sheet that are dealt. */
#include "deal/dealing.h"
#include "io/message.h"
#include "sheet/sheet_hands.h"
#include "system/halt.h"
#include "task.h"

#include <stdlib.h>

/* Deals whose numbers are not those of the hands show them. */
static bool shows_numbers(const struct sheet_deals *deals) {
    return deals->first != 1 || training_picks(deals->training);
}

static int explain_sheet_end(const struct training *training, uint64_t from) {
    if (halted_by_signal())
        return STATUS_STOPPED;
    if (training->chosen == NULL)
        return too_few_tiles(training->list);
    training_complain(training, from);
    return STATUS_USAGE;
}

/* The stream of a deal's first tile from the wall: none that deals. */
#define DRAW_STREAM (UINT64_C(1) << 63)

/* A tile for a hand that is not the dealer's, which has one less. */
static void draw_tile(const struct training *training, uint64_t number, nh_deal *deal) {
    nh_random random;
    nh_tiles *hand = &deal->hand[training->seat];
    nh_random_start(&random, training->seed, DRAW_STREAM | number);
    if (nh_tiles_total(hand) < nh_list_hand_size(training->list))
        nh_deal_draw(&random, &deal->wall, 1, hand);
}

static int deal_sheet_hands(const struct training *training, const struct sheet_deals *deals,
                            struct sheet_hands *hands) {
    uint64_t next = deals->first, number;
    while (hands->count < deals->count) {
        nh_deal deal;
        if (!training_deal(training, next, &number) ||
            nh_deal_table(training->list, training->seed, number, &deal) != NH_OK)
            return explain_sheet_end(training, next);
        if (deals->drawn)
            draw_tile(training, number, &deal);
        struct sheet_hand *hand = &hands->hand[hands->count++];
        hand->number = hands->count;
        hand->deal = shows_numbers(deals) ? number : 0;
        hand->tiles = deal.hand[training->seat];
        hand->prevailing = deal.prevailing;
        hand->seat = deals->seat;
        next = number + 1;
    }
    return STATUS_ANSWERED;
}

int hands_dealt(nh_workspace *workspace, const struct sheet_deals *deals,
                struct sheet_hands *hands) {
    uint8_t *chosen;
    struct training training = {.list = nh_workspace_list(workspace),
                                .workspace = workspace,
                                .within = (int)deals->training->within,
                                .seat = (int)deals->seat - (int)NH_WIND_EAST,
                                .seed = deals->seed};
    if (!patterns_chosen(training.list, &deals->training->choice, &chosen))
        return STATUS_USAGE;
    training.chosen = chosen;
    int status = STATUS_USAGE;
    hands->hand = calloc((size_t)deals->count, sizeof *hands->hand);
    if (hands->hand == NULL)
        short_of_memory();
    else
        status = deal_sheet_hands(&training, deals, hands);
    free(chosen);
    return status;
}
