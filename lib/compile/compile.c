/* A draft is worked out into products of families, one variant at a time.
 *
 * Groups without letters or winds of the player are free: their sum is worked
 * out once for a variant. For the others every letter is given every value it
 * may have, depth first, and a group is added as soon as its letters have
 * values, so that what leads to no target is left early. The sum of a union is
 * the union of the sums: merging the products of the bound groups before the
 * free ones are added loses nothing. */
#include "compile/compiled.h"
#include "distance/match.h"
#include "list/draft_size.h"
#include "rank/chance.h"
#include "rank/joker_ways.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What the letters and the player's winds stand for at the moment. */
struct assignment {
    uint8_t rank[LETTERS]; /* 1 to 9 */
    uint8_t suit[LETTERS]; /* a part */
    uint8_t prevailing, seat;
};

/* One letter or wind of a variant that takes values. */
enum unknown_type { UNKNOWN_SUIT, UNKNOWN_RANK, UNKNOWN_PREVAILING, UNKNOWN_SEAT };

struct unknown {
    uint8_t type, letter;
};

#define UNKNOWNS_MAX (2 * LETTERS + 2)

struct compiler {
    struct pool *pool;
    const struct draft *draft;
    const struct draft_pattern *pattern;
    const struct draft_groups *groups;
    struct unknown unknowns[UNKNOWNS_MAX];
    int unknown_count;
    uint8_t level[NH_GROUPS_MAX]; /* unknowns with values when a group is bound; 0
                                     for free ones */
    struct assignment now;
    uint32_t assignments;
    struct products found;
};

static bool fine(const struct compiler *compiler) {
    return compiler->pool->status == NH_OK;
}

/* -------------------------------------------------------- which tiles --- */

/* Of suits, winds and dragons. */
static bool in_class(int kind, uint8_t class) {
    bool suited = kind < NH_EAST;
    bool wind = kind >= NH_EAST && kind <= NH_NORTH;
    bool dragon = kind >= NH_RED;
    bool terminal = suited && (kind % PART_KINDS == 0 || kind % PART_KINDS == 8);
    switch (class) {
    case CLASS_WIND:
        return wind;
    case CLASS_DRAGON:
        return dragon;
    case CLASS_HONOUR:
        return wind || dragon;
    case CLASS_TERMINAL:
        return terminal;
    case CLASS_ORPHAN:
        return terminal || wind || dragon;
    case CLASS_SIMPLE:
        return suited && !terminal;
    case CLASS_SUITED:
        return suited;
    default:
        return true;
    }
}

/* The dragon that goes with a suit. */
static int matched_dragon(int suit) {
    return suit == PART_BAM ? NH_GREEN : suit == PART_CRAK ? NH_RED : NH_WHITE;
}

/* The suit that a group names, or -1 for any. */
static int suit_of(const struct compiler *compiler, const struct draft_group *group) {
    if (group->suit_type == SUIT_GIVEN)
        return group->suit;
    if (group->suit_type == SUIT_LETTER)
        return compiler->now.suit[group->suit];
    return -1;
}

static void mark_rank(int rank, int suit, bool *marked) {
    if (rank < 1 || rank > PART_KINDS)
        return;
    for (int part = 0; part < SUITS; part++)
        if (suit < 0 || suit == part)
            marked[part * PART_KINDS + rank - 1] = true;
}

static void mark_class(uint8_t class, int suit, bool *marked) {
    if (class == CLASS_DRAGON && suit >= 0) {
        marked[matched_dragon(suit)] = true;
        return;
    }
    for (int kind = 0; kind < NH_FLOWER; kind++)
        if (in_class(kind, class) && (suit < 0 || kind / PART_KINDS == suit))
            marked[kind] = true;
}

/* Marks the kinds that a group's words name now, less those that the set does
 * not have and those that the pattern's limits forbid. */
static void mark_kinds(const struct compiler *compiler, const struct draft_group *group,
                       bool marked[NH_KINDS]) {
    memset(marked, false, NH_KINDS);
    int suit = suit_of(compiler, group);
    for (size_t i = 0; i < group->atom_count; i++) {
        const struct atom *atom = &group->atoms[i];
        switch (atom->type) {
        case ATOM_RANK:
            mark_rank(atom->offset, suit, marked);
            break;
        case ATOM_LETTER:
            mark_rank(atom->sign * compiler->now.rank[atom->letter] + atom->offset, suit, marked);
            break;
        case ATOM_KIND:
            marked[atom->value] = true;
            break;
        case ATOM_CLASS:
            mark_class(atom->value, suit, marked);
            break;
        case ATOM_PREVAILING:
            marked[NH_EAST + compiler->now.prevailing - 1] = true;
            break;
        default:
            marked[NH_EAST + compiler->now.seat - 1] = true;
            break;
        }
    }
}

