/*
 * The plain reference: every sum of choices is written out, and every question
 * is answered by going through all of them. See reference.h.
 */
#include "reference.h"

#include <cjson/cJSON.h>

#include <assert.h>
#include <ctype.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

struct ref_list {
    cJSON *root;
    const cJSON *patterns;
    nh_tiles set;
    int hand;
};

/* ------------------------------------------------------- whole numbers --- */

nh_natural reference_number(unsigned long long value) {
    nh_natural number = {{value, 0, 0}};
    return number;
}

nh_natural reference_add(nh_natural a, nh_natural b) {
    uint64_t carry = 0;
    for (int i = 0; i < 3; i++) {
        const uint64_t sum = a.limb[i] + b.limb[i];
        const bool over = sum < b.limb[i] || sum + carry < sum;
        a.limb[i] = sum + carry;
        carry = over;
    }
    return a;
}

nh_natural reference_subtract(nh_natural a, nh_natural b) {
    for (int i = 0; i < 3; i++) {
        b.limb[i] = ~b.limb[i];
    }
    return reference_add(a, reference_add(b, reference_number(1)));
}

/* Digit `i` of six to the base 2^32. */
static uint64_t digit(const nh_natural *number, int i) {
    return number->limb[i / 2] >> (i % 2 * 32) & UINT32_MAX;
}

nh_natural reference_multiply(nh_natural a, nh_natural b) {
    uint64_t product[6] = {0};
    for (int i = 0; i < 6; i++) {
        uint64_t carry = 0;
        for (int j = 0; i + j < 6; j++) {
            carry += digit(&a, i) * digit(&b, j) + product[i + j];
            product[i + j] = carry & UINT32_MAX;
            carry >>= 32;
        }
    }
    nh_natural number;
    for (int i = 0; i < 3; i++) {
        number.limb[i] = product[2 * i] | product[2 * i + 1] << 32;
    }
    return number;
}

int reference_compare(nh_natural a, nh_natural b) {
    for (int i = 2; i >= 0; i--) {
        if (a.limb[i] != b.limb[i]) {
            return a.limb[i] < b.limb[i] ? -1 : 1;
        }
    }
    return 0;
}

nh_natural reference_digits(const char *digits) {
    nh_natural number = reference_number(0);
    for (; *digits; digits++) {
        if (*digits != ',') {
            number = reference_add(reference_multiply(number, reference_number(10)),
                                   reference_number((unsigned long long)(*digits - '0')));
        }
    }
    return number;
}

nh_natural reference_choose(int n, int k) {
    static nh_natural triangle[161][161];
    if (triangle[0][0].limb[0] == 0) {
        for (int row = 0; row <= 160; row++) {
            triangle[row][0] = reference_number(1);
            for (int i = 1; i <= row; i++) {
                triangle[row][i] = reference_add(triangle[row - 1][i - 1], triangle[row - 1][i]);
            }
        }
    }
    assert(n >= 0 && n <= 160);
    return k < 0 || k > n ? reference_number(0) : triangle[n][k];
}

/* ---------------------------------------------------------------- tiles --- */

static const char *const suit_names[3] = {"bam", "crak", "dot"};
static const char *const honour_names[7] = {"east", "south", "west", "north",
                                            "red",  "green", "white"};

static bool is_suited(int kind) {
    return kind < NH_EAST;
}

static int rank_of(int kind) {
    return kind % 9 + 1;
}

static bool is_honour(int kind) {
    return kind >= NH_EAST && kind <= NH_WHITE;
}

static int suit_named(const char *name) {
    for (int suit = 0; suit < 3; suit++) {
        if (strcmp(name, suit_names[suit]) == 0) {
            return suit;
        }
    }
    return -1;
}

/* The kind of an honour or flower with this name, or -1. */
static int kind_named(const char *name) {
    for (int i = 0; i < 7; i++) {
        if (strcmp(name, honour_names[i]) == 0) {
            return NH_EAST + i;
        }
    }
    return strcmp(name, "flower") == 0 ? NH_FLOWER : -1;
}

static bool in_class(const char *name, int kind) {
    const bool terminal = is_suited(kind) && (rank_of(kind) == 1 || rank_of(kind) == 9);
    if (strcmp(name, "wind") == 0) {
        return kind >= NH_EAST && kind <= NH_NORTH;
    }
    if (strcmp(name, "dragon") == 0) {
        return kind >= NH_RED && kind <= NH_WHITE;
    }
    if (strcmp(name, "honour") == 0) {
        return is_honour(kind);
    }
    if (strcmp(name, "terminal") == 0) {
        return terminal;
    }
    if (strcmp(name, "orphan") == 0) {
        return terminal || is_honour(kind);
    }
    if (strcmp(name, "simple") == 0) {
        return is_suited(kind) && !terminal;
    }
    if (strcmp(name, "suited") == 0) {
        return is_suited(kind);
    }
    assert(strcmp(name, "any") == 0);
    return is_suited(kind) || is_honour(kind);
}

/* ----------------------------------------------------------------- list --- */

static int number_of(const cJSON *object, const char *key, int otherwise) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    return item == NULL ? otherwise : item->valueint;
}

static bool truth_of(const cJSON *object, const char *key, bool otherwise) {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    return item == NULL ? otherwise : cJSON_IsTrue(item) != 0;
}

