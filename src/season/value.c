/* SPDX-License-Identifier: MIT
 * Values of fields: read as people write them, printed so that they read back the same. */
#include <caneyear/season/farm.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/number.h>

void cy_value_dispose(struct cy_value *value)
{
    free(value->text);
    free(value->source);
    *value = (struct cy_value){0};
}

bool cy_value_copy(struct cy_value *out, const struct cy_value *from)
{
    struct cy_value copy = *from;
    copy.text = cy_strdup(from->text);
    copy.source = cy_strdup(from->source);
    if ((from->text && !copy.text) || (from->source && !copy.source)) {
        cy_value_dispose(&copy);
        *out = copy;
        return false;
    }
    *out = copy;
    return true;
}

static bool same_string(const char *a, const char *b)
{
    return strcmp(a ? a : "", b ? b : "") == 0;
}

bool cy_value_equal(const struct cy_value *a, const struct cy_value *b)
{
    if (!a->set || !b->set)
        return a->set == b->set;
    return a->number == b->number && same_string(a->text, b->text) && a->basis == b->basis &&
           same_string(a->source, b->source) && a->lent == b->lent;
}

/* ---- what is allowed ------------------------------------------------------------------------ */

/* A limit in the shown unit, rounded to about four digits towards the inside of the range, so
 * that what is named as allowed is allowed. */
static double rounded_limit(double limit, const struct cy_field_info *info, const char *unit,
                            bool up)
{
    double shown = cy_quantity_in(limit, info->quantity, unit);
    double size = fabs(shown), scale = 1;
    while (size > 0 && size * scale < 1000 && scale < 1e9)
        scale *= 10;
    double scaled = shown * scale, whole = round(scaled);
    if (fabs(scaled - whole) > 1e-9 * fmax(1, fabs(whole)))
        whole = up ? ceil(scaled) : floor(scaled);
    return whole / scale;
}

static bool has_unit(enum cy_quantity quantity, enum cy_system system)
{
    return !cy_streq(cy_quantity_unit(quantity, system), "1");
}

static void add_range(struct cy_text *text, const struct cy_field_info *info, enum cy_system system)
{
    const char *unit = cy_quantity_unit(info->quantity, system);
    cy_text_add_number(text, rounded_limit(info->low, info, unit, true));
    cy_text_add(text, " to ");
    cy_text_add_number(text, rounded_limit(info->high, info, unit, false));
    if (has_unit(info->quantity, system)) {
        cy_text_add_char(text, ' ');
        cy_text_add(text, unit);
    }
}

static void add_choices(struct cy_text *text, const struct cy_field_info *info)
{
    for (int i = 0; i < info->choice_count; i++) {
        if (i > 0)
            cy_text_add(text, i + 1 < info->choice_count ? ", " : " or ");
        cy_text_add(text, info->choices[i]);
    }
}

void cy_field_allowed(struct cy_text *text, enum cy_field field, enum cy_system system)
{
    const struct cy_field_info *info = cy_field_info(field);
    if (!info)
        return;
    switch (info->type) {
    case CY_TYPE_NUMBER:
        add_range(text, info, system);
        break;
    case CY_TYPE_COUNT:
        cy_text_add(text, "a whole number, ");
        cy_text_add_int(text, (long long)info->low);
        cy_text_add(text, " to ");
        cy_text_add_int(text, (long long)info->high);
        break;
    case CY_TYPE_TEXT:
        cy_text_add(text, "up to ");
        cy_text_add_int(text, (long long)info->high);
        cy_text_add(text, " characters");
        break;
    case CY_TYPE_DATE:
        cy_text_add(text, "a date such as 2027-03-15");
        break;
    case CY_TYPE_SEASON_DAY:
        cy_text_add(text, "a month and day such as 10-01, and 02-28 for the end of February");
        break;
    case CY_TYPE_CHOICE:
        add_choices(text, info);
        break;
    case CY_TYPE_REFERENCE:
        cy_text_add(text, "the key of a ");
        cy_text_add(text, cy_kind_info(info->target)->word);
        break;
    }
}

/* ---- reading -------------------------------------------------------------------------------- */

/* What is being read, for the readers of each type: they give an issue's code, or READ. */
enum { READ = -1 };
struct input {
    const struct cy_field_info *info;
    const char *text;
    size_t length;
};

