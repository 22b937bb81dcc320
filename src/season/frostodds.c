/* SPDX-License-Identifier: MIT
 * The odds of frost by date, from the station's years or from made ones. */
#include <caneyear/season/frostodds.h>

#include <math.h>

#include <caneyear/crop/calendar.h>

/* Shares of years. */
static const double levels[CY_FROSTODDS_LEVELS] = {
    [CY_FROSTODDS_OFTEN] = 0.9, [CY_FROSTODDS_HALF] = 0.5, [CY_FROSTODDS_SELDOM] = 0.1};

/* ---- the years ------------------------------------------------------------------------------ */

static struct cy_frost_list list_init(struct cy_frost_record *records, enum cy_frost_season season)
{
    return (struct cy_frost_list){.season = season, .records = records};
}

/* The station's last seasons of which the outcome is known, newest first. */
static void list_station(struct cy_frost_list *list, const struct cy_frostodds_request *request,
                         double station_c)
{
    const struct cy_weather *station = request->station;
    bool southern = request->latitude_deg < 0;
    if (!station || station->days <= 0)
        return;
    int first = cy_day_year(station->first) - 1;
    int last = cy_day_year(station->first + station->days - 1);
    for (int year = last; year >= first && list->count < CY_FROSTODDS_STATION_YEARS; year--) {
        int number;
        if (cy_frost_outcome(&number, station, southern, list->season, year, station_c))
            list->records[list->count++] = (struct cy_frost_record){year, number};
    }
}

/* The latest season that lies within the weathers' days as a whole: one that is cut off would count
 * only where its freeze comes early. */
static int whole_year(const struct cy_ensemble *ensemble, bool southern,
                      enum cy_frost_season season)
{
    int year = cy_day_year(ensemble->last) + 1;
    cy_day from, to;
    do
        cy_frost_window(&from, &to, --year, southern, season);
    while (from >= ensemble->first && to > ensemble->last);
    return year;
}

/* That season in each of the weathers. */
static void list_members(struct cy_frost_list *list, const struct cy_frostodds_request *request,
                         double station_c)
{
    bool southern = request->latitude_deg < 0;
    int year = whole_year(request->ensemble, southern, list->season);
    for (int i = 0; i < request->ensemble->count && list->count < CY_FROSTODDS_YEARS; i++) {
        int number;
        if (cy_frost_outcome(&number, &request->ensemble->members[i].weather, southern,
                             list->season, year, station_c))
            list->records[list->count++] = (struct cy_frost_record){year, number};
    }
}

/* ---- dates ---------------------------------------------------------------------------------- */

static void fill_season(struct cy_frostodds_season *out, const struct cy_frost_list *list, int year)
{
    cy_frost_fit(&out->fit, list);
    out->ranked = list->count < CY_FROSTODDS_FITTED_FROM;
    for (int i = 0; i < list->count; i++)
        out->numbers[i] = list->records[i].number;
    for (int level = 0; level < CY_FROSTODDS_LEVELS; level++) {
        double share = levels[level], number;
        bool known = out->ranked ? cy_frost_empirical(&number, list, share)
                                 : cy_frost_date(&number, &out->fit, share);
        out->number[level] = known ? number : NAN;
        out->day[level] = known ? cy_frost_day(number, year) : CY_DAY_NONE;
    }
}

/* The years in which the plan's season has its spring and the autumn at its end. */
static void place_seasons(int year[2], double latitude_deg, int season)
{
    year[CY_FROST_SPRING] = latitude_deg < 0 ? season - 1 : season;
    year[CY_FROST_AUTUMN] = season;
}

static void choose_limits(struct cy_frostodds *out, const struct cy_farm *farm)
{
    struct cy_given chosen = cy_given(cy_farm_one(farm, CY_KIND_SITE), CY_SITE_FREEZE);
    out->limit[CY_FROSTODDS_32] = (struct cy_frostodds_limit){
        .minimum_c = 0, .basis = CY_BASIS_PUBLISHED, .source = "water freezes at 32 F"};
    out->limit[CY_FROSTODDS_28] = (struct cy_frostodds_limit){
        .minimum_c = (28 - 32) / 1.8,
        .basis = CY_BASIS_PUBLISHED,
        .source = "NC State post, 27 February 2020: alert value for a developing bud"};
    out->limit[CY_FROSTODDS_CHOSEN] = (struct cy_frostodds_limit){
        .minimum_c = chosen.number, .basis = chosen.basis, .source = chosen.source};
}

/* The station speaks for itself where it has enough springs and autumns. */
static bool station_tells(const struct cy_frostodds_request *request)
{
    for (int season = CY_FROST_SPRING; season <= CY_FROST_AUTUMN; season++) {
        struct cy_frost_record records[CY_FROSTODDS_YEARS];
        struct cy_frost_list list = list_init(records, (enum cy_frost_season)season);
        list_station(&list, request, 0);
        if (list.count < CY_FROSTODDS_FEWEST)
            return false;
    }
    return true;
}

