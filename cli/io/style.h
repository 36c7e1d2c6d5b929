/* Bold, dim and underline, on terminals that want them. */
#ifndef CLI_IO_STYLE_H
#define CLI_IO_STYLE_H

#include <stdbool.h>

/* The escape sequences; all empty where `on` is false. Tiles are styled by
 * their role, never by suit. */
struct style {
    bool on;
    const char *bold;
    const char *dim;
    const char *underline;
    const char *plain; /* ends every style */
};

/* Styles for standard output: on for a terminal, unless NO_COLOR is set to
 * anything or the terminal is a dumb one. */
struct style style_of_output(void);

/* The sign between a tile and a number: "×" where the locale has UTF-8, else "x". */
const char *times_sign(void);

#endif
