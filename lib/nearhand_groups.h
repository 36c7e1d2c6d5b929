/*
 * nearhand, chapter 12: how a list writes a pattern, and examples of it.
 */
#ifndef NEARHAND_GROUPS_H
#define NEARHAND_GROUPS_H

#include "nearhand_play.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ------------------------------------------------------------- groups --- */

/* A group as the list writes it, and groups that are added up. They live as long as
 * the list. */
typedef struct nh_group nh_group;
typedef struct nh_groups nh_groups;

/* The groups of a variant, those of a pattern written with `groups` being variant 0;
 * NULL for a number that is too large. */
NH_API const nh_groups *nh_list_groups(const nh_list *list, size_t pattern, size_t variant);

/* How many groups there are, and one of them in the order of the list; NULL for an
 * index that is not below nh_groups_size. */
NH_API size_t nh_groups_size(const nh_groups *groups);
NH_API const nh_group *nh_groups_at(const nh_groups *groups, size_t index);

/* Shapes that only a group can have, beside those of nh_shape. */
#define NH_GROUP_SET 9     /* a pung or a chow, whose tiles all are of the given kind */
#define NH_GROUP_ONE_OF 10 /* one of several alternatives */

/* How a group says its suit. */
typedef enum nh_suit_use {
    NH_SUIT_NONE,   /* not at all */
    NH_SUIT_GIVEN,  /* `suit` is 0 for bams, 1 for craks, 2 for dots */
    NH_SUIT_LETTER, /* `suit` is a letter, 0 for a to 25 for z; different letters are
                       different suits */
    NH_SUIT_ANY     /* each choice has a suit of its own */
} nh_suit_use;

/* What a group says. Complete: what the format gains will have calls of its own. */
typedef struct nh_group_terms {
    uint8_t shape;    /* nh_shape, NH_GROUP_SET or NH_GROUP_ONE_OF */
    uint8_t length;   /* of a chow (3) or a run; else 0 */
    uint8_t times;    /* how often the group is taken */
    uint8_t suit_use; /* nh_suit_use */
    uint8_t suit;
    bool distinct;         /* the times differ from one another in their tiles */
    uint16_t tiles;        /* how many nh_group_tile has; 0 for NH_GROUP_ONE_OF */
    uint16_t alternatives; /* how many nh_group_alternative has; else 0 */
} nh_group_terms;

NH_API void nh_group_read(const nh_group *group, nh_group_terms *terms);

/* An alternative of a group that is one of several; NULL for a number that is too
 * large. */
NH_API const nh_groups *nh_group_alternative(const nh_group *group, size_t index);

/* Classes of tiles. */
typedef enum nh_class {
    NH_CLASS_WIND,
    NH_CLASS_DRAGON,
    NH_CLASS_HONOUR,   /* winds and dragons */
    NH_CLASS_TERMINAL, /* 1 and 9 */
    NH_CLASS_ORPHAN,   /* terminals and honours */
    NH_CLASS_SIMPLE,   /* 2 to 8 */
    NH_CLASS_SUITED,
    NH_CLASS_ANY /* suited tiles and honours */
} nh_class;
#define NH_CLASSES 8

/* How a group says which tile it is of. */
typedef enum nh_which {
    NH_WHICH_RANK,          /* rank `offset` */
    NH_WHICH_LETTER,        /* rank sign * letter + other_sign * other + offset */
    NH_WHICH_HONOUR_LETTER, /* the wind or dragon that `letter` stands for */
    NH_WHICH_KIND,          /* the wind, dragon or flower `value`, a kind of tile */
    NH_WHICH_CLASS,         /* any of the class `value`, nh_class; NH_CLASS_DRAGON with a suit
                               is that suit's own dragon */
    NH_WHICH_PREVAILING,    /* the prevailing wind */
    NH_WHICH_SEAT           /* the seat wind */
} nh_which;

