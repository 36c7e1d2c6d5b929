/*
 * nearhand: how far a mahjong hand is from every pattern of a printed list.
 *
 * The library holds a tile model, reads lists of winning patterns (JSON), and
 * answers exactly, for a hand and a list: how many tiles each pattern still
 * lacks, which concrete target of the pattern is the best one to go for, what
 * to keep, what is needed, what can be let go, and how likely the target is to
 * be completed in a given number of draws. It audits lists as well, and deals
 * hands that can be had again.
 *
 * Learn it in this order:
 *   1. tiles        nh_tiles, nh_hand_parse, nh_tiles_format
 *   2. lists        nh_list_load, nh_list_read, nh_mistakes_at, nh_list_pattern
 *   3. ranking      nh_workspace_new, nh_rank
 *   4. batches      nh_rank_batch (many hands, in threads)
 *   5. distances    nh_distances (the number alone, for loops over many hands)
 *   6. passing      nh_pass, nh_pass_batch, nh_pass_ahead
 *   7. audits       nh_audit_count, nh_audit_relation
 *   8. deals        nh_deal_table; nh_random_start, nh_deal_draw
 *
 * Rules that hold for every call:
 *   - The library never prints, exits or aborts and keeps no global state but a
 *     lock: lists are parsed by cJSON, which notes its last error in a variable
 *     of its own. A program that parses with cJSON itself, at the same time in
 *     another thread, shares that variable.
 *   - Errors are values. A function that can fail returns nh_status; where it
 *     takes an nh_error, that is filled with a sentence for the player. An
 *     nh_error pointer may always be NULL.
 *   - A list is immutable once loaded: any number of threads may share it.
 *     A workspace is scratch memory for one thread at a time.
 *   - Pointers that are not said to accept NULL must not be NULL.
 *
 * Link with -lnearhand.
 */
#ifndef NEARHAND_H
#define NEARHAND_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#if defined(NH_BUILDING_LIBRARY) && defined(__GNUC__)
#define NH_API __attribute__((visibility("default")))
#else
#define NH_API
#endif

#define NH_VERSION_MAJOR 0
#define NH_VERSION_MINOR 1
#define NH_VERSION_PATCH 0
#define NH_VERSION "0.1.0"

/* The version of the library that is linked, "major.minor.patch"; static. */
NH_API const char *nh_version(void);

/* ------------------------------------------------------------ errors --- */

typedef enum nh_status {
    NH_OK = 0,
    NH_ERROR_MEMORY,   /* an allocation failed */
    NH_ERROR_ARGUMENT, /* an option is out of its range */
    NH_ERROR_TILES,    /* tile text cannot be read, or the set has fewer tiles */
    NH_ERROR_LIST,     /* a list has mistakes: see nh_mistakes_at */
    NH_ERROR_FILE,     /* a file cannot be opened or read */
    NH_ERROR_LIMIT     /* a documented limit was passed */
} nh_status;

/* One short English phrase for a status; static, never NULL. */
NH_API const char *nh_status_text(nh_status status);

#define NH_ERROR_TEXT_SIZE 256

/* What went wrong, for the player. `text` is one sentence in UTF-8 without a
 * full stop. `column` is the place in the text that was read, counted in
 * characters from 1, or 0 where no place can be shown. It means nothing after a
 * call that returned NH_OK. */
typedef struct nh_error {
    nh_status status;
    uint32_t column;
    char text[NH_ERROR_TEXT_SIZE];
} nh_error;

/* -------------------------------------------------------------- text --- */

/* Reads the first character of `length` bytes of UTF-8 text into `*character`
 * and returns the bytes that it takes, 1 to 4. Returns 0, and leaves
 * `*character` as it is, where there are no bytes or where they are not UTF-8
 * (RFC 3629). Allocates nothing. */
NH_API size_t nh_utf8_next(const char *text, size_t length, uint32_t *character);

/* ------------------------------------------------------------- tiles --- */

/* The tile kinds, in the order in which hands are written. A kind is a number
 * from 0 to NH_KINDS - 1; ranks of a suit are consecutive. */
