/* SPDX-License-Identifier: MIT
 * The shipped kinds of work on rows of every habit and practice: which they get, when, and one row
 * from the year before planting to its third crop. */
#include "season/farms.h"

#include <caneyear/season/trellis.h>

#include "store/yaml.h"

#define TODAY "2026-11-25"

static struct cy_farm catalogue;

static int read_catalogue(void **state)
{
    (void)state;
    struct cy_issues issues = {0};
    return cy_catalogue_read(&catalogue, "share", &issues) == CY_OK && issues.count == 0 ? 0 : -1;
}

static int drop_catalogue(void **state)
{
    (void)state;
    cy_farm_dispose(&catalogue);
    return 0;
}

static struct cy_plan *shipped_row(struct cy_farm *farm, const char *cultivar, const char *practice,
                                   const char *planted, const char *today, int season)
{
    assert_int_equal(cy_farm_init(farm), CY_OK);
    add_place(farm, "35.43", 0);
    int64_t trellis = ADD(farm, TRELLIS, "wires", GROWER, "form", "I");
    assert_non_null(cy_farm_add(farm, CY_KIND_WIRE, trellis, "top", NULL, 0));
    put(farm, "trellis.wires.wire.top.height", "5 ft");
    put(farm, "trellis.wires.wire.top.tension", "225 lbf");
    put(farm, "trellis.wires.wire.top.working", "215 lbf");
    put(farm, "trellis.wires.wire.top.set_at", "55 F");
    assert_int_equal(cy_farm_lend(farm, &catalogue), CY_OK);
    add_row(farm, "r", cultivar, practice, planted);
    put(farm, "cultivar.marion.winter_limit", "-39 C"); /* this place kills it in most winters */
    if (cy_streq(practice, "alternate-year"))
        put(farm, "row.r.fruits_in", "even years");
    return plan_of(farm, today, season);
}

static const struct cy_plan_job *need_job(const struct cy_plan *plan, const char *key)
{
    const struct cy_plan_job *job = job_of(plan, key);
    if (!job)
        fail_msg("no job %s", key);
    return job;
}

/* ---- which rows ------------------------------------------------------------------------------ */

