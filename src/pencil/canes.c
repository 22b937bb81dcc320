/* SPDX-License-Identifier: MIT
 * Calculations of the canes: tipping passes, cold injury, yield by row, plants. */
#include "inside.h"

#include <string.h>

#include <caneyear/base/text.h>
#include <caneyear/crop/cold.h>
#include <caneyear/crop/tipping.h>

#define SUBJECT "Canes"

/* ---- tipping -------------------------------------------------------------------------------- */

static const struct cy_pencil_argument tipping_arguments[] = {
    NEED("height", METRE, 0.05, 10, "of a cane when it is tipped, not what is left of it"),
    NEED("ceiling", METRE, 0.05, 10, "the height at which it is past tipping"),
    NEED("rate", M_DAY, 0.0001, 1, "height gained a day"),
    NEED_DATE("emerge_mean", "the mean day of emergence"),
    NEED("emerge_sd", DAY, 0, 365, "deviation of emergence among the canes"),
    NEED("bound", SHARE, 0.000001, 0.999999, "share of the cohort that may be missed"),
    MAY_DATE("cutoff", "no pass after this day (none)"),
};

/* The plan counts its days from the mean day of emergence. */
static void add_passes(struct cy_pencil_result *out, const struct cy_tipping_plan *plan,
                       cy_day mean)
{
    for (int i = 0; i < plan->count; i++) {
        double whole = floor(plan->day[i]);
        cy_day day = mean + (cy_day)whole;
        struct cy_text name = {0};
        cy_text_add(&name, "pass");
        cy_text_add_int(&name, i + 1);
        cy_pencil__also_day(out, cy_text_get(&name), cy_day_of_year(day) + (plan->day[i] - whole),
                            CY_PENCIL_NUMBER, day);
        cy_text_dispose(&name);
    }
}

/* The last pass may not come before canes of the later tail's edge are up to the height. */
static int refuse_cutoff(const struct cy_pencil_inputs *in, const struct cy_tipping_plan *plan,
                         struct cy_issues *issues)
{
    struct cy_text allowed = {0};
    cy_text_add(&allowed, "a later day, or a larger bound: ");
    cy_text_add_int(&allowed, plan->needed);
    cy_text_add(&allowed, plan->needed > 1 ? " passes are needed and" : " pass is needed and");
    cy_text_add(&allowed, " the last of them comes after the cut-off");
    cy_pencil__wrong(in, issues, "cutoff", cy_text_get(&allowed));
    cy_text_dispose(&allowed);
    return CY_INVALID;
}

static int run_tipping(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                       const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    cy_day mean = cy_pencil__day(in, "emerge_mean");
    struct cy_tipping tipping = {
        .height_m = cy_pencil__number(in, "height"),
        .ceiling_m = cy_pencil__number(in, "ceiling"),
        .growth_m_d = cy_pencil__number(in, "rate"),
        .emerge_sd_d = cy_pencil__number(in, "emerge_sd"),
        .bound = cy_pencil__number(in, "bound"),
        .cutoff_d = cy_pencil__given(in, "cutoff") ? cy_pencil__day(in, "cutoff") - mean : INFINITY,
    };
    struct cy_tipping_plan plan;
    if (!(tipping.ceiling_m > tipping.height_m))
        return cy_pencil__clash(in, issues, "ceiling", "the ceiling is not above the height",
                                "ceiling above height");
    if (tipping.ceiling_m / tipping.growth_m_d > 3650)
        return cy_pencil__wrong(in, issues, "rate", "a rate that reaches the ceiling in ten years");
    if (cy_tipping_passes(&plan, &tipping))
        return cy_pencil__wrong(in, issues, "bound", "what 60 passes or fewer can meet");
    if (!plan.met)
        return refuse_cutoff(in, &plan, issues);
    out->value = plan.count;
    add_passes(out, &plan, mean);
    cy_pencil__also(out, "missed", plan.missed, CY_PENCIL_SHARE);
    return CY_OK;
}

