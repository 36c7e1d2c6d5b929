/* The sums of a practice one by one, and which of them are the latest. */
#include "progress/practice.h"
#include "progress/practice_records.h"

void practice_first(struct practice *practice, enum practice_kind kind) {
    practice->failed = practice->failed || !sorter_begin(&practice->sums[kind]);
}

bool practice_next(struct practice *practice, enum practice_kind kind, struct practice_sum *sum) {
    struct sorter *sums = &practice->sums[kind];
    size_t size;
    const unsigned char *bytes = practice->failed ? NULL : sorter_next(sums, &size);
    practice->failed = practice->failed || sums->failed;
    if (bytes == NULL)
        return false;
    sum_record_read(bytes, sum);
    return true;
}

/* Puts a list and level where it belongs; the earliest goes where there are `most`. */
static size_t place_late(struct practice_late late[], size_t count, size_t most,
                         struct practice_late one) {
    size_t at = count < most ? count : most - 1;
    if (count == most && late[at].latest > one.latest)
        return count;
    for (; at > 0 && late[at - 1].latest < one.latest; at--)
        late[at] = late[at - 1];
    late[at] = one;
    return count < most ? count + 1 : count;
}

size_t practice_latest(struct practice *practice, size_t sessions_least,
                       struct practice_late late[], size_t most, size_t *others) {
    struct practice_sum sum;
    size_t count = 0;
    size_t all = 0;
    practice_first(practice, PRACTICE_GROUPS);
    while (practice_next(practice, PRACTICE_GROUPS, &sum)) {
        if (sum.sessions < sessions_least)
            continue;
        all++;
        count = place_late(late, count, most, (struct practice_late){sum.group, sum.latest});
    }
    *others = all - count;
    return count;
}