/* Which tile: one of the several that a group may name. Of a chow or a run it is the
 * first. Complete: it will not grow. */
typedef struct nh_group_tile {
    uint8_t which; /* nh_which */
    uint8_t value;
    uint8_t letter; /* 0 for a to 25 for z; different letters are different ranks */
    int8_t sign;
    uint8_t other; /* a second letter, unless its sign is 0 */
    int8_t other_sign;
    int8_t offset;
} nh_group_tile;

/* Writes tile `index` of a group; false for a number that is too large. */
NH_API bool nh_group_tile_at(const nh_group *group, size_t index, nh_group_tile *tile);

/* ------------------------------------------------- letters and limits --- */

/* What a letter can stand for in a variant: ranks, bit 0 for rank 1, or honours
 * (`*honours` true), bit 0 for the east wind to bit 6 for the white dragon. 0 where
 * there is no such variant or letter. A letter of a suit stands for any suit. */
NH_API unsigned nh_list_letter(const nh_list *list, size_t pattern, size_t variant, unsigned letter,
                               bool *honours);

typedef enum nh_honour_limit {
    NH_HONOURS_FREE,
    NH_HONOURS_NONE,
    NH_HONOURS_SOME, /* at least one wind or dragon */
    NH_HONOURS_ONLY  /* at least one, and no suited tile */
} nh_honour_limit;

/* What every target of a variant must satisfy as well. Complete: as nh_group_terms. */
typedef struct nh_limits {
    uint8_t suits_least, suits_most;             /* how many suits occur; 0 and 3 for any */
    uint8_t honours;                             /* nh_honour_limit */
    bool ranks[9];                               /* ranks that suited tiles may have */
    bool kinds[NH_KINDS];                        /* tiles that may occur */
    uint8_t least[NH_CLASSES], most[NH_CLASSES]; /* tiles of each class; 0 and
                                                    NH_TARGET_MAX for any */
} nh_limits;

/* Writes the limits of a variant; false where there is no such variant. */
NH_API bool nh_list_limits(const nh_list *list, size_t pattern, size_t variant, nh_limits *limits);

/* ----------------------------------------------------------- examples --- */

/* A hand of a variant, and where the variant has a group with alternatives, of one
 * of them: step i of the way to it says which group of the groups so far, and which of
 * its alternatives. The library owns it, so later versions may add fields at its end. */
typedef struct nh_example {
    uint32_t variant;
    uint8_t steps; /* 0 for a variant without alternatives */
    uint16_t group[NH_NESTING_MAX];
    uint16_t alternative[NH_NESTING_MAX];
    bool live;          /* some hand of the set has it; else there are no tiles and no layout */
    uint8_t prevailing; /* nh_wind: the wind that the target presumes, or unknown */
    uint8_t seat;       /* likewise */
    nh_tiles target;
    const nh_layout *layout; /* of the target; without groups where that takes too much
                                work */
} nh_example;

/* Calls `each` with an example for every variant of a pattern and, where a variant has
 * groups with alternatives, for every alternative of each of them (of those inside
 * others too), in the order of the list, until it returns false. A group that is taken
 * several times takes the alternative at least once. The target is the likeliest of
 * those that are as near as any to a player with no tiles. The example lives until
 * `each` returns. Of a list that is the rest of another, the examples are those of the
 * other.
 *
 * `allocator` may be NULL for the C library's, `error` too. Returns NH_OK;
 * NH_ERROR_ARGUMENT for a pattern that is not there; NH_ERROR_MEMORY; NH_ERROR_LIMIT
 * where an example takes too much work, which takes a pattern that is made for it.
 * Thread-safe. Cost: some milliseconds an example. */
NH_API nh_status nh_examples_each(const nh_list *list, size_t pattern,
                                  const nh_allocator *allocator,
                                  bool (*each)(const nh_example *example, void *context),
                                  void *context, nh_error *error);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_GROUPS_H */
