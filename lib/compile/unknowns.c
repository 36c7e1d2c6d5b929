/* The letters of a variant, and the winds of the player: what takes values. */
#include "compile/unknowns.h"
#include "base/bits.h"

static void unknown_add(struct unknowns *unknowns, uint8_t type, int letter) {
    unknowns->item[unknowns->count++] = (struct unknown){type, (uint8_t)letter};
}

bool group_uses(const struct draft_group *group, const struct unknown *unknown) {
    switch (unknown->type) {
    case UNKNOWN_SUIT:
        return group->suit_letters >> unknown->letter & 1u;
    case UNKNOWN_RANK:
    case UNKNOWN_HONOUR:
        return group->tile_letters >> unknown->letter & 1u;
    case UNKNOWN_PREVAILING:
        return group->uses_prevailing;
    default:
        return group->uses_seat;
    }
}

static int count_of_type(const struct unknowns *unknowns, uint8_t type) {
    int count = 0;
    for (int i = 0; i < unknowns->count; i++)
        count += unknowns->item[i].type == type;
    return count;
}

static void find_levels(const struct draft_groups *groups, struct unknowns *unknowns) {
    for (size_t i = 0; i < groups->count; i++) {
        unknowns->level[i] = 0;
        for (int u = 0; u < unknowns->count; u++)
            if (group_uses(&groups->items[i], &unknowns->item[u]))
                unknowns->level[i] = (uint8_t)(u + 1);
    }
}

bool unknowns_find(const struct draft_groups *groups, const struct draft_letter letters[LETTERS],
                   struct unknowns *unknowns) {
    uint32_t suits = 0, tiles = 0;
    bool prevailing = false, seat = false;
    for (size_t i = 0; i < groups->count; i++) {
        const struct draft_group *group = &groups->items[i];
        suits |= group->suit_letters;
        tiles |= group->tile_letters;
        prevailing |= group->uses_prevailing;
        seat |= group->uses_seat;
    }
    unknowns->count = 0;
    if (prevailing)
        unknown_add(unknowns, UNKNOWN_PREVAILING, 0);
    if (seat)
        unknown_add(unknowns, UNKNOWN_SEAT, 0);
    for (int letter = 0; letter < LETTERS; letter++)
        if (suits >> letter & 1u)
            unknown_add(unknowns, UNKNOWN_SUIT, letter);
    for (int letter = 0; letter < LETTERS; letter++)
        if (tiles >> letter & 1u)
            unknown_add(unknowns, letters[letter].honours ? UNKNOWN_HONOUR : UNKNOWN_RANK, letter);
    find_levels(groups, unknowns);
    return count_of_type(unknowns, UNKNOWN_SUIT) <= SUITS &&
           count_of_type(unknowns, UNKNOWN_RANK) <= PART_KINDS &&
           count_of_type(unknowns, UNKNOWN_HONOUR) <= NH_FLOWER - NH_EAST;
}

/* The unknowns that share groups with each one, itself among them, as bits. */
static void find_neighbours(const struct draft_groups *groups, const struct unknowns *unknowns,
                            uint32_t *neighbours) {
    for (int u = 0; u < unknowns->count; u++)
        neighbours[u] = 1u << u;
    for (size_t i = 0; i < groups->count; i++) {
        uint32_t used = 0;
        for (int u = 0; u < unknowns->count; u++)
            if (group_uses(&groups->items[i], &unknowns->item[u]))
                used |= 1u << u;
        for (int u = 0; u < unknowns->count; u++)
            if (used >> u & 1u)
                neighbours[u] |= used;
    }
}

/* Of the unknowns in `left`, the last of those with the fewest neighbours in it. */
static int least_tied(const uint32_t *neighbours, int count, uint32_t left) {
    int least = 0, fewest = UNKNOWNS_MAX + 1;
    for (int u = 0; u < count; u++) {
        int tied = count_bits(neighbours[u] & left);
        if ((left >> u & 1u) && tied <= fewest) {
            least = u;
            fewest = tied;
        }
    }
    return least;
}

void unknowns_reorder(const struct draft_groups *groups, struct unknowns *unknowns) {
    const struct unknowns before = *unknowns;
    uint32_t neighbours[UNKNOWNS_MAX], left = (1u << before.count) - 1;
    find_neighbours(groups, &before, neighbours);
    for (int place = before.count - 1; place >= 0; place--) {
        int least = least_tied(neighbours, before.count, left);
        unknowns->item[place] = before.item[least];
        left &= ~(1u << least);
        /* its neighbours depend on each other once it is summed over */
        for (int u = 0; u < before.count; u++)
            if (neighbours[least] >> u & 1u)
                neighbours[u] |= neighbours[least];
    }
    find_levels(groups, unknowns);
}

