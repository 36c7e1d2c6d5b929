/* Any bytes as a list: it is refused with a report, or it loads and answers. */
#include "holds.h"

#include <string.h>

/* A hand that every set which is large enough holds some of. */
static nh_tiles first_tiles(const nh_list *list) {
    const nh_tiles *set = nh_list_set(list);
    nh_tiles hand = {{0}};
    int left = nh_list_hand_size(list);
    for (int i = 0; left > 0; i++) {
        int kind = i * 7 % NH_KINDS;
        if (hand.count[kind] < set->count[kind]) {
            hand.count[kind]++;
            left--;
        }
    }
    return hand;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    nh_list *list = list_holds((const char *)data, size);
    nh_workspace *workspace = NULL;
    if (list == NULL)
        return 0;
    MUST(nh_workspace_new(list, NULL, &workspace) == NH_OK);
    nh_tiles hand = first_tiles(list);
    nh_situation situation = NH_SITUATION;
    ranking_holds(list, workspace, &hand, &situation, NH_DRAWS_DEFAULT);
    nh_workspace_free(workspace);
    nh_list_free(list);
    return 0;
}
