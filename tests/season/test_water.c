/* SPDX-License-Identifier: MIT
 * The season's water: the balance of a row in any weather, the inch beside it, what was written
 * down, and the jobs that follow. */
#include "season/farms.h"

#include <stdio.h>

#include <caneyear/base/random.h>
#include <caneyear/crop/calendar.h>

#include "season/water_parts.h"
#include "support/soak.h"

#define FIRST cy_day_of(2026, 11, 1)
enum { DAYS = 365 };

static void assert_near(double actual, double expected, double within)
{
    if (!(fabs(actual - expected) <= within))
        fail_msg("%.12g is not %.12g within %g", actual, expected, within);
}

/* ---- one row in one weather ----------------------------------------------------------------- */

struct scene {
    struct cy_weather weather;
    struct cy_water_log log;
    struct cy_water_inputs inputs;
    double et_mm[DAYS];
};

static void scene_begin(struct scene *scene, int days)
{
    *scene = (struct scene){0};
    assert_int_equal(cy_weather_init(&scene->weather, FIRST, days), CY_OK);
    assert_int_equal(cy_water_log_init(&scene->log, FIRST, days), CY_OK);
    for (int i = 0; i < days; i++)
        scene->log.rain_mm[i] = NAN;
    scene->inputs = (struct cy_water_inputs){
        .stages = {.from = FIRST, .latitude_deg = 36, .season = 2027},
        .taw_mm = 72,
        .p = CY_WATER_P,
        .first = FIRST,
        .last = FIRST + days - 1,
        .today = FIRST + days,
        .monday = FIRST - cy_day_weekday(FIRST),
        .weeks = (days + 12) / 7,
        .log = &scene->log,
    };
}

static void scene_end(struct scene *scene)
{
    cy_weather_dispose(&scene->weather);
    cy_water_log_dispose(&scene->log);
}

static struct cy_water_tally run(struct scene *scene, struct cy_water_member_week *weeks)
{
    struct cy_water_tally tally;
    for (int i = 0; weeks && i < CY_WATER_WEEKS; i++)
        weeks[i] = (struct cy_water_member_week){0};
    cy_water_member(&tally, weeks, NULL, &scene->inputs, &scene->weather, scene->et_mm);
    return tally;
}

/* The ten days of the reference (climate-water.md 5.5, worked by an independent script after
 * FAO-56 equations 82 to 86): available water 72 mm, p 0.5 moved by each day's use, coefficient
 * 1.05, 20 mm missing at the start, of which a day before makes sure. */
static void ten_days_of_fao_56(void **state)
{
    (void)state;
    static const double et[] = {4.5, 5, 5.5, 6, 5.2, 4.8, 5.1, 5.6, 6.2, 5.9};
    struct scene scene;
    scene_begin(&scene, 12);
    scene.inputs.stages.from = FIRST + 1; /* a root zone that is full at first */
    scene.et_mm[1] = 20 / 1.05;
    for (int i = 0; i < 10; i++)
        scene.et_mm[2 + i] = et[i];
    for (int i = 0; i < 12; i++)
        scene.inputs.kc[i] = 1.05;
    scene.weather.rain_mm[5] = 12;
    scene.weather.rain_mm[10] = 40;
    struct cy_water_tally tally = run(&scene, NULL);
    assert_near(tally.end_mm, 18.7402, 5e-5);
    assert_near(tally.use_mm - 20, 50.7402, 5e-5);
    assert_near(tally.drained_mm, 0, 1e-12);
    scene_end(&scene);
}

/* Any weather, partly observed, with notes here and there. */
static void make_random(struct scene *scene, struct cy_random *random)
{
    scene_begin(scene, DAYS);
    scene->inputs.taw_mm = 15 + 150 * cy_random_uniform(random);
    scene->inputs.today = FIRST + (int)(DAYS * cy_random_uniform(random));
    scene->inputs.stages.from = FIRST + (int)(100 * cy_random_uniform(random));
    bool station = cy_random_uniform(random) < 0.5;
    for (int i = 0; i < DAYS; i++) {
        scene->et_mm[i] = 7 * cy_random_uniform(random);
        scene->inputs.kc[i] = 0.2 + 0.9 * cy_random_uniform(random);
        scene->weather.rain_mm[i] =
            cy_random_uniform(random) < 0.3 ? 25 * cy_random_uniform(random) : 0;
        scene->weather.origin[i] = station ? CY_ORIGIN_OBSERVED : CY_ORIGIN_MADE;
        if (cy_random_uniform(random) < 0.02)
            scene->log.given_mm[i] = 30 * cy_random_uniform(random);
        if (cy_random_uniform(random) < 0.02)
            scene->log.rain_mm[i] = 30 * cy_random_uniform(random);
        scene->log.watered[i] = cy_random_uniform(random) < 0.02;
    }
}

