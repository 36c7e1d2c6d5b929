/* The task rank: what was asked, and the answer for one hand, which rank_text,
 * rank_json and rank_tsv write. */
#ifndef CLI_RANK_RANK_TASK_H
#define CLI_RANK_RANK_TASK_H

#include "io/input.h"
#include "io/page.h"
#include "io/style.h"
#include "nearhand.h"

#include <stdbool.h>
#include <stdint.h>

#define TOP_ALL (-1L)
#define TOP_TEXT 10     /* rows shown to people who did not say how many, if they fit */
#define TOP_SECTIONS 16 /* the same for sections, which have a line each */
#define SCREEN_LINES 23 /* of an answer then: 24 less the line for the next command */

enum rank_format { FORMAT_TEXT, FORMAT_JSON, FORMAT_TSV };

/* What has a row. */
enum rank_by { BY_PATTERN, BY_SECTION };

/* The columns of a pattern that are the same in every answer, written once. */
struct rank_columns {
    struct page page;
    size_t *ends; /* of each pattern; the next begins there */
};

/* What was asked, beside the hands. */
struct rank_question {
    const nh_list *list;
    nh_situation situation;
    int draws; /* for the chance */
    nh_order order;
    enum rank_by by;
    const uint8_t *chosen; /* patterns that are ranked, NULL for all */
    size_t chosen_count;
    size_t top; /* rows shown at most, of patterns or sections */
    bool fit;   /* only as many as fit a screen */
    enum rank_format format;
    struct style style;
    bool unicode;
    bool batch; /* hands are lines of input */
    struct rank_columns columns;
};

/* A section with a pattern that can still be made. */
struct rank_section {
    const char *name;      /* NULL: the patterns without one */
    size_t patterns;       /* of those that are ranked */
    size_t live;           /* of these, those that can still be made */
    size_t within_one;     /* of these, those at most a tile farther than the first */
    const nh_ranked *best; /* its first row in the ranking */
};

struct rank_answer {
    const struct rank_question *question;
    const struct line *line;
    nh_tiles hand;
    const nh_ranked *rows;    /* the best, ranking.rows of them */
    const nh_layout *layouts; /* of the targets shown, as the rows stand */
    nh_ranking ranking;
    const struct rank_section *sections; /* by section, in the order of their first rows */
    size_t section_count, sections_shown;
    const uint8_t *away; /* of every pattern; only where some are complete, or
                            have no live target */
    const uint8_t *open; /* the same with no tile gone, for the winds that were given;
                            NULL if none were */
};

/* Has `write` write the columns of every pattern; false when memory is
 * short. */
bool rank_columns_write(struct rank_question *question, void (*write)(const nh_pattern *pattern));
void rank_columns_out(const struct rank_question *question, uint32_t pattern);
void rank_columns_free(struct rank_columns *columns);

/* ----------------------------------------------------------- hands --- */

/* What one thread ranks hands with. */
struct ranker;

struct ranker *ranker_new(const struct rank_question *question); /* NULL without memory */
void ranker_free(struct ranker *ranker);

/* Answers a hand, or says what is wrong with it and returns false. */
bool ranker_answer(struct ranker *ranker, const struct line *line);

/* Why a pattern has no live target. */
enum rank_dead {
    DEAD_ANYHOW,   /* for either reason */
    DEAD_BY_TILES, /* too many tiles are gone */
    DEAD_BY_WINDS  /* the winds that were given rule it out, whatever is gone */
};

/* Patterns without a live target, by name: calls `tell` for each, in list
 * order, and returns how many there are. */
size_t rank_dead(const struct rank_answer *answer, enum rank_dead why,
                 void (*tell)(const char *name, void *context), void *context);

/* Patterns that the hand completes. */
size_t rank_complete(const struct rank_answer *answer);

/* Points times chance; none for a pattern without points. */
double rank_worth(const struct rank_answer *answer, const nh_ranked *row);

/* rank_sections.c: which pattern is in which section. NULL without memory. */
struct section_map;

struct section_map *section_map_new(const struct rank_question *question);
void section_map_free(struct section_map *map); /* NULL is ignored */

/* The sections of an answer, which must have the rows of all patterns. `sections` has
 * room for one a pattern. Returns how many there are. */
size_t rank_find_sections(const struct section_map *map, const struct rank_answer *answer,
                          struct rank_section *sections);

/* --------------------------------------------------------- formats --- */

/* One JSON object. */
void rank_json_pattern(const nh_pattern *pattern);
void rank_json(const struct rank_answer *answer);

/* One row for each target, or section with its first one, below a head. A line that
 * cannot be read has a row with the error. */
void rank_tsv_head(const struct rank_question *question);
void rank_tsv_pattern(const nh_pattern *pattern);
void rank_tsv(const struct rank_answer *answer);
void unread_tsv(const struct rank_question *question, const struct line *line,
                const nh_error *error);

/* For people; in a batch, below a blank line and the hand with its label. */
void rank_text(const struct rank_answer *answer);

#endif
