/* Questions read from JSON. */
#include "wasm/asked.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool asked_refuse(struct asked *asked, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    asked->error.status = NH_ERROR_ARGUMENT;
    asked->error.column = 0;
    vsnprintf(asked->error.text, sizeof asked->error.text, format, arguments);
    va_end(arguments);
    return false;
}

bool asked_whole(struct asked *asked, const char *key, int least, int most, int otherwise,
                 int *value) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(asked->question, key);
    *value = otherwise;
    if (item == NULL || cJSON_IsNull(item))
        return true;
    if (!cJSON_IsNumber(item) || item->valuedouble != item->valueint || item->valueint < least ||
        item->valueint > most)
        return asked_refuse(asked, "%s is a whole number, %d to %d", key, least, most);
    *value = item->valueint;
    return true;
}

bool asked_whether(struct asked *asked, const char *key, bool *whether) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(asked->question, key);
    *whether = cJSON_IsTrue(item);
    return item == NULL || cJSON_IsNull(item) || cJSON_IsBool(item) ||
           asked_refuse(asked, "%s is true or false", key);
}

bool asked_text(struct asked *asked, const char *key, const char **text) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(asked->question, key);
    *text = "";
    if (item == NULL || cJSON_IsNull(item))
        return true;
    if (!cJSON_IsString(item))
        return asked_refuse(asked, "%s is text", key);
    *text = item->valuestring;
    return true;
}

bool asked_wind(struct asked *asked, const char *key, nh_wind *wind) {
    const char *text;
    *wind = NH_WIND_UNKNOWN;
    if (!asked_text(asked, key, &text))
        return false;
    if (*text == '\0')
        return true;
    for (nh_wind each = NH_WIND_EAST; each <= NH_WIND_NORTH; each++) {
        const char letter[2] = {nh_wind_letter(each), '\0'};
        if (strcmp(text, nh_wind_name(each)) == 0 || strcmp(text, letter) == 0) {
            *wind = each;
            return true;
        }
    }
    return asked_refuse(asked, "%s is east, south, west or north", key);
}

bool asked_tiles(struct asked *asked, const char *key, nh_tiles *tiles) {
    const char *text;
    *tiles = (nh_tiles){{0}};
    return asked_text(asked, key, &text) &&
           (*text == '\0' ||
            nh_tiles_parse(asked->list, text, strlen(text), tiles, &asked->error) == NH_OK);
}

/* ---------------------------------------------------- sets on the table --- */

static bool is_rest_of(const struct desk *desk, const nh_set *sets, size_t count) {
    return desk->rest != NULL && desk->set_count == count &&
           memcmp(desk->sets, sets, count * sizeof *sets) == 0;
}

static void forget_rest(struct desk *desk) {
    nh_workspace_free(desk->rest_workspace);
    nh_list_free(desk->rest);
    desk->rest_workspace = NULL;
    desk->rest = NULL;
}

/* The list becomes what is left of it when the sets of "exposed" lie open. */
static bool read_exposed(struct asked *asked) {
    struct desk *desk = asked->desk;
    nh_set sets[NH_SETS_MAX] = {{0}};
    size_t count;
    const char *text;
    if (!asked_text(asked, "exposed", &text))
        return false;
    if (nh_sets_parse(desk->list, text, strlen(text), sets, NH_SETS_MAX, &count, &asked->error) !=
        NH_OK)
        return false;
    if (count == 0)
        return true;
    if (!is_rest_of(desk, sets, count)) {
        forget_rest(desk);
        if (nh_list_rest(desk->list, sets, count, NULL, &desk->rest, &asked->error) != NH_OK)
            return false;
        if (nh_workspace_new(desk->rest, NULL, &desk->rest_workspace) != NH_OK) {
            forget_rest(desk);
            return asked_refuse(asked, "there is not enough memory");
        }
        memcpy(desk->sets, sets, sizeof sets);
        desk->set_count = count;
    }
    asked->list = desk->rest;
    asked->workspace = desk->rest_workspace;
    return true;
}

/* ----------------------------------------------------- chosen patterns --- */

/* Chooses the patterns of a name, or of a section. */
static bool choose_named(struct asked *asked, const char *key, const char *name, bool section) {
    bool found = false;
    for (size_t i = 0; i < nh_list_size(asked->list); i++) {
        const nh_pattern *pattern = nh_list_pattern(asked->list, i);
        const char *own = section ? pattern->section : pattern->name;
        if (own == NULL || strcmp(own, name) != 0)
            continue;
        asked->desk->chosen[i] = 1;
        found = true;
    }
    return found || asked_refuse(asked, "%s: the list has no \"%s\"", key, name);
}

static bool read_chosen(struct asked *asked, const char *key, bool section) {
    const cJSON *names = cJSON_GetObjectItemCaseSensitive(asked->question, key), *name;
    if (names == NULL || cJSON_IsNull(names))
        return true;
    if (!cJSON_IsArray(names))
        return asked_refuse(asked, "%s is an array of names", key);
    cJSON_ArrayForEach(name, names) {
        if (!cJSON_IsString(name))
            return asked_refuse(asked, "%s is an array of names", key);
        if (!choose_named(asked, key, name->valuestring, section))
            return false;
        asked->chosen = asked->desk->chosen;
    }
    return true;
}

bool asked_read(struct asked *asked, bool needs_hand) {
    const char *hand;
    asked->list = asked->desk->list;
    asked->workspace = asked->desk->workspace;
    asked->chosen = NULL;
    asked->situation = (nh_situation)NH_SITUATION;
    memset(asked->desk->chosen, 0, nh_list_size(asked->list));
    if (!read_exposed(asked) || !asked_tiles(asked, "seen", &asked->situation.seen) ||
        !asked_wind(asked, "prevailing", &asked->situation.prevailing) ||
        !asked_wind(asked, "seat", &asked->situation.seat) ||
        !read_chosen(asked, "patterns", false) || !read_chosen(asked, "sections", true) ||
        !asked_text(asked, "hand", &hand))
        return false;
    return !needs_hand ||
           nh_hand_parse(asked->list, hand, strlen(hand), &asked->hand, &asked->error) == NH_OK;
}

bool add_nearest(struct asked *asked, struct answer *answer, const char *key, const nh_tiles *hand,
                 const nh_situation *situation, uint8_t away) {
    uint8_t *each = asked->desk->away;
    open_array(answer, key);
    if (nh_distances(asked->workspace, hand, situation, each, &asked->error) != NH_OK)
        return false;
    for (size_t i = 0; i < nh_list_size(asked->list); i++)
        if (each[i] == away && away != NH_AWAY_NONE &&
            (asked->chosen == NULL || asked->chosen[i] != 0))
            add_text(answer, NULL, nh_list_pattern(asked->list, i)->name);
    close_array(answer);
    return true;
}
