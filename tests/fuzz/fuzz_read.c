/* Readings of a player with nothing on the table, with small lists that a grammar makes of
 * the bytes, against listing every hidden hand: few tiles are unseen. */
#include "../hidden_hands.h"
#include "both.h"

#define SUMS_MAX 300
#define QUESTIONS 4

static void move_tiles(nh_tiles *pool, nh_tiles *to, int kind, int count) {
    int tiles = count < pool->count[kind] ? count : pool->count[kind];
    pool->count[kind] = (uint8_t)(pool->count[kind] - tiles);
    to->count[kind] = (uint8_t)(to->count[kind] + tiles);
}

/* Tiles of a target and some others, unseen or one's own; all the rest is seen. */
static void pick_tiles(struct both *both, struct decisions *decisions, hidden_hands *plain) {
    const ref_targets *targets = &both->targets[decide(decisions, (int)both->patterns)];
    nh_tiles pool = *nh_list_set(both->list);
    plain->hidden = decide(decisions, 8);
    if (targets->count > 0) {
        const ref_sum *goal = &targets->sums[decide(decisions, (int)targets->count)];
        plain->hidden = nh_tiles_total(&goal->tiles) - 1;
        for (int kind = 0; kind < NH_JOKER; kind++) {
            int mine = goal->tiles.count[kind] > 0 && decide(decisions, 8) == 7;
            move_tiles(&pool, &plain->mine, kind, mine);
            move_tiles(&pool, &plain->unseen, kind, goal->tiles.count[kind] - mine);
        }
    }
    for (int more = decide(decisions, 6); more > 0; more--) {
        nh_tiles *to = decide(decisions, 4) > 0 ? &plain->unseen : &plain->mine;
        move_tiles(&pool, to, decide(decisions, NH_KINDS), 1);
    }
    move_tiles(&pool, &plain->unseen, NH_JOKER, decide(decisions, 4));
    both->situation.seen = pool;
}

static bool is_count(const nh_natural *number, uint64_t count) {
    return number->limb[0] == count && number->limb[1] == 0 && number->limb[2] == 0;
}

static void rows_agree(const nh_reading *reading, const hidden_hands *plain) {
    size_t patterns = 0, tiles = 0;
    for (size_t i = 0; i < reading->patterns; i++) {
        const nh_read_pattern *row = nh_reading_pattern(reading, i);
        MUST(row->status == NH_OK && is_count(&row->ready, plain->of_pattern[row->pattern]));
        MUST(row->share >= 0 && row->share <= 1);
    }
    for (size_t i = 0; i < reading->tiles; i++) {
        const nh_read_tile *row = nh_reading_tile(reading, i);
        MUST(is_count(&row->wins, plain->wins[row->kind]));
        MUST(row->danger >= 0 && row->danger <= 1);
    }
    for (size_t p = 0; p < plain->patterns; p++)
        patterns += plain->of_pattern[p] > 0;
    for (int kind = 0; kind < NH_JOKER; kind++)
        tiles += plain->wins[kind] > 0 || plain->mine.count[kind] > 0;
    MUST(reading->patterns == patterns && reading->tiles == tiles);
}

static void reading_agrees(struct both *both, struct decisions *decisions) {
    static hidden_hands plain;
    nh_reading *reading = NULL;
    nh_read_question question = NH_READ_QUESTION;
    plain = (hidden_hands){.patterns = both->patterns};
    pick_tiles(both, decisions, &plain);
    if (plain.hidden > nh_tiles_total(&plain.unseen) ||
        different_hidden_hands(&plain.unseen, plain.hidden) > HIDDEN_HANDS_MOST)
        return;
    for (size_t p = 0; p < both->patterns; p++)
        plain.targets[p] = (hidden_targets){both->targets[p].sums, both->targets[p].count};
    list_hidden_hands(&plain);
    question.mine = &plain.mine;
    question.situation = &both->situation;
    question.hidden = plain.hidden;
    MUST(nh_read(both->list, &question, NULL, &reading, NULL) == NH_OK);
    MUST(reading->status == NH_OK && is_count(&reading->hands, plain.hands));
    MUST(is_count(&reading->ready, plain.ready));
    rows_agree(reading, &plain);
    nh_reading_free(reading);
}

/* The second half of the bytes is for what is known, however much the list takes. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const struct grammar_size small = {3, 9, 2, 2};
    struct decisions listed = {data, size / 2}, known = {data + size / 2, size - size / 2};
    struct both both;
    both_read(&both, &listed, &small);
    for (int i = 0; both.list != NULL && i < QUESTIONS; i++) {
        grammar_situation(&known, &both.situation, &both.draws);
        if (!both_expand(&both, SUMS_MAX))
            break;
        reading_agrees(&both, &known);
        both_release(&both);
    }
    both_free(&both);
    return 0;
}
