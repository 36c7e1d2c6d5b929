/*
 * Distances against an integer program: GLPK looks for the nearest target of a
 * pattern straight from its groups, without any list of targets.
 *
 * Which variant, which alternative, what each letter stands for and how often
 * each choice is taken are whole unknowns. From them follow the tiles t of the
 * target and the tiles g that jokers may stand for; the program makes
 * t - kept - joked as small as it can be. The lists are of the grammar of version
 * 0.1: sums of letters and limits of one variant are no linear constraints.
 */
#include "ask.h"
#include "nearhand.h"
#include "random_list.h"
#include "suite.h"

#include <check.h>
#include <cjson/cJSON.h>
#include <glpk.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TERMS_MAX = 1500, CHOICES_MAX = 400, WAYS_MAX = 24, NEVER = -1, ALWAYS = 0 };

/* --------------------------------------------------------------- program --- */

/* A sum of unknowns, each with its factor; column 0 is not used. */
typedef struct expression {
    int count;
    int column[TERMS_MAX + 1];
    double factor[TERMS_MAX + 1];
} expression;

/* The program of one pattern, hand and situation. An unknown is a column of
 * GLPK; where there is a choice, ALWAYS stands for one that is 1 and NEVER for
 * one that is 0. */
typedef struct program {
    glp_prob *problem;
    nh_tiles set;
    const cJSON *pattern;
    int prevailing[4];
    int seat[4];
    int rank[26][10]; /* letter stands for rank */
    int suit[26][3];
} program;

static void term(expression *sum, int column, double factor) {
    for (int i = 1; i <= sum->count; i++) {
        if (sum->column[i] == column) {
            sum->factor[i] += factor;
            return;
        }
    }
    ck_assert_int_lt(sum->count, TERMS_MAX);
    sum->column[++sum->count] = column;
    sum->factor[sum->count] = factor;
}

static void terms(expression *sum, const expression *more, double factor) {
    for (int i = 1; i <= more->count; i++) {
        term(sum, more->column[i], factor * more->factor[i]);
    }
}

static int bounds(double least, double most) {
    return least < most ? GLP_DB : GLP_FX;
}

static int unknown(program *in, double most, bool whole) {
    const int column = glp_add_cols(in->problem, 1);
    glp_set_col_bnds(in->problem, column, bounds(0, most), 0, most);
    glp_set_col_kind(in->problem, column, whole ? GLP_IV : GLP_CV);
    return column;
}

static int yes_or_no(program *in) {
    return unknown(in, 1, true);
}

static void constrain(program *in, const expression *sum, double least, double most) {
    const int number = glp_add_rows(in->problem, 1);
    glp_set_row_bnds(in->problem, number, bounds(least, most), least, most);
    glp_set_mat_row(in->problem, number, sum->count, sum->column, sum->factor);
}

static void at_most(program *in, const expression *sum, double most) {
    const int number = glp_add_rows(in->problem, 1);
    glp_set_row_bnds(in->problem, number, GLP_UP, 0, most);
    glp_set_mat_row(in->problem, number, sum->count, sum->column, sum->factor);
}

/* column <= factor * other */
static void below(program *in, int column, double factor, int other) {
    expression sum = {0};
    term(&sum, column, 1);
    term(&sum, other, -factor);
    at_most(in, &sum, 0);
}

/* ----------------------------------------------------------- which tile --- */

/* For each kind the unknowns that allow it, or that it is always allowed. */
typedef struct allowance {
    bool always[NH_KINDS];
    int count[NH_KINDS];
    int column[NH_KINDS][WAYS_MAX];
} allowance;

/* A kind is allowed where both unknowns are 1. */
static void allow(program *in, allowance *to, int kind, int first, int second) {
    if (first == NEVER || second == NEVER || in->set.count[kind] == 0) {
        return;
    }
    if (first == ALWAYS && second == ALWAYS) {
        to->always[kind] = true;
        return;
    }
    int column = first == ALWAYS ? second : first;
    if (first != ALWAYS && second != ALWAYS) {
        column = unknown(in, 1, false);
        below(in, column, 1, first);
        below(in, column, 1, second);
    }
    ck_assert_int_lt(to->count[kind], WAYS_MAX);
    to->column[kind][to->count[kind]++] = column;
}

static int suit_named(const char *name) {
    static const char *const names[3] = {"bam", "crak", "dot"};
    for (int suit = 0; suit < 3; suit++) {
        if (strcmp(names[suit], name) == 0) {
            return suit;
        }
    }
    return -1;
}

