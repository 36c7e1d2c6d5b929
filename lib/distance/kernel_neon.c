/* The inner loops of the matcher for AArch64, which always has NEON: eight words
 * at a time, and 64 products at a time. */
#include "distance/kernel.h"

#ifdef KERNELS_NEON
#include <arm_neon.h>
#include <string.h>

/* -------------------------------------------------------------- words --- */

#define WORDS 8

/* A bit that no word has: it makes the bits of a live word one more, so that 0
 * is left for dead ones. */
#define MARK (UINT64_C(1) << 63)

/* Bits of two words for each byte: of `word` and the mark, none if dead. */
static inline uint8x16_t count_two(const uint64_t *bits, const uint64_t *hard, uint64x2_t held,
                                   uint64x2_t gone) {
    uint64x2_t common = vorrq_u64(vandq_u64(vld1q_u64(bits), held), vdupq_n_u64(MARK));
    uint64x2_t dead = vtstq_u64(vld1q_u64(hard), gone);
    return vcntq_u8(vreinterpretq_u8_u64(vbicq_u64(common, dead)));
}

/* The sums of the eight bytes of each of eight words. */
static inline uint8x8_t add_bytes(uint8x16_t a, uint8x16_t b, uint8x16_t c, uint8x16_t d) {
    uint8x16_t sums = vpaddq_u8(vpaddq_u8(a, b), vpaddq_u8(c, d));
    return vpadd_u8(vget_low_u8(sums), vget_high_u8(sums));
}

/* For each of eight words one more than the bits in common, 0 if dead. */
static inline uint8x8_t count_common(const uint64_t *bits, const uint64_t *hard, uint64x2_t held,
                                     uint64x2_t gone) {
    return add_bytes(count_two(bits, hard, held, gone), count_two(bits + 2, hard + 2, held, gone),
                     count_two(bits + 4, hard + 4, held, gone),
                     count_two(bits + 6, hard + 6, held, gone));
}

static inline uint8x16_t closed_two(const uint64_t *hard, uint64x2_t held) {
    return vcntq_u8(vreinterpretq_u8_u64(vbicq_u64(vld1q_u64(hard), held)));
}

/* For each of eight words the hard bits that are not held. */
static inline uint8x8_t count_closed(const uint64_t *hard, uint64x2_t held) {
    return add_bytes(closed_two(hard, held), closed_two(hard + 2, held), closed_two(hard + 4, held),
                     closed_two(hard + 6, held));
}

/* The last words, fewer than eight, and the last of them repeated. */
struct last_words {
    uint64_t bits[WORDS], hard[WORDS];
};

static void fill_up(struct last_words *last, const uint64_t *bits, const uint64_t *hard,
                    size_t count) {
    for (size_t i = 0; i < WORDS; i++) {
        last->bits[i] = bits[i < count ? i : count - 1];
        last->hard[i] = hard[i < count ? i : count - 1];
    }
}

static int most_common_neon(const uint64_t *bits, const uint64_t *hard, size_t count, uint64_t have,
                            uint64_t dead) {
    const uint64x2_t held = vdupq_n_u64(have), gone = vdupq_n_u64(dead);
    uint8x8_t most = vdup_n_u8(0);
    size_t i = 0;
    for (; i + WORDS <= count; i += WORDS)
        most = vmax_u8(most, count_common(bits + i, hard + i, held, gone));
    if (i < count) {
        struct last_words last;
        fill_up(&last, bits + i, hard + i, count - i);
        most = vmax_u8(most, count_common(last.bits, last.hard, held, gone));
    }
    return (int)vmaxv_u8(most) - 1;
}

static size_t find_common_neon(const uint64_t *bits, const uint64_t *hard, size_t count,
                               uint64_t have, uint64_t dead, int common, uint32_t *found) {
    const uint64x2_t held = vdupq_n_u64(have), gone = vdupq_n_u64(dead);
    const uint8x8_t wanted = vdup_n_u8((uint8_t)(common + 1));
    size_t kept = 0, i = 0;
    for (; i + WORDS <= count; i += WORDS) {
        uint8x8_t equal = vceq_u8(count_common(bits + i, hard + i, held, gone), wanted);
        uint64_t mask = vget_lane_u64(vreinterpret_u64_u8(equal), 0) & UINT64_C(0x0101010101010101);
        for (; mask != 0; mask &= mask - 1)
            found[kept++] = (uint32_t)(i + (size_t)__builtin_ctzll(mask) / 8);
    }
    size_t rest =
        find_common_portable(bits + i, hard + i, count - i, have, dead, common, found + kept);
    for (size_t last = kept + rest; kept < last; kept++)
        found[kept] += (uint32_t)i;
    return kept;
}

