/* SPDX-License-Identifier: MIT
 * Calculations of water: reference evapotranspiration, soil balance, drip lines, run times. */
#include "inside.h"

#include <caneyear/base/text.h>
#include <caneyear/climate/evapo.h>
#include <caneyear/water/drip.h>
#include <caneyear/water/need.h>
#include <caneyear/water/soil.h>

#define SUBJECT "Water"

/* ---- reference evapotranspiration ----------------------------------------------------------- */

static const struct cy_pencil_argument et_arguments[] = {
    NEED("tmin", CELSIUS, -90, 60, "the day's minimum"),
    NEED("tmax", CELSIUS, -90, 60, "the day's maximum"),
    NEED("lat", DEGREE, -90, 90, LATITUDE),
    MAY_DATE("date", "the day, or else `day`"),
    MAY_WHOLE("day", 1, 366, NULL, "day of the year"),
    MAY("elevation", METRE, -500, 9000, NULL, "of the ground; needed with method=combination"),
    MAY("wind", M_S, 0, 100, NULL, "mean of the day (2 m/s where unknown)"),
    MAY("wind_height", METRE, 0.5, 200, "2", "of the wind gauge"),
    MAY("rh_min", PERCENT, 0, 100, NULL, "least relative humidity"),
    MAY("rh_max", PERCENT, 0, 100, NULL, "greatest relative humidity"),
    MAY("ea", KILOPASCAL, 0, 20, NULL, "vapour pressure, instead of the humidities"),
    MAY("sun_hours", HOUR, 0, 24, NULL, "of bright sun"),
    MAY("radiation", MJ_DAY, 0, 60, NULL, "of the sun on the ground, instead of sun_hours"),
    MAY("ground_heat", MJ_DAY, -60, 60, "0", "into the soil"),
    MAY_CHOICE("method", "combination, temperature", "combination",
               "Penman-Monteith, or Hargreaves and Samani by temperatures alone"),
};

static void note_assumed(struct cy_pencil_result *out, unsigned assumed)
{
    static const struct {
        unsigned bit;
        const char *words;
    } bits[] = {
        {CY_EVAPO_ASSUMED_WIND, "wind 2 m/s"},
        {CY_EVAPO_ASSUMED_HUMIDITY, "dew point at the minimum"},
        {CY_EVAPO_ASSUMED_RADIATION, "radiation from the range of temperature, inland"},
    };
    struct cy_text text = {0};
    for (size_t i = 0; i < COUNT_OF(bits); i++) {
        if (!(assumed & bits[i].bit))
            continue;
        cy_text_add(&text, text.length > 0 ? ", " : "not given, so assumed: ");
        cy_text_add(&text, bits[i].words);
    }
    cy_pencil__note(out, cy_text_get(&text));
    cy_text_dispose(&text);
}

/* What the formulas cannot mean: more sun than the day has, or than comes from outside the
 * atmosphere, and more vapour than the air holds. */
static int within_the_day(const struct cy_pencil_inputs *in, const struct cy_evapo *et,
                          struct cy_issues *issues)
{
    const struct {
        const char *name, *unit;
        double most;
    } bounds[] = {
        {"sun_hours", " h, the day's length", et->daylight_h},
        {"radiation", " MJ/m2 d, what comes from outside the atmosphere", et->ra_mj},
        {"ea", " kPa, the saturation at these temperatures", et->es_kpa},
    };
    for (size_t i = 0; i < COUNT_OF(bounds); i++) {
        struct cy_text allowed = {0};
        if (!cy_pencil__given(in, bounds[i].name) ||
            cy_pencil__number(in, bounds[i].name) <= bounds[i].most + 1e-9)
            continue;
        cy_text_add(&allowed, "0 to ");
        cy_text_add_fixed(&allowed, bounds[i].most, 2);
        cy_text_add(&allowed, bounds[i].unit);
        cy_pencil__wrong(in, issues, bounds[i].name, cy_text_get(&allowed));
        cy_text_dispose(&allowed);
        return CY_INVALID;
    }
    return CY_OK;
}

