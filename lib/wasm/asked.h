/* A question from outside: JSON text, with the list that it is about. */
#ifndef NH_WASM_ASKED_H
#define NH_WASM_ASKED_H

#include "nearhand.h"
#include "wasm/answer_json.h"

#include <cjson/cJSON.h>

/* A list that is open, and what questions about it work in. `rest` and its workspace
 * are those of the sets that were asked for last. */
struct desk {
    nh_list *list;
    nh_workspace *workspace;
    nh_list *rest; /* NULL: none yet */
    nh_workspace *rest_workspace;
    nh_set sets[NH_SETS_MAX];
    size_t set_count;
    nh_ranked *rows;    /* one for each pattern */
    nh_choice *choices; /* NH_PASSES_MAX */
    uint8_t *away;      /* of each pattern; `chosen` likewise */
    uint8_t *chosen;
};

/* What all questions have in common, read and checked. */
struct asked {
    struct desk *desk;
    const cJSON *question;
    const nh_list *list; /* that of the desk, or its rest */
    nh_workspace *workspace;
    const uint8_t *chosen; /* NULL: all patterns */
    nh_situation situation;
    nh_tiles hand;
    nh_error error;
};

/* Reads "hand", "seen", "exposed", "prevailing", "seat", "patterns" and "sections".
 * False with an error for what cannot be read; a key that is not there is not known. */
bool asked_read(struct asked *asked, bool needs_hand);

/* The member of a question, or `otherwise` where it has none. False with an error for
 * a value of another type or out of range. */
bool asked_whole(struct asked *asked, const char *key, int least, int most, int otherwise,
                 int *value);
bool asked_whether(struct asked *asked, const char *key, bool *whether); /* false unless said */
bool asked_text(struct asked *asked, const char *key, const char **text);
bool asked_wind(struct asked *asked, const char *key, nh_wind *wind);
bool asked_tiles(struct asked *asked, const char *key, nh_tiles *tiles);

/* Always false: the answer is this error. */
bool asked_refuse(struct asked *asked, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* The names of the chosen patterns that a hand is `away` from; none for NH_AWAY_NONE. False
 * with an error. */
bool add_nearest(struct asked *asked, struct answer *answer, const char *key, const nh_tiles *hand,
                 const nh_situation *situation, uint8_t away);

/* Each answers a question by adding to an object that is open, and is false with an error. */
typedef bool answerer(struct asked *asked, struct answer *answer);
answerer answer_list, answer_rank, answer_pass, answer_discard, answer_claim, answer_check,
    answer_read, answer_audit, answer_deal, answer_tiles;

#endif /* NH_WASM_ASKED_H */
