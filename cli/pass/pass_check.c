/* Whether the tiles that the options name fit the hand. */
#include "hands/hand_line.h"
#include "pass/pass_task.h"

#include <stdio.h>
#include <string.h>

static bool wrong(nh_error *error, const char *format, const char *notation) {
    *error = (nh_error){NH_ERROR_TILES, 0, ""};
    snprintf(error->text, sizeof error->text, format, notation);
    return false;
}

static bool check_pass_size(const struct pass_question *question, const nh_tiles *hand,
                            nh_error *error) {
    if (question->any_size || hand_before_play(question->list, hand, error))
        return true;
    size_t length = strlen(error->text);
    snprintf(error->text + length, sizeof error->text - length, ": --any-size takes it as it is");
    return false;
}

/* A tile that came in is still there, or was passed on. */
static bool check_got(const struct pass_question *question, const nh_tiles *hand, nh_error *error) {
    for (int kind = 0; question->has_got && kind < NH_KINDS; kind++)
        if (question->got.count[kind] > hand->count[kind] + question->given.count[kind])
            return wrong(error, "--got: %s came in, but is neither in the hand nor in --given",
                         nh_kind_notation(kind));
    return true;
}

/* A tile that went may have come back. It must have where the set has no other of
 * its kind that could have come in: then it is no longer gone. */
static bool find_back(const struct pass_question *question, struct pass_answer *answer,
                      nh_error *error) {
    const nh_tiles *set = nh_list_set(question->list);
    uint8_t *seen = answer->situation.seen.count;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        int excess = answer->hand.count[kind] + seen[kind] - set->count[kind];
        if (excess <= 0 || question->given.count[kind] == 0)
            continue;
        if (excess > question->given.count[kind] || excess > question->got.count[kind])
            return wrong(error,
                         "hand and gone tiles have more %s than there are; if some came back, "
                         "add them to --got",
                         nh_kind_notation(kind));
        seen[kind] = (uint8_t)(seen[kind] - excess);
    }
    return true;
}

bool pass_check_mine(const struct pass_question *question, const nh_tiles *hand, nh_error *error) {
    const nh_charleston *charleston = nh_list_charleston(question->list);
    unsigned count = (unsigned)nh_tiles_total(&question->mine);
    char text[NH_ERROR_TEXT_SIZE + 16];
    if (!question->has_mine ||
        nh_charleston_check(charleston, hand, &question->mine, count, error) == NH_OK)
        return true;
    snprintf(text, sizeof text, "--mine: %s", error->text);
    snprintf(error->text, sizeof error->text, "%.*s", NH_ERROR_TEXT_SIZE - 1, text);
    return false;
}

bool pass_check(const struct pass_question *question, struct pass_answer *answer, nh_error *error) {
    return check_got(question, &answer->hand, error) && find_back(question, answer, error) &&
           check_pass_size(question, &answer->hand, error);
}
