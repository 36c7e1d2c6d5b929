/* Worst cases by search: lists of wild free-form patterns (freeform.h) are changed a
 * pattern at a time, and a change stays where it makes the list take longer, to load, to
 * audit, to rank or pass a hand, to discard, claim or read, or to find what a set on the
 * table leaves of the list. Times are of the processor and of one question; a list
 * or a hand that is refused counts as well, with the time that takes.
 *
 *     worst [SECONDS [SEED [FOLDER]]]      for each of the questions
 *
 * FOLDER gets the worst list of each, QUESTION.json.
 */
#define _POSIX_C_SOURCE 200809L
#include "../ask.h"
#include "../freeform.h"
#include "timing.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATTERNS = 40, ROWS = 256 };

/* A list in the making: some of the patterns may stand in it several times. */
struct climb {
    struct freeform source;
    char *pattern[PATTERNS];
    int patterns;
};

/* The list, each pattern under a name of its own; the caller frees it. */
static char *text_of(const struct climb *climb) {
    struct freeform list = {.style = climb->source.style, .jokers = climb->source.jokers};
    for (int i = 0; i < climb->patterns; i++) {
        char name[32];
        const char *groups = strstr(climb->pattern[i], ",\"groups\"");
        int length = snprintf(name, sizeof name, "{\"name\":\"%d\"", i);
        size_t size = (size_t)length + strlen(groups) + 1;
        char *pattern = malloc(size);
        if (pattern == NULL)
            exit(EXIT_FAILURE);
        snprintf(pattern, size, "%s%s", name, groups);
        freeform_keep(&list, pattern);
        free(pattern);
    }
    char *text = freeform_list(&list, NULL);
    freeform_end(&list);
    return text;
}

/* ------------------------------------------------------------- questions --- */

static void audit(const nh_list *list) {
    for (size_t i = 0; i < nh_list_size(list); i++) {
        nh_figures figures;
        ask_figures(list, i, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &figures);
    }
}

static void rank(const nh_list *list, nh_workspace *workspace) {
    static nh_ranked rows[ROWS];
    nh_situation situation = NH_SITUATION;
    nh_tiles hand = {{0}};
    nh_ranking ranking;
    hand.count[NH_DOT_1 + 4] = 1;
    ask_rank(workspace, &hand, &situation, NH_DRAWS_DEFAULT, NULL, rows, nh_list_size(list),
             &ranking, NULL);
}

static void pass(const nh_list *list, nh_workspace *workspace) {
    static nh_choice choices[NH_PASSES_MAX];
    nh_situation situation = NH_SITUATION;
    nh_passing passing;
    nh_deal deal;
    if (nh_deal_table(list, 1, 0, &deal) == NH_OK)
        ask_pass(workspace, &deal.hand[0], &situation, 3, NULL, choices, NH_PASSES_MAX, &passing,
                 NULL);
}

static void discard(nh_workspace *workspace) {
    const nh_list *list = nh_workspace_list(workspace);
    nh_discard_choice choices[NH_DISCARDS_MAX];
    nh_discarding discarding;
    nh_deal deal;
    if (nh_deal_table(list, 1, 0, &deal) == NH_OK)
        nh_discard(workspace, &deal.hand[0], NULL, choices, NH_DISCARDS_MAX, &discarding, NULL);
}

static void claim(nh_workspace *workspace) {
    static nh_claim claims[NH_CLAIMS_MAX];
    nh_claiming claiming;
    nh_deal deal;
    if (nh_deal_table(nh_workspace_list(workspace), 1, 0, &deal) == NH_OK)
        nh_claims(workspace, &deal.hand[1], NULL, claims, NH_CLAIMS_MAX, &claiming, NULL);
}

static void read_player(const nh_list *list) {
    nh_reading *reading = NULL;
    nh_read(list, NULL, NULL, &reading, NULL);
    nh_reading_free(reading);
}

/* What a pung leaves of the list, and a hand ranked by that. */
static void open_set(const nh_list *list) {
    const nh_set pung = {NH_PUNG, NH_DOT_1 + 4, 3, 0};
    nh_list *rest = NULL;
    nh_workspace *workspace = NULL;
    if (nh_list_rest(list, &pung, 1, NULL, &rest, NULL) == NH_OK &&
        nh_workspace_new(rest, NULL, &workspace) == NH_OK)
        rank(rest, workspace);
    nh_workspace_free(workspace);
    nh_list_free(rest);
}

