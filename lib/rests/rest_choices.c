/* The ways to take a plain group once, where sets lie on the table. */
#include "rests/rest_choices.h"
#include "compile/named_kinds.h"

uint8_t presumed_prevailing(const struct compiler *compiler, const struct draft_group *group) {
    return group->uses_prevailing ? compiler->now.prevailing : 0;
}

uint8_t presumed_seat(const struct compiler *compiler, const struct draft_group *group) {
    return group->uses_seat ? compiler->now.seat : 0;
}

/* -------------------------------------------------------------- options --- */

static void push_option(struct compiler *compiler, const struct option *option,
                        struct options *out) {
    if (pool_reserve(compiler->pool, (void **)&out->items, &out->capacity, out->count + 1,
                     sizeof *out->items))
        out->items[out->count++] = *option;
}

/* A choice of tiles alike or in a row: not on the table, or each set that it can be. */
static void push_choice(struct compiler *compiler, const struct shown *shown, int kind, int tiles,
                        bool row, struct options *out) {
    struct option option = {.mask = 0};
    struct packed_share *share = &option.shares[kind / PART_KINDS];
    int slot = kind % PART_KINDS;
    if (row) {
        for (int i = 0; i < tiles; i++) {
            option.whole.count[kind + i] = 1;
            share->need |= packed_count(slot + i, 1);
        }
    } else {
        option.whole.count[kind] = (uint8_t)tiles;
        share->need = packed_count(slot, (unsigned)tiles);
        if (tiles >= 3 && compiler->draft->set.count[NH_JOKER] > 0)
            share->joker = share->need;
    }
    push_option(compiler, &option, out);
    *share = (struct packed_share){0, 0};
    for (size_t i = 0; i < shown->count; i++) {
        const nh_set *set = &shown->sets[i];
        bool is_row = set->shape == NH_CHOW;
        if (set->kind != kind || set->tiles != tiles || is_row != row)
            continue;
        option.mask = (uint8_t)(1u << i);
        push_option(compiler, &option, out);
    }
}

void list_plain(struct compiler *compiler, const struct shown *shown,
                const struct draft_group *group, struct options *out) {
    pool_work(compiler->pool, NH_KINDS + group->atom_count);
    const uint64_t named = named_kinds(compiler, group);
    bool rows = group->shape == SHAPE_CHOW || group->shape == SHAPE_RUN;
    int tiles = group->shape == SHAPE_SET ? 3 : group->shape;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        if (!kinds_have(named, kind))
            continue;
        if (rows && run_fits(compiler, kind, group->length))
            push_choice(compiler, shown, kind, group->length, true, out);
        if (!rows && may_occur(compiler, kind))
            push_choice(compiler, shown, kind, tiles, false, out);
        if (group->shape == SHAPE_SET && run_fits(compiler, kind, 3) &&
            kinds_have(named, kind + 1) && kinds_have(named, kind + 2))
            push_choice(compiler, shown, kind, 3, true, out);
    }
}
