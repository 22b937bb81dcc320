/* SPDX-License-Identifier: MIT
 * Quantities with units as people write them. */
#include <caneyear/base/unit.h>

#include <math.h>
#include <string.h>

#include <caneyear/base/number.h>

#include "unit_words.h"

static const struct {
    const char *word, *inside, *units[2]; /* by enum cy_system */
} quantities[] = {
#define QUANTITY(name, word, inside, us, metric) [CY_Q_##name] = {word, inside, {us, metric}},
    CY_QUANTITIES(QUANTITY)
#undef QUANTITY
};

/* A unit expression worked out: value in base units = (number - zero) * times / over. */
struct unit {
    struct cy_wide times, over;
    int exponents[DIMENSIONS];
    bool is_scale;
    double zero;
    int words;
};

/* What is left to read. */
struct reader {
    const char *at, *end;
};

/* A hostile unit must end somewhere; no unit of this trade needs more words. */
enum { MOST_WORDS = 8 };

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static char peek(const struct reader *in, size_t ahead)
{
    return ahead < (size_t)(in->end - in->at) ? in->at[ahead] : '\0';
}

static void skip_blanks(struct reader *in)
{
    while (peek(in, 0) == ' ' || peek(in, 0) == '\t')
        in->at++;
}

static bool take(struct reader *in, const char *what)
{
    size_t length = strlen(what);
    if ((size_t)(in->end - in->at) < length || memcmp(in->at, what, length) != 0)
        return false;
    in->at += length;
    return true;
}

/* The length of the unit word at the start: letters, or one of the signs % $ ' " and the degree
 * sign, which may have C or F behind it. */
static size_t word_length(const struct reader *in)
{
    size_t length = 0;
    if (peek(in, 0) == '\xC2' && peek(in, 1) == '\xB0')
        length = 2;
    else if (peek(in, 0) && strchr("%$'\"", peek(in, 0)))
        return 1;
    while (is_letter(peek(in, length)))
        length++;
    return length;
}

/* An exponent behind a word: "2", "^2", "-1", "^-1" or a raised 2 or 3; 1 if there is none.
 * Digits that go on as a number or a word belong to what comes next, as in 5ft6in. */
static int take_exponent(struct reader *in)
{
    if (take(in, "\xC2\xB2"))
        return 2;
    if (take(in, "\xC2\xB3"))
        return 3;
    size_t at = peek(in, 0) == '^';
    bool negative = peek(in, at) == '-';
    at += negative;
    char digit = peek(in, at), next = digit ? peek(in, at + 1) : '\0';
    if (digit < '1' || digit > '9' || is_digit(next) || is_letter(next) || next == '\'' ||
        next == '"' || (next == '.' && is_digit(peek(in, at + 2))))
        return 1;
    in->at += at + 1;
    return negative ? -(digit - '0') : digit - '0';
}

static void multiply(struct cy_wide *value, double factor)
{
    *value = cy_wide_times(*value, cy_wide_of(factor));
}

/* One word with its exponent, and for a divisor the count before it. */
static enum cy_unit_error take_word(struct unit *unit, struct reader *in, bool divides)
{
    if (divides && is_digit(peek(in, 0))) {
        struct cy_wide count;
        size_t used = cy_number_scan(&count, in->at, (size_t)(in->end - in->at));
        if (used == 0 || count.high == 0.0)
            return CY_UNIT_UNKNOWN;
        in->at += used;
        unit->over = cy_wide_times(unit->over, count);
        skip_blanks(in);
    }
    size_t length = word_length(in);
    const struct cy_unit_word *word = length ? cy_unit_word_find(in->at, length) : NULL;
    if (!word || unit->words == MOST_WORDS)
        return CY_UNIT_UNKNOWN;
    in->at += length;
    /* 5'6" has no exponent in it. */
    int exponent = word->word[0] == '\'' || word->word[0] == '"' ? 1 : take_exponent(in);
    /* Degrees on a scale are no difference: they cannot be a part of anything. */
    if (unit->is_scale || (word->is_scale && (unit->words > 0 || divides || exponent != 1)))
        return CY_UNIT_WRONG_KIND;
    unit->is_scale = word->is_scale;
    unit->zero = word->zero;
    unit->words++;
    if (divides)
        exponent = -exponent;
    for (int i = 0; i < DIMENSIONS; i++)
        unit->exponents[i] += exponent * word->exponents[i];
    for (int i = exponent; i != 0; i += exponent < 0 ? 1 : -1) {
        multiply(&unit->times, exponent > 0 ? word->times : word->over);
        multiply(&unit->over, exponent > 0 ? word->over : word->times);
    }
    return CY_UNIT_OK;
}

/* The joint between two words: true if a further word is due. "5 ft 6 in" ends before the 6. */
static bool take_joint(struct reader *in, bool *divides)
{
    struct reader ahead = *in;
    skip_blanks(&ahead);
    *divides = take(&ahead, "/");
    bool joined = *divides || take(&ahead, ".") || take(&ahead, "*") || take(&ahead, "\xC2\xB7");
    bool blank = ahead.at > in->at;
    skip_blanks(&ahead);
    if (!joined && (!blank || ahead.at == ahead.end || word_length(&ahead) == 0))
        return false;
    *in = ahead;
    return true;
}

