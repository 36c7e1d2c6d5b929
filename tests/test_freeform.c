/*
 * Patterns of free-form lists, of which no reference can list the targets, against the
 * same with letters spelt out: a pattern is the union of what it is under each value of
 * two of its ranks and each of its suits, so that its distance is the least of theirs.
 * The whole pattern has far more ways to give its letters values than each of the
 * others, and the library works them out in another way.
 * NEARHAND_SEED chooses the patterns, NEARHAND_TRIES how many of each style.
 */
#include "freeform.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LISTS = 30, HANDS = 24, FIXED_MOST = 3, LETTERS_MOST = 5, SUITS = 3 };

static const char *const suit_words[SUITS] = {"bam", "crak", "dot"};

static struct { long patterns, spelt, hands, live; } done;

/* ------------------------------------------------------------ spelling --- */

/* A pattern with its letters spelt out. */
struct spelling {
    const struct freeform *style; /* what lists are like */
    const char *pattern;
    char letters[FIXED_MOST]; /* the rank letters that are given values */
    int letter_count;
    int rank[FIXED_MOST];
    int suit[SUITS]; /* of x, y and z */
    struct freeform out;
};

static bool uses_rank(const char *pattern, char letter) {
    const char forms[][6] = {
        {'"', letter, '"'}, {'"', letter, '+'}, {'"', letter, '-'}, {'1', '0', '-', letter, '"'}};
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
        if (strstr(pattern, forms[i]) != NULL)
            return true;
    return false;
}

static bool uses_suit(const char *pattern, int letter) {
    const char form[] = {'"', (char)('x' + letter), '"', 0};
    return strstr(pattern, form) != NULL;
}

static nh_list *read_text(char *text) {
    nh_list *list = NULL;
    nh_status status = nh_list_read(text, strlen(text), NULL, &list, NULL);
    free(text);
    return status == NH_OK ? list : NULL;
}

/* Keeps the pattern under the present values, if it has a target. */
static void keep_spelt(struct spelling *spelling) {
    size_t length = strlen(spelling->pattern), room = 2 * length + 200, at = 0;
    char *text = malloc(room), name[32];
    ck_assert_ptr_nonnull(text);
    /* the name comes first: see freeform_pattern */
    const char *from = strstr(spelling->pattern, ",\"groups\"");
    snprintf(name, sizeof name, "{\"name\":\"%d\"", spelling->out.patterns);
    at += (size_t)snprintf(text, room, "%s,\"letters\":{", name);
    for (int i = 0; i < spelling->letter_count; i++)
        at += (size_t)snprintf(text + at, room - at, "%s\"%c\":[%d]", i > 0 ? "," : "",
                               spelling->letters[i], spelling->rank[i]);
    text[at++] = '}';
    for (; *from != 0; from++) {
        if (from[0] == '"' && from[1] >= 'x' && from[1] <= 'z' && from[2] == '"') {
            at += (size_t)snprintf(text + at, room - at, "\"%s\"",
                                   suit_words[spelling->suit[from[1] - 'x']]);
            from += 2;
        } else {
            text[at++] = *from;
        }
    }
    text[at] = 0;
    nh_list *alone = read_text(freeform_list(spelling->style, text));
    if (alone != NULL)
        freeform_keep(&spelling->out, text);
    nh_list_free(alone);
    free(text);
}

/* Gives the suit letters from `letter` on each of their values. */
static void spell_suits(struct spelling *spelling, int letter) {
    if (letter == SUITS) {
        keep_spelt(spelling);
        return;
    }
    if (!uses_suit(spelling->pattern, letter)) {
        spelling->suit[letter] = -1;
        spell_suits(spelling, letter + 1);
        return;
    }
    for (int suit = 0; suit < SUITS; suit++) {
        bool taken = false;
        for (int i = 0; i < letter; i++)
            taken |= spelling->suit[i] == suit;
        spelling->suit[letter] = suit;
        if (!taken)
            spell_suits(spelling, letter + 1);
    }
}

static void spell_ranks(struct spelling *spelling, int letter) {
    if (letter == spelling->letter_count) {
        spell_suits(spelling, 0);
        return;
    }
    for (int rank = 1; rank <= 9; rank++) {
        bool taken = false;
        for (int i = 0; i < letter; i++)
            taken |= spelling->rank[i] == rank;
        spelling->rank[letter] = rank;
        if (!taken)
            spell_ranks(spelling, letter + 1);
    }
}

/* --------------------------------------------------------------- hands --- */

static uint8_t least_away(nh_workspace *workspace, size_t patterns, const nh_tiles *hand,
                          const nh_situation *situation) {
    static uint8_t away[NH_PATTERNS_MAX];
    uint8_t least = NH_AWAY_NONE;
    ck_assert_int_eq(nh_distances(workspace, hand, situation, away, NULL), NH_OK);
    for (size_t i = 0; i < patterns; i++)
        least = away[i] < least ? away[i] : least;
    return least;
}

/* The tiles of the target nearest to a hand, jokers for those that the set does not
 * have; the hand itself where there is none. */
