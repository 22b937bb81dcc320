/* SPDX-License-Identifier: MIT
 * Text: a growable buffer that is always terminated. */
#include <caneyear/base/text.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/number.h>

static const char replacement[] = "\xEF\xBF\xBD"; /* U+FFFD */

void cy_text_dispose(struct cy_text *text)
{
    free(text->data);
    *text = (struct cy_text){0};
}

void cy_text_clear(struct cy_text *text)
{
    text->length = 0;
    text->failed = false;
    if (text->data)
        text->data[0] = '\0';
}

const char *cy_text_get(const struct cy_text *text)
{
    return text->data ? text->data : "";
}

static bool reserve(struct cy_text *text, size_t more)
{
    if (text->failed)
        return false;
    if (text->data && more < text->capacity - text->length)
        return true;
    if (more > SIZE_MAX / 2 - 64 - text->length) {
        text->failed = true;
        return false;
    }
    size_t wanted = text->length + more + 1;
    size_t capacity = text->capacity < 64 ? 64 : text->capacity + text->capacity / 2;
    if (capacity < wanted)
        capacity = wanted;
    char *data = realloc(text->data, capacity);
    if (!data) {
        text->failed = true;
        return false;
    }
    text->data = data;
    text->capacity = capacity;
    return true;
}

void cy_text_add_n(struct cy_text *text, const char *bytes, size_t length)
{
    if (!reserve(text, length))
        return;
    if (length)
        memcpy(text->data + text->length, bytes, length);
    text->length += length;
    text->data[text->length] = '\0';
}

void cy_text_add(struct cy_text *text, const char *string)
{
    cy_text_add_n(text, string, strlen(string));
}

void cy_text_add_char(struct cy_text *text, char c)
{
    cy_text_add_n(text, &c, 1);
}

static void add_repeated(struct cy_text *text, char c, long count)
{
    for (long i = 0; i < count; i++)
        cy_text_add_char(text, c);
}

void cy_text_add_int(struct cy_text *text, long long value)
{
    char digits[24];
    size_t at = sizeof digits;
    unsigned long long left = value < 0 ? 0 - (unsigned long long)value : (unsigned long long)value;
    do {
        digits[--at] = (char)('0' + left % 10);
        left /= 10;
    } while (left);
    if (value < 0)
        digits[--at] = '-';
    cy_text_add_n(text, digits + at, sizeof digits - at);
}

static bool reads_back(const char *text, size_t length, void *payload)
{
    double found;
    return cy_number_parse(&found, text, length) && found == *(const double *)payload;
}

static bool add_not_finite(struct cy_text *text, double value)
{
    if (isfinite(value))
        return false;
    cy_text_add(text, isnan(value) ? "nan" : value < 0 ? "-inf" : "inf");
    return true;
}

void cy_text_add_number(struct cy_text *text, double value)
{
    char out[CY_NUMBER_TEXT];
    if (!add_not_finite(text, value))
        cy_text_add_n(text, out, cy_number_print(out, cy_wide_of(value), reads_back, &value));
}

/* Rounds the digits 0.d1d2d3... * 10^point to `keep` digits, halves up; returns how many are
 * left, which may be one more than kept: then *point moved too. */
static int round_digits(char *digits, int count, int keep, int *point)
{
    if (keep >= count)
        return count;
    bool up = keep >= 0 && digits[keep] >= '5';
    int left = keep > 0 ? keep : 0;
    if (!up)
        return left;
    for (int i = left - 1; i >= 0; i--) {
        if (digits[i] != '9') {
            digits[i]++;
            return left;
        }
        digits[i] = '0';
    }
    memmove(digits + 1, digits, (size_t)left);
    digits[0] = '1';
    ++*point;
    return left + 1;
}

/* Splits printed text such as "-12.5e3" into digits and the place of the point before which
 * they count as an integer; returns the number of digits, without leading zeros. */
static int split_digits(char *digits, int *point, const char *text, size_t length)
{
    int count = 0, exponent = 0;
    bool after_point = false;
    *point = 0;
    for (size_t i = 0; i < length; i++) {
        if (text[i] == 'e') {
            bool negative = text[++i] == '-';
            for (i += negative; i < length; i++)
                exponent = exponent * 10 + (text[i] - '0');
            *point += negative ? -exponent : exponent;
        } else if (text[i] == '.') {
            after_point = true;
        } else if (text[i] != '-') {
            *point += after_point ? (count || text[i] != '0' ? 0 : -1) : (count || text[i] != '0');
            if (count || text[i] != '0')
                digits[count++] = text[i];
        }
    }
    return count;
}

