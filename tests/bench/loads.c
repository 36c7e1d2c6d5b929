/* What it takes to load free-form lists (freeform.h): lists of patterns each of which
 * loads alone, by style. Each list is read in time of the processor, by an allocator
 * that notes the most memory held at a time.
 *
 *     loads [LISTS [PATTERNS [SEED]]]
 *     loads --write STYLE PATTERNS SEED      the list that this makes, on standard output
 *
 * Styles are plain, mixed and wild. Under callgrind with --toggle-collect=nh_list_read the
 * instructions of each list in turn are those of its load (and of its patterns alone). */
#include "../freeform.h"
#include "timing.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SEED 20250615

static const char *const styles[] = {"plain", "mixed", "wild"};

/* ---------------------------------------------------------------- memory --- */

/* Bytes held now, and the most so far. Each block begins with its size. */
struct held {
    size_t now, most;
};

union header {
    size_t size;
    long double align;
};

static void *held_resize(void *context, void *pointer, size_t size) {
    struct held *held = context;
    union header *block = pointer != NULL ? (union header *)pointer - 1 : NULL;
    size_t before = block != NULL ? block->size : 0;
    union header *moved = realloc(block, sizeof *block + size);
    if (moved == NULL)
        return NULL;
    moved->size = size;
    /* while a block moves, both are held */
    size_t moving = held->now + size;
    held->now = moving - before;
    held->most = moving > held->most ? moving : held->most;
    return moved + 1;
}

static void held_release(void *context, void *pointer) {
    struct held *held = context;
    if (pointer == NULL)
        return;
    union header *block = (union header *)pointer - 1;
    held->now -= block->size;
    free(block);
}

/* ----------------------------------------------------------------- loads --- */

struct load {
    double time; /* in milliseconds */
    size_t most; /* bytes */
    char refusal[300];
};

/* Reads a list; false when it is refused. */
static bool load_text(const char *text, struct load *load) {
    struct held held = {0, 0};
    const nh_allocator allocator = {held_resize, held_release, &held};
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    double start = cpu_ms();
    nh_status status = nh_list_read(text, strlen(text), &allocator, &list, &mistakes);
    load->time = cpu_ms() - start;
    load->most = held.most;
    load->refusal[0] = '\0';
    if (status != NH_OK)
        snprintf(load->refusal, sizeof load->refusal, "%s",
                 nh_mistakes_size(mistakes) > 0 ? nh_mistakes_at(mistakes, 0)->text
                                                : nh_status_text(status));
    nh_mistakes_free(mistakes);
    nh_list_free(list);
    return status == NH_OK;
}

/* A list of patterns that each load alone. How many were tried, and refused for what
 * they stand for, not for standing for nothing; what the slowest of those kept took. */
struct making {
    int tried, refused;
    double slowest;
};

static char *make_list(enum freeform_style style, int patterns, uint64_t seed,
                       struct making *making) {
    struct freeform list;
    *making = (struct making){0, 0, 0};
    freeform_start(&list, seed, style);
    while (list.patterns < patterns) {
        struct load load;
        char *pattern = freeform_pattern(&list);
        char *alone = freeform_list(&list, pattern);
        making->tried++;
        if (load_text(alone, &load)) {
            freeform_keep(&list, pattern);
            making->slowest = load.time > making->slowest ? load.time : making->slowest;
        }
        making->refused += strstr(load.refusal, "combinations") != NULL;
        free(alone);
        free(pattern);
    }
    char *text = freeform_list(&list, NULL);
    freeform_end(&list);
    return text;
}

static void report_list(enum freeform_style style, int patterns, uint64_t seed) {
    struct making making;
    struct load load;
    char *text = make_list(style, patterns, seed, &making);
    load_text(text, &load);
    printf("%-6s %6llu %8.0f ms %6.0f MiB   alone at most %5.0f ms, refused %d of %d%s%s\n",
           styles[style], (unsigned long long)seed, load.time, (double)load.most / (1 << 20),
           making.slowest, making.refused, making.tried,
           load.refusal[0] != '\0' ? "   REFUSED: " : "", load.refusal);
    fflush(stdout);
    free(text);
}

static int write_list(const char *style_name, int patterns, uint64_t seed) {
    for (int style = 0; style < FREEFORM_STYLES; style++) {
        if (strcmp(style_name, styles[style]) == 0) {
            struct making making;
            char *text = make_list((enum freeform_style)style, patterns, seed, &making);
            fputs(text, stdout);
            free(text);
            return EXIT_SUCCESS;
        }
    }
    fprintf(stderr, "styles are plain, mixed and wild\n");
    return EXIT_FAILURE;
}

int main(int count, char **arguments) {
    if (count == 5 && strcmp(arguments[1], "--write") == 0)
        return write_list(arguments[2], atoi(arguments[3]), strtoull(arguments[4], NULL, 0));
    int lists = count > 1 ? atoi(arguments[1]) : 10;
    int patterns = count > 2 ? atoi(arguments[2]) : 200;
    uint64_t seed = count > 3 ? strtoull(arguments[3], NULL, 0) : SEED;
    for (int style = 0; style < FREEFORM_STYLES; style++)
        for (int i = 0; i < lists; i++)
            report_list((enum freeform_style)style, patterns, seed + (uint64_t)i);
    return EXIT_SUCCESS;
}
