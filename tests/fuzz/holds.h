/* What holds for every list and every hand, whatever it is: the contracts of
 * nearhand.h, checked with the process's end where one does not hold. */
#ifndef NH_FUZZ_HOLDS_H
#define NH_FUZZ_HOLDS_H

#include "fuzz.h"
#include "nearhand.h"

/* Reads a list; NULL, the report looked at and freed, when it is refused. */
nh_list *list_holds(const char *json, size_t length);

/* Ranks a hand and finds its distances; both must agree and add up. */
void ranking_holds(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                   const nh_situation *situation, int draws);

/* Counts two patterns, which the bytes choose, and how they relate, as far as that takes
 * no more work than the library gives it. */
void audit_holds(const nh_list *list, struct decisions *decisions);

#endif
