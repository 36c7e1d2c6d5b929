/*
 * Passes: expectations against listing every draw, by the plain reference and
 * by distances; their laws, their order, and a simulation.
 */
#define _DEFAULT_SOURCE /* mkstemp */
#include "api.h"
#include "ask.h"
#include "draws.h"
#include "nearhand.h"
#include "suite.h"
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    LISTS = 60,           /* random ones, see random_tries */
    PATTERNS = 3,         /* in a random list */
    HANDS = 6,            /* for each list */
    PLAIN_MOST = 1500000, /* draws times sums that the reference goes through */
    LISTED_MOST = 150000, /* draws of all passes that distances go through */
    LATE_DEALS = 24,      /* of a shipped list with many tiles seen */
    LATE_LEFT = 25,       /* tiles unseen, up to which more passes are listed */
    LATE_ROWS = 6,        /* so many */
    DEALS = 4,            /* of a shipped list */
    SIMULATED = 20000     /* draws of the simulation */
};

/* What was compared, printed at the end. */
static struct { long plain, listed, passes, none, jokers, short_of_jokers; } done;

/* A hand and what is asked of it. */
typedef struct question {
    trial at;
    unsigned count;
    uint8_t chosen[PATTERNS_MOST];
    nh_passing passing;
    nh_choice choices[NH_PASSES_MAX];
} question;

/* ------------------------------------------------------- the plain way --- */

static int away_by_reference(const remaining *rest, const void *context) {
    const question *asked = context;
    const trial *at = &asked->at;
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < at->patterns; i++) {
        if (asked->chosen[i] == 0) {
            continue;
        }
        const int away = reference_away(at->plain, &at->targets[i], &rest->hand, &rest->seen);
        least = away < least ? away : least;
    }
    return least;
}

static int away_by_distances(const remaining *rest, const void *context) {
    const question *asked = context;
    const trial *at = &asked->at;
    uint8_t away[PATTERNS_MOST];
    nh_situation situation = at->situation;
    situation.seen = rest->seen;
    MUST(at, nh_distances(at->workspace, &rest->hand, &situation, away, NULL) == NH_OK);
    int least = NH_AWAY_NONE;
    for (size_t i = 0; i < at->patterns; i++) {
        if (asked->chosen[i] != 0 && away[i] < least) {
            least = away[i];
        }
    }
    return least;
}

static remaining rest_of(const question *asked, const nh_tiles *pass) {
    const trial *at = &asked->at;
    return pass_tiles(nh_list_set(at->list), &at->hand, &at->situation.seen, pass);
}

static const char *describe(const question *asked, const nh_choice *choice) {
    static char text[21000];
    char pass[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&choice->pass, NH_STYLE_LETTERS, pass, sizeof pass);
    snprintf(text, sizeof text, "pass of %u \"%s\": %s", asked->count, pass, explain(&asked->at));
    return text;
}

static void check_choice(const question *asked, const nh_choice *choice, away_of *away) {
    const nh_tiles nothing = {{0}};
    const remaining before = rest_of(asked, &nothing);
    const remaining after = rest_of(asked, &choice->pass);
    const int nearest = away(&before, asked);
    MUST(&asked->at, asked->passing.away == nearest);
    if (choice->away != away(&after, asked)) {
        ck_abort_msg("%d away after the %s", choice->away, describe(asked, choice));
    }
    const draw_sums sums = list_draws(&after, asked->count, nearest, away, asked);
    MUST(&asked->at, sums.ways == asked->passing.draws);
    if (sums.none) {
        MUST(&asked->at, choice->expected == UINT64_MAX && choice->nearer == 0);
        done.none++;
        return;
    }
    if (sums.expected != choice->expected || sums.nearer != choice->nearer) {
        ck_abort_msg("expected %llu, nearer %llu, but by listing %llu and %llu of %llu: %s",
                     (unsigned long long)choice->expected, (unsigned long long)choice->nearer,
                     (unsigned long long)sums.expected, (unsigned long long)sums.nearer,
                     (unsigned long long)sums.ways, describe(asked, choice));
    }
}

/* ---------------------------------------------------------- random lists --- */

static void ask(question *asked, size_t capacity) {
    trial *at = &asked->at;
    nh_error error = {0};
    const nh_status status =
        ask_pass(at->workspace, &at->hand, &at->situation, asked->count, asked->chosen,
                 asked->choices, capacity, &asked->passing, &error);
    if (status != NH_OK) {
        ck_abort_msg("%s: %s", error.text, explain(at));
    }
}

static int unseen(const trial *at) {
    return nh_tiles_total(nh_list_set(at->list)) - nh_tiles_total(&at->hand) -
           nh_tiles_total(&at->situation.seen);
}