enum {
    NH_BAM_1 = 0,  /* bams 1-9: 0-8 */
    NH_CRAK_1 = 9, /* craks 1-9: 9-17 */
    NH_DOT_1 = 18, /* dots 1-9: 18-26 */
    NH_EAST = 27,
    NH_SOUTH = 28,
    NH_WEST = 29,
    NH_NORTH = 30,
    NH_RED = 31,
    NH_GREEN = 32,
    NH_WHITE = 33,
    NH_FLOWER = 34,
    NH_JOKER = 35,
    NH_KINDS = 36
};

/* Most tiles in a complete hand of a list, and in any single target (a hand
 * and one replacement tile for each kong). */
#define NH_HAND_MAX 18
#define NH_TARGET_MAX 24

/* A multiset of tiles: count[kind] tiles of that kind. Hands, targets and the
 * tiles known to be gone are all of this type. A plain value: copy it freely.
 * All zero is "no tiles". */
typedef struct nh_tiles {
    uint8_t count[NH_KINDS];
} nh_tiles;

/* How many tiles there are in all. */
NH_API int nh_tiles_total(const nh_tiles *tiles);

/* The English name of a kind ("four of bams", "red dragon"), its notation
 * ("4B", "R"), and its character in the Unicode block Mahjong Tiles (a UTF-8
 * string); static strings. NULL for a kind out of range. */
NH_API const char *nh_kind_name(int kind);
NH_API const char *nh_kind_notation(int kind);
NH_API const char *nh_kind_unicode(int kind);

typedef struct nh_list nh_list;

/* Reads tiles as players write them: "2468B 246C 33D EEW R Wh". Case and
 * spaces do not matter, commas are spaces, the white dragon may be typed 0,
 * and Unicode tile characters may be mixed in. Words are read as well: suits
 * ("2468 bam", "33 dots"), winds, dragons ("green", "GD", "red dragon",
 * "soap"), "flower", "joker". All ranks before a suit belong to it, so that
 * "3 dots" is one tile. A run of letters that is a word is that word: "green"
 * is the dragon, not five tiles. `text` is `length` bytes of UTF-8 and need
 * not end in a zero byte.
 *
 * With a `list`, no kind may have more tiles than the list's set holds; with
 * NULL the bound is 4 of each kind, 8 flowers and 16 jokers.
 * nh_hand_parse also refuses an empty hand and one with more tiles than a
 * hand of the list can come to (nh_list_hand_most; NH_TARGET_MAX with NULL);
 * nh_tiles_parse takes any number, for tiles seen elsewhere.
 *
 * Returns NH_OK, or NH_ERROR_TILES with the column of the first tile that
 * cannot be. `*tiles` is written only on success. Allocates nothing. */
NH_API nh_status nh_tiles_parse(const nh_list *list, const char *text, size_t length,
                                nh_tiles *tiles, nh_error *error);
NH_API nh_status nh_hand_parse(const nh_list *list, const char *text, size_t length, nh_tiles *hand,
                               nh_error *error);

/* Bytes that always suffice for nh_tiles_format, in either style, for up to
 * 160 tiles. */
#define NH_TILES_TEXT_SIZE 1024

typedef enum nh_style {
    NH_STYLE_LETTERS = 0, /* 2468B 246C 33D EEW R Wh */
    NH_STYLE_UNICODE = 1  /* tile characters, one space between suits */
} nh_style;

/* Writes tiles in sorted order: bams, craks, dots, winds E S W N, dragons
 * R G Wh, flowers, jokers. Like snprintf: returns the length of the whole text
 * and writes at most `size` bytes of it, the last of them zero; `buffer` may
 * be NULL when `size` is 0. */
NH_API size_t nh_tiles_format(const nh_tiles *tiles, nh_style style, char *buffer, size_t size);

/* ----------------------------------------------------------- numbers --- */

/* A natural number below 2^192, least significant limb first: wide enough for
 * every count of ways and of draws over a set of at most 160 tiles. */
typedef struct nh_natural {
    uint64_t limb[3];
} nh_natural;

