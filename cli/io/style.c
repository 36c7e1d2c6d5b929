/* Bold, dim and underline, on terminals that want them. */
#define _POSIX_C_SOURCE 200809L
#include "io/style.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

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
