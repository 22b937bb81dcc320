/* SPDX-License-Identifier: MIT
 * Calculation of the canes: when a cultivar blooms and is picked, in one year's weather or many. */
#include "inside.h"

#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/stats.h>
#include <caneyear/base/text.h>
#include <caneyear/climate/ensemble.h>
#include <caneyear/climate/gaps.h>
#include <caneyear/crop/calendar.h>

/* A station's last years first, made ones behind them. In each weather the model's own errors
 * take every pair of so many even shares of their normal: an odd number, so that the middle one
 * is no error at all. */
enum {
    YEARS = 60,
    PAST_YEARS = 30,
    SEED = 1,
    BLOOM_DRAWS = 25,
    RIPE_DRAWS = 15,
    DRAWS = BLOOM_DRAWS * RIPE_DRAWS
};

/* A late fruit of an unlucky year is still in sight so long behind its season. */
enum { MARGIN_DAYS = 90 };

/* A file of days does not say where it is from; the latitude only shapes the hours between a
 * day's minimum and maximum. */
#define LATITUDE_DEG 40.0

/* A calendar month needs so many days in a file to have a mean. Chosen here. */
enum { MONTH_DAYS_LEAST = 28 };

static const struct cy_pencil_argument arguments[] = {
    {.name = "cultivar",
     .help = "whose heat need, chill need and days to ripe",
     .kind = CY_PENCIL_CULTIVAR,
     .required = true},
    NEED_WHOLE("year", CY_YEAR_MIN + 3, CY_YEAR_MAX - 3, "in which it blooms"),
    {.name = "file",
     .help = "daily weather; what it lacks of the year comes from its other years",
     .kind = CY_PENCIL_FILE},
    {.name = "place",
     .help = "whose normals make 60 years, or what a file lacks",
     .kind = CY_PENCIL_PLACE},
    MAY("lat", DEGREE, -66, 66, NULL, LATITUDE " (the place's; 40 for a file alone)"),
};

/* What is asked, and the days that it takes. */
struct question {
    const struct cy_pencil_inputs *in;
    const struct cy_traits *traits;
    const struct cy_pencil_place *place; /* or NULL */
    const struct cy_weather *days;       /* of the file, NAN where it lacks them; or NULL */
    int year, season;                    /* of the bloom; the grower's year in which that falls */
    double latitude_deg;
    bool latitude_guessed;
    cy_day first, last; /* what the weathers cover */
    bool observed;      /* the file holds all that counts */
};

static const enum cy_stage figures[] = {CY_STAGE_BLOOM, CY_STAGE_FIRST_PICK, CY_STAGE_PEAK_PICK,
                                        CY_STAGE_LAST_PICK};
enum { FIGURES = COUNT_OF(figures) };

struct dates {
    double *days[FIGURES]; /* one behind another in one piece of memory; free the first */
    size_t count[FIGURES];
    size_t lives;
};

/* ---- the question --------------------------------------------------------------------------- */

/* Chill and killing nights count from the start of the canes' second season, blackberry units from
 * the first freeze before it; heat from midwinter, where neither chill nor hardiness is known. */
static cy_day first_that_counts(const struct question *question)
{
    const struct cy_traits *traits = question->traits;
    bool hardiness = traits->buds.count > 0 || !isnan(traits->winter_limit.value);
    if (isnan(traits->chill_need.value))
        return hardiness ? cy_season_start(question->latitude_deg, question->season)
                         : cy_season_midwinter(question->latitude_deg, question->season);
    return traits->chill_rule == CY_CHILL_WEIGHTED
               ? question->first
               : cy_season_start(question->latitude_deg, question->season);
}

static bool has_all_that_counts(const struct question *question, cy_day end)
{
    const struct cy_weather *days = question->days;
    cy_day from = first_that_counts(question);
    if (!days || days->first > from || days->first + days->days < end)
        return false;
    for (cy_day day = from; day < end; day++)
        if (cy_gaps_missing(days, day - days->first))
            return false;
    return true;
}

static void set_question(struct question *question)
{
    question->year = (int)cy_pencil__number(question->in, "year");
    question->latitude_deg = cy_pencil__number(question->in, "lat");
    if (isnan(question->latitude_deg) && question->place)
        question->latitude_deg = question->place->latitude_deg;
    question->latitude_guessed = isnan(question->latitude_deg);
    if (question->latitude_guessed)
        question->latitude_deg = LATITUDE_DEG;
    double latitude = question->latitude_deg;
    /* Southern flowers open in the spring with which their grower's year began. */
    question->season = latitude < 0 ? question->year + 1 : question->year;
    cy_day end = cy_season_start(latitude, question->season + 1);
    question->first = cy_season_day(latitude, question->season - 1, 901, true);
    question->last = end + MARGIN_DAYS;
    question->observed = has_all_that_counts(question, end);
}

