/* SPDX-License-Identifier: MIT
 * What suits a site: known answers for made sites, what is not known and never ranked on, both
 * hemispheres, and what a planner remembers. */
#include "season/farms.h"

#include <stdlib.h>

#include <caneyear/climate/sun.h>
#include <caneyear/crop/calendar.h>
#include <caneyear/season/suitability.h>

#define TODAY "2027-06-20" /* season 2027, so that season 2028 is judged */

static struct cy_suitability judged(const struct cy_farm *farm, const struct cy_weather *station,
                                    int members)
{
    static struct cy_planner *planner;
    struct cy_suitability table;
    struct cy_issues issues = {0};
    if (!planner)
        planner = cy_planner_new();
    struct cy_plan_request request = {
        .farm = farm, .station = station, .today = day_at(TODAY), .members = members};
    assert_int_equal(cy_farm_check(farm, &issues), CY_OK);
    assert_int_equal(cy_planner_suitability(&table, planner, &request, &issues), CY_OK);
    return table;
}

static const struct cy_suit_cultivar *cultivar_of(const struct cy_suitability *table,
                                                  const char *key)
{
    for (size_t i = 0; i < table->cultivar_count; i++)
        if (cy_streq(table->cultivars[i].key, key))
            return &table->cultivars[i];
    fail_msg("no cultivar %s", key);
    return NULL;
}

static const struct cy_verdict *verdict_of(const struct cy_suitability *table, const char *key,
                                           enum cy_suit suit)
{
    return &cultivar_of(table, key)->verdicts[suit];
}

