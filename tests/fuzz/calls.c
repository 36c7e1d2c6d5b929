/* What calls of the interface need and what holds after each. See calls.h. */
#include "calls.h"

#include <limits.h>
#include <string.h>

/* -------------------------------------------------------------- memory --- */

static bool fails(struct counted *counted) {
    size_t left = atomic_load(&counted->left);
    if (left == SIZE_MAX)
        return false;
    if (left > 0) {
        atomic_store(&counted->left, left - 1);
        return false;
    }
    if (!atomic_load(&counted->all))
        atomic_store(&counted->left, SIZE_MAX);
    atomic_store(&counted->failed, true);
    return true;
}

static void *resize(void *context, void *pointer, size_t size) {
    struct counted *counted = context;
    if (fails(counted))
        return NULL;
    void *block = realloc(pointer, size);
    MUST(block != NULL);
    if (pointer == NULL)
        atomic_fetch_add(&counted->blocks, 1);
    return block;
}

static void release(void *context, void *pointer) {
    struct counted *counted = context;
    if (pointer == NULL)
        return;
    MUST(atomic_fetch_sub(&counted->blocks, 1) > 0);
    free(pointer);
}

void *room_for(size_t rows, size_t size) {
    void *room = malloc(rows * size + (rows * size == 0));
    MUST(room != NULL);
    return room;
}

/* ------------------------------------------------------ what there is --- */

void world_begin(struct world *world, struct decisions *decisions) {
    memset(world, 0, sizeof *world);
    world->decisions = decisions;
    atomic_store(&world->counted.left, SIZE_MAX);
    world->allocator = (nh_allocator){resize, release, &world->counted};
    for (int i = 0; i < LISTS; i++)
        world->base[i] = NOTHING;
    MUST(nh_cancel_new(&world->allocator, &world->cancel) == NH_OK);
}

static void free_exact(struct world *world) {
    nh_table_free(world->table); /* it may sit there */
    nh_exact_player_free(world->exact);
    world->table = NULL;
    world->exact = NULL;
}

static void free_way(struct world *world) {
    nh_game_free(world->game);
    nh_way_player_free(world->way);
    world->game = NULL;
    world->way = NULL;
}

void free_workspace(struct world *world, int place) {
    if (world->exact_workspace == place)
        free_exact(world);
    if (world->way_workspace == place)
        free_way(world);
    nh_workspace_free(world->workspaces[place]);
    world->workspaces[place] = NULL;
}

void free_list(struct world *world, int place) {
    for (int i = 0; i < WORKSPACES; i++)
        if (world->workspaces[i] != NULL && world->list_of[i] == place)
            free_workspace(world, i);
    if (world->table_list == place)
        free_exact(world);
    if (world->game_list == place)
        free_way(world);
    for (int i = 0; i < LISTS; i++)
        if (world->lists[i] != NULL && world->base[i] == place)
            free_list(world, i);
    nh_list_free(world->lists[place]);
    world->lists[place] = NULL;
    world->base[place] = NOTHING;
}

void world_end(struct world *world) {
    for (int i = 0; i < LISTS; i++)
        if (world->lists[i] != NULL)
            free_list(world, i);
    nh_cancel_free(world->cancel);
    MUST(atomic_load(&world->counted.blocks) == 0);
}

static int pick(struct world *world, void *const *places, int count) {
    int first = decide(world->decisions, count);
    for (int i = 0; i < count; i++)
        if (places[(first + i) % count] != NULL)
            return (first + i) % count;
    return NOTHING;
}

int pick_list(struct world *world) {
    return pick(world, (void *const *)world->lists, LISTS);
}

int pick_workspace(struct world *world) {
    return pick(world, (void *const *)world->workspaces, WORKSPACES);
}

/* -------------------------------------------------------------- values --- */

bool one_in(struct world *world, int chances) {
    return decide(world->decisions, chances) == chances - 1;
}

