/* Limits of whole targets: how many suits occur, whether honours do, and how many
 * tiles there are of a class. Which tiles may occur is decided by the choices.
 *
 * A limit holds for a target, and a product stands for many. Its families are
 * split by what the limits look at, so that all shares of a part of a family
 * agree; then the limit holds for all targets of a product of parts, or for none.
 * Sets on the table are part of the target, though not of the products. */
#include "compile/pattern_limits.h"
#include "compile/named_kinds.h"

/* What the limits look at, as a number: eight bits for the tiles of each class.
 * Those of the four parts of a target add up. */
typedef uint64_t class_counts;

_Static_assert(CLASSES <= 8, "the counts of all classes fit 64 bits");

static int count_in(class_counts counts, int class) {
    return (int)(counts >> 8 * class & 0xFF);
}

/* A part of a family: the shares that agree in their counts. */
struct split {
    uint32_t family;
    class_counts counts;
};

/* The parts of the families of one product. */
struct splits {
    struct split *items;
    size_t count, capacity;
    size_t first[PARTS + 1];
};

/* ------------------------------------------------------------- counts --- */

/* The classes that are counted: those with limits, and honours where they are
 * limited. */
static uint32_t counted_classes(const struct draft_limits *limits) {
    uint32_t classes = limits->honours != HONOURS_FREE ? 1u << CLASS_HONOUR : 0;
    for (int class = 0; class < CLASSES; class ++)
        if (limits->least[class] > 0 || limits->most[class] < NH_TARGET_MAX)
            classes |= 1u << class;
    return classes;
}

/* How many tiles of the classes `need` of a part has. Flowers are of none. */
static class_counts counts_of(const uint8_t need[PART_KINDS], int part, uint32_t classes) {
    class_counts counts = 0;
    int slots = part == PART_HONOUR ? HONOURS : PART_KINDS;
    for (int slot = 0; slot < slots; slot++)
        for (int class = 0; need[slot] > 0 && class < CLASSES; class ++)
            if ((classes >> class & 1u) && in_class(part * PART_KINDS + slot, (uint8_t) class))
                counts += (class_counts)need[slot] << 8 * class;
    return counts;
}

/* The kinds of each part that the classes count, as counts of a share with all bits set:
 * none for a class that is not counted. */
struct class_masks {
    uint64_t of[PARTS][CLASSES];
};

static struct class_masks masks_of(uint32_t classes) {
    struct class_masks masks = {{{0}}};
    for (int part = 0; part < PARTS; part++) {
        int slots = part == PART_HONOUR ? HONOURS : PART_KINDS;
        for (int class = 0; class < CLASSES; class ++)
            for (int slot = 0; slot < slots && (classes >> class & 1u); slot++)
                if (in_class(part * PART_KINDS + slot, (uint8_t) class))
                    masks.of[part][class] |= packed_count(slot, COUNT_MASK);
    }
    return masks;
}

static class_counts counts_of_share(const struct packed_share *share, int part,
                                    const struct class_masks *masks) {
    class_counts counts = 0;
    for (int class = 0; class < CLASSES; class ++)
        if (masks->of[part][class] != 0)
            counts += (class_counts)packed_total(share->need & masks->of[part][class]) << 8 * class;
    return counts;
}

static bool suits_fit(const struct draft_limits *limits, int suits) {
    return suits >= limits->suits_least && suits <= limits->suits_most;
}

static bool counts_fit(const struct draft_limits *limits, class_counts counts, int suits) {
    uint32_t classes = counted_classes(limits);
    for (int class = 0; class < CLASSES; class ++) {
        int count = count_in(counts, class);
        if ((classes >> class & 1u) &&
            (count < limits->least[class] || count > limits->most[class]))
            return false;
    }
    bool honours = count_in(counts, CLASS_HONOUR) > 0;
    return limits->honours == HONOURS_FREE ||
           (limits->honours == HONOURS_NONE
                ? !honours
                : honours && (limits->honours == HONOURS_SOME || suits == 0));
}

/* ------------------------------------------------------------ splitting --- */

static bool add_split(struct pool *pool, uint32_t family, class_counts counts,
                      struct splits *splits) {
    if (!pool_reserve(pool, (void **)&splits->items, &splits->capacity, splits->count + 1,
                      sizeof *splits->items))
        return false;
    splits->items[splits->count++] = (struct split){family, counts};
    return true;
}

/* Adds the shares of a family that have these counts, as a family of their own. */
static bool add_agreeing(struct pool *pool, const struct family *family, int part,
                         const struct class_masks *masks, class_counts counts,
                         struct splits *splits) {
    struct packed_share *shares = pool_scratch(pool, family->count);
    size_t count = 0;
    for (uint32_t i = 0; shares != NULL && i < family->count; i++) {
        const struct packed_share *share = &pool->shares[family->first + i];
        if (counts_of_share(share, part, masks) == counts)
            shares[count++] = *share;
    }
    if (shares == NULL)
        return false;
    uint32_t id = family_of_shares(pool, part == PART_HONOUR, shares, count, family->excess);
    return pool->status == NH_OK && add_split(pool, id, counts, splits);
}

