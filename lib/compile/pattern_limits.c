/* How many suits and whether honours occur: a product is within the limits, or
 * split by its honours first. Which tiles may occur is seen to by the choices. */
#include "compile/pattern_limits.h"

static bool has_suit(const nh_tiles *tiles, int suit) {
    for (int slot = 0; slot < PART_KINDS; slot++)
        if (tiles->count[suit * PART_KINDS + slot] > 0)
            return true;
    return false;
}

static bool within_limits(const struct compiler *compiler, const struct product *product) {
    const struct draft_limits *limits = &compiler->variant->limits;
    const struct pool *pool = compiler->pool;
    int suits = 0;
    for (int part = 0; part < SUITS; part++)
        suits += pool->families[product->family[part]].size > 0 || has_suit(&compiler->shown, part);
    if (suits < limits->suits_least || suits > limits->suits_most)
        return false;
    if (limits->honours == HONOURS_FREE)
        return true;
    /* flowers are in the honour part, but no honours: look at each share's
     * first seven kinds; products were split so that all shares agree */
    const struct family *family = &pool->families[product->family[PART_HONOUR]];
    bool honours = false;
    for (int slot = 0; slot < 7; slot++)
        honours |=
            pool->shares[family->first].need[slot] > 0 || compiler->shown.count[NH_EAST + slot] > 0;
    if (limits->honours == HONOURS_NONE)
        return !honours;
    return honours && (limits->honours == HONOURS_SOME || suits == 0);
}

static bool has_honours(const struct share *share) {
    for (int slot = 0; slot < 7; slot++)
        if (share->need[slot] > 0)
            return true;
    return false;
}

/* Appends a product with its honour family split by whether honours occur. */
static void add_split(struct compiler *compiler, const struct product *product,
                      struct products *out) {
    struct pool *pool = compiler->pool;
    const struct family family = pool->families[product->family[PART_HONOUR]];
    for (uint32_t i = 0; i < family.count; i++) {
        struct product one = *product;
        struct share shares[PARTS] = {{{0}, {0}}};
        shares[PART_HONOUR] = pool->shares[family.first + i];
        struct products single = {0};
        products_add_target(pool, shares, 0, 0, &single);
        if (single.count == 1) {
            one.family[PART_HONOUR] = single.items[0].family[PART_HONOUR];
            if (within_limits(compiler, &one)) {
                struct products item = {&one, 1, 1};
                products_append(pool, &item, out);
            }
        }
        products_free(pool, &single);
    }
}

/* Whether a family of the honour part has shares with honours and shares
 * without, which flowers make possible. */
static bool is_mixed(const struct compiler *compiler, const struct product *product) {
    const struct pool *pool = compiler->pool;
    const struct family *family = &pool->families[product->family[PART_HONOUR]];
    const struct share *shares = pool->shares + family->first;
    for (uint32_t i = 1; i < family->count; i++)
        if (has_honours(&shares[i]) != has_honours(&shares[0]))
            return true;
    return false;
}

void add_within_limits(struct compiler *compiler, const struct products *from,
                       struct products *out) {
    bool honours_matter = compiler->variant->limits.honours != HONOURS_FREE;
    for (size_t i = 0; i < from->count && compiler_fine(compiler); i++) {
        struct product product = from->items[i];
        struct products item = {&product, 1, 1};
        if (honours_matter && is_mixed(compiler, &product))
            add_split(compiler, &product, out);
        else if (within_limits(compiler, &product))
            products_append(compiler->pool, &item, out);
    }
}

bool tiles_within_limits(const struct draft_limits *limits, const nh_tiles *target) {
    bool suit[SUITS] = {false}, honours = false;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        if (target->count[kind] == 0)
            continue;
        if (!limits->allowed[kind])
            return false;
        if (kind < NH_EAST)
            suit[kind / PART_KINDS] = true;
        else
            honours |= kind < NH_FLOWER;
    }
    int suits = suit[0] + suit[1] + suit[2];
    if (suits < limits->suits_least || suits > limits->suits_most)
        return false;
    return limits->honours == HONOURS_FREE ||
           (limits->honours == HONOURS_NONE
                ? !honours
                : honours && (limits->honours == HONOURS_SOME || suits == 0));
}
