/*
 * Which way of playing wins more? Two ways sit at one table, two players each, and play
 * every deal twice, the second time with their seats exchanged: the luck of a deal is the
 * same for both.
 *
 *     ways LIST.json GAMES FIRST WAY WAY
 *
 *     WAY    PASSES/DISCARDS/LOOK/CLAIMS, such as best/away/3/worth
 *
 * prints how many games of a pair each way wins, and points, with standard errors of the
 * differences.
 */
#include "nearhand.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

/* Sums of a difference and of its squares. */
struct sums {
    double sum, squares;
};

static void add_difference(struct sums *sums, double difference) {
    sums->sum += difference;
    sums->squares += difference * difference;
}

static void print_sums(const char *what, const struct sums *sums, double pairs) {
    double mean = sums->sum / pairs;
    double variance = (sums->squares / pairs - mean * mean) / (pairs - 1);
    printf("  %s %+.4f a game, standard error %.4f\n", what, mean / 2, sqrt(variance) / 2);
}

int main(int count, char **words) {
    nh_list *list;
    nh_workspace *workspace;
    nh_game *game;
    nh_way_player *player[2];
    struct sums wins = {0, 0}, points = {0, 0};
    long won[2] = {0, 0};
    if (count != 6)
        fail("LIST.json GAMES FIRST WAY WAY");
    unsigned long long games = strtoull(words[2], NULL, 10);
    unsigned long long first = strtoull(words[3], NULL, 10);
    if (nh_list_load(words[1], NULL, &list, NULL) != NH_OK ||
        nh_workspace_new(list, NULL, &workspace) != NH_OK ||
        nh_game_new(list, NULL, &game) != NH_OK || games < 2)
        fail("the list cannot be loaded, or there are fewer than two games");
    for (int i = 0; i < 2; i++) {
        nh_way way = read_way(words[4 + i]);
        if (nh_way_player_new(workspace, &way, NULL, &player[i], NULL) != NH_OK)
            fail("no player");
    }
    for (unsigned long long number = first; number < first + games; number++) {
        double difference = 0, paid = 0;
        for (int turned = 0; turned < 2; turned++) {
            nh_game_end end;
            nh_error error;
            for (int seat = 0; seat < NH_SEATS; seat++)
                nh_way_player_seat(player[(seat + turned) % 2], game, seat);
            if (nh_game_run(game, 1, number, &end, sizeof end, &error) != NH_OK)
                fail(error.text);
            if (!end.won)
                continue;
            int winner = (end.seat + turned) % 2;
            won[winner]++;
            difference += winner == 0 ? 1 : -1;
            paid += winner == 0 ? end.pattern.points : -end.pattern.points;
        }
        add_difference(&wins, difference);
        add_difference(&points, paid);
    }
    printf("%s: %llu deals, each played twice\n  %s won %ld, %s won %ld\n", nh_list_title(list),
           games, words[4], won[0], words[5], won[1]);
    print_sums("difference of wins  ", &wins, (double)games);
    print_sums("difference of points", &points, (double)games);
    for (int i = 0; i < 2; i++)
        nh_way_player_free(player[i]);
    nh_game_free(game);
    nh_workspace_free(workspace);
    nh_list_free(list);
    return EXIT_SUCCESS;
}
