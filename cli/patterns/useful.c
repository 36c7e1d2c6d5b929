/* Unseen tiles of use. */
#include "patterns/useful.h"

/* Kinds whose notation goes together: each suit, winds, dragons, flower, joker. */
static const int groups[] = {NH_BAM_1, NH_CRAK_1, NH_DOT_1, NH_EAST,
                             NH_RED,   NH_FLOWER, NH_JOKER, NH_KINDS};

/* The kinds of a group of which so many are useful, in notation without spaces. */
static bool alike_add(struct text *text, const nh_tiles *useful, int group, int count) {
    char spaced[NH_TILES_TEXT_SIZE];
    nh_tiles kinds = {{0}};
    for (int kind = groups[group]; kind < groups[group + 1]; kind++)
        kinds.count[kind] = useful->count[kind] == count;
    if (nh_tiles_total(&kinds) == 0)
        return false;
    nh_tiles_format(&kinds, NH_STYLE_LETTERS, spaced, sizeof spaced);
    for (const char *from = spaced; *from != '\0'; from++)
        if (*from != ' ')
            text_add_bytes(text, from, 1);
    return true;
}

void useful_add(struct text *text, const nh_tiles *useful, const char *times) {
    bool first = true;
    for (int group = 0; groups[group] < NH_KINDS; group++) {
        int most = 0;
        for (int kind = groups[group]; kind < groups[group + 1]; kind++)
            most = useful->count[kind] > most ? useful->count[kind] : most;
        for (int count = most; count > 0; count--) {
            struct text word;
            text_clear(&word);
            if (!alike_add(&word, useful, group, count))
                continue;
            text_add_format(text, "%s%s%s%d", first ? "" : " ", word.bytes, times, count);
            first = false;
        }
    }
}