/* The unknown that says whether the group is of this suit. */
static int suit_column(const program *in, const char *name, int suit) {
    if (name == NULL || strcmp(name, "any") == 0) {
        return ALWAYS;
    }
    if (strlen(name) == 1) {
        return in->suit[name[0] - 'a'][suit];
    }
    return suit_named(name) == suit ? ALWAYS : NEVER;
}

static void allow_rank(program *in, allowance *to, int rank, const char *suit, int column) {
    for (int i = 0; i < 3 && rank >= 1 && rank <= 9; i++) {
        allow(in, to, i * 9 + rank - 1, suit_column(in, suit, i), column);
    }
}

/* The letter of "n", "n+1" or "10-n", or 0. */
static char letter_in(const char *word) {
    const char *letter = word + strspn(word, "0123456789");
    if (letter > word && *letter == '-' && letter[2] == 0) {
        return letter[1];
    }
    return word[1] == 0 || word[1] == '+' || word[1] == '-' ? word[0] : 0;
}

static void allow_letter(program *in, allowance *to, const char *word, const char *suit) {
    const int letter = letter_in(word) - 'a';
    for (int value = 1; value <= 9; value++) {
        int rank = value;
        if (word[0] <= '9') {
            rank = atoi(word) - value;
        } else if (word[1] != 0) {
            rank += word[1] == '+' ? word[2] - '0' : '0' - word[2];
        }
        allow_rank(in, to, rank, suit, in->rank[letter][value]);
    }
}

/* The kinds of a class from `first` to `last`; suited ones by their suit. */
static void allow_suited(program *in, allowance *to, int least, int most, int step,
                         const char *suit) {
    for (int rank = least; rank <= most; rank += step) {
        allow_rank(in, to, rank, suit, ALWAYS);
    }
}

static void allow_kinds(program *in, allowance *to, int first, int last, const char *suit) {
    for (int kind = first; kind <= last; kind++) {
        if (suit == NULL || strcmp(suit, "any") == 0) {
            allow(in, to, kind, ALWAYS, ALWAYS);
        }
    }
}

static void allow_dragons(program *in, allowance *to, const char *suit) {
    if (suit == NULL || strcmp(suit, "any") == 0) {
        allow_kinds(in, to, NH_RED, NH_WHITE, NULL);
        return;
    }
    allow(in, to, NH_GREEN, suit_column(in, suit, 0), ALWAYS);
    allow(in, to, NH_RED, suit_column(in, suit, 1), ALWAYS);
    allow(in, to, NH_WHITE, suit_column(in, suit, 2), ALWAYS);
}

static bool is(const char *word, const char *other) {
    return strcmp(word, other) == 0;
}

static bool allow_class(program *in, allowance *to, const char *word, const char *suit) {
    if (is(word, "wind")) {
        allow_kinds(in, to, NH_EAST, NH_NORTH, suit);
    } else if (is(word, "dragon")) {
        allow_dragons(in, to, suit);
    } else if (is(word, "honour")) {
        allow_kinds(in, to, NH_EAST, NH_WHITE, suit);
    } else if (is(word, "terminal")) {
        allow_suited(in, to, 1, 9, 8, suit);
    } else if (is(word, "orphan")) {
        allow_suited(in, to, 1, 9, 8, suit);
        allow_kinds(in, to, NH_EAST, NH_WHITE, suit);
    } else if (is(word, "simple")) {
        allow_suited(in, to, 2, 8, 1, suit);
    } else if (is(word, "suited")) {
        allow_suited(in, to, 1, 9, 1, suit);
    } else if (is(word, "any")) {
        allow_suited(in, to, 1, 9, 1, suit);
        allow_kinds(in, to, NH_EAST, NH_WHITE, suit);
    } else {
        return false;
    }
    return true;
}

static void allow_honour(program *in, allowance *to, const char *word) {
    static const char *const names[8] = {"east", "south", "west",  "north",
                                         "red",  "green", "white", "flower"};
    for (int i = 0; i < 4; i++) {
        if (is(word, "prevailing") || is(word, "seat")) {
            allow(in, to, NH_EAST + i, word[0] == 'p' ? in->prevailing[i] : in->seat[i], ALWAYS);
        }
    }
    for (int i = 0; i < 8; i++) {
        if (is(word, names[i])) {
            allow(in, to, NH_EAST + i, ALWAYS, ALWAYS);
        }
    }
}

