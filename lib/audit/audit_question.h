/* The questions of audits, and the products that they are about. */
#ifndef NH_AUDIT_AUDIT_QUESTION_H
#define NH_AUDIT_AUDIT_QUESTION_H

#include "count/family_contents.h"
#include "nearhand_audit.h"

/* Reads the question of an audit about patterns `a` and `b`; fills `error` with what is
 * wrong with it. */
nh_status read_audit_question(const nh_list *list, size_t a, size_t b,
                              const nh_audit_question *given, nh_audit_question *question,
                              nh_error *error);

/* The status of a count that ended, with its error. */
nh_status counted(nh_status status, nh_error *error);

/* Copies the products of a pattern that a player with the question's winds may go for;
 * NULL when memory is short. */
struct product *products_for(const nh_list *list, size_t pattern, const nh_audit_question *question,
                             size_t *count);

#endif
