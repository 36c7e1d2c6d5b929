/* An example for each way to write a pattern: a variant, and one alternative of a
 * group that has several. A list is made of that way alone, and the target that ranks
 * first for a player with no tiles is its example. */
#include "base/status.h"
#include "compile/compile_list.h"
#include "compile/compile_pattern.h"
#include "compile/compiled.h"
#include "distance/kernel.h"
#include "nearhand_groups.h"

struct finding {
    const nh_list *list;
    size_t pattern;
    const struct draft_variant *variant;
    const nh_allocator *allocator;
    nh_example example; /* the way so far */
    bool (*each)(const nh_example *example, void *context);
    void *context;
    nh_error *error;
    bool stopped;
};

/* ---------------------------------------------------------- the one way --- */

/* Copies groups so that from step `step` on the way is taken; false when memory is
 * short. */
static bool copy_way(struct arena *arena, const nh_example *way, unsigned step,
                     const struct draft_groups *from, struct draft_groups *to) {
    *to = *from;
    if (step == way->steps)
        return true;
    to->items = arena_new(arena, from->count, sizeof *to->items);
    struct draft_groups *taken = arena_new(arena, 1, sizeof *taken);
    if (to->items == NULL || taken == NULL)
        return false;
    for (size_t i = 0; i < from->count; i++)
        to->items[i] = from->items[i];
    struct draft_group *group = &to->items[way->group[step]];
    if (!copy_way(arena, way, step + 1, &group->alternatives[way->alternative[step]], taken))
        return false;
    if (group->times > 1) {
        group->wanted = taken;
    } else {
        group->alternatives = taken;
        group->alternative_count = 1;
    }
    return true;
}

/* A draft of a list of the way alone; NULL when memory is short. */
static const struct draft *draft_way(struct arena *arena, const struct finding *finding) {
    struct draft *draft = arena_new(arena, 1, sizeof *draft);
    struct draft_pattern *pattern = arena_new(arena, 1, sizeof *pattern);
    struct draft_variant *variant = arena_new(arena, 1, sizeof *variant);
    if (draft == NULL || pattern == NULL || variant == NULL)
        return NULL;
    *draft = *finding->list->draft;
    *pattern = draft->patterns[finding->pattern];
    *variant = *finding->variant;
    pattern->variants = variant;
    pattern->variant_count = 1;
    draft->patterns = pattern;
    draft->pattern_count = 1;
    draft->json = ""; /* no mistake of it is shown */
    bool good = copy_way(arena, &finding->example, 0, &finding->variant->groups, &variant->groups);
    return good ? draft : NULL;
}

/* Compiles the draft; `*live` says whether it has a target. */
static nh_status compile_way(nh_list *list, nh_mistakes *mistakes, bool *live) {
    struct pool pool;
    struct products all = {0};
    *live = false;
    if (!pool_init(&pool, &list->allocator, &list->set) || !make_room(list->draft, list)) {
        pool_free(&pool);
        return NH_ERROR_MEMORY;
    }
    struct compiler compiler = {
        .pool = &pool, .draft = list->draft, .pattern = list->draft->patterns};
    size_t count = compile_pattern(&compiler, list->variant_live, &all, mistakes);
    list->patterns[0] = (struct list_pattern){
        .about = compiler.pattern->about, .count = (uint32_t)count, .variant_count = 1};
    nh_status status = mistakes->memory_short ? NH_ERROR_MEMORY : pool.status;
    if (status == NH_OK && count > 0)
        status = finish_list(&pool, &all, list);
    *live = status == NH_OK && count > 0;
    products_free(&pool, &all);
    pool_free(&pool);
    return status;
}

/* A list of one way to be filled, with what the whole list has; NULL when memory is
 * short. */
static nh_list *begin_way(const struct finding *finding) {
    const nh_list *whole = finding->list->whole != NULL ? finding->list->whole : finding->list;
    nh_list *list = memory_new(finding->allocator, 1, sizeof *list);
    if (list == NULL)
        return NULL;
    list->allocator = *finding->allocator;
    list->arena.allocator = &list->allocator;
    list->hand = whole->hand;
    list->most = whole->most;
    list->set = list->off_table = whole->set;
    list->charleston = whole->charleston;
    return list;
}

