/* SPDX-License-Identifier: MIT
 * The shipped files: they read without a complaint, hold what they promise, and every figure in
 * the catalogue says what stands behind it. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/season/plan.h>
#include <caneyear/season/rowplan.h>

#include "store/yaml.h"

#define SHARE "share/"

static struct cy_farm catalogue;

static void show(const struct cy_issues *issues)
{
    for (size_t i = 0; i < issues->count; i++) {
        const struct cy_issue *issue = &issues->items[i];
        print_error("%s:%d:%d issue %d, %s %s: found \"%s\", allowed \"%s\"\n", issue->file,
                    issue->line, issue->column, (int)issue->code, issue->thing, issue->field,
                    issue->found, issue->allowed);
    }
}

static int read_catalogue(void **state)
{
    (void)state;
    struct cy_issues issues = {0};
    int status = cy_catalogue_read(&catalogue, "share", &issues);
    show(&issues);
    return status == CY_OK && issues.count == 0 ? 0 : -1;
}

static int drop_catalogue(void **state)
{
    (void)state;
    cy_farm_dispose(&catalogue);
    return 0;
}

static void read_shipped(struct cy_farm *out, const char *path)
{
    struct cy_issues issues = {0};
    int status = cy_yaml_read(out, path, &catalogue, &issues);
    show(&issues);
    assert_int_equal(status, CY_OK);
    assert_int_equal(issues.count, 0);
}

static char *text_of(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *text = malloc(1 << 20);
    assert_non_null(text);
    *length = fread(text, 1, (1 << 20) - 1, file);
    text[*length] = '\0';
    fclose(file);
    return text;
}

static const struct cy_thing *find(enum cy_kind kind, const char *key)
{
    const struct cy_thing *thing = cy_farm_by_key(&catalogue, kind, 0, key);
    if (!thing)
        fail_msg("%s is missing", key);
    return thing;
}

/* ---- the catalogue -------------------------------------------------------------------------- */

static void every_shipped_figure_says_what_is_behind_it(void **state)
{
    (void)state;
    int values = 0;
    for (size_t i = 0; i < catalogue.count; i++) {
        const struct cy_thing *thing = catalogue.things[i];
        const struct cy_kind_info *kind = cy_kind_info(thing->kind);
        for (int f = 0; f < kind->field_count; f++) {
            const struct cy_value *value = &thing->values[f];
            if (!value->set)
                continue;
            const char *field = cy_field_info((enum cy_field)(kind->first_field + f))->name;
            values++;
            if (value->basis == CY_BASIS_NONE || value->basis == CY_BASIS_GROWER)
                fail_msg("%s %s, %s: no basis", kind->word, thing->key, field);
            bool needs_source = value->basis == CY_BASIS_PUBLISHED ||
                                value->basis == CY_BASIS_FITTED || value->basis == CY_BASIS_MEMORY;
            if (needs_source && (!value->source || !*value->source))
                fail_msg("%s %s, %s: no source", kind->word, thing->key, field);
        }
    }
    assert_true(values > 1500);
}

static void all_places_have_twelve_months(void **state)
{
    (void)state;
    const struct cy_thing *place = NULL;
    int places = 0, published = 0;
    while ((place = cy_farm_next(&catalogue, CY_KIND_PLACE, 0, place))) {
        const struct cy_thing *month = NULL;
        int months = 0;
        places++;
        while ((month = cy_farm_next(&catalogue, CY_KIND_MONTH, place->id, month))) {
            months++;
            assert_true(cy_number(month, CY_MONTH_LOW) < cy_number(month, CY_MONTH_HIGH));
            assert_true(cy_number(month, CY_MONTH_RAIN) >= 0);
            published += months == 1 && cy_given(month, CY_MONTH_LOW).basis == CY_BASIS_PUBLISHED;
        }
        assert_int_equal(months, 12);
        assert_false(isnan(cy_number(place, CY_PLACE_LATITUDE)));
        assert_false(isnan(cy_number(place, CY_PLACE_ELEVATION)));
    }
    assert_int_equal(places, 45);
    assert_int_equal(published, 19); /* the other 26 are from memory and say so */
}

