/* SPDX-License-Identifier: MIT
 * Words of the form "key=value" to the inputs of a calculation. */
#include "inside.h"

#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/text.h>

/* ---- what is allowed, in words ----------------------------------------------------------------
 */

static void add_bound(struct cy_text *text, double value, enum cy_pencil_unit unit)
{
    cy_text_add_number(text, value);
    if (cy_pencil_unit_shown(unit)[0] && unit != CY_PENCIL_SHARE) {
        cy_text_add_char(text, ' ');
        cy_text_add(text, cy_pencil_unit_shown(unit));
    }
}

static void add_range(struct cy_text *text, const struct cy_pencil_argument *argument)
{
    if (isfinite(argument->low) && isfinite(argument->high)) {
        cy_text_add_number(text, argument->low);
        cy_text_add(text, " to ");
        add_bound(text, argument->high, argument->unit);
    } else if (isfinite(argument->low)) {
        add_bound(text, argument->low, argument->unit);
        cy_text_add(text, " or more");
    } else {
        cy_text_add(text, "any number");
    }
}

static void add_allowed(struct cy_text *text, const struct cy_pencil_argument *argument)
{
    switch (argument->kind) {
    case CY_PENCIL_REAL:
    case CY_PENCIL_WHOLE:
        if (argument->kind == CY_PENCIL_WHOLE)
            cy_text_add(text, "a whole number, ");
        add_range(text, argument);
        break;
    case CY_PENCIL_LIST:
        cy_text_add(text, "numbers with commas between them, ");
        add_range(text, argument);
        break;
    case CY_PENCIL_CHOICE:
        cy_text_add(text, argument->choices);
        break;
    default:
        cy_text_add(text, cy_pencil_kind_form(argument->kind));
        break;
    }
}

/* "a length such as 1 m or 1 ft" */
static void add_units(struct cy_text *text, enum cy_pencil_unit unit)
{
    if (cy_pencil_quantity(unit) == CY_Q_NUMBER) {
        cy_text_add(text, "a plain number");
        return;
    }
    cy_text_add(text, cy_quantity_word(cy_pencil_quantity(unit)));
    cy_text_add(text, ", such as 1");
    cy_text_add(text, cy_pencil_unit_bare(unit));
    cy_text_add(text, " or 1");
    cy_text_add(text, cy_pencil_unit_us(unit));
}

static int complain(const struct cy_pencil_calculation *calculation,
                    const struct cy_pencil_argument *argument, enum cy_issue_code code,
                    const char *found, struct cy_issues *issues)
{
    struct cy_text allowed = {0};
    if (code == CY_ISSUE_BAD_UNIT)
        add_units(&allowed, argument->unit);
    else
        add_allowed(&allowed, argument);
    cy_issue_say(issues, code, calculation->name, argument->name, found, cy_text_get(&allowed));
    cy_text_dispose(&allowed);
    return CY_INVALID;
}

/* ---- one value ------------------------------------------------------------------------------ */

enum cy_unit_error cy_pencil__quantity(double *out, const char *text, size_t length,
                                       enum cy_pencil_unit unit)
{
    double inside;
    enum cy_quantity quantity = cy_pencil_quantity(unit);
    const char *bare = cy_pencil_unit_bare(unit);
    enum cy_unit_error error = cy_quantity_parse(&inside, text, length, quantity, bare);
    if (error == CY_UNIT_OK)
        *out = cy_quantity_in(inside, quantity, bare);
    return error;
}

/* CY_ISSUE_COUNT for a sound number. */
static enum cy_issue_code number_fault(double *out, const struct cy_pencil_argument *argument,
                                       const char *text, size_t length)
{
    switch (cy_pencil__quantity(out, text, length, argument->unit)) {
    case CY_UNIT_OK:
        break;
    case CY_UNIT_NO_NUMBER:
        return CY_ISSUE_BAD_NUMBER;
    default:
        return CY_ISSUE_BAD_UNIT;
    }
    if (argument->kind == CY_PENCIL_WHOLE && *out != floor(*out))
        return CY_ISSUE_BAD_NUMBER;
    return *out >= argument->low && *out <= argument->high ? CY_ISSUE_COUNT : CY_ISSUE_OUT_OF_RANGE;
}

