/* SPDX-License-Identifier: MIT
 * The sheet of frost: what it kills this week and at what minimum, and the odds by date. */
#include <math.h>

#include "words/sheet.h"
#include "words/words.h"

#define COLUMN 17 /* of a minimum in the tables */
#define FIRST 16  /* where the first of them stands */
#define TABLE_STEP 7
#define MOST_DATES 20

static void add_degrees(struct cy_text *out, const struct cy_sheet *sheet, double celsius)
{
    if (isnan(celsius))
        cy_text_add(out, "not known");
    else
        cy_quantity_show(out, celsius, CY_Q_TEMPERATURE, NULL, cy_farm_system(&sheet->plan->farm),
                         1);
}

/* ---- the week ------------------------------------------------------------------------------- */

/* `item`: the risk. */
static bool why_risk(struct cy_trace *trace, const struct cy_sheet *sheet,
                     const struct cy_sheet_line *line)
{
    return cy_frostwatch_why(trace, sheet->plan, &sheet->watch, (size_t)line->item);
}

static void add_risk(struct cy_sheet *out, size_t index, bool ascii)
{
    const struct cy_frost_risk *risk = &out->watch.risks[index];
    struct cy_text text = {0}, name = {0};
    cy_say_clean(&name, out->plan->rows[risk->row].name, ascii);
    cy_text_add(&text, "  ");
    cy_text_add_fit(&text, cy_text_get(&name), 15, "~");
    cy_text_dispose(&name);
    cy_text_pad(&text, 0, 18);
    cy_text_add(&text, cy_frost_part_word(risk->part));
    if (!isnan(risk->station_c)) {
        cy_text_add(&text, ": at ");
        add_degrees(&text, out, risk->station_c);
        if (risk->station_c != risk->row_c) {
            cy_text_add(&text, ", ");
            add_degrees(&text, out, risk->row_c);
            cy_text_add(&text, " in the row");
        }
        cy_say_behind(&text, risk->basis);
    }
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_risk, risk->row, (int)index);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static int add_week(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    int status = cy_frostwatch_of(&out->watch, request->plan, request->day);
    if (status != CY_OK)
        return status;
    struct cy_text text = {0};
    size_t said = 0;
    cy_text_add(&text, "What frost kills from ");
    cy_say_day(&text, out->watch.from, false);
    cy_text_add(&text, " to ");
    cy_say_day(&text, out->watch.to, false);
    cy_text_add(&text, ", at what minimum of the station");
    cy_sheet_add(out, CY_SHEET_HEADING, cy_text_get(&text));
    for (size_t i = 0; i < out->watch.count; i++) {
        if (!request->whole_farm && out->watch.risks[i].row != request->row)
            continue;
        add_risk(out, i, request->ascii);
        said++;
    }
    if (said == 0)
        cy_sheet_add(out, CY_SHEET_TEXT, "  nothing that frost is known to kill");
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
    return CY_OK;
}

/* ---- the odds ------------------------------------------------------------------------------- */

/* `row`: the season; `item`: the minimum. */
static bool why_odds(struct cy_trace *trace, const struct cy_sheet *sheet,
                     const struct cy_sheet_line *line)
{
    cy_frostodds_why(trace, &sheet->frost, line->item, (enum cy_frost_season)line->row);
    return true;
}

/* Of all minima. */
static bool why_date(struct cy_trace *trace, const struct cy_sheet *sheet,
                     const struct cy_sheet_line *line)
{
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++)
        cy_frostodds_why(trace, &sheet->frost, limit, (enum cy_frost_season)line->row);
    return true;
}

static void add_years(struct cy_sheet *out)
{
    const struct cy_frostodds *odds = &out->frost;
    int years = odds->limit[0].season[CY_FROST_SPRING].fit.years;
    struct cy_text text = {0};
    cy_text_add(&text, "From ");
    cy_text_add_int(&text, years);
    if (odds->made) {
        cy_text_add(&text, " years of the plan's weathers");
        cy_say_behind(&text, odds->basis);
        cy_text_add(&text, ": no station with ");
        cy_text_add_int(&text, CY_FROSTODDS_FEWEST);
        cy_text_add(&text,
                    " springs on record is in the farm file (caneyear weather reads one).\n");
    } else {
        cy_text_add(&text, " springs of the station, ");
        cy_text_add_int(&text, odds->first_year);
        cy_text_add(&text, " to ");
        cy_text_add_int(&text, odds->last_year);
        cy_say_behind(&text, odds->basis);
        cy_text_add(&text, years < CY_FROSTODDS_FITTED_FROM
                               ? ": too few for more than their own dates.\n"
                               : ".\n");
    }
    if (odds->colder_k != 0) {
        cy_text_add(&text, "At the row, whose nights run ");
        cy_quantity_show(&text, fabs(odds->colder_k), CY_Q_TEMPERATURE_RISE, NULL,
                         cy_farm_system(&out->plan->farm), 1);
        cy_text_add(&text, odds->colder_k > 0 ? " colder than the station's.\n"
                                              : " warmer than the station's.\n");
    } else {
        cy_text_add(&text, "At the station; a row in a hollow freezes later in spring and "
                           "sooner in autumn.\n");
    }
    cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
    cy_text_dispose(&text);
}

