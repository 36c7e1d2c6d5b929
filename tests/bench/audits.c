/* The benchmark of audits: the figures of every pattern of a list, the odds of being
 * dealt it with jokers, the relation of every two and the ways that they share. Times are
 * of the processor, in milliseconds; behind them is a checksum of the answers, which two
 * builds must have alike.
 *
 *     audits LIST.json ... */
#include "nearhand.h"
#include "timing.h"

#include <stdio.h>

/* What the calls of one kind took. */
struct times {
    const char *name;
    size_t calls, past_limit;
    double all, longest;
    uint64_t checksum;
};

static void add_call(struct times *times, double start, nh_status status, uint64_t answer) {
    double took = cpu_ms() - start;
    times->calls++;
    times->past_limit += status == NH_ERROR_LIMIT;
    times->all += took;
    times->longest = took > times->longest ? took : times->longest;
    if (status == NH_OK)
        times->checksum = checksum_add(times->checksum, &answer, 1);
}

static void print_times(const struct times *times) {
    printf("  %-12s %6zu calls %9.1f ms  longest %7.2f ms  %zu past the limit  %016llx\n",
           times->name, times->calls, times->all, times->longest, times->past_limit,
           (unsigned long long)times->checksum);
}

static void time_patterns(const nh_list *list) {
    struct times figures = {.name = "figures"}, dealt = {.name = "with jokers"};
    for (size_t i = 0; i < nh_list_size(list); i++) {
        nh_figures count = {.targets = {{0}}};
        nh_dealt odds = {.hands = {{0}}};
        double start = cpu_ms();
        nh_status status = nh_audit_figures(list, i, NULL, &count, NULL);
        add_call(&figures, start, status, count.targets.limb[0] ^ count.ways.limb[0]);
        start = cpu_ms();
        status = nh_audit_dealt(list, i, NULL, &odds, NULL);
        add_call(&dealt, start, status, odds.hands.limb[0]);
    }
    print_times(&figures);
    print_times(&dealt);
}

static void time_pairs(const nh_list *list) {
    struct times relations = {.name = "relations"}, shared = {.name = "shared ways"};
    for (size_t a = 0; a < nh_list_size(list); a++)
        for (size_t b = a + 1; b < nh_list_size(list); b++) {
            nh_relation relation = NH_NEITHER;
            nh_overlap overlap = {.ways = {{0}}};
            double start = cpu_ms();
            nh_status status = nh_audit_relation(list, a, b, NULL, &relation, NULL);
            add_call(&relations, start, status, relation);
            start = cpu_ms();
            status = nh_audit_overlap(list, a, b, NULL, &overlap, NULL);
            add_call(&shared, start, status, overlap.ways.limb[0]);
        }
    print_times(&relations);
    print_times(&shared);
}

int main(int count, char **paths) {
    for (int i = 1; i < count; i++) {
        nh_list *list = NULL;
        if (nh_list_load(paths[i], NULL, &list, NULL) != NH_OK) {
            fprintf(stderr, "%s cannot be loaded\n", paths[i]);
            return 1;
        }
        printf("%s: audits of %zu patterns\n", nh_list_title(list), nh_list_size(list));
        time_patterns(list);
        time_pairs(list);
        nh_list_free(list);
    }
    return 0;
}
