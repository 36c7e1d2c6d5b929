/*
 * nearhand, chapter 3: pattern lists.
 */
#ifndef NEARHAND_LIST_H
#define NEARHAND_LIST_H

#include "nearhand_tiles.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ----------------------------------------------------------- mistakes --- */

/* The mistakes of a list, to be freed with nh_mistakes_free. */
typedef struct nh_mistakes nh_mistakes;

/* A mistake in a list, or a warning. `line` and `column` count from 1, 0 where
 * unknown; `pattern` names the pattern (NULL outside of one); `text` is the
 * whole sentence, pattern and group included. `warning` is NULL for a mistake.
 * A warning is about what the format allows but hardly anyone means: `warning`
 * is its name, one word such as "suit-letter" (static), with which a pattern
 * can accept it. The library owns a mistake, so later versions may add fields
 * at its end. */
typedef struct nh_mistake {
    uint32_t line;
    uint32_t column;
    const char *pattern;
    const char *text;
    const char *warning;
} nh_mistake;

/* How many mistakes and warnings there are (0 for NULL), and one of them, in the
 * order of the text; NULL for an index that is not below nh_mistakes_size. It
 * lives as long as the report. */
NH_API size_t nh_mistakes_size(const nh_mistakes *mistakes);
NH_API const nh_mistake *nh_mistakes_at(const nh_mistakes *mistakes, size_t index);
NH_API void nh_mistakes_free(nh_mistakes *mistakes); /* NULL is ignored */

/* -------------------------------------------------------------- lists --- */

/* Limits of a list; past any of them loading fails with a mistake that names
 * the limit. */
#define NH_LIST_BYTES_MAX (4u << 20) /* size of the JSON text */
#define NH_PATTERNS_MAX 4096u        /* patterns in a list */
#define NH_VARIANTS_MAX 256u         /* variants of a pattern */
#define NH_GROUPS_MAX 64u            /* groups in one array of groups */
#define NH_NESTING_MAX 8u            /* one_of inside one_of */
#define NH_ALTERNATIVES_MAX 256u     /* alternatives of one group */
#define NH_TIMES_MAX 24u             /* times of a group */
#define NH_CHOICES_MAX 20000u        /* different choices of a group that is distinct */
#define NH_TEXT_MAX 400u             /* bytes of a title, a name, a note ... */
#define NH_ASSIGNMENTS_MAX 1000000u  /* ways to give ranks and suits to the letters of a pattern */
#define NH_MISTAKES_MAX 100u         /* mistakes reported together */

/* Reads a pattern list from `length` bytes of JSON (nh_list_read) or from a
 * file (nh_list_load). On success `*list` owns everything and is freed with
 * nh_list_free; it never changes, so any number of threads may share it. On
 * failure `*list` is NULL.
 *
 * `mistakes` may be NULL. Otherwise `*mistakes` is set to a report that the
 * caller frees when the status is NH_ERROR_LIST or NH_ERROR_FILE, and to NULL in
 * every other case. `allocator` may be NULL for the C library's.
 * Cost: in proportion to the products of suit families that the patterns
 * stand for, not to their targets; bounded. Thread-safe. */
NH_API nh_status nh_list_read(const char *json, size_t length, const nh_allocator *allocator,
                              nh_list **list, nh_mistakes **mistakes);
NH_API nh_status nh_list_load(const char *path, const nh_allocator *allocator, nh_list **list,
                              nh_mistakes **mistakes);
NH_API void nh_list_free(nh_list *list); /* NULL is ignored */

/* The warnings of a list that loaded: how many, and one of them, in the order of
 * the text; NULL for an index that is not below nh_list_warnings. A warning
 * lives as long as the list. Those that a pattern accepts are not among them. */
NH_API size_t nh_list_warnings(const nh_list *list);
NH_API const nh_mistake *nh_list_warning(const nh_list *list, size_t index);

/* What a list says of itself. Strings live as long as the list; `edition` and
 * `note` are NULL where the list does not have them. */