static struct unit no_unit(void)
{
    return (struct unit){.times = {1.0, 0.0}, .over = {1.0, 0.0}};
}

/* Reads the unit expression at the start of `in` on top of what `unit` holds already. */
static enum cy_unit_error take_unit(struct unit *unit, struct reader *in)
{
    bool divides = false;
    if (unit->words > 0 && !take_joint(in, &divides))
        return CY_UNIT_OK; /* "$2.50": the sign before the number was all */
    do {
        enum cy_unit_error error = take_word(unit, in, divides);
        if (error != CY_UNIT_OK)
            return error;
    } while (take_joint(in, &divides));
    return CY_UNIT_OK;
}

static enum cy_unit_error unit_of(struct unit *out, const char *text)
{
    struct reader in = {text, text + strlen(text)};
    *out = no_unit();
    if (strcmp(text, "1") == 0)
        return CY_UNIT_OK;
    enum cy_unit_error error = take_unit(out, &in);
    return error == CY_UNIT_OK && in.at != in.end ? CY_UNIT_UNKNOWN : error;
}

/* How a number in one unit becomes a number in the inside unit, and back. */
struct conversion {
    struct cy_wide times, over;
    double zero;
};

static enum cy_unit_error conversion_of(struct conversion *out, const struct unit *unit,
                                        enum cy_quantity quantity)
{
    struct unit inside;
    unit_of(&inside, quantities[quantity].inside);
    if (memcmp(unit->exponents, inside.exponents, sizeof inside.exponents) != 0 ||
        unit->is_scale != inside.is_scale)
        return CY_UNIT_WRONG_KIND;
    out->times = cy_wide_times(unit->times, inside.over);
    out->over = cy_wide_times(unit->over, inside.times);
    out->zero = unit->zero;
    return CY_UNIT_OK;
}

static struct cy_wide to_inside(struct cy_wide number, const struct conversion *by)
{
    number = cy_wide_plus(number, cy_wide_of(-by->zero));
    return cy_wide_over(cy_wide_times(number, by->times), by->over);
}

static struct cy_wide from_inside(double value, const struct conversion *by)
{
    struct cy_wide number = cy_wide_over(cy_wide_times(cy_wide_of(value), by->over), by->times);
    return cy_wide_plus(number, cy_wide_of(by->zero));
}

/* ---- reading ------------------------------------------------------------------------------- */

/* The sign and the "$" before the number, if there are. */
static void take_front(struct reader *in, bool *negative, bool *dollars)
{
    struct reader ahead = *in;
    *dollars = false;
    bool minus = take(&ahead, "-");
    if (take(&ahead, "$")) {
        skip_blanks(&ahead);
        *dollars = true;
        if (!minus)
            minus = take(&ahead, "-");
        *in = ahead;
        *negative = minus;
    } else {
        *negative = peek(in, 0) == '-';
        in->at += *negative;
    }
}

/* One "number unit", scaled to the inside unit. */
static enum cy_unit_error take_term(struct cy_wide *out, bool *is_scale, struct reader *in,
                                    bool negative, bool dollars, enum cy_quantity quantity,
                                    const char *bare)
{
    struct cy_wide number;
    size_t used = 0;
    if (is_digit(peek(in, 0)) || peek(in, 0) == '.' || peek(in, 0) == '+')
        used = cy_number_scan(&number, in->at, (size_t)(in->end - in->at));
    if (used == 0)
        return CY_UNIT_NO_NUMBER;
    in->at += used;
    skip_blanks(in);
    struct unit unit = no_unit();
    enum cy_unit_error error = CY_UNIT_OK;
    if (dollars)
        unit_of(&unit, "$");
    if (in->at < in->end)
        error = take_unit(&unit, in);
    else if (!dollars && bare)
        error = unit_of(&unit, bare);
    else if (!dollars && quantity != CY_Q_NUMBER && quantity != CY_Q_SHARE)
        error = CY_UNIT_MISSING;
    struct conversion by;
    if (error == CY_UNIT_OK)
        error = conversion_of(&by, &unit, quantity);
    if (error != CY_UNIT_OK)
        return error;
    if (negative)
        number = (struct cy_wide){-number.high, -number.low};
    *is_scale = unit.is_scale;
    *out = to_inside(number, &by);
    return CY_UNIT_OK;
}

