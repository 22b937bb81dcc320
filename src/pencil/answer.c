/* SPDX-License-Identifier: MIT
 * Running a calculation: its arguments by name, its secondary results, its refusals. */
#include "inside.h"

#include <caneyear/base/text.h>

int cy_pencil_run(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                  const struct cy_pencil_series *series, struct cy_issues *issues)
{
    static const struct cy_pencil_series none = {0};
    *out = (struct cy_pencil_result){.unit = in->calculation->unit};
    int status = in->calculation->run(out, in, series ? series : &none, issues);
    if (status == CY_OK && !isfinite(out->value)) {
        cy_issue_say(issues, CY_ISSUE_OUT_OF_RANGE, in->calculation->name, NULL, NULL,
                     "values with a finite answer");
        return CY_INVALID;
    }
    return status;
}

const struct cy_pencil_value *cy_pencil__value(const struct cy_pencil_inputs *in, const char *name)
{
    static const struct cy_pencil_value nothing = {.number = NAN, .day = CY_DAY_NONE};
    for (size_t i = 0; i < in->calculation->count; i++)
        if (cy_streq(in->calculation->arguments[i].name, name) && in->values[i].given)
            return &in->values[i];
    return &nothing;
}

bool cy_pencil__given(const struct cy_pencil_inputs *in, const char *name)
{
    return cy_pencil__value(in, name)->given;
}

double cy_pencil__number(const struct cy_pencil_inputs *in, const char *name)
{
    return cy_pencil__value(in, name)->number;
}

int cy_pencil__choice(const struct cy_pencil_inputs *in, const char *name)
{
    return (int)cy_pencil__value(in, name)->number;
}

cy_day cy_pencil__day(const struct cy_pencil_inputs *in, const char *name)
{
    return cy_pencil__value(in, name)->day;
}

bool cy_pencil__day_of_year(int *out, const struct cy_pencil_inputs *in, struct cy_issues *issues)
{
    if (cy_pencil__given(in, "date") == cy_pencil__given(in, "day")) {
        cy_pencil__missing(in, issues, "date", "date=YYYY-MM-DD or day=1 to 366, one of the two");
        return false;
    }
    *out = cy_pencil__given(in, "date") ? cy_day_of_year(cy_pencil__day(in, "date"))
                                        : (int)cy_pencil__number(in, "day");
    return true;
}

void cy_pencil__also(struct cy_pencil_result *out, const char *name, double value,
                     enum cy_pencil_unit unit)
{
    cy_pencil__also_day(out, name, value, unit, CY_DAY_NONE);
}

void cy_pencil__also_day(struct cy_pencil_result *out, const char *name, double value,
                         enum cy_pencil_unit unit, cy_day day)
{
    if (out->count == CY_PENCIL_ALSO)
        return;
    struct cy_pencil_also *also = &out->also[out->count++];
    *also = (struct cy_pencil_also){.value = value, .unit = unit, .day = day};
    cy_copy(also->name, sizeof also->name, name);
}

void cy_pencil__note(struct cy_pencil_result *out, const char *note)
{
    cy_copy(out->note, sizeof out->note, note);
}

static int say(const struct cy_pencil_inputs *in, struct cy_issues *issues, enum cy_issue_code code,
               const char *name, const char *found, const char *allowed)
{
    cy_issue_say(issues, code, in->calculation->name, name, found, allowed);
    return CY_INVALID;
}

int cy_pencil__wrong(const struct cy_pencil_inputs *in, struct cy_issues *issues, const char *name,
                     const char *allowed)
{
    return say(in, issues, CY_ISSUE_OUT_OF_RANGE, name, cy_pencil__value(in, name)->text, allowed);
}

int cy_pencil__clash(const struct cy_pencil_inputs *in, struct cy_issues *issues, const char *name,
                     const char *found, const char *allowed)
{
    return say(in, issues, CY_ISSUE_PAIR, name, found, allowed);
}

int cy_pencil__missing(const struct cy_pencil_inputs *in, struct cy_issues *issues,
                       const char *name, const char *allowed)
{
    return say(in, issues, CY_ISSUE_MISSING, name, NULL, allowed);
}

int cy_pencil__refused(const struct cy_pencil_inputs *in, struct cy_issues *issues,
                       const struct cy_trellis_domain *bad)
{
    const char *unit = cy_quantity_inside(bad->quantity);
    struct cy_text allowed = {0};
    if (bad->rule) {
        cy_text_add(&allowed, bad->rule);
    } else {
        cy_text_add_number(&allowed, bad->low);
        cy_text_add(&allowed, " to ");
        cy_text_add_number(&allowed, bad->high);
        cy_text_add(&allowed, cy_streq(unit, "1") ? "" : " ");
        cy_text_add(&allowed, cy_streq(unit, "1") ? "" : unit);
    }
    cy_pencil__wrong(in, issues, bad->name, cy_text_get(&allowed));
    cy_text_dispose(&allowed);
    return CY_INVALID;
}
