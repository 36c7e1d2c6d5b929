/* Finding and loading the list that --list names. */
#ifndef CLI_PATTERNS_LIST_FILES_H
#define CLI_PATTERNS_LIST_FILES_H

#include "nearhand.h"

#define LIST_DEFAULT "club"

/* Loads a list by file or by name; NULL means LIST_DEFAULT. A value with a
 * slash, or one that ends in .json, is a file. A name is looked for as
 * NAME.json in $XDG_DATA_HOME/nearhand/lists (the player's own), then among
 * the shipped lists.
 * On failure says on standard error what is wrong, every mistake of the list
 * on a line of its own, and returns NULL. */
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
