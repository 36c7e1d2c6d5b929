/* Shows how far a survey is, on a terminal: games, their rate, the time left. */
#ifndef CLI_SURVEY_SURVEY_METER_H
#define CLI_SURVEY_SURVEY_METER_H

#include <stdbool.h>
#include <stdint.h>

struct survey_meter {
    uint64_t done, all;
    bool watched;
    double started, shown;
    int width; /* columns of the line that stands there, 0 for none */
};

/* Seconds of a clock that only goes on. */
double survey_seconds(void);

void survey_meter_start(struct survey_meter *meter, uint64_t all);
void survey_meter_add(struct survey_meter *meter, uint64_t games);
void survey_meter_clear(struct survey_meter *meter);

#endif