/* How many different draws there are, tiles of a kind being alike. */
static long different_draws(unsigned count) {
    return count == 0 ? 1 : count == 1 ? 35 : count == 2 ? 630 : 7770;
}

static void pick_question(question *asked) {
    trial *at = &asked->at;
    random_source *source = at->source;
    pick_hand(at);
    pick_seen(at);
    const nh_tiles may_go = passable_tiles(at->list, &at->hand);
    const int passable = nh_tiles_total(&may_go);
    asked->count = (unsigned)random_below(source, 4);
    while ((int)asked->count > passable || (int)asked->count > unseen(at)) {
        asked->count--;
    }
    const bool some = random_percent(source, 25);
    for (size_t i = 0; i < at->patterns; i++) {
        asked->chosen[i] = !some || random_percent(source, 50);
    }
    asked->chosen[random_below(source, (int)at->patterns)] = 1;
}

static void check_hand(question *asked) {
    trial *at = &asked->at;
    ask(asked, NH_PASSES_MAX);
    const size_t rows = asked->passing.rows;
    MUST(at, rows == asked->passing.passes && rows > 0);
    long sums = 0;
    for (size_t i = 0; i < at->patterns; i++) {
        sums += asked->chosen[i] != 0 ? (long)at->targets[i].count : 0;
    }
    const long draws = different_draws(asked->count);
    if (draws * sums <= PLAIN_MOST) {
        check_choice(asked, &asked->choices[0], away_by_reference);
        check_choice(asked, &asked->choices[random_below(at->source, (int)rows)],
                     away_by_reference);
        done.plain += 2;
    }
    for (size_t i = 0; i < rows; i++) {
        if ((long)rows * draws > LISTED_MOST && random_below(at->source, (int)rows) > 3) {
            continue;
        }
        check_choice(asked, &asked->choices[i], away_by_distances);
        done.listed++;
    }
    done.passes += (long)rows;
    done.jokers += at->hand.count[NH_JOKER] > 0;
    done.short_of_jokers += at->situation.seen.count[NH_JOKER] > 4;
}

START_TEST(random_lists) {
    static question asked;
    const uint64_t seed = random_seed(20250611);
    random_source source = {seed};
    memset(&done, 0, sizeof done);
    asked.at = (trial){.source = &source, .seed = seed};
    const int lists = random_tries(LISTS);
    for (int i = 0; i < lists; i++) {
        open_list(&asked.at, random_list(&source, PATTERNS, NH_HAND_MAX));
        asked.at.situation = (nh_situation)NH_SITUATION;
        asked.at.situation.prevailing = (nh_wind)random_below(&source, 5);
        asked.at.situation.seat = (nh_wind)random_below(&source, 5);
        expand(&asked.at);
        for (int hand = 0; hand < HANDS; hand++) {
            pick_question(&asked);
            check_hand(&asked);
        }
        release(&asked.at);
        close_list(&asked.at);
    }
    printf("seed %llu: %ld passes, %ld held against the reference, %ld against all draws, %ld "
           "without a live target, %ld hands with jokers, %ld with many jokers gone\n",
           (unsigned long long)seed, done.passes, done.plain, done.listed, done.none, done.jokers,
           done.short_of_jokers);
    ck_assert_int_ge(done.plain, lists);
    ck_assert_int_ge(done.listed, 10L * lists);
    ck_assert_int_ge(done.jokers, lists / 10);
}
END_TEST

/* ---------------------------------------------------------------- order --- */

/* A deal of a list, and a question about it. */
static void pick_deal(question *asked, random_source *source, int size, unsigned count) {
    nh_tiles pool = *nh_list_set(asked->at.list);
    asked->at.hand = random_draw(source, &pool, size);
    asked->at.situation = (nh_situation)NH_SITUATION;
    asked->at.situation.seen = random_draw(source, &pool, random_below(source, 10));
    asked->count = count;
    memset(asked->chosen, 1, sizeof asked->chosen);
}

static void open_shipped(question *asked, int which) {
    static const char *const names[3] = {"club", "jokers", "traditional"};
    char path[1024];
    snprintf(path, sizeof path, "%s/patterns/%s.json", NH_TEST_ROOT, names[which]);
    ck_assert_int_eq(nh_list_load(path, NULL, &asked->at.list, NULL), NH_OK);
    ck_assert_int_eq(nh_workspace_new(asked->at.list, NULL, &asked->at.workspace), NH_OK);
    asked->at.patterns = nh_list_size(asked->at.list);
    static char name[32]; /* names the list when a test fails */
    snprintf(name, sizeof name, "%s", names[which]);
    asked->at.json = name;
}

static void close_shipped(question *asked) {
    nh_workspace_free(asked->at.workspace);
    nh_list_free(asked->at.list);
}

