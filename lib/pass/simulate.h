/* Looking further than one pass, by simulation. */
#ifndef NH_PASS_SIMULATE_H
#define NH_PASS_SIMULATE_H

#include "pass/pass.h"

/* Answers nh_pass_ahead, whose question is checked. */
nh_status simulate_passes(const struct pass_memory *memory, const nh_tiles *hand,
                          const nh_ahead_question *question, nh_ahead *ahead, nh_error *error);

#endif
