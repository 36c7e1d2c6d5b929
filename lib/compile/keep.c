/* What is kept of the pool: the products, and the families and shares that they
 * use. */
#include "compile/keep.h"
#include "base/binomials.h"
#include "compile/share_bits.h"

/* Numbers the families that products use: those of suits first. number[id] is
 * the new number and one, 0 for a family that is not used. */
static void number_families(const struct pool *pool, const struct products *products,
                            uint32_t *number, nh_list *list) {
    for (size_t i = 0; i < products->count * PARTS; i++)
        number[products->items[i / PARTS].family[i % PARTS]] = 1;
    uint32_t next = 0;
    for (int honours = 0; honours <= 1; honours++) {
        for (size_t id = 0; id < pool->family_count; id++) {
            if (number[id] == 0 || pool->families[id].honours != (honours == 1))
                continue;
            number[id] = ++next;
            list->share_count += pool->families[id].count;
        }
        if (honours == 0)
            list->suit_family_count = next;
    }
    list->family_count = next;
}

static void copy_families(const struct pool *pool, const uint32_t *number, nh_list *list) {
    size_t at = 0;
    for (size_t id = 0; id < pool->family_count; id++) {
        if (number[id] == 0)
            continue;
        struct family family = pool->families[id];
        for (uint32_t i = 0; i < family.count; i++)
            list->shares[at + i] = share_unpack(&pool->shares[family.first + i]);
        family.first = (uint32_t)at;
        at += family.count;
        list->families[number[id] - 1] = family;
        if (family.count > list->largest_family)
            list->largest_family = family.count;
    }
}

static void copy_products(const struct products *products, const uint32_t *number, nh_list *list) {
    for (size_t i = 0; i < products->count; i++) {
        list->products[i] = products->items[i];
        for (int part = 0; part < PARTS; part++)
            list->products[i].family[part] = number[products->items[i].family[part]] - 1;
    }
}

static bool copy_used(const struct pool *pool, const struct products *products,
                      const uint32_t *number, nh_list *list) {
    const nh_allocator *allocator = &list->allocator;
    list->product_count = products->count;
    list->products = memory_new(allocator, products->count, sizeof *list->products);
    list->families = memory_new(allocator, list->family_count, sizeof *list->families);
    list->shares = memory_new(allocator, list->share_count, sizeof *list->shares);
    if (list->products == NULL || list->families == NULL || list->shares == NULL)
        return false;
    copy_families(pool, number, list);
    copy_products(products, number, list);
    return true;
}

nh_status list_keep_used(struct pool *pool, const struct products *products, nh_list *list) {
    uint32_t *number = memory_new(&list->allocator, pool->family_count, sizeof *number);
    if (number == NULL)
        return NH_ERROR_MEMORY;
    number_families(pool, products, number, list);
    nh_status status = NH_ERROR_MEMORY;
    if (list->family_count > UINT16_MAX || list->share_count > LIST_SHARES_MAX) {
        pool_past_limit(pool, LIMIT_LIST);
        status = NH_ERROR_LIMIT;
    } else if (copy_used(pool, products, number, list)) {
        status = NH_OK;
    }
    memory_release(&list->allocator, number);
    return status;
}

/* A rest has those of its whole list. */
static bool add_binomials(nh_list *list) {
    if (list->whole != NULL) {
        list->binomials = list->whole->binomials;
        return true;
    }
    list->binomials = memory_new(&list->allocator, BINOMIALS, sizeof *list->binomials);
    if (list->binomials == NULL)
        return false;
    binomials_fill(list->binomials);
    return true;
}

/* Raises the most tiles of each kind that come as themselves to those of a share. */
static void raise_most(const struct share *hard, bool honours, nh_list *list) {
    for (int part = honours ? PART_HONOUR : 0; part < (honours ? PARTS : PART_HONOUR); part++)
        for (int slot = 0; slot < PART_KINDS; slot++) {
            uint8_t *most = &list->most_hard.count[part * PART_KINDS + slot];
            *most = hard->need[slot] > *most ? hard->need[slot] : *most;
        }
}

/* The bits of the tiles of a share that come as themselves; notes what jokers may be. */
static uint64_t add_hard(nh_list *list, struct family *family, const struct share *share) {
    struct share hard = *share;
    unsigned jokers = 0;
    for (int slot = 0; slot < PART_KINDS; slot++) {
        hard.need[slot] = (uint8_t)(hard.need[slot] - hard.joker[slot]);
        jokers += hard.joker[slot];
    }
    family->jokers = (uint8_t)(jokers > family->jokers ? jokers : family->jokers);
    raise_most(&hard, family->honours, list);
    return share_bits(hard.need, family->honours);
}

bool list_add_tables(nh_list *list) {
    const nh_allocator *allocator = &list->allocator;
    const bool jokers = list->set.count[NH_JOKER] > 0;
    list->bits = memory_new(allocator, list->share_count, sizeof *list->bits);
    list->hard = memory_new(allocator, list->share_count, sizeof *list->hard);
    if (list->bits == NULL || list->hard == NULL || !add_binomials(list))
        return false;
    for (size_t f = 0; f < list->family_count; f++) {
        struct family *family = &list->families[f];
        for (size_t i = family->first; i < family->first + family->count; i++) {
            list->bits[i] = share_bits(list->shares[i].need, family->honours);
            list->hard[i] = jokers ? add_hard(list, family, &list->shares[i]) : list->bits[i];
        }
    }
    return true;
}
