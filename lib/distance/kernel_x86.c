/* The inner loops of the matcher for x86-64: AVX2 for words, AVX-512 for words
 * and products. Which the processor has shows when the program runs. */
#include "distance/kernel.h"

#ifdef KERNELS_X86
#include <immintrin.h>

/* --------------------------------------------------------------- AVX2 --- */

/* Bits of each byte by a table of nibbles, summed up in each word. */
__attribute__((target("avx2"))) static inline __m256i count_words(__m256i words) {
    const __m256i table = _mm256_setr_epi8(0, 1, 1, 2, 1, 2, 2, 3, 1, 2, 2, 3, 2, 3, 3, 4, 0, 1, 1,
                                           2, 1, 2, 2, 3, 1, 2, 2, 3, 2, 3, 3, 4);
    const __m256i nibble = _mm256_set1_epi8(15);
    __m256i low = _mm256_shuffle_epi8(table, _mm256_and_si256(words, nibble));
    __m256i high =
        _mm256_shuffle_epi8(table, _mm256_and_si256(_mm256_srli_epi64(words, 4), nibble));
    return _mm256_sad_epu8(_mm256_add_epi8(low, high), _mm256_setzero_si256());
}

__attribute__((target("avx2"))) static int most_common_avx2(const uint64_t *bits,
                                                            const uint64_t *hard, size_t count,
                                                            uint64_t have, uint64_t dead) {
    const __m256i zero = _mm256_setzero_si256(), one = _mm256_set1_epi64x(1);
    const __m256i held = _mm256_set1_epi64x((long long)have);
    const __m256i gone = _mm256_set1_epi64x((long long)dead);
    __m256i most = zero; /* bits in common and one; 0 for a dead word */
    size_t i = 0;
    for (; i + 4 <= count; i += 4) {
        __m256i word = _mm256_loadu_si256((const __m256i *)(const void *)(bits + i));
        __m256i must = _mm256_loadu_si256((const __m256i *)(const void *)(hard + i));
        __m256i live = _mm256_cmpeq_epi64(_mm256_and_si256(must, gone), zero);
        __m256i common = _mm256_add_epi64(count_words(_mm256_and_si256(word, held)), one);
        most = _mm256_max_epu8(most, _mm256_and_si256(common, live));
    }
    uint64_t word[4];
    _mm256_storeu_si256((__m256i *)(void *)word, most);
    int best = most_common_portable(bits + i, hard + i, count - i, have, dead);
    for (int lane = 0; lane < 4; lane++)
        best = (int)word[lane] - 1 > best ? (int)word[lane] - 1 : best;
    return best;
}

__attribute__((target("avx2"))) static size_t find_common_avx2(const uint64_t *bits,
                                                               const uint64_t *hard, size_t count,
                                                               uint64_t have, uint64_t dead,
                                                               int common, uint32_t *found) {
    const __m256i zero = _mm256_setzero_si256();
    const __m256i held = _mm256_set1_epi64x((long long)have);
    const __m256i gone = _mm256_set1_epi64x((long long)dead);
    const __m256i wanted = _mm256_set1_epi64x(common);
    size_t kept = 0, i = 0;
    for (; i + 4 <= count; i += 4) {
        __m256i word = _mm256_loadu_si256((const __m256i *)(const void *)(bits + i));
        __m256i must = _mm256_loadu_si256((const __m256i *)(const void *)(hard + i));
        __m256i live = _mm256_cmpeq_epi64(_mm256_and_si256(must, gone), zero);
        __m256i equal = _mm256_cmpeq_epi64(count_words(_mm256_and_si256(word, held)), wanted);
        int mask = _mm256_movemask_pd(_mm256_castsi256_pd(_mm256_and_si256(live, equal)));
        for (; mask != 0; mask &= mask - 1)
            found[kept++] = (uint32_t)(i + (size_t)__builtin_ctz((unsigned)mask));
    }
    size_t rest =
        find_common_portable(bits + i, hard + i, count - i, have, dead, common, found + kept);
    for (size_t last = kept + rest; kept < last; kept++)
        found[kept] += (uint32_t)i;
    return kept;
}

