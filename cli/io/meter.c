/* Shows how far a batch is: a line on the terminal that is renewed now and then, and
 * the sums at the end. */
#define _POSIX_C_SOURCE 200809L
#include "io/meter.h"
#include "io/descriptor.h"
#include "io/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <time.h>
#include <unistd.h>

#define PATIENCE 2.0 /* seconds until the first line */
#define INTERVAL 0.2 /* seconds between two lines */

static double seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* Writes to standard error, and returns the bytes. */
__attribute__((format(printf, 1, 2))) static int write_format(const char *format, ...) {
    char text[256];
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    error_write(text, (size_t)length);
    return length;
}

/* Answers on the same terminal show how far the batch is anyway. */
void meter_start(struct meter *meter, bool quiet) {
    *meter = (struct meter){.started = seconds()};
    meter->watched = !quiet && isatty(STDERR_FILENO) && !isatty(STDOUT_FILENO);
}

void meter_clear(struct meter *meter) {
    if (meter->width > 0)
        write_format("\r%*s\r", meter->width, "");
    meter->width = 0;
}

static void show_meter(struct meter *meter, double now) {
    unsigned long lines = meter->sums.answered + meter->sums.unread;
    double spent = now - meter->started;
    meter->width = write_format("%lu hands, %.0f a second", lines, (double)lines / spent);
}

void meter_add(struct meter *meter, struct meter_sums sums) {
    meter->sums.answered += sums.answered;
    meter->sums.unread += sums.unread;
    if (!meter->watched)
        return;
    double now = seconds();
    if (now - meter->started < PATIENCE || now - meter->shown < INTERVAL)
        return;
    meter_clear(meter);
    show_meter(meter, now);
    meter->shown = now;
}

void meter_summary(const struct meter *meter) {
    const struct meter_sums *sums = &meter->sums;
    write_format("%lu hand%s answered, %lu line%s could not be read, %.1f seconds.\n",
                 sums->answered, plural(sums->answered), sums->unread, plural(sums->unread),
                 seconds() - meter->started);
}
