/* SPDX-License-Identifier: MIT
 * The picture of the horizon: its widths, its characters, and where the noon sun stands. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "words/picture.h"
#include "words/words.h"

/* A sky without a farm: one band, one row. */
static struct cy_obstacle wood = {
    .kind = CY_OBSTACLE_BAND, .from_deg = 80, .to_deg = 100, .altitude_deg = 30};
static struct cy_sunlight_row row = {
    .hedge_m = 2, .bearing = {.known = true, .number = 10}, .next = {{2, 3}, {2, 3}}};

static struct cy_sunlight sky(double latitude)
{
    struct cy_sunlight sun = {.season = 2027,
                              .latitude_deg = latitude,
                              .longitude_deg = -85,
                              .bands = &wood,
                              .obstacle_count = 1,
                              .rows = &row,
                              .row_count = 1};
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        static const double declinations[] = {9.7, 18.8, 23.3, 21.5, 14.1, 3};
        sun.declination_deg[i] = latitude < 0 ? -declinations[i] : declinations[i];
        sun.day[i] = latitude < 0 ? cy_day_of(i < 3 ? 2026 : 2027, (10 + i - 1) % 12 + 1, 15)
                                  : cy_day_of(2027, 4 + i, 15);
    }
    return sun;
}

/* The line of the picture and the column of the first '*'. */
static int first_star(const char *text, int *line)
{
    const char *star = strchr(text, '*'), *start = text;
    *line = 0;
    assert_non_null(star);
    for (const char *c = text; c < star; c++)
        if (*c == '\n') {
            (*line)++;
            start = c + 1;
        }
    return (int)(star - start);
}

static void lines_fit_the_width_in_both_hemispheres(void **state)
{
    (void)state;
    static const int widths[] = {78, 80, 120, 180};
    for (int i = 0; i < 16; i++) {
        struct cy_sunlight sun = sky(i & 4 ? -38 : 35.5);
        struct cy_text text = {0};
        int width = widths[i & 3];
        bool ascii = i & 8;
        cy_say_horizon(&text, &sun, i & 1 ? 0 : CY_SUNLIGHT_FIELD, width, ascii);
        assert_false(text.failed);
        char *line = strtok(text.data, "\n");
        for (; line; line = strtok(NULL, "\n")) {
            assert_true(cy_utf8_columns(line) <= (width < 85 ? 85 : width));
            bool legend = line[0] == ' ' && !strchr(line, '|');
            assert_true(legend || cy_utf8_columns(line) <= width);
            for (const char *c = line; ascii && *c; c++)
                assert_true(*c >= ' ' && *c <= '~');
        }
        cy_text_dispose(&text);
    }
}

static void the_noon_sun_stands_in_the_middle(void **state)
{
    (void)state;
    static const double latitudes[] = {35.5, -35.5};
    for (int i = 0; i < 2; i++) {
        struct cy_sunlight sun = sky(latitudes[i]);
        struct cy_text text = {0};
        int line;
        cy_say_horizon(&text, &sun, CY_SUNLIGHT_FIELD, 80, true);
        const char *all = cy_text_get(&text);
        /* 90 - 35.5 + 23.4 = 77.9 degrees: in the highest line of 5 degrees. */
        int column = first_star(all, &line);
        assert_int_equal(line, 0);
        const char *last = strchr(all, '\n');
        int middle = (column + (int)(last - all) - 1) / 2;
        assert_true(abs(middle - (5 + 75 / 2)) <= 1);
        /* East of south is left of it, east of north right of it: so the wood stands. */
        const char *wooded = strchr(all, '#');
        assert_non_null(wooded);
        const char *start = wooded;
        while (start > all && start[-1] != '\n')
            start--;
        assert_true(latitudes[i] > 0 ? wooded - start < 42 : wooded - start > 42);
        cy_text_dispose(&text);
    }
}

static void neighbours_are_drawn_for_a_row_alone(void **state)
{
    (void)state;
    struct cy_sunlight sun = sky(35.5);
    struct cy_text field = {0}, at_row = {0};
    cy_say_horizon(&field, &sun, CY_SUNLIGHT_FIELD, 80, true);
    cy_say_horizon(&at_row, &sun, 0, 80, true);
    assert_null(strchr(cy_text_get(&field), ':'));
    assert_non_null(strstr(cy_text_get(&at_row), "::::"));
    assert_non_null(strstr(cy_text_get(&field), "21 Jun"));
    cy_text_dispose(&field);
    cy_text_dispose(&at_row);
}

static void a_picture_takes_no_cell_outside_itself(void **state)
{
    (void)state;
    struct cy_picture picture;
    struct cy_text text = {0};
    assert_true(cy_picture_init(&picture, 3, 2));
    cy_picture_put(&picture, -1, 0, "x");
    cy_picture_put(&picture, 3, 0, "x");
    cy_picture_put(&picture, 0, 2, "x");
    cy_picture_put(&picture, 1, 1, "o");
    assert_null(cy_picture_get(&picture, 0, 2));
    cy_picture_line(&text, &picture, 0);
    assert_string_equal(cy_text_get(&text), "");
    cy_picture_line(&text, &picture, 1);
    assert_string_equal(cy_text_get(&text), " o");
    cy_text_dispose(&text);
    cy_picture_dispose(&picture);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_fit_the_width_in_both_hemispheres),
        cmocka_unit_test(the_noon_sun_stands_in_the_middle),
        cmocka_unit_test(neighbours_are_drawn_for_a_row_alone),
        cmocka_unit_test(a_picture_takes_no_cell_outside_itself),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
