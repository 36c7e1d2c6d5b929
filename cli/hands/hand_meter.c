/* How far a batch of hands is: sums of its lines, a line on the terminal meanwhile, and a
 * summary at the end. */
#define _POSIX_C_SOURCE 200809L
#include "hands/hand_meter.h"
#include "io/text.h"
#include "system/descriptor.h"

#include <stdio.h>
#include <unistd.h>

#define PATIENCE 2.0
#define INTERVAL 0.2

/* Answers on the same terminal show how far the batch is anyway. */
void hand_meter_start(struct hand_meter *hands, bool quiet) {
    *hands = (struct hand_meter){.sums = {0, 0}};
    meter_start(&hands->meter, PATIENCE, INTERVAL,
                !quiet && isatty(STDERR_FILENO) && !isatty(STDOUT_FILENO));
}

void hand_meter_add(struct hand_meter *hands, struct hand_sums sums) {
    hands->sums.answered += sums.answered;
    hands->sums.unread += sums.unread;
    unsigned long lines = hands->sums.answered + hands->sums.unread;
    if (meter_is_due(&hands->meter))
        meter_show(&hands->meter, "%lu hands, %.0f a second", lines,
                   (double)lines / meter_seconds(&hands->meter));
}

void hand_meter_summary(const struct hand_meter *hands) {
    const struct hand_sums *sums = &hands->sums;
    char text[256];
    int length = snprintf(text, sizeof text,
                          "%lu hand%s answered, %lu line%s could not be read, %.1f seconds.\n",
                          sums->answered, plural(sums->answered), sums->unread,
                          plural(sums->unread), meter_seconds(&hands->meter));
    error_write(text, (size_t)length);
}
