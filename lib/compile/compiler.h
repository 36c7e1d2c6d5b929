/* What the compiler knows while it works out one variant of a pattern. */
#ifndef NH_COMPILE_COMPILER_H
#define NH_COMPILE_COMPILER_H

#include "families/products.h"
#include "list/draft.h"

/* The current values of the letters and the player's winds. */
struct assignment {
    uint8_t rank[LETTERS];   /* 1 to 9 */
    uint8_t honour[LETTERS]; /* 0 for east to 6 for white */
    uint8_t suit[LETTERS];   /* a part */
    uint8_t prevailing, seat;
};

struct compiler {
    struct pool *pool;
    const struct draft *draft;
    const struct draft_pattern *pattern;
    const struct draft_variant *variant;
    struct assignment now;
    nh_tiles shown;       /* the tiles that the sets on the table stand for */
    uint32_t assignments; /* tried for the pattern so far: NH_ASSIGNMENTS_MAX */
};

static inline bool compiler_fine(const struct compiler *compiler) {
    return compiler->pool->status == NH_OK;
}

#endif
