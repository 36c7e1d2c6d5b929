/*
 * nearhand, chapter 8: play after the passes: sets on the table, the groups that a
 * target is made of, complete hands.
 */
#ifndef NEARHAND_PLAY_H
#define NEARHAND_PLAY_H

#include "nearhand_rank.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ------------------------------------------------------------- shapes --- */

/* What tiles that belong together are. The first six are that many tiles alike. */
typedef enum nh_shape {
    NH_SINGLE = 1,
    NH_PAIR,
    NH_PUNG,
    NH_KONG,
    NH_QUINT,
    NH_SEXTET,
    NH_CHOW, /* three in a row */
    NH_RUN   /* two to nine in a row */
} nh_shape;

/* ------------------------------------------------- sets on the table --- */

/* Most sets that lie open before one player: a hand has no room for more. */
#define NH_SETS_MAX 6

/* A set that lies open: 3 to 6 tiles alike, some of which may be jokers but not all,
 * or a chow, without jokers. Complete: it will not grow. */
typedef struct nh_set {
    uint8_t shape;  /* NH_PUNG to NH_SEXTET, or NH_CHOW */
    uint8_t kind;   /* the tile, or the first of the chow */
    uint8_t tiles;  /* how many, 3 to 6 */
    uint8_t jokers; /* how many of them are jokers */
} nh_set;

/* Reads sets as players write them, a word for each: "444D EEEJ 0000 123B". `text` is
 * `length` bytes; at most `capacity` sets are written to `sets`, and how many there are
 * to `*set_count`. Returns NH_OK; NH_ERROR_TILES with the column of a word that is no
 * set, or where there are more than `capacity`, or more tiles than the set of the list
 * (NULL for any) holds. Allocates nothing. Thread-safe. */
NH_API nh_status nh_sets_parse(const nh_list *list, const char *text, size_t length, nh_set *sets,
                               size_t capacity, size_t *set_count, nh_error *error);

/* The tiles of a set as they lie on the table, jokers as jokers; none if it is not a set. */
NH_API void nh_set_tiles(const nh_set *set, nh_tiles *tiles);

/* What is left of a list when sets of a player's own lie on the table: a list of the
 * same patterns, in the same order, whose targets are the rests. A target goes with the
 * sets when some layout has a group of its own for each: the same tiles in the same
 * shape (a run of three counts as a chow). Its rest is the target less those groups, and
 * jokers may stand only in the others that let them. Limits and copies hold for the
 * whole target. A concealed pattern or variant has no target left once a set is open.
 *
 * nh_list_set is what does not lie on the table, and a whole hand,
 * nh_list_hand_size, as much smaller as the sets are large; a kong counts three where
 * the list has patterns with a replacement tile. A target that has no place for that tile
 * can no longer be made, and has no rest. Every question about a hand asks it
 * about the concealed tiles alone. Patterns may be left without a target. An
 * audit of a rest says what is left to make.
 *
 * `list` must outlive the rest, which is freed with nh_list_free; it may be a rest
 * itself. With no sets the rest has the targets of the list. `allocator` may be NULL for
 * the C library's, `error` too. Returns NH_OK; NH_ERROR_TILES for sets that the set of
 * tiles does not hold, or too many of them; NH_ERROR_MEMORY; NH_ERROR_LIMIT where working
 * it out takes too much work. Cost: a few milliseconds for a shipped list; no target is
 * listed. Thread-safe. */
NH_API nh_status nh_list_rest(const nh_list *list, const nh_set *sets, size_t set_count,
                              const nh_allocator *allocator, nh_list **rest, nh_error *error);

/* The sets that a list is the rest of: none for one that was loaded. They live as long
 * as the list. */
NH_API const nh_set *nh_list_sets(const nh_list *list, size_t *set_count);

/* ------------------------------------------------------------ layouts --- */

/* A part of a layout: tiles alike, or in a row from `kind` on. Complete: it will
 * not grow. */
typedef struct nh_piece {
    uint8_t shape;  /* nh_shape */
    uint8_t kind;   /* the tile, or the first of the row */
    uint8_t tiles;  /* how many */
    uint8_t jokers; /* for how many of them a joker may stand: all or none */
    uint8_t group;  /* pieces of one number belong together: see nh_layout */
    uint8_t shown;  /* 1 and up: the set of nh_list_sets, counted from 1, that it is; else 0 */
} nh_piece;

/* A target laid out in the groups of its pattern, in the order in which the list
 * writes them. A group that is taken several times is a group each time. Most
 * groups are one piece; one that the list writes as an array of groups, such as a
 * pair with its flower, has several. */
typedef struct nh_layout {
    uint32_t variant;   /* of the pattern, from 0 */
    uint8_t groups;     /* how many */
    uint8_t pieces;     /* how many, those of a group one after the other */
    uint8_t prevailing; /* nh_wind: the wind that the layout presumes, or unknown */
    uint8_t seat;       /* likewise */
    nh_piece piece[NH_TARGET_MAX];
} nh_layout;

