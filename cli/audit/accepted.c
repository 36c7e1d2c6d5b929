/* Warnings that the keeper of a list has seen and accepts, and whether they arise. */
#include "audit/accepted.h"

#include <stdlib.h>
#include <string.h>

/* Names of one pattern that are looked at: there are fewer different ones. */
#define NAMES_MOST 16

bool accepted_start(struct audit *audit) {
    audit->arose = calloc(audit->size * NAMES_MOST, sizeof *audit->arose);
    return audit->arose != NULL;
}

bool accepted_warning_of(struct audit *audit, size_t pattern, const char *warning) {
    bool found = false, met;
    const char *name;
    for (size_t n = 0; n < NAMES_MOST; n++) {
        if ((name = nh_list_accepted(audit->list, pattern, n, &met)) == NULL)
            break;
        if (strcmp(name, warning) == 0)
            found = audit->arose[pattern * NAMES_MOST + n] = true;
    }
    return found;
}

bool accepted_each(const struct audit *audit, size_t pattern,
                   bool (*each)(void *context, size_t pattern, const char *warning, bool arose),
                   void *context) {
    bool met = false;
    const char *name;
    for (size_t n = 0; n < NAMES_MOST; n++) {
        if ((name = nh_list_accepted(audit->list, pattern, n, &met)) == NULL)
            break;
        if (!each(context, pattern, name, met || audit->arose[pattern * NAMES_MOST + n]))
            return false;
    }
    return true;
}
