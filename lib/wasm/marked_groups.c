/* A target's groups held against the hand: which tiles are there, which a joker stands
 * for, which are still needed, and which lie on the table. */
#include "wasm/answer_json.h"

enum role { KEPT, JOKED, NEEDED, SHOWN, ROLES };

struct roles {
    nh_tiles tiles[ROLES];
};

/* Gives the tiles of a piece their roles, out of those that are left: kept before joked
 * before needed, but joked only where jokers may be. */
static void fill_group(const nh_piece *piece, struct roles *left, struct roles *group) {
    nh_tiles tiles;
    nh_piece_tiles(piece, &tiles);
    if (piece->shown > 0) {
        nh_tiles_add(&group->tiles[SHOWN], &tiles);
        return;
    }
    for (int kind = 0; kind < NH_KINDS; kind++)
        for (enum role role = KEPT; role < SHOWN; role++) {
            uint8_t *from = &left->tiles[role].count[kind], *open = &tiles.count[kind];
            uint8_t count = *open < *from ? *open : *from;
            if (role == JOKED && piece->jokers == 0)
                continue;
            *from = (uint8_t)(*from - count);
            *open = (uint8_t)(*open - count);
            group->tiles[role].count[kind] = (uint8_t)(group->tiles[role].count[kind] + count);
        }
}

static void add_role_keys(struct answer *answer, const struct roles *group) {
    static const char *const names[ROLES] = {"keep", "joked", "need", "shown"};
    open_object(answer, NULL);
    for (enum role role = KEPT; role < ROLES; role++)
        if (nh_tiles_total(&group->tiles[role]) > 0)
            add_tiles(answer, names[role], &group->tiles[role]);
    close_object(answer);
}

/* Pieces that jokers cannot be come first: what jokers stand for then has room in the
 * others. */
void add_marked(struct answer *answer, const nh_ranked *row, const nh_layout *layout) {
    struct roles left = {{row->target, row->joked, row->need, {{0}}}};
    struct roles groups[NH_TARGET_MAX] = {{{{{0}}}}};
    nh_tiles_take(&left.tiles[KEPT], &row->joked);
    nh_tiles_take(&left.tiles[KEPT], &row->need);
    for (int open = 0; open < 2; open++)
        for (unsigned i = 0; i < layout->pieces; i++)
            if ((layout->piece[i].jokers > 0) == open)
                fill_group(&layout->piece[i], &left, &groups[layout->piece[i].group]);
    open_array(answer, "marked");
    for (unsigned i = 0; i < layout->groups; i++)
        add_role_keys(answer, &groups[i]);
    close_array(answer);
}
