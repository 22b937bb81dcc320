/* SPDX-License-Identifier: MIT
 * Text: a growable buffer that is always terminated, and UTF-8 that is never trusted. */
#ifndef CANEYEAR_BASE_TEXT_H
#define CANEYEAR_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <caneyear/base/day.h>

/* Zero-initialise it; dispose of its insides with cy_text_dispose. Running out of memory sets
 * `failed` and leaves what was there: one check at the end covers a whole chain of additions. */
struct cy_text {
    char *data;
    size_t length, capacity;
    bool failed;
};

void cy_text_dispose(struct cy_text *text);
void cy_text_clear(struct cy_text *text);
/* The characters so far, terminated; "" while empty. Borrowed until the next change. */
const char *cy_text_get(const struct cy_text *text);

void cy_text_add(struct cy_text *text, const char *string);
void cy_text_add_n(struct cy_text *text, const char *bytes, size_t length);
void cy_text_add_char(struct cy_text *text, char c);
void cy_text_add_int(struct cy_text *text, long long value);
/* With exactly `decimals` digits after the point, 0 to 9; halves of the shortest decimal go away
 * from zero (1.005 gives 1.01), and what rounds to zero has no sign. */
void cy_text_add_fixed(struct cy_text *text, double value, int decimals);
/* The fewest digits that read back to the same double (-0 prints as 0); "nan", "inf", "-inf" for
 * the others. */
void cy_text_add_number(struct cy_text *text, double value);
void cy_text_add_day(struct cy_text *text, cy_day day);
/* Pads with spaces until `columns` terminal columns stand after `start`, an earlier length. */
void cy_text_pad(struct cy_text *text, size_t start, int columns);

/* Adds text that came from outside: control characters (C0, DEL, C1), line and paragraph
 * separators, text-direction controls and broken UTF-8 each become U+FFFD (or "?" if ascii);
 * with ascii every other character above 126 becomes "?" too. */
void cy_text_add_clean(struct cy_text *text, const char *bytes, size_t length, bool ascii);

/* Adds at most `columns` terminal columns of trusted text; what does not fit is cut at a whole
 * character and its last column is `mark` (one column wide). Returns the columns used. */
int cy_text_add_fit(struct cy_text *text, const char *string, int columns, const char *mark);

/* One character of UTF-8 from bytes[0..length): its code point, and its size in *used. A broken
 * sequence gives -1 with *used 1; length 0 gives -1 with *used 0. */
int32_t cy_utf8_next(const char *bytes, size_t length, size_t *used);
bool cy_utf8_valid(const char *bytes, size_t length);
/* True of a character that must not reach a terminal (see cy_text_add_clean), and of a broken
 * one (-1). */
bool cy_utf8_is_control(int32_t code_point);
/* True if the text holds such a character. */
bool cy_utf8_has_control(const char *bytes, size_t length);
/* Terminal columns: 0 combining, 2 wide, 1 the rest (ambiguous width is 1). */
int cy_utf8_width(int32_t code_point);
int cy_utf8_columns(const char *string);

bool cy_streq(const char *a, const char *b);
/* True if text[0..length) is `word`, letter case ignored in ASCII. */
bool cy_word_is(const char *text, size_t length, const char *word);
/* Copies into a fixed buffer, always terminated; false if it was cut. */
bool cy_copy(char *out, size_t size, const char *string);
bool cy_copy_n(char *out, size_t size, const char *bytes, size_t length);
/* How many single-letter changes turn a into b, or `limit` if it is as many or more (for "did
 * you mean"). */
int cy_edit_distance(const char *a, const char *b, int limit);

#endif
