/* Products with some parts taken off. */
#include "read/tails.h"

#include <string.h>

static bool make_whole(struct tail_tables *tails, const struct product *products,
                       size_t product_count) {
    tails->of_product =
        memory_new(tails->work->allocator, product_count, sizeof *tails->of_product);
    if (tails->of_product == NULL) {
        tails->work->status = NH_ERROR_MEMORY;
        return false;
    }
    for (size_t i = 0; i < product_count; i++) {
        uint32_t tail = sequences_place(&tails->of[ALL_PARTS].families, products[i].family, PARTS);
        if (tail == SEQUENCE_NONE)
            return false;
        tails->of_product[i] = tail;
    }
    return true;
}

/* Takes a part off the tails of some. */
static bool take_part_off(struct tail_tables *tails, unsigned parts, int part) {
    struct tails *from = &tails->of[parts], *to = &tails->of[parts & ~(1u << part)];
    size_t count = from->families.count;
    from->shorter[part] = memory_new(tails->work->allocator, count, sizeof *from->shorter[part]);
    if (from->shorter[part] == NULL) {
        tails->work->status = NH_ERROR_MEMORY;
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        uint32_t families[PARTS];
        memcpy(families, sequences_at(&from->families, (uint32_t)i), sizeof families);
        families[part] = 0;
        uint32_t tail = sequences_place(&to->families, families, PARTS);
        if (tail == SEQUENCE_NONE)
            return false;
        from->shorter[part][i] = tail;
    }
    return true;
}

bool tails_make(struct tail_tables *tails, const struct product *products, size_t product_count,
                struct read_work *work) {
    *tails = (struct tail_tables){.work = work};
    for (unsigned parts = 0; parts <= ALL_PARTS; parts++)
        tails->of[parts].families.work = work;
    if (!make_whole(tails, products, product_count))
        return false;
    for (unsigned parts = ALL_PARTS; parts > 0; parts--) {
        size_t count = tails->of[parts].families.count;
        tails->most = count > tails->most ? count : tails->most;
        for (int part = 0; part < PARTS && count > 0; part++)
            if ((parts == ALL_PARTS || part == first_part(parts)) &&
                !take_part_off(tails, parts, part))
                return false;
    }
    return true;
}

void tails_free(struct tail_tables *tails) {
    if (tails->work == NULL)
        return;
    for (unsigned parts = 0; parts <= ALL_PARTS; parts++) {
        sequences_free(&tails->of[parts].families);
        for (int part = 0; part < PARTS; part++)
            memory_release(tails->work->allocator, tails->of[parts].shorter[part]);
    }
    memory_release(tails->work->allocator, tails->of_product);
}
