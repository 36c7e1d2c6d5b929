/* The question "deal": four hands that a seed deals again. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>

/* A number of up to 64 bits, as its digits: more than a number of JavaScript holds. */
static bool read_deal_number(struct asked *asked, const char *key, uint64_t otherwise,
                             uint64_t *number) {
    const char *text;
    char *end;
    *number = otherwise;
    if (!asked_text(asked, key, &text))
        return false;
    if (*text == '\0')
        return true;
    errno = 0;
    *number = strtoull(text, &end, 10);
    if (*text >= '0' && *text <= '9' && *end == '\0' && errno == 0)
        return true;
    return asked_refuse(asked, "%s is the digits of a whole number, 0 to 18446744073709551615",
                        key);
}

static void add_digits(cJSON *object, const char *key, uint64_t number) {
    char digits[24];
    snprintf(digits, sizeof digits, "%llu", (unsigned long long)number);
    cJSON_AddStringToObject(object, key, digits);
}

bool answer_deal(struct asked *asked, cJSON *answer) {
    uint64_t seed, number;
    nh_deal deal;
    if (!asked_read(asked, false) || !read_deal_number(asked, "seed", 1, &seed) ||
        !read_deal_number(asked, "deal", 1, &number))
        return false;
    if (nh_deal_table(asked->desk->list, seed, number, &deal) != NH_OK)
        return asked_refuse(asked, "the set has too few tiles for four hands");
    cJSON_AddStringToObject(answer, "list", nh_list_title(asked->desk->list));
    add_digits(answer, "seed", seed);
    add_digits(answer, "deal", number);
    cJSON *dice = cJSON_AddArrayToObject(answer, "dice");
    for (int i = 0; i < 2; i++)
        cJSON_AddItemToArray(dice, cJSON_CreateNumber(deal.dice[i]));
    cJSON_AddStringToObject(answer, "prevailing", nh_wind_name(deal.prevailing));
    cJSON *hands = cJSON_AddObjectToObject(answer, "hands");
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const char letter[2] = {nh_wind_letter(nh_seat_wind(seat)), '\0'};
        add_tiles(hands, letter, &deal.hand[seat]);
    }
    return true;
}