static void allow_which(program *in, allowance *to, const cJSON *which, const char *suit) {
    const cJSON *each;
    if (cJSON_IsNumber(which)) {
        allow_rank(in, to, which->valueint, suit, ALWAYS);
    } else if (cJSON_IsString(which) && letter_in(which->valuestring)) {
        allow_letter(in, to, which->valuestring, suit);
    } else if (cJSON_IsString(which) && !allow_class(in, to, which->valuestring, suit)) {
        allow_honour(in, to, which->valuestring);
    }
    cJSON_ArrayForEach(each, which) {
        allow_which(in, to, each, suit);
    }
}

/* A column that is at most 1 where the kind is allowed and 0 where it is not,
 * or ALWAYS or NEVER. */
static int allowed(program *in, const allowance *from, int kind) {
    if (from->always[kind]) {
        return ALWAYS;
    }
    if (from->count[kind] == 0) {
        return NEVER;
    }
    expression sum = {0};
    const int column = unknown(in, 1, false);
    term(&sum, column, 1);
    for (int i = 0; i < from->count[kind]; i++) {
        term(&sum, from->column[kind][i], -1);
    }
    at_most(in, &sum, 0);
    return column;
}

/* --------------------------------------------------------------- groups --- */

/* What groups come to: for each kind the tiles, and those that jokers may
 * stand for. */
typedef struct pile {
    expression tiles[NH_KINDS];
    expression jokerable[NH_KINDS];
} pile;

static pile *new_pile(void) {
    pile *empty = calloc(1, sizeof *empty);
    ck_assert_ptr_nonnull(empty);
    return empty;
}

static void add_pile(pile *to, const pile *from) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        terms(&to->tiles[kind], &from->tiles[kind], 1);
        terms(&to->jokerable[kind], &from->jokerable[kind], 1);
    }
}

/* One choice that a group offers: `length` kinds from `kind` on, `alike` of
 * each; the unknown says how often it is taken. */
typedef struct choice {
    int kind;
    int alike;
    int length;
    int column;
} choice;

typedef struct choices {
    choice item[CHOICES_MAX];
    int count;
} choices;

/* Offers a choice at most `times` times, only where all of the `columns` that
 * allow it are 1. */
static void offer(program *in, choices *to, choice what, int times, const int *columns, int count) {
    what.column = unknown(in, times, true);
    for (int i = 0; i < count; i++) {
        if (columns[i] == NEVER) {
            return;
        }
        if (columns[i] != ALWAYS) {
            below(in, what.column, times, columns[i]);
        }
    }
    ck_assert_int_lt(to->count, CHOICES_MAX);
    to->item[to->count++] = what;
}

/* Runs that start at an allowed kind; with `within` all kinds are allowed. */
static void offer_runs(program *in, choices *to, const int columns[NH_KINDS], int length,
                       bool within, int times) {
    for (int first = 0; first < NH_EAST; first++) {
        bool there = first % 9 + length <= 9;
        for (int i = 0; there && i < length; i++) {
            there = in->set.count[first + i] > 0;
        }
        if (there) {
            const choice run = {.kind = first, .alike = 1, .length = length};
            offer(in, to, run, times, columns + first, within ? length : 1);
        }
    }
}

static void offer_alike(program *in, choices *to, const int columns[NH_KINDS], int alike,
                        int times) {
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const choice same = {.kind = kind, .alike = alike, .length = 1};
        offer(in, to, same, times, columns + kind, 1);
    }
}

static const char *const shapes[9] = {"single", "pair", "pung", "kong", "quint",
                                      "sextet", "chow", "run",  "set"};

