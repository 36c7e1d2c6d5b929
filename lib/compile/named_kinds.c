/* Ranks, classes, honours and winds of a group turned into kinds of tiles. */
#include "compile/named_kinds.h"

bool in_class(int kind, uint8_t class) {
    bool suited = kind < NH_EAST;
    bool wind = kind >= NH_EAST && kind <= NH_NORTH;
    bool dragon = kind >= NH_RED;
    bool terminal = suited && (kind % PART_KINDS == 0 || kind % PART_KINDS == 8);
    switch (class) {
    case CLASS_WIND:
        return wind;
    case CLASS_DRAGON:
        return dragon;
    case CLASS_HONOUR:
        return wind || dragon;
    case CLASS_TERMINAL:
        return terminal;
    case CLASS_ORPHAN:
        return terminal || wind || dragon;
    case CLASS_SIMPLE:
        return suited && !terminal;
    case CLASS_SUITED:
        return suited;
    default:
        return true;
    }
}

/* The dragon that goes with a suit. */
static int matched_dragon(int suit) {
    return suit == PART_BAM ? NH_GREEN : suit == PART_CRAK ? NH_RED : NH_WHITE;
}

/* The suit that a group names, or -1 for any. */
static int suit_of(const struct compiler *compiler, const struct draft_group *group) {
    if (group->suit_type == SUIT_GIVEN)
        return group->suit;
    if (group->suit_type == SUIT_LETTER)
        return compiler->now.suit[group->suit];
    return -1;
}

/* The tile of a rank in a suit, or in all. */
static uint64_t kinds_of_rank(int rank, int suit) {
    if (rank < 1 || rank > PART_KINDS)
        return 0;
    if (suit >= 0)
        return kind_bit(suit * PART_KINDS + rank - 1);
    uint64_t kinds = 0;
    for (int part = 0; part < SUITS; part++)
        kinds |= kind_bit(part * PART_KINDS + rank - 1);
    return kinds;
}

static uint64_t kinds_of_class(uint8_t class, int suit) {
    if (class == CLASS_DRAGON && suit >= 0)
        return kind_bit(matched_dragon(suit));
    uint64_t kinds = 0;
    for (int kind = 0; kind < NH_FLOWER; kind++)
        if (in_class(kind, class) && (suit < 0 || kind / PART_KINDS == suit))
            kinds |= kind_bit(kind);
    return kinds;
}

static int rank_of_letters(const struct assignment *now, const struct atom *atom) {
    return atom->sign * now->rank[atom->letter] + atom->other_sign * now->rank[atom->other] +
           atom->offset;
}

static uint64_t kinds_of_atom(const struct assignment *now, const struct atom *atom, int suit) {
    switch (atom->type) {
    case ATOM_RANK:
        return kinds_of_rank(atom->offset, suit);
    case ATOM_LETTER:
        return kinds_of_rank(rank_of_letters(now, atom), suit);
    case ATOM_HONOUR_LETTER:
        return kind_bit(NH_EAST + now->honour[atom->letter]);
    case ATOM_KIND:
        return kind_bit(atom->value);
    case ATOM_CLASS:
        return kinds_of_class(atom->value, suit);
    case ATOM_PREVAILING:
        return kind_bit(NH_EAST + now->prevailing - 1);
    default:
        return kind_bit(NH_EAST + now->seat - 1);
    }
}

uint64_t named_kinds(const struct compiler *compiler, const struct draft_group *group) {
    uint64_t kinds = 0;
    int suit = suit_of(compiler, group);
    for (size_t i = 0; i < group->atom_count; i++)
        kinds |= kinds_of_atom(&compiler->now, &group->atoms[i], suit);
    return kinds;
}

bool may_occur(const struct compiler *compiler, int kind) {
    return compiler->draft->set.count[kind] > 0 && compiler->variant->limits.allowed[kind];
}

bool run_fits(const struct compiler *compiler, int kind, int length) {
    if (kind >= NH_EAST || kind % PART_KINDS + length > PART_KINDS)
        return false;
    for (int i = 0; i < length; i++)
        if (!may_occur(compiler, kind + i))
            return false;
    return true;
}