static nh_tiles set_of(const cJSON *tiles) {
    const cJSON *suits = cJSON_GetObjectItemCaseSensitive(tiles, "suits");
    bool held[3] = {suits == NULL, suits == NULL, suits == NULL};
    const cJSON *suit;
    cJSON_ArrayForEach(suit, suits) {
        held[suit_named(suit->valuestring)] = true;
    }
    const bool winds = truth_of(tiles, "winds", true);
    const bool dragons = truth_of(tiles, "dragons", true);
    nh_tiles set = {{0}};
    for (int kind = 0; kind <= NH_WHITE; kind++) {
        const bool there = is_suited(kind) ? held[kind / 9] : kind < NH_RED ? winds : dragons;
        set.count[kind] = there ? 4 : 0;
    }
    set.count[NH_FLOWER] = (uint8_t)number_of(tiles, "flowers", 0);
    set.count[NH_JOKER] = (uint8_t)number_of(tiles, "jokers", 0);
    return set;
}

ref_list *reference_read(const char *json) {
    ref_list *list = calloc(1, sizeof *list);
    assert(list != NULL);
    list->root = cJSON_Parse(json);
    assert(list->root != NULL);
    list->patterns = cJSON_GetObjectItemCaseSensitive(list->root, "patterns");
    list->hand = number_of(list->root, "hand", 14);
    list->set = set_of(cJSON_GetObjectItemCaseSensitive(list->root, "tiles"));
    return list;
}

void reference_free(ref_list *list) {
    cJSON_Delete(list->root);
    free(list);
}

size_t reference_patterns(const ref_list *list) {
    return (size_t)cJSON_GetArraySize(list->patterns);
}

int reference_hand(const ref_list *list) {
    return list->hand;
}

const nh_tiles *reference_set(const ref_list *list) {
    return &list->set;
}

static const cJSON *pattern_at(const ref_list *list, size_t index) {
    return cJSON_GetArrayItem(list->patterns, (int)index);
}

/* Whether some text anywhere below the node is the word. */
static bool says(const cJSON *node, const char *word) {
    if (cJSON_IsString(node)) {
        return strcmp(node->valuestring, word) == 0;
    }
    const cJSON *child;
    cJSON_ArrayForEach(child, node) {
        if (says(child, word)) {
            return true;
        }
    }
    return false;
}

/* The words of a pattern's groups alone: a name may be any word. */
bool reference_uses(const ref_list *list, size_t pattern, const char *word) {
    const cJSON *object = pattern_at(list, pattern);
    return says(cJSON_GetObjectItemCaseSensitive(object, "groups"), word) ||
           says(cJSON_GetObjectItemCaseSensitive(object, "variants"), word);
}

/* ----------------------------------------------------------------- sums --- */

typedef struct ref_sums {
    ref_sum *item;
    size_t count;
    size_t room;
} ref_sums;

/* What the letters and the two winds stand for at the moment. */
typedef struct ref_scope {
    const ref_list *list;
    const cJSON *pattern;
    const cJSON *variant; /* what says more of it than its groups, or NULL */
    bool apart;           /* the limits of each variant hold for it alone */
    int rank[26];         /* the rank of a letter, or the kind of an honour */
    int suit[26];         /* -1 for a letter that is no suit */
    int prevailing;
    int seat;
    size_t bound;
    bool full; /* some array of sums passed the bound */
} ref_scope;

static void add_sum(ref_scope *scope, ref_sums *all, const ref_sum *sum) {
    if (all->count == scope->bound) {
        scope->full = true;
        return;
    }
    if (all->count == all->room) {
        all->room = all->room ? all->room * 2 : 16;
        all->item = realloc(all->item, all->room * sizeof *all->item);
        assert(all->item != NULL);
    }
    all->item[all->count++] = *sum;
}

static ref_sum join(const ref_sum *a, const ref_sum *b) {
    ref_sum sum = *a;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        sum.tiles.count[kind] = (uint8_t)(sum.tiles.count[kind] + b->tiles.count[kind]);
        sum.jokerable.count[kind] = (uint8_t)(sum.jokerable.count[kind] + b->jokerable.count[kind]);
    }
    return sum;
}

static int compare_tiles(const nh_tiles *a, const nh_tiles *b) {
    return memcmp(a->count, b->count, sizeof a->count);
}

static int compare_sums(const void *a, const void *b) {
    const ref_sum *left = a;
    const ref_sum *right = b;
    const int order = compare_tiles(&left->tiles, &right->tiles);
    return order ? order : compare_tiles(&left->jokerable, &right->jokerable);
}

static void sort_unique(ref_sums *all) {
    if (all->count == 0) {
        return;
    }
    qsort(all->item, all->count, sizeof *all->item, compare_sums);
    size_t kept = 1;
    for (size_t i = 1; i < all->count; i++) {
        if (compare_sums(&all->item[i], &all->item[kept - 1]) != 0) {
            all->item[kept++] = all->item[i];
        }
    }
    all->count = kept;
}

/* ------------------------------------------------------------ one tile --- */

/* "n", "n+1", "n-2", "n+m" or "10-n": its first letter, or 0 when the word is none
 * of these. */
static int letter_of(const char *word) {
    const char *after = word + strspn(word, "0123456789");
    if (after > word) {
        return after[1];
    }
    return word[1] == 0 || word[1] == '+' || word[1] == '-' ? word[0] : 0;
}

