/* SPDX-License-Identifier: MIT
 * The whole plan as text, for paper, pipes and people who like to read. */
#include "words/words.h"

#include <math.h>

#include <caneyear/season/frostwatch.h>

static void say_head(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    const char *name = cy_string(cy_farm_one(&plan->farm, CY_KIND_FARM), CY_FARM_NAME);
    const struct cy_thing *place = cy_farm_place(&plan->farm);
    cy_say_clean(out, *name ? name : "This farm", ascii);
    cy_text_add(out, ": season ");
    cy_text_add_int(out, plan->season);
    cy_text_add(out, ", ");
    cy_say_day(out, plan->first, true);
    cy_text_add(out, " to ");
    cy_say_day(out, plan->last, true);
    cy_text_add(out, ", as of ");
    cy_say_day(out, plan->today, true);
    cy_text_add(out, "\nOver ");
    cy_text_add_int(out, plan->members);
    cy_text_add(out, " weathers: ");
    cy_text_add_int(out, plan->past_years);
    cy_text_add(out, " past years of a station, ");
    cy_text_add_int(out, plan->made_years);
    cy_text_add(out, " made from the monthly normals of ");
    cy_say_clean(out, cy_thing_name(place), ascii);
    cy_text_add(out,
                "\nA date reads: in the middle year (between these two in 8 years of 10). What\n"
                "stands in brackets is the least trusted thing behind it.\n");
}

static void say_stage_line(struct cy_text *out, const struct cy_plan_cohort *cohort,
                           enum cy_stage stage)
{
    const struct cy_figure *figure = &cohort->stage[stage];
    size_t start = out->length;
    cy_text_add(out, "    ");
    cy_text_add(out, cy_stage_word(stage));
    cy_text_pad(out, start, 24);
    if (isnan(figure->p50)) {
        cy_text_add(out, "never: ");
        cy_say_never(out, (enum cy_never)cohort->never[stage], figure->never);
        cy_text_add_char(out, '\n');
        return;
    }
    cy_say_day(out, figure->p50, true);
    cy_text_pad(out, start, 37);
    if (cohort->seen[stage]) {
        cy_text_add(out, "seen\n");
        return;
    }
    cy_text_add(out, "(");
    cy_say_day(out, figure->p10, false);
    cy_text_add(out, " to ");
    cy_say_day(out, figure->p90, false);
    cy_text_add(out, ")");
    cy_text_pad(out, start, 57);
    cy_text_add(out, "[");
    cy_say_basis(out, figure->basis);
    cy_text_add(out, "]");
    if (figure->never > 0) {
        cy_text_add(out, " but ");
        cy_say_never(out, (enum cy_never)cohort->never[stage], figure->never);
    }
    cy_text_add_char(out, '\n');
}

static void say_cohort(struct cy_text *out, const struct cy_plan *plan,
                       const struct cy_plan_cohort *cohort)
{
    bool old = cohort->role == CY_ROLE_FLORICANES;
    cy_text_add(out, "  Canes of ");
    cy_text_add_int(out, cohort->year);
    cy_text_add(out, old ? ", floricanes this season; on " : ", primocanes this season; on ");
    cy_say_day(out, plan->today, false);
    cy_text_add(out, ": ");
    cy_text_add(out, cy_state_word(cy_plan_state(cohort, plan->today)));
    cy_text_add_char(out, '\n');
    if (old || !cohort->chill_applies) {
        cy_text_add(out, "    chill               ");
        cy_say_chill(out, cohort);
        cy_text_add_char(out, '\n');
    }
    if (old) {
        cy_text_add(out, "    cold                ");
        cy_say_cold(out, cohort);
        cy_text_add_char(out, '\n');
    }
    enum cy_stage first = old ? CY_STAGE_CHILL_MET : CY_STAGE_EMERGENCE;
    enum cy_stage last = old ? CY_STAGE_SPENT : CY_STAGE_DORMANT;
    for (enum cy_stage stage = first; stage <= last; stage++)
        if (cohort->never[stage] != CY_DOES_NOT_APPLY || !isnan(cohort->stage[stage].p50))
            say_stage_line(out, cohort, stage);
}

/* "crop: 310 lb (120 to 430), most of it 54 lb in the week of 5 Jul [from memory]" */
static void say_crop(struct cy_text *out, const struct cy_plan *plan,
                     const struct cy_plan_crop *crop)
{
    enum cy_system system = cy_farm_system(&plan->farm);
    int best = 0;
    for (int week = 1; week < crop->weeks; week++)
        if (crop->week_kg[week].p50 > crop->week_kg[best].p50)
            best = week;
    cy_text_add(out, crop->autumn ? "  Autumn crop: " : "  Crop: ");
    cy_say_kg_range(out, &crop->total_kg, system);
    cy_text_add(out, ", the heaviest week that of ");
    cy_say_day(out, crop->monday + 7 * best, false);
    cy_text_add(out, " with ");
    cy_say_kg_range(out, &crop->week_kg[best], system);
    cy_say_behind(out, crop->total_kg.basis);
    cy_text_add(out, "\n");
}

