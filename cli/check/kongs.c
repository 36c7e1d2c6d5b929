/* Whether kongs on the table are what spoils a hand. */
#include "check/kongs.h"

#include <stdlib.h>
#include <string.h>

#define CHOICES_MOST (1u << NH_SETS_MAX)

/* Some of the kongs as pungs. */
struct choice_of_kongs {
    uint8_t kind; /* of the first of them */
    nh_list *list;
    nh_workspace *workspace;
};

struct kongs_as_pungs {
    const nh_list *whole;
    nh_set sets[NH_SETS_MAX];
    size_t set_count;
    bool ready;
    struct choice_of_kongs choice[CHOICES_MOST];
    size_t count;
};

struct kongs_as_pungs *kongs_new(const nh_list *whole, const nh_list *list) {
    struct kongs_as_pungs *kongs = calloc(1, sizeof *kongs);
    if (kongs == NULL)
        return NULL;
    const nh_set *sets = nh_list_sets(list, &kongs->set_count);
    memcpy(kongs->sets, sets, kongs->set_count * sizeof *sets);
    kongs->whole = whole;
    return kongs;
}

void kongs_free(struct kongs_as_pungs *kongs) {
    for (size_t i = 0; kongs != NULL && i < kongs->count; i++) {
        nh_workspace_free(kongs->choice[i].workspace);
        nh_list_free(kongs->choice[i].list);
    }
    free(kongs);
}

static nh_set pung_of(nh_set set) {
    uint8_t jokers = set.jokers < NH_PUNG ? set.jokers : NH_PUNG - 1;
    return (nh_set){NH_PUNG, set.kind, NH_PUNG, jokers};
}

/* Adds a choice, one bit for each set; nothing where a set of it is no kong. */
static nh_status add_kong_choice(struct kongs_as_pungs *kongs, unsigned chosen, nh_error *error) {
    struct choice_of_kongs *choice = &kongs->choice[kongs->count];
    nh_set sets[NH_SETS_MAX];
    memcpy(sets, kongs->sets, sizeof sets);
    for (size_t i = kongs->set_count; i-- > 0;) {
        if ((chosen >> i & 1u) == 0)
            continue;
        if (sets[i].shape != NH_KONG)
            return NH_OK;
        sets[i] = pung_of(sets[i]);
        choice->kind = sets[i].kind;
    }
    nh_status status =
        nh_list_rest(kongs->whole, sets, kongs->set_count, NULL, &choice->list, error);
    if (status != NH_OK)
        return status;
    kongs->count++;
    return nh_workspace_new(choice->list, NULL, &choice->workspace);
}

static unsigned kongs_in(unsigned chosen) {
    unsigned count = 0;
    for (; chosen != 0; chosen &= chosen - 1)
        count++;
    return count;
}

static nh_status prepare(struct kongs_as_pungs *kongs, nh_error *error) {
    nh_status status = NH_OK;
    for (unsigned number = 1; number <= kongs->set_count && !kongs->ready; number++)
        for (unsigned chosen = 1; chosen < 1u << kongs->set_count && status == NH_OK; chosen++)
            if (kongs_in(chosen) == number)
                status = add_kong_choice(kongs, chosen, error);
    kongs->ready = status == NH_OK;
    return status;
}

nh_status kongs_find(struct kongs_as_pungs *kongs, const nh_tiles *hand,
                     const nh_situation *situation, struct kong_in_the_way *way, nh_error *error) {
    nh_check_question asked = NH_CHECK_QUESTION;
    nh_checking checking;
    nh_status status = prepare(kongs, error);
    asked.situation = situation;
    way->found = false;
    for (size_t i = 0; i < kongs->count && status == NH_OK && !way->found; i++) {
        status = nh_check(kongs->choice[i].workspace, hand, &asked, &way->row, 1, &checking, error);
        way->found = checking.completed > 0;
        way->kind = kongs->choice[i].kind;
    }
    return status;
}
