/* Calls on lists: read, freed, made the rest of, looked at, audited, read against
 * another player; and workspaces of them. See calls.h. */
#include "../narrow_list.h"
#include "calls.h"
#include "grammar.h"

#include <string.h>

/* With ' for ", too. */
static const char capes_list[] =
    "{'format': 1, 'title': 'Two Capes List', 'hand': 8, 'tiles': {'flowers': 4, 'jokers': 6},\n"
    " 'charleston': {'tiles': 2, 'rounds': [['right', 'left'], ['across']], 'courtesy': 2,\n"
    "   'blind': [1, 2], 'keep': 'F'},\n"
    " 'play': {'claims': ['pung', 'kong', 'quint', 'chow'], 'chow_from': 'any',\n"
    "   'exchange': true},\n"
    " 'patterns': [\n"
    "  {'name': 'Pungs', 'points': 20, 'groups': [\n"
    "    {'pung': 'any', 'times': 2, 'distinct': true}, {'pair': 'any'}]},\n"
    "  {'name': 'Kongs', 'points': 35, 'groups': [\n"
    "    {'kong': 'n', 'suit': 'x'}, {'kong': 'n+1', 'suit': 'x'}]},\n"
    "  {'name': 'Quint and chow', 'concealed': true, 'groups': [\n"
    "    {'quint': 'any'}, {'chow': 'any'}]}\n"
    " ]}\n";

static const char shore_list[] =
    "{'format': 1, 'title': 'Plain Shore List', 'hand': 11, 'tiles': {'flowers': 0},\n"
    " 'play': {'claims': ['pung', 'kong', 'chow']},\n"
    " 'patterns': [\n"
    "  {'name': 'Three sets', 'points': 1, 'groups': [\n"
    "    {'set': 'any', 'times': 3}, {'pair': 'any'}]},\n"
    "  {'name': 'Kongs too', 'groups': [\n"
    "    {'one_of': [{'set': 'any'}, {'kong': 'any'}], 'times': 3}, {'pair': 'any'}]},\n"
    "  {'name': 'Pairs', 'groups': [\n"
    "    {'pair': 'any', 'times': 5, 'distinct': true}, {'single': 'wind'}]}\n"
    " ]}\n";

static const char slip_list[] = "{'format': 1, 'title': 'Slip List', 'hand': 2,\n"
                                " 'patterns': [{'name': 'Pair', 'groups': [{'pair': 'any'}]}]}\n";

static const char *const texts[] = {narrow_list, capes_list, shore_list, slip_list};
enum { TEXTS = sizeof texts / sizeof *texts };

/* ------------------------------------------------------------- loading --- */

static void mistakes_hold(const nh_mistakes *mistakes) {
    size_t count = nh_mistakes_size(mistakes);
    MUST(count > 0 && count <= NH_MISTAKES_MAX + 1);
    for (size_t i = 0; i < count; i++)
        MUST(nh_mistakes_at(mistakes, i)->text[0] != '\0');
    MUST(nh_mistakes_at(mistakes, count) == NULL);
}

static void read_text(struct world *world, int place, const char *text, size_t length) {
    nh_list *list = (nh_list *)texts;
    nh_mistakes *mistakes = (nh_mistakes *)texts;
    bool reports = !one_in(world, 4);
    error_of(world);
    world->error_given = false;
    nh_status status =
        nh_list_read(text, length, &world->allocator, &list, reports ? &mistakes : NULL);
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_MEMORY) | MAY(NH_ERROR_LIST));
    MUST((list != NULL) == (status == NH_OK));
    if (reports) {
        MUST((mistakes != NULL) == (status == NH_ERROR_LIST));
        if (mistakes != NULL)
            mistakes_hold(mistakes);
        nh_mistakes_free(mistakes);
    }
    world->lists[place] = list;
}

