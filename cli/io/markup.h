/* Text in pages and drawings: what HTML and XML would read as their own is escaped. */
#ifndef CLI_IO_MARKUP_H
#define CLI_IO_MARKUP_H

#include "io/text.h"

/* Text without what XML does not allow (XML 1.0, production 2) or would read, also in
 * an attribute. */
void markup_text(const struct text *text);

/* Likewise of any text, first cleaned as text_add cleans it. */
void markup_string(const char *string);

/* Text of a list: isolated as well, so that its direction of writing does not change that
 * of the page. */
void markup_name(const char *name);

/* The head of a page that fetches nothing and runs no script, up to its styles, which come
 * next; then the end of the head and the beginning of the body. */
void markup_page_begin(const char *kind, const char *title);
void markup_page_body(void);
void markup_page_end(void);

#endif
