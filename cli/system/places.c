/* Where the program finds its files: the player's own folder, and where the program
 * itself lies. */
#define _XOPEN_SOURCE 700
#include "system/places.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/auxv.h>

static bool join(const char *folder, const char *between, const char *name, char *path,
                 size_t size) {
    int length = snprintf(path, size, "%s%s%s", folder, between, name);
    return length > 0 && (size_t)length < size;
}

/* The XDG Base Directory Specification: unset or empty means ~/.local/share, and a path
 * that is not absolute is ignored. */
bool player_path(const char *name, char *path, size_t size) {
    const char *data = getenv("XDG_DATA_HOME");
    const char *home = getenv("HOME");
    if (data != NULL && data[0] == '/')
        return join(data, "/nearhand/", name, path, size);
    return home != NULL && home[0] == '/' &&
           join(home, "/.local/share/nearhand/", name, path, size);
}

/* Without /proc, as in a bare chroot, it is what the program was called by. */
static bool find_program(char path[PATH_MAX]) {
    if (realpath("/proc/self/exe", path) != NULL)
        return true;
    /* The kernel hands it over as a number. */
    const char *called = (const char *)getauxval(AT_EXECFN); /* NOLINT(performance-no-int-to-ptr) */
    return called != NULL && realpath(called, path) != NULL;
}

bool program_path(const char *name, char *path, size_t size) {
    char program[PATH_MAX]; /* as realpath wants */
    char *slash = find_program(program) ? strrchr(program, '/') : NULL;
    if (slash == NULL)
        return false;
    *slash = '\0';
    return join(program, "/", name, path, size);
}
