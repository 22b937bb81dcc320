/* SPDX-License-Identifier: MIT
 * Sentences about a plan: reasons of jobs, notes on rows, chill, what never comes. */
#include "words/words.h"

#include <math.h>
#include <string.h>

static const char *const months[12] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                       "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

void cy_say_clean(struct cy_text *out, const char *text, bool ascii)
{
    cy_text_add_clean(out, text, strlen(text), ascii);
}

void cy_say_day(struct cy_text *out, double day, bool year)
{
    if (isnan(day) || day <= CY_DAY_NONE) {
        cy_text_add(out, "never");
        return;
    }
    struct cy_date date = cy_day_date((cy_day)floor(day + 0.5));
    cy_text_add_int(out, date.day);
    cy_text_add_char(out, ' ');
    cy_text_add(out, months[date.month - 1]);
    if (year) {
        cy_text_add_char(out, ' ');
        cy_text_add_int(out, date.year);
    }
}

/* A share as years of ten, the way a grower counts luck. */
static void say_years(struct cy_text *out, double share)
{
    int years = (int)floor(share * 10 + 0.5);
    if (years == 0) {
        cy_text_add(out, share > 0 ? "in fewer than 1 year of 20" : "in no year");
        return;
    }
    if (years == 10 && share < 1) {
        cy_text_add(out, "in more than 19 years of 20");
        return;
    }
    if (years == 10) {
        cy_text_add(out, "in every year");
        return;
    }
    cy_text_add(out, "in ");
    cy_text_add_int(out, years);
    cy_text_add(out, years == 1 ? " year of 10" : " years of 10");
}

void cy_say_never(struct cy_text *out, enum cy_never never, double share)
{
    static const char *const reasons[] = {
        [CY_COMES] = "comes",
        [CY_DOES_NOT_APPLY] = "does not apply",
        [CY_TOO_LITTLE_CHILL] = "too little chill",
        [CY_FLOWERS_FROZEN] = "frost on the flowers",
        [CY_WINTER_KILLED] = "killed by winter cold",
        [CY_FREEZE_FIRST] = "a freeze comes first",
        [CY_TOO_LITTLE_HEAT] = "too little heat",
        [CY_OUT_OF_SIGHT] = "past the days that the weathers cover",
    };
    cy_text_add(out, reasons[never]);
    if (never == CY_COMES || never == CY_DOES_NOT_APPLY)
        return;
    cy_text_add_char(out, ' ');
    say_years(out, share);
}

void cy_say_note(struct cy_text *out, enum cy_row_note note)
{
    switch (note) {
    case CY_NOTE_FRUITING_UNKNOWN:
        cy_text_add(out, "Nobody knows yet whether its canes fruit in their first year, so nothing "
                         "alive is cut down. To find out: most leaves of last year's canes have "
                         "three leaflets, those of new canes five (NC State, 28 May 2015); fruit "
                         "in late summer at the tips of five-leaflet canes means that they do.");
        break;
    case CY_NOTE_NO_FLORICANES_YET:
        cy_text_add(out, "Set this season: it has no canes of last year, so no crop on them yet.");
        break;
    case CY_NOTE_MOWN:
        cy_text_add(out, "Mown to the ground each winter for its autumn crop: chill for a crop on "
                         "last year's canes does not apply.");
        break;
    case CY_NOTE_NO_CHILL_FIGURE:
        cy_text_add(out, "No chill need is published for this cultivar: chill is no reason for a "
                         "verdict here.");
        break;
    case CY_NOTE_NOT_PLANTED:
        cy_text_add(out, "Not planted yet: what is planned here prepares it.");
        break;
    case CY_NOTE_REST_YEAR:
        cy_text_add(out, "Alternate years: this season it grows canes and bears nothing.");
        break;
    case CY_NOTE_FRUIT_YEAR:
        cy_text_add(out, "Alternate years: this season it bears, and keeps no new canes.");
        break;
    }
}

/* The chill rule's own word, number first: "400 hours 32-45 F". */
static const char *chill_word(enum cy_chill_kind kind)
{
    static const char *const words[] = {
#define KIND(name, word) [CY_CHILL_##name] = word,
        CY_CHILL_KINDS(KIND)
#undef KIND
    };
    return words[kind];
}

void cy_say_chill(struct cy_text *out, const struct cy_plan_cohort *cohort)
{
    if (!cohort->chill_applies) {
        cy_text_add(out, "does not apply");
        return;
    }
    if (!cohort->chill_known) {
        cy_text_add(out, "no need published or typed: no verdict");
        return;
    }
    cy_text_add_number(out, cohort->chill_need.value);
    cy_text_add_char(out, ' ');
    cy_text_add(out, chill_word(cohort->chill_rule));
    cy_text_add(out, ": met ");
    say_years(out, cohort->chill_met);
}