/* The second letter of "n+m" or "n-m", or 0. */
static int second_letter_of(const char *word) {
    const bool sum = letter_of(word) == word[0] && word[1] != 0;
    return sum && islower((unsigned char)word[2]) ? word[2] : 0;
}

static int rank_worth(const ref_scope *scope, const char *word) {
    const int value = scope->rank[letter_of(word) - 'a'];
    if (isdigit((unsigned char)word[0])) {
        return atoi(word) - value;
    }
    if (second_letter_of(word)) {
        const int other = scope->rank[second_letter_of(word) - 'a'];
        return word[1] == '+' ? value + other : value - other;
    }
    return value + (word[1] == 0 ? 0 : atoi(word + 1));
}

/* Marks the suits that a group may be of: all three without a suit or with
 * "any". */
static void suits_of(const ref_scope *scope, const char *suit, bool held[3]) {
    for (int i = 0; i < 3; i++) {
        const bool free_choice = suit == NULL || strcmp(suit, "any") == 0;
        const bool letter = suit != NULL && suit[1] == 0;
        held[i] = free_choice || (letter ? scope->suit[suit[0] - 'a'] == i : suit_named(suit) == i);
    }
}

static void mark_rank(int rank, const bool held[3], bool marked[NH_KINDS]) {
    for (int suit = 0; suit < 3; suit++) {
        if (held[suit] && rank >= 1 && rank <= 9) {
            marked[suit * 9 + rank - 1] = true;
        }
    }
}

static void mark_class(const ref_scope *scope, const char *name, const char *suit,
                       bool marked[NH_KINDS]) {
    static const int matched[3] = {NH_GREEN, NH_RED, NH_WHITE};
    bool held[3];
    suits_of(scope, suit, held);
    const bool bound = suit != NULL && strcmp(suit, "any") != 0;
    for (int kind = 0; kind <= NH_WHITE; kind++) {
        if (in_class(name, kind) && (is_suited(kind) ? held[kind / 9] : !bound)) {
            marked[kind] = true;
        }
    }
    for (int i = 0; i < 3; i++) {
        if (bound && held[i] && strcmp(name, "dragon") == 0) {
            marked[matched[i]] = true;
        }
    }
}

/* Marks the kinds that "which tile" allows, with the suit beside it. */
static void mark_kinds(const ref_scope *scope, const cJSON *which, const char *suit,
                       bool marked[NH_KINDS]) {
    bool held[3];
    suits_of(scope, suit, held);
    if (cJSON_IsNumber(which)) {
        mark_rank(which->valueint, held, marked);
    } else if (cJSON_IsArray(which)) {
        const cJSON *each;
        cJSON_ArrayForEach(each, which) {
            mark_kinds(scope, each, suit, marked);
        }
    } else if (letter_of(which->valuestring) &&
               scope->rank[letter_of(which->valuestring) - 'a'] >= NH_EAST) {
        marked[scope->rank[letter_of(which->valuestring) - 'a']] = true;
    } else if (letter_of(which->valuestring)) {
        mark_rank(rank_worth(scope, which->valuestring), held, marked);
    } else if (kind_named(which->valuestring) >= 0) {
        marked[kind_named(which->valuestring)] = true;
    } else if (strcmp(which->valuestring, "prevailing") == 0) {
        marked[NH_EAST + scope->prevailing - 1] = true;
    } else if (strcmp(which->valuestring, "seat") == 0) {
        marked[NH_EAST + scope->seat - 1] = true;
    } else {
        mark_class(scope, which->valuestring, suit, marked);
    }
}

/* --------------------------------------------------------------- groups --- */

static void sums_of_array(ref_scope *scope, const cJSON *groups, ref_sums *all);
static void sums_of_group(ref_scope *scope, const cJSON *group, ref_sums *all);

/* Kinds that the set lacks are no choice, not even for jokers. */
static ref_sum alike(int kind, int count) {
    ref_sum sum = {{{0}}, {{0}}};
    sum.tiles.count[kind] = (uint8_t)count;
    sum.jokerable.count[kind] = (uint8_t)(count >= 3 ? count : 0);
    return sum;
}

static void add_alike(ref_scope *scope, const bool marked[NH_KINDS], int count, ref_sums *all) {
    for (int kind = 0; kind < NH_JOKER; kind++) {
        if (marked[kind] && scope->list->set.count[kind] > 0) {
            const ref_sum sum = alike(kind, count);
            add_sum(scope, all, &sum);
        }
    }
}

/* Runs from the marked kinds; with `within`, every tile must be marked. */
static void add_runs(ref_scope *scope, const bool marked[NH_KINDS], int length, bool within,
                     ref_sums *all) {
    for (int first = 0; first < NH_EAST; first++) {
        bool good = marked[first] && rank_of(first) + length - 1 <= 9;
        ref_sum sum = {{{0}}, {{0}}};
        for (int i = 0; good && i < length; i++) {
            good = scope->list->set.count[first + i] > 0 && (!within || marked[first + i]);
            sum.tiles.count[first + i] = 1;
        }
        if (good) {
            add_sum(scope, all, &sum);
        }
    }
}

