/* The groups of ranked targets. */
#include "patterns/row_layouts.h"

void lay_out_rows(const nh_list *list, const nh_ranked *rows, size_t count, nh_layout *layouts) {
    for (size_t i = 0; i < count; i++) {
        nh_layout_question question = NH_LAYOUT_QUESTION;
        question.joked = &rows[i].joked;
        question.prevailing = (nh_wind)rows[i].prevailing;
        question.seat = (nh_wind)rows[i].seat;
        if (nh_layout_first(list, rows[i].pattern, &rows[i].target, &question, &layouts[i], NULL) !=
            NH_OK)
            layouts[i] = (nh_layout){.groups = 0};
    }
}