/* One of a few texts, now and then cut short, or one of the grammar. */
static void read_list(struct world *world) {
    static const struct grammar_size small = {2, 7, 2, 2};
    int place = decide(world->decisions, LISTS), which = decide(world->decisions, 2 * TEXTS + 1);
    if (world->lists[place] != NULL)
        free_list(world, place);
    if (which == 2 * TEXTS) {
        const char *text = grammar_list(world->decisions, &small);
        read_text(world, place, text, strlen(text));
        return;
    }
    char text[1024];
    size_t length = strlen(texts[which / 2]);
    MUST(length < sizeof text);
    for (size_t i = 0; i < length; i++)
        text[i] = (char)(texts[which / 2][i] == '\'' ? '"' : texts[which / 2][i]);
    if (one_in(world, 16))
        length = (size_t)decide(world->decisions, (int)length);
    read_text(world, place, text, length);
}

static void load_nothing(struct world *world) {
    nh_list *list = (nh_list *)texts;
    nh_mistakes *mistakes = NULL;
    const char *paths[] = {"", "/", "/dev/null", "\xFF"};
    error_of(world);
    world->error_given = false;
    nh_status status =
        nh_list_load(paths[decide(world->decisions, 4)], &world->allocator, &list, &mistakes);
    returned(world, status, MAY(NH_ERROR_FILE) | MAY(NH_ERROR_LIST) | MAY(NH_ERROR_MEMORY));
    MUST(list == NULL && (mistakes != NULL) == (status != NH_ERROR_MEMORY));
    nh_mistakes_free(mistakes);
}

/* -------------------------------------------------------------- rests --- */

static void rest_holds(const nh_list *rest, const nh_list *list, size_t set_count) {
    size_t all;
    MUST(nh_list_sets(rest, &all) != NULL || all == 0);
    size_t before;
    nh_list_sets(list, &before);
    MUST(all == before + set_count);
    MUST(nh_list_size(rest) == nh_list_size(list));
    MUST(nh_tiles_total(nh_list_set(rest)) <= nh_tiles_total(nh_list_set(list)));
}

static void make_rest(struct world *world) {
    int from = pick_list(world), place = decide(world->decisions, LISTS);
    nh_set sets[NH_SETS_MAX + 2];
    size_t count = (size_t)(one_in(world, 8) ? decide(world->decisions, NH_SETS_MAX + 3)
                                             : decide(world->decisions, 3));
    if (from == NOTHING || world->lists[place] != NULL)
        return;
    for (size_t i = 0; i < count; i++)
        sets[i] = any_set(world);
    nh_list *rest = (nh_list *)texts;
    nh_status status =
        nh_list_rest(world->lists[from], sets, count, &world->allocator, &rest, error_of(world));
    returned(world, status, MAY_REFUSE | MAY(NH_ERROR_MEMORY) | MAY(NH_ERROR_LIMIT));
    MUST((rest != NULL) == (status == NH_OK));
    world->lists[place] = rest;
    world->base[place] = from;
    if (rest != NULL)
        rest_holds(rest, world->lists[from], count);
}

static void parse_sets(struct world *world) {
    static const char *const words[] = {"444D EEEJ",     "0000 123B", "44D",
                                        "EEJJ 5555555C", "JJJ",       ""};
    int place = pick_list(world);
    nh_set sets[NH_SETS_MAX];
    size_t count = 77, capacity = (size_t)decide(world->decisions, NH_SETS_MAX + 1);
    const char *text = words[decide(world->decisions, 6)];
    size_t length = strlen(text) - (one_in(world, 4) && text[0] != '\0');
    nh_status status = nh_sets_parse(place == NOTHING ? NULL : world->lists[place], text, length,
                                     sets, capacity, &count, error_of(world));
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_TILES));
    MUST(status != NH_OK || count <= capacity);
    for (size_t i = 0; status == NH_OK && i < count; i++) {
        nh_tiles tiles;
        nh_set_tiles(&sets[i], &tiles);
        MUST(nh_tiles_total(&tiles) == sets[i].tiles);
    }
}

/* ---------------------------------------------------------- workspaces --- */

static void make_workspace(struct world *world) {
    int list = pick_list(world), place = decide(world->decisions, WORKSPACES);
    if (list == NOTHING)
        return;
    if (world->workspaces[place] != NULL)
        free_workspace(world, place);
    error_of(world);
    world->error_given = false;
    nh_workspace *workspace = (nh_workspace *)texts;
    nh_status status = nh_workspace_new(world->lists[list], &world->allocator, &workspace);
    returned(world, status, MAY(NH_OK) | MAY(NH_ERROR_MEMORY));
    MUST((workspace != NULL) == (status == NH_OK));
    world->workspaces[place] = workspace;
    world->list_of[place] = list;
    if (workspace != NULL)
        MUST(nh_workspace_list(workspace) == world->lists[list]);
}

