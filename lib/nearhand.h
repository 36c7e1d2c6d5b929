/*
 * nearhand: how far a mahjong hand is from every pattern of a printed list.
 *
 * The library holds a tile model, reads lists of winning patterns (JSON), and
 * answers exactly, for a hand and a list: how many tiles each pattern still
 * lacks, which concrete target of the pattern is the best one to go for, what
 * to keep, what is needed, what can be let go, and how likely the target is to
 * be completed in a given number of draws. It says which tiles to pass and to
 * discard, audits lists, and deals hands that can be dealt again.
 *
 * This header includes the chapters below. Each also stands alone. Learn them in
 * this order:
 *   1. nearhand_base.h    errors, exact numbers, memory, cancelling
 *   2. nearhand_tiles.h   nh_tiles, nh_hand_parse, nh_tiles_format
 *   3. nearhand_list.h    nh_list_load, nh_list_read, nh_mistakes_at, nh_list_pattern
 *   4. nearhand_rank.h    nh_workspace_new, nh_rank, nh_distances, nh_rank_batch
 *   5. nearhand_pass.h    nh_pass, nh_pass_batch, nh_pass_ahead
 *   6. nearhand_table.h   nh_deal_table; nh_random_start, nh_deal_draw
 *   7. nearhand_audit.h   nh_audit_figures, nh_audit_dealt, nh_audit_relation
 *   8. nearhand_play.h    nh_layout_first, nh_layouts_each; nh_sets_parse, nh_list_rest;
 *                         nh_check
 *   9. nearhand_discard.h nh_discard, nh_discard_batch
 *  10. nearhand_claim.h   nh_claims, nh_exchanges
 *  11. nearhand_read.h    nh_read
 *  12. nearhand_game.h    nh_game_run, nh_way_player_new
 *  13. nearhand_groups.h  nh_list_groups, nh_examples_each
 *
 * Rules that hold for every call:
 *   - The library never prints, exits or aborts and keeps no global state but a
 *     lock: lists are parsed by cJSON, which notes its last error in a variable
 *     of its own. A program that parses with cJSON itself, at the same time in
 *     another thread, shares that variable.
 *   - Errors are values. A function that can fail returns nh_status; where it
 *     takes an nh_error, that is filled with a sentence for the player. An
 *     nh_error pointer may always be NULL.
 *   - A question is a struct that starts from its initialiser, such as
 *     NH_RANK_QUESTION, and begins with its size, so that later versions can add
 *     fields: a program that was built with an older header gets their defaults.
 *     One that did not start from its initialiser (its size is 0, less than the
 *     first version had, or one that no struct can have) is refused, and so is one
 *     from a newer header that sets a field this library does not know. NULL is the
 *     initialiser's question.
 *   - A list never changes once loaded: any number of threads may share it. A
 *     workspace is scratch memory of one list for one thread at a time.
 *   - Pointers that are not said to accept NULL must not be NULL.
 *
 * Link with -lnearhand.
 */
#ifndef NEARHAND_H
#define NEARHAND_H

#include "nearhand_base.h"

#include "nearhand_tiles.h"

#include "nearhand_list.h"

#include "nearhand_rank.h"

#include "nearhand_pass.h"

#include "nearhand_table.h"

#include "nearhand_audit.h"

#include "nearhand_play.h"

#include "nearhand_discard.h"

#include "nearhand_claim.h"

#include "nearhand_read.h"

#include "nearhand_game.h"
#include "nearhand_groups.h"

#endif /* NEARHAND_H */