#define NH_NATURAL_TEXT_SIZE 64

/* Decimal digits of a number; like snprintf. */
NH_API size_t nh_natural_format(const nh_natural *number, char *buffer, size_t size);

/* The nearest double, and the quotient of two numbers as a double (0 when the
 * divisor is 0); relative error at most 2^-51. */
NH_API double nh_natural_double(const nh_natural *number);
NH_API double nh_natural_ratio(const nh_natural *dividend, const nh_natural *divisor);

/* -1, 0 or 1 as a is less than, equal to or greater than b. */
NH_API int nh_natural_compare(const nh_natural *a, const nh_natural *b);

/* ------------------------------------------------------------ memory --- */

/* Where a list or a workspace takes its memory from. `resize` acts like
 * realloc: a NULL pointer asks for a new block. Both receive `context`. The
 * JSON text itself is parsed by cJSON with that library's own allocator. */
typedef struct nh_allocator {
    void *(*resize)(void *context, void *pointer, size_t size);
    void (*release)(void *context, void *pointer);
    void *context;
} nh_allocator;

/* ------------------------------------------------------------- lists --- */

typedef struct nh_mistakes nh_mistakes;

/* Limits of a list; past any of them loading fails with a mistake that names
 * the limit. */
#define NH_LIST_BYTES_MAX (4u << 20) /* size of the JSON text */
#define NH_PATTERNS_MAX 4096u        /* patterns in a list */
#define NH_VARIANTS_MAX 256u         /* variants of a pattern */
#define NH_GROUPS_MAX 64u            /* groups in one array of groups */
#define NH_NESTING_MAX 8u            /* one_of inside one_of */
#define NH_ALTERNATIVES_MAX 256u     /* alternatives of one group */
#define NH_TIMES_MAX 24u             /* times of a group */
#define NH_CHOICES_MAX 20000u        /* different choices of a group that is distinct */
#define NH_TEXT_MAX 400u             /* bytes of a title, a name, a note ... */
#define NH_ASSIGNMENTS_MAX 1000000u  /* ways to give ranks and suits to the letters of a pattern */
#define NH_MISTAKES_MAX 100u         /* mistakes reported together */

/* Reads a pattern list from `length` bytes of JSON (nh_list_read) or from a
 * file (nh_list_load). On success `*list` owns everything and is freed with
 * nh_list_free. On failure `*list` is NULL.
 *
 * `mistakes` may be NULL. Otherwise `*mistakes` is set to a report that the
 * caller frees with nh_mistakes_free when the status is NH_ERROR_LIST or
 * NH_ERROR_FILE, and to NULL in every other case.
 * `allocator` may be NULL for the C library's.
 * Cost: in proportion to the products of suit families that the patterns
 * stand for, not to their targets. Thread-safe. */
NH_API nh_status nh_list_read(const char *json, size_t length, const nh_allocator *allocator,
                              nh_list **list, nh_mistakes **mistakes);
NH_API nh_status nh_list_load(const char *path, const nh_allocator *allocator, nh_list **list,
                              nh_mistakes **mistakes);
NH_API void nh_list_free(nh_list *list); /* NULL is ignored */

/* A mistake in a list. `line` and `column` count from 1, 0 where unknown;
 * `pattern` names the pattern (NULL outside of one); `text` is the whole
 * sentence, pattern and group included. */
typedef struct nh_mistake {
    uint32_t line;
    uint32_t column;
    const char *pattern;
    const char *text;
} nh_mistake;

/* The mistakes, in the order of the text; strings live as long as the report.
 */
NH_API size_t nh_mistakes_count(const nh_mistakes *mistakes); /* 0 for NULL */
NH_API nh_mistake nh_mistakes_at(const nh_mistakes *mistakes, size_t index);
NH_API void nh_mistakes_free(nh_mistakes *mistakes); /* NULL is ignored */

/* What a list says of itself. Strings live as long as the list; `edition` and
 * `note` are NULL where the list does not have them. */
