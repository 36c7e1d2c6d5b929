/* Deals that train patterns. */
#include "deal/training.h"
#include "io/message.h"
#include "system/halt.h"

#include <inttypes.h>

/* ------------------------------------------------------------- options --- */

bool training_picks(const struct training_options *options) {
    return patterns_restricted(&options->choice);
}

bool training_agrees(const struct training_options *options) {
    if (options->within < 0 || training_picks(options))
        return true;
    misused("--within needs --aim, --section or --points-from");
    return false;
}

/* --------------------------------------------------------------- deals --- */

/* Tiles away of the closest chosen pattern, or of any for NULL. */
static int closest(const uint8_t *away, const uint8_t *chosen, size_t size) {
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < size; i++)
        if ((chosen == NULL || chosen[i] != 0) && away[i] < least)
            least = away[i];
    return least;
}

static bool trains(const struct training *training, const nh_deal *deal) {
    uint8_t away[NH_PATTERNS_MAX];
    size_t size = nh_list_size(training->list);
    nh_situation situation = NH_SITUATION;
    situation.prevailing = deal->prevailing;
    situation.seat = nh_seat_wind(training->seat);
    if (nh_distances(training->workspace, &deal->hand[training->seat], &situation, away, NULL) !=
        NH_OK)
        return false;
    int least = closest(away, training->chosen, size);
    if (training->within >= 0)
        return least <= training->within;
    return least != NH_AWAY_NONE && least == closest(away, NULL, size);
}

bool training_deal(const struct training *training, uint64_t first, uint64_t *number) {
    *number = first;
    for (long i = 0; training->chosen != NULL && i < TRAINING_DEALS_MAX && !halted(); i++) {
        nh_deal deal;
        if (nh_deal_table(training->list, training->seed, *number, &deal) != NH_OK)
            return false;
        if (trains(training, &deal))
            return true;
        ++*number;
    }
    return training->chosen == NULL;
}

void training_complain(const struct training *training, uint64_t first) {
    complain("none of the deals %" PRIu64 " to %" PRIu64 " of this seed will do: try %s", first,
             first + TRAINING_DEALS_MAX - 1,
             training->within >= 0 ? "a larger --within" : "--within N");
}