/* The whole order, and the first few of it, which are found in another way. */
static void check_order(question *asked, random_source *source) {
    static question few;
    ask(asked, NH_PASSES_MAX);
    for (size_t i = 1; i < asked->passing.rows; i++) {
        MUST(&asked->at, compare_choices(&asked->choices[i - 1], &asked->choices[i]) < 0);
    }
    few = *asked;
    const int most = (int)asked->passing.passes;
    const size_t capacity =
        (size_t)(random_percent(source, 50) ? 1 : 1 + random_below(source, most));
    ask(&few, capacity);
    MUST(&asked->at, few.passing.rows == capacity && few.passing.passes == asked->passing.passes);
    for (size_t i = 0; i < capacity; i++) {
        MUST(&asked->at, same_choice(&few.choices[i], &asked->choices[i]));
    }
}

/* The choice that passes the same tiles. */
static const nh_choice *find_choice(const question *asked, const nh_tiles *pass) {
    for (size_t i = 0; i < asked->passing.rows; i++) {
        if (memcmp(&asked->choices[i].pass, pass, sizeof *pass) == 0) {
            return &asked->choices[i];
        }
    }
    ck_abort_msg("a pass is missing: %s", explain(&asked->at));
}

/* No average is below the distance before less the tiles drawn, none above the
 * distance after the pass; fewer patterns never make it less. */
static void check_laws(question *asked, random_source *source) {
    static question aimed;
    const uint64_t draws = asked->passing.draws;
    aimed = *asked;
    for (size_t i = 0; i < asked->at.patterns; i++) {
        aimed.chosen[i] = random_percent(source, 10);
    }
    ask(&aimed, NH_PASSES_MAX);
    for (size_t i = 0; i < asked->passing.rows; i++) {
        const nh_choice *choice = &asked->choices[i];
        const uint64_t before = asked->passing.away;
        MUST(&asked->at, choice->away >= before && choice->nearer <= draws);
        MUST(&asked->at, choice->expected + asked->count * draws >= before * draws);
        MUST(&asked->at, choice->expected <= choice->away * draws);
        MUST(&asked->at, find_choice(&aimed, &choice->pass)->expected >= choice->expected);
    }
}

/* Tiles that the nearest target has no use for can go without loss, as long as
 * what it needs is left. */
static long check_spare(question *asked) {
    trial *at = &asked->at;
    static nh_ranked rows[PATTERNS_MOST];
    nh_ranking ranking;
    long found = 0;
    MUST(at, ask_rank(at->workspace, &at->hand, &at->situation, NH_DRAWS_DEFAULT, NULL, rows,
                      PATTERNS_MOST, &ranking, NULL) == NH_OK);
    for (size_t r = 0; r < ranking.rows && rows[r].away == ranking.nearest; r++) {
        for (size_t i = 0; i < asked->passing.rows; i++) {
            const nh_choice *choice = &asked->choices[i];
            bool spare = true;
            for (int kind = 0; kind < NH_KINDS; kind++) {
                const int left = nh_list_set(at->list)->count[kind] -
                                 at->situation.seen.count[kind] - choice->pass.count[kind];
                spare &= choice->pass.count[kind] <= rows[r].spare.count[kind];
                spare &= rows[r].target.count[kind] <= left;
            }
            MUST(at, !spare || choice->away == ranking.nearest);
            found += spare;
        }
    }
    return found;
}

START_TEST(order_and_laws) {
    static question asked;
    const uint64_t seed = random_seed(20250612) + (uint64_t)_i;
    random_source source = {seed};
    long spare = 0;
    asked.at = (trial){.source = &source, .seed = seed};
    open_shipped(&asked, _i);
    for (int deal = 0; deal < DEALS; deal++) {
        pick_deal(&asked, &source, 13 + deal % 2, (unsigned)(3 - deal / 2 % 3));
        check_order(&asked, &source);
        check_laws(&asked, &source);
        spare += check_spare(&asked);
        asked.count = 0;
        ask(&asked, 1);
        MUST(&asked.at, asked.passing.draws == 1 && asked.passing.passes == 1);
        MUST(&asked.at, asked.choices[0].expected == asked.passing.away);
    }
    ck_assert_int_gt(spare, 0);
    close_shipped(&asked);
}
END_TEST

