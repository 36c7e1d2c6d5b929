/*
 * nearhand, chapter 1: versions, errors, exact numbers, memory, cancelling.
 */
#ifndef NEARHAND_BASE_H
#define NEARHAND_BASE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Marks what the library exports. A program that links the shared library on
 * Windows defines NH_SHARED_LIBRARY. */
#if defined(_WIN32) && defined(NH_SHARED_LIBRARY)
#if defined(NH_BUILDING_LIBRARY)
#define NH_API __declspec(dllexport)
#else
#define NH_API __declspec(dllimport)
#endif
#elif defined(NH_BUILDING_LIBRARY) && defined(__GNUC__)
#define NH_API __attribute__((visibility("default")))
#else
#define NH_API
#endif

#define NH_VERSION_MAJOR 0
#define NH_VERSION_MINOR 2
#define NH_VERSION_PATCH 0
#define NH_VERSION "0.2.0"

/* One number that grows with every version, to be compared by the preprocessor:
 * 0.2.0 is 2000, 1.0.0 is 1000000. */
#define NH_VERSION_NUMBER (NH_VERSION_MAJOR * 1000000 + NH_VERSION_MINOR * 1000 + NH_VERSION_PATCH)

/* The version of the library that is linked, which may be newer than the header:
 * "major.minor.patch" (static), and a number as NH_VERSION_NUMBER is. */
NH_API const char *nh_version(void);
NH_API int nh_version_number(void);

/* ------------------------------------------------------------ errors --- */

typedef enum nh_status {
    NH_OK = 0,
    NH_ERROR_MEMORY,   /* an allocation failed */
    NH_ERROR_ARGUMENT, /* an argument is out of its range */
    NH_ERROR_TILES,    /* tile text cannot be read, or the set has fewer tiles */
    NH_ERROR_LIST,     /* a list has mistakes: see nh_mistakes_at */
    NH_ERROR_FILE,     /* a file cannot be opened or read */
    NH_ERROR_LIMIT,    /* the question takes too much work */
    NH_ERROR_CANCELLED /* nh_cancel_now was called */
} nh_status;

/* One short English phrase for a status; static, never NULL. */
NH_API const char *nh_status_text(nh_status status);

#define NH_ERROR_TEXT_SIZE 256

/* What went wrong, for the player. `text` is one sentence in UTF-8 without a
 * full stop, and names the value that is wrong. `column` is the place in the
 * text that was read, counted in characters from 1, or 0 where no place can be
 * shown. Its contents mean nothing after a call that returned NH_OK. Complete:
 * it will not grow. */
typedef struct nh_error {
    nh_status status;
    uint32_t column;
    char text[NH_ERROR_TEXT_SIZE];
} nh_error;

/* -------------------------------------------------------------- text --- */

/* Reads the first character of `length` bytes of UTF-8 text into `*character`
 * and returns the bytes that it takes, 1 to 4. Returns 0, and leaves
 * `*character` as it is, where there are no bytes or where they are not UTF-8
 * (RFC 3629). Allocates nothing. */
NH_API size_t nh_utf8_next(const char *text, size_t length, uint32_t *character);

/* ----------------------------------------------------------- numbers --- */

/* A natural number below 2^192, least significant limb first: wide enough for
 * every count of ways and of draws over a set of at most 160 tiles. Complete: it
 * will not grow. */
typedef struct nh_natural {
    uint64_t limb[3];
} nh_natural;

#define NH_NATURAL_TEXT_SIZE 64

/* The decimal digits of a number. Like snprintf: returns the length of the whole
 * text and writes at most `size` bytes of it, the last of them zero; `buffer` may
 * be NULL when `size` is 0. NH_NATURAL_TEXT_SIZE bytes always suffice. */
NH_API size_t nh_natural_format(const nh_natural *number, char *buffer, size_t size);

/* The nearest double, and the quotient of two numbers as a double (0 when the
 * divisor is 0); relative error at most 2^-51. */
NH_API double nh_natural_double(const nh_natural *number);
NH_API double nh_natural_ratio(const nh_natural *dividend, const nh_natural *divisor);

/* -1, 0 or 1 as a is less than, equal to or greater than b. */
NH_API int nh_natural_compare(const nh_natural *a, const nh_natural *b);

/* ------------------------------------------------------------ memory --- */

/* Where a list or a workspace takes its memory from. `resize` acts like
 * realloc: a NULL pointer asks for a new block. Both receive `context`. The
 * JSON text itself is parsed by cJSON with that library's own allocator.
 * Complete: it will not grow. */
typedef struct nh_allocator {
    void *(*resize)(void *context, void *pointer, size_t size);
    void (*release)(void *context, void *pointer);
    void *context;
} nh_allocator;

/* --------------------------------------------------------- cancelling --- */

/* A switch that stops long work. Give it to the questions that it may stop, and
 * call nh_cancel_now from any thread, or from a signal handler: the calls that
 * are working then return NH_ERROR_CANCELLED within a few milliseconds, and so do
 * those that begin later, until nh_cancel_clear. One switch may serve any number
 * of calls at once. */
typedef struct nh_cancel nh_cancel;

/* `allocator` may be NULL for the C library's. Returns NH_OK or NH_ERROR_MEMORY;
 * nh_cancel_free frees what was made, once no call uses it any more. */
NH_API nh_status nh_cancel_new(const nh_allocator *allocator, nh_cancel **cancel);
NH_API void nh_cancel_free(nh_cancel *cancel); /* NULL is ignored */

/* Both are thread-safe and safe in signal handlers. */
NH_API void nh_cancel_now(nh_cancel *cancel);
NH_API void nh_cancel_clear(nh_cancel *cancel);

#ifdef __cplusplus
}
#endif

#endif /* NEARHAND_BASE_H */
