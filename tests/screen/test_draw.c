/* SPDX-License-Identifier: MIT
 * Drawing: clipping, cutting, widths, wrapping, and text that would attack a terminal. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "screen/draw.h"

struct board {
    struct cy_canvas canvas;
    struct cy_pane pane;
};

static struct board board(int width, int height)
{
    struct board board = {{0}, {0}};
    assert_true(cy_canvas_begin(&board.canvas, width, height));
    return board;
}

static struct cy_pane whole(struct board *board)
{
    return (struct cy_pane){&board->canvas, {0, 0, board->canvas.width, board->canvas.height}};
}

static void assert_line(const struct board *board, int y, const char *expected)
{
    struct cy_text line = {0};
    cy_canvas_line(&line, &board->canvas, y);
    assert_string_equal(cy_text_get(&line), expected);
    cy_text_dispose(&line);
}

static void long_text_ends_in_the_mark(void **state)
{
    (void)state;
    struct board b = board(8, 2);
    assert_int_equal(cy_draw_text(whole(&b), 0, 0, "blackberries", CY_ROLE_NORMAL), 8);
    assert_line(&b, 0, "blackbe…");
    b.canvas.ascii = true;
    cy_draw_text(whole(&b), 0, 1, "blackberries", CY_ROLE_NORMAL);
    assert_line(&b, 1, "blackbe~");
    cy_canvas_dispose(&b.canvas);
}

static void wide_and_combining_characters_keep_their_columns(void **state)
{
    (void)state;
    struct board b = board(10, 3);
    cy_draw_text(whole(&b), 0, 0, "黒苺x", CY_ROLE_NORMAL); /* two columns each, then one */
    assert_int_equal(b.canvas.cells[4].chars[0], 'x');
    assert_int_equal(b.canvas.cells[1].chars[0], 0);
    assert_line(&b, 0, "黒苺x");
    cy_draw_text(whole(&b), 0, 1, "e\xCC\x81y", CY_ROLE_NORMAL); /* e and a combining acute */
    assert_int_equal(b.canvas.cells[11].chars[0], 'y');
    assert_line(&b, 1, "e\xCC\x81y");
    /* A wide one never hangs half over the edge. */
    assert_int_equal(cy_draw_fit(whole(&b), 0, 2, 3, "黒苺", CY_ROLE_NORMAL), 3);
    assert_line(&b, 2, "黒…");
    cy_canvas_dispose(&b.canvas);
}

static void control_characters_are_neutralised(void **state)
{
    (void)state;
    struct board b = board(20, 2);
    cy_draw_text(whole(&b), 0, 0,
                 "a\033[2Jb\x07\xC2\x9B"
                 "c",
                 CY_ROLE_NORMAL);
    for (int x = 0; x < 20; x++)
        assert_false(cy_utf8_is_control(b.canvas.cells[x].chars[0]) &&
                     b.canvas.cells[x].chars[0] != ' ');
    b.canvas.ascii = true;
    cy_draw_text(whole(&b), 0, 1, "\033caf\xC3\xA9", CY_ROLE_NORMAL);
    assert_line(&b, 1, "?caf?");
    cy_canvas_dispose(&b.canvas);
}

static void nothing_is_drawn_outside_a_pane(void **state)
{
    (void)state;
    struct board b = board(10, 4);
    struct cy_pane part = cy_pane_part(whole(&b), 2, 1, 4, 2);
    for (int y = -3; y < 8; y++)
        for (int x = -3; x < 14; x++) {
            cy_draw_text(part, x, y, "######################", CY_ROLE_NORMAL);
            cy_draw_run(part, x, y, 30, "#", CY_ROLE_NORMAL);
            cy_draw_over(part, x, y, 30, CY_ROLE_SELECTED);
        }
    assert_line(&b, 0, "");
    assert_line(&b, 3, "");
    for (int y = 1; y < 3; y++)
        for (int x = 0; x < 10; x++) {
            const struct cy_cell *cell = &b.canvas.cells[y * 10 + x];
            bool inside = x >= 2 && x < 6;
            assert_int_equal(cell->chars[0] != ' ', inside);
            assert_int_equal(cell->over == CY_ROLE_SELECTED, inside);
        }
    cy_canvas_dispose(&b.canvas);
}

static void a_part_never_grows_beyond_its_pane(void **state)
{
    (void)state;
    struct board b = board(10, 4);
    struct cy_pane part = cy_pane_part(whole(&b), 8, 3, 50, 50);
    assert_int_equal(part.rect.width, 2);
    assert_int_equal(part.rect.height, 1);
    part = cy_pane_part(whole(&b), 40, 40, 5, 5);
    assert_int_equal(part.rect.width, 0);
    assert_int_equal(part.rect.height, 0);
    cy_canvas_dispose(&b.canvas);
}

