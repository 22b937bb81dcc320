/* SPDX-License-Identifier: MIT
 * Wires through the year: temperatures sorted once for all rows, then each wire read off them.
 *
 * A bare wire's tension falls as its temperature rises, so a share of the days by temperature is
 * the same share by tension, and the day on which it goes slack is the day on which a threshold of
 * temperature is passed: no day is solved by itself. */
#include "season/trellis_parts.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/stats.h>
#include <caneyear/crop/calendar.h>

enum { WEEK = CY_TRELLIS_SLACK_DAYS, WARM_DAYS = 182 };

static double mean_on(const struct cy_member *member, cy_day day)
{
    int at = cy_weather_index(&member->weather, day);
    return (member->weather.tmin_c[at] + member->weather.tmax_c[at]) / 2;
}

/* ---- the season's temperatures ----------------------------------------------------------------
 */

/* The season's days by month, so that each is sorted by itself: their count is known. */
static int sort_months(struct cy_trellis_climate *out, const struct cy_plan *plan,
                       const struct cy_ensemble *ensemble)
{
    size_t days = (size_t)(plan->last - plan->first + 1), count = (size_t)ensemble->count;
    double *pool = cy_zeroed(days * count, sizeof *pool);
    if (!pool)
        return CY_NO_MEMORY;
    for (int month = 0; month < 12; month++) {
        size_t held = 0;
        for (cy_day day = plan->first; day <= plan->last; day++)
            if (cy_day_date(day).month == month + 1)
                for (int i = 0; i < ensemble->count; i++)
                    pool[held++] = mean_on(&ensemble->members[i], day);
        out->month_c[month] = cy_figure_of(pool, held, out->basis);
    }
    free(pool);
    return CY_OK;
}

static int find_extremes(struct cy_trellis_climate *out, const struct cy_plan *plan,
                         const struct cy_ensemble *ensemble)
{
    size_t count = (size_t)ensemble->count, days = (size_t)(plan->last - plan->first + 1);
    double *nights = cy_zeroed(count, sizeof *nights), *heats = cy_zeroed(count, sizeof *heats);
    double *means = cy_zeroed(days, sizeof *means);
    int status = nights && heats && means ? CY_OK : CY_NO_MEMORY;
    for (size_t i = 0; status == CY_OK && i < count; i++) {
        const struct cy_member *member = &ensemble->members[i];
        int at = cy_weather_index(&member->weather, plan->first);
        nights[i] = INFINITY;
        heats[i] = -INFINITY;
        for (size_t day = 0; day < days; day++) {
            double mean = mean_on(member, plan->first + (cy_day)day);
            nights[i] = fmin(nights[i], member->weather.tmin_c[at + (int)day]);
            heats[i] = fmax(heats[i], mean);
            means[day] += mean / (double)count;
        }
    }
    if (status == CY_OK) {
        out->night_c = cy_figure_of(nights, count, out->basis);
        out->heat_c = cy_figure_of(heats, count, out->basis);
        cy_sort(means, days);
        size_t warm = days < WARM_DAYS ? days : WARM_DAYS;
        for (size_t i = days - warm; i < days; i++)
            out->summer_c += means[i] / (double)warm;
    }
    free(nights);
    free(heats);
    free(means);
    return status;
}

/* The coolest day of the week that ends on each day, and the warmest such week so far. */
static int find_floors(struct cy_trellis_climate *out, const struct cy_plan *plan,
                       const struct cy_ensemble *ensemble)
{
    struct cy_date first = cy_day_date(plan->first);
    int midwinter = plan->latitude_deg < 0 ? 7 : 1;
    int year = first.month < midwinter || (first.month == midwinter && first.day == 1)
                   ? first.year
                   : first.year + 1;
    out->slack_from = cy_day_of(year, midwinter, 1);
    out->slack_days = plan->last - out->slack_from + 1;
    if (out->slack_days < WEEK)
        out->slack_days = 0;
    size_t days = (size_t)out->slack_days;
    out->floor_c = cy_zeroed(days * (size_t)ensemble->count + 1, sizeof *out->floor_c);
    if (!out->floor_c)
        return CY_NO_MEMORY;
    for (int i = 0; i < ensemble->count; i++) {
        double *floors = out->floor_c + days * (size_t)i;
        for (size_t day = 0; day < days; day++) {
            double coolest = INFINITY;
            for (int back = 0; back < WEEK; back++)
                coolest = fmin(
                    coolest, mean_on(&ensemble->members[i], out->slack_from + (cy_day)day - back));
            floors[day] = day > 0 ? fmax(floors[day - 1], coolest) : coolest;
        }
    }
    return CY_OK;
}

