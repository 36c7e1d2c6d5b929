/* Telling of a line that could not be read, in its place among the answers. */
#include "io/unread.h"
#include "io/json.h"
#include "io/output.h"
#include "io/text.h"
#include "io/utf8.h"

void unread_json(const struct line *line, const nh_error *error) {
    struct json json = {0};
    json_answer(&json);
    if (line->source != NULL) {
        json_key(&json, "file");
        json_string(&json, line->source);
    }
    json_key(&json, "line");
    json_unsigned(&json, line->number);
    json_key(&json, "input");
    json_bytes(&json, line->text, line->length);
    json_key(&json, "error");
    json_string(&json, error->text);
    json_key(&json, "column");
    if (error->column > 0)
        json_unsigned(&json, error->column);
    else
        json_null(&json);
    if (line->label != NULL) {
        json_key(&json, "label");
        json_bytes(&json, line->label, line->label_length);
    }
    json_close(&json, '}');
    output_text("\n");
}

#define CONTEXT 60 /* columns shown before the caret of a long line */

/* Adds the text up to a place `column` and returns the bytes used; of a long
 * text only its end. */
static size_t add_before(struct text *text, const struct line *line, uint32_t column) {
    size_t at = 0;
    size_t start = 0;
    uint32_t shown = 0;
    for (uint32_t i = 1; i < column && at < line->length; i++) {
        uint32_t character;
        at += utf8_decode(line->text + at, line->length - at, &character);
        for (shown++; shown > CONTEXT; shown--)
            start += utf8_decode(line->text + start, line->length - start, &character);
    }
    if (start > 0)
        text_add(text, "…");
    text_add_bytes(text, line->text + start, at - start);
    return at;
}

void unread_show(const struct line *line, uint32_t column) {
    if (line->length == 0)
        return;
    struct text text;
    text_clear(&text);
    size_t at = column > 0 ? add_before(&text, line, column) : 0;
    int caret = text.width;
    int rest = caret < LINE_WIDTH - 1 ? LINE_WIDTH - caret : 1;
    text_add_cut(&text, line->text + at, line->length - at, rest);
    output_error(text.bytes);
    output_error("\n");
    if (column == 0)
        return;
    text_clear(&text);
    text_pad(&text, caret);
    text_add(&text, "^");
    output_error(text.bytes);
    output_error("\n");
}

void unread_text(const struct line *line, const nh_error *error, bool numbered) {
    unread_show(line, error->column);
    struct text text;
    text_clear(&text);
    if (numbered && line->source != NULL)
        text_add_format(&text, "%s, ", line->source);
    if (numbered)
        text_add_format(&text, "line %lu: ", line->number);
    text_add(&text, error->text);
    output_error(text.bytes);
    output_error("\n");
}
