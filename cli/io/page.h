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
    size_t room; /* `capacity` where the last part is for standard output, else 0 */
    bool failed; /* memory was short: something is missing */
};

/* Once memory was short nothing more is added. */
void page_add(struct page *page, bool error, const char *bytes, size_t length);

/* Room for `most` more bytes for standard output, to be written straight into: page_wrote
 * then says how many there are. NULL when memory is short. */
char *page_room_slowly(struct page *page, size_t most);
static inline char *page_room(struct page *page, size_t most) {
    return page->length + most <= page->room ? page->bytes + page->length
                                             : page_room_slowly(page, most);
}
static inline void page_wrote(struct page *page, size_t length) {
    page->length += length;
    page->parts[page->part_count - 1].end = page->length;
}

bool page_has_error(const struct page *page); /* something for standard error */
void page_clear(struct page *page);           /* keeps the memory for what comes next */
void page_free(struct page *page);

#endif
