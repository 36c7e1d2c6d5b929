/* Which tiles to pass: prints the three best passes of three tiles, each with
 * the tiles away to expect after it.
 *
 *     cc -std=c17 pass.c $(pkg-config --cflags --libs nearhand) -o pass
 *     ./pass LIST.json "2468B 246C 33D EEW R Wh"
 */
#include <nearhand.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TILES 3
#define SHOWN 3

/* `expected` of `draws` is a fraction of whole numbers: two passes are compared
 * by them, and a quotient is only for showing. */
static void print_choice(const nh_choice *choice, const nh_passing *passing) {
    char tiles[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&choice->pass, NH_STYLE_LETTERS, tiles, sizeof tiles);
    if (choice->away == NH_AWAY_NONE)
        printf("pass %s: no pattern is left\n", tiles);
    else
        printf("pass %s: %.4f away to expect\n", tiles,
               (double)choice->expected / (double)passing->draws);
}

static nh_status print_passes(const nh_list *list, nh_workspace *workspace, const char *text,
                              nh_error *error) {
    nh_tiles hand;
    nh_status status = nh_hand_parse(list, text, strlen(text), &hand, error);
    if (status != NH_OK)
        return status;
    nh_choice choices[SHOWN];
    nh_passing passing;
    nh_pass_question question = NH_PASS_QUESTION;
    question.tiles = TILES;
    status = nh_pass(workspace, &hand, &question, choices, SHOWN, &passing, error);
    if (status != NH_OK)
        return status;
    for (size_t i = 0; i < passing.rows; i++)
        print_choice(&choices[i], &passing);
    printf("of %zu different passes\n", passing.passes);
    return NH_OK;
}

int main(int argc, char **argv) {
    if (argc != 3) {
        fprintf(stderr, "usage: pass LIST.json HAND\n");
        return EXIT_FAILURE;
    }
    nh_error error = {.text = ""};
    nh_list *list = NULL;
    nh_workspace *workspace = NULL;
    nh_status status = nh_list_load(argv[1], NULL, &list, NULL);
    if (status == NH_OK)
        status = nh_workspace_new(list, NULL, &workspace);
    if (status == NH_OK)
        status = print_passes(list, workspace, argv[2], &error);
    if (status != NH_OK)
        fprintf(stderr, "%s\n", error.text[0] != '\0' ? error.text : nh_status_text(status));
    nh_workspace_free(workspace);
    nh_list_free(list);
    return status == NH_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}
