/* SPDX-License-Identifier: MIT
 * On which days to tip a cohort whose emergence is spread. */
#include <caneyear/crop/tipping.h>

#include <math.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/stats.h>

/* In days after the mean day of emergence. */
struct course {
    double up, past; /* from emergence to the height, and to the ceiling */
    double window;   /* between the two */
    double reach;    /* canes this far to either side of the mean must be caught */
    double cutoff;
};

static bool above(double value, double limit)
{
    return isfinite(value) && value > limit;
}

static bool is_known(const struct cy_tipping *tipping)
{
    return above(tipping->height_m, 0) && above(tipping->ceiling_m, tipping->height_m) &&
           above(tipping->growth_m_d, 0) && isfinite(tipping->emerge_d) &&
           isfinite(tipping->emerge_sd_d) && tipping->emerge_sd_d >= 0 && tipping->bound > 0 &&
           tipping->bound < 1 && !isnan(tipping->cutoff_d);
}

static struct course course_of(const struct cy_tipping *tipping)
{
    const double z = -cy_normal_inverse(tipping->bound / 2);
    return (struct course){
        .up = tipping->height_m / tipping->growth_m_d,
        .past = tipping->ceiling_m / tipping->growth_m_d,
        .window = (tipping->ceiling_m - tipping->height_m) / tipping->growth_m_d,
        .reach = z * tipping->emerge_sd_d,
        .cutoff = tipping->cutoff_d - tipping->emerge_d,
    };
}

/* The share of canes that emerge before a moment, or after it. Without a deviation all of them
 * emerge at 0, which is neither before nor after 0. */
static double before(const struct cy_tipping *tipping, double moment)
{
    if (tipping->emerge_sd_d == 0)
        return moment > 0;
    return cy_normal_cdf(moment / tipping->emerge_sd_d);
}

static double after(const struct cy_tipping *tipping, double moment)
{
    return before(tipping, -moment);
}

double cy_tipping_missed(const struct cy_tipping *tipping, const double *days, int count)
{
    const struct course course = course_of(tipping);
    if (count == 0)
        return 1;
    double missed = 0, caught_to = -INFINITY; /* of emergence */
    for (int i = 0; i < count; i++) {
        const double day = days[i] - tipping->emerge_d, from = day - course.past;
        if (from > caught_to && from <= 0)
            missed += before(tipping, from) - before(tipping, caught_to);
        else if (from > caught_to)
            missed += after(tipping, caught_to) - after(tipping, from);
        caught_to = day - course.up;
    }
    return missed + after(tipping, caught_to);
}

static void set_passes(struct cy_tipping_plan *out, double first, double last)
{
    const double step = out->count > 1 ? (last - first) / (out->count - 1) : 0;
    for (int i = 0; i < out->count; i++)
        out->day[i] = i + 1 < out->count ? first + i * step : last;
}

/* The passes that would meet the bound and end soonest, as far as the cut-off lets them. */
static void cut_short(struct cy_tipping_plan *out, const struct cy_tipping *tipping,
                      const struct course *course)
{
    set_passes(out, course->past - course->reach, course->reach + course->up);
    int kept = 0;
    while (kept < out->needed && out->day[kept] <= course->cutoff)
        kept++;
    double caught_to = course->cutoff - course->past;
    if (kept > 0)
        caught_to = fmax(caught_to, out->day[kept - 1] - course->up);
    const double more = before(tipping, course->cutoff - course->up) - before(tipping, caught_to);
    if (more > tipping->bound / 2)
        out->day[kept++] = course->cutoff;
    out->count = kept;
}

int cy_tipping_passes(struct cy_tipping_plan *out, const struct cy_tipping *tipping)
{
    if (!is_known(tipping))
        return CY_INVALID;
    const struct course course = course_of(tipping);
    const double needed = fmax(1, ceil(2 * course.reach / course.window));
    if (!(needed <= CY_TIPPING_MOST))
        return CY_INVALID;

    struct cy_tipping_plan plan = {.needed = (int)needed, .count = (int)needed};
    /* About the middle of the window; no later than the cut-off, and then as much less early. */
    const double last = fmin(course.up + needed * course.window / 2, course.cutoff);
    plan.met = course.reach + course.up <= course.cutoff;
    if (plan.met)
        set_passes(&plan, course.up + course.past - last, last);
    else
        cut_short(&plan, tipping, &course);
    for (int i = 0; i < plan.count; i++)
        plan.day[i] += tipping->emerge_d;
    plan.missed = cy_tipping_missed(tipping, plan.day, plan.count);
    if (plan.met)
        plan.missed = fmin(plan.missed, tipping->bound); /* it is no more but for rounding */
    *out = plan;
    return CY_OK;
}