/* ------------------------------------------------------- what lists say --- */

static void groups_hold(struct world *world, const nh_groups *groups, int depth) {
    for (size_t i = 0; groups != NULL && i < nh_groups_size(groups); i++) {
        const nh_group *group = nh_groups_at(groups, i);
        nh_group_terms terms;
        nh_group_tile tile;
        nh_group_read(group, &terms);
        MUST(terms.shape >= NH_SINGLE && terms.shape <= NH_GROUP_ONE_OF && terms.times > 0);
        size_t index = (size_t)any_int(world, 0, 3);
        MUST(nh_group_tile_at(group, index, &tile) == (index < terms.tiles));
        MUST((nh_group_alternative(group, index) != NULL) == (index < terms.alternatives));
        if (depth < (int)NH_NESTING_MAX)
            groups_hold(world, nh_group_alternative(group, 0), depth + 1);
    }
    MUST(groups == NULL || nh_groups_at(groups, nh_groups_size(groups)) == NULL);
}

static void look_at(struct world *world) {
    int place = pick_list(world);
    if (place == NOTHING)
        return;
    const nh_list *list = world->lists[place];
    size_t pattern = (size_t)any_int(world, 0, 3), variant = (size_t)any_int(world, 0, 3);
    bool there = pattern < nh_list_size(list), honours, met;
    nh_limits limits;
    MUST((nh_list_pattern(list, pattern) != NULL) == there);
    MUST(there || nh_audit_variants(list, pattern) == 0);
    bool has = variant < nh_audit_variants(list, pattern);
    MUST((nh_list_variant(list, pattern, variant) != NULL) == has);
    MUST((nh_list_groups(list, pattern, variant) != NULL) == has);
    MUST(nh_list_limits(list, pattern, variant, &limits) == has);
    MUST(has || !nh_audit_variant_live(list, pattern, variant));
    unsigned letters =
        nh_list_letter(list, pattern, variant, (unsigned)any_int(world, 0, 25), &honours);
    MUST(has || letters == 0);
    groups_hold(world, nh_list_groups(list, pattern, variant), 0);
    size_t number = (size_t)any_int(world, 0, 2);
    const char *accepted = nh_list_accepted(list, pattern, number, &met);
    MUST(accepted == NULL || nh_list_accepts(list, pattern, accepted));
    MUST(!nh_list_accepts(list, pattern, "no such warning"));
    MUST((nh_list_warning(list, number) != NULL) == (number < nh_list_warnings(list)));
}

static bool take_example(const nh_example *example, void *context) {
    int *left = context;
    MUST(!example->live || example->layout != NULL);
    MUST(example->live == (nh_tiles_total(&example->target) > 0));
    return --*left > 0;
}

static void make_examples(struct world *world) {
    int place = pick_list(world), left = 1 + decide(world->decisions, 4);
    if (place == NOTHING)
        return;
    size_t pattern = (size_t)any_int(world, 0, 3);
    bool there = pattern < nh_list_size(world->lists[place]);
    nh_status status = nh_examples_each(world->lists[place], pattern, &world->allocator,
                                        take_example, &left, error_of(world));
    returned(world, status,
             there ? MAY(NH_OK) | MAY(NH_ERROR_MEMORY) | MAY(NH_ERROR_LIMIT)
                   : MAY(NH_ERROR_ARGUMENT));
}

void call_lists(struct world *world) {
    switch (decide(world->decisions, 10)) {
    case 0:
    case 1:
        read_list(world);
        return;
    case 2:
    case 3:
        make_workspace(world);
        return;
    case 4:
        make_rest(world);
        return;
    case 5:
        look_at(world);
        return;
    case 6:
        make_examples(world);
        return;
    case 7:
        parse_sets(world);
        return;
    case 8:
        load_nothing(world);
        return;
    default:
        break;
    }
    int place = pick_list(world);
    if (place != NOTHING && one_in(world, 4))
        free_list(world, place);
}