static const cJSON *get(const cJSON *object, const char *key) {
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

static int number(const cJSON *object, const char *key, int otherwise) {
    return get(object, key) == NULL ? otherwise : get(object, key)->valueint;
}

/* Whether a group, or an array of one, is one choice among shapes: whatever
 * alternatives there are, each comes to a single shape taken once. */
static bool is_one_choice(const cJSON *groups) {
    if (cJSON_IsArray(groups)) {
        return cJSON_GetArraySize(groups) == 1 && is_one_choice(cJSON_GetArrayItem(groups, 0));
    }
    bool one = number(groups, "times", 1) == 1;
    const cJSON *each;
    cJSON_ArrayForEach(each, get(groups, "one_of")) {
        one = one && is_one_choice(each);
    }
    return one;
}

/* Whether the group's choices, however often it is taken, can be counted. */
static bool is_countable(const cJSON *group) {
    bool countable = true;
    const cJSON *each;
    cJSON_ArrayForEach(each, get(group, "one_of")) {
        countable = countable && is_one_choice(each);
    }
    return countable;
}

static void offer_group(program *in, choices *to, const cJSON *group, int times) {
    const char *suit = get(group, "suit") == NULL ? NULL : get(group, "suit")->valuestring;
    for (int shape = 0; shape < 9; shape++) {
        const cJSON *which = get(group, shapes[shape]);
        if (which == NULL) {
            continue;
        }
        allowance kinds = {{false}, {0}, {{0}}};
        int columns[NH_KINDS];
        allow_which(in, &kinds, which, suit);
        for (int kind = 0; kind < NH_KINDS; kind++) {
            columns[kind] = allowed(in, &kinds, kind);
        }
        if (shape < 6) {
            offer_alike(in, to, columns, shape + 1, times);
        } else if (shape < 8) {
            offer_runs(in, to, columns, number(group, "length", 3), false, times);
        } else {
            offer_alike(in, to, columns, 3, times);
            offer_runs(in, to, columns, 3, true, times);
        }
    }
}

/* At most one of the choices with the same tiles. */
static void keep_apart(program *in, const choices *from) {
    for (int i = 0; i < from->count; i++) {
        expression same = {0};
        for (int j = 0; j < from->count; j++) {
            const choice *a = &from->item[i];
            const choice *b = &from->item[j];
            if (a->kind == b->kind && a->alike == b->alike && a->length == b->length) {
                term(&same, b->column, 1);
            }
        }
        at_most(in, &same, 1);
    }
}

/* Takes `times` of the choices where `taken` is 1, none where it is 0. */
static void take_choices(program *in, const choices *from, int times, int taken, pile *to) {
    expression all = {0};
    for (int i = 0; i < from->count; i++) {
        const choice *what = &from->item[i];
        term(&all, what->column, 1);
        for (int j = 0; j < what->length; j++) {
            term(&to->tiles[what->kind + j], what->column, what->alike);
        }
        if (what->alike >= 3) {
            term(&to->jokerable[what->kind], what->column, what->alike);
        }
    }
    term(&all, taken, -times);
    constrain(in, &all, 0, 0);
}

static void add_groups(program *in, const cJSON *groups, int taken, pile *to);

/* One taking of alternatives of which some have alternatives themselves. */
static void add_alternatives(program *in, const cJSON *alternatives, int taken, pile *to) {
    expression all = {0};
    const cJSON *each;
    cJSON_ArrayForEach(each, alternatives) {
        const int chosen = yes_or_no(in);
        term(&all, chosen, 1);
        add_groups(in, each, chosen, to);
    }
    term(&all, taken, -1);
    constrain(in, &all, 0, 0);
}

/* Two piles differ where `taken` is 1: for some kind one has more tiles. */
static void differ(program *in, const pile *a, const pile *b, int taken) {
    expression some = {0};
    for (int kind = 0; kind < NH_KINDS; kind++) {
        for (int side = -1; side <= 1; side += 2) {
            if (a->tiles[kind].count + b->tiles[kind].count > 0) {
                const int more = yes_or_no(in);
                expression sum = {0};
                terms(&sum, &a->tiles[kind], -side);
                terms(&sum, &b->tiles[kind], side);
                term(&sum, more, NH_TARGET_MAX + 1);
                at_most(in, &sum, NH_TARGET_MAX);
                term(&some, more, -1);
            }
        }
    }
    term(&some, taken, 1);
    at_most(in, &some, 0);
}

static void add_takings(program *in, const cJSON *group, int taken, pile *to) {
    const int times = number(group, "times", 1);
    pile *piles[NH_TIMES_MAX];
    for (int i = 0; i < times; i++) {
        piles[i] = new_pile();
        add_alternatives(in, get(group, "one_of"), taken, piles[i]);
        add_pile(to, piles[i]);
        for (int j = 0; j < i && cJSON_IsTrue(get(group, "distinct")); j++) {
            differ(in, piles[i], piles[j], taken);
        }
    }
    for (int i = 0; i < times; i++) {
        free(piles[i]);
    }
}

/* Offers all that a countable group or one choice comes to. */
static void offer_all(program *in, choices *to, const cJSON *groups, int times) {
    const cJSON *alternatives = cJSON_IsArray(groups) ? groups : get(groups, "one_of");
    if (alternatives == NULL) {
        offer_group(in, to, groups, times);
    }
    const cJSON *each;
    cJSON_ArrayForEach(each, alternatives) {
        offer_all(in, to, each, times);
    }
}

/* Choices that can be counted are; others are taken one after the other. */
static void add_group(program *in, const cJSON *group, int taken, pile *to) {
    const int times = number(group, "times", 1);
    if (!is_countable(group)) {
        add_takings(in, group, taken, to);
        return;
    }
    choices *offered = calloc(1, sizeof *offered);
    ck_assert_ptr_nonnull(offered);
    offer_all(in, offered, group, times);
    if (cJSON_IsTrue(get(group, "distinct"))) {
        keep_apart(in, offered);
    }
    take_choices(in, offered, times, taken, to);
    free(offered);
}

/* A group, or all of an array of them. */
static void add_groups(program *in, const cJSON *groups, int taken, pile *to) {
    if (cJSON_IsObject(groups)) {
        add_group(in, groups, taken, to);
        return;
    }
    const cJSON *group;
    cJSON_ArrayForEach(group, groups) {
        add_group(in, group, taken, to);
    }
}

/* -------------------------------------------------------------- letters --- */

/* Marks the letters of a variant: rank letters 0-25, suit letters 26-51. */
static void mark_letters(const cJSON *node, bool used[52]) {
    const cJSON *child;
    if (cJSON_IsString(node)) {
        const bool suit = node->string != NULL && is(node->string, "suit");
        if (suit && strlen(node->valuestring) == 1) {
            used[26 + node->valuestring[0] - 'a'] = true;
        } else if (!suit && letter_in(node->valuestring)) {
            used[letter_in(node->valuestring) - 'a'] = true;
        }
    }
    cJSON_ArrayForEach(child, node) {
        mark_letters(child, used);
    }
}

static bool in_range(const program *in, int letter, int rank) {
    const char name[2] = {(char)('a' + letter), 0};
    const cJSON *range = get(get(in->pattern, "ranks"), name);
    return range == NULL || (rank >= cJSON_GetArrayItem(range, 0)->valueint &&
                             rank <= cJSON_GetArrayItem(range, 1)->valueint);
}

/* Every letter that is used has one value where the variant is taken. */
static void give_values(program *in, const bool used[52], int taken) {
    for (int letter = 0; letter < 52; letter++) {
        const bool rank = letter < 26;
        int *columns = rank ? in->rank[letter] : in->suit[letter - 26];
        expression all = {0};
        for (int value = rank ? 1 : 0; value <= (rank ? 9 : 2); value++) {
            const bool can_be =
                used[letter] && (rank ? in_range(in, letter, value) : in->set.count[9 * value] > 0);
            columns[value] = can_be ? yes_or_no(in) : NEVER;
            if (can_be) {
                term(&all, columns[value], 1);
            }
        }
        if (used[letter]) {
            term(&all, taken, -1);
            constrain(in, &all, 0, 0);
        }
    }
}

/* Different letters, different values. */
static void part_values(program *in) {
    for (int value = 0; value <= 9; value++) {
        expression ranks = {0};
        expression suits = {0};
        for (int letter = 0; letter < 26; letter++) {
            if (value > 0 && in->rank[letter][value] != NEVER) {
                term(&ranks, in->rank[letter][value], 1);
            }
            if (value < 3 && in->suit[letter][value] != NEVER) {
                term(&suits, in->suit[letter][value], 1);
            }
        }
        at_most(in, &ranks, 1);
        at_most(in, &suits, 1);
    }
}

static void add_variant(program *in, const cJSON *variant, int taken, pile *to) {
    bool used[52] = {false};
    mark_letters(variant, used);
    give_values(in, used, taken);
    part_values(in);
    add_groups(in, variant, taken, to);
}

static void add_variants(program *in, pile *to) {
    expression all = {0};
    const cJSON *variant;
    if (get(in->pattern, "groups") != NULL) {
        const int taken = yes_or_no(in);
        term(&all, taken, 1);
        add_variant(in, get(in->pattern, "groups"), taken, to);
    }
    cJSON_ArrayForEach(variant, get(in->pattern, "variants")) {
        const int taken = yes_or_no(in);
        term(&all, taken, 1);
        add_variant(in, variant, taken, to);
    }
    constrain(in, &all, 1, 1);
}

/* A wind that the player named, or one of the four. */
static void name_wind(program *in, int columns[4], nh_wind wind) {
    expression all = {0};
    for (int i = 0; i < 4; i++) {
        columns[i] = wind == NH_WIND_UNKNOWN ? yes_or_no(in) : (int)wind == i + 1 ? ALWAYS : NEVER;
        if (wind == NH_WIND_UNKNOWN) {
            term(&all, columns[i], 1);
        }
    }
    if (wind == NH_WIND_UNKNOWN) {
        constrain(in, &all, 1, 1);
    }
}

/* --------------------------------------------------------------- limits --- */

static void limit_suits(program *in, const cJSON *limit, const pile *target) {
    expression all = {0};
    for (int suit = 0; suit < 3; suit++) {
        const int occurs = yes_or_no(in);
        expression tiles = {0};
        for (int rank = 0; rank < 9; rank++) {
            terms(&tiles, &target->tiles[9 * suit + rank], 1);
        }
        term(&tiles, occurs, -NH_TARGET_MAX);
        at_most(in, &tiles, 0);
        term(&tiles, occurs, NH_TARGET_MAX);
        expression some = {0};
        terms(&some, &tiles, -1);
        term(&some, occurs, 1);
        at_most(in, &some, 0);
        term(&all, occurs, 1);
    }
    const bool pair = cJSON_IsArray(limit) != 0;
    constrain(in, &all, pair ? cJSON_GetArrayItem(limit, 0)->valueint : limit->valueint,
              pair ? cJSON_GetArrayItem(limit, 1)->valueint : limit->valueint);
}

static void forbid(program *in, const expression *tiles) {
    if (tiles->count > 0) {
        at_most(in, tiles, 0);
    }
}

static void limit_honours(program *in, const char *limit, const pile *target) {
    expression honours = {0};
    for (int kind = 0; kind <= NH_WHITE; kind++) {
        const bool honour = kind >= NH_EAST;
        if (honour ? is(limit, "none") : is(limit, "only")) {
            forbid(in, &target->tiles[kind]);
        }
        if (honour) {
            terms(&honours, &target->tiles[kind], 1);
        }
    }
    if (!is(limit, "none")) {
        constrain(in, &honours, 1, NH_TARGET_MAX);
    }
}

static void limit_kinds(program *in, const cJSON *limits, const pile *target) {
    const cJSON *text = get(limits, "tiles");
    const cJSON *rank;
    bool ranks[10] = {false};
    nh_tiles tiles = {{0}};
    if (text != NULL) {
        ck_assert_int_eq(
            nh_tiles_parse(NULL, text->valuestring, strlen(text->valuestring), &tiles, NULL),
            NH_OK);
    }
    cJSON_ArrayForEach(rank, get(limits, "ranks")) {
        ranks[rank->valueint] = true;
    }
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const bool bad_rank =
            get(limits, "ranks") != NULL && kind < NH_EAST && !ranks[kind % 9 + 1];
        if (bad_rank || (text != NULL && tiles.count[kind] == 0)) {
            forbid(in, &target->tiles[kind]);
        }
    }
}

