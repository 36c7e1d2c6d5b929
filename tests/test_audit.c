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
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("audit");
    ADD_TESTS(suite, "counts", pairs_are_counted, many_families, targets_of_jokers_alone,
              winds_are_counted_as_far_as_they_are_known);
    ADD_TESTS(suite, "relations", patterns_are_related);
    ADD_TESTS(suite, "errors", variants_are_told, audits_refuse_what_is_out_of_range);
    return run_suite(suite);
}