/* ---- cold ----------------------------------------------------------------------------------- */

static const struct cy_pencil_argument kill_arguments[] = {
    NEED("temp", CELSIUS, -60, 30, "of the buds, near enough of the air"),
    NEED_CHOICE("stage", "dormant, tight, bloom", "dormant buds, tight flower buds, open flowers"),
    {.name = "cultivar", .help = "with stage=dormant", .kind = CY_PENCIL_TEXT},
    MAY_DATE("date", "with stage=dormant; a northern winter"),
};

static void add_dates(struct cy_text *text, const struct cy_cold_cultivar *cultivar)
{
    static const char *const months[] = {"January",   "February", "March",    "April",
                                         "May",       "June",     "July",     "August",
                                         "September", "October",  "November", "December"};
    for (size_t i = 0; i<cultivar->count; i += cultivar->count> 1 ? cultivar->count - 1 : 1) {
        cy_text_add(text, i ? " to " : "");
        cy_text_add_int(text, cultivar->points[i].day);
        cy_text_add_char(text, ' ');
        cy_text_add(text, months[cultivar->points[i].month - 1]);
    }
    cy_text_add(text, ", what is published of ");
    cy_text_add(text, cultivar->name);
}

static int no_cultivar(const struct cy_pencil_inputs *in, struct cy_issues *issues)
{
    struct cy_text known = {0};
    const struct cy_cold_cultivar *cultivar;
    for (size_t i = 0; (cultivar = cy_cold_at(i)); i++) {
        cy_text_add(&known, i ? ", " : "");
        cy_text_add(&known, cultivar->name);
    }
    if (cy_pencil__given(in, "cultivar"))
        cy_pencil__wrong(in, issues, "cultivar", cy_text_get(&known));
    else
        cy_pencil__missing(in, issues, "cultivar", cy_text_get(&known));
    cy_text_dispose(&known);
    return CY_INVALID;
}

static int run_dormant(struct cy_cold_kill *kill, struct cy_pencil_result *out,
                       const struct cy_pencil_inputs *in, struct cy_issues *issues)
{
    const struct cy_pencil_value *named = cy_pencil__value(in, "cultivar");
    const struct cy_cold_cultivar *cultivar = named->given ? cy_cold_find(named->text) : NULL;
    if (!cultivar)
        return no_cultivar(in, issues);
    if (!cy_pencil__given(in, "date"))
        return cy_pencil__missing(in, issues, "date", "YYYY-MM-DD, with stage=dormant");
    if (!cy_cold_dormant(kill, cultivar, cy_pencil__day(in, "date"),
                         cy_pencil__number(in, "temp"))) {
        struct cy_text allowed = {0};
        add_dates(&allowed, cultivar);
        cy_pencil__wrong(in, issues, "date", cy_text_get(&allowed));
        cy_text_dispose(&allowed);
        return CY_INVALID;
    }
    cy_pencil__note(out, "t50 is published (Journal of the American Pomological Society, 2024, or "
                         "Fruit Varieties Journal 47(3), 1993); the width about it was fitted here "
                         "from survivals at -22 C");
    return CY_OK;
}

static int run_kill(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    enum cy_cold_stage stage = (enum cy_cold_stage)cy_pencil__choice(in, "stage");
    struct cy_cold_kill kill;
    if (stage == CY_COLD_DORMANT) {
        int status = run_dormant(&kill, out, in, issues);
        if (status)
            return status;
    } else {
        kill = cy_cold_flowers(stage, cy_pencil__number(in, "temp"));
    }
    out->value = kill.share;
    cy_pencil__also(out, "t50", kill.t50_c, CY_PENCIL_CELSIUS);
    return CY_OK;
}

/* ---- yield and plants ----------------------------------------------------------------------- */

static const struct cy_pencil_argument yield_arguments[] = {
    NEED("area_yield", KG_M2, 0, 100, "weight by area, such as 10000lb/acre"),
    NEED("row_spacing", METRE, 0.1, 100, "from row to row"),
};

