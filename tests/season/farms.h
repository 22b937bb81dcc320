/* SPDX-License-Identifier: MIT
 * Small farms in code, for tests of the planner: a place, cultivars, practices, the ten kinds of
 * work, rows. */
#ifndef TESTS_SEASON_FARMS_H
#define TESTS_SEASON_FARMS_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/season/farm.h>
#include <caneyear/season/plan.h>

/* Sets a field by its address, as a grower does. */
static inline void put_as(struct cy_farm *farm, const char *address, const char *text,
                          cy_basis basis)
{
    int64_t id = 0;
    enum cy_field field;
    struct cy_value value;
    assert_int_equal(cy_farm_address(farm, address, &id, &field, NULL), CY_OK);
    assert_int_equal(cy_value_parse(&value, field, text, strlen(text), NULL), CY_OK);
    value.basis = basis;
    assert_int_equal(cy_farm_set(farm, id, field, &value), CY_OK);
    cy_value_dispose(&value);
}

static inline void put(struct cy_farm *farm, const char *address, const char *text)
{
    put_as(farm, address, text, CY_BASIS_GROWER);
}

/* Adds a thing and sets its fields: pairs of name and text behind one another, ended by NULL. */
static inline int64_t add_thing(struct cy_farm *farm, enum cy_kind kind, const char *key,
                                cy_basis basis, const char *const *pairs)
{
    struct cy_thing *thing = cy_farm_add(farm, kind, 0, key, NULL, 0);
    assert_non_null(thing);
    for (; pairs && *pairs; pairs += 2) {
        struct cy_text address = {0};
        cy_text_add(&address, cy_kind_info(kind)->word);
        cy_text_add_char(&address, '.');
        cy_text_add(&address, thing->key);
        cy_text_add_char(&address, '.');
        cy_text_add(&address, pairs[0]);
        put_as(farm, cy_text_get(&address), pairs[1], basis);
        cy_text_dispose(&address);
    }
    return thing->id;
}

