/*
 * Reading another player, against listing every hidden hand: few tiles are unseen, so that
 * all hands can be listed, and each is held against every rest of every pattern
 * (listed_rests.c). Then laws, published counts of waiting hands, and a simulation.
 * NEARHAND_SEED chooses the lists, NEARHAND_TRIES how many.
 */
#define _POSIX_C_SOURCE 200809L
#include "hidden_hands.h"
#include "listed_rests.h"

#include "api.h"

enum { LISTS = 60, PATTERNS = 3, TABLES = 5, CASES = 14 };

static struct { long cases, ready, jokers, mine, last, hidden; } done;

/* One case: what is known, and the counts by listing. */
typedef struct reading_case {
    const trial *at;
    const rests *rests; /* of each pattern */
    nh_tiles seen;
    hidden_hands plain;
} reading_case;

/* --------------------------------------------------------------- compare --- */

static bool is_count(const nh_natural *number, uint64_t count) {
    return number->limb[0] == count && number->limb[1] == 0 && number->limb[2] == 0;
}

static const char *explain_case(const reading_case *one) {
    static char text[24000];
    char unseen[NH_TILES_TEXT_SIZE], mine[NH_TILES_TEXT_SIZE];
    nh_tiles_format(&one->plain.unseen, NH_STYLE_LETTERS, unseen, sizeof unseen);
    nh_tiles_format(&one->plain.mine, NH_STYLE_LETTERS, mine, sizeof mine);
    snprintf(text, sizeof text, "unseen \"%s\", mine \"%s\", %d hidden; %s", unseen, mine,
             one->plain.hidden, explain(one->at));
    return text;
}

