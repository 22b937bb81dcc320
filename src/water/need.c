/* SPDX-License-Identifier: MIT
 * How much water the crop needs: crop coefficients, the establishment year, run times. */
#include <caneyear/water/need.h>

#include <math.h>

const struct cy_water_kc cy_water_kc_berries = {
    .initial = 0.30, .mid = 1.05, .end = 0.50, .days = {20, 50, 75, 60}};

double cy_water_kc_at(const struct cy_water_kc *curve, double day)
{
    const double values[] = {curve->initial, curve->initial, curve->mid, curve->mid, curve->end};
    double start = 0.0;

    if (day <= 0.0)
        return curve->initial;
    for (int stage = 0; stage < 4; stage++) {
        const double length = curve->days[stage];
        if (day < start + length)
            return values[stage] + (values[stage + 1] - values[stage]) * (day - start) / length;
        start += length;
    }
    return curve->end;
}

double cy_water_kc_at_site(double kc, double wind_m_s, double rh_min_pct, double height_m)
{
    return kc + (0.04 * (wind_m_s - 2.0) - 0.004 * (rh_min_pct - 45.0)) * pow(height_m / 3.0, 0.3);
}

/* The abstract says "early July" and the like: days 5, 15 and 25 stand for early, mid and late. */
static const struct measured_point {
    int day_of_year;
    double kc;
} first_year[] = {{186, 0.24}, {278, 0.81}}, full_crop[] = {{176, 0.55}, {227, 0.88}, {268, 0.88}};

static double between(const struct measured_point *points, size_t count, int day_of_year)
{
    if (day_of_year <= points[0].day_of_year)
        return points[0].kc;
    for (size_t i = 1; i < count; i++) {
        const struct measured_point *a = &points[i - 1], *b = &points[i];
        if (day_of_year <= b->day_of_year)
            return a->kc + (b->kc - a->kc) * (day_of_year - a->day_of_year) /
                               (b->day_of_year - a->day_of_year);
    }
    return points[count - 1].kc;
}

double cy_water_kc_measured(enum cy_water_measured curve, int day_of_year)
{
    if (curve == CY_WATER_FIRST_YEAR)
        return between(first_year, sizeof first_year / sizeof *first_year, day_of_year);
    return between(full_crop, sizeof full_crop / sizeof *full_crop, day_of_year);
}

struct cy_water_week_need cy_water_week_need(const struct cy_water_week *week)
{
    const double wet = week->held_mm + week->rain_mm;
    const double stored = fmin(wet, week->storage_mm);
    const double used = fmin(stored, week->need_mm);

    return (struct cy_water_week_need){.net_mm = week->need_mm - used,
                                       .credited_mm = used,
                                       .lost_mm = wet - stored,
                                       .held_mm = stored - used};
}

struct cy_water_run_result cy_water_run_time(const struct cy_water_run_time *run)
{
    const double litres = 100.0 * run->net_mm * run->width_m / run->efficiency;
    const double flow_lph = 100.0 * run->flow_lph * run->lines / run->spacing_m;

    return (struct cy_water_run_result){.minutes = 60.0 * litres / flow_lph,
                                        .litres_per_100m = litres,
                                        .flow_lph_per_100m = flow_lph};
}