int cy_trellis_climate_of(struct cy_trellis_climate *out, const struct cy_plan *plan,
                          const struct cy_ensemble *ensemble)
{
    struct cy_normals normals;
    *out = (struct cy_trellis_climate){.basis = cy_plan_weather_basis(plan), .winter_c = INFINITY};
    if (cy_farm_normals(&normals, &out->normals, &plan->farm) == CY_OK)
        for (int month = 0; month < 12; month++)
            out->winter_c =
                fmin(out->winter_c, (normals.tmin_c[month] + normals.tmax_c[month]) / 2);
    int status = sort_months(out, plan, ensemble);
    if (status == CY_OK)
        status = find_extremes(out, plan, ensemble);
    if (status == CY_OK)
        status = find_floors(out, plan, ensemble);
    if (status != CY_OK)
        cy_trellis_climate_dispose(out);
    return status;
}

void cy_trellis_climate_dispose(struct cy_trellis_climate *climate)
{
    free(climate->floor_c);
    *climate = (struct cy_trellis_climate){0};
}

/* The first day whose floor is above the threshold; -1 where there is none. */
static int first_above(const double *floors, int days, double above_c)
{
    int low = 0, high = days;
    while (low < high) {
        int middle = (low + high) / 2;
        if (floors[middle] > above_c)
            high = middle;
        else
            low = middle + 1;
    }
    return low < days ? low : -1;
}

static double week_mean(const struct cy_member *member, cy_day last)
{
    double sum = 0;
    for (int back = 0; back < WEEK; back++)
        sum += mean_on(member, last - back);
    return sum / WEEK;
}

struct cy_figure cy_trellis_slack(double *mean_c, const struct cy_trellis_climate *climate,
                                  const struct cy_ensemble *ensemble, double above_c,
                                  double *scratch)
{
    size_t reached = 0;
    double sum = 0;
    for (int i = 0; i < ensemble->count; i++) {
        int day = first_above(climate->floor_c + (size_t)climate->slack_days * (size_t)i,
                              climate->slack_days, above_c);
        if (day < 0)
            continue;
        sum += week_mean(&ensemble->members[i], climate->slack_from + day);
        scratch[reached++] = climate->slack_from + day;
    }
    *mean_c = reached > 0 ? sum / (double)reached : NAN;
    struct cy_figure figure = cy_figure_of(scratch, reached, climate->basis);
    figure.never = (double)(ensemble->count - (int)reached) / ensemble->count;
    return figure;
}

/* ---- a wire's year ----------------------------------------------------------------------------
 */

struct bare {
    struct cy_wire_change_input input;
    double set_at_c;
};

static double tension_at(double *sag_m, const struct bare *bare, double temperature_c)
{
    struct cy_wire_change_result result;
    struct cy_wire_change_input input = bare->input;
    input.rise_k = temperature_c - bare->set_at_c;
    if (cy_wire_change(&result, &input, NULL) != CY_OK)
        return NAN;
    if (sag_m)
        *sag_m = result.sag_m;
    return result.tension_n;
}

static void months_of(struct cy_trellis_wire *out, const struct bare *bare,
                      const struct cy_trellis_climate *climate, double cooler_k)
{
    for (int month = 0; month < 12; month++) {
        const struct cy_figure *mean = &climate->month_c[month];
        out->month_n[month] = (struct cy_figure){
            .p10 = tension_at(NULL, bare, mean->p90 - cooler_k),
            .p50 = tension_at(&out->month_sag_m[month], bare, mean->p50 - cooler_k),
            .p90 = tension_at(NULL, bare, mean->p10 - cooler_k),
            .basis = out->basis,
        };
    }
}

