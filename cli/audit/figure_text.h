/* Large numbers for people: 1,234,567. */
#ifndef CLI_AUDIT_FIGURE_TEXT_H
#define CLI_AUDIT_FIGURE_TEXT_H

#include "nearhand.h"

#include <stdbool.h>

#define FIGURE_SIZE 96

/* Digits in threes; a fraction stays as it is. */
void with_commas(const char *digits, char *figure);

void natural_figure(const nh_natural *number, char *figure);

bool is_any(const nh_natural *number);

#endif
