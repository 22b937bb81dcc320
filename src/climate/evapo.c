/* SPDX-License-Identifier: MIT
 * Reference evapotranspiration by the equations of FAO Irrigation and Drainage Paper 56. */
#include <caneyear/climate/evapo.h>

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include <caneyear/climate/radiation.h>

static const double default_wind_m_s = 2; /* FAO-56, chapter 3; from memory */
static const double mm_per_mj = 0.408;    /* what a megajoule evaporates */

double cy_evapo_saturation(double temperature_c)
{
    return 0.6108 * exp(17.27 * temperature_c / (temperature_c + 237.3));
}

double cy_evapo_saturation_slope(double temperature_c)
{
    double denominator = temperature_c + 237.3;

    return 4098 * cy_evapo_saturation(temperature_c) / (denominator * denominator);
}

double cy_evapo_pressure(double elevation_m)
{
    return 101.3 * pow((293 - 0.0065 * elevation_m) / 293, 5.26);
}

double cy_evapo_psychrometric(double pressure_kpa)
{
    return 0.000665 * pressure_kpa;
}

double cy_evapo_vapour_by_bulbs(double dry_c, double wet_c, double pressure_kpa)
{
    return cy_evapo_saturation(wet_c) - 0.000662 * pressure_kpa * (dry_c - wet_c);
}

double cy_evapo_wind_at_two(double wind_m_s, double height_m)
{
    if (height_m == 2)
        return wind_m_s; /* the profile's factor is 1.0002 there */
    return wind_m_s * 4.87 / log(67.8 * height_m - 5.42);
}

/* ---- the day ------------------------------------------------------------------------------- */

struct range {
    const char *field, *allowed;
    double value, low, high;
    bool may_be_unknown;
};

static bool ranges_hold(const struct range *ranges, size_t count, struct cy_issues *issues)
{
    bool good = true;

    for (size_t i = 0; i < count; i++) {
        const struct range *range = &ranges[i];
        if (range->value >= range->low && range->value <= range->high)
            continue;
        if (isnan(range->value) && range->may_be_unknown)
            continue;
        cy_issue_say(issues, CY_ISSUE_OUT_OF_RANGE, NULL, range->field, NULL, range->allowed);
        good = false;
    }
    return good;
}

static bool pair_holds(double low, double high, const char *field, const char *found,
                       const char *allowed, struct cy_issues *issues)
{
    if (!(low > high))
        return true;
    cy_issue_say(issues, CY_ISSUE_PAIR, NULL, field, found, allowed);
    return false;
}

static bool request_is_possible(const struct cy_evapo_request *r, struct cy_issues *issues)
{
    const struct range ranges[] = {
        {"tmin_c", "-90 to 60 C", r->tmin_c, -90, 60, false},
        {"tmax_c", "-90 to 60 C", r->tmax_c, -90, 60, false},
        {"latitude_deg", "-90 to 90", r->latitude_deg, -90, 90, false},
        {"elevation_m", "-500 to 9000 m", r->elevation_m, -500, 9000, false},
        {"day_of_year", "1 to 366", r->day_of_year, 1, 366, false},
        {"wind_m_s", "0 to 100 m/s", r->wind_m_s, 0, 100, true},
        {"wind_height_m", "0.5 to 200 m", r->wind_height_m, 0.5, 200, false},
        {"ea_kpa", "0 to 20 kPa", r->ea_kpa, 0, 20, true},
        {"rh_min_pct", "0 to 100 %", r->rh_min_pct, 0, 100, true},
        {"rh_max_pct", "0 to 100 %", r->rh_max_pct, 0, 100, true},
        {"radiation_mj", "0 to 60 MJ/m2", r->radiation_mj, 0, 60, true},
        {"sun_hours", "0 to 24 h", r->sun_hours, 0, 24, true},
        {"ground_heat_mj", "-60 to 60 MJ/m2", r->ground_heat_mj, -60, 60, false},
    };
    bool good = ranges_hold(ranges, sizeof ranges / sizeof ranges[0], issues);

    good &= pair_holds(r->tmin_c, r->tmax_c, "tmin_c", "a minimum above the maximum",
                       "a minimum no higher than the maximum", issues);
    good &= pair_holds(r->rh_min_pct, r->rh_max_pct, "rh_min_pct", "a minimum above the maximum",
                       "a minimum no higher than the maximum", issues);
    if (isnan(r->ea_kpa) && !isnan(r->rh_min_pct) && isnan(r->rh_max_pct)) {
        cy_issue_say(issues, CY_ISSUE_MISSING, NULL, "rh_max_pct", NULL, "0 to 100 %");
        good = false;
    }
    return good;
}