static void add_alternatives(ref_scope *scope, const cJSON *alternatives, ref_sums *all) {
    const cJSON *each;
    cJSON_ArrayForEach(each, alternatives) {
        ref_sums some = {NULL, 0, 0};
        if (cJSON_IsArray(each)) {
            sums_of_array(scope, each, &some);
        } else {
            sums_of_group(scope, each, &some);
        }
        for (size_t i = 0; i < some.count; i++) {
            add_sum(scope, all, &some.item[i]);
        }
        free(some.item);
    }
}

/* What the group may come to when it is taken once. */
static void choices_of(ref_scope *scope, const cJSON *group, ref_sums *all) {
    static const char *const alikes[6] = {"single", "pair", "pung", "kong", "quint", "sextet"};
    const cJSON *suit_item = cJSON_GetObjectItemCaseSensitive(group, "suit");
    const char *suit = suit_item == NULL ? NULL : suit_item->valuestring;
    const cJSON *item;
    cJSON_ArrayForEach(item, group) {
        bool marked[NH_KINDS] = {false};
        for (int i = 0; i < 6; i++) {
            if (strcmp(item->string, alikes[i]) == 0) {
                mark_kinds(scope, item, suit, marked);
                add_alike(scope, marked, i + 1, all);
            }
        }
        if (strcmp(item->string, "chow") == 0 || strcmp(item->string, "run") == 0) {
            mark_kinds(scope, item, suit, marked);
            add_runs(scope, marked, number_of(group, "length", 3), false, all);
        } else if (strcmp(item->string, "set") == 0) {
            mark_kinds(scope, item, suit, marked);
            add_alike(scope, marked, 3, all);
            add_runs(scope, marked, 3, true, all);
        } else if (strcmp(item->string, "one_of") == 0) {
            add_alternatives(scope, item, all);
        }
    }
    sort_unique(all);
}

typedef struct ref_taking {
    const ref_sums *choices;
    size_t chosen[NH_TIMES_MAX];
    int times;
    bool distinct;
} ref_taking;

static bool already_taken(const ref_taking *taking, int depth, size_t choice) {
    const nh_tiles *tiles = &taking->choices->item[choice].tiles;
    for (int i = 0; i < depth; i++) {
        if (compare_tiles(&taking->choices->item[taking->chosen[i]].tiles, tiles) == 0) {
            return true;
        }
    }
    return false;
}

/* Takes `times` choices; the order does not matter, so they never go back. */
static void take(ref_scope *scope, ref_taking *taking, int depth, const ref_sum *so_far,
                 ref_sums *all) {
    if (depth == taking->times) {
        add_sum(scope, all, so_far);
        return;
    }
    const size_t first = depth ? taking->chosen[depth - 1] : 0;
    for (size_t i = first; i < taking->choices->count && !scope->full; i++) {
        if (taking->distinct && already_taken(taking, depth, i)) {
            continue;
        }
        const ref_sum sum = join(so_far, &taking->choices->item[i]);
        taking->chosen[depth] = i;
        take(scope, taking, depth + 1, &sum, all);
    }
}

static void sums_of_group(ref_scope *scope, const cJSON *group, ref_sums *all) {
    const ref_sum nothing = {{{0}}, {{0}}};
    ref_sums choices = {NULL, 0, 0};
    choices_of(scope, group, &choices);
    ref_taking taking = {.choices = &choices,
                         .times = number_of(group, "times", 1),
                         .distinct = truth_of(group, "distinct", false)};
    take(scope, &taking, 0, &nothing, all);
    free(choices.item);
    sort_unique(all);
}

static void sums_of_array(ref_scope *scope, const cJSON *groups, ref_sums *all) {
    const ref_sum nothing = {{{0}}, {{0}}};
    add_sum(scope, all, &nothing);
    const cJSON *group;
    cJSON_ArrayForEach(group, groups) {
        ref_sums some = {NULL, 0, 0};
        ref_sums product = {NULL, 0, 0};
        sums_of_group(scope, group, &some);
        for (size_t i = 0; i < all->count && !scope->full; i++) {
            for (size_t j = 0; j < some.count && !scope->full; j++) {
                const ref_sum sum = join(&all->item[i], &some.item[j]);
                add_sum(scope, &product, &sum);
            }
        }
        free(some.item);
        free(all->item);
        *all = product;
        sort_unique(all);
    }
}

/* -------------------------------------------------------------- letters --- */

/* Letters of a variant: how often each is used does not matter. */
typedef struct ref_letters {
    bool rank[26];
    bool suit[26];
} ref_letters;

static void find_letters(const cJSON *node, ref_letters *letters) {
    const cJSON *child;
    if (cJSON_IsString(node)) {
        const bool suit = node->string != NULL && strcmp(node->string, "suit") == 0;
        if (suit && node->valuestring[1] == 0) {
            letters->suit[node->valuestring[0] - 'a'] = true;
        } else if (!suit && letter_of(node->valuestring)) {
            letters->rank[letter_of(node->valuestring) - 'a'] = true;
            if (second_letter_of(node->valuestring)) {
                letters->rank[second_letter_of(node->valuestring) - 'a'] = true;
            }
        }
    }
    cJSON_ArrayForEach(child, node) {
        find_letters(child, letters);
    }
}

/* Whether the range that "letters" gives a letter has the value: a rank, or the
 * kind of an honour. */
static bool in_letter_range(const cJSON *range, int value) {
    if (cJSON_IsString(range)) {
        return value >= NH_EAST && in_class(range->valuestring, value);
    }
    const cJSON *each;
    cJSON_ArrayForEach(each, range) {
        if (cJSON_IsString(each) ? kind_named(each->valuestring) == value
                                 : each->valueint == value) {
            return true;
        }
    }
    return false;
}