static int run_et(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                  const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_evapo_request request = CY_EVAPO_UNKNOWN;
    struct cy_evapo et;
    request.method = (enum cy_evapo_method)cy_pencil__choice(in, "method");
    request.tmin_c = cy_pencil__number(in, "tmin");
    request.tmax_c = cy_pencil__number(in, "tmax");
    request.latitude_deg = cy_pencil__number(in, "lat");
    request.elevation_m =
        cy_pencil__given(in, "elevation") ? cy_pencil__number(in, "elevation") : 0;
    request.wind_m_s = cy_pencil__number(in, "wind");
    request.wind_height_m = cy_pencil__number(in, "wind_height");
    request.ea_kpa = cy_pencil__number(in, "ea");
    request.rh_min_pct = cy_pencil__number(in, "rh_min");
    request.rh_max_pct = cy_pencil__number(in, "rh_max");
    request.radiation_mj = cy_pencil__number(in, "radiation");
    request.sun_hours = cy_pencil__number(in, "sun_hours");
    request.ground_heat_mj = cy_pencil__number(in, "ground_heat");
    if (!cy_pencil__day_of_year(&request.day_of_year, in, issues))
        return CY_INVALID;
    if (request.method == CY_EVAPO_COMBINATION && !cy_pencil__given(in, "elevation"))
        return cy_pencil__missing(in, issues, "elevation", "-500 to 9000 m");
    if (request.tmin_c > request.tmax_c)
        return cy_pencil__clash(in, issues, "tmin", "the minimum is above the maximum",
                                "a minimum no higher than the maximum");
    if (request.rh_min_pct > request.rh_max_pct)
        return cy_pencil__clash(in, issues, "rh_min", "the minimum is above the maximum",
                                "a minimum no higher than the maximum");
    if (isnan(request.ea_kpa) && isnan(request.rh_max_pct) && !isnan(request.rh_min_pct))
        return cy_pencil__missing(in, issues, "rh_max", "0 to 100 %, with rh_min=");
    int status = cy_evapo_day(&et, &request, issues);
    if (status == CY_OK && request.method == CY_EVAPO_COMBINATION)
        status = within_the_day(in, &et, issues);
    if (status)
        return status;
    out->value = et.et_mm;
    cy_pencil__also(out, "ra", et.ra_mj, CY_PENCIL_MJ_DAY);
    cy_pencil__also(out, "rs", et.rs_mj, CY_PENCIL_MJ_DAY);
    cy_pencil__also(out, "rn", et.rn_mj, CY_PENCIL_MJ_DAY);
    cy_pencil__also(out, "es", et.es_kpa, CY_PENCIL_KILOPASCAL);
    cy_pencil__also(out, "ea", et.ea_kpa, CY_PENCIL_KILOPASCAL);
    cy_pencil__also(out, "slope", et.slope_kpa_k, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "gamma", et.gamma_kpa_k, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "u2", et.u2_m_s, CY_PENCIL_M_S);
    if (request.method == CY_EVAPO_COMBINATION)
        note_assumed(out, et.assumed);
    return CY_OK;
}

/* ---- soil ----------------------------------------------------------------------------------- */

static const struct cy_pencil_argument balance_arguments[] = {
    NEED("taw", MM, 0.1, 2000, "total available water of the root zone"),
    NEED("p", SHARE, 0, 0.99, "share taken before stress, used as given"),
    NEED("depletion", MM, 0, 2000, "missing from a full root zone in the morning"),
    NEED("et", MM_DAY, 0, 50, "reference evapotranspiration"),
    NEED("kc", NUMBER, 0, 3, "crop coefficient"),
    MAY("rain", MM, 0, 2000, "0", "of the day"),
    MAY("irrigation", MM, 0, 2000, "0", "of the day"),
};

static int run_balance(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                       const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_water_day day = {
        .taw_mm = cy_pencil__number(in, "taw"),
        .p = cy_pencil__number(in, "p"),
        .depletion_mm = cy_pencil__number(in, "depletion"),
        .et_mm = cy_pencil__number(in, "et"),
        .kc = cy_pencil__number(in, "kc"),
        .rain_mm = cy_pencil__number(in, "rain"),
        .irrigation_mm = cy_pencil__number(in, "irrigation"),
    };
    if (day.depletion_mm > day.taw_mm)
        return cy_pencil__clash(in, issues, "depletion", "more is missing than the zone holds",
                                "a depletion from 0 to taw");
    struct cy_water_after after = cy_water_balance(&day);
    out->value = after.depletion_mm;
    cy_pencil__also(out, "ks", after.ks, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "eta", after.eta_mm, CY_PENCIL_MM_DAY);
    cy_pencil__also(out, "drainage", after.drainage_mm, CY_PENCIL_MM);
    return CY_OK;
}

