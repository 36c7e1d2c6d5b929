/* Sorting in place: a heap sort. */
#include "base/sort.h"

#include <string.h>

struct heap {
    unsigned char *items;
    size_t size;
    bool (*before)(const void *a, const void *b, const void *context);
    const void *context;
};

static bool heap_before(const struct heap *heap, size_t a, size_t b) {
    return heap->before(heap->items + a * heap->size, heap->items + b * heap->size, heap->context);
}

static void swap(const struct heap *heap, size_t a, size_t b) {
    unsigned char *x = heap->items + a * heap->size, *y = heap->items + b * heap->size;
    unsigned char moved[64];
    for (size_t left = heap->size, part; left > 0; left -= part, x += part, y += part) {
        part = left < sizeof moved ? left : sizeof moved;
        memcpy(moved, x, part);
        memcpy(x, y, part);
        memcpy(y, moved, part);
    }
}

/* Lets the item at `root` sink below those that stand behind it. */
static void sift(const struct heap *heap, size_t root, size_t count) {
    for (size_t child; (child = 2 * root + 1) < count; root = child) {
        if (child + 1 < count && heap_before(heap, child, child + 1))
            child++;
        if (!heap_before(heap, root, child))
            return;
        swap(heap, root, child);
    }
}

void sort_in_place(void *items, size_t count, size_t size,
                   bool (*before)(const void *a, const void *b, const void *context),
                   const void *context) {
    struct heap heap = {items, size, before, context};
    for (size_t root = count / 2; root-- > 0;)
        sift(&heap, root, count);
    for (size_t end = count; end-- > 1;) {
        swap(&heap, 0, end);
        sift(&heap, 0, end);
    }
}
