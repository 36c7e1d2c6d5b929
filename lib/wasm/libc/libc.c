/* What the module has instead of functions of the C library: those are linked only where
 * nothing of their name is here, and would be a sixth of the module. */
#include "wasm/libc/decimal.h"
#include "wasm/libc/format.h"
#include "wasm/libc/heap.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#ifdef __wasm__

void *malloc(size_t size) {
    return heap_resize(NULL, size);
}

void *realloc(void *pointer, size_t size) {
    return heap_resize(pointer, size);
}

/* Only the C library refers to it, and that is not linked in the end. */
void *calloc(size_t count, size_t size) {
    (void)count, (void)size;
    __builtin_trap();
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
