/* SPDX-License-Identifier: MIT
 * What the cold of one weather leaves of a crop. */
#include <caneyear/crop/injury.h>

#include <math.h>

#include <caneyear/base/stats.h>

static const double picked[3] = {0.05, 0.5, 0.95};
/* Where a normal distribution has them, in deviations from its middle; the first a hair further
 * out, so that half days are rounded away from the middle on either side. */
static const double picked_z[3] = {-1.6448536269514726, 0, 1.6448536269514722};

/* Less than one flower in a thousand dies of a night above this, and so few move no date. */
#define HARMLESS 0.001
#define HARMLESS_C (CY_COLD_FLOWER_C + 1.25)
/* And of one above this not one in a million million: spring has many such nights. */
#define WARM_C (CY_COLD_FLOWER_C + 5)

static cy_day last_of(const struct cy_nights *nights)
{
    return nights->first + nights->days;
}

double cy_nights_lowest(const struct cy_nights *nights, cy_day from, cy_day end)
{
    double lowest_c = INFINITY;
    from = from < nights->first ? nights->first : from;
    end = end > last_of(nights) ? last_of(nights) : end;
    for (cy_day day = from; day < end; day++)
        if (nights->low_c[day - nights->first] < lowest_c)
            lowest_c = nights->low_c[day - nights->first];
    return lowest_c - nights->colder_k;
}

struct cy_injury_buds cy_injury_buds(const struct cy_cold_course *course,
                                     const struct cy_nights *nights, cy_day midwinter, cy_day from,
                                     cy_day end)
{
    double worst_k = INFINITY; /* above what kills half */
    if (course->count == 0)
        return (struct cy_injury_buds){1, 1};
    from = from < nights->first ? nights->first : from;
    end = end > last_of(nights) ? last_of(nights) : end;
    for (cy_day day = from; day < end; day++) {
        double above_k = nights->low_c[day - nights->first] - nights->colder_k -
                         cy_cold_course_t50(course, day - midwinter);
        if (above_k < worst_k)
            worst_k = above_k;
    }
    return (struct cy_injury_buds){1 - cy_cold_buds_killed(worst_k, 0),
                                   1 - cy_cold_buds_killed(worst_k, -CY_COLD_SECOND_K)};
}

/* ---- flowers -------------------------------------------------------------------------------- */

/* Flowers by the day on which they open, from `reach` days before half bloom to as many after, and
 * what second buds bear behind that. */
enum { REACH = 366, LATEST = 61 };

/* The flowers of first or of second buds, going through the days on which they open. */
struct opening {
    const struct cy_nights *nights;
    cy_day from;
    double tight_c; /* the lowest night so far since they were tight buds */
};

/* What is left of the flowers that open on a day; days in order, none left out from `from` on. */
static double stands(struct opening *opening, cy_day opens)
{
    cy_day from = opens > opening->from ? opens : opening->from;
    if (opens > opening->from)
        opening->tight_c =
            fmin(opening->tight_c, cy_nights_lowest(opening->nights, opens - 1, opens));
    double open_c = cy_nights_lowest(opening->nights, from, opens + CY_INJURY_OPEN_DAYS);
    if (opening->tight_c > WARM_C && open_c > WARM_C)
        return 1;
    return fmin(1 - cy_cold_flowers(CY_COLD_TIGHT, opening->tight_c).share,
                1 - cy_cold_flowers(CY_COLD_BLOOM, open_c).share);
}

/* The days by which shares of all the weight are ripe, straight within a day. */
static void find_days(struct cy_injury_crop *out, const double *weight, int reach, double sum)
{
    double before = 0;
    int next = 0;
    for (int i = 0; next < 3 && i < 2 * reach + 1 + LATEST; i++) {
        for (; next < 3 && weight[i] > 0 && before + weight[i] >= picked[next] * sum; next++)
            out->day[next] = i - reach - 0.5 + (picked[next] * sum - before) / weight[i];
        before += weight[i];
    }
}

static void lay_flowers(struct cy_injury_crop *out, const struct cy_injury_bloom *bloom,
                        const struct cy_nights *nights, int reach)
{
    const int late = (int)floor(bloom->second_late_d + 0.5);
    const int soonest = bloom->first - bloom->half;
    struct opening first = {nights, bloom->from, INFINITY};
    struct opening second = {nights, bloom->from + late, INFINITY};
    double weight[2 * REACH + 1 + LATEST];
    double all = 0, left = 0, flowers = 0;
    double by_then = cy_normal_cdf((-reach - 0.5) / bloom->deviation_d);
    for (int i = 0; i < 2 * reach + 1 + LATEST; i++)
        weight[i] = 0;
    for (int day = -reach; day <= reach; day++) {
        const int opens = day > soonest ? day : soonest; /* `soonest` is within the reach */
        const double by_now = cy_normal_cdf((day + 0.5) / bloom->deviation_d);
        const double share = by_now - by_then;
        const double stand = stands(&first, bloom->half + opens);
        const double borne = share * bloom->alive * stand;
        const double after =
            (share - borne) * bloom->second * stands(&second, bloom->half + late + opens);
        weight[opens + reach] += borne;
        weight[opens + reach + late] += after;
        flowers += share * stand;
        left += borne + after;
        all += share;
        by_then = by_now;
    }
    out->share = left / all;
    out->flowers_left = flowers / all;
    find_days(out, weight, reach, left);
}

void cy_injury_flowers(struct cy_injury_crop *out, const struct cy_injury_bloom *bloom,
                       const struct cy_nights *nights)
{
    for (int i = 0; i < 3; i++)
        out->day[i] = bloom->deviation_d * picked_z[i];
    const int reach = (int)fmin(ceil(3 * bloom->deviation_d) + 1, REACH);
    const cy_day end = bloom->half + reach + CY_INJURY_OPEN_DAYS;
    out->share = out->flowers_left = 1;
    if (1 - bloom->alive < HARMLESS && cy_nights_lowest(nights, bloom->from, end) > HARMLESS_C)
        return;
    lay_flowers(out, bloom, nights, reach);
}
