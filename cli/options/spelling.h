/* Which of some words a mistyped one was meant to be. */
#ifndef CLI_OPTIONS_SPELLING_H
#define CLI_OPTIONS_SPELLING_H

/* Compares a typed word with others, one after the other. Start from
 * {.typed = word}. */
struct spelling {
    const char *typed;
    const char *closest; /* of those so far; NULL if none is close enough */
    unsigned mistakes;   /* between the two */
};

void spelling_try(struct spelling *spelling, const char *word);

#endif
