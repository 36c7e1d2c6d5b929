/* A loaded pattern list: what the matcher walks. */
#ifndef NH_COMPILE_COMPILED_H
#define NH_COMPILE_COMPILED_H

#include "base/memory.h"
#include "base/natural.h"
#include "base/status.h"
#include "compile/lanes.h"
#include "families/family.h"
#include "nearhand_play.h"

struct draft;
struct kernels;

struct list_pattern {
    nh_pattern about;
    uint32_t first, count; /* its products */
    uint32_t run_first, run_count;
    uint32_t variant_first; /* in variant_live */
    uint32_t variant_count;
    bool overlaps; /* its products have targets in common that differ in what jokers may be */
};

struct nh_list {
    nh_allocator allocator;
    struct arena arena;        /* texts, patterns, the draft */
    const struct draft *draft; /* the groups as they are written */
    const char *title, *edition, *note;
    int hand, most; /* tiles of a complete hand, without and with kongs */
    nh_tiles set;
    nh_charleston charleston;
    struct list_pattern *patterns;
    size_t pattern_count;
    nh_mistakes *warnings;
    const nh_list *whole; /* the loaded list that this one is the rest of, or NULL */
    nh_set sets[NH_SETS_MAX];
    size_t set_count;
    nh_tiles on_table;  /* the tiles of the sets, jokers as jokers */
    nh_tiles off_table; /* the others: what a hand can hold */
    bool *variant_live;
    struct product *products;
    size_t product_count;
    struct run *runs;
    struct lanes lanes;
    void *lane_memory;
    const struct kernels *kernels; /* those of the distance for this processor */
    struct family *families;       /* those of suits, then those of honours */
    size_t family_count, suit_family_count;
    struct share *shares;
    uint64_t *bits;     /* of each share, see share_bits.h */
    uint64_t *hard;     /* the same of the tiles that no joker may be */
    nh_tiles most_hard; /* of each kind the most of those that a share has; where jokers are */
    size_t share_count;
    nh_natural *binomials;   /* see binomials.h; those of the whole list */
    uint32_t largest_family; /* shares of the largest family */
    uint32_t largest_run;    /* products of the largest run */
};

/* Number of a family among those of its kind, as rows of distances have them. */
static inline uint32_t family_number(const nh_list *list, int part, uint32_t family) {
    return part == PART_HONOUR ? family - (uint32_t)list->suit_family_count : family;
}

/* The other way round. */
static inline uint32_t family_numbered(const nh_list *list, int part, uint32_t number) {
    return part == PART_HONOUR ? number + (uint32_t)list->suit_family_count : number;
}

/* The families of a part, first to end - 1. */
static inline void families_of(const nh_list *list, int part, size_t *first, size_t *end) {
    *first = part == PART_HONOUR ? list->suit_family_count : 0;
    *end = part == PART_HONOUR ? list->family_count : list->suit_family_count;
}

/* NH_OK for the index of a pattern, or an error that names it. */
static inline nh_status check_pattern(const nh_list *list, size_t pattern, nh_error *error) {
    if (pattern < list->pattern_count)
        return NH_OK;
    return error_set(error, NH_ERROR_ARGUMENT, 0, "pattern is %zu; the list has 0 to %zu", pattern,
                     list->pattern_count - 1);
}

#endif
