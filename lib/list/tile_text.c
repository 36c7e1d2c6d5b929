/* The texts that say which tile: names, classes, and letters with numbers. */
#include "list/tile_text.h"

#include <string.h>

static const struct {
    const char *word;
    uint8_t type, value;
} tile_words[] = {
    {"east", ATOM_KIND, NH_EAST},         {"south", ATOM_KIND, NH_SOUTH},
    {"west", ATOM_KIND, NH_WEST},         {"north", ATOM_KIND, NH_NORTH},
    {"red", ATOM_KIND, NH_RED},           {"green", ATOM_KIND, NH_GREEN},
    {"white", ATOM_KIND, NH_WHITE},       {"flower", ATOM_KIND, NH_FLOWER},
    {"wind", ATOM_CLASS, CLASS_WIND},     {"dragon", ATOM_CLASS, CLASS_DRAGON},
    {"honour", ATOM_CLASS, CLASS_HONOUR}, {"terminal", ATOM_CLASS, CLASS_TERMINAL},
    {"orphan", ATOM_CLASS, CLASS_ORPHAN}, {"simple", ATOM_CLASS, CLASS_SIMPLE},
    {"suited", ATOM_CLASS, CLASS_SUITED}, {"any", ATOM_CLASS, CLASS_ANY},
    {"prevailing", ATOM_PREVAILING, 0},   {"seat", ATOM_SEAT, 0},
};
#define TILE_WORDS (sizeof tile_words / sizeof *tile_words)

static bool is_number(const char *text, int *value) {
    size_t length = strlen(text);
    if (length == 0 || length > 2)
        return false;
    *value = 0;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            return false;
        *value = *value * 10 + (text[i] - '0');
    }
    return true;
}

/* What stands behind the sign of "n+...": a number or a letter. */
static bool read_second(const char *text, int sign, struct atom *atom) {
    int number = 0;
    if (is_letter(text[0]) && text[1] == '\0') {
        atom->other = (uint8_t)(text[0] - 'a');
        atom->other_sign = (int8_t)sign;
        return true;
    }
    if (!is_number(text, &number))
        return false;
    atom->offset = (int8_t)(sign * number);
    return true;
}

/* "n", "n+1", "n-2", "n+m", "n-m" or "10-n". */
static bool read_expression(const char *text, struct atom *atom) {
    int number = 0;
    atom->type = ATOM_LETTER;
    if (is_letter(text[0])) {
        atom->letter = (uint8_t)(text[0] - 'a');
        atom->sign = 1;
        if (text[1] == '\0')
            return true;
        return (text[1] == '+' || text[1] == '-') &&
               read_second(text + 2, text[1] == '+' ? 1 : -1, atom);
    }
    char digits[3] = {0};
    const char *minus = strchr(text, '-');
    if (minus == NULL || minus - text > 2 || !is_letter(minus[1]) || minus[2] != '\0')
        return false;
    memcpy(digits, text, (size_t)(minus - text));
    if (!is_number(digits, &number))
        return false;
    atom->letter = (uint8_t)(minus[1] - 'a');
    atom->sign = -1;
    atom->offset = (int8_t)number;
    return true;
}

bool tile_text_read(const char *text, struct atom *atom) {
    *atom = (struct atom){0};
    for (size_t i = 0; i < TILE_WORDS; i++) {
        if (strcmp(text, tile_words[i].word) == 0) {
            atom->type = tile_words[i].type;
            atom->value = tile_words[i].value;
            return true;
        }
    }
    return read_expression(text, atom);
}

const char *tile_text_word(size_t index) {
    return index < TILE_WORDS ? tile_words[index].word : NULL;
}

const char *suit_word(int part) {
    static const char *const suits[] = {"bam", "crak", "dot"};
    return suits[part];
}

bool suit_word_read(const char *word, uint8_t *part) {
    for (uint8_t i = 0; i < SUITS; i++) {
        if (strcmp(word, suit_word(i)) == 0) {
            *part = i;
            return true;
        }
    }
    return false;
}

int class_of_word(const char *word) {
    struct atom atom;
    return tile_text_read(word, &atom) && atom.type == ATOM_CLASS ? atom.value : -1;
}

int honour_of_word(const char *word) {
    struct atom atom;
    bool honour = tile_text_read(word, &atom) && atom.type == ATOM_KIND && atom.value < NH_FLOWER;
    return honour ? atom.value : -1;
}

const char *word_of_class(int class) {
    size_t i = 0;
    while (tile_words[i].type != ATOM_CLASS || tile_words[i].value != class)
        i++;
    return tile_words[i].word;
}
