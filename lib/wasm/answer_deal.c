/* The question "deal": four hands that a seed deals again. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

/* A number of up to 64 bits, as its digits: more than a number of JavaScript holds. */
static bool read_deal_number(struct asked *asked, const char *key, uint64_t otherwise,
                             uint64_t *number) {
    const char *text;
    *number = otherwise;
    if (!asked_text(asked, key, &text))
        return false;
    if (*text != '\0')
        *number = 0;
    for (; *text != '\0'; text++) {
        unsigned digit = (unsigned)(*text - '0');
        if (digit > 9 || *number > (UINT64_MAX - digit) / 10)
            return asked_refuse(
                asked, "%s is the digits of a whole number, 0 to 18446744073709551615", key);
        *number = *number * 10 + digit;
    }
    return true;
}

bool answer_deal(struct asked *asked, struct answer *answer) {
    uint64_t seed, number;
    nh_deal deal;
    if (!asked_read(asked, false) || !read_deal_number(asked, "seed", 1, &seed) ||
        !read_deal_number(asked, "deal", 1, &number))
        return false;
    if (nh_deal_table(asked->desk->list, seed, number, &deal) != NH_OK)
        return asked_refuse(asked, "the set has too few tiles for four hands");
    add_text(answer, "list", nh_list_title(asked->desk->list));
    add_digits(answer, "seed", seed);
    add_digits(answer, "deal", number);
    open_array(answer, "dice");
    for (int i = 0; i < 2; i++)
        add_whole(answer, NULL, deal.dice[i]);
    close_array(answer);
    add_text(answer, "prevailing", nh_wind_name(deal.prevailing));
    open_object(answer, "hands");
    for (int seat = 0; seat < NH_SEATS; seat++) {
        const char letter[2] = {nh_wind_letter(nh_seat_wind(seat)), '\0'};
        add_tiles(answer, letter, &deal.hand[seat]);
    }
    close_object(answer);
    return true;
}