#define assert_verdict(verdict, mark_, reason_)                                                    \
    do {                                                                                           \
        const struct cy_verdict *verdict_ = (verdict);                                             \
        assert_string_equal(cy_mark_word(verdict_->mark), cy_mark_word(CY_MARK_##mark_));          \
        assert_int_equal(verdict_->reason, CY_SUIT_SAYS_##reason_);                                \
    } while (0)

/* ---- a station whose years are known --------------------------------------------------------- */

/* 1985 to 2026: mild, with lows of 4 C in winter and 14 in summer and highs 10 above, and what
 * `change` makes of each day. With 20 members the judged season goes on with the Decembers of 2007
 * to 2026 and the summers of 2008 to 2026: behind the last December stands one made year. */
static struct cy_weather station_with(void (*change)(struct cy_date date, double *low,
                                                     double *high))
{
    struct cy_weather station;
    cy_day first = cy_day_of(1985, 1, 1);
    assert_int_equal(cy_weather_init(&station, first, cy_day_of(2027, 1, 1) - first), CY_OK);
    for (int i = 0; i < station.days; i++) {
        struct cy_date date = cy_day_date(first + i);
        bool summer = date.month >= 4 && date.month <= 10;
        station.tmin_c[i] = summer ? 14 : 4;
        station.tmax_c[i] = station.tmin_c[i] + 10;
        if (change)
            change(date, &station.tmin_c[i], &station.tmax_c[i]);
    }
    return station;
}

/* A share of 20 years of which so many are known to count, and the made one may. */
static void assert_years(double share, int known)
{
    double years = 20 * share;
    assert_true(fabs(years - known) < 1e-9 || fabs(years - known - 1) < 1e-9);
}

/* ---- chill ----------------------------------------------------------------------------------- */

static void chill_is_the_share_that_a_plan_of_that_season_shows(void **state)
{
    (void)state;
    static const double warmer[] = {0, 8, 9.5, 16};
    static const enum cy_mark marks[] = {CY_MARK_GOOD, CY_MARK_GOOD, CY_MARK_COUNT, CY_MARK_POOR};
    for (int i = 0; i < 4; i++) {
        struct cy_farm farm;
        farm_at(&farm, "35.43", warmer[i]);
        add_row(&farm, "r", "natchez", "hedge", NULL);
        struct cy_suitability table = judged(&farm, NULL, 0);
        struct cy_plan *plan = plan_of(&farm, TODAY, 2028);
        const struct cy_verdict *chill = verdict_of(&table, "natchez", CY_SUIT_CHILL);
        assert_int_equal(table.season, 2028);
        assert_true(chill->figure == cohort_of(plan, "r", 2027)->chill_met);
        assert_int_equal(chill->reason, CY_SUIT_SAYS_CHILL_MET);
        assert_true(chill->limit == 500);
        if (marks[i] != CY_MARK_COUNT)
            assert_int_equal(chill->mark, marks[i]);
        cy_plan_free(plan);
        cy_suitability_dispose(&table);
        cy_farm_dispose(&farm);
    }
}

static void without_a_need_of_its_own_chill_has_no_verdict(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    ADD(&farm, CULTIVAR, "guess", MEMORY, "habit", "erect", "fruiting", "floricane", "chill_need",
        "500 h", "chill_rule", "hours below 45 F");
    ADD(&farm, CULTIVAR, "fitted", FITTED, "habit", "erect", "fruiting", "floricane", "chill_need",
        "500 h", "chill_rule", "hours below 45 F", "bud_t50", "-15 C");
    struct cy_suitability table = judged(&farm, NULL, 0);
    assert_verdict(verdict_of(&table, "marion", CY_SUIT_CHILL), NO_DATA, CHILL_NO_NEED);
    assert_verdict(verdict_of(&table, "guess", CY_SUIT_CHILL), NO_DATA, CHILL_NO_NEED);
    const struct cy_verdict *fitted = verdict_of(&table, "fitted", CY_SUIT_CHILL);
    assert_verdict(fitted, GOOD, CHILL_MET);
    assert_true(fitted->basis & CY_BASIS_FITTED);
    assert_false(fitted->ranked);
    assert_true(isnan(cultivar_of(&table, "fitted")->rank_share));
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
}

static void a_count_that_begins_with_a_freeze_does_not_apply_where_none_comes(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_at(&farm, "35.43", 25);
    put(&farm, "cultivar.natchez.chill_rule", "blackberry units");
    struct cy_suitability table = judged(&farm, NULL, 0);
    assert_verdict(verdict_of(&table, "natchez", CY_SUIT_CHILL), DOES_NOT_APPLY, CHILL_NO_COUNT);
    assert_int_equal(cultivar_of(&table, "natchez")->rank, 0);
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
}

/* ---- winter ---------------------------------------------------------------------------------- */

/* A bitter night in each December of a leap year: 5 of the 20 years. */
static void bitter(struct cy_date date, double *low, double *high)
{
    (void)high;
    if (date.year % 4 == 0 && date.month == 12 && date.day == 12)
        *low = -35;
}

static void winter_kill_is_the_share_of_winters_below_the_limit(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    ADD(&farm, CULTIVAR, "own", PUBLISHED, "habit", "erect", "fruiting", "floricane", "bud_t50",
        "-25 C");
    ADD(&farm, CULTIVAR, "hard", PUBLISHED, "habit", "erect", "fruiting", "floricane", "bud_t50",
        "-39 C");
    ADD(&farm, CULTIVAR, "canes", GROWER, "habit", "erect", "fruiting", "floricane", "bud_t50",
        "-39 C", "winter_limit", "-30 C");
    ADD(&farm, CULTIVAR, "smooth", PUBLISHED, "habit", "semi-erect", "fruiting", "floricane",
        "thorns", "thornless");
    ADD(&farm, CULTIVAR, "long", PUBLISHED, "habit", "trailing", "fruiting", "floricane");
    struct cy_weather station = station_with(bitter);
    struct cy_suitability table = judged(&farm, &station, 20);
    const struct cy_verdict *own = verdict_of(&table, "own", CY_SUIT_WINTER);
    assert_verdict(own, FAIR, BUDS_KILLED);
    assert_true(own->figure == 0.25 && own->limit == -25 && own->ranked);
    const struct cy_verdict *hard = verdict_of(&table, "hard", CY_SUIT_WINTER);
    assert_verdict(hard, GOOD, BUDS_KILLED);
    assert_true(hard->figure == 0);
    const struct cy_verdict *canes = verdict_of(&table, "canes", CY_SUIT_WINTER);
    assert_verdict(canes, FAIR, CANES_KILLED); /* which comes before the buds' limit */
    assert_true(canes->figure == 0.25 && canes->limit == -30 && canes->ranked);
    /* -6 F for thornless canes of the east and 12 F for trailing ones: Ohio State ANR-0104, 2022.
     * The limit is its type's, so nobody is ranked by it. */
    const struct cy_verdict *smooth = verdict_of(&table, "smooth", CY_SUIT_WINTER);
    assert_int_equal(smooth->reason, CY_SUIT_SAYS_TYPE_INJURED);
    assert_true(fabs(smooth->limit + 21.1) < 0.05 && !smooth->ranked);
    assert_years(smooth->figure, 5);
    const struct cy_verdict *trail = verdict_of(&table, "long", CY_SUIT_WINTER);
    assert_int_equal(trail->reason, CY_SUIT_SAYS_TYPE_INJURED);
    assert_true(fabs(trail->limit + 11.1) < 0.05 && !trail->ranked);
    assert_years(trail->figure, 5);
    assert_verdict(verdict_of(&table, "fence", CY_SUIT_WINTER), NO_DATA, NO_LIMIT);
    cy_suitability_dispose(&table);
    cy_weather_dispose(&station);
    cy_farm_dispose(&farm);
}

/* ---- bloom ----------------------------------------------------------------------------------- */

/* Summers above 85 F in even years; in odd ones never more than six hot days on end. */
static void hot(struct cy_date date, double *low, double *high)
{
    if (date.month < 5 || date.month > 10)
        return;
    *low = 20;
    *high = date.year % 2 == 0 || cy_day_of(date.year, date.month, date.day) % 7 ? 31 : 28;
}

static void a_week_above_85_f_at_bloom_is_counted_in_years(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    struct cy_weather station = station_with(hot);
    struct cy_suitability table = judged(&farm, &station, 20);
    /* About a week above 85 F aborts flowers: Univ. of Kentucky, blackberry crop profile. */
    assert_true(fabs(CY_SUIT_HOT_C - 29.4) < 0.05);
    const struct cy_verdict *heat = verdict_of(&table, "gem", CY_SUIT_HEAT);
    assert_verdict(heat, POOR, HOT_BLOOM);
    assert_years(heat->figure, 10);
    assert_verdict(verdict_of(&table, "natchez", CY_SUIT_HEAT), DOES_NOT_APPLY, NO_AUTUMN_CROP);
    assert_verdict(verdict_of(&table, "fence", CY_SUIT_HEAT), NO_DATA, FRUITING_UNKNOWN);
    assert_verdict(verdict_of(&table, "fence", CY_SUIT_AUTUMN), NO_DATA, FRUITING_UNKNOWN);
    cy_suitability_dispose(&table);
    cy_weather_dispose(&station);

    station = station_with(NULL); /* highs of 24 C */
    table = judged(&farm, &station, 20);
    heat = verdict_of(&table, "gem", CY_SUIT_HEAT);
    assert_verdict(heat, GOOD, HOT_BLOOM);
    assert_years(heat->figure, 0);
    cy_suitability_dispose(&table);
    cy_weather_dispose(&station);
    cy_farm_dispose(&farm);
}

/* Frost each night from March to July in one year of five: in 2010, 2015, 2020 and 2025. */
static void frosty(struct cy_date date, double *low, double *high)
{
    *high = date.month >= 3 && date.month <= 7 ? 26 : *high;
    if (date.year % 5 == 0 && date.month >= 3 && date.month <= 7)
        *low = -6;
}

static void frost_on_the_flowers_is_counted_in_years(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    struct cy_weather station = station_with(frosty);
    struct cy_suitability table = judged(&farm, &station, 20);
    const struct cy_verdict *flowers = verdict_of(&table, "natchez", CY_SUIT_FLOWERS);
    assert_verdict(flowers, FAIR, FLOWERS_FROZEN);
    assert_years(flowers->figure, 4);
    /* Marion's heat to bloom is a placeholder, and a guess gives no verdict. */
    assert_verdict(verdict_of(&table, "marion", CY_SUIT_FLOWERS), NO_DATA, NO_BLOOM_HEAT);
    cy_suitability_dispose(&table);
    cy_weather_dispose(&station);
    cy_farm_dispose(&farm);
}

static void a_colder_place_ripens_less_of_the_autumn_crop(void **state)
{
    (void)state;
    double before = -1;
    for (double warmer = -6; warmer <= 6; warmer += 6) {
        struct cy_farm farm;
        farm_at(&farm, "35.43", warmer);
        struct cy_suitability table = judged(&farm, NULL, 0);
        const struct cy_verdict *autumn = verdict_of(&table, "gem", CY_SUIT_AUTUMN);
        assert_int_equal(autumn->reason, CY_SUIT_SAYS_RIPE_IN_TIME);
        assert_true(autumn->figure >= 0 && autumn->figure <= 1);
        assert_true(autumn->figure >= before);
        before = autumn->figure;
        cy_suitability_dispose(&table);
        cy_farm_dispose(&farm);
    }
    assert_true(before > 0.9);
}

static void what_never_blooms_is_poor(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_at(&farm, "35.43", 25);
    put(&farm, "cultivar.natchez.chill_need", "2400 h");
    struct cy_suitability table = judged(&farm, NULL, 0);
    assert_verdict(verdict_of(&table, "natchez", CY_SUIT_FLOWERS), POOR, NEVER_BLOOMS);
    assert_verdict(verdict_of(&table, "natchez", CY_SUIT_CHILL), POOR, CHILL_MET);
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
}

/* ---- the site -------------------------------------------------------------------------------- */

static void add_obstacle(struct cy_farm *farm, double from, double to, double altitude)
{
    int64_t site = cy_farm_one(farm, CY_KIND_SITE)->id;
    struct cy_thing *thing = cy_farm_add(farm, CY_KIND_OBSTACLE, site, NULL, NULL, 0);
    const double numbers[] = {from, to, altitude};
    const enum cy_field fields[] = {CY_OBSTACLE_FROM, CY_OBSTACLE_TO, CY_OBSTACLE_ALTITUDE};
    for (int i = 0; i < 3; i++) {
        struct cy_value value = {.set = true, .number = numbers[i], .basis = CY_BASIS_GROWER};
        assert_int_equal(cy_farm_set(farm, thing->id, fields[i], &value), CY_OK);
    }
}

static struct cy_verdict sun_behind(const char *latitude, double from, double to, double altitude)
{
    struct cy_farm farm;
    farm_at(&farm, latitude, 0);
    if (altitude > 0)
        add_obstacle(&farm, from, to, altitude);
    struct cy_suitability table = judged(&farm, NULL, 2);
    struct cy_verdict sun = table.site[CY_SUIT_SUN];
    sun.source = "";
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
    return sun;
}

static void sun_is_the_mean_of_the_season_behind_obstacles(void **state)
{
    (void)state;
    static const char *const days[] = {"2028-04-15", "2028-05-15", "2028-06-15",
                                       "2028-07-15", "2028-08-15", "2028-09-15"};
    double open = 0;
    for (int i = 0; i < 6; i++)
        open += cy_sun_day_length(day_at(days[i]), 35.43, -84.6, 0) / 6;
    struct cy_verdict sun = sun_behind("35.43", 0, 0, 0);
    assert_true(fabs(sun.figure - open) < 0.02);
    assert_int_equal(sun.mark, CY_MARK_GOOD);
    assert_true(sun.basis & CY_BASIS_PLACEHOLDER); /* nobody said that the sky is open */

    sun = sun_behind("35.43", 0, 180, 90); /* no morning */
    assert_true(fabs(sun.figure - open / 2) < 0.02);
    assert_int_equal(sun.mark, CY_MARK_FAIR); /* 6 to 8 hours, from memory */
    assert_false(sun.basis & CY_BASIS_PLACEHOLDER);

    sun = sun_behind("35.43", 0, 360, 90); /* in a well */
    assert_true(sun.figure == 0);
    assert_int_equal(sun.mark, CY_MARK_POOR);
}

static void a_wall_to_the_north_takes_the_sun_in_the_south_alone(void **state)
{
    (void)state;
    double open = sun_behind("35.43", 0, 0, 0).figure;
    double north = sun_behind("35.43", 330, 30, 85).figure;
    double south = sun_behind("-35.43", 330, 30, 85).figure;
    double open_south = sun_behind("-35.43", 0, 0, 0).figure;
    assert_true(north == open);
    assert_true(fabs(open_south - open) < 0.2); /* the same half of the year, six months on */
    assert_true(south < open_south - 1);
}

static void hedgerows_that_run_north_and_south_shade_more_in_summer(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "along", "natchez", "hedge", NULL);
    add_row(&farm, "across", "natchez", "hedge", NULL);
    add_row(&farm, "far", "natchez", "hedge", NULL);
    put(&farm, "row.across.bearing", "90 deg");
    put(&farm, "row.far.row_spacing", "20 m");
    struct cy_suitability table = judged(&farm, NULL, 2);
    assert_int_equal(table.sun.row_count, 3);
    double along = table.rows[0].figure, across = table.rows[1].figure;
    double open = table.site[CY_SUIT_SUN].figure;
    assert_true(along < across && across < open);
    assert_true(along < table.rows[2].figure && table.rows[2].figure < open);
    /* Without wires a row is as high as it is tipped: 42 in by default. */
    assert_true(fabs(table.sun.rows[0].hedge_m - 1.0668) < 1e-9);
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
}

static struct cy_verdict site_with(enum cy_suit suit, const char *latitude,
                                   const char *const *pairs)
{
    struct cy_farm farm;
    farm_at(&farm, latitude, 0);
    for (; *pairs; pairs += 2)
        put(&farm, pairs[0], pairs[1]);
    struct cy_suitability table = judged(&farm, NULL, 2);
    struct cy_verdict verdict = table.site[suit];
    verdict.source = "";
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
    return verdict;
}

#define SITE(suit, latitude, ...)                                                                  \
    site_with(CY_SUIT_##suit, latitude, (const char *const[]){__VA_ARGS__, NULL})

static void the_ground_is_judged_by_published_advice(void **state)
{
    (void)state;
    struct cy_verdict verdict;
    static const struct {
        const char *value;
        enum cy_mark mark;
    } slopes[] =
        {/* under 10 degrees: Univ. of Kentucky; 12 to 15 a problem: NC State */
         {"0 deg", CY_MARK_GOOD},
         {"10 deg", CY_MARK_GOOD},
         {"14 deg", CY_MARK_FAIR},
         {"16 deg", CY_MARK_POOR}},
      drainages[] = {{"good", CY_MARK_GOOD}, {"slow", CY_MARK_FAIR}, {"poor", CY_MARK_POOR}},
      befores[] =
          {/* OSU EC 1303, 1989; NC State guide, ch. 4 */
           {"grass", CY_MARK_GOOD},
           {"potatoes, tomatoes, peppers or eggplant", CY_MARK_POOR},
           {"strawberries", CY_MARK_POOR},
           {"brambles", CY_MARK_POOR},
           {"peaches, apples or grapes", CY_MARK_POOR},
           {"other", CY_MARK_NO_DATA}},
      wilds[] = {/* 500 to 1000 ft, from memory */
                 {"400 ft", CY_MARK_POOR},
                 {"600 ft", CY_MARK_FAIR},
                 {"1200 ft", CY_MARK_GOOD}};
    for (size_t i = 0; i < 4; i++) {
        verdict = SITE(SLOPE, "35.43", "site.slope", slopes[i].value);
        assert_int_equal(verdict.mark, slopes[i].mark);
    }
    for (size_t i = 0; i < 3; i++) {
        verdict = SITE(DRAINAGE, "35.43", "site.drainage", drainages[i].value);
        assert_int_equal(verdict.mark, drainages[i].mark);
        verdict = SITE(WILD, "35.43", "site.wild_brambles", wilds[i].value);
        assert_int_equal(verdict.mark, wilds[i].mark);
    }
    for (size_t i = 0; i < 6; i++) {
        verdict = SITE(BEFORE, "35.43", "site.grew_before", befores[i].value);
        assert_int_equal(verdict.mark, befores[i].mark);
    }
}

static void what_the_farm_does_not_say_has_no_verdict(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    struct cy_suitability table = judged(&farm, NULL, 2);
    for (int suit = CY_SUIT_DRAINAGE; suit < CY_SUIT_OF_CULTIVAR; suit++)
        assert_verdict(&table.site[suit], NO_DATA, NOT_SAID);
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
}

static void a_slope_faces_the_other_way_south_of_the_equator(void **state)
{
    (void)state;
    static const struct {
        const char *aspect;
        enum cy_suit_reason north, south;
    } cases[] = {
        {"0 deg", CY_SUIT_SAYS_FACES_COOL, CY_SUIT_SAYS_FACES_SUN},
        {"45 deg", CY_SUIT_SAYS_FACES_COOL, CY_SUIT_SAYS_FACES_SUN},
        {"90 deg", CY_SUIT_SAYS_FACES_COOL, CY_SUIT_SAYS_FACES_COOL},
        {"180 deg", CY_SUIT_SAYS_FACES_SUN, CY_SUIT_SAYS_FACES_COOL},
        {"270 deg", CY_SUIT_SAYS_FACES_WEST, CY_SUIT_SAYS_FACES_WEST},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_verdict north =
            SITE(FACING, "35.43", "site.aspect", cases[i].aspect, "site.slope", "5 deg");
        struct cy_verdict south =
            SITE(FACING, "-35.43", "site.aspect", cases[i].aspect, "site.slope", "5 deg");
        assert_int_equal(north.reason, cases[i].north);
        assert_int_equal(south.reason, cases[i].south);
    }
    struct cy_verdict level =
        SITE(FACING, "35.43", "site.aspect", "180 deg", "site.slope", "0 deg");
    assert_verdict(&level, DOES_NOT_APPLY, LEVEL);
}

/* ---- what the farm sells --------------------------------------------------------------------- */

static void thorns_and_firmness_depend_on_who_picks(void **state)
{
    (void)state;
    static const struct {
        const char *share;
        enum cy_suit_reason thorny, soft;
        enum cy_mark thorny_mark, soft_mark, medium_mark;
    } cases[] = {
        {NULL, CY_SUIT_SAYS_THORNY, CY_SUIT_SAYS_HOLDS_UNSAID, CY_MARK_FAIR, CY_MARK_FAIR,
         CY_MARK_FAIR},
        {"100 %", CY_SUIT_SAYS_THORNY_VISITORS, CY_SUIT_SAYS_HOLDS_ON_SPOT, CY_MARK_POOR,
         CY_MARK_GOOD, CY_MARK_GOOD},
        {"60 %", CY_SUIT_SAYS_THORNY_VISITORS, CY_SUIT_SAYS_HOLDS_SHIPPED, CY_MARK_POOR,
         CY_MARK_POOR, CY_MARK_FAIR},
        {"0 %", CY_SUIT_SAYS_THORNY, CY_SUIT_SAYS_HOLDS_SHIPPED, CY_MARK_FAIR, CY_MARK_POOR,
         CY_MARK_FAIR},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_farm farm;
        farm_north(&farm);
        put(&farm, "cultivar.natchez.thorns", "thornless");
        put(&farm, "cultivar.natchez.firmness", "firm");
        put(&farm, "cultivar.marion.thorns", "thorny");
        put(&farm, "cultivar.marion.firmness", "soft");
        put(&farm, "cultivar.gem.firmness", "medium");
        if (cases[i].share)
            put(&farm, "market.upick_share", cases[i].share);
        struct cy_suitability table = judged(&farm, NULL, 2);
        const struct cy_verdict *thorny = verdict_of(&table, "marion", CY_SUIT_THORNS);
        const struct cy_verdict *soft = verdict_of(&table, "marion", CY_SUIT_FIRMNESS);
        assert_int_equal(thorny->reason, cases[i].thorny);
        assert_int_equal(thorny->mark, cases[i].thorny_mark);
        assert_int_equal(soft->reason, cases[i].soft);
        assert_int_equal(soft->mark, cases[i].soft_mark);
        assert_int_equal(verdict_of(&table, "gem", CY_SUIT_FIRMNESS)->mark, cases[i].medium_mark);
        assert_verdict(verdict_of(&table, "natchez", CY_SUIT_THORNS), GOOD, THORNLESS);
        assert_verdict(verdict_of(&table, "natchez", CY_SUIT_FIRMNESS), GOOD, FIRM);
        assert_verdict(verdict_of(&table, "fence", CY_SUIT_THORNS), NO_DATA, NOT_SAID);
        cy_suitability_dispose(&table);
        cy_farm_dispose(&farm);
    }
}

/* ---- ranks ----------------------------------------------------------------------------------- */

static void nobody_is_ranked_on_what_is_not_known(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    put_as(&farm, "cultivar.natchez.bud_t50", "-12.7 C", CY_BASIS_PUBLISHED);
    ADD(&farm, CULTIVAR, "tough", PUBLISHED, "habit", "erect", "fruiting", "floricane",
        "chill_need", "300 h", "chill_rule", "hours below 45 F", "bud_t50", "-30 C");
    ADD(&farm, CULTIVAR, "twin", PUBLISHED, "habit", "erect", "fruiting", "floricane", "chill_need",
        "300 h", "chill_rule", "hours below 45 F", "bud_t50", "-30 C");
    ADD(&farm, CULTIVAR, "half", PUBLISHED, "habit", "erect", "fruiting", "floricane", "chill_need",
        "300 h", "chill_rule", "hours below 45 F");
    ADD(&farm, CULTIVAR, "guess", MEMORY, "habit", "erect", "fruiting", "floricane", "chill_need",
        "300 h", "chill_rule", "hours below 45 F", "bud_t50", "-30 C");
    ADD(&farm, CULTIVAR, "typed", GROWER, "habit", "erect", "fruiting", "floricane", "chill_need",
        "300 h", "chill_rule", "hours below 45 F", "bud_t50", "-20 C");
    add_row(&farm, "r", "natchez", "hedge", NULL);
    struct cy_suitability table = judged(&farm, NULL, 0);
    assert_int_equal(table.cultivar_count, 9);
    static const char *const unranked[] = {"marion", "gem", "fence", "half", "guess"};
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(cultivar_of(&table, unranked[i])->rank, 0);
        assert_true(isnan(cultivar_of(&table, unranked[i])->rank_share));
        assert_string_equal(table.cultivars[4 + i].key, unranked[i]); /* behind, in order */
    }
    assert_string_equal(table.cultivars[0].key, "tough");
    assert_int_equal(cultivar_of(&table, "tough")->rank, 1);
    assert_int_equal(cultivar_of(&table, "twin")->rank, 1); /* equals share a place */
    assert_int_equal(cultivar_of(&table, "typed")->rank, 3);
    assert_int_equal(cultivar_of(&table, "natchez")->rank, 4);
    assert_true(cultivar_of(&table, "natchez")->grown);
    assert_false(cultivar_of(&table, "tough")->grown);
    for (size_t i = 0; i < table.cultivar_count; i++)
        for (int suit = CY_SUIT_OF_CULTIVAR; suit < CY_SUIT_COUNT; suit++) {
            const struct cy_verdict *verdict = &table.cultivars[i].verdicts[suit];
            if (verdict->mark == CY_MARK_NO_DATA)
                assert_true(isnan(verdict->figure) && !verdict->ranked);
            if (verdict->ranked)
                assert_false(verdict->basis & (CY_BASIS_FITTED | CY_BASIS_MEMORY));
        }
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
}

static void the_south_judges_alike(void **state)
{
    (void)state;
    struct cy_farm north, south;
    farm_at(&north, "38", 0);
    farm_at(&south, "-38", 0);
    put_as(&north, "cultivar.natchez.bud_t50", "-12.7 C", CY_BASIS_PUBLISHED);
    put_as(&south, "cultivar.natchez.bud_t50", "-12.7 C", CY_BASIS_PUBLISHED);
    struct cy_suitability up = judged(&north, NULL, 0), down = judged(&south, NULL, 0);
    static const enum cy_suit suits[] = {CY_SUIT_CHILL, CY_SUIT_WINTER, CY_SUIT_FLOWERS};
    for (size_t i = 0; i < 3; i++) {
        const struct cy_verdict *a = verdict_of(&up, "natchez", suits[i]);
        const struct cy_verdict *b = verdict_of(&down, "natchez", suits[i]);
        assert_int_equal(a->reason, b->reason);
        assert_true(fabs(a->figure - b->figure) < 0.25); /* two draws of 60 winters */
    }
    assert_int_equal(verdict_of(&down, "natchez", CY_SUIT_CHILL)->mark, CY_MARK_GOOD);
    /* A northern winter of its own would have no night at all below -5 C in the south's summer. */
    assert_true(verdict_of(&down, "natchez", CY_SUIT_WINTER)->figure > 0);
    assert_int_equal(cy_day_date(down.sun.day[0]).month, 10);
    assert_int_equal(cy_day_date(up.sun.day[0]).month, 4);
    cy_suitability_dispose(&up);
    cy_suitability_dispose(&down);
    cy_farm_dispose(&north);
    cy_farm_dispose(&south);
}

/* ---- why, and what is remembered ------------------------------------------------------------- */

static void every_mark_can_be_asked_why(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_obstacle(&farm, 50, 110, 8);
    add_row(&farm, "r", "natchez", "hedge", NULL);
    struct cy_suitability table = judged(&farm, NULL, 2);
    for (size_t i = 0; i < table.cultivar_count; i++)
        for (int suit = 0; suit < CY_SUIT_COUNT; suit++) {
            struct cy_trace trace = {0};
            assert_true(cy_suitability_why(&trace, &table, i, (enum cy_suit)suit));
            assert_int_equal(trace.count, 1);
            assert_false(trace.failed);
            assert_true(trace.steps[0].input_count > 0);
            assert_true(trace.steps[0].result || !isnan(trace.steps[0].value));
            cy_trace_dispose(&trace);
        }
    struct cy_trace trace = {0};
    assert_true(cy_sunlight_why_row(&trace, &table.sun, 0));
    assert_true(trace.steps[0].value == table.rows[0].figure);
    assert_false(cy_sunlight_why_row(&trace, &table.sun, 1));
    assert_false(cy_suitability_why(&trace, &table, table.cultivar_count, CY_SUIT_CHILL));
    cy_trace_dispose(&trace);
    cy_suitability_dispose(&table);
    cy_farm_dispose(&farm);
}

static bool count_call(double share, void *payload)
{
    (void)share;
    ++*(int *)payload;
    return true;
}

static void a_planner_does_not_make_its_weathers_anew(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", NULL);
    int calls = 0;
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan_request request = {
        .farm = &farm, .today = day_at(TODAY), .progress = count_call, .payload = &calls};
    struct cy_plan *plan = NULL;
    struct cy_suitability table;
    assert_int_equal(cy_planner_plan(&plan, planner, &request, NULL), CY_OK);
    cy_plan_free(plan);
    assert_true(calls > 0);
    calls = 0;
    assert_int_equal(cy_planner_suitability(&table, planner, &request, NULL), CY_OK);
    assert_int_equal(table.years, CY_PLAN_MEMBERS);
    cy_suitability_dispose(&table);
    assert_int_equal(cy_planner_plan(&plan, planner, &request, NULL), CY_OK);
    assert_int_equal(plan->lives_worked_out, 0); /* nor the plan its lives */
    assert_int_equal(calls, 0);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

static void a_farm_without_weather_is_refused(void **state)
{
    (void)state;
    struct cy_farm farm;
    assert_int_equal(cy_farm_init(&farm), CY_OK);
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan_request request = {.farm = &farm, .today = day_at(TODAY)};
    struct cy_issues issues = {0};
    struct cy_suitability table;
    assert_int_equal(cy_planner_suitability(&table, planner, &request, &issues), CY_INVALID);
    assert_int_equal(issues.count, 1);
    assert_int_equal(table.cultivar_count, 0);
    cy_suitability_dispose(&table);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chill_is_the_share_that_a_plan_of_that_season_shows),
        cmocka_unit_test(without_a_need_of_its_own_chill_has_no_verdict),
        cmocka_unit_test(a_count_that_begins_with_a_freeze_does_not_apply_where_none_comes),
        cmocka_unit_test(winter_kill_is_the_share_of_winters_below_the_limit),
        cmocka_unit_test(a_week_above_85_f_at_bloom_is_counted_in_years),
        cmocka_unit_test(frost_on_the_flowers_is_counted_in_years),
        cmocka_unit_test(a_colder_place_ripens_less_of_the_autumn_crop),
        cmocka_unit_test(what_never_blooms_is_poor),
        cmocka_unit_test(sun_is_the_mean_of_the_season_behind_obstacles),
        cmocka_unit_test(a_wall_to_the_north_takes_the_sun_in_the_south_alone),
        cmocka_unit_test(hedgerows_that_run_north_and_south_shade_more_in_summer),
        cmocka_unit_test(the_ground_is_judged_by_published_advice),
        cmocka_unit_test(what_the_farm_does_not_say_has_no_verdict),
        cmocka_unit_test(a_slope_faces_the_other_way_south_of_the_equator),
        cmocka_unit_test(thorns_and_firmness_depend_on_who_picks),
        cmocka_unit_test(nobody_is_ranked_on_what_is_not_known),
        cmocka_unit_test(the_south_judges_alike),
        cmocka_unit_test(every_mark_can_be_asked_why),
        cmocka_unit_test(a_planner_does_not_make_its_weathers_anew),
        cmocka_unit_test(a_farm_without_weather_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
