/* SPDX-License-Identifier: MIT
 * The picture of a field: its widths, its characters, its shape, its rows. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "words/words.h"

static const struct cy_point corners[4] = {{0, 0}, {60, 0}, {60, 40}, {0, 40}};

static void draw(struct cy_text *out, double bearing_deg, int width, bool ascii)
{
    struct cy_rowplan plan;
    struct cy_rowplan_ask ask = {.corners = corners,
                                 .corner_count = 4,
                                 .bearing_deg = bearing_deg,
                                 .spacing_m = 20,
                                 .headland_m = 5,
                                 .shortest_m = 5,
                                 .plant_spacing_m = 1,
                                 .post_spacing_m = 7,
                                 .ends = CY_END_TIE};
    assert_int_equal(cy_rowplan_make(&plan, &ask), CY_OK);
    cy_say_field(out, &ask, &plan, CY_METRIC, width, ascii);
    assert_false(out->failed);
    cy_rowplan_dispose(&plan);
}

static int count_of(const char *text, const char *what)
{
    int count = 0;
    for (const char *at = text; (at = strstr(at, what)); at += strlen(what))
        count++;
    return count;
}

static void rows_are_drawn_the_way_they_run(void **state)
{
    (void)state;
    struct cy_text north = {0}, east = {0};
    draw(&north, 0, 64, true);
    draw(&east, 90, 64, true);
    /* 62 columns for 60 m: about 1 m wide and 2 m high. Three rows of 30 m, 15 or 16 lines each;
     * or two of 50 m. */
    int strokes = count_of(cy_text_get(&north), "|");
    assert_true(strokes >= 45 && strokes <= 51);
    strokes = count_of(cy_text_get(&east), "-");
    assert_true(strokes >= 100 && strokes <= 106);
    assert_int_equal(count_of(cy_text_get(&east), "|"), 0);
    cy_text_dispose(&north);
    cy_text_dispose(&east);
}

static void lines_fit_the_width(void **state)
{
    (void)state;
    static const int widths[] = {30, 78, 180};
    for (int i = 0; i < 6; i++)
        for (double bearing = 0; bearing < 360; bearing += 40) {
            struct cy_text text = {0};
            bool ascii = i & 1;
            draw(&text, bearing, widths[i / 2], ascii);
            char *line = strtok(text.data, "\n");
            for (; line; line = strtok(NULL, "\n")) {
                bool legend = strstr(line, "North is up");
                assert_true(legend || cy_utf8_columns(line) <= widths[i / 2]);
                for (const char *c = line; ascii && *c; c++)
                    assert_true(*c >= ' ' && *c <= '~');
            }
            cy_text_dispose(&text);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_are_drawn_the_way_they_run),
        cmocka_unit_test(lines_fit_the_width),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