static int read_number(struct cy_value *out, const struct input *in)
{
    static const bool may_be_bare[CY_Q_COUNT] = {[CY_Q_NUMBER] = true,
                                                 [CY_Q_SHARE] = true,
                                                 [CY_Q_HOURS] = true,
                                                 [CY_Q_DAYS] = true,
                                                 [CY_Q_ANGLE] = true};
    enum cy_quantity quantity = in->info->quantity;
    const char *bare = may_be_bare[quantity] ? cy_quantity_inside(quantity) : NULL;
    double number = NAN;
    switch (cy_quantity_parse(&number, in->text, in->length, quantity, bare)) {
    case CY_UNIT_OK:
        break;
    case CY_UNIT_NO_NUMBER:
        return CY_ISSUE_BAD_NUMBER;
    case CY_UNIT_MISSING:
        return CY_ISSUE_MISSING_UNIT;
    case CY_UNIT_UNKNOWN:
    case CY_UNIT_WRONG_KIND:
        return CY_ISSUE_BAD_UNIT;
    }
    if (!(number >= in->info->low && number <= in->info->high))
        return CY_ISSUE_OUT_OF_RANGE;
    out->number = number == 0 ? 0 : number; /* -0 would print its sign */
    return READ;
}

static int read_count(struct cy_value *out, const struct input *in)
{
    double number;
    if (!cy_number_parse(&number, in->text, in->length) || number != floor(number))
        return CY_ISSUE_BAD_NUMBER;
    if (!(number >= in->info->low && number <= in->info->high))
        return CY_ISSUE_OUT_OF_RANGE;
    out->number = number == 0 ? 0 : number;
    return READ;
}

static int read_text(const struct input *in)
{
    if (!cy_utf8_valid(in->text, in->length))
        return CY_ISSUE_NOT_UTF8;
    if (cy_utf8_has_control(in->text, in->length))
        return CY_ISSUE_CONTROL_CHARACTER;
    size_t characters = 0, used;
    for (size_t at = 0; at < in->length; at += used, characters++)
        cy_utf8_next(in->text + at, in->length - at, &used);
    return (double)characters > in->info->high ? CY_ISSUE_TOO_LARGE : READ;
}

static int read_date(struct cy_value *out, const struct input *in)
{
    cy_day day;
    if (!cy_day_parse(&day, in->text, in->length))
        return CY_ISSUE_BAD_DATE;
    out->number = day;
    return READ;
}

/* MM-DD in a year without a leap day: the day must be there every year. */
static int read_season_day(struct cy_value *out, const struct input *in)
{
    char dated[] = "2001-MM-DD";
    cy_day day;
    if (in->length != 5)
        return CY_ISSUE_BAD_DATE;
    memcpy(dated + 5, in->text, 5);
    if (!cy_day_parse(&day, dated, sizeof dated - 1))
        return CY_ISSUE_BAD_DATE;
    struct cy_date date = cy_day_date(day);
    out->number = date.month * 100 + date.day;
    return READ;
}

static int read_choice(struct cy_value *out, const struct input *in)
{
    for (int i = 0; i < in->info->choice_count; i++)
        if (cy_word_is(in->text, in->length, in->info->choices[i])) {
            out->number = i;
            return READ;
        }
    return CY_ISSUE_BAD_CHOICE;
}

static int read_value(struct cy_value *out, const struct input *in)
{
    switch (in->info->type) {
    case CY_TYPE_NUMBER:
        return read_number(out, in);
    case CY_TYPE_COUNT:
        return read_count(out, in);
    case CY_TYPE_TEXT:
        return read_text(in);
    case CY_TYPE_DATE:
        return read_date(out, in);
    case CY_TYPE_SEASON_DAY:
        return read_season_day(out, in);
    case CY_TYPE_CHOICE:
        return read_choice(out, in);
    case CY_TYPE_REFERENCE:
        break;
    }
    return cy_key_valid(in->text, in->length) ? READ : CY_ISSUE_BAD_KEY;
}

static void add_units(struct cy_text *text, enum cy_quantity quantity)
{
    const char *us = cy_quantity_unit(quantity, CY_US);
    const char *metric = cy_quantity_unit(quantity, CY_METRIC);
    cy_text_add(text, us);
    if (!cy_streq(us, metric)) {
        cy_text_add(text, " or ");
        cy_text_add(text, metric);
    }
}

