/* What the tests of memory and of threads share: a list, hands, and an allocator
 * whose calls may fail. */
#ifndef NH_TESTS_SHARING_H
#define NH_TESTS_SHARING_H

#include "api.h"

/* A list that takes every way through the library: letters, winds of the
 * player, choices that differ, variants, limits, jokers and kongs. */
static const char wide_list[] =
    "{'format': 1, 'title': 'Wide Water List', 'hand': 14,\n"
    " 'tiles': {'flowers': 8, 'jokers': 8},\n"
    " 'patterns': [\n"
    "  {'name': 'Two numbers', 'groups': [\n"
    "    {'pung': 'n', 'suit': 'x'}, {'pung': 'n', 'suit': 'y'},\n"
    "    {'pung': 'n+2', 'suit': 'x'}, {'pung': 'n+2', 'suit': 'y'},\n"
    "    {'pair': 'honour'}]},\n"
    "  {'name': 'Sets and a pair', 'points': 5, 'groups': [\n"
    "    {'set': 'any', 'times': 4}, {'pair': 'any'}]},\n"
    "  {'name': 'Seven apart', 'points': 10, 'groups': [\n"
    "    {'pair': 'any', 'times': 7, 'distinct': true}]},\n"
    "  {'name': 'Own wind', 'groups': [{'kong': 'prevailing'}, {'pung': 'seat'},\n"
    "    {'kong': 'flower'}, {'pair': 'dragon', 'suit': 'x'},\n"
    "    {'pair': 'n', 'suit': 'x'}]},\n"
    "  {'name': 'Either way', 'limits': {'suits': [1, 2], 'honours': 'none'},\n"
    "   'variants': [\n"
    "    [{'quint': 5, 'suit': 'bam'}, {'run': 1, 'length': 9, 'suit': 'any'}],\n"
    "    [{'one_of': [{'pung': 2, 'suit': 'any'}, [{'pair': 8, 'suit': 'any'},\n"
    "       {'single': 9, 'suit': 'any'}]], 'times': 4}, {'pair': 7, 'suit': 'dot'}]]}\n"
    " ]}\n";
#define WIDE_PATTERNS 5

/* An allocator that counts, and fails the call number `fail_at`, or every call
 * from there on. Calls are numbered from 0; those for less than `least` bytes
 * have no number. */
struct counting {
    size_t calls, releases, blocks, least;
    size_t fail_at;
    bool fail_on;
};

#define NEVER SIZE_MAX

static inline void *counting_resize(void *context, void *pointer, size_t size) {
    struct counting *counting = context;
    if (size >= counting->least) {
        size_t call = counting->calls++;
        if (call == counting->fail_at || (counting->fail_on && call > counting->fail_at))
            return NULL;
    }
    void *block = realloc(pointer, size);
    ck_assert_ptr_nonnull(block);
    counting->blocks += pointer == NULL;
    return block;
}

static inline void counting_release(void *context, void *pointer) {
    struct counting *counting = context;
    if (pointer == NULL)
        return;
    counting->releases++;
    ck_assert_uint_gt(counting->blocks, 0);
    counting->blocks--;
    free(pointer);
}

static inline nh_allocator counted_by(struct counting *counting) {
    return (nh_allocator){counting_resize, counting_release, counting};
}

/* Hands of 13 tiles, dealt by a fixed walk through the set. */
static inline nh_tiles deal(const nh_list *list, unsigned number) {
    const nh_tiles *set = nh_list_set(list);
    nh_tiles hand = {{0}};
    unsigned place = number * 7919u + 11u;
    while (nh_tiles_total(&hand) < 13) {
        place = place * 1103515245u + 12345u;
        unsigned kind = (place >> 16) % NH_KINDS;
        if (hand.count[kind] < set->count[kind])
            hand.count[kind]++;
    }
    return hand;
}

#endif