static bool may_occur(const struct compiler *compiler, int kind) {
    return compiler->draft->set.count[kind] > 0 && compiler->pattern->limits.allowed[kind];
}

/* ------------------------------------------------------------ options --- */

/* Adds one target with the winds that a group presumes, and only those. */
static void add_target(struct compiler *compiler, const struct draft_group *group,
                       const struct share shares[PARTS], struct products *out) {
    uint8_t prevailing = group->uses_prevailing ? compiler->now.prevailing : 0;
    uint8_t seat = group->uses_seat ? compiler->now.seat : 0;
    products_add_target(compiler->pool, shares, prevailing, seat, out);
}

static void add_identical(struct compiler *compiler, const struct draft_group *group, int kind,
                          int size, struct products *out) {
    struct share shares[PARTS] = {{{0}, {0}}};
    struct share *share = &shares[kind / PART_KINDS];
    share->need[kind % PART_KINDS] = (uint8_t)size;
    bool open_to_jokers = size >= 3 && compiler->draft->set.count[NH_JOKER] > 0;
    share->joker[kind % PART_KINDS] = (uint8_t)(open_to_jokers ? size : 0);
    add_target(compiler, group, shares, out);
}

static void add_run(struct compiler *compiler, const struct draft_group *group, int kind,
                    int length, struct products *out) {
    struct share shares[PARTS] = {{{0}, {0}}};
    for (int i = 0; i < length; i++)
        shares[kind / PART_KINDS].need[kind % PART_KINDS + i] = 1;
    add_target(compiler, group, shares, out);
}

/* Whether a run from `kind` stays within its suit and what may occur. */
static bool run_fits(const struct compiler *compiler, int kind, int length) {
    if (kind >= NH_EAST || kind % PART_KINDS + length > PART_KINDS)
        return false;
    for (int i = 0; i < length; i++)
        if (!may_occur(compiler, kind + i))
            return false;
    return true;
}

/* The choices of a plain group, each one product of a single target. */
static void add_plain(struct compiler *compiler, const struct draft_group *group,
                      struct products *out) {
    bool marked[NH_KINDS];
    pool_work(compiler->pool, NH_KINDS + group->atom_count);
    mark_kinds(compiler, group, marked);
    bool runs = group->shape == SHAPE_CHOW || group->shape == SHAPE_RUN;
    int size = group->shape == SHAPE_SET ? 3 : group->shape;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        if (!marked[kind])
            continue;
        if (runs && run_fits(compiler, kind, group->length))
            add_run(compiler, group, kind, group->length, out);
        if (!runs && may_occur(compiler, kind))
            add_identical(compiler, group, kind, size, out);
        if (group->shape == SHAPE_SET && run_fits(compiler, kind, 3) && marked[kind + 1] &&
            marked[kind + 2])
            add_run(compiler, group, kind, 3, out);
    }
}

static void add_group(struct compiler *compiler, const struct draft_group *group,
                      struct products *out);

/* The sum of all groups of an alternative. */
static void add_alternative(struct compiler *compiler, const struct draft_groups *groups,
                            struct products *out) {
    struct products sum = {0};
    products_add_nothing(compiler->pool, &sum);
    for (size_t i = 0; i < groups->count && fine(compiler); i++) {
        struct products one = {0}, longer = {0};
        add_group(compiler, &groups->items[i], &one);
        products_add_sum(compiler->pool, &sum, &one, &longer);
        products_merge(compiler->pool, &longer);
        products_free(compiler->pool, &one);
        products_free(compiler->pool, &sum);
        sum = longer;
    }
    products_append(compiler->pool, &sum, out);
    products_free(compiler->pool, &sum);
}

/* The choices of a group taken once. */
static void add_choices(struct compiler *compiler, const struct draft_group *group,
                        struct products *out) {
    if (group->shape != SHAPE_ONE_OF)
        add_plain(compiler, group, out);
    for (size_t i = 0; i < group->alternative_count && fine(compiler); i++)
        add_alternative(compiler, &group->alternatives[i], out);
}

/* ----------------------------------------------------------- distinct --- */

/* A choice as its four shares. */
struct choice {
    struct share shares[PARTS];
    uint8_t home; /* the only part that it touches, or PARTS */
};

static uint8_t home_of(const struct choice *choice) {
    static const struct share nothing;
    uint8_t home = PARTS;
    int touched = 0;
    for (uint8_t part = 0; part < PARTS; part++) {
        if (memcmp(&choice->shares[part], &nothing, sizeof nothing) != 0) {
            home = part;
            touched++;
        }
    }
    return touched == 1 ? home : PARTS;
}

