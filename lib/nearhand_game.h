/*
 * nearhand, chapter 12: whole games, from the deal to a win or the end of the wall.
 */
#ifndef NEARHAND_GAME_H
#define NEARHAND_GAME_H

#include "nearhand_discard.h"
#include "nearhand_play.h"
#include "nearhand_table.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A game: four hands are dealt and passed (nh_table), then the dealer discards, and each
 * player in turn draws a tile from the wall and wins or discards. A discard goes to a player
 * whose hand it completes, or else to one who claims it for a set that the list allows
 * (nh_list_play); of several, to the next in turn. The player who claims discards next; a
 * claimed kong draws a tile first where the list has patterns larger than a hand. The
 * game ends with a win, or when a tile must be drawn and the wall is empty. */
typedef struct nh_game nh_game;

/* ------------------------------------------------------------ players --- */

/* What everyone sees of a player. The game owns it: later versions may add fields at its
 * end, so reach the others by nh_game_shown. */
typedef struct nh_shown {
    nh_set sets[NH_SETS_MAX]; /* on the table, in the order in which they were claimed */
    uint8_t set_count;
    nh_tiles discards; /* all of them; those that were claimed are not here but in a set */
} nh_shown;

/* What one player knows when asked. The game owns it. */
typedef struct nh_game_view {
    const nh_game *game;
    nh_workspace *workspace; /* of what the player's own sets leave of the list */
    int seat;
    bool in_turn;           /* to win or discard; else a discard may be claimed */
    bool may_win;           /* in turn: false just after a claim */
    int from;               /* who discarded it */
    uint8_t tile;           /* the discard; in turn the tile drawn, NH_KINDS for none */
    unsigned turn;          /* number of the turn in the game, from 1 */
    unsigned wall;          /* tiles in the wall */
    nh_tiles hand;          /* the concealed tiles */
    nh_situation situation; /* the player's winds, and the tiles certainly gone: of each kind
                               those that all can see, or those that the player passed and
                               that are elsewhere, the larger number. A discard that may
                               be claimed is not among them. */
} nh_game_view;

/* What is on the table before a seat; NULL where there is no such seat. */
NH_API const nh_shown *nh_game_shown(const nh_game *game, int seat);

typedef enum nh_act {
    NH_ACT_NONE = 0, /* the discard is let go */
    NH_ACT_WIN,      /* the hand is complete, with the discard if it is not one's turn */
    NH_ACT_DISCARD,  /* in turn: `kind` */
    NH_ACT_CLAIM,    /* the discard, for the set `set` with tiles of the hand */
    NH_ACT_EXCHANGE  /* in turn, where the list lets: `kind` goes for a joker of set number
                        `index` of seat `from`; the player is asked again */
} nh_act;

/* What a player answers. Start from NH_GAME_MOVE. */
typedef struct nh_game_move {
    size_t size; /* of this struct, as NH_GAME_MOVE sets it */
    nh_act act;
    uint8_t kind;
    uint8_t from;
    uint8_t index; /* from 0 */
    nh_set set;
} nh_game_move;

#define NH_GAME_MOVE                                                                               \
    {                                                                                              \
        sizeof(nh_game_move), NH_ACT_NONE, 0, 0, 0, {                                              \
            0, 0, 0, 0                                                                             \
        }                                                                                          \
    }

/* A function that plays a seat after the passes. Anything but NH_OK ends the game, which
 * returns it. */
typedef nh_status nh_game_play(void *context, const nh_game_view *view, nh_game_move *move,
                               nh_error *error);

#define NH_GAME_RESTS 12

/* For a player who thinks about a claim: a workspace of what would be left of the list
 * with one more set on the table. It lives until NH_GAME_RESTS others were asked for, or
 * the function returns. Errors as those of nh_list_rest. Cost: a few milliseconds; sets
 * that come again are remembered. */
NH_API nh_status nh_game_with_set(const nh_game_view *view, const nh_set *set,
                                  nh_workspace **workspace, nh_error *error);

/* ------------------------------------------------------------- events --- */

typedef enum nh_event_type {
    NH_EVENT_DEAL,
    NH_EVENT_PASS,     /* `step`, `gives` */
    NH_EVENT_VOTE,     /* `step`, `agrees` */
    NH_EVENT_COURTESY, /* `gives`: exchanged with the player across */
    NH_EVENT_PLAY,     /* the passes are over: `hands` are those to play with */
    NH_EVENT_DRAW,     /* `seat`, `kind`, `kong` */
    NH_EVENT_EXCHANGE, /* `seat`, `kind` given, `from`, `set` after it */
    NH_EVENT_DISCARD,  /* `seat`, `kind` */
    NH_EVENT_CLAIM,    /* `seat`, `from`, `kind`, `set` */
    NH_EVENT_WIN,      /* `seat`, `claimed`, `from`, `kind`, `won` */
    NH_EVENT_WALL      /* the wall is used up, nobody won */
} nh_event_type;

