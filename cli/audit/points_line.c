/* Points against odds: the line that a list's patterns follow. */
#include "audit/points_line.h"

#include <math.h>
#include <stdlib.h>

#define FAR_TIMES 3.0
#define ROUNDING 1e-9 /* of the most points: no distance at all */

static int double_order(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

/* Sorts the values. */
static double median_of(double *values, size_t count) {
    qsort(values, count, sizeof *values, double_order);
    return count % 2 == 1 ? values[count / 2] : (values[count / 2 - 1] + values[count / 2]) / 2;
}

/* How often odds double up to those of a chance. */
static double doublings(double chance) {
    return -log2(chance);
}

/* The median of the slopes between any two; 0 where all have the same odds. */
static double median_slope(struct points_place *const *places, size_t count, double *slopes) {
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < i; j++) {
            double rarer = doublings(places[i]->chance) - doublings(places[j]->chance);
            if (rarer < 0 || rarer > 0)
                slopes[found++] = (places[i]->points - places[j]->points) / rarer;
        }
    return found == 0 ? 0 : median_of(slopes, found);
}

static void mark_far(struct points_place *const *places, size_t count, double *distances) {
    double most = 0;
    for (size_t i = 0; i < count; i++) {
        distances[i] = fabs(places[i]->points - places[i]->by_line);
        most = fmax(most, fabs(places[i]->points));
    }
    double near = FAR_TIMES * median_of(distances, count) + ROUNDING * most;
    for (size_t i = 0; i < count; i++) {
        double above = places[i]->points - places[i]->by_line;
        places[i]->far = above > near ? 1 : above < -near ? -1 : 0;
    }
}

/* `room` holds as many numbers as there are pairs, and pairs are more than places. */
static void fit_line(struct points_place *const *places, size_t count, double *room,
                     struct points_line *line) {
    double slope = median_slope(places, count, room);
    for (size_t i = 0; i < count; i++)
        room[i] = places[i]->points - slope * doublings(places[i]->chance);
    double height = median_of(room, count);
    for (size_t i = 0; i < count; i++) {
        places[i]->by_line = height + slope * doublings(places[i]->chance);
        room[i] = -log10(places[i]->chance);
    }
    line->drawn = true;
    line->odds = pow(10, floor(median_of(room, count) + 0.5));
    line->doubling = slope;
    line->points = height + slope * log2(line->odds);
    mark_far(places, count, room);
}

bool points_line_draw(struct points_place *const *places, size_t count, struct points_line *line) {
    *line = (struct points_line){.drawn = false};
    struct points_place **counting = calloc(count + 1, sizeof(struct points_place *));
    size_t kept = 0;
    for (size_t i = 0; counting != NULL && i < count; i++)
        if (places[i]->counts)
            counting[kept++] = places[i];
    double *room = calloc(kept * kept / 2 + 1, sizeof *room);
    bool good = counting != NULL && room != NULL;
    if (good && kept >= LINE_PATTERNS_LEAST)
        fit_line(counting, kept, room, line);
    free(room);
    free(counting);
    return good;
}