/* ---- drip lines and pipes ------------------------------------------------------------------- */

static const struct cy_pencil_argument line_arguments[] = {
    NEED_WHOLE("emitters", 1, 100000, "on the line"),
    NEED("flow", L_H, 0.001, 1000, "of one emitter at the inlet head"),
    NEED("spacing", METRE, 0.01, 100, "between emitters"),
    NEED("bore", SIZE, 0.001, 1, "inside diameter"),
    MAY("c", NUMBER, 50, 200, "150", "Hazen-Williams, 150 for smooth polyethylene"),
    MAY("slope", NUMBER, -1, 1, "0", "rise over run along the line, uphill positive"),
    NEED("head", METRE, 0.01, 500, "of water at the inlet"),
    MAY("exponent", NUMBER, 0, 1, "0.5", "flow goes as head to this power: 0 compensating"),
    MAY("cv", NUMBER, 0, 0.5, "0.05", "variation of manufacture, a fraction"),
    MAY_CHOICE("first", "full, half", "full", "spacing from the inlet to the first emitter"),
    MAY_WHOLE("per_plant", 1, 100, "1", "emitters for one plant"),
};

static int run_line(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_water_line line = {
        .emitters = (int)cy_pencil__number(in, "emitters"),
        .flow_lph = cy_pencil__number(in, "flow"),
        .spacing_m = cy_pencil__number(in, "spacing"),
        .bore_m = cy_pencil__number(in, "bore"),
        .c = cy_pencil__number(in, "c"),
        .slope = cy_pencil__number(in, "slope"),
        .head_m = cy_pencil__number(in, "head"),
        .exponent = cy_pencil__number(in, "exponent"),
        .cv = cy_pencil__number(in, "cv"),
        .emitters_per_plant = (int)cy_pencil__number(in, "per_plant"),
        .first = (enum cy_water_first)cy_pencil__choice(in, "first"),
    };
    struct cy_water_line_result result;
    if (cy_water_line_solve(&result, NULL, &line))
        return cy_pencil__wrong(in, issues, "head", "a head that carries the water along the line");
    out->value = result.friction_m;
    cy_pencil__also(out, "flow_total", result.flow_total_lph, CY_PENCIL_L_H);
    cy_pencil__also(out, "factor", result.factor, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "uniformity", result.uniformity_pct, CY_PENCIL_PERCENT);
    if (result.dry > 0)
        cy_pencil__note(out, "the head runs out before the end: the last emitters stay dry");
    return CY_OK;
}

static const struct cy_pencil_argument pipe_arguments[] = {
    NEED("flow", L_S, 0, 1000, "through the pipe"),
    NEED("bore", SIZE, 0.001, 5, "inside diameter"),
    NEED("length", METRE, 0.01, 100000, "of the pipe"),
    MAY("c", NUMBER, 50, 200, "150", "Hazen-Williams, 150 for smooth polyethylene"),
};

static int run_pipe(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    struct cy_water_pipe pipe = {
        .flow_l_s = cy_pencil__number(in, "flow"),
        .bore_m = cy_pencil__number(in, "bore"),
        .length_m = cy_pencil__number(in, "length"),
        .c = cy_pencil__number(in, "c"),
    };
    struct cy_water_pipe_loss loss = cy_water_pipe_loss(&pipe);
    out->value = loss.loss_m;
    cy_pencil__also(out, "velocity", loss.velocity_m_s, CY_PENCIL_M_S);
    return CY_OK;
}

/* ---- run time ------------------------------------------------------------------------------- */