NH_API const char *nh_list_title(const nh_list *list);
NH_API const char *nh_list_edition(const nh_list *list);
NH_API const char *nh_list_note(const nh_list *list);
NH_API int nh_list_hand_size(const nh_list *list);       /* tiles of a complete hand */
NH_API int nh_list_hand_most(const nh_list *list);       /* with a replacement tile for each kong */
NH_API const nh_tiles *nh_list_set(const nh_list *list); /* every tile of the set */
NH_API size_t nh_list_size(const nh_list *list);         /* number of patterns */

/* A pattern as it stands on the printed list; NULL strings where the list is
 * silent, `has_points` false without points. Where its variants differ, `points`
 * are the most that one of them gives, and `concealed` holds when all are. The
 * list owns it, so later versions may add fields at its end. */
typedef struct nh_pattern {
    const char *name;
    const char *section;
    const char *ref;
    const char *note;
    double points;
    bool has_points;
    bool concealed;
} nh_pattern;

/* Pattern number `index` (from 0, in printed order), which lives as long as the
 * list; NULL for an index that is not below nh_list_size. */
NH_API const nh_pattern *nh_list_pattern(const nh_list *list, size_t index);

/* What holds for variant `variant` (from 0) of a pattern: the pattern, with the
 * points, concealment and note of the variant in place of its own. A pattern
 * written with `groups` has one variant; nh_audit_variants says how many there
 * are, nh_layout of which one a target is. NULL for a number that is too large. */
NH_API const nh_pattern *nh_list_variant(const nh_list *list, size_t index, size_t variant);

/* Whether the pattern accepts warnings of a name. */
NH_API bool nh_list_accepts(const nh_list *list, size_t index, const char *warning);

/* The names that a pattern accepts (static), one by one from `number` 0 on; NULL past
 * the last. `*met` says whether reading the list found such a warning and left it
 * out. Names of warnings that audits find: "same", "within", "overlap", "points",
 * "empty-variant", "uncounted" (see nearhand-list(5)). */
NH_API const char *nh_list_accepted(const nh_list *list, size_t index, size_t number, bool *met);

/* The directions of one round of the Charleston. */
typedef enum nh_direction { NH_RIGHT, NH_ACROSS, NH_LEFT } nh_direction;

/* "right", "across" or "left"; static, NULL for any other value. */
NH_API const char *nh_direction_name(nh_direction direction);

#define NH_CHARLESTON_ROUNDS_MAX 8u
#define NH_CHARLESTON_STEPS_MAX 8u

/* How tiles are passed before play. Rounds after the first are optional. The
 * list owns it, so later versions may add fields at its end. */
typedef struct nh_charleston {
    uint8_t tiles;    /* tiles in each pass */
    uint8_t courtesy; /* most tiles in the last, agreed exchange */
    uint8_t rounds;
    uint8_t steps[NH_CHARLESTON_ROUNDS_MAX];
    uint8_t direction[NH_CHARLESTON_ROUNDS_MAX][NH_CHARLESTON_STEPS_MAX]; /* nh_direction */
    nh_tiles keep; /* kinds (count > 0) that may never be passed; jokers always
                      among them */
    uint8_t blind; /* bit r - 1: in the last pass of round r, tiles that come in may go
                      on unseen */
} nh_charleston;

NH_API const nh_charleston *nh_list_charleston(const nh_list *list);

/* The rules of claims. A discard that completes a hand may be claimed whatever
 * these say. The list owns them, so later versions may add fields at the end. */
typedef struct nh_play_rules {
    bool pung, kong, quint, sextet, chow; /* sets for which a discard may be claimed */
    bool chow_from_any; /* for a chow anyone's discard, not only that of the player to the left */
    bool exchange;      /* a joker in an exposed set may be taken for the tile that it stands for */
} nh_play_rules;

NH_API const nh_play_rules *nh_list_play(const nh_list *list);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_LIST_H */
