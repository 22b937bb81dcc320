/* SPDX-License-Identifier: MIT
 * The layout at every size: nothing negative, nothing outside, nothing over another. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "screen/layout.h"

static void assert_inside(const struct cy_rect *rect, int width, int height)
{
    assert_true(rect->x >= 0 && rect->y >= 0 && rect->width >= 0 && rect->height >= 0);
    assert_true(rect->x + rect->width <= width);
    assert_true(rect->y + rect->height <= height);
}

static void assert_sound(const struct cy_layout_request *request)
{
    struct cy_layout layout;
    cy_layout_of(&layout, request);
    int width = request->width < 0 ? 0 : request->width;
    int height = request->height < 0 ? 0 : request->height;
    bool small = width < CY_LAYOUT_MIN_WIDTH || height < CY_LAYOUT_MIN_HEIGHT;
    assert_int_equal(layout.too_small, small);
    assert_inside(&layout.whole, width, height);
    assert_inside(&layout.title, width, height);
    assert_inside(&layout.message, width, height);
    assert_inside(&layout.hint, width, height);
    assert_inside(&layout.body, width, height);
    assert_inside(&layout.lower, width, height);
    int lines = 0;
    for (int band = 0; band < CY_BAND_COUNT; band++) {
        assert_inside(&layout.band[band], width, height);
        lines += layout.band[band].height;
        if (!small && request->zoomed < 0)
            assert_true(layout.band[band].height >= 4);
    }
    if (small)
        return;
    /* Title, bands, message and hint fill the screen exactly. */
    assert_int_equal(lines, layout.body.height);
    assert_int_equal(layout.body.height + 3, height);
    assert_int_equal(layout.band[0].y, 1);
    if (request->zoomed >= 0) {
        assert_int_equal(layout.band[request->zoomed].height, layout.body.height);
        return;
    }
    for (int band = 1; band < CY_BAND_COUNT; band++)
        assert_int_equal(layout.band[band].y,
                         layout.band[band - 1].y + layout.band[band - 1].height);
}

static void every_size_lays_out(void **state)
{
    (void)state;
    static const int fields[] = {0, 1, 8, 40};
    for (int width = 1; width <= 200; width++)
        for (int height = 1; height <= 60; height++)
            for (int zoomed = -1; zoomed < CY_BAND_COUNT; zoomed++)
                for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
                    assert_sound(&(struct cy_layout_request){width, height, zoomed, fields[i]});
}

static void odd_requests_are_clamped(void **state)
{
    (void)state;
    assert_sound(&(struct cy_layout_request){0, 0, -1, 8});
    assert_sound(&(struct cy_layout_request){-5, -7, -1, 8});
    assert_sound(&(struct cy_layout_request){100000, 100000, 1, 1000000});
    assert_sound(&(struct cy_layout_request){80, 24, -1, -3});
}

static void the_small_screen_shows_all_three_bands(void **state)
{
    (void)state;
    struct cy_layout layout;
    cy_layout_of(&layout, &(struct cy_layout_request){80, 24, -1, 8});
    assert_int_equal(layout.band[CY_BAND_ROWS].height, 7);
    assert_int_equal(layout.band[CY_BAND_CANES].height, 8);
    assert_int_equal(layout.band[CY_BAND_JOBS].height, 6);
}

static void a_tall_screen_gives_each_row_two_lines(void **state)
{
    (void)state;
    struct cy_layout layout;
    cy_layout_of(&layout, &(struct cy_layout_request){200, 50, -1, 8});
    assert_int_equal(layout.band[CY_BAND_ROWS].height, 1 + 2 * 8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_size_lays_out),
        cmocka_unit_test(odd_requests_are_clamped),
        cmocka_unit_test(the_small_screen_shows_all_three_bands),
        cmocka_unit_test(a_tall_screen_gives_each_row_two_lines),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