/* When the wire goes slack, and what to wind in then. */
static void slacken(struct cy_trellis_wire *out, const struct bare *bare,
                    const struct cy_trellis_climate *climate, const struct cy_ensemble *ensemble,
                    double cooler_k, double *scratch)
{
    double rise;
    struct cy_wire_take_up_result wound;
    struct cy_wire_change_input input = bare->input;
    out->slack = (struct cy_figure){NAN, NAN, NAN, 1, out->basis};
    out->take_up_m = out->slack_mean_c = out->slack_n = out->slack_above_c = NAN;
    if (cy_wire_rise_to(&rise, &input, out->working_n, NULL) != CY_OK)
        return;
    out->slack_above_c = bare->set_at_c + rise;
    out->slack = cy_trellis_slack(&out->slack_mean_c, climate, ensemble,
                                  out->slack_above_c + cooler_k, scratch);
    out->slack.basis = out->basis;
    if (isnan(out->slack_mean_c))
        return;
    out->slack_mean_c -= cooler_k;
    out->slack_n = tension_at(NULL, bare, out->slack_mean_c);
    input.rise_k = out->slack_mean_c - bare->set_at_c;
    if (cy_wire_take_up(&wound, &input, out->set_n, NULL) == CY_OK)
        out->take_up_m = wound.take_up_m;
}

static void wire_of_year(struct cy_trellis_wire *out, const struct cy_trellis_frame *frame,
                         int wire, const struct cy_trellis_climate *climate,
                         const struct cy_ensemble *ensemble, double *scratch)
{
    const struct cy_trellis_frame_wire *one = &frame->wires[wire];
    const struct cy_trellis_load bare_load = {.temperature_c = one->set_at_c.value};
    struct cy_trellis_metal metal;
    struct bare bare = {.set_at_c = one->set_at_c.value};
    *out = (struct cy_trellis_wire){.height_m = one->height_m.value,
                                    .kind = one->kind,
                                    .refusal = cy_trellis_wire_known(one),
                                    .strength_n = NAN,
                                    .set_n = one->tension_n.value,
                                    .working_n = one->working_n.value,
                                    .set_at_c = one->set_at_c.value,
                                    .slack = {NAN, NAN, NAN, 1, CY_BASIS_NONE}};
    if (cy_trellis_metal_of(&metal, one) == CY_REFUSED_NOT)
        out->strength_n = metal.strength_n;
    if (out->refusal)
        return;
    cy_trellis_wire_change(&bare.input, frame, wire, &metal, &bare_load);
    out->basis = one->tension_n.basis | one->set_at_c.basis | one->gauge.basis |
                 frame->lean_m.basis | frame->weather | CY_BASIS_PUBLISHED;
    out->cold_n = tension_at(NULL, &bare, frame->cold_c);
    out->heat_n = tension_at(NULL, &bare, frame->heat_c);
    out->heat_set_cold_n = cy_trellis_tension(NULL, frame, wire, CY_CASE_HEAT);
    struct bare upright = bare;
    upright.input.end_lean_m = 0;
    out->lean_n = tension_at(NULL, &upright, one->set_at_c.value) -
                  tension_at(NULL, &bare, one->set_at_c.value);
    out->fruit_n = cy_trellis_tension(&out->fruit_sag_m, frame, wire, CY_CASE_FRUIT);
    double cooler = frame->colder_k.value / 2;
    months_of(out, &bare, climate, cooler);
    slacken(out, &bare, climate, ensemble, cooler, scratch);
}

/* The wire that goes slack first in the middle year, how many do, the most to wind in. */
static void gather(struct cy_trellis_verdict *verdict)
{
    for (int i = 0; i < verdict->wire_count; i++) {
        const struct cy_trellis_wire *wire = &verdict->wires[i];
        if (isnan(wire->slack.p50))
            continue;
        verdict->slack_wires++;
        verdict->take_up_m = fmax(verdict->take_up_m, wire->take_up_m);
        if (verdict->slack_wire < 0 ||
            wire->slack.p50 < verdict->wires[verdict->slack_wire].slack.p50)
            verdict->slack_wire = i;
    }
}

int cy_trellis_wires_of_year(struct cy_trellis_verdict *verdict,
                             const struct cy_trellis_frame *frame,
                             const struct cy_trellis_climate *climate,
                             const struct cy_ensemble *ensemble)
{
    double *scratch = cy_zeroed((size_t)ensemble->count, sizeof *scratch);
    verdict->wires = cy_zeroed((size_t)frame->wire_count + 1, sizeof *verdict->wires);
    if (!scratch || !verdict->wires) {
        free(scratch);
        return CY_NO_MEMORY;
    }
    verdict->wire_count = frame->wire_count;
    for (int i = 0; i < frame->wire_count; i++)
        wire_of_year(&verdict->wires[i], frame, i, climate, ensemble, scratch);
    free(scratch);
    gather(verdict);
    return CY_OK;
}
