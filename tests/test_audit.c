/* Counts and relations whose figures can be worked out by hand, and what audits
 * refuse. Those of random lists are held against listing in test_reference.c. */
#define _POSIX_C_SOURCE 200809L
#include "api.h"
#include "ask.h"

static nh_figures count_of(const nh_list *list, size_t index, nh_wind prevailing, nh_wind seat) {
    nh_figures count;
    ck_assert_int_eq(ask_figures(list, index, prevailing, seat, &count), NH_OK);
    ck_assert_uint_eq(count.targets.limb[1] | count.ways.limb[1], 0);
    return count;
}

static void assert_count(const nh_figures *count, uint64_t targets, uint64_t ways) {
    ck_assert_uint_eq(count->targets.limb[0], targets);
    ck_assert_uint_eq(count->ways.limb[0], ways);
}

static nh_relation relation_of(const nh_list *list, size_t a, size_t b) {
    nh_relation relation;
    ck_assert_int_eq(ask_relation(list, a, b, &relation), NH_OK);
    return relation;
}

/* -------------------------------------------------------------- counts --- */

START_TEST(pairs_are_counted) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':2,'tiles':{'flowers':8},"
                              "'patterns':[{'name':'Any','groups':[{'pair':'any'}]},"
                              "{'name':'Flowers','groups':[{'pair':'flower'}]},"
                              "{'name':'Bams','groups':[{'single':'any','times':2}],"
                              "'limits':{'tiles':'123B'}},"
                              "{'name':'Once','groups':[{'pair':'any','distinct':true}]}]}");
    nh_figures any = count_of(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&any, 34, 34 * 6); /* C(4, 2) of each kind */
    nh_figures flowers = count_of(list, 1, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&flowers, 1, 28); /* C(8, 2) */
    nh_figures bams = count_of(list, 2, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&bams, 3 + 3, 3 * 6 + 3 * 16);
    nh_figures once = count_of(list, 3, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&once, 34, 34 * 6);
    /* C(144, 2) deals of two tiles */
    ck_assert_double_eq_tol(any.dealt, 204.0 / 10296.0, 1e-15);
    nh_list_free(list);
}
END_TEST

/* As many families as products, past the number for which the widest kernel
 * serves. */
START_TEST(many_families) {
    nh_list *list = read_list(
        "{'format':1,'title':'Tally List','hand':18,'patterns':[{'name':'Twins','groups':["
        "{'single':'a','suit':'bam'},{'pair':'b','suit':'bam'},{'pung':'c','suit':'bam'},"
        "{'kong':'d','suit':'bam'},{'single':'a','suit':'dot'},{'pair':'b','suit':'dot'},"
        "{'pung':'c','suit':'dot'},{'kong':'d','suit':'dot'}]}]}");
    nh_figures count = count_of(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&count, 9 * 8 * 7 * 6, 9 * 8 * 7 * 6 * 96 * 96); /* 4 * 6 * 4 * 1 a suit */
    static const struct {
        const char *hand;
        unsigned away;
    } rows[] = {{"1223334444B 1223334444D", 0},
                {"6998887777B 6998887777D", 0},
                {"1223334444B 1224443333D", 1},
                {"1234B 5678D", 16}, /* the letters of both suits are the same */
                {"E", 20}};
    nh_workspace *workspace = new_workspace(list);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_tiles hand = tiles_of(rows[i].hand);
        nh_situation situation = NH_SITUATION;
        uint8_t away;
        ck_assert_int_eq(nh_distances(workspace, &hand, &situation, &away, NULL), NH_OK);
        ck_assert_uint_eq(away, rows[i].away);
    }
    nh_workspace_free(workspace);
    nh_list_free(list);
}
END_TEST

/* More than the set has is for jokers alone. */
START_TEST(targets_of_jokers_alone) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':5,'tiles':{'jokers':8},"
                              "'patterns':[{'name':'Five','groups':[{'quint':'dragon'}]},"
                              "{'name':'Both','groups':[{'one_of':[{'quint':'red'},"
                              "[{'pung':'red'},{'pair':'green'}]]}]}]}");
    nh_figures five = count_of(list, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&five, 3, 0);
    ck_assert_uint_eq(five.joker_only.limb[0], 3);
    nh_figures both = count_of(list, 1, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&both, 2, 4 * 6);
    ck_assert_uint_eq(both.joker_only.limb[0], 1);
    nh_list_free(list);
}
END_TEST