/* NOAA NCEI normals 1981-2010, station USW00013740: January -2.1 to 8.6 C, July 114.6 mm. */
static void richmond_is_as_printed(void **state)
{
    (void)state;
    const struct cy_thing *place = find(CY_KIND_PLACE, "richmond-us-va");
    const struct cy_thing *jan = cy_farm_by_key(&catalogue, CY_KIND_MONTH, place->id, "jan");
    const struct cy_thing *jul = cy_farm_by_key(&catalogue, CY_KIND_MONTH, place->id, "jul");
    assert_float_equal(cy_number(jan, CY_MONTH_LOW), -2.1, 1e-9);
    assert_float_equal(cy_number(jan, CY_MONTH_HIGH), 8.6, 1e-9);
    assert_float_equal(cy_number(jul, CY_MONTH_RAIN), 114.6, 1e-9);
}

static void the_cultivars_are_these_and_no_others(void **state)
{
    (void)state;
    static const char *const keys[] = {"natchez",
                                       "osage",
                                       "ouachita",
                                       "caddo",
                                       "ponca",
                                       "navaho",
                                       "arapaho",
                                       "apache",
                                       "kiowa",
                                       "chickasaw",
                                       "von",
                                       "triple-crown",
                                       "chester-thornless",
                                       "hull-thornless",
                                       "loch-ness",
                                       "marion",
                                       "columbia-star",
                                       "boysen",
                                       "black-magic",
                                       "apf-205t",
                                       "reuben",
                                       "nc-194"};
    size_t count = sizeof keys / sizeof *keys;
    assert_int_equal(cy_farm_count(&catalogue, CY_KIND_CULTIVAR, 0), count);
    for (size_t i = 0; i < count; i++) {
        const struct cy_thing *cultivar = find(CY_KIND_CULTIVAR, keys[i]);
        assert_true(cy_choice(cultivar, CY_CULTIVAR_HABIT) >= 0);
        assert_int_not_equal(cy_choice(cultivar, CY_CULTIVAR_FRUITING), CY_FRUITING_UNKNOWN);
    }
}

static void a_chill_need_comes_with_its_count(void **state)
{
    (void)state;
    const struct cy_thing *cultivar = NULL;
    while ((cultivar = cy_farm_next(&catalogue, CY_KIND_CULTIVAR, 0, cultivar))) {
        bool need = cy_given(cultivar, CY_CULTIVAR_CHILL).known;
        assert_int_equal(need, cy_given(cultivar, CY_CULTIVAR_CHILL_RULE).known);
        double low = cy_number(cultivar, CY_CULTIVAR_CHILL_LOW);
        assert_true(isnan(low) || low < cy_number(cultivar, CY_CULTIVAR_CHILL));
    }
}

/* Southeast Regional Caneberry Production Guide ch. 12, Table 12-1: half bloom to peak; J. Amer.
 * Pomol. Soc., January 2024, Table 3: killing of half the buds on 18 November 2023; Drake and
 * Clark 2000 and Carter et al. 2006: chill. */
static void printed_figures_are_as_printed(void **state)
{
    (void)state;
    static const struct {
        const char *key;
        double bloom_to_peak, bud_t50, chill_low, chill;
    } rows[] = {{"natchez", 49, -12.7, 400, 500}, {"ouachita", 54, -19.1, 100, 300},
                {"osage", 55, -15.9, NAN, 300},   {"navaho", 55, -17.1, 800, 900},
                {"apache", 59, -17.3, NAN, 700},  {"arapaho", NAN, -16.7, 400, 500},
                {"kiowa", NAN, NAN, 100, 300},    {"von", NAN, -17.7, NAN, NAN}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct cy_thing *cultivar = find(CY_KIND_CULTIVAR, rows[i].key);
        double peak = cy_number(cultivar, CY_CULTIVAR_BLOOM_TO_PEAK);
        double low = cy_number(cultivar, CY_CULTIVAR_CHILL_LOW);
        double t50 = cy_number(cultivar, CY_CULTIVAR_BUD_T50);
        assert_true(isnan(rows[i].bloom_to_peak) || peak == rows[i].bloom_to_peak);
        assert_true(isnan(rows[i].bud_t50) ? isnan(t50) : t50 == rows[i].bud_t50);
        assert_true(isnan(rows[i].chill_low) ? isnan(low) : low == rows[i].chill_low);
        assert_true(isnan(rows[i].chill) ||
                    cy_number(cultivar, CY_CULTIVAR_CHILL) == rows[i].chill);
    }
}