/* Which layouts. Start from NH_LAYOUT_QUESTION. */
typedef struct nh_layout_question {
    size_t size;           /* of this struct, as NH_LAYOUT_QUESTION sets it */
    size_t layout_size;    /* of nh_layout */
    const nh_tiles *joked; /* NULL, or tiles of the target that jokers stand for: only
                              layouts whose pieces let them are asked for */
    nh_wind prevailing;    /* with a wind unknown, each of the four in turn */
    nh_wind seat;
} nh_layout_question;

#define NH_LAYOUT_QUESTION                                                                         \
    { sizeof(nh_layout_question), sizeof(nh_layout), NULL, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN }

/* The first layout of a target of pattern `pattern`, in a fixed order: variants as
 * written, then winds, suits and ranks of the letters from the lowest, then choices
 * in the order of hand notation. For the rest of a list the target is what is left of
 * it, and the layout has the sets on the table too. A NULL question is NH_LAYOUT_QUESTION; `error`
 * may be NULL.
 *
 * Returns NH_OK; NH_ERROR_TILES where the tiles are no target of the pattern, or
 * none with these winds and jokers; NH_ERROR_ARGUMENT for a value out of range;
 * NH_ERROR_LIMIT where the search takes too much work, which takes a pattern that is
 * made for it. Allocates nothing. Thread-safe. Cost: some microseconds. */
NH_API nh_status nh_layout_first(const nh_list *list, size_t pattern, const nh_tiles *target,
                                 const nh_layout_question *question, nh_layout *layout,
                                 nh_error *error);

/* Calls `each` with every layout in that order, until it returns false. The layout
 * has the size of this version, and lives until `each` returns. Returns as
 * nh_layout_first does. */
NH_API nh_status nh_layouts_each(const nh_list *list, size_t pattern, const nh_tiles *target,
                                 const nh_layout_question *question,
                                 bool (*each)(const nh_layout *layout, void *context),
                                 void *context, nh_error *error);

/* The tiles of a piece (none where it goes past the last kind), and of group `group` of a
 * layout (none where there is no such group). */
NH_API void nh_piece_tiles(const nh_piece *piece, nh_tiles *tiles);
NH_API void nh_layout_group(const nh_layout *layout, unsigned group, nh_tiles *tiles);

/* ------------------------------------------------------ complete hands --- */

/* A pattern that a hand completes: the hand is the target, with jokers for the tiles
 * in `joked`. Of several such targets it is one that gives the most points. */
typedef struct nh_completed {
    uint32_t pattern; /* index in the list */
    uint32_t variant; /* of the pattern, from 0: the one that the points are for */
    double points;    /* 0 without */
    bool has_points;
    uint8_t prevailing; /* nh_wind: the wind that the target presumes, or unknown */
    uint8_t seat;       /* likewise */
    nh_tiles target;
    nh_tiles joked;
} nh_completed;

/* What a claimed hand comes to. */
typedef struct nh_checking {
    size_t completed; /* patterns that it completes; 0: it is not complete */
    size_t rows;      /* rows written */
    uint8_t nearest;  /* tiles away of the nearest pattern as nh_rank has it, so 0 too for a
                         hand with tiles to spare; NH_AWAY_NONE when none is live */
} nh_checking;

/* Which hand to check. Start from NH_CHECK_QUESTION. */
typedef struct nh_check_question {
    size_t size;          /* of this struct, as NH_CHECK_QUESTION sets it */
    size_t row_size;      /* of nh_completed: row i stands row_size * i bytes behind the first */
    size_t checking_size; /* of nh_checking */
    const nh_situation *situation; /* NULL: nothing is known */
    const nh_cancel *cancel;       /* NULL: the work is not cancelled */
} nh_check_question;

#define NH_CHECK_QUESTION                                                                          \
    { sizeof(nh_check_question), sizeof(nh_completed), sizeof(nh_checking), NULL, NULL }

/* Says which patterns a hand completes: those with a target of as many tiles as the hand
 * that is no tile away. With sets on the table the workspace is one of nh_list_rest, and
 * the hand the concealed tiles alone; whole target and groups come from nh_layout_first.
 * At most `capacity` rows are written to `rows`, most points first (none last), then in
 * list order. A NULL question is NH_CHECK_QUESTION; `error` may be NULL.
 *
 * Returns NH_OK, complete or not; NH_ERROR_ARGUMENT, with nothing written, for a value of
 * the question out of range; after any other error `*checking` has no rows and
 * NH_AWAY_NONE: NH_ERROR_TILES as nh_rank does; NH_ERROR_LIMIT where a hand full of jokers
 * completes a pattern in too many ways; NH_ERROR_CANCELLED. Allocates nothing.
 * Thread-safe with one workspace a thread. Cost: some microseconds. */
NH_API nh_status nh_check(nh_workspace *workspace, const nh_tiles *hand,
                          const nh_check_question *question, nh_completed *rows, size_t capacity,
                          nh_checking *checking, nh_error *error);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_PLAY_H */
