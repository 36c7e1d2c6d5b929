/* Lists that a grammar makes of the bytes, up to the limits of a list, with
 * hands that the bytes deal: what is loaded answers, and the answers hold
 * together. */
#include "grammar.h"
#include "holds.h"

#include <string.h>

#define HANDS 3

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const struct grammar_size large = {GRAMMAR_PATTERNS_MAX, NH_HAND_MAX, 5, 0};
    struct decisions decisions = {data, size};
    const char *json = grammar_list(&decisions, &large);
    if (getenv("NEARHAND_SHOW") != NULL)
        fprintf(stderr, "%s\n", json);
    nh_list *list = list_holds(json, strlen(json));
    nh_workspace *workspace = NULL;
    if (list == NULL)
        return 0;
    MUST(nh_workspace_new(list, NULL, &workspace) == NH_OK);
    for (int i = 0; i < HANDS; i++) {
        nh_tiles hand;
        nh_situation situation;
        int draws;
        grammar_situation(&decisions, &situation, &draws);
        grammar_hand(&decisions, nh_list_set(list), nh_list_hand_most(list), &hand,
                     &situation.seen);
        ranking_holds(list, workspace, &hand, &situation, draws);
    }
    audit_holds(list, &decisions);
    nh_workspace_free(workspace);
    nh_list_free(list);
    return 0;
}
