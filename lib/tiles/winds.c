/* Winds: which are in range. */
#include "base/status.h"
#include "tiles/tiles.h"

nh_status check_wind(const char *which, nh_wind wind, nh_error *error) {
    if ((unsigned)wind <= NH_WIND_NORTH)
        return NH_OK;
    return error_set(error, NH_ERROR_ARGUMENT, 0, "the %s wind is %d; 0 (unknown) to %d", which,
                     (int)wind, NH_WIND_NORTH);
}