static void limit(program *in, const pile *target) {
    const cJSON *limits = get(in->pattern, "limits");
    if (get(limits, "suits") != NULL) {
        limit_suits(in, get(limits, "suits"), target);
    }
    if (get(limits, "honours") != NULL) {
        limit_honours(in, get(limits, "honours")->valuestring, target);
    }
    limit_kinds(in, limits, target);
}

/* ------------------------------------------------------------- distance --- */

/* What a kind needs beyond the copies that are left, jokers cover. */
static void live(program *in, const nh_tiles *seen, const pile *target) {
    expression lacking = {0};
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int excess = unknown(in, NH_TARGET_MAX, false);
        expression sum = {0};
        terms(&sum, &target->tiles[kind], 1);
        term(&sum, excess, -1);
        at_most(in, &sum, in->set.count[kind] - seen->count[kind]);
        expression cover = {0};
        term(&cover, excess, 1);
        terms(&cover, &target->jokerable[kind], -1);
        at_most(in, &cover, 0);
        term(&lacking, excess, 1);
    }
    at_most(in, &lacking, in->set.count[NH_JOKER] - seen->count[NH_JOKER]);
}

/* The tiles of the target less those kept and those that jokers stand for. */
static void aim(program *in, const nh_tiles *hand, const pile *target) {
    expression away = {0};
    expression jokers = {0};
    for (int kind = 0; kind < NH_JOKER; kind++) {
        const int kept = unknown(in, hand->count[kind], true);
        const int joked = unknown(in, hand->count[NH_JOKER], true);
        expression sum = {0};
        term(&sum, kept, 1);
        term(&sum, joked, 1);
        terms(&sum, &target->tiles[kind], -1);
        at_most(in, &sum, 0);
        expression cover = {0};
        term(&cover, joked, 1);
        terms(&cover, &target->jokerable[kind], -1);
        at_most(in, &cover, 0);
        term(&jokers, joked, 1);
        terms(&away, &target->tiles[kind], 1);
        term(&away, kept, -1);
        term(&away, joked, -1);
    }
    at_most(in, &jokers, hand->count[NH_JOKER]);
    for (int i = 1; i <= away.count; i++) {
        glp_set_obj_coef(in->problem, away.column[i], away.factor[i]);
    }
}

