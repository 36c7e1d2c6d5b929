/* The choices of a group: plain ones, the alternatives of one_of, and choices
 * taken several times. */
#include "compile/choices.h"
#include "compile/distinct.h"
#include "compile/named_kinds.h"
#include "families/product_merge.h"

/* The winds that a group presumes, and only those. */
static uint8_t prevailing_of(const struct compiler *compiler, const struct draft_group *group) {
    return group->uses_prevailing ? compiler->now.prevailing : 0;
}

static uint8_t seat_of(const struct compiler *compiler, const struct draft_group *group) {
    return group->uses_seat ? compiler->now.seat : 0;
}

static void add_target(struct compiler *compiler, const struct draft_group *group,
                       const struct packed_share shares[PARTS], struct products *out) {
    products_add_target(compiler->pool, shares, prevailing_of(compiler, group),
                        seat_of(compiler, group), out);
}

static void add_identical(struct compiler *compiler, const struct draft_group *group, int kind,
                          int size, struct products *out) {
    struct packed_share shares[PARTS] = {{0, 0}};
    struct packed_share *share = &shares[kind / PART_KINDS];
    share->need = packed_count(kind % PART_KINDS, (unsigned)size);
    if (size >= 3 && compiler->draft->set.count[NH_JOKER] > 0)
        share->joker = share->need;
    add_target(compiler, group, shares, out);
}

static void add_run(struct compiler *compiler, const struct draft_group *group, int kind,
                    int length, struct products *out) {
    struct packed_share shares[PARTS] = {{0, 0}};
    for (int i = 0; i < length; i++)
        shares[kind / PART_KINDS].need |= packed_count(kind % PART_KINDS + i, 1);
    add_target(compiler, group, shares, out);
}

/* The choices of a plain group, each one product of a single target. */
static void add_plain(struct compiler *compiler, const struct draft_group *group,
                      struct products *out) {
    pool_work(compiler->pool, NH_KINDS + group->atom_count);
    const uint64_t named = named_kinds(compiler, group);
    bool runs = group->shape == SHAPE_CHOW || group->shape == SHAPE_RUN;
    int size = group->shape == SHAPE_SET ? 3 : group->shape;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        if (!kinds_have(named, kind))
            continue;
        if (runs && run_fits(compiler, kind, group->length))
            add_run(compiler, group, kind, group->length, out);
        if (!runs && may_occur(compiler, kind))
            add_identical(compiler, group, kind, size, out);
        if (group->shape == SHAPE_SET && run_fits(compiler, kind, 3) &&
            kinds_have(named, kind + 1) && kinds_have(named, kind + 2))
            add_run(compiler, group, kind, 3, out);
    }
}

/* The sum of all groups of an alternative. */
static void add_alternative(struct compiler *compiler, const struct draft_groups *groups,
                            struct products *out) {
    struct products sum = {0};
    products_add_nothing(compiler->pool, &sum);
    for (size_t i = 0; i < groups->count && compiler_fine(compiler); i++) {
        struct products one = {0}, longer = {0};
        add_group(compiler, &groups->items[i], &one);
        products_add_sum(compiler->pool, &sum, &one, &longer);
        products_merge(compiler->pool, &longer);
        products_free(compiler->pool, &one);
        products_free(compiler->pool, &sum);
        sum = longer;
    }
    products_append(compiler->pool, &sum, out);
    products_free(compiler->pool, &sum);
}

/* The choices of a group taken once. */
static void add_choices(struct compiler *compiler, const struct draft_group *group,
                        struct products *out) {
    if (group->shape != SHAPE_ONE_OF)
        add_plain(compiler, group, out);
    for (size_t i = 0; i < group->alternative_count && compiler_fine(compiler); i++)
        add_alternative(compiler, &group->alternatives[i], out);
}

/* The sums of a choice of `first` and of choices of `once`, so many together. */
static void add_repeated(struct compiler *compiler, const struct products *first,
                         const struct products *once, int times, struct products *out) {
    struct pool *pool = compiler->pool;
    struct products sum = {0};
    products_append(pool, first, &sum);
    for (int i = 1; i < times && compiler_fine(compiler); i++) {
        struct products longer = {0};
        products_add_sum(pool, &sum, once, &longer);
        products_merge(pool, &longer);
        products_free(pool, &sum);
        sum = longer;
    }
    products_append(pool, &sum, out);
    products_free(pool, &sum);
}

void add_group(struct compiler *compiler, const struct draft_group *group, struct products *out) {
    struct pool *pool = compiler->pool;
    struct products once = {0}, wanted = {0};
    bool wants = group->wanted != NULL;
    add_choices(compiler, group, &once);
    products_merge(pool, &once);
    if (wants) {
        add_alternative(compiler, group->wanted, &wanted);
        products_merge(pool, &wanted);
    }
    if (group->distinct && group->times > 1)
        add_distinct(pool, &once,
                     &(struct distinct){group->times, prevailing_of(compiler, group),
                                        seat_of(compiler, group), wants ? &wanted : NULL},
                     out);
    else
        add_repeated(compiler, wants ? &wanted : &once, &once, group->times, out);
    products_free(pool, &once);
    products_free(pool, &wanted);
}
