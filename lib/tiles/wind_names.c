/* The words for winds and for the directions of a pass. */
#include "nearhand.h"

#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

const char *nh_wind_name(nh_wind wind) {
    static const char *const names[] = {
        [NH_WIND_EAST] = "east",
        [NH_WIND_SOUTH] = "south",
        [NH_WIND_WEST] = "west",
        [NH_WIND_NORTH] = "north",
    };
    return (unsigned)wind < COUNT_OF(names) ? names[wind] : NULL;
}

char nh_wind_letter(nh_wind wind) {
    static const char letters[] = {
        [NH_WIND_EAST] = 'E',
        [NH_WIND_SOUTH] = 'S',
        [NH_WIND_WEST] = 'W',
        [NH_WIND_NORTH] = 'N',
    };
    return (char)((unsigned)wind < COUNT_OF(letters) ? letters[wind] : 0);
}

const char *nh_direction_name(nh_direction direction) {
    static const char *const names[] = {
        [NH_RIGHT] = "right", [NH_ACROSS] = "across", [NH_LEFT] = "left"};
    return (unsigned)direction < COUNT_OF(names) ? names[direction] : NULL;
}
