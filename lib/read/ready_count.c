/* How many hidden hands are one tile short of some product. */
#include "read/ready_count.h"
#include "base/bits.h"

#include <string.h>

/* Depths: all parts, three, two, one, none. */
#define DEPTHS (PARTS + 1)

#define NO_PLACE UINT32_MAX

struct front {
    unsigned parts;
    int part;                /* that comes next */
    uint32_t *numbers;       /* the parts, then the tails, ascending */
    uint32_t count;          /* tails */
    uint32_t *head;          /* of each family, the first tail that has it in the part */
    uint32_t *next;          /* behind each tail */
    uint32_t *families;      /* that tails have, as bits */
    uint32_t *fits, *nearly; /* of the class at hand */
    uint8_t *marks;          /* of each tail that a class above leads to */
    uint64_t *marked;        /* those with marks, as bits */
    nh_natural *sum;
};

static bool no_memory(struct ready_count *count) {
    count->work->status = NH_ERROR_MEMORY;
    return false;
}

/* --------------------------------------------------------------- fronts --- */

static uint32_t larger_of(uint32_t a, uint32_t b) {
    return a > b ? a : b;
}

static bool front_start(struct ready_count *count, struct front *front) {
    const nh_allocator *allocator = count->work->allocator;
    size_t tails = count->tails->most + 1;
    size_t width = larger_of(count->hands[0]->width, count->hands[1]->width);
    front->numbers = memory_new(allocator, tails, sizeof *front->numbers);
    front->head = memory_new(allocator, 32 * width, sizeof *front->head);
    front->next = memory_new(allocator, tails, sizeof *front->next);
    front->families = memory_new(allocator, 3 * width, sizeof *front->families);
    front->marks = memory_new(allocator, tails, sizeof *front->marks);
    front->marked = memory_new(allocator, tails / 64 + 1, sizeof *front->marked);
    front->sum = memory_new(allocator, count->sizes, sizeof *front->sum);
    if (front->numbers == NULL || front->head == NULL || front->next == NULL ||
        front->families == NULL || front->marks == NULL || front->marked == NULL ||
        front->sum == NULL)
        return no_memory(count);
    front->fits = front->families + width;
    front->nearly = front->fits + width;
    return true;
}

static void front_free(const nh_allocator *allocator, struct front *front) {
    memory_release(allocator, front->numbers);
    memory_release(allocator, front->head);
    memory_release(allocator, front->next);
    memory_release(allocator, front->families);
    memory_release(allocator, front->marks);
    memory_release(allocator, front->marked);
    memory_release(allocator, front->sum);
}

static struct part_hands *hands_of(const struct ready_count *count, int part) {
    return count->hands[part == PART_HONOUR];
}

/* Puts the tails of a front in a row for each family that they have in a part. */
static bool sort_by_family(struct ready_count *count, struct front *front, int part) {
    const struct part_hands *hands = hands_of(count, part);
    const struct sequences *families = &count->tails->of[front->parts].families;
    front->part = part;
    bool needs = false;
    memset(front->head, 0xFF, hands->family_count * sizeof *front->head);
    memset(front->families, 0, hands->width * sizeof *front->families);
    for (uint32_t i = 0; i < front->count; i++) {
        uint32_t tail = front->numbers[1 + i];
        uint32_t family = hands->number[sequences_at(families, tail >> 2)[part]];
        needs = needs || (tail & TAIL_NEEDS) != 0;
        front->next[i] = front->head[family];
        front->head[family] = i;
        front->families[family / 32] |= UINT32_C(1) << family % 32;
    }
    read_spend(count->work, front->count);
    return needs;
}

/* What a class makes of a tail: it fits its family, or nearly. */
static unsigned tail_after(unsigned tail, bool fits, bool nearly) {
    unsigned after = fits ? tail & TAIL_BITS : 0;
    return nearly && (tail & TAIL_NEEDS) != 0 ? after | TAIL_LACKS_NONE : after;
}