#define HOLDS(one, condition)                                                                      \
    do {                                                                                           \
        if (!(condition)) {                                                                        \
            ck_abort_msg("%s does not hold: %s", #condition, explain_case(one));                   \
        }                                                                                          \
    } while (0)

static void check_patterns(const reading_case *one, const nh_reading *reading) {
    size_t given = 0;
    for (size_t p = 0; p < one->at->patterns; p++) {
        given += one->plain.of_pattern[p] > 0;
    }
    HOLDS(one, reading->patterns == given && reading->uncounted == 0);
    for (size_t i = 0; i < given; i++) {
        const nh_read_pattern *row = nh_reading_pattern(reading, i);
        const double share = (double)one->plain.of_pattern[row->pattern] / (double)one->plain.ready;
        HOLDS(one,
              row->status == NH_OK && is_count(&row->ready, one->plain.of_pattern[row->pattern]));
        HOLDS(one, row->share > share - 1e-12 && row->share < share + 1e-12);
        if (i > 0) {
            const nh_read_pattern *before = nh_reading_pattern(reading, i - 1);
            const int order = nh_natural_compare(&before->ready, &row->ready);
            HOLDS(one, order > 0 || (order == 0 && before->pattern < row->pattern));
        }
    }
    HOLDS(one, nh_reading_pattern(reading, given) == NULL);
}

static void check_tiles(const reading_case *one, const nh_reading *reading) {
    size_t given = 0;
    for (int kind = 0; kind < NH_JOKER; kind++) {
        given += one->plain.wins[kind] > 0 || one->plain.mine.count[kind] > 0;
    }
    HOLDS(one, reading->tiles == given);
    for (size_t i = 0; i < given; i++) {
        const nh_read_tile *row = nh_reading_tile(reading, i);
        const double danger = one->plain.ready == 0
                                  ? 0.0
                                  : (double)one->plain.wins[row->kind] / (double)one->plain.ready;
        HOLDS(one, is_count(&row->wins, one->plain.wins[row->kind]));
        HOLDS(one, row->danger > danger - 1e-12 && row->danger < danger + 1e-12);
        HOLDS(one, row->mine == one->plain.mine.count[row->kind]);
        HOLDS(one, row->unseen == one->plain.unseen.count[row->kind]);
        if (i > 0) {
            const nh_read_tile *before = nh_reading_tile(reading, i - 1);
            const int order = nh_natural_compare(&before->wins, &row->wins);
            HOLDS(one, (before->mine > 0 && row->mine == 0) || order > 0 ||
                           (order == 0 && before->kind < row->kind));
            HOLDS(one, before->mine > 0 || row->mine == 0);
        }
    }
    HOLDS(one, nh_reading_tile(reading, given) == NULL);
}

static void compare_case(reading_case *one, const nh_list *rest) {
    nh_reading *reading = NULL;
    nh_error error = {NH_OK, 0, ""};
    nh_situation known = one->at->situation;
    nh_read_question question = NH_READ_QUESTION;
    known.seen = one->seen;
    question.situation = &known;
    question.mine = &one->plain.mine;
    question.hidden = one->plain.hidden;
    list_hidden_hands(&one->plain);
    done.hidden += one->plain.listed;
    ck_assert_msg(nh_read(rest, &question, NULL, &reading, &error) == NH_OK, "%s: %s", error.text,
                  explain_case(one));
    HOLDS(one, reading->status == NH_OK && reading->hidden == one->plain.hidden);
    HOLDS(one, is_count(&reading->hands, one->plain.hands));
    HOLDS(one, is_count(&reading->ready, one->plain.ready));
    check_patterns(one, reading);
    check_tiles(one, reading);
    nh_reading_free(reading);
    done.cases++;
    done.ready += one->plain.ready > 0;
    done.jokers += one->plain.ready > 0 && one->plain.unseen.count[NH_JOKER] > 0;
    done.mine += one->plain.ready > 0 && nh_tiles_total(&one->plain.mine) > 0;
    done.last += one->plain.ready > 0 && one->plain.unseen.count[NH_JOKER] > 0 &&
                 one->plain.mine.count[NH_JOKER] == 0 &&
                 one->plain.unseen.count[NH_JOKER] <= one->plain.hidden;
}

/* ----------------------------------------------------------------- cases --- */

/* Moves a tile of a kind from the pool to `to`, if there is one. */
static void move_tile(nh_tiles *pool, nh_tiles *to, int kind) {
    if (pool->count[kind] > 0) {
        pool->count[kind]--;
        to->count[kind]++;
    }
}

/* Unseen and own tiles that are near a rest; all others are seen. False where none is. */
static bool pick_case(reading_case *one, const nh_list *rest) {
    random_source *source = one->at->source;
    const size_t pattern = (size_t)random_below(source, (int)one->at->patterns);
    nh_tiles pool = *nh_list_set(rest);
    if (one->rests[pattern].count == 0) {
        return false;
    }
    const ref_sum *goal =
        &one->rests[pattern].sums[random_below(source, (int)one->rests[pattern].count)];
    one->plain.hidden = nh_tiles_total(&goal->tiles) - 1;
    if (one->plain.hidden < 0 || random_percent(source, 5)) {
        one->plain.hidden = random_below(source, 6);
    }
    for (int kind = 0; kind < NH_JOKER; kind++) {
        for (int i = 0; i < goal->tiles.count[kind]; i++) {
            const int way = random_below(source, 100);
            move_tile(&pool, way < 85 ? &one->plain.unseen : &one->plain.mine, kind);
        }
    }
    for (int jokers = random_below(source, 4); jokers > 0; jokers--) {
        move_tile(&pool, random_percent(source, 85) ? &one->plain.unseen : &one->plain.mine,
                  NH_JOKER);
    }
    const size_t other = (size_t)random_below(source, (int)one->at->patterns);
    for (int i = random_below(source, 6); i > 0 && one->rests[other].count > 0; i--) {
        const ref_sum *sum =
            &one->rests[other].sums[random_below(source, (int)one->rests[other].count)];
        const int kind = random_below(source, NH_JOKER);
        if (sum->tiles.count[kind] > 0) {
            move_tile(&pool, random_percent(source, 80) ? &one->plain.unseen : &one->plain.mine,
                      kind);
        }
    }
    for (int i = random_below(source, 4); i > 0; i--) {
        const int kind = random_below(source, NH_KINDS);
        move_tile(&pool, random_percent(source, 60) ? &one->plain.unseen : &one->plain.mine, kind);
    }
    one->seen = pool;
    return one->plain.hidden <= nh_tiles_total(&one->plain.unseen) &&
           different_hidden_hands(&one->plain.unseen, one->plain.hidden) <= HIDDEN_HANDS_MOST;
}

static void check_table(trial *at) {
    const table on = lay_table(at);
    rests all[PATTERNS_MOST] = {{0}};
    nh_list *rest = NULL;
    for (size_t p = 0; p < at->patterns; p++) {
        all[p] = rests_of(at, p, &on);
    }
    MUST(at, nh_list_rest(at->list, on.sets, on.count, NULL, &rest, NULL) == NH_OK);
    for (int i = 0; i < CASES; i++) {
        reading_case one = {.at = at, .rests = all, .plain = {.patterns = at->patterns}};
        for (size_t p = 0; p < at->patterns; p++) {
            one.plain.targets[p] = (hidden_targets){all[p].sums, all[p].count};
        }
        if (pick_case(&one, rest)) {
            compare_case(&one, rest);
        }
    }
    nh_list_free(rest);
    for (size_t p = 0; p < at->patterns; p++) {
        free(all[p].sums);
    }
}

static char *next_list(random_source *source) {
    const int most = 5 + random_below(source, 9);
    return random_list(source, PATTERNS, most);
}

START_TEST(readings_are_those_of_listing) {
    static trial at;
    const int count =
        try_lists(&at, &(trials){20261201, LISTS, 30, TABLES, next_list, check_table});
    printf("seed %llu: %ld cases, %ld with hands that are ready (%ld with jokers, %ld with own "
           "tiles, %ld with all jokers hidden); %ld hidden hands\n",
           (unsigned long long)at.seed, done.cases, done.ready, done.jokers, done.mine, done.last,
           done.hidden);
    ck_assert_int_gt(done.ready, done.cases / 3);
    ck_assert(count < LISTS || (done.jokers > 0 && done.mine > 0 && done.last > 0));
}
END_TEST

/* ------------------------------------------------------------------ laws --- */

static nh_reading *read_with(const nh_list *list, const nh_read_question *question) {
    nh_reading *reading = NULL;
    nh_error error = {NH_OK, 0, ""};
    ck_assert_msg(nh_read(list, question, NULL, &reading, &error) == NH_OK, "%s", error.text);
    ck_assert_int_eq(reading->status, NH_OK);
    return reading;
}

static const nh_read_tile *tile_of(const nh_reading *reading, int kind) {
    for (size_t i = 0; i < reading->tiles; i++) {
        if (nh_reading_tile(reading, i)->kind == kind) {
            return nh_reading_tile(reading, i);
        }
    }
    return NULL;
}

#define HEAD "{'format':1,'title':'Slack Water List','hand':14,'tiles':{'jokers':4},'patterns':["
#define SETS "{'name':'Sets','groups':[{'set':'any','times':4},{'pair':'any'}]}"
#define PAIRS "{'name':'Pairs','groups':[{'pair':'any','times':7}]}"
#define BAMS                                                                                       \
    "{'name':'Bams','groups':[{'set':'any','suit':'bam','times':4},{'pair':'any','suit':'bam'}]}"

/* No pattern has dots, so none is dangerous, and only those in the hand are given. */
START_TEST(tiles_of_no_pattern_are_safe) {
    nh_list *list = read_list(HEAD BAMS "]}");
    const nh_tiles mine = tiles_of("123D EE 5B");
    nh_read_question question = NH_READ_QUESTION;
    question.mine = &mine;
    nh_reading *reading = read_with(list, &question);
    ck_assert_int_eq(reading->hidden, 13);
    ck_assert_uint_eq(reading->tiles, 9 + 4);
    ck_assert_int_eq(nh_reading_tile(reading, 0)->kind, NH_BAM_1 + 4);
    for (size_t i = 1; i < 5; i++) {
        const nh_read_tile *tile = nh_reading_tile(reading, i);
        ck_assert(tile->mine > 0 && is_count(&tile->wins, 0) && !(tile->danger > 0));
    }
    for (size_t i = 5; i < reading->tiles; i++) {
        ck_assert_int_lt(nh_reading_tile(reading, i)->kind, NH_CRAK_1);
        ck_assert(nh_reading_tile(reading, i)->danger > 0);
    }
    nh_reading_free(reading);
    nh_list_free(list);
}
END_TEST

/* All tiles but the hidden ones are known: there is one hidden hand, and a tile completes
 * it or does not. A tile that none is left of completes nothing. */
START_TEST(one_hidden_hand) {
    nh_list *list = read_list(HEAD SETS "," PAIRS "]}");
    nh_situation known = NH_SITUATION;
    const nh_tiles hidden = tiles_of("123456789B EEE 5D"), mine = tiles_of("5D 5B");
    known.seen = *nh_list_set(list);
    ck_assert(nh_tiles_take(&known.seen, &hidden) && nh_tiles_take(&known.seen, &mine));
    nh_read_question question = NH_READ_QUESTION;
    question.situation = &known;
    question.mine = &mine;
    nh_reading *reading = read_with(list, &question);
    ck_assert(is_count(&reading->hands, 1) && is_count(&reading->ready, 1));
    ck_assert_uint_eq(reading->tiles, 2);
    ck_assert_int_eq(nh_reading_tile(reading, 0)->kind, NH_DOT_1 + 4);
    ck_assert(nh_reading_tile(reading, 0)->danger >= 1.0);
    ck_assert(!(nh_reading_tile(reading, 1)->danger > 0));
    ck_assert_uint_eq(reading->patterns, 1);
    nh_reading_free(reading);
    question.mine = NULL; /* the copies of the five of dots have been let go */
    ck_assert(nh_tiles_add(&known.seen, &mine));
    reading = read_with(list, &question);
    ck_assert(is_count(&reading->hands, 1) && is_count(&reading->ready, 0));
    ck_assert_uint_eq(reading->tiles, 0);
    ck_assert_uint_eq(reading->patterns, 0);
    nh_reading_free(reading);
    question.hidden = 14;
    ck_assert_int_eq(nh_read(list, &question, NULL, &reading, NULL), NH_ERROR_TILES);
    ck_assert_ptr_null(reading);
    nh_list_free(list);
}
END_TEST

static nh_natural ready_of(const char *patterns) {
    char json[1024];
    snprintf(json, sizeof json, HEAD "%s]}", patterns);
    nh_list *list = read_list(json);
    nh_reading *reading = read_with(list, NULL);
    const nh_natural ready = reading->ready;
    nh_reading_free(reading);
    nh_list_free(list);
    return ready;
}

/* Hands that are ready for both of two patterns are |A| + |B| less those for either; what
 * three patterns have in common is then between nothing and the least of these, and the
 * reading of all three is as each pattern alone. */
START_TEST(patterns_add_up) {
    static const char *const alone[] = {SETS, PAIRS, BAMS};
    static const char *const two[] = {SETS "," PAIRS, SETS "," BAMS, PAIRS "," BAMS};
    nh_list *list = read_list(HEAD SETS "," PAIRS "," BAMS "]}");
    nh_reading *reading = read_with(list, NULL);
    nh_natural sum = reference_number(0), common = reading->ready, least = reading->ready;
    for (int i = 0; i < 3; i++) {
        const nh_natural one = ready_of(alone[i]);
        sum = reference_add(sum, one);
        for (size_t j = 0; j < reading->patterns; j++) {
            const nh_read_pattern *row = nh_reading_pattern(reading, j);
            ck_assert(row->pattern != (uint32_t)i || reference_compare(row->ready, one) == 0);
        }
    }
    /* |A and B and C| = |A or B or C| - sum of |A| + sum of |A and B|. */
    nh_natural pairs = reference_number(0);
    for (int i = 0; i < 3; i++) {
        const int a = i == 2 ? 1 : 0, b = i == 0 ? 1 : 2;
        const nh_natural both = reference_subtract(
            reference_add(ready_of(alone[a]), ready_of(alone[b])), ready_of(two[i]));
        pairs = reference_add(pairs, both);
        least = reference_compare(both, least) < 0 ? both : least;
    }
    common = reference_subtract(reference_add(common, pairs), sum);
    ck_assert_int_le(reference_compare(common, least), 0);
    ck_assert_int_gt(reference_compare(common, reference_number(0)), 0);
    /* Bams are sets, so what they have in common with pairs all three have. */
    ck_assert_int_eq(reference_compare(common, least), 0);
    nh_reading_free(reading);
    nh_list_free(list);
}
END_TEST

/* A pung of which no tile is left, all in jokers: the last joker must be left too. */
START_TEST(jokers_alone) {
    nh_list *list = read_list("{'format':1,'title':'Ebb List','hand':3,'tiles':{'jokers':4},"
                              "'patterns':[{'name':'Ones','groups':[{'pung':1,'suit':'bam'}]}]}");
    nh_situation known = NH_SITUATION;
    nh_read_question question = NH_READ_QUESTION;
    question.situation = &known;
    for (int seen = 0; seen <= 3; seen++) {
        const int unseen = 4 - seen;
        known.seen = tiles_of("1111B");
        known.seen.count[NH_JOKER] = (uint8_t)seen;
        nh_reading *reading = read_with(list, &question);
        /* two jokers are hidden, and one more is left */
        ck_assert(
            is_count(&reading->ready, unseen > 2 ? (uint64_t)(unseen * (unseen - 1) / 2) : 0));
        ck_assert_uint_eq(reading->tiles, 0);
        nh_reading_free(reading);
    }
    nh_list_free(list);
}
END_TEST

/* With the winds known, only their tiles count; with one unknown, all of its. */
START_TEST(winds_of_the_player) {
    nh_list *list =
        read_list("{'format':1,'title':'Trade Wind List','hand':5,'patterns':["
                  "{'name':'Winds','groups':[{'pung':'prevailing'},{'pair':'seat'}]}]}");
    for (int prevailing = 0; prevailing <= 4; prevailing++) {
        for (int seat = 0; seat <= 4; seat++) {
            nh_situation known = NH_SITUATION;
            nh_read_question question = NH_READ_QUESTION;
            known.prevailing = (nh_wind)prevailing;
            known.seat = (nh_wind)seat;
            question.situation = &known;
            nh_reading *reading = read_with(list, &question);
            const size_t both = prevailing == seat ? 0 : 2; /* no wind has five tiles */
            ck_assert_uint_eq(reading->tiles, prevailing == 0 || seat == 0 ? 4 : both);
            nh_reading_free(reading);
        }
    }
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------------------- published --- */

#define ONE_SUIT(patterns)                                                                         \
    "{'format':1,'title':'One Suit List','hand':14,'tiles':{'suits':['bam'],'winds':false,"        \
    "'dragons':false},'patterns':[" patterns "]}"
#define DIFFERENT_PAIRS "{'name':'Pairs','groups':[{'pair':'any','times':7,'distinct':true}]}"

/* Whether tiles of a suit are sets alone, or with a pair when one is still to come. */
static bool is_whole(int *tiles, int rank, bool pair) {
    while (rank < 9 && tiles[rank] == 0) {
        rank++;
    }
    if (rank == 9) {
        return !pair;
    }
    bool whole = false;
    if (tiles[rank] >= 3) {
        tiles[rank] -= 3;
        whole = is_whole(tiles, rank, pair);
        tiles[rank] += 3;
    }
    if (!whole && pair && tiles[rank] >= 2) {
        tiles[rank] -= 2;
        whole = is_whole(tiles, rank, false);
        tiles[rank] += 2;
    }
    if (!whole && rank < 7 && tiles[rank + 1] > 0 && tiles[rank + 2] > 0) {
        for (int i = 0; i < 3; i++) {
            tiles[rank + i]--;
        }
        whole = is_whole(tiles, rank, pair);
        for (int i = 0; i < 3; i++) {
            tiles[rank + i]++;
        }
    }
    return whole;
}

/* Whether 14 tiles of a suit are seven different pairs. */
static bool is_seven_pairs(const int *tiles) {
    int pairs = 0;
    for (int rank = 0; rank < 9; rank++) {
        pairs += tiles[rank] == 2;
    }
    return pairs == 7;
}

typedef struct waiting {
    bool pairs;     /* seven different pairs are complete too */
    long hands[10]; /* by the kinds that they wait for */
    uint64_t ready, wins[9];
} waiting;

static void note_waits(waiting *all, int *tiles) {
    static const uint64_t choose[] = {1, 4, 6, 4, 1};
    uint64_t ways = 1;
    int kinds = 0;
    bool waits[9] = {false};
    for (int rank = 0; rank < 9; rank++) {
        ways *= choose[tiles[rank]];
        if (tiles[rank] < 4) {
            tiles[rank]++;
            waits[rank] = is_whole(tiles, 0, true) || (all->pairs && is_seven_pairs(tiles));
            tiles[rank]--;
            kinds += waits[rank];
        }
    }
    all->hands[kinds]++;
    all->ready += kinds > 0 ? ways : 0;
    for (int rank = 0; rank < 9; rank++) {
        all->wins[rank] += waits[rank] ? ways : 0;
    }
}

static void list_suit(waiting *all, int *tiles, int rank, int more) {
    if (rank == 9) {
        if (more == 0) {
            note_waits(all, tiles);
        }
        return;
    }
    for (tiles[rank] = 0; tiles[rank] <= 4 && tiles[rank] <= more; tiles[rank]++) {
        list_suit(all, tiles, rank + 1, more - tiles[rank]);
    }
    tiles[rank] = 0;
}

/* The reading of a list has the hands that were listed, weighted with the copies of their
 * tiles. */
static void check_waits(const char *json, const waiting *all) {
    nh_list *list = read_list(json);
    nh_reading *reading = read_with(list, NULL);
    const nh_natural every = reference_choose(36, 13);
    ck_assert_int_eq(reference_compare(reading->hands, every), 0);
    ck_assert(is_count(&reading->ready, all->ready));
    ck_assert_uint_eq(reading->tiles, 9);
    for (int rank = 0; rank < 9; rank++) {
        ck_assert(is_count(&tile_of(reading, rank)->wins, all->wins[rank]));
    }
    nh_reading_free(reading);
    nh_list_free(list);
}

/* Hands of 13 tiles of one suit that wait with four sets and a pair, by the kinds that
 * they wait for. Source: endlessriichi, "Computing all Chinitsu possibilities", 24 August
 * 2016, for the kinds and the sum; that of 93,600 hands is mahjong-lurker.xyz,
 * "清一色の組み合わせ". The published hands are listed here, and weighted with the
 * copies of their tiles they are those of the reading. */
START_TEST(published_waits_of_one_suit) {
    static const long published[] = {0, 14067, 14493, 6739, 2948, 1335, 392, 79, 16, 1};
    waiting all = {0};
    int tiles[9] = {0};
    long waits = 0, hands = 0;
    list_suit(&all, tiles, 0, 13);
    for (int kinds = 0; kinds <= 9; kinds++) {
        ck_assert(kinds == 0 || all.hands[kinds] == published[kinds]);
        waits += kinds == 0 ? 0 : all.hands[kinds];
        hands += all.hands[kinds];
    }
    ck_assert_int_eq(waits, 40070);
    ck_assert_int_eq(hands, 93600);
    check_waits(ONE_SUIT(SETS), &all);
}
END_TEST

/* The same with seven different pairs beside them. Source: mahjong-lurker.xyz,
 * "清一色の組み合わせ". */
START_TEST(published_waits_with_pairs) {
    waiting all = {.pairs = true};
    int tiles[9] = {0};
    long waits = 0;
    list_suit(&all, tiles, 0, 13);
    for (int kinds = 1; kinds <= 9; kinds++) {
        waits += all.hands[kinds];
    }
    ck_assert_int_eq(waits, 40196);
    check_waits(ONE_SUIT(SETS "," DIFFERENT_PAIRS), &all);
}
END_TEST

/* ------------------------------------------------------------- simulation --- */

/* Within four standard errors of so many draws. */
static bool is_near(double share, long hits, long draws) {
    const double mean = (double)hits / (double)draws - share;
    return mean * mean <= 16.0 * share * (1.0 - share) / (double)draws;
}

/* Hidden hands drawn at random, ready when the distances say so: a check that does not
 * share the counting, nor the reference's rests. */
START_TEST(simulated_hands_agree) {
    enum { DRAWS = 6000 };
    nh_list *list = read_list("{'format':1,'title':'Neap List','hand':8,'tiles':{'suits':['bam'],"
                              "'winds':false,'dragons':true,'jokers':3},'patterns':["
                              "{'name':'Sets','groups':[{'set':'any','times':2},{'pair':'any'}]},"
                              "{'name':'Kongs','groups':[{'kong':'any'},{'kong':'any'}]}]}");
    random_source source = {random_seed(20261202)};
    const uint64_t seed = source.state;
    const nh_tiles mine = tiles_of("1159B R"), none = {{0}};
    nh_read_question question = NH_READ_QUESTION;
    nh_workspace *workspace = new_workspace(list);
    long ready = 0, wins[NH_KINDS] = {0};
    question.mine = &mine;
    nh_reading *reading = read_with(list, &question);
    for (int draw = 0; draw < DRAWS; draw++) {
        nh_tiles pool = *nh_list_set(list);
        ck_assert(nh_tiles_take(&pool, &mine));
        const nh_tiles hidden = random_draw(&source, &pool, reading->hidden);
        bool any = false;
        for (int kind = 0; kind < NH_KINDS; kind++) {
            nh_tiles hand = hidden;
            uint8_t away[2];
            if (pool.count[kind] + mine.count[kind] == 0) {
                continue;
            }
            hand.count[kind]++;
            const nh_situation known = {sizeof known, none, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN};
            ck_assert(nh_distances(workspace, &hand, &known, away, NULL) == NH_OK);
            const bool whole = away[0] == 0 || away[1] == 0;
            wins[kind] += whole;
            any = any || whole;
        }
        ready += any;
    }
    const double share = nh_natural_ratio(&reading->ready, &reading->hands);
    ck_assert_msg(share > 0.05 && is_near(share, ready, DRAWS), "seed %llu: %ld of %d, not %g",
                  (unsigned long long)seed, ready, DRAWS, share);
    for (size_t i = 0; i < reading->tiles; i++) {
        const nh_read_tile *tile = nh_reading_tile(reading, i);
        const double part = nh_natural_ratio(&tile->wins, &reading->hands);
        ck_assert_msg(is_near(part, wins[tile->kind], DRAWS), "seed %llu, kind %d: %ld, not %g",
                      (unsigned long long)seed, tile->kind, wins[tile->kind], part);
    }
    nh_reading_free(reading);
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* --------------------------------------------------------------- questions --- */

static void expect_refused(const nh_list *list, const nh_read_question *question, nh_status status,
                           const char *words) {
    nh_reading *reading = NULL;
    nh_error error = {NH_OK, 0, ""};
    ck_assert_int_eq(nh_read(list, question, NULL, &reading, &error), status);
    ck_assert_int_eq(error.status, status);
    ck_assert_str_eq(error.text, words);
    ck_assert_ptr_null(reading);
    ck_assert_int_eq(nh_read(list, question, NULL, &reading, NULL), status);
}

START_TEST(wrong_questions_are_refused) {
    nh_list *list = read_list(HEAD BAMS "]}");
    nh_read_question question = NH_READ_QUESTION;
    nh_situation known = NH_SITUATION;
    nh_tiles mine = tiles_of("1111B");
    question.hidden = -2;
    expect_refused(list, &question, NH_ERROR_ARGUMENT, "hidden is -2; 0 to 23");
    question.hidden = NH_TARGET_MAX;
    expect_refused(list, &question, NH_ERROR_ARGUMENT, "hidden is 24; 0 to 23");
    question.hidden = NH_HIDDEN_AS_LIST;
    question.mine = &mine;
    question.situation = &known;
    known.seen = tiles_of("1B");
    expect_refused(list, &question, NH_ERROR_TILES,
                   "more copies of the one of bams are known than the set has");
    known = (nh_situation)NH_SITUATION;
    known.seat = (nh_wind)5;
    expect_refused(list, &question, NH_ERROR_ARGUMENT, "the seat wind is 5; 0 (unknown) to 4");
    known.seat = NH_WIND_UNKNOWN;
    known.prevailing = (nh_wind)5;
    expect_refused(list, &question, NH_ERROR_ARGUMENT,
                   "the prevailing wind is 5; 0 (unknown) to 4");
    known.size = 0;
    nh_reading *reading = NULL;
    ck_assert_int_eq(nh_read(list, &question, NULL, &reading, NULL), NH_ERROR_ARGUMENT);
    question.size = 0;
    ck_assert_int_eq(nh_read(list, &question, NULL, &reading, NULL), NH_ERROR_ARGUMENT);
    nh_reading_free(NULL);
    nh_list_free(list);
}
END_TEST

START_TEST(readings_can_be_cancelled) {
    nh_list *list = read_list(HEAD SETS "]}");
    nh_cancel *cancel = NULL;
    nh_read_question question = NH_READ_QUESTION;
    ck_assert_int_eq(nh_cancel_new(NULL, &cancel), NH_OK);
    question.cancel = cancel;
    nh_cancel_now(cancel);
    expect_refused(list, &question, NH_ERROR_CANCELLED, "the work was cancelled");
    nh_cancel_clear(cancel);
    nh_reading_free(read_with(list, &question));
    nh_cancel_free(cancel);
    nh_list_free(list);
}
END_TEST

/* A hand of any size has a reading, though no target is so large. */
START_TEST(sizes_of_no_target) {
    nh_list *list = read_list(HEAD SETS "]}");
    nh_read_question question = NH_READ_QUESTION;
    question.hidden = 0;
    nh_reading *reading = read_with(list, &question);
    ck_assert(is_count(&reading->hands, 1) && is_count(&reading->ready, 0));
    ck_assert_uint_eq(reading->patterns + reading->tiles, 0);
    nh_reading_free(reading);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("read");
    ADD_TESTS(suite, "read", readings_are_those_of_listing, tiles_of_no_pattern_are_safe,
              one_hidden_hand, patterns_add_up, jokers_alone, winds_of_the_player,
              published_waits_of_one_suit, published_waits_with_pairs, simulated_hands_agree,
              wrong_questions_are_refused, readings_can_be_cancelled, sizes_of_no_target);
    return run_suite(suite);
}
