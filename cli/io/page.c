/* What one thread writes, held back until its turn comes: text for standard
 * output and for standard error, in the order in which it was written. */
#include "io/page.h"

#include <stdlib.h>
#include <string.h>

#define PAGE_LEAST 4096

static bool grow_bytes(struct page *page, size_t wanted) {
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

static bool begin_part(struct page *page, bool error) {
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

/* Room for `most` more bytes, in a part for the stream, which begins where the stream
 * changes. */
static char *reserve_room(struct page *page, bool error, size_t most) {
    bool begun = page->part_count > 0 && page->parts[page->part_count - 1].error == error;
    bool room = page->capacity - page->length >= most && !page->failed;
    if (!begun || !room)
        page->failed = page->failed || (!room && !grow_bytes(page, page->length + most)) ||
                       (!begun && !begin_part(page, error));
    page->room = error || page->failed ? 0 : page->capacity;
    return page->failed ? NULL : page->bytes + page->length;
}

char *page_room_slowly(struct page *page, size_t most) {
    return reserve_room(page, false, most);
}

void page_add(struct page *page, bool error, const char *bytes, size_t length) {
    char *to = length > 0 ? reserve_room(page, error, length) : NULL;
    if (to == NULL)
        return;
    memcpy(to, bytes, length);
    page_wrote(page, length);
}

bool page_has_error(const struct page *page) {
    return page->part_count > 1 || (page->part_count == 1 && page->parts[0].error);
}

void page_clear(struct page *page) {
    page->length = 0;
    page->part_count = 0;
    page->room = 0;
    page->failed = false;
}

void page_free(struct page *page) {
    free(page->bytes);
    free(page->parts);
    *page = (struct page){0};
}
