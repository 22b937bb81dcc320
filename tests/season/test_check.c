/* SPDX-License-Identifier: MIT
 * A farm that can be planned passes; each thing that would spoil a plan is named with its field. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/season/farm.h>

/* Sets a field by its address. */
static void set(struct cy_farm *farm, const char *address, const char *text)
{
    int64_t id = 0;
    enum cy_field field;
    struct cy_value value;
    assert_int_equal(cy_farm_address(farm, address, &id, &field, NULL), CY_OK);
    assert_int_equal(cy_value_parse(&value, field, text, strlen(text), NULL), CY_OK);
    assert_int_equal(cy_farm_set(farm, id, field, &value), CY_OK);
    cy_value_dispose(&value);
}

static void clear(struct cy_farm *farm, const char *address)
{
    int64_t id = 0;
    enum cy_field field;
    assert_int_equal(cy_farm_address(farm, address, &id, &field, NULL), CY_OK);
    assert_int_equal(cy_farm_set(farm, id, field, &(struct cy_value){0}), CY_OK);
}

static int64_t add(struct cy_farm *farm, enum cy_kind kind, int64_t parent, const char *key)
{
    struct cy_thing *thing = cy_farm_add(farm, kind, parent, key, NULL, 0);
    assert_non_null(thing);
    return thing->id;
}

/* A small farm with one of everything that is checked, and nothing wrong. */
static int set_up(void **state)
{
    static struct cy_farm farm;
    assert_int_equal(cy_farm_init(&farm), CY_OK);
    int64_t place = add(&farm, CY_KIND_PLACE, 0, "town");
    set(&farm, "place.town.latitude", "35");
    set(&farm, "place.town.longitude", "-84");
    for (int i = 0; i < 12; i++) {
        int64_t month = add(&farm, CY_KIND_MONTH, place, NULL);
        struct cy_value low = {.set = true, .number = i}, high = {.set = true, .number = i + 10.0};
        assert_int_equal(cy_farm_set(&farm, month, CY_MONTH_LOW, &low), CY_OK);
        assert_int_equal(cy_farm_set(&farm, month, CY_MONTH_HIGH, &high), CY_OK);
        assert_int_equal(cy_farm_set(&farm, month, CY_MONTH_RAIN, &high), CY_OK);
    }
    set(&farm, "site.place", "town");
    add(&farm, CY_KIND_OBSTACLE, cy_farm_one(&farm, CY_KIND_SITE)->id, "oaks");
    set(&farm, "site.obstacle.oaks.from", "200");
    set(&farm, "site.obstacle.oaks.to", "250");
    set(&farm, "site.obstacle.oaks.altitude", "12");
    add(&farm, CY_KIND_CULTIVAR, 0, "navaho");
    set(&farm, "cultivar.navaho.fruiting", "floricane");
    add(&farm, CY_KIND_PRACTICE, 0, "standard");
    set(&farm, "practice.standard.cropping", "floricane crop");
    add(&farm, CY_KIND_JOB, 0, "tip");
    set(&farm, "job.tip.from", "first tip");
    set(&farm, "job.tip.to", "laterals");
    add(&farm, CY_KIND_JOB, 0, "thin");
    set(&farm, "job.thin.from", "date");
    set(&farm, "job.thin.from_date", "01-15");
    set(&farm, "job.thin.to", "date");
    set(&farm, "job.thin.to_date", "03-10");
    set(&farm, "job.thin.after", "tip");
    add(&farm, CY_KIND_ROW, 0, "north-1");
    set(&farm, "row.north-1.length", "100 ft");
    set(&farm, "row.north-1.spacing", "4 ft");
    set(&farm, "row.north-1.missing", "26");
    set(&farm, "row.north-1.cultivar", "navaho");
    set(&farm, "row.north-1.practice", "standard");
    add(&farm, CY_KIND_SEEN, 0, "s1");
    set(&farm, "note.s1.day", "2027-06-01");
    set(&farm, "note.s1.row", "north-1");
    set(&farm, "note.s1.what", "first bloom");
    add(&farm, CY_KIND_SEEN, 0, "s2");
    set(&farm, "note.s2.day", "2027-06-03");
    set(&farm, "note.s2.row", "north-1");
    set(&farm, "note.s2.what", "cane height");
    set(&farm, "note.s2.height", "3 ft");
    set(&farm, "note.s2.corrects", "s1");
    add(&farm, CY_KIND_DONE, 0, "d1");
    set(&farm, "work.d1.day", "2027-06-03");
    set(&farm, "work.d1.job", "tip");
    *state = &farm;
    return 0;
}

