/* SPDX-License-Identifier: MIT
 * Which rows a kind of work is for, and the moments between which its window lies. */
#include "season/job_parts.h"

#include <math.h>

#include <caneyear/crop/calendar.h>
#include <caneyear/season/trellis.h>

static const struct cy_trellis_verdict *trellis_of(const struct cy_expansion *x)
{
    return cy_trellis_of(x->plan, (size_t)(x->row - x->plan->rows));
}

/* A stage that nearly every weather misses brings on no work. */
#define LIKELY_AT_MOST 0.9

const struct cy_plan_cohort *cy_job_new_canes(const struct cy_expansion *x)
{
    const struct cy_plan_cohort *cohort = cy_plan_cohort_of(x->row, x->plan->season);
    return cohort && cohort->role == CY_ROLE_PRIMOCANES ? cohort : NULL;
}

static const struct cy_plan_cohort *old_canes(const struct cy_expansion *x)
{
    const struct cy_plan_cohort *cohort = cy_plan_cohort_of(x->row, x->plan->season - 1);
    return cohort && cohort->role == CY_ROLE_FLORICANES ? cohort : NULL;
}

/* The last floricanes of a row that are spent by a day, or NULL. */
struct cy_plan_cohort *cy_job_spent_by(struct cy_plan_row *row, cy_day day)
{
    struct cy_plan_cohort *last = NULL;
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].kept && row->cohorts[i].stage[CY_STAGE_SPENT].p50 <= day)
            last = &row->cohorts[i];
    return last;
}

static bool comes_to_pass(const struct cy_plan_cohort *cohort, enum cy_stage stage)
{
    return cohort && !isnan(cohort->stage[stage].p50) &&
           cohort->stage[stage].never <= LIKELY_AT_MOST;
}

cy_day cy_job_rounded(double day)
{
    return (cy_day)floor(day + 0.5);
}

enum cy_moment cy_job_opens_with(const struct cy_expansion *x)
{
    return (enum cy_moment)cy_choice(x->kind, CY_JOB_FROM);
}

bool cy_job_is_picking(const struct cy_expansion *x)
{
    return cy_job_opens_with(x) == CY_MOMENT_FIRST_PICK &&
           cy_choice(x->kind, CY_JOB_TO) == CY_MOMENT_LAST_PICK;
}

/* ---- which rows ----------------------------------------------------------------------------- */

static bool is_planted_here(const struct cy_expansion *x)
{
    int planted = x->facts.planted_season;
    return planted == x->plan->season || planted == x->plan->season + 1;
}

/* Planted too late in a season to grow in it, a row is young in the next one; it is thirsty in
 * both. */
static bool is_in_first_year(const struct cy_expansion *x)
{
    int season = x->plan->season;
    return x->facts.planted_season == season ||
           (x->facts.planted_season == season + 1 && x->facts.planted <= x->plan->last);
}

bool cy_job_row_is_meant(const struct cy_expansion *x)
{
    switch (cy_choice(x->kind, CY_JOB_ROWS)) {
    case CY_JOB_ROWS_PLANTED:
        return is_planted_here(x);
    case CY_JOB_ROWS_FIRST_YEAR:
        return is_in_first_year(x);
    case CY_JOB_ROWS_STANDING:
        return x->facts.planted_season < x->plan->season;
    case CY_JOB_ROWS_NEW_CANES:
        return cy_job_new_canes(x) != NULL;
    case CY_JOB_ROWS_OLD_CANES:
        /* Spent canes may be older: the window looks for those that are. */
        return old_canes(x) || cy_job_opens_with(x) == CY_MOMENT_SPENT_FROM;
    case CY_JOB_ROWS_CROP:
        /* Picking follows whatever the row bears: each crop is looked for later. */
        return old_canes(x) || cy_job_is_picking(x);
    case CY_JOB_ROWS_AUTUMN_CROP:
        return cy_takes_autumn_crop(&x->facts.traits) && cy_job_new_canes(x);
    default:
        return true;
    }
}

