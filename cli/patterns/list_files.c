/* Finding and loading the list that --list names. */
#define _POSIX_C_SOURCE 200809L
#include "patterns/list_files.h"
#include "io/message.h"
#include "io/text.h"
#include "options/spelling.h"
#include "system/places.h"

#include <dirent.h>
#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define PATH_SIZE LIST_PATH_SIZE
#define SUFFIX ".json"

/* ------------------------------------------------- folders of lists --- */

#define FOLDERS_MAX 3

struct folders {
    int count;
    char path[FOLDERS_MAX][PATH_SIZE];
};

/* One that is not known, or whose path is too long, is left out. */
static void find_folders(struct folders *folders) {
    folders->count = 0;
    if (player_path("lists", folders->path[folders->count], PATH_SIZE))
        folders->count++;
    /* The lists that come with the program: in its data folder when it is installed, else
     * in a folder beside it. */
    if (program_path(NH_INSTALLED_PATTERNS, folders->path[folders->count], PATH_SIZE))
        folders->count++;
    if (program_path("patterns", folders->path[folders->count], PATH_SIZE))
        folders->count++;
}

/* ------------------------------------------------------------ names --- */

static bool ends_in(const char *text, const char *end) {
    size_t length = strlen(text);
    return length >= strlen(end) && strcmp(text + length - strlen(end), end) == 0;
}

/* The JSON Schema of lists lies beside them, but is no list. */
static void add_name(struct list_names *names, const char *file) {
    if (!ends_in(file, SUFFIX) || ends_in(file, ".schema" SUFFIX))
        return;
    size_t length = strlen(file) - strlen(SUFFIX);
    if (length == 0 || length >= LIST_NAME_SIZE || names->count == LIST_NAMES_MAX)
        return;
    for (int i = 0; i < names->count; i++)
        if (strlen(names->name[i]) == length && memcmp(names->name[i], file, length) == 0)
            return;
    memcpy(names->name[names->count], file, length);
    names->name[names->count++][length] = '\0';
}

static int compare_names(const void *a, const void *b) {
    return strcmp(a, b);
}

static void find_names(const struct folders *folders, struct list_names *names) {
    names->count = 0;
    for (int i = 0; i < folders->count; i++) {
        DIR *folder = opendir(folders->path[i]);
        if (folder == NULL && errno != ENOENT && errno != ENOTDIR)
            complain("%s: cannot be read: %s; its lists are left out", folders->path[i],
                     strerror(errno));
        if (folder == NULL)
            continue;
        for (struct dirent *entry; (entry = readdir(folder)) != NULL;)
            add_name(names, entry->d_name);
        closedir(folder);
    }
    qsort(names->name, (size_t)names->count, LIST_NAME_SIZE, compare_names);
}

void list_names_find(struct list_names *names) {
    static struct folders folders;
    find_folders(&folders);
    find_names(&folders, names);
}

static void complain_unknown_list(const char *name, const struct folders *folders) {
    static struct list_names names;
    find_names(folders, &names);
    struct text known;
    text_clear(&known);
    struct spelling spelling = {.typed = name};
    for (int i = 0; i < names.count; i++) {
        text_add(&known, i == 0 ? "" : ", ");
        text_add(&known, names.name[i]);
        spelling_try(&spelling, names.name[i]);
    }
    if (spelling.closest != NULL)
        complain("no list is called '%s'; did you mean %s?", name, spelling.closest);
    else if (names.count == 0)
        complain("no list is called '%s', and none was found at all; name a file: --list FILE.json",
                 name);
    else
        complain(
            "no list is called '%s'; the lists are %s (a file's name has a / in it or ends in %s)",
            name, known.bytes, SUFFIX);
}

/* ---------------------------------------------------------- loading --- */

static void print_mistakes(const char *path, const nh_mistakes *mistakes) {
    for (size_t i = 0; i < nh_mistakes_size(mistakes); i++) {
        nh_mistake mistake = *nh_mistakes_at(mistakes, i);
        struct text text;
        text_clear(&text);
        text_add(&text, path);
        if (mistake.line > 0)
            text_add_format(&text, ":%lu", (unsigned long)mistake.line);
        if (mistake.line > 0 && mistake.column > 0)
            text_add_format(&text, ":%lu", (unsigned long)mistake.column);
        text_add(&text, mistake.warning != NULL ? ": warning: " : ": ");
        text_add(&text, mistake.text);
        fprintf(stderr, "%s\n", text.bytes);
    }
}

nh_list *list_load(const char *path) {
    nh_list *list = NULL;
    nh_mistakes *mistakes = NULL;
    nh_status status = nh_list_load(path, NULL, &list, &mistakes);
    if (status == NH_ERROR_FILE && nh_mistakes_size(mistakes) > 0)
        complain("%s", nh_mistakes_at(mistakes, 0)->text);
    else if (status != NH_OK && nh_mistakes_size(mistakes) == 0)
        complain("%s: %s", path, nh_status_text(status));
    else
        print_mistakes(path, mistakes);
    nh_mistakes_free(mistakes);
    return list;
}

static bool is_file(const char *name) {
    return strchr(name, '/') != NULL || ends_in(name, SUFFIX);
}

/* Looks for a list by its name. False where there is none, with the first place
 * that could not be looked at in `denied`. */
static bool find_named(const char *name, const struct folders *folders, char path[LIST_PATH_SIZE],
                       struct text *denied) {
    text_clear(denied);
    for (int i = 0; name[0] != '\0' && i < folders->count; i++) {
        int length = snprintf(path, LIST_PATH_SIZE, "%s/%s%s", folders->path[i], name, SUFFIX);
        if (length >= LIST_PATH_SIZE)
            continue;
        if (access(path, F_OK) == 0)
            return true;
        if (errno != ENOENT && errno != ENOTDIR && denied->bytes[0] == '\0')
            text_add_format(denied, "%s: cannot be read: %s", path, strerror(errno));
    }
    return false;
}

bool list_find(const char *file_or_name, char path[LIST_PATH_SIZE]) {
    const char *name = file_or_name == NULL ? LIST_DEFAULT : file_or_name;
    if (is_file(name)) {
        int length = snprintf(path, LIST_PATH_SIZE, "%s", name);
        if (length >= LIST_PATH_SIZE)
            complain("%s: cannot be read: %s", name, strerror(ENAMETOOLONG));
        return length < LIST_PATH_SIZE;
    }
    static struct folders folders;
    struct text denied;
    find_folders(&folders);
    if (find_named(name, &folders, path, &denied))
        return true;
    if (denied.bytes[0] != '\0')
        complain("%s", denied.bytes);
    else
        complain_unknown_list(name, &folders);
    return false;
}

nh_list *list_open(const char *file_or_name) {
    char path[LIST_PATH_SIZE];
    return list_find(file_or_name, path) ? list_load(path) : NULL;
}
