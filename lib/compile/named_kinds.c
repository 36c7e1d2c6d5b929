/* Ranks, classes, honours and winds of a group turned into kinds of tiles. */
#include "compile/named_kinds.h"

#include <string.h>

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

static void mark_rank(int rank, int suit, bool *marked) {
    if (rank < 1 || rank > PART_KINDS)
        return;
    for (int part = 0; part < SUITS; part++)
        if (suit < 0 || suit == part)
            marked[part * PART_KINDS + rank - 1] = true;
}

static void mark_class(uint8_t class, int suit, bool *marked) {
    if (class == CLASS_DRAGON && suit >= 0) {
        marked[matched_dragon(suit)] = true;
        return;
    }
    for (int kind = 0; kind < NH_FLOWER; kind++)
        if (in_class(kind, class) && (suit < 0 || kind / PART_KINDS == suit))
            marked[kind] = true;
}

static int rank_of_letters(const struct assignment *now, const struct atom *atom) {
    return atom->sign * now->rank[atom->letter] + atom->other_sign * now->rank[atom->other] +
           atom->offset;
}

void mark_kinds(const struct compiler *compiler, const struct draft_group *group,
                bool marked[NH_KINDS]) {
    memset(marked, false, NH_KINDS);
    int suit = suit_of(compiler, group);
    for (size_t i = 0; i < group->atom_count; i++) {
        const struct atom *atom = &group->atoms[i];
        switch (atom->type) {
        case ATOM_RANK:
            mark_rank(atom->offset, suit, marked);
            break;
        case ATOM_LETTER:
            mark_rank(rank_of_letters(&compiler->now, atom), suit, marked);
            break;
        case ATOM_HONOUR_LETTER:
            marked[NH_EAST + compiler->now.honour[atom->letter]] = true;
            break;
        case ATOM_KIND:
            marked[atom->value] = true;
            break;
        case ATOM_CLASS:
            mark_class(atom->value, suit, marked);
            break;
        case ATOM_PREVAILING:
            marked[NH_EAST + compiler->now.prevailing - 1] = true;
            break;
        default:
            marked[NH_EAST + compiler->now.seat - 1] = true;
            break;
        }
    }
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
