/* Calls of the interface that bytes make up: what there is to call with, values that
 * are wrong now and then, and what holds after every call. */
#ifndef NH_FUZZ_CALLS_H
#define NH_FUZZ_CALLS_H

#include "fuzz.h"
#include "nearhand.h"

#include <stdatomic.h>

enum { LISTS = 3, WORKSPACES = 3, NOTHING = -1 };

/* Memory that is counted. The call after `left` others fails, and with `all` those behind
 * it too. Several threads may take of it. */
struct counted {
    atomic_size_t blocks, left;
    atomic_bool failed, all;
};

/* What the calls have made so far; a place is NULL where nothing is. */
struct world {
    struct decisions *decisions;
    struct counted counted;
    nh_allocator allocator;
    nh_list *lists[LISTS];
    int base[LISTS]; /* the list that it is the rest of; NOTHING for one that was loaded */
    nh_workspace *workspaces[WORKSPACES];
    int list_of[WORKSPACES];
    nh_cancel *cancel;
    bool cancelled; /* by a call, or perhaps by another thread */
    nh_table *table;
    nh_exact_player *exact;
    nh_game *game;
    nh_way_player *way;
    int table_list, game_list, exact_workspace, way_workspace;
    nh_error error;
    bool error_given;
};

void world_begin(struct world *world, struct decisions *decisions);
/* Frees everything; all memory must have come back. */
void world_end(struct world *world);
/* Frees a list with all that was made of it, or what was made of a workspace too. */
void free_list(struct world *world, int place);
void free_workspace(struct world *world, int place);

/* A place where there is something; NOTHING if there is none. */
int pick_list(struct world *world);
int pick_workspace(struct world *world);

/* ------------------------------------------------------------- values --- */

/* Mostly low to high, now and then just outside, or far. */
int any_int(struct world *world, int low, int high);
/* One of a few, or none that there is. */
bool one_in(struct world *world, int chances);
/* The right size, now and then none, less, or more. */
size_t any_size(struct world *world, size_t size);
/* Tiles that the set holds, in number 0 to `most`; now and then any at all. */
nh_tiles any_tiles(struct world *world, const nh_tiles *set, int most);
nh_set any_set(struct world *world);
nh_situation any_situation(struct world *world, const nh_tiles *set, const nh_tiles *hand);
/* Room for so many rows of a size, and not a byte more. */
void *room_for(size_t rows, size_t size);

/* --------------------------------------------------------- what holds --- */

/* Where the error of the next call goes, NULL now and then; no allocation has failed. */
nh_error *error_of(struct world *world);

#define MAY(status) (1u << (status))
#define MAY_REFUSE (MAY(NH_OK) | MAY(NH_ERROR_ARGUMENT) | MAY(NH_ERROR_TILES))

/* The call after error_of returned one of these, with a sentence if it failed; memory was
 * short only if an allocation failed. */
void returned(struct world *world, nh_status status, unsigned allowed);

/* -------------------------------------------------------------- calls --- */

/* One call each, which bytes choose. */
void call_lists(struct world *world);
void call_audits(struct world *world);
void call_hands(struct world *world);
void call_batches(struct world *world);
void call_tables(struct world *world);
void call_games(struct world *world);
void call_values(struct world *world);

#endif
