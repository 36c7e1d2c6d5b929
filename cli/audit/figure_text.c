/* Large numbers for people. */
#include "audit/figure_text.h"

#include <stdio.h>
#include <string.h>

void with_commas(const char *digits, char *figure) {
    size_t whole = strcspn(digits, ".");
    for (size_t i = 0; i < whole; i++) {
        if (i > 0 && (whole - i) % 3 == 0)
            *figure++ = ',';
        *figure++ = digits[i];
    }
    snprintf(figure, 8, "%s", digits + whole);
}

void natural_figure(const nh_natural *number, char *figure) {
    char digits[NH_NATURAL_TEXT_SIZE];
    nh_natural_format(number, digits, sizeof digits);
    with_commas(digits, figure);
}

bool is_any(const nh_natural *number) {
    static const nh_natural none = {{0}};
    return nh_natural_compare(number, &none) != 0;
}
