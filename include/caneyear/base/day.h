/* SPDX-License-Identifier: MIT
 * Calendar days as plain numbers: days since 1 January 1970, Gregorian, years 1800 to 2400. */
#ifndef CANEYEAR_BASE_DAY_H
#define CANEYEAR_BASE_DAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef int32_t cy_day;

#define CY_DAY_NONE INT32_MIN
#define CY_YEAR_MIN 1800
#define CY_YEAR_MAX 2400
#define CY_DAY_TEXT 16 /* room for a printed day, its terminator included */

struct cy_date {
    int year, month, day; /* month and day from 1 */
};

/* The day of a date; CY_DAY_NONE where there is no such date or the year is out of range. */
cy_day cy_day_of(int year, int month, int day);

/* The same, but 29 February falls back to the 28th where the year has none. */
cy_day cy_day_near(int year, int month, int day);

/* The day from "YYYY-MM-DD" and nothing else; false leaves *out alone. */
bool cy_day_parse(cy_day *out, const char *text, size_t length);

struct cy_date cy_day_date(cy_day day);
int cy_day_year(cy_day day);
int cy_day_of_year(cy_day day); /* 1 to 366 */
int cy_day_weekday(cy_day day); /* 0 Monday to 6 Sunday */
bool cy_year_is_leap(int year);
int cy_month_days(int year, int month);

/* Prints "YYYY-MM-DD" ("-" for CY_DAY_NONE) and returns out. */
const char *cy_day_print(char out[CY_DAY_TEXT], cy_day day);

#endif
