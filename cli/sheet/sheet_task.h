/* The task sheet: its hands and their answers, which sheet_text and sheet_html
 * write. */
#ifndef CLI_SHEET_SHEET_TASK_H
#define CLI_SHEET_SHEET_TASK_H

#include "io/text.h"
#include "nearhand.h"
#include "patterns/pass_reason.h"
#include "players/players.h"
#include "sheet/sheet_hands.h"

#include <stdbool.h>
#include <stdint.h>

#define SHEET_PASSES 4   /* shown of each hand, the best among them */
#define SHEET_PATTERNS 4 /* likewise */
#define SHEET_DISCARDS 4 /* likewise */

/* What is asked of a hand. */
enum sheet_question { ASKS_PASS, ASKS_DISCARD, ASKS_READING };

struct sheet {
    nh_list *list;
    const char *seed; /* NULL for hands that were given */
    enum sheet_question asks;
    unsigned count; /* tiles of a pass, 1 to NH_PASS_MAX */
};

/* What is best for a hand. */
struct sheet_key {
    nh_passing passing; /* no rows where no pass is known */
    bool too_much;      /* if so: it would take too much work; else too few tiles may go */
    nh_choice choices[NH_PASSES_MAX];
    nh_discarding discarding; /* no rows where no discard is known */
    nh_discard_choice discards[NH_DISCARDS_MAX];
    nh_ranking ranking;
    nh_ranked rows[SHEET_PATTERNS];
    nh_layout layouts[SHEET_PATTERNS]; /* of the rows */
    bool explained;                    /* the best pass, and another if there is one that costs: */
    struct pass_keeps keeps;
    size_t second; /* the best choice that is not as good as the best; 0: none */
    struct pass_reason reason;
    struct other_players player;    /* of a reading: the one who is read; */
    struct players_reading reading; /* none where it takes too much work. */
    size_t left, more; /* patterns shown, whose targets are in `rows`, and those that are not */
};

/* sheet_key_free frees what a key holds. */
void sheet_answer(const struct sheet *sheet, nh_workspace *workspace, const struct sheet_hand *hand,
                  struct sheet_key *key);
void sheet_key_free(struct sheet_key *key);

/* Reads the player beside a hand. */
void sheet_read(nh_list *list, const struct sheet_hand *hand, struct sheet_key *key);

/* How sheet and key are written. */
struct sheet_form {
    void (*begin)(const struct sheet *sheet);
    void (*sheet_head)(const struct sheet *sheet);
    void (*sheet_hand)(const struct sheet *sheet, const struct sheet_hand *hand);
    void (*sheet_end)(void);
    void (*between)(void); /* the key begins a new page */
    void (*key_head)(const struct sheet *sheet);
    void (*key_hand)(const struct sheet *sheet, const struct sheet_hand *hand,
                     const struct sheet_key *key);
    void (*key_end)(void);
    void (*end)(void);
};

extern const struct sheet_form sheet_text, sheet_html;

/* ------------------------------------------------- words of both forms --- */

/* "three tiles", as many as are passed. */
const char *sheet_tiles_passed(const struct sheet *sheet);

/* "Seed 42. ", or nothing. */
void sheet_seed(const struct sheet *sheet, struct text *text);

/* What is known of a hand: "deal 7, prevailing north, seat east", its label, or nothing. */
void sheet_hand_about(const struct sheet_hand *hand, struct text *text);

#define SHEET_CLOSEST "Closest patterns"
#define SHEET_NO_PATTERN "No pattern is possible."

/* Whether jokers can stand for tiles, so that the key explains their mark. */
bool sheet_jokers(const struct sheet *sheet);

/* Where a pattern stands on the printed list. The ref comes first: it finds the
 * pattern even if the section is cut off. */
void sheet_place(const nh_pattern *pattern, struct text *text);

#define SHEET_FIGURE_SIZE 16

/* Passes that are shown, and those that are not though they are as good as the
 * best on average. */
size_t sheet_passes(const struct sheet_key *key);
size_t sheet_as_good(const struct sheet_key *key);

/* Why the best pass is the best, and what the second choice costs: sentences. Names are
 * those of the list. */
void sheet_why(const struct sheet *sheet, const struct sheet_key *key, struct text *text);

/* Why no pass is shown: a sentence. */
const char *sheet_no_pass(const struct sheet_key *key);

/* The same of discards. Complete hands have none to show. */
size_t sheet_discards(const struct sheet_key *key);
size_t sheet_discards_as_good(const struct sheet_key *key);
const char *sheet_no_discard(const struct sheet_key *key);
void sheet_discard_expected(const struct sheet_key *key, const nh_discard_choice *choice,
                            char text[SHEET_FIGURE_SIZE]);

/* What the sheet asks about discards. */
#define SHEET_ASKS_DISCARD "Which tile do you discard, and which unseen tiles are useful then?"

/* What the sheet asks about another player. */
#define SHEET_ASKS_READING                                                                         \
    "A player has sets on the table and may be one tile short: what are they making, and which "   \
    "of your tiles is the safest to discard?"

/* What the figures of a reading mean. */
#define SHEET_SHARE                                                                                \
    "of all hands that they can hide and that are one tile short, those that make the pattern"
#define SHEET_DANGER "of the same hands, those that the tile completes"
#define SHEET_READING_MODEL                                                                        \
    "All of them are taken as equally likely: what discards tell of a player's plans is not in "   \
    "it."

/* "North", or "The player". */
void sheet_player_name(const struct sheet_table *table, struct text *text);

/* "EEE 444D". */
void sheet_sets_add(struct text *text, const nh_set *sets, size_t count);

/* "North: EEE 444D on the table, 7 tiles hidden: 3 of 63 patterns left." */
void sheet_player(const struct sheet_hand *hand, const struct sheet_key *key, struct text *text);

/* Why the reading has no figures: a sentence; NULL where it has. */
const char *sheet_no_reading(const struct sheet_key *key);

/* How many of the first dangers are those of one's own tiles, the most dangerous first. */
size_t sheet_own_dangers(const struct sheet_key *key);

/* The share of a pattern that is left. */
void sheet_share(const struct sheet_key *key, size_t index, char text[PERCENT_SIZE]);

/* The safest tile and why: a sentence. */
void sheet_safest(const struct sheet_key *key, struct text *text);

/* What the figures of discards mean. */
#define SHEET_AFTER "tiles away from the closest pattern after the discard"
#define SHEET_DISCARD_AVERAGE "the same once 3 more tiles have come, counted over all that may come"
#define SHEET_USEFUL "unseen tiles that bring the hand closer by themselves, and how many of each"

/* Tiles away after a pass, on average; how often it brings the hand nearer. */
void sheet_expected(const struct sheet_key *key, const nh_choice *choice,
                    char text[SHEET_FIGURE_SIZE]);
void sheet_nearer(const struct sheet_key *key, const nh_choice *choice,
                  char text[SHEET_FIGURE_SIZE]);

#endif