/* Of 139 tiles, three of them jokers; three jokers complete all three pungs, once. */
START_TEST(deals_with_jokers) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':3,'tiles':{'jokers':3},"
                              "'patterns':[{'name':'Pung','groups':[{'pung':'dragon'}]},"
                              "{'name':'Row','groups':[{'chow':1,'suit':'bam'}]},"
                              "{'name':'Singles','groups':[{'single':'red','times':3}]}]}");
    static const unsigned hands[] = {3 * (4 + 6 * 3 + 4 * 3) + 1, 64, 4};
    for (size_t p = 0; p < 3; p++) {
        nh_dealt dealt;
        ck_assert_int_eq(nh_audit_dealt(list, p, NULL, &dealt, NULL), NH_OK);
        ck_assert_uint_eq(dealt.hands.limb[0], hands[p]);
        ck_assert_uint_eq(dealt.deals.limb[0], 139u * 138 * 137 / 6);
        ck_assert_double_eq_tol(dealt.chance, hands[p] / (139.0 * 138 * 137 / 6), 1e-15);
    }
    nh_list_free(list);
}
END_TEST

/* A red pung with a joker lies on the table: 136 of 139 tiles are left, and three reds of
 * none; the pair of east is to be made of four. */
START_TEST(rests_are_counted) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':5,'tiles':{'jokers':3},"
                              "'patterns':[{'name':'A','groups':[{'pung':'dragon'},"
                              "{'pair':'east'}]},"
                              "{'name':'B','groups':[{'pung':'green'},{'pair':'any'}]}]}");
    static const nh_set set = {NH_PUNG, NH_RED, 3, 1};
    nh_list *rest = NULL;
    ck_assert_int_eq(nh_list_rest(list, &set, 1, NULL, &rest, NULL), NH_OK);
    nh_figures figures = count_of(rest, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&figures, 1, 6);
    ck_assert_double_eq_tol(figures.dealt, 6 / (136.0 * 135 / 2), 1e-15);
    figures = count_of(rest, 1, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&figures, 0, 0);
    ck_assert_int_eq(relation_of(rest, 1, 0), NH_WITHIN);
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

/* Jokers would have to stand in the pung of east, which lies on the table without any:
 * nobody can make the pair of the one east that is left. */
START_TEST(rests_that_nobody_completes) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':5,'tiles':{'jokers':3},"
                              "'patterns':[{'name':'A','groups':[{'pung':'east'},"
                              "{'pair':'east'}]}]}");
    static const nh_set set = {NH_PUNG, NH_EAST, 3, 0};
    nh_list *rest = NULL;
    nh_dealt dealt;
    nh_tiles sample;
    ck_assert_int_eq(nh_list_rest(list, &set, 1, NULL, &rest, NULL), NH_OK);
    nh_figures figures = count_of(rest, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&figures, 0, 0);
    ck_assert_int_eq(nh_audit_dealt(rest, 0, NULL, &dealt, NULL), NH_OK);
    ck_assert_uint_eq(dealt.hands.limb[0], 0);
    ck_assert_int_eq(nh_audit_sample(rest, 0, 0, &sample, NULL), NH_OK);
    ck_assert_int_eq(nh_tiles_total(&sample), 0);
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

/* Two quints need a joker each, and the pung on the table has one of the two. */
START_TEST(rests_that_lack_a_joker) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':13,'tiles':{'jokers':2},"
                              "'patterns':[{'name':'A','groups':[{'pung':'east'},"
                              "{'quint':1,'suit':'bam'},{'quint':1,'suit':'dot'}]}]}");
    for (uint8_t jokers = 0; jokers <= 1; jokers++) {
        const nh_set set = {NH_PUNG, NH_EAST, 3, jokers};
        nh_list *rest = NULL;
        ck_assert_int_eq(nh_list_rest(list, &set, 1, NULL, &rest, NULL), NH_OK);
        nh_figures figures = count_of(rest, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
        assert_count(&figures, 1 - jokers, 0);
        nh_list_free(rest);
    }
    nh_list_free(list);
}
END_TEST

