/* Another player with sets on the table: what they can still be making, and which of your
 * tiles are dangerous.
 *
 *     cc -std=c17 read.c $(pkg-config --cflags --libs nearhand) -o read
 *     ./read LIST.json "EEE 444D" "19D RR" "2468B 246C 33D W R"
 *
 * The second text is what the player has on the table, perhaps nothing; the third the
 * tiles that are gone, your own sets too; the fourth your concealed tiles.
 */
#include <nearhand.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void print_patterns(const nh_list *list, const nh_reading *reading) {
    printf("%d tiles hidden, %zu of %zu patterns left\n", reading->hidden, reading->patterns,
           nh_list_size(list));
    for (size_t i = 0; i < reading->patterns; i++) {
        const nh_read_pattern *row = nh_reading_pattern(reading, i);
        const char *name = nh_list_pattern(list, row->pattern)->name;
        if (row->status == NH_OK)
            printf("%5.1f%%  %s\n", 100 * row->share, name);
        else
            printf("     ?  %s\n", name); /* takes too much work to count */
    }
}

/* Your own tiles come first, the most dangerous before the others. */
static void print_tiles(const nh_reading *reading) {
    for (size_t i = 0; i < reading->tiles; i++) {
        const nh_read_tile *tile = nh_reading_tile(reading, i);
        if (tile->mine > 0)
            printf("%5.1f%%  %s, %u unseen\n", 100 * tile->danger, nh_kind_notation(tile->kind),
                   tile->unseen);
    }
}

/* `rest` is what the player's sets leave of the list. */
static nh_status read_with(const nh_list *rest, const char *gone, const char *mine,
                           nh_error *error) {
    nh_situation situation = NH_SITUATION;
    nh_tiles tiles;
    nh_reading *reading = NULL;
    nh_read_question question = NH_READ_QUESTION;
    question.mine = &tiles;
    question.situation = &situation;
    nh_status status = nh_tiles_parse(rest, gone, strlen(gone), &situation.seen, error);
    if (status == NH_OK)
        status = nh_tiles_parse(rest, mine, strlen(mine), &tiles, error);
    if (status == NH_OK)
        status = nh_read(rest, &question, NULL, &reading, error);
    if (status == NH_OK) {
        print_patterns(rest, reading);
        print_tiles(reading);
    }
    nh_reading_free(reading);
    return status;
}

int main(int argc, char **argv) {
    if (argc != 5) {
        fprintf(stderr, "usage: read LIST.json SETS GONE HAND\n");
        return EXIT_FAILURE;
    }
    nh_error error = {.text = ""};
    nh_list *list = NULL, *rest = NULL;
    nh_set sets[NH_SETS_MAX];
    size_t count;
    nh_status status = nh_list_load(argv[1], NULL, &list, NULL);
    if (status == NH_OK)
        status = nh_sets_parse(list, argv[2], strlen(argv[2]), sets, NH_SETS_MAX, &count, &error);
    if (status == NH_OK)
        status = nh_list_rest(list, sets, count, NULL, &rest, &error);
    if (status == NH_OK)
        status = read_with(rest, argv[3], argv[4], &error);
    if (status != NH_OK)
        fprintf(stderr, "%s\n", error.text[0] != '\0' ? error.text : nh_status_text(status));
    nh_list_free(rest);
    nh_list_free(list);
    return status == NH_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}
