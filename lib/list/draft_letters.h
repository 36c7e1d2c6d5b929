/* What the letters of a pattern or a variant stand for. */
#ifndef NH_LIST_DRAFT_LETTERS_H
#define NH_LIST_DRAFT_LETTERS_H

#include "list/draft.h"
#include "list/json_reader.h"

/* Every letter a rank from 1 to 9. */
void draft_letters_any(struct draft_letter letters[LETTERS]);

/* Reads "ranks" and "letters" of an object; the other letters stay as they are. */
void draft_read_letters(struct json_reader *reader, const cJSON *object,
                        struct draft_letter letters[LETTERS]);

/* Complains of letters that an object gives a range and that are not used. */
void draft_check_letters(struct json_reader *reader, const cJSON *object, uint32_t used);

#endif