#define ADD(farm, kind, key, basis, ...)                                                           \
    add_thing(farm, CY_KIND_##kind, key, CY_BASIS_##basis, (const char *const[]){__VA_ARGS__, NULL})

/* Athens, Tennessee, 1971-2000: Golden Gate Weather Services state list of NOAA NCDC normals. */
static const double athens_low[12] = {-3.2, -1.9, 2.2,  6.2, 11.3, 16.2,
                                      18.8, 18.2, 14.6, 7.1, 2.3,  -1.6};
static const double athens_high[12] = {8.2,  10.9, 15.9, 21.1, 25.2, 29.2,
                                       31.1, 30.6, 27.5, 21.8, 15.7, 10.2};
static const double athens_rain[12] = {154.7, 124.7, 160.5, 121.9, 123.4, 103.6,
                                       118.1, 93.7,  128.0, 91.7,  127.3, 135.4};

/* A place with those normals, warmer by some degrees; south of the equator six months on. */
static inline void add_place(struct cy_farm *farm, const char *latitude, double warmer)
{
    int64_t place = ADD(farm, PLACE, "here", PUBLISHED, "latitude", latitude, "longitude", "-84.6");
    bool southern = cy_number(cy_farm_by_id(farm, place), CY_PLACE_LATITUDE) < 0;
    for (int i = 0; i < 12; i++) {
        int month = southern ? (i + 6) % 12 : i;
        const double numbers[] = {athens_low[month] + warmer, athens_high[month] + warmer,
                                  athens_rain[month]};
        const enum cy_field fields[] = {CY_MONTH_LOW, CY_MONTH_HIGH, CY_MONTH_RAIN};
        struct cy_thing *thing = cy_farm_add(farm, CY_KIND_MONTH, place, NULL, NULL, 0);
        for (int k = 0; k < 3; k++) {
            struct cy_value value = {
                .set = true, .number = numbers[k], .basis = CY_BASIS_PUBLISHED};
            assert_int_equal(cy_farm_set(farm, thing->id, fields[k], &value), CY_OK);
        }
    }
    put(farm, "site.place", "here");
}

/* As hardy as a test of dates wants them; those of cold say their own. */
static inline void add_cultivars(struct cy_farm *farm)
{
    ADD(farm, CULTIVAR, "natchez", PUBLISHED, "name", "Natchez", "habit", "erect", "fruiting",
        "floricane", "chill_need", "500 h", "chill_rule", "hours below 45 F", "bloom_heat",
        "14900 K.h", "bloom_to_peak", "49 d", "pick_length", "32 d", "bud_t50", "-39 C");
    ADD(farm, CULTIVAR, "marion", PUBLISHED, "habit", "trailing", "fruiting", "floricane",
        "winter_limit", "-39 C");
    ADD(farm, CULTIVAR, "gem", PUBLISHED, "habit", "erect", "fruiting", "primocane", "bloom_heat",
        "14000 K.h", "bloom_to_peak", "60 d", "pick_length", "33 d", "autumn_bloom_heat",
        "29900 K.h", "autumn_bloom_to_peak", "54 d", "autumn_pick_length", "60 d");
    ADD(farm, CULTIVAR, "fence", PUBLISHED, "habit", "erect", "fruiting", "unknown");
}

static inline void add_practices(struct cy_farm *farm)
{
    ADD(farm, PRACTICE, "hedge", PUBLISHED, "cropping", "floricane crop");
    ADD(farm, PRACTICE, "trail", PUBLISHED, "cropping", "floricane crop", "spent_from", "08-01",
        "spent_to", "10-30");
    ADD(farm, PRACTICE, "mown", PUBLISHED, "cropping", "autumn crop only", "spent_from", "02-01",
        "spent_to", "03-10", "tip_height", "20 in");
    ADD(farm, PRACTICE, "both", PUBLISHED, "cropping", "both crops");
    ADD(farm, PRACTICE, "alternate", PUBLISHED, "cropping", "alternate years");
    ADD(farm, PRACTICE, "unsure", PUBLISHED, "cropping", "unknown");
    ADD(farm, TRELLIS, "wires", PUBLISHED, "form", "I");
}

/* The first ten kinds, as share/jobs.yaml has them. */
static inline void add_jobs(struct cy_farm *farm)
{
    ADD(farm, JOB, "soil-test", PRACTICE, "from", "planting", "from_days", "-365 d", "to",
        "planting", "to_days", "-182 d", "rows", "rows being planted", "hours", "1 h");
    ADD(farm, JOB, "set-posts", PRACTICE, "from", "planting", "from_days", "-60 d", "to",
        "planting", "to_days", "-14 d", "rows", "rows being planted", "needs", "a trellis", "rate",
        "3 h/100ft", "after", "soil-test");
    ADD(farm, JOB, "string-wire", PRACTICE, "from", "planting", "from_days", "-14 d", "to",
        "planting", "rows", "rows being planted", "needs", "a trellis", "rate", "1.5 h/100ft");
    ADD(farm, JOB, "plant", PRACTICE, "from", "planting", "to", "planting", "to_days", "7 d",
        "rows", "rows being planted", "rate", "1.5 h/100ft");
    ADD(farm, JOB, "water-first-year", PRACTICE, "from", "planting", "from_days", "1 d", "to",
        "season end", "to_days", "-30 d", "rows", "rows in their first year", "needs",
        "less rain than the young plants need", "every", "7 d", "rate", "0.1 h/100ft",
        "cannot_wait", "yes");
    ADD(farm, JOB, "first-tip", MEMORY, "from", "first tip", "to", "first tip", "to_days", "2 d",
        "rows", "rows with new canes", "needs", "summer tipping", "rate", "0.8 h/100ft",
        "cannot_wait", "yes");
    ADD(farm, JOB, "tie-canes", PUBLISHED, "from", "practice thin_from", "to", "practice thin_to",
        "rows", "rows with last year's canes", "needs", "a trellis", "rate", "1.5 h/100ft");
    ADD(farm, JOB, "thin-canes", PUBLISHED, "from", "practice thin_from", "to", "practice thin_to",
        "rows", "rows with last year's canes", "needs", "canes kept over winter", "rate",
        "3 h/100ft", "cuts_living_canes", "yes");
    ADD(farm, JOB, "pick", PRACTICE, "from", "first pick", "to", "last pick", "rows",
        "rows with a crop on last year's canes", "rate", "1 h/100ft", "cannot_wait", "yes");
    ADD(farm, JOB, "take-out-spent", PUBLISHED, "from", "practice spent_from", "to",
        "practice spent_to", "rows", "rows with last year's canes", "needs",
        "canes kept over winter", "rate", "3 h/100ft");
}

/* Everything but rows. */
static inline void farm_at(struct cy_farm *farm, const char *latitude, double warmer)
{
    assert_int_equal(cy_farm_init(farm), CY_OK);
    add_place(farm, latitude, warmer);
    add_cultivars(farm);
    add_practices(farm);
    add_jobs(farm);
}

static inline void farm_north(struct cy_farm *farm)
{
    farm_at(farm, "35.43", 0);
}

/* A row of 100 ft; `planted` may be NULL. */
static inline int64_t add_row(struct cy_farm *farm, const char *key, const char *cultivar,
                              const char *practice, const char *planted)
{
    int64_t id = ADD(farm, ROW, key, GROWER, "length", "100 ft", "cultivar", cultivar, "practice",
                     practice, "trellis", "wires", planted ? "planted" : NULL, planted);
    return id;
}

/* ---- plans ----------------------------------------------------------------------------------- */

static inline cy_day day_at(const char *text)
{
    cy_day day = CY_DAY_NONE;
    assert_true(cy_day_parse(&day, text, strlen(text)));
    return day;
}

static inline struct cy_plan *plan_with(struct cy_planner *planner, const struct cy_farm *farm,
                                        const char *today, int season)
{
    struct cy_plan_request request = {.farm = farm, .today = day_at(today), .season = season};
    struct cy_issues issues = {0};
    struct cy_plan *plan = NULL;
    assert_int_equal(cy_farm_check(farm, &issues), CY_OK);
    assert_int_equal(cy_planner_plan(&plan, planner, &request, &issues), CY_OK);
    assert_non_null(plan);
    return plan;
}

/* A plan from a planner that remembers nothing. */
static inline struct cy_plan *fresh_plan_of(const struct cy_farm *farm, const char *today,
                                            int season)
{
    struct cy_planner *planner = cy_planner_new();
    assert_non_null(planner);
    struct cy_plan *plan = plan_with(planner, farm, today, season);
    cy_planner_free(planner);
    return plan;
}

/* A plan from the planner of the whole run, which spares making the same weathers over and over. */
static inline struct cy_plan *plan_of(const struct cy_farm *farm, const char *today, int season)
{
    static struct cy_planner *planner;
    if (!planner)
        planner = cy_planner_new();
    assert_non_null(planner);
    return plan_with(planner, farm, today, season);
}

static inline const struct cy_plan_row *row_of(const struct cy_plan *plan, const char *key)
{
    for (size_t i = 0; i < plan->row_count; i++)
        if (cy_streq(plan->rows[i].key, key))
            return &plan->rows[i];
    fail_msg("no row %s", key);
    return NULL;
}

static inline const struct cy_plan_cohort *cohort_of(const struct cy_plan *plan, const char *row,
                                                     int year)
{
    const struct cy_plan_row *found = row_of(plan, row);
    for (int i = 0; i < found->cohort_count; i++)
        if (found->cohorts[i].year == year)
            return &found->cohorts[i];
    fail_msg("no cohort %d of %s", year, row);
    return NULL;
}

/* How many jobs of a kind a row has. */
static inline int jobs_of(const struct cy_plan *plan, const char *kind, const char *row)
{
    int count = 0;
    for (size_t i = 0; i < plan->job_count; i++)
        count += cy_streq(plan->jobs[i].kind_key, kind) && cy_streq(plan->jobs[i].row_key, row);
    return count;
}

/* The job of a key, or NULL. */
static inline const struct cy_plan_job *job_of(const struct cy_plan *plan, const char *key)
{
    for (size_t i = 0; i < plan->job_count; i++)
        if (cy_streq(plan->jobs[i].key, key))
            return &plan->jobs[i];
    return NULL;
}

#endif
