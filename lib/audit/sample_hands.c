/* Single hands that are complete for a pattern, tried on another one: what holds for
 * most pairs of patterns shows with the first of them. */
#include "audit/sample_hands.h"
#include "compile/share_bits.h"

/* Products of a pattern from which hands are taken. */
#define SAMPLES 32

/* A hand by parts, jokers aside, with its tiles as bits. */
struct sample {
    uint8_t count[PARTS][PART_KINDS];
    uint64_t bits[PARTS];
    int tiles[PARTS];
    int size; /* with its jokers */
};

/* The hand of a product's first shares that has as few jokers as can be, or as many.
 * False where there are no tiles for the target. */
static bool make_sample(const struct family_counting *families, const struct product *product,
                        bool most_jokers, struct sample *sample) {
    const nh_list *list = families->list;
    int jokers = families->copies.count[NH_JOKER];
    *sample = (struct sample){.size = 0};
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const struct family *family = &list->families[product->family[kind / PART_KINDS]];
        const struct share *share = &list->shares[family->first];
        int need = share->need[kind % PART_KINDS], copies = families->copies.count[kind];
        int more = need > copies ? need - copies : 0;
        if (more > share->joker[kind % PART_KINDS])
            return false;
        sample->count[kind / PART_KINDS][kind % PART_KINDS] = (uint8_t)(need - more);
        jokers -= more;
    }
    for (int kind = 0; most_jokers && kind < NH_JOKER; kind++) {
        const struct family *family = &list->families[product->family[kind / PART_KINDS]];
        const struct share *share = &list->shares[family->first];
        uint8_t *count = &sample->count[kind / PART_KINDS][kind % PART_KINDS];
        int least = share->need[kind % PART_KINDS] - share->joker[kind % PART_KINDS];
        for (; *count > least && jokers > 0; jokers--)
            --*count;
    }
    return jokers >= 0;
}

static void finish_sample(const nh_list *list, const struct product *product,
                          struct sample *sample) {
    sample->size = product_size(list, product);
    for (int part = 0; part < PARTS; part++) {
        sample->bits[part] = share_bits(sample->count[part], part == PART_HONOUR);
        sample->tiles[part] = 0;
        for (int slot = 0; slot < PART_KINDS; slot++)
            sample->tiles[part] += sample->count[part][slot];
    }
}

/* Whether the hand's tiles of a part are those of a share, jokers aside. */
static bool family_has(struct family_counting *families, const struct family *family,
                       const struct sample *sample, int part) {
    const nh_list *list = families->list;
    int lacking = family->size - sample->tiles[part];
    if (lacking < 0 || lacking > family->jokers)
        return false;
    counting_spend(&families->counting, family->count);
    for (size_t i = family->first; i < (size_t)family->first + family->count; i++)
        if (((sample->bits[part] & ~list->bits[i]) | (list->hard[i] & ~sample->bits[part])) == 0)
            return true;
    return false;
}

static bool pattern_has(struct family_counting *families, const struct list_pattern *pattern,
                        const struct sample *sample) {
    const nh_list *list = families->list;
    counting_spend(&families->counting, (uint64_t)pattern->count * PARTS);
    for (uint32_t i = 0; i < pattern->count; i++) {
        const struct product *product = &list->products[pattern->first + i];
        int part = 0;
        if (product_size(list, product) != sample->size)
            continue;
        while (part < PARTS &&
               family_has(families, &list->families[product->family[part]], sample, part))
            part++;
        if (part == PARTS)
            return true;
    }
    return false;
}

bool sample_outside(struct family_counting *families, const struct list_pattern *a,
                    const struct list_pattern *b) {
    const nh_list *list = families->list;
    uint32_t step = a->count / SAMPLES + 1;
    int kinds = families->copies.count[NH_JOKER] > 0 ? 2 : 1;
    for (uint32_t i = 0; i < a->count; i += step)
        for (int jokers = 0; jokers < kinds; jokers++) {
            const struct product *product = &list->products[a->first + i];
            struct sample sample;
            if (!make_sample(families, product, jokers == 1, &sample))
                continue;
            finish_sample(list, product, &sample);
            if (!pattern_has(families, b, &sample))
                return true;
        }
    return false;
}