static int compare_tiles(const struct choice *a, const struct choice *b) {
    for (int part = 0; part < PARTS; part++) {
        int order = memcmp(a->shares[part].need, b->shares[part].need, PART_KINDS);
        if (order != 0)
            return order;
    }
    return 0;
}

static int choice_compare(const void *a, const void *b) {
    const struct choice *x = a, *y = b;
    if (x->home != y->home)
        return x->home < y->home ? -1 : 1;
    int order = compare_tiles(x, y);
    return order != 0 ? order : memcmp(x->shares, y->shares, sizeof x->shares);
}

static uint64_t targets_of(const struct pool *pool, const struct product *product) {
    uint64_t count = 1;
    for (int part = 0; part < PARTS && count <= NH_VECTORS_MAX; part++)
        count *= pool->families[product->family[part]].count;
    return count;
}

/* Lists the targets of products, sorted by home and tiles; NULL on failure. */
static struct choice *list_choices(struct pool *pool, const struct products *products,
                                   size_t *count) {
    uint64_t total = 0;
    for (size_t i = 0; i < products->count && total <= NH_CHOICES_MAX; i++)
        total += targets_of(pool, &products->items[i]);
    if (total > NH_CHOICES_MAX) {
        pool->status = NH_ERROR_LIMIT;
        return NULL;
    }
    struct choice *choices = memory_new(pool->allocator, (size_t)total, sizeof *choices);
    if (choices == NULL) {
        pool->status = NH_ERROR_MEMORY;
        return NULL;
    }
    *count = 0;
    pool_work(pool, 16 * total);
    for (size_t i = 0; i < products->count; i++) {
        const struct product *product = &products->items[i];
        uint64_t targets = targets_of(pool, product);
        for (uint64_t number = 0; number < targets; number++) {
            struct choice *choice = &choices[(*count)++];
            uint64_t rest = number;
            for (int part = 0; part < PARTS; part++) {
                const struct family *family = &pool->families[product->family[part]];
                choice->shares[part] = pool->shares[family->first + rest % family->count];
                rest /= family->count;
            }
            choice->home = home_of(choice);
        }
    }
    qsort(choices, *count, sizeof *choices, choice_compare);
    return choices;
}

/* taken[j] = all sums of j different choices. */
struct selection {
    struct products taken[NH_TIMES_MAX + 1];
};

static void selection_free(const struct pool *pool, struct selection *selection) {
    for (size_t j = 0; j <= NH_TIMES_MAX; j++)
        products_free(pool, &selection->taken[j]);
}

/* Lets one more choice be taken, or not. `one` has the choice with each way
 * that jokers may serve in it. */
static void select_choice(struct pool *pool, struct selection *selection,
                          const struct products *one, int times) {
    for (int j = times; j >= 1; j--) {
        products_add_sum(pool, &selection->taken[j - 1], one, &selection->taken[j]);
        products_merge(pool, &selection->taken[j]);
    }
}

/* All selections from the choices of one home. */
static void select_home(struct compiler *compiler, const struct draft_group *group,
                        const struct choice *choices, size_t count, struct selection *selection) {
    struct pool *pool = compiler->pool;
    products_add_nothing(pool, &selection->taken[0]);
    for (size_t i = 0; i < count && fine(compiler);) {
        struct products one = {0};
        size_t end = i;
        for (; end < count && compare_tiles(&choices[end], &choices[i]) == 0; end++)
            add_target(compiler, group, choices[end].shares, &one);
        select_choice(pool, selection, &one, group->times);
        products_free(pool, &one);
        i = end;
    }
}

/* Selections from two homes together: j from the one and the rest from the
 * other. */
static void join_selections(struct pool *pool, struct selection *into,
                            const struct selection *other, int times) {
    struct selection joined = {0};
    for (int total = 0; total <= times && pool->status == NH_OK; total++) {
        for (int j = 0; j <= total; j++)
            products_add_sum(pool, &into->taken[j], &other->taken[total - j], &joined.taken[total]);
        products_merge(pool, &joined.taken[total]);
    }
    selection_free(pool, into);
    *into = joined;
}

/* `times` choices that all differ. The choices of one part only are selected
 * from by themselves, which keeps the products few. */
static void add_distinct(struct compiler *compiler, const struct draft_group *group,
                         const struct products *once, struct products *out) {
    struct pool *pool = compiler->pool;
    int times = group->times;
    size_t count = 0;
    struct choice *choices = list_choices(pool, once, &count);
    if (choices == NULL)
        return;
    struct selection all = {0};
    products_add_nothing(pool, &all.taken[0]);
    for (size_t i = 0; i < count && fine(compiler);) {
        size_t end = i;
        while (end < count && choices[end].home == choices[i].home)
            end++;
        struct selection home = {0};
        select_home(compiler, group, choices + i, end - i, &home);
        join_selections(pool, &all, &home, times);
        selection_free(pool, &home);
        i = end;
    }
    products_append(pool, &all.taken[times], out);
    selection_free(pool, &all);
    memory_release(pool->allocator, choices);
}

