/* JSON text made into a tree. */
#ifndef NH_JSON_JSON_TEXT_H
#define NH_JSON_JSON_TEXT_H

#include "json/mistakes.h"

#include <cjson/cJSON.h>

/* The tree of a text, which the caller deletes; NULL after a mistake. */
cJSON *json_parse(const char *json, size_t length, nh_mistakes *mistakes);

#endif
