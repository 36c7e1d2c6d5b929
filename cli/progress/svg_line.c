/* How a line of the chart looks. Lines differ in their marks
 * and dashes as well as in their colour, so that they are not mixed up in grey. */
#include "progress/svg_line.h"
#include "io/output.h"

#define SHAPES 6

/* Marks about the point 0 0: disc, square, triangle, diamond, plus, triangle with
 * its point down. */
static const char *const shape[SHAPES] = {
    "M-4 0A4 4 0 1 0 4 0A4 4 0 1 0 -4 0Z",
    "M-3.6 -3.6H3.6V3.6H-3.6Z",
    "M0 -4.8L4.5 3.4H-4.5Z",
    "M0 -5.2L5.2 0L0 5.2L-5.2 0Z",
    "M-1.6 -5H1.6V-1.6H5V1.6H1.6V5H-1.6V1.6H-5V-1.6H-1.6Z",
    "M0 4.8L4.5 -3.4H-4.5Z",
};
static const char *const dashes[SHAPES] = {"none", "8 3", "2 3", "10 3 2 3", "4 4", "14 4"};
static const char *const colour[SHAPES] = {"#111",    "#1c5a96", "#a8431c",
                                           "#3c7a2e", "#73408c", "#8a6508"};

/* Lines past the first six have the same marks again, but hollow. */
void svg_open_line(size_t line) {
    const char *stroke = colour[line % SHAPES];
    output_format("<g stroke=\"%s\" fill=\"%s\" stroke-width=\"1.5\">\n", stroke,
                  line < SHAPES ? stroke : "#fff");
}

const char *svg_dashes(size_t line) {
    return dashes[line % SHAPES];
}

void svg_mark(size_t line, double x, double y) {
    output_format("<path transform=\"translate(%.1f %.1f)\" d=\"%s\"/>", x, y,
                  shape[line % SHAPES]);
}
