/* A pattern, described. */
#include "patterns/described.h"
#include "io/flow.h"
#include "io/output.h"
#include "io/text.h"
#include "numbers/double_text.h"
#include "patterns/marked.h"
#include "words/group_words.h"
#include "words/pattern_words.h"

#include <stdio.h>
#include <string.h>

static void place_add(struct text *text, const nh_pattern *pattern) {
    if (pattern->section == NULL && pattern->ref == NULL)
        return;
    text_add(text, " (");
    if (pattern->section != NULL)
        text_add(text, pattern->section);
    if (pattern->section != NULL && pattern->ref != NULL)
        text_add(text, " ");
    if (pattern->ref != NULL)
        text_add(text, pattern->ref);
    text_add(text, ")");
}

static void points_add(struct text *text, const nh_pattern *pattern) {
    char points[DOUBLE_TEXT_SIZE];
    if (!pattern->has_points)
        return;
    double_text(pattern->points, points);
    text_add_format(text, ", %s point%s", points, strcmp(points, "1") == 0 ? "" : "s");
}

static void line_out(const char *text, int indent) {
    struct flow flow = {.indent = indent};
    flow_words(&flow, text);
    flow_end(&flow);
}

/* ------------------------------------------------ words and examples --- */

/* Most examples that are shown of a pattern. */
#define EXAMPLES_MOST 30

/* What was written of the variants of a pattern. */
struct showing {
    const nh_list *list;
    size_t pattern, variants;
    size_t said; /* variants whose words were written */
    int indent, examples;
    struct text label, hand; /* of an example that is not written yet: the next alternative
                                may have the same hand */
    bool live;               /* that example */
};

/* A variant in words, numbered where there are several. */
static void variant_out(struct showing *showing) {
    struct flow flow = {.indent = showing->indent};
    char number[24];
    if (showing->variants > 1) {
        snprintf(number, sizeof number, "%zu.", showing->said + 1);
        flow_words(&flow, number);
        flow.indent += (int)strlen(number) + 1;
    }
    pattern_words_out(showing->list, showing->pattern, showing->said++, &flow);
    flow_end(&flow);
}

/* The groups that an example takes of those that had alternatives. */
static const nh_groups *alternative_of(const struct showing *showing, const nh_example *example) {
    const nh_groups *groups = nh_list_groups(showing->list, showing->pattern, example->variant);
    for (unsigned i = 0; i < example->steps; i++)
        groups =
            nh_group_alternative(nh_groups_at(groups, example->group[i]), example->alternative[i]);
    return groups;
}

static void add_example(struct text *text, const nh_list *list, const nh_example *example) {
    static const struct style plain = {false, "", "", "", ""};
    const nh_ranked row = {.target = example->target};
    if (!example->live) {
        text_add(text, "no hand of this set has it");
        return;
    }
    marked_target(text, list, &row, example->layout, &plain, false);
    if (example->prevailing != NH_WIND_UNKNOWN)
        text_add_format(text, ", prevailing %s", nh_wind_name((nh_wind)example->prevailing));
    if (example->seat != NH_WIND_UNKNOWN)
        text_add_format(text, ", seat %s", nh_wind_name((nh_wind)example->seat));
}

/* Writes the hand of the examples before, whose alternatives it has. */
static void hand_out(struct showing *showing) {
    struct flow flow = {.indent = showing->indent + (showing->variants > 1 ? 3 : 0)};
    if (showing->hand.length == 0)
        return;
    if (showing->label.length > 0)
        text_add(&showing->label, ":");
    else if (showing->live)
        text_add(&showing->label, "for example");
    flow_words(&flow, showing->label.bytes);
    flow_words(&flow, showing->hand.bytes);
    flow_end(&flow);
    text_clear(&showing->label);
    text_clear(&showing->hand);
}

/* Says which alternatives the example is of. */
static void label_example(struct showing *showing, const nh_example *example) {
    struct tile_words words;
    text_add(&showing->label, showing->label.length == 0 ? "with " : "; ");
    tile_words_begin(&words, showing->list, showing->pattern, example->variant);
    say_alternative(&words, alternative_of(showing, example), &showing->label);
}

static bool example_out(const nh_example *example, void *context) {
    struct showing *showing = context;
    struct text hand;
    text_clear(&hand);
    add_example(&hand, showing->list, example);
    if (showing->said <= example->variant || strcmp(hand.bytes, showing->hand.bytes) != 0)
        hand_out(showing);
    while (showing->said <= example->variant)
        variant_out(showing);
    if (showing->examples++ == EXAMPLES_MOST)
        return false;
    if (example->steps > 0)
        label_example(showing, example);
    showing->hand = hand;
    showing->live = example->live;
    return true;
}

static size_t count_variants(const nh_list *list, size_t pattern) {
    size_t count = 0;
    while (nh_list_groups(list, pattern, count) != NULL)
        count++;
    return count;
}

void pattern_heading_out(const nh_pattern *pattern, int indent) {
    struct text text;
    text_clear(&text);
    text_add(&text, pattern->name);
    place_add(&text, pattern);
    points_add(&text, pattern);
    if (pattern->concealed)
        text_add(&text, ", concealed");
    line_out(text.bytes, indent);
}

void described_out(const nh_list *list, size_t pattern, int indent) {
    nh_pattern shown = *nh_list_pattern(list, pattern);
    struct showing showing = {.list = list,
                              .pattern = pattern,
                              .variants = count_variants(list, pattern),
                              .indent = indent};
    pattern_heading_out(&shown, indent);
    if (shown.note != NULL)
        line_out(shown.note, indent);
    text_clear(&showing.label);
    text_clear(&showing.hand);
    nh_status status = nh_examples_each(list, pattern, NULL, example_out, &showing, NULL);
    hand_out(&showing);
    if (status != NH_OK)
        line_out("(There is no room for an example.)", indent);
    else if (showing.examples > EXAMPLES_MOST)
        line_out("(and more)", indent);
    while (showing.said < showing.variants)
        variant_out(&showing);
}
