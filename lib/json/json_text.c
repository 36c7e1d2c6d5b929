/* JSON text made into a tree; what is not JSON is found and named here. */
#include "json/json_text.h"
#include "json/json_mistake.h"

#include <string.h>
#ifndef NH_NO_THREADS
#include <pthread.h>
#endif

/* cJSON notes its last error in a variable of its own; the lock keeps loads in
 * several threads apart. A build without threads has none to keep apart. */
static cJSON *parse_json(const char *json, size_t length, const char **end) {
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

/* Word processors' files, and texts in two bytes a character. */
static bool is_utf16(const char *json, size_t length) {
    return length >= 2 && (memcmp(json, "\xFF\xFE", 2) == 0 || memcmp(json, "\xFE\xFF", 2) == 0);
}

static void note_mistake(nh_mistakes *mistakes, const char *json, size_t length, size_t at,
                         const char *text) {
    mistakes_add(mistakes, locate_byte(json, length, at), NULL, NULL, text);
}

cJSON *json_parse(const char *json, size_t length, nh_mistakes *mistakes) {
    const char *text = "";
    size_t at = find_broken(json, length, &text);
    if (at < length) {
        bool utf16 = at == 0 && is_utf16(json, length);
        note_mistake(mistakes, json, length, at,
                     utf16 ? "the file is UTF-16: save it as UTF-8" : text);
        return NULL;
    }
    const char *end = json;
    cJSON *root = parse_json(json, length, &end);
    at = (size_t)(end - json);
    if (root == NULL) {
        struct json_mistake mistake = json_mistake_find(json, length, at);
        note_mistake(mistakes, json, length, mistake.at, mistake.text);
        return NULL;
    }
    while (at < length && (unsigned char)json[at] <= ' ')
        at++;
    if (at == length)
        return root;
    note_mistake(mistakes, json, length, at, "there is something behind the end of the list");
    cJSON_Delete(root);
    return NULL;
}