static enum cy_issue_code list_fault(struct cy_pencil_value *out,
                                     const struct cy_pencil_argument *argument, const char *text)
{
    size_t items = 1;
    for (const char *at = text; *at; at++)
        items += *at == ',';
    if (items > CY_PENCIL_LIST_MOST)
        return CY_ISSUE_TOO_LARGE;
    out->list = cy_zeroed(items, sizeof *out->list);
    if (!out->list)
        return CY_ISSUE_NO_MEMORY;
    for (; out->count < items; out->count++) {
        size_t length = strcspn(text, ",");
        enum cy_issue_code fault = number_fault(&out->list[out->count], argument, text, length);
        if (fault != CY_ISSUE_COUNT)
            return fault;
        text += length + 1;
    }
    return CY_ISSUE_COUNT;
}

static enum cy_issue_code choice_fault(struct cy_pencil_value *out,
                                       const struct cy_pencil_argument *argument, const char *text)
{
    const char *word = argument->choices;
    for (int number = 0; *word; number++) {
        size_t length = strcspn(word, ",");
        if (strlen(text) == length) {
            char one[48];
            cy_copy_n(one, sizeof one, word, length);
            if (cy_word_is(text, length, one)) {
                out->number = number;
                return CY_ISSUE_COUNT;
            }
        }
        word += length;
        word += strspn(word, ", ");
    }
    return CY_ISSUE_BAD_CHOICE;
}

/* `digits` figures as a number from 0 to `most`; false moves nothing. */
static bool take_figures(double *out, const char **at, int digits, int most)
{
    int value = 0;
    for (int i = 0; i < digits; i++) {
        char c = (*at)[i];
        if (c < '0' || c > '9')
            return false;
        value = value * 10 + (c - '0');
    }
    if (value > most)
        return false;
    *at += digits;
    *out = value;
    return true;
}

static bool take_char(const char **at, char c)
{
    if (**at != c)
        return false;
    (*at)++;
    return true;
}

/* "YYYY-MM-DDThh:mm:ss+hh:mm", the seconds left out or not, or "Z" for universal time. */
static enum cy_issue_code time_fault(struct cy_pencil_value *out, const char *text)
{
    const char *at = text + 10;
    double hour, minute, second = 0, zone_hour = 0, zone_minute = 0;
    if (strlen(text) < 10 || !cy_day_parse(&out->day, text, 10))
        return CY_ISSUE_BAD_DATE;
    bool good = take_char(&at, 'T') && take_figures(&hour, &at, 2, 23) && take_char(&at, ':') &&
                take_figures(&minute, &at, 2, 59);
    if (good && take_char(&at, ':'))
        good = take_figures(&second, &at, 2, 59);
    if (!good)
        return CY_ISSUE_BAD_DATE;
    bool west = *at == '-';
    if (!take_char(&at, 'Z')) {
        good = (west || *at == '+') && take_char(&at, *at) &&
               take_figures(&zone_hour, &at, 2, 14) && take_char(&at, ':') &&
               take_figures(&zone_minute, &at, 2, 59);
    }
    if (!good || *at)
        return CY_ISSUE_BAD_DATE;
    double zone = zone_hour + zone_minute / 60;
    out->hour = hour + minute / 60 + second / 3600 + (west ? zone : -zone);
    return CY_ISSUE_COUNT;
}

static enum cy_issue_code value_fault(struct cy_pencil_value *out,
                                      const struct cy_pencil_argument *argument, const char *text)
{
    switch (argument->kind) {
    case CY_PENCIL_REAL:
    case CY_PENCIL_WHOLE:
        return number_fault(&out->number, argument, text, strlen(text));
    case CY_PENCIL_LIST:
        return list_fault(out, argument, text);
    case CY_PENCIL_DATE:
        return cy_day_parse(&out->day, text, strlen(text)) ? CY_ISSUE_COUNT : CY_ISSUE_BAD_DATE;
    case CY_PENCIL_TIME:
        return time_fault(out, text);
    case CY_PENCIL_CHOICE:
        return choice_fault(out, argument, text);
    default:
        return *text ? CY_ISSUE_COUNT : CY_ISSUE_MISSING;
    }
}

