/* The review of a round that the history holds: the keys of its line that a drill
 * wrote, checked one by one. */
#include "history/review_read.h"
#include "history/review_items.h"

#define PLACE_MOST NH_PATTERNS_MAX

/* Absent in lines of version 0.1, and for a pass that cost nothing. */
static bool read_why(const cJSON *object, struct review_why *why) {
    const cJSON *item = item_of(object, "why");
    unsigned away = 0;
    unsigned best_away = 0;
    if (item == NULL)
        return true;
    why->known = read_number(item, "nearer", 1, &why->nearer) &&
                 read_number(item, "best_nearer", 1, &why->best_nearer);
    if (!why->known || !read_text(item, "pattern", &why->pattern))
        return why->known;
    why->known = read_tiles(item, "tiles", &why->tiles) &&
                 read_whole(item, "best_away", NH_TARGET_MAX, &best_away);
    why->best_away = (int)best_away;
    why->away = read_whole(item, "away", NH_TARGET_MAX, &away) ? (int)away : NH_AWAY_NONE;
    return why->known;
}

static bool read_pass(const cJSON *object, struct review_pass *pass) {
    pass->judged = history_pass_cost(object, &pass->cost);
    if (item_of(object, "unseen") != NULL &&
        !read_whole(object, "unseen", NH_TARGET_MAX, &pass->unseen))
        return false;
    return read_text(object, "step", &pass->step) &&
           read_whole(object, "charleston", NH_CHARLESTON_ROUNDS_MAX, &pass->charleston) &&
           read_tiles(object, "mine", &pass->mine) && read_tiles(object, "best", &pass->best) &&
           (!pass->judged ||
            (read_number(object, "expected", NH_TARGET_MAX, &pass->expected) &&
             read_number(object, "best_expected", NH_TARGET_MAX, &pass->best_expected) &&
             read_why(object, &pass->why)));
}

static bool read_courtesy(const cJSON *object, struct review_vote *vote) {
    const cJSON *averages = item_of(object, "courtesy");
    const cJSON *item;
    if (averages == NULL)
        return true;
    if (!read_array(object, "courtesy", NH_PASS_MAX, &averages))
        return false;
    cJSON_ArrayForEach(item, averages) {
        if (!cJSON_IsNumber(item) || item->valuedouble < 0 || item->valuedouble > NH_AWAY_NONE)
            return false;
        vote->courtesy[vote->courtesies++] = item->valuedouble;
    }
    return true;
}

static bool read_vote(const cJSON *object, const char *seat, struct review_vote *vote) {
    const cJSON *agreed = item_of(item_of(object, "agree"), seat);
    vote->agreed = cJSON_IsTrue(agreed);
    return cJSON_IsBool(agreed) &&
           read_whole(object, "charleston", NH_CHARLESTON_ROUNDS_MAX, &vote->charleston) &&
           read_number(object, "expected", NH_AWAY_NONE, &vote->expected) &&
           read_number(object, "stopping", NH_AWAY_NONE, &vote->stopping) &&
           read_courtesy(object, vote);
}

static bool read_aim(const cJSON *object, struct review_aim *aim) {
    unsigned place = 0;
    unsigned away = 0;
    unsigned replace = 0;
    bool good = read_text(object, "pattern", &aim->pattern);
    if (good && item_of(object, "place") != NULL)
        good = read_whole(object, "place", PLACE_MOST, &place) && place > 0 &&
               read_whole(object, "away", NH_TARGET_MAX, &away) &&
               read_whole(object, "replace", NH_TARGET_MAX, &replace);
    if (good && place > 0 && item_of(object, "shown") != NULL)
        good = read_text(object, "shown", &aim->shown) && read_tiles(object, "need", &aim->need) &&
               read_tiles(object, "spare", &aim->spare);
    aim->place = place;
    aim->away = (int)away;
    aim->replace = (int)replace;
    return good;
}

static bool read_passes(const cJSON *object, struct review *review) {
    const cJSON *passes;
    const cJSON *pass;
    if (!read_array(object, "passes", REVIEW_PASSES_MAX, &passes))
        return false;
    cJSON_ArrayForEach(pass, passes) {
        if (!read_pass(pass, &review->pass[review->passes++]))
            return false;
    }
    return true;
}

static bool read_votes(const cJSON *object, struct review *review) {
    const cJSON *votes;
    const cJSON *vote;
    const char *seat;
    if (!read_array(object, "votes", REVIEW_VOTES_MAX, &votes) || !read_text(object, "seat", &seat))
        return false;
    cJSON_ArrayForEach(vote, votes) {
        if (!read_vote(vote, seat, &review->vote[review->votes++]))
            return false;
    }
    return true;
}

static bool read_aims(const cJSON *object, struct review *review) {
    const cJSON *aims;
    const cJSON *aim;
    const cJSON *nearest = item_of(object, "nearest");
    if (!read_array(object, "aims", REVIEW_AIMS_MAX, &aims))
        return false;
    cJSON_ArrayForEach(aim, aims) {
        if (!read_aim(aim, &review->aim[review->aims++]))
            return false;
    }
    return nearest == NULL || read_aim(nearest, &review->nearest);
}

const char *review_read(const struct history_round *round, struct review *review) {
    unsigned live;
    *review = (struct review){.seconds = round->seconds, .limit = round->limit};
    if (!read_passes(round->object, review))
        return "which tiles were passed";
    if (!read_votes(round->object, review))
        return "who wanted to go on";
    if (!read_aims(round->object, review))
        return "which pattern you went for";
    if (!review_play_read(round->object, &review->play))
        return "how the game went";
    review->own_set = cJSON_IsTrue(item_of(round->object, "own_set"));
    if (review->own_set && !read_number(round->object, "apart", 1e9, &review->apart))
        return "how long drawing and typing took";
    if (read_whole(round->object, "live", PLACE_MOST, &live))
        review->live = live;
    return NULL;
}