static void say_percent(struct cy_text *out, double share)
{
    cy_text_add_fixed(out, share * 100, 0);
    cy_text_add(out, " % of ");
}

void cy_say_cold(struct cy_text *out, const struct cy_plan_cohort *cohort)
{
    const struct cy_plan_cold *cold = &cohort->cold;
    if (isnan(cold->buds)) {
        cy_text_add(out, "no hardiness published or typed: no loss in winter assumed");
    } else {
        say_percent(out, cold->buds);
        cy_text_add(out, "the first buds live through winter");
    }
    if (isnan(cold->flowers))
        return;
    cy_text_add(out, "; ");
    say_percent(out, cold->flowers);
    cy_text_add(out,
                isnan(cold->buds) ? "the flowers through spring" : "their flowers through spring");
}

void cy_say_basis(struct cy_text *out, cy_basis basis)
{
    cy_text_add(out, cy_basis_word(basis));
    if ((basis & CY_BASIS_FITTED) && basis >= CY_BASIS_MADE && basis < CY_BASIS_PRACTICE)
        cy_text_add(out, ", fitted here");
}

void cy_say_behind(struct cy_text *out, cy_basis basis)
{
    cy_text_add(out, " [");
    cy_say_basis(out, basis);
    cy_text_add(out, "]");
}

void cy_say_kg_range(struct cy_text *out, const struct cy_figure *kg, enum cy_system system)
{
    cy_quantity_show(out, kg->p50, CY_Q_MASS, NULL, system, 0);
    cy_text_add(out, " (");
    cy_quantity_show(out, kg->p10, CY_Q_MASS, NULL, system, 0);
    cy_text_add(out, " to ");
    cy_quantity_show(out, kg->p90, CY_Q_MASS, NULL, system, 0);
    cy_text_add(out, ")");
}

/* ---- why a job is planned ------------------------------------------------------------------- */

static void say_between(struct cy_text *out, const struct cy_figure *figure)
{
    if (figure->p10 == figure->p90) {
        cy_text_add(out, "on ");
        cy_say_day(out, figure->p50, false);
        return;
    }
    cy_text_add(out, "between ");
    cy_say_day(out, figure->p10, false);
    cy_text_add(out, " and ");
    cy_say_day(out, figure->p90, false);
    cy_text_add(out, " in 8 years of 10");
}

static void say_stage(struct cy_text *out, const struct cy_plan_job *job)
{
    cy_text_add(out, cy_stage_word(job->reason.stage));
    cy_text_add(out, " by ");
    cy_say_day(out, job->reason.figure.p50, false);
    cy_text_add(out, " in the middle year; ");
    say_between(out, &job->reason.figure);
}

/* "... ; 20 in long some 28 days later" */
static void say_laterals(struct cy_text *out, const struct cy_plan *plan,
                         const struct cy_plan_job *job)
{
    enum cy_system system = cy_farm_system(&plan->farm);
    say_stage(out, job);
    cy_text_add(out, "; ");
    cy_quantity_show(out, job->reason.height_m, CY_Q_SIZE, system == CY_US ? "in" : "cm", system,
                     0);
    cy_text_add(out, " long some ");
    cy_text_add_number(out, job->reason.days);
    cy_text_add(out, job->reason.days == 1 ? " day later" : " days later");
}

static void say_tip(struct cy_text *out, const struct cy_plan *plan, const struct cy_plan_job *job)
{
    enum cy_system system = cy_farm_system(&plan->farm);
    cy_text_add(out, "half of the canes pass ");
    cy_quantity_show(out, job->reason.height_m, CY_Q_SIZE, system == CY_US ? "in" : "cm", system,
                     0);
    cy_text_add(out, " by ");
    cy_say_day(out, job->reason.figure.p50, false);
    cy_text_add(out, "; ");
    say_between(out, &job->reason.figure);
    if (job->reason.rounds == 0)
        return;
    cy_text_add(out, "; pass ");
    cy_text_add_int(out, job->round);
    cy_text_add(out, " of ");
    cy_text_add_int(out, job->reason.rounds);
    cy_text_add(out, job->reason.rounds == 1 ? ", which misses " : ", which miss ");
    cy_quantity_show(out, job->reason.share, CY_Q_SHARE, "%", system, 0);
    cy_text_add(out, " of the canes");
}

static void say_picking(struct cy_text *out, const struct cy_plan_job *job)
{
    cy_text_add(out, "every ");
    cy_text_add_number(out, job->reason.days);
    cy_text_add(out, " days from first pick, ");
    cy_say_day(out, job->reason.figure.p50, false);
    cy_text_add(out, " (");
    cy_say_day(out, job->reason.figure.p10, false);
    cy_text_add(out, " to ");
    cy_say_day(out, job->reason.figure.p90, false);
    cy_text_add(out, " in 8 years of 10), to last pick, ");
    cy_say_day(out, job->reason.closing.p50, false);
}

