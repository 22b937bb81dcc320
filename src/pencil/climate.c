/* SPDX-License-Identifier: MIT
 * Calculations of the climate: hours of a day, chill, heat, the odds of frost. */
#include "inside.h"

#include <stdlib.h>

#include <caneyear/base/text.h>
#include <caneyear/climate/chill.h>
#include <caneyear/climate/degreedays.h>
#include <caneyear/climate/frost.h>
#include <caneyear/climate/heat.h>
#include <caneyear/climate/hourly.h>

#define SUBJECT "Climate"

/* ---- one day by the hour -------------------------------------------------------------------- */

static const struct cy_pencil_argument hourly_arguments[] = {
    NEED("min", CELSIUS, -90, 60, "the day's minimum"),
    NEED("max", CELSIUS, -90, 60, "the day's maximum"),
    NEED("lat", DEGREE, -90, 90, LATITUDE),
    NEED_DATE("date", "the day"),
    NEED("hour", HOUR, 0, 24, "local solar time"),
    MAY("before_min", CELSIUS, -90, 60, NULL, "minimum of the day before (the same day's)"),
    MAY("before_max", CELSIUS, -90, 60, NULL, "maximum of the day before (the same day's)"),
    MAY("after_min", CELSIUS, -90, 60, NULL, "minimum of the day after (the same day's)"),
};

static double or_else(const struct cy_pencil_inputs *in, const char *name, double otherwise)
{
    return cy_pencil__given(in, name) ? cy_pencil__number(in, name) : otherwise;
}

static int run_hourly(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                      const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_hourly_input day = {
        .min = cy_pencil__number(in, "min"),
        .max = cy_pencil__number(in, "max"),
        .latitude_deg = cy_pencil__number(in, "lat"),
        .day_of_year = cy_day_of_year(cy_pencil__day(in, "date")),
    };
    day.before_min = or_else(in, "before_min", day.min);
    day.before_max = or_else(in, "before_max", day.max);
    day.after_min = or_else(in, "after_min", day.min);
    if (day.min > day.max || day.before_min > day.before_max)
        return cy_pencil__clash(in, issues, day.min > day.max ? "min" : "before_min",
                                "the minimum is above the maximum",
                                "a minimum no higher than the maximum");
    out->value = cy_hourly_at(&day, cy_pencil__number(in, "hour"));
    cy_pencil__also(out, "sunrise", cy_hourly_sunrise(day.latitude_deg, day.day_of_year),
                    CY_PENCIL_HOUR);
    cy_pencil__also(out, "sunset", cy_hourly_sunset(day.latitude_deg, day.day_of_year),
                    CY_PENCIL_HOUR);
    return CY_OK;
}

/* ---- chill and heat over hours -------------------------------------------------------------- */

#define FILE_ARGUMENT(text)                                                                        \
    {                                                                                              \
        .name = "file", .help = text, .kind = CY_PENCIL_FILE                                       \
    }
#define WINDOW                                                                                     \
    MAY_DATE("from", "first day of the file that counts (the file's first)"),                      \
        MAY_DATE("to", "last day that counts (the file's last)")
#define HOURS                                                                                      \
    FILE_ARGUMENT("daily weather or hourly temperatures"), WINDOW,                                 \
        MAY("lat", DEGREE, -90, 90, NULL, LATITUDE "; needed with a file of days"),                \
        {.name = "temps",                                                                          \
         .help = "hourly temperatures with commas between them",                                   \
         .kind = CY_PENCIL_LIST,                                                                   \
         .unit = CY_PENCIL_CELSIUS,                                                                \
         .low = -90,                                                                               \
         .high = 60},                                                                              \
        MAY("temp", CELSIUS, -90, 60, NULL, "one temperature, kept up for `hours`"),               \
    {                                                                                              \
        .name = "hours", .help = "how many hours at `temp`", .kind = CY_PENCIL_WHOLE,              \
        .unit = CY_PENCIL_HOUR, .low = 1, .high = 1000000                                          \
    }