static int tear_down(void **state)
{
    cy_farm_dispose(*state);
    return 0;
}

/* Exactly this is wrong. */
static void assert_problem(const struct cy_farm *farm, enum cy_issue_code code, const char *thing,
                           const char *field, const char *found, const char *allowed)
{
    struct cy_issues issues = {0};
    assert_int_equal(cy_farm_check(farm, &issues), CY_INVALID);
    assert_int_equal(cy_farm_check(farm, NULL), CY_INVALID);
    assert_int_equal(issues.count, 1);
    const struct cy_issue *issue = &issues.items[0];
    assert_int_equal(issue->code, code);
    assert_string_equal(issue->thing, thing);
    assert_string_equal(issue->field, field);
    assert_string_equal(issue->found, found);
    assert_string_equal(issue->allowed, allowed);
    struct cy_text name = {0};
    cy_thing_print(&name, farm, cy_farm_by_id(farm, issue->thing_id));
    assert_string_equal(cy_text_get(&name), thing);
    cy_text_dispose(&name);
    if (*field)
        assert_string_equal(cy_field_info((enum cy_field)issue->field_id)->name, field);
    else
        assert_int_equal(issue->field_id, CY_FIELD_NONE);
}

static void assert_missing(const struct cy_farm *farm, const char *thing, const char *field,
                           const char *allowed)
{
    assert_problem(farm, CY_ISSUE_MISSING, thing, field, "", allowed);
}

static void assert_passes(const struct cy_farm *farm)
{
    struct cy_issues issues = {0};
    int status = cy_farm_check(farm, &issues);
    if (issues.count)
        print_error("%s %s: %s / %s\n", issues.items[0].thing, issues.items[0].field,
                    issues.items[0].found, issues.items[0].allowed);
    assert_int_equal(status, CY_OK);
    assert_int_equal(issues.count, 0);
}

static void a_sound_farm_passes(void **state)
{
    assert_passes(*state);
}

static void references_name_something(void **state)
{
    struct cy_farm *farm = *state;
    set(farm, "row.north-1.cultivar", "navajo");
    assert_problem(farm, CY_ISSUE_BAD_REFERENCE, "row north-1", "cultivar", "navajo", "navaho");
    set(farm, "row.north-1.cultivar", "ouachita");
    assert_problem(farm, CY_ISSUE_BAD_REFERENCE, "row north-1", "cultivar", "ouachita",
                   "the key of a cultivar");
    set(farm, "row.north-1.cultivar", "navaho");
    cy_farm_retire(farm, cy_farm_by_key(farm, CY_KIND_CULTIVAR, 0, "navaho")->id, true);
    assert_problem(farm, CY_ISSUE_BAD_REFERENCE, "row north-1", "cultivar", "navaho",
                   "one that was not removed");
}

static void records_may_speak_of_what_is_gone(void **state)
{
    struct cy_farm *farm = *state;
    int64_t row = cy_farm_by_key(farm, CY_KIND_ROW, 0, "north-1")->id;
    clear(farm, "row.north-1.length"); /* nobody asks about a retired row */
    cy_farm_retire(farm, row, true);
    assert_passes(farm);
    cy_farm_remove(farm, row);
    struct cy_issues issues = {0};
    assert_int_equal(cy_farm_check(farm, &issues), CY_INVALID);
    assert_int_equal(issues.count, 2); /* both notes */
    assert_int_equal(issues.items[1].code, CY_ISSUE_BAD_REFERENCE);
    assert_string_equal(issues.items[1].thing, "note s2");
}

static void a_row_has_length_and_cultivar(void **state)
{
    struct cy_farm *farm = *state;
    clear(farm, "row.north-1.length");
    assert_missing(farm, "row north-1", "length", "1.641 to 6561 ft");
    set(farm, "farm.units", "metric");
    assert_missing(farm, "row north-1", "length", "0.5 to 2000 m");
    set(farm, "row.north-1.length", "100 ft");
    clear(farm, "row.north-1.cultivar");
    assert_missing(farm, "row north-1", "cultivar", "the key of a cultivar");
}