static void add_repeated(struct compiler *compiler, const struct products *once, int times,
                         struct products *out) {
    struct pool *pool = compiler->pool;
    struct products sum = {0};
    products_append(pool, once, &sum);
    for (int i = 1; i < times && fine(compiler); i++) {
        struct products longer = {0};
        products_add_sum(pool, &sum, once, &longer);
        products_merge(pool, &longer);
        products_free(pool, &sum);
        sum = longer;
    }
    products_append(pool, &sum, out);
    products_free(pool, &sum);
}

static void add_group(struct compiler *compiler, const struct draft_group *group,
                      struct products *out) {
    struct products once = {0};
    add_choices(compiler, group, &once);
    products_merge(compiler->pool, &once);
    if (group->distinct && group->times > 1)
        add_distinct(compiler, group, &once, out);
    else
        add_repeated(compiler, &once, group->times, out);
    products_free(compiler->pool, &once);
}

/* ----------------------------------------------------------- unknowns --- */

static void add_unknown(struct compiler *compiler, uint8_t type, int letter) {
    compiler->unknowns[compiler->unknown_count++] = (struct unknown){type, (uint8_t)letter};
}

static bool group_uses(const struct draft_group *group, const struct unknown *unknown) {
    switch (unknown->type) {
    case UNKNOWN_SUIT:
        return group->suit_letters >> unknown->letter & 1u;
    case UNKNOWN_RANK:
        return group->rank_letters >> unknown->letter & 1u;
    case UNKNOWN_PREVAILING:
        return group->uses_prevailing;
    default:
        return group->uses_seat;
    }
}

static int count_unknowns(const struct compiler *compiler, uint8_t type) {
    int count = 0;
    for (int i = 0; i < compiler->unknown_count; i++)
        count += compiler->unknowns[i].type == type;
    return count;
}

/* Lists the unknowns of a variant and the level at which each group is bound.
 */
static void find_unknowns(struct compiler *compiler) {
    uint32_t suits = 0, ranks = 0;
    bool prevailing = false, seat = false;
    for (size_t i = 0; i < compiler->groups->count; i++) {
        const struct draft_group *group = &compiler->groups->items[i];
        suits |= group->suit_letters;
        ranks |= group->rank_letters;
        prevailing |= group->uses_prevailing;
        seat |= group->uses_seat;
    }
    compiler->unknown_count = 0;
    if (prevailing)
        add_unknown(compiler, UNKNOWN_PREVAILING, 0);
    if (seat)
        add_unknown(compiler, UNKNOWN_SEAT, 0);
    for (int letter = 0; letter < LETTERS; letter++)
        if (suits >> letter & 1u)
            add_unknown(compiler, UNKNOWN_SUIT, letter);
    for (int letter = 0; letter < LETTERS; letter++)
        if (ranks >> letter & 1u)
            add_unknown(compiler, UNKNOWN_RANK, letter);
    for (size_t i = 0; i < compiler->groups->count; i++) {
        compiler->level[i] = 0;
        for (int u = 0; u < compiler->unknown_count; u++)
            if (group_uses(&compiler->groups->items[i], &compiler->unknowns[u]))
                compiler->level[i] = (uint8_t)(u + 1);
    }
}

/* Adds the groups that are bound at a level to the sum so far. */
static void add_level(struct compiler *compiler, int level, const struct products *before,
                      struct products *out) {
    struct pool *pool = compiler->pool;
    products_append(pool, before, out);
    for (size_t i = 0; i < compiler->groups->count && fine(compiler); i++) {
        if (compiler->level[i] != level)
            continue;
        struct products one = {0}, longer = {0};
        add_group(compiler, &compiler->groups->items[i], &one);
        products_add_sum(pool, out, &one, &longer);
        if (longer.count > 1)
            products_merge(pool, &longer);
        products_free(pool, &one);
        products_free(pool, out);
        *out = longer;
    }
}

/* Gives the unknown at `index` its value number `value`; false when it may not
 * have it: different letters differ. */