/* A price that is nobody's says so, and there is one for everything a trellis is made of. */
static void every_part_has_a_price_that_is_a_placeholder(void **state)
{
    (void)state;
    bool priced[CY_PART_KIND_COUNT] = {false};
    for (const struct cy_thing *part = NULL;
         (part = cy_farm_next(&catalogue, CY_KIND_PART, 0, part));) {
        struct cy_given price = cy_given(part, CY_PART_PRICE);
        struct cy_given by_length = cy_given(part, CY_PART_PRICE_LENGTH);
        assert_true(price.known != by_length.known); /* sold one way */
        assert_true((price.known ? price : by_length).basis & CY_BASIS_PLACEHOLDER);
        assert_true((price.known ? price : by_length).number > 0);
        assert_true(*cy_string(part, CY_PART_NAME));
        priced[cy_choice(part, CY_PART_WHAT)] = true;
    }
    for (int kind = 0; kind < CY_PART_KIND_COUNT; kind++)
        if (!priced[kind])
            fail_msg("no price of %s", cy_field_info(CY_PART_WHAT)->choices[kind]);
}

static void every_kind_of_work_is_there(void **state)
{
    (void)state;
    static const struct {
        const char *key;
        bool urgent, cuts;
    } kinds[] = {
        {"soil-test", false, false},      {"order-plants", false, false},
        {"set-posts", false, false},      {"string-wire", false, false},
        {"plant", false, false},          {"water-first-year", true, false},
        {"weed", false, false},           {"weed-first-year", false, false},
        {"feed-first-year", false, false}, {"feed", false, false},
        {"first-tip", true, false},       {"second-tip", true, false},
        {"tie-canes", false, false},      {"tighten-wire", false, false},
        {"thin-canes", false, true},      {"trim-laterals", false, true},
        {"mow-down", false, true},        {"pick", true, false},
        {"take-out-spent", false, false}, {"measure-wire", false, false},
        {"water", true, false},
    };
    size_t count = sizeof kinds / sizeof *kinds;
    assert_int_equal(cy_farm_count(&catalogue, CY_KIND_JOB, 0), count);
    for (size_t i = 0; i < count; i++) {
        const struct cy_thing *job = find(CY_KIND_JOB, kinds[i].key);
        assert_int_equal(cy_choice(job, CY_JOB_URGENT) == CY_YES, kinds[i].urgent);
        assert_int_equal(cy_choice(job, CY_JOB_CUTS) == CY_YES, kinds[i].cuts);
        assert_true(*cy_string(job, CY_JOB_WHY));
        /* Whatever is done in the field can hurt somebody. */
        assert_true(*cy_string(job, CY_JOB_CAUTION) || cy_streq(kinds[i].key, "order-plants"));
        /* No source prints hours for a length of row. */
        struct cy_given rate = cy_given(job, CY_JOB_RATE);
        assert_true(!rate.known || rate.basis == CY_BASIS_PLACEHOLDER);
    }
    assert_string_equal(cy_string(find(CY_KIND_JOB, "tie-canes"), CY_JOB_AFTER), "thin-canes");
}

static void each_way_to_crop_has_a_practice(void **state)
{
    (void)state;
    static const struct {
        const char *key;
        enum cy_cropping cropping;
    } rows[] = {{"erect-hedgerow", CY_CROPPING_FLORICANE},
                {"semi-erect", CY_CROPPING_FLORICANE},
                {"trailing-two-wire", CY_CROPPING_FLORICANE},
                {"autumn-mown", CY_CROPPING_AUTUMN},
                {"both-crops", CY_CROPPING_BOTH},
                {"alternate-year", CY_CROPPING_ALTERNATE},
                {"unsure", CY_CROPPING_UNKNOWN}};
    size_t count = sizeof rows / sizeof *rows;
    assert_int_equal(cy_farm_count(&catalogue, CY_KIND_PRACTICE, 0), count);
    for (size_t i = 0; i < count; i++) {
        const struct cy_thing *practice = find(CY_KIND_PRACTICE, rows[i].key);
        assert_int_equal(cy_choice(practice, CY_PRACTICE_CROPPING), rows[i].cropping);
        if (cy_choice(practice, CY_PRACTICE_TIPS) != CY_NO)
            assert_true(cy_number(practice, CY_PRACTICE_TIP_CEILING) >
                        cy_number(practice, CY_PRACTICE_TIP_HEIGHT));
    }
}

