/* A pattern list as it is written: what the JSON says, checked and typed,
 * before it is worked out into targets. All of it lives in one arena. */
#ifndef NH_LIST_DRAFT_H
#define NH_LIST_DRAFT_H

#include "base/memory.h"
#include "tiles/tiles.h"
#include "json/mistakes.h"

/* The first six shapes are that many identical tiles. */
enum shape {
    SHAPE_NONE,
    SHAPE_SINGLE = 1,
    SHAPE_PAIR,
    SHAPE_PUNG,
    SHAPE_KONG,
    SHAPE_QUINT,
    SHAPE_SEXTET,
    SHAPE_CHOW,
    SHAPE_RUN,
    SHAPE_SET,
    SHAPE_ONE_OF
};

enum tile_class {
    CLASS_WIND,
    CLASS_DRAGON,
    CLASS_HONOUR,
    CLASS_TERMINAL,
    CLASS_ORPHAN,
    CLASS_SIMPLE,
    CLASS_SUITED,
    CLASS_ANY,
    CLASSES
};

/* One alternative of "which tile". */
enum atom_type {
    ATOM_RANK,          /* rank `offset` */
    ATOM_LETTER,        /* rank sign * letter + other_sign * other + offset */
    ATOM_HONOUR_LETTER, /* the honour that `letter` stands for */
    ATOM_KIND,          /* the honour or flower `value` */
    ATOM_CLASS,         /* the class `value` */
    ATOM_PREVAILING,
    ATOM_SEAT
};

struct atom {
    uint8_t type;
    uint8_t value;
    uint8_t letter; /* 0 for a to 25 for z */
    int8_t sign;
    uint8_t other; /* a second letter, unless its sign is 0 */
    int8_t other_sign;
    int8_t offset;
};

enum suit_type { SUIT_NONE, SUIT_GIVEN, SUIT_LETTER, SUIT_ANY };

#define LETTERS 26

struct draft_group;

struct draft_groups {
    struct draft_group *items;
    size_t count;
};

struct draft_group {
    uint8_t shape;
    uint8_t length; /* of a run */
    uint8_t suit_type;
    uint8_t suit; /* a part, or a letter */
    uint8_t times;
    bool distinct;
    struct atom *atoms;
    size_t atom_count;
    struct draft_groups *alternatives; /* of one_of */
    size_t alternative_count;
    const struct draft_groups *wanted;   /* NULL, or groups that one of the choices must be of */
    uint32_t tile_letters, suit_letters; /* letters used here and below, as bits */
    bool uses_prevailing, uses_seat;
};

enum honour_limit { HONOURS_FREE, HONOURS_NONE, HONOURS_SOME, HONOURS_ONLY };

struct draft_limits {
    uint8_t suits_least, suits_most;
    uint8_t honours;
    bool ranks[PART_KINDS];                /* those that suited tiles may have */
    bool kinds[NH_KINDS];                  /* those that "tiles" names */
    bool allowed[NH_KINDS];                /* by both */
    uint8_t least[CLASSES], most[CLASSES]; /* tiles of each class */
};

/* The values of a letter: ranks, bit 0 for rank 1, or honours, bit 0 for east. */
struct draft_letter {
    uint16_t values;
    bool honours;
};
#define ALL_RANKS 0x1FFu
#define ALL_HONOURS 0x7Fu

/* One way to write a pattern, with what holds for it. */
struct draft_variant {
    nh_pattern about; /* the pattern's, with what the variant says instead */
    bool is_object;   /* its groups stand under "groups" */
    struct draft_groups groups;
    struct draft_limits limits;
    struct draft_letter letters[LETTERS];
};

struct draft_pattern {
    nh_pattern about;
    struct draft_variant *variants;
    size_t variant_count;
    bool has_variants; /* written with "variants", not "groups" */
    struct accepted_warning *accepted;
    size_t accepted_count;
};

struct draft {
    const char *json; /* the text, while the caller has it */
    size_t length;
    const char *title, *edition, *note;
    int hand;
    nh_tiles set;
    nh_charleston charleston;
    nh_play_rules play;
    struct draft_pattern *patterns;
    size_t pattern_count;
};

#endif
