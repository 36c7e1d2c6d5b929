/* The benchmark: what a hand costs, beside the plain scan of listed targets and
 * an integer program, all in one run. It reads the library's insides to list
 * targets and to choose kernels; what it measures goes through the public calls.
 *
 *     bench [--program NEARHAND] LIST.json...
 *
 * gives figures for these lists and some that it makes; with the program, also
 * for reading and printing a hundred thousand hands. */
#define _DEFAULT_SOURCE
#include "../../lib/compile/compiled.h"
#include "../../lib/compile/share_bits.h"
#include "../../lib/distance/match.h"
#include "../ask.h"
#include "timing.h"

#include <glpk.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#define HANDS 100000
#define ROUNDS 5
#define SCAN_TARGETS_MAX 2000000u

/* splitmix64, by Sebastiano Vigna, public domain; written from its definition. */
static uint64_t state = 1;

static uint64_t random_word(void) {
    uint64_t z = state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ z >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ z >> 27) * UINT64_C(0x94D049BB133111EB);
    return z ^ z >> 31;
}

static void *room(size_t count, size_t size) {
    void *block = calloc(count > 0 ? count : 1, size);
    if (block == NULL)
        exit(EXIT_FAILURE);
    return block;
}

static nh_tiles deal(const nh_list *list) {
    uint8_t deck[160];
    size_t size = 0;
    for (int kind = 0; kind < NH_KINDS; kind++)
        for (int copy = 0; copy < list->set.count[kind]; copy++)
            deck[size++] = (uint8_t)kind;
    nh_tiles hand = {{0}};
    for (size_t i = 0; i < (size_t)list->hand; i++) {
        size_t other = i + (size_t)(random_word() % (size - i));
        uint8_t kind = deck[other];
        deck[other] = deck[i];
        hand.count[kind]++;
    }
    return hand;
}

static nh_tiles *deal_hands(const nh_list *list, size_t count) {
    nh_tiles *hands = room(count, sizeof *hands);
    for (size_t i = 0; i < count; i++)
        hands[i] = deal(list);
    return hands;
}