static bool is_among(const struct splits *splits, size_t first, class_counts counts) {
    for (size_t i = first; i < splits->count; i++)
        if (splits->items[i].counts == counts)
            return true;
    return false;
}

/* Splits one family of a product by the counts of its shares. */
static bool split_family(struct pool *pool, uint32_t id, int part, const struct class_masks *masks,
                         struct splits *splits) {
    const struct family family = pool->families[id];
    size_t first = splits->count;
    if (!pool_work(pool, (uint64_t)family.count * PART_KINDS))
        return false;
    class_counts counts = counts_of_share(&pool->shares[family.first], part, masks);
    bool agree = true;
    for (uint32_t i = 1; i < family.count && agree; i++)
        agree = counts_of_share(&pool->shares[family.first + i], part, masks) == counts;
    if (agree)
        return add_split(pool, id, counts, splits);
    for (uint32_t i = 0; i < family.count; i++) {
        counts = counts_of_share(&pool->shares[family.first + i], part, masks);
        if (is_among(splits, first, counts))
            continue;
        if (!pool_work(pool, (uint64_t)family.count * PART_KINDS) ||
            !add_agreeing(pool, &family, part, masks, counts, splits))
            return false;
    }
    return true;
}

/* ------------------------------------------------------------ products --- */

static bool has_part(const nh_tiles *tiles, int part) {
    for (int slot = 0; slot < PART_KINDS; slot++)
        if (tiles->count[part * PART_KINDS + slot] > 0)
            return true;
    return false;
}

static int suits_with(const struct compiler *compiler, const struct product *product) {
    int suits = 0;
    for (int part = 0; part < SUITS; part++)
        suits += compiler->pool->families[product->family[part]].size > 0 ||
                 has_part(&compiler->shown, part);
    return suits;
}

/* Those of a target's tiles. */
static class_counts counts_of_tiles(const nh_tiles *tiles, uint32_t classes) {
    class_counts counts = 0;
    for (int part = 0; part < PARTS && classes != 0; part++)
        counts += counts_of(tiles->count + part * PART_KINDS, part, classes);
    return counts;
}

/* Adds the products of the parts from `part` on that are within the limits. */
static void add_fitting(struct compiler *compiler, const struct splits *splits, int part,
                        class_counts counts, int suits, struct product *product,
                        struct products *out) {
    struct pool *pool = compiler->pool;
    if (part == PARTS) {
        struct products item = {product, 1, 1};
        pool_work(pool, 1);
        if (counts_fit(&compiler->variant->limits, counts, suits))
            products_append(pool, &item, out);
        return;
    }
    for (size_t i = splits->first[part]; i < splits->first[part + 1] && compiler_fine(compiler);
         i++) {
        product->family[part] = splits->items[i].family;
        add_fitting(compiler, splits, part + 1, counts + splits->items[i].counts, suits, product,
                    out);
    }
}

/* Adds the parts of a product that are within the limits. */
static void add_product_within(struct compiler *compiler, const struct product *product,
                               uint32_t classes, const struct class_masks *masks,
                               struct splits *splits, struct products *out) {
    struct pool *pool = compiler->pool;
    int suits = suits_with(compiler, product);
    if (!suits_fit(&compiler->variant->limits, suits))
        return;
    if (classes == 0) {
        products_append(pool, &(struct products){(struct product *)product, 1, 1}, out);
        return;
    }
    splits->count = 0;
    for (int part = 0; part < PARTS; part++) {
        splits->first[part] = splits->count;
        if (!split_family(pool, product->family[part], part, masks, splits))
            return;
    }
    splits->first[PARTS] = splits->count;
    struct product one = *product;
    add_fitting(compiler, splits, 0, counts_of_tiles(&compiler->shown, classes), suits, &one, out);
}

void add_within_limits(struct compiler *compiler, const struct products *from,
                       struct products *out) {
    uint32_t classes = counted_classes(&compiler->variant->limits);
    const struct class_masks masks = masks_of(classes);
    struct splits splits = {0};
    for (size_t i = 0; i < from->count && compiler_fine(compiler); i++)
        add_product_within(compiler, &from->items[i], classes, &masks, &splits, out);
    memory_release(compiler->pool->allocator, splits.items);
}

/* --------------------------------------------------------- one target --- */

bool tiles_within_limits(const struct draft_limits *limits, const nh_tiles *target) {
    int suits = 0;
    for (int kind = 0; kind < NH_JOKER; kind++)
        if (target->count[kind] > 0 && !limits->allowed[kind])
            return false;
    for (int part = 0; part < SUITS; part++)
        suits += has_part(target, part);
    return suits_fit(limits, suits) &&
           counts_fit(limits, counts_of_tiles(target, counted_classes(limits)), suits);
}