NH_API const char *nh_list_title(const nh_list *list);
NH_API const char *nh_list_edition(const nh_list *list);
NH_API const char *nh_list_note(const nh_list *list);
NH_API int nh_list_hand_size(const nh_list *list);       /* tiles of a complete hand */
NH_API int nh_list_hand_most(const nh_list *list);       /* with a replacement tile for each kong */
NH_API const nh_tiles *nh_list_set(const nh_list *list); /* every tile of the set */
NH_API size_t nh_list_size(const nh_list *list);         /* number of patterns */

/* A pattern as it stands on the printed list; NULL strings where the list is
 * silent, `has_points` false without points. */
typedef struct nh_pattern {
    const char *name;
    const char *section;
    const char *ref;
    const char *note;
    double points;
    bool has_points;
    bool concealed;
} nh_pattern;

/* Pattern number `index` (from 0, in printed order); index < nh_list_size. */
NH_API nh_pattern nh_list_pattern(const nh_list *list, size_t index);

/* The directions of one round of the Charleston. */
typedef enum nh_direction { NH_RIGHT, NH_ACROSS, NH_LEFT } nh_direction;

/* "right", "across" or "left"; static, NULL for any other value. */
NH_API const char *nh_direction_name(nh_direction direction);

#define NH_CHARLESTON_ROUNDS_MAX 8u
#define NH_CHARLESTON_STEPS_MAX 8u

/* How tiles are passed before play. Rounds after the first are optional. */
typedef struct nh_charleston {
    uint8_t tiles;    /* tiles in each pass */
    uint8_t courtesy; /* most tiles in the last, agreed exchange */
    uint8_t rounds;
    uint8_t steps[NH_CHARLESTON_ROUNDS_MAX];
    uint8_t direction[NH_CHARLESTON_ROUNDS_MAX][NH_CHARLESTON_STEPS_MAX]; /* nh_direction */
    nh_tiles keep; /* kinds (count > 0) that may never be passed; jokers always
                      among them */
} nh_charleston;

NH_API const nh_charleston *nh_list_charleston(const nh_list *list);

/* ------------------------------------------------------------- deals --- */

#define NH_RANDOM_WORDS 64

/* A sequence of random numbers. A plain value of the caller's: a copy goes on
 * from where it was taken. Its fields are the generator's own. */
typedef struct nh_random {
    uint64_t seed, stream;
    uint32_t block; /* counter of the block that comes next */
    uint32_t used;  /* words that were given */
    uint32_t word[NH_RANDOM_WORDS];
} nh_random;

/* Starts stream number `stream` of a seed; any numbers will do, and different
 * ones have different sequences. The generator is ChaCha20 as in RFC 8439
 * ("ChaCha20 and Poly1305 for IETF Protocols"), section 2.4, without a text:
 * the key is the seed in 8 bytes, then 24 zero bytes; the nonce 4 zero bytes,
 * then the stream in 8 bytes; the block counter starts at 0; both numbers have
 * their least byte first. The random numbers are the key stream, four bytes
 * each, least first: the same on every machine. After 2^32 blocks, which are
 * 2^36 numbers, the counter is 0 again and the numbers come again.
 * Not meant for secrets: whoever knows the seed knows the numbers.
 *
 * Cost: some nanoseconds a number. Allocates nothing. Thread-safe with one
 * nh_random a thread; streams of one seed make threads independent. */
NH_API void nh_random_start(nh_random *random, uint64_t seed, uint64_t stream);

/* The next number, 0 to 2^32 - 1. */
NH_API uint32_t nh_random_next(nh_random *random);

/* A number from 0 to bound - 1, each exactly as likely as any other: with x the
 * next number of the sequence, floor(x * bound / 2^32), where an x with
 * x * bound mod 2^32 < 2^32 mod bound is refused and the one after it taken.
 * At most every other number is refused, and of 2^32 always fewer than `bound`.
 * A bound of 0 gives 0. */
NH_API uint32_t nh_random_below(nh_random *random, uint32_t bound);

