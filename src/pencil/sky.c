/* SPDX-License-Identifier: MIT
 * Calculations of the sun: day length, position, rise and set, shade, radiation. */
#include "inside.h"

#include <string.h>

#include <caneyear/base/text.h>
#include <caneyear/climate/obstacle.h>
#include <caneyear/climate/radiation.h>
#include <caneyear/climate/sun.h>

#define SUBJECT "Climate"
#define SUN_SOURCE                                                                                 \
    "low-precision series of Meeus, Astronomical Algorithms; checked against Reda and Andreas, "   \
    "Solar Energy 76:577-589, 2004"
#define LONGITUDE "degrees, east positive"

/* ---- rise, set and place -------------------------------------------------------------------- */

static const struct cy_pencil_argument day_length_arguments[] = {
    NEED("lat", DEGREE, -90, 90, LATITUDE),
    NEED_DATE("date", "the day"),
    MAY("lon", DEGREE, -180, 180, "-90", LONGITUDE "; moves the day by seconds only"),
};

static int run_day_length(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                          const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    cy_day day = cy_pencil__day(in, "date");
    double lat = cy_pencil__number(in, "lat"), lon = cy_pencil__number(in, "lon");
    out->value = cy_sun_day_length(day, lat, lon, CY_SUN_RIM_DEG);
    cy_pencil__also(out, "geometric", cy_sun_day_length(day, lat, lon, 0), CY_PENCIL_HOUR);
    return CY_OK;
}

static const struct cy_pencil_argument position_arguments[] = {
    NEED("lat", DEGREE, -90, 90, LATITUDE),
    NEED("lon", DEGREE, -180, 180, LONGITUDE),
    {.name = "time",
     .help = "with the clock's distance from universal time",
     .kind = CY_PENCIL_TIME,
     .required = true},
    MAY("elevation", METRE, -500, 9000, "0", "of the ground; too small a matter for this series"),
    MAY("pressure", HECTOPASCAL, 0, 1200, "1013.25", "of the air, for the refraction"),
    MAY("temp", CELSIUS, -90, 60, "10", "of the air, for the refraction"),
};

static int run_position(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                        const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    const struct cy_pencil_value *time = cy_pencil__value(in, "time");
    struct cy_sun_position sun;
    cy_sun_position(&sun, cy_sun_julian_day(time->day, time->hour), cy_pencil__number(in, "lat"),
                    cy_pencil__number(in, "lon"), cy_pencil__number(in, "pressure"),
                    cy_pencil__number(in, "temp"));
    out->value = sun.altitude_deg;
    cy_pencil__also(out, "azimuth", sun.azimuth_deg, CY_PENCIL_DEGREE);
    cy_pencil__also(out, "zenith", sun.zenith_deg, CY_PENCIL_DEGREE);
    cy_pencil__also(out, "apparent_altitude", sun.apparent_altitude_deg, CY_PENCIL_DEGREE);
    return CY_OK;
}

static const struct cy_pencil_argument times_arguments[] = {
    NEED("lat", DEGREE, -90, 90, LATITUDE),
    NEED("lon", DEGREE, -180, 180, LONGITUDE),
    NEED_DATE("date", "the local day"),
    NEED("zone", HOUR, -14, 14, "how far the clock is ahead of universal time"),
};

static int run_times(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_sun_times sun;
    cy_sun_times(&sun, cy_pencil__day(in, "date"), cy_pencil__number(in, "lat"),
                 cy_pencil__number(in, "lon"), cy_pencil__number(in, "zone"), CY_SUN_RIM_DEG);
    if (sun.kind != CY_SUN_RISES_AND_SETS)
        return cy_pencil__wrong(in, issues, "date",
                                sun.kind == CY_SUN_NEVER_SETS
                                    ? "days on which the sun sets there; on this one it does not"
                                    : "days on which the sun rises there; on this one it does not");
    out->value = sun.sunrise_h;
    cy_pencil__also(out, "sunset", sun.sunset_h, CY_PENCIL_HOUR);
    cy_pencil__also(out, "noon", sun.noon_h, CY_PENCIL_HOUR);
    return CY_OK;
}

/* ---- shade ---------------------------------------------------------------------------------- */

static const struct cy_pencil_argument hours_arguments[] = {
    NEED("lat", DEGREE, -90, 90, LATITUDE),
    MAY_DATE("date", "the day, or else `declination`"),
    MAY("declination", DEGREE, -23.5, 23.5, NULL, "of the sun, held for the day"),
    {.name = "line",
     .help = "a long tree line or wall: azimuth:height/distance, the height above the plant",
     .kind = CY_PENCIL_TEXT,
     .repeats = true},
    {.name = "band",
     .help = "a stretch of horizon: azimuth from:to:altitude, clockwise",
     .kind = CY_PENCIL_TEXT,
     .repeats = true},
};

