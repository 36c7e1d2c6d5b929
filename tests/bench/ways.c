/*
 * Which way of playing wins more? Two ways sit at one table, two players each, and play
 * every deal twice, the second time with their seats exchanged: the luck of a deal is the
 * same for both.
 *
 *     ways LIST.json WAY WAY DEALS [FILE]
 *
 *     WAY    PASSES/DISCARDS/LOOK/CLAIMS, such as best/away/3/worth
 *     FILE   keeps what was counted, a line for each BLOCK deals; a run goes on from there
 *
 * prints the wins of each way, and by how much the first is ahead in a game, in wins and in
 * points, with standard errors.
 */
#include "nearhand.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define BLOCK 50u /* deals */

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

/* What was counted: wins of both ways, and sums over deals of the first way's lead, in wins
 * and in points, and of its square. */
struct counts {
    unsigned long long deals, won[2];
    double wins, wins_squares, points, points_squares;
};

struct study {
    nh_list *list;
    nh_workspace *workspace;
    nh_game *game;
    nh_way_player *player[2];
};

/* A deal, played twice: the players of `turned` games sit one seat farther on. */
static void play_deal(const struct study *study, unsigned long long number, struct counts *counts) {
    double wins = 0, points = 0;
    for (int turned = 0; turned < 2; turned++) {
        nh_game_end end;
        nh_error error;
        for (int seat = 0; seat < NH_SEATS; seat++)
            nh_way_player_seat(study->player[(seat + turned) % 2], study->game, seat);
        if (nh_game_run(study->game, 1, number, &end, sizeof end, &error) != NH_OK)
            fail(error.text);
        if (!end.won)
            continue;
        int winner = (end.seat + turned) % 2;
        counts->won[winner]++;
        wins += winner == 0 ? 1 : -1;
        points += winner == 0 ? end.pattern.points : -end.pattern.points;
    }
    counts->deals++;
    counts->wins += wins;
    counts->wins_squares += wins * wins;
    counts->points += points;
    counts->points_squares += points * points;
}

/* ---------------------------------------------------------------- the file --- */

static void add_counts(struct counts *counts, const struct counts *more) {
    counts->deals += more->deals;
    counts->won[0] += more->won[0];
    counts->won[1] += more->won[1];
    counts->wins += more->wins;
    counts->wins_squares += more->wins_squares;
    counts->points += more->points;
    counts->points_squares += more->points_squares;
}

/* Reads what a file has, which must begin with `title`; a new one gets it. */
static FILE *open_counts(const char *path, const char *title, struct counts *counts) {
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
    while (fscanf(file, "%llu %llu %llu %lf %lf %lf %lf", &block.deals, &block.won[0],
                  &block.won[1], &block.wins, &block.wins_squares, &block.points,
                  &block.points_squares) == 7)
        add_counts(counts, &block);
    if (!feof(file))
        fail("a line of the file cannot be read");
    fseek(file, 0, SEEK_END);
    return file;
}

/* A hash of the list's bytes (FNV-1a with 64 bits): counts of another edition are no part of
 * the study. */
static unsigned long long list_hash(const char *path) {
    unsigned long long hash = 0xcbf29ce484222325U;
    FILE *file = fopen(path, "rb");
    int byte;
    if (file == NULL)
        fail("the list cannot be read");
    while ((byte = getc(file)) != EOF)
        hash = (hash ^ (unsigned)byte) * 0x100000001b3U;
    fclose(file);
    return hash;
}

static void write_counts(FILE *file, const struct counts *block) {
    fprintf(file, "%llu %llu %llu %.17g %.17g %.17g %.17g\n", block->deals, block->won[0],
            block->won[1], block->wins, block->wins_squares, block->points, block->points_squares);
    if (fflush(file) != 0)
        fail("the file cannot be written");
}

/* ------------------------------------------------------------------ figures --- */

static void print_lead(const char *what, double sum, double squares, double deals) {
    double mean = sum / deals;
    double variance = (squares / deals - mean * mean) / (deals - 1);
    printf("  %s %+.4f a game, standard error %.4f\n", what, mean / 2, sqrt(variance) / 2);
}

static void play(const struct study *study, unsigned long long deals, FILE *file,
                 struct counts *counts) {
    while (counts->deals < deals) {
        struct counts block = {0};
        unsigned long long left = deals - counts->deals;
        for (unsigned i = 0; i < BLOCK && i < left; i++)
            play_deal(study, counts->deals + 1 + i, &block);
        if (file != NULL)
            write_counts(file, &block);
        add_counts(counts, &block);
    }
}

int main(int count, char **words) {
    struct study study;
    struct counts counts = {0};
    char title[512];
    FILE *file = NULL;
    if (count != 5 && count != 6)
        fail("LIST.json WAY WAY DEALS [FILE]");
    unsigned long long deals = strtoull(words[4], NULL, 10);
    if (nh_list_load(words[1], NULL, &study.list, NULL) != NH_OK ||
        nh_workspace_new(study.list, NULL, &study.workspace) != NH_OK ||
        nh_game_new(study.list, NULL, &study.game) != NH_OK || deals < 2)
        fail("the list cannot be loaded, or there are fewer than two deals");
    for (int i = 0; i < 2; i++) {
        nh_way way = read_way(words[2 + i]);
        if (nh_way_player_new(study.workspace, &way, NULL, &study.player[i], NULL) != NH_OK)
            fail("no player");
    }
    snprintf(title, sizeof title, "%s %016llx %s %s", nh_list_title(study.list),
             list_hash(words[1]), words[2], words[3]);
    if (count == 6)
        file = open_counts(words[5], title, &counts);
    play(&study, deals, file, &counts);
    if (file != NULL && fclose(file) != 0)
        fail("the file cannot be written");
    printf("%s: %llu deals, each played twice\n  %s won %llu, %s won %llu\n",
           nh_list_title(study.list), counts.deals, words[2], counts.won[0], words[3],
           counts.won[1]);
    print_lead("difference of wins  ", counts.wins, counts.wins_squares, (double)counts.deals);
    print_lead("difference of points", counts.points, counts.points_squares, (double)counts.deals);
    for (int i = 0; i < 2; i++)
        nh_way_player_free(study.player[i]);
    nh_game_free(study.game);
    nh_workspace_free(study.workspace);
    nh_list_free(study.list);
    return EXIT_SUCCESS;
}