/* A list of the way alone; NULL, with NH_OK, where it has no target. */
static nh_status make_way(const struct finding *finding, nh_list **made) {
    *made = NULL;
    nh_mistakes *mistakes = mistakes_new(finding->allocator);
    nh_list *list = begin_way(finding);
    nh_status status = NH_ERROR_MEMORY;
    bool live = false;
    if (mistakes != NULL && list != NULL) {
        list->draft = draft_way(&list->arena, finding);
        if (list->draft != NULL)
            status = compile_way(list, mistakes, &live);
        list->kernels = kernels_for_families(list->family_count);
    }
    nh_mistakes_free(mistakes);
    if (live)
        *made = list;
    else
        nh_list_free(list);
    return status;
}

/* ------------------------------------------------------------- examples --- */

/* The example of a list of one way. */
static nh_status find_target(nh_list *list, nh_example *example, nh_layout *layout) {
    nh_workspace *workspace;
    nh_ranked row;
    nh_ranking ranking;
    const nh_tiles none = {{0}};
    nh_status status = nh_workspace_new(list, &list->allocator, &workspace);
    if (status != NH_OK)
        return status;
    nh_rank(workspace, &none, NULL, &row, 1, &ranking, NULL); /* the list has a target */
    nh_workspace_free(workspace);
    example->live = true;
    nh_layout_question question = NH_LAYOUT_QUESTION;
    question.prevailing = (nh_wind)row.prevailing;
    question.seat = (nh_wind)row.seat;
    example->target = row.target;
    example->prevailing = row.prevailing;
    example->seat = row.seat;
    if (nh_layout_first(list, 0, &row.target, &question, layout, NULL) == NH_OK)
        layout->variant = example->variant;
    return NH_OK;
}

static nh_status show_example(struct finding *finding) {
    nh_example example = finding->example;
    nh_layout layout = {.groups = 0};
    nh_list *list;
    nh_status status = make_way(finding, &list);
    if (status == NH_OK && list != NULL)
        status = find_target(list, &example, &layout);
    nh_list_free(list);
    if (status != NH_OK)
        return error_set(finding->error, status, 0, "%s",
                         status == NH_ERROR_LIMIT ? "an example of the pattern takes too much work"
                                                  : nh_status_text(status));
    example.layout = example.live ? &layout : NULL;
    finding->stopped = !finding->each(&example, finding->context);
    return NH_OK;
}

static nh_status show_ways(struct finding *finding, const struct draft_groups *groups,
                           unsigned step);

/* A group that has alternatives: the way goes through each of them. */
static nh_status show_alternatives(struct finding *finding, const struct draft_groups *groups,
                                   size_t at, unsigned step) {
    const struct draft_group *group = &groups->items[at];
    nh_status status = NH_OK;
    for (size_t i = 0; i < group->alternative_count && status == NH_OK && !finding->stopped; i++) {
        finding->example.group[step] = (uint16_t)at;
        finding->example.alternative[step] = (uint16_t)i;
        status = show_ways(finding, &group->alternatives[i], step + 1);
    }
    return status;
}

/* All ways that go on in these groups, or the one that ends there. */
static nh_status show_ways(struct finding *finding, const struct draft_groups *groups,
                           unsigned step) {
    nh_status status = NH_OK;
    bool ends = true;
    for (size_t i = 0; i < groups->count && status == NH_OK && !finding->stopped; i++) {
        if (groups->items[i].shape != SHAPE_ONE_OF)
            continue;
        ends = false;
        status = show_alternatives(finding, groups, i, step);
    }
    if (!ends)
        return status;
    finding->example.steps = (uint8_t)step;
    return show_example(finding);
}

nh_status nh_examples_each(const nh_list *list, size_t pattern, const nh_allocator *allocator,
                           bool (*each)(const nh_example *example, void *context), void *context,
                           nh_error *error) {
    nh_allocator own = memory_default(allocator);
    nh_status status = check_pattern(list, pattern, error);
    if (status != NH_OK)
        return status;
    const struct draft_pattern *written = &list->draft->patterns[pattern];
    for (size_t v = 0; v < written->variant_count && status == NH_OK; v++) {
        struct finding finding = {.list = list,
                                  .pattern = pattern,
                                  .variant = &written->variants[v],
                                  .allocator = &own,
                                  .example = {.variant = (uint32_t)v},
                                  .each = each,
                                  .context = context,
                                  .error = error};
        status = show_ways(&finding, &finding.variant->groups, 0);
        if (finding.stopped)
            break;
    }
    return status;
}
