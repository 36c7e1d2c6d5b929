/* The memory of the module for browsers: blocks that are asked for, resized and given back at
 * random keep their bytes and never overlap, and what was given back is found again. */
#include "random_list.h"
#include "suite.h"
#include "wasm/libc/heap.h"

#include <stdint.h>
#include <string.h>

#define BLOCKS 500
#define SMALL_MOST 200
#define LARGE_MOST 30000
#define PAGE 65536

static random_source source;

/* ---------------------------------------------------------------- host --- */

static char *stretch; /* what the heap has of the host */
static size_t stretch_size, stretch_most;

void *heap_extend(size_t more, size_t *given) {
    *given = (more + PAGE - 1) / PAGE * PAGE;
    if (*given > stretch_most - stretch_size)
        return NULL;
    char *from = stretch + HEAP_UNIT / 2 + stretch_size;
    stretch_size += *given;
    return from;
}

static void have_host_give(size_t most) {
    stretch = aligned_alloc(HEAP_UNIT, most + HEAP_UNIT);
    ck_assert_ptr_nonnull(stretch);
    stretch_size = 0;
    stretch_most = most;
}

/* -------------------------------------------------------------- blocks --- */

struct piece {
    unsigned char *bytes;
    size_t size;
    unsigned char fill;
};

static void check_piece(const struct piece *piece) {
    for (size_t i = 0; i < piece->size; i++)
        if (piece->bytes[i] != piece->fill)
            ck_abort_msg("byte %zu of %zu has changed", i, piece->size);
}

static void drop_piece(struct piece *piece) {
    check_piece(piece);
    heap_release(piece->bytes);
    *piece = (struct piece){NULL, 0, 0};
}

/* False if memory is short: the piece must then be as it was. */
static bool resize_piece(struct piece *piece, size_t size) {
    check_piece(piece);
    unsigned char *bytes = heap_resize(piece->bytes, size);
    if (bytes == NULL) {
        check_piece(piece);
        return false;
    }
    ck_assert_uint_eq((uintptr_t)bytes % (HEAP_UNIT / 2), 0);
    *piece = (struct piece){bytes, size < piece->size ? size : piece->size, piece->fill};
    check_piece(piece);
    piece->size = size;
    piece->fill = (unsigned char)random_below(&source, 256);
    memset(bytes, piece->fill, size);
    return true;
}

static size_t any_size(void) {
    bool large = random_percent(&source, 20);
    return (size_t)random_below(&source, large ? LARGE_MOST : SMALL_MOST);
}

/* Most bytes that the pieces had at once. */
static size_t shuffle_pieces(struct piece pieces[BLOCKS], int steps) {
    size_t used = 0, most = 0;
    for (int i = 0; i < steps; i++) {
        struct piece *piece = &pieces[random_below(&source, BLOCKS)];
        used -= piece->size;
        if (random_percent(&source, 50))
            drop_piece(piece);
        else
            resize_piece(piece, any_size());
        used += piece->size;
        most = used > most ? used : most;
    }
    return most;
}

/* All that was given back is one block again: what the host gave holds a single piece. */
static void check_joined(void) {
    size_t given = stretch_size;
    struct piece whole = {NULL, 0, 0};
    ck_assert(resize_piece(&whole, given - 2 * HEAP_UNIT));
    ck_assert_uint_eq(stretch_size, given);
    drop_piece(&whole);
}

/* --------------------------------------------------------------- tests --- */

START_TEST(blocks_keep_their_bytes) {
    static struct piece pieces[BLOCKS];
    have_host_give(1 << 26);
    size_t most = shuffle_pieces(pieces, random_tries(50000));
    ck_assert_uint_lt(stretch_size, 2 * most);
    for (int i = 0; i < BLOCKS; i++)
        drop_piece(&pieces[i]);
    check_joined();
    heap_release(NULL);
}
END_TEST

START_TEST(memory_is_short) {
    static struct piece pieces[BLOCKS];
    struct piece large = {NULL, 0, 0};
    have_host_give(4 * PAGE);
    ck_assert_ptr_null(heap_resize(NULL, SIZE_MAX));
    ck_assert_ptr_null(heap_resize(NULL, 5 * PAGE));
    shuffle_pieces(pieces, random_tries(20000));
    ck_assert(!resize_piece(&pieces[0], 5 * PAGE));
    for (int i = 0; i < BLOCKS; i++)
        drop_piece(&pieces[i]);
    ck_assert(resize_piece(&large, 3 * PAGE));
    drop_piece(&large);
    check_joined();
}
END_TEST

/* A block at the end grows where it is, and what the host gives is used up. */
START_TEST(last_block_grows_in_place) {
    struct piece piece = {NULL, 0, 0};
    have_host_give(1 << 24);
    ck_assert(resize_piece(&piece, 10));
    const unsigned char *first = piece.bytes;
    for (size_t size = 20; size < 1 << 22; size *= 2) {
        ck_assert(resize_piece(&piece, size));
        ck_assert_ptr_eq(piece.bytes, first);
        ck_assert_uint_lt(stretch_size, size + 2 * PAGE);
    }
    drop_piece(&piece);
}
END_TEST

/* Each test has a process of its own, and with it a heap that is empty. */
int main(void) {
    source.state = random_seed(1);
    Suite *suite = suite_create("memory of the module");
    TCase *tests = tcase_create("all");
    tcase_add_test(tests, blocks_keep_their_bytes);
    tcase_add_test(tests, memory_is_short);
    tcase_add_test(tests, last_block_grows_in_place);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
