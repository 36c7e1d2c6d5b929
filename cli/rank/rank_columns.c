/* The columns of a pattern that are the same in every answer: written once, as
 * the format wants them, and copied from then on. */
#include "io/output.h"
#include "rank/rank_task.h"

#include <stdlib.h>

bool rank_columns_write(struct rank_question *question, void (*write)(const nh_pattern *pattern)) {
    struct rank_columns *columns = &question->columns;
    size_t size = nh_list_size(question->list);
    columns->ends = malloc(size * sizeof *columns->ends);
    if (columns->ends == NULL)
        return false;
    output_to(&columns->page);
    for (size_t i = 0; i < size; i++) {
        nh_pattern pattern = *nh_list_pattern(question->list, i);
        write(&pattern);
        columns->ends[i] = columns->page.length;
    }
    output_to(NULL);
    return !columns->page.failed;
}

void rank_columns_out(const struct rank_question *question, uint32_t pattern) {
    const struct rank_columns *columns = &question->columns;
    size_t start = pattern == 0 ? 0 : columns->ends[pattern - 1];
    output_bytes(columns->page.bytes + start, columns->ends[pattern] - start);
}

void rank_columns_free(struct rank_columns *columns) {
    page_free(&columns->page);
    free(columns->ends);
    columns->ends = NULL;
}
