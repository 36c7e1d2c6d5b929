/*
 * nearhand, chapter 6: what happens at a table: random numbers that are the same
 * everywhere, and deals made of them.
 */
#ifndef NEARHAND_TABLE_H
#define NEARHAND_TABLE_H

#include "nearhand_list.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ------------------------------------------------------------ deals --- */

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

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_TABLE_H */