static const struct kernels avx2 = {"avx2",
                                    most_common_avx2,
                                    find_common_avx2,
                                    least_lacking_portable,
                                    find_lacking_portable,
                                    least_away_portable,
                                    find_away_portable};

/* ------------------------------------------------------------ AVX-512 --- */

#define AVX512 __attribute__((target("avx512f,avx512bw,avx512vbmi,avx512vpopcntdq")))

AVX512 static int most_common_avx512(const uint64_t *bits, const uint64_t *hard, size_t count,
                                     uint64_t have, uint64_t dead) {
    const __m512i held = _mm512_set1_epi64((long long)have);
    const __m512i gone = _mm512_set1_epi64((long long)dead);
    __m512i most = _mm512_set1_epi64(-1);
    for (size_t i = 0; i < count; i += 8) {
        __mmask8 here = (__mmask8)(count - i < 8 ? (1u << (count - i)) - 1u : 0xFFu);
        __m512i word = _mm512_maskz_loadu_epi64(here, bits + i);
        __m512i must = _mm512_maskz_loadu_epi64(here, hard + i);
        __mmask8 live = _mm512_mask_testn_epi64_mask(here, must, gone);
        __m512i common = _mm512_popcnt_epi64(_mm512_and_si512(word, held));
        most = _mm512_mask_max_epi64(most, live, most, common);
    }
    return (int)_mm512_reduce_max_epi64(most);
}

AVX512 static size_t find_common_avx512(const uint64_t *bits, const uint64_t *hard, size_t count,
                                        uint64_t have, uint64_t dead, int common, uint32_t *found) {
    const __m512i held = _mm512_set1_epi64((long long)have);
    const __m512i gone = _mm512_set1_epi64((long long)dead);
    const __m512i wanted = _mm512_set1_epi64(common);
    size_t kept = 0;
    for (size_t i = 0; i < count; i += 8) {
        __mmask8 here = (__mmask8)(count - i < 8 ? (1u << (count - i)) - 1u : 0xFFu);
        __m512i word = _mm512_maskz_loadu_epi64(here, bits + i);
        __m512i must = _mm512_maskz_loadu_epi64(here, hard + i);
        __mmask8 live = _mm512_mask_testn_epi64_mask(here, must, gone);
        __m512i bit_counts = _mm512_popcnt_epi64(_mm512_and_si512(word, held));
        unsigned mask = _mm512_mask_cmpeq_epi64_mask(live, bit_counts, wanted);
        for (; mask != 0; mask &= mask - 1)
            found[kept++] = (uint32_t)(i + (size_t)__builtin_ctz(mask));
    }
    return kept;
}

AVX512 static void least_lacking_avx512(const uint64_t *bits, const uint64_t *hard, size_t count,
                                        uint64_t have, uint64_t dead, unsigned size,
                                        uint8_t least[KERNEL_JOKERS + 1]) {
    const __m512i held = _mm512_set1_epi64((long long)have);
    const __m512i gone = _mm512_set1_epi64((long long)dead);
    const __m512i all = _mm512_set1_epi64(size);
    __m512i best[KERNEL_JOKERS + 1];
    for (int j = 0; j <= KERNEL_JOKERS; j++)
        best[j] = _mm512_set1_epi64(FAR);
    for (size_t i = 0; i < count; i += 8) {
        __mmask8 here = (__mmask8)(count - i < 8 ? (1u << (count - i)) - 1u : 0xFFu);
        __m512i word = _mm512_maskz_loadu_epi64(here, bits + i);
        __m512i must = _mm512_maskz_loadu_epi64(here, hard + i);
        __mmask8 live = _mm512_mask_testn_epi64_mask(here, must, gone);
        __m512i missing = _mm512_sub_epi64(all, _mm512_popcnt_epi64(_mm512_and_si512(word, held)));
        __m512i closed = _mm512_popcnt_epi64(_mm512_andnot_si512(held, must));
        for (int j = 0; j <= KERNEL_JOKERS; j++) {
            /* missing - min(j, missing - closed) */
            __m512i fewer = _mm512_sub_epi64(missing, _mm512_set1_epi64(j));
            __m512i lacking = _mm512_max_epi64(fewer, closed);
            best[j] = _mm512_mask_min_epi64(best[j], live, best[j], lacking);
        }
    }
    for (int j = 0; j <= KERNEL_JOKERS; j++)
        least[j] = (uint8_t)_mm512_reduce_min_epi64(best[j]);
}