static bool assign(struct compiler *compiler, int index, int value) {
    struct assignment *now = &compiler->now;
    const struct unknown *unknown = &compiler->unknowns[index];
    int letter = unknown->letter;
    const struct draft_pattern *pattern = compiler->pattern;
    switch (unknown->type) {
    case UNKNOWN_PREVAILING:
        now->prevailing = (uint8_t)(value + 1);
        return value < 4;
    case UNKNOWN_SEAT:
        now->seat = (uint8_t)(value + 1);
        return value < 4;
    case UNKNOWN_SUIT:
        if (value >= SUITS || compiler->draft->set.count[value * PART_KINDS] == 0)
            return false;
        for (int i = 0; i < index; i++)
            if (compiler->unknowns[i].type == UNKNOWN_SUIT &&
                now->suit[compiler->unknowns[i].letter] == value)
                return false;
        now->suit[letter] = (uint8_t)value;
        return true;
    default:
        if (value + 1 < pattern->rank_least[letter] || value + 1 > pattern->rank_most[letter])
            return false;
        for (int i = 0; i < index; i++)
            if (compiler->unknowns[i].type == UNKNOWN_RANK &&
                now->rank[compiler->unknowns[i].letter] == value + 1)
                return false;
        now->rank[letter] = (uint8_t)(value + 1);
        return true;
    }
}

#define MERGE_EVERY 16384

/* Gives values to the unknowns from `index` on; `before` is the sum of the
 * groups that are bound already. */
static void bind(struct compiler *compiler, int index, const struct products *before) {
    if (index == compiler->unknown_count) {
        size_t merged = compiler->found.count / MERGE_EVERY;
        products_append(compiler->pool, before, &compiler->found);
        if (compiler->found.count / MERGE_EVERY > merged)
            products_merge(compiler->pool, &compiler->found);
        return;
    }
    for (int value = 0; value < PART_KINDS && fine(compiler); value++) {
        if (!assign(compiler, index, value))
            continue;
        if (++compiler->assignments > NH_ASSIGNMENTS_MAX) {
            compiler->pool->status = NH_ERROR_LIMIT;
            return;
        }
        struct products sum = {0};
        add_level(compiler, index + 1, before, &sum);
        if (sum.count > 0)
            bind(compiler, index + 1, &sum);
        products_free(compiler->pool, &sum);
    }
    if (compiler->unknowns[index].type == UNKNOWN_PREVAILING)
        compiler->now.prevailing = 0;
    if (compiler->unknowns[index].type == UNKNOWN_SEAT)
        compiler->now.seat = 0;
}

/* ------------------------------------------------------------- limits --- */

static bool within_limits(const struct compiler *compiler, const struct product *product) {
    const struct draft_limits *limits = &compiler->pattern->limits;
    const struct pool *pool = compiler->pool;
    int suits = 0;
    for (int part = 0; part < SUITS; part++)
        suits += pool->families[product->family[part]].size > 0;
    if (suits < limits->suits_least || suits > limits->suits_most)
        return false;
    if (limits->honours == HONOURS_FREE)
        return true;
    /* flowers are in the honour part, but no honours: look at each share's
     * first seven kinds; products were split so that all shares agree */
    const struct family *family = &pool->families[product->family[PART_HONOUR]];
    bool honours = false;
    for (int slot = 0; slot < 7; slot++)
        honours |= pool->shares[family->first].need[slot] > 0;
    if (limits->honours == HONOURS_NONE)
        return !honours;
    return honours && (limits->honours == HONOURS_SOME || suits == 0);
}

static bool has_honours(const struct share *share) {
    for (int slot = 0; slot < 7; slot++)
        if (share->need[slot] > 0)
            return true;
    return false;
}

/* Appends a product with its honour family split by whether honours occur. */
static void add_split(struct compiler *compiler, const struct product *product,
                      struct products *out) {
    struct pool *pool = compiler->pool;
    const struct family family = pool->families[product->family[PART_HONOUR]];
    for (uint32_t i = 0; i < family.count; i++) {
        struct product one = *product;
        struct share shares[PARTS] = {{{0}, {0}}};
        shares[PART_HONOUR] = pool->shares[family.first + i];
        struct products single = {0};
        products_add_target(pool, shares, 0, 0, &single);
        if (single.count == 1) {
            one.family[PART_HONOUR] = single.items[0].family[PART_HONOUR];
            if (within_limits(compiler, &one)) {
                struct products item = {&one, 1, 1};
                products_append(pool, &item, out);
            }
        }
        products_free(pool, &single);
    }
}

/* Whether a family of the honour part has shares with honours and shares
 * without, which flowers make possible. */
static bool is_mixed(const struct compiler *compiler, const struct product *product) {
    const struct pool *pool = compiler->pool;
    const struct family *family = &pool->families[product->family[PART_HONOUR]];
    const struct share *shares = pool->shares + family->first;
    for (uint32_t i = 1; i < family->count; i++)
        if (has_honours(&shares[i]) != has_honours(&shares[0]))
            return true;
    return false;
}