/* The text up to `mark` (all of it for '\0') as a number; steps behind the mark. */
static bool take_number(double *out, const char **at, char mark, enum cy_pencil_unit unit,
                        double low, double high)
{
    const char *end = strchr(*at, mark);
    if (!end || cy_pencil__quantity(out, *at, (size_t)(end - *at), unit) != CY_UNIT_OK)
        return false;
    *at = end + (mark != '\0');
    return *out >= low && *out <= high;
}

static bool read_line(struct cy_obstacle *out, const char *text)
{
    double height, distance;
    out->kind = CY_OBSTACLE_LINE;
    if (!take_number(&out->azimuth_deg, &text, ':', CY_PENCIL_DEGREE, -360, 360) ||
        !take_number(&height, &text, '/', CY_PENCIL_METRE, 0, 1000) ||
        !take_number(&distance, &text, '\0', CY_PENCIL_METRE, 0.01, 100000))
        return false;
    out->height_over_distance = height / distance;
    return true;
}

static bool read_band(struct cy_obstacle *out, const char *text)
{
    out->kind = CY_OBSTACLE_BAND;
    return take_number(&out->from_deg, &text, ':', CY_PENCIL_DEGREE, -360, 360) &&
           take_number(&out->to_deg, &text, ':', CY_PENCIL_DEGREE, -360, 360) &&
           take_number(&out->altitude_deg, &text, '\0', CY_PENCIL_DEGREE, 0, 90);
}

static int read_obstacles(struct cy_obstacle out[CY_PENCIL_WORDS], size_t *count,
                          const struct cy_pencil_inputs *in, struct cy_issues *issues)
{
    *count = 0;
    for (size_t i = 0; i < in->word_count; i++) {
        const char *name = in->calculation->arguments[in->words[i].argument].name;
        bool is_line = cy_streq(name, "line");
        if (!is_line && !cy_streq(name, "band"))
            continue;
        struct cy_obstacle *obstacle = &out[(*count)++];
        *obstacle = (struct cy_obstacle){0};
        if (is_line ? read_line(obstacle, in->words[i].text)
                    : read_band(obstacle, in->words[i].text))
            continue;
        cy_issue_say(issues, CY_ISSUE_BAD_ARGUMENT, in->calculation->name, name, in->words[i].text,
                     is_line ? "line=azimuth:height/distance, such as 90:30ft/60ft"
                             : "band=from:to:altitude in degrees, such as 225:315:20");
        return CY_INVALID;
    }
    return CY_OK;
}

static int run_sun_hours(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                         const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_obstacle obstacles[CY_PENCIL_WORDS];
    size_t count;
    double lat = cy_pencil__number(in, "lat"), declination = cy_pencil__number(in, "declination");
    if (cy_pencil__given(in, "date") == cy_pencil__given(in, "declination"))
        return cy_pencil__missing(in, issues, "date", "date= or declination=, one of the two");
    int status = read_obstacles(obstacles, &count, in, issues);
    if (status)
        return status;
    if (isnan(declination))
        declination = cy_sun_declination(cy_pencil__day(in, "date"), CY_SUN_MERIDIAN_DEG);
    out->value = cy_obstacle_sun_hours(lat, declination, obstacles, count);
    cy_pencil__also(out, "open", cy_obstacle_sun_hours(lat, declination, NULL, 0), CY_PENCIL_HOUR);
    cy_pencil__also(out, "declination", declination, CY_PENCIL_DEGREE);
    return CY_OK;
}

static const struct cy_pencil_argument shadow_arguments[] = {
    NEED("lat", DEGREE, -90, 90, LATITUDE),
    NEED("declination", DEGREE, -23.5, 23.5, "of the sun"),
    NEED("hour_angle", DEGREE, -180, 180, "0 at the sun's noon, 15 an hour, afternoon positive"),
    NEED("height", METRE, 0, 100, "of the row"),
    NEED("row", DEGREE, -360, 360, "azimuth of the row: 0 runs north and south"),
};