static const struct cy_pencil_argument chill_arguments[] = {HOURS};
static const struct cy_pencil_argument weighted_arguments[] = {
    HOURS, MAY_CHOICE("start", "first-freeze, at-once", "first-freeze",
                      "from the first hour at -2.2 C or below, or from the first hour")};
static const struct cy_pencil_argument heat_arguments[] = {
    HOURS, MAY("base", CELSIUS, -20, 40, "6", "no heat below"),
    MAY("optimum", CELSIUS, -20, 60, "25", "no more heat above")};

typedef double count_hours(const double *temps, size_t count);

static int run_count(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, bool unbroken, count_hours *count,
                     struct cy_issues *issues)
{
    struct cy_pencil__hours hours;
    int status = cy_pencil__hours_of(&hours, in, series, unbroken, issues);
    if (status)
        return status;
    out->value = count(hours.temp_c, hours.count);
    cy_pencil__also(out, "counted", (double)hours.counted, CY_PENCIL_HOUR);
    cy_pencil__note_lacking(out, hours.lacking, "hours",
                            unbroken ? "were filled between their neighbours, or lie at an end"
                                     : "are left out of the count");
    free(hours.temp_c);
    return CY_OK;
}

static int run_chill_hours(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                           const struct cy_pencil_series *series, struct cy_issues *issues)
{
    return run_count(out, in, series, false, cy_chill_hours, issues);
}

static int run_chill_units(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                           const struct cy_pencil_series *series, struct cy_issues *issues)
{
    return run_count(out, in, series, false, cy_chill_utah, issues);
}

static int run_chill_portions(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                              const struct cy_pencil_series *series, struct cy_issues *issues)
{
    return run_count(out, in, series, true, cy_chill_portions, issues);
}

static int run_chill_weighted(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                              const struct cy_pencil_series *series, struct cy_issues *issues)
{
    struct cy_pencil__hours hours;
    int status = cy_pencil__hours_of(&hours, in, series, false, issues);
    if (status)
        return status;
    bool at_once = cy_pencil__choice(in, "start") == 1, started = true;
    out->value =
        cy_chill_weighted(hours.temp_c, hours.count,
                          at_once ? CY_CHILL_AT_ONCE : CY_CHILL_FROM_FIRST_FREEZE, &started);
    cy_pencil__also(out, "started", started, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "counted", (double)hours.counted, CY_PENCIL_HOUR);
    if (started)
        cy_pencil__note_lacking(out, hours.lacking, "hours", "are left out of the count");
    else
        cy_pencil__note(out, "no hour was at -2.2 C or below: this count does not apply, which is "
                             "not the same as a need unmet");
    free(hours.temp_c);
    return CY_OK;
}

static int run_degree_hours(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                            const struct cy_pencil_series *series, struct cy_issues *issues)
{
    struct cy_pencil__hours hours;
    double base = cy_pencil__number(in, "base"), optimum = cy_pencil__number(in, "optimum");
    if (!(base < optimum))
        return cy_pencil__clash(in, issues, "base", "the base is not below the optimum",
                                "base below optimum");
    int status = cy_pencil__hours_of(&hours, in, series, false, issues);
    if (status)
        return status;
    out->value = cy_heat_degree_hours(hours.temp_c, hours.count, base, optimum);
    cy_pencil__also(out, "counted", (double)hours.counted, CY_PENCIL_HOUR);
    cy_pencil__note_lacking(out, hours.lacking, "hours", "are left out of the sum");
    free(hours.temp_c);
    return CY_OK;
}

/* ---- degree days ---------------------------------------------------------------------------- */