static int run_yield(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    out->value = cy_pencil__number(in, "area_yield") * cy_pencil__number(in, "row_spacing");
    return CY_OK;
}

static const struct cy_pencil_argument plants_arguments[] = {
    MAY("area", AREA, 0, 1e9, NULL, "of the field, or else `length`"),
    MAY("length", METRE, 0, 1e7, NULL, "of row"),
    MAY("row_spacing", METRE, 0.1, 100, NULL, "from row to row; needed with `area`"),
    NEED("plant_spacing", METRE, 0.05, 100, "from plant to plant"),
};

static int run_plants(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                      const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    double row_m = cy_pencil__number(in, "length");
    if (cy_pencil__given(in, "area") == cy_pencil__given(in, "length"))
        return cy_pencil__missing(in, issues, "area", "area= or length=, one of the two");
    if (isnan(row_m)) {
        if (!cy_pencil__given(in, "row_spacing"))
            return cy_pencil__missing(in, issues, "row_spacing", "0.1 to 100 m, with area=");
        row_m = cy_pencil__number(in, "area") / cy_pencil__number(in, "row_spacing");
    }
    out->value = row_m / cy_pencil__number(in, "plant_spacing");
    cy_pencil__also(out, "row_length", row_m, CY_PENCIL_METRE);
    return CY_OK;
}

/* ---- the table ------------------------------------------------------------------------------ */

static const struct cy_pencil_calculation calculations[] = {
    {.name = "tipping",
     .subject = SUBJECT,
     .what = "the fewest passes that tip a cohort whose emergence is spread",
     TAKES(tipping_arguments),
     .counted = "passes",
     .formula = "a pass catches canes between `height` and `ceiling`, a window of (ceiling - "
                "height)/rate days; passes = ceil(2 z sd / window), z leaving half the bound in "
                "each tail of a normal emergence; passes stand a window apart, evenly about the "
                "mean, closer where the cut-off asks for it",
     .source = "geometry of an even growth rate; no growth rate of primocanes is published",
     .range = "one growth rate for all canes; all canes up from one normal flush",
     .caution = "tip in dry weather: cuts made before rain invite cane blight",
     .run = run_tipping},
    {.name = "bud-kill",
     .subject = SUBJECT,
     .what = "the share of buds or flowers that a cold night kills",
     TAKES(kill_arguments),
     .unit = CY_PENCIL_SHARE,
     .formula = "1 / (1 + exp((temp - t50)/s)); flowers: t50 -2.5 C, 98 % of the kill within 1.6 K "
                "(tight) or 0.3 K (bloom); dormant: t50 straight between published dates",
     .source = "-2.5 C: USDA-ARS data shown by NC State, April 2016; spans: Warmund and others, "
               "Fruit Varieties Journal 47(3):146-152, 1993; dormant: Journal of the American "
               "Pomological Society, January 2024",
     .range = "flowers; dormant primary buds of ten cultivars between the dates of their figures",
     .caution = "buds can be colder than the air of the station, and harden and soften with the "
                "weather of the weeks before",
     .run = run_kill},
    {.name = "row-yield",
     .subject = SUBJECT,
     .what = "yield of a length of row, from the yield of an area",
     TAKES(yield_arguments),
     .unit = CY_PENCIL_KG_M,
     .formula = "area_yield row_spacing",
     .source = "arithmetic",
     .range = "rows that fill the area",
     .run = run_yield},
    {.name = "plants",
     .subject = SUBJECT,
     .what = "plants for an area or a length of row",
     TAKES(plants_arguments),
     .counted = "plants",
     .formula = "area/(row_spacing plant_spacing), or length/plant_spacing",
     .source = "arithmetic",
     .range = "not rounded; no plant is added at the end of a row",
     .run = run_plants},
};

const struct cy_pencil__subject cy_pencil__canes = {calculations, COUNT_OF(calculations)};