enum cy_unit_error cy_quantity_parse(double *out, const char *text, size_t length,
                                     enum cy_quantity quantity, const char *bare)
{
    struct reader in = {text, text + length};
    bool negative, dollars, is_scale;
    skip_blanks(&in);
    while (in.end > in.at && (in.end[-1] == ' ' || in.end[-1] == '\t'))
        in.end--;
    take_front(&in, &negative, &dollars);
    struct cy_wide sum;
    enum cy_unit_error error = take_term(&sum, &is_scale, &in, negative, dollars, quantity, bare);
    /* "5 ft 6 in": each further number must bring its unit. */
    for (skip_blanks(&in); error == CY_UNIT_OK && in.at < in.end; skip_blanks(&in)) {
        struct cy_wide more;
        if (!is_digit(peek(&in, 0)))
            return CY_UNIT_UNKNOWN;
        if (is_scale || dollars)
            return CY_UNIT_WRONG_KIND;
        error = take_term(&more, &is_scale, &in, negative, false, quantity, NULL);
        if (error == CY_UNIT_OK)
            sum = cy_wide_plus(sum, more);
    }
    if (error != CY_UNIT_OK)
        return error;
    double value = cy_wide_round(sum);
    if (!isfinite(value))
        return CY_UNIT_NO_NUMBER;
    *out = value + 0.0; /* -0 becomes 0 */
    return CY_UNIT_OK;
}

/* ---- printing ------------------------------------------------------------------------------ */

/* The conversion for `unit`, or for the inside unit where `unit` is not one of the quantity's;
 * returns the unit in force. */
static const char *conversion_or_inside(struct conversion *out, enum cy_quantity quantity,
                                        const char *unit)
{
    struct unit found;
    if (unit_of(&found, unit) == CY_UNIT_OK && conversion_of(out, &found, quantity) == CY_UNIT_OK)
        return unit;
    unit = quantities[quantity].inside;
    unit_of(&found, unit);
    conversion_of(out, &found, quantity);
    return unit;
}

static void add_unit(struct cy_text *text, const char *unit)
{
    if (strcmp(unit, "1") == 0)
        return;
    cy_text_add_char(text, ' ');
    cy_text_add(text, unit);
}

struct check {
    struct conversion by;
    double value;
};

static bool reads_back(const char *text, size_t length, void *payload)
{
    const struct check *check = payload;
    struct cy_wide number;
    return cy_number_scan(&number, text, length) == length &&
           cy_wide_round(to_inside(number, &check->by)) == check->value;
}

void cy_quantity_print(struct cy_text *text, double value, enum cy_quantity quantity,
                       const char *unit, enum cy_system system)
{
    if (!isfinite(value)) {
        cy_text_add_number(text, value);
        return;
    }
    char out[CY_NUMBER_TEXT];
    struct check check = {.value = value};
    unit =
        conversion_or_inside(&check.by, quantity, unit ? unit : quantities[quantity].units[system]);
    size_t length = cy_number_print(out, from_inside(value, &check.by), reads_back, &check);
    if (!reads_back(out, length, &check)) {
        /* A temperature next to the scale's zero, such as 1e-30 C in F: no digits will do. */
        unit = conversion_or_inside(&check.by, quantity, quantities[quantity].inside);
        length = cy_number_print(out, cy_wide_of(value), reads_back, &check);
    }
    cy_text_add_n(text, out, length);
    add_unit(text, unit);
}

void cy_quantity_show(struct cy_text *text, double value, enum cy_quantity quantity,
                      const char *unit, enum cy_system system, int decimals)
{
    struct conversion by;
    unit = conversion_or_inside(&by, quantity, unit ? unit : quantities[quantity].units[system]);
    cy_text_add_fixed(text, isfinite(value) ? cy_wide_round(from_inside(value, &by)) : value,
                      decimals);
    if (isfinite(value))
        add_unit(text, unit);
}

/* Decimals by which a number has so many digits in all. */
static int decimals_of(double value, int digits)
{
    int decimals = digits - 1;
    for (double size = fabs(value); size >= 10 && decimals > 0; size /= 10)
        decimals--;
    for (double size = fabs(value); size > 0 && size < 1 && decimals < 9; size *= 10)
        decimals++;
    return decimals;
}

void cy_quantity_show_digits(struct cy_text *text, double value, enum cy_quantity quantity,
                             enum cy_system system, int digits)
{
    struct conversion by;
    const char *unit = conversion_or_inside(&by, quantity, quantities[quantity].units[system]);
    struct cy_text number = {0};
    double shown = isfinite(value) ? cy_wide_round(from_inside(value, &by)) : value;
    cy_text_add_fixed(&number, shown, decimals_of(shown, digits));
    const char *all = cy_text_get(&number);
    size_t length = number.length;
    if (strchr(all, '.')) {
        while (all[length - 1] == '0')
            length--;
        length -= all[length - 1] == '.';
    }
    cy_text_add_n(text, all, length);
    if (isfinite(value))
        add_unit(text, unit);
    text->failed = text->failed || number.failed;
    cy_text_dispose(&number);
}

double cy_quantity_in(double value, enum cy_quantity quantity, const char *unit)
{
    struct conversion by;
    conversion_or_inside(&by, quantity, unit);
    return isfinite(value) ? cy_wide_round(from_inside(value, &by)) : value;
}

const char *cy_quantity_unit(enum cy_quantity quantity, enum cy_system system)
{
    return quantities[quantity].units[system];
}

const char *cy_quantity_inside(enum cy_quantity quantity)
{
    return quantities[quantity].inside;
}

const char *cy_quantity_word(enum cy_quantity quantity)
{
    return quantities[quantity].word;
}
