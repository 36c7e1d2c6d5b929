/* Counts every pattern of a list. */
#ifndef CLI_AUDIT_AUDIT_COUNTS_H
#define CLI_AUDIT_AUDIT_COUNTS_H

#include "audit/list_audit.h"

/* Fills the audit, of which the list is known and what is asked of it; with samples if
 * they are wanted. False with a message when memory is short; audit_free frees what is
 * there in any case. */
bool audit_count(struct audit *audit, bool samples);
void audit_free(struct audit *audit);

#endif