bool cy_job_row_meets_needs(const struct cy_expansion *x)
{
    if (cy_choice(x->kind, CY_JOB_CUTS) == CY_YES && x->facts.fruiting_unknown)
        return false;
    switch (cy_choice(x->kind, CY_JOB_NEEDS)) {
    case CY_JOB_NEEDS_TIPPING:
        return !isnan(x->facts.traits.tip_height_m.value);
    case CY_JOB_NEEDS_TRELLIS:
        return cy_referred(&x->plan->farm, x->facts.row, CY_ROW_TRELLIS) != NULL;
    case CY_JOB_NEEDS_TENSION:
        return trellis_of(x) && (trellis_of(x)->wire_count == 0 ||
                                 (trellis_of(x)->notes & CY_TRELLIS_TENSION_UNKNOWN));
    case CY_JOB_NEEDS_LATERAL_TIP:
        return cy_given(x->facts.practice, CY_PRACTICE_LATERAL_TIP).known &&
               !isnan(x->facts.traits.tip_height_m.value);
    case CY_JOB_NEEDS_SHORT_LATERALS:
        /* OSU EC 1303: semi-erect laterals need not be shortened. */
        return x->facts.traits.cropping != CY_CROPPING_AUTUMN &&
               cy_choice(x->facts.cultivar, CY_CULTIVAR_HABIT) != CY_HABIT_SEMI_ERECT;
    case CY_JOB_NEEDS_DRY_WEEK:
        return cy_water_rule_of(x->plan, x->facts.row) == CY_WATER_RULE_INCH;
    case CY_JOB_NEEDS_BALANCE:
        return cy_water_rule_of(x->plan, x->facts.row) == CY_WATER_RULE_BALANCE;
    case CY_JOB_NEEDS_MOWING:
        return x->facts.traits.cropping == CY_CROPPING_AUTUMN;
    case CY_JOB_NEEDS_CANES_KEPT:
        /* Where nobody knows which canes have fruited, nobody knows which are spent. */
        return x->facts.traits.cropping != CY_CROPPING_AUTUMN && !x->facts.fruiting_unknown;
    default:
        return true;
    }
}

/* ---- windows -------------------------------------------------------------------------------- */

struct moment {
    cy_day day;
    bool stage; /* a stage of the canes: the figure below is its date */
    enum cy_stage which;
    struct cy_figure figure;
    cy_basis basis;
};

static bool stage_moment(struct moment *out, const struct cy_plan_cohort *cohort,
                         enum cy_stage stage, bool opening, bool rounds)
{
    if (!comes_to_pass(cohort, stage))
        return false;
    const struct cy_figure *figure = &cohort->stage[stage];
    double day = rounds ? figure->p50 : opening ? figure->p10 : figure->p90;
    *out = (struct moment){cy_job_rounded(day), true, stage, *figure, figure->basis};
    return true;
}

static bool practice_moment(struct moment *out, const struct cy_expansion *x, bool opening,
                            enum cy_field from_field, enum cy_field to_field)
{
    cy_day from, to;
    if (!cy_practice_window(&from, &to, &x->facts, x->plan->season, from_field, to_field))
        return false;
    *out = (struct moment){.day = opening ? from : to,
                           .basis = cy_given(x->facts.practice, from_field).basis |
                                    cy_given(x->facts.practice, to_field).basis};
    if (from_field != CY_PRACTICE_SPENT_FROM)
        return true;
    /* Not canes that an earlier window has taken: in a year of rest there are no others. */
    const struct cy_plan_cohort *spent = cy_job_spent_by(x->row, to);
    return spent && spent->gone >= from;
}

static bool date_moment(struct moment *out, const struct cy_expansion *x, enum cy_field field)
{
    struct cy_given date = cy_given(x->kind, field);
    if (!date.known)
        return false;
    *out = (struct moment){.day = cy_season_day(x->plan->latitude_deg, x->plan->season,
                                                (int)date.number, date.basis != CY_BASIS_GROWER),
                           .basis = date.basis};
    return true;
}

/* The first of the row's wires to have been under its working tension for a week. */
static bool slack_moment(struct moment *out, const struct cy_expansion *x, bool opening,
                         bool rounds)
{
    const struct cy_trellis_verdict *verdict = trellis_of(x);
    if (!verdict || verdict->slack_wire < 0)
        return false;
    const struct cy_figure *slack = &verdict->wires[verdict->slack_wire].slack;
    double day = rounds ? slack->p50 : opening ? slack->p10 : slack->p90;
    *out = (struct moment){.day = cy_job_rounded(day), .figure = *slack, .basis = slack->basis};
    return slack->never <= LIKELY_AT_MOST;
}

static void add_wire(struct cy_reason *reason, const struct cy_expansion *x)
{
    const struct cy_trellis_verdict *verdict = trellis_of(x);
    const struct cy_trellis_wire *wire = &verdict->wires[verdict->slack_wire];
    reason->kind = CY_REASON_WIRE;
    reason->height_m = wire->height_m;
    reason->force_n = wire->slack_n;
    reason->working_n = wire->working_n;
    reason->length_m = verdict->take_up_m;
    reason->wires = verdict->slack_wires;
}

/* The moments that are stages, and whose: this season's new canes' or last year's. */
static const struct staged {
    enum cy_moment moment;
    enum cy_stage stage;
    bool new_canes;
} staged[] = {
    {CY_MOMENT_EMERGENCE, CY_STAGE_EMERGENCE, true},
    {CY_MOMENT_TIP, CY_STAGE_TIP, true},
    {CY_MOMENT_LATERALS, CY_STAGE_LATERALS, true},
    {CY_MOMENT_DORMANT, CY_STAGE_DORMANT, true},
    {CY_MOMENT_AUTUMN_FIRST_PICK, CY_STAGE_AUTUMN_FIRST_PICK, true},
    {CY_MOMENT_AUTUMN_LAST_PICK, CY_STAGE_AUTUMN_LAST_PICK, true},
    {CY_MOMENT_BUD_BREAK, CY_STAGE_BUD_BREAK, false},
    {CY_MOMENT_BLOOM, CY_STAGE_BLOOM, false},
    {CY_MOMENT_FIRST_PICK, CY_STAGE_FIRST_PICK, false},
    {CY_MOMENT_LAST_PICK, CY_STAGE_LAST_PICK, false},
};