static void say_planting(struct cy_text *out, const struct cy_plan_job *job)
{
    int days = (int)job->reason.days;
    if (days != 0) {
        cy_text_add(out, "from ");
        cy_text_add_int(out, days < 0 ? -days : days);
        cy_text_add(out, days < 0 ? " days before " : " days after ");
    }
    cy_text_add(out, "planting on ");
    cy_say_day(out, job->reason.day, true);
}

static void say_dry_week(struct cy_text *out, const struct cy_plan *plan,
                         const struct cy_plan_job *job)
{
    enum cy_system system = cy_farm_system(&plan->farm);
    cy_text_add(out, "young plants want an inch a week: in the middle year rain leaves ");
    cy_quantity_show(out, job->reason.figure.p50, CY_Q_DEPTH_OF_WATER, NULL, system,
                     system == CY_US ? 1 : 0);
    cy_text_add(out, " missing, ");
    cy_quantity_show(out, job->reason.volume_m3, CY_Q_VOLUME, NULL, system, 0);
    cy_text_add(out, " over the strip that is wetted, and the week is short ");
    say_years(out, job->reason.share);
}

/* "the wire at 3 ft is at 171 lbf, below its working 180, for a week by 14 Jun; ...; take up
 * 0.6 in" */
static void say_wire(struct cy_text *out, const struct cy_plan *plan, const struct cy_plan_job *job)
{
    enum cy_system system = cy_farm_system(&plan->farm);
    const struct cy_reason *reason = &job->reason;
    cy_text_add(out, "the wire at ");
    cy_quantity_show(out, reason->height_m, CY_Q_LENGTH, NULL, system, 1);
    cy_text_add(out, " has been under its working tension of ");
    cy_quantity_show(out, reason->working_n, CY_Q_FORCE, NULL, system, 0);
    cy_text_add(out, " for a week, at ");
    cy_quantity_show(out, reason->force_n, CY_Q_FORCE, NULL, system, 0);
    cy_text_add(out, ", by ");
    cy_say_day(out, reason->figure.p50, false);
    cy_text_add(out, "; ");
    say_between(out, &reason->figure);
    if (reason->figure.never > 0) {
        cy_text_add(out, ", never ");
        say_years(out, reason->figure.never);
    }
    cy_text_add(out, reason->wires > 1 ? "; take up at most " : "; take up ");
    cy_quantity_show(out, reason->length_m, CY_Q_SIZE, NULL, system, system == CY_US ? 2 : 0);
    if (reason->wires > 1) {
        cy_text_add(out, " of each of ");
        cy_text_add_int(out, reason->wires);
        cy_text_add(out, " wires");
    }
}

/* "the soil lacks 0.8 in in this week (0.2 in to 1.3 in in 8 years of 10), ..." */
static void say_balance(struct cy_text *out, const struct cy_plan *plan,
                        const struct cy_plan_job *job)
{
    enum cy_system system = cy_farm_system(&plan->farm);
    const struct cy_figure *need = &job->reason.figure;
    int decimals = system == CY_US ? 1 : 0;
    cy_text_add(out, "the soil's balance: in the middle year the strip needs ");
    cy_quantity_show(out, need->p50, CY_Q_DEPTH_OF_WATER, NULL, system, decimals);
    cy_text_add(out, " more than rain gives it, ");
    cy_quantity_show(out, job->reason.volume_m3, CY_Q_VOLUME, NULL, system, 0);
    cy_text_add(out, " over the strip that is wetted; ");
    cy_quantity_show(out, need->p10, CY_Q_DEPTH_OF_WATER, NULL, system, decimals);
    cy_text_add(out, " to ");
    cy_quantity_show(out, need->p90, CY_Q_DEPTH_OF_WATER, NULL, system, decimals);
    cy_text_add(out, " in 8 years of 10, and the week is short ");
    say_years(out, job->reason.share);
}

void cy_say_reason(struct cy_text *out, const struct cy_plan *plan, const struct cy_plan_job *job)
{
    switch (job->reason.kind) {
    case CY_REASON_TIP:
        say_tip(out, plan, job);
        break;
    case CY_REASON_STAGE:
        say_stage(out, job);
        break;
    case CY_REASON_LATERALS:
        say_laterals(out, plan, job);
        break;
    case CY_REASON_PICKING:
        say_picking(out, job);
        break;
    case CY_REASON_PLANTING:
        say_planting(out, job);
        break;
    case CY_REASON_DRY_WEEK:
        say_dry_week(out, plan, job);
        break;
    case CY_REASON_WIRE:
        say_wire(out, plan, job);
        break;
    case CY_REASON_BALANCE:
        say_balance(out, plan, job);
        break;
    case CY_REASON_PRACTICE:
        cy_text_add(out, "the practice's window for this row");
        break;
    case CY_REASON_DATE:
        cy_text_add(out, "the time of year for it");
        break;
    }
}
