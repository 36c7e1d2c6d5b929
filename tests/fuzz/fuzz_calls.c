/* Calls of the interface in any order, made up by the bytes: right ones, and ones with
 * wrong values, with memory that runs out, switches that are on, workspaces and players
 * of another list. Each is answered or refused with words, answers agree with one another,
 * and all memory comes back. The same bytes make the same calls (calls.h); what another
 * thread cancels may come out either way. */
#include "calls.h"

enum { CALLS = 40 };

/* Memory will fail soon, or no more. */
static void set_memory(struct world *world) {
    int left = decide(world->decisions, 256);
    atomic_store(&world->counted.all, one_in(world, 4));
    atomic_store(&world->counted.left, left < 200 ? (size_t)left : SIZE_MAX);
}

static void set_switch(struct world *world) {
    world->cancelled = one_in(world, 2);
    if (world->cancelled)
        nh_cancel_now(world->cancel);
    else
        nh_cancel_clear(world->cancel);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static void (*const calls[])(struct world *) = {call_lists,  call_lists,  call_hands,
                                                    call_hands,  call_audits, call_batches,
                                                    call_tables, call_games,  call_values};
    static struct world world;
    struct decisions decisions = {data, size};
    world_begin(&world, &decisions);
    for (int i = 0; i < CALLS && decisions.left > 0; i++) {
        int call = decide(&decisions, 11);
        if (call == 9)
            set_memory(&world);
        else if (call == 10)
            set_switch(&world);
        else
            calls[call](&world);
    }
    world_end(&world);
    return 0;
}