static void add_limit(struct cy_sheet *out, enum cy_frost_season season, int limit)
{
    const struct cy_frostodds_season *one = &out->frost.limit[limit].season[season];
    struct cy_text text = {0};
    cy_text_add(&text, "  ");
    add_degrees(&text, out, out->frost.limit[limit].minimum_c);
    for (int level = 0; level < CY_FROSTODDS_LEVELS; level++) {
        cy_text_pad(&text, 0, FIRST + COLUMN * level);
        if (one->day[level] == CY_DAY_NONE)
            cy_text_add(&text, "none");
        else
            cy_say_day(&text, one->day[level], false);
    }
    if (one->fit.frozen < one->fit.years) {
        cy_text_pad(&text, 0, FIRST + COLUMN * CY_FROSTODDS_LEVELS - 3);
        cy_text_add(&text, "froze ");
        cy_text_add_int(&text, one->fit.frozen);
        cy_text_add(&text, " of ");
        cy_text_add_int(&text, one->fit.years);
    }
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_odds, (size_t)season, limit);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_chance(struct cy_text *out, const struct cy_sheet *sheet, int limit,
                       enum cy_frost_season season, cy_day day)
{
    const struct cy_frostodds_season *one = &sheet->frost.limit[limit].season[season];
    double share = cy_frostodds_risk(&sheet->frost, limit, season, day);
    if (isnan(share)) {
        cy_text_add(out, "not known");
    } else if (one->ranked) {
        cy_text_add_int(out, (int)floor(share * one->fit.years + 0.5));
        cy_text_add(out, " of ");
        cy_text_add_int(out, one->fit.years);
    } else {
        cy_text_add_fixed(out, 100 * share, 0);
        cy_text_add(out, " %");
    }
}

/* The days between which the odds of any minimum move. */
static bool span_of(cy_day *from, cy_day *to, const struct cy_frostodds *odds,
                    enum cy_frost_season season)
{
    *from = CY_DAY_NONE;
    *to = CY_DAY_NONE;
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++)
        for (int level = 0; level < CY_FROSTODDS_LEVELS; level++) {
            cy_day day = odds->limit[limit].season[season].day[level];
            if (day == CY_DAY_NONE)
                continue;
            if (*from == CY_DAY_NONE || day < *from)
                *from = day;
            if (*to == CY_DAY_NONE || day > *to)
                *to = day;
        }
    return *from != CY_DAY_NONE;
}

static void add_dates(struct cy_sheet *out, enum cy_frost_season season)
{
    cy_day from, to;
    struct cy_text text = {0};
    if (!span_of(&from, &to, &out->frost, season))
        return;
    cy_text_add(&text, season == CY_FROST_SPRING ? "  still after" : "  by then");
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++) {
        cy_text_pad(&text, 0, FIRST + COLUMN * limit);
        add_degrees(&text, out, out->frost.limit[limit].minimum_c);
    }
    cy_sheet_add(out, CY_SHEET_HEADING, cy_text_get(&text));
    /* Mondays, one before and one behind. */
    from -= cy_day_weekday(from);
    int dates = (to - from) / TABLE_STEP + 2;
    for (int i = 0; i < dates && i < MOST_DATES; i++) {
        cy_day day = from + TABLE_STEP * i;
        cy_text_clear(&text);
        cy_text_add(&text, "  ");
        cy_say_day(&text, day, false);
        for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++) {
            cy_text_pad(&text, 0, FIRST + COLUMN * limit);
            add_chance(&text, out, limit, season, day);
        }
        cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_date, (size_t)season, 0);
    }
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_season(struct cy_sheet *out, enum cy_frost_season season)
{
    static const char *const names[CY_FROSTODDS_LEVELS] = {"9 years of 10", "5 of 10", "1 of 10"};
    bool spring = season == CY_FROST_SPRING;
    struct cy_text text = {0};
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_text_add(&text, spring ? "Spring " : "Autumn ");
    cy_text_add_int(&text, out->frost.year[season]);
    cy_text_add(&text, spring ? ": a freeze still comes after this day, in so many years"
                              : ": a freeze has come by this day, in so many years");
    cy_sheet_add(out, CY_SHEET_HEADING, cy_text_get(&text));
    cy_text_clear(&text);
    cy_text_add(&text, "  minimum");
    for (int level = 0; level < CY_FROSTODDS_LEVELS; level++) {
        cy_text_pad(&text, 0, FIRST + COLUMN * level);
        cy_text_add(&text, names[level]);
    }
    cy_sheet_add(out, CY_SHEET_HEADING, cy_text_get(&text));
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++)
        add_limit(out, season, limit);
    if (spring)
        cy_sheet_add(out, CY_SHEET_TEXT,
                     "  On the last of these days the risk has fallen to 10 %.");
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    add_dates(out, season);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

int cy_sheet_frost(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    const struct cy_plan *plan = request->plan;
    bool of_row = !request->whole_farm && request->row < plan->row_count;
    cy_text_add(&out->title, "Frost");
    if (of_row) {
        cy_text_add(&out->title, " at ");
        cy_say_clean(&out->title, plan->rows[request->row].name, request->ascii);
    }
    int status = add_week(out, request);
    if (status != CY_OK)
        return status;
    out->frost = plan->frost;
    if (of_row) {
        const struct cy_thing *row = cy_farm_by_id(&plan->farm, plan->rows[request->row].thing);
        double colder_k = cy_number(row, CY_ROW_COLDER);
        if (colder_k != 0)
            cy_planner_frost(&out->frost, request->planner, request->plan_request, plan, colder_k);
    }
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    add_years(out);
    add_season(out, CY_FROST_SPRING);
    add_season(out, CY_FROST_AUTUMN);
    return CY_OK;
}
