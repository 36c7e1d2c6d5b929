/* Answers the hands of a task: the words of the command, or lines of input. */
#define _POSIX_C_SOURCE 200809L
#include "hands/answer.h"
#include "io/message.h"
#include "io/output.h"
#include "system/halt.h"
#include "task.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int answer_words(const struct batch_work *work, int count, char *const *words) {
    char *hand = join_words(count, words);
    void *worker = work->begin(work->context);
    int status = STATUS_USAGE;
    if (hand == NULL || worker == NULL) {
        short_of_memory();
    } else {
        struct line line = line_of_argument(hand);
        status = work->answer(worker, &line) ? STATUS_ANSWERED : STATUS_UNREAD;
    }
    if (worker != NULL)
        work->end(worker);
    free(hand);
    return status;
}

static int status_of(enum batch_result result, const struct input *input,
                     const struct hand_sums *sums) {
    switch (result) {
    case BATCH_STOPPED:
        if (output_flush()) /* otherwise output_finish says how it ended */
            complain("stopped after %lu lines", sums->answered + sums->unread);
        return STATUS_STOPPED;
    case BATCH_FAILED:
        complain("%s could not be read: %s", input_source(input), strerror(input->error));
        return STATUS_USAGE;
    case BATCH_MEMORY:
        short_of_memory();
        return STATUS_USAGE;
    case BATCH_DONE:
        break;
    }
    return sums->unread > 0 ? STATUS_UNREAD : STATUS_ANSWERED;
}

bool hands_prompt(const struct input *input) {
    bool keyboard = false;
    for (size_t i = 0; i < input->count; i++)
        keyboard = keyboard || (strcmp(input->names[i], "-") == 0 && isatty(STDIN_FILENO));
    if (keyboard)
        fprintf(stderr, "Type one hand a line, such as 2468B 246C 33D EEW R Wh; Ctrl-D ends.\n");
    return keyboard;
}

static bool is_watched(const struct batch_work *work, const struct hand_sums *sums) {
    return work->apart && isatty(STDERR_FILENO) && sums->answered + sums->unread > 1;
}

static long processors(void) {
    long count = sysconf(_SC_NPROCESSORS_ONLN);
    return count < 1 ? 1 : count > (long)BATCH_JOBS_MAX ? (long)BATCH_JOBS_MAX : count;
}

int answer_input(const struct batch_work *work, const struct texts *files, unsigned jobs,
                 bool summary) {
    static const char *const standard_input[] = {"-"};
    struct input input = {.names = standard_input, .count = 1};
    if (files->count > 0)
        input = (struct input){.names = files->text, .count = (size_t)files->count};
    struct hand_meter meter;
    hand_meter_start(&meter, hands_prompt(&input));
    halt_on_signals();
    enum batch_result result =
        batch_run(&input, work, jobs > 0 ? jobs : (unsigned)processors(), &meter);
    meter_clear(&meter.meter);
    int status = status_of(result, &input, &meter.sums);
    if ((summary || is_watched(work, &meter.sums)) && output_flush())
        hand_meter_summary(&meter);
    input_free(&input);
    return status;
}