/* What would have been allowed, in the words of the issue. Who wrote the value may think in
 * either system, so a range is given in both. */
static void add_allowed(struct cy_text *text, int code, enum cy_field field)
{
    const struct cy_field_info *info = cy_field_info(field);
    if (code == CY_ISSUE_MISSING_UNIT) {
        add_units(text, info->quantity);
    } else if (code == CY_ISSUE_BAD_UNIT) {
        cy_text_add(text, cy_quantity_word(info->quantity));
        if (has_unit(info->quantity, CY_METRIC)) {
            cy_text_add(text, ", in ");
            add_units(text, info->quantity);
        }
    } else if (code == CY_ISSUE_BAD_KEY) {
        cy_text_add(text, "1 to 40 of a-z, 0-9 and -, a letter or digit first");
    } else {
        cy_field_allowed(text, field, CY_US);
        if (info->type == CY_TYPE_NUMBER &&
            !cy_streq(cy_quantity_unit(info->quantity, CY_US),
                      cy_quantity_unit(info->quantity, CY_METRIC))) {
            cy_text_add(text, " (");
            cy_field_allowed(text, field, CY_METRIC);
            cy_text_add(text, ")");
        }
    }
}

static void say(struct cy_issues *issues, int code, enum cy_field field, const struct input *in)
{
    if (!issues)
        return;
    struct cy_text allowed = {0};
    struct cy_issue *issue = cy_issue_add(issues, (enum cy_issue_code)code);
    add_allowed(&allowed, code, field);
    issue->field_id = field;
    cy_copy(issue->field, sizeof issue->field, in->info->name);
    cy_copy_n(issue->found, sizeof issue->found, in->text, in->length);
    cy_copy(issue->allowed, sizeof issue->allowed, cy_text_get(&allowed));
    cy_text_dispose(&allowed);
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

int cy_value_parse(struct cy_value *out, enum cy_field field, const char *text, size_t length,
                   struct cy_issues *issues)
{
    struct input in = {cy_field_info(field), text, length};
    *out = (struct cy_value){0};
    if (!in.info)
        return CY_FAILED;
    if (in.info->type != CY_TYPE_TEXT) {
        for (; in.length > 0 && is_blank(in.text[0]); in.length--)
            in.text++;
        while (in.length > 0 && is_blank(in.text[in.length - 1]))
            in.length--;
    }
    struct cy_value value = {.set = true, .basis = CY_BASIS_GROWER};
    int code = read_value(&value, &in);
    if (code != READ) {
        say(issues, code, field, &in);
        return CY_INVALID;
    }
    if (in.info->type == CY_TYPE_TEXT || in.info->type == CY_TYPE_REFERENCE) {
        value.text = cy_strndup(in.text, in.length);
        if (!value.text)
            return CY_NO_MEMORY;
    }
    *out = value;
    return CY_OK;
}

/* ---- printing ------------------------------------------------------------------------------- */

static void add_two_digits(struct cy_text *text, int number)
{
    cy_text_add_char(text, (char)('0' + number / 10 % 10));
    cy_text_add_char(text, (char)('0' + number % 10));
}

void cy_value_print(struct cy_text *text, enum cy_field field, const struct cy_value *value,
                    enum cy_system system)
{
    const struct cy_field_info *info = cy_field_info(field);
    if (!info || !value->set)
        return;
    int whole = (int)value->number;
    switch (info->type) {
    case CY_TYPE_NUMBER:
        cy_quantity_print(text, value->number, info->quantity, NULL, system);
        break;
    case CY_TYPE_COUNT:
        cy_text_add_int(text, whole);
        break;
    case CY_TYPE_DATE:
        cy_text_add_day(text, whole);
        break;
    case CY_TYPE_SEASON_DAY:
        add_two_digits(text, whole / 100);
        cy_text_add_char(text, '-');
        add_two_digits(text, whole % 100);
        break;
    case CY_TYPE_CHOICE:
        if (whole >= 0 && whole < info->choice_count)
            cy_text_add(text, info->choices[whole]);
        break;
    case CY_TYPE_TEXT:
    case CY_TYPE_REFERENCE:
        cy_text_add(text, value->text ? value->text : "");
        break;
    }
}