static void text_breaks_at_blanks(void **state)
{
    (void)state;
    struct board b = board(12, 4);
    const char *text = "half of the canes pass";
    assert_int_equal(cy_draw_measure(whole(&b), 0, 9, text), 2);
    assert_int_equal(cy_draw_wrapped(whole(&b), 0, 0, 9, text, CY_ROLE_NORMAL), 2);
    assert_line(&b, 0, "half of the");
    assert_line(&b, 1, "canes pass");
    /* A word longer than the line is cut; the last line allowed ends in the mark. */
    assert_int_equal(cy_draw_wrapped(whole(&b), 4, 2, 2, "abcdefghijkl mnop qrst", CY_ROLE_NORMAL),
                     2);
    assert_line(&b, 2, "    abcdefgh");
    assert_line(&b, 3, "    ijkl mn…");
    cy_canvas_dispose(&b.canvas);
}

static void lines_above_the_pane_are_left_out(void **state)
{
    (void)state;
    struct board b = board(12, 3);
    struct cy_pane part = cy_pane_part(whole(&b), 0, 1, 12, 2);
    assert_int_equal(cy_draw_wrapped(part, 0, -1, 9, "half of the canes pass", CY_ROLE_NORMAL), 2);
    assert_line(&b, 0, "");
    assert_line(&b, 1, "canes pass");
    cy_canvas_dispose(&b.canvas);
}

static void a_heading_survives_any_width(void **state)
{
    (void)state;
    for (int width = 1; width < 60; width++) {
        struct board b = board(width, 1);
        cy_draw_heading(whole(&b), "Rows", "South 1, Natchez, old canes bud break", true);
        cy_canvas_dispose(&b.canvas);
    }
}

static void every_glyph_is_one_column_in_both_alphabets(void **state)
{
    (void)state;
    for (int ascii = 0; ascii < 2; ascii++) {
        for (int glyph = 0; glyph < CY_GLYPH_COUNT; glyph++) {
            const char *text = cy_glyph((enum cy_glyph_id)glyph, ascii);
            assert_int_equal(cy_utf8_columns(text), 1);
            if (ascii)
                assert_true(text[0] > 0 && !text[1]);
        }
        for (int s = 0; s < CY_STATE_COUNT; s++)
            for (int part = CY_PART_ALONE; part <= CY_PART_CROWN; part++)
                for (int column = 0; column < 2; column++) {
                    const char *text =
                        cy_cane_glyph((enum cy_state)s, (enum cy_part)part, 0.5, column, ascii);
                    assert_int_equal(cy_utf8_columns(text), 1);
                    assert_false(ascii && (text[0] < 0 || text[1]));
                }
    }
}

/* No meaning by colour alone: what can stand in a strip on one day looks different as text. Crops
 * on old and on new canes share their marks; nothing else does. */
static void states_differ_without_colour(void **state)
{
    (void)state;
    for (int ascii = 0; ascii < 2; ascii++)
        for (int a = CY_STATE_EMERGING; a < CY_STATE_GONE; a++)
            for (int b = a + 1; b < CY_STATE_GONE; b++) {
                bool bloom = a == CY_STATE_AUTUMN_BLOOM && b == CY_STATE_BLOOM;
                bool ripe = a == CY_STATE_AUTUMN_RIPE && b == CY_STATE_RIPE;
                const char *left = cy_cane_glyph((enum cy_state)a, CY_PART_ALONE, 0.7, 0, ascii);
                const char *right = cy_cane_glyph((enum cy_state)b, CY_PART_ALONE, 0.7, 0, ascii);
                assert_int_equal(cy_streq(left, right), bloom || ripe);
            }
}

static void selection_is_visible_without_colour(void **state)
{
    (void)state;
    static const enum cy_role_id roles[] = {CY_ROLE_SELECTED, CY_ROLE_FOCUS, CY_ROLE_DAY,
                                            CY_ROLE_FIELD_HELD};
    for (size_t i = 0; i < sizeof roles / sizeof *roles; i++) {
        struct cy_look look = cy_look_of(roles[i], false);
        assert_int_equal(look.hue, CY_HUE_PLAIN);
        assert_true(look.weight & CY_REVERSE);
    }
    for (int role = 0; role < CY_ROLE_ID_COUNT; role++)
        assert_int_equal(cy_look_of((enum cy_role_id)role, false).hue, CY_HUE_PLAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(long_text_ends_in_the_mark),
        cmocka_unit_test(wide_and_combining_characters_keep_their_columns),
        cmocka_unit_test(control_characters_are_neutralised),
        cmocka_unit_test(nothing_is_drawn_outside_a_pane),
        cmocka_unit_test(a_part_never_grows_beyond_its_pane),
        cmocka_unit_test(text_breaks_at_blanks),
        cmocka_unit_test(lines_above_the_pane_are_left_out),
        cmocka_unit_test(a_heading_survives_any_width),
        cmocka_unit_test(every_glyph_is_one_column_in_both_alphabets),
        cmocka_unit_test(states_differ_without_colour),
        cmocka_unit_test(selection_is_visible_without_colour),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
