/* A target laid out in the groups of its pattern.
 *
 * Letters take values depth first, as when the pattern is compiled, and a group is
 * laid as soon as its letters have values. Each choice of a group takes its tiles
 * from those of the target that are left; a layout is found where none are left.
 * Groups can hold groups, so what is still to do stands in a list of steps, each of
 * which calls the next: a way that fails returns to the last choice. */
#include "base/question.h"
#include "base/status.h"
#include "compile/compiled.h"
#include "compile/named_kinds.h"
#include "compile/pattern_limits.h"
#include "compile/unknowns.h"
#include "nearhand_play.h"
#include "play/letter_values.h"

#include <string.h>

/* Choices that are looked at for one call. Shipped patterns take some hundred. */
#define LAYOUT_WORK_MAX 20000000u

/* The order of a piece: its group as written, then the time that it is taken. */
#define GROUP_ORDER(group, time) ((uint16_t)((group) * (NH_TIMES_MAX + 1u) + (time)))

struct laying {
    struct compiler compiler; /* the variant and its letters: no sums are made */
    const nh_tiles *target, *joked;
    nh_wind prevailing, seat; /* known winds, or unknown */
    struct unknowns unknowns;
    struct letter_values values; /* those that are tried */
    const nh_set *sets;          /* on the table, each to be one of the pieces */
    size_t set_count;
    unsigned shown;                /* those that are, as a mask */
    nh_tiles left;                 /* tiles of the target that are not laid yet */
    nh_layout layout;              /* pieces in the order in which they were laid */
    uint16_t order[NH_TARGET_MAX]; /* of each piece */
    uint16_t order_now;            /* of the pieces that are laid now */
    uint64_t work;
    bool found, stopped;
    bool (*each)(const nh_layout *layout, void *context);
    void *context;
};

enum step_type { STEP_UNKNOWN, STEP_LEVEL, STEP_ARRAY, STEP_TIMES };

/* What is still to do once the step before has been done in one way. */
struct step_left {
    enum step_type type;
    const struct step_left *next;
    int index;                        /* of the unknown */
    int level;                        /* of the groups to lay */
    size_t at;                        /* of the next group */
    const struct draft_groups *array; /* of an alternative */
    const struct draft_group *group;  /* that is taken several times */
    unsigned time;                    /* how often, before this choice */
    bool outer;                       /* the group stands in the variant itself */
    nh_tiles before;                  /* tiles left before this choice */
    const nh_tiles *last;             /* the choice before this one, or NULL */
};

static void do_step(struct laying *laying, const struct step_left *step);

/* ------------------------------------------------------------- pieces --- */

static bool take_alike(struct laying *laying, int kind, int tiles) {
    if (laying->left.count[kind] < tiles)
        return false;
    laying->left.count[kind] = (uint8_t)(laying->left.count[kind] - tiles);
    return true;
}

/* Whether the suit has a row of that length from `kind`, of tiles that may occur. */
static bool row_fits(const struct laying *laying, int kind, int length) {
    if (kind >= NH_EAST || kind % PART_KINDS + length > PART_KINDS)
        return false;
    for (int i = 0; i < length; i++)
        if (laying->left.count[kind + i] == 0 || !may_occur(&laying->compiler, kind + i))
            return false;
    return true;
}

/* Goes on with the piece that was pushed last: as it is, and as each of the sets on the
 * table that it can be. No joker of the hand may serve in those. */
static void go_on(struct laying *laying, const struct step_left *next) {
    nh_piece *piece = &laying->layout.piece[laying->layout.pieces - 1];
    nh_piece plain = *piece;
    for (size_t i = 0; i < laying->set_count && !laying->stopped; i++) {
        const nh_set *set = &laying->sets[i];
        bool row = plain.shape >= NH_CHOW;
        if ((laying->shown >> i & 1u) != 0 || set->kind != plain.kind ||
            set->tiles != plain.tiles || row != (set->shape == NH_CHOW))
            continue;
        laying->shown |= 1u << i;
        piece->jokers = 0;
        piece->shown = (uint8_t)(i + 1);
        do_step(laying, next);
        *piece = plain;
        laying->shown &= ~(1u << i);
    }
    do_step(laying, next);
}

static void push_piece(struct laying *laying, int shape, int kind, int tiles) {
    bool alike = shape < NH_CHOW;
    bool open = alike && tiles >= 3 && laying->compiler.draft->set.count[NH_JOKER] > 0;
    nh_piece piece = {
        (uint8_t)shape, (uint8_t)kind, (uint8_t)tiles, (uint8_t)(open ? tiles : 0), 0, 0};
    laying->order[laying->layout.pieces] = laying->order_now;
    laying->layout.piece[laying->layout.pieces++] = piece;
}