static void the_weather_comes_from_a_place(void **state)
{
    struct cy_farm *farm = *state;
    clear(farm, "site.place");
    assert_missing(farm, "site", "place", "the key of a place");
    set(farm, "site.latitude", "35.1");
    assert_missing(farm, "site", "place", "the key of a place");
    set(farm, "site.longitude", "-84.2");
    assert_passes(farm); /* the nearest place stands in */
    set(farm, "site.place", "toun");
    assert_problem(farm, CY_ISSUE_BAD_REFERENCE, "site", "place", "toun", "town");
}

static void a_place_has_twelve_whole_months(void **state)
{
    struct cy_farm *farm = *state;
    clear(farm, "place.town.latitude");
    assert_missing(farm, "place town", "latitude", "-66 to 66 deg");
    set(farm, "place.town.latitude", "35");
    clear(farm, "place.town.month.mar.rain");
    assert_missing(farm, "place town month mar", "rain", "0 to 78.74 in");
    set(farm, "place.town.month.mar.rain", "4 in");
    clear(farm, "place.town.month.mar.low");
    assert_missing(farm, "place town month mar", "low", "-58 to 104 F");
    set(farm, "place.town.month.mar.low", "12 C");
    assert_problem(farm, CY_ISSUE_PAIR, "place town month mar", "high",
                   "high 53.6 F with low 53.6 F", "more than low");
    set(farm, "place.town.month.mar.low", "2 C");
    int64_t place = cy_farm_by_key(farm, CY_KIND_PLACE, 0, "town")->id;
    cy_farm_remove(farm, cy_farm_by_key(farm, CY_KIND_MONTH, place, "dec")->id);
    assert_problem(farm, CY_ISSUE_MISSING, "place town", "", "11 months", "12 months");
}

static void months_stand_in_order(void **state)
{
    struct cy_farm *farm = *state;
    int64_t place = cy_farm_by_key(farm, CY_KIND_PLACE, 0, "town")->id;
    cy_farm_reorder(farm, cy_farm_by_key(farm, CY_KIND_MONTH, place, "jan")->id, 40);
    struct cy_issues issues = {0};
    assert_int_equal(cy_farm_check(farm, &issues), CY_INVALID);
    assert_int_equal(issues.count, 12);
    assert_int_equal(issues.items[0].code, CY_ISSUE_PAIR);
    assert_string_equal(issues.items[0].thing, "place town month feb");
}

/* Only the place that stands in need be whole. */
static void other_places_may_be_unfinished(void **state)
{
    struct cy_farm *farm = *state;
    add(farm, CY_KIND_PLACE, 0, "begun");
    assert_passes(farm);
}

static void obstacles_can_be_placed(void **state)
{
    struct cy_farm *farm = *state;
    clear(farm, "site.obstacle.oaks.altitude");
    assert_missing(farm, "site obstacle oaks", "altitude", "altitude, or height and distance");
    set(farm, "site.obstacle.oaks.height", "50 ft");
    assert_missing(farm, "site obstacle oaks", "distance", "0.3281 to 65616 ft");
    set(farm, "site.obstacle.oaks.distance", "100 ft");
    assert_passes(farm);
    set(farm, "site.obstacle.oaks.altitude", "3");
    assert_problem(farm, CY_ISSUE_PAIR, "site obstacle oaks", "altitude",
                   "altitude beside height or distance", "either altitude, or height and distance");
    clear(farm, "site.obstacle.oaks.height");
    clear(farm, "site.obstacle.oaks.distance");
    clear(farm, "site.obstacle.oaks.from");
    assert_missing(farm, "site obstacle oaks", "from", "0 to 360 deg");
}

static void chill_is_counted_by_a_rule(void **state)
{
    struct cy_farm *farm = *state;
    set(farm, "cultivar.navaho.chill_need", "800 h");
    assert_missing(farm, "cultivar navaho", "chill_rule",
                   "hours 32-45 F, hours below 45 F, Utah units, blackberry units or chill "
                   "portions");
    set(farm, "cultivar.navaho.chill_rule", "hours 32-45 F");
    set(farm, "cultivar.navaho.chill_need_low", "900 h");
    assert_problem(farm, CY_ISSUE_PAIR, "cultivar navaho", "chill_need",
                   "chill_need 800.0 h with chill_need_low 900.0 h", "no less than chill_need_low");
    set(farm, "cultivar.navaho.chill_need_low", "800 h");
    assert_passes(farm);
}

/* The default ceiling (54 in) counts too. */
static void the_ceiling_is_over_the_tip(void **state)
{
    struct cy_farm *farm = *state;
    set(farm, "practice.standard.tip_height", "5 ft");
    assert_problem(farm, CY_ISSUE_PAIR, "practice standard", "tip_ceiling",
                   "tip_ceiling 4.5 ft with tip_height 5.0 ft", "more than tip_height");
    set(farm, "practice.standard.tip_ceiling", "6 ft");
    assert_passes(farm);
}