int any_int(struct world *world, int low, int high) {
    if (!one_in(world, 16))
        return low + decide(world->decisions, high - low + 1);
    const int others[] = {low - 1, high + 1, INT_MIN, INT_MAX, 0, -1, 255, 256};
    return others[decide(world->decisions, 8)];
}

size_t any_size(struct world *world, size_t size) {
    if (!one_in(world, 16))
        return size;
    const size_t others[] = {0, 1, size / 2, size - 1, size + 1, size + 16};
    return others[decide(world->decisions, 6)];
}

nh_tiles any_tiles(struct world *world, const nh_tiles *set, int most) {
    nh_tiles tiles = {{0}}, rest = *set;
    nh_random random;
    int way = decide(world->decisions, 32);
    if (way == 31)
        memset(&tiles, 255, sizeof tiles);
    else if (way == 30)
        for (int i = 0; i < 4; i++)
            tiles.count[decide(world->decisions, NH_KINDS)] =
                (uint8_t)decide(world->decisions, 256);
    else if (way == 29)
        tiles = *set;
    else {
        int count = way < 20 ? most : decide(world->decisions, most + 2);
        nh_random_start(&random, (uint64_t)decide(world->decisions, 65536), 0);
        nh_deal_draw(&random, &rest, count, &tiles);
    }
    return tiles;
}

nh_set any_set(struct world *world) {
    int shape = NH_PUNG + decide(world->decisions, NH_CHOW - NH_PUNG + 1);
    int tiles = shape == NH_CHOW ? 3 : shape;
    nh_set set = {(uint8_t)shape, (uint8_t)decide(world->decisions, NH_KINDS), (uint8_t)tiles,
                  (uint8_t)(one_in(world, 4) ? decide(world->decisions, tiles + 1) : 0)};
    if (!one_in(world, 16))
        return set;
    uint8_t *fields[] = {&set.shape, &set.kind, &set.tiles, &set.jokers};
    *fields[decide(world->decisions, 4)] = (uint8_t)decide(world->decisions, 256);
    return set;
}

nh_situation any_situation(struct world *world, const nh_tiles *set, const nh_tiles *hand) {
    nh_situation situation = NH_SITUATION;
    nh_tiles left = *set;
    situation.size = one_in(world, 32) ? any_size(world, situation.size) : situation.size;
    if (situation.size > sizeof situation)
        situation.size = 0;
    if (one_in(world, 4)) {
        nh_tiles_take(&left, hand);
        situation.seen = any_tiles(world, &left, nh_tiles_total(&left));
    }
    if (one_in(world, 4))
        situation.prevailing = (nh_wind)any_int(world, NH_WIND_UNKNOWN, NH_WIND_NORTH);
    if (one_in(world, 4))
        situation.seat = (nh_wind)any_int(world, NH_WIND_UNKNOWN, NH_WIND_NORTH);
    return situation;
}

/* --------------------------------------------------------- what holds --- */

nh_error *error_of(struct world *world) {
    atomic_store(&world->counted.failed, false);
    memset(&world->error, 0xA5, sizeof world->error);
    world->error_given = !one_in(world, 4);
    return world->error_given ? &world->error : NULL;
}

/* A sentence that a player can read. */
static void error_holds(const nh_error *error, nh_status status) {
    MUST(error->status == status);
    const char *end = memchr(error->text, '\0', sizeof error->text);
    MUST(end != NULL && end > error->text && end[-1] != '.');
    for (const char *at = error->text; at < end;) {
        uint32_t character;
        size_t taken = nh_utf8_next(at, (size_t)(end - at), &character);
        MUST(taken > 0 && character >= 0x20 && character != 0x7F);
        at += taken;
    }
    MUST(error->column == 0 || status == NH_ERROR_TILES);
}

void returned(struct world *world, nh_status status, unsigned allowed) {
    MUST(status <= NH_ERROR_CANCELLED && (allowed >> status & 1) != 0);
    MUST(status != NH_ERROR_MEMORY || atomic_load(&world->counted.failed));
    MUST(status != NH_ERROR_CANCELLED || world->cancelled);
    if (status != NH_OK && world->error_given)
        error_holds(&world->error, status);
}