static int solve(glp_prob *problem) {
    glp_iocp options;
    glp_init_iocp(&options);
    options.presolve = GLP_ON;
    options.msg_lev = GLP_MSG_OFF;
    const int failure = glp_intopt(problem, &options);
    if (failure == GLP_ENOPFS || glp_mip_status(problem) == GLP_NOFEAS) {
        return NH_AWAY_NONE;
    }
    ck_assert_msg(failure == 0 && glp_mip_status(problem) == GLP_OPT, "GLPK gives up: %d", failure);
    return (int)(glp_mip_obj_val(problem) + 0.5);
}

static int distance(const cJSON *pattern, const nh_tiles *set, const nh_tiles *hand,
                    const nh_situation *situation) {
    program in = {.problem = glp_create_prob(), .set = *set, .pattern = pattern};
    pile *target = new_pile();
    glp_set_obj_dir(in.problem, GLP_MIN);
    name_wind(&in, in.prevailing, situation->prevailing);
    name_wind(&in, in.seat, situation->seat);
    add_variants(&in, target);
    limit(&in, target);
    live(&in, &situation->seen, target);
    aim(&in, hand, target);
    const int away = solve(in.problem);
    free(target);
    glp_delete_prob(in.problem);
    return away;
}

/* ---------------------------------------------------------------- lists --- */