/* ---- the farms ------------------------------------------------------------------------------ */

static void the_demo_shows_the_breadth_of_a_farm(void **state)
{
    (void)state;
    struct cy_farm farm;
    read_shipped(&farm, SHARE "demo.yaml");
    int rows = cy_farm_count(&farm, CY_KIND_ROW, 0), years[2100] = {0}, ages = 0;
    unsigned habits = 0, fruitings = 0, croppings = 0;
    const struct cy_thing *row = NULL;
    assert_true(rows >= 14);
    while ((row = cy_farm_next(&farm, CY_KIND_ROW, 0, row))) {
        const struct cy_thing *cultivar = cy_referred(&farm, row, CY_ROW_CULTIVAR);
        const struct cy_thing *practice = cy_referred(&farm, row, CY_ROW_PRACTICE);
        habits |= 1u << cy_choice(cultivar, CY_CULTIVAR_HABIT);
        fruitings |= 1u << cy_choice(cultivar, CY_CULTIVAR_FRUITING);
        croppings |= 1u << cy_choice(practice, CY_PRACTICE_CROPPING);
        ages += years[cy_day_year(cy_date(row, CY_ROW_PLANTED))]++ == 0;
        assert_false(isnan(cy_number(row, CY_ROW_X)) || isnan(cy_number(row, CY_ROW_Y)));
    }
    assert_true(years[2019] && years[2026] && years[2027]);
    assert_true(ages >= 3);
    assert_int_equal(habits, 7);    /* all three */
    assert_int_equal(fruitings, 7); /* both, and one that nobody knows */
    assert_int_equal(croppings, 31);
    assert_true(cy_farm_count(&farm, CY_KIND_TRELLIS, 0) >= 2);
    assert_true(cy_farm_count(&farm, CY_KIND_ZONE, 0) >= 2);
    assert_true(cy_farm_count(&farm, CY_KIND_SEEN, 0) >= 5);
    assert_true(cy_farm_count(&farm, CY_KIND_DONE, 0) >= 5);
    cy_farm_dispose(&farm);
}

/* Rows run side by side: seen across their bearing, no two lie closer than the alley. */
static void the_rows_of_the_demo_do_not_cross(void **state)
{
    (void)state;
    struct cy_farm farm;
    read_shipped(&farm, SHARE "demo.yaml");
    const struct cy_thing *a = NULL;
    while ((a = cy_farm_next(&farm, CY_KIND_ROW, 0, a))) {
        double bearing = cy_number(a, CY_ROW_BEARING) * 3.14159265358979 / 180;
        double length = cy_number(a, CY_ROW_LENGTH);
        for (const struct cy_thing *b = a; (b = cy_farm_next(&farm, CY_KIND_ROW, 0, b));) {
            double dx = cy_number(b, CY_ROW_X) - cy_number(a, CY_ROW_X);
            double dy = cy_number(b, CY_ROW_Y) - cy_number(a, CY_ROW_Y);
            double along = dx * sin(bearing) + dy * cos(bearing);
            double across = fabs(dx * cos(bearing) - dy * sin(bearing));
            bool side_by_side = along < length && along + cy_number(b, CY_ROW_LENGTH) > 0;
            if (side_by_side && across < 0.9 * cy_number(a, CY_ROW_WIDTH))
                fail_msg("%s and %s are %.1f m apart", a->key, b->key, across);
        }
    }
    cy_farm_dispose(&farm);
}

static bool in_outline(const struct cy_rowplan_site *site, double x_m, double y_m)
{
    bool in = false;
    for (size_t i = 0, j = site->ask.corner_count - 1; i < site->ask.corner_count; j = i++) {
        struct cy_point a = site->corners[i], b = site->corners[j];
        if ((a.y_m > y_m) != (b.y_m > y_m) &&
            x_m < a.x_m + (y_m - a.y_m) / (b.y_m - a.y_m) * (b.x_m - a.x_m))
            in = !in;
    }
    return in;
}