/* What happened. Fields that an event does not name are 0. The game owns it: later
 * versions may add fields at its end. */
typedef struct nh_event {
    nh_event_type type;
    int seat, from;
    uint8_t kind;  /* NH_KINDS: none, for a hand that was dealt complete */
    bool kong;     /* a draw that replaces the fourth tile of a kong */
    bool claimed;  /* a win with another's discard */
    unsigned turn; /* from 1; 0 before play */
    unsigned wall; /* tiles in it, after the event */
    nh_set set;
    nh_step step;
    const nh_tiles *gives; /* of each seat, NH_SEATS */
    const bool *agrees;
    const nh_tiles *hands;   /* concealed tiles of each seat, after the event */
    const nh_completed *won; /* the most points that the hand gives */
    const nh_shown *shown;   /* what is on the table before the winner */
    const nh_deal *deal;
} nh_event;

typedef void nh_listener(void *context, const nh_event *event);

/* -------------------------------------------------------------- games --- */

/* How a game ended. */
typedef struct nh_game_end {
    bool won;
    int seat; /* who won; `from`, whose discard it was, or the same seat */
    int from;
    unsigned turns;       /* of all players, until then */
    unsigned wall;        /* tiles left */
    nh_completed pattern; /* that was won */
} nh_game_end;

/* A table of four without players, for a list that must outlive it. `allocator` may be
 * NULL for the C library's. Returns NH_OK or NH_ERROR_MEMORY. One thread at a time. */
NH_API nh_status nh_game_new(const nh_list *list, const nh_allocator *allocator, nh_game **game);
NH_API void nh_game_free(nh_game *game); /* NULL is ignored */

/* Who plays a seat: one function for the Charleston and one for the play, each with its
 * context. All four must be there before a game is played. */
NH_API void nh_game_seat(nh_game *game, int seat, nh_play *pass, void *pass_context,
                         nh_game_play *play, void *play_context);

/* Who hears of all that happens; NULL for nobody. */
NH_API void nh_game_listen(nh_game *game, nh_listener *listener, void *context);

/* Plays game `number` of a seed to its end. It is the same everywhere as long as the
 * players play the same: its deal is nh_deal_table's, and random numbers go on from that.
 * `end_size` is sizeof(nh_game_end).
 *
 * Returns NH_OK; NH_ERROR_ARGUMENT for a seat without player, a set that is too small for
 * four hands, a move that the rules do not allow (the error says which), or a game that is
 * being played already, as a player's function may not start it; else what a
 * player or nh_list_rest returned. */
NH_API nh_status nh_game_run(nh_game *game, uint64_t seed, uint64_t number, nh_game_end *end,
                             size_t end_size, nh_error *error);

/* ------------------------------------------------------ ways of playing --- */

typedef enum nh_way_pass {
    NH_PASS_BEST = 0, /* by exact averages: nh_exact_player */
    NH_PASS_SPARE     /* tiles that the nearest target has no use for */
} nh_way_pass;

typedef enum nh_way_claim {
    NH_CLAIM_WORTH = 0, /* sets that make the chance larger than waiting does */
    NH_CLAIM_ALWAYS,    /* sets that bring the hand nearer */
    NH_CLAIM_NEVER      /* no sets; wins are always claimed */
} nh_way_claim;

/* How to play. Start from NH_WAY. */
typedef struct nh_way {
    size_t size; /* of this struct, as NH_WAY sets it */
    nh_way_pass pass;
    nh_way_claim claim;
    nh_discard_order discard;
    int look; /* of nh_discard: 1 to NH_LOOK_MAX */
} nh_way;

#define NH_WAY                                                                                     \
    { sizeof(nh_way), NH_PASS_BEST, NH_CLAIM_WORTH, NH_DISCARD_AWAY, NH_LOOK_MAX }

/* A player who follows a way. It works with a workspace of the game's list, which must
 * outlive it and may be shared by players of one thread; in a game of another list it
 * refuses to pass. Returns NH_OK,
 * NH_ERROR_ARGUMENT for a way out of range, or NH_ERROR_MEMORY. */
typedef struct nh_way_player nh_way_player;
NH_API nh_status nh_way_player_new(nh_workspace *workspace, const nh_way *way,
                                   const nh_allocator *allocator, nh_way_player **player,
                                   nh_error *error);
NH_API void nh_way_player_free(nh_way_player *player); /* NULL is ignored */

/* Puts the player in a seat. */
NH_API void nh_way_player_seat(nh_way_player *player, nh_game *game, int seat);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_GAME_H */
