/*
 * nearhand, chapter 6: what happens at a table: random numbers that are the same
 * everywhere, deals made of them, seats, the rules of the Charleston, and a table
 * of four players who pass.
 */
#ifndef NEARHAND_TABLE_H
#define NEARHAND_TABLE_H

#include "nearhand_pass.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ----------------------------------------------------- random numbers --- */

#define NH_RANDOM_STATE_WORDS 70

/* A sequence of random numbers. A plain value of the caller's: a copy goes on
 * from where it was copied. What the words mean is the library's own matter. */
typedef struct nh_random {
    uint32_t state[NH_RANDOM_STATE_WORDS];
} nh_random;

/* Starts stream number `stream` of a seed; any numbers will do, and different
 * ones have different sequences. The generator is ChaCha20 as in RFC 8439
 * ("ChaCha20 and Poly1305 for IETF Protocols"), section 2.4, without a text:
 * the key is the seed in 8 bytes, then 24 zero bytes; the nonce 4 zero bytes,
 * then the stream in 8 bytes; the block counter starts at 0; both numbers have
 * their least byte first. The random numbers are the key stream, four bytes
 * each, least first: the same on every machine. After 2^32 blocks, which are
 * 2^36 numbers, the counter is 0 again and the sequence repeats.
 * Not meant for secrets: anyone who knows the seed knows the numbers.
 *
 * Cost: about 2 ns a number. Allocates nothing. Thread-safe with one nh_random a
 * thread; streams of one seed make threads independent. */
NH_API void nh_random_start(nh_random *random, uint64_t seed, uint64_t stream);

/* The next number, 0 to 2^32 - 1. */
NH_API uint32_t nh_random_next(nh_random *random);

/* A number from 0 to bound - 1, each exactly as likely as any other: with x the
 * next number of the sequence, floor(x * bound / 2^32); an x with
 * x * bound mod 2^32 < 2^32 mod bound is refused, and the one after it used.
 * At most every other number is refused, and of 2^32 always fewer than `bound`.
 * A bound of 0 gives 0. */
NH_API uint32_t nh_random_below(nh_random *random, uint32_t bound);

/* -------------------------------------------------------------- deals --- */

/* Draws `count` tiles at random and moves them from `from` to `out`, which may
 * hold tiles already, at most 255 of a kind with those to come. Every tile of
 * `from` is as likely as any other, without replacement; if it holds fewer than
 * `count`, all are moved, and for a `count` below 1 none. `from` and `out` are
 * different.
 *
 * The tiles of `from` lie in a row, in the order of the kinds. For each one
 * drawn, nh_random_below with the length of the row gives its place (from 0);
 * the last tile of the row goes to that place, and the row is one shorter.
 * Cost: about 50 ns, and a few ns a tile. Allocates nothing. Thread-safe. */
NH_API void nh_deal_draw(nh_random *random, nh_tiles *from, int count, nh_tiles *out);

#define NH_SEATS 4

/* Four hands before any tile is passed. Seat 0 is the dealer, east, with a
 * whole hand (nh_list_hand_size); south, west and north have one tile less.
 * Complete: it will not grow. */
typedef struct nh_deal {
    nh_tiles hand[NH_SEATS];
    nh_tiles wall;      /* the tiles of the set that are left */
    uint8_t dice[2];    /* 1 to 6 */
    nh_wind prevailing; /* from the sum of the dice */
} nh_deal;

/* Deal number `number` of a seed, out of the set of a list: any two numbers
 * will do, each deal can be made alone, and it is the same on every machine. It
 * is made of the random numbers of that seed, with the deal's number for the
 * stream: nh_deal_draw from the whole set for seats 0 to 3, one after the
 * other, then for each of the dice 1 + nh_random_below(6). The sum of the dice
 * counts round E S W N from 1, so 5 and 9 are east, 2, 6 and 10 south, 3, 7 and
 * 11 west, 4, 8 and 12 north (common practice).
 *
 * Returns NH_OK, or NH_ERROR_ARGUMENT when the set has too few tiles for four
 * hands; `*deal` is written only on success. Cost: less than 2 microseconds.
 * Allocates nothing. Thread-safe. */
NH_API nh_status nh_deal_table(const nh_list *list, uint64_t seed, uint64_t number, nh_deal *deal);

/* -------------------------------------------------------------- seats --- */

/* Seats are numbered in turn: 0 east, 1 south, 2 west, 3 north. The player on the
 * right of a seat is the next in turn, the one on its left the one before.
 * There is no other seat: calls that look at one give NULL, calls that put someone
 * there do nothing. */

/* The wind of a seat; unknown where there is no such seat. */
NH_API nh_wind nh_seat_wind(int seat);