/* Takes eight words into the least of each lane: missing - min(j, missing -
 * closed) is the larger of missing - j and closed. */
static inline void take_lacking(const uint64_t *bits, const uint64_t *hard, uint64x2_t held,
                                uint64x2_t gone, unsigned size, uint8x8_t best[KERNEL_JOKERS + 1]) {
    uint8x8_t common = count_common(bits, hard, held, gone);
    uint8x8_t closed = count_closed(hard, held);
    uint8x8_t missing = vsub_u8(vdup_n_u8((uint8_t)(size + 1)), common);
    uint8x8_t farthest = vceqz_u8(common); /* dead: as far as can be */
    for (unsigned j = 0; j <= KERNEL_JOKERS; j++) {
        uint8x8_t lacking = vmax_u8(vqsub_u8(missing, vdup_n_u8((uint8_t)j)), closed);
        best[j] = vmin_u8(best[j], vorr_u8(lacking, farthest));
    }
}

static void least_lacking_neon(const uint64_t *bits, const uint64_t *hard, size_t count,
                               uint64_t have, uint64_t dead, unsigned size,
                               uint8_t least[KERNEL_JOKERS + 1]) {
    const uint64x2_t held = vdupq_n_u64(have), gone = vdupq_n_u64(dead);
    uint8x8_t best[KERNEL_JOKERS + 1];
    for (unsigned j = 0; j <= KERNEL_JOKERS; j++)
        best[j] = vdup_n_u8(FAR);
    size_t i = 0;
    for (; i + WORDS <= count; i += WORDS)
        take_lacking(bits + i, hard + i, held, gone, size, best);
    if (i < count) {
        struct last_words last;
        fill_up(&last, bits + i, hard + i, count - i);
        take_lacking(last.bits, last.hard, held, gone, size, best);
    }
    for (unsigned j = 0; j <= KERNEL_JOKERS; j++)
        least[j] = vminv_u8(best[j]);
}

/* ----------------------------------------------------------- products --- */

/* A look-up instruction has 64 bytes of a row at hand, so that a row takes one
 * for every 64 families. With more than this single loads cost less: on the
 * slower processors a look-up takes about six cycles for 16 products, and the
 * four loads for a product, with what goes with them, about seven (llvm-mca 14,
 * for a Cortex-A72). */
#define FAMILIES_MOST 512

#define REGISTERS (LANES / 16)

static bool many_families(const struct near_rows *rows) {
    bool many = false;
    for (int part = 0; part < PARTS; part++)
        many |= rows->stride[part] > FAMILIES_MOST;
    return many;
}

/* Looks 64 family numbers up in a row. A number that is not in the 64 bytes at
 * hand leaves what was found before. */
static inline void look_up(const uint8_t *row, uint32_t families, const uint8_t *low,
                           const uint8_t *high, uint8x16_t found[REGISTERS]) {
    for (uint32_t start = 0; start < families; start += 64) {
        uint8x16x4_t table = vld1q_u8_x4(row + start);
        uint8x16_t first = vdupq_n_u8((uint8_t)start), page = vdupq_n_u8((uint8_t)(start / 256));
        for (int r = 0; r < REGISTERS; r++) {
            uint8x16_t number = vsubq_u8(vld1q_u8(low + 16 * r), first);
            uint8x16_t here = vceqq_u8(vld1q_u8(high + 16 * r), page);
            found[r] = vqtbx4q_u8(found[r], table, vornq_u8(number, here));
        }
    }
}

/* Lets one more part share in the jokers: best[j] is the least distance of the
 * parts so far with j of them, like away_of_product. */
static inline __attribute__((always_inline)) void add_part(uint8x16_t bytes, const unsigned jokers,
                                                           uint8x16_t best[KERNEL_JOKERS + 1]) {
    uint8x16_t away[KERNEL_JOKERS + 1];
    away[0] = vandq_u8(bytes, vdupq_n_u8(NEAR_BITS));
    for (unsigned j = 1; j <= jokers; j++) /* a mask that is set adds -1 */
        away[j] = vaddq_u8(away[j - 1], vtstq_u8(bytes, vdupq_n_u8((uint8_t)(16u << j))));
    for (unsigned j = jokers + 1; j-- > 0;) {
        uint8x16_t least = vaddq_u8(best[j], away[0]);
        for (unsigned here = 1; here <= j; here++)
            least = vminq_u8(least, vaddq_u8(best[j - here], away[here]));
        best[j] = least;
    }
}

