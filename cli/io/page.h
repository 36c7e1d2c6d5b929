/* What one thread writes, held back until its turn comes: text for standard
 * output and for standard error, in the order in which it was written. */
#ifndef CLI_IO_PAGE_H
#define CLI_IO_PAGE_H

#include <stdbool.h>
#include <stddef.h>

/* A stretch of the bytes that goes to one stream; it begins where the part
 * before ends. */
struct page_part {
    size_t end;
    bool error; /* for standard error */
};

/* Start from {0}. */
struct page {
    char *bytes;
    size_t length, capacity;
    struct page_part *parts;
    size_t part_count, part_capacity;
    bool failed; /* memory was short: something is missing */
};

void page_add(struct page *page, bool error, const char *bytes, size_t length);
bool page_has_error(const struct page *page); /* something for standard error */
void page_clear(struct page *page);           /* keeps the memory for what comes next */
void page_free(struct page *page);

#endif