/* Three kongs are all twelve tiles of a set, and nothing is left to deal. */
START_TEST(nothing_left_to_deal) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':9,"
                              "'tiles':{'suits':[],'winds':false},'patterns':["
                              "{'name':'A','groups':[{'kong':'dragon','times':3}]}]}");
    static const nh_set sets[3] = {
        {NH_KONG, NH_RED, 4, 0}, {NH_KONG, NH_GREEN, 4, 0}, {NH_KONG, NH_WHITE, 4, 0}};
    nh_list *rest = NULL;
    nh_dealt dealt;
    ck_assert_int_eq(nh_list_rest(list, sets, 3, NULL, &rest, NULL), NH_OK);
    nh_figures figures = count_of(rest, 0, NH_WIND_UNKNOWN, NH_WIND_UNKNOWN);
    assert_count(&figures, 1, 1);
    ck_assert_double_eq(figures.dealt, 0);
    ck_assert_int_eq(nh_audit_dealt(rest, 0, NULL, &dealt, NULL), NH_OK);
    ck_assert_uint_eq(dealt.deals.limb[0], 0);
    ck_assert_double_eq(dealt.chance, 0);
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

START_TEST(winds_are_counted_as_far_as_they_are_known) {
    nh_list *list =
        read_list("{'format':1,'title':'Tally List','hand':5,'patterns':["
                  "{'name':'Winds','groups':[{'pung':'prevailing'},{'pair':'seat'}]}]}");
    static const struct {
        nh_wind prevailing, seat;
        uint64_t targets;
    } rows[] = {{NH_WIND_UNKNOWN, NH_WIND_UNKNOWN, 12}, /* five alike there are not */
                {NH_WIND_EAST, NH_WIND_UNKNOWN, 3},
                {NH_WIND_UNKNOWN, NH_WIND_NORTH, 3},
                {NH_WIND_SOUTH, NH_WIND_WEST, 1},
                {NH_WIND_WEST, NH_WIND_WEST, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_figures count = count_of(list, 0, rows[i].prevailing, rows[i].seat);
        assert_count(&count, rows[i].targets, rows[i].targets * 4 * 6);
    }
    nh_list_free(list);
}
END_TEST

/* ----------------------------------------------------------- relations --- */

START_TEST(patterns_are_related) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':4,'patterns':["
                              "{'name':'A','groups':[{'pair':[1,2],'suit':'bam'},{'pair':'red'}]},"
                              "{'name':'B','groups':[{'pair':[2,1],'suit':'bam'},{'pair':'red'}]},"
                              "{'name':'C','groups':[{'pair':2,'suit':'bam'},{'pair':'red'}]},"
                              "{'name':'D','groups':[{'pair':[2,3],'suit':'bam'},{'pair':'red'}]},"
                              "{'name':'E','groups':[{'pung':2,'suit':'bam'},{'single':'red'}]}]}");
    static const nh_relation expected[5][5] = {
        {NH_EQUAL, NH_EQUAL, NH_CONTAINS, NH_NEITHER, NH_NEITHER},
        {NH_EQUAL, NH_EQUAL, NH_CONTAINS, NH_NEITHER, NH_NEITHER},
        {NH_WITHIN, NH_WITHIN, NH_EQUAL, NH_WITHIN, NH_NEITHER},
        {NH_NEITHER, NH_NEITHER, NH_CONTAINS, NH_EQUAL, NH_NEITHER},
        {NH_NEITHER, NH_NEITHER, NH_NEITHER, NH_NEITHER, NH_EQUAL}};
    for (size_t a = 0; a < 5; a++)
        for (size_t b = 0; b < 5; b++) {
            nh_relation relation;
            ck_assert_int_eq(ask_relation(list, a, b, &relation), NH_OK);
            ck_assert_int_eq(relation, expected[a][b]);
        }
    nh_list_free(list);
}
END_TEST

/* The same tiles, of which jokers may be some in the one and none in the other. */
START_TEST(jokers_tell_patterns_apart) {
    static const nh_relation expected[2] = {NH_EQUAL, NH_WITHIN};
    for (int jokers = 0; jokers <= 1; jokers++) {
        char json[600];
        snprintf(json, sizeof json,
                 "{'format':1,'title':'Tally List','hand':9,'tiles':{'jokers':%d},'patterns':["
                 "{'name':'Chows','groups':[{'chow':1,'suit':'bam','times':3}]},"
                 "{'name':'Pungs','groups':[{'pung':1,'suit':'bam'},{'pung':2,'suit':'bam'},"
                 "{'pung':3,'suit':'bam'}]}]}",
                 jokers);
        nh_list *list = read_list(json);
        ck_assert_int_eq(relation_of(list, 0, 1), expected[jokers]);
        nh_list_free(list);
    }
}
END_TEST