void cy_text_add_fixed(struct cy_text *text, double value, int decimals)
{
    if (add_not_finite(text, value))
        return;
    /* Rounds the shortest decimal, which is what people see elsewhere: 1.005 becomes 1.01. */
    char printed[CY_NUMBER_TEXT], digits[CY_NUMBER_TEXT];
    size_t length = cy_number_print(printed, cy_wide_of(value), reads_back, &value);
    int point, count = split_digits(digits, &point, printed, length);
    count = round_digits(digits, count, point + decimals, &point);
    if (value < 0 && count > 0)
        cy_text_add_char(text, '-');
    if (count == 0)
        point = 0;
    int whole = point < 0 ? 0 : point < count ? point : count;
    if (point <= 0)
        cy_text_add_char(text, '0');
    cy_text_add_n(text, digits, (size_t)whole);
    add_repeated(text, '0', point - whole);
    if (decimals <= 0)
        return;
    cy_text_add_char(text, '.');
    int zeros = point < 0 ? (-point < decimals ? -point : decimals) : 0;
    add_repeated(text, '0', zeros);
    cy_text_add_n(text, digits + whole, (size_t)(count - whole));
    add_repeated(text, '0', decimals - zeros - (count - whole));
}

void cy_text_add_day(struct cy_text *text, cy_day day)
{
    char out[CY_DAY_TEXT];
    cy_text_add(text, cy_day_print(out, day));
}

void cy_text_pad(struct cy_text *text, size_t start, int columns)
{
    if (start > text->length)
        return;
    add_repeated(text, ' ', columns - cy_utf8_columns(cy_text_get(text) + start));
}

void cy_text_add_clean(struct cy_text *text, const char *bytes, size_t length, bool ascii)
{
    size_t used;
    for (size_t i = 0; i < length; i += used) {
        int32_t c = cy_utf8_next(bytes + i, length - i, &used);
        if (cy_utf8_is_control(c) || (ascii && c > 126))
            cy_text_add(text, ascii ? "?" : replacement);
        else
            cy_text_add_n(text, bytes + i, used);
    }
}

int cy_text_add_fit(struct cy_text *text, const char *string, int columns, const char *mark)
{
    if (columns <= 0)
        return 0;
    int whole = cy_utf8_columns(string);
    int room = whole <= columns ? whole : columns - 1;
    int filled = 0;
    size_t length = strlen(string), used;
    for (size_t i = 0; i < length; i += used) {
        int32_t c = cy_utf8_next(string + i, length - i, &used);
        int width = cy_utf8_width(c);
        if (filled + width > room)
            break;
        filled += width;
        if (c < 0)
            cy_text_add(text, replacement);
        else
            cy_text_add_n(text, string + i, used);
    }
    if (whole <= columns)
        return filled;
    cy_text_add(text, mark);
    return filled + 1;
}

bool cy_streq(const char *a, const char *b)
{
    return strcmp(a, b) == 0;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool cy_word_is(const char *text, size_t length, const char *word)
{
    for (size_t i = 0; i < length; i++) {
        if (!word[i] || lower(text[i]) != lower(word[i]))
            return false;
    }
    return word[length] == '\0';
}

bool cy_copy(char *out, size_t size, const char *string)
{
    return cy_copy_n(out, size, string, strlen(string));
}

bool cy_copy_n(char *out, size_t size, const char *bytes, size_t length)
{
    if (size == 0)
        return false;
    size_t kept = length;
    if (length >= size) {
        kept = size - 1;
        /* Back to the start of the character that the cut went through. */
        size_t start = kept;
        while (start > 0 && kept - start < 3 && ((unsigned char)bytes[start] & 0xC0) == 0x80)
            start--;
        if (((unsigned char)bytes[start] & 0xC0) == 0xC0)
            kept = start;
    }
    if (kept)
        memcpy(out, bytes, kept);
    out[kept] = '\0';
    return kept == length;
}

int cy_edit_distance(const char *a, const char *b, int limit)
{
    enum { LONGEST = 64 };
    size_t a_length = strlen(a), b_length = strlen(b);
    if (a_length >= LONGEST || b_length >= LONGEST)
        return cy_streq(a, b) ? 0 : limit;
    int row[LONGEST]; /* the distances from a's beginning so far to each beginning of b */
    for (size_t j = 0; j <= b_length; j++)
        row[j] = (int)j;
    for (size_t i = 1; i <= a_length; i++) {
        int diagonal = row[0];
        row[0] = (int)i;
        for (size_t j = 1; j <= b_length; j++) {
            int best = diagonal + (a[i - 1] != b[j - 1]);
            if (row[j] + 1 < best)
                best = row[j] + 1;
            if (row[j - 1] + 1 < best)
                best = row[j - 1] + 1;
            diagonal = row[j];
            row[j] = best;
        }
    }
    return row[b_length] < limit ? row[b_length] : limit;
}
