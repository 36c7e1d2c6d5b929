/* The limits on the work of loading a list. A few words can stand for too many
 * combinations: such a list is refused before it costs its reader time or memory. */
#ifndef NH_FAMILIES_WORK_H
#define NH_FAMILIES_WORK_H

#define PRODUCTS_MAX 400000u        /* products of a pattern, and of a list */
#define SHARES_MAX 4000000u         /* shares of a list */
#define SCRATCH_MAX 4000000u        /* shares that are sorted at a time, twice */
#define PATTERN_WORK_MAX 200000000u /* steps for a pattern, each of two or three nanoseconds */
#define LIST_WORK_MAX 1000000000u   /* steps for a list */

/* Steps for a share that is sorted among others, for a product, and for the product of
 * a single target. */
#define STEPS_SHARE 16u
#define STEPS_PRODUCT 16u
#define STEPS_TARGET 32u

#endif