static void lay_alike(struct laying *laying, int kind, int tiles, const struct step_left *next) {
    if (!take_alike(laying, kind, tiles))
        return;
    push_piece(laying, tiles, kind, tiles);
    go_on(laying, next);
    laying->layout.pieces--;
    laying->left.count[kind] = (uint8_t)(laying->left.count[kind] + tiles);
}

static void lay_row(struct laying *laying, int kind, int length, int shape,
                    const struct step_left *next) {
    if (!row_fits(laying, kind, length))
        return;
    for (int i = 0; i < length; i++)
        laying->left.count[kind + i]--;
    push_piece(laying, shape, kind, length);
    go_on(laying, next);
    laying->layout.pieces--;
    for (int i = 0; i < length; i++)
        laying->left.count[kind + i]++;
}

/* ------------------------------------------------------------- groups --- */

static void lay_kind(struct laying *laying, const struct draft_group *group, uint64_t named,
                     int kind, const struct step_left *next) {
    bool rows = group->shape == SHAPE_CHOW || group->shape == SHAPE_RUN;
    int tiles = group->shape == SHAPE_SET ? 3 : group->shape;
    if (rows)
        lay_row(laying, kind, group->length, group->shape == SHAPE_CHOW ? NH_CHOW : NH_RUN, next);
    else if (may_occur(&laying->compiler, kind))
        lay_alike(laying, kind, tiles, next);
    if (group->shape == SHAPE_SET && kinds_have(named, kind + 1) && kinds_have(named, kind + 2))
        lay_row(laying, kind, 3, NH_CHOW, next);
}

static void lay_plain(struct laying *laying, const struct draft_group *group,
                      const struct step_left *next) {
    const uint64_t named = named_kinds(&laying->compiler, group);
    uint64_t rest = named & (kind_bit(NH_JOKER) - 1u);
    for (; rest != 0 && !laying->stopped; rest &= rest - 1) {
        int kind = __builtin_ctzll(rest);
        if (laying->left.count[kind] > 0)
            lay_kind(laying, group, named, kind, next);
    }
}

/* One choice of a group, once. */
static void lay_choice(struct laying *laying, const struct draft_group *group,
                       const struct step_left *next) {
    if (group->shape != SHAPE_ONE_OF) {
        lay_plain(laying, group, next);
        return;
    }
    for (size_t i = 0; i < group->alternative_count && !laying->stopped; i++) {
        struct step_left array = {
            .type = STEP_ARRAY, .array = &group->alternatives[i], .next = next};
        do_step(laying, &array);
    }
}

/* The choice of a group that begins now, to be taken `group->times` times. */
static void lay_time(struct laying *laying, const struct step_left *times) {
    if (times->outer)
        laying->order_now = GROUP_ORDER(times->at, times->time);
    lay_choice(laying, times->group, times);
}

static void lay_group(struct laying *laying, const struct draft_group *group, bool outer, size_t at,
                      const struct step_left *next) {
    struct step_left times = {.type = STEP_TIMES,
                              .next = next,
                              .group = group,
                              .outer = outer,
                              .at = at,
                              .before = laying->left};
    lay_time(laying, &times);
}

/* A choice has been laid: once more, or on. Choices of one group may be swapped, so
 * only those in the order of hand notation are laid, the lower tile first; where all
 * must differ none comes twice. */
static void end_time(struct laying *laying, const struct step_left *times) {
    nh_tiles choice = tiles_without(&times->before, &laying->left);
    uint16_t order = laying->order_now;
    if (times->last != NULL) {
        int compared = memcmp(times->last->count, choice.count, sizeof choice.count);
        if (compared < 0 || (compared == 0 && times->group->distinct))
            return;
    }
    if (times->time + 1 == times->group->times) {
        do_step(laying, times->next);
    } else {
        struct step_left again = *times;
        again.time++;
        again.before = laying->left;
        again.last = &choice;
        lay_time(laying, &again);
    }
    laying->order_now = order;
}

/* ------------------------------------------------------------- layouts --- */

/* Whether the pieces let jokers be all that jokers have to be: the tiles that they
 * stand for, and those beyond the set's copies, for which there must be enough of them. */
static bool jokers_fit(const struct laying *laying) {
    const nh_tiles *set = &laying->compiler.draft->set;
    nh_tiles open = {{0}};
    int lacking = 0;
    for (int i = 0; i < laying->layout.pieces; i++) {
        const nh_piece *piece = &laying->layout.piece[i];
        open.count[piece->kind] = (uint8_t)(open.count[piece->kind] + piece->jokers);
    }
    for (int kind = 0; kind < NH_JOKER; kind++) {
        int beyond = laying->set_count > 0 ? 0 : laying->target->count[kind] - set->count[kind];
        int joked = laying->joked != NULL ? laying->joked->count[kind] : 0;
        if (open.count[kind] < beyond || open.count[kind] < joked)
            return false;
        lacking += beyond > 0 ? beyond : 0;
    }
    return lacking <= set->count[NH_JOKER];
}

