/* A soak: very many hands go through the program, `rank` and `pass` with two threads, and
 * come back as single calls of the library answer them, in order; meanwhile its memory
 * does not grow and no descriptor stays open. For Linux, whose /proc tells.
 *
 *     soak PROGRAM LIST [HANDS [PASSES]]      20000 and 100 unless given
 *
 * NEARHAND_SOAK in the environment multiplies both. */
#define _POSIX_C_SOURCE 200809L
#include "bench/timing.h"
#include "nearhand.h"

#include <dirent.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

enum { SEED = 50, JOBS = 2, COLUMNS = 15, LINE_MAX_BYTES = 1 << 16 };

/* What the cache of a thread may take, until it is full; and what is no growth. */
#define CACHE_KIB (17L << 10)
#define FLAT_KIB (1L << 10)
#define FULL_AT 1000000u /* hands after which it is */

struct soak {
    const char *program, *path;
    bool passes; /* and not ranks */
    uint64_t hands;
    nh_list *list;
    nh_workspace *workspace;
    pid_t child;
    FILE *to, *from;
    uint64_t sum; /* of all answers */
};

_Noreturn static void fail(const char *what, uint64_t hand) {
    printf("hand %llu: %s\n", (unsigned long long)hand, what);
    exit(EXIT_FAILURE);
}

static void need(bool good, const char *what) {
    if (!good)
        fail(what, 0);
}

/* Hand `number`, the same for the writer and for the check. */
static nh_tiles hand_of(const nh_list *list, uint64_t number) {
    nh_tiles rest = *nh_list_set(list), hand = {{0}};
    nh_random random;
    nh_random_start(&random, SEED, number);
    nh_deal_draw(&random, &rest, nh_list_hand_size(list), &hand);
    return hand;
}

/* ------------------------------------------------------------- the program --- */

static void start(struct soak *soak) {
    int to[2], from[2];
    need(pipe(to) == 0 && pipe(from) == 0, "no pipe");
    soak->child = fork();
    need(soak->child >= 0, "no process");
    if (soak->child == 0) {
        dup2(to[0], STDIN_FILENO);
        dup2(from[1], STDOUT_FILENO);
        for (int i = 0; i < 2; i++) {
            close(to[i]);
            close(from[i]);
        }
        execl(soak->program, "nearhand", soak->passes ? "pass" : "rank", "--list", soak->path,
              "--top", "1", "--jobs", "2", soak->passes ? "--json" : "--format",
              soak->passes ? NULL : "tsv", (char *)NULL);
        _exit(127);
    }
    close(to[0]);
    close(from[1]);
    soak->to = fdopen(to[1], "w");
    soak->from = fdopen(from[0], "r");
    need(soak->to != NULL && soak->from != NULL, "no stream");
}

static void *write_hands(void *context) {
    const struct soak *soak = context;
    for (uint64_t i = 0; i < soak->hands; i++) {
        char text[NH_TILES_TEXT_SIZE];
        nh_tiles hand = hand_of(soak->list, i);
        size_t length = nh_tiles_format(&hand, NH_STYLE_LETTERS, text, sizeof text);
        text[length] = '\n';
        need(fwrite(text, 1, length + 1, soak->to) == length + 1, "a hand was not taken");
    }
    need(fflush(soak->to) == 0, "the last hands were not taken");
    return NULL;
}

/* The most memory that the program has had, in KiB. */
static long memory_of(pid_t process) {
    char path[64], line[256];
    long most = -1;
    snprintf(path, sizeof path, "/proc/%ld/status", (long)process);
    FILE *file = fopen(path, "r");
    need(file != NULL, "/proc does not have the program");
    while (fgets(line, sizeof line, file) != NULL)
        if (strncmp(line, "VmHWM:", 6) == 0)
            most = strtol(line + 6, NULL, 10);
    fclose(file);
    need(most > 0, "/proc does not tell the memory");
    return most;
}

static int descriptors_of(pid_t process) {
    char path[64];
    int count = 0;
    snprintf(path, sizeof path, "/proc/%ld/fd", (long)process);
    DIR *folder = opendir(path);
    need(folder != NULL, "/proc does not have the descriptors");
    while (readdir(folder) != NULL)
        count++;
    closedir(folder);
    return count;
}

/* ----------------------------------------------------------------- answers --- */

/* Ends the line's columns with zero bytes. */
static void split(char *line, char *column[COLUMNS]) {
    column[0] = line;
    for (int i = 1; i < COLUMNS; i++) {
        char *tab = strchr(column[i - 1], '\t');
        if (tab == NULL)
            fail("too few columns", 0);
        *tab = '\0';
        column[i] = tab + 1;
    }
}

