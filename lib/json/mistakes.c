/* The report of a list's mistakes. */
#include "json/mistakes.h"

#include <string.h>

#define NO_LINE UINT32_MAX /* sorts behind all others, and is shown as 0 */

nh_mistakes *mistakes_new(const nh_allocator *allocator) {
    nh_mistakes *mistakes = memory_new(allocator, 1, sizeof *mistakes);
    if (mistakes != NULL)
        mistakes->allocator = *allocator;
    return mistakes;
}

void mistakes_add(nh_mistakes *mistakes, struct place place, const char *pattern,
                  const char *warning, const char *text) {
    mistakes->errors += warning == NULL;
    if (mistakes->count > NH_MISTAKES_MAX ||
        (warning != NULL && mistakes->count >= NH_MISTAKES_MAX / 2))
        return;
    if (mistakes->count == NH_MISTAKES_MAX) {
        place = (struct place){NO_LINE, 0};
        pattern = NULL;
        text = "there are more mistakes than are listed here";
    }
    const nh_allocator *allocator = &mistakes->allocator;
    struct mistake mistake = {.line = place.line, .column = place.column};
    mistake.text = memory_text(allocator, text, strlen(text));
    if (pattern != NULL)
        mistake.pattern = memory_text(allocator, pattern, strlen(pattern));
    if (mistake.text == NULL || (pattern != NULL && mistake.pattern == NULL) ||
        !memory_reserve(allocator, (void **)&mistakes->items, &mistakes->capacity,
                        mistakes->count + 1, sizeof mistake)) {
        memory_release(allocator, mistake.text);
        memory_release(allocator, mistake.pattern);
        mistakes->memory_short = true;
        return;
    }
    mistake.shown = (nh_mistake){place.line == NO_LINE ? 0 : place.line, place.column,
                                 mistake.pattern, mistake.text, warning};
    mistakes->items[mistakes->count++] = mistake;
}

/* Enough bytes for each mistake of a text of usual length. */
#define WALKED_MOST (64u << 20)

struct place mistakes_place(nh_mistakes *mistakes, const char *json, size_t length,
                            const struct step *path, int depth) {
    if (mistakes->count >= NH_MISTAKES_MAX || mistakes->walked > WALKED_MOST)
        return (struct place){NO_LINE, 0};
    mistakes->walked += length;
    return locate_path(json, length, path, depth);
}

static bool stands_behind(const struct mistake *a, const struct mistake *b) {
    return a->line != b->line ? a->line > b->line : a->column > b->column;
}

void mistakes_sort(nh_mistakes *mistakes) {
    for (size_t i = 1; i < mistakes->count; i++) {
        struct mistake moved = mistakes->items[i];
        size_t at = i;
        for (; at > 0 && stands_behind(&mistakes->items[at - 1], &moved); at--)
            mistakes->items[at] = mistakes->items[at - 1];
        mistakes->items[at] = moved;
    }
}

size_t nh_mistakes_size(const nh_mistakes *mistakes) {
    return mistakes == NULL ? 0 : mistakes->count;
}

const nh_mistake *nh_mistakes_at(const nh_mistakes *mistakes, size_t index) {
    return index < nh_mistakes_size(mistakes) ? &mistakes->items[index].shown : NULL;
}

void nh_mistakes_free(nh_mistakes *mistakes) {
    if (mistakes == NULL)
        return;
    nh_allocator allocator = mistakes->allocator;
    for (size_t i = 0; i < mistakes->count; i++) {
        memory_release(&allocator, mistakes->items[i].text);
        memory_release(&allocator, mistakes->items[i].pattern);
    }
    memory_release(&allocator, mistakes->items);
    memory_release(&allocator, mistakes);
}
