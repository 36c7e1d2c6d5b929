/* The limits on the work of loading a list. A few words can stand for too many
 * combinations: such a list is refused before it costs its reader time or memory. */
#ifndef NH_COMPILE_WORK_H
#define NH_COMPILE_WORK_H

#define PRODUCTS_MAX 400000u        /* products of a pattern, and of a list */
#define SHARES_MAX 4000000u         /* shares of a list */
#define PATTERN_WORK_MAX 200000000u /* steps of work for a pattern */
#define LIST_WORK_MAX 300000000u    /* steps of work for a list */

/* Steps for a share that is sorted among others, and for a product. */
#define STEPS_SHARE 16u
#define STEPS_PRODUCT 16u

#endif