/* Spring begins with the canes that a row has: a mown row has no buds to break, a row in its
 * fruiting year of two no new canes. */
static enum cy_moment growth_begins(const struct cy_expansion *x, enum cy_moment moment)
{
    if (moment == CY_MOMENT_BUD_BREAK && !old_canes(x))
        return CY_MOMENT_EMERGENCE;
    if (moment == CY_MOMENT_EMERGENCE && !cy_job_new_canes(x))
        return CY_MOMENT_BUD_BREAK;
    return moment;
}

static bool moment_of(struct moment *out, const struct cy_expansion *x, enum cy_moment moment,
                      bool opening, bool rounds)
{
    moment = growth_begins(x, moment);
    for (size_t i = 0; i < sizeof staged / sizeof *staged; i++)
        if (staged[i].moment == moment)
            return stage_moment(out, staged[i].new_canes ? cy_job_new_canes(x) : old_canes(x),
                                staged[i].stage, opening, rounds);
    switch (moment) {
    case CY_MOMENT_DATE:
        return date_moment(out, x, opening ? CY_JOB_FROM_DATE : CY_JOB_TO_DATE);
    case CY_MOMENT_SEASON_START:
        *out = (struct moment){.day = x->plan->first, .basis = CY_BASIS_PRACTICE};
        return true;
    case CY_MOMENT_SEASON_END:
        *out = (struct moment){.day = x->plan->last, .basis = CY_BASIS_PRACTICE};
        return true;
    case CY_MOMENT_PLANTING:
        *out = (struct moment){.day = x->facts.planted,
                               .basis = cy_given(x->facts.row, CY_ROW_PLANTED).basis};
        return x->facts.planted != CY_DAY_NONE;
    case CY_MOMENT_SLACK:
        return slack_moment(out, x, opening, rounds);
    case CY_MOMENT_SPENT_FROM:
    case CY_MOMENT_SPENT_TO:
        return practice_moment(out, x, moment == CY_MOMENT_SPENT_FROM, CY_PRACTICE_SPENT_FROM,
                               CY_PRACTICE_SPENT_TO);
    case CY_MOMENT_THIN_FROM:
    case CY_MOMENT_THIN_TO:
        return practice_moment(out, x, moment == CY_MOMENT_THIN_FROM, CY_PRACTICE_THIN_FROM,
                               CY_PRACTICE_THIN_TO);
    default:
        return false;
    }
}

static struct cy_reason reason_of(const struct cy_expansion *x, enum cy_moment moment,
                                  const struct moment *opening, const struct moment *closing)
{
    struct cy_reason reason = {.stage = opening->which,
                               .figure = opening->figure,
                               .closing = closing->figure,
                               .days = cy_number(x->kind, CY_JOB_FROM_DAYS),
                               .height_m = x->facts.traits.tip_height_m.value,
                               .day = x->facts.planted};
    if (opening->stage && opening->which == CY_STAGE_TIP)
        reason.kind = CY_REASON_TIP;
    else if (opening->stage)
        reason.kind = CY_REASON_STAGE;
    else if (moment == CY_MOMENT_PLANTING)
        reason.kind = CY_REASON_PLANTING;
    else if (moment == CY_MOMENT_SLACK)
        add_wire(&reason, x);
    else if (moment >= CY_MOMENT_SPENT_FROM)
        reason.kind = CY_REASON_PRACTICE;
    else
        reason.kind = CY_REASON_DATE;
    return reason;
}

bool cy_job_window(struct cy_window *out, const struct cy_expansion *x, enum cy_moment from,
                   enum cy_moment to, bool rounds)
{
    struct moment opening, closing;
    if (!moment_of(&opening, x, from, true, rounds) || !moment_of(&closing, x, to, false, rounds))
        return false;
    out->from = opening.day + (cy_day)cy_number(x->kind, CY_JOB_FROM_DAYS);
    out->to = closing.day + (cy_day)cy_number(x->kind, CY_JOB_TO_DAYS);
    out->reason = reason_of(x, from, &opening, &closing);
    out->basis = opening.basis | closing.basis | cy_given(x->kind, CY_JOB_FROM_DAYS).basis |
                 cy_given(x->kind, CY_JOB_TO_DAYS).basis;
    return out->to >= out->from;
}

cy_day cy_job_day(const struct cy_expansion *x, enum cy_moment moment)
{
    struct moment found;
    return moment_of(&found, x, moment, true, true) ? found.day : CY_DAY_NONE;
}
