/* The questions of a drill. What cannot be understood is explained and asked again. */
#ifndef CLI_DRILL_DRILL_ASK_H
#define CLI_DRILL_DRILL_ASK_H

#include "drill/drill.h"

/* A kind of question. */
struct question {
    const char *text, *help;
    /* Reads an answer, or explains why it cannot and returns false. */
    bool (*read)(const struct drill *drill, const char *line, void *answer);
    void *answer;
    bool unclocked; /* drawing and typing: the time does not count */
    bool untimed;   /* after the passes: the limit is not for it */
    bool *decided;  /* NULL, or set to true by an empty line, which ends the decision
                       before its answer is typed */
};

/* Comes back with DRILL_DONE once the answer can be used. The time that it took, typing
 * errors and looking at the list included, belongs to the decision: it is added to
 * `seconds` (NULL: to nothing else) and to what the drill has spent. */
enum drill_end ask(struct drill *drill, const struct question *question, double *seconds);

/* Tiles to pass. `unseen`: how many of those that come in go on, where the step lets
 * them; with the player's own set the tiles are typed once the clock has stopped. */
enum drill_end ask_tiles(struct drill *drill, const char *text, const nh_view *view, nh_move *move,
                         double *seconds);

enum drill_end ask_yes(struct drill *drill, const char *text, bool *yes, double *seconds);
enum drill_end ask_count(struct drill *drill, const char *text, int most, int *count,
                         double *seconds);

/* ask_aims.c: the patterns that the hand goes for. */
enum drill_end ask_aims(struct drill *drill, struct drill_round *round, double *seconds);

/* ask_play.c: what to do in one's turn, and with another's discard that may be claimed,
 * which `*asked` says. */
enum drill_end ask_turn(struct drill *drill, const nh_game_view *view, nh_game_move *move,
                        double *seconds);
enum drill_end ask_claim(struct drill *drill, const nh_game_view *view, nh_game_move *move,
                         bool *asked, double *seconds);

/* An indented sentence; `explain_error` makes one of the library's words, below the line
 * that they are about where they have a place in it. */
void explain(const char *sentence);
void explain_error(const char *line, const nh_error *error);

/* Whether the line is the word, in either case. */
bool is_word(const char *line, const char *word);

/* list_shown.c: all patterns of the list, of a section, or all of one pattern. */
void show_list(const nh_list *list);
void show_named(const struct drill *drill, const char *word);

/* The word names no pattern, or several, which are chosen. */
void explain_pattern(const nh_list *list, const char *word, const uint8_t *chosen, size_t found);

#endif
