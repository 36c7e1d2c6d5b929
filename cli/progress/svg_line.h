/* How a line of the chart looks. */
#ifndef CLI_PROGRESS_SVG_LINE_H
#define CLI_PROGRESS_SVG_LINE_H

#include <stddef.h>

/* Opens a group in the style of a line: its colour, and marks filled or hollow. */
void svg_open_line(size_t line);

/* The dashes of a line, for stroke-dasharray. */
const char *svg_dashes(size_t line);

/* A mark of a line about a point. */
void svg_mark(size_t line, double x, double y);

#endif
