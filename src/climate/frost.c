/* SPDX-License-Identifier: MIT
 * Frost odds: a share of years that freeze, and a normal spread of the dates in those that do
 * (the mixed form of Thom and Shaw, Monthly Weather Review 86, 1958; from memory). */
#include <caneyear/climate/frost.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/issue.h>
#include <caneyear/base/stats.h>

struct window {
    cy_day from, to;
};

static struct window window_of(int year, bool southern, enum cy_frost_season season)
{
    if (season == CY_FROST_SPRING)
        return southern ? (struct window){cy_day_of(year, 7, 1), cy_day_of(year + 1, 1, 31)}
                        : (struct window){cy_day_of(year, 1, 1), cy_day_of(year, 7, 31)};
    return southern ? (struct window){cy_day_of(year, 2, 1), cy_day_of(year + 1, 1, 31)}
                    : (struct window){cy_day_of(year, 8, 1), cy_day_of(year + 1, 7, 31)};
}

int cy_frost_number(cy_day day, int season_year)
{
    struct cy_date date = cy_day_date(day);
    int number = cy_day_of_year(day);

    if (cy_year_is_leap(date.year) && (date.month > 2 || (date.month == 2 && date.day == 29)))
        number--;
    return number + 365 * (date.year - season_year);
}

cy_day cy_frost_day(double number, int season_year)
{
    int whole = (int)floor(number + 0.5);
    int years = (whole - 1) / 365;
    int rest = whole - 365 * years;
    cy_day day = cy_day_of(season_year + years, 1, 1) + rest - 1;

    /* In a leap year every day from 1 March stands one further on. */
    if (cy_year_is_leap(season_year + years) && rest > 59)
        day++;
    return day;
}

void cy_frost_window(cy_day *from, cy_day *to, int year, bool southern, enum cy_frost_season season)
{
    struct window window = window_of(year, southern, season);
    *from = window.from;
    *to = window.to;
}

/* Searched from the end that the freeze is nearest to. */
bool cy_frost_outcome(int *number, const struct cy_weather *weather, bool southern,
                      enum cy_frost_season season, int year, double threshold_c)
{
    struct window window = window_of(year, southern, season);
    int step = season == CY_FROST_SPRING ? -1 : 1;
    cy_day day = step < 0 ? window.to : window.from;

    if (window.from == CY_DAY_NONE || window.to == CY_DAY_NONE)
        return false; /* beyond the calendar */
    for (; day >= window.from && day <= window.to; day += step) {
        int i = cy_weather_index(weather, day);
        if (i < 0 || isnan(weather->tmin_c[i]))
            return false;
        if (weather->tmin_c[i] <= threshold_c) {
            *number = cy_frost_number(day, year);
            return true;
        }
    }
    *number = 0;
    return true;
}

int cy_frost_list(struct cy_frost_list *out, const struct cy_weather *weather, bool southern,
                  enum cy_frost_season season, double threshold_c)
{
    int first_year, last_year;

    *out = (struct cy_frost_list){.season = season};
    if (weather->days <= 0)
        return CY_OK;
    first_year = cy_day_year(weather->first) - 1;
    last_year = cy_day_year(weather->first + weather->days - 1);
    out->records = cy_zeroed((size_t)(last_year - first_year + 1), sizeof *out->records);
    if (!out->records)
        return CY_NO_MEMORY;
    for (int year = first_year; year <= last_year; year++) {
        int number;
        if (!cy_frost_outcome(&number, weather, southern, season, year, threshold_c))
            continue;
        out->records[out->count++] = (struct cy_frost_record){year, number};
    }
    return CY_OK;
}

void cy_frost_list_dispose(struct cy_frost_list *list)
{
    free(list->records);
    *list = (struct cy_frost_list){0};
}

void cy_frost_fit(struct cy_frost_fit *out, const struct cy_frost_list *list)
{
    double sum = 0, squares = 0;

    *out =
        (struct cy_frost_fit){.season = list->season, .years = list->count, .mean = NAN, .sd = NAN};
    for (int i = 0; i < list->count; i++) {
        if (list->records[i].number > 0) {
            out->frozen++;
            sum += list->records[i].number;
        }
    }
    if (out->frozen == 0)
        return;
    out->share = (double)out->frozen / out->years;
    out->mean = sum / out->frozen;
    for (int i = 0; i < list->count; i++) {
        double off = list->records[i].number - out->mean;
        if (list->records[i].number > 0)
            squares += off * off;
    }
    if (out->frozen > 1)
        out->sd = sqrt(squares / (out->frozen - 1));
}

bool cy_frost_date(double *number, const struct cy_frost_fit *fit, double level)
{
    double below;

    if (!(level > 0 && level < fit->share) || isnan(fit->sd))
        return false;
    /* Of the freezing years, how many have their date before the one sought. */
    below = fit->season == CY_FROST_SPRING ? 1 - level / fit->share : level / fit->share;
    *number = fit->mean + fit->sd * cy_normal_inverse(below);
    return true;
}

double cy_frost_risk(const struct cy_frost_fit *fit, double number)
{
    double before;

    if (fit->years > 0 && fit->frozen == 0)
        return 0;
    if (isnan(fit->sd))
        return NAN;
    /* Dates that are all the same have no spread to divide by. */
    before = fit->sd > 0 ? cy_normal_cdf((number - fit->mean) / fit->sd) : number >= fit->mean;
    return fit->share * (fit->season == CY_FROST_SPRING ? 1 - before : before);
}

/* A season without a freeze stands before all others in spring and behind them in autumn. */
static double rank_value(const struct cy_frost_record *record, enum cy_frost_season season)
{
    if (record->number > 0)
        return record->number;
    return season == CY_FROST_SPRING ? -INFINITY : INFINITY;
}

/* The value of a rank from 1 to count, by counting: the list stays in the order of its years. */
static double ranked(const struct cy_frost_list *list, int rank)
{
    double value = NAN;

    for (int i = 0; i < list->count; i++) {
        int below = 0, level = 0;
        value = rank_value(&list->records[i], list->season);
        for (int j = 0; j < list->count; j++) {
            double other = rank_value(&list->records[j], list->season);
            below += other < value;
            level += other == value;
        }
        if (below < rank && rank <= below + level)
            break;
    }
    return value;
}

bool cy_frost_empirical(double *number, const struct cy_frost_list *list, double level)
{
    double below = list->season == CY_FROST_SPRING ? 1 - level : level;
    /* Rounded, so that 0.9 of ten ranks is rank 9 whichever way the level was written. */
    double place = round(below * (list->count + 1) * 1e9) / 1e9;
    double part = place - floor(place);
    double value;

    if (!(place >= 1 && place <= list->count))
        return false;
    value = ranked(list, (int)place);
    if (part > 0)
        value += part * (ranked(list, (int)place + 1) - value);
    if (!isfinite(value))
        return false;
    *number = value;
    return true;
}
