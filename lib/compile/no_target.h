/* Why a pattern has no target. */
#ifndef NH_COMPILE_NO_TARGET_H
#define NH_COMPILE_NO_TARGET_H

#include "compile/compiler.h"
#include "list/json_reader.h"

/* Notes as a mistake that the compiler's pattern has no target, with the first
 * group, letter or limit of its first variant that leaves nothing. */
void complain_of_no_target(struct compiler *compiler, struct json_reader *reader);

#endif