static void add_within_limits(struct compiler *compiler, const struct products *from,
                              struct products *out) {
    bool honours_matter = compiler->pattern->limits.honours != HONOURS_FREE;
    for (size_t i = 0; i < from->count && fine(compiler); i++) {
        struct product product = from->items[i];
        struct products item = {&product, 1, 1};
        if (honours_matter && is_mixed(compiler, &product))
            add_split(compiler, &product, out);
        else if (within_limits(compiler, &product))
            products_append(compiler->pool, &item, out);
    }
}

/* --------------------------------------------------------------- list --- */

/* Appends the products of one variant; returns whether there are any. */
static bool compile_variant(struct compiler *compiler, const struct draft_groups *groups,
                            struct products *out) {
    struct pool *pool = compiler->pool;
    compiler->groups = groups;
    compiler->now = (struct assignment){.prevailing = 0};
    find_unknowns(compiler);
    if (count_unknowns(compiler, UNKNOWN_SUIT) > SUITS ||
        count_unknowns(compiler, UNKNOWN_RANK) > PART_KINDS)
        return false; /* different letters cannot all differ */
    struct products nothing = {0}, whole = {0}, free_sum = {0}, limited = {0};
    products_add_nothing(pool, &nothing);
    bind(compiler, 0, &nothing);
    products_merge(pool, &compiler->found);
    add_level(compiler, 0, &nothing, &free_sum);
    products_add_sum(pool, &compiler->found, &free_sum, &whole);
    add_within_limits(compiler, &whole, &limited);
    products_merge(pool, &limited);
    products_append(pool, &limited, out);
    bool live = limited.count > 0;
    products_free(pool, &nothing);
    products_free(pool, &compiler->found);
    products_free(pool, &free_sum);
    products_free(pool, &whole);
    products_free(pool, &limited);
    return live;
}

static void note_pattern(const struct draft *draft, const struct draft_pattern *pattern,
                         nh_mistakes *mistakes, const char *what) {
    const struct step path[] = {{"patterns", 0}, {NULL, (int)(pattern - draft->patterns)}};
    struct place place = mistakes_place(mistakes, draft->json, draft->length, path, 2);
    char text[NH_TEXT_MAX + 200];
    snprintf(text, sizeof text, "pattern \"%s\": %s", pattern->about.name, what);
    mistakes_add(mistakes, place.line, place.column, pattern->about.name, text);
}

static nh_status compile_pattern(struct compiler *compiler, struct list_pattern *out,
                                 bool *variant_live, struct products *all, nh_mistakes *mistakes) {
    const struct draft_pattern *pattern = compiler->pattern;
    struct pool *pool = compiler->pool;
    struct products products = {0};
    compiler->assignments = 0;
    pool->all_work += pool->work;
    pool->work = 0;
    for (size_t v = 0; v < pattern->variant_count && fine(compiler); v++)
        variant_live[v] = compile_variant(compiler, &pattern->variants[v], &products);
    products_merge(pool, &products);
    out->about = pattern->about;
    out->first = (uint32_t)all->count;
    out->count = (uint32_t)products.count;
    if (pool->all_work + pool->work > NH_LIST_WORK_MAX)
        mistakes_add(mistakes, 0, 0, NULL,
                     "the patterns together stand for more combinations than can be worked out");
    else if (pool->status == NH_ERROR_LIMIT)
        note_pattern(compiler->draft, pattern, mistakes,
                     "it stands for more combinations than can be held: name fewer letters or "
                     "fewer choices");
    else if (pool->status == NH_OK && out->count == 0)
        note_pattern(compiler->draft, pattern, mistakes,
                     "no target: no hand of this set can ever complete it");
    if (pool->status == NH_OK) {
        products_append(pool, &products, all);
        if (pool->status == NH_ERROR_LIMIT)
            mistakes_add(mistakes, 0, 0, NULL,
                         "the patterns together stand for more combinations than can be held");
    }
    products_free(pool, &products);
    return pool->status;
}

/* Numbers the families that products use: those of suits first. number[id] is
 * the new number and one, 0 for a family that is not used. */
static void number_families(const struct pool *pool, const struct products *products,
                            uint32_t *number, nh_list *list) {
    for (size_t i = 0; i < products->count * PARTS; i++)
        number[products->items[i / PARTS].family[i % PARTS]] = 1;
    uint32_t next = 0;
    for (int honours = 0; honours <= 1; honours++) {
        for (size_t id = 0; id < pool->family_count; id++) {
            if (number[id] == 0 || pool->families[id].honours != (honours == 1))
                continue;
            number[id] = ++next;
            list->share_count += pool->families[id].count;
        }
        if (honours == 0)
            list->suit_family_count = next;
    }
    list->family_count = next;
}

