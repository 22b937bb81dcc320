/* SPDX-License-Identifier: MIT
 * A run of daily weather: its memory and its days. */
#include <caneyear/climate/weather.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/issue.h>

int cy_weather_init(struct cy_weather *out, cy_day first, int days)
{
    *out = (struct cy_weather){0};
    if (days < 0)
        return CY_INVALID;
    struct cy_weather weather = {
        .first = first,
        .days = days,
        .tmin_c = cy_zeroed((size_t)days, sizeof *weather.tmin_c),
        .tmax_c = cy_zeroed((size_t)days, sizeof *weather.tmax_c),
        .rain_mm = cy_zeroed((size_t)days, sizeof *weather.rain_mm),
        .wind_m_s = cy_zeroed((size_t)days, sizeof *weather.wind_m_s),
        .dew_c = cy_zeroed((size_t)days, sizeof *weather.dew_c),
        .sun_h = cy_zeroed((size_t)days, sizeof *weather.sun_h),
        .origin = cy_zeroed((size_t)days, sizeof *weather.origin),
    };
    if (!weather.tmin_c || !weather.tmax_c || !weather.rain_mm || !weather.wind_m_s ||
        !weather.dew_c || !weather.sun_h || !weather.origin) {
        cy_weather_dispose(&weather);
        return CY_NO_MEMORY;
    }
    for (int i = 0; i < days; i++)
        weather.wind_m_s[i] = weather.dew_c[i] = weather.sun_h[i] = NAN;
    *out = weather;
    return CY_OK;
}

void cy_weather_dispose(struct cy_weather *weather)
{
    if (!weather)
        return;
    free(weather->tmin_c);
    free(weather->tmax_c);
    free(weather->rain_mm);
    free(weather->wind_m_s);
    free(weather->dew_c);
    free(weather->sun_h);
    free(weather->origin);
    *weather = (struct cy_weather){0};
}

int cy_weather_index(const struct cy_weather *weather, cy_day day)
{
    int64_t index = (int64_t)day - weather->first;
    return index >= 0 && index < weather->days ? (int)index : -1;
}
