/*
 * What a list says of its groups, against its JSON; and the examples of its patterns,
 * against the plain reference: each is a target of its variant that takes its
 * alternative, and where there is none no target does. NEARHAND_SEED chooses the lists,
 * NEARHAND_TRIES how many.
 */
#include "trial.h"

#include "suite.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LISTS = 40, PATTERNS = 3, SUMS_MOST = 8000 };

static struct { long groups, examples, alternatives, dead, unchecked; } done;

/* --------------------------------------------------------- the list's JSON --- */

static const cJSON *key_of(const cJSON *object, const char *key) {
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

static int number_or(const cJSON *object, const char *key, int otherwise) {
    const cJSON *item = key_of(object, key);
    return item != NULL ? item->valueint : otherwise;
}

static int variants_of(const cJSON *pattern) {
    const cJSON *variants = key_of(pattern, "variants");
    return variants != NULL ? cJSON_GetArraySize(variants) : 1;
}

/* The object that has a variant's own keys, or NULL. */
static const cJSON *variant_of(const cJSON *pattern, int variant) {
    const cJSON *item = cJSON_GetArrayItem(key_of(pattern, "variants"), variant);
    return cJSON_IsObject(item) ? item : NULL;
}

static const cJSON *groups_of(const cJSON *pattern, int variant) {
    const cJSON *own = variant_of(pattern, variant);
    if (key_of(pattern, "groups") != NULL)
        return key_of(pattern, "groups");
    return own != NULL ? key_of(own, "groups")
                       : cJSON_GetArrayItem(key_of(pattern, "variants"), variant);
}

/* An array of groups, also where the list writes one alone. */
static cJSON *as_array(const cJSON *alternative) {
    if (cJSON_IsArray(alternative))
        return cJSON_Duplicate(alternative, true);
    cJSON *array = cJSON_CreateArray();
    cJSON_AddItemToArray(array, cJSON_Duplicate(alternative, true));
    return array;
}

/* --------------------------------------------------------------- groups --- */

static const char *const shapes[] = {"",       "single", "pair", "pung", "kong",  "quint",
                                     "sextet", "chow",   "run",  "set",  "one_of"};
static const char *const classes[] = {"wind",   "dragon", "honour", "terminal",
                                      "orphan", "simple", "suited", "any"};
static const char *const suits[] = {"bam", "crak", "dot"};

/* A tile as the list writes it. */
static void write_tile(const nh_group_tile *tile, char text[32]) {
    static const char *const kinds[] = {"east", "south", "west",  "north",
                                        "red",  "green", "white", "flower"};
    const char letter = (char)('a' + tile->letter);
    switch (tile->which) {
    case NH_WHICH_RANK:
        snprintf(text, 32, "%d", tile->offset);
        return;
    case NH_WHICH_KIND:
        snprintf(text, 32, "%s", kinds[tile->value - NH_EAST]);
        return;
    case NH_WHICH_CLASS:
        snprintf(text, 32, "%s", classes[tile->value]);
        return;
    case NH_WHICH_PREVAILING:
    case NH_WHICH_SEAT:
        snprintf(text, 32, "%s", tile->which == NH_WHICH_SEAT ? "seat" : "prevailing");
        return;
    default:
        break;
    }
    if (tile->sign < 0)
        snprintf(text, 32, "%d-%c", tile->offset, letter);
    else if (tile->other_sign != 0)
        snprintf(text, 32, "%c%c%c", letter, tile->other_sign > 0 ? '+' : '-', 'a' + tile->other);
    else if (tile->offset != 0)
        snprintf(text, 32, "%c%+d", letter, tile->offset);
    else
        snprintf(text, 32, "%c", letter);
}

static void check_tiles(const trial *at, const nh_group *group, const nh_group_terms *terms,
                        const cJSON *json) {
    const int count = cJSON_IsArray(json) ? cJSON_GetArraySize(json) : 1;
    nh_group_tile tile;
    MUST(at, terms->tiles == count && terms->alternatives == 0);
    for (int i = 0; i < count; i++) {
        const cJSON *item = cJSON_IsArray(json) ? cJSON_GetArrayItem(json, i) : json;
        char given[32], wanted[32];
        MUST(at, nh_group_tile_at(group, (size_t)i, &tile));
        write_tile(&tile, given);
        if (cJSON_IsNumber(item))
            snprintf(wanted, sizeof wanted, "%d", item->valueint);
        else
            snprintf(wanted, sizeof wanted, "%s", item->valuestring);
        MUST(at, strcmp(given, wanted) == 0);
    }
    MUST(at, !nh_group_tile_at(group, (size_t)count, &tile));
}

static void check_suit(const trial *at, const nh_group_terms *terms, const cJSON *json) {
    const char *suit = json != NULL ? json->valuestring : NULL;
    if (suit == NULL)
        MUST(at, terms->suit_use == NH_SUIT_NONE);
    else if (strcmp(suit, "any") == 0)
        MUST(at, terms->suit_use == NH_SUIT_ANY);
    else if (suit[1] == '\0')
        MUST(at, terms->suit_use == NH_SUIT_LETTER && terms->suit == suit[0] - 'a');
    else
        MUST(at, terms->suit_use == NH_SUIT_GIVEN && strcmp(suits[terms->suit], suit) == 0);
}

static void check_groups(const trial *at, const nh_groups *groups, const cJSON *json);

static void check_group(const trial *at, const nh_group *group, const cJSON *json) {
    nh_group_terms terms;
    nh_group_read(group, &terms);
    const cJSON *shape = key_of(json, shapes[terms.shape]);
    MUST(at, shape != NULL);
    MUST(at, terms.times == number_or(json, "times", 1));
    MUST(at, terms.distinct == cJSON_IsTrue(key_of(json, "distinct")));
    MUST(at, terms.length == (terms.shape == NH_CHOW ? 3 : number_or(json, "length", 0)));
    check_suit(at, &terms, key_of(json, "suit"));
    done.groups++;
    if (terms.shape != NH_GROUP_ONE_OF) {
        check_tiles(at, group, &terms, shape);
        return;
    }
    MUST(at, terms.tiles == 0 && terms.alternatives == cJSON_GetArraySize(shape));
    for (int i = 0; i < terms.alternatives; i++) {
        cJSON *array = as_array(cJSON_GetArrayItem(shape, i));
        check_groups(at, nh_group_alternative(group, (size_t)i), array);
        cJSON_Delete(array);
    }
    MUST(at, nh_group_alternative(group, terms.alternatives) == NULL);
}

static void check_groups(const trial *at, const nh_groups *groups, const cJSON *json) {
    const int count = cJSON_GetArraySize(json);
    MUST(at, groups != NULL && nh_groups_size(groups) == (size_t)count);
    for (int i = 0; i < count; i++)
        check_group(at, nh_groups_at(groups, (size_t)i), cJSON_GetArrayItem(json, i));
    MUST(at, nh_groups_at(groups, (size_t)count) == NULL);
}

/* ------------------------------------------------------------- examples --- */

/* The targets of some groups alone, with what else their variant says. */
typedef struct sums {
    ref_list *list;
    ref_targets targets;
    bool known;
} sums;

/* The pattern with one variant, of these groups. */
static cJSON *pattern_alone(const cJSON *pattern, int variant, cJSON *groups, bool limited) {
    const cJSON *own = variant_of(pattern, variant);
    cJSON *alone = cJSON_Duplicate(pattern, true);
    cJSON *one = own != NULL ? cJSON_Duplicate(own, true) : cJSON_CreateObject();
    cJSON_DeleteItemFromObject(one, "groups");
    cJSON_AddItemToObject(one, "groups", groups);
    cJSON_DeleteItemFromObject(alone, "groups");
    cJSON_DeleteItemFromObject(alone, "variants");
    if (!limited) {
        cJSON_DeleteItemFromObject(alone, "limits");
        cJSON_DeleteItemFromObject(one, "limits");
    }
    cJSON_AddItemToArray(cJSON_AddArrayToObject(alone, "variants"), one);
    return alone;
}

static sums sums_of(const trial *at, const cJSON *json, size_t pattern, int variant, cJSON *groups,
                    bool limited) {
    const cJSON *from = cJSON_GetArrayItem(key_of(json, "patterns"), (int)pattern);
    cJSON *list = cJSON_Duplicate(json, true);
    cJSON *patterns = cJSON_CreateArray();
    cJSON_AddItemToArray(patterns, pattern_alone(from, variant, groups, limited));
    cJSON_ReplaceItemInObject(list, "patterns", patterns);
    char *text = cJSON_PrintUnformatted(list);
    sums found = {.list = reference_read(text)};
    found.known = reference_expand(found.list, 0, at->situation.prevailing, at->situation.seat,
                                   SUMS_MOST, &found.targets);
    cJSON_free(text);
    cJSON_Delete(list);
    return found;
}

static void release_sums(sums *found) {
    if (found->known)
        reference_release(&found->targets);
    reference_free(found->list);
}

static bool among(const sums *found, const nh_tiles *tiles) {
    return reference_find(&found->targets, tiles) < found->targets.count;
}

/* What is asked about the examples of one pattern. */
typedef struct asking {
    const trial *at;
    const cJSON *json, *pattern_json;
    size_t pattern;
    int variant; /* that was shown last */
} asking;

/* The group that an example of one step takes an alternative of, in a copy of the
 * groups. */
static cJSON *copy_groups(const asking *asked, const nh_example *example, cJSON **group) {
    cJSON *groups = cJSON_Duplicate(groups_of(asked->pattern_json, (int)example->variant), true);
    *group = cJSON_GetArrayItem(groups, example->group[0]);
    return groups;
}

static sums sums_of_groups(const asking *asked, const nh_example *example, cJSON *groups,
                           bool limited) {
    return sums_of(asked->at, asked->json, asked->pattern, (int)example->variant, groups, limited);
}

/* No target is without the alternative that an example takes, if it takes it once; and
 * without one of its choices the target is a sum of the others. */
static void check_taken(const asking *asked, const nh_example *example) {
    cJSON *group;
    cJSON *groups = copy_groups(asked, example, &group);
    const int times = number_or(group, "times", 1);
    cJSON *taken = as_array(cJSON_GetArrayItem(key_of(group, "one_of"), example->alternative[0]));
    sums choices = sums_of_groups(asked, example, cJSON_Duplicate(taken, true), false);
    if (times > 1)
        cJSON_ReplaceItemInObject(group, "times", cJSON_CreateNumber(times - 1));
    else
        cJSON_DeleteItemFromArray(groups, example->group[0]);
    const bool alone = cJSON_GetArraySize(groups) == 0;
    sums others = sums_of_groups(asked, example, alone ? taken : groups, false);
    cJSON_Delete(alone ? groups : taken);
    bool fits = !choices.known || !others.known;
    done.unchecked += fits;
    for (size_t i = 0; !fits && i < choices.targets.count; i++) {
        nh_tiles rest = example->target;
        const bool inside = nh_tiles_take(&rest, &choices.targets.sums[i].tiles);
        fits = inside && (alone ? nh_tiles_total(&rest) == 0 : among(&others, &rest));
    }
    MUST(asked->at, fits);
    release_sums(&others);
    release_sums(&choices);
}

/* Every target has other alternatives than the one without an example. */
static void check_dead(const asking *asked, const nh_example *example, const sums *all) {
    cJSON *group;
    cJSON *groups = copy_groups(asked, example, &group);
    cJSON *alternatives = cJSON_GetObjectItemCaseSensitive(group, "one_of");
    cJSON_DeleteItemFromArray(alternatives, example->alternative[0]);
    done.dead++;
    if (cJSON_GetArraySize(alternatives) == 0) {
        MUST(asked->at, all->targets.count == 0);
        cJSON_Delete(groups);
        return;
    }
    sums others = sums_of_groups(asked, example, groups, true);
    for (size_t i = 0; others.known && i < all->targets.count; i++)
        MUST(asked->at, among(&others, &all->targets.sums[i].tiles));
    release_sums(&others);
}

static void check_layout(const asking *asked, const nh_example *example) {
    nh_tiles tiles = {{0}};
    MUST(asked->at, example->layout->variant == example->variant);
    for (int i = 0; i < example->layout->pieces; i++) {
        nh_tiles piece;
        nh_piece_tiles(&example->layout->piece[i], &piece);
        ck_assert(nh_tiles_add(&tiles, &piece));
    }
    MUST(asked->at, nh_tiles_equal(&tiles, &example->target));
}

static bool look_at(const nh_example *example, void *context) {
    asking *asked = context;
    const trial *at = asked->at;
    MUST(at,
         (int)example->variant == asked->variant || (int)example->variant == asked->variant + 1);
    asked->variant = (int)example->variant;
    MUST(at, example->steps <= NH_NESTING_MAX);
    sums all = sums_of(at, asked->json, asked->pattern, asked->variant,
                       cJSON_Duplicate(groups_of(asked->pattern_json, asked->variant), true), true);
    done.examples++;
    done.alternatives += example->steps > 0;
    if (example->live) {
        check_layout(asked, example);
        MUST(at, !all.known || among(&all, &example->target));
        if (example->steps == 1)
            check_taken(asked, example);
    } else if (example->steps == 1 && all.known) {
        check_dead(asked, example, &all);
    } else if (example->steps == 0 && all.known) {
        MUST(at, all.targets.count == 0);
    }
    release_sums(&all);
    return true;
}

static bool stop_at_once(const nh_example *example, void *context) {
    (void)example;
    ++*(int *)context;
    return false;
}

static void check_pattern(const trial *at, const cJSON *json, size_t pattern) {
    asking asked = {.at = at, .json = json, .pattern = pattern, .variant = -1};
    asked.pattern_json = cJSON_GetArrayItem(key_of(json, "patterns"), (int)pattern);
    const int variants = variants_of(asked.pattern_json);
    for (int i = 0; i < variants; i++)
        check_groups(at, nh_list_groups(at->list, pattern, (size_t)i),
                     groups_of(asked.pattern_json, i));
    MUST(at, nh_list_groups(at->list, pattern, (size_t)variants) == NULL);
    MUST(at, nh_examples_each(at->list, pattern, NULL, look_at, &asked, NULL) == NH_OK);
    MUST(at, asked.variant + 1 == variants);
    int seen = 0;
    MUST(at, nh_examples_each(at->list, pattern, NULL, stop_at_once, &seen, NULL) == NH_OK);
    MUST(at, seen == 1);
}

START_TEST(groups_and_examples_of_random_lists) {
    static trial at;
    const int count = random_tries(LISTS);
    at.seed = random_seed(20261126);
    random_source source = {at.seed};
    at.source = &source;
    at.situation = (nh_situation)NH_SITUATION;
    for (int i = 0; i < count; i++) {
        open_list(&at, random_list(&source, PATTERNS, NH_HAND_MAX));
        cJSON *json = cJSON_Parse(at.json);
        ck_assert_ptr_nonnull(json);
        for (size_t p = 0; p < at.patterns; p++)
            check_pattern(&at, json, p);
        cJSON_Delete(json);
        close_list(&at);
    }
    at.source = NULL;
    printf(
        "seed %llu: %ld groups, %ld examples, %ld of alternatives, %ld without, %ld not checked\n",
        (unsigned long long)at.seed, done.groups, done.examples, done.alternatives, done.dead,
        done.unchecked);
    ck_assert_int_gt(done.groups, count);
    ck_assert_int_gt(done.alternatives, count / 4);
    ck_assert_int_lt(done.unchecked * 10, done.examples);
}
END_TEST

/* ------------------------------------------------------ letters, limits --- */

static const char small_list[] =
    "{\"format\":1,\"title\":\"Small\",\"hand\":5,\"tiles\":{\"flowers\":4},\"patterns\":["
    "{\"name\":\"Ebb\",\"letters\":{\"n\":[2,4],\"w\":\"dragon\"},"
    "\"limits\":{\"suits\":[1,2],\"honours\":\"some\",\"ranks\":[2,3,4],"
    "\"tiles\":\"234B 4D EGWh\",\"least\":{\"dragon\":1},\"most\":{\"wind\":2}},"
    "\"variants\":[[{\"pung\":\"n\",\"suit\":\"x\"},{\"pair\":\"w\"}],"
    "{\"groups\":[{\"pung\":\"n\",\"suit\":\"x\"},{\"pair\":\"green\"}],"
    "\"limits\":{\"suits\":1},\"letters\":{\"n\":[3]}}]}]}";

START_TEST(letters_and_limits_are_those_of_the_variant) {
    nh_list *list = NULL;
    ck_assert_int_eq(nh_list_read(small_list, strlen(small_list), NULL, &list, NULL), NH_OK);
    bool honours;
    nh_limits limits;
    ck_assert_uint_eq(nh_list_letter(list, 0, 0, 'n' - 'a', &honours), 1u << 1 | 1u << 3);
    ck_assert(!honours);
    ck_assert_uint_eq(nh_list_letter(list, 0, 1, 'n' - 'a', &honours), 1u << 2);
    ck_assert_uint_eq(nh_list_letter(list, 0, 0, 'w' - 'a', &honours), 7u << 4);
    ck_assert(honours);
    ck_assert_uint_eq(nh_list_letter(list, 0, 0, 'm' - 'a', &honours), 0x1FF);
    ck_assert_uint_eq(nh_list_letter(list, 0, 0, 26, &honours), 0);
    ck_assert_uint_eq(nh_list_letter(list, 0, 2, 0, &honours), 0);
    ck_assert(nh_list_limits(list, 0, 1, &limits));
    ck_assert(limits.suits_least == 1 && limits.suits_most == 1);
    ck_assert(nh_list_limits(list, 0, 0, &limits));
    ck_assert(limits.suits_least == 1 && limits.suits_most == 2);
    ck_assert_int_eq(limits.honours, NH_HONOURS_SOME);
    for (int rank = 1; rank <= 9; rank++)
        ck_assert(limits.ranks[rank - 1] == (rank >= 2 && rank <= 4));
    int kinds = 0;
    for (int kind = 0; kind < NH_KINDS; kind++)
        kinds += limits.kinds[kind];
    ck_assert(kinds == 7 && limits.kinds[NH_WHITE] && limits.kinds[NH_DOT_1 + 3]);
    ck_assert(limits.least[NH_CLASS_DRAGON] == 1 && limits.most[NH_CLASS_DRAGON] == NH_TARGET_MAX);
    ck_assert(limits.least[NH_CLASS_WIND] == 0 && limits.most[NH_CLASS_WIND] == 2);
    ck_assert(!nh_list_limits(list, 1, 0, &limits) && !nh_list_limits(list, 0, 2, &limits));
    nh_list_free(list);
}
END_TEST

START_TEST(numbers_too_large_are_refused) {
    nh_list *list = NULL;
    nh_error error = {NH_OK, 0, ""};
    int seen = 0;
    ck_assert_int_eq(nh_list_read(small_list, strlen(small_list), NULL, &list, NULL), NH_OK);
    ck_assert_ptr_null(nh_list_groups(list, 1, 0));
    ck_assert_ptr_null(nh_list_groups(list, 0, 2));
    ck_assert_int_eq(nh_examples_each(list, 1, NULL, stop_at_once, &seen, &error),
                     NH_ERROR_ARGUMENT);
    ck_assert_str_eq(error.text, "pattern is 1; the list has 0 to 0");
    ck_assert_int_eq(nh_examples_each(list, 1, NULL, stop_at_once, &seen, NULL), NH_ERROR_ARGUMENT);
    ck_assert_int_eq(seen, 0);
    nh_list_free(list);
}
END_TEST

/* --------------------------------------------------------- whole lists --- */

/* The targets of all examples of a pattern, and how many groups their layouts have. */
struct shown {
    int count, groups[8];
    nh_tiles target[8];
};

static bool keep_example(const nh_example *example, void *context) {
    struct shown *all = context;
    ck_assert_int_lt(all->count, 8);
    ck_assert(example->live);
    all->groups[all->count] = example->layout->groups;
    all->target[all->count++] = example->target;
    return true;
}

/* The examples of a rest are those of the list that it is of. */
START_TEST(examples_of_a_rest) {
    static const char json[] =
        "{\"format\":1,\"title\":\"Rest\",\"hand\":5,\"patterns\":[{\"name\":\"Ebb\",\"groups\":["
        "{\"one_of\":[{\"pung\":\"wind\"},{\"pung\":3,\"suit\":\"x\"}]},{\"pair\":\"red\"}]}]}";
    const nh_set set = {NH_PUNG, NH_EAST, 3, 0};
    nh_list *list = NULL, *rest = NULL;
    struct shown whole = {.count = 0}, left = {.count = 0};
    ck_assert_int_eq(nh_list_read(json, strlen(json), NULL, &list, NULL), NH_OK);
    ck_assert_int_eq(nh_list_rest(list, &set, 1, NULL, &rest, NULL), NH_OK);
    ck_assert_int_eq(nh_examples_each(list, 0, NULL, keep_example, &whole, NULL), NH_OK);
    ck_assert_int_eq(nh_examples_each(rest, 0, NULL, keep_example, &left, NULL), NH_OK);
    ck_assert(whole.count == 2 && left.count == 2);
    for (int i = 0; i < 2; i++)
        ck_assert(nh_tiles_equal(&whole.target[i], &left.target[i]) && left.groups[i] == 2);
    nh_list_free(rest);
    nh_list_free(list);
}
END_TEST

/* Many groups alike, and one that the tiles of only a few of them are left for: an example
 * without a layout. */
START_TEST(examples_that_are_too_much_to_lay_out) {
    static const char single[] = "{\"single\":\"any\"},";
    char json[1024];
    size_t at = (size_t)snprintf(json, sizeof json,
                                 "{\"format\":1,\"title\":\"Loose\",\"hand\":14,\"patterns\":["
                                 "{\"name\":\"Sand\",\"groups\":[");
    for (int i = 0; i < 12; i++)
        at += (size_t)snprintf(json + at, sizeof json - at, "%s", single);
    at += (size_t)snprintf(json + at, sizeof json - at, "{\"pair\":1,\"suit\":\"bam\"}]}]}");
    nh_list *list = NULL;
    struct shown all = {.count = 0};
    ck_assert_int_eq(nh_list_read(json, at, NULL, &list, NULL), NH_OK);
    ck_assert_int_eq(nh_examples_each(list, 0, NULL, keep_example, &all, NULL), NH_OK);
    ck_assert_int_eq(all.count, 1);
    ck_assert_int_eq(nh_tiles_total(&all.target[0]), 14);
    ck_assert_int_eq(all.groups[0], 0);
    nh_list_free(list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("groups");
    TCase *tcase = tcase_create("groups");
    tcase_set_timeout(tcase, 0);
    tcase_add_test(tcase, groups_and_examples_of_random_lists);
    tcase_add_test(tcase, letters_and_limits_are_those_of_the_variant);
    tcase_add_test(tcase, numbers_too_large_are_refused);
    tcase_add_test(tcase, examples_of_a_rest);
    tcase_add_test(tcase, examples_that_are_too_much_to_lay_out);
    suite_add_tcase(suite, tcase);
    return run_suite(suite);
}
