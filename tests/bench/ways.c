/*
 * Which way of playing wins more? Two or four ways sit at one table and play every deal as
 * often as there are ways, each time one seat farther on: the luck of a deal is the same for
 * all.
 *
 *     ways LIST.json DEALS FILE WAY WAY [WAY WAY]
 *
 *     WAY    PASSES/DISCARDS/LOOK/CLAIMS, such as best/away/3/worth
 *     FILE   keeps what was counted, a line for each BLOCK deals; a run goes on from there.
 *            - for none
 *
 * prints how many of 100 games a seat wins that plays so, and for each two ways by how many
 * the first is ahead, in wins and in points, with standard errors.
 */
#include "nearhand.h"
#include "table/way_player.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define BLOCK 50u /* deals */
#define WAYS NH_SEATS

static void fail(const char *what) {
    fprintf(stderr, "ways: %s\n", what);
    exit(EXIT_FAILURE);
}

static int place_of(const char *word, size_t length, const char *const *words) {
    for (int i = 0; words[i] != NULL; i++)
        if (strlen(words[i]) == length && strncmp(words[i], word, length) == 0)
            return i;
    fail("a way is PASSES/DISCARDS/LOOK/CLAIMS");
    return 0;
}

static nh_way read_way(const char *text) {
    static const char *const passes[] = {"best", "spare", NULL};
    static const char *const discards[] = {"away", "expected", "chance", "worth", NULL};
    static const char *const looks[] = {"", "1", "2", "3", NULL};
    static const char *const claims[] = {"worth", "always", "never", NULL};
    static const char *const *const words[] = {passes, discards, looks, claims};
    int place[4];
    nh_way way = NH_WAY;
    for (int i = 0; i < 4; i++) {
        size_t length = strcspn(text, "/");
        place[i] = place_of(text, length, words[i]);
        text += length;
        if (i < 3 && *text++ != '/')
            fail("a way is PASSES/DISCARDS/LOOK/CLAIMS");
    }
    way.pass = (nh_way_pass)place[0];
    way.discard = (nh_discard_order)place[1];
    way.look = place[2];
    way.claim = (nh_way_claim)place[3];
    return way;
}

/* ------------------------------------------------------------- the passes --- */

/* Exact passes are most of a game, and whoever passes exactly passes the same tiles of a deal,
 * wherever the others sit: what was answered is remembered for the games of one deal. */
#define MOVES 256u

struct answered {
    int seat;
    uint8_t count;
    nh_step step;
    nh_tiles hand, gone;
    nh_move move;
};

struct passes {
    nh_exact_player *exact;
    size_t count;
    struct answered answered[MOVES];
};

static bool is_same_step(nh_step a, nh_step b) {
    return a.stage == b.stage && a.round == b.round && a.pass == b.pass;
}

static nh_status pass_once(void *context, const nh_view *view, nh_move *move, nh_error *error) {
    struct passes *passes = context;
    for (size_t i = 0; i < passes->count; i++) {
        const struct answered *answered = &passes->answered[i];
        if (answered->seat == view->seat && answered->count == view->count &&
            is_same_step(answered->step, view->step) &&
            nh_tiles_equal(&answered->hand, &view->hand) &&
            nh_tiles_equal(&answered->gone, &view->gone)) {
            *move = answered->move;
            return NH_OK;
        }
    }
    nh_status status = nh_exact_play(passes->exact, view, move, error);
    if (status == NH_OK && passes->count < MOVES)
        passes->answered[passes->count++] = (struct answered){
            view->seat, view->count, view->step, view->hand, view->gone, *move,
        };
    return status;
}

/* ---------------------------------------------------------------- counting --- */

/* Sums over deals of what each way won in one, and of the products of each two, from which the
 * variance of every difference follows. */
struct sums {
    double total[WAYS], product[WAYS][WAYS];
};

struct counts {
    int64_t deals;
    struct sums wins, points;
};

static void count_deal(struct sums *sums, int ways, const double *won) {
    for (int i = 0; i < ways; i++) {
        sums->total[i] += won[i];
        for (int j = 0; j < ways; j++)
            sums->product[i][j] += won[i] * won[j];
    }
}

