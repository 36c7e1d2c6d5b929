/* A line on the terminal that shows how far long work is, and is renewed now and then. */
#include "io/meter.h"
#include "system/clock.h"
#include "system/descriptor.h"

#include <stdarg.h>
#include <stdio.h>

#define LINE_SIZE 256

void meter_start(struct meter *meter, double patience, double interval, bool watched) {
    *meter = (struct meter){
        .patience = patience, .interval = interval, .watched = watched, .started = clock_seconds()};
}

double meter_seconds(const struct meter *meter) {
    return clock_seconds() - meter->started;
}

bool meter_is_due(const struct meter *meter) {
    if (!meter->watched)
        return false;
    double now = clock_seconds();
    return now - meter->started >= meter->patience && now - meter->shown >= meter->interval;
}

void meter_show(struct meter *meter, const char *format, ...) {
    char line[LINE_SIZE];
    va_list arguments;
    meter_clear(meter);
    va_start(arguments, format);
    meter->width = vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    error_write(line, (size_t)meter->width);
    meter->shown = clock_seconds();
}

void meter_clear(struct meter *meter) {
    char line[LINE_SIZE];
    int length = snprintf(line, sizeof line, "\r%*s\r", meter->width, "");
    if (meter->width > 0)
        error_write(line, (size_t)length);
    meter->width = 0;
}
