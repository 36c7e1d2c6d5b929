/* Why a pattern has no target. Nothing is known of that when it has been worked
 * out, so it is worked out once more in parts: each group alone, the groups one
 * after the other, then with one limit at a time. The first part that leaves
 * nothing is the reason. */
#include "compile/no_target.h"
#include "base/bits.h"
#include "compile/choices.h"
#include "compile/letters.h"
#include "compile/named_kinds.h"
#include "compile/pattern_limits.h"
#include "compile/pattern_place.h"
#include "compile/unknowns.h"
#include "list/draft_limits.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

struct search {
    struct compiler *compiler;
    struct json_reader *reader;
    const struct draft_variant *variant;
    struct draft_variant tried; /* the variant without some of its limits */
};

#define REASON_SIZE 256

static void give_reason(struct search *search, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Gives the reason, unless the work for it has passed a limit. */
static void give_reason(struct search *search, const char *format, ...) {
    char reason[REASON_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(reason, sizeof reason, format, arguments);
    va_end(arguments);
    if (compiler_fine(search->compiler))
        reader_complain(search->reader, "no target: %s", reason);
}

/* ------------------------------------------------------- parts of work --- */

static bool has_any(const struct search *search, struct products *products) {
    bool any = products->count > 0;
    products_free(search->compiler->pool, products);
    return any;
}

/* Whether groups, with the limits on tiles of the variant that is tried, have a
 * sum. */
static bool groups_have_sum(struct search *search, const struct draft_groups *groups) {
    struct products sum = {0};
    search->compiler->assignments = 0;
    search->compiler->variant = &search->tried;
    add_assignments(search->compiler, groups, &sum);
    return has_any(search, &sum);
}

static bool first_groups_have_sum(struct search *search, size_t count) {
    return groups_have_sum(search, &(struct draft_groups){search->variant->groups.items, count});
}

static bool group_has_choice(struct search *search, const struct draft_group *group) {
    struct draft_group one = *group;
    return groups_have_sum(search, &(struct draft_groups){&one, 1});
}

static bool variant_has_target(struct search *search) {
    struct products sum = {0}, limited = {0};
    search->compiler->assignments = 0;
    search->compiler->variant = &search->tried;
    add_assignments(search->compiler, &search->variant->groups, &sum);
    add_within_limits(search->compiler, &sum, &limited);
    products_free(search->compiler->pool, &sum);
    return has_any(search, &limited);
}

static void drop_limits(struct search *search) {
    search->tried = *search->variant;
    search->tried.limits = draft_no_limits();
}

/* -------------------------------------------------------- one group --- */

/* Adds what a group names under any values of its unknowns from `index` on. */
static void add_named_kinds(struct search *search, const struct draft_group *group,
                            const struct unknowns *unknowns, int index, uint64_t *all) {
    struct compiler *compiler = search->compiler;
    if (index == unknowns->count) {
        *all |= named_kinds(compiler, group);
        return;
    }
    for (int value = 0; value < UNKNOWN_VALUES && pool_work(compiler->pool, 1); value++)
        if (unknown_assign(compiler, unknowns, index, value))
            add_named_kinds(search, group, unknowns, index + 1, all);
    unknown_forget(compiler, unknowns, index);
}

/* How many kinds a group names in all, and how many of them the set has. */
static int count_kinds(struct search *search, const struct draft_group *group, int *held,
                       int *first) {
    struct unknowns unknowns;
    uint64_t all = 0;
    int named = 0;
    *held = 0;
    *first = -1;
    search->compiler->variant = &search->tried;
    search->compiler->now = (struct assignment){.prevailing = 0};
    unknowns_find(&(struct draft_groups){(struct draft_group *)group, 1}, search->tried.letters,
                  &unknowns);
    add_named_kinds(search, group, &unknowns, 0, &all);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (!kinds_have(all, kind))
            continue;
        named++;
        *first = *first < 0 ? kind : *first;
        *held += search->compiler->draft->set.count[kind] > 0;
    }
    return named;
}

static const char *what_set_lacks(int kind) {
    static const char *const suits[] = {"bams", "craks", "dots"};
    return kind < NH_EAST     ? suits[kind / PART_KINDS]
           : kind <= NH_NORTH ? "winds"
           : kind < NH_FLOWER ? "dragons"
                              : "flowers";
}

/* A group of one shape, taken once, that has no choice. */
static void explain_plain(struct search *search, const struct draft_group *group) {
    int held, first, jokers = search->compiler->draft->set.count[NH_JOKER];
    int named = count_kinds(search, group, &held, &first);
    bool run = group->shape == SHAPE_CHOW || group->shape == SHAPE_RUN;
    if (named == 0) {
        for (int letter = 0; letter < LETTERS; letter++)
            search->tried.letters[letter].values = ALL_RANKS;
        named = count_kinds(search, group, &held, &first);
        give_reason(search, "its rank is never from 1 to 9%s",
                    named > 0 ? " in the range of its letters" : "");
    } else if (held == 0) {
        give_reason(search, "the set has no %s", what_set_lacks(first));
    } else if (run) {
        give_reason(search, "%d ranks in a row from there go past 9", group->length);
    } else if (jokers > 0) {
        give_reason(search, "the set does not have %d alike, not even with its joker%s",
                    group->shape, jokers > 1 ? "s" : "");
    } else {
        give_reason(search, "the set does not have %d alike, and no jokers", group->shape);
    }
}

static void explain_times(struct search *search, const struct draft_group *group) {
    if (group->distinct)
        give_reason(search, "it does not have %d choices that differ in their tiles", group->times);
    else
        give_reason(search, "taken %d times it needs more of a tile than there are", group->times);
}

/* A group that has no choice, even alone. */
static void explain_group(struct search *search, const struct draft_group *group) {
    struct draft_group once = *group;
    once.times = 1;
    if (group_has_choice(search, &once))
        explain_times(search, group);
    else if (group->shape == SHAPE_ONE_OF)
        give_reason(search, "none of its alternatives can be had");
    else
        explain_plain(search, group);
}

/* -------------------------------------------------------------- letters --- */

static int suits_of_set(const struct draft *draft) {
    int suits = 0;
    for (int part = 0; part < SUITS; part++)
        suits += draft->set.count[part * PART_KINDS] > 0;
    return suits;
}

/* More letters than there are values for; whether it was that. */
static bool explain_many_letters(struct search *search) {
    const struct draft_groups *groups = &search->variant->groups;
    uint32_t suits = 0, ranks = 0, honours = 0;
    for (size_t g = 0; g < groups->count; g++) {
        suits |= groups->items[g].suit_letters;
        ranks |= groups->items[g].tile_letters;
    }
    for (int letter = 0; letter < LETTERS; letter++)
        if (search->variant->letters[letter].honours)
            honours |= ranks & 1u << letter;
    ranks &= ~honours;
    int held = suits_of_set(search->compiler->draft);
    if (count_bits(suits) > held) {
        give_reason(search, "%d letters stand for different suits, and the set has %d",
                    count_bits(suits), held);
        return true;
    }
    if (count_bits(ranks) > PART_KINDS) {
        give_reason(search, "%d letters stand for different ranks, and there are %d",
                    count_bits(ranks), PART_KINDS);
        return true;
    }
    if (count_bits(honours) > HONOURS) {
        give_reason(search, "%d letters stand for different winds and dragons, and there are %d",
                    count_bits(honours), HONOURS);
        return true;
    }
    return false;
}

#define LETTERS_SIZE (LETTERS * sizeof "\"n\", " + sizeof " and ")

/* The letters of a group, as `"n" and "m"`. */
static void write_letters(uint32_t letters, char text[LETTERS_SIZE]) {
    int left = count_bits(letters);
    size_t at = 0;
    text[0] = '\0';
    for (int letter = 0; letter < LETTERS; letter++) {
        if (!(letters >> letter & 1u))
            continue;
        left--;
        at += (size_t)snprintf(text + at, LETTERS_SIZE - at, "\"%c\"%s", 'a' + letter,
                               left > 1    ? ", "
                               : left == 1 ? " and "
                                           : "");
    }
}

/* ------------------------------------------------------------ the groups --- */

/* The first group that leaves nothing, alone or with those before it. */
static void explain_groups(struct search *search) {
    const struct draft_groups *groups = &search->variant->groups;
    size_t g = 0;
    while (g + 1 < groups->count && first_groups_have_sum(search, g + 1))
        g++;
    const struct draft_group *group = &groups->items[g];
    enter_group(search->reader, search->compiler->pattern, search->variant, g);
    if (!group_has_choice(search, group)) {
        explain_group(search, group);
        return;
    }
    char letters[LETTERS_SIZE];
    search->compiler->variant = &search->tried;
    write_letters(group->tile_letters | group->suit_letters, letters);
    if (!letters_can_fit(search->compiler, &(struct draft_groups){groups->items, g + 1}))
        give_reason(search, "no value of %s fits this group and those before it", letters);
    else
        give_reason(search, "with the groups before it, it needs more of a tile than there "
                            "are");
}

/* ----------------------------------------------------------- the limits --- */

/* The first group of which the limits on tiles leave nothing. */
static bool explain_allowed_tiles(struct search *search) {
    const struct draft_groups *groups = &search->variant->groups;
    for (size_t g = 0; g < groups->count; g++) {
        if (group_has_choice(search, &groups->items[g]))
            continue;
        enter_group(search->reader, search->compiler->pattern, search->variant, g);
        give_reason(search, "\"limits\" allow none of its tiles");
        return true;
    }
    return false;
}

/* The first limit that leaves nothing. */
static void explain_limits(struct search *search) {
    const struct draft_limits *limits = &search->variant->limits;
    const char *name = NULL;
    memcpy(search->tried.limits.allowed, limits->allowed, sizeof limits->allowed);
    if (!first_groups_have_sum(search, search->variant->groups.count)) {
        if (explain_allowed_tiles(search))
            return;
        name = "tiles\" and \"ranks";
    }
    for (int i = 0; name == NULL && i < DRAFT_LIMITS; i++) {
        drop_limits(search);
        const char *copied = draft_copy_limit(&search->tried.limits, limits, i);
        if (copied != NULL && !variant_has_target(search))
            name = copied;
    }
    reader_enter_key(search->reader, "limits");
    if (name != NULL)
        give_reason(search, "the limit \"%s\" leaves nothing", name);
    else
        give_reason(search, "the limits together leave nothing");
}

/* ---------------------------------------------------------- the pattern --- */

/* The work for reasons is counted apart: it must not make a list too large. */
static bool start_work(struct pool *pool, uint64_t *work) {
    *work = pool->work;
    pool->work = 0;
    return pool->explained <= PATTERN_WORK_MAX;
}

static void end_work(struct pool *pool, uint64_t work) {
    pool->explained += pool->work;
    pool->work = work;
    if (pool->status == NH_ERROR_LIMIT) {
        pool->status = NH_OK;
        pool->passed = LIMIT_NONE;
    }
}

void complain_of_no_target(struct compiler *compiler, struct json_reader *reader) {
    struct search search = {
        .compiler = compiler, .reader = reader, .variant = &compiler->pattern->variants[0]};
    struct pool *pool = compiler->pool;
    uint64_t work;
    int depth = reader->depth;
    size_t before = reader->mistakes->errors;
    drop_limits(&search);
    enter_variant(reader, compiler->pattern, search.variant);
    if (start_work(pool, &work) && !explain_many_letters(&search)) {
        if (first_groups_have_sum(&search, search.variant->groups.count))
            explain_limits(&search);
        else
            explain_groups(&search);
    }
    end_work(pool, work);
    reader->depth = depth;
    if (reader->mistakes->errors == before)
        reader_complain(reader, "no target: no hand of this set can ever complete it");
}