struct study {
    nh_list *list;
    nh_workspace *workspace;
    nh_game *game;
    int ways;
    nh_way way[WAYS];
    nh_way_player *player[WAYS];
    struct passes passes;
};

static void seat_players(struct study *study, int turned) {
    for (int seat = 0; seat < NH_SEATS; seat++) {
        int i = (seat + turned) % study->ways;
        nh_way_player *player = study->player[i];
        if (study->way[i].pass == NH_PASS_BEST)
            nh_game_seat(study->game, seat, pass_once, &study->passes, way_play, player);
        else
            nh_way_player_seat(player, study->game, seat);
    }
}

static void play_deal(struct study *study, uint64_t number, struct counts *counts) {
    double wins[WAYS] = {0}, points[WAYS] = {0};
    study->passes.count = 0;
    for (int turned = 0; turned < study->ways; turned++) {
        nh_game_end end;
        nh_error error;
        seat_players(study, turned);
        if (nh_game_run(study->game, 1, number, &end, sizeof end, &error) != NH_OK)
            fail(error.text);
        if (!end.won)
            continue;
        wins[(end.seat + turned) % study->ways]++;
        points[(end.seat + turned) % study->ways] += end.pattern.points;
    }
    counts->deals++;
    count_deal(&counts->wins, study->ways, wins);
    count_deal(&counts->points, study->ways, points);
}

/* ---------------------------------------------------------------- the file --- */

static void write_sums(FILE *file, const struct sums *sums, int ways) {
    for (int i = 0; i < ways; i++) {
        fprintf(file, " %.17g", sums->total[i]);
        for (int j = 0; j <= i; j++)
            fprintf(file, " %.17g", sums->product[i][j]);
    }
}

static bool read_sums(FILE *file, struct sums *sums, int ways) {
    for (int i = 0; i < ways; i++) {
        if (fscanf(file, "%lf", &sums->total[i]) != 1)
            return false;
        for (int j = 0; j <= i; j++) {
            if (fscanf(file, "%lf", &sums->product[i][j]) != 1)
                return false;
            sums->product[j][i] = sums->product[i][j];
        }
    }
    return true;
}

static void write_counts(FILE *file, const struct counts *block, int ways) {
    fprintf(file, "%" PRId64, block->deals);
    write_sums(file, &block->wins, ways);
    write_sums(file, &block->points, ways);
    fputc('\n', file);
    if (fflush(file) != 0)
        fail("the file cannot be written");
}

static void add_sums(struct sums *sums, const struct sums *more) {
    for (int i = 0; i < WAYS; i++) {
        sums->total[i] += more->total[i];
        for (int j = 0; j < WAYS; j++)
            sums->product[i][j] += more->product[i][j];
    }
}

static void add_counts(struct counts *counts, const struct counts *more) {
    counts->deals += more->deals;
    add_sums(&counts->wins, &more->wins);
    add_sums(&counts->points, &more->points);
}

/* Reads what a file has, which must begin with `title`; a new one gets it. */
static FILE *open_counts(const char *path, const char *title, int ways, struct counts *counts) {
    char line[512];
    struct counts block;
    FILE *file = fopen(path, "a+");
    if (file == NULL)
        fail("the file cannot be opened");
    rewind(file);
    if (fgets(line, sizeof line, file) == NULL) {
        rewind(file);
        fprintf(file, "%s\n", title);
        return file;
    }
    line[strcspn(line, "\n")] = '\0';
    if (strcmp(line, title) != 0)
        fail("the file is of another study");
    while (fscanf(file, "%" SCNd64, &block.deals) == 1) {
        if (!read_sums(file, &block.wins, ways) || !read_sums(file, &block.points, ways))
            fail("a line of the file cannot be read");
        add_counts(counts, &block);
    }
    if (!feof(file))
        fail("a line of the file cannot be read");
    fseek(file, 0, SEEK_END);
    return file;
}

/* A hash of the list's bytes (FNV-1a with 64 bits): counts of another edition are no part of
 * the study. */
static uint64_t list_hash(const char *path) {
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    FILE *file = fopen(path, "rb");
    int byte;
    if (file == NULL)
        fail("the list cannot be read");
    while ((byte = getc(file)) != EOF)
        hash = (hash ^ (unsigned)byte) * UINT64_C(0x100000001b3);
    fclose(file);
    return hash;
}

