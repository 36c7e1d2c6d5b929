/* A list read by the library and by the plain reference. See both.h. */
#include "both.h"

#include <string.h>

void both_read(struct both *both, struct decisions *decisions, const struct grammar_size *size) {
    const char *json = grammar_list(decisions, size);
    if (getenv("NEARHAND_SHOW") != NULL)
        fprintf(stderr, "%s\n", json);
    *both = (struct both){.situation = NH_SITUATION, .draws = NH_DRAWS_DEFAULT};
    nh_status status = nh_list_read(json, strlen(json), NULL, &both->list, &both->mistakes);
    MUST(status == NH_OK || status == NH_ERROR_LIST);
    if (status == NH_OK)
        MUST(nh_workspace_new(both->list, NULL, &both->workspace) == NH_OK);
    both->plain = reference_read(json);
    both->patterns = reference_patterns(both->plain);
}

void both_free(struct both *both) {
    nh_workspace_free(both->workspace);
    nh_mistakes_free(both->mistakes);
    nh_list_free(both->list);
    reference_free(both->plain);
}

bool both_expand(struct both *both, size_t bound) {
    for (size_t i = 0; i < both->patterns; i++) {
        if (reference_expand(both->plain, i, both->situation.prevailing, both->situation.seat,
                             bound, &both->targets[i]))
            continue;
        while (i-- > 0)
            reference_release(&both->targets[i]);
        return false;
    }
    return true;
}

void both_release(struct both *both) {
    for (size_t i = 0; i < both->patterns; i++)
        reference_release(&both->targets[i]);
}