static void fill_limit(struct cy_frostodds *out, const struct cy_frostodds_request *request,
                       struct cy_frostodds_limit *limit)
{
    for (int season = CY_FROST_SPRING; season <= CY_FROST_AUTUMN; season++) {
        struct cy_frost_record records[CY_FROSTODDS_YEARS];
        struct cy_frost_list list = list_init(records, (enum cy_frost_season)season);
        /* Colder ground freezes while the station is still that much warmer. */
        double station_c = limit->minimum_c + request->colder_k;
        if (out->made)
            list_members(&list, request, station_c);
        else
            list_station(&list, request, station_c);
        fill_season(&limit->season[season], &list, out->year[season]);
        if (out->made || season != CY_FROST_SPRING || list.count == 0)
            continue;
        out->last_year = list.records[0].year;
        out->first_year = list.records[list.count - 1].year;
    }
}

void cy_frostodds_of(struct cy_frostodds *out, const struct cy_frostodds_request *request)
{
    *out = (struct cy_frostodds){.colder_k = request->colder_k};
    place_seasons(out->year, request->latitude_deg, request->season);
    choose_limits(out, request->farm);
    out->made = !station_tells(request);
    out->basis = out->made ? request->weather : CY_BASIS_OBSERVED;
    for (int i = 0; i < CY_FROSTODDS_LIMITS; i++)
        fill_limit(out, request, &out->limit[i]);
}

double cy_frostodds_risk(const struct cy_frostodds *odds, int limit, enum cy_frost_season season,
                         cy_day day)
{
    const struct cy_frostodds_season *one = &odds->limit[limit].season[season];
    int number = cy_frost_number(day, odds->year[season]);
    if (one->fit.years == 0)
        return NAN;
    if (!one->ranked)
        return cy_frost_risk(&one->fit, number);
    int count = 0;
    for (int i = 0; i < one->fit.years; i++) {
        int freeze = one->numbers[i];
        count += freeze > 0 && (season == CY_FROST_SPRING ? freeze > number : freeze <= number);
    }
    return (double)count / one->fit.years;
}

/* ---- why ------------------------------------------------------------------------------------ */

static const char *formula_of(const struct cy_frostodds_season *one, enum cy_frost_season season)
{
    if (one->ranked)
        return "the dates of the years in order, the i-th of n at i / (n + 1), straight between "
               "neighbours; a year without a freeze counts as before all others in spring and "
               "behind them in autumn";
    return season == CY_FROST_SPRING
               ? "date that the share p of years passes: mean + deviation x z(1 - p / q), q the "
                 "share of years that freeze; none where p >= q"
               : "date by which the share p of years has frozen: mean + deviation x z(p / q), q "
                 "the "
                 "share of years that freeze; none where p >= q";
}

void cy_frostodds_why(struct cy_trace *trace, const struct cy_frostodds *odds, int limit,
                      enum cy_frost_season season)
{
    static const char *const names[CY_FROSTODDS_LEVELS] = {"in 9 years of 10", "in 5 of 10",
                                                           "in 1 of 10"};
    const struct cy_frostodds_limit *cold = &odds->limit[limit];
    const struct cy_frostodds_season *one = &cold->season[season];
    cy_basis basis = odds->basis | cold->basis;
    cy_trace_begin(
        trace, season == CY_FROST_SPRING ? "a freeze still comes after" : "a freeze has come by",
        formula_of(one, season),
        "freeze dates as normal beside a share of years without: Thom and Shaw, Monthly "
        "Weather Review 86, 1958, from memory; 29 February folded into the 28th");
    cy_trace_number(trace, "minimum", cold->minimum_c, CY_Q_TEMPERATURE, cold->basis, cold->source);
    cy_trace_number(trace, "nights colder than the station's by", odds->colder_k,
                    CY_Q_TEMPERATURE_RISE, CY_BASIS_NONE, "");
    cy_trace_number(trace, odds->made ? "weathers" : "years of the station", one->fit.years,
                    CY_Q_NUMBER, odds->basis, "");
    if (!odds->made) {
        cy_trace_number(trace, "from", odds->first_year, CY_Q_NUMBER, odds->basis, "");
        cy_trace_number(trace, "to", odds->last_year, CY_Q_NUMBER, odds->basis, "");
    }
    cy_trace_number(trace, "of them with a freeze", one->fit.frozen, CY_Q_NUMBER, odds->basis, "");
    if (one->fit.frozen > 0)
        cy_trace_day(trace, "their mean date", cy_frost_day(one->fit.mean, odds->year[season]),
                     odds->basis, "");
    cy_trace_number(trace, "their deviation", one->fit.sd, CY_Q_DAYS, odds->basis, "");
    for (int level = 0; level < CY_FROSTODDS_LEVELS; level++) {
        char day[CY_DAY_TEXT];
        if (level == CY_FROSTODDS_SELDOM)
            continue;
        cy_trace_text(trace, names[level],
                      one->day[level] == CY_DAY_NONE ? "no such date"
                                                     : cy_day_print(day, one->day[level]),
                      basis, "");
    }
    char day[CY_DAY_TEXT];
    cy_trace_result_text(trace,
                         one->day[CY_FROSTODDS_SELDOM] == CY_DAY_NONE
                             ? "in 1 year of 10: no such date"
                             : cy_day_print(day, one->day[CY_FROSTODDS_SELDOM]),
                         basis);
}