/* Marks the shorter tails of those that have a family. */
static uint64_t mark_family(const struct ready_count *count, const struct front *front,
                            struct front *below, uint32_t family) {
    const uint32_t *shorter = count->tails->of[front->parts].shorter[front->part];
    bool fits = (front->fits[family / 32] >> family % 32 & 1u) != 0;
    bool nearly = (front->nearly[family / 32] >> family % 32 & 1u) != 0;
    uint64_t steps = 0;
    for (uint32_t i = front->head[family]; i != NO_PLACE; i = front->next[i], steps++) {
        uint32_t tail = front->numbers[1 + i];
        unsigned after = tail_after(tail, fits, nearly);
        if (after == 0)
            continue;
        uint32_t to = shorter[tail >> 2];
        below->marks[to] |= (uint8_t)after;
        below->marked[to / 64] |= UINT64_C(1) << to % 64;
    }
    return steps;
}

/* Makes the front below of the tails that are marked. */
static void gather_marked(const struct ready_count *count, struct front *below) {
    size_t words = count->tails->of[below->parts].families.count / 64 + 1;
    below->count = 0;
    below->numbers[0] = below->parts;
    for (size_t i = 0; i < words; i++)
        for (; below->marked[i] != 0; below->marked[i] &= below->marked[i] - 1) {
            uint32_t tail = (uint32_t)(64 * i) + lowest_bit(below->marked[i]);
            below->numbers[1 + below->count++] = tail << 2 | below->marks[tail];
            below->marks[tail] = 0;
        }
}

/* What the class in `fits` and `nearly` leaves of a front. */
static bool step_down(struct ready_count *count, struct front *front) {
    struct front *below = front + 1;
    uint32_t width = hands_of(count, front->part)->width;
    uint64_t steps = 1;
    below->parts = front->parts & ~(1u << front->part);
    for (uint32_t i = 0; i < width; i++)
        for (uint64_t bits = (front->fits[i] | front->nearly[i]) & front->families[i]; bits != 0;
             bits &= bits - 1)
            steps += mark_family(count, front, below, 32 * i + lowest_bit(bits));
    gather_marked(count, below);
    return read_spend(count->work, steps);
}

/* -------------------------------------------------------------- counting --- */

static bool value_of(struct ready_count *count, struct front *front, uint32_t *place);

/* Adds to a front's sum the hands of a class. */
static bool add_class(struct ready_count *count, struct front *front,
                      const struct part_class *class) {
    const struct part_classes *classes = &count->classes[front->part];
    const struct sequences *sets = &classes->hands->sets;
    uint32_t place, width = classes->hands->width;
    memcpy(front->fits, sequences_at(sets, class->fits), width * sizeof *front->fits);
    memcpy(front->nearly, sequences_at(sets, class->nearly), width * sizeof *front->nearly);
    if (!step_down(count, front))
        return false;
    if (front[1].count == 0)
        return true;
    if (!value_of(count, front + 1, &place))
        return false;
    const nh_natural *value = count->values + (size_t)place * count->sizes;
    for (uint32_t i = 0; i < class->count; i++) {
        struct class_weight weight = classes->weights[class->first + i];
        for (uint32_t more = 0; weight.tiles + more < count->sizes; more++) {
            if ((value[more].limb[0] | value[more].limb[1] | value[more].limb[2]) == 0)
                continue;
            front->sum[weight.tiles + more] = natural_add(front->sum[weight.tiles + more],
                                                          natural_scale(value[more], weight.ways));
        }
    }
    return read_spend(count->work, (uint64_t) class->count * count->sizes);
}

/* Fills a front's sum. */
static bool sum_classes(struct ready_count *count, struct front *front) {
    memset(front->sum, 0, count->sizes * sizeof *front->sum);
    if (front->parts == 0) {
        front->sum[0] = natural_from((front->numbers[1] & TAIL_LACKS_NONE) != 0);
        return true;
    }
    bool needs = sort_by_family(count, front, first_part(front->parts));
    struct part_classes *classes = &count->classes[front->part];
    struct class_range range = classes_for(classes, front->families, needs);
    for (uint32_t i = 0; i < range.count && count->work->status == NH_OK; i++) {
        struct part_class class = classes->items[range.first + i];
        add_class(count, front, &class);
    }
    return count->work->status == NH_OK;
}