static void copy_families(const struct pool *pool, const uint32_t *number, nh_list *list) {
    size_t at = 0;
    for (size_t id = 0; id < pool->family_count; id++) {
        if (number[id] == 0)
            continue;
        struct family family = pool->families[id];
        memcpy(list->shares + at, pool->shares + family.first, family.count * sizeof *list->shares);
        family.first = (uint32_t)at;
        at += family.count;
        list->families[number[id] - 1] = family;
        if (family.count > list->largest_family)
            list->largest_family = family.count;
    }
}

/* Copies what products use to the list. */
static bool keep_used(const struct pool *pool, const struct products *products, nh_list *list) {
    const nh_allocator *allocator = &list->allocator;
    uint32_t *number = memory_new(allocator, pool->family_count, sizeof *number);
    if (number == NULL)
        return false;
    number_families(pool, products, number, list);
    list->product_count = products->count;
    list->products = memory_new(allocator, products->count, sizeof *list->products);
    list->families = memory_new(allocator, list->family_count, sizeof *list->families);
    list->shares = memory_new(allocator, list->share_count, sizeof *list->shares);
    bool good = list->products != NULL && list->families != NULL && list->shares != NULL;
    if (good)
        copy_families(pool, number, list);
    for (size_t i = 0; good && i < products->count; i++) {
        list->products[i] = products->items[i];
        for (int part = 0; part < PARTS; part++)
            list->products[i].family[part] = number[products->items[i].family[part]] - 1;
    }
    memory_release(allocator, number);
    return good;
}

/* Works out what the matcher reads of shares, and the binomial coefficients. */
static bool add_tables(nh_list *list) {
    const nh_allocator *allocator = &list->allocator;
    list->bits = memory_new(allocator, list->share_count, sizeof *list->bits);
    list->hard = memory_new(allocator, list->share_count, sizeof *list->hard);
    list->binomials = memory_new(allocator, BINOMIALS, sizeof *list->binomials);
    if (list->bits == NULL || list->hard == NULL || list->binomials == NULL)
        return false;
    binomials_fill(list->binomials);
    for (size_t f = 0; f < list->family_count; f++) {
        struct family *family = &list->families[f];
        for (size_t i = family->first; i < family->first + family->count; i++) {
            struct share hard = list->shares[i];
            unsigned jokers = 0;
            for (int slot = 0; slot < PART_KINDS; slot++) {
                hard.need[slot] = (uint8_t)(hard.need[slot] - hard.joker[slot]);
                jokers += hard.joker[slot];
            }
            family->jokers = (uint8_t)(jokers > family->jokers ? jokers : family->jokers);
            list->bits[i] = share_bits(list->shares[i].need, family->honours);
            list->hard[i] = share_bits(hard.need, family->honours);
        }
    }
    return true;
}

static int product_winds_compare(const void *a, const void *b) {
    const struct product *x = a, *y = b;
    if (x->prevailing != y->prevailing)
        return x->prevailing < y->prevailing ? -1 : 1;
    if (x->seat != y->seat)
        return x->seat < y->seat ? -1 : 1;
    return memcmp(x->family, y->family, sizeof x->family);
}

static bool same_winds(const struct product *a, const struct product *b) {
    return a->prevailing == b->prevailing && a->seat == b->seat;
}

/* Sorts each pattern's products by winds and tells the runs; NULL `runs` only
 * counts them and their lanes. */
static void find_runs(nh_list *list, struct run *runs, size_t *run_count, size_t *lane_count) {
    *run_count = *lane_count = 0;
    for (size_t p = 0; p < list->pattern_count; p++) {
        struct list_pattern *pattern = &list->patterns[p];
        struct product *products = list->products + pattern->first;
        if (runs == NULL)
            qsort(products, pattern->count, sizeof *products, product_winds_compare);
        pattern->run_first = (uint32_t)*run_count;
        for (uint32_t i = 0; i < pattern->count;) {
            uint32_t end = i + 1;
            while (end < pattern->count && same_winds(&products[end], &products[i]))
                end++;
            if (runs != NULL)
                runs[*run_count] = (struct run){(uint32_t)*lane_count, end - i, pattern->first + i,
                                                products[i].prevailing, products[i].seat};
            if (end - i > list->largest_run)
                list->largest_run = end - i;
            ++*run_count;
            *lane_count += (end - i + LANES - 1) / LANES * LANES;
            i = end;
        }
        pattern->run_count = (uint32_t)(*run_count - pattern->run_first);
    }
}

/* Writes the products of each run to the lanes; the last one fills the padding.
 */
