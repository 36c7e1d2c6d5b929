/* How far a batch of hands is: sums of its lines, a line on the terminal meanwhile, and a
 * summary at the end. */
#ifndef CLI_HANDS_HAND_METER_H
#define CLI_HANDS_HAND_METER_H

#include "io/meter.h"

/* Lines of input that were answered, and those that could not be read. */
struct hand_sums {
    unsigned long answered, unread;
};

struct hand_meter {
    struct hand_sums sums;
    struct meter meter;
};

/* `quiet` if the hands are typed on the terminal. */
void hand_meter_start(struct hand_meter *hands, bool quiet);

/* Adds to the sums, and shows them if the line is due. */
void hand_meter_add(struct hand_meter *hands, struct hand_sums sums);

/* Writes the sums and the time to standard error. */
void hand_meter_summary(const struct hand_meter *hands);

#endif
