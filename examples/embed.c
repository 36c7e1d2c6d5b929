/* Embedding nearhand: loads a pattern list, reads a hand and prints the three
 * patterns that it is nearest to, each with the tiles that it still needs.
 *
 *     cc -std=c17 embed.c $(pkg-config --cflags --libs nearhand) -o embed
 *     ./embed $(pkg-config --variable=patternsdir nearhand)/club.json \
 *         "2468B 246C 33D EEW R Wh"
 */
#include <nearhand.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ROWS 3

/* A list that cannot be loaded comes with a report of every mistake in it. It
 * is the caller's, as the list is. */
static nh_list *load_list(const char *path) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    nh_status status = nh_list_load(path, NULL, &list, &mistakes);
    if (status != NH_OK)
        fprintf(stderr, "%s: %s\n", path, nh_status_text(status));
    for (size_t i = 0; i < nh_mistakes_size(mistakes); i++) {
        nh_mistake mistake = *nh_mistakes_at(mistakes, i);
        fprintf(stderr, "line %u: %s\n", (unsigned)mistake.line, mistake.text);
    }
    nh_mistakes_free(mistakes);
    return list;
}

/* Reading a hand against the list refuses tiles that the list's set does not
 * have. The error tells the place, which a caret shows. */
static bool read_hand(const nh_list *list, const char *text, nh_tiles *hand) {
    nh_error error;
    if (nh_hand_parse(list, text, strlen(text), hand, &error) == NH_OK)
        return true;
    fprintf(stderr, "%s\n%*s\n%s\n", text, (int)error.column, "^", error.text);
    return false;
}

static void print_row(const nh_list *list, const nh_ranked *row) {
    char need[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&row->need, NH_STYLE_LETTERS, need, sizeof need);
    printf("%u away  %s", (unsigned)row->away, nh_list_pattern(list, row->pattern)->name);
    if (row->away > 0)
        printf(", needs %s, chance %.3f", need, row->chance);
    printf("\n");
}

/* A workspace is made once for a list and serves any number of hands, one
 * after the other. A program with threads makes one for each. */
static bool print_nearest(const nh_list *list, const nh_tiles *hand) {
    nh_workspace *workspace = NULL;
    nh_status status = nh_workspace_new(list, NULL, &workspace);
    if (status != NH_OK) {
        fprintf(stderr, "%s\n", nh_status_text(status));
        return false;
    }
    nh_ranked rows[ROWS];
    nh_ranking ranking;
    nh_error error;
    status = nh_rank(workspace, hand, NULL, rows, ROWS, &ranking, &error);
    nh_workspace_free(workspace);
    if (status != NH_OK) {
        fprintf(stderr, "%s\n", error.text);
        return false;
    }
    for (size_t i = 0; i < ranking.rows; i++)
        print_row(list, &rows[i]);
    return true;
}

int main(int argc, char **argv) {
    if (argc != 3) {
        fprintf(stderr, "usage: embed LIST.json HAND\n");
        return EXIT_FAILURE;
    }
    nh_list *list = load_list(argv[1]);
    if (list == NULL)
        return EXIT_FAILURE;
    nh_tiles hand;
    bool good = read_hand(list, argv[2], &hand) && print_nearest(list, &hand);
    nh_list_free(list);
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