/* The place of a front's state, whose value is known or counted. */
static bool value_of(struct ready_count *count, struct front *front, uint32_t *place) {
    size_t known = count->states.count;
    *place = sequences_place(&count->states, front->numbers, front->count + 1);
    if (*place == SEQUENCE_NONE || *place < known)
        return *place != SEQUENCE_NONE;
    if (!read_hold(count->work, count->sizes * sizeof *count->values) || !sum_classes(count, front))
        return false;
    if (!memory_reserve(count->work->allocator, (void **)&count->values, &count->value_capacity,
                        count->states.count * count->sizes, sizeof *count->values))
        return no_memory(count);
    memcpy(count->values + (size_t)*place * count->sizes, front->sum,
           count->sizes * sizeof *front->sum);
    return true;
}

/* --------------------------------------------------------------- the ends --- */

bool count_ready(struct ready_count *count, const uint32_t *tails, size_t tail_count,
                 nh_natural *ready) {
    struct front *below = count->fronts;
    uint32_t place;
    memset(ready, 0, count->sizes * sizeof *ready);
    below->parts = ALL_PARTS;
    for (size_t i = 0; i < tail_count; i++) {
        below->marks[tails[i]] = TAIL_NEEDS;
        below->marked[tails[i] / 64] |= UINT64_C(1) << tails[i] % 64;
    }
    gather_marked(count, below);
    if (below->count == 0)
        return true;
    if (!value_of(count, below, &place))
        return false;
    memcpy(ready, count->values + (size_t)place * count->sizes, count->sizes * sizeof *ready);
    return true;
}

bool count_others(struct ready_count *count, int part, uint32_t fits, nh_natural *others) {
    struct front *front = count->fronts;
    uint32_t all = (uint32_t)count->tails->of[ALL_PARTS].families.count, place;
    const struct part_hands *hands = hands_of(count, part);
    memset(others, 0, count->sizes * sizeof *others);
    /* all tails stand there when they lack none */
    if (front->part != part || (front->numbers[1] & TAIL_BITS) != TAIL_LACKS_NONE) {
        front->parts = ALL_PARTS;
        front->count = all;
        for (uint32_t i = 0; i < all; i++)
            front->numbers[1 + i] = i << 2 | TAIL_LACKS_NONE;
        sort_by_family(count, front, part);
    }
    memcpy(front->fits, sequences_at(&hands->sets, fits), hands->width * sizeof *front->fits);
    memset(front->nearly, 0, hands->width * sizeof *front->nearly);
    if (!step_down(count, front))
        return false;
    if (front[1].count == 0)
        return true;
    if (!value_of(count, front + 1, &place))
        return false;
    memcpy(others, count->values + (size_t)place * count->sizes, count->sizes * sizeof *others);
    return true;
}

bool ready_count_start(struct ready_count *count, struct tail_tables *tails,
                       struct part_hands *suits, struct part_hands *honours,
                       const struct hidden_tiles *tiles, bool by_joker) {
    struct read_work *work = suits->work;
    *count = (struct ready_count){.work = work,
                                  .tiles = tiles,
                                  .tails = tails,
                                  .hands = {suits, honours},
                                  .states = {.work = work},
                                  .sizes = (uint32_t)tiles->most + 1};
    count->fronts = memory_new(work->allocator, DEPTHS, sizeof *count->fronts);
    if (count->fronts == NULL)
        return no_memory(count);
    for (int depth = 0; depth < DEPTHS; depth++)
        if (!front_start(count, &count->fronts[depth]))
            return false;
    for (int part = 0; part < PARTS; part++)
        if (!part_classes_fill(&count->classes[part], hands_of(count, part), part, tiles, by_joker))
            return false;
    return true;
}

void ready_count_free(struct ready_count *count) {
    if (count->work == NULL)
        return;
    const nh_allocator *allocator = count->work->allocator;
    for (int part = 0; part < PARTS; part++)
        part_classes_free(&count->classes[part]);
    for (int depth = 0; depth < DEPTHS && count->fronts != NULL; depth++)
        front_free(allocator, &count->fronts[depth]);
    memory_release(allocator, count->fronts);
    memory_release(allocator, count->values);
    sequences_free(&count->states);
}