static const struct cy_pencil_argument run_arguments[] = {
    NEED("net", MM, 0, 1000, "to be given over the strip; crop coefficient and rain already in it"),
    NEED("width", METRE, 0.01, 100, "of the strip watered"),
    NEED("flow", L_H, 0.001, 1000, "of one emitter"),
    NEED("spacing", METRE, 0.01, 100, "between emitters"),
    MAY("lines", NUMBER, 0.5, 20, "1", "along each row"),
    MAY("efficiency", SHARE, 0.1, 1, "0.9", "share of the water that reaches the roots"),
};

static int run_time(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    struct cy_water_run_time run = {
        .net_mm = cy_pencil__number(in, "net"),
        .width_m = cy_pencil__number(in, "width"),
        .flow_lph = cy_pencil__number(in, "flow"),
        .spacing_m = cy_pencil__number(in, "spacing"),
        .lines = cy_pencil__number(in, "lines"),
        .efficiency = cy_pencil__number(in, "efficiency"),
    };
    struct cy_water_run_result result = cy_water_run_time(&run);
    out->value = result.minutes;
    cy_pencil__also(out, "volume", result.litres_per_100m, CY_PENCIL_LITRE);
    return CY_OK;
}

/* ---- the table ------------------------------------------------------------------------------ */

#define HAZEN "Hazen-Williams, 10.67 L Q^1.852/(C^1.852 d^4.87), Q in m3/s"

static const struct cy_pencil_calculation calculations[] = {
    {.name = "reference-et",
     .subject = SUBJECT,
     .what = "what short, well watered grass would use in a day",
     TAKES(et_arguments),
     .unit = CY_PENCIL_MM_DAY,
     .formula = "combination: (0.408 slope (Rn - G) + gamma 900/(T + 273) u2 (es - ea)) / (slope + "
                "gamma (1 + 0.34 u2)); temperature: 0.0023 (T + 17.8) sqrt(tmax - tmin) 0.408 Ra",
     .source = "FAO Irrigation and Drainage Paper 56, 1998, equations 6 and 52",
     .range = "days; temperatures from over or beside watered ground; slope and gamma in kPa/K",
     .run = run_et},
    {.name = "water-balance",
     .subject = SUBJECT,
     .what = "the root zone's depletion after a day",
     TAKES(balance_arguments),
     .unit = CY_PENCIL_MM,
     .formula =
         "depletion + ks kc et - rain - irrigation, no less than 0 (what is over drains) and "
         "no more than taw; ks = (taw - depletion)/((1 - p) taw), at most 1, from the "
         "morning's depletion",
     .source = "FAO Irrigation and Drainage Paper 56, chapter 8, equations 82 to 86 (from memory)",
     .range = "no run-off, no water from below",
     .run = run_balance},
    {.name = "drip-line",
     .subject = SUBJECT,
     .what = "friction loss along a drip line, each emitter at its own head",
     TAKES(line_arguments),
     .unit = CY_PENCIL_METRE,
     .formula = HAZEN ", summed from emitter to emitter; emitter flow = flow (head there/inlet "
                      "head)^exponent; uniformity = 100 (1 - 1.27 cv/sqrt(per_plant)) least/mean; "
                      "factor = sum k^1.852/N^2.852",
     .source = "Hazen-Williams as commonly printed; factor: Christiansen, University of California "
               "Bulletin 670, 1942; half a spacing first: Jensen and Fratini, 1957; uniformity: "
               "Karmeli and Keller (from memory)",
     .range = "full, turbulent flow; in small tubing below about 0.3 m/s the formula errs",
     .run = run_line},
    {.name = "pipe-loss",
     .subject = SUBJECT,
     .what = "friction loss of a pipe",
     TAKES(pipe_arguments),
     .unit = CY_PENCIL_METRE,
     .formula = HAZEN,
     .source = "Hazen-Williams as commonly printed",
     .range = "full, turbulent flow of water",
     .run = run_pipe},
    {.name = "run-time",
     .subject = SUBJECT,
     .what = "minutes to give a depth of water through a drip line",
     TAKES(run_arguments),
     .unit = CY_PENCIL_MINUTE,
     .formula = "60 net width/efficiency / (lines flow/spacing); volume for 100 m of row; one "
                "millimetre on one square metre is one litre",
     .source = "arithmetic",
     .range = "emitters at their rated flow",
     .run = run_time},
};

const struct cy_pencil__subject cy_pencil__water = {calculations, COUNT_OF(calculations)};