static inline __attribute__((always_inline)) void
share_jokers_64(const struct lanes *lanes, size_t first, const struct near_rows *rows,
                const unsigned jokers, uint8x16_t away[REGISTERS]) {
    uint8x16_t best[REGISTERS][KERNEL_JOKERS + 1];
    for (int r = 0; r < REGISTERS; r++)
        for (unsigned j = 0; j <= jokers; j++)
            best[r][j] = vdupq_n_u8(0);
    for (int part = 0; part < PARTS; part++) {
        uint8x16_t found[REGISTERS];
        for (int r = 0; r < REGISTERS; r++)
            found[r] = vdupq_n_u8(0);
        look_up(rows->row[part], rows->stride[part], lanes->low[part] + first,
                lanes->high[part] + first, found);
        for (int r = 0; r < REGISTERS; r++)
            add_part(found[r], jokers, best[r]);
    }
    for (int r = 0; r < REGISTERS; r++)
        away[r] = best[r][jokers];
}

/* The distances of 64 products. */
static void away_of_64(const struct lanes *lanes, size_t first, const struct near_rows *rows,
                       unsigned jokers, uint8x16_t away[REGISTERS]) {
    switch (jokers) {
    case 0:
        share_jokers_64(lanes, first, rows, 0, away);
        break;
    case 1:
        share_jokers_64(lanes, first, rows, 1, away);
        break;
    case 2:
        share_jokers_64(lanes, first, rows, 2, away);
        break;
    default:
        share_jokers_64(lanes, first, rows, 3, away);
        break;
    }
}

static unsigned least_away_neon(const struct lanes *lanes, size_t first, size_t count,
                                const struct near_rows *rows, unsigned jokers) {
    if (many_families(rows))
        return least_away_portable(lanes, first, count, rows, jokers);
    uint8x16_t least = vdupq_n_u8(FAR);
    for (size_t i = first; i < first + count; i += LANES) {
        uint8x16_t away[REGISTERS];
        away_of_64(lanes, i, rows, jokers, away);
        for (int r = 0; r < REGISTERS; r++)
            least = vminq_u8(least, away[r]);
    }
    return vminvq_u8(least);
}

/* Notes the products of a register that are marked by bytes of ones, `at` the
 * first of them; how many are noted then. */
static inline size_t note_equal(uint8x16_t equal, size_t at, size_t count, size_t first,
                                uint32_t *found, size_t kept) {
    /* four bits for each byte */
    uint8x8_t narrow = vshrn_n_u16(vreinterpretq_u16_u8(equal), 4);
    uint64_t mask = vget_lane_u64(vreinterpret_u64_u8(narrow), 0) & UINT64_C(0x1111111111111111);
    if (count - at < 16)
        mask &= (UINT64_C(1) << 4 * (count - at)) - 1u;
    for (; mask != 0; mask &= mask - 1)
        found[kept++] = (uint32_t)(first + at + (size_t)__builtin_ctzll(mask) / 4);
    return kept;
}

static size_t find_away_neon(const struct lanes *lanes, size_t first, size_t count,
                             const struct near_rows *rows, unsigned jokers, unsigned away,
                             uint32_t *found) {
    if (many_families(rows))
        return find_away_portable(lanes, first, count, rows, jokers, away, found);
    const uint8x16_t wanted = vdupq_n_u8((uint8_t)away);
    size_t kept = 0;
    for (size_t i = 0; i < count; i += LANES) {
        uint8x16_t own[REGISTERS];
        away_of_64(lanes, first + i, rows, jokers, own);
        for (size_t r = 0; r < REGISTERS && i + 16 * r < count; r++)
            kept = note_equal(vceqq_u8(own[r], wanted), i + 16 * r, count, first, found, kept);
    }
    return kept;
}

static const struct kernels neon = {
    "neon",          most_common_neon, find_common_neon, least_lacking_neon, find_lacking_portable,
    least_away_neon, find_away_neon};

const struct kernels *kernels_of_processor(int index) {
    return index == 0 ? &neon : NULL;
}

#endif
