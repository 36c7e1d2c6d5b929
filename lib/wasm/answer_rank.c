/* The question "rank": the nearest target of each pattern. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <string.h>

/* Each group in notation, without spaces: "99BF"; perhaps with its tiles marked. */
static void add_groups(cJSON *object, const nh_list *list, const nh_ranked *row, bool marked) {
    nh_layout_question question = NH_LAYOUT_QUESTION;
    nh_layout layout;
    cJSON *groups = cJSON_AddArrayToObject(object, "groups");
    question.joked = &row->joked;
    question.prevailing = (nh_wind)row->prevailing;
    question.seat = (nh_wind)row->seat;
    if (nh_layout_first(list, row->pattern, &row->target, &question, &layout, NULL) != NH_OK)
        return;
    for (unsigned i = 0; i < layout.groups; i++) {
        char text[NH_TILES_TEXT_SIZE];
        nh_tiles group;
        size_t length = 0;
        nh_layout_group(&layout, i, &group);
        nh_tiles_format(&group, NH_STYLE_LETTERS, text, sizeof text);
        for (const char *from = text; *from != '\0'; from++)
            if (*from != ' ')
                text[length++] = *from;
        text[length] = '\0';
        cJSON_AddItemToArray(groups, cJSON_CreateString(text));
    }
    if (marked)
        add_marked(object, row, &layout);
}

static void add_wind(cJSON *object, const char *key, uint8_t wind) {
    const char letter[2] = {nh_wind_letter((nh_wind)wind), '\0'};
    if (wind != NH_WIND_UNKNOWN)
        cJSON_AddStringToObject(object, key, letter);
}

struct shown {
    nh_order order;
    bool marked;
};

static cJSON *target_of(const struct asked *asked, const nh_ranked *row, const nh_ranking *ranking,
                        struct shown shown) {
    const nh_pattern *pattern = nh_list_pattern(asked->list, row->pattern);
    cJSON *target = cJSON_CreateObject();
    add_pattern(target, pattern);
    cJSON_AddNumberToObject(target, "away", row->away);
    add_tiles(target, "target", &row->target);
    add_groups(target, asked->list, row, shown.marked);
    add_tiles(target, "keep", &row->keep);
    add_tiles(target, "need", &row->need);
    add_tiles(target, "spare", &row->spare);
    add_double(target, "chance", row->chance);
    add_ratio(target, "chance_exact", &row->completing, &ranking->draws);
    if (shown.order == NH_ORDER_WORTH && pattern->has_points)
        add_double(target, "worth", pattern->points * row->chance);
    else if (shown.order == NH_ORDER_WORTH)
        cJSON_AddNullToObject(target, "worth");
    cJSON_AddBoolToObject(target, "concealed", pattern->concealed);
    add_tiles(target, "joked", &row->joked);
    add_wind(target, "prevailing", row->prevailing);
    add_wind(target, "seat", row->seat);
    return target;
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
static bool add_dead(struct asked *asked, cJSON *answer) {
    uint8_t *away = asked->desk->away;
    cJSON *dead = cJSON_AddArrayToObject(answer, "dead");
    if (nh_distances(asked->workspace, &asked->hand, &asked->situation, away, &asked->error) !=
        NH_OK)
        return false;
    for (size_t i = 0; i < nh_list_size(asked->list); i++)
        if (away[i] == NH_AWAY_NONE && (asked->chosen == NULL || asked->chosen[i] != 0))
            cJSON_AddItemToArray(dead, cJSON_CreateString(nh_list_pattern(asked->list, i)->name));
    return true;
}

bool answer_rank(struct asked *asked, cJSON *answer) {
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
    cJSON_AddNumberToObject(answer, "tiles", nh_tiles_total(&asked->hand));
    cJSON *targets = cJSON_AddArrayToObject(answer, "targets");
    for (size_t i = 0; i < ranking.rows; i++)
        cJSON_AddItemToArray(targets, target_of(asked, &asked->desk->rows[i], &ranking, shown));
    add_away(answer, "nearest", ranking.nearest);
    cJSON_AddNumberToObject(answer, "within_one", (double)ranking.within_one);
    cJSON_AddNumberToObject(answer, "draws", question.draws);
    cJSON_AddNumberToObject(answer, "unseen", ranking.unseen);
    return add_dead(asked, answer);
}