/* Draws `count` tiles at random and moves them from `from` to `out`, which may
 * hold tiles already, at most 255 of a kind with those to come. Every tile of
 * `from` is as likely as any other, without replacement; where there are fewer
 * than `count`, all are moved, and for a `count` below 1 none. `from` and `out`
 * are different.
 *
 * The tiles of `from` lie in a row, in the order of the kinds. For each one
 * drawn, nh_random_below with the length of the row tells its place (from 0);
 * the last tile of the row goes to that place, and the row is one shorter.
 * Cost: some 50 ns, and some ns a tile. Allocates nothing. Thread-safe. */
NH_API void nh_deal_draw(nh_random *random, nh_tiles *from, int count, nh_tiles *out);

/* Winds, of the round and of seats. */
typedef enum nh_wind {
    NH_WIND_UNKNOWN = 0, /* each of the four in turn */
    NH_WIND_EAST = 1,
    NH_WIND_SOUTH = 2,
    NH_WIND_WEST = 3,
    NH_WIND_NORTH = 4
} nh_wind;

/* "east" to "north" (static), and 'E' to 'N'; NULL and 0 for the unknown wind
 * and for any other value. */
NH_API const char *nh_wind_name(nh_wind wind);
NH_API char nh_wind_letter(nh_wind wind);

#define NH_SEATS 4

/* Four hands before any tile is passed. Seat 0 is the dealer, east, with a
 * whole hand (nh_list_hand_size); south, west and north have one tile less. */
typedef struct nh_deal {
    nh_tiles hand[NH_SEATS];
    nh_tiles wall;      /* the tiles of the set that are left */
    uint8_t dice[2];    /* 1 to 6 */
    nh_wind prevailing; /* from the sum of the dice */
} nh_deal;

/* Deal number `number` of a seed, out of the set of a list: any two numbers
 * will do, each deal can be had alone, and it is the same on every machine. It
 * is made of the random numbers of that seed, with the deal's number for the
 * stream: nh_deal_draw from the whole set for seats 0 to 3, one after the
 * other, then for each of the dice 1 + nh_random_below(6). The sum of the dice
 * counts round E S W N from 1, so 5 and 9 are east, 2, 6 and 10 south, 3, 7 and
 * 11 west, 4, 8 and 12 north (common practice).
 *
 * Returns NH_OK, or NH_ERROR_ARGUMENT when the set has too few tiles for four
 * hands; `*deal` is written only on success. Cost: less than a microsecond or
 * two. Allocates nothing. Thread-safe. */
NH_API nh_status nh_deal_table(const nh_list *list, uint64_t seed, uint64_t number, nh_deal *deal);

/* --------------------------------------------------------- situation --- */

#define NH_DRAWS_DEFAULT 20
#define NH_DRAWS_MAX 160

/* What is known beside the hand. Start from NH_SITUATION_DEFAULT. */
typedef struct nh_situation {
    nh_tiles seen;      /* tiles known to be gone: exposed sets, earlier passes */
    nh_wind prevailing; /* prevailing wind */
    nh_wind seat;       /* seat wind */
    int draws;          /* draws for the chance, 0 to NH_DRAWS_MAX; more than are unseen
                           means all */
} nh_situation;

#define NH_SITUATION_DEFAULT                                                                       \
    { {{0}}, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, NH_DRAWS_DEFAULT }

/* Scratch memory for the calls below, made for one list and used by one thread
 * at a time. With it they allocate nothing. */
typedef struct nh_workspace nh_workspace;

NH_API nh_status nh_workspace_new(const nh_list *list, const nh_allocator *allocator,
                                  nh_workspace **workspace);
NH_API void nh_workspace_free(nh_workspace *workspace); /* NULL is ignored */

/* ----------------------------------------------------------- ranking --- */

/* The best live target of one pattern for a hand H:
 *   keep  = H in common with the target, and the jokers used (as jokers);
 *   need  = target less keep, where jokers stand for the tiles that are the
 *           hardest to draw;
 *   spare = H less keep.
 * away = tiles in need, always: total(target) - total(keep).
 * completing / nh_ranking.draws is the chance, exactly. Of the targets that
 * are nearest, the one with the highest chance is given. One exception: where
 * jokers can complete the same tiles in ways that come from different choices
 * of a pattern, and more than some thousand targets are equally near, the one
 * given is the likeliest by a single way, or better; its chance is still exact. */