enum question { LOAD, AUDIT, RANK, PASS, DISCARD, CLAIM, READ, REST, QUESTIONS };

static const char *const names[] = {"load",    "audit", "rank", "pass",
                                    "discard", "claim", "read", "rest"};

static void ask(enum question question, const nh_list *list, nh_workspace *workspace) {
    switch (question) {
    case AUDIT:
        audit(list);
        return;
    case RANK:
        rank(list, workspace);
        return;
    case PASS:
        pass(list, workspace);
        return;
    case DISCARD:
        discard(workspace);
        return;
    case CLAIM:
        claim(workspace);
        return;
    case READ:
        read_player(list);
        return;
    default:
        open_set(list);
        return;
    }
}

/* The milliseconds that a question of this list takes. */
static double cost_of(const struct climb *climb, enum question question) {
    nh_list *list = NULL;
    nh_workspace *workspace = NULL;
    char *text = text_of(climb);
    double start = cpu_ms(), cost = 0;
    nh_list_read(text, strlen(text), NULL, &list, NULL);
    if (question == LOAD || list == NULL)
        cost = question == LOAD ? cpu_ms() - start : 0;
    else if (nh_workspace_new(list, NULL, &workspace) == NH_OK) {
        start = cpu_ms();
        ask(question, list, workspace);
        cost = cpu_ms() - start;
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
    free(text);
    return cost;
}

/* ----------------------------------------------------------------- climb --- */

/* A new pattern in a place, or one of the others once more. Gives what stood there. */
static char *change(struct climb *climb, int *place) {
    random_source *random = &climb->source.source;
    *place = random_below(random, PATTERNS);
    if (*place >= climb->patterns)
        *place = climb->patterns++;
    char *before = climb->pattern[*place];
    int other = climb->patterns > 1 ? random_below(random, climb->patterns) : *place;
    bool copies = other != *place && random_percent(random, 40) && climb->pattern[other] != NULL;
    climb->pattern[*place] =
        copies ? strdup(climb->pattern[other]) : freeform_pattern(&climb->source);
    return before;
}

static void write_list(const struct climb *climb, enum question question, const char *folder) {
    char path[4096];
    snprintf(path, sizeof path, "%s/%s.json", folder, names[question]);
    FILE *file = fopen(path, "w");
    char *text = text_of(climb);
    if (file == NULL || fprintf(file, "%s\n", text) < 0 || fclose(file) != 0) {
        perror(path);
        exit(EXIT_FAILURE);
    }
    free(text);
}

static void climb_for(enum question question, double seconds, uint64_t seed, const char *folder) {
    struct climb climb = {.patterns = 0};
    double most = 0, end = cpu_ms() + seconds * 1e3;
    int lists = 0;
    freeform_start(&climb.source, seed, FREEFORM_WILD);
    for (; cpu_ms() < end; lists++) {
        int place, patterns = climb.patterns;
        char *before = change(&climb, &place);
        double cost = cost_of(&climb, question);
        if (cost > most) {
            most = cost;
            free(before);
        } else {
            free(climb.pattern[place]);
            climb.pattern[place] = before;
            climb.patterns = patterns;
        }
    }
    printf("%-7s %8.3f s after %d lists, seed %llu, jokers %s\n", names[question], most / 1e3,
           lists, (unsigned long long)seed, climb.source.jokers ? "yes" : "no");
    fflush(stdout);
    if (folder != NULL)
        write_list(&climb, question, folder);
    for (int i = 0; i < climb.patterns; i++)
        free(climb.pattern[i]);
    freeform_end(&climb.source);
}

int main(int count, char **arguments) {
    double seconds = count > 1 ? atof(arguments[1]) : 60;
    uint64_t seed = count > 2 ? strtoull(arguments[2], NULL, 0) : 1;
    const char *folder = count > 3 ? arguments[3] : NULL;
    for (int question = 0; question < QUESTIONS; question++)
        climb_for((enum question)question, seconds, seed, folder);
    return EXIT_SUCCESS;
}