/* All groups are laid: hands the layout over, with its pieces in order. */
static void hand_over(struct laying *laying) {
    nh_tiles none = {{0}};
    if (!nh_tiles_equal(&laying->left, &none) || !jokers_fit(laying) ||
        laying->shown != (1u << laying->set_count) - 1u)
        return;
    nh_layout layout = laying->layout;
    uint16_t order[NH_TARGET_MAX];
    for (int i = 0; i < layout.pieces; i++) {
        int at = i;
        for (; at > 0 && order[at - 1] > laying->order[i]; at--) {
            order[at] = order[at - 1];
            layout.piece[at] = layout.piece[at - 1];
        }
        order[at] = laying->order[i];
        layout.piece[at] = laying->layout.piece[i];
    }
    layout.groups = 0;
    for (int i = 0; i < layout.pieces; i++) {
        layout.groups = (uint8_t)(layout.groups + (i == 0 || order[i] != order[i - 1]));
        layout.piece[i].group = (uint8_t)(layout.groups - 1);
    }
    layout.prevailing = laying->prevailing == 0 ? laying->compiler.now.prevailing : 0;
    layout.seat = laying->seat == 0 ? laying->compiler.now.seat : 0;
    laying->found = true;
    laying->stopped = !laying->each(&layout, laying->context);
}

/* Whether a wind that takes a value has the one that is known. */
static bool winds_agree(const struct laying *laying) {
    const struct assignment *now = &laying->compiler.now;
    return (laying->prevailing == 0 || now->prevailing == 0 ||
            now->prevailing == (uint8_t)laying->prevailing) &&
           (laying->seat == 0 || now->seat == 0 || now->seat == (uint8_t)laying->seat);
}

static void give_value(struct laying *laying, const struct step_left *step) {
    if (step->index == laying->unknowns.count) {
        struct step_left level = {.type = STEP_LEVEL, .level = 0};
        do_step(laying, &level);
        return;
    }
    struct step_left deeper = {.type = STEP_UNKNOWN, .index = step->index + 1};
    struct step_left level = {.type = STEP_LEVEL, .level = step->index + 1, .next = &deeper};
    for (int value = 0; value < UNKNOWN_VALUES && !laying->stopped; value++)
        if (letter_value_fits(&laying->values, step->index, value) &&
            unknown_assign(&laying->compiler, &laying->unknowns, step->index, value) &&
            winds_agree(laying))
            do_step(laying, &level);
    unknown_forget(&laying->compiler, &laying->unknowns, step->index);
}

/* The next group that is bound at the level. */
static void lay_level(struct laying *laying, const struct step_left *step) {
    const struct draft_groups *groups = &laying->compiler.variant->groups;
    size_t at = step->at;
    while (at < groups->count && laying->unknowns.level[at] != step->level)
        at++;
    if (at == groups->count) {
        do_step(laying, step->next);
        return;
    }
    struct step_left rest = *step;
    rest.at = at + 1;
    lay_group(laying, &groups->items[at], true, at, &rest);
}

static void lay_array(struct laying *laying, const struct step_left *step) {
    if (step->at == step->array->count) {
        do_step(laying, step->next);
        return;
    }
    struct step_left rest = *step;
    rest.at = step->at + 1;
    lay_group(laying, &step->array->items[step->at], false, 0, &rest);
}

/* Goes on with a step; with none, all groups are laid. */
static void do_step(struct laying *laying, const struct step_left *step) {
    if (laying->stopped || ++laying->work > LAYOUT_WORK_MAX)
        return;
    if (step == NULL) {
        hand_over(laying);
        return;
    }
    switch (step->type) {
    case STEP_UNKNOWN:
        give_value(laying, step);
        break;
    case STEP_LEVEL:
        lay_level(laying, step);
        break;
    case STEP_ARRAY:
        lay_array(laying, step);
        break;
    default:
        end_time(laying, step);
        break;
    }
}

static void lay_variant(struct laying *laying, const struct draft_variant *variant) {
    laying->compiler.variant = variant;
    laying->compiler.now = (struct assignment){.prevailing = 0};
    laying->left = *laying->target;
    if (!tiles_within_limits(&variant->limits, laying->target) ||
        !unknowns_find(&variant->groups, variant->letters, &laying->unknowns))
        return;
    letter_values_find(&variant->groups, &laying->unknowns, laying->target, &laying->values);
    struct step_left first = {.type = STEP_UNKNOWN, .index = 0};
    do_step(laying, &first);
}

/* ------------------------------------------------------------- questions --- */

