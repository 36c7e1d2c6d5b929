/* The limits on the work of loading a list. A few words can stand for too many
 * combinations: such a list is refused before it costs its reader time or memory. */
#ifndef NH_FAMILIES_WORK_H
#define NH_FAMILIES_WORK_H

#define PATTERN_PRODUCTS_MAX 400000u
#define LIST_PRODUCTS_MAX 1000000u
#define LIST_SHARES_MAX 5000000u    /* of the families that the patterns use */
#define WORK_BYTES_MAX (160u << 20) /* what is held while patterns are worked out */
#ifndef PATTERN_WORK_MAX            /* fuzz targets, whose steps are slow, allow fewer */
#define PATTERN_WORK_MAX 200000000u /* steps for a pattern, each of two or three nanoseconds */
#endif
#define LIST_WORK_MAX 1000000000u /* steps for a list */

/* Which of the limits was passed. */
enum work_limit {
    LIMIT_NONE,
    LIMIT_PATTERN,  /* what a pattern stands for */
    LIMIT_LETTERS,  /* the ways to give values to the letters of a pattern */
    LIMIT_DISTINCT, /* the choices of a group that is distinct */
    LIMIT_LIST      /* what the patterns of a list stand for together */
};

/* Steps for a share that is sorted among others, for a product, and for the product of
 * a single target. */
#define STEPS_SHARE 16u
#define STEPS_PRODUCT 16u
#define STEPS_TARGET 32u

#endif
