/* The parts of a line of the history, checked one by one. */
#include "history/review_items.h"

#include <string.h>

const cJSON *item_of(const cJSON *object, const char *key) {
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

bool read_text(const cJSON *object, const char *key, const char **text) {
    *text = cJSON_GetStringValue(item_of(object, key));
    return *text != NULL;
}

bool read_number(const cJSON *object, const char *key, double most, double *number) {
    const cJSON *item = item_of(object, key);
    *number = cJSON_IsNumber(item) ? item->valuedouble : -1;
    return *number >= 0 && *number <= most;
}

bool read_whole(const cJSON *object, const char *key, unsigned most, unsigned *whole) {
    double number;
    if (!read_number(object, key, most, &number))
        return false;
    *whole = (unsigned)number;
    return true;
}

bool read_tiles(const cJSON *object, const char *key, nh_tiles *tiles) {
    const char *text;
    return read_text(object, key, &text) &&
           nh_tiles_parse(NULL, text, strlen(text), tiles, NULL) == NH_OK;
}

/* An array of the round with at most so many elements. */
bool read_array(const cJSON *object, const char *key, size_t most, const cJSON **array) {
    *array = item_of(object, key);
    return cJSON_IsArray(*array) && (size_t)cJSON_GetArraySize(*array) <= most;
}