static void the_outline_of_the_demo_holds_its_rows(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_rowplan_site site;
    struct cy_rowplan plan;
    read_shipped(&farm, SHARE "demo.yaml");
    assert_int_equal(cy_rowplan_site_of(&site, &farm), CY_OK);
    for (const struct cy_thing *row = NULL; (row = cy_farm_next(&farm, CY_KIND_ROW, 0, row));) {
        double bearing = cy_number(row, CY_ROW_BEARING) * 3.14159265358979 / 180;
        double x_m = cy_number(row, CY_ROW_X), y_m = cy_number(row, CY_ROW_Y);
        double length_m = cy_number(row, CY_ROW_LENGTH);
        if (!in_outline(&site, x_m, y_m) ||
            !in_outline(&site, x_m + length_m * sin(bearing), y_m + length_m * cos(bearing)))
            fail_msg("%s runs out of the field", row->key);
    }
    assert_int_equal(cy_rowplan_make(&plan, &site.ask), CY_OK);
    assert_int_equal(plan.state, CY_ROWPLAN_PROPOSED);
    assert_true(plan.row_count >= 8);
    cy_rowplan_dispose(&plan);
    cy_rowplan_site_dispose(&site);
    cy_farm_dispose(&farm);
}

static void the_backyard_is_short(void **state)
{
    (void)state;
    struct cy_farm farm;
    size_t length;
    char *text = text_of(SHARE "backyard.yaml", &length);
    read_shipped(&farm, SHARE "backyard.yaml");
    assert_int_equal(cy_farm_count(&farm, CY_KIND_ROW, 0), 3);
    assert_true(length < 2000);
    cy_farm_dispose(&farm);
    free(text);
}

/* ---- the template --------------------------------------------------------------------------- */

static void the_template_is_an_empty_farm(void **state)
{
    (void)state;
    struct cy_farm farm;
    read_shipped(&farm, SHARE "blank.yaml");
    assert_int_equal(cy_farm_count(&farm, CY_KIND_ROW, 0), 0);
    assert_int_equal(cy_farm_count(&farm, CY_KIND_TRELLIS, 0), 0);
    cy_farm_dispose(&farm);
}

/* "#   key: value" and "#   - key: value", but not prose: a field begins in small letters. */
static bool hides_a_field(const char *line)
{
    if (line[0] != '#' || line[1] != ' ')
        return false;
    line += 2 + strspn(line + 2, " ");
    line += strncmp(line, "- ", 2) == 0 ? 2 : 0;
    size_t word = strspn(line, "{abcdefghijklmnopqrstuvwxyz_0123456789");
    return word > 0 && line[word] == ':';
}

/* Taking the marks off every field gives a farm in which every field of the table is set. */
static void the_template_shows_every_field(void **state)
{
    (void)state;
    size_t length;
    char *text = text_of(SHARE "blank.yaml", &length);
    char *body = strstr(text, "\ncaneyear:") + 1;
    struct cy_text whole = {0};
    for (char *line = strtok(body, "\n"); line; line = strtok(NULL, "\n")) {
        cy_text_add(&whole, hides_a_field(line) ? line + 2 : line);
        cy_text_add_char(&whole, '\n');
    }
    struct cy_issues issues = {0};
    struct cy_farm farm;
    int status = cy_yaml_parse(&farm, "blank.yaml, whole", cy_text_get(&whole), whole.length,
                               &catalogue, &issues);
    show(&issues);
    assert_int_equal(status, CY_OK);
    bool set[CY_FIELD_COUNT] = {false};
    for (size_t i = 0; i < farm.count; i++) {
        const struct cy_thing *thing = farm.things[i];
        const struct cy_kind_info *kind = cy_kind_info(thing->kind);
        for (int f = 0; f < kind->field_count && !thing->catalogue; f++)
            set[kind->first_field + f] |= thing->values[f].set && !thing->values[f].lent;
    }
    for (int f = 0; f < CY_FIELD_COUNT; f++)
        if (!set[f])
            fail_msg("blank.yaml lacks %s of %s", cy_field_info((enum cy_field)f)->name,
                     cy_kind_info(cy_field_info((enum cy_field)f)->kind)->word);
    cy_farm_dispose(&farm);
    cy_text_dispose(&whole);
    free(text);
}

