/* Shows how far a survey is, on a terminal. */
#define _POSIX_C_SOURCE 200809L
#include "survey/survey_meter.h"
#include "io/text.h"

#include <unistd.h>

#define INTERVAL 0.5

void survey_meter_start(struct survey_meter *survey, uint64_t all) {
    *survey = (struct survey_meter){.all = all};
    meter_start(&survey->meter, 0, INTERVAL, isatty(STDERR_FILENO) != 0);
}

void survey_meter_show(struct survey_meter *survey, uint64_t done) {
    double spent = meter_seconds(&survey->meter);
    char left[CLOCK_SIZE];
    if (!meter_is_due(&survey->meter) || spent <= 0 || done == 0)
        return;
    double rate = (double)done / spent;
    clock_text((double)(survey->all - done) / rate, left);
    meter_show(&survey->meter, "%llu of %llu games, %.1f a second, %s left",
               (unsigned long long)done, (unsigned long long)survey->all, rate, left);
}
