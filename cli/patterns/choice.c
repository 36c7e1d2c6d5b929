/* Which patterns of a list a task is about. */
#include "patterns/choice.h"
#include "io/message.h"
#include "patterns/patterns_by_name.h"
#include "patterns/sections.h"

#include <stdlib.h>
#include <string.h>

/* Patterns that both choose. */
static void keep_common(uint8_t *chosen, const uint8_t *other, size_t size) {
    for (size_t i = 0; i < size; i++)
        chosen[i] = chosen[i] != 0 && other[i] != 0;
}

static bool choose_aims(const nh_list *list, const struct texts *aims, uint8_t *chosen,
                        uint8_t *named) {
    for (int i = 0; i < aims->count; i++)
        if (!patterns_choose(list, "--aim", aims->text[i], named))
            return false;
    if (aims->count > 0)
        keep_common(chosen, named, nh_list_size(list));
    return true;
}

static bool choose_sections(const nh_list *list, const struct texts *sections, uint8_t *chosen,
                            uint8_t *named) {
    for (int i = 0; i < sections->count; i++)
        if (!section_choose(list, sections->text[i], named))
            return false;
    if (sections->count > 0)
        keep_common(chosen, named, nh_list_size(list));
    return true;
}

static void choose_points(const nh_list *list, long points, uint8_t *chosen) {
    for (size_t i = 0; i < nh_list_size(list); i++) {
        const nh_pattern *pattern = nh_list_pattern(list, i);
        if (points > 0 && (!pattern->has_points || pattern->points < (double)points))
            chosen[i] = 0;
    }
}

/* Why no pattern is left. A name always leaves some, so by itself it can only be the
 * points. */
static void complain_none(const nh_list *list, const struct pattern_choice *choice) {
    double most = 0;
    bool any = false;
    for (size_t i = 0; i < nh_list_size(list); i++) {
        const nh_pattern *pattern = nh_list_pattern(list, i);
        if (pattern->has_points && (!any || pattern->points > most))
            most = pattern->points;
        any = any || pattern->has_points;
    }
    if (!any)
        misused("--points-from: the list gives no points");
    else if (most < (double)choice->points)
        misused("--points-from: no pattern has so many points; the most is %.15g", most);
    else
        misused("no pattern of the list is left by --aim, --section and --points-from together");
}

static bool mark_chosen(const nh_list *list, const struct pattern_choice *choice, uint8_t *chosen,
                        uint8_t *room) {
    size_t size = nh_list_size(list);
    memset(chosen, 1, size);
    memset(room, 0, size);
    if (!choose_aims(list, &choice->aims, chosen, room))
        return false;
    memset(room, 0, size);
    if (!choose_sections(list, &choice->sections, chosen, room))
        return false;
    choose_points(list, choice->points, chosen);
    if (memchr(chosen, 1, size) != NULL)
        return true;
    complain_none(list, choice);
    return false;
}

bool patterns_restricted(const struct pattern_choice *choice) {
    return choice->aims.count > 0 || choice->sections.count > 0 || choice->points > 0;
}

bool patterns_chosen(const nh_list *list, const struct pattern_choice *choice, uint8_t **chosen) {
    size_t size = nh_list_size(list);
    *chosen = NULL;
    if (!patterns_restricted(choice))
        return true;
    uint8_t *room = malloc(size);
    if (room == NULL)
        return short_of_memory();
    *chosen = malloc(size);
    bool good = *chosen != NULL ? mark_chosen(list, choice, *chosen, room) : short_of_memory();
    free(room);
    if (good)
        return true;
    free(*chosen);
    *chosen = NULL;
    return false;
}