/* What was compared. */
typedef struct tally_of_pairs {
    int pairs;
    int with_jokers;
    int dead;
    int complete;
    int left_out; /* patterns whose program would take too long */
} tally_of_pairs;

static void compare(const nh_list *list, const cJSON *patterns, const nh_tiles *hand,
                    const nh_situation *situation, size_t index, tally_of_pairs *done) {
    static uint8_t away[NH_PATTERNS_MAX];
    nh_workspace *workspace = NULL;
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    ck_assert_int_eq(nh_distances(workspace, hand, situation, away, NULL), NH_OK);
    nh_workspace_free(workspace);
    const cJSON *pattern = cJSON_GetArrayItem(patterns, (int)index);
    const int least = distance(pattern, nh_list_set(list), hand, situation);
    if (least != away[index]) {
        char text[NH_TILES_TEXT_SIZE];
        char seen[NH_TILES_TEXT_SIZE];
        nh_tiles_format(hand, NH_STYLE_LETTERS, text, sizeof text);
        nh_tiles_format(&situation->seen, NH_STYLE_LETTERS, seen, sizeof seen);
        char *json = cJSON_PrintUnformatted(pattern);
        ck_abort_msg("hand \"%s\", seen \"%s\", winds %d %d: %d away, GLPK finds %d: %s", text,
                     seen, (int)situation->prevailing, (int)situation->seat, away[index], least,
                     json);
    }
    done->pairs++;
    done->with_jokers += hand->count[NH_JOKER] > 0;
    done->dead += least == NH_AWAY_NONE;
    done->complete += least == 0;
}

static void remove_tiles(nh_tiles *from, const nh_tiles *what) {
    for (int kind = 0; kind < NH_KINDS; kind++) {
        from->count[kind] = (uint8_t)(from->count[kind] - what->count[kind]);
    }
}

/* A hand that comes near the best target of a pattern for a random hand. */
static nh_tiles hand_near(random_source *source, const nh_list *list, size_t index) {
    const nh_tiles *set = nh_list_set(list);
    const int size = nh_list_hand_size(list);
    nh_tiles pool = *set;
    const nh_tiles hand = random_draw(source, &pool, size);
    const nh_situation situation = NH_SITUATION;
    uint8_t chosen[NH_PATTERNS_MAX] = {0};
    nh_workspace *workspace = NULL;
    nh_ranked row;
    nh_ranking ranking;
    chosen[index] = 1;
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    ck_assert_int_eq(
        ask_rank(workspace, &hand, &situation, NH_DRAWS_DEFAULT, chosen, &row, 1, &ranking, NULL),
        NH_OK);
    nh_workspace_free(workspace);
    ck_assert_uint_eq(ranking.rows, 1);
    nh_tiles jokerable = {{0}};
    for (int kind = 0; kind < NH_JOKER; kind++) {
        jokerable.count[kind] = row.target.count[kind] >= 3 ? row.target.count[kind] : 0;
    }
    return random_near(source, set, &row.target, &jokerable, size,
                       random_below(source, size < 7 ? size : 7));
}