/* Whether a letter may stand for the value: by the variant, or else by the pattern,
 * or else for any rank. */
static bool may_stand_for(const ref_scope *scope, int letter, int value) {
    const char name[2] = {(char)('a' + letter), 0};
    const cJSON *const levels[2] = {scope->variant, scope->pattern};
    for (int i = 0; i < 2; i++) {
        const cJSON *ranks = cJSON_GetObjectItemCaseSensitive(levels[i], "ranks");
        const cJSON *letters = cJSON_GetObjectItemCaseSensitive(levels[i], "letters");
        const cJSON *range = cJSON_GetObjectItemCaseSensitive(ranks, name);
        const cJSON *any = cJSON_GetObjectItemCaseSensitive(letters, name);
        if (any != NULL) {
            return in_letter_range(any, value);
        }
        if (range != NULL) {
            return value >= cJSON_GetArrayItem(range, 0)->valueint &&
                   value <= cJSON_GetArrayItem(range, 1)->valueint;
        }
    }
    return value >= 1 && value <= 9;
}

/* Whether a letter before this one stands for the value already. */
static bool value_taken(const bool used[26], const int values[26], int letter, int value) {
    for (int i = 0; i < letter; i++) {
        if (used[i] && values[i] == value) {
            return true;
        }
    }
    return false;
}

/* Gives values to the rank letters 0-25, then to the suit letters 26-51, and
 * writes out the variant for each way to do so. */
static void assign(ref_scope *scope, const ref_letters *letters, int at, const cJSON *variant,
                   ref_sums *all) {
    if (scope->full) {
        return;
    }
    if (at == 52) {
        ref_sums some = {NULL, 0, 0};
        sums_of_array(scope, variant, &some);
        for (size_t i = 0; i < some.count; i++) {
            add_sum(scope, all, &some.item[i]);
        }
        free(some.item);
        return;
    }
    const bool is_rank = at < 26;
    const int letter = at % 26;
    const bool *used = is_rank ? letters->rank : letters->suit;
    int *values = is_rank ? scope->rank : scope->suit;
    if (!used[letter]) {
        assign(scope, letters, at + 1, variant, all);
        return;
    }
    for (int value = 0; value <= (is_rank ? NH_WHITE : 2); value++) {
        const bool good =
            is_rank ? may_stand_for(scope, letter, value) : scope->list->set.count[value * 9] > 0;
        if (good && !value_taken(used, values, letter, value)) {
            values[letter] = value;
            assign(scope, letters, at + 1, variant, all);
        }
    }
}

/* --------------------------------------------------------------- limits --- */

static bool has_number(const cJSON *array, int number) {
    const cJSON *each;
    cJSON_ArrayForEach(each, array) {
        if (each->valueint == number) {
            return true;
        }
    }
    return false;
}

/* Marks the kinds of hand notation as the lists of the tests write it: groups
 * with spaces between, like "2468B 1C EW R Wh F". */
static void mark_notation(const char *text, bool marked[NH_KINDS]) {
    static const char suits[] = "BCD";
    static const char honours[] = "ESWNRG";
    for (const char *at = text; *at; at++) {
        const char *end = at;
        while (isdigit((unsigned char)*end)) {
            end++;
        }
        if (end > at) {
            const int suit = (int)(strchr(suits, *end) - suits);
            for (; at < end; at++) {
                marked[suit * 9 + *at - '1'] = true;
            }
        } else if (strncmp(at, "Wh", 2) == 0) {
            marked[NH_WHITE] = true;
            at++;
        } else if (*at == 'F') {
            marked[NH_FLOWER] = true;
        } else if (*at != ' ') {
            assert(strchr(honours, *at) != NULL);
            marked[NH_EAST + (int)(strchr(honours, *at) - honours)] = true;
        }
    }
}

static bool suits_allowed(const cJSON *limit, int suits) {
    if (limit == NULL) {
        return true;
    }
    if (cJSON_IsNumber(limit)) {
        return suits == limit->valueint;
    }
    return suits >= cJSON_GetArrayItem(limit, 0)->valueint &&
           suits <= cJSON_GetArrayItem(limit, 1)->valueint;
}

static bool honours_allowed(const cJSON *limit, int honours, int suits) {
    if (limit == NULL) {
        return true;
    }
    if (strcmp(limit->valuestring, "none") == 0) {
        return honours == 0;
    }
    return honours > 0 && (strcmp(limit->valuestring, "some") == 0 || suits == 0);
}

static bool kinds_allowed(const cJSON *ranks, const cJSON *text, const nh_tiles *tiles) {
    bool marked[NH_KINDS] = {false};
    if (text != NULL) {
        mark_notation(text->valuestring, marked);
    }
    for (int kind = 0; kind < NH_KINDS; kind++) {
        const bool bad_rank = ranks != NULL && is_suited(kind) && !has_number(ranks, rank_of(kind));
        const bool bad_tile = text != NULL && !marked[kind];
        if (tiles->count[kind] > 0 && (bad_rank || bad_tile)) {
            return false;
        }
    }
    return true;
}