static nh_tiles complete(nh_workspace *workspace, const nh_tiles *set, const nh_tiles *hand) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranked row;
    nh_ranking ranking;
    ck_assert_int_eq(nh_rank(workspace, hand, &question, &row, 1, &ranking, NULL), NH_OK);
    if (ranking.rows == 0)
        return *hand;
    nh_tiles tiles = row.target;
    for (int kind = 0; kind < NH_KINDS; kind++) {
        while (tiles.count[kind] > set->count[kind]) {
            tiles.count[kind]--;
            tiles.count[NH_JOKER]++;
        }
    }
    return tiles;
}

/* Takes a few tiles out of a hand, and puts others in. */
static void spoil(random_source *source, const nh_tiles *set, nh_tiles *hand) {
    nh_tiles left = *set;
    for (int kind = 0; kind < NH_KINDS; kind++)
        left.count[kind] = (uint8_t)(left.count[kind] - hand->count[kind]);
    int strangers = random_below(source, 5);
    nh_tiles out = random_draw(source, hand, strangers), in = random_draw(source, &left, strangers);
    (void)out;
    for (int kind = 0; kind < NH_KINDS; kind++)
        hand->count[kind] = (uint8_t)(hand->count[kind] + in.count[kind]);
}

static nh_workspace *workspace_of(const nh_list *list) {
    nh_workspace *workspace = NULL;
    ck_assert_int_eq(nh_workspace_new(list, NULL, &workspace), NH_OK);
    return workspace;
}

/* Every third hand is dealt, the others are near a target of the one or the other. */
static void compare(random_source *source, const char *pattern, const nh_list *whole,
                    const nh_list *spelt) {
    nh_workspace *own = workspace_of(whole), *other = workspace_of(spelt);
    const nh_tiles *set = nh_list_set(whole);
    for (int i = 0; i < HANDS; i++) {
        nh_situation situation = NH_SITUATION;
        nh_tiles left = *set;
        nh_tiles hand = random_draw(source, &left, 13 + random_below(source, 2));
        if (i % 3 > 0) {
            hand = complete(i % 3 == 1 ? own : other, set, &hand);
            spoil(source, set, &hand);
            for (int kind = 0; kind < NH_KINDS; kind++)
                left.count[kind] = (uint8_t)(set->count[kind] - hand.count[kind]);
        }
        if (random_percent(source, 40))
            situation.seen = random_draw(source, &left, random_below(source, 90));
        uint8_t away = least_away(own, 1, &hand, &situation);
        uint8_t expected = least_away(other, nh_list_size(spelt), &hand, &situation);
        if (away != expected) {
            char text[NH_TILES_TEXT_SIZE];
            nh_tiles_format(&hand, NH_STYLE_LETTERS, text, sizeof text);
            ck_abort_msg("%s is %d away, spelt out %d: %s", text, away, expected, pattern);
        }
        done.hands++;
        done.live += away != NH_AWAY_NONE;
    }
    nh_workspace_free(own);
    nh_workspace_free(other);
}

/* --------------------------------------------------------------- patterns --- */

/* Whether the pattern has letters enough; false for others. */
static bool compare_pattern(struct freeform *style, const char *pattern) {
    struct spelling spelling = {.style = style, .pattern = pattern};
    int letters = 0;
    for (char letter = 'a'; letter < 'a' + LETTERS_MOST; letter++) {
        if (!uses_rank(pattern, letter))
            continue;
        letters++;
        if (spelling.letter_count < 2)
            spelling.letters[spelling.letter_count++] = letter;
    }
    nh_list *whole = letters < 3 ? NULL : read_text(freeform_list(style, pattern));
    if (whole == NULL)
        return false;
    spelling.out = (struct freeform){.style = style->style, .jokers = style->jokers};
    spell_ranks(&spelling, 0);
    ck_assert_msg(spelling.out.patterns > 0, "it has targets, but not spelt out: %s", pattern);
    nh_list *spelt = read_text(freeform_list(&spelling.out, NULL));
    ck_assert_msg(spelt != NULL, "it cannot be read when it is spelt out: %s", pattern);
    compare(&style->source, pattern, whole, spelt);
    done.patterns++;
    done.spelt += spelling.out.patterns;
    freeform_end(&spelling.out);
    nh_list_free(spelt);
    nh_list_free(whole);
    return true;
}

START_TEST(letters_spelt_out) {
    int lists = random_tries(LISTS);
    uint64_t seed = random_seed(20261126);
    for (int style = 0; style < FREEFORM_WILD; style++) {
        for (int i = 0; i < lists;) {
            struct freeform list;
            freeform_start(&list, seed++, (enum freeform_style)style);
            char *pattern = freeform_pattern(&list);
            i += compare_pattern(&list, pattern);
            free(pattern);
            freeform_end(&list);
        }
    }
    printf("seed %llu: %ld patterns, %ld spelt out, %ld distances (%ld live)\n",
           (unsigned long long)random_seed(20261126), done.patterns, done.spelt, done.hands,
           done.live);
    ck_assert_int_gt(done.live * 2, done.hands);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("freeform");
    TCase *tests = tcase_create("freeform");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, letters_spelt_out);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