/* The file's days as they were observed, with short gaps filled; longer ones, which its reader
 * filled too, are taken out again. The caller disposes of it. */
static int take_days(struct cy_weather *out, const struct cy_weather *daily)
{
    size_t size = (size_t)daily->days * sizeof(double);
    int status = cy_weather_init(out, daily->first, daily->days);
    if (status != CY_OK)
        return status;
    memcpy(out->tmin_c, daily->tmin_c, size);
    memcpy(out->tmax_c, daily->tmax_c, size);
    memcpy(out->rain_mm, daily->rain_mm, size);
    memcpy(out->origin, daily->origin, (size_t)daily->days);
    for (int from = 0, to; from < out->days; from = to + 1) {
        for (to = from; to < out->days && out->origin[to] == CY_ORIGIN_FILLED;)
            to++;
        for (int i = from; i < to && to - from > CY_GAPS_FILLED; i++)
            out->tmin_c[i] = out->tmax_c[i] = NAN;
    }
    return CY_OK;
}

/* False where a calendar month is missing. */
static bool normals_of_file(struct cy_normals *out, const struct cy_weather *weather)
{
    int days[12] = {0}, rain_days[12] = {0};
    *out = (struct cy_normals){0};
    for (int i = 0; i < weather->days; i++) {
        int month = cy_day_date(weather->first + i).month - 1;
        if (isnan(weather->tmin_c[i]) || isnan(weather->tmax_c[i]))
            continue;
        out->tmin_c[month] += weather->tmin_c[i];
        out->tmax_c[month] += weather->tmax_c[i];
        days[month]++;
        if (!isnan(weather->rain_mm[i])) {
            out->rain_mm[month] += weather->rain_mm[i];
            rain_days[month]++;
        }
    }
    for (int month = 0; month < 12; month++) {
        if (days[month] < MONTH_DAYS_LEAST) {
            *out = (struct cy_normals){0};
            return false;
        }
        out->tmin_c[month] /= days[month];
        out->tmax_c[month] /= days[month];
        if (rain_days[month] > 0)
            out->rain_mm[month] *= (double)cy_month_days(2001, month + 1) / rain_days[month];
    }
    return true;
}

/* ---- weathers ------------------------------------------------------------------------------- */

static int refuse_file(const struct question *question, struct cy_issues *issues)
{
    const struct cy_weather *days = question->days;
    struct cy_text found = {0}, allowed = {0};
    cy_text_add_day(&found, days->first);
    cy_text_add(&found, " to ");
    cy_text_add_day(&found, days->first + days->days - 1);
    cy_text_add(&allowed, "the days from ");
    cy_text_add_day(&allowed, first_that_counts(question));
    cy_text_add(&allowed, " to ");
    cy_text_add_day(&allowed, cy_season_start(question->latitude_deg, question->season + 1) - 1);
    cy_text_add(&allowed, ", or some of every month of the year, or place= beside it");
    cy_issue_say(issues, CY_ISSUE_OUT_OF_RANGE, question->in->calculation->name, "file",
                 cy_text_get(&found), cy_text_get(&allowed));
    cy_text_dispose(&found);
    cy_text_dispose(&allowed);
    return CY_FAILED;
}

static int make_weathers(struct cy_ensemble *out, const struct question *question,
                         struct cy_issues *issues)
{
    const struct cy_weather *days = question->days;
    struct cy_ensemble_request request = {.latitude_deg = question->latitude_deg,
                                          .station = days,
                                          .today = question->first,
                                          .first = question->first,
                                          .last = question->last,
                                          .count = question->observed ? 1 : YEARS,
                                          .past_years = PAST_YEARS,
                                          .kinds = 1u << question->traits->chill_rule,
                                          .seed = SEED};
    if (question->place)
        request.normals = question->place->normals;
    else if (!normals_of_file(&request.normals, days) && !question->observed)
        return refuse_file(question, issues);
    /* The file's days stand where they belong; its other years follow behind its last day. */
    if (days && days->first <= question->last)
        request.today = days->first + days->days;
    if (request.today < question->first)
        request.today = question->first;
    if (request.today > question->last) {
        request.today = question->last + 1;
        request.past_years = 0;
    }
    return cy_ensemble_make(out, &request);
}