static void fill_lanes(nh_list *list, uint16_t (*together)[PARTS], uint8_t *apart,
                       size_t lane_count) {
    for (int part = 0; part < PARTS; part++) {
        list->lanes.low[part] = apart + (size_t)part * lane_count;
        list->lanes.high[part] = apart + (size_t)(PARTS + part) * lane_count;
    }
    list->lanes.together = (const uint16_t(*)[PARTS])together;
    const struct product *product = list->products;
    for (size_t p = 0; p < list->pattern_count; p++) {
        for (uint32_t r = 0; r < list->patterns[p].run_count; r++) {
            const struct run *run = &list->runs[list->patterns[p].run_first + r];
            uint32_t padded = (run->count + LANES - 1) / LANES * LANES;
            for (uint32_t i = 0; i < padded; i++) {
                const struct product *one = &product[i < run->count ? i : run->count - 1];
                for (int part = 0; part < PARTS; part++) {
                    uint32_t number = family_number(list, part, one->family[part]);
                    size_t lane = run->first + i;
                    together[lane][part] = (uint16_t)number;
                    apart[(size_t)part * lane_count + lane] = (uint8_t)number;
                    apart[(size_t)(PARTS + part) * lane_count + lane] = (uint8_t)(number >> 8);
                }
            }
            product += run->count;
        }
    }
}

/* Past so many families the widest kernel's look-ups cost more than loads. */
#define FAMILIES_FOR_WIDE 2048

static bool add_lanes(nh_list *list) {
    size_t run_count, lane_count;
    find_runs(list, NULL, &run_count, &lane_count);
    list->runs = memory_new(&list->allocator, run_count, sizeof *list->runs);
    list->lane_memory =
        memory_new(&list->allocator, lane_count, sizeof(uint16_t[PARTS]) + 2 * PARTS);
    if (list->runs == NULL || list->lane_memory == NULL)
        return false;
    find_runs(list, list->runs, &run_count, &lane_count);
    uint16_t(*together)[PARTS] = list->lane_memory;
    fill_lanes(list, together, (uint8_t *)(together + lane_count), lane_count);
    list->kernels = list->family_count < FAMILIES_FOR_WIDE ? kernels_best() : kernels_at(0);
    return true;
}

static int largest_size(const struct draft *draft) {
    int largest = draft->hand, misfit = 0;
    for (size_t i = 0; i < draft->pattern_count; i++)
        for (size_t v = 0; v < draft->patterns[i].variant_count; v++)
            draft_size_fits(&draft->patterns[i].variants[v], draft->hand, &largest, &misfit);
    return largest;
}

static bool make_room(const struct draft *draft, nh_list *list) {
    size_t variants = 0;
    for (size_t i = 0; i < draft->pattern_count; i++)
        variants += draft->patterns[i].variant_count;
    list->pattern_count = draft->pattern_count;
    list->patterns = arena_new(&list->arena, draft->pattern_count, sizeof *list->patterns);
    list->variant_live = arena_new(&list->arena, variants, sizeof *list->variant_live);
    return list->patterns != NULL && list->variant_live != NULL;
}

static nh_status finish_list(const struct pool *pool, const struct products *all, nh_list *list,
                             nh_mistakes *mistakes) {
    if (mistakes->memory_short)
        return NH_ERROR_MEMORY;
    if (mistakes->count > 0)
        return NH_ERROR_LIST;
    if (!keep_used(pool, all, list) || !add_tables(list))
        return NH_ERROR_MEMORY;
    if (list->family_count > UINT16_MAX) {
        mistakes_add(mistakes, 0, 0, NULL,
                     "the patterns stand for more combinations than can be held together");
        return NH_ERROR_LIST;
    }
    return add_lanes(list) && find_overlaps(list) ? NH_OK : NH_ERROR_MEMORY;
}

nh_status compile_list(const struct draft *draft, nh_list *list, nh_mistakes *mistakes) {
    struct pool pool;
    struct products all = {0};
    nh_status status = NH_ERROR_MEMORY;
    bool good = pool_init(&pool, &list->allocator, &draft->set) && make_room(draft, list);
    uint32_t variant = 0;
    for (size_t i = 0; good && i < draft->pattern_count; i++) {
        struct compiler compiler = {.pool = &pool, .draft = draft, .pattern = &draft->patterns[i]};
        struct list_pattern *pattern = &list->patterns[i];
        pattern->variant_first = variant;
        pattern->variant_count = (uint32_t)compiler.pattern->variant_count;
        status = compile_pattern(&compiler, pattern, list->variant_live + variant, &all, mistakes);
        variant += pattern->variant_count;
        good = status == NH_OK;
    }
    if (good) {
        list->most = largest_size(draft);
        status = finish_list(&pool, &all, list, mistakes);
    }
    products_free(&pool, &all);
    pool_free(&pool);
    if (mistakes->memory_short)
        return NH_ERROR_MEMORY;
    return status == NH_ERROR_LIMIT ? NH_ERROR_LIST : status;
}