/* A simulation of one pass: the mean of distances is near the expectation. */
START_TEST(simulation) {
    static question asked;
    const uint64_t seed = random_seed(20250613) + (uint64_t)_i;
    random_source source = {seed};
    asked.at = (trial){.source = &source, .seed = seed};
    open_shipped(&asked, _i);
    pick_deal(&asked, &source, 14, 3);
    ask(&asked, 1);
    const remaining after = rest_of(&asked, &asked.choices[0].pass);
    double sum = 0, squares = 0;
    for (int i = 0; i < SIMULATED; i++) {
        remaining drawn = after;
        const nh_tiles tiles = random_draw(&source, &drawn.unseen, 3);
        for (int kind = 0; kind < NH_KINDS; kind++) {
            drawn.hand.count[kind] = (uint8_t)(drawn.hand.count[kind] + tiles.count[kind]);
        }
        const double away = away_by_distances(&drawn, &asked);
        sum += away;
        squares += away * away;
    }
    const double mean = sum / SIMULATED;
    const double error = sqrt((squares / SIMULATED - mean * mean) / SIMULATED);
    const double expected = (double)asked.choices[0].expected / (double)asked.passing.draws;
    printf("expected %.6f, simulated %.6f, standard error %.6f\n", expected, mean, error);
    ck_assert_double_gt(error, 0);
    ck_assert_double_le(fabs(mean - expected), 4 * error);
    close_shipped(&asked);
}
END_TEST

/* ----------------------------------------------------------- many seen --- */

/* A deal of a list, of which all is seen but the hand and `left` tiles. */
static void pick_late_deal(question *asked, random_source *source, int left) {
    pick_deal(asked, source, 14, 3);
    asked->at.situation = (nh_situation)NH_SITUATION;
    nh_tiles pool = *nh_list_set(asked->at.list);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        pool.count[kind] = (uint8_t)(pool.count[kind] - asked->at.hand.count[kind]);
    }
    random_draw(source, &pool, left);
    /* what is in the pool now is seen */
    asked->at.situation.seen = pool;
}

/* Late in a game jokers run out, targets die, and now and then nothing is left. */
START_TEST(many_tiles_seen) {
    static question asked;
    const uint64_t seed = random_seed(20250618) + (uint64_t)_i;
    random_source source = {seed};
    long live = 0;
    memset(&done, 0, sizeof done);
    asked.at = (trial){.source = &source, .seed = seed};
    open_shipped(&asked, _i);
    for (int deal = 0; deal < LATE_DEALS; deal++) {
        const int left = 3 + random_below(&source, deal % 2 == 0 ? 8 : 60);
        pick_late_deal(&asked, &source, left);
        check_order(&asked, &source);
        ask(&asked, NH_PASSES_MAX);
        const int rows = (int)asked.passing.rows;
        check_choice(&asked, &asked.choices[0], away_by_distances);
        for (int i = 0; i < LATE_ROWS && left < LATE_LEFT; i++) {
            check_choice(&asked, &asked.choices[random_below(&source, rows)], away_by_distances);
        }
        live += asked.passing.away != NH_AWAY_NONE;
    }
    printf("seed %llu: %ld of %d deals with a live target\n", (unsigned long long)seed, live,
           LATE_DEALS);
    ck_assert_int_gt(live, 0);
    ck_assert_int_lt(live, LATE_DEALS);
    ck_assert_int_gt(done.none, 0);
    close_shipped(&asked);
}
END_TEST

/* -------------------------------------------------------- looking ahead --- */

static nh_ahead look_ahead(question *asked, const nh_tiles *pass, unsigned further, uint64_t first,
                           uint64_t courses) {
    trial *at = &asked->at;
    nh_ahead ahead;
    MUST(at, ask_ahead(at->workspace, &at->hand, &at->situation, pass, further, NULL, 77, first,
                       courses, &ahead, NULL) == NH_OK);
    MUST(at, ahead.courses == courses);
    return ahead;
}

/* One course, with nothing of the library but draws and whole tables of passes. */
static int plain_course(question *asked, const nh_tiles *first, unsigned further, uint64_t course) {
    static question step;
    step = *asked;
    trial *at = &step.at;
    nh_random random;
    nh_random_start(&random, 77, course);
    nh_tiles pass = *first, unseen_tiles = rest_of(asked, first).unseen;
    for (unsigned i = 0; i <= further; i++) {
        if (i > 0) {
            ask(&step, NH_PASSES_MAX);
            pass = step.choices[0].pass;
        }
        for (int kind = 0; kind < NH_KINDS; kind++) {
            at->hand.count[kind] = (uint8_t)(at->hand.count[kind] - pass.count[kind]);
            at->situation.seen.count[kind] =
                (uint8_t)(at->situation.seen.count[kind] + pass.count[kind]);
        }
        nh_deal_draw(&random, &unseen_tiles, (int)step.count, &at->hand);
    }
    const nh_tiles nothing = {{0}};
    const remaining end = rest_of(&step, &nothing);
    return away_by_distances(&end, &step);
}

