/* SPDX-License-Identifier: MIT
 * Calendar days as plain numbers. */
#include <caneyear/base/day.h>

/* Years are counted here from 1 March, so that the leap day is the last day of its year and the
 * months before it follow one rule: 153 days in each five months. An era is 400 years. */
enum { ERA_DAYS = 146097, EPOCH_FROM_ERA = 719468 };

static int64_t count_days(int64_t year, int month, int day)
{
    if (month <= 2)
        year--;
    int64_t era = (year >= 0 ? year : year - 399) / 400;
    int64_t year_of_era = year - era * 400;
    int64_t day_of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    return era * ERA_DAYS + day_of_era - EPOCH_FROM_ERA;
}

bool cy_year_is_leap(int year)
{
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

int cy_month_days(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    if (month < 1 || month > 12)
        return 0;
    return days[month - 1] + (month == 2 && cy_year_is_leap(year));
}

cy_day cy_day_of(int year, int month, int day)
{
    if (year < CY_YEAR_MIN || year > CY_YEAR_MAX || day < 1 || day > cy_month_days(year, month))
        return CY_DAY_NONE;
    return (cy_day)count_days(year, month, day);
}

cy_day cy_day_near(int year, int month, int day)
{
    if (month == 2 && day == 29 && !cy_year_is_leap(year))
        day = 28;
    return cy_day_of(year, month, day);
}

static bool read_digits(int *out, const char *text, int count)
{
    *out = 0;
    for (int i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return false;
        *out = *out * 10 + (text[i] - '0');
    }
    return true;
}

bool cy_day_parse(cy_day *out, const char *text, size_t length)
{
    int year, month, day;
    if (length != 10 || text[4] != '-' || text[7] != '-' || !read_digits(&year, text, 4) ||
        !read_digits(&month, text + 5, 2) || !read_digits(&day, text + 8, 2))
        return false;
    cy_day found = cy_day_of(year, month, day);
    if (found == CY_DAY_NONE)
        return false;
    *out = found;
    return true;
}

struct cy_date cy_day_date(cy_day day)
{
    if (day == CY_DAY_NONE)
        return (struct cy_date){0, 0, 0};
    int64_t shifted = (int64_t)day + EPOCH_FROM_ERA;
    int64_t era = (shifted >= 0 ? shifted : shifted - (ERA_DAYS - 1)) / ERA_DAYS;
    int64_t day_of_era = shifted - era * ERA_DAYS;
    int64_t year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
    int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    int64_t month_from_march = (5 * day_of_year + 2) / 153;
    int month = (int)(month_from_march < 10 ? month_from_march + 3 : month_from_march - 9);
    return (struct cy_date){
        .year = (int)(era * 400 + year_of_era + (month <= 2)),
        .month = month,
        .day = (int)(day_of_year - (153 * month_from_march + 2) / 5 + 1),
    };
}

int cy_day_year(cy_day day)
{
    return cy_day_date(day).year;
}

int cy_day_of_year(cy_day day)
{
    if (day == CY_DAY_NONE)
        return 0;
    return (int)(day - count_days(cy_day_year(day), 1, 1)) + 1;
}

int cy_day_weekday(cy_day day)
{
    /* 1 January 1970 was a Thursday. */
    int64_t from_monday = ((int64_t)day + 3) % 7;
    return (int)(from_monday < 0 ? from_monday + 7 : from_monday);
}

static char *put_digits(char *out, int value, int width)
{
    char reversed[12];
    int count = 0;
    while (value > 0 || count < width) {
        reversed[count++] = (char)('0' + value % 10);
        value /= 10;
    }
    while (count > 0)
        *out++ = reversed[--count];
    return out;
}

const char *cy_day_print(char out[CY_DAY_TEXT], cy_day day)
{
    char *end = out;
    if (day == CY_DAY_NONE) {
        *end++ = '-';
    } else {
        struct cy_date date = cy_day_date(day);
        if (date.year < 0)
            *end++ = '-';
        end = put_digits(end, date.year < 0 ? -date.year : date.year, 4);
        *end++ = '-';
        end = put_digits(end, date.month, 2);
        *end++ = '-';
        end = put_digits(end, date.day, 2);
    }
    *end = '\0';
    return out;
}
