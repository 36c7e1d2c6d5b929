/* Hand text: whatever is read is written, in letters and in tile characters, so
 * that it is read as the same again; whatever is not has a place in the text. */
#include "fuzz.h"
#include "nearhand.h"

#include <string.h>

static const char small_list[] =
    "{\"format\":1,\"title\":\"t\",\"hand\":5,\"tiles\":{\"flowers\":2,\"jokers\":3},"
    "\"patterns\":[{\"name\":\"a\",\"groups\":[{\"pung\":\"any\"},{\"pair\":\"any\"}]}]}";

static void writes_back(const nh_list *list, const nh_tiles *tiles, nh_style style) {
    char text[NH_TILES_TEXT_SIZE];
    nh_tiles again;
    size_t length = nh_tiles_format(tiles, style, text, sizeof text);
    MUST(length < sizeof text && strlen(text) == length);
    MUST(nh_tiles_parse(list, text, length, &again, NULL) == NH_OK);
    MUST(memcmp(&again, tiles, sizeof again) == 0);
    char *cut = malloc(length / 2 + 1);
    MUST(cut != NULL);
    MUST(nh_tiles_format(tiles, style, cut, length / 2 + 1) == length);
    MUST(memcmp(cut, text, length / 2) == 0 && cut[length / 2] == '\0');
    free(cut);
    MUST(nh_tiles_format(tiles, style, NULL, 0) == length);
}

static void error_has_a_place(const nh_error *error, size_t length) {
    MUST(error->status == NH_ERROR_TILES);
    MUST(error->column >= 1 && error->column <= length + 1);
    MUST(error->text[0] != '\0' && memchr(error->text, '\0', sizeof error->text) != NULL);
}

static void reads(const nh_list *list, const char *text, size_t length) {
    nh_tiles tiles, hand;
    nh_error error, hand_error;
    nh_status status = nh_tiles_parse(list, text, length, &tiles, &error);
    nh_status hand_status = nh_hand_parse(list, text, length, &hand, &hand_error);
    if (status != NH_OK)
        error_has_a_place(&error, length);
    if (hand_status != NH_OK)
        error_has_a_place(&hand_error, length);
    MUST(status == NH_OK || hand_status != NH_OK);
    if (status != NH_OK)
        return;
    int total = nh_tiles_total(&tiles);
    int most = list == NULL ? NH_TARGET_MAX : nh_list_hand_most(list);
    MUST((hand_status == NH_OK) == (total > 0 && total <= most));
    MUST(hand_status != NH_OK || memcmp(&hand, &tiles, sizeof hand) == 0);
    writes_back(list, &tiles, NH_STYLE_LETTERS);
    writes_back(list, &tiles, NH_STYLE_UNICODE);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static nh_list *list;
    if (list == NULL)
        MUST(nh_list_read(small_list, sizeof small_list - 1, NULL, &list, NULL) == NH_OK);
    reads(NULL, (const char *)data, size);
    reads(list, (const char *)data, size);
    return 0;
}
