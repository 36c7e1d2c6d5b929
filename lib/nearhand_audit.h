/*
 * nearhand, chapter 7: the figures of a list's patterns.
 */
#ifndef NEARHAND_AUDIT_H
#define NEARHAND_AUDIT_H

#include "nearhand_list.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ------------------------------------------------------------ audit --- */

/* The figures of a pattern; a target is counted once however it is reached. */
typedef struct nh_figures {
    nh_natural targets;    /* distinct targets */
    nh_natural ways;       /* physical hands, jokers aside: sum of products of C(copies,
                              needed) */
    nh_natural dealt_ways; /* those of exactly the hand's size */
    nh_natural joker_only; /* targets that nobody can complete without jokers */
    double dealt;          /* dealt_ways / C(all tiles, hand) */
} nh_figures;

/* The odds of being dealt a pattern, jokers among the tiles of the deal. */
typedef struct nh_dealt {
    nh_natural hands; /* deals of nh_list_hand_size tiles that are complete for it, each
                         tile counted as different; a hand that completes several targets
                         counts once */
    nh_natural deals; /* C(all tiles, hand) */
    double chance;    /* hands / deals */
} nh_dealt;

/* What two patterns have in common. */
typedef struct nh_overlap {
    nh_natural ways; /* physical hands of both, jokers aside */
    double of_a;     /* as a share of the ways of the first; 0 where it has none */
    double of_b;     /* of the second */
} nh_overlap;

/* How to count. Start from NH_AUDIT_QUESTION. */
typedef struct nh_audit_question {
    size_t size;         /* of this struct, as NH_AUDIT_QUESTION sets it */
    size_t figures_size; /* of nh_figures */
    nh_wind prevailing;  /* with a wind unknown, all four count */
    nh_wind seat;
    const nh_cancel *cancel; /* NULL: the work is not cancelled */
    size_t dealt_size;       /* of nh_dealt */
    size_t overlap_size;     /* of nh_overlap */
} nh_audit_question;

#define NH_AUDIT_QUESTION                                                                          \
    {                                                                                              \
        sizeof(nh_audit_question), sizeof(nh_figures), NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, NULL,     \
            sizeof(nh_dealt), sizeof(nh_overlap)                                                   \
    }

/* Counts pattern `pattern` (its index) exactly, without listing its targets. A
 * NULL question is NH_AUDIT_QUESTION; `error` may be NULL. Of the rest of a list
 * (nh_list_rest) it counts what is left to make with the tiles that are left.
 * Returns NH_OK; NH_ERROR_ARGUMENT for a value out of range; NH_ERROR_LIMIT when
 * products of the pattern overlap in so many ways that counting takes too much
 * work, which takes a list that is made for it; NH_ERROR_MEMORY;
 * NH_ERROR_CANCELLED. Allocates from the list's allocator. Cost: follows the
 * pattern's products and the sets of their families that have shares in common;
 * some seconds at most. Thread-safe. */
NH_API nh_status nh_audit_figures(const nh_list *list, size_t pattern,
                                  const nh_audit_question *question, nh_figures *figures,
                                  nh_error *error);

/* The odds of being dealt pattern `pattern` with jokers standing where they may: an
 * exact count, without listing hands. Without jokers in the set it is the `dealt` of
 * nh_figures. Errors and cost as above. */
NH_API nh_status nh_audit_dealt(const nh_list *list, size_t pattern,
                                const nh_audit_question *question, nh_dealt *dealt,
                                nh_error *error);

typedef enum nh_relation {
    NH_NEITHER, /* neither contains the other */
    NH_EQUAL,   /* the same hands */
    NH_WITHIN,  /* every hand that is complete for a is complete for b */
    NH_CONTAINS /* every hand that is complete for b is complete for a */
} nh_relation;

/* How the complete hands of patterns `a` and `b` relate, with any winds; with jokers in the set,
 * hands with jokers among them. A pattern without a target, in the rest of a list, lies within
 * every other. Errors and cost as above. */
NH_API nh_status nh_audit_relation(const nh_list *list, size_t a, size_t b,
                                   const nh_audit_question *question, nh_relation *relation,
                                   nh_error *error);

/* The ways that patterns `a` and `b` have in common. Errors and cost as above. */
NH_API nh_status nh_audit_overlap(const nh_list *list, size_t a, size_t b,
                                  const nh_audit_question *question, nh_overlap *overlap,
                                  nh_error *error);

/* Variants of pattern `pattern` (one where it is written with `groups`), and
 * whether number `variant` (from 0) gives any target at all. 0 and false for an
 * index out of range. */
NH_API size_t nh_audit_variants(const nh_list *list, size_t pattern);
NH_API bool nh_audit_variant_live(const nh_list *list, size_t pattern, size_t variant);

/* A target of variant `variant` of a pattern, for a look at what the list says: the one
 * that the most physical hands are complete for, jokers aside. A variant without a target
 * gives no tiles. Returns NH_OK; NH_ERROR_ARGUMENT for an index out of range;
 * NH_ERROR_MEMORY; NH_ERROR_LIMIT. Allocates from the list's allocator. Cost: that of
 * loading the variant. Thread-safe. */
NH_API nh_status nh_audit_sample(const nh_list *list, size_t pattern, size_t variant,
                                 nh_tiles *target, nh_error *error);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_AUDIT_H */
