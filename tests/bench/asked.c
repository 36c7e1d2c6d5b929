/* The questions of the module for browsers asked of this machine's own code, text in and
 * text out: what tests/wasm/figures sets beside the module.
 *
 *     asked LIST.json [portable] <HANDS      a hand a line; prints a line of JSON
 *
 *     portable   distances by the portable kernels; draws are counted by the processor's best
 *
 * Each time is the best of several, and the median of those over the hands: what else runs
 * on the machine then counts little. */
#include "wasm/asked.h"
#include "compile/compiled.h"
#include "distance/kernel.h"
#include "timing.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TIMES 15
#define LOADS 40
#define HANDS_MAX 100

/* Those of lib/wasm/module.c. */
void *nearhand_reserve(size_t size);
struct desk *nearhand_open(const char *json, size_t length);
void nearhand_close(struct desk *desk);
const char *nearhand_ask(struct desk *desk, const char *json, size_t length);

static char *read_file(const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    char *text = malloc(1 << 22);
    if (file == NULL || text == NULL) {
        fprintf(stderr, "%s cannot be read\n", path);
        exit(2);
    }
    *length = fread(text, 1, 1 << 22, file);
    fclose(file);
    return text;
}

static double best_load(const char *text, size_t length) {
    double best = 1e99;
    for (int i = 0; i < LOADS; i++) {
        double begun = passed_ns();
        struct desk *desk = nearhand_open(text, length);
        double took = passed_ns() - begun;
        best = took < best ? took : best;
        nearhand_close(desk);
    }
    return best;
}

/* Of one question about one hand. */
static double best_answer(struct desk *desk, const char *question) {
    double best = 1e99;
    for (int i = 0; i < TIMES; i++) {
        double begun = passed_ns();
        nearhand_ask(desk, question, strlen(question));
        double took = passed_ns() - begun;
        best = took < best ? took : best;
    }
    return best;
}

static double median_answer(struct desk *desk, char hands[][128], size_t count,
                            const char *question) {
    double times[HANDS_MAX];
    for (size_t i = 0; i < count; i++) {
        char text[256];
        snprintf(text, sizeof text, "{\"hand\":\"%.127s\",%.64s}", hands[i], question);
        times[i] = best_answer(desk, text);
    }
    return spread_of(times, count).median;
}

int main(int argc, char **argv) {
    static char hands[HANDS_MAX][128];
    size_t length, count = 0;
    if (argc < 2)
        return 2;
    nearhand_reserve(1);
    char *text = read_file(argv[1], &length);
    while (count < HANDS_MAX && fgets(hands[count], sizeof *hands, stdin) != NULL) {
        hands[count][strcspn(hands[count], "\n")] = '\0';
        count++;
    }
    double load = best_load(text, length);
    struct desk *desk = nearhand_open(text, length);
    if (desk == NULL || count == 0)
        return 2;
    if (argc > 2)
        desk->list->kernels = kernels_at(0);
    printf("{\"load\": %.3f, ", load / 1e6);
    printf("\"rank\": %.2f, ",
           median_answer(desk, hands, count, "\"ask\":\"rank\",\"top\":3") / 1e3);
    printf("\"pass\": %.3f}\n",
           median_answer(desk, hands, count, "\"ask\":\"pass\",\"top\":5") / 1e6);
    nearhand_close(desk);
    free(text);
    return 0;
}
