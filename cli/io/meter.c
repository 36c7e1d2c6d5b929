/* How far a batch is, for people who wait: a line on the terminal that is
 * written anew now and then, and the sums at the end. */
#define _POSIX_C_SOURCE 200809L
#include "io/meter.h"

#include <stdio.h>
#include <time.h>
#include <unistd.h>

#define PATIENCE 2.0 /* seconds until anything is told */
#define INTERVAL 0.2 /* seconds between two lines */

static double seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* Answers on the same terminal show by themselves how far it is. */
void progress_start(struct progress *progress, bool quiet) {
    *progress = (struct progress){.started = seconds()};
    progress->watched = !quiet && isatty(STDERR_FILENO) && !isatty(STDOUT_FILENO);
}

void progress_clear(struct progress *progress) {
    if (progress->width > 0)
        fprintf(stderr, "\r%*s\r", progress->width, "");
    progress->width = 0;
}

static void tell(struct progress *progress, double now) {
    unsigned long lines = progress->sums.answered + progress->sums.unread;
    double spent = now - progress->started;
    progress->width = fprintf(stderr, "%lu hands, %.0f a second", lines, (double)lines / spent);
    fflush(stderr);
}

void progress_add(struct progress *progress, struct progress_sums sums) {
    progress->sums.answered += sums.answered;
    progress->sums.unread += sums.unread;
    if (!progress->watched)
        return;
    double now = seconds();
    if (now - progress->started < PATIENCE || now - progress->told < INTERVAL)
        return;
    progress_clear(progress);
    tell(progress, now);
    progress->told = now;
}

static const char *plural(unsigned long count) {
    return count == 1 ? "" : "s";
}

void progress_summary(const struct progress *progress) {
    const struct progress_sums *sums = &progress->sums;
    fprintf(stderr, "%lu hand%s answered, %lu line%s could not be read, %.1f seconds.\n",
            sums->answered, plural(sums->answered), sums->unread, plural(sums->unread),
            seconds() - progress->started);
}