static void fill_humidity(struct cy_evapo *out, const struct cy_evapo_request *r)
{
    double at_min = cy_evapo_saturation(r->tmin_c), at_max = cy_evapo_saturation(r->tmax_c);

    out->es_kpa = (at_min + at_max) / 2; /* not that of the mean, which is too low */
    if (!isnan(r->ea_kpa)) {
        out->ea_kpa = r->ea_kpa;
    } else if (!isnan(r->rh_max_pct) && !isnan(r->rh_min_pct)) {
        out->ea_kpa = (at_min * r->rh_max_pct + at_max * r->rh_min_pct) / 200;
    } else if (!isnan(r->rh_max_pct)) {
        out->ea_kpa = at_min * r->rh_max_pct / 100;
    } else {
        out->ea_kpa = at_min;
        out->assumed |= CY_EVAPO_ASSUMED_HUMIDITY;
    }
}

static void fill_wind(struct cy_evapo *out, const struct cy_evapo_request *r)
{
    if (isnan(r->wind_m_s)) {
        out->u2_m_s = default_wind_m_s;
        out->assumed |= CY_EVAPO_ASSUMED_WIND;
    } else {
        out->u2_m_s = cy_evapo_wind_at_two(r->wind_m_s, r->wind_height_m);
    }
}

static void fill_radiation(struct cy_evapo *out, const struct cy_evapo_request *r)
{
    struct cy_radiation_day day;

    cy_radiation_day(&day, r->latitude_deg, r->day_of_year);
    out->ra_mj = day.extraterrestrial;
    out->daylight_h = day.daylight_h;
    out->rso_mj = cy_radiation_clear_sky(out->ra_mj, r->elevation_m);
    if (!isnan(r->radiation_mj)) {
        out->rs_mj = r->radiation_mj;
    } else if (!isnan(r->sun_hours)) {
        out->rs_mj = cy_radiation_from_sun_hours(&day, r->sun_hours);
    } else {
        out->rs_mj = cy_radiation_from_range(out->ra_mj, r->tmin_c, r->tmax_c, CY_RADIATION_INLAND);
        out->assumed |= CY_EVAPO_ASSUMED_RADIATION;
    }
    out->rns_mj = cy_radiation_net_short(out->rs_mj);
    out->rnl_mj = cy_radiation_net_long(r->tmin_c, r->tmax_c, out->ea_kpa, out->rs_mj, out->rso_mj);
    out->rn_mj = out->rns_mj - out->rnl_mj;
}

static double combination(const struct cy_evapo *e, double mean_c, double ground_heat_mj)
{
    double energy = mm_per_mj * e->slope_kpa_k * (e->rn_mj - ground_heat_mj);
    double air = e->gamma_kpa_k * 900 / (mean_c + 273) * e->u2_m_s * (e->es_kpa - e->ea_kpa);

    return (energy + air) / (e->slope_kpa_k + e->gamma_kpa_k * (1 + 0.34 * e->u2_m_s));
}

static double by_temperature(const struct cy_evapo *e, double mean_c, double range_k)
{
    return 0.0023 * (mean_c + 17.8) * sqrt(range_k) * mm_per_mj * e->ra_mj;
}

int cy_evapo_day(struct cy_evapo *out, const struct cy_evapo_request *request,
                 struct cy_issues *issues)
{
    double mean_c = (request->tmin_c + request->tmax_c) / 2;
    double et;

    *out = (struct cy_evapo){0};
    if (!request_is_possible(request, issues))
        return CY_INVALID;
    fill_humidity(out, request);
    fill_wind(out, request);
    fill_radiation(out, request);
    out->slope_kpa_k = cy_evapo_saturation_slope(mean_c);
    out->pressure_kpa = cy_evapo_pressure(request->elevation_m);
    out->gamma_kpa_k = cy_evapo_psychrometric(out->pressure_kpa);
    if (request->method == CY_EVAPO_TEMPERATURE) {
        et = by_temperature(out, mean_c, request->tmax_c - request->tmin_c);
        out->assumed = 0; /* it rests on temperatures alone: nothing was left out */
    } else {
        et = combination(out, mean_c, request->ground_heat_mj);
    }
    out->et_mm = fmax(0, et); /* dew and hoar frost are no water that a crop needs */
    return CY_OK;
}
