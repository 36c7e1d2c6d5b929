/* JSON text made into a tree; what is not JSON is found and named here. */
#include "list/json_text.h"

#include <string.h>
#ifndef NH_NO_THREADS
#include <pthread.h>
#endif

/* cJSON notes its last error in a variable of its own; the lock keeps loads in
 * several threads apart. A build without threads has none to keep apart. */
static cJSON *parse(const char *json, size_t length, const char **end) {
#ifdef NH_NO_THREADS
    return cJSON_ParseWithLengthOpts(json, length, end, 0);
#else
    static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
    pthread_mutex_lock(&lock);
    cJSON *root = cJSON_ParseWithLengthOpts(json, length, end, 0);
    pthread_mutex_unlock(&lock);
    return root;
#endif
}

/* Looks for what no JSON text may hold, or no C string; `*text` says what it
 * is. Returns the byte where it stands, or the length. */
static size_t find_broken(const char *json, size_t length, const char **text) {
    size_t at = 0;
    bool escaped = false;
    while (at < length) {
        uint32_t character;
        size_t bytes = nh_utf8_next(json + at, length - at, &character);
        *text = "the text is not valid UTF-8 here";
        if (bytes == 0)
            break;
        *text = "a control character cannot stand here";
        if (character < ' ' && strchr("\t\n\r", (int)character) == NULL)
            break;
        *text = "a zero character cannot stand in a text";
        if (character == 0 || (escaped && length - at >= 5 && memcmp(json + at, "u0000", 5) == 0))
            break;
        escaped = character == '\\' && !escaped;
        at += bytes;
    }
    return at;
}

cJSON *json_parse(const char *json, size_t length, nh_mistakes *mistakes) {
    const char *text = "";
    const char *end = json;
    cJSON *root = NULL;
    size_t at = find_broken(json, length, &text);
    if (at == length) {
        root = parse(json, length, &end);
        at = (size_t)(end - json);
        text = "the JSON cannot be read here: look for a missing comma, quote or bracket just "
               "before";
    }
    if (root != NULL) {
        while (at < length && (unsigned char)json[at] <= ' ')
            at++;
        if (at == length)
            return root;
        text = "there is something behind the end of the list";
        cJSON_Delete(root);
    }
    struct place place = locate_byte(json, length, at);
    mistakes_add(mistakes, place.line, place.column, NULL, text);
    return NULL;
}