static const struct cy_pencil_argument degree_days_arguments[] = {
    MAY("min", CELSIUS, -90, 60, NULL, "the day's minimum"),
    MAY("max", CELSIUS, -90, 60, NULL, "the day's maximum"),
    NEED("base", CELSIUS, -50, 60, "no heat below"),
    MAY("upper", CELSIUS, -50, 80, NULL, "the upper threshold (none)"),
    MAY_CHOICE("method", "average, average-lifted, sine", "average", "how the day is summed"),
    MAY_CHOICE("cutoff", "horizontal, intermediate, vertical", "horizontal",
               "what warmth above the upper threshold is worth to the sine"),
    FILE_ARGUMENT("daily weather, instead of min and max"),
    WINDOW,
};

static int sum_degree_days(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                           const struct cy_weather *weather, const struct cy_degree_days_rule *rule,
                           struct cy_issues *issues)
{
    cy_day from, to;
    int counted = 0;
    if (!weather)
        return cy_pencil__missing(in, issues, "file", "a file of daily minima and maxima");
    int status = cy_pencil__window(&from, &to, in, weather->first,
                                   weather->first + weather->days - 1, issues);
    if (status)
        return status;
    for (int i = from - weather->first; i <= to - weather->first; i++) {
        if (weather->origin[i] != CY_ORIGIN_OBSERVED)
            continue;
        out->value += cy_degree_days(rule, weather->tmin_c[i], weather->tmax_c[i]);
        counted++;
    }
    cy_pencil__also(out, "counted", counted, CY_PENCIL_DAY);
    cy_pencil__note_lacking(out, (size_t)(to - from + 1 - counted), "days",
                            "are left out of the sum");
    return CY_OK;
}

static int run_degree_days(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                           const struct cy_pencil_series *series, struct cy_issues *issues)
{
    double min = cy_pencil__number(in, "min"), max = cy_pencil__number(in, "max");
    struct cy_degree_days_rule rule = {
        .method = (enum cy_degree_days_method)cy_pencil__choice(in, "method"),
        .cutoff = (enum cy_degree_days_cutoff)cy_pencil__choice(in, "cutoff"),
        .base_c = cy_pencil__number(in, "base"),
        .upper_c = or_else(in, "upper", INFINITY),
    };
    if (!(rule.upper_c > rule.base_c))
        return cy_pencil__clash(in, issues, "upper", "the upper threshold is not above the base",
                                "upper above base");
    if (rule.method != CY_DEGREE_DAYS_SINE && rule.cutoff != CY_DEGREE_DAYS_HORIZONTAL)
        return cy_pencil__clash(in, issues, "cutoff", "averages know the horizontal cutoff alone",
                                "cutoff=horizontal, or method=sine");
    if (cy_pencil__given(in, "file"))
        return isnan(min) && isnan(max)
                   ? sum_degree_days(out, in, series->daily, &rule, issues)
                   : cy_pencil__clash(in, issues, "file", "both a file and a day's own figures",
                                      "min= and max=, or file=");
    if (isnan(min) || isnan(max))
        return cy_pencil__missing(in, issues, isnan(min) ? "min" : "max",
                                  "min= and max=, or file=");
    if (min > max)
        return cy_pencil__clash(in, issues, "min", "the minimum is above the maximum",
                                "a minimum no higher than the maximum");
    out->value = cy_degree_days(&rule, min, max);
    return CY_OK;
}

/* ---- frost ---------------------------------------------------------------------------------- */

static const struct cy_pencil_argument frost_arguments[] = {
    {.name = "file", .help = "daily weather", .kind = CY_PENCIL_FILE, .required = true},
    MAY("temp", CELSIUS, -40, 20, "0", "a minimum at or below this is a freeze"),
    MAY_CHOICE("season", "spring, autumn", "spring", "the last of spring or the first of autumn"),
    MAY("level", SHARE, 0.000001, 0.999999, "0.1", "share of years"),
    MAY("lat", DEGREE, -90, 90, "40", LATITUDE "; only its sign counts"),
};