static void jobs_have_a_window(void **state)
{
    struct cy_farm *farm = *state;
    clear(farm, "job.thin.from_date");
    assert_missing(farm, "job thin", "from_date",
                   "a month and day such as 10-01, and 02-28 for the end of February");
    set(farm, "job.thin.from_date", "01-15");
    clear(farm, "job.thin.to_date");
    assert_missing(farm, "job thin", "to_date",
                   "a month and day such as 10-01, and 02-28 for the end of February");
    set(farm, "job.thin.to", "bud break");
    assert_passes(farm);
    clear(farm, "job.thin.to");
    struct cy_issues issues = {0};
    assert_int_equal(cy_farm_check(farm, &issues), CY_INVALID);
    assert_string_equal(issues.items[0].field, "to");
}

static void jobs_do_not_wait_in_a_ring(void **state)
{
    struct cy_farm *farm = *state;
    struct cy_issues issues = {0};
    set(farm, "job.thin.after", "thin");
    assert_problem(farm, CY_ISSUE_PAIR, "job thin", "after", "jobs that wait for each other",
                   "a job that does not wait for this one");
    set(farm, "job.thin.after", "tip");
    set(farm, "job.tip.after", "thin");
    assert_int_equal(cy_farm_check(farm, &issues), CY_INVALID);
    assert_int_equal(issues.count, 2);
}

static void no_more_plants_are_missing_than_stood(void **state)
{
    struct cy_farm *farm = *state;
    set(farm, "row.north-1.missing", "27");
    assert_problem(farm, CY_ISSUE_PAIR, "row north-1", "missing", "27 plants missing",
                   "at most the row's 26");
}

static void alternate_years_have_a_phase(void **state)
{
    struct cy_farm *farm = *state;
    set(farm, "practice.standard.cropping", "alternate years");
    assert_missing(farm, "row north-1", "fruits_in", "odd years or even years");
    set(farm, "row.north-1.fruits_in", "odd years");
    assert_passes(farm);
}

static void floricane_types_bear_no_autumn_crop(void **state)
{
    struct cy_farm *farm = *state;
    static const char advice[] =
        "a practice of the floricane crop, or a primocane-fruiting cultivar";
    set(farm, "practice.standard.cropping", "autumn crop only");
    assert_problem(farm, CY_ISSUE_PAIR, "row north-1", "practice",
                   "autumn crop only from navaho, which fruits on last year's canes only", advice);
    set(farm, "practice.standard.cropping", "both crops");
    assert_problem(farm, CY_ISSUE_PAIR, "row north-1", "practice",
                   "both crops from navaho, which fruits on last year's canes only", advice);
    set(farm, "cultivar.navaho.fruiting", "unknown");
    assert_passes(farm);
    set(farm, "cultivar.navaho.fruiting", "primocane");
    assert_passes(farm);
}

static void notes_say_what_was_seen(void **state)
{
    struct cy_farm *farm = *state;
    clear(farm, "note.s1.row");
    assert_missing(farm, "note s1", "row", "the key of a row");
    set(farm, "note.s1.row", "north-1");
    clear(farm, "note.s1.day");
    assert_missing(farm, "note s1", "day", "a date such as 2027-03-15");
    set(farm, "note.s1.day", "2027-06-01");
    clear(farm, "note.s2.height");
    assert_missing(farm, "note s2", "height", "0 to 32.8 ft");
    set(farm, "note.s2.what", "frost kill");
    assert_missing(farm, "note s2", "killed", "0 to 100 %");
    set(farm, "note.s2.what", "cane count");
    assert_missing(farm, "note s2", "count", "a whole number, 0 to 100000");
    set(farm, "note.s2.count", "90");
    assert_passes(farm);
    set(farm, "note.s1.killed", "20 %");
    assert_problem(farm, CY_ISSUE_PAIR, "note s1", "killed", "first bloom",
                   "a share killed only of frost kill");
    clear(farm, "note.s1.killed");
    set(farm, "note.s1.what", "other");
    assert_missing(farm, "note s1", "text", "up to 400 characters");
    set(farm, "note.s1.text", "deer");
    assert_passes(farm);
    clear(farm, "note.s1.what");
    struct cy_issues issues = {0};
    assert_int_equal(cy_farm_check(farm, &issues), CY_INVALID);
    assert_string_equal(issues.items[0].field, "what");
}

