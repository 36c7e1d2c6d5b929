/* Shows how far a survey is, on a terminal. */
#define _POSIX_C_SOURCE 200809L
#include "survey/survey_meter.h"
#include "io/descriptor.h"
#include "io/text.h"

#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#define INTERVAL 0.5 /* seconds between two lines */

double survey_seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

void survey_meter_start(struct survey_meter *meter, uint64_t all) {
    *meter = (struct survey_meter){.all = all, .started = survey_seconds()};
    meter->watched = isatty(STDERR_FILENO) != 0;
}

void survey_meter_clear(struct survey_meter *meter) {
    char line[256];
    int length = snprintf(line, sizeof line, "\r%*s\r", meter->width, "");
    if (meter->width > 0)
        error_write(line, (size_t)length);
    meter->width = 0;
}

void survey_meter_add(struct survey_meter *meter, uint64_t games) {
    double now = survey_seconds(), spent = now - meter->started;
    char line[128], left[CLOCK_SIZE];
    meter->done += games;
    if (!meter->watched || now - meter->shown < INTERVAL || spent <= 0)
        return;
    double rate = (double)meter->done / spent;
    clock_text((double)(meter->all - meter->done) / rate, left);
    survey_meter_clear(meter);
    meter->width =
        snprintf(line, sizeof line, "%llu of %llu games, %.1f a second, %s left",
                 (unsigned long long)meter->done, (unsigned long long)meter->all, rate, left);
    error_write(line, (size_t)meter->width);
    meter->shown = now;
}
