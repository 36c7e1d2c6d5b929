/* What one thread writes, held back until its turn comes: text for standard
 * output and for standard error, in the order in which it was written. */
#include "io/page.h"

#include <stdlib.h>
#include <string.h>

#define PAGE_LEAST 4096

static bool reserve_bytes(struct page *page, size_t length) {
    size_t wanted = page->length + length;
    if (wanted <= page->capacity)
        return true;
    size_t capacity = page->capacity < PAGE_LEAST ? PAGE_LEAST : page->capacity;
    while (capacity < wanted)
        capacity *= 2;
    char *bytes = realloc(page->bytes, capacity);
    if (bytes == NULL)
        return false;
    page->bytes = bytes;
    page->capacity = capacity;
    return true;
}

/* The part that is being written, begun where the stream changes. */
static bool reserve_part(struct page *page, bool error) {
    if (page->part_count > 0 && page->parts[page->part_count - 1].error == error)
        return true;
    if (page->part_count == page->part_capacity) {
        size_t capacity = page->part_capacity == 0 ? 4 : 2 * page->part_capacity;
        struct page_part *parts = realloc(page->parts, capacity * sizeof *parts);
        if (parts == NULL)
            return false;
        page->parts = parts;
        page->part_capacity = capacity;
    }
    page->parts[page->part_count++] = (struct page_part){page->length, error};
    return true;
}

void page_add(struct page *page, bool error, const char *bytes, size_t length) {
    if (length == 0)
        return;
    if (!reserve_bytes(page, length) || !reserve_part(page, error)) {
        page->failed = true;
        return;
    }
    memcpy(page->bytes + page->length, bytes, length);
    page->length += length;
    page->parts[page->part_count - 1].end = page->length;
}

bool page_has_error(const struct page *page) {
    return page->part_count > 1 || (page->part_count == 1 && page->parts[0].error);
}

void page_clear(struct page *page) {
    page->length = 0;
    page->part_count = 0;
    page->failed = false;
}

void page_free(struct page *page) {
    free(page->bytes);
    free(page->parts);
    *page = (struct page){0};
}
