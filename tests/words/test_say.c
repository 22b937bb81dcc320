/* SPDX-License-Identifier: MIT
 * What the plan says in words: days, luck, notes, chill, reasons, the whole as text and JSON. */
#include "season/farms.h"

#include "words/words.h"

#define TODAY "2026-11-25"

static void assert_said(struct cy_text *text, const char *expected)
{
    assert_false(text->failed);
    assert_string_equal(cy_text_get(text), expected);
    cy_text_dispose(text);
}

static void assert_has(const struct cy_text *text, const char *part)
{
    if (!strstr(cy_text_get(text), part))
        fail_msg("\"%s\" is not in:\n%s", part, cy_text_get(text));
}

static void a_day_reads_as_people_write_it(void **state)
{
    (void)state;
    struct cy_text text = {0};
    cy_say_day(&text, day_at("2027-05-13"), true);
    cy_text_add(&text, ", ");
    cy_say_day(&text, day_at("2027-05-13") - 0.5, false); /* halves go to the later day */
    cy_text_add(&text, ", ");
    cy_say_day(&text, NAN, true);
    cy_text_add(&text, ", ");
    cy_say_day(&text, CY_DAY_NONE, false);
    assert_said(&text, "13 May 2027, 13 May, never, never");
}

static void a_share_reads_as_years_of_ten(void **state)
{
    (void)state;
    static const struct {
        enum cy_never never;
        double share;
        const char *said;
    } cases[] = {
        {CY_TOO_LITTLE_CHILL, 1.0, "too little chill in every year"},
        {CY_TOO_LITTLE_CHILL, 0.97, "too little chill in more than 19 years of 20"},
        {CY_FLOWERS_FROZEN, 0.1, "frost on the flowers in 1 year of 10"},
        {CY_WINTER_KILLED, 0.2, "killed by winter cold in 2 years of 10"},
        {CY_FREEZE_FIRST, 0.32, "a freeze comes first in 3 years of 10"},
        {CY_TOO_LITTLE_HEAT, 0.02, "too little heat in fewer than 1 year of 20"},
        {CY_DOES_NOT_APPLY, 1.0, "does not apply"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_text text = {0};
        cy_say_never(&text, cases[i].never, cases[i].share);
        assert_said(&text, cases[i].said);
    }
}

static void the_cold_reads_as_what_it_leaves(void **state)
{
    (void)state;
    struct cy_plan_cohort cohort = {.cold = {0.624, 0.97}};
    struct cy_text text = {0};
    cy_say_cold(&text, &cohort);
    assert_said(&text, "62 % of the first buds live through winter; 97 % of their flowers through "
                       "spring");
    cohort.cold = (struct cy_plan_cold){NAN, 1};
    text = (struct cy_text){0};
    cy_say_cold(&text, &cohort);
    assert_said(&text, "no hardiness published or typed: no loss in winter assumed; 100 % of the "
                       "flowers through spring");
}

static void every_note_has_its_sentence(void **state)
{
    (void)state;
    for (unsigned note = CY_NOTE_FRUITING_UNKNOWN; note <= CY_NOTE_FRUIT_YEAR; note <<= 1) {
        struct cy_text text = {0};
        cy_say_note(&text, (enum cy_row_note)note);
        assert_true(text.length > 20);
        assert_int_equal(cy_text_get(&text)[text.length - 1], '.');
        cy_text_dispose(&text);
    }
    /* How to find out: three leaflets or five (NC State, 28 May 2015), and when fruit came. */
    struct cy_text text = {0};
    cy_say_note(&text, CY_NOTE_FRUITING_UNKNOWN);
    assert_has(&text, "three leaflets");
    assert_has(&text, "five");
    assert_has(&text, "fruit in late summer");
    cy_text_dispose(&text);
}

static void chill_has_a_verdict_only_where_it_applies(void **state)
{
    (void)state;
    struct cy_plan_cohort cohort = {.chill_applies = true,
                                    .chill_known = true,
                                    .chill_rule = CY_CHILL_HOURS_BELOW_45,
                                    .chill_need = {500, CY_BASIS_PUBLISHED, ""},
                                    .chill_met = 0.9};
    struct cy_text text = {0};
    cy_say_chill(&text, &cohort);
    assert_said(&text, "500 hours below 45 F: met in 9 years of 10");
    cohort.chill_known = false;
    cy_say_chill(&text, &cohort);
    assert_said(&text, "no need published or typed: no verdict");
    cohort.chill_applies = false;
    cy_say_chill(&text, &cohort);
    assert_said(&text, "does not apply");
}

static void a_basis_is_named_by_its_least_trusted_part(void **state)
{
    (void)state;
    struct cy_text text = {0};
    cy_say_basis(&text, CY_BASIS_OBSERVED | CY_BASIS_PUBLISHED);
    cy_text_add(&text, "; ");
    cy_say_basis(&text, CY_BASIS_PUBLISHED | CY_BASIS_FITTED | CY_BASIS_MADE);
    cy_text_add(&text, "; ");
    cy_say_basis(&text, CY_BASIS_MADE | CY_BASIS_PLACEHOLDER);
    assert_said(&text, "published; made, fitted here; placeholder");
}

/* ---- reasons --------------------------------------------------------------------------------- */

static void assert_reason(struct cy_plan *plan, const struct cy_reason *reason, const char *said)
{
    struct cy_plan_job job = {.reason = *reason, .round = 2};
    struct cy_text text = {0};
    cy_say_reason(&text, plan, &job);
    assert_said(&text, said);
}

static void each_kind_of_reason_is_a_sentence(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_figure may = {
        .p10 = day_at("2027-05-09"), .p50 = day_at("2027-05-18"), .p90 = day_at("2027-05-29")};
    struct cy_figure july = {
        .p10 = day_at("2027-07-01"), .p50 = day_at("2027-07-10"), .p90 = day_at("2027-07-20")};
    assert_reason(plan,
                  &(struct cy_reason){.kind = CY_REASON_TIP, .figure = may, .height_m = 1.0668},
                  "half of the canes pass 42 in by 18 May; between 9 May and 29 May in 8 years of "
                  "10");
    assert_reason(
        plan,
        &(struct cy_reason){
            .kind = CY_REASON_TIP, .figure = may, .height_m = 1.0668, .rounds = 3, .share = 0.098},
        "half of the canes pass 42 in by 18 May; between 9 May and 29 May in 8 years of "
        "10; pass 2 of 3, which miss 10 % of the canes");
    assert_reason(plan,
                  &(struct cy_reason){.kind = CY_REASON_LATERALS,
                                      .stage = CY_STAGE_LATERALS,
                                      .figure = may,
                                      .height_m = 0.508,
                                      .days = 28},
                  "laterals by 18 May in the middle year; between 9 May and 29 May in 8 years of "
                  "10; 20 in long some 28 days later");
    assert_reason(
        plan, &(struct cy_reason){.kind = CY_REASON_STAGE, .stage = CY_STAGE_BLOOM, .figure = may},
        "bloom by 18 May in the middle year; between 9 May and 29 May in 8 years of 10");
    assert_reason(
        plan,
        &(struct cy_reason){.kind = CY_REASON_PICKING, .figure = may, .closing = july, .days = 3},
        "every 3 days from first pick, 18 May (9 May to 29 May in 8 years of 10), to last "
        "pick, 10 Jul");
    assert_reason(
        plan,
        &(struct cy_reason){.kind = CY_REASON_PLANTING, .days = -60, .day = day_at("2027-03-20")},
        "from 60 days before planting on 20 Mar 2027");
    assert_reason(plan,
                  &(struct cy_reason){.kind = CY_REASON_PLANTING, .day = day_at("2027-03-20")},
                  "planting on 20 Mar 2027");
    assert_reason(
        plan,
        &(struct cy_reason){.kind = CY_REASON_DRY_WEEK,
                            .figure = {.p50 = 12.7},
                            .volume_m3 = 0.7571,
                            .share = 0.7},
        "young plants want an inch a week: in the middle year rain leaves 0.5 in missing, "
        "200 gal over the strip that is wetted, and the week is short in 7 years of 10");
    assert_reason(plan, &(struct cy_reason){.kind = CY_REASON_PRACTICE},
                  "the practice's window for this row");
    assert_reason(plan, &(struct cy_reason){.kind = CY_REASON_DATE}, "the time of year for it");
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* One pass alone misses; two or more miss. */
static void a_single_pass_misses(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_plan_job job = {.round = 1,
                              .reason = {.kind = CY_REASON_TIP,
                                         .figure = {.p10 = 1, .p50 = 1, .p90 = 1},
                                         .height_m = 1,
                                         .rounds = 1,
                                         .share = 0.25}};
    struct cy_text text = {0};
    cy_say_reason(&text, plan, &job);
    assert_has(&text, "pass 1 of 1, which misses 25 % of the canes");
    cy_text_dispose(&text);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- the whole ------------------------------------------------------------------------------- */

static struct cy_plan *demo(struct cy_farm *farm)
{
    farm_north(farm);
    put(farm, "farm.name", "Lark Ridge");
    add_row(farm, "old", "natchez", "hedge", "2020-03-20");
    add_row(farm, "mown", "gem", "mown", "2020-03-20");
    add_row(farm, "fence", "fence", "unsure", "2020-03-20");
    ADD(farm, DONE, "d1", GROWER, "day", "2026-11-10", "row", "old", "job", "take-out-spent",
        "season", "2027");
    return plan_of(farm, TODAY, 0);
}

static void the_plan_as_text_tells_rows_and_jobs(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = demo(&farm);
    struct cy_text text = {0};
    cy_say_plan(&text, plan, true);
    assert_has(&text, "Lark Ridge: season 2027, 1 Nov 2026 to 31 Oct 2027, as of 25 Nov 2026");
    assert_has(&text, "Over 60 weathers");
    assert_has(&text, "Natchez, 100 ft, season 8 of its life");
    assert_has(&text, "Canes of 2026, floricanes this season");
    assert_has(&text, "Canes of 2027, primocanes this season");
    assert_has(&text, "chill               does not apply");
    assert_has(&text, "three leaflets");
    assert_has(&text, "half of the canes pass 42 in by");
    assert_has(&text, "(done 10 Nov)");
    assert_has(&text, "FROST WATCH, week of 23 Nov 2026");
    assert_has(&text, "dormant buds, half lost at ");
    assert_has(&text, " of the first buds live through winter; ");
    for (size_t i = 0; i < text.length; i++)
        assert_in_range((unsigned char)text.data[i], '\n', '~');
    cy_text_dispose(&text);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- crops, days, the crew --------------------------------------------------------------------
 */

static void a_crop_reads_with_its_range_and_its_heaviest_week(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    put_as(&farm, "cultivar.gem.full_yield", "1 kg/m2", CY_BASIS_PUBLISHED);
    add_row(&farm, "both", "gem", "both", "2020-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_text text = {0}, week = {0};
    cy_say_plan(&text, plan, true);
    assert_has(&text, "\n  Crop: ");
    assert_has(&text, "\n  Autumn crop: ");
    assert_has(&text, " lb (");
    const struct cy_plan_crop *crop = &plan->rows[0].crops[0];
    int best = 0;
    for (int i = 1; i < crop->weeks; i++)
        best = crop->week_kg[i].p50 > crop->week_kg[best].p50 ? i : best;
    cy_text_add(&week, "the heaviest week that of ");
    cy_say_day(&week, crop->monday + 7 * best, false);
    assert_has(&text, cy_text_get(&week));
    cy_text_dispose(&week);
    cy_text_dispose(&text);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* A farm of one row and one kind of work, 8 hours on 5 days. */
static void one_job(struct cy_farm *farm, const char *from, const char *to, const char *hours)
{
    assert_int_equal(cy_farm_init(farm), CY_OK);
    add_place(farm, "35.43", 0);
    add_cultivars(farm);
    add_practices(farm);
    add_row(farm, "r", "natchez", "hedge", "2020-03-20");
    put(farm, "crew.hours_per_day", "8 h");
    put(farm, "crew.days_per_week", "5");
    ADD(farm, JOB, "dig", GROWER, "from", "date", "from_date", from, "to", "date", "to_date", to,
        hours ? "hours" : NULL, hours);
}

static void assert_plan_says(const struct cy_farm *farm, const char *today,
                             const char *const *parts)
{
    struct cy_plan *plan = plan_of(farm, today, 2027);
    struct cy_text text = {0};
    cy_say_plan(&text, plan, true);
    for (; *parts; parts++)
        assert_has(&text, *parts);
    cy_text_dispose(&text);
    cy_plan_free(plan);
}

#define SAYS(farm, today, ...)                                                                     \
    assert_plan_says(farm, today, (const char *const[]){__VA_ARGS__, NULL})

static void the_crews_days_and_weeks_are_said(void **state)
{
    (void)state;
    struct cy_farm farm;
    one_job(&farm, "05-03", "05-07", "100 h");
    SAYS(&farm, TODAY, "r: 100.0 h [",
         "the crew gets to it from 3 May to 19 May, up to 12 days LATE", "CREW [grower]",
         "2 weeks have late work", "week of 10 May 2027: 40 of 40 h, 40.0 h of it late",
         "week of 17 May 2027: 20 of 40 h, 20.0 h of it late",
         "the smallest crew with nothing late has 250 % of these hours a day");
    put(&farm, "job.dig.hours", "100.1 h"); /* a hair over: the crew is rounded up */
    SAYS(&farm, TODAY, "nothing late has 251 % of these hours");
    SAYS(&farm, "2027-06-02", "r (LATE): 100.1 h", "; late whatever the crew: 1 job");
    put(&farm, "crew.hours_per_day", "0.01 h");
    SAYS(&farm, TODAY, "the crew has no hours left for it");
    put(&farm, "crew.hours_per_day", "0 h");
    SAYS(&farm, TODAY, "nobody has any hours");
    cy_farm_dispose(&farm);
    one_job(&farm, "05-03", "05-07", NULL);
    SAYS(&farm, TODAY, "r: nobody gave hours [grower]", "0 weeks have late work");
    cy_farm_dispose(&farm);
}

static void rounds_say_what_was_done_and_missed(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    char day[CY_DAY_TEXT];
    int rounds = jobs_of(plan, "pick", "r");
    cy_day third = job_of(plan, "pick.r.2027.3")->to + 1;
    cy_day_print(day, job_of(plan, "pick.r.2027.2")->from);
    cy_plan_free(plan);
    ADD(&farm, DONE, "d", GROWER, "day", day, "row", "r", "job", "pick", "season", "2027", "round",
        "2");
    struct cy_text said = {0};
    cy_text_add(&said, "r, ");
    cy_text_add_int(&said, rounds);
    cy_text_add(&said, " rounds, 1 done, 2 MISSED: ");
    cy_day_print(day, third);
    SAYS(&farm, day, cy_text_get(&said));
    cy_text_dispose(&said);
    cy_farm_dispose(&farm);
}

static void the_plan_as_json_has_the_named_keys(void **state)
{
    (void)state;
    static const char *const keys[] = {"\"rows\":",
                                       "\"cohorts\":",
                                       "\"p10\":",
                                       "\"p50\":",
                                       "\"p90\":",
                                       "\"jobs\":",
                                       "\"key\":",
                                       "\"kind\":",
                                       "\"from\":",
                                       "\"to\":",
                                       "\"hours\":",
                                       "\"reason\":",
                                       "\"basis\":",
                                       "\"never\":",
                                       "\"done\":",
                                       "\"late\":",
                                       "\"crops\":",
                                       "\"crew\":",
                                       "\"weeks\":",
                                       "\"missed\":",
                                       "\"planned_from\":",
                                       "\"planned_to\":",
                                       "\"late_days\":",
                                       "\"cannot_wait\":",
                                       "\"crew_hours\":",
                                       "\"late_hours\":",
                                       "\"smallest_with_nothing_late\":",
                                       "\"late_whatever_the_crew\":",
                                       "\"cold\":",
                                       "\"frost_watch\":",
                                       "\"station_minimum_c\":"};
    struct cy_farm farm;
    struct cy_plan *plan = demo(&farm);
    struct cy_text text = {0};
    cy_plan_json(&text, plan);
    assert_false(text.failed);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        assert_has(&text, keys[i]);
    cy_text_dispose(&text);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_trace_reads_as_formula_and_inputs(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = demo(&farm);
    struct cy_trace trace = {0};
    struct cy_text text = {0};
    assert_true(cy_plan_why_stage(&trace, plan, 0, 1, CY_STAGE_PEAK_PICK));
    cy_say_trace(&text, &trace, CY_US);
    assert_has(&text, "formula: ");
    assert_has(&text, "days from half bloom to peak: 49");
    assert_has(&text, "Black et al.");
    cy_text_dispose(&text);
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_day_reads_as_people_write_it),
        cmocka_unit_test(a_share_reads_as_years_of_ten),
        cmocka_unit_test(the_cold_reads_as_what_it_leaves),
        cmocka_unit_test(every_note_has_its_sentence),
        cmocka_unit_test(chill_has_a_verdict_only_where_it_applies),
        cmocka_unit_test(a_basis_is_named_by_its_least_trusted_part),
        cmocka_unit_test(each_kind_of_reason_is_a_sentence),
        cmocka_unit_test(a_single_pass_misses),
        cmocka_unit_test(the_plan_as_text_tells_rows_and_jobs),
        cmocka_unit_test(a_crop_reads_with_its_range_and_its_heaviest_week),
        cmocka_unit_test(the_crews_days_and_weeks_are_said),
        cmocka_unit_test(rounds_say_what_was_done_and_missed),
        cmocka_unit_test(the_plan_as_json_has_the_named_keys),
        cmocka_unit_test(a_trace_reads_as_formula_and_inputs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
