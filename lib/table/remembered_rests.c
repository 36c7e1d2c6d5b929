/* What sets on the table leave of a list, remembered. The one that was asked for the
 * longest time ago goes first; those that seats have stay. */
#include "table/remembered_rests.h"
#include "base/memory.h"
#include "base/sort.h"
#include "base/status.h"

#include <string.h>

#define ENTRIES (NH_GAME_RESTS + NH_SEATS)

struct entry {
    nh_set sets[NH_SETS_MAX]; /* sorted */
    size_t count;             /* 0: a free entry, or the list itself in the first */
    nh_list *rest;
    nh_workspace *workspace;
    uint64_t asked; /* when it was asked for last */
};

struct remembered_rests {
    nh_allocator allocator;
    const nh_list *list;
    uint64_t clock;
    nh_workspace *whole; /* of the list itself */
    struct entry entry[ENTRIES];
    const struct entry *of_seat[NH_SEATS]; /* NULL: the list itself */
};

static void forget(struct entry *entry) {
    nh_workspace_free(entry->workspace);
    nh_list_free(entry->rest);
    *entry = (struct entry){.count = 0};
}

void rests_free(struct remembered_rests *rests) {
    if (rests == NULL)
        return;
    nh_allocator allocator = rests->allocator;
    for (int i = 0; i < ENTRIES; i++)
        forget(&rests->entry[i]);
    nh_workspace_free(rests->whole);
    memory_release(&allocator, rests);
}

nh_status rests_new(const nh_list *list, const nh_allocator *allocator,
                    struct remembered_rests **rests) {
    struct remembered_rests *made = memory_new(allocator, 1, sizeof *made);
    *rests = made;
    if (made == NULL)
        return NH_ERROR_MEMORY;
    made->allocator = *allocator;
    made->list = list;
    nh_status status = nh_workspace_new(list, allocator, &made->whole);
    if (status == NH_OK)
        return NH_OK;
    rests_free(made);
    *rests = NULL;
    return status;
}

static bool is_before(const void *a, const void *b, const void *context) {
    (void)context;
    return memcmp(a, b, sizeof(nh_set)) < 0;
}

static bool is_pinned(const struct remembered_rests *rests, const struct entry *entry) {
    for (int seat = 0; seat < NH_SEATS; seat++)
        if (rests->of_seat[seat] == entry)
            return true;
    return false;
}

/* The entry of the sets, or else the one that they may replace. */
static struct entry *entry_of(struct remembered_rests *rests, const nh_set *sorted, size_t count) {
    struct entry *oldest = NULL;
    for (int i = 0; i < ENTRIES; i++) {
        struct entry *entry = &rests->entry[i];
        if (entry->count == count && memcmp(entry->sets, sorted, count * sizeof *sorted) == 0)
            return entry;
        if (!is_pinned(rests, entry) && (oldest == NULL || entry->asked < oldest->asked))
            oldest = entry;
    }
    forget(oldest);
    return oldest;
}

static nh_status fill_entry(const struct remembered_rests *rests, struct entry *entry,
                            const nh_set *sorted, size_t count, nh_error *error) {
    nh_status status =
        nh_list_rest(rests->list, sorted, count, &rests->allocator, &entry->rest, error);
    if (status == NH_OK)
        status = nh_workspace_new(entry->rest, &rests->allocator, &entry->workspace);
    if (status != NH_OK) {
        forget(entry);
        return status;
    }
    memcpy(entry->sets, sorted, count * sizeof *sorted);
    entry->count = count;
    return NH_OK;
}

static nh_status find(struct remembered_rests *rests, const nh_set *sets, size_t count,
                      struct entry **entry, nh_error *error) {
    nh_set sorted[NH_SETS_MAX];
    memcpy(sorted, sets, count * sizeof *sets);
    sort_in_place(sorted, count, sizeof *sorted, is_before, NULL);
    *entry = entry_of(rests, sorted, count);
    (*entry)->asked = ++rests->clock;
    return (*entry)->count == count ? NH_OK : fill_entry(rests, *entry, sorted, count, error);
}

nh_status rests_find(struct remembered_rests *rests, const nh_set *sets, size_t count,
                     nh_workspace **workspace, nh_error *error) {
    struct entry *entry;
    nh_status status = find(rests, sets, count, &entry, error);
    *workspace = status == NH_OK ? entry->workspace : NULL;
    return status;
}

nh_status rests_find_for(struct remembered_rests *rests, int seat, const nh_set *sets, size_t count,
                         nh_workspace **workspace, nh_error *error) {
    struct entry *entry = NULL;
    *workspace = rests->whole;
    nh_status status = count == 0 ? NH_OK : find(rests, sets, count, &entry, error);
    if (status != NH_OK)
        return status;
    rests->of_seat[seat] = entry;
    if (entry != NULL)
        *workspace = entry->workspace;
    return NH_OK;
}
