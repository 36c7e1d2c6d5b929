/* Shows how far a survey is, on a terminal: games, their rate, the time left. */
#ifndef CLI_SURVEY_SURVEY_METER_H
#define CLI_SURVEY_SURVEY_METER_H

#include "io/meter.h"

#include <stdint.h>

struct survey_meter {
    uint64_t all;
    struct meter meter;
};

void survey_meter_start(struct survey_meter *survey, uint64_t all);
void survey_meter_show(struct survey_meter *survey, uint64_t done);

#endif