/* The limit at a key: that of the variant goes before that of the pattern. */
static const cJSON *limit_of(const ref_scope *scope, const char *key) {
    const cJSON *const levels[2] = {scope->variant, scope->pattern};
    const cJSON *found = NULL;
    for (int i = 0; i < 2 && found == NULL; i++) {
        const cJSON *limits = cJSON_GetObjectItemCaseSensitive(levels[i], "limits");
        found = cJSON_GetObjectItemCaseSensitive(limits, key);
    }
    return found;
}

/* How many tiles of a class "least" or "most" names, class by class. */
static int class_limit(const ref_scope *scope, const char *key, const char *class, int otherwise) {
    const cJSON *const levels[2] = {scope->variant, scope->pattern};
    for (int i = 0; i < 2; i++) {
        const cJSON *limits = cJSON_GetObjectItemCaseSensitive(levels[i], "limits");
        const cJSON *classes = cJSON_GetObjectItemCaseSensitive(limits, key);
        const cJSON *count = cJSON_GetObjectItemCaseSensitive(classes, class);
        if (count != NULL) {
            return count->valueint;
        }
    }
    return otherwise;
}

static bool classes_allowed(const ref_scope *scope, const nh_tiles *tiles) {
    static const char *const classes[8] = {"wind",   "dragon", "honour", "terminal",
                                           "orphan", "simple", "suited", "any"};
    for (int i = 0; i < 8; i++) {
        int count = 0;
        for (int kind = 0; kind <= NH_WHITE; kind++) {
            count += in_class(classes[i], kind) ? tiles->count[kind] : 0;
        }
        if (count < class_limit(scope, "least", classes[i], 0) ||
            count > class_limit(scope, "most", classes[i], NH_TARGET_MAX)) {
            return false;
        }
    }
    return true;
}

static bool limits_hold(const ref_scope *scope, const nh_tiles *tiles) {
    bool held[3] = {false, false, false};
    int honours = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        if (tiles->count[kind] > 0 && is_suited(kind)) {
            held[kind / 9] = true;
        }
        honours += is_honour(kind) ? tiles->count[kind] : 0;
    }
    const int suits = held[0] + held[1] + held[2];
    return suits_allowed(limit_of(scope, "suits"), suits) &&
           honours_allowed(limit_of(scope, "honours"), honours, suits) &&
           kinds_allowed(limit_of(scope, "ranks"), limit_of(scope, "tiles"), tiles) &&
           classes_allowed(scope, tiles);
}

/* -------------------------------------------------------------- targets --- */

/* Whether the tiles can be had when `seen` are gone: what a kind lacks must be
 * covered by jokers, in groups where they may stand. */
static bool can_be_had(const nh_tiles *set, const nh_tiles *seen, const ref_sum *sum) {
    int lacking = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int excess = sum->tiles.count[kind] - (set->count[kind] - seen->count[kind]);
        if (excess > sum->jokerable.count[kind]) {
            return false;
        }
        lacking += excess > 0 ? excess : 0;
    }
    return lacking <= set->count[NH_JOKER] - seen->count[NH_JOKER];
}

static void keep_targets(const ref_scope *scope, ref_sums *all) {
    static const nh_tiles none = {{0}};
    size_t kept = 0;
    for (size_t i = 0; i < all->count; i++) {
        ref_sum sum = all->item[i];
        if (scope->list->set.count[NH_JOKER] == 0) {
            sum.jokerable = none;
        }
        if (can_be_had(&scope->list->set, &none, &sum)) {
            all->item[kept++] = sum;
        }
    }
    all->count = kept;
    sort_unique(all);
}

/* Drops what the limits forbid, from the sum at `first` on. */
static void keep_within_limits(const ref_scope *scope, ref_sums *all, size_t first) {
    size_t kept = first;
    if (cJSON_GetObjectItemCaseSensitive(scope->pattern, "limits") == NULL &&
        cJSON_GetObjectItemCaseSensitive(scope->variant, "limits") == NULL) {
        return;
    }
    for (size_t i = first; i < all->count; i++) {
        if (limits_hold(scope, &all->item[i].tiles)) {
            all->item[kept++] = all->item[i];
        }
    }
    all->count = kept;
}

/* A variant is an array of groups, or an object that says more. */
static void expand_variant(ref_scope *scope, const cJSON *variant, ref_sums *all) {
    const bool object = cJSON_IsObject(variant);
    const cJSON *groups = object ? cJSON_GetObjectItemCaseSensitive(variant, "groups") : variant;
    ref_letters letters = {{false}, {false}};
    find_letters(groups, &letters);
    for (int i = 0; i < 26; i++) {
        scope->suit[i] = -1;
        scope->rank[i] = 0;
    }
    scope->variant = object ? variant : NULL;
    const size_t first = all->count;
    assign(scope, &letters, 0, groups, all);
    if (scope->apart) {
        keep_within_limits(scope, all, first);
    }
}

static void expand_pattern(ref_scope *scope, ref_sums *all) {
    const cJSON *groups = cJSON_GetObjectItemCaseSensitive(scope->pattern, "groups");
    const cJSON *variants = cJSON_GetObjectItemCaseSensitive(scope->pattern, "variants");
    if (groups != NULL) {
        expand_variant(scope, groups, all);
    }
    const cJSON *variant;
    cJSON_ArrayForEach(variant, variants) {
        scope->apart = scope->apart || cJSON_IsObject(variant);
    }
    cJSON_ArrayForEach(variant, variants) {
        expand_variant(scope, variant, all);
    }
    scope->variant = NULL;
}