static void compare_random_hand(random_source *source, const nh_list *list, const cJSON *patterns,
                                size_t index, tally_of_pairs *done) {
    nh_tiles left = *nh_list_set(list);
    const int size = nh_list_hand_size(list);
    const nh_tiles hand = random_percent(source, 70) ? hand_near(source, list, index)
                                                     : random_draw(source, &left, size);
    nh_situation situation = NH_SITUATION;
    left = *nh_list_set(list);
    remove_tiles(&left, &hand);
    if (random_percent(source, 60)) {
        const int most = nh_tiles_total(&left) * 2 / 3;
        situation.seen = random_draw(source, &left, random_below(source, most + 1));
    }
    if (random_percent(source, 50)) {
        situation.prevailing = (nh_wind)random_below(source, 5);
        situation.seat = (nh_wind)random_below(source, 5);
    }
    compare(list, patterns, &hand, &situation, index, done);
}

/* Alternatives of several groups that are taken often, and must differ, make
 * programs that run for minutes, for the order of the takings does not
 * matter. */
static bool is_slow(const cJSON *node) {
    const int most = cJSON_IsTrue(get(node, "distinct")) ? 4 : 8;
    const bool slow =
        cJSON_IsObject(node) && !is_countable(node) && number(node, "times", 1) > most;
    const cJSON *child;
    cJSON_ArrayForEach(child, node) {
        if (is_slow(child)) {
            return true;
        }
    }
    return slow;
}

static void compare_list(random_source *source, const char *json, int hands, tally_of_pairs *done) {
    nh_list *list = NULL;
    ck_assert_int_eq(nh_list_read(json, strlen(json), NULL, &list, NULL), NH_OK);
    cJSON *root = cJSON_Parse(json);
    ck_assert_ptr_nonnull(root);
    const cJSON *patterns = get(root, "patterns");
    for (size_t i = 0; i < nh_list_size(list); i++) {
        const bool slow = is_slow(cJSON_GetArrayItem(patterns, (int)i));
        done->left_out += slow;
        for (int hand = 0; hand < hands && !slow; hand++) {
            compare_random_hand(source, list, patterns, i, done);
        }
    }
    cJSON_Delete(root);
    nh_list_free(list);
}

static void print_tally(const char *what, uint64_t seed, const tally_of_pairs *done) {
    printf("%s, seed %llu: %d pairs of a hand and a pattern, %d with jokers in the hand, %d dead, "
           "%d complete; %d patterns left out\n",
           what, (unsigned long long)seed, done->pairs, done->with_jokers, done->dead,
           done->complete, done->left_out);
}

static char *read_file(const char *path) {
    FILE *file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "%s cannot be read", path);
    char *text = calloc(1, 1u << 20);
    ck_assert_ptr_nonnull(text);
    const size_t length = fread(text, 1, (1u << 20) - 1, file);
    ck_assert_uint_gt(length, 0);
    fclose(file);
    return text;
}

START_TEST(shipped_lists) {
    static const char *const names[3] = {"club", "jokers", "traditional"};
    char path[4096];
    const uint64_t seed = random_seed(1618);
    random_source source = {seed};
    tally_of_pairs done = {0};
    snprintf(path, sizeof path, "%s/patterns/%s.json", NH_TEST_ROOT, names[_i]);
    char *json = read_file(path);
    compare_list(&source, json, 8, &done);
    free(json);
    print_tally(names[_i], seed, &done);
    ck_assert_int_gt(done.pairs, 100);
    ck_assert_int_eq(done.left_out, 0);
}
END_TEST

START_TEST(random_lists) {
    const uint64_t seed = random_seed(1414);
    random_source source = {seed};
    tally_of_pairs done = {0};
    for (int i = 0; i < 100; i++) {
        char *json = random_list_0_1(&source, 3, NH_HAND_MAX);
        compare_list(&source, json, 2, &done);
        free(json);
    }
    print_tally("random lists", seed, &done);
    ck_assert_int_gt(done.pairs, 500);
    ck_assert_int_gt(done.with_jokers, 20);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("glpk");
    TCase *tests = tcase_create("integer programs");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, shipped_lists, 0, 3);
    tcase_add_test(tests, random_lists);
    suite_add_tcase(suite, tests);
    glp_term_out(GLP_OFF);
    return run_suite(suite);
}