static int run_shadow(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                      const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    double altitude, azimuth;
    cy_sun_horizontal(&altitude, &azimuth, cy_pencil__number(in, "lat"),
                      cy_pencil__number(in, "declination"), cy_pencil__number(in, "hour_angle"));
    if (altitude <= 0)
        return cy_pencil__wrong(in, issues, "hour_angle", "hours with the sun above the horizon");
    out->value = cy_obstacle_row_reach(cy_pencil__number(in, "height"),
                                       cy_pencil__number(in, "row"), altitude, azimuth);
    cy_pencil__also(out, "altitude", altitude, CY_PENCIL_DEGREE);
    cy_pencil__also(out, "azimuth", azimuth, CY_PENCIL_DEGREE);
    return CY_OK;
}

/* ---- radiation ------------------------------------------------------------------------------ */

static const struct cy_pencil_argument radiation_arguments[] = {
    NEED("lat", DEGREE, -90, 90, LATITUDE),
    MAY_DATE("date", "the day, or else `day`"),
    MAY_WHOLE("day", 1, 366, NULL, "day of the year"),
};

static int run_radiation(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                         const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_radiation_day day;
    int day_of_year;
    if (!cy_pencil__day_of_year(&day_of_year, in, issues))
        return CY_INVALID;
    cy_radiation_day(&day, cy_pencil__number(in, "lat"), day_of_year);
    out->value = day.extraterrestrial;
    cy_pencil__also(out, "daylight", day.daylight_h, CY_PENCIL_HOUR);
    return CY_OK;
}

/* ---- the table ------------------------------------------------------------------------------ */

static const struct cy_pencil_calculation calculations[] = {
    {.name = "day-length",
     .subject = SUBJECT,
     .what = "hours from sunrise to sunset",
     TAKES(day_length_arguments),
     .unit = CY_PENCIL_HOUR,
     .formula = "(2/15) acos((sin a - sin lat sin dec) / (cos lat cos dec)), a = -0.833 deg for "
                "the sun's upper rim as it is seen; geometric: a = 0",
     .source = SUN_SOURCE,
     .range = "1900 to 2100; 0 in the polar night, 24 in the polar day",
     .run = run_day_length},
    {.name = "sun-position",
     .subject = SUBJECT,
     .what = "where the sun stands",
     TAKES(position_arguments),
     .unit = CY_PENCIL_DEGREE,
     .formula = "sin altitude = sin lat sin dec + cos lat cos dec cos(hour angle); azimuth from "
                "north, clockwise; refraction lifts what is seen",
     .source = SUN_SOURCE,
     .range = "1900 to 2100, to about 0.02 deg",
     .caution = "never look into the sun to check it",
     .run = run_position},
    {.name = "sun-times",
     .subject = SUBJECT,
     .what = "sunrise, noon and sunset by the clock",
     TAKES(times_arguments),
     .unit = CY_PENCIL_HOUR,
     .formula = "noon = 12 - equation of time - lon/15 + zone; sunrise and sunset where the sun's "
                "centre stands at -0.833 deg",
     .source = SUN_SOURCE,
     .range = "1900 to 2100, level horizon, to about 3 s at middle latitudes",
     .run = run_times},
    {.name = "sun-hours",
     .subject = SUBJECT,
     .what = "hours of direct sun behind tree lines and hills",
     TAKES(hours_arguments),
     .unit = CY_PENCIL_HOUR,
     .formula = "a line hides the sun where tan(altitude) < height/distance cos(sun azimuth - line "
                "azimuth); a band, below its altitude between its azimuths; summed by the minute",
     .source = "geometry",
     .range = "the sun's centre above 0 deg; long straight lines, opaque obstacles",
     .run = run_sun_hours},
    {.name = "row-shadow",
     .subject = SUBJECT,
     .what = "how far across the alley a row's shadow falls",
     TAKES(shadow_arguments),
     .unit = CY_PENCIL_METRE,
     .formula = "height |sin(sun azimuth - row azimuth)| / tan(altitude)",
     .source = "geometry",
     .range = "sun above the horizon; a long, thin, opaque row on level ground",
     .run = run_shadow},
    {.name = "radiation",
     .subject = SUBJECT,
     .what = "the sun's energy outside the atmosphere",
     TAKES(radiation_arguments),
     .unit = CY_PENCIL_MJ_DAY,
     .formula = "(1440/pi) 0.0820 dr (ws sin lat sin dec + cos lat cos dec sin ws)",
     .source = "FAO Irrigation and Drainage Paper 56, 1998, equations 21 to 25",
     .range = "any latitude; daylight without refraction (equation 34)",
     .run = run_radiation},
};

const struct cy_pencil__subject cy_pencil__sky = {calculations, COUNT_OF(calculations)};