/* ------------------------------------------------------------------ figures --- */

/* A way has NH_SEATS / ways seats in each of the deal's games, of which there are as many as
 * ways: NH_SEATS chances to win a deal. */
static double in_100(double won_in_a_deal) {
    return won_in_a_deal * 100 / NH_SEATS;
}

static void print_lead(const struct sums *sums, int i, int j, const char *what, double deals) {
    double mean = (sums->total[i] - sums->total[j]) / deals;
    double squares = (sums->product[i][i] - 2 * sums->product[i][j] + sums->product[j][j]) / deals;
    double variance = (squares - mean * mean) / (deals - 1);
    printf("  %s %+8.3f, standard error %.3f\n", what, in_100(mean), in_100(sqrt(variance)));
}

static void print_figures(const struct study *study, const struct counts *counts, char **names) {
    double deals = (double)counts->deals;
    printf("%s: %" PRId64 " deals, each played %d times\n", nh_list_title(study->list),
           counts->deals, study->ways);
    for (int i = 0; i < study->ways; i++)
        printf("%-20s wins %7.3f of 100 games, %8.2f points\n", names[i],
               in_100(counts->wins.total[i] / deals), in_100(counts->points.total[i] / deals));
    for (int i = 0; i < study->ways; i++)
        for (int j = i + 1; j < study->ways; j++) {
            printf("%s before %s, in 100 games of a seat\n", names[i], names[j]);
            print_lead(&counts->wins, i, j, "wins  ", deals);
            print_lead(&counts->points, i, j, "points", deals);
        }
}

static void play(struct study *study, int64_t deals, FILE *file, struct counts *counts) {
    while (counts->deals < deals) {
        struct counts block = {0};
        for (unsigned i = 0; i < BLOCK && counts->deals + block.deals < deals; i++)
            play_deal(study, (uint64_t)(counts->deals + block.deals + 1), &block);
        if (file != NULL)
            write_counts(file, &block, study->ways);
        add_counts(counts, &block);
    }
}

static void open_study(struct study *study, const char *path, char **names, int ways) {
    if (nh_list_load(path, NULL, &study->list, NULL) != NH_OK ||
        nh_workspace_new(study->list, NULL, &study->workspace) != NH_OK ||
        nh_exact_player_new(study->workspace, NULL, &study->passes.exact) != NH_OK ||
        nh_game_new(study->list, NULL, &study->game) != NH_OK)
        fail("the list cannot be loaded");
    study->ways = ways;
    for (int i = 0; i < ways; i++) {
        study->way[i] = read_way(names[i]);
        if (nh_way_player_new(study->workspace, &study->way[i], NULL, &study->player[i], NULL) !=
            NH_OK)
            fail("no player");
    }
}

static void close_study(struct study *study) {
    for (int i = 0; i < study->ways; i++)
        nh_way_player_free(study->player[i]);
    nh_exact_player_free(study->passes.exact);
    nh_game_free(study->game);
    nh_workspace_free(study->workspace);
    nh_list_free(study->list);
}

int main(int count, char **words) {
    static struct study study;
    struct counts counts = {0};
    char title[512];
    FILE *file = NULL;
    int ways = count - 4;
    if (ways != 2 && ways != 4)
        fail("LIST.json DEALS FILE WAY WAY [WAY WAY]");
    int64_t deals = strtoll(words[2], NULL, 10);
    if (deals < 2)
        fail("there are fewer than two deals");
    open_study(&study, words[1], words + 4, ways);
    int length = snprintf(title, sizeof title, "%s %016" PRIx64, nh_list_title(study.list),
                          list_hash(words[1]));
    for (int i = 0; i < ways && length < (int)sizeof title; i++)
        length += snprintf(title + length, sizeof title - (size_t)length, " %s", words[4 + i]);
    if (length >= (int)sizeof title)
        fail("the list's title is too long");
    if (strcmp(words[3], "-") != 0)
        file = open_counts(words[3], title, ways, &counts);
    play(&study, deals, file, &counts);
    if (file != NULL && fclose(file) != 0)
        fail("the file cannot be written");
    print_figures(&study, &counts, words + 4);
    close_study(&study);
    return EXIT_SUCCESS;
}