static void water_says_how_much_on_what(void **state)
{
    struct cy_farm *farm = *state;
    set(farm, "note.s1.depth", "0.5 in");
    assert_problem(farm, CY_ISSUE_PAIR, "note s1", "depth", "first bloom",
                   "it only of rain or water given");
    clear(farm, "note.s1.depth");
    /* Rain is the farm's, unless it names a row or a zone. */
    set(farm, "note.s1.what", "rain");
    assert_missing(farm, "note s1", "depth", "0 to 39.37 in");
    set(farm, "note.s1.depth", "0.5 in");
    assert_passes(farm);
    clear(farm, "note.s1.row");
    assert_passes(farm);
    set(farm, "note.s1.ran", "2 h");
    assert_problem(farm, CY_ISSUE_PAIR, "note s1", "depth", "rain by more than its depth",
                   "the depth in the gauge alone");
    /* Water is given to a row or to a zone, by one amount. */
    set(farm, "note.s1.what", "water given");
    clear(farm, "note.s1.depth");
    assert_missing(farm, "note s1", "row", "a row or a zone");
    set(farm, "note.s1.row", "north-1");
    assert_passes(farm);
    set(farm, "note.s1.volume", "200 gal");
    assert_problem(farm, CY_ISSUE_PAIR, "note s1", "volume", "more than one amount",
                   "one of depth, volume and ran");
    clear(farm, "note.s1.volume");
    clear(farm, "note.s1.ran");
    assert_missing(farm, "note s1", "volume", "a depth, a volume or the time that it ran");
    set(farm, "note.s1.volume", "200 gal");
    add(farm, CY_KIND_ZONE, 0, "east");
    set(farm, "note.s1.zone", "east");
    assert_problem(farm, CY_ISSUE_PAIR, "note s1", "zone", "a row and a zone",
                   "the one or the other");
    clear(farm, "note.s1.row");
    assert_passes(farm);
}

static void work_says_what_was_done(void **state)
{
    struct cy_farm *farm = *state;
    clear(farm, "work.d1.job");
    assert_missing(farm, "work d1", "job", "the key of a job");
    set(farm, "work.d1.text", "mended the gate");
    assert_passes(farm);
    clear(farm, "work.d1.day");
    assert_missing(farm, "work d1", "day", "a date such as 2027-03-15");
}

static void only_earlier_records_are_corrected(void **state)
{
    struct cy_farm *farm = *state;
    clear(farm, "note.s2.corrects");
    set(farm, "note.s1.corrects", "s2");
    assert_problem(farm, CY_ISSUE_PAIR, "note s1", "corrects", "s2", "an earlier record");
    set(farm, "note.s1.corrects", "s1");
    assert_problem(farm, CY_ISSUE_PAIR, "note s1", "corrects", "s1", "an earlier record");
}

static void every_problem_is_counted(void **state)
{
    struct cy_farm *farm = *state;
    struct cy_issues issues = {0};
    for (int i = 0; i < 5000; i++)
        add(farm, CY_KIND_ROW, 0, NULL);
    assert_int_equal(cy_farm_check(farm, &issues), CY_INVALID);
    assert_int_equal(issues.count, CY_ISSUES_KEPT);
    assert_int_equal(issues.count + issues.dropped, 10000); /* length and cultivar of each */
}

#define CASE(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        CASE(a_sound_farm_passes),
        CASE(references_name_something),
        CASE(records_may_speak_of_what_is_gone),
        CASE(a_row_has_length_and_cultivar),
        CASE(the_weather_comes_from_a_place),
        CASE(a_place_has_twelve_whole_months),
        CASE(months_stand_in_order),
        CASE(other_places_may_be_unfinished),
        CASE(obstacles_can_be_placed),
        CASE(chill_is_counted_by_a_rule),
        CASE(the_ceiling_is_over_the_tip),
        CASE(jobs_have_a_window),
        CASE(jobs_do_not_wait_in_a_ring),
        CASE(no_more_plants_are_missing_than_stood),
        CASE(alternate_years_have_a_phase),
        CASE(floricane_types_bear_no_autumn_crop),
        CASE(notes_say_what_was_seen),
        CASE(water_says_how_much_on_what),
        CASE(work_says_what_was_done),
        CASE(only_earlier_records_are_corrected),
        CASE(every_problem_is_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