typedef struct nh_ranked {
    uint32_t pattern; /* index in the list */
    uint8_t away;
    uint8_t prevailing; /* nh_wind: the prevailing wind that the target presumes,
                           or unknown */
    uint8_t seat;       /* nh_wind: likewise the seat wind */
    nh_tiles target;
    nh_tiles keep;
    nh_tiles need;
    nh_tiles spare;
    nh_tiles joked; /* the target's tiles that jokers of `keep` stand for */
    double chance;
    nh_natural completing; /* sets of draws, of all possible ones, that complete
                              the target */
} nh_ranked;

/* What holds for a whole ranking. */
typedef struct nh_ranking {
    size_t live;       /* patterns that still have a live target: the full number of
                          rows */
    size_t rows;       /* rows written */
    uint8_t nearest;   /* tiles away of the first row; 255 when none is live */
    size_t within_one; /* patterns at most one tile farther than the nearest */
    uint32_t unseen;   /* tiles in neither the hand nor `seen` */
    nh_natural draws;  /* C(unseen, draws): all possible sets of draws */
} nh_ranking;

#define NH_RANK_WORK_MAX 200000000u /* steps of work for the targets of a hand */

/* Ranks the patterns for a hand: tiles away, then chance (higher first), then
 * points (higher first, none last), then list order. The chance is exact: two
 * patterns are told apart by whole numbers, never by rounding.
 *
 * `chosen` is NULL, or nh_list_size bytes of which the non-zero ones name the
 * patterns to be ranked. The hand may have any number of tiles, and none. At most
 * `capacity` rows are written to `rows`, best first; a pattern without a live
 * target has none.
 * Of a pattern's nearest targets the likeliest is told, unless finding it takes
 * more than NH_RANK_WORK_MAX steps for the hand, which takes a list that is made
 * for it: then the likeliest of those that were looked at. Distances and the
 * chances that are told are exact all the same.
 * Returns NH_OK; NH_ERROR_ARGUMENT for draws or winds out of range;
 * NH_ERROR_TILES when hand and seen together hold more copies of a tile than
 * the set. Allocates nothing. Thread-safe with one workspace a thread. */
NH_API nh_status nh_rank(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                         const nh_situation *situation, const uint8_t *chosen, nh_ranked *rows,
                         size_t capacity, nh_ranking *ranking, nh_error *error);

/* -------------------------------------------------------------- batch --- */

/* Most threads of a batch. */
#define NH_JOBS_MAX 1024u

/* Ranks `count` hands in `jobs` threads (0: one for each processor): the same
 * answers as nh_rank for each hand, in the same order, whatever the number of
 * threads.
 *
 * rows has count * top elements: hand i has its rows from rows[i * top] on, as
 * many as rankings[i].rows tells. rankings and statuses have count elements; a
 * hand that cannot be ranked has its reason in statuses[i] and in rankings[i] no
 * rows, nothing live and NH_AWAY_NONE; the others go on. So it is for every hand
 * where an argument is wrong for all. statuses may be NULL, rows too when top is
 * 0. The other arguments are those of nh_rank, which tells in words what is wrong
 * with a hand.
 * Returns NH_OK when all hands were looked at, NH_ERROR_MEMORY when not even
 * one thread could be given its workspace, NH_ERROR_ARGUMENT for jobs past
 * NH_JOBS_MAX. Every thread makes a workspace of its own: give many hands to
 * one call. Thread-safe. */
NH_API nh_status nh_rank_batch(const nh_list *list, const nh_allocator *allocator,
                               const nh_tiles *hands, size_t count, const nh_situation *situation,
                               const uint8_t *chosen, size_t top, unsigned jobs, nh_ranked *rows,
                               nh_ranking *rankings, nh_status *statuses);

/* ---------------------------------------------------------- distances --- */

#define NH_AWAY_NONE 255 /* the pattern has no live target */

