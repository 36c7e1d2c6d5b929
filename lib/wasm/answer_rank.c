/* The question "rank": the nearest target of each pattern. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <string.h>

/* Each group in notation, without spaces: "99BF"; perhaps with its tiles marked. */
static void add_groups(struct answer *answer, const nh_list *list, const nh_ranked *row,
                       bool marked) {
    nh_layout_question question = NH_LAYOUT_QUESTION;
    nh_layout layout;
    open_array(answer, "groups");
    question.joked = &row->joked;
    question.prevailing = (nh_wind)row->prevailing;
    question.seat = (nh_wind)row->seat;
    bool found =
        nh_layout_first(list, row->pattern, &row->target, &question, &layout, NULL) == NH_OK;
    for (unsigned i = 0; found && i < layout.groups; i++) {
        nh_tiles group;
        nh_layout_group(&layout, i, &group);
        add_joined(answer, NULL, &group);
    }
    close_array(answer);
    if (found && marked)
        add_marked(answer, row, &layout);
}

static void add_wind(struct answer *answer, const char *key, uint8_t wind) {
    const char letter[2] = {nh_wind_letter((nh_wind)wind), '\0'};
    if (wind != NH_WIND_UNKNOWN)
        add_text(answer, key, letter);
}

struct shown {
    nh_order order;
    bool marked;
};

static void add_ranked(const struct asked *asked, struct answer *answer, const nh_ranked *row,
                       const nh_ranking *ranking, struct shown shown) {
    const nh_pattern *pattern = nh_list_pattern(asked->list, row->pattern);
    open_object(answer, NULL);
    add_pattern(answer, pattern);
    add_whole(answer, "away", row->away);
    add_tiles(answer, "target", &row->target);
    add_groups(answer, asked->list, row, shown.marked);
    add_tiles(answer, "keep", &row->keep);
    add_tiles(answer, "need", &row->need);
    add_tiles(answer, "spare", &row->spare);
    add_double(answer, "chance", row->chance);
    add_ratio(answer, "chance_exact", &row->completing, &ranking->draws);
    if (shown.order == NH_ORDER_WORTH && pattern->has_points)
        add_double(answer, "worth", pattern->points * row->chance);
    else if (shown.order == NH_ORDER_WORTH)
        add_null(answer, "worth");
    add_flag(answer, "concealed", pattern->concealed);
    add_tiles(answer, "joked", &row->joked);
    add_wind(answer, "prevailing", row->prevailing);
    add_wind(answer, "seat", row->seat);
    close_object(answer);
}

static bool read_rank_order(struct asked *asked, nh_order *order) {
    static const char *const names[] = {
        [NH_ORDER_AWAY] = "away", [NH_ORDER_CHANCE] = "chance", [NH_ORDER_WORTH] = "worth"};
    const char *text;
    *order = NH_ORDER_AWAY;
    if (!asked_text(asked, "order", &text))
        return false;
    if (*text == '\0')
        return true;
    for (int i = 0; i < 3; i++)
        if (strcmp(text, names[i]) == 0) {
            *order = (nh_order)i;
            return true;
        }
    return asked_refuse(asked, "order is away, chance or worth");
}

/* The names of the chosen patterns that can no longer be made. */
static bool add_dead(struct asked *asked, struct answer *answer) {
    uint8_t *away = asked->desk->away;
    open_array(answer, "dead");
    if (nh_distances(asked->workspace, &asked->hand, &asked->situation, away, &asked->error) !=
        NH_OK)
        return false;
    for (size_t i = 0; i < nh_list_size(asked->list); i++)
        if (away[i] == NH_AWAY_NONE && (asked->chosen == NULL || asked->chosen[i] != 0))
            add_text(answer, NULL, nh_list_pattern(asked->list, i)->name);
    close_array(answer);
    return true;
}

bool answer_rank(struct asked *asked, struct answer *answer) {
    nh_rank_question question = NH_RANK_QUESTION;
    nh_ranking ranking;
    struct shown shown;
    int size = (int)nh_list_size(asked->desk->list), top;
    if (!asked_read(asked, true) || !asked_whole(asked, "top", 0, NH_PATTERNS_MAX, size, &top) ||
        !asked_whole(asked, "draws", 0, NH_DRAWS_MAX, NH_DRAWS_DEFAULT, &question.draws) ||
        !read_rank_order(asked, &question.order) || !asked_whether(asked, "marked", &shown.marked))
        return false;
    shown.order = question.order;
    question.situation = &asked->situation;
    question.chosen = asked->chosen;
    if (nh_rank(asked->workspace, &asked->hand, &question, asked->desk->rows,
                (size_t)(top < size ? top : size), &ranking, &asked->error) != NH_OK)
        return false;
    add_tiles(answer, "hand", &asked->hand);
    add_whole(answer, "tiles", nh_tiles_total(&asked->hand));
    open_array(answer, "targets");
    for (size_t i = 0; i < ranking.rows; i++)
        add_ranked(asked, answer, &asked->desk->rows[i], &ranking, shown);
    close_array(answer);
    add_away(answer, "nearest", ranking.nearest);
    add_whole(answer, "within_one", (int64_t)ranking.within_one);
    add_whole(answer, "draws", question.draws);
    add_whole(answer, "unseen", ranking.unseen);
    return add_dead(asked, answer);
}
