/* What a pass does to the patterns that are close, from exact distances: which it keeps,
 * which it gives up, and why another pass is better. */
#ifndef CLI_PATTERNS_PASS_REASON_H
#define CLI_PATTERNS_PASS_REASON_H

#include "nearhand.h"

#include <stdbool.h>

/* A hand and what its player knows, before a pass. */
struct hand_known {
    nh_tiles hand;
    nh_situation situation;
};

/* Close patterns: the nearest, and those a tile farther. */
struct pass_keeps {
    bool keeps; /* a close pattern is as near after the pass as before */
    uint32_t kept;
    int kept_away;
    size_t also; /* others that are as near as that, and lose nothing */
    bool loses;  /* a pattern that was close loses a tile */
    uint32_t lost;
    int lost_before, lost_after; /* tiles away; more than NH_TARGET_MAX: out of reach */
    nh_tiles lost_tiles;         /* of the pass: those that it uses */
};

nh_status pass_keeps_find(nh_workspace *workspace, const struct hand_known *before,
                          const nh_tiles *pass, struct pass_keeps *found, nh_error *error);

/* The closest pattern after the best pass that is farther after another. */
struct pass_reason {
    bool has_pattern; /* false: no close pattern is */
    uint32_t pattern;
    nh_tiles tiles;      /* of the pass: those that it uses, and the best pass keeps */
    int away, best_away; /* after the pass, and after the best one */
};

nh_status pass_reason_find(nh_workspace *workspace, const struct hand_known *before,
                           const nh_tiles *pass, const nh_tiles *best, struct pass_reason *found,
                           nh_error *error);

#endif
