/* Families are sorted by tiles, so that shares with the same tiles stand together
 * and are found by bisection. */
#include "compile/twins.h"

#include <string.h>

static bool same_share(const struct share *a, const struct share *b) {
    return memcmp(a->need, b->need, PART_KINDS) == 0;
}

bool share_has_twin(const nh_list *list, const struct family *family, uint32_t index) {
    const struct share *share = &list->shares[family->first + index];
    return (index > 0 && same_share(share - 1, share)) ||
           (index + 1 < family->count && same_share(share + 1, share));
}

bool same_sizes(const nh_list *list, const struct product *a, const struct product *b) {
    for (int part = 0; part < PARTS; part++)
        if (list->families[a->family[part]].size != list->families[b->family[part]].size)
            return false;
    return true;
}

uint32_t find_twins(const nh_list *list, const struct family *family, const struct share *share,
                    uint32_t *first) {
    const struct share *shares = list->shares + family->first;
    uint32_t low = 0, high = family->count;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        if (memcmp(shares[middle].need, share->need, PART_KINDS) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    *first = family->first + low;
    for (high = low; high < family->count && same_share(&shares[high], share);)
        high++;
    return high - low;
}