AVX512 static size_t find_lacking_avx512(const uint64_t *bits, const uint64_t *hard, size_t count,
                                         uint64_t have, uint64_t dead, unsigned size,
                                         unsigned jokers, unsigned farthest, uint32_t *found) {
    const __m512i held = _mm512_set1_epi64((long long)have);
    const __m512i gone = _mm512_set1_epi64((long long)dead);
    const __m512i most = _mm512_set1_epi64(farthest);
    /* size - common <= farthest + jokers */
    const __m512i least = _mm512_set1_epi64((long long)size - farthest - jokers);
    size_t kept = 0;
    for (size_t i = 0; i < count; i += 8) {
        __mmask8 here = (__mmask8)(count - i < 8 ? (1u << (count - i)) - 1u : 0xFFu);
        __m512i word = _mm512_maskz_loadu_epi64(here, bits + i);
        __m512i must = _mm512_maskz_loadu_epi64(here, hard + i);
        __mmask8 live = _mm512_mask_testn_epi64_mask(here, must, gone);
        __m512i common = _mm512_popcnt_epi64(_mm512_and_si512(word, held));
        __m512i closed = _mm512_popcnt_epi64(_mm512_andnot_si512(held, must));
        live = _mm512_mask_cmpge_epi64_mask(live, common, least);
        unsigned mask = _mm512_mask_cmple_epi64_mask(live, closed, most);
        for (; mask != 0; mask &= mask - 1)
            found[kept++] = (uint32_t)(i + (size_t)__builtin_ctz(mask));
    }
    return kept;
}

/* Looks 64 family numbers up in a row: 256 of its bytes at a time are held in
 * four registers, and bits 6 and 7 of a number choose among them. */
AVX512 static inline __attribute__((always_inline)) __m512i
look_up(const uint8_t *row, uint32_t pages, __m512i low, const uint8_t *high) {
    __mmask64 upper = _mm512_movepi8_mask(low);
    __m512i found = _mm512_setzero_si512();
    for (uint32_t page = 0; page < pages; page++, row += 256) {
        __m512i near =
            _mm512_permutex2var_epi8(_mm512_loadu_si512(row), low, _mm512_loadu_si512(row + 64));
        __m512i far = _mm512_permutex2var_epi8(_mm512_loadu_si512(row + 128), low,
                                               _mm512_loadu_si512(row + 192));
        __m512i both = _mm512_mask_blend_epi8(upper, near, far);
        if (pages == 1)
            return both;
        __mmask64 here =
            _mm512_cmpeq_epi8_mask(_mm512_loadu_si512(high), _mm512_set1_epi8((char)page));
        found = _mm512_mask_blend_epi8(here, found, both);
    }
    return found;
}

