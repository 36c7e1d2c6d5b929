/* A ranked pattern for people, by itself. */
#include "patterns/row_text.h"
#include "io/flow.h"
#include "patterns/described.h"
#include "patterns/marked.h"

#define GAP 2
#define INDENT 4

void row_text_out(const nh_list *list, const nh_ranked *row, const nh_pattern *about,
                  const nh_layout *layout, const struct style *style, bool unicode) {
    struct flow flow = {.indent = INDENT};
    struct text piece;
    pattern_heading_out(about, 0);
    text_clear(&piece);
    marked_target(&piece, list, row, layout, style, unicode);
    flow_add(&flow, &piece, GAP);
    if (nh_tiles_total(&row->spare) > 0) {
        text_clear(&piece);
        text_add(&piece, "don't need ");
        marked_tiles(&piece, &row->spare, style->dim, style, unicode);
        flow_add(&flow, &piece, GAP);
    }
    text_clear(&piece);
    marked_winds(&piece, row);
    if (piece.width > 0)
        flow_add(&flow, &piece, GAP);
    flow_end(&flow);
}
