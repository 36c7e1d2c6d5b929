/* A small list that takes many of the ways through the library in few steps. With ' for ",
 * so that it reads as JSON does. */
#ifndef TESTS_NARROW_LIST_H
#define TESTS_NARROW_LIST_H

static const char narrow_list[] =
    "{'format': 1, 'title': 'Narrow Sound List', 'hand': 5, 'note': 'Short',\n"
    " 'tiles': {'flowers': 3, 'jokers': 1, 'suits': ['bam', 'dot']},\n"
    " 'patterns': [\n"
    "  {'name': 'Two suits', 'ranks': {'n': [3, 5]}, 'groups': [\n"
    "    {'pung': 'n', 'suit': 'x'}, {'pair': 'n+1', 'suit': 'y'}]},\n"
    "  {'name': 'Three apart', 'groups': [{'pair': 'dragon'},\n"
    "    {'single': [1, 2, 3, 4], 'suit': 'any', 'times': 3, 'distinct': true}]},\n"
    "  {'name': 'Own wind', 'groups': [{'pung': 'prevailing'}, {'pair': 'seat'}]},\n"
    "  {'name': 'Either way', 'limits': {'suits': 1, 'honours': 'none'}, 'variants': [\n"
    "    [{'set': 'simple'}, {'pair': 'simple'}], [{'quint': 5, 'suit': 'bam'}],\n"
    "    [{'one_of': [{'pair': [2, 3], 'suit': 'dot'}, {'pair': 'red'}], 'times': 2},\n"
    "     {'single': 'flower'}]]}\n"
    " ]}\n";

#endif
