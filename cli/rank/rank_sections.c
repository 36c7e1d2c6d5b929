/* Where a hand leans: the sections of a ranking, each with its first row. */
#include "rank/rank_task.h"

#include <stdlib.h>
#include <string.h>

struct section_map {
    size_t *of;       /* the section of each pattern: the first pattern that has it */
    size_t *patterns; /* of each section, those that are ranked */
    size_t *place;    /* of each section among those found, from 1; 0 for none yet */
};

static bool same_section(const nh_pattern *a, const nh_pattern *b) {
    if (a->section == NULL || b->section == NULL)
        return a->section == b->section;
    return strcmp(a->section, b->section) == 0;
}

static void fill_map(struct section_map *map, const struct rank_question *question) {
    const nh_list *list = question->list;
    for (size_t i = 0; i < nh_list_size(list); i++) {
        size_t first = 0;
        while (!same_section(nh_list_pattern(list, first), nh_list_pattern(list, i)))
            first++;
        map->of[i] = first;
        map->patterns[first] += question->chosen == NULL || question->chosen[i] != 0;
    }
}

struct section_map *section_map_new(const struct rank_question *question) {
    size_t size = nh_list_size(question->list);
    struct section_map *map = calloc(1, sizeof *map);
    if (map == NULL)
        return NULL;
    map->of = malloc(size * sizeof *map->of);
    map->patterns = calloc(size, sizeof *map->patterns);
    map->place = malloc(size * sizeof *map->place);
    if (map->of != NULL && map->patterns != NULL && map->place != NULL) {
        fill_map(map, question);
        return map;
    }
    section_map_free(map);
    return NULL;
}

void section_map_free(struct section_map *map) {
    if (map == NULL)
        return;
    free(map->of);
    free(map->patterns);
    free(map->place);
    free(map);
}

size_t rank_find_sections(const struct section_map *map, const struct rank_answer *answer,
                          struct rank_section *sections) {
    const nh_list *list = answer->question->list;
    size_t count = 0;
    memset(map->place, 0, nh_list_size(list) * sizeof *map->place);
    for (size_t i = 0; i < answer->ranking.rows; i++) {
        const nh_ranked *row = &answer->rows[i];
        size_t number = map->of[row->pattern];
        if (map->place[number] == 0) {
            sections[count++] =
                (struct rank_section){.name = nh_list_pattern(list, number)->section,
                                      .patterns = map->patterns[number],
                                      .best = row};
            map->place[number] = count;
        }
        struct rank_section *section = &sections[map->place[number] - 1];
        section->live++;
        section->within_one += row->away <= section->best->away + 1;
    }
    return count;
}
