/* A pattern list read from JSON into a draft. */
#ifndef NH_LIST_DRAFT_LIST_H
#define NH_LIST_DRAFT_LIST_H

#include "list/draft.h"

/* Reads and checks a list. Mistakes go to `mistakes`; false means that memory
 * was short or that there are mistakes. */
bool draft_read(const char *json, size_t length, struct arena *arena, struct draft *draft,
                nh_mistakes *mistakes);

#endif