uint64_t unknowns_assignments(const struct compiler *compiler, const struct unknowns *unknowns) {
    uint64_t assignments = 1;
    int earlier[UNKNOWN_TYPES] = {0};
    for (int u = 0; u < unknowns->count; u++) {
        const struct unknown *unknown = &unknowns->item[u];
        int values = unknown->type == UNKNOWN_PREVAILING || unknown->type == UNKNOWN_SEAT ? 4
                     : unknown->type == UNKNOWN_SUIT
                         ? SUITS
                         : count_bits(compiler->variant->letters[unknown->letter].values);
        values -= earlier[unknown->type]++;
        assignments *= (uint64_t)(values > 1 ? values : 1);
    }
    return assignments;
}

/* Whether another unknown of the type, before `index`, has the value. */
static bool is_taken(const struct unknowns *unknowns, int index, const uint8_t *values, int value) {
    for (int i = 0; i < index; i++)
        if (unknowns->item[i].type == unknowns->item[index].type &&
            values[unknowns->item[i].letter] == value)
            return true;
    return false;
}

/* Its value: a rank, a suit, an honour or a wind. */
static unsigned unknown_value(const struct compiler *compiler, const struct unknown *unknown) {
    const struct assignment *now = &compiler->now;
    switch (unknown->type) {
    case UNKNOWN_PREVAILING:
        return now->prevailing;
    case UNKNOWN_SEAT:
        return now->seat;
    case UNKNOWN_SUIT:
        return now->suit[unknown->letter];
    case UNKNOWN_HONOUR:
        return now->honour[unknown->letter];
    default:
        return now->rank[unknown->letter];
    }
}

/* Different letters differ: there are no more than nine ranks, three suits, seven
 * honours and two winds, which fit two words of sixteen values. */
struct values unknowns_values(const struct compiler *compiler, const struct unknowns *unknowns,
                              uint32_t chosen) {
    struct values values = {{0, 0}};
    for (int u = 0; u < unknowns->count; u++)
        if (chosen >> u & 1u)
            values.word[u / 16] |= (uint64_t)unknown_value(compiler, &unknowns->item[u])
                                   << (4 * (u % 16));
    return values;
}

/* The first bits are for ranks, then come those for suits and for honours. */
#define SUIT_BITS PART_KINDS
#define HONOUR_BITS (PART_KINDS + SUITS)

uint32_t unknown_value_bit(const struct compiler *compiler, const struct unknowns *unknowns,
                           int index) {
    const struct unknown *unknown = &unknowns->item[index];
    unsigned value = unknown_value(compiler, unknown);
    switch (unknown->type) {
    case UNKNOWN_RANK:
        return 1u << (value - 1);
    case UNKNOWN_SUIT:
        return 1u << (SUIT_BITS + value);
    case UNKNOWN_HONOUR:
        return 1u << (HONOUR_BITS + value);
    default:
        return 0;
    }
}

uint32_t unknown_range_bits(const struct compiler *compiler, const struct unknowns *unknowns,
                            int index) {
    const struct unknown *unknown = &unknowns->item[index];
    uint32_t values = compiler->variant->letters[unknown->letter].values;
    switch (unknown->type) {
    case UNKNOWN_RANK:
        return values;
    case UNKNOWN_SUIT:
        return ((1u << SUITS) - 1) << SUIT_BITS;
    case UNKNOWN_HONOUR:
        return values << HONOUR_BITS;
    default:
        return 0;
    }
}

bool unknown_assign(struct compiler *compiler, const struct unknowns *unknowns, int index,
                    int value) {
    struct assignment *now = &compiler->now;
    int letter = unknowns->item[index].letter;
    switch (unknowns->item[index].type) {
    case UNKNOWN_PREVAILING:
        now->prevailing = (uint8_t)(value + 1);
        return value < 4;
    case UNKNOWN_SEAT:
        now->seat = (uint8_t)(value + 1);
        return value < 4;
    case UNKNOWN_SUIT:
        if (value >= SUITS || compiler->draft->set.count[value * PART_KINDS] == 0 ||
            is_taken(unknowns, index, now->suit, value))
            return false;
        now->suit[letter] = (uint8_t)value;
        return true;
    case UNKNOWN_HONOUR:
        if (!(compiler->variant->letters[letter].values >> value & 1u) ||
            is_taken(unknowns, index, now->honour, value))
            return false;
        now->honour[letter] = (uint8_t)value;
        return true;
    default:
        if (!(compiler->variant->letters[letter].values >> value & 1u) ||
            is_taken(unknowns, index, now->rank, value + 1))
            return false;
        now->rank[letter] = (uint8_t)(value + 1);
        return true;
    }
}

void unknown_forget(struct compiler *compiler, const struct unknowns *unknowns, int index) {
    if (unknowns->item[index].type == UNKNOWN_PREVAILING)
        compiler->now.prevailing = 0;
    if (unknowns->item[index].type == UNKNOWN_SEAT)
        compiler->now.seat = 0;
}
