/* Patterns chosen by name. */
#include "aims.h"
#include "message.h"

#include <string.h>
#include <strings.h>

static bool contains(const char *text, const char *part) {
    size_t length = strlen(part);
    for (; strlen(text) >= length; text++)
        if (strncasecmp(text, part, length) == 0)
            return true;
    return false;
}

static bool is_called(const char *pattern, const char *name) {
    return strcasecmp(pattern, name) == 0;
}

static bool choose(const nh_list *list, const char *name,
                   bool (*fits)(const char *pattern, const char *name), uint8_t *chosen) {
    bool found = false;
    for (size_t i = 0; i < nh_list_size(list); i++)
        if (fits(nh_list_pattern(list, i).name, name)) {
            chosen[i] = 1;
            found = true;
        }
    return found;
}

bool aim_choose(const nh_list *list, const char *name, uint8_t *chosen) {
    if (choose(list, name, is_called, chosen) || choose(list, name, contains, chosen))
        return true;
    misused("--aim '%s': the list has no pattern of that name", name);
    return false;
}