static void no_water_is_made_or_lost(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 7, 1);
    for (int i = 0; i < soak(400, 50); i++) {
        struct scene scene;
        struct cy_water_member_week weeks[CY_WATER_WEEKS];
        make_random(&scene, &random);
        struct cy_water_tally t = run(&scene, weeks);
        double came = t.rain_mm + t.given_mm + t.planned_mm;
        assert_near(came, t.use_mm + t.drained_mm - (t.end_mm - t.start_mm), 1e-8);
        assert_true(t.end_mm >= 0 && t.end_mm <= scene.inputs.taw_mm + 1e-9);
        double came_by_week = 0, went_by_week = 0;
        for (int week = 0; week < scene.inputs.weeks; week++) {
            came_by_week += weeks[week].rain_mm + weeks[week].given_mm + weeks[week].planned_mm;
            went_by_week += weeks[week].use_mm + weeks[week].drained_mm;
            assert_true(weeks[week].need_mm >= 0);
        }
        assert_near(came_by_week, came, 1e-8);
        assert_near(went_by_week, t.use_mm + t.drained_mm, 1e-8);
        scene_end(&scene);
    }
}

/* On days that the plan waters, the readily available water is never used up. */
static void the_plan_keeps_from_stress(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 8, 1);
    for (int i = 0; i < 200; i++) {
        struct scene scene;
        make_random(&scene, &random);
        scene.inputs.today = scene.inputs.stages.from;
        struct cy_water_tally t = run(&scene, NULL);
        double use_mm = 0;
        for (int day = scene.inputs.stages.from - FIRST; day < DAYS; day++)
            use_mm += scene.et_mm[day] * scene.inputs.kc[day];
        assert_near(t.use_mm, use_mm, 1e-8);
        scene_end(&scene);
    }
}

static void assert_needs_no_more(const struct scene *scene,
                                 const struct cy_water_member_week *before,
                                 const struct cy_water_member_week *after)
{
    for (int week = 0; week < scene->inputs.weeks; week++)
        if (!(after[week].need_mm <= before[week].need_mm + 1e-9))
            fail_msg("week %d needs %.12g, no more than %.12g", week, after[week].need_mm,
                     before[week].need_mm);
}

static void more_water_never_raises_a_need(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 9, 1);
    for (int i = 0; i < soak(400, 50); i++) {
        struct scene scene;
        struct cy_water_member_week before[CY_WATER_WEEKS], after[CY_WATER_WEEKS];
        make_random(&scene, &random);
        run(&scene, before);
        for (int k = 0; k < 5; k++) {
            int day = (int)(DAYS * cy_random_uniform(&random));
            double more_mm = 40 * cy_random_uniform(&random);
            if (k % 2)
                scene.log.given_mm[day] += more_mm;
            else if (isnan(scene.log.rain_mm[day]))
                scene.weather.rain_mm[day] += more_mm;
            else
                scene.log.rain_mm[day] += more_mm;
        }
        run(&scene, after);
        assert_needs_no_more(&scene, before, after);
        scene_end(&scene);
    }
}

static void the_gauge_counts_in_place_of_the_station(void **state)
{
    (void)state;
    struct scene scene, other;
    struct cy_random random;
    struct cy_water_member_week weeks[CY_WATER_WEEKS], others[CY_WATER_WEEKS];
    cy_random_seed(&random, 10, 1);
    make_random(&scene, &random);
    cy_random_seed(&random, 10, 1);
    make_random(&other, &random);
    for (int day = 100; day < 110; day++) {
        scene.log.rain_mm[day] = day; /* by the gauge, whatever the station says */
        other.log.rain_mm[day] = NAN;
        other.weather.rain_mm[day] = day; /* by the station */
    }
    run(&scene, weeks);
    run(&other, others);
    assert_memory_equal(weeks, others, sizeof weeks);
    scene_end(&scene);
    scene_end(&other);
}

/* ---- coefficients --------------------------------------------------------------------------- */

