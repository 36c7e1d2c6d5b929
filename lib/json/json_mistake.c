/* What is wrong with a text that is not JSON. A parser only says where it gave
 * up; this one walks through the text once more, token by token, and knows the
 * mistakes that people make by hand: a comma too many, a remark, curly or single
 * quotes, a bracket that is never closed. */
#include "json/json_mistake.h"
#include "nearhand.h"
#include "json/json_place.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define OPEN_MAX 64

/* What may come next. After a comma or a colon nothing may end. */
enum expected { VALUE, FIRST_VALUE, KEY, FIRST_KEY, COLON, COMMA };

struct json_scan {
    const char *json;
    size_t length, at;
    enum expected expected;
    size_t comma; /* the last one */
    struct {
        char bracket;
        size_t at;
    } open[OPEN_MAX];
    int depth;
    bool found, ended; /* a mistake; the walk is over */
    struct json_mistake mistake;
};

static void blame(struct json_scan *scan, size_t at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static void blame(struct json_scan *scan, size_t at, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(scan->mistake.text, sizeof scan->mistake.text, format, arguments);
    va_end(arguments);
    scan->mistake.at = at;
    scan->found = scan->ended = true;
}

static char peek_at(const struct json_scan *scan, size_t at) {
    return at < scan->length ? scan->json[at] : '\0';
}

static bool is_json_digit(char c) {
    return c >= '0' && c <= '9';
}

static bool in_word(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || is_json_digit(c) ||
           (c != '\0' && strchr("_.+-", c) != NULL);
}

/* ---------------------------------------------------- quotes and remarks --- */

/* The quotation marks of writing programs: U+00AB, U+00BB, U+2018 to U+201F. */
static bool is_curly_quote(const struct json_scan *scan) {
    uint32_t character = 0;
    nh_utf8_next(scan->json + scan->at, scan->length - scan->at, &character);
    return character == 0xAB || character == 0xBB || (character >= 0x2018 && character <= 0x201F);
}

/* What stands nowhere in JSON, outside of texts. */
static void blame_strangers(struct json_scan *scan) {
    char c = peek_at(scan, scan->at);
    if (c == '/' || c == '#')
        blame(scan, scan->at, "JSON has no remarks: put the text into a \"note\"");
    else if (c == '\'')
        blame(scan, scan->at, "a single quote: JSON takes double ones, \"");
    else if (is_curly_quote(scan))
        blame(scan, scan->at, "a curly quote: JSON takes straight ones, \"");
}

/* ------------------------------------------------------------- tokens --- */

static void scan_escape(struct json_scan *scan) {
    char c = peek_at(scan, scan->at + 1);
    bool good = c != '\0' && strchr("\"\\/bfnrtu", c) != NULL;
    for (size_t i = 0; good && c == 'u' && i < 4; i++) {
        char digit = peek_at(scan, scan->at + 2 + i);
        good = digit != '\0' && strchr("0123456789abcdefABCDEF", digit) != NULL;
    }
    if (!good)
        blame(scan, scan->at, "a backslash that JSON does not know: for the sign itself write two");
    scan->at += 2;
}

static void scan_text(struct json_scan *scan) {
    size_t start = scan->at++;
    while (!scan->ended && peek_at(scan, scan->at) != '"') {
        if (scan->at >= scan->length || peek_at(scan, scan->at) == '\n')
            blame(scan, start, "the text that begins here has no closing quote");
        else if (peek_at(scan, scan->at) == '\\')
            scan_escape(scan);
        else
            scan->at++;
    }
    scan->at++;
}

/* Past digits; how many. */
static size_t digits_at(const char *text, size_t *at) {
    size_t start = *at;
    while (is_json_digit(text[*at]))
        ++*at;
    return *at - start;
}

/* RFC 8259, section 6. */
static bool is_json_number(const char *word) {
    size_t at = word[0] == '-';
    size_t whole = at;
    size_t digits = digits_at(word, &at);
    if (digits == 0 || (digits > 1 && word[whole] == '0'))
        return false;
    if (word[at] == '.') {
        at++;
        if (digits_at(word, &at) == 0)
            return false;
    }
    if (word[at] == 'e' || word[at] == 'E') {
        at++;
        at += word[at] == '+' || word[at] == '-';
        if (digits_at(word, &at) == 0)
            return false;
    }
    return word[at] == '\0';
}

/* Compares in small letters. */
static bool same_word(const char *word, const char *small) {
    size_t i = 0;
    while (word[i] != '\0' && (word[i] | ('a' ^ 'A')) == small[i])
        i++;
    return word[i] == '\0' && small[i] == '\0';
}

/* A number, true, false or null; everything else needs quotes. */
static void scan_word(struct json_scan *scan, bool key) {
    static const char *const literals[] = {"true", "false", "null"};
    char word[40];
    size_t start = scan->at, length = 0;
    while (in_word(peek_at(scan, scan->at)))
        scan->at++;
    length = scan->at - start;
    length = length < sizeof word - 1 ? length : sizeof word - 1;
    memcpy(word, scan->json + start, length);
    word[length] = '\0';
    for (size_t i = 0; i < sizeof literals / sizeof *literals && !key; i++) {
        if (!same_word(word, literals[i]))
            continue;
        if (strcmp(word, literals[i]) != 0)
            blame(scan, start, "write %s in small letters", literals[i]);
        return;
    }
    if (key || !is_json_number(word))
        blame(scan, start, "%s needs double quotes: \"%s\"", word, word);
}

/* ------------------------------------------------------------ brackets --- */

static void open_bracket(struct json_scan *scan) {
    char bracket = peek_at(scan, scan->at);
    if (scan->depth == OPEN_MAX) {
        scan->ended = true;
        return;
    }
    scan->open[scan->depth].bracket = bracket;
    scan->open[scan->depth++].at = scan->at++;
    scan->expected = bracket == '{' ? FIRST_KEY : FIRST_VALUE;
}

static void close_bracket(struct json_scan *scan) {
    char bracket = peek_at(scan, scan->at);
    if (scan->depth == 0) {
        blame(scan, scan->at, "a %c too many", bracket);
        return;
    }
    char open = scan->open[scan->depth - 1].bracket;
    struct place place = locate_byte(scan->json, scan->length, scan->open[scan->depth - 1].at);
    if ((open == '{') != (bracket == '}')) {
        blame(scan, scan->at, "a %c stands here, but the %c of line %u is to be closed first",
              bracket, open, (unsigned)place.line);
    } else if (scan->expected == VALUE || scan->expected == KEY) {
        blame(scan, scan->comma, "a comma too many: nothing follows it");
    } else {
        scan->depth--;
        scan->at++;
        scan->expected = COMMA;
    }
}

/* ---------------------------------------------------------------- walk --- */

static void scan_key(struct json_scan *scan) {
    char c = peek_at(scan, scan->at);
    if (c == '}' || c == ']')
        close_bracket(scan);
    else if (c == ',')
        blame(scan, scan->at, "a comma too many");
    else if (c == '"')
        scan_text(scan);
    else if (in_word(c))
        scan_word(scan, true);
    else
        blame(scan, scan->at, "a key in double quotes is expected here");
    if (c == '"')
        scan->expected = COLON;
}

static void scan_value(struct json_scan *scan) {
    char c = peek_at(scan, scan->at);
    bool after_colon = scan->depth > 0 && scan->open[scan->depth - 1].bracket == '{';
    if ((c == '}' || c == ',') && after_colon) {
        blame(scan, scan->at, "a value is missing after the colon");
    } else if (c == '}' || c == ']') {
        close_bracket(scan);
    } else if (c == ',') {
        blame(scan, scan->at, "a comma too many");
    } else if (c == '{' || c == '[') {
        open_bracket(scan);
    } else {
        scan->expected = COMMA;
        if (c == '"')
            scan_text(scan);
        else if (in_word(c))
            scan_word(scan, false);
        else
            blame(scan, scan->at, "a value is expected here");
    }
}

static void scan_colon(struct json_scan *scan) {
    if (peek_at(scan, scan->at) != ':')
        blame(scan, scan->at, "a colon is missing before this, after the key");
    scan->at++;
    scan->expected = VALUE;
}

static void scan_comma(struct json_scan *scan) {
    char c = peek_at(scan, scan->at);
    bool in_array = scan->depth > 0 && scan->open[scan->depth - 1].bracket == '[';
    if (scan->depth == 0) {
        scan->ended = true; /* behind the end of the list */
    } else if (c == '}' || c == ']') {
        close_bracket(scan);
    } else if (c == ',') {
        scan->comma = scan->at++;
        scan->expected = in_array ? VALUE : KEY;
    } else if (c == ':') {
        blame(scan, scan->at,
              in_array ? "a colon in an array: what has keys stands in { }" : "a colon too many");
    } else {
        blame(scan, scan->at, "a comma is missing before this");
    }
}

/* The text is over: nothing stands in it, or a bracket is open still. */
static void scan_end(struct json_scan *scan) {
    scan->ended = true;
    if (scan->depth > 0)
        blame(scan, scan->open[scan->depth - 1].at, "the %c here is never closed",
              scan->open[scan->depth - 1].bracket);
    else if (scan->expected == FIRST_VALUE)
        blame(scan, 0, "the file is empty: a list begins with {");
}

static void scan_token(struct json_scan *scan) {
    while (scan->at < scan->length && (unsigned char)scan->json[scan->at] <= ' ')
        scan->at++;
    if (scan->at == scan->length) {
        scan_end(scan);
        return;
    }
    blame_strangers(scan);
    if (scan->ended)
        return;
    switch (scan->expected) {
    case KEY:
    case FIRST_KEY:
        scan_key(scan);
        break;
    case COLON:
        scan_colon(scan);
        break;
    case COMMA:
        scan_comma(scan);
        break;
    default:
        scan_value(scan);
        break;
    }
}

struct json_mistake json_mistake_find(const char *json, size_t length, size_t stopped) {
    struct json_scan scan = {.json = json, .length = length, .expected = FIRST_VALUE};
    while (!scan.ended)
        scan_token(&scan);
    if (!scan.found)
        blame(&scan, stopped,
              "the JSON cannot be read here: look for a missing comma, quote or bracket just "
              "before");
    return scan.mistake;
}
