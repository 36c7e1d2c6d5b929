/* Text in pages and drawings, and the frame of a page. A page is XML as well. */
#include "io/markup.h"
#include "io/output.h"
#include "io/utf8.h"

static bool is_noncharacter(uint32_t character) {
    return (character & 0xFFFE) == 0xFFFE || (character >= 0xFDD0 && character <= 0xFDEF);
}

static void character_out(uint32_t character) {
    char bytes[4];
    switch (character) {
    case '&':
        output_text("&amp;");
        break;
    case '<':
        output_text("&lt;");
        break;
    case '>':
        output_text("&gt;");
        break;
    case '"':
        output_text("&quot;");
        break;
    default:
        output_bytes(bytes,
                     utf8_encode(is_noncharacter(character) ? UTF8_REPLACEMENT : character, bytes));
    }
}

void markup_text(const struct text *text) {
    for (size_t at = 0; at < text->length;) {
        uint32_t character;
        at += utf8_decode(text->bytes + at, text->length - at, &character);
        character_out(character);
    }
}

void markup_string(const char *string) {
    struct text text;
    text_clear(&text);
    text_add(&text, string);
    markup_text(&text);
}

void markup_name(const char *name) {
    output_text("<bdi>");
    markup_string(name);
    output_text("</bdi>");
}

/* --------------------------------------------------------------- a page --- */

void markup_page_begin(const char *kind, const char *title) {
    output_text("<!DOCTYPE html>\n"
                "<html lang=\"en\">\n"
                "<head>\n"
                "<meta charset=\"utf-8\" />\n"
                "<meta http-equiv=\"Content-Security-Policy\"\n"
                "  content=\"default-src 'none'; style-src 'unsafe-inline'\" />\n"
                "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\" />\n");
    output_format("<title>%s: ", kind);
    markup_string(title);
    output_text("</title>\n<style>\n");
}

void markup_page_body(void) {
    output_text("</style>\n</head>\n<body>\n");
}

void markup_page_end(void) {
    output_text("</body>\n</html>\n");
}