/* The distances of 64 products, like away_of_product. */
AVX512 static inline __attribute__((always_inline)) __m512i
share_jokers_64(const struct lanes *lanes, size_t first, const struct near_rows *rows,
                const unsigned jokers) {
    const __m512i one = _mm512_set1_epi8(1);
    __m512i best[KERNEL_JOKERS + 1];
    for (unsigned j = 0; j <= jokers; j++)
        best[j] = _mm512_setzero_si512();
    for (int part = 0; part < PARTS; part++) {
        __m512i bytes =
            look_up(rows->row[part], rows->pages[part],
                    _mm512_loadu_si512(lanes->low[part] + first), lanes->high[part] + first);
        __m512i away[KERNEL_JOKERS + 1];
        away[0] = _mm512_and_si512(bytes, _mm512_set1_epi8(NEAR_BITS));
        for (unsigned j = 1; j <= jokers; j++) {
            __mmask64 nearer = _mm512_test_epi8_mask(bytes, _mm512_set1_epi8((char)(16u << j)));
            away[j] = _mm512_mask_sub_epi8(away[j - 1], nearer, away[j - 1], one);
        }
        for (unsigned j = jokers + 1; j-- > 0;) {
            __m512i least = _mm512_add_epi8(best[j], away[0]);
            for (unsigned here = 1; here <= j; here++)
                least = _mm512_min_epu8(least, _mm512_add_epi8(best[j - here], away[here]));
            best[j] = least;
        }
    }
    return best[jokers];
}

AVX512 static inline __attribute__((always_inline)) __m512i
away_of_64(const struct lanes *lanes, size_t first, const struct near_rows *rows, unsigned jokers) {
    switch (jokers) {
    case 0:
        return share_jokers_64(lanes, first, rows, 0);
    case 1:
        return share_jokers_64(lanes, first, rows, 1);
    case 2:
        return share_jokers_64(lanes, first, rows, 2);
    default:
        return share_jokers_64(lanes, first, rows, 3);
    }
}

AVX512 static size_t find_away_avx512(const struct lanes *lanes, size_t first, size_t count,
                                      const struct near_rows *rows, unsigned jokers, unsigned away,
                                      uint32_t *found) {
    const __m512i wanted = _mm512_set1_epi8((char)away);
    size_t kept = 0;
    for (size_t i = 0; i < count; i += LANES) {
        __mmask64 mask = _mm512_cmpeq_epi8_mask(away_of_64(lanes, first + i, rows, jokers), wanted);
        if (count - i < LANES)
            mask &= (UINT64_C(1) << (count - i)) - 1u;
        for (; mask != 0; mask &= mask - 1)
            found[kept++] = (uint32_t)(first + i + (size_t)__builtin_ctzll(mask));
    }
    return kept;
}

AVX512 static unsigned least_away_avx512(const struct lanes *lanes, size_t first, size_t count,
                                         const struct near_rows *rows, unsigned jokers) {
    __m512i least = _mm512_set1_epi8(FAR);
    for (size_t i = first; i < first + count; i += LANES)
        least = _mm512_min_epu8(least, away_of_64(lanes, i, rows, jokers));
    __m256i half =
        _mm256_min_epu8(_mm512_castsi512_si256(least), _mm512_extracti64x4_epi64(least, 1));
    __m128i quarter = _mm_min_epu8(_mm256_castsi256_si128(half), _mm256_extracti128_si256(half, 1));
    /* the least of 16 bytes: of pairs, then by the instruction for 8 words */
    __m128i pairs = _mm_min_epu8(quarter, _mm_srli_epi16(quarter, 8));
    __m128i words = _mm_and_si128(pairs, _mm_set1_epi16(0xFF));
    return (unsigned)_mm_extract_epi16(_mm_minpos_epu16(words), 0);
}

static const struct kernels avx512 = {"avx512",
                                      most_common_avx512,
                                      find_common_avx512,
                                      least_lacking_avx512,
                                      find_lacking_avx512,
                                      least_away_avx512,
                                      find_away_avx512};

const struct kernels *kernels_of_processor(int index) {
    const struct kernels *found[2];
    int count = 0;
    if (__builtin_cpu_supports("avx2"))
        found[count++] = &avx2;
    if (__builtin_cpu_supports("avx512vbmi") && __builtin_cpu_supports("avx512bw") &&
        __builtin_cpu_supports("avx512vpopcntdq"))
        found[count++] = &avx512;
    return index >= 0 && index < count ? found[index] : NULL;
}

#endif