static nh_status read_layout_question(const nh_layout_question *given, nh_layout_question *question,
                                      nh_error *error) {
    *question = (nh_layout_question)NH_LAYOUT_QUESTION;
    nh_status status =
        question_read(question, sizeof *question, given, SIZE_PAST(nh_layout_question, seat),
                      "NH_LAYOUT_QUESTION", error);
    if (status == NH_OK && question->layout_size == 0)
        status = error_set(error, NH_ERROR_ARGUMENT, 0, "layout_size is 0; an initialiser sets it");
    if (status == NH_OK)
        status = check_wind("prevailing", question->prevailing, error);
    return status == NH_OK ? check_wind("seat", question->seat, error) : status;
}

static nh_status check_target(const nh_list *list, size_t pattern, const nh_tiles *target,
                              nh_error *error) {
    nh_status status = check_pattern(list, pattern, error);
    if (status == NH_OK && nh_tiles_total(target) > NH_TARGET_MAX)
        return error_set(error, NH_ERROR_TILES, 0, "a target has at most %d tiles, not %d",
                         NH_TARGET_MAX, nh_tiles_total(target));
    return status;
}

static nh_status lay_out(const nh_list *list, size_t pattern, const nh_tiles *target,
                         const nh_layout_question *question,
                         bool (*each)(const nh_layout *layout, void *context), void *context,
                         nh_error *error) {
    const struct draft_pattern *written = &list->draft->patterns[pattern];
    nh_tiles whole = *target;
    for (size_t i = 0; i < list->set_count; i++) {
        nh_set set = list->sets[i];
        nh_tiles tiles;
        set.jokers = 0; /* as what they stand for */
        nh_set_tiles(&set, &tiles);
        whole = tiles_with(&whole, &tiles);
    }
    struct laying laying = {.compiler = {.draft = list->draft, .pattern = written},
                            .target = &whole,
                            .sets = list->sets,
                            .set_count = list->set_count,
                            .joked = question->joked,
                            .prevailing = question->prevailing,
                            .seat = question->seat,
                            .each = each,
                            .context = context};
    for (size_t v = 0; v < written->variant_count && !laying.stopped; v++) {
        laying.layout = (nh_layout){.variant = (uint32_t)v};
        lay_variant(&laying, &written->variants[v]);
    }
    if (laying.work > LAYOUT_WORK_MAX)
        return error_set(error, NH_ERROR_LIMIT, 0, "laying the target out takes too much work");
    if (!laying.found)
        return error_set(error, NH_ERROR_TILES, 0, "the tiles are no target of \"%s\"",
                         written->about.name);
    return NH_OK;
}

static bool keep_first(const nh_layout *layout, void *context) {
    *(nh_layout *)context = *layout;
    return false;
}

nh_status nh_layout_first(const nh_list *list, size_t pattern, const nh_tiles *target,
                          const nh_layout_question *question, nh_layout *layout, nh_error *error) {
    nh_layout_question asked;
    nh_layout first;
    nh_status status = check_target(list, pattern, target, error);
    if (status == NH_OK)
        status = read_layout_question(question, &asked, error);
    if (status == NH_OK)
        status = lay_out(list, pattern, target, &asked, keep_first, &first, error);
    if (status == NH_OK)
        answer_write(layout, asked.layout_size, &first, sizeof first);
    return status;
}

nh_status nh_layouts_each(const nh_list *list, size_t pattern, const nh_tiles *target,
                          const nh_layout_question *question,
                          bool (*each)(const nh_layout *layout, void *context), void *context,
                          nh_error *error) {
    nh_layout_question asked;
    nh_status status = check_target(list, pattern, target, error);
    if (status == NH_OK)
        status = read_layout_question(question, &asked, error);
    return status == NH_OK ? lay_out(list, pattern, target, &asked, each, context, error) : status;
}

/* --------------------------------------------------------------- tiles --- */

void nh_piece_tiles(const nh_piece *piece, nh_tiles *tiles) {
    *tiles = (nh_tiles){{0}};
    bool row = piece->shape == NH_CHOW || piece->shape == NH_RUN;
    if (piece->kind + (row ? piece->tiles : 1) > NH_KINDS)
        return;
    if (!row)
        tiles->count[piece->kind] = piece->tiles;
    for (int i = 0; row && i < piece->tiles; i++)
        tiles->count[piece->kind + i] = 1;
}

void nh_layout_group(const nh_layout *layout, unsigned group, nh_tiles *tiles) {
    *tiles = (nh_tiles){{0}};
    for (int i = 0; i < layout->pieces && i < NH_TARGET_MAX; i++) {
        nh_tiles piece;
        if (layout->piece[i].group != group)
            continue;
        nh_piece_tiles(&layout->piece[i], &piece);
        *tiles = tiles_with(tiles, &piece);
    }
}