/* Of the nine pungs of the one all but that of 9 are three singles in the other, and then
 * the other way about: the first of them that is looked at tells nothing of the rest. */
START_TEST(jokers_tell_single_targets_apart) {
    for (int end = 1; end <= 9; end += 8) {
        char json[800];
        snprintf(json, sizeof json,
                 "{'format':1,'title':'Tally List','hand':5,'tiles':{'jokers':2},'patterns':["
                 "{'name':'Pungs','groups':[{'pung':[1,2,3,4,5,6,7,8,9],'suit':'bam'},"
                 "{'pair':'east'}]},"
                 "{'name':'Singles','variants':[[{'pung':%d,'suit':'bam'},{'pair':'east'}],"
                 "[{'single':'n','suit':'bam'},{'single':'n','suit':'bam'},"
                 "{'single':'n','suit':'bam'},{'pair':'east'}]]}]}",
                 end);
        nh_list *list = read_list(json);
        ck_assert_int_eq(relation_of(list, 0, 1), NH_CONTAINS);
        ck_assert_int_eq(relation_of(list, 1, 0), NH_WITHIN);
        nh_list_free(list);
    }
}
END_TEST

/* Each hand of the first is one of the second, though no target of the one lets as many
 * tiles be jokers as a target of the other: four and five alike need a joker, and which
 * of the two kinds has five nobody can see. */
START_TEST(hands_are_compared_not_targets) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':9,'tiles':{'jokers':1},"
                              "'patterns':["
                              "{'name':'A','groups':[{'quint':'red'},{'kong':'green'}]},"
                              "{'name':'B','groups':[{'kong':'red'},{'quint':'green'}]}]}");
    ck_assert_int_eq(relation_of(list, 0, 1), NH_EQUAL);
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------------------ overlaps --- */

START_TEST(overlaps_are_shares_of_ways) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':4,'patterns':["
                              "{'name':'A','groups':[{'pair':[1,2],'suit':'bam'},{'pair':'red'}]},"
                              "{'name':'B','groups':[{'pair':[2,3,4],'suit':'bam'},"
                              "{'pair':['red','green']}]},"
                              "{'name':'C','groups':[{'pung':2,'suit':'bam'},{'single':'red'}]}]}");
    nh_overlap overlap;
    ck_assert_int_eq(nh_audit_overlap(list, 0, 1, NULL, &overlap, NULL), NH_OK);
    ck_assert_uint_eq(overlap.ways.limb[0], 36);
    ck_assert_double_eq(overlap.of_a, 1.0 / 2);
    ck_assert_double_eq(overlap.of_b, 1.0 / 6);
    ck_assert_int_eq(nh_audit_overlap(list, 0, 2, NULL, &overlap, NULL), NH_OK);
    ck_assert_uint_eq(overlap.ways.limb[0], 0);
    ck_assert_double_eq(overlap.of_a, 0);
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------------------- samples --- */

static void assert_sample(const nh_list *list, size_t variant, const char *expected) {
    nh_tiles sample, wanted = tiles_of(expected);
    ck_assert_int_eq(nh_audit_sample(list, 0, variant, &sample, NULL), NH_OK);
    ck_assert(nh_tiles_equal(&sample, &wanted));
}

