/* The query of a hand: checked, and written as the matcher reads it. */
#include "distance/query.h"
#include "base/status.h"
#include "compile/share_bits.h"

#include <string.h>

nh_status check_winds(const nh_situation *situation, nh_error *error) {
    nh_status status = check_wind("prevailing", situation->prevailing, error);
    return status == NH_OK ? check_wind("seat", situation->seat, error) : status;
}

/* Whether the set holds hand and gone tiles together; fills `left` then. Eight
 * counts lie side by side in a word: those of a set are small, so that with a bit
 * lent to each count of the set none borrows from its neighbour, and the bit is
 * still there where the tiles suffice. */
static bool set_holds(const nh_tiles *set, const nh_tiles *hand, const nh_tiles *gone,
                      nh_tiles *left) {
    static const uint8_t starts[] = {0, 8, 16, 24, NH_KINDS - 8};
    const uint64_t lent = UINT64_C(0x8080808080808080), large = UINT64_C(0xC0C0C0C0C0C0C0C0);
    uint64_t kept = lent, beyond = 0;
    for (size_t i = 0; i < sizeof starts; i++) {
        uint64_t all, held, away;
        memcpy(&all, set->count + starts[i], sizeof all);
        memcpy(&held, hand->count + starts[i], sizeof held);
        memcpy(&away, gone->count + starts[i], sizeof away);
        beyond |= (held | away) & large;
        kept &= (all | lent) - (held + away);
        all -= away;
        memcpy(left->count + starts[i], &all, sizeof all);
    }
    return (kept & lent) == lent && beyond == 0;
}

/* The error names the first kind of which hand and gone tiles are more than there are. */
static nh_status report_too_many(const nh_tiles *set, const nh_tiles *hand, const nh_tiles *gone,
                                 nh_error *error) {
    int kind = 0;
    while (hand->count[kind] + gone->count[kind] <= set->count[kind])
        kind++;
    return error_set(
        error, NH_ERROR_TILES, 0, "hand and seen tiles together have %d of %s, but the set has %d",
        hand->count[kind] + gone->count[kind], nh_kind_notation(kind), set->count[kind]);
}

nh_status query_set(struct query *query, const nh_list *list, const nh_tiles *hand,
                    const nh_situation *situation, nh_error *error) {
    nh_status status = check_winds(situation, error);
    if (status != NH_OK)
        return status;
    *query = (struct query){.list = list, .hand = *hand};
    const nh_tiles *set = &list->set, *gone = &situation->seen;
    nh_tiles all_gone;
    if (list->set_count > 0) {
        all_gone = *gone; /* and no more where that would be too many to count */
        nh_tiles_add(&all_gone, &list->on_table);
        gone = &all_gone;
    }
    if (!set_holds(set, hand, gone, &query->left))
        return report_too_many(set, hand, gone, error);
    query->jokers = hand->count[NH_JOKER];
    query->jokers_left = query->left.count[NH_JOKER];
    query->short_of_jokers =
        set->count[NH_JOKER] > 0 && memcmp(&query->left, set, sizeof *set) != 0;
    query->prevailing = (uint8_t)situation->prevailing;
    query->seat = (uint8_t)situation->seat;
    return NH_OK;
}

void query_add_bits(struct query *query) {
    for (int part = 0; part < PARTS && !query->has_bits; part++) {
        bool honours = part == PART_HONOUR;
        query->have[part] = share_bits(query->hand.count + part * PART_KINDS, honours);
        query->live[part] = share_bits(query->left.count + part * PART_KINDS, honours);
    }
    query->has_bits = true;
}

/* hard has the bits of need - joker: those must come as the tiles themselves.
 */
struct fit fit_share(const struct query *query, int part, const struct family *family,
                     uint32_t index) {
    uint64_t bits = query->list->bits[family->first + index];
    uint64_t hard = query->list->hard[family->first + index];
    unsigned missing = family->size - bit_count(bits & query->have[part]);
    unsigned closed = bit_count(hard & ~query->have[part]);
    struct fit fit = {(uint8_t)missing, (uint8_t)(missing - closed), 0, true};
    fit.live = (hard & ~query->live[part]) == 0;
    fit.excess = (uint8_t)(family->size - bit_count(bits & query->live[part]));
    return fit;
}
