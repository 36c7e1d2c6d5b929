/* Draws x y z in sets and lists, counted for eight kinds y at a time with AVX-512. */
#include "pass/draw_count.h"

#include "distance/kernel.h"

#ifdef KERNELS_X86
#include <immintrin.h>

#define AVX512 __attribute__((target("avx512f,avx512vpopcntdq")))
#define AVX512_INLINE AVX512 static inline __attribute__((always_inline))

/* Eight kinds y from `first` on, each in a lane. */
struct eight {
    __m512i own, above;   /* bit y, and all bits above it */
    __m512i tiles, pairs; /* unseen tiles of y, and draws of two of them */
};

AVX512_INLINE struct eight eight_from(int first, const struct unseen *unseen) {
    __m512i lane =
        _mm512_add_epi64(_mm512_setr_epi64(0, 1, 2, 3, 4, 5, 6, 7), _mm512_set1_epi64(first));
    __m512i own = _mm512_sllv_epi64(_mm512_set1_epi64(1), lane);
    __m512i above = _mm512_sub_epi64(_mm512_setzero_si512(), _mm512_add_epi64(own, own));
    __m128i counts = _mm_loadl_epi64((const __m128i *)(const void *)(unseen->count + first));
    return (struct eight){own, above, _mm512_cvtepu8_epi64(counts),
                          _mm512_loadu_si512(unseen->pairs + first)};
}

/* The unseen tiles of some kinds in each lane. */
AVX512_INLINE __m512i unseen_in(__m512i kinds, const uint64_t digit[4]) {
    __m512i sum = _mm512_setzero_si512();
    for (int i = 3; i >= 0; i--) {
        __m512i here = _mm512_and_si512(kinds, _mm512_set1_epi64((long long)digit[i]));
        sum = _mm512_add_epi64(_mm512_add_epi64(sum, sum), _mm512_popcnt_epi64(here));
    }
    return sum;
}

/* Ways to draw two tiles y <= z, of which z is one of the lane's `third`. */
AVX512_INLINE __m512i ways_from(const struct eight *eight, __m512i third,
                                const struct unseen *unseen) {
    __m512i above = unseen_in(_mm512_and_si512(third, eight->above), unseen->digit);
    __m512i ways = _mm512_mul_epu32(above, eight->tiles);
    __mmask8 alike = _mm512_test_epi64_mask(third, eight->own);
    return _mm512_mask_add_epi64(ways, alike, ways, eight->pairs);
}

/* thirds(set, x, y) in each lane y of `here`; what other lanes have is of no use. */
AVX512_INLINE __m512i thirds_of(const struct draw_set *set, int x, int first, __mmask8 here) {
    const uint64_t *row = set->triple + pair_row(x, 0) + first;
    __m512i third = _mm512_or_si512(_mm512_maskz_loadu_epi64(here, set->pair + first),
                                    _mm512_maskz_loadu_epi64(here, row));
    return _mm512_or_si512(third, _mm512_set1_epi64((long long)set->pair[x]));
}

AVX512 static uint64_t count_avx512(const struct draw_set *set, uint64_t kinds,
                                    const struct unseen *unseen) {
    const __m512i all = _mm512_set1_epi64((long long)kinds);
    __m512i sum = _mm512_setzero_si512();
    uint64_t alike = 0;
    for (uint64_t rest = kinds; rest != 0; rest &= rest - 1) {
        int x = lowest(rest);
        uint64_t second = rest & (rest - 1), mates = set->pair[x];
        __m512i after_x = _mm512_setzero_si512();
        for (int first = x / 8 * 8; first < NH_KINDS; first += 8) {
            __mmask8 here = (__mmask8)(second >> first);
            struct eight eight = eight_from(first, unseen);
            __m512i third = _mm512_maskz_and_epi64(here, thirds_of(set, x, first, here), all);
            third = _mm512_mask_mov_epi64(third, here & (__mmask8)(mates >> first), all);
            after_x = _mm512_add_epi64(after_x, ways_from(&eight, third, unseen));
        }
        sum = _mm512_add_epi64(
            sum, _mm512_mul_epu32(after_x, _mm512_set1_epi64((long long)unseen->count[x])));
        alike += count_alike(unseen, x, (mates >> x & 1u) != 0 ? kinds : thirds(set, x, x) & kinds);
    }
    return alike + (uint64_t)_mm512_reduce_add_epi64(sum);
}

