/* The public header alone, first in a file: it needs no other, and reads as C17
 * and as C++17 alike. */
#include "nearhand.h"

nh_situation usual_situation(void);
int first_bam(const char *text, size_t length);

nh_situation usual_situation(void) {
    nh_situation situation = NH_SITUATION;
    return situation;
}

int first_bam(const char *text, size_t length) {
    nh_tiles tiles;
    return nh_tiles_parse(NULL, text, length, &tiles, NULL) == NH_OK ? tiles.count[NH_BAM_1] : -1;
}
