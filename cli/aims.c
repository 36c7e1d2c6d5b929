/* Patterns chosen by name. */
#include "aims.h"
#include "message.h"
#include "named.h"

static const char *name_of(const nh_pattern *pattern) {
    return pattern->name;
}

bool aim_choose(const nh_list *list, const char *name, uint8_t *chosen) {
    if (named_choose(list, name_of, name, chosen))
        return true;
    misused("--aim '%s': the list has no pattern of that name", name);
    return false;
}
