/* Selections of different choices. The choices of one part are selected from by
 * themselves (j of them, for each j), which keeps the products few; then the
 * selections of the parts are joined. */
#include "compile/distinct.h"
#include "families/product_merge.h"

#include <stdlib.h>

/* A choice as its four shares. */
struct choice {
    struct packed_share shares[PARTS];
    uint8_t home; /* the only part that it touches, or PARTS */
    bool wanted;  /* one of those that must not all be missing */
};

static uint8_t home_of(const struct choice *choice) {
    uint8_t home = PARTS;
    int touched = 0;
    for (uint8_t part = 0; part < PARTS; part++) {
        if (choice->shares[part].need != 0) {
            home = part;
            touched++;
        }
    }
    return touched == 1 ? home : PARTS;
}

/* By tiles: bams first, then craks, dots, honours. */
static int compare_choices(const struct choice *a, const struct choice *b) {
    for (int part = 0; part < PARTS; part++)
        if (a->shares[part].need != b->shares[part].need)
            return a->shares[part].need < b->shares[part].need ? -1 : 1;
    return 0;
}

static int choice_compare(const void *a, const void *b) {
    const struct choice *x = a, *y = b;
    if (x->home != y->home)
        return x->home < y->home ? -1 : 1;
    int order = compare_choices(x, y);
    for (int part = 0; part < PARTS && order == 0; part++)
        if (x->shares[part].joker != y->shares[part].joker)
            order = x->shares[part].joker < y->shares[part].joker ? -1 : 1;
    return order;
}

static uint64_t targets_of(const struct pool *pool, const struct product *product) {
    uint64_t count = 1;
    for (int part = 0; part < PARTS && count <= NH_CHOICES_MAX; part++)
        count *= pool->families[product->family[part]].count;
    return count;
}

/* Lists the targets of products, sorted by home and tiles; NULL on failure. */
static struct choice *list_choices(struct pool *pool, const struct products *products,
                                   size_t *count) {
    uint64_t total = 0;
    for (size_t i = 0; i < products->count && total <= NH_CHOICES_MAX; i++)
        total += targets_of(pool, &products->items[i]);
    if (total > NH_CHOICES_MAX) {
        pool_past_limit(pool, LIMIT_DISTINCT);
        return NULL;
    }
    struct choice *choices = memory_new(pool->allocator, (size_t)total, sizeof *choices);
    if (choices == NULL) {
        pool_short_of_memory(pool);
        return NULL;
    }
    *count = 0;
    pool_work(pool, 16 * total);
    for (size_t i = 0; i < products->count; i++) {
        const struct product *product = &products->items[i];
        uint64_t targets = targets_of(pool, product);
        for (uint64_t number = 0; number < targets; number++) {
            struct choice *choice = &choices[(*count)++];
            uint64_t rest = number;
            for (int part = 0; part < PARTS; part++) {
                const struct family *family = &pool->families[product->family[part]];
                choice->shares[part] = pool->shares[family->first + rest % family->count];
                rest /= family->count;
            }
            choice->home = home_of(choice);
        }
    }
    qsort(choices, *count, sizeof *choices, choice_compare);
    return choices;
}

/* Marks the choices whose tiles are those of a product of `wanted`. That takes less work than
 * the selections do. */
static void mark_wanted(struct pool *pool, struct choice *choices, size_t count,
                        const struct products *wanted) {
    size_t wanted_count = 0;
    struct choice *found = list_choices(pool, wanted, &wanted_count);
    for (size_t i = 0; i < count && found != NULL; i++)
        for (size_t k = 0; k < wanted_count && !choices[i].wanted; k++)
            choices[i].wanted = compare_choices(&choices[i], &found[k]) == 0;
    memory_release(pool->allocator, found);
}

/* taken[0][j] = all sums of j different choices, none of them wanted; taken[1][j] =
 * those with a wanted one. */
struct selection {
    struct products taken[2][NH_TIMES_MAX + 1];
};

static void selection_free(const struct pool *pool, struct selection *selection) {
    for (int wanted = 0; wanted < 2; wanted++)
        for (size_t j = 0; j <= NH_TIMES_MAX; j++)
            products_free(pool, &selection->taken[wanted][j]);
}

/* Lets one more choice be taken, or not. `one` has the choice with each way
 * that jokers may serve in it. */
static void select_choice(struct pool *pool, struct selection *selection,
                          const struct products *one, bool is_wanted, int times) {
    for (int j = times; j >= 1; j--)
        for (int before = 1; before >= 0; before--) {
            struct products *after = &selection->taken[before == 1 || is_wanted][j];
            products_add_sum(pool, &selection->taken[before][j - 1], one, after);
            products_merge(pool, after);
        }
}

/* All selections from the choices of one home. */
static void select_home(struct pool *pool, const struct distinct *distinct,
                        const struct choice *choices, size_t count, struct selection *selection) {
    products_add_nothing(pool, &selection->taken[0][0]);
    for (size_t i = 0; i < count && pool->status == NH_OK;) {
        struct products one = {0};
        size_t end = i;
        for (; end < count && compare_choices(&choices[end], &choices[i]) == 0; end++)
            products_add_target(pool, choices[end].shares, distinct->prevailing, distinct->seat,
                                &one);
        select_choice(pool, selection, &one, choices[i].wanted, distinct->times);
        products_free(pool, &one);
        i = end;
    }
}

/* Selections from two homes together: j from the one and the rest from the
 * other. */
static void join_selections(struct pool *pool, struct selection *into,
                            const struct selection *other, int times) {
    struct selection joined = {0};
    for (int total = 0; total <= times && pool->status == NH_OK; total++) {
        for (int wanted = 0; wanted < 4; wanted++)
            for (int j = 0; j <= total; j++)
                products_add_sum(pool, &into->taken[wanted & 1][j],
                                 &other->taken[wanted >> 1][total - j],
                                 &joined.taken[wanted > 0][total]);
        products_merge(pool, &joined.taken[0][total]);
        products_merge(pool, &joined.taken[1][total]);
    }
    selection_free(pool, into);
    *into = joined;
}

void add_distinct(struct pool *pool, const struct products *once, const struct distinct *distinct,
                  struct products *out) {
    size_t count = 0;
    struct choice *choices = list_choices(pool, once, &count);
    if (choices == NULL)
        return;
    if (distinct->wanted != NULL)
        mark_wanted(pool, choices, count, distinct->wanted);
    struct selection all = {0};
    products_add_nothing(pool, &all.taken[0][0]);
    for (size_t i = 0; i < count && pool->status == NH_OK;) {
        size_t end = i;
        while (end < count && choices[end].home == choices[i].home)
            end++;
        struct selection home = {0};
        select_home(pool, distinct, choices + i, end - i, &home);
        join_selections(pool, &all, &home, distinct->times);
        selection_free(pool, &home);
        i = end;
    }
    products_append(pool, &all.taken[distinct->wanted != NULL][distinct->times], out);
    selection_free(pool, &all);
    memory_release(pool->allocator, choices);
}
