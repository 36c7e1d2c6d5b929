/* Sizes: how many tiles the choices of a pattern's groups can come to. */
#include "list/draft_size.h"

#include <stdio.h>

/* Which (tiles, kongs) a choice of groups can come to. One more row than the
 * largest target stands for "larger still", without kongs: it fits no hand. */
#define SIZES (NH_TARGET_MAX + 2)
#define KONGS_MAX (NH_TARGET_MAX / 4) /* of a choice that is not larger still */
struct sizes {
    uint32_t kongs[SIZES]; /* bit k of kongs[s]: s tiles with k kongs */
};

static struct sizes add_sizes(const struct sizes *a, const struct sizes *b) {
    struct sizes sum = {{0}};
    for (int i = 0; i < SIZES; i++)
        for (int j = 0; j < SIZES && a->kongs[i] != 0; j++) {
            if (i + j > NH_TARGET_MAX)
                sum.kongs[SIZES - 1] |= b->kongs[j] != 0;
            for (int k = 0; k <= KONGS_MAX && i + j <= NH_TARGET_MAX; k++)
                if (b->kongs[j] >> k & 1u)
                    sum.kongs[i + j] |= a->kongs[i] << k;
        }
    return sum;
}

static struct sizes sizes_of_groups(const struct draft_groups *groups);

static struct sizes sizes_of_group(const struct draft_group *group) {
    struct sizes one = {{0}};
    if (group->shape == SHAPE_ONE_OF) {
        for (size_t i = 0; i < group->alternative_count; i++) {
            struct sizes sizes = sizes_of_groups(&group->alternatives[i]);
            for (int s = 0; s < SIZES; s++)
                one.kongs[s] |= sizes.kongs[s];
        }
    } else {
        int size = group->shape <= SHAPE_SEXTET ? group->shape
                   : group->shape == SHAPE_SET  ? 3
                                                : group->length;
        one.kongs[size] = group->shape == SHAPE_KONG ? 2u : 1u;
    }
    struct sizes sum = {{1u}};
    for (int i = 0; i < group->times; i++)
        sum = add_sizes(&sum, &one);
    return sum;
}

static struct sizes sizes_of_groups(const struct draft_groups *groups) {
    struct sizes sum = {{1u}};
    for (size_t i = 0; i < groups->count; i++) {
        struct sizes one = sizes_of_group(&groups->items[i]);
        sum = add_sizes(&sum, &one);
    }
    return sum;
}

/* The one size that a group can have, or -1. */
static int only_size(const struct draft_group *group) {
    struct sizes sizes = sizes_of_group(group);
    int found = -1;
    for (int size = 0; size < SIZES; size++) {
        if (sizes.kongs[size] != 0 && found >= 0)
            return -1;
        if (sizes.kongs[size] != 0)
            found = size;
    }
    return found < SIZES - 1 ? found : -1;
}

void draft_size_sum(const struct draft_groups *groups, char *text, size_t size) {
    size_t at = 0;
    text[0] = '\0';
    for (size_t i = 0; i < groups->count; i++) {
        int tiles = only_size(&groups->items[i]);
        if (tiles < 0 || size - at < 8) {
            text[0] = '\0';
            return;
        }
        at += (size_t)snprintf(text + at, size - at, i == 0 ? "%d" : " + %d", tiles);
    }
}

bool draft_size_fits(const struct draft_groups *groups, int hand, int *largest, int *misfit) {
    struct sizes sizes = sizes_of_groups(groups);
    for (int size = 0; size < SIZES; size++) {
        uint32_t kongs = sizes.kongs[size];
        int beyond = size - hand;
        if (kongs == 0)
            continue;
        bool too_few_kongs = beyond > 0 && (kongs & ((1u << beyond) - 1u)) != 0;
        if (beyond < 0 || too_few_kongs) {
            *misfit = size;
            return false;
        }
        *largest = size > *largest ? size : *largest;
    }
    return true;
}
