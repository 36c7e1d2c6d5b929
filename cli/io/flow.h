/* Lines of text on the output, broken where the next piece no longer fits. */
#ifndef CLI_IO_FLOW_H
#define CLI_IO_FLOW_H

#include "io/text.h"

/* Writes the text to the output as a line. */
void text_print(const struct text *text);

/* Pieces that follow one another in lines of at most LINE_WIDTH columns. */
struct flow {
    int indent; /* columns before each line */
    int column; /* columns taken in this line; 0 before the first piece */
};

/* Writes a piece to the output, `gap` columns behind the one before, or in a
 * new line. */
void flow_add(struct flow *flow, const struct text *piece, int gap);

/* The same for each word of a text. */
void flow_words(struct flow *flow, const char *string);

/* Ends the line, if one was begun. */
void flow_end(struct flow *flow);

#endif
