/* Jokers that a hand can take from sets on the table, for people and for programs. */
#include "io/flow.h"
#include "patterns/exchanges.h"

/* The set of an exchange, as players write it. */
static void exchange_set(const struct exchanges *found, const nh_exchange *row, char *text) {
    size_t count;
    const nh_set *own = nh_list_sets(found->list, &count);
    set_text(row->own ? &own[row->set] : &found->others->sets[row->set], text);
}

/* How much closer the hand is then; none without a live target. */
static int gained(const struct exchanges *found, const nh_exchange *row) {
    bool live = found->away != NH_AWAY_NONE && row->away != NH_AWAY_NONE;
    return live ? found->away - row->away : 0;
}

static void exchange_json(struct json *json, const struct exchanges *found,
                          const nh_exchange *row) {
    char set[NH_TILES_TEXT_SIZE];
    exchange_set(found, row, set);
    json_open(json, '{');
    json_key(json, "tile");
    json_string(json, nh_kind_notation(row->kind));
    json_key(json, "set");
    json_string(json, set);
    json_key(json, "own");
    json_bool(json, row->own);
    json_key(json, "away");
    if (row->away == NH_AWAY_NONE)
        json_null(json);
    else
        json_unsigned(json, row->away);
    json_key(json, "nearer");
    json_double(json, gained(found, row));
    json_key(json, "complete");
    json_bool(json, row->complete);
    json_close(json, '}');
}

void exchanges_json(struct json *json, const struct exchanges *found) {
    json_key(json, "exchanges");
    json_open(json, '[');
    for (size_t i = 0; i < found->count; i++)
        exchange_json(json, found, &found->rows[i]);
    json_close(json, ']');
}

/* The exchange that wins or gains most; NULL where none gains. */
static const nh_exchange *best_exchange(const struct exchanges *found) {
    const nh_exchange *best = NULL;
    for (size_t i = 0; i < found->count; i++) {
        const nh_exchange *row = &found->rows[i];
        if (row->complete)
            return row;
        if (gained(found, row) > (best == NULL ? 0 : gained(found, best)))
            best = row;
    }
    return best;
}

void exchange_first_text(struct text *text, const struct exchanges *found) {
    const nh_exchange *row = best_exchange(found);
    char set[NH_TILES_TEXT_SIZE];
    if (row == NULL)
        return;
    exchange_set(found, row, set);
    text_add_format(text, "%s the joker of %s%s for %s: ", row->complete ? "Take" : "First take",
                    row->own ? "your " : "", set, nh_kind_notation(row->kind));
    if (row->complete)
        text_add(text, "your hand is complete then.");
    else
        text_add_format(text, "%d closer, %d away.", gained(found, row), row->away);
}

void exchanges_text(const struct exchanges *found) {
    for (size_t i = 0; i < found->count; i++) {
        const nh_exchange *row = &found->rows[i];
        int nearer = gained(found, row);
        char set[NH_TILES_TEXT_SIZE];
        struct text text;
        exchange_set(found, row, set);
        text_clear(&text);
        text_add_format(&text,
                        "In your turn %s takes the joker of %s%s: ", nh_kind_notation(row->kind),
                        row->own ? "your " : "", set);
        if (nearer > 0)
            text_add_format(&text, "%d closer, ", nearer);
        else if (nearer == 0)
            text_add(&text, "no closer, ");
        else
            text_add_format(&text, "%d farther, ", -nearer);
        if (row->away == NH_AWAY_NONE)
            text_add(&text, "no pattern is possible.");
        else if (row->complete)
            text_add(&text, "complete.");
        else
            text_add_format(&text, "%d away.", row->away);
        text_print(&text);
    }
}