/* The most ways first, then the first tiles; of the rest of a list what is left. */
START_TEST(samples_have_the_most_ways) {
    nh_list *list =
        read_list("{'format':1,'title':'Tally List','hand':5,'patterns':["
                  "{'name':'A','variants':[[{'set':'any'},{'pair':'any'}],"
                  "[{'quint':'any'}],[{'pung':'honour'},{'pair':[5,7],'suit':'x'}]]}]}");
    assert_sample(list, 0, "11234B");
    assert_sample(list, 1, "");
    assert_sample(list, 2, "55B EEE");
    static const nh_set set = {NH_PUNG, NH_RED, 3, 0};
    nh_list *rest = NULL;
    ck_assert_int_eq(nh_list_rest(list, &set, 1, NULL, &rest, NULL), NH_OK);
    assert_sample(rest, 0, "11B");
    assert_sample(rest, 2, "55B");
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

/* ------------------------------------------------- variants, and errors --- */

START_TEST(variants_are_told) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':5,'patterns':["
                              "{'name':'A','groups':[{'pung':'red'},{'pair':'any'}]},"
                              "{'name':'B','variants':[[{'quint':'red'}],"
                              "[{'pung':'red'},{'pair':'green'}],[{'quint':'any'}]]}]}");
    ck_assert_uint_eq(nh_audit_variants(list, 0), 1);
    ck_assert_uint_eq(nh_audit_variants(list, 1), 3);
    ck_assert_uint_eq(nh_audit_variants(list, 2), 0);
    ck_assert(nh_audit_variant_live(list, 0, 0));
    ck_assert(!nh_audit_variant_live(list, 0, 1));
    ck_assert(!nh_audit_variant_live(list, 1, 0));
    ck_assert(nh_audit_variant_live(list, 1, 1));
    ck_assert(!nh_audit_variant_live(list, 1, 2));
    ck_assert(!nh_audit_variant_live(list, 1, 3));
    ck_assert(!nh_audit_variant_live(list, 2, 0));
    nh_list_free(list);
}
END_TEST

START_TEST(audits_refuse_what_is_out_of_range) {
    nh_list *list = read_list("{'format':1,'title':'Tally List','hand':2,'patterns':["
                              "{'name':'A','groups':[{'pair':'any'}]}]}");
    static const struct {
        size_t index;
        int prevailing, seat;
    } rows[] = {{1, 0, 0}, {SIZE_MAX, 0, 0}, {0, 5, 0}, {0, 0, 5}, {0, -1, 0}, {0, 0, -1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        nh_figures count = {.dealt = 7};
        ck_assert_int_eq(ask_figures(list, rows[i].index, (nh_wind)rows[i].prevailing,
                                     (nh_wind)rows[i].seat, &count),
                         NH_ERROR_ARGUMENT);
        ck_assert_double_eq(count.dealt, 7);
    }
    nh_relation relation = NH_CONTAINS;
    ck_assert_int_eq(ask_relation(list, 1, 0, &relation), NH_ERROR_ARGUMENT);
    ck_assert_int_eq(ask_relation(list, 0, 1, &relation), NH_ERROR_ARGUMENT);
    ck_assert_int_eq(relation, NH_CONTAINS);
    nh_overlap overlap = {.of_a = 7};
    nh_dealt dealt = {.chance = 7};
    ck_assert_int_eq(nh_audit_overlap(list, 0, 1, NULL, &overlap, NULL), NH_ERROR_ARGUMENT);
    ck_assert_int_eq(nh_audit_overlap(list, 1, 0, NULL, &overlap, NULL), NH_ERROR_ARGUMENT);
    ck_assert_int_eq(nh_audit_dealt(list, 1, NULL, &dealt, NULL), NH_ERROR_ARGUMENT);
    ck_assert_double_eq(overlap.of_a + dealt.chance, 14);
    nh_tiles sample = {{7}};
    nh_error error;
    ck_assert_int_eq(nh_audit_sample(list, 1, 0, &sample, NULL), NH_ERROR_ARGUMENT);
    ck_assert_int_eq(nh_audit_sample(list, 0, 1, &sample, &error), NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "variant is 1; the pattern has 0 to 0");
    ck_assert_uint_eq(sample.count[0], 7);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("audit");
    ADD_TESTS(suite, "counts", pairs_are_counted, many_families, targets_of_jokers_alone,
              winds_are_counted_as_far_as_they_are_known, deals_with_jokers, rests_are_counted,
              rests_that_nobody_completes, rests_that_lack_a_joker, nothing_left_to_deal);
    ADD_TESTS(suite, "relations", patterns_are_related, jokers_tell_patterns_apart,
              jokers_tell_single_targets_apart, hands_are_compared_not_targets,
              overlaps_are_shares_of_ways);
    ADD_TESTS(suite, "samples", samples_have_the_most_ways);
    ADD_TESTS(suite, "errors", variants_are_told, audits_refuse_what_is_out_of_range);
    return run_suite(suite);
}
