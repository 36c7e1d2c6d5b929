/* Layouts of targets, remembered. */
#ifndef CLI_PATTERNS_LAYOUT_MEMO_H
#define CLI_PATTERNS_LAYOUT_MEMO_H

#include "nearhand.h"

struct layout_memo;

/* NULL when memory is short. The list must outlive it. For one thread. */
struct layout_memo *layout_memo_new(const nh_list *list);
void layout_memo_free(struct layout_memo *memo);

/* As lay_out_rows. */
void layout_memo_rows(struct layout_memo *memo, const nh_ranked *rows, size_t count,
                      nh_layout *layouts);

#endif