static int read_value(struct cy_pencil_inputs *in, size_t index, const char *text, bool is_fallback,
                      struct cy_issues *issues)
{
    const struct cy_pencil_argument *argument = &in->calculation->arguments[index];
    struct cy_pencil_value *value = &in->values[index];
    enum cy_issue_code fault = value_fault(value, argument, text);
    value->given = true;
    value->is_fallback = is_fallback;
    value->text = text;
    if (fault == CY_ISSUE_COUNT)
        return CY_OK;
    if (fault == CY_ISSUE_NO_MEMORY)
        return CY_NO_MEMORY;
    return complain(in->calculation, argument, fault, text, issues);
}

/* ---- all of them ---------------------------------------------------------------------------- */

static size_t find_argument(const struct cy_pencil_calculation *calculation, const char *name,
                            size_t length)
{
    size_t i = 0;
    while (i < calculation->count && (strlen(calculation->arguments[i].name) != length ||
                                      memcmp(calculation->arguments[i].name, name, length) != 0))
        i++;
    return i;
}

static int unknown(const struct cy_pencil_calculation *calculation, const char *word, size_t length,
                   struct cy_issues *issues)
{
    char found[CY_ISSUE_TEXT];
    struct cy_text allowed = {0};
    cy_copy_n(found, sizeof found, word, length);
    for (size_t i = 0; i < calculation->count; i++) {
        cy_text_add(&allowed, i ? ", " : "");
        cy_text_add(&allowed, calculation->arguments[i].name);
        cy_text_add(&allowed, "=");
    }
    cy_issue_say(issues, CY_ISSUE_BAD_ARGUMENT, calculation->name, NULL, found,
                 cy_text_get(&allowed));
    cy_text_dispose(&allowed);
    return CY_INVALID;
}

static int read_word(struct cy_pencil_inputs *in, const char *word, struct cy_issues *issues)
{
    const struct cy_pencil_calculation *calculation = in->calculation;
    size_t length = strcspn(word, "=");
    size_t index = find_argument(calculation, word, length);
    if (index == calculation->count || word[length] != '=')
        return unknown(calculation, word, strlen(word), issues);
    const struct cy_pencil_argument *argument = &calculation->arguments[index];
    if (in->values[index].given && !argument->repeats) {
        cy_issue_say(issues, CY_ISSUE_PAIR, calculation->name, argument->name,
                     "this is given twice", "allowed: once");
        return CY_INVALID;
    }
    if (in->word_count == CY_PENCIL_WORDS) {
        cy_issue_say(issues, CY_ISSUE_TOO_LARGE, calculation->name, argument->name, word,
                     "64 arguments");
        return CY_INVALID;
    }
    const char *text = word + length + 1;
    in->words[in->word_count++] = (struct cy_pencil_word){index, text};
    return read_value(in, index, text, false, issues);
}

static int read_rest(struct cy_pencil_inputs *in, struct cy_issues *issues)
{
    for (size_t i = 0; i < in->calculation->count; i++) {
        const struct cy_pencil_argument *argument = &in->calculation->arguments[i];
        int status = CY_OK;
        if (in->values[i].given)
            continue;
        if (argument->fallback)
            status = read_value(in, i, argument->fallback, true, issues);
        else if (argument->required)
            status = complain(in->calculation, argument, CY_ISSUE_MISSING, NULL, issues);
        if (status)
            return status;
    }
    return CY_OK;
}

int cy_pencil_read(struct cy_pencil_inputs *out, const struct cy_pencil_calculation *calculation,
                   const char *const *words, size_t count, struct cy_issues *issues)
{
    int status = CY_OK;
    *out = (struct cy_pencil_inputs){.calculation = calculation};
    for (size_t i = 0; i < count && status == CY_OK; i++)
        status = read_word(out, words[i], issues);
    if (status == CY_OK)
        status = read_rest(out, issues);
    if (status != CY_OK)
        cy_pencil_inputs_dispose(out);
    return status;
}

void cy_pencil_inputs_dispose(struct cy_pencil_inputs *inputs)
{
    for (size_t i = 0; i < CY_PENCIL_ARGUMENTS; i++) {
        free(inputs->values[i].list);
        inputs->values[i] = (struct cy_pencil_value){0};
    }
}

const char *cy_pencil_named(const struct cy_pencil_inputs *inputs, enum cy_pencil_kind kind)
{
    const struct cy_pencil_calculation *calculation = inputs->calculation;
    for (size_t i = 0; i < calculation->count; i++)
        if (calculation->arguments[i].kind == kind && inputs->values[i].given)
            return inputs->values[i].text;
    return NULL;
}