static void coefficients_follow_the_stages(void **state)
{
    (void)state;
    struct cy_water_stages s = {.use = CY_WATER_USE_TABLE,
                                .latitude_deg = 36,
                                .season = 2027,
                                .from = FIRST,
                                .wakes = cy_day_of(2027, 4, 1),
                                .full = cy_day_of(2027, 5, 21),
                                .fades = cy_day_of(2027, 9, 2),
                                .falls = cy_day_of(2027, 11, 1)};
    /* FAO-56 Table 12, berries: 0.30, 1.05, 0.50. */
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 1, 10)), 0.30, 1e-12);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 4, 26)), 0.675, 1e-12); /* half way */
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 7, 1)), 1.05, 1e-12);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 10, 2)), 0.775, 1e-12);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 11, 1)), 0.50, 1e-12);
    assert_near(cy_water_coefficient(&s, FIRST - 1), 0, 0);
    /* Moved by equation 62: 1.05 at 1.5 m becomes 1.1475 at 3 m/s and 25 %. */
    struct cy_water_air air = {3, 25, 100};
    cy_water_stages_move(&s, &air);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 7, 1)), 1.1475, 5e-5);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 11, 1)), 0.5975, 5e-5);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 1, 10)), 0.30, 1e-12);
    air.days = 29; /* too few say nothing of a site */
    cy_water_stages_move(&s, &air);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 7, 1)), 1.05, 1e-12);
    /* Oregon, full production: 0.55 in late June, 0.88 from mid August to late September. */
    s.use = CY_WATER_USE_MEASURED;
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 6, 25)), 0.55, 0.005);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 8, 15)), 0.88, 0.005);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 9, 25)), 0.88, 0.005);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 3, 1)), 0.30, 1e-12);
    /* The second year drew 34 % of the reference, the third 71 %. */
    s.second_year = true;
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 8, 20)), 0.88 * 34 / 71, 0.005);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 3, 1)), 0.30, 1e-12);
    /* The first year: 0.24 in early July, 0.81 in early October. */
    s = (struct cy_water_stages){.use = CY_WATER_USE_ESTABLISHING,
                                 .latitude_deg = 36,
                                 .season = 2027,
                                 .from = cy_day_of(2027, 3, 20)};
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 3, 19)), 0, 0);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 7, 5)), 0.24, 0.005);
    assert_near(cy_water_coefficient(&s, cy_day_of(2027, 10, 5)), 0.81, 0.005);
    /* Six months on in the south. */
    s.latitude_deg = -36;
    assert_near(cy_water_coefficient(&s, cy_day_of(2028, 1, 3)), 0.24, 0.02);
    assert_near(cy_water_coefficient(&s, cy_day_of(2028, 4, 5)), 0.81, 0.02);
}

/* ---- reference ET --------------------------------------------------------------------------- */

/* FAO-56 example 18: Uccle, 6 July, 50 deg 48' N, 100 m, 12.3 to 21.5 C, 10 km/h at 10 m, a vapour
 * pressure of 1.409 kPa, 9.25 h of sun: 3.9 mm; by the independent script 3.8803. With one of the
 * three missing, by temperature alone. */
static void the_combination_where_wind_humidity_and_sun_are_known(void **state)
{
    (void)state;
    struct cy_weather weather;
    bool combined;
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2027, 7, 6), 1), CY_OK);
    weather.tmin_c[0] = 12.3;
    weather.tmax_c[0] = 21.5;
    double log_ea = log(1.4086 / 0.6108);
    double et_mm = cy_water_reference_mm(&combined, &weather, 0, 50.8, 100);
    assert_false(combined);
    double alone_mm = et_mm;
    weather.wind_m_s[0] = 10 / 3.6;
    weather.dew_c[0] = 237.3 * log_ea / (17.27 - log_ea);
    assert_near(cy_water_reference_mm(&combined, &weather, 0, 50.8, 100), alone_mm, 0);
    assert_false(combined);
    weather.sun_h[0] = 9.25;
    et_mm = cy_water_reference_mm(&combined, &weather, 0, 50.8, 100);
    assert_true(combined);
    assert_near(et_mm, 3.88, 0.005);
    /* What cannot be is not used: then by temperature again. */
    weather.sun_h[0] = 25;
    assert_near(cy_water_reference_mm(&combined, &weather, 0, 50.8, 100), alone_mm, 0);
    assert_false(combined);
    cy_weather_dispose(&weather);
}

/* ---- whole plans ---------------------------------------------------------------------------- */

static void add_zone(struct cy_farm *farm, const char *key, const char *rule)
{
    ADD(farm, ZONE, key, GROWER, "emitter", "0.5 gal/h", "emitter_spacing", "2 ft", "pressure",
        "15 psi", "bore", "0.62 in", "supply", "600 gal/h", "wetted_width", "3 ft", "rule", rule);
}

static void add_watering(struct cy_farm *farm)
{
    ADD(farm, JOB, "water", PUBLISHED, "from", "season start", "to", "season end", "rows",
        "every row", "needs", "less water than the soil's balance asks for", "every", "7 d", "rate",
        "0.1 h/100ft", "cannot_wait", "yes");
}

