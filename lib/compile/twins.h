/* Shares with the same tiles that differ in what jokers may be. */
#ifndef NH_COMPILE_TWINS_H
#define NH_COMPILE_TWINS_H

#include "compile/compiled.h"

/* Whether another share of the family has the same tiles. */
bool share_has_twin(const nh_list *list, const struct family *family, uint32_t index);

/* The shares of a family with the tiles of `share`: their number, from *first. */
uint32_t find_twins(const nh_list *list, const struct family *family, const struct share *share,
                    uint32_t *first);

/* Only products of the same sizes can have targets in common. */
bool same_sizes(const nh_list *list, const struct product *a, const struct product *b);

#endif
