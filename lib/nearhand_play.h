/*
 * nearhand, chapter 8: the groups that a target is made of.
 */
#ifndef NEARHAND_PLAY_H
#define NEARHAND_PLAY_H

#include "nearhand_list.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ------------------------------------------------------------ layouts --- */

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

/* A part of a layout: tiles alike, or in a row from `kind` on. Complete: it will
 * not grow. */
typedef struct nh_piece {
    uint8_t shape;  /* nh_shape */
    uint8_t kind;   /* the tile, or the first of the row */
    uint8_t tiles;  /* how many */
    uint8_t jokers; /* for how many of them a joker may stand: all or none */
    uint8_t group;  /* pieces of one number belong together: see nh_layout */
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
 * in the order of hand notation. A NULL question is NH_LAYOUT_QUESTION; `error` may
 * be NULL.
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

/* The tiles of a piece, and of group `group` of a layout (none where there is no
 * such group). */
NH_API void nh_piece_tiles(const nh_piece *piece, nh_tiles *tiles);
NH_API void nh_layout_group(const nh_layout *layout, unsigned group, nh_tiles *tiles);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_PLAY_H */
