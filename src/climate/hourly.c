/* SPDX-License-Identifier: MIT
 * Linvill's rebuild of hourly temperatures, in the form whose nights join up.
 *
 * Linvill, HortScience 25(1):14-16, 1990, read in the source of the R package chillR
 * (make_hourly_temps, daylength). There the morning divides by ln(24 - set + rise) where the
 * evening divides by ln(24 - set + rise + 1), so one night's two halves do not meet and the air
 * falls below the minimum before sunrise. Here both have the + 1: the night is continuous and
 * the temperature at sunrise is the minimum. */
#include <caneyear/climate/hourly.h>

#include <math.h>
#include <stdbool.h>

#define PI 3.14159265358979323846
#define RADIANS (PI / 180)

/* The sun's upper edge on a refracting horizon (Almorox, Hontoria and Benito, 2005, as used by
 * chillR's daylength). */
#define SUNRISE_ALTITUDE_DEG (-0.8333)

/* Linvill's sine reaches its top two hours after noon. */
#define LAG_H 2.0

enum kind { RISES_AND_SETS, NEVER_SETS, NEVER_RISES };

struct arc {
    enum kind kind;
    double rise, set;
};

/* Spencer's series, 1971. It repeats after 365 days, so days 0 and 367 are welcome. */
static double declination_rad(int day_of_year)
{
    double g = 2 * PI * (day_of_year - 1) / 365;
    return 0.006918 - 0.399912 * cos(g) + 0.070257 * sin(g) - 0.006758 * cos(2 * g) +
           0.000907 * sin(2 * g) - 0.002697 * cos(3 * g) + 0.00148 * sin(3 * g);
}

static struct arc arc_of(double latitude_deg, int day_of_year)
{
    double latitude = latitude_deg * RADIANS;
    double declination = declination_rad(day_of_year);
    double up = sin(SUNRISE_ALTITUDE_DEG * RADIANS) - sin(latitude) * sin(declination);
    double across = cos(latitude) * cos(declination);
    if (up >= across)
        return (struct arc){NEVER_RISES, 12, 12};
    if (up <= -across)
        return (struct arc){NEVER_SETS, 0, 24};
    double half = acos(up / across) / RADIANS / 15;
    return (struct arc){RISES_AND_SETS, 12 - half, 12 + half};
}

/* The share of the day's range reached at an hour under the sun. Neither polar branch is
 * Linvill's, who has none: under the midnight sun a cosine with the same top hour, in the polar
 * night the middle of the range all day (as chillR fills it). */
static double range_share(const struct arc *day, double hour)
{
    if (day->kind == NEVER_RISES)
        return 0.5;
    if (day->kind == NEVER_SETS)
        return 0.5 + 0.5 * cos(2 * PI * (hour - 12 - LAG_H) / 24);
    return sin(PI * (hour - day->rise) / (day->set - day->rise + 2 * LAG_H));
}

/* How far a night has gone from its sunset temperature to its minimum, `since` hours after
 * sunset in a night that is `length` hours long. */
static double night_share(double since, double length)
{
    return length > 0 ? log(since + 1) / log(length + 1) : 1;
}

static bool before_sunrise(const struct arc *day, double hour)
{
    return day->kind == RISES_AND_SETS && hour <= day->rise;
}

static bool after_sunset(const struct arc *day, double hour)
{
    return day->kind == RISES_AND_SETS && hour > day->set;
}

static double share_at(const struct arc *before, const struct arc *day, const struct arc *after,
                       double hour)
{
    if (before_sunrise(day, hour))
        return night_share(24 - before->set + hour, 24 - before->set + day->rise);
    if (after_sunset(day, hour))
        return night_share(hour - day->set, 24 - day->set + after->rise);
    return range_share(day, hour);
}

static double between(double from, double to, double share)
{
    return from + share * (to - from);
}

double cy_hourly_sunrise(double latitude_deg, int day_of_year)
{
    return arc_of(latitude_deg, day_of_year).rise;
}

double cy_hourly_sunset(double latitude_deg, int day_of_year)
{
    return arc_of(latitude_deg, day_of_year).set;
}

double cy_hourly_at(const struct cy_hourly_input *in, double hour)
{
    struct arc before = arc_of(in->latitude_deg, in->day_of_year - 1);
    struct arc day = arc_of(in->latitude_deg, in->day_of_year);
    struct arc after = arc_of(in->latitude_deg, in->day_of_year + 1);
    double share = share_at(&before, &day, &after, hour);
    if (before_sunrise(&day, hour)) {
        double sunset = between(in->before_min, in->before_max, range_share(&before, before.set));
        return between(sunset, in->min, share);
    }
    if (after_sunset(&day, hour)) {
        double sunset = between(in->min, in->max, range_share(&day, day.set));
        return between(sunset, in->after_min, share);
    }
    return between(in->min, in->max, share);
}

void cy_hourly_sun_of(struct cy_hourly_sun *out, double latitude_deg, int day_of_year)
{
    struct arc before = arc_of(latitude_deg, day_of_year - 1);
    struct arc day = arc_of(latitude_deg, day_of_year);
    struct arc after = arc_of(latitude_deg, day_of_year + 1);
    out->light = out->dark = 0;
    for (int hour = 0; hour < 24; hour++) {
        out->share[hour] = share_at(&before, &day, &after, hour);
        out->light += before_sunrise(&day, hour);
        out->dark += !after_sunset(&day, hour);
    }
    out->sunset_share = range_share(&day, day.set);
    out->before_sunset_share = range_share(&before, before.set);
}

void cy_hourly_with(double out[24], const struct cy_hourly_sun *sun,
                    const struct cy_hourly_input *in)
{
    double before_sunset = between(in->before_min, in->before_max, sun->before_sunset_share);
    double sunset = between(in->min, in->max, sun->sunset_share);
    for (int hour = 0; hour < sun->light; hour++)
        out[hour] = between(before_sunset, in->min, sun->share[hour]);
    for (int hour = sun->light; hour < sun->dark; hour++)
        out[hour] = between(in->min, in->max, sun->share[hour]);
    for (int hour = sun->dark; hour < 24; hour++)
        out[hour] = between(sunset, in->after_min, sun->share[hour]);
}

void cy_hourly_day(double out[24], const struct cy_hourly_input *in)
{
    struct cy_hourly_sun sun;
    cy_hourly_sun_of(&sun, in->latitude_deg, in->day_of_year);
    cy_hourly_with(out, &sun, in);
}