bool reference_expand(const ref_list *list, size_t pattern, nh_wind prevailing, nh_wind seat,
                      size_t bound, ref_targets *targets) {
    ref_scope scope = {.list = list, .pattern = pattern_at(list, pattern), .bound = bound};
    const bool turn_prevailing = !prevailing && reference_uses(list, pattern, "prevailing");
    const bool turn_seat = !seat && reference_uses(list, pattern, "seat");
    ref_sums all = {NULL, 0, 0};
    for (int i = 0; i < (turn_prevailing ? 4 : 1); i++) {
        for (int j = 0; j < (turn_seat ? 4 : 1); j++) {
            scope.prevailing = turn_prevailing ? i + 1 : (int)prevailing;
            scope.seat = turn_seat ? j + 1 : (int)seat;
            expand_pattern(&scope, &all);
        }
    }
    if (scope.full) {
        free(all.item);
        return false;
    }
    if (!scope.apart) {
        keep_within_limits(&scope, &all, 0);
    }
    keep_targets(&scope, &all);
    *targets = (ref_targets){.sums = all.item, .count = all.count};
    for (size_t i = 0; i < all.count; i = reference_next(targets, i)) {
        targets->distinct++;
    }
    return true;
}

void reference_release(ref_targets *targets) {
    free(targets->sums);
    *targets = (ref_targets){NULL, 0, 0};
}

size_t reference_next(const ref_targets *targets, size_t first) {
    size_t next = first + 1;
    while (next < targets->count &&
           compare_tiles(&targets->sums[first].tiles, &targets->sums[next].tiles) == 0) {
        next++;
    }
    return next;
}

size_t reference_find(const ref_targets *targets, const nh_tiles *tiles) {
    size_t low = 0;
    size_t high = targets->count;
    while (low < high) {
        const size_t middle = (low + high) / 2;
        if (compare_tiles(&targets->sums[middle].tiles, tiles) < 0) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    const bool found = low < targets->count && compare_tiles(&targets->sums[low].tiles, tiles) == 0;
    return found ? low : targets->count;
}

/* -------------------------------------------------------------- figures --- */

ref_count reference_count(const ref_list *list, const ref_targets *targets) {
    const nh_natural one = reference_number(1);
    ref_count count = {{{0}}, {{0}}, {{0}}, {{0}}};
    for (size_t i = 0; i < targets->count; i = reference_next(targets, i)) {
        const nh_tiles *tiles = &targets->sums[i].tiles;
        nh_natural ways = one;
        bool enough = true;
        for (int kind = 0; kind < NH_JOKER; kind++) {
            ways = reference_multiply(ways,
                                      reference_choose(list->set.count[kind], tiles->count[kind]));
            enough = enough && tiles->count[kind] <= list->set.count[kind];
        }
        count.targets = reference_add(count.targets, one);
        count.ways = reference_add(count.ways, ways);
        if (nh_tiles_total(tiles) == list->hand) {
            count.dealt_ways = reference_add(count.dealt_ways, ways);
        }
        if (!enough) {
            count.joker_only = reference_add(count.joker_only, one);
        }
    }
    return count;
}

static bool all_within(const ref_targets *inner, const ref_targets *outer) {
    for (size_t i = 0; i < inner->count; i++) {
        if (reference_find(outer, &inner->sums[i].tiles) == outer->count) {
            return false;
        }
    }
    return true;
}

nh_relation reference_relation(const ref_targets *a, const ref_targets *b) {
    const bool within = all_within(a, b);
    const bool contains = all_within(b, a);
    if (within && contains) {
        return NH_EQUAL;
    }
    return within ? NH_WITHIN : contains ? NH_CONTAINS : NH_NEITHER;
}

/* ------------------------------------------------------------- distance --- */

int reference_sum_away(const ref_list *list, const ref_sum *sum, const nh_tiles *hand,
                       const nh_tiles *seen) {
    if (!can_be_had(&list->set, seen, sum)) {
        return NH_AWAY_NONE;
    }
    int lacking = 0;
    int coverable = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int lack = sum->tiles.count[kind] - hand->count[kind];
        const int cover = sum->jokerable.count[kind];
        if (lack > 0) {
            lacking += lack;
            coverable += lack < cover ? lack : cover;
        }
    }
    const int jokers = hand->count[NH_JOKER];
    return lacking - (jokers < coverable ? jokers : coverable);
}

int reference_target_away(const ref_list *list, const ref_targets *targets, size_t first,
                          const nh_tiles *hand, const nh_tiles *seen) {
    const size_t next = reference_next(targets, first);
    int least = NH_AWAY_NONE;
    for (size_t i = first; i < next; i++) {
        const int away = reference_sum_away(list, &targets->sums[i], hand, seen);
        least = away < least ? away : least;
    }
    return least;
}

int reference_away(const ref_list *list, const ref_targets *targets, const nh_tiles *hand,
                   const nh_tiles *seen) {
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < targets->count; i++) {
        const int away = reference_sum_away(list, &targets->sums[i], hand, seen);
        least = away < least ? away : least;
    }
    return least;
}

/* --------------------------------------------------------------- chance --- */

enum { LACKING_MAX = NH_TARGET_MAX };

/* In how many ways tiles of the kinds gone through so far can be drawn, so many of them:
 * way[lacking], where `lacking` tiles are left for jokers. */