/* ---- lives ---------------------------------------------------------------------------------- */

static double even_share(int number, int count)
{
    return cy_normal_inverse((number + 0.5) / count);
}

static void gather(struct dates *out, const struct cy_life *life)
{
    for (size_t i = 0; i < FIGURES; i++)
        if (life->never[figures[i]] == CY_COMES)
            out->days[i][out->count[i]++] = life->day[figures[i]];
    out->lives++;
}

static int live(struct dates *out, const struct question *question,
                const struct cy_ensemble *ensemble)
{
    struct cy_cohort cohort = {.year = question->season - 1,
                               .latitude_deg = question->latitude_deg,
                               .stands = true,
                               .emerges_here = true,
                               .kept = true,
                               .planted = CY_DAY_NONE};
    size_t most = (size_t)ensemble->count * DRAWS;
    *out = (struct dates){.days[0] = cy_zeroed(most * FIGURES, sizeof(double))};
    if (!out->days[0])
        return CY_NO_MEMORY;
    for (size_t i = 1; i < FIGURES; i++)
        out->days[i] = out->days[0] + i * most;
    cy_sightings_clear(&cohort.seen);
    for (int member = 0; member < ensemble->count; member++)
        for (int draw = 0; draw < DRAWS; draw++) {
            struct cy_luck luck = {.bloom = even_share(draw / RIPE_DRAWS, BLOOM_DRAWS),
                                   .ripening = even_share(draw % RIPE_DRAWS, RIPE_DRAWS)};
            struct cy_life life;
            cy_life_run(&life, question->traits, &cohort, &ensemble->members[member], &luck);
            gather(out, &life);
        }
    for (size_t i = 0; i < FIGURES; i++)
        cy_sort(out->days[i], out->count[i]);
    return CY_OK;
}

/* ---- the answer ----------------------------------------------------------------------------- */

static double day_of_year(const struct question *question, double day)
{
    return day - cy_day_of(question->year, 1, 1) + 1;
}

static void add_day(struct cy_pencil_result *out, const struct question *question, const char *name,
                    double day)
{
    cy_pencil__also_day(out, name, day_of_year(question, day), CY_PENCIL_NUMBER,
                        (cy_day)floor(day));
}

static void add_pick(struct cy_pencil_result *out, const struct question *question,
                     const char *name, const double *days, size_t count)
{
    static const struct {
        const char *behind;
        double share;
    } points[] = {{"", 0.5}, {"_p10", 0.1}, {"_p90", 0.9}};
    for (size_t i = 0; i < COUNT_OF(points) && count > 0; i++) {
        struct cy_text full = {0};
        cy_text_add(&full, name);
        cy_text_add(&full, points[i].behind);
        add_day(out, question, cy_text_get(&full), cy_quantile(days, count, points[i].share));
        cy_text_dispose(&full);
    }
}

static void add_trait(struct cy_text *text, const char *name, const struct cy_trait *trait,
                      const char *unit)
{
    cy_text_add(text, name);
    if (isnan(trait->value)) {
        cy_text_add(text, " not published");
        return;
    }
    cy_text_add_char(text, ' ');
    cy_text_add_number(text, trait->value);
    cy_text_add(text, unit);
    cy_text_add(text, " (");
    cy_text_add(text, cy_basis_word(trait->basis));
    cy_text_add_char(text, ')');
}

static void add_weathers(struct cy_text *text, const struct question *question,
                         const struct cy_ensemble *ensemble)
{
    if (question->observed) {
        cy_text_add(text, "; the year was observed: its spread is the model's error alone");
        return;
    }
    cy_text_add(text, "; ");
    if (ensemble->observed_days > 0) {
        cy_text_add_int(text, ensemble->observed_days);
        cy_text_add(text, " days observed, the rest from ");
    }
    if (ensemble->past_years > 0) {
        cy_text_add_int(text, ensemble->past_years);
        cy_text_add(text, " years of the file and ");
    }
    cy_text_add_int(text, ensemble->made_years);
    cy_text_add(text, " made years");
}

static void add_note(struct cy_pencil_result *out, const struct question *question,
                     const struct cy_ensemble *ensemble)
{
    const struct cy_traits *traits = question->traits;
    struct cy_text text = {0};
    add_trait(&text, "heat", &traits->bloom_heat_kh, " C h");
    add_trait(&text, ", chill need", &traits->chill_need, "");
    add_trait(&text, ", bloom to peak", &traits->bloom_to_peak_d, " d");
    add_trait(&text, ", picking", &traits->pick_length_d, " d");
    add_weathers(&text, question, ensemble);
    if (question->latitude_guessed)
        cy_text_add(&text, "; hours as at 40 N, for want of lat=");
    cy_pencil__note(out, cy_text_get(&text));
    cy_text_dispose(&text);
}

