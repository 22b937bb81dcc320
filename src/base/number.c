/* SPDX-License-Identifier: MIT
 * Numbers to and from text without a locale, in double-double arithmetic (T. J. Dekker, A
 * floating-point technique for extending the available precision, Numerische Mathematik 18,
 * 1971; D. E. Knuth's two-sum, The Art of Computer Programming 2, 4.2.2). */
#include <caneyear/base/number.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Powers of ten up to this one are exact doubles. */
enum { EXACT_TENS = 22 };

static const double tens[EXACT_TENS + 1] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                            1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                            1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

static struct cy_wide two_sum(double a, double b)
{
    double sum = a + b;
    double part = sum - a;
    return (struct cy_wide){sum, (a - (sum - part)) + (b - part)};
}

/* The same where |a| >= |b|. */
static struct cy_wide normal(double a, double b)
{
    double sum = a + b;
    return (struct cy_wide){sum, b - (sum - a)};
}

struct cy_wide cy_wide_of(double value)
{
    return (struct cy_wide){value, 0.0};
}

struct cy_wide cy_wide_times(struct cy_wide a, struct cy_wide b)
{
    double product = a.high * b.high;
    double error = fma(a.high, b.high, -product);
    return normal(product, error + (a.high * b.low + a.low * b.high));
}

struct cy_wide cy_wide_plus(struct cy_wide a, struct cy_wide b)
{
    struct cy_wide high = two_sum(a.high, b.high);
    struct cy_wide low = two_sum(a.low, b.low);
    high = normal(high.high, high.low + low.high);
    return normal(high.high, high.low + low.low);
}

/* a - b * factor */
static struct cy_wide less(struct cy_wide a, struct cy_wide b, double factor)
{
    struct cy_wide product = cy_wide_times(b, cy_wide_of(factor));
    return cy_wide_plus(a, (struct cy_wide){-product.high, -product.low});
}

struct cy_wide cy_wide_over(struct cy_wide a, struct cy_wide b)
{
    double first = a.high / b.high;
    struct cy_wide rest = less(a, b, first);
    double second = rest.high / b.high;
    rest = less(rest, b, second);
    struct cy_wide quotient = normal(first, second);
    return cy_wide_plus(quotient, cy_wide_of(rest.high / b.high));
}

double cy_wide_round(struct cy_wide value)
{
    return value.high + value.low;
}

/* value * 10^exponent */
static struct cy_wide scale(struct cy_wide value, int exponent)
{
    while (exponent != 0) {
        int left = exponent < 0 ? -exponent : exponent;
        int step = left < EXACT_TENS ? left : EXACT_TENS;
        struct cy_wide power = cy_wide_of(tens[step]);
        value = exponent < 0 ? cy_wide_over(value, power) : cy_wide_times(value, power);
        exponent += exponent < 0 ? step : -step;
    }
    return value;
}

/* The same where the result, near 10^magnitude, or a step on the way may come near the ends of
 * the doubles' range: scaled in the middle of it, moved last. The value is not negative. */
