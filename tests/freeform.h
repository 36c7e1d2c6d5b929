/* Random free-form lists, as a club might invent them: patterns of a whole hand that
 * mix letters, suits, classes and choices. Unlike those of random_list.h they are
 * too large to write out. */
#ifndef FREEFORM_H
#define FREEFORM_H

#include "random_list.h"

/* How free the patterns are: letters and suits alone; choices among them; letters,
 * choices and classes without restraint. */
enum freeform_style { FREEFORM_PLAIN, FREEFORM_MIXED, FREEFORM_WILD, FREEFORM_STYLES };

/* A list in the making. */
struct freeform {
    random_source source;
    enum freeform_style style;
    bool jokers;
    char *text; /* the patterns so far */
    size_t length, room;
    int patterns;
};

/* Starts a list of a style, with jokers and flowers in every second one. */
void freeform_start(struct freeform *list, uint64_t seed, enum freeform_style style);

/* A pattern as JSON, named by the number of patterns so far; the caller frees it. */
char *freeform_pattern(struct freeform *list);

/* Adds a pattern to the list. */
void freeform_keep(struct freeform *list, const char *pattern);

/* A whole list of `patterns`, those that were kept for NULL; the caller frees it. */
char *freeform_list(const struct freeform *list, const char *patterns);

void freeform_end(struct freeform *list);

#endif
