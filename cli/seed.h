/* A seed for deals where nobody named one. */
#ifndef CLI_SEED_H
#define CLI_SEED_H

#include <stdint.h>

/* Another each time, and short enough to be copied by hand. */
uint64_t seed_fresh(void);

#endif
