/* What an audit says below its table. */
#ifndef CLI_AUDIT_AUDIT_NOTES_H
#define CLI_AUDIT_AUDIT_NOTES_H

#include "audit/list_audit.h"
#include "io/text.h"

/* The line of points, the warnings, the ways that patterns share, the targets that only
 * jokers complete. */
void audit_notes(const struct audit *audit);

/* Accepted warnings that arise. */
size_t count_accepted(const struct audit *audit);

/* Adds the groups of a target, or its tiles where it is not laid out. */
void layout_text(struct text *text, const nh_tiles *target, const nh_layout *layout);

#endif
