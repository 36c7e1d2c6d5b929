/* Where the program finds its files: the player's own folder, and where the program
 * itself lies. */
#ifndef CLI_SYSTEM_PLACES_H
#define CLI_SYSTEM_PLACES_H

#include <stdbool.h>
#include <stddef.h>

/* The path of a file or folder of the player's: nearhand/NAME in $XDG_DATA_HOME or
 * ~/.local/share. False where neither is known or the path is too long. */
bool player_path(const char *name, char *path, size_t size);

/* The path of a file or folder by its place from the folder of the program. False where
 * that folder is not known or the path is too long. */
bool program_path(const char *name, char *path, size_t size);

#endif
