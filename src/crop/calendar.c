/* SPDX-License-Identifier: MIT
 * The grower's year, from leaf fall to leaf fall. */
#include <caneyear/crop/calendar.h>

static int first_month(double latitude_deg)
{
    return latitude_deg < 0 ? 5 : 11;
}

cy_day cy_season_start(double latitude_deg, int season)
{
    return cy_day_of(season - 1, first_month(latitude_deg), 1);
}

int cy_season_of(double latitude_deg, cy_day day)
{
    struct cy_date date = cy_day_date(day);
    return date.month >= first_month(latitude_deg) ? date.year + 1 : date.year;
}

cy_day cy_season_midwinter(double latitude_deg, int season)
{
    return latitude_deg < 0 ? cy_day_of(season - 1, 7, 1) : cy_day_of(season, 1, 1);
}

cy_day cy_season_day(double latitude_deg, int season, int month_day, bool northern)
{
    int month = month_day / 100;
    if (northern && latitude_deg < 0)
        month = (month + 5) % 12 + 1;
    int year = month >= first_month(latitude_deg) ? season - 1 : season;
    int day = month_day % 100;
    if (day > cy_month_days(year, month))
        day = cy_month_days(year, month);
    return cy_day_of(year, month, day);
}
