/* What the plain reference compares with (CMakeLists.txt): libFuzzer looks into every call of
 * the C library's. */
#include <stddef.h>

int memcmp(const void *left, const void *right, size_t size) {
    const unsigned char *a = left;
    const unsigned char *b = right;
    for (size_t i = 0; i < size; i++)
        if (a[i] != b[i])
            return a[i] < b[i] ? -1 : 1;
    return 0;
}

int strcmp(const char *left, const char *right) {
    size_t at = 0;
    while (left[at] != '\0' && left[at] == right[at])
        at++;
    return (left[at] > right[at]) - (left[at] < right[at]);
}
