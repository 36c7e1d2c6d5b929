/* What the module has instead of functions of the C library. That library's are linked only if
 * nothing here has their name, and would be a sixth of the module. */
#include "base/sort.h"
#include "wasm/libc/decimal.h"
#include "wasm/libc/format.h"
#include "wasm/libc/heap.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef __wasm__

void *malloc(size_t size) {
    return heap_resize(NULL, size);
}

void *realloc(void *pointer, size_t size) {
    return heap_resize(pointer, size);
}

void *calloc(size_t count, size_t size) {
    void *pointer = size > 0 && count > SIZE_MAX / size ? NULL : heap_resize(NULL, count * size);
    if (pointer != NULL)
        memset(pointer, 0, count * size);
    return pointer;
}

void free(void *pointer) {
    heap_release(pointer);
}

/* Short blocks, as nearly all are, in words; long ones by the instructions of newer machines. */
#define LONG_BLOCK 256

typedef uint64_t __attribute__((may_alias, aligned(1))) word;

__attribute__((target("bulk-memory"))) void *memmove(void *to, const void *from, size_t size) {
    char *out = to;
    const char *in = from;
    if (size >= LONG_BLOCK)
        return __builtin_memmove(to, from, size);
    if (out <= in) {
        for (; size >= sizeof(word); size -= sizeof(word)) {
            *(word *)out = *(const word *)in;
            out += sizeof(word);
            in += sizeof(word);
        }
        while (size-- > 0)
            *out++ = *in++;
        return to;
    }
    while (size % sizeof(word) > 0) {
        size--;
        out[size] = in[size];
    }
    while (size > 0) {
        size -= sizeof(word);
        *(word *)(out + size) = *(const word *)(in + size);
    }
    return to;
}

void *memcpy(void *restrict to, const void *restrict from, size_t size) {
    return memmove(to, from, size);
}

__attribute__((target("bulk-memory"))) void *memset(void *to, int byte, size_t size) {
    char *out = to;
    if (size >= LONG_BLOCK)
        return __builtin_memset(to, byte, size);
    uint64_t eight = UINT64_C(0x0101010101010101) * (unsigned char)byte;
    for (; size >= sizeof(word); size -= sizeof(word)) {
        *(word *)out = eight;
        out += sizeof(word);
    }
    while (size-- > 0)
        *out++ = (char)byte;
    return to;
}

/* Those of the C library look at a word at a time, for texts longer than any here. */
void *memchr(const void *bytes, int byte, size_t size) {
    const unsigned char *at = bytes;
    for (; size > 0; size--, at++)
        if (*at == (unsigned char)byte)
            return (void *)at;
    return NULL;
}

size_t strlen(const char *text) {
    size_t length = 0;
    while (text[length] != '\0')
        length++;
    return length;
}

int strncmp(const char *a, const char *b, size_t size) {
    size_t i = 0;
    while (i < size && a[i] == b[i] && a[i] != '\0')
        i++;
    return i < size ? (unsigned char)a[i] - (unsigned char)b[i] : 0;
}

char *strchr(const char *text, int byte) {
    return memchr(text, byte, strlen(text) + 1);
}

size_t strspn(const char *text, const char *bytes) {
    size_t length = 0;
    while (text[length] != '\0' && strchr(bytes, text[length]) != NULL)
        length++;
    return length;
}

static bool compared_before(const void *a, const void *b, const void *context) {
    int (*const *compare)(const void *, const void *) = context;
    return (*compare)(a, b) < 0;
}

void qsort(void *items, size_t count, size_t size, int (*compare)(const void *, const void *)) {
    sort_in_place(items, count, size, compared_before, &compare);
}

double strtod(const char *restrict text, char **restrict end) {
    const char *read;
    double number = decimal_read(text, &read);
    *end = (char *)text + (read - text);
    return number;
}

int vsnprintf(char *restrict buffer, size_t size, const char *restrict format, va_list arguments) {
    return format_text(buffer, size, format, arguments);
}

int snprintf(char *restrict buffer, size_t size, const char *restrict format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = format_text(buffer, size, format, arguments);
    va_end(arguments);
    return length;
}

/* Memory behind what the linker has laid out; nothing else asks the host for any. */
#define PAGE 65536
#define PAGES_MOST 65535

extern unsigned char __heap_base;

void *heap_extend(size_t more, size_t *given) {
    static size_t heap_end; /* of what was given until now */
    size_t pages = __builtin_wasm_memory_size(0), end = pages * PAGE - HEAP_UNIT / 2;
    size_t from = heap_end;
    if (from == 0)
        from = ((size_t)&__heap_base + HEAP_UNIT - 1) / HEAP_UNIT * HEAP_UNIT + HEAP_UNIT / 2;
    if (end < from || end - from < more) {
        size_t lacking = (more - (end - from) + PAGE - 1) / PAGE;
        if (lacking > PAGES_MOST - pages || __builtin_wasm_memory_grow(0, lacking) == SIZE_MAX)
            return NULL;
        end += lacking * PAGE;
    }
    *given = end - from;
    heap_end = end;
    return (void *)from;
}

#endif
