/* The names of warnings, with which a pattern accepts them: those of a list that is
 * loaded, and those of an audit. */
#include "list/warning_names.h"
#include "list/word_hints.h"

#include <string.h>

static const char *const names[] = {"suit-letter",   "chow-class", "same",
                                    "within",        "overlap",    "points",
                                    "empty-variant", "uncounted",  NULL};

static void read_name(struct json_reader *reader, const cJSON *item,
                      struct draft_pattern *pattern) {
    char hint[HINT_SIZE];
    int number = word_number(item->valuestring, names);
    for (size_t i = 0; number >= 0 && i < pattern->accepted_count; i++)
        if (pattern->accepted[i].name == names[number])
            return;
    if (number >= 0) {
        pattern->accepted[pattern->accepted_count++].name = names[number];
        return;
    }
    key_hint(item->valuestring, names, hint);
    reader_complain(reader, "\"%.60s\" is no warning%s%s", item->valuestring,
                    hint[0] != '\0' ? ": " : "", hint);
}

void read_accepted(struct json_reader *reader, const cJSON *object, struct draft_pattern *pattern) {
    const cJSON *array = json_member(object, "accept");
    bool good = array == NULL || cJSON_IsArray(array);
    pattern->accepted = reader_new(reader, (size_t)json_count(array), sizeof *pattern->accepted);
    reader_enter_key(reader, "accept");
    int index = 0;
    const cJSON *item = json_first(array);
    for (; pattern->accepted != NULL && item != NULL && good; item = item->next) {
        good = cJSON_IsString(item);
        reader_enter_item(reader, index++);
        if (good)
            read_name(reader, item, pattern);
        reader_leave(reader);
    }
    if (!good)
        reader_complain(reader, "\"accept\" must be an array of names of warnings");
    reader_leave(reader);
}