/* ---- the fits ------------------------------------------------------------------------------- */

/* Every fitted sum gives back the date it was fitted to: half bloom at Clarksville in Table 12-1
 * (Southeast Regional Caneberry Production Guide ch. 12), on the normals of Little Rock, and the
 * first pick of primocanes on 17 July (HortScience 44(1):23, 2009). */
static void the_fits_give_back_their_dates(void **state)
{
    (void)state;
    static const char farm_text[] =
        "caneyear: 1\nsite: {place: little-rock-us-ar}\nrows:\n"
        "  - {key: a, length: 100 m, cultivar: natchez, planted: 2020-03-01}\n"
        "  - {key: b, length: 100 m, cultivar: osage, planted: 2020-03-01}\n"
        "  - {key: c, length: 100 m, cultivar: ouachita, planted: 2020-03-01}\n"
        "  - {key: d, length: 100 m, cultivar: navaho, planted: 2020-03-01}\n"
        "  - {key: e, length: 100 m, cultivar: apache, planted: 2020-03-01}\n"
        "  - {key: f, length: 100 m, cultivar: apf-205t, planted: 2020-03-01}\n";
    static const struct {
        enum cy_stage stage;
        int cohort, month, day, within;
    } due[] = {{CY_STAGE_BLOOM, 2026, 4, 29, 3}, {CY_STAGE_BLOOM, 2026, 5, 2, 3},
               {CY_STAGE_BLOOM, 2026, 5, 6, 3},  {CY_STAGE_BLOOM, 2026, 5, 7, 3},
               {CY_STAGE_BLOOM, 2026, 5, 8, 3},  {CY_STAGE_AUTUMN_FIRST_PICK, 2027, 7, 17, 4}};
    struct cy_issues issues = {0};
    struct cy_farm farm;
    int status = cy_yaml_parse(&farm, "fits", farm_text, strlen(farm_text), &catalogue, &issues);
    show(&issues);
    assert_int_equal(status, CY_OK);
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan;
    struct cy_plan_request request = {
        .farm = &farm, .today = cy_day_of(2026, 11, 25), .season = 2027, .members = 60};
    assert_int_equal(cy_planner_plan(&plan, planner, &request, &issues), CY_OK);
    for (size_t row = 0; row < sizeof due / sizeof *due; row++) {
        const struct cy_plan_row *found = &plan->rows[row];
        for (int c = 0; c < found->cohort_count; c++) {
            if (found->cohorts[c].year != due[row].cohort)
                continue;
            double day = found->cohorts[c].stage[due[row].stage].p50;
            double off = day - cy_day_of(2027, due[row].month, due[row].day);
            if (!(fabs(off) <= due[row].within))
                fail_msg("row %s is %.1f days off", found->key, off);
        }
    }
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_shipped_figure_says_what_is_behind_it),
        cmocka_unit_test(all_places_have_twelve_months),
        cmocka_unit_test(richmond_is_as_printed),
        cmocka_unit_test(the_cultivars_are_these_and_no_others),
        cmocka_unit_test(a_chill_need_comes_with_its_count),
        cmocka_unit_test(printed_figures_are_as_printed),
        cmocka_unit_test(every_part_has_a_price_that_is_a_placeholder),
        cmocka_unit_test(every_kind_of_work_is_there),
        cmocka_unit_test(each_way_to_crop_has_a_practice),
        cmocka_unit_test(the_demo_shows_the_breadth_of_a_farm),
        cmocka_unit_test(the_rows_of_the_demo_do_not_cross),
        cmocka_unit_test(the_outline_of_the_demo_holds_its_rows),
        cmocka_unit_test(the_backyard_is_short),
        cmocka_unit_test(the_template_is_an_empty_farm),
        cmocka_unit_test(the_template_shows_every_field),
        cmocka_unit_test(the_fits_give_back_their_dates),
    };
    return cmocka_run_group_tests(tests, read_catalogue, drop_catalogue);
}