/* An old row and a new one on one zone. */
static void farm_with_zone(struct cy_farm *farm, const char *rule)
{
    farm_north(farm);
    add_watering(farm);
    add_zone(farm, "all", rule);
    add_row(farm, "old", "natchez", "hedge", "2019-03-20");
    add_row(farm, "new", "natchez", "hedge", "2027-03-20");
    put(farm, "row.old.zone", "all");
    put(farm, "row.new.zone", "all");
    put(farm, "site.soil", "sandy loam");
}

static const struct cy_water_row *water_of(const struct cy_plan *plan, const char *row)
{
    return &plan->water->rows[row_of(plan, row) - plan->rows];
}

static void the_rule_chooses_the_jobs(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_with_zone(&farm, "inch a week");
    struct cy_plan *plan = plan_of(&farm, "2027-06-01", 0);
    assert_int_equal(jobs_of(plan, "water", "old"), 0);
    assert_int_equal(jobs_of(plan, "water", "new"), 0);
    assert_true(jobs_of(plan, "water-first-year", "new") > 3);
    const struct cy_water_row *new = water_of(plan, "new");
    int week = cy_water_week_of(plan->water, day_at("2027-08-02"));
    assert_true(cy_water_chosen(new, week) == &new->weeks[week].inch_mm);
    assert_true(cy_water_chosen(water_of(plan, "old"), week) ==
                &water_of(plan, "old")->weeks[week].need_mm);
    cy_plan_free(plan);

    put(&farm, "zone.all.rule", "balance");
    plan = plan_of(&farm, "2027-06-01", 0);
    assert_int_equal(jobs_of(plan, "water-first-year", "new"), 0);
    assert_true(jobs_of(plan, "water", "old") > 8);
    assert_true(jobs_of(plan, "water", "new") < jobs_of(plan, "water", "old"));
    const struct cy_water_row *old = water_of(plan, "old");
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        if (!cy_streq(job->kind_key, "water") || !cy_streq(job->row_key, "old"))
            continue;
        const struct cy_water_row_week *need = &old->weeks[job->round - 1];
        assert_int_equal(job->reason.kind, CY_REASON_BALANCE);
        assert_int_equal(job->from, need->monday);
        assert_true(job->reason.figure.p50 == need->need_mm.p50);
        assert_true(job->reason.figure.p50 >= CY_WATER_DRY_MM);
        assert_near(job->reason.volume_m3, need->need_mm.p50 / 1000 * 30.48 * 0.9144, 1e-9);
        assert_true(job->basis & CY_BASIS_PLACEHOLDER);
        assert_true(job->urgent);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void percentiles_are_in_order_and_the_means_close(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_with_zone(&farm, "balance");
    struct cy_plan *plan = plan_of(&farm, "2027-06-01", 0);
    for (size_t i = 0; i < plan->row_count; i++) {
        const struct cy_water_row *row = &plan->water->rows[i];
        double store_mm = 0;
        for (int week = 0; week < plan->water->week_count; week++) {
            const struct cy_water_row_week *w = &row->weeks[week];
            assert_true(w->need_mm.p10 <= w->need_mm.p50 && w->need_mm.p50 <= w->need_mm.p90);
            assert_true(w->depletion_mm.p10 <= w->depletion_mm.p50 &&
                        w->depletion_mm.p50 <= w->depletion_mm.p90);
            assert_true(w->depletion_mm.p90 <= row->taw_mm + 1e-9);
            store_mm = w->use_mm + w->drained_mm - w->rain_mm - w->given_mm - w->planned_mm;
            assert_near(w->end_mm - w->start_mm, store_mm, 1e-8);
        }
    }
    /* Sandy loam, FAO-56 Table 19 from memory: 120 mm a metre; roots 0.6 m, a young plant's 0.3. */
    assert_near(water_of(plan, "old")->taw_mm, 72, 1e-9);
    assert_near(water_of(plan, "old")->raw_mm, 36, 1e-9);
    assert_near(water_of(plan, "new")->taw_mm, 36, 1e-9);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Notes of a row, of its zone, of the farm. */
static void what_was_written_down_counts(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_with_zone(&farm, "balance");
    struct cy_plan *before = plan_of(&farm, "2027-07-15", 0);
    int week = cy_water_week_of(before->water, day_at("2027-07-15"));
    double need_old = water_of(before, "old")->weeks[week].need_mm.p50;
    double today_old = water_of(before, "old")->today_mm.p50;
    double today_new = water_of(before, "new")->today_mm.p50;
    assert_true(today_old > 12 && today_new > 5);
    /* 10 mm on the old row alone: 278.71 L over 27.87 m2, of which nine tenths reach the roots. */
    ADD(&farm, SEEN, "n1", GROWER, "day", "2027-07-15", "row", "old", "what", "water given",
        "volume", "309.6768 L");
    struct cy_plan *after = plan_of(&farm, "2027-07-15", 0);
    assert_int_equal(water_of(after, "old")->given_notes, 1);
    assert_int_equal(water_of(after, "new")->given_notes, 0);
    assert_true(water_of(after, "old")->basis & CY_BASIS_OBSERVED);
    assert_near(water_of(after, "old")->weeks[week].given_mm, 10, 1e-9);
    assert_true(water_of(after, "old")->weeks[week].need_mm.p50 < need_old);
    assert_true(water_of(after, "old")->today_mm.p50 < today_old);
    assert_near(water_of(after, "new")->today_mm.p50, today_new, 0);
    cy_plan_free(after);

    /* Corrected by one that gives it to the whole zone, by the time that the lines ran: 0.5 gal/h
     * every 2 ft on 3 ft give 3.3952 mm an hour, nine tenths of it to the roots. */
    ADD(&farm, SEEN, "n2", GROWER, "day", "2027-07-15", "zone", "all", "what", "water given", "ran",
        "90 min", "corrects", "n1");
    after = plan_of(&farm, "2027-07-15", 0);
    double mm = 1.5 * 0.9 * 0.5 * 3.785411784 / (0.6096 * 0.9144);
    assert_near(water_of(after, "old")->weeks[week].given_mm, mm, 1e-9);
    assert_near(water_of(after, "new")->weeks[week].given_mm, mm, 1e-9);
    assert_true(water_of(after, "new")->today_mm.p50 < today_new);
    cy_plan_free(after);

    /* The gauge, for the whole farm; one of the zone goes before it, the later of two stands. */
    ADD(&farm, SEEN, "n3", GROWER, "day", "2027-07-14", "what", "rain", "depth", "200 mm");
    ADD(&farm, SEEN, "n4", GROWER, "day", "2027-07-14", "what", "rain", "depth", "300 mm");
    after = plan_of(&farm, "2027-07-15", 0);
    assert_int_equal(water_of(after, "old")->rain_notes, 1);
    assert_true(water_of(after, "old")->weeks[week].rain_mm >= 300);
    assert_true(water_of(after, "old")->today_mm.p90 < 10); /* full the night before */
    cy_plan_free(after);
    put(&farm, "row.new.zone", "all");
    ADD(&farm, SEEN, "n5", GROWER, "day", "2027-07-14", "row", "new", "what", "rain", "depth",
        "0 mm");
    after = plan_of(&farm, "2027-07-15", 0);
    assert_true(water_of(after, "new")->weeks[week].rain_mm < 100);
    assert_true(water_of(after, "old")->weeks[week].rain_mm >= 300);
    cy_plan_free(after);

    /* What lies ahead of today does not count yet. */
    ADD(&farm, SEEN, "n6", GROWER, "day", "2027-07-20", "row", "old", "what", "water given",
        "depth", "20 mm");
    after = plan_of(&farm, "2027-07-15", 0);
    assert_int_equal(water_of(after, "old")->given_notes, 1);
    cy_plan_free(after);
    cy_plan_free(before);
    cy_farm_dispose(&farm);
}

/* A run time counts only where the emitters are known. */
static void what_nothing_tells_is_not_counted(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "old", "natchez", "hedge", "2019-03-20");
    ADD(&farm, SEEN, "n1", GROWER, "day", "2027-07-10", "row", "old", "what", "water given", "ran",
        "2 h");
    struct cy_plan *plan = plan_of(&farm, "2027-07-15", 0);
    assert_int_equal(plan->water->uncounted_notes, 1);
    assert_int_equal(water_of(plan, "old")->given_notes, 0);
    assert_int_equal(plan->water->zone_count, 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* A young row's inch follows gauge and valve too. */
static void the_inch_follows_the_notes(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_with_zone(&farm, "inch a week");
    struct cy_plan *before = plan_of(&farm, "2027-08-05", 0);
    int week = cy_water_week_of(before->water, day_at("2027-08-05"));
    double missing = water_of(before, "new")->weeks[week].inch_mm.p90;
    assert_true(missing > 5);
    int jobs = jobs_of(before, "water-first-year", "new");
    /* Dry weeks by the gauge, but for water given. */
    for (int day = 1; day <= 31; day++) {
        char text[32], key[32];
        snprintf(text, sizeof text, "2027-07-%02d", day);
        snprintf(key, sizeof key, "g%d", day);
        ADD(&farm, SEEN, key, GROWER, "day", text, "what", "rain", "depth", "0 mm");
    }
    struct cy_plan *after = plan_of(&farm, "2027-08-05", 0);
    int july = cy_water_week_of(after->water, day_at("2027-07-14"));
    assert_near(water_of(after, "new")->weeks[july].inch_mm.p10, 25.4, 1e-9);
    assert_near(water_of(after, "new")->weeks[july].inch_mm.p90, 25.4, 1e-9);
    assert_true(jobs_of(after, "water-first-year", "new") >= jobs);
    cy_plan_free(after);
    ADD(&farm, SEEN, "v", GROWER, "day", "2027-07-14", "row", "new", "what", "water given", "depth",
        "20 mm");
    after = plan_of(&farm, "2027-08-05", 0);
    assert_near(water_of(after, "new")->weeks[july].inch_mm.p90, 5.4, 1e-9);
    cy_plan_free(after);
    cy_plan_free(before);
    cy_farm_dispose(&farm);
}

/* On days that a station observed only what was written down was given; a round of watering that
 * is marked done gave what its week needed. */
static void observed_days_count_as_they_were(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_weather station;
    farm_with_zone(&farm, "balance");
    /* Thirty years and this one, hot and dry in summer. */
    cy_day from = cy_day_of(1995, 1, 1), to = day_at("2027-07-14");
    assert_int_equal(cy_weather_init(&station, from, to - from + 1), CY_OK);
    for (int i = 0; i < station.days; i++) {
        int month = cy_day_date(from + i).month;
        station.tmin_c[i] = athens_low[month - 1];
        station.tmax_c[i] = athens_high[month - 1];
        station.rain_mm[i] = month < 5 || month > 9 ? 5 : 0;
        station.origin[i] = CY_ORIGIN_OBSERVED;
    }
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan_request request = {
        .farm = &farm, .station = &station, .today = day_at("2027-07-15")};
    struct cy_issues issues = {0};
    struct cy_plan *plan;
    assert_int_equal(cy_planner_plan(&plan, planner, &request, &issues), CY_OK);
    const struct cy_water_row *old = water_of(plan, "old");
    int week = cy_water_week_of(plan->water, request.today);
    /* All weathers are one before today: the store ran far past what is readily available. */
    assert_near(old->weeks[week - 1].depletion_mm.p10, old->weeks[week - 1].depletion_mm.p90, 1e-9);
    assert_true(old->weeks[week - 1].depletion_mm.p50 > old->raw_mm + 10);
    assert_true(old->weeks[week - 1].need_mm.p50 > 10);
    /* The week of today gives back what is missing, and its own use. */
    assert_true(old->weeks[week].need_mm.p50 > old->weeks[week - 1].need_mm.p50 + 10);
    double need = old->weeks[week].need_mm.p50;
    assert_near(plan->water->combined_share, 0, 0);
    double use_mm = old->weeks[week - 1].et_mm;
    cy_plan_free(plan);
    /* With air in the station's days, they are by the combination; made ones never are. */
    for (int i = 0; i < station.days; i++) {
        station.wind_m_s[i] = 6;
        station.dew_c[i] = station.tmin_c[i] - 8;
        station.sun_h[i] = 7;
    }
    assert_int_equal(cy_planner_plan(&plan, planner, &request, &issues), CY_OK);
    assert_near(
        plan->water->combined_share,
        (plan->past_years + (double)plan->made_years * (request.today - plan->first) / 365) /
            plan->members,
        0.02);
    assert_true(water_of(plan, "old")->weeks[week - 1].et_mm > use_mm * 1.05);
    /* The table's coefficients are moved to that air: 6 m/s at 10 m are 4.4876 at 2 m. */
    const struct cy_water_stages *stages = &water_of(plan, "old")->stages;
    assert_near(stages->wind_m_s, 4.4876, 1e-3);
    assert_true(stages->rh_min_pct >= 20 && stages->rh_min_pct < 45 && stages->shift > 0.08);
    struct cy_trace trace = {0};
    assert_true(cy_plan_why_water(&trace, plan, CY_WATER_WHY_NEED,
                                  (size_t)(row_of(plan, "old") - plan->rows), week - 1));
    bool said = false;
    for (size_t i = 0; i < trace.count; i++)
        for (size_t j = 0; j < trace.steps[i].input_count; j++)
            said = said || strcmp(trace.steps[i].inputs[j].name, "added to 1.05 and 0.50") == 0;
    assert_true(said);
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    for (int i = 0; i < station.days; i++)
        station.wind_m_s[i] = NAN;
    struct cy_text round = {0};
    cy_text_add_int(&round, week);
    ADD(&farm, DONE, "d1", GROWER, "day", "2027-07-10", "row", "old", "job", "water", "season",
        "2027", "round", cy_text_get(&round));
    cy_text_dispose(&round);
    assert_int_equal(cy_planner_plan(&plan, planner, &request, &issues), CY_OK);
    old = water_of(plan, "old");
    assert_true(old->weeks[week].need_mm.p50 < need - 10);
    assert_true(old->weeks[week - 1].planned_mm > 10);
    assert_true(old->weeks[week - 1].depletion_mm.p50 <= old->raw_mm + 5);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_weather_dispose(&station);
    cy_farm_dispose(&farm);
}

/* ---- units, hemispheres, memory ------------------------------------------------------------- */

static void metric_farm(struct cy_farm *farm)
{
    farm_north(farm);
    add_watering(farm);
    ADD(farm, ZONE, "all", GROWER, "emitter", "1.892705892 L/h", "emitter_spacing", "0.6096 m",
        "pressure", "103.42135939752542 kPa", "bore", "15.748 mm", "supply", "2271.2470704 L/h",
        "wetted_width", "0.9144 m", "rule", "balance");
    ADD(farm, ROW, "old", GROWER, "length", "30.48 m", "cultivar", "natchez", "practice", "hedge",
        "planted", "2019-03-20", "zone", "all");
    ADD(farm, ROW, "new", GROWER, "length", "30.48 m", "cultivar", "natchez", "practice", "hedge",
        "planted", "2027-03-20", "zone", "all");
    put(farm, "farm.units", "metric");
    put(farm, "site.soil", "sandy loam");
    put(farm, "site.soil_depth", "0.762 m");
}

static void assert_same(const struct cy_figure *a, const struct cy_figure *b)
{
    assert_near(a->p10, b->p10, 1e-9 * (1 + fabs(a->p10)));
    assert_near(a->p50, b->p50, 1e-9 * (1 + fabs(a->p50)));
    assert_near(a->p90, b->p90, 1e-9 * (1 + fabs(a->p90)));
}

static void feet_and_metres_agree(void **state)
{
    (void)state;
    struct cy_farm us, metric;
    farm_with_zone(&us, "balance");
    put(&us, "site.soil_depth", "30 in");
    metric_farm(&metric);
    struct cy_plan *a = fresh_plan_of(&us, "2027-06-01", 0);
    struct cy_plan *b = fresh_plan_of(&metric, "2027-06-01", 0);
    for (int row = 0; row < 2; row++)
        for (int week = 0; week < a->water->week_count; week++)
            assert_same(&a->water->rows[row].weeks[week].need_mm,
                        &b->water->rows[row].weeks[week].need_mm);
    for (int week = 0; week < a->water->week_count; week++) {
        assert_same(&a->water->zones[0].weeks[week].litres, &b->water->zones[0].weeks[week].litres);
        assert_same(&a->water->zones[0].weeks[week].hours, &b->water->zones[0].weeks[week].hours);
    }
    assert_same(&a->water->sources[0].season_l, &b->water->sources[0].season_l);
    struct cy_water_row_line x, y;
    assert_int_equal(cy_water_row_line(&x, a, 0), CY_OK);
    assert_int_equal(cy_water_row_line(&y, b, 0), CY_OK);
    assert_near(x.result.friction_m, y.result.friction_m, 1e-9);
    assert_near(x.result.flow_total_lph, y.result.flow_total_lph, 1e-9 * x.result.flow_total_lph);
    assert_near(x.longest_m, y.longest_m, 1e-9);
    cy_plan_free(a);
    cy_plan_free(b);
    cy_farm_dispose(&us);
    cy_farm_dispose(&metric);
}

/* The same farm at 38 degrees on both sides of the equator: the south half a year on. */
static void the_south_is_half_a_year_on(void **state)
{
    (void)state;
    struct cy_plan *plans[2];
    struct cy_farm farms[2];
    for (int i = 0; i < 2; i++) {
        farm_at(&farms[i], i ? "-38" : "38", 0);
        add_row(&farms[i], "old", "natchez", "hedge", i ? "2018-09-20" : "2019-03-20");
        add_row(&farms[i], "new", "natchez", "hedge", i ? "2026-09-20" : "2027-03-20");
        plans[i] = plan_of(&farms[i], i ? "2026-10-15" : "2027-04-15", 2027);
    }
    double use[2] = {0}, dry_month[2] = {0};
    for (int i = 0; i < 2; i++) {
        const struct cy_water_row *old = water_of(plans[i], "old");
        int best = 0;
        for (int week = 0; week < plans[i]->water->week_count; week++) {
            use[i] += old->weeks[week].use_mm;
            if (old->weeks[week].use_mm > old->weeks[best].use_mm)
                best = week;
        }
        dry_month[i] = cy_day_date(old->weeks[best].monday).month;
        assert_int_equal(water_of(plans[i], "new")->first_year, true);
        assert_near(water_of(plans[i], "new")->stages.from - plans[i]->first, 140, 4);
    }
    /* A southern summer is nearer to the sun, and these weathers are others: within a tenth. */
    assert_near(use[1] / use[0], 1, 0.1);
    assert_true(dry_month[0] >= 6 && dry_month[0] <= 7);
    assert_true(dry_month[1] == 12 || dry_month[1] == 1);
    for (int i = 0; i < 2; i++) {
        cy_plan_free(plans[i]);
        cy_farm_dispose(&farms[i]);
    }
}

static void what_does_not_touch_water_costs_none(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_with_zone(&farm, "balance");
    add_row(&farm, "twin", "natchez", "hedge", "2018-03-20");
    put(&farm, "row.twin.zone", "all");
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_with(planner, &farm, "2027-06-01", 0);
    assert_int_equal(plan->water->worked_out, 2); /* the old row and its twin are one */
    cy_plan_free(plan);
    put(&farm, "row.old.length", "200 ft");
    put(&farm, "zone.all.wetted_width", "4 ft");
    put(&farm, "zone.all.rule", "inch a week");
    put(&farm, "crew.hours_per_day", "9 h");
    plan = plan_with(planner, &farm, "2027-06-01", 0);
    assert_int_equal(plan->water->worked_out, 0);
    cy_plan_free(plan);
    ADD(&farm, SEEN, "n1", GROWER, "day", "2027-05-20", "row", "old", "what", "water given",
        "depth", "20 mm");
    plan = plan_with(planner, &farm, "2027-06-01", 0);
    assert_int_equal(plan->water->worked_out, 1);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* A row that is set next year has nothing to water; one without a zone has no run time. */
static void rows_without_water_or_zone(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "old", "natchez", "hedge", "2019-03-20");
    add_row(&farm, "next", "natchez", "hedge", "2028-03-20");
    add_row(&farm, "unknown", "fence", "unsure", NULL);
    struct cy_plan *plan = plan_of(&farm, "2027-06-01", 0);
    assert_false(water_of(plan, "next")->waters);
    assert_true(water_of(plan, "old")->waters);
    assert_true(water_of(plan, "unknown")->waters);
    assert_true(water_of(plan, "old")->zone == SIZE_MAX);
    struct cy_water_row_line line;
    assert_int_equal(cy_water_row_line(&line, plan, 0), CY_INVALID);
    struct cy_trace trace = {0};
    assert_false(cy_plan_why_water(&trace, plan, CY_WATER_WHY_NEED, 1, 0));
    assert_false(cy_plan_why_water(&trace, plan, CY_WATER_WHY_LINE, 0, 0));
    assert_false(cy_plan_why_water(&trace, plan, CY_WATER_WHY_RUN, 0, 0));
    assert_false(cy_plan_why_water(&trace, plan, CY_WATER_WHY_NEED, 0, 60));
    assert_int_equal(trace.count, 0);
    assert_true(cy_plan_why_water(&trace, plan, CY_WATER_WHY_NEED, 0, 30));
    assert_true(trace.count >= 5);
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ten_days_of_fao_56),
        cmocka_unit_test(no_water_is_made_or_lost),
        cmocka_unit_test(the_plan_keeps_from_stress),
        cmocka_unit_test(more_water_never_raises_a_need),
        cmocka_unit_test(the_gauge_counts_in_place_of_the_station),
        cmocka_unit_test(coefficients_follow_the_stages),
        cmocka_unit_test(the_combination_where_wind_humidity_and_sun_are_known),
        cmocka_unit_test(the_rule_chooses_the_jobs),
        cmocka_unit_test(percentiles_are_in_order_and_the_means_close),
        cmocka_unit_test(what_was_written_down_counts),
        cmocka_unit_test(what_nothing_tells_is_not_counted),
        cmocka_unit_test(the_inch_follows_the_notes),
        cmocka_unit_test(observed_days_count_as_they_were),
        cmocka_unit_test(feet_and_metres_agree),
        cmocka_unit_test(the_south_is_half_a_year_on),
        cmocka_unit_test(what_does_not_touch_water_costs_none),
        cmocka_unit_test(rows_without_water_or_zone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
