/* Single hands that are complete for a pattern, tried on another one. */
#ifndef NH_AUDIT_SAMPLE_HANDS_H
#define NH_AUDIT_SAMPLE_HANDS_H

#include "count/family_contents.h"

/* Whether some hand that is complete for `a` is not complete for `b`, looked for among
 * a few. True is always right. */
bool sample_outside(struct family_counting *families, const struct list_pattern *a,
                    const struct list_pattern *b);

#endif
