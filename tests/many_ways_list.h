/* A list whose one pattern a hand of jokers completes in more ways than are gone through. With
 * ' for ", so that it reads as JSON does. */
#ifndef TESTS_MANY_WAYS_LIST_H
#define TESTS_MANY_WAYS_LIST_H

static const char many_ways_list[] =
    "{'format': 1, 'title': 'Jokers', 'tiles': {'jokers': 16}, 'patterns': ["
    "{'name': 'Anything', 'variants': ["
    "[{'pung': 'any', 'times': 4}, {'pair': 'east'}],"
    "{'points': 9, 'groups': [{'pung': 'any', 'times': 4}, {'pair': 'red'}]}]}]}";

#endif