static void say_row(struct cy_text *out, const struct cy_plan *plan, const struct cy_plan_row *row,
                    bool ascii)
{
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, row->thing);
    const struct cy_thing *cultivar = cy_referred(&plan->farm, thing, CY_ROW_CULTIVAR);
    cy_text_add_char(out, '\n');
    cy_say_clean(out, row->name, ascii);
    cy_text_add(out, " (");
    cy_text_add(out, row->key);
    cy_text_add(out, "): ");
    cy_say_clean(out, cy_thing_name(cultivar), ascii);
    cy_text_add(out, ", ");
    cy_quantity_show(out, cy_number(thing, CY_ROW_LENGTH), CY_Q_LENGTH, NULL,
                     cy_farm_system(&plan->farm), 0);
    if (row->leaf > 0) {
        cy_text_add(out, ", season ");
        cy_text_add_int(out, row->leaf);
        cy_text_add(out, " of its life");
    }
    cy_text_add_char(out, '\n');
    for (unsigned note = 1; note <= CY_NOTE_FRUIT_YEAR; note <<= 1) {
        if (!(row->notes & note))
            continue;
        cy_text_add(out, "  ");
        cy_say_note(out, (enum cy_row_note)note);
        cy_text_add_char(out, '\n');
    }
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].role != CY_ROLE_NONE)
            say_cohort(out, plan, &row->cohorts[i]);
    for (int i = 0; i < row->crop_count; i++)
        say_crop(out, plan, &row->crops[i]);
}

static void say_late_week(struct cy_text *out, const struct cy_schedule_week *week)
{
    cy_text_add(out, "\n  week of ");
    cy_say_day(out, week->monday, true);
    cy_text_add(out, ": ");
    cy_text_add_fixed(out, week->hours, 0);
    cy_text_add(out, " of ");
    cy_text_add_fixed(out, week->capacity, 0);
    cy_text_add(out, " h, ");
    cy_text_add_fixed(out, week->late_hours, 1);
    cy_text_add(out, " h of it late");
}

/* The weeks that ask more than the crew has, and how large a crew would do. */
static void say_crew(struct cy_text *out, const struct cy_plan *plan)
{
    int over = 0;
    double capacity = 0;
    for (size_t i = 0; i < plan->week_count; i++) {
        over += plan->weeks[i].late_hours > 0;
        capacity += plan->weeks[i].capacity;
    }
    cy_text_add(out, "\nCREW [");
    cy_say_basis(out, plan->crew_basis);
    cy_text_add(out, "]\n\n");
    if (capacity <= 0) {
        cy_text_add(out, "nobody has any hours\n");
        return;
    }
    cy_text_add_int(out, over);
    cy_text_add(out, over == 1 ? " week has late work" : " weeks have late work");
    for (size_t i = 0; i < plan->week_count; i++)
        if (plan->weeks[i].late_hours > 0)
            say_late_week(out, &plan->weeks[i]);
    cy_text_add(out, "\nthe smallest crew with nothing late has ");
    /* Rounded up: a crew a hair smaller would be late. */
    cy_text_add_fixed(out, ceil(plan->crew.scale * 100 - 1e-6), 0);
    cy_text_add(out, " % of these hours a day");
    if (plan->crew.hopeless > 0) {
        cy_text_add(out, "; late whatever the crew: ");
        cy_text_add_int(out, (long long)plan->crew.hopeless);
        cy_text_add(out, plan->crew.hopeless == 1 ? " job" : " jobs");
    }
    cy_text_add_char(out, '\n');
}

/* Rows that share a line: the same part at the same minimum of the station. */
static bool alike(const struct cy_frost_risk *a, const struct cy_frost_risk *b)
{
    return a->part == b->part &&
           (a->station_c == b->station_c || (isnan(a->station_c) && isnan(b->station_c)));
}

static bool frost_said(const struct cy_frostwatch *watch, size_t risk)
{
    for (size_t i = 0; i < risk; i++)
        if (alike(&watch->risks[i], &watch->risks[risk]))
            return true;
    return false;
}

static void say_risk(struct cy_text *out, const struct cy_plan *plan,
                     const struct cy_frostwatch *watch, size_t first, bool ascii)
{
    const struct cy_frost_risk *risk = &watch->risks[first];
    const char *comma = ": ";
    cy_text_add(out, "  ");
    cy_text_add(out, cy_frost_part_word(risk->part));
    if (!isnan(risk->station_c)) {
        bool all = risk->part == CY_FROST_CANES || risk->part == CY_FROST_AUTUMN_CROP;
        cy_text_add(out, all ? ", lost at " : ", half lost at ");
        cy_quantity_show(out, risk->station_c, CY_Q_TEMPERATURE, NULL, cy_farm_system(&plan->farm),
                         1);
        cy_text_add(out, " at the station");
    }
    for (size_t i = first; i < watch->count; i++) {
        if (!alike(risk, &watch->risks[i]))
            continue;
        cy_text_add(out, comma);
        cy_say_clean(out, plan->rows[watch->risks[i].row].name, ascii);
        comma = ", ";
    }
    cy_text_add_char(out, '\n');
}

/* What a cold night of this week would cost. */
static void say_frost(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    struct cy_frostwatch watch;
    if (cy_frostwatch_of(&watch, plan, plan->today) != CY_OK) {
        out->failed = true;
        return;
    }
    cy_text_add(out, "\nFROST WATCH, week of ");
    cy_say_day(out, watch.from, true);
    cy_text_add(out, "\n\n");
    if (watch.count == 0)
        cy_text_add(out, "  nothing that frost is known to kill\n");
    for (size_t i = 0; i < watch.count; i++)
        if (!frost_said(&watch, i))
            say_risk(out, plan, &watch, i, ascii);
    cy_frostwatch_dispose(&watch);
}

void cy_say_plan(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    say_head(out, plan, ascii);
    cy_text_add(out, "\nROWS\n");
    for (size_t i = 0; i < plan->row_count; i++)
        say_row(out, plan, &plan->rows[i], ascii);
    say_frost(out, plan, ascii);
    cy_text_add(out, "\nJOBS\n");
    cy_say_jobs(out, plan, ascii);
    say_crew(out, plan);
    cy_say_supply(out, plan, ascii);
}