static void rank_agrees(struct soak *soak, uint64_t number, char *line) {
    char *column[COLUMNS];
    nh_tiles hand = hand_of(soak->list, number);
    nh_ranked row;
    nh_ranking ranking;
    split(line, column);
    need(nh_rank(soak->workspace, &hand, NULL, &row, 1, &ranking, NULL) == NH_OK, "no ranking");
    double chance = strtod(column[9], NULL);
    if (strtoull(column[0], NULL, 10) != number + 1)
        fail("another line", number);
    if (strcmp(column[4], nh_list_pattern(soak->list, row.pattern)->name) != 0 ||
        strtol(column[8], NULL, 10) != row.away || chance < row.chance || chance > row.chance)
        fail(column[4], number);
    const uint64_t figures[] = {row.pattern, row.away, row.completing.limb[0]};
    soak->sum = checksum_add(soak->sum, figures, 3);
}

static const char *after(const char *line, const char *key) {
    const char *at = strstr(line, key);
    need(at != NULL, key);
    return at + strlen(key);
}

static void pass_agrees(struct soak *soak, uint64_t number, const char *line) {
    nh_tiles hand = hand_of(soak->list, number), pass;
    nh_choice best;
    nh_passing passing;
    need(nh_pass(soak->workspace, &hand, NULL, &best, 1, &passing, NULL) == NH_OK, "no passes");
    const char *text = after(line, "\"pass\":\"");
    need(nh_tiles_parse(soak->list, text, strcspn(text, "\""), &pass, NULL) == NH_OK, "no tiles");
    if (!nh_tiles_equal(&pass, &best.pass) ||
        strtol(after(line, "\"away\":"), NULL, 10) != passing.away ||
        strtoull(after(line, "\"passes\":"), NULL, 10) != passing.passes)
        fail(line, number);
    const uint64_t figures[] = {best.expected, best.nearer, passing.draws};
    soak->sum = checksum_add(soak->sum, figures, 3);
}

/* ----------------------------------------------------------------- one soak --- */

/* What the program holds, which does not grow from one look to the next. */
struct held {
    long memory;
    int descriptors;
};

static struct held look(const struct soak *soak) {
    return (struct held){memory_of(soak->child), descriptors_of(soak->child)};
}

static void need_no_more(const struct soak *soak, const struct held *half, const struct held *end) {
    long grown = end->memory - half->memory;
    printf("%-4s %9llu hands: %ld KiB at the half, %ld more at the end; ",
           soak->passes ? "pass" : "rank", (unsigned long long)soak->hands, half->memory, grown);
    need(grown <= (soak->hands >= FULL_AT ? FLAT_KIB : JOBS * CACHE_KIB), "memory grows");
    need(end->descriptors == half->descriptors, "descriptors stay open");
}

static void read_answers(struct soak *soak, struct held *half) {
    static char line[LINE_MAX_BYTES];
    if (!soak->passes)
        need(fgets(line, sizeof line, soak->from) != NULL, "no heading");
    for (uint64_t i = 0; i < soak->hands; i++) {
        if (i == soak->hands / 2)
            *half = look(soak);
        need(fgets(line, sizeof line, soak->from) != NULL, "answers end early");
        if (soak->passes)
            pass_agrees(soak, i, line);
        else
            rank_agrees(soak, i, line);
    }
}

static void run(struct soak *soak) {
    pthread_t writer;
    struct held half = {0, 0}, end;
    int status;
    double begun = passed_ns();
    soak->sum = CHECKSUM_START;
    start(soak);
    need(pthread_create(&writer, NULL, write_hands, soak) == 0, "no thread");
    read_answers(soak, &half);
    need(pthread_join(writer, NULL) == 0, "no end");
    end = look(soak); /* it waits for more hands */
    need_no_more(soak, &half, &end);
    need(fclose(soak->to) == 0 && fgetc(soak->from) == EOF, "more answers than hands");
    need(fclose(soak->from) == 0, "no end");
    need(waitpid(soak->child, &status, 0) == soak->child && status == 0, "the program failed");
    printf("all as single calls, checksum %016llx, %.1f s\n", (unsigned long long)soak->sum,
           (passed_ns() - begun) / 1e9);
}

int main(int count, char **arguments) {
    const char *times = getenv("NEARHAND_SOAK");
    uint64_t more = times == NULL ? 1 : strtoull(times, NULL, 10);
    need(count >= 3 && more > 0, "usage: soak PROGRAM LIST [HANDS [PASSES]]");
    struct soak soak = {.program = arguments[1], .path = arguments[2]};
    need(nh_list_load(soak.path, NULL, &soak.list, NULL) == NH_OK, "no list");
    need(nh_workspace_new(soak.list, NULL, &soak.workspace) == NH_OK, "no memory");
    for (int passes = 0; passes < 2; passes++) {
        soak.passes = passes == 1;
        soak.hands = count > 3 + passes ? strtoull(arguments[3 + passes], NULL, 10)
                     : passes == 1      ? 100
                                        : 20000;
        soak.hands *= more;
        if (soak.hands > 0)
            run(&soak);
        fflush(stdout);
    }
    nh_workspace_free(soak.workspace);
    nh_list_free(soak.list);
    return EXIT_SUCCESS;
}
