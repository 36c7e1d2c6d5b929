/* Sorted runs of numbers merged two by two, as often as it takes. */
#include "count/contents.h"

#include <string.h>

/* Merges a[0..a_count) and b[0..b_count) into `out`, each number once. */
static size_t merge_two(const uint64_t *a, size_t a_count, const uint64_t *b, size_t b_count,
                        uint64_t *out) {
    size_t i = 0, j = 0, kept = 0;
    while (i < a_count && j < b_count) {
        uint64_t x = a[i], y = b[j];
        i += x <= y;
        j += y <= x;
        out[kept++] = x < y ? x : y;
    }
    memcpy(out + kept, a + i, (a_count - i) * sizeof *out);
    kept += a_count - i;
    memcpy(out + kept, b + j, (b_count - j) * sizeof *out);
    return kept + b_count - j;
}

/* Halves the number of runs. */
static void merge_once(struct number_runs *runs) {
    size_t from = 0, to = 0, made = 0;
    for (size_t r = 0; r < runs->run_count; r += 2) {
        size_t middle = runs->ends[r];
        size_t end = r + 1 < runs->run_count ? runs->ends[r + 1] : middle;
        to += merge_two(runs->items + from, middle - from, runs->items + middle, end - middle,
                        runs->spare + to);
        runs->ends[made++] = to;
        from = end;
    }
    runs->run_count = made;
    uint64_t *items = runs->items;
    runs->items = runs->spare;
    runs->spare = items;
}

size_t merge_runs(struct number_runs *runs) {
    while (runs->run_count > 1)
        merge_once(runs);
    return runs->run_count == 0 ? 0 : runs->ends[0];
}
