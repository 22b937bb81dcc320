/* SPDX-License-Identifier: MIT
 * Gaps in a station's days: filled where short, left open where long. */
#include <caneyear/climate/gaps.h>

#include <math.h>

bool cy_gaps_missing(const struct cy_weather *weather, int index)
{
    return isnan(weather->tmin_c[index]) || isnan(weather->tmax_c[index]);
}

/* Both days beside the run have the figure. */
static void lay_straight(double *values, int from, int to)
{
    for (int i = from; i < to; i++) {
        int next = i;
        while (isnan(values[next]))
            next++;
        for (int k = i; k < next; k++)
            values[k] = values[i - 1] +
                        (values[next] - values[i - 1]) * (k - i + 1) / (double)(next - i + 1);
        i = next;
    }
}

/* Each day of the run lacks one temperature or both. Where the line crosses the one that is known
 * it stops there. */
static void fill_run(struct cy_weather *weather, int from, int to)
{
    lay_straight(weather->tmin_c, from, to);
    for (int i = from; i < to; i++)
        weather->tmin_c[i] = fmin(weather->tmin_c[i], weather->tmax_c[i]); /* passes NAN over */
    lay_straight(weather->tmax_c, from, to);
    for (int i = from; i < to; i++) {
        weather->tmax_c[i] = fmax(weather->tmin_c[i], weather->tmax_c[i]);
        weather->origin[i] = CY_ORIGIN_FILLED;
    }
}

static void open_run(struct cy_weather *weather, int from, int to)
{
    for (int i = from; i < to; i++)
        weather->tmin_c[i] = weather->tmax_c[i] = NAN;
}

static void fill_temperatures(struct cy_gaps *out, struct cy_weather *weather, int most)
{
    for (int i = 0; i < weather->days; i++) {
        int next = i;
        while (next < weather->days && cy_gaps_missing(weather, next))
            next++;
        if (next - i > out->longest) {
            out->longest = next - i;
            out->from = weather->first + i;
        }
        if (i > 0 && next < weather->days && next - i <= most) {
            fill_run(weather, i, next);
            out->filled += next - i;
        } else {
            open_run(weather, i, next);
            out->open += next - i;
        }
        i = next;
    }
}

static void fill_rain(struct cy_gaps *out, struct cy_weather *weather, int most)
{
    for (int i = 0; i < weather->days; i++) {
        int next = i;
        while (next < weather->days && isnan(weather->rain_mm[next]))
            next++;
        for (int k = i; k < next; k++) {
            weather->origin[k] = CY_ORIGIN_FILLED;
            if (next - i <= most) {
                weather->rain_mm[k] = 0;
                out->taken_dry++;
            } else {
                out->rain_lacks += !cy_gaps_missing(weather, k);
            }
        }
        i = next;
    }
}

void cy_gaps_fill(struct cy_gaps *out, struct cy_weather *weather, int most)
{
    struct cy_gaps found = {.from = CY_DAY_NONE};
    fill_temperatures(&found, weather, most);
    fill_rain(&found, weather, most);
    if (out)
        *out = found;
}

bool cy_gaps_year_is_whole(const struct cy_weather *weather, int year)
{
    int first = cy_weather_index(weather, cy_day_of(year, 1, 1));
    int last = cy_weather_index(weather, cy_day_of(year, 12, 31));
    if (first < 0 || last < 0)
        return false;
    for (int i = first; i <= last; i++)
        if (cy_gaps_missing(weather, i))
            return false;
    return true;
}