static struct cy_wide scale_far(struct cy_wide value, int exponent, int magnitude)
{
    if (magnitude > -260 && magnitude < 290)
        return scale(value, exponent);
    const double away = magnitude < 0 ? 0x1p400 : 0x1p-400, back = 1.0 / away;
    value = scale((struct cy_wide){value.high * away, value.low * away}, exponent);
    if (magnitude > 0)
        return (struct cy_wide){value.high * back, value.low * back};
    /* The low half has no room down there, so one rounding must do. What ends below the smallest
     * normal double is rounded to a multiple of the smallest of all: the last bit of this sum. */
    const double ruler = 0x1p-622; /* DBL_MIN, 2^400 times */
    if (value.high < ruler)
        value.high = cy_wide_plus(cy_wide_of(ruler), value).high - ruler;
    return cy_wide_of(value.high * back);
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Reads "e-12" at text[at]; returns where it ends, `at` itself if there is none. */
static size_t scan_exponent(int *out, const char *text, size_t length, size_t at)
{
    size_t i = at;
    *out = 0;
    if (i >= length || (text[i] != 'e' && text[i] != 'E'))
        return at;
    i++;
    bool negative = i < length && text[i] == '-';
    if (i < length && (text[i] == '-' || text[i] == '+'))
        i++;
    if (i >= length || !is_digit(text[i]))
        return at;
    for (; i < length && is_digit(text[i]); i++) {
        if (*out < 100000)
            *out = *out * 10 + (text[i] - '0');
    }
    if (negative)
        *out = -*out;
    return i;
}

/* Digits are gathered exactly: 18 fit one integer, 30 fit the wide mantissa; those after only
 * move the point. */
struct mantissa {
    uint64_t parts[2];
    int counts[2]; /* of digits in each part */
    int64_t exponent;
    bool any;
};

static void take_digit(struct mantissa *mantissa, char c, bool after_point)
{
    mantissa->any = true;
    int part = mantissa->counts[0] < 18 ? 0 : 1;
    if (part == 1 && mantissa->counts[1] >= 12) {
        mantissa->exponent += !after_point;
        return;
    }
    mantissa->exponent -= after_point;
    mantissa->parts[part] = mantissa->parts[part] * 10 + (uint64_t)(c - '0');
    if (mantissa->parts[0]) /* leading zeros do not count */
        mantissa->counts[part]++;
}

static struct cy_wide wide_of_integer(uint64_t value)
{
    return normal((double)(value & ~UINT64_C(0xFFFFFFFF)), (double)(value & 0xFFFFFFFF));
}

static struct cy_wide mantissa_value(const struct mantissa *mantissa)
{
    struct cy_wide value = wide_of_integer(mantissa->parts[0]);
    if (mantissa->counts[1] == 0)
        return value;
    value = cy_wide_times(value, cy_wide_of(tens[mantissa->counts[1]]));
    return cy_wide_plus(value, wide_of_integer(mantissa->parts[1]));
}

size_t cy_number_scan(struct cy_wide *out, const char *text, size_t length)
{
    size_t i = 0;
    bool negative = length > 0 && text[0] == '-';
    if (length > 0 && (text[0] == '-' || text[0] == '+'))
        i++;
    struct mantissa mantissa = {{0, 0}, {0, 0}, 0, false};
    bool after_point = false;
    for (; i < length && (is_digit(text[i]) || (text[i] == '.' && !after_point)); i++) {
        if (text[i] == '.')
            after_point = true;
        else
            take_digit(&mantissa, text[i], after_point);
    }
    if (!mantissa.any)
        return 0;
    int written;
    i = scan_exponent(&written, text, length, i);
    struct cy_wide value = mantissa_value(&mantissa);
    int64_t exponent = mantissa.exponent + written;
    if (value.high != 0.0) {
        int64_t magnitude = exponent + mantissa.counts[0] + mantissa.counts[1];
        if (magnitude > 310)
            return 0;
        value =
            magnitude < -330 ? cy_wide_of(0.0) : scale_far(value, (int)exponent, (int)magnitude);
    }
    if (!isfinite(cy_wide_round(value)))
        return 0;
    *out = negative ? (struct cy_wide){-value.high, -value.low} : value;
    return i;
}

bool cy_number_parse(double *out, const char *text, size_t length)
{
    struct cy_wide value;
    if (length == 0 || cy_number_scan(&value, text, length) != length)
        return false;
    *out = cy_wide_round(value);
    return true;
}

/* ---- printing ------------------------------------------------------------------------------ */

enum { HALF = 12, ALL = 2 * HALF };

/* A decimal 0.d1d2d3... * 10^point, cut (not rounded) after ALL digits. */
struct decimal {
    char digits[ALL];
    int point;
};

static struct cy_wide floor_wide(struct cy_wide value)
{
    double high = floor(value.high);
    return high == value.high ? normal(high, floor(value.low)) : cy_wide_of(high);
}

static void put_half(char *out, uint64_t value)
{
    for (int i = HALF - 1; i >= 0; i--) {
        out[i] = (char)('0' + value % 10);
        value /= 10;
    }
}

static struct decimal decimal_of(struct cy_wide value)
{
    struct decimal decimal;
    decimal.point = (int)floor(log10(value.high)) + 1;
    struct cy_wide scaled = scale(value, HALF - decimal.point);
    /* The logarithm may be off by one beside a power of ten. */
    if (scaled.high + scaled.low >= tens[HALF])
        scaled = scale(value, HALF - ++decimal.point);
    else if (scaled.high < tens[HALF - 1] || (scaled.high == tens[HALF - 1] && scaled.low < 0))
        scaled = scale(value, HALF - --decimal.point);
    for (int half = 0; half < 2; half++) {
        struct cy_wide whole = floor_wide(scaled);
        put_half(decimal.digits + half * HALF, (uint64_t)cy_wide_round(whole));
        scaled = scale(less(scaled, whole, 1.0), HALF);
    }
    return decimal;
}

/* The first `count` digits of the decimal, rounded; trailing zeros dropped. Returns how many. */
static int round_decimal(struct decimal *out, const struct decimal *decimal, int count)
{
    *out = *decimal;
    if (count < ALL && decimal->digits[count] >= '5') {
        int i = count - 1;
        while (i >= 0 && out->digits[i] == '9')
            out->digits[i--] = '0';
        if (i >= 0) {
            out->digits[i]++;
        } else {
            out->digits[0] = '1'; /* the others are zeros by now */
            out->point++;
        }
    }
    while (count > 1 && out->digits[count - 1] == '0')
        count--;
    return count;
}

static size_t put_exponent(char *out, int exponent)
{
    char *end = out;
    *end++ = 'e';
    if (exponent < 0) {
        *end++ = '-';
        exponent = -exponent;
    }
    if (exponent >= 100)
        *end++ = (char)('0' + exponent / 100);
    if (exponent >= 10)
        *end++ = (char)('0' + exponent / 10 % 10);
    *end++ = (char)('0' + exponent % 10);
    return (size_t)(end - out);
}

static size_t put_decimal(char *out, const struct decimal *decimal, int count, bool negative)
{
    char *end = out;
    int point = decimal->point;
    bool plain = point > -5 && point <= 21;
    if (negative)
        *end++ = '-';
    if (plain && point <= 0) {
        memcpy(end, "0.00000", (size_t)(2 - point));
        end += 2 - point;
    }
    for (int i = 0; i < count || (plain && i < point); i++) {
        if (i > 0 && i == (plain ? point : 1))
            *end++ = '.';
        *end++ = i < count ? decimal->digits[i] : '0';
    }
    if (!plain)
        end += put_exponent(end, point - 1);
    *end = '\0';
    return (size_t)(end - out);
}

size_t cy_number_print(char out[CY_NUMBER_TEXT], struct cy_wide value,
                       bool (*reads_back)(const char *text, size_t length, void *payload),
                       void *payload)
{
    bool negative = value.high < 0;
    if (negative)
        value = (struct cy_wide){-value.high, -value.low};
    if (value.high == 0.0 || !isfinite(value.high)) {
        memcpy(out, "0", 2);
        return 1;
    }
    const struct decimal decimal = decimal_of(value);
    struct decimal rounded;
    size_t length;
    /* Nearer decimals come with more digits, so where 15 do not read back fewer do not either:
     * one try tells short numbers, as people type them, from all the others. */
    int count = round_decimal(&rounded, &decimal, 15);
    length = put_decimal(out, &rounded, count, negative);
    int digits = reads_back(out, length, payload) ? 1 : 16;
    for (; digits <= ALL; digits++) {
        count = round_decimal(&rounded, &decimal, digits);
        length = put_decimal(out, &rounded, count, negative);
        if (reads_back(out, length, payload))
            break;
    }
    return length;
}