typedef struct ref_drawn {
    nh_natural way[LACKING_MAX + 1];
} ref_drawn;

static bool is_zero(nh_natural number) {
    return (number.limb[0] | number.limb[1] | number.limb[2]) == 0;
}

static int smaller(int a, int b) {
    return a < b ? a : b;
}

/* Draws each possible number of one kind that the sum still lacks. */
static void draw_kind(const ref_drawn *before, ref_drawn *after, int unseen, int lack, int cover,
                      int draws, int jokers) {
    memset(after, 0, ((size_t)draws + 1) * sizeof *after);
    for (int drawn = 0; drawn <= draws; drawn++) {
        for (int lacking = 0; lacking <= jokers; lacking++) {
            const nh_natural ways = before[drawn].way[lacking];
            for (int more = 0; more <= unseen && !is_zero(ways); more++) {
                const int left = lack > more ? lack - more : 0;
                if (left <= cover && lacking + left <= jokers && drawn + more <= draws) {
                    nh_natural *cell = &after[drawn + more].way[lacking + left];
                    *cell = reference_add(*cell,
                                          reference_multiply(ways, reference_choose(unseen, more)));
                }
            }
        }
    }
}

/* The sets of draws after which the jokers of hand and draws together suffice
 * for what is still lacking; the other kinds fill the draws up. */
static nh_natural finish_draws(const ref_drawn *drawing, int held_jokers, int unseen_jokers,
                               int others, int draws) {
    nh_natural all = reference_number(0);
    for (int drawn = 0; drawn <= draws; drawn++) {
        for (int lacking = 0; lacking <= LACKING_MAX; lacking++) {
            const nh_natural ways = drawing[drawn].way[lacking];
            for (int more = 0; more <= unseen_jokers && !is_zero(ways); more++) {
                if (lacking <= held_jokers + more && drawn + more <= draws) {
                    const nh_natural fill =
                        reference_multiply(reference_choose(unseen_jokers, more),
                                           reference_choose(others, draws - drawn - more));
                    all = reference_add(all, reference_multiply(ways, fill));
                }
            }
        }
    }
    return all;
}

static nh_natural sum_completing(const ref_list *list, const ref_sum *sum, const nh_tiles *hand,
                                 const nh_tiles *seen, int draws) {
    int unseen[NH_KINDS];
    int all = 0;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        unseen[kind] = list->set.count[kind] - hand->count[kind] - seen->count[kind];
        all += unseen[kind];
    }
    draws = smaller(draws, all);
    const int jokers = smaller(hand->count[NH_JOKER] + unseen[NH_JOKER], LACKING_MAX);
    int others = all - unseen[NH_JOKER];
    ref_drawn *rows = calloc(2 * ((size_t)draws + 1), sizeof *rows);
    assert(rows != NULL);
    ref_drawn *drawing = rows;
    ref_drawn *next = rows + draws + 1;
    drawing[0].way[0] = reference_number(1);
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int lack = sum->tiles.count[kind] - hand->count[kind];
        if (lack > 0) {
            draw_kind(drawing, next, unseen[kind], lack, sum->jokerable.count[kind], draws, jokers);
            ref_drawn *other = drawing;
            drawing = next;
            next = other;
            others -= unseen[kind];
        }
    }
    const nh_natural completing =
        finish_draws(drawing, hand->count[NH_JOKER], unseen[NH_JOKER], others, draws);
    free(rows);
    return completing;
}

/* Where a target has several sums, a set of draws counts when it completes one
 * of them. Draws that complete two sums are those that complete the sum in
 * which jokers may stand for what both allow, so the union follows by
 * inclusion and exclusion. */
nh_natural reference_completing(const ref_list *list, const ref_targets *targets, size_t first,
                                const nh_tiles *hand, const nh_tiles *seen, int draws) {
    const size_t sums = reference_next(targets, first) - first;
    assert(sums < 16);
    nh_natural all = reference_number(0);
    for (unsigned some = 1; some < 1u << sums; some++) {
        ref_sum common = targets->sums[first];
        int members = 0;
        memset(&common.jokerable, UINT8_MAX, sizeof common.jokerable);
        for (size_t i = 0; i < sums; i++) {
            const uint8_t *cover = targets->sums[first + i].jokerable.count;
            const bool member = some >> i & 1u;
            members += member;
            for (int kind = 0; member && kind < NH_KINDS; kind++) {
                if (cover[kind] < common.jokerable.count[kind]) {
                    common.jokerable.count[kind] = cover[kind];
                }
            }
        }
        const nh_natural part = sum_completing(list, &common, hand, seen, draws);
        all = members % 2 ? reference_add(all, part) : reference_subtract(all, part);
    }
    return all;
}

nh_natural reference_best_completing(const ref_list *list, const ref_targets *targets,
                                     const nh_tiles *hand, const nh_tiles *seen, int draws) {
    const int nearest = reference_away(list, targets, hand, seen);
    nh_natural best = reference_number(0);
    for (size_t i = 0; i < targets->count; i = reference_next(targets, i)) {
        if (reference_target_away(list, targets, i, hand, seen) == nearest) {
            const nh_natural completing = reference_completing(list, targets, i, hand, seen, draws);
            best = reference_compare(completing, best) > 0 ? completing : best;
        }
    }
    return best;
}