AVX512 static void list_from_avx512(const struct draw_set *set, int x, const struct unseen *unseen,
                                    struct draw_list *list) {
    const __m512i all = _mm512_set1_epi64((long long)unseen->kinds);
    const __m512i single = _mm512_set1_epi64((long long)(set->single & unseen->kinds));
    uint64_t from = unseen->kinds & ~below_kind(x), whole = whole_from(set, x, from), listed = 0;
    uint64_t digit[PARTS][4];
    __m512i number[PARTS];
    for (int part = 0; part < PARTS; part++) {
        number[part] = _mm512_setzero_si512();
        for (int i = 0; i < 4; i++)
            digit[part][i] = unseen->digit[i] & part_kinds(part);
    }
    for (int first = x / 8 * 8; first < NH_KINDS; first += 8) {
        __mmask8 here = (__mmask8)(from >> first);
        struct eight eight = eight_from(first, unseen);
        __m512i third = _mm512_and_si512(thirds_of(set, x, first, here), all);
        third =
            _mm512_mask_mov_epi64(_mm512_or_si512(third, single), (__mmask8)(whole >> first), all);
        third = _mm512_maskz_and_epi64(here, third, _mm512_or_si512(eight.own, eight.above));
        _mm512_mask_storeu_epi64(list->row + pair_row(x, 0) + first, here, third);
        listed |= (uint64_t)_mm512_test_epi64_mask(third, third) << first;
        third = _mm512_maskz_mov_epi64((__mmask8)(above_kind(x) >> first), third);
        __mmask8 alike = _mm512_test_epi64_mask(third, eight.own);
        for (int part = 0; part < PARTS; part++) {
            __m512i ways = unseen_in(_mm512_and_si512(third, eight.above), digit[part]);
            number[part] = _mm512_add_epi64(number[part], _mm512_mul_epu32(ways, eight.tiles));
            number[part] =
                _mm512_mask_add_epi64(number[part], alike & (__mmask8)(part_kinds(part) >> first),
                                      number[part], eight.pairs);
        }
    }
    list->listed[x] = listed;
    for (int part = 0; part < PARTS; part++)
        list->number[x][part] = (uint32_t)_mm512_reduce_add_epi64(number[part]);
}

AVX512 static uint64_t common_after_avx512(const struct draw_list *a, const struct draw_list *b,
                                           const struct draw_list *c, int x,
                                           const struct unseen *unseen) {
    uint64_t listed = common_from(a, b, c, x) & above_kind(x);
    __m512i sum = _mm512_setzero_si512();
    for (int first = x / 8 * 8; listed >> first != 0; first += 8) {
        __mmask8 here = (__mmask8)(listed >> first);
        int row = pair_row(x, 0) + first;
        struct eight eight = eight_from(first, unseen);
        __m512i third =
            _mm512_and_si512(_mm512_and_si512(_mm512_maskz_loadu_epi64(here, a->row + row),
                                              _mm512_maskz_loadu_epi64(here, b->row + row)),
                             _mm512_maskz_loadu_epi64(here, c->row + row));
        sum = _mm512_add_epi64(sum, ways_from(&eight, third, unseen));
    }
    return (uint64_t)_mm512_reduce_add_epi64(sum);
}

static const struct draw_kernels avx512 = {"avx512", count_avx512, list_from_avx512,
                                           common_after_avx512};

const struct draw_kernels *draw_kernels_of_processor(void) {
    return __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vpopcntdq") ? &avx512
                                                                                          : NULL;
}

#else

const struct draw_kernels *draw_kernels_of_processor(void) {
    return NULL;
}

#endif
