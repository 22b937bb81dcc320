/* SPDX-License-Identifier: MIT
 * The passes of tipping over a row: when, how many, and what they miss. */
#include "season/plan_parts.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/stats.h>
#include <caneyear/crop/calendar.h>

/* Where the grower names no last day: the day by which one autumn in ten has frozen, 0 C, so that
 * what grows behind the cut can still harden. */
#define FROZEN_C 0.0
#define FROZEN_YEARS 0.1

/* The day by which it has frozen on a row in one autumn of ten; CY_DAY_NONE where it does not. Few
 * rows differ in how much colder their nights are. */
static int frozen_day(struct cy_frozen *frozen, const struct cy_plan *plan,
                      const struct cy_ensemble *ensemble, double colder_k)
{
    if (frozen->is_known && frozen->colder_k == colder_k)
        return CY_OK;
    cy_day from = cy_season_day(plan->latitude_deg, plan->season, 801, true);
    size_t count = (size_t)ensemble->count;
    double *days = cy_zeroed(count, sizeof *days);
    if (!days)
        return CY_NO_MEMORY;
    for (size_t member = 0; member < count; member++) {
        const struct cy_weather *weather = &ensemble->members[member].weather;
        days[member] = INFINITY;
        for (cy_day day = from; day <= plan->last; day++) {
            int i = cy_weather_index(weather, day);
            if (i >= 0 && weather->tmin_c[i] - colder_k <= FROZEN_C) {
                days[member] = day;
                break;
            }
        }
    }
    cy_sort(days, count);
    /* A day that a weather froze on, so that those without a frost need no middle. */
    double day = days[(size_t)ceil(FROZEN_YEARS * (double)count) - 1];
    *frozen = (struct cy_frozen){true, colder_k, isfinite(day) ? (cy_day)day : CY_DAY_NONE};
    free(days);
    return CY_OK;
}

/* Passes on whole days, none after the last one, and one for those that fall on the same. */
static void set_days(struct cy_passes *out, const struct cy_tipping_plan *plan)
{
    out->count = 0;
    for (int i = 0; i < plan->count; i++) {
        double day = floor(plan->day[i] + 0.5);
        if (out->last != CY_DAY_NONE && day > out->last)
            day = out->last;
        if (out->count == 0 || day > out->day[out->count - 1])
            out->day[out->count++] = day;
    }
}

int cy_row_passes(struct cy_passes *out, const struct cy_plan *plan,
                  const struct cy_ensemble *ensemble, const struct cy_row_facts *facts,
                  const struct cy_plan_cohort *canes, struct cy_frozen *frozen)
{
    const struct cy_traits *traits = &facts->traits;
    struct cy_given ceiling = cy_given(facts->practice, CY_PRACTICE_TIP_CEILING);
    struct cy_given bound = cy_given(facts->practice, CY_PRACTICE_TIP_MISSED);
    struct cy_given cutoff = cy_given(facts->practice, CY_PRACTICE_TIP_CUTOFF);
    double height_m = traits->tip_height_m.value, growth_m_d = canes->growth_m_d.value;
    struct cy_tipping tipping = {
        .height_m = height_m,
        .ceiling_m = ceiling.number,
        .growth_m_d = growth_m_d,
        /* The middle canes' emergence as their tipping day tells it: a height that was seen, or a
         * tip, has moved that day already. */
        .emerge_d = canes->stage[CY_STAGE_TIP].p50 - height_m / growth_m_d,
        .emerge_sd_d = traits->emerge_spread_d.value,
        .bound = bound.number,
    };
    /* The table's ceiling suits its own height; a taller tip keeps the same room above it. */
    if (tipping.ceiling_m <= height_m)
        tipping.ceiling_m = height_m + cy_field_info(CY_PRACTICE_TIP_CEILING)->fallback -
                            cy_field_info(CY_PRACTICE_TIP_HEIGHT)->fallback;
    *out =
        (struct cy_passes){.basis = canes->stage[CY_STAGE_TIP].basis | ceiling.basis | bound.basis |
                                    traits->emerge_spread_d.basis | canes->growth_m_d.basis};
    int status = CY_OK;
    if (cutoff.is_set) {
        out->last = cy_season_day(plan->latitude_deg, plan->season, (int)cutoff.number,
                                  cutoff.basis != CY_BASIS_GROWER);
        out->basis |= cutoff.basis;
    } else {
        status = frozen_day(frozen, plan, ensemble, traits->colder_k);
        out->last = frozen->day;
        out->basis |= cy_plan_weather_basis(plan);
    }
    tipping.cutoff_d = out->last == CY_DAY_NONE ? INFINITY : out->last;
    struct cy_tipping_plan passes;
    if (status == CY_OK)
        status = cy_tipping_passes(&passes, &tipping);
    if (status != CY_OK)
        return status;
    out->met = passes.met;
    set_days(out, &passes);
    out->missed = cy_tipping_missed(&tipping, out->day, out->count);
    return CY_OK;
}