static int double_compare(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

static double median(double *values, size_t count) {
    qsort(values, count, sizeof *values, double_compare);
    return values[count / 2];
}

/* ---------------------------------------------------------- distances --- */

static const nh_situation nothing_known = NH_SITUATION;

/* Nanoseconds a hand for every pattern's distance: the first pass over the
 * hands with an empty workspace, then the median of further passes. */
static double time_distances(const nh_list *list, const nh_tiles *hands, double *first_pass,
                             uint64_t *sum) {
    nh_workspace *workspace;
    if (nh_workspace_new(list, NULL, &workspace) != NH_OK)
        exit(EXIT_FAILURE);
    uint8_t *away = room(list->pattern_count, 1);
    double passes[ROUNDS];
    for (int round = -1; round < ROUNDS; round++) {
        *sum = 0;
        double start = passed_ns();
        for (size_t i = 0; i < HANDS; i++) {
            nh_distances(workspace, &hands[i], &nothing_known, away, NULL);
            *sum += away[0];
        }
        double each = (passed_ns() - start) / HANDS;
        if (round < 0)
            *first_pass = each;
        else
            passes[round] = each;
    }
    nh_workspace_free(workspace);
    free(away);
    return median(passes, ROUNDS);
}

static double time_ranks(const nh_list *list, const nh_tiles *hands, size_t count, size_t top) {
    nh_workspace *workspace;
    if (nh_workspace_new(list, NULL, &workspace) != NH_OK)
        exit(EXIT_FAILURE);
    nh_ranked *rows = room(list->pattern_count, sizeof *rows);
    nh_ranking ranking;
    double start = passed_ns();
    for (size_t i = 0; i < count; i++)
        ask_rank(workspace, &hands[i], &nothing_known, NH_DRAWS_DEFAULT, NULL, rows, top, &ranking,
                 NULL);
    double each = (passed_ns() - start) / (double)count;
    nh_workspace_free(workspace);
    free(rows);
    return each;
}

/* Hands a second of a batch. */
static double time_batch(const nh_list *list, const nh_tiles *hands, size_t count, unsigned jobs,
                         nh_ranked *rows, nh_ranking *rankings) {
    double start = passed_ns();
    ask_rank_batch(list, NULL, hands, count, &nothing_known, NULL, 1, jobs, rows, rankings, NULL);
    return (double)count / ((passed_ns() - start) / 1e9);
}

#define BATCH_SECONDS 2 /* of one thread: what each thread learns anew counts little then */
#define BATCH_ROUNDS 5

/* One thread and two take turns, so that what else the machine does meets both. */
static void print_batch(const nh_list *list, double each) {
    size_t count = (size_t)(BATCH_SECONDS * 1e9 / each);
    nh_tiles *hands = deal_hands(list, count);
    nh_ranked *rows = room(count, sizeof *rows);
    nh_ranking *rankings = room(count, sizeof *rankings);
    double one[BATCH_ROUNDS], two[BATCH_ROUNDS], ratio[BATCH_ROUNDS];
    for (int i = 0; i < BATCH_ROUNDS; i++) {
        one[i] = time_batch(list, hands, count, 1, rows, rankings);
        two[i] = time_batch(list, hands, count, 2, rows, rankings);
        ratio[i] = two[i] / one[i];
    }
    printf("  batch of %zu: %.0f hands a second in one thread, %.0f in two: %.2f times\n", count,
           median(one, BATCH_ROUNDS), median(two, BATCH_ROUNDS), median(ratio, BATCH_ROUNDS));
    free(rankings);
    free(rows);
    free(hands);
}

/* --------------------------------------------------------- plain scan --- */

/* A target as four words of 36 bits packed into three; jokers aside. */
struct target {
    uint64_t word[3];
};

static struct target pack_target(const uint64_t bits[PARTS]) {
    return (struct target){
        {bits[0] | bits[3] << 36, bits[1] | (bits[3] >> 28 & 0xFF) << 36, bits[2]}};
}

/* Lists the targets of all patterns, one after the other; at most `most`. The
 * number of each pattern's targets goes to `counts`. */
static struct target *list_targets(const nh_list *list, size_t most, size_t *counts,
                                   size_t *total) {
    struct target *targets = room(most, sizeof *targets);
    *total = 0;
    for (size_t p = 0; p < list->pattern_count; p++) {
        const struct list_pattern *pattern = &list->patterns[p];
        size_t before = *total;
        for (uint32_t i = 0; i < pattern->count; i++) {
            const struct product *product = &list->products[pattern->first + i];
            const struct family *family[PARTS];
            for (int part = 0; part < PARTS; part++)
                family[part] = &list->families[product->family[part]];
            uint32_t at[PARTS] = {0};
            for (int part = 0; part < PARTS;) {
                uint64_t bits[PARTS];
                for (int k = 0; k < PARTS; k++)
                    bits[k] = list->bits[family[k]->first + at[k]];
                if (*total < most)
                    targets[(*total)++] = pack_target(bits);
                for (part = 0; part < PARTS && ++at[part] == family[part]->count; part++)
                    at[part] = 0;
            }
        }
        counts[p] = *total - before;
    }
    return targets;
}

/* One popcount a word: with the processor's instruction where there is one. */
#ifdef __x86_64__
__attribute__((target("popcnt")))
#endif
__attribute__((noinline)) static unsigned
scan(const struct target *targets, size_t count, struct target hand) {
    unsigned most = 0;
    for (size_t i = 0; i < count; i++) {
        unsigned common = 0;
        for (int word = 0; word < 3; word++)
            common += (unsigned)__builtin_popcountll(targets[i].word[word] & hand.word[word]);
        most = common > most ? common : most;
    }
    return most;
}

/* Nanoseconds a hand for scanning the list's targets, pattern by pattern. */
static double time_scan(const nh_list *list, const nh_tiles *hands, size_t *total) {
    size_t *counts = room(list->pattern_count, sizeof *counts);
    struct target *targets = list_targets(list, SCAN_TARGETS_MAX, counts, total);
    size_t hand_count = *total > 100000 ? 20 : 2000000 / (*total + 1) + 20;
    hand_count = hand_count < HANDS ? hand_count : HANDS;
    volatile unsigned sink = 0; /* so that no scan is left out */
    double start = passed_ns();
    for (size_t i = 0; i < hand_count; i++) {
        uint64_t bits[PARTS];
        for (int part = 0; part < PARTS; part++)
            bits[part] = share_bits(hands[i].count + part * PART_KINDS, part == PART_HONOUR);
        struct target hand = pack_target(bits);
        size_t first = 0;
        for (size_t p = 0; p < list->pattern_count; p++) {
            sink = sink + scan(targets + first, counts[p], hand);
            first += counts[p];
        }
    }
    double each = (passed_ns() - start) / (double)hand_count;
    free(targets);
    free(counts);
    return each;
}

/* ---------------------------------------------------- integer program --- */

/* The distance to four sets and a pair as an integer program: how often each
 * set and pair is taken, and what the hand keeps. */
static double time_program(const nh_tiles *hands, size_t count) {
    enum { KINDS = 34, CHOWS = 21, SETS = KINDS + CHOWS, COLUMNS = SETS + 2 * KINDS };
    glp_term_out(GLP_OFF);
    glp_prob *problem = glp_create_prob();
    glp_set_obj_dir(problem, GLP_MAX);
    glp_add_cols(problem, COLUMNS);
    glp_add_rows(problem, 2 + 2 * KINDS);
    for (int c = 1; c <= COLUMNS; c++) {
        glp_set_col_kind(problem, c, GLP_IV);
        glp_set_col_bnds(problem, c, GLP_DB, 0, 4);
        glp_set_obj_coef(problem, c, c > SETS + KINDS ? 1 : 0);
    }
    int indices[COLUMNS + 1];
    double values[COLUMNS + 1];
    for (int row = 1; row <= 2; row++) { /* four sets; one pair */
        int first = row == 1 ? 1 : SETS + 1, size = row == 1 ? SETS : KINDS;
        for (int i = 1; i <= size; i++) {
            indices[i] = first + i - 1;
            values[i] = 1;
        }
        glp_set_mat_row(problem, row, size, indices, values);
        glp_set_row_bnds(problem, row, GLP_FX, row == 1 ? 4 : 1, 0);
    }
    for (int kind = 0; kind < KINDS; kind++) {
        int length = 0;
        indices[++length] = 1 + kind;
        values[length] = 3;
        indices[++length] = SETS + 1 + kind;
        values[length] = 2;
        for (int chow = 0; chow < CHOWS; chow++) {
            int first = chow / 7 * PART_KINDS + chow % 7;
            if (kind >= first && kind < first + 3 && kind < NH_EAST) {
                indices[++length] = KINDS + 1 + chow;
                values[length] = 1;
            }
        }
        glp_set_mat_row(problem, 3 + kind, length, indices, values);
        glp_set_row_bnds(problem, 3 + kind, GLP_UP, 0, 4);
        indices[++length] = SETS + KINDS + 1 + kind; /* kept: no more than asked for */
        values[length] = -1;
        glp_set_mat_row(problem, 3 + KINDS + kind, length, indices, values);
        glp_set_row_bnds(problem, 3 + KINDS + kind, GLP_LO, 0, 0);
    }
    glp_iocp control;
    glp_init_iocp(&control);
    control.presolve = GLP_ON;
    double start = passed_ns();
    for (size_t i = 0; i < count; i++) {
        for (int kind = 0; kind < KINDS; kind++)
            glp_set_col_bnds(problem, SETS + KINDS + 1 + kind,
                             hands[i].count[kind] > 0 ? GLP_DB : GLP_FX, 0, hands[i].count[kind]);
        glp_intopt(problem, &control);
    }
    double each = (passed_ns() - start) / (double)count;
    glp_delete_prob(problem);
    return each;
}

/* --------------------------------------------------------- the program --- */

/* Writes a file below the folder for temporary ones; its name. */
static char *write_file(const char *suffix, void (*write)(FILE *, const void *), const void *what) {
    const char *folder = getenv("TMPDIR");
    char *name = room(512, 1);
    snprintf(name, 512, "%s/nearhand-bench-%ld%s", folder != NULL ? folder : "/tmp", (long)getpid(),
             suffix);
    FILE *file = fopen(name, "w");
    if (file == NULL)
        exit(EXIT_FAILURE);
    write(file, what);
    fclose(file);
    return name;
}

static void write_text(FILE *file, const void *text) {
    fputs(text, file);
}

static void write_hands(FILE *file, const void *hands) {
    char text[NH_TILES_TEXT_SIZE];
    for (size_t i = 0; i < HANDS; i++) {
        nh_tiles_format((const nh_tiles *)hands + i, NH_STYLE_LETTERS, text, sizeof text);
        fprintf(file, "%s\n", text);
    }
}

/* Processor seconds of the program over a file of hands. */
static double time_program_run(const char *program, const char *list, const char *hands,
                               const char *jobs, double *elapsed) {
    double start = passed_ns();
    fflush(stdout); /* or the child would print it again */
    pid_t child = fork();
    if (child == 0) {
        if (freopen(hands, "r", stdin) == NULL || freopen("/dev/null", "w", stdout) == NULL)
            _exit(126);
        execl(program, program, "rank", "--json", "--top", "1", "--jobs", jobs, "--list", list,
              (char *)NULL);
        _exit(127);
    }
    int status = 0;
    struct rusage usage;
    wait4(child, &status, 0, &usage);
    *elapsed = (passed_ns() - start) / 1e9;
    if (status != 0)
        fprintf(stderr, "bench: %s ended with status %d\n", program, status);
    return (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
           (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
}

/* The plain way to do the same: a line is read, all listed targets are scanned,
 * the nearest is printed. Processor seconds. */
static double time_plain_run(const nh_list *list, const char *hands_file) {
    size_t *counts = room(list->pattern_count, sizeof *counts), total;
    struct target *targets = list_targets(list, SCAN_TARGETS_MAX, counts, &total);
    FILE *in = fopen(hands_file, "r"), *out = fopen("/dev/null", "w");
    if (in == NULL || out == NULL)
        exit(EXIT_FAILURE);
    char line[256], text[NH_TILES_TEXT_SIZE];
    double start = cpu_ms();
    while (fgets(line, sizeof line, in) != NULL) {
        nh_tiles hand;
        if (nh_hand_parse(list, line, strlen(line), &hand, NULL) != NH_OK)
            continue;
        uint64_t bits[PARTS];
        for (int part = 0; part < PARTS; part++)
            bits[part] = share_bits(hand.count + part * PART_KINDS, part == PART_HONOUR);
        struct target packed = pack_target(bits);
        size_t first = 0;
        unsigned nearest = 0, pattern = 0;
        for (unsigned p = 0; p < list->pattern_count; p++) {
            unsigned common = scan(targets + first, counts[p], packed);
            pattern = common > nearest ? p : pattern;
            nearest = common > nearest ? common : nearest;
            first += counts[p];
        }
        nh_tiles_format(&hand, NH_STYLE_LETTERS, text, sizeof text);
        fprintf(out, "{\"hand\":\"%s\",\"pattern\":\"%s\",\"away\":%u}\n", text,
                list->patterns[pattern].about.name, (unsigned)list->hand - nearest);
    }
    double seconds = (cpu_ms() - start) / 1e3;
    fclose(in);
    fclose(out);
    free(targets);
    free(counts);
    return seconds;
}

static void report_program(const char *program, const nh_list *list, const char *list_text) {
    nh_tiles *hands = deal_hands(list, HANDS);
    char *list_file = write_file(".json", write_text, list_text);
    char *hands_file = write_file(".txt", write_hands, hands);
    double elapsed_one, elapsed_two;
    double own = time_program_run(program, list_file, hands_file, "1", &elapsed_one);
    time_program_run(program, list_file, hands_file, "2", &elapsed_two);
    double plain = time_plain_run(list, hands_file);
    printf("  rank --json --top 1 over %d lines: %.2f us a hand of processor time; the plain scan "
           "with reading and printing %.2f us: %.1f times as long\n",
           HANDS, own / HANDS * 1e6, plain / HANDS * 1e6, plain / own);
    printf("  elapsed with 1 job %.2f s, with 2 jobs %.2f s: %.2f times\n", elapsed_one,
           elapsed_two, elapsed_one / elapsed_two);
    remove(list_file);
    remove(hands_file);
    free(list_file);
    free(hands_file);
    free(hands);
}

/* -------------------------------------------------------------- report --- */

static size_t tables_of(const nh_list *list) {
    size_t lanes = 0;
    for (size_t p = 0; p < list->pattern_count; p++)
        for (uint32_t r = 0; r < list->patterns[p].run_count; r++)
            lanes +=
                (list->runs[list->patterns[p].run_first + r].count + LANES - 1) / LANES * LANES;
    return list->product_count * sizeof(struct product) + lanes * 16 +
           list->share_count * (sizeof(struct share) + 16) +
           list->family_count * sizeof(struct family);
}

static void report(const char *name, const nh_list *list, double load_ms) {
    nh_tiles *hands = deal_hands(list, HANDS);
    printf("\n%s: %zu patterns, %zu products of %zu families, %zu shares\n", name,
           list->pattern_count, list->product_count, list->family_count, list->share_count);
    printf("  load %.1f ms, tables %.2f MiB\n", load_ms,
           (double)tables_of(list) / (1024.0 * 1024.0));
    double first_pass;
    uint64_t sum;
    nh_list varied = *list;
    double own = 0;
    for (int k = 0; kernels_at(k) != NULL; k++) {
        varied.kernels = kernels_at(k);
        own = time_distances(&varied, hands, &first_pass, &sum);
        printf("  every distance, %-9s %10.1f ns a hand (first pass %.1f; check %llu)\n",
               kernels_at(k)->name, own, first_pass, (unsigned long long)sum);
    }
    size_t targets;
    double plain = time_scan(list, hands, &targets);
    printf("  plain scan of %zu%s targets %.1f ns a hand: %.0f times as long\n", targets,
           targets == SCAN_TARGETS_MAX ? " (the first)" : "", plain, plain / own);
    double nearest = time_ranks(list, hands, 20000, 1);
    printf("  rank, nearest only %.2f us a hand; all patterns %.1f us a hand\n", nearest / 1e3,
           time_ranks(list, hands, 1000, list->pattern_count) / 1e3);
    print_batch(list, nearest);
    free(hands);
}

static nh_list *read_list(const char *text) {
    nh_list *list;
    nh_mistakes *mistakes;
    if (nh_list_read(text, strlen(text), NULL, &list, &mistakes) != NH_OK) {
        fprintf(stderr, "bench: %s\n", nh_mistakes_at(mistakes, 0)->text);
        exit(EXIT_FAILURE);
    }
    return list;
}

static void report_text(const char *name, const char *text) {
    double start = passed_ns();
    nh_list *list = read_list(text);
    report(name, list, (passed_ns() - start) / 1e6);
    nh_list_free(list);
}

/* Patterns of 14 tiles, each of about ten times as many targets as the one
 * before. */
static const char *const growth[] = {
    "{\"pung\": \"red\"}, {\"pung\": \"green\"}, {\"pung\": \"white\"}, {\"pung\": \"wind\"}, "
    "{\"pair\": \"suited\"}",
    "{\"pung\": \"red\"}, {\"pung\": \"green\"}, {\"pung\": \"white\"}, {\"pung\": \"suited\"}, "
    "{\"pair\": \"any\"}",
    "{\"pung\": \"red\"}, {\"pung\": \"green\"}, {\"pung\": \"suited\", \"times\": 2}, "
    "{\"pair\": \"any\"}",
    "{\"pung\": \"red\"}, {\"pung\": \"suited\", \"times\": 3}, {\"pair\": \"any\"}",
    "{\"pung\": \"any\", \"times\": 4}, {\"pair\": \"any\"}",
    "{\"set\": \"any\", \"times\": 4}, {\"pair\": \"any\"}",
    "{\"pair\": \"any\", \"times\": 6, \"distinct\": true}, "
    "{\"single\": \"any\", \"times\": 2, \"distinct\": true}",
    "{\"pair\": \"any\", \"times\": 5, \"distinct\": true}, "
    "{\"single\": \"any\", \"times\": 4, \"distinct\": true}",
    "{\"pair\": \"any\", \"times\": 4, \"distinct\": true}, "
    "{\"single\": \"any\", \"times\": 6, \"distinct\": true}"};

static void report_growth(void) {
    printf("\ngrowth: one pattern of 14 tiles\n");
    for (size_t i = 0; i < sizeof growth / sizeof *growth; i++) {
        char text[512];
        snprintf(text, sizeof text,
                 "{\"format\": 1, \"title\": \"growth\", \"patterns\": [{\"name\": \"one\", "
                 "\"groups\": [%s]}]}",
                 growth[i]);
        double start = passed_ns();
        nh_list *list = read_list(text);
        double load = (passed_ns() - start) / 1e6;
        nh_figures count;
        char digits[NH_NATURAL_TEXT_SIZE];
        ask_figures(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, &count);
        nh_natural_format(&count.targets, digits, sizeof digits);
        nh_tiles *hands = deal_hands(list, HANDS);
        double first_pass;
        uint64_t sum;
        double own = time_distances(list, hands, &first_pass, &sum);
        printf("  %16s targets: %8.1f ns a hand, first pass %8.1f, load %6.1f ms\n", digits, own,
               first_pass, load);
        free(hands);
        nh_list_free(list);
    }
}

static void report_file(const char *path) {
    nh_list *list;
    nh_mistakes *mistakes;
    double start = passed_ns();
    if (nh_list_load(path, NULL, &list, &mistakes) != NH_OK) {
        fprintf(stderr, "bench: %s\n", nh_mistakes_at(mistakes, 0)->text);
        exit(EXIT_FAILURE);
    }
    double load = (passed_ns() - start) / 1e6;
    const char *name = strrchr(path, '/');
    report(name != NULL ? name + 1 : path, list, load);
    nh_list_free(list);
}

static const char four_sets[] =
    "{\"format\": 1, \"title\": \"four sets\", \"patterns\": [{\"name\": \"four sets and a "
    "pair\", \"groups\": [{\"set\": \"any\", \"times\": 4}, {\"pair\": \"any\"}]}]}";

/* A list of 20,000 targets and some: for the plain scan at the size of a printed
 * list. */
static const char printed_size[] =
    "{\"format\": 1, \"title\": \"twenty thousand\", \"patterns\": ["
    "{\"name\": \"a\", \"groups\": [{\"pung\": \"n\", \"suit\": \"x\"}, {\"pung\": \"m\", "
    "\"suit\": \"x\"}, {\"pung\": \"n\", \"suit\": \"y\"}, {\"pung\": \"m\", \"suit\": \"y\"}, "
    "{\"pair\": \"honour\"}]},"
    "{\"name\": \"b\", \"groups\": [{\"kong\": \"n\", \"suit\": \"x\"}, {\"kong\": \"m\", "
    "\"suit\": \"y\"}, {\"pair\": \"k\", \"suit\": \"z\"}, {\"kong\": \"wind\"}]},"
    "{\"name\": \"c\", \"groups\": [{\"run\": 1, \"length\": 9, \"suit\": \"x\"}, {\"pair\": "
    "\"a\", \"suit\": \"y\"}, {\"pung\": \"dragon\"}]},"
    "{\"name\": \"d\", \"groups\": [{\"pung\": \"n\", \"suit\": \"x\"}, {\"kong\": \"n+1\", "
    "\"suit\": \"y\"}, {\"pung\": \"n+2\", \"suit\": \"z\"}, {\"pair\": \"any\", \"times\": 2, "
    "\"distinct\": true}]}]}";

int main(int count, char **arguments) {
    const char *program = NULL;
    int first = 1;
    if (count > 2 && strcmp(arguments[1], "--program") == 0) {
        program = arguments[2];
        first = 3;
    }
    for (int i = first; i < count; i++)
        report_file(arguments[i]);
    report_text("a list of printed size", printed_size);
    if (program != NULL) {
        nh_list *printed = read_list(printed_size);
        report_program(program, printed, printed_size);
        nh_list_free(printed);
    }
    report_text("four sets and a pair", four_sets);
    nh_list *list = read_list(four_sets);
    nh_tiles *hands = deal_hands(list, HANDS);
    double first_pass;
    uint64_t sum;
    double own = time_distances(list, hands, &first_pass, &sum);
    double integer = time_program(hands, 20);
    printf("  integer program %.2f ms a hand: %.0f times as long\n", integer / 1e6, integer / own);
    free(hands);
    nh_list_free(list);
    report_growth();
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("\nmost memory at any time, the listed targets among it: %.1f MiB\n",
           (double)usage.ru_maxrss / 1024.0);
    return EXIT_SUCCESS;
}