/* Who gets what a seat passes, and whose tiles come to it; -1 where there is no such seat
 * or direction. */
NH_API int nh_seat_receiver(int seat, nh_direction direction);
NH_API int nh_seat_sender(int seat, nh_direction direction);

/* ------------------------------------------------ rules of the Charleston --- */

typedef enum nh_stage {
    NH_STAGE_PASS,     /* everyone passes the same number of tiles, one way */
    NH_STAGE_VOTE,     /* everyone says whether to play an optional round */
    NH_STAGE_COURTESY, /* everyone says how many tiles to exchange with the player across */
    NH_STAGE_EXCHANGE, /* these two exchange the smaller of their numbers */
    NH_STAGE_OVER      /* the Charleston is over */
} nh_stage;

/* A step of the Charleston. Complete: it will not grow. */
typedef struct nh_step {
    nh_stage stage;
    nh_direction direction; /* of a pass */
    uint8_t round;          /* from 1, of a pass or a vote; else 0 */
    uint8_t pass;           /* which pass of the round, from 1; else 0 */
    bool blind;             /* a pass of which players may hand on 1 to all of the
                               tiles that come in, unseen, in place of their own */
    uint8_t reserved;
} nh_step;

/* The first step, and the one after a step; after one that this Charleston does not have
 * it is over, or goes on with the courtesy.
 * Every round after the first begins with a vote: `agreed` says whether all want
 * it, and is ignored for other steps. After the last round, or one that was voted
 * down, comes the courtesy where the list has one, with its exchange.
 * Cost: a few ns, like all of these. Allocate nothing. Thread-safe. */
NH_API nh_step nh_charleston_first(const nh_charleston *charleston);
NH_API nh_step nh_charleston_next(const nh_charleston *charleston, nh_step step, bool agreed);

/* Pass number `pass` of round `round`, both from 1. Returns NH_OK, or
 * NH_ERROR_ARGUMENT with words where the Charleston has no such pass. */
NH_API nh_status nh_charleston_pass(const nh_charleston *charleston, unsigned round, unsigned pass,
                                    nh_step *step, nh_error *error);

/* How many passes come after a step if all rounds are played, and how many of
 * them belong to optional rounds. The courtesy is not counted. */
NH_API unsigned nh_charleston_left(const nh_charleston *charleston, nh_step step);
NH_API unsigned nh_charleston_left_optional(const nh_charleston *charleston, nh_step step);

/* The tiles of a hand that may be passed: all but jokers and the kinds that the
 * Charleston keeps. */
NH_API nh_tiles nh_charleston_passable(const nh_charleston *charleston, const nh_tiles *hand);

/* Whether `pass` is a legal pass of `count` tiles of a hand. Returns NH_OK, or
 * NH_ERROR_TILES with a sentence that names the tile or the number that is wrong. */
NH_API nh_status nh_charleston_check(const nh_charleston *charleston, const nh_tiles *hand,
                                     const nh_tiles *pass, unsigned count, nh_error *error);

/* Which of the tiles that a player passed are certainly gone, for a set of tiles
 * and the hand now: a tile that can only be back in the hand is no longer gone. */
NH_API nh_tiles nh_charleston_gone(const nh_tiles *set, const nh_tiles *hand,
                                   const nh_tiles *passed);

/* -------------------------------------------------------------- table --- */

/* What one player knows at a table. The table owns it: later versions may add
 * fields at its end. */
typedef struct nh_view {
    const nh_list *list;
    int seat;
    nh_wind prevailing;
    nh_step step;      /* what is asked now */
    uint8_t count;     /* a pass or an exchange: tiles to give; a courtesy: the most that
                          can be exchanged; a vote: tiles of the next pass */
    nh_tiles hand;     /* whole */
    nh_tiles gone;     /* tiles that the player passed and that are certainly elsewhere */
    nh_tiles received; /* what came in with the last pass or exchange, without the tiles
                          that went on unseen */
} nh_view;

/* What a player answers. Start from NH_MOVE and set what the step asks for. */
typedef struct nh_move {
    size_t size;    /* of this struct, as NH_MOVE sets it */
    nh_tiles tiles; /* a pass, an exchange: tiles of the hand */
    uint8_t blind;  /* a pass: how many of those that come in go on, unseen */
    uint8_t count;  /* a courtesy: how many tiles to exchange */
    bool agree;     /* a vote: true to play the round */
} nh_move;

#define NH_MOVE                                                                                    \
    { sizeof(nh_move), {{0}}, 0, 0, false }

/* A function that plays a seat: looks at what the player knows and fills the move,
 * which starts as NH_MOVE. `context` is what nh_table_seat was given. Anything but
 * NH_OK ends the call that asked, which returns it. Meanwhile the table can be looked at;
 * nh_table_deal, nh_table_start and nh_table_play refuse with NH_ERROR_ARGUMENT. */
