/* Lines of text on the output, broken where the next piece no longer fits. */
#include "io/flow.h"
#include "io/output.h"

#include <string.h>

void text_print(const struct text *text) {
    output_bytes(text->bytes, text->length);
    output_text("\n");
}

static void spaces(int count) {
    output_format("%*s", count, "");
}

void flow_add(struct flow *flow, const struct text *piece, int gap) {
    if (flow->column > 0 && flow->column + gap + piece->width > LINE_WIDTH)
        flow_end(flow);
    if (flow->column == 0)
        gap = flow->indent;
    spaces(gap);
    output_bytes(piece->bytes, piece->length);
    flow->column += gap + piece->width;
}

void flow_words(struct flow *flow, const char *string) {
    while (*string != '\0') {
        size_t length = strcspn(string, " ");
        struct text word;
        text_clear(&word);
        text_add_cut(&word, string, length, LINE_WIDTH - flow->indent);
        if (length > 0)
            flow_add(flow, &word, 1);
        string += length;
        string += strspn(string, " ");
    }
}

void flow_end(struct flow *flow) {
    if (flow->column > 0)
        output_text("\n");
    flow->column = 0;
}