static int answer(struct cy_pencil_result *out, const struct question *question,
                  const struct cy_ensemble *ensemble, const struct dates *dates,
                  struct cy_issues *issues)
{
    if (dates->count[0] == 0)
        return cy_pencil__clash(question->in, issues, "cultivar",
                                "it blooms in none of these years: too little chill or heat, or a "
                                "winter that kills",
                                "a cultivar of a smaller need, or a hardier one");
    out->value = day_of_year(question, cy_quantile(dates->days[0], dates->count[0], 0.5));
    add_day(out, question, "p10", cy_quantile(dates->days[0], dates->count[0], 0.1));
    add_day(out, question, "p90", cy_quantile(dates->days[0], dates->count[0], 0.9));
    add_pick(out, question, "first", dates->days[1], dates->count[1]);
    add_pick(out, question, "peak", dates->days[2], dates->count[2]);
    add_pick(out, question, "last", dates->days[3], dates->count[3]);
    double lives = (double)dates->lives;
    cy_pencil__also(out, "never_blooms", 1 - (double)dates->count[0] / lives, CY_PENCIL_SHARE);
    cy_pencil__also(out, "never_ripens", 1 - (double)dates->count[2] / lives, CY_PENCIL_SHARE);
    cy_pencil__also(out, "weathers", ensemble->count, CY_PENCIL_NUMBER);
    add_note(out, question, ensemble);
    return CY_OK;
}

static int work_out(struct cy_pencil_result *out, const struct question *question,
                    struct cy_issues *issues)
{
    struct cy_ensemble ensemble = {0};
    struct dates dates = {0};
    int status = make_weathers(&ensemble, question, issues);
    if (status == CY_OK)
        status = live(&dates, question, &ensemble);
    if (status == CY_OK)
        status = answer(out, question, &ensemble, &dates, issues);
    free(dates.days[0]);
    cy_ensemble_dispose(&ensemble);
    return status;
}

static int run_bloom(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, struct cy_issues *issues)
{
    struct question question = {.in = in, .traits = series->cultivar, .place = series->place};
    struct cy_weather days = {0};
    if (!series->cultivar)
        return cy_pencil__missing(in, issues, "cultivar", "a key of the catalogue's cultivars");
    if (cy_pencil__given(in, "file") && !series->daily)
        return cy_pencil__missing(in, issues, "file", "a file of daily minima and maxima");
    if (!series->daily && !series->place)
        return cy_pencil__missing(in, issues, "place", "file= or place=");
    if (series->daily) {
        int status = take_days(&days, series->daily);
        if (status != CY_OK)
            return status;
        question.days = &days;
    }
    set_question(&question);
    int status = work_out(out, &question, issues);
    cy_weather_dispose(&days);
    return status;
}

static const struct cy_pencil_calculation calculations[] = {
    {.name = "bloom",
     .subject = "Canes",
     .what = "the day of half bloom and the picking that follows, on last year's canes",
     TAKES(arguments),
     .counted = "day of year",
     .formula =
         "bloom: the day on which degree hours (base 6 C, optimum 25 C), from midwinter or "
         "from the day the chill need is met where that is later, reach the cultivar's "
         "heat; peak: its days from bloom to peak on; first and last: 5 and 95 % of a "
         "normal crop as long as its picking, less what nights kill of buds in winter and of "
         "flowers in spring. Errors, normal and independent: 10.4 d of "
         "the bloom, 4 d of the days to ripe, in every weather",
     .source = "Black and others, HortScience 43(7):2000-2004, 2008 (the sum); errors: Dickson and "
               "others, Horticulturae 9(10):1090, 2023, and Vance and others, J. Amer. Pomol. "
               "Soc. 73(4):227-239, 2019; a cultivar's figures: the catalogue",
     .range = "canes kept over winter; days count from 1 January of `year`, past 365 where a "
              "southern crop runs on; quantiles over the weathers in which it blooms or ripens",
     .caution = "heat foretells bloom poorly in blackberry, and most sums are fitted to one place: "
                "a note of your own bloom is worth more",
     .run = run_bloom},
};

const struct cy_pencil__subject cy_pencil__bloom = {calculations, COUNT_OF(calculations)};
