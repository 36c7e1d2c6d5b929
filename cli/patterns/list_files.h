/* Finding and loading the list that --list names. */
#ifndef CLI_PATTERNS_LIST_FILES_H
#define CLI_PATTERNS_LIST_FILES_H

#include "nearhand.h"

#include <stdbool.h>

#define LIST_DEFAULT "club"

#define LIST_PATH_SIZE 4096

/* Finds the file of a list by file or by name; NULL means LIST_DEFAULT. A value
 * with a slash, or one that ends in .json, is a file. A name is looked for as
 * NAME.json in $XDG_DATA_HOME/nearhand/lists (the player's own), then among the
 * shipped lists. False with a message where there is none of this name. */
bool list_find(const char *file_or_name, char path[LIST_PATH_SIZE]);

/* Loads a list from its file. NULL when that fails, with a message on standard
 * error, a line for every mistake of the list. */
nh_list *list_load(const char *path);

/* Finds and loads a list. */
nh_list *list_open(const char *file_or_name);

/* The names of all lists that list_open finds by name, sorted. */
#define LIST_NAMES_MAX 100
#define LIST_NAME_SIZE 64

struct list_names {
    int count;
    char name[LIST_NAMES_MAX][LIST_NAME_SIZE];
};

void list_names_find(struct list_names *names);

#endif