START_TEST(looking_ahead) {
    enum { COURSES = 2000, FURTHER = 2, FEW = 4 };
    static question asked;
    random_source source = {random_seed(20250617)};
    asked.at = (trial){.source = &source};
    open_shipped(&asked, 1);
    pick_deal(&asked, &source, 14, 3);
    ask(&asked, NH_PASSES_MAX);
    const nh_choice *best = &asked.choices[0];

    /* with no pass to follow it is a simulation of the exact figure */
    const nh_ahead one = look_ahead(&asked, &best->pass, 0, 0, COURSES);
    const double mean = (double)one.sum / COURSES;
    const double error = sqrt(((double)one.squares / COURSES - mean * mean) / (COURSES - 1));
    ck_assert_double_le(fabs(mean - (double)best->expected / (double)asked.passing.draws),
                        4 * error);

    /* courses can be split, and come again */
    const nh_ahead left = look_ahead(&asked, &best->pass, 0, 0, 700);
    const nh_ahead right = look_ahead(&asked, &best->pass, 0, 700, COURSES - 700);
    ck_assert_uint_eq(left.sum + right.sum, one.sum);
    ck_assert_uint_eq(left.squares + right.squares, one.squares);

    /* each further pass is the best */
    const nh_ahead far = look_ahead(&asked, &best->pass, FURTHER, 5, FEW);
    uint64_t sum = 0, squares = 0;
    for (uint64_t i = 5; i < 5 + FEW; i++) {
        const uint64_t away = (uint64_t)plain_course(&asked, &best->pass, FURTHER, i);
        sum += away;
        squares += away * away;
    }
    ck_assert_uint_eq(far.sum, sum);
    ck_assert_uint_eq(far.squares, squares);
    close_shipped(&asked);
}
END_TEST

START_TEST(wrong_looks_ahead) {
    static question asked;
    nh_ahead ahead;
    nh_error error = {0};
    open_shipped(&asked, 1);
    trial *at = &asked.at;
    at->situation = (nh_situation)NH_SITUATION;
    const char hand[] = "1234B 5678C EES JJJ";
    ck_assert_int_eq(nh_hand_parse(at->list, hand, sizeof hand - 1, &at->hand, &error), NH_OK);
    static const struct {
        const char *pass, *text;
        unsigned further;
        nh_status status;
    } wrong[] = {
        {"1B J", "J may not be passed", 0, NH_ERROR_TILES},
        {"11B", "the hand has 1 of 1B, not 2", 0, NH_ERROR_TILES},
        {"1234B", "the pass has 4 tiles; 0 to 3", 0, NH_ERROR_ARGUMENT},
        {"1B", "further is 65; 0 to 64", NH_FURTHER_MAX + 1, NH_ERROR_ARGUMENT},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        nh_tiles pass;
        ck_assert_int_eq(nh_tiles_parse(NULL, wrong[i].pass, strlen(wrong[i].pass), &pass, &error),
                         NH_OK);
        ck_assert_int_eq(ask_ahead(at->workspace, &at->hand, &at->situation, &pass,
                                   wrong[i].further, NULL, 1, 0, 1, &ahead, &error),
                         wrong[i].status);
        ck_assert_str_eq(error.text, wrong[i].text);
    }
    close_shipped(&asked);
}
END_TEST

/* ------------------------------------------------------------- symmetry --- */

static nh_tiles turn_suits(const nh_tiles *tiles) {
    nh_tiles turned = *tiles;
    for (int kind = 0; kind < 27; kind++) {
        turned.count[(kind + 9) % 27] = tiles->count[kind];
    }
    return turned;
}

START_TEST(symmetry) {
    static char list[] =
        "{\"format\":1,\"title\":\"Turning\",\"tiles\":{\"flowers\":4,\"jokers\":4},\"patterns\":["
        "{\"name\":\"Sets\",\"groups\":[{\"set\":\"any\",\"times\":4},{\"pair\":\"any\"}]},"
        "{\"name\":\"Kongs\",\"groups\":[{\"kong\":\"n\",\"suit\":\"x\"},{\"kong\":\"n\",\"suit\":"
        "\"y\"},"
        "{\"pung\":\"n\",\"suit\":\"z\"},{\"pung\":\"dragon\"}]}]}";
    static question asked, turned;
    random_source source = {random_seed(20250614)};
    asked.at = (trial){.source = &source, .patterns = 2, .json = list};
    ck_assert_int_eq(nh_list_read(list, sizeof list - 1, NULL, &asked.at.list, NULL), NH_OK);
    ck_assert_int_eq(nh_workspace_new(asked.at.list, NULL, &asked.at.workspace), NH_OK);
    for (int deal = 0; deal < DEALS; deal++) {
        pick_deal(&asked, &source, 14, 3);
        turned = asked;
        turned.at.hand = turn_suits(&asked.at.hand);
        turned.at.situation.seen = turn_suits(&asked.at.situation.seen);
        ask(&asked, NH_PASSES_MAX);
        ask(&turned, NH_PASSES_MAX);
        MUST(&asked.at, turned.passing.rows == asked.passing.rows);
        for (size_t i = 0; i < asked.passing.rows; i++) {
            const nh_choice *one = &asked.choices[i];
            const nh_tiles pass = turn_suits(&one->pass);
            const nh_choice *other = find_choice(&turned, &pass);
            MUST(&asked.at, one->expected == other->expected && one->nearer == other->nearer);
            MUST(&asked.at, one->away == other->away && one->within_one == other->within_one);
        }
    }
    nh_workspace_free(asked.at.workspace);
    nh_list_free(asked.at.list);
}
END_TEST

