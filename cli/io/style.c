/* Bold, dim and underline, on terminals that want them. */
#define _POSIX_C_SOURCE 200809L
#include "io/style.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The locale of characters is the first of these that is set. */
const char *times_sign(void) {
    static const char *const names[] = {"LC_ALL", "LC_CTYPE", "LANG"};
    const char *locale = NULL;
    for (size_t i = 0; i < sizeof names / sizeof *names && (locale == NULL || *locale == '\0'); i++)
        locale = getenv(names[i]);
    bool utf8 =
        locale != NULL && (strstr(locale, "UTF-8") != NULL || strstr(locale, "utf8") != NULL);
    return utf8 ? "×" : "x";
}

struct style style_of_output(void) {
    static const struct style off = {false, "", "", "", ""};
    static const struct style on = {true, "\033[1m", "\033[2m", "\033[4m", "\033[0m"};
    const char *no_color = getenv("NO_COLOR");
    const char *terminal = getenv("TERM");
    if (no_color != NULL && no_color[0] != '\0')
        return off;
    if (terminal == NULL || terminal[0] == '\0' || strcmp(terminal, "dumb") == 0)
        return off;
    return isatty(STDOUT_FILENO) ? on : off;
}