typedef nh_status nh_play(void *context, const nh_view *view, nh_move *move, nh_error *error);

/* Four players at a table, from the deal to the end of the Charleston. One thread
 * at a time. */
typedef struct nh_table nh_table;

/* A table for a list, which must outlive it; no tiles are dealt yet. `allocator`
 * may be NULL for the C library's. Returns NH_OK or NH_ERROR_MEMORY. */
NH_API nh_status nh_table_new(const nh_list *list, const nh_allocator *allocator, nh_table **table);
NH_API void nh_table_free(nh_table *table); /* NULL is ignored */

/* Puts a function in a seat; a NULL function leaves the seat to nh_table_answer.
 * A new table has none, and deals leave them in their seats. */
NH_API void nh_table_seat(nh_table *table, int seat, nh_play *play, void *context);

/* Begins a game: with deal `number` of a seed (nh_deal_table), where the random
 * numbers of the game are those of that stream after the deal; or with a deal of
 * the caller's, and `random` from where it stands.
 * Returns NH_OK; NH_ERROR_ARGUMENT when the set has too few tiles for four hands, or the
 * deal's wind is out of range; NH_ERROR_TILES for a deal that is not the list's set. The
 * table is left as it was when it fails. */
NH_API nh_status nh_table_deal(nh_table *table, uint64_t seed, uint64_t number, nh_error *error);
NH_API nh_status nh_table_start(nh_table *table, const nh_deal *deal, const nh_random *random,
                                nh_error *error);

/* The step that is to be played; NH_STAGE_OVER on a table without a deal. */
NH_API nh_step nh_table_step(const nh_table *table);

/* What a player knows now; valid for the life of the table, and changed by
 * nh_table_play. */
NH_API const nh_view *nh_table_view(const nh_table *table, int seat);

/* The deal that the game began with, and the tiles of the wall now. */
NH_API const nh_deal *nh_table_dealt(const nh_table *table);
NH_API const nh_tiles *nh_table_wall(const nh_table *table);

/* Takes the answer of one player to the step; a second answer replaces the first.
 * Returns NH_OK; NH_ERROR_TILES for tiles that may not be given;
 * NH_ERROR_ARGUMENT for a seat that there is not, a move that does not start from NH_MOVE,
 * more tiles in a courtesy than view->count, tiles handed on unseen where that is not
 * allowed, or a game that is over; the answer before is kept then. */
NH_API nh_status nh_table_answer(nh_table *table, int seat, const nh_move *move, nh_error *error);

/* The answer of a player that nh_table_play used last; NH_MOVE before the first. */
NH_API const nh_move *nh_table_move(const nh_table *table, int seat);

/* Asks the functions of the seats that have not answered, then plays the step and
 * goes to the next one. A pass for which someone has no tile is skipped, and so
 * is a courtesy where nobody can or will exchange any: everyone passes as many
 * tiles as the list says, or as the player with the fewest that may be passed.
 *
 * Tiles handed on unseen are chosen at random out of those that came in. If all
 * the players of a ring hand on everything, nothing moves between them.
 *
 * Returns NH_OK; NH_ERROR_ARGUMENT when a player without a function has not
 * answered, or the game is over; else what a function or the check of its answer
 * returned. Nothing moves unless it is NH_OK; answers are kept. */
NH_API nh_status nh_table_play(nh_table *table, nh_error *error);

/* -------------------------------------------------------- exact player --- */

/* Plays a seat by exact averages (nh_pass) over every pattern of the list: passes what
 * leaves the hand the fewest tiles away on average; wants an optional round if its best
 * pass is better on average than no pass; asks in a courtesy for the number of tiles
 * that is best on average, the smallest of those alike, and likewise for its own tiles
 * in a pass of which some may go on unseen. */
typedef struct nh_exact_player nh_exact_player;

/* Works with a workspace, which must outlive it; `allocator` as above. One may play all
 * four seats of a table. Returns NH_OK or NH_ERROR_MEMORY. */
NH_API nh_status nh_exact_player_new(nh_workspace *workspace, const nh_allocator *allocator,
                                     nh_exact_player **player);
NH_API void nh_exact_player_free(nh_exact_player *player); /* NULL is ignored */

/* The function for nh_table_seat, with an nh_exact_player for its context. It works out
 * each pass once: after a vote or a courtesy it remembers what the pass that follows
 * needs. Returns NH_ERROR_ARGUMENT for a table of another list, or what nh_pass does.
 * Cost: at most that of nh_pass with a capacity of 1 for each number of tiles. */
NH_API nh_status nh_exact_play(void *player, const nh_view *view, nh_move *move, nh_error *error);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_TABLE_H */
