/* Warnings that the keeper of a list has seen and accepts, and whether they arise. */
#ifndef CLI_AUDIT_ACCEPTED_H
#define CLI_AUDIT_ACCEPTED_H

#include "audit/list_audit.h"

/* Makes room in `audit->arose`; false when memory is short. */
bool accepted_start(struct audit *audit);

/* Whether the pattern accepts a warning that arises, which is noted. */
bool accepted_warning_of(struct audit *audit, size_t pattern, const char *warning);

/* Calls `each` with every accepted warning of a pattern, in the order of the list;
 * false as soon as it returns that. */
bool accepted_each(const struct audit *audit, size_t pattern,
                   bool (*each)(void *context, size_t pattern, const char *warning, bool arose),
                   void *context);

#endif