/* --------------------------------------------------------------- errors --- */

static nh_status ask_text(question *asked, const char *hand, const char *seen, unsigned count,
                          nh_error *error) {
    trial *at = &asked->at;
    at->situation = (nh_situation)NH_SITUATION;
    ck_assert_int_eq(nh_tiles_parse(at->list, hand, strlen(hand), &at->hand, error), NH_OK);
    ck_assert_int_eq(nh_tiles_parse(at->list, seen, strlen(seen), &at->situation.seen, error),
                     NH_OK);
    return ask_pass(at->workspace, &at->hand, &at->situation, count, NULL, asked->choices,
                    NH_PASSES_MAX, &asked->passing, error);
}

START_TEST(errors) {
    static question asked;
    nh_error error = {0};
    open_shipped(&asked, 1);
    ck_assert_int_eq(ask_text(&asked, "123B 456C 789D EEJJJ", "", 4, &error), NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "tiles is 4; a pass has 0 to 3");
    ck_assert_int_eq(ask_text(&asked, "1B 2C JJJJJJ", "", 3, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "only 2 of the hand's tiles may be passed, not 3");
    ck_assert_int_eq(ask_text(&asked, "1B 2C JJJJJJ", "", 2, &error), NH_OK);
    ck_assert_uint_eq(asked.passing.passes, 1);
    ck_assert_int_eq(ask_text(&asked, "", "", 0, &error), NH_ERROR_TILES);
    ck_assert_int_eq(ask_text(&asked, "1111B 2222B 3333B 4444B 5555B 6666B 7B", "", 0, &error),
                     NH_ERROR_TILES);
    ck_assert_int_eq(ask_text(&asked, "1111B", "1B", 1, &error), NH_ERROR_TILES);
    asked.at.situation.prevailing = (nh_wind)7;
    ck_assert_int_eq(ask_pass(asked.at.workspace, &asked.at.hand, &asked.at.situation, 1, NULL,
                              asked.choices, 1, &asked.passing, NULL),
                     NH_ERROR_ARGUMENT);
    close_shipped(&asked);
}
END_TEST

/* ------------------------------------------------------- few tiles left --- */

/* A list of bams alone, of which all are gone but the hand and `unseen`. */
static void open_few(question *asked, const char *hand, const char *unseen) {
    static char list[] =
        "{\"format\":1,\"title\":\"Few\",\"hand\":4,\"tiles\":{\"jokers\":4,\"suits\":[\"bam\"],"
        "\"winds\":false,\"dragons\":false},\"patterns\":["
        "{\"name\":\"Pairs\",\"groups\":[{\"pair\":\"any\",\"times\":2}]}]}";
    trial *at = &asked->at;
    nh_tiles left;
    *at = (trial){.situation = NH_SITUATION};
    ck_assert_int_eq(nh_list_read(list, sizeof list - 1, NULL, &at->list, NULL), NH_OK);
    ck_assert_int_eq(nh_workspace_new(at->list, NULL, &at->workspace), NH_OK);
    ck_assert_int_eq(nh_tiles_parse(at->list, hand, strlen(hand), &at->hand, NULL), NH_OK);
    ck_assert_int_eq(nh_tiles_parse(at->list, unseen, strlen(unseen), &left, NULL), NH_OK);
    at->situation.seen = *nh_list_set(at->list);
    for (int kind = 0; kind < NH_KINDS; kind++) {
        at->situation.seen.count[kind] =
            (uint8_t)(at->situation.seen.count[kind] - at->hand.count[kind] - left.count[kind]);
    }
}

static nh_status ask_few(question *asked, unsigned count, const uint8_t *chosen, size_t capacity,
                         nh_error *error) {
    const trial *at = &asked->at;
    return ask_pass(at->workspace, &at->hand, &at->situation, count, chosen, asked->choices,
                    capacity, &asked->passing, error);
}

START_TEST(as_many_tiles_must_be_unseen) {
    static question asked;
    nh_error error;
    open_few(&asked, "11233B", "35B");
    ck_assert_int_eq(ask_few(&asked, 3, NULL, NH_PASSES_MAX, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "a hand of this list has 1 to 4 tiles, not 5");
    close_shipped(&asked);
    open_few(&asked, "112B", "3B");
    ck_assert_int_eq(ask_few(&asked, 2, NULL, NH_PASSES_MAX, &error), NH_ERROR_TILES);
    ck_assert_str_eq(error.text, "only 1 tiles are unseen: 2 cannot come in");
    ck_assert_int_eq(ask_few(&asked, 1, NULL, 0, &error), NH_OK);
    ck_assert_uint_eq(asked.passing.passes, 2);
    ck_assert_uint_eq(asked.passing.rows, 0);
    close_shipped(&asked);
    /* the only draw is known, and completes what the right pass leaves */
    open_few(&asked, "1135B", "3B");
    ck_assert_int_eq(ask_few(&asked, 1, NULL, 1, &error), NH_OK);
    ck_assert_uint_eq(asked.passing.draws, 1);
    ck_assert_uint_eq(asked.choices[0].pass.count[NH_BAM_1 + 4], 1);
    ck_assert_uint_eq(asked.choices[0].expected, 0);
    close_shipped(&asked);
}
END_TEST

/* Where jokers alone are unseen, they come in; and where each tile is needed, no
 * pass leaves a target. */
START_TEST(nothing_is_left_to_hope_for) {
    static question asked;
    nh_error error;
    open_few(&asked, "1135B", "JJ");
    ck_assert_int_eq(ask_few(&asked, 2, NULL, NH_PASSES_MAX, &error), NH_OK);
    ck_assert_uint_eq(asked.passing.draws, 1);
    ck_assert_uint_eq(asked.choices[0].expected, UINT64_MAX);
    close_shipped(&asked);
    open_few(&asked, "1133B", "3BJ");
    ck_assert_int_eq(ask_few(&asked, 2, NULL, 1, &error), NH_OK);
    ck_assert_uint_eq(asked.passing.passes, 3);
    ck_assert_uint_eq(asked.passing.rows, 1);
    ck_assert_uint_eq(asked.choices[0].away, NH_AWAY_NONE);
    ck_assert_uint_eq(asked.choices[0].expected, UINT64_MAX);
    close_shipped(&asked);
    /* four alike are two pairs: the jokers stand for none of them */
    open_few(&asked, "115B", "11BJJ");
    ck_assert_int_eq(ask_few(&asked, 1, NULL, NH_PASSES_MAX, &error), NH_OK);
    ck_assert_uint_eq(asked.passing.draws, 4);
    ck_assert_uint_eq(asked.choices[0].pass.count[NH_BAM_1 + 4], 1);
    ck_assert_uint_eq(asked.choices[0].away, 2);
    ck_assert_uint_eq(asked.choices[0].expected, 2 * 1 + 2 * 2);
    close_shipped(&asked);
}
END_TEST

/* Where only a joker can complete the hand, no draw without one brings it nearer: the best
 * pass is the same whether all are worked out or the first is looked for. */
START_TEST(only_jokers_help) {
    nh_list *list =
        read_list("{'format': 1, 'title': 'Five', 'hand': 8, 'tiles': {'jokers': 4}, 'patterns': ["
                  "{'name': 'Q', 'groups': [{'quint': 5, 'suit': 'bam'}, {'pung': 'dragon'}]},"
                  "{'name': 'R', 'groups': [{'sextet': 7, 'suit': 'bam'}, {'pair': 'east'}]}]}");
    nh_workspace *workspace = new_workspace(list);
    static const char *const hands[] = {"5555B RRR E", "5555B RR E N", "7777B EE 1B 2B",
                                        "7777B E 1B 2B N", "5555B 1234C"};
    for (size_t i = 0; i < sizeof hands / sizeof *hands; i++)
        for (unsigned tiles = 1; tiles <= 3; tiles++) {
            static nh_choice all[NH_PASSES_MAX];
            const nh_tiles hand = tiles_of(hands[i]);
            nh_situation situation = NH_SITUATION;
            nh_choice first;
            nh_passing passing, once;
            ck_assert_int_eq(ask_pass(workspace, &hand, &situation, tiles, NULL, all, NH_PASSES_MAX,
                                      &passing, NULL),
                             NH_OK);
            ck_assert_int_eq(
                ask_pass(workspace, &hand, &situation, tiles, NULL, &first, 1, &once, NULL), NH_OK);
            ck_assert(nh_tiles_equal(&first.pass, &all[0].pass));
            ck_assert_uint_eq(first.expected, all[0].expected);
        }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* Only bams and jokers are unseen, and so few that after some passes every draw completes the
 * hand. Nothing is nearer than complete: a brief look must not count draws as if they were. */
START_TEST(nearly_all_draws_complete_the_hand) {
    nh_list *list =
        read_list("{'format': 1, 'title': 'Three', 'hand': 3, 'tiles': {'jokers': 6}, 'patterns': ["
                  "{'name': 'P', 'groups': [{'pung': 'any'}]},"
                  "{'name': 'Q', 'groups': [{'kong': 6, 'suit': 'bam'}]}]}");
    nh_workspace *workspace = new_workspace(list);
    const uint64_t seed = random_seed(20261126);
    random_source source = {seed};
    long farther = 0;
    for (int i = 0; i < 400; i++) {
        static nh_choice all[NH_PASSES_MAX], first[NH_PASSES_MAX];
        nh_situation situation = NH_SITUATION;
        nh_passing passing, once;
        nh_tiles pool = tiles_of("2444466B"), hand = random_draw(&source, &pool, 4);
        pool.count[NH_JOKER] = 6;
        const nh_tiles unseen = random_draw(&source, &pool, 3 + random_below(&source, 5));
        const unsigned tiles = 2 + (unsigned)random_below(&source, 2);
        const size_t capacity = 1 + (size_t)random_below(&source, 3);
        for (int kind = 0; kind < NH_KINDS; kind++)
            situation.seen.count[kind] =
                (uint8_t)(nh_list_set(list)->count[kind] - hand.count[kind] - unseen.count[kind]);
        ck_assert_int_eq(
            ask_pass(workspace, &hand, &situation, tiles, NULL, all, NH_PASSES_MAX, &passing, NULL),
            NH_OK);
        ck_assert_int_eq(
            ask_pass(workspace, &hand, &situation, tiles, NULL, first, capacity, &once, NULL),
            NH_OK);
        for (size_t row = 0; row < once.rows; row++)
            ck_assert_msg(same_choice(&first[row], &all[row]), "seed %llu, hand %d, row %zu",
                          (unsigned long long)seed, i, row);
        farther += all[0].expected == 0 && all[0].away > passing.away;
    }
    printf("seed %llu: %ld passes that lead away, after which all draws complete the hand\n",
           (unsigned long long)seed, farther);
    ck_assert_int_gt(farther, 0);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* A course ends where no tiles can come in any more; one after which no target
 * is live is not counted. */
START_TEST(courses_end_early) {
    static question asked;
    nh_ahead once, again;
    nh_tiles pass = {{0}};
    open_few(&asked, "113B", "3456B");
    pass.count[NH_BAM_1 + 2] = 1;
    pass.count[NH_BAM_1] = 2;
    const trial *at = &asked.at;
    ck_assert_int_eq(
        ask_ahead(at->workspace, &at->hand, &at->situation, &pass, 0, NULL, 7, 0, 20, &once, NULL),
        NH_OK);
    ck_assert_int_eq(
        ask_ahead(at->workspace, &at->hand, &at->situation, &pass, 5, NULL, 7, 0, 20, &again, NULL),
        NH_OK);
    ck_assert_uint_eq(once.courses, 0); /* nothing makes two pairs of what is left */
    ck_assert_uint_eq(once.sum + once.squares, 0);
    ck_assert_uint_eq(again.courses, 0);
    asked.at.situation.seat = (nh_wind)5;
    ck_assert_int_eq(
        ask_ahead(at->workspace, &at->hand, &at->situation, &pass, 0, NULL, 7, 0, 20, &once, NULL),
        NH_ERROR_ARGUMENT);
    close_shipped(&asked);

    open_few(&asked, "1235B", "1235B"); /* all that is unseen comes in at once */
    memset(&pass, 0, sizeof pass);
    pass.count[NH_BAM_1] = pass.count[NH_BAM_1 + 1] = pass.count[NH_BAM_1 + 2] = 1;
    ck_assert_int_eq(
        ask_ahead(at->workspace, &at->hand, &at->situation, &pass, 0, NULL, 7, 0, 20, &once, NULL),
        NH_OK);
    ck_assert_int_eq(
        ask_ahead(at->workspace, &at->hand, &at->situation, &pass, 5, NULL, 7, 0, 20, &again, NULL),
        NH_OK);
    ck_assert_uint_eq(once.courses, again.courses);
    ck_assert_uint_eq(once.sum, again.sum);
    ck_assert_uint_eq(once.squares, again.squares);
    close_shipped(&asked);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("pass");
    TCase *tests = tcase_create("pass");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, random_lists);
    tcase_add_loop_test(tests, order_and_laws, 0, 3);
    tcase_add_loop_test(tests, many_tiles_seen, 0, 3);
    tcase_add_loop_test(tests, simulation, 0, 3);
    tcase_add_test(tests, looking_ahead);
    tcase_add_test(tests, wrong_looks_ahead);
    tcase_add_test(tests, symmetry);
    tcase_add_test(tests, errors);
    tcase_add_test(tests, as_many_tiles_must_be_unseen);
    tcase_add_test(tests, nothing_is_left_to_hope_for);
    tcase_add_test(tests, only_jokers_help);
    tcase_add_test(tests, nearly_all_draws_complete_the_hand);
    tcase_add_test(tests, courses_end_early);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