/* Tiles away alone: away[i] for every pattern i of the list, NH_AWAY_NONE for
 * one without a live target. Errors and costs as for nh_rank, which gives the
 * same numbers. situation->draws is not used. */
NH_API nh_status nh_distances(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                              const nh_situation *situation, uint8_t *away, nh_error *error);

/* ------------------------------------------------------------ passing --- */

/* Most tiles in a pass, and the most different passes that a hand can have. */
#define NH_PASS_MAX 3
#define NH_PASSES_MAX 2024u         /* C(NH_TARGET_MAX, NH_PASS_MAX) */
#define NH_PASS_WORK_MAX 500000000u /* steps of work for one hand: some seconds */

/* A pass P of a hand H, followed by as many tiles Q from the unseen ones: with
 * d(X) the tiles away of the nearest chosen pattern from the hand X,
 *
 *     E(P) = expected / draws = sum over all Q of Pr(Q) * d(H - P + Q).
 *
 * The passed tiles are gone: they are in no Q, and targets that would need them
 * are dead. All figures are exact; `draws` is nh_passing's. */
typedef struct nh_choice {
    nh_tiles pass;
    uint8_t away;        /* d(H - P); NH_AWAY_NONE when no live target remains */
    uint32_t nearest;    /* patterns at that distance: see nh_distances */
    uint32_t within_one; /* patterns at most one tile farther */
    uint64_t expected;   /* UINT64_MAX when no live target remains */
    uint64_t nearer;     /* draws Q after which d(H - P + Q) < d(H) */
} nh_choice;

/* What holds for all passes of a hand. */
typedef struct nh_passing {
    uint8_t away;    /* d(H), before the pass; NH_AWAY_NONE when no target is live */
    uint32_t unseen; /* tiles in neither the hand nor `seen` */
    uint64_t draws;  /* C(unseen, count): all possible Q */
    size_t passes;   /* different passes that are allowed */
    size_t rows;     /* choices written */
} nh_passing;

/* Finds the best passes of `count` tiles, 0 to NH_PASS_MAX: the least E(P)
 * first; of those alike the one with more draws that bring the hand nearer; then
 * with more patterns within one tile; then in the order of hand notation. Jokers
 * and the kinds that the list's Charleston keeps are never passed. `chosen` is
 * as for nh_rank: with it only these patterns count. situation->draws is not
 * used.
 *
 * At most `capacity` choices are written; NH_PASSES_MAX are always enough. With
 * fewer, passes that cannot be among them are left out of the work.
 * Returns NH_OK; NH_ERROR_ARGUMENT for a count, draws or winds out of range;
 * NH_ERROR_TILES for an empty hand or one larger than nh_list_hand_most, one
 * that has fewer tiles that may be passed than `count`, hand and seen tiles that
 * the set does not have, or fewer unseen tiles than are passed; NH_ERROR_LIMIT
 * when NH_PASS_WORK_MAX does not do, which takes a list that is made for it, and
 * may do for a smaller `capacity`. Allocates nothing. Thread-safe with one workspace a thread.
 * Cost: no draw is listed; what a draw does is worked out from what the near
 * families of shares lack. */
NH_API nh_status nh_pass(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                         const nh_situation *situation, unsigned count, const uint8_t *chosen,
                         nh_choice *choices, size_t capacity, nh_passing *passing, nh_error *error);

/* The passes of `tiles` tiles, 0 to NH_PASS_MAX, of each of `count` hands in
 * `jobs` threads (0: one for each processor): the same answers as nh_pass for
 * each hand with a capacity of `top`, in the same order, whatever the number of
 * threads.
 *
 * choices has count * top elements: hand i has its choices from choices[i * top]
 * on, as many as passings[i].rows tells. passings and statuses have count
 * elements; a hand that cannot be answered has its reason in statuses[i] and in
 * passings[i] no rows and NH_AWAY_NONE; the others go on. statuses may be NULL,
 * choices too when top is 0. The other arguments are those of nh_pass. Returns
 * what nh_rank_batch does, likewise thread-safe. */
