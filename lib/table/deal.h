/* Deals from a stream of random numbers that the game goes on with. */
#ifndef NH_TABLE_DEAL_H
#define NH_TABLE_DEAL_H

#include "nearhand_table.h"

/* The deal of nh_deal_table from numbers where they stand; NH_ERROR_ARGUMENT for a
 * set that is too small, with nothing written. */
nh_status deal_next(const nh_list *list, nh_random *random, nh_deal *deal);

#endif