/* One freeze has no spread, so no date whatever the level. */
static int refuse_level(const struct cy_pencil_inputs *in, const struct cy_frost_fit *fit,
                        struct cy_issues *issues)
{
    struct cy_text allowed = {0};
    if (fit->frozen < 2) {
        cy_text_add(&allowed, "a temp at which it froze in two years or more; here in ");
        cy_text_add_int(&allowed, fit->frozen);
        cy_text_add(&allowed, " of ");
        cy_text_add_int(&allowed, fit->years);
    } else {
        cy_text_add(&allowed, "below ");
        cy_text_add_number(&allowed, fit->share);
        cy_text_add(&allowed, ", the share of years that freeze");
    }
    int status = cy_pencil__wrong(in, issues, "level", cy_text_get(&allowed));
    cy_text_dispose(&allowed);
    return status;
}

static int fit_frost(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_frost_list *list, struct cy_issues *issues)
{
    struct cy_frost_fit fit;
    double level = cy_pencil__number(in, "level"), empirical;
    cy_frost_fit(&fit, list);
    if (fit.years == 0) {
        cy_issue_say(issues, CY_ISSUE_MISSING, in->calculation->name, "file", "no whole season",
                     "a file that holds whole seasons");
        return CY_FAILED;
    }
    if (!cy_frost_date(&out->value, &fit, level))
        return refuse_level(in, &fit, issues);
    cy_pencil__also(out, "share", fit.share, CY_PENCIL_SHARE);
    cy_pencil__also(out, "mean", fit.mean, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "sd", fit.sd, CY_PENCIL_DAY);
    cy_pencil__also(out, "years", fit.years, CY_PENCIL_NUMBER);
    if (cy_frost_empirical(&empirical, list, level))
        cy_pencil__also(out, "empirical", empirical, CY_PENCIL_NUMBER);
    if (fit.years < 20)
        cy_pencil__note(out, "fewer than 20 years: look at the dates themselves, not at a share");
    return CY_OK;
}

static int run_frost(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, struct cy_issues *issues)
{
    struct cy_frost_list list;
    if (!series->daily)
        return cy_pencil__missing(in, issues, "file", "a file of daily minima and maxima");
    int status = cy_frost_list(&list, series->daily, cy_pencil__number(in, "lat") < 0,
                               (enum cy_frost_season)cy_pencil__choice(in, "season"),
                               cy_pencil__number(in, "temp"));
    if (status)
        return status;
    status = fit_frost(out, in, &list, issues);
    cy_frost_list_dispose(&list);
    return status;
}

/* ---- the table ------------------------------------------------------------------------------ */

#define REBUILD "daily figures are first made into hours (see hourly)"

