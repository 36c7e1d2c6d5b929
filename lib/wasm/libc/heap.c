/* Memory in blocks. Each begins with its size and that of the block before it, so that free
 * neighbours are found and joined at once: no two free blocks lie side by side. Free blocks
 * hang in bins by size, eight to each power of two. A bin whose smallest size is large enough
 * gives its first block without a search, so both ways the time does not depend on how many
 * blocks there are. */
#include "wasm/libc/heap.h"

#include <limits.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

struct block {
    size_t before; /* bytes of the block before this one; 0 for the first */
    size_t size;   /* bytes of this one, and USED */
    /* Here begins what the caller has. In a free block: */
    struct block *next, *previous; /* of its bin */
};

#define USED ((size_t)1)
#define HEADER (HEAP_UNIT / 2)
#define SIZE_MOST (SIZE_MAX / 4)
#define FINE_BITS 3 /* bins of a power of two */
#define FINE (1u << FINE_BITS)
#define POWERS (sizeof(size_t) * CHAR_BIT)

static struct block *bins[POWERS][FINE];
static unsigned char bins_filled[POWERS]; /* as bits */
static size_t powers_filled;              /* those with a bin that is */
static struct block *heap_last;           /* without bytes, and in use */

static size_t size_of_block(const struct block *block) {
    return block->size & ~USED;
}

static struct block *block_at(struct block *block, size_t bytes) {
    return (struct block *)((char *)block + bytes);
}

static struct block *block_before(struct block *block) {
    return (struct block *)((char *)block - block->before);
}

/* -------------------------------------------------------------- bins --- */

/* The bin that a size belongs to, power by power. */
static unsigned bin_of(size_t size) {
    unsigned power = 63u - (unsigned)__builtin_clzll(size);
    return power * FINE + (unsigned)(size >> (power - FINE_BITS) & (FINE - 1));
}

static void put_into_bin(struct block *block) {
    unsigned bin = bin_of(block->size), power = bin / FINE;
    struct block **first = &bins[power][bin % FINE];
    block->previous = NULL;
    block->next = *first;
    if (*first != NULL)
        (*first)->previous = block;
    *first = block;
    bins_filled[power] |= (unsigned char)(1u << bin % FINE);
    powers_filled |= (size_t)1 << power;
}

static void take_from_bin(struct block *block) {
    unsigned bin = bin_of(block->size), power = bin / FINE;
    if (block->next != NULL)
        block->next->previous = block->previous;
    if (block->previous != NULL) {
        block->previous->next = block->next;
        return;
    }
    bins[power][bin % FINE] = block->next;
    if (block->next != NULL)
        return;
    bins_filled[power] &= (unsigned char)~(1u << bin % FINE);
    if (bins_filled[power] == 0)
        powers_filled &= ~((size_t)1 << power);
}

/* A free block of at least `size` bytes: the first of its own bin, or of the next that holds no
 * smaller ones. NULL if there is none. */
static struct block *find_free(size_t size) {
    unsigned bin = bin_of(size), power = bin / FINE;
    struct block *same = bins[power][bin % FINE];
    if (same != NULL && same->size >= size)
        return same;
    unsigned filled = (unsigned)bins_filled[power] >> bin % FINE >> 1 << bin % FINE << 1;
    if (filled == 0) {
        size_t powers = powers_filled >> power >> 1 << power << 1;
        if (powers == 0)
            return NULL;
        power = (unsigned)__builtin_ctzll(powers);
        filled = bins_filled[power];
    }
    return bins[power][__builtin_ctz(filled)];
}

/* ------------------------------------------------------------ blocks --- */

static void size_block(struct block *block, size_t size, size_t used) {
    block->size = size | used;
    block_at(block, size)->before = size;
}

/* Frees a block that lies in no bin, with its free neighbours. */
static void free_joined(struct block *block) {
    size_t size = size_of_block(block);
    struct block *after = block_at(block, size);
    if ((after->size & USED) == 0) {
        take_from_bin(after);
        size += after->size;
    }
    if (block->before > 0 && (block_before(block)->size & USED) == 0) {
        size += block->before;
        block = block_before(block);
        take_from_bin(block);
    }
    size_block(block, size, 0);
    put_into_bin(block);
}

/* Makes a block of at least `size` bytes that lies in no bin one in use of just so many, and
 * frees the rest. */
static void cut_block(struct block *block, size_t size) {
    size_t rest = size_of_block(block) - size;
    if (rest < HEAP_UNIT) {
        block->size |= USED;
        return;
    }
    size_block(block, size, USED);
    struct block *cut = block_at(block, size);
    size_block(cut, rest, 0);
    free_joined(cut);
}

/* Makes the heap end in a free block of at least `size` bytes. */
static bool extend_heap(size_t size) {
    size_t given;
    struct block *block = heap_extend(size + HEAP_UNIT, &given);
    if (block == NULL)
        return false;
    if (heap_last == NULL) {
        block->before = 0;
        given -= HEAP_UNIT; /* the last block needs a header as well */
    } else {
        block = heap_last;
    }
    heap_last = block_at(block, given);
    heap_last->size = USED;
    size_block(block, given, 0);
    free_joined(block);
    return true;
}

/* How many bytes a block can have where it is. */
static size_t room_of_block(struct block *block) {
    struct block *after = block_at(block, size_of_block(block));
    return size_of_block(block) + ((after->size & USED) == 0 ? after->size : 0);
}

static bool resize_in_place(struct block *block, size_t size) {
    size_t own = size_of_block(block), room = room_of_block(block);
    if (room < size && block_at(block, room) == heap_last && extend_heap(size - room))
        room = room_of_block(block);
    if (room < size)
        return false;
    if (own < size) {
        take_from_bin(block_at(block, own));
        size_block(block, room, USED);
    }
    cut_block(block, size);
    return true;
}

static struct block *new_block(size_t size) {
    struct block *block = find_free(size);
    if (block == NULL) {
        if (!extend_heap(size))
            return NULL;
        block = block_before(heap_last);
    }
    take_from_bin(block);
    cut_block(block, size);
    return block;
}

void *heap_resize(void *pointer, size_t size) {
    if (size > SIZE_MOST)
        return NULL;
    size = (size + HEADER + HEAP_UNIT - 1) / HEAP_UNIT * HEAP_UNIT;
    struct block *old = NULL;
    if (pointer != NULL) {
        old = (struct block *)((char *)pointer - HEADER);
        if (resize_in_place(old, size))
            return pointer;
    }
    struct block *block = new_block(size);
    if (block == NULL)
        return NULL;
    char *fresh = (char *)block + HEADER;
    if (old != NULL) {
        memcpy(fresh, pointer, size_of_block(old) - HEADER);
        free_joined(old);
    }
    return fresh;
}

void heap_release(void *pointer) {
    if (pointer == NULL)
        return;
    struct block *block = (struct block *)((char *)pointer - HEADER);
    if ((block->size & USED) == 0)
        __builtin_trap();
    free_joined(block);
}
