/* A turn after the passes, with sets on the table: whether the hand is complete, else
 * which tile to discard and which discards of the others to claim then.
 *
 *     cc -std=c17 play.c $(pkg-config --cflags --libs nearhand) -o play
 *     ./play LIST.json "444D EEE" "2468B 24C 33D"
 *
 * The second text is what lies on the table, perhaps nothing; the third the hand that
 * has drawn a tile, without it.
 */
#include <nearhand.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CLAIMS_SHOWN 5

static const char *pattern_name(const nh_workspace *workspace, uint32_t pattern) {
    return nh_list_pattern(nh_workspace_list(workspace), pattern)->name;
}

/* With the best tile gone: the hand that waits, and the tile among those seen. */
static nh_status discard_best(nh_workspace *workspace, nh_tiles *hand, nh_situation *situation,
                              nh_error *error) {
    nh_discard_choice best;
    nh_discarding discarding;
    nh_discard_question question = NH_DISCARD_QUESTION;
    question.situation = situation;
    nh_status status = nh_discard(workspace, hand, &question, &best, 1, &discarding, error);
    if (status != NH_OK || discarding.rows == 0)
        return status;
    if (best.away == NH_AWAY_NONE)
        printf("discard %s: no pattern is left\n", nh_kind_notation(best.kind));
    else
        printf("discard %s: %u away, %u useful tiles, %s\n", nh_kind_notation(best.kind), best.away,
               best.useful_count, pattern_name(workspace, best.pattern));
    nh_tiles tile = {{0}};
    tile.count[best.kind] = 1;
    nh_tiles_take(hand, &tile);
    nh_tiles_add(&situation->seen, &tile);
    return NH_OK;
}

static nh_status print_claims(nh_workspace *workspace, const nh_tiles *hand,
                              const nh_situation *situation, nh_error *error) {
    nh_claim claims[CLAIMS_SHOWN];
    nh_claiming claiming;
    nh_claim_question question = NH_CLAIM_QUESTION;
    question.situation = situation;
    nh_status status =
        nh_claims(workspace, hand, &question, claims, CLAIMS_SHOWN, &claiming, error);
    for (size_t i = 0; status == NH_OK && i < claiming.rows; i++) {
        const nh_claim *claim = &claims[i];
        if (claim->use == NH_CLAIM_WIN)
            printf("claim %s to win\n", nh_kind_notation(claim->kind));
        else
            printf("claim %s for a set of %u: %u away%s\n", nh_kind_notation(claim->kind),
                   claim->set.tiles, claim->away, claim->worth ? "" : ", but better wait");
    }
    return status;
}

static nh_status play_turn(nh_workspace *workspace, const char *text, nh_error *error) {
    const nh_list *list = nh_workspace_list(workspace);
    nh_situation situation = NH_SITUATION;
    nh_tiles hand;
    nh_completed completed = {0};
    nh_checking checking;
    nh_status status = nh_hand_parse(list, text, strlen(text), &hand, error);
    if (status == NH_OK)
        status = nh_check(workspace, &hand, NULL, &completed, 1, &checking, error);
    if (status == NH_OK && checking.completed > 0) {
        printf("complete: %s\n", pattern_name(workspace, completed.pattern));
        return NH_OK;
    }
    if (status == NH_OK)
        status = discard_best(workspace, &hand, &situation, error);
    return status == NH_OK ? print_claims(workspace, &hand, &situation, error) : status;
}

int main(int argc, char **argv) {
    if (argc != 4) {
        fprintf(stderr, "usage: play LIST.json SETS HAND\n");
        return EXIT_FAILURE;
    }
    nh_error error = {.text = ""};
    nh_list *list = NULL, *rest = NULL; /* the rest is what the sets leave of the list */
    nh_workspace *workspace = NULL;
    nh_set sets[NH_SETS_MAX];
    size_t count;
    nh_status status = nh_list_load(argv[1], NULL, &list, NULL);
    if (status == NH_OK)
        status = nh_sets_parse(list, argv[2], strlen(argv[2]), sets, NH_SETS_MAX, &count, &error);
    if (status == NH_OK)
        status = nh_list_rest(list, sets, count, NULL, &rest, &error);
    if (status == NH_OK)
        status = nh_workspace_new(rest, NULL, &workspace);
    if (status == NH_OK)
        status = play_turn(workspace, argv[3], &error);
    if (status != NH_OK)
        fprintf(stderr, "%s\n", error.text[0] != '\0' ? error.text : nh_status_text(status));
    nh_workspace_free(workspace);
    nh_list_free(rest);
    nh_list_free(list);
    return status == NH_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}