static const struct cy_pencil_calculation calculations[] = {
    {.name = "hourly",
     .subject = SUBJECT,
     .what = "the temperature at an hour, from the day's minimum and maximum",
     TAKES(hourly_arguments),
     .unit = CY_PENCIL_CELSIUS,
     .formula = "day: min + (max - min) sin(pi (h - sunrise) / (daylight + 4)); night: sunset "
                "temperature less its way down to the next minimum, as the logarithm of hours "
                "since sunset",
     .source = "Linvill, HortScience 25(1):14-16, 1990, with both halves of a night made to meet",
     .range = "days with a sunrise and a sunset; hours of local solar time",
     .caution = "fronts and winds that upset the daily rhythm are not in it",
     .run = run_hourly},
    {.name = "chill-hours",
     .subject = SUBJECT,
     .what = "hours from 0.0 to 7.2 C",
     TAKES(chill_arguments),
     .unit = CY_PENCIL_HOUR,
     .formula = "count of hours with 0.0 <= T <= 7.2 C; " REBUILD,
     .source = "Weinberger, Proceedings of the American Society for Horticultural Science "
               "56:122-128, 1950",
     .range = "any run of hours",
     .caution = "the hard edges make this the most fragile count: rebuilt hours gave 3 % fewer "
                "than true ones in a mild maritime winter",
     .run = run_chill_hours},
    {.name = "chill-units",
     .subject = SUBJECT,
     .what = "Utah chill units",
     TAKES(chill_arguments),
     .counted = "Utah units",
     .formula = "each hour: to 1.4 C 0; to 2.4 0.5; to 9.1 1; to 12.4 0.5; to 15.9 0; to 18.0 "
                "-0.5; above -1; " REBUILD,
     .source = "Richardson, Seeley and Walker, HortScience 9(4):331-332, 1974, in the Celsius "
               "edges that are in use",
     .range = "any run of hours; the sum may fall below 0",
     .caution = "made for peaches; it undercounts 0 to 2.4 C for blackberry (Warmund and Krumme, "
                "2005)",
     .run = run_chill_units},
    {.name = "chill-weighted",
     .subject = SUBJECT,
     .what = "blackberry chill units",
     TAKES(weighted_arguments),
     .counted = "blackberry units",
     .formula = "each hour from the first at -2.2 C or below: below 0 C 0; to 9.1 1; to 12.4 0.5; "
                "to 15.9 0; to 18 -0.5; above -1; " REBUILD,
     .source = "Warmund and Krumme, HortScience 40(5):1259-1262, 2005; the weight below 0 C is not "
               "printed there and is taken as 0",
     .range = "erect blackberries, where the air reaches -2.2 C",
     .caution = "the day on which it starts can double the count",
     .run = run_chill_weighted},
    {.name = "chill-portions",
     .subject = SUBJECT,
     .what = "chill portions of the dynamic model",
     TAKES(chill_arguments),
     .counted = "portions",
     .formula = "an intermediate product is made and undone hour by hour; at 1 its settled part "
                "becomes a portion, which no later warmth undoes; kelvin = C + 273; " REBUILD,
     .source = "Fishman, Erez and Couvillon, Journal of Theoretical Biology 124, 1987; constants "
               "of Erez and others, Acta Horticulturae 276:165-174, 1990",
     .range = "an unbroken run of hours, nothing in store before the first",
     .caution = "no blackberry need in portions is published",
     .run = run_chill_portions},
    {.name = "degree-hours",
     .subject = SUBJECT,
     .what = "growing degree hours, straight between base and optimum",
     TAKES(heat_arguments),
     .unit = CY_PENCIL_DEGREE_HOUR,
     .formula = "sum of max(0, min(T, optimum) - base); " REBUILD,
     .source = "base 6 C and optimum 25 C: Black and others, HortScience 43(7):2000-2004, 2008, "
               "bloom of 117 Rubus genotypes",
     .range = "any run of hours; no decline above the optimum",
     .caution = "heat sums predict blackberry bloom only roughly (Vance and others, Journal of the "
                "American Pomological Society 73(4), 2019)",
     .run = run_degree_hours},
    {.name = "degree-days",
     .subject = SUBJECT,
     .what = "degree days of one day, or of the days of a file",
     TAKES(degree_days_arguments),
     .unit = CY_PENCIL_DEGREE_DAY,
     .formula = "average: max(0, (min + max)/2 - base); average-lifted: both lifted to the base "
                "first; sine: area of a sine through min and max above the base",
     .source = "averages: McMaster and Wilhelm, Agricultural and Forest Meteorology 87:291-300, "
               "1997; sine: Baskerville and Emin, Ecology 50:514-517, 1969",
     .range = "upper above base; a cutoff other than horizontal is for the sine",
     .run = run_degree_days},
    {.name = "frost-odds",
     .subject = SUBJECT,
     .what = "the day after which (spring) or before which (autumn) it freezes in `level` of years",
     TAKES(frost_arguments),
     .counted = "day of year",
     .formula = "spring: mean + sd z(1 - level/q); autumn: mean + sd z(level/q); q the share of "
                "years that freeze, sd over n - 1; empirical at ranks i/(n + 1)",
     .source = "the mixed form of Thom and Shaw, Monthly Weather Review 86, 1958 (from memory)",
     .range = "level below q; days count as in a year without 29 February, past 365 into January",
     .caution = "a station's air is not the air among the canes: low ground is colder",
     .run = run_frost},
};

const struct cy_pencil__subject cy_pencil__climate = {calculations, COUNT_OF(calculations)};
