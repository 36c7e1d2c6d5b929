/* Whether a part says of its counts what this program says of them. All figures follow
 * from the counts, so that a number which someone changed, or a disk, contradicts others. */
#include "io/message.h"
#include "io/output.h"
#include "survey/survey_task.h"

#include <cjson/cJSON.h>
#include <math.h>

/* Programs that rewrite JSON may shorten digits. */
static bool same_number(double own, double given) {
    return fabs(own - given) <= 1e-9 * fmax(fabs(own), fabs(given));
}

/* Keys that the other does not have, as of another version, are ignored. */
static bool agrees(const cJSON *own, const cJSON *given);

static bool members_agree(const cJSON *own, const cJSON *given) {
    const cJSON *member;
    cJSON_ArrayForEach(member, own) {
        const cJSON *other = cJSON_GetObjectItemCaseSensitive(given, member->string);
        if (other != NULL && !agrees(member, other))
            return false;
    }
    return true;
}

static bool items_agree(const cJSON *own, const cJSON *given) {
    for (own = own->child, given = given->child; own != NULL && given != NULL;
         own = own->next, given = given->next)
        if (!agrees(own, given))
            return false;
    return own == NULL && given == NULL;
}

static bool agrees(const cJSON *own, const cJSON *given) {
    if (cJSON_IsNumber(own) && cJSON_IsNumber(given))
        return same_number(own->valuedouble, given->valuedouble);
    if (cJSON_IsArray(own) && cJSON_IsArray(given))
        return items_agree(own, given);
    if (cJSON_IsObject(own) && cJSON_IsObject(given))
        return members_agree(own, given);
    return cJSON_Compare(own, given, true);
}

bool part_agrees(const struct survey_key *key, const struct counts *counts, const cJSON *part) {
    struct page page = {0};
    output_to(&page);
    survey_json(key, counts);
    output_to(NULL);
    cJSON *own = page.failed ? NULL : cJSON_ParseWithLength(page.bytes, page.length);
    page_free(&page);
    bool good = own != NULL ? agrees(own, part) : short_of_memory();
    cJSON_Delete(own);
    return good;
}