static void kinds_follow_habit_fruiting_and_practice(void **state)
{
    (void)state;
    static const char *const kinds[] = {
        "weed",          "weed-first-year", "feed",      "feed-first-year",
        "first-tip",     "second-tip",      "tie-canes", "tighten-wire",
        "thin-canes",    "trim-laterals",   "mow-down",  "pick",
        "take-out-spent"};
    enum { KINDS = sizeof kinds / sizeof *kinds };
    static const struct {
        const char *cultivar, *practice, *planted;
        const char *planned; /* by kind: + planned, - not */
    } cases[] = {
        /* erect: tipped, laterals shortened (N.C. Cooperative Extension, February) */
        {"natchez", "erect-hedgerow", "2020-03-20", "+-+-+-++++-++"},
        {"natchez", "erect-hedgerow", "2027-03-20", "-+-++--------"},
        {"natchez", "erect-hedgerow", "2026-03-20", "+-+-+-++++-+-"},
        {"natchez", "erect-hedgerow", "2028-03-20", "-------------"},
        /* semi-erect: laterals need not be shortened (OSU EC 1303) */
        {"triple-crown", "semi-erect", "2020-03-20", "+-+-+-+++--++"},
        /* trailing: not tipped in summer (OSU, Blackberries for the Home Garden) */
        {"marion", "trailing-two-wire", "2020-03-20", "+-+---++++-++"},
        {"marion", "trailing-two-wire", "2027-03-20", "-+-+---------"},
        /* canes in odd years, fruit in even ones: 2027 grows canes; what bore is cut out */
        {"marion", "alternate-year", "2020-03-20", "+-+----+-----"},
        /* mown: nothing to thin or trim, laterals tipped again (Univ. of Arkansas, 2018) */
        {"apf-205t", "autumn-mown", "2020-03-20", "+-+-++-+--++-"},
        {"apf-205t", "autumn-mown", "2027-03-20", "-+-+++-----+-"},
        {"apf-205t", "both-crops", "2020-03-20", "+-+-+-++++-++"},
        /* nobody knows: nothing alive is cut, and nobody knows what is spent */
        {"natchez", "unsure", "2020-03-20", "+-+-+-++---+-"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_farm farm;
        struct cy_plan *plan =
            shipped_row(&farm, cases[i].cultivar, cases[i].practice, cases[i].planted, TODAY, 2027);
        for (int k = 0; k < KINDS; k++) {
            bool planned = jobs_of(plan, kinds[k], "r") > 0;
            if (planned != (cases[i].planned[k] == '+'))
                fail_msg("%s on %s, %s, %s: %d", kinds[k], cases[i].cultivar, cases[i].practice,
                         cases[i].planted, planned);
        }
        cy_plan_free(plan);
        cy_farm_dispose(&farm);
    }
}

static void a_fruiting_year_of_two_is_weeded_and_fed(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan =
        shipped_row(&farm, "marion", "alternate-year", "2020-03-20", TODAY, 2028);
    assert_int_equal(jobs_of(plan, "weed", "r"), 3);
    assert_int_equal(jobs_of(plan, "feed", "r"), 2);
    /* It has no new canes to wait for: spring begins with the old ones' buds. */
    assert_int_equal(need_job(plan, "feed.r.2028")->reason.stage, CY_STAGE_BUD_BREAK);
    assert_int_equal(jobs_of(plan, "first-tip", "r"), 0);
    assert_true(jobs_of(plan, "pick", "r") > 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- when ------------------------------------------------------------------------------------ */

static cy_day middle(const struct cy_plan *plan, int year, enum cy_stage stage)
{
    return (cy_day)floor(cohort_of(plan, "r", year)->stage[stage].p50 + 0.5);
}

static void rounds_are_as_many_as_the_file_says(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan =
        shipped_row(&farm, "natchez", "erect-hedgerow", "2020-03-20", TODAY, 2027);
    cy_day buds = middle(plan, 2026, CY_STAGE_BUD_BREAK),
           up = middle(plan, 2027, CY_STAGE_EMERGENCE);
    assert_int_equal(jobs_of(plan, "weed", "r"), 3); /* a third of a year's hours each */
    assert_int_equal(need_job(plan, "weed.r.2027")->from, buds);
    assert_int_equal(need_job(plan, "weed.r.2027.3")->from, buds + 80);
    /* OSU EM 8903, from memory: half at emergence, half about two months later. */
    assert_int_equal(jobs_of(plan, "feed", "r"), 2);
    assert_int_equal(need_job(plan, "feed.r.2027")->from, up);
    assert_int_equal(need_job(plan, "feed.r.2027.2")->from, up + 60);
    for (size_t i = 0; i < plan->job_count; i++) /* and none is a sliver of a window */
        if (cy_streq(plan->jobs[i].kind_key, "weed") || cy_streq(plan->jobs[i].kind_key, "feed"))
            assert_true(plan->jobs[i].to - plan->jobs[i].from >= 14);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);

    plan = shipped_row(&farm, "natchez", "erect-hedgerow", "2027-03-20", TODAY, 2027);
    cy_day planted = day_at("2027-03-20");
    assert_int_equal(jobs_of(plan, "weed-first-year", "r"), 5);
    assert_int_equal(need_job(plan, "weed-first-year.r.2027")->from, planted + 28);
    /* NC State, Southeast guide ch. 11: 2 to 4 weeks after planting, 4 to 6 weeks after that. */
    assert_int_equal(jobs_of(plan, "feed-first-year", "r"), 2);
    assert_int_equal(need_job(plan, "feed-first-year.r.2027")->from, planted + 14);
    assert_int_equal(need_job(plan, "feed-first-year.r.2027.2")->from, planted + 49);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void wires_are_tightened_once_they_have_been_slack_for_a_week(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan =
        shipped_row(&farm, "natchez", "erect-hedgerow", "2020-03-20", TODAY, 2027);
    const struct cy_plan_job *job = need_job(plan, "tighten-wire.r.2027");
    const struct cy_figure *slack = &cy_trellis_of(plan, 0)->wires[0].slack;
    assert_int_equal(job->reason.kind, CY_REASON_WIRE);
    assert_int_equal(job->from, (cy_day)floor(slack->p10 + 0.5));
    assert_int_equal(job->to, (cy_day)floor(slack->p90 + 0.5) + 7);
    assert_true(job->basis & CY_BASIS_PLACEHOLDER); /* no rate is published */
    assert_int_equal(jobs_of(plan, "measure-wire", "r"), 0);
    cy_plan_free(plan);
    /* Where nobody knows the tension, it is measured, and nothing is said of tightening. */
    struct cy_value unset = {0};
    const struct cy_thing *trellis = cy_farm_by_key(&farm, CY_KIND_TRELLIS, 0, "wires");
    const struct cy_thing *wire = cy_farm_by_key(&farm, CY_KIND_WIRE, trellis->id, "top");
    assert_int_equal(cy_farm_set(&farm, wire->id, CY_WIRE_TENSION, &unset), CY_OK);
    plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(jobs_of(plan, "tighten-wire", "r"), 0);
    assert_int_equal(jobs_of(plan, "measure-wire", "r"), 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void laterals_are_tipped_once_they_are_long_enough(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = shipped_row(&farm, "apf-205t", "autumn-mown", "2020-03-20", TODAY, 2027);
    const struct cy_plan_job *job = need_job(plan, "second-tip.r.2027");
    const struct cy_figure *laterals = &cohort_of(plan, "r", 2027)->stage[CY_STAGE_LATERALS];
    /* 20 in (Univ. of Arkansas, 5 March 2018) at the canes' own 0.0181 m a day. */
    assert_int_equal(job->from, (cy_day)floor(laterals->p10 + 0.5) + 28);
    assert_int_equal(job->to, (cy_day)floor(laterals->p90 + 0.5) + 28 + 7);
    assert_int_equal(job->reason.kind, CY_REASON_LATERALS);
    assert_true(fabs(job->reason.height_m - 0.508) < 1e-9);
    assert_true(job->reason.days == 28);
    assert_true(job->urgent);
    assert_true(job->basis & CY_BASIS_PLACEHOLDER); /* no growth of laterals is published */
    /* After the first tip, whatever the crew. */
    assert_true(job->planned_from >= need_job(plan, "first-tip.r.2027")->planned_to);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Thinned before what is left is shortened and tied; mown in late winter, where nothing is kept. */
static void winter_work_has_its_order(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan =
        shipped_row(&farm, "natchez", "erect-hedgerow", "2020-03-20", TODAY, 2027);
    cy_day thinned = need_job(plan, "thin-canes.r.2027")->planned_to;
    assert_true(need_job(plan, "trim-laterals.r.2027")->planned_from >= thinned);
    assert_true(need_job(plan, "tie-canes.r.2027")->planned_from >= thinned);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
    plan = shipped_row(&farm, "apf-205t", "autumn-mown", "2020-03-20", TODAY, 2027);
    const struct cy_plan_job *mow = need_job(plan, "mow-down.r.2027");
    assert_int_equal(mow->from, day_at("2027-01-15")); /* mid to late winter; the days are ours */
    assert_int_equal(mow->to, day_at("2027-03-10"));
    assert_true(mow->to < cohort_of(plan, "r", 2027)->stage[CY_STAGE_EMERGENCE].p10);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- one row through its seasons --------------------------------------------------------------
 */

/* The kinds of a season in the order in which their first windows open. */
static void say_kinds(struct cy_text *out, const struct cy_plan *plan)
{
    for (size_t i = 0; i < plan->job_count; i++) {
        bool said = false;
        for (size_t k = 0; !said && k < i; k++)
            said = plan->jobs[k].kind == plan->jobs[i].kind;
        if (said)
            continue;
        cy_text_add(out, out->length ? " " : "");
        cy_text_add(out, plan->jobs[i].kind_key);
    }
}

static void assert_in_order(const char *said, const char *const *kinds)
{
    const char *at = said;
    for (; *kinds; kinds++) {
        size_t length = strlen(*kinds);
        const char *found = at;
        while ((found = strstr(found, *kinds)) &&
               !((found == said || found[-1] == ' ') &&
                 (found[length] == ' ' || found[length] == '\0')))
            found++;
        if (!found)
            fail_msg("%s is missing or out of order in: %s", *kinds, said);
        at = found + length;
    }
}

/* Planted on 20 March 2027: from the year before to the third crop, in the order of the year. */
static void a_row_is_carried_to_its_third_crop(void **state)
{
    (void)state;
    static const struct {
        int season;
        const char *const kinds[16];
        int crops;
    } years[] = {
        {2026, {"soil-test", "order-plants", NULL}, 0},
        {2027,
         {"soil-test", "order-plants", "set-posts", "string-wire", "plant", "feed-first-year",
          "weed-first-year", "first-tip", NULL},
         0},
        {2028, {"thin-canes", "weed", "feed", "tighten-wire", "first-tip", "pick", NULL}, 1},
        {2029,
         {"take-out-spent", "thin-canes", "weed", "feed", "tighten-wire", "first-tip", "pick",
          NULL},
         2},
        {2030,
         {"take-out-spent", "thin-canes", "weed", "feed", "tighten-wire", "first-tip", "pick",
          NULL},
         3},
    };
    int crops = 0;
    for (size_t i = 0; i < sizeof years / sizeof *years; i++) {
        struct cy_farm farm;
        struct cy_text said = {0};
        char today[CY_DAY_TEXT];
        cy_day_print(today, cy_day_of(years[i].season, 3, 1));
        struct cy_plan *plan =
            shipped_row(&farm, "natchez", "erect-hedgerow", "2027-03-20", today, years[i].season);
        say_kinds(&said, plan);
        assert_in_order(cy_text_get(&said), years[i].kinds);
        crops += jobs_of(plan, "pick", "r") > 0;
        assert_int_equal(crops, years[i].crops);
        /* Nothing of its first year comes back, and nothing stands in it that its age forbids. */
        assert_int_equal(jobs_of(plan, "water-first-year", "r") > 0, years[i].season == 2027);
        assert_int_equal(jobs_of(plan, "trim-laterals", "r") > 0, years[i].season >= 2028);
        assert_int_equal(jobs_of(plan, "tie-canes", "r") > 0, years[i].season >= 2028);
        assert_int_equal(jobs_of(plan, "mow-down", "r"), 0);
        for (size_t k = 0; k < plan->job_count; k++)
            assert_true(cy_streq(plan->jobs[k].row_key, "r") && plan->jobs[k].hours > 0);
        cy_text_dispose(&said);
        cy_plan_free(plan);
        cy_farm_dispose(&farm);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kinds_follow_habit_fruiting_and_practice),
        cmocka_unit_test(a_fruiting_year_of_two_is_weeded_and_fed),
        cmocka_unit_test(rounds_are_as_many_as_the_file_says),
        cmocka_unit_test(wires_are_tightened_once_they_have_been_slack_for_a_week),
        cmocka_unit_test(laterals_are_tipped_once_they_are_long_enough),
        cmocka_unit_test(winter_work_has_its_order),
        cmocka_unit_test(a_row_is_carried_to_its_third_crop),
    };
    return cmocka_run_group_tests(tests, read_catalogue, drop_catalogue);
}
