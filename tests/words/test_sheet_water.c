/* SPDX-License-Identifier: MIT
 * The water page: its picture fits any width, in UTF-8 and ASCII, and its figures can be asked
 * why. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/season/water.h>

#include "season/farms.h"
#include "words/sheet.h"

static struct cy_plan *plan_with_zone(struct cy_farm *farm, const char *zone_name)
{
    farm_north(farm);
    ADD(farm, ZONE, "all", GROWER, "name", zone_name, "emitter", "0.5 gal/h", "emitter_spacing",
        "2 ft", "pressure", "15 psi", "bore", "0.62 in", "supply", "60 gal/h", "wetted_width",
        "3 ft");
    add_row(farm, "old", "natchez", "hedge", "2019-03-20");
    add_row(farm, "new", "natchez", "hedge", "2027-03-20");
    add_row(farm, "next", "natchez", "hedge", "2028-03-20");
    put(farm, "row.old.zone", "all");
    put(farm, "row.new.zone", "all");
    return plan_of(farm, "2027-07-15", 0);
}

static void make(struct cy_sheet *sheet, const struct cy_plan *plan, int row, int width, bool ascii)
{
    struct cy_sheet_request request = {.plan = plan,
                                       .row = row < 0 ? 0 : (size_t)row,
                                       .whole_farm = row < 0,
                                       .day = plan->today,
                                       .width = width,
                                       .ascii = ascii};
    assert_int_equal(cy_sheet_make(sheet, CY_SHEET_WATER, &request), CY_OK);
}

static void assert_ascii(const char *text)
{
    for (; *text; text++)
        if ((unsigned char)*text > 126)
            fail_msg("not ASCII: %s", text);
}

static void pictures_fit_any_width(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = plan_with_zone(&farm, "All");
    for (int width = 30; width <= 200; width += 10)
        for (int row = -1; row < 3; row++)
            for (int ascii = 0; ascii < 2; ascii++) {
                struct cy_sheet sheet;
                int pictures = 0, widest = 0;
                make(&sheet, plan, row, width, ascii);
                for (size_t i = 0; i < sheet.count; i++) {
                    int columns = cy_utf8_columns(sheet.lines[i].text);
                    if (ascii)
                        assert_ascii(sheet.lines[i].text);
                    if (sheet.lines[i].role != CY_SHEET_PICTURE || row < 0)
                        continue;
                    pictures++;
                    widest = columns > widest ? columns : widest;
                }
                assert_true(widest <= width);
                if (row == 0 || row == 1) {
                    assert_true(pictures >= 12);
                    /* Whole weeks, as many columns each as there is room for. */
                    if (width >= 63)
                        assert_true(widest > width - 54);
                }
                cy_sheet_dispose(&sheet);
            }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Each line of the store, from full to empty: what a column holds fills it from below. */
static void the_store_is_filled_from_below(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = plan_with_zone(&farm, "All");
    for (int width = 78; width <= 180; width += 102) {
        struct cy_sheet sheet;
        const char *above = NULL;
        int lines = 0;
        make(&sheet, plan, 0, width, true);
        for (size_t i = 0; i < sheet.count; i++) {
            const char *text = sheet.lines[i].text, *axis = strchr(text, '|');
            if (sheet.lines[i].role != CY_SHEET_PICTURE || !axis || text[0] == 'r' ||
                text[0] == 'g')
                continue;
            for (size_t k = 1; above && above[k]; k++)
                if (above[k] == '#')
                    assert_int_equal(axis[k], '#');
            above = axis;
            lines++;
        }
        assert_int_equal(lines, 9);
        cy_sheet_dispose(&sheet);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void figures_can_be_asked_why(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = plan_with_zone(&farm, "All");
    for (int row = -1; row < 3; row++) {
        struct cy_sheet sheet;
        int asked = 0;
        make(&sheet, plan, row, 78, false);
        for (size_t i = 0; i < sheet.count; i++) {
            struct cy_trace trace = {0};
            if (!sheet.lines[i].why)
                continue;
            assert_true(sheet.lines[i].why(&trace, &sheet, &sheet.lines[i]));
            assert_true(trace.count > 0);
            cy_trace_dispose(&trace);
            asked++;
        }
        assert_true(row == 2 ? asked == 0 : asked > 8);
        cy_sheet_dispose(&sheet);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static bool has_line(const struct cy_sheet *sheet, const char *part)
{
    for (size_t i = 0; i < sheet->count; i++)
        if (strstr(sheet->lines[i].text, part))
            return true;
    return false;
}

/* A name from outside is cleaned; a source that cannot serve the season is said. */
static void the_farm_says_what_is_short(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = plan_with_zone(&farm, "Allee \xC3\xA9");
    struct cy_sheet sheet;
    make(&sheet, plan, -1, 78, true);
    assert_true(has_line(&sheet, "turn 1 of 1"));
    assert_true(has_line(&sheet, "Nobody said what the source may give"));
    assert_true(has_line(&sheet, "an inch a week"));
    assert_true(has_line(&sheet, "backflow"));
    for (size_t i = 0; i < sheet.count; i++)
        assert_ascii(sheet.lines[i].text);
    cy_sheet_dispose(&sheet);
    cy_plan_free(plan);
    put(&farm, "zone.all.season_limit", "1 gal");
    plan = plan_of(&farm, "2027-07-15", 0);
    make(&sheet, plan, -1, 78, true);
    assert_true(has_line(&sheet, "asks for more in 60 of 60 weathers"));
    cy_sheet_dispose(&sheet);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pictures_fit_any_width),
        cmocka_unit_test(the_store_is_filled_from_below),
        cmocka_unit_test(figures_can_be_asked_why),
        cmocka_unit_test(the_farm_says_what_is_short),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