NH_API nh_status nh_pass_batch(const nh_list *list, const nh_allocator *allocator,
                               const nh_tiles *hands, size_t count, const nh_situation *situation,
                               unsigned tiles, const uint8_t *chosen, size_t top, unsigned jobs,
                               nh_choice *choices, nh_passing *passings, nh_status *statuses);

/* Most passes after the first that are looked at together: a Charleston has no
 * more. */
#define NH_FURTHER_MAX 64u

/* What simulated courses of play came to: how many there were, and the sums of
 * the tiles away at their ends and of the squares. The estimate is sum / courses;
 * its standard error sqrt((squares / courses - estimate^2) / (courses - 1)). */
typedef struct nh_ahead {
    uint64_t courses;
    uint64_t sum;
    uint64_t squares;
} nh_ahead;

/* Estimates how near the hand is after the pass and `further` passes more, of as
 * many tiles each, every one the best by its exact E(P). Unlike nh_pass this is
 * a simulation: what comes in is drawn at random from the unseen tiles, courses
 * first to first + count - 1 of the seed (nh_random_start's streams). Passes that
 * are given the same courses have the same luck, so that their difference is
 * known better than either. Courses can be split between threads and their sums
 * added. A course ends early where no further pass can be made; courses after
 * which no target is live are not counted.
 *
 * Returns NH_OK; NH_ERROR_TILES for a pass that the hand does not have or that
 * may not be made; NH_ERROR_ARGUMENT for one of more than NH_PASS_MAX tiles or
 * `further` past NH_FURTHER_MAX; NH_ERROR_LIMIT when some pass on the way takes
 * too much work; and what nh_pass does of hand and situation.
 * Allocates nothing. Cost: count * further times that of nh_pass with a capacity
 * of 1. Thread-safe with one workspace a thread. */
NH_API nh_status nh_pass_ahead(const nh_list *list, nh_workspace *workspace, const nh_tiles *hand,
                               const nh_situation *situation, const nh_tiles *pass,
                               unsigned further, const uint8_t *chosen, uint64_t seed,
                               uint64_t first, uint64_t count, nh_ahead *ahead, nh_error *error);

/* ------------------------------------------------------------- audit --- */

/* The figures of a pattern; a target is counted once however it is reached.
 * With prevailing or seat wind unknown, all four count. */
typedef struct nh_count {
    nh_natural targets;    /* distinct targets */
    nh_natural ways;       /* physical hands, jokers aside: sum of products of C(copies,
                              needed) */
    nh_natural dealt_ways; /* those of exactly the hand's size */
    nh_natural joker_only; /* targets that nobody can complete without jokers */
    double dealt;          /* dealt_ways / C(all tiles, hand) */
} nh_count;

#define NH_AUDIT_WORK_MAX 300000000u /* steps of work for one call: some seconds */

/* Counts pattern `index` exactly, without listing its targets. Returns NH_OK;
 * NH_ERROR_ARGUMENT for an index out of range; NH_ERROR_LIMIT when products of
 * the pattern overlap in so many ways that NH_AUDIT_WORK_MAX does not do, which
 * takes a list that is made for it; or NH_ERROR_MEMORY. Allocates from the list's
 * allocator. Cost: follows the pattern's products and the sets of their families
 * that have shares in common. Thread-safe. */
NH_API nh_status nh_audit_count(const nh_list *list, size_t index, nh_wind prevailing, nh_wind seat,
                                nh_count *count);

typedef enum nh_relation {
    NH_NEITHER, /* neither contains the other */
    NH_EQUAL,   /* the same targets */
    NH_WITHIN,  /* every target of a is one of b */
    NH_CONTAINS /* every target of b is one of a */
} nh_relation;

/* How the targets of two patterns lie to one another. Errors and cost as above. */
NH_API nh_status nh_audit_relation(const nh_list *list, size_t a, size_t b, nh_relation *relation);

/* Whether variant `variant` (from 0) of a pattern gives any target at all.
 * A pattern written with `groups` has one variant. */
NH_API size_t nh_audit_variants(const nh_list *list, size_t index);
NH_API bool nh_audit_variant_live(const nh_list *list, size_t index, size_t variant);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_H */
