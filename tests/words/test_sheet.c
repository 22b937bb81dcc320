/* SPDX-License-Identifier: MIT
 * Sheets: how they are named, what is asked of their lines, how they are printed. */
#include "words/sheet.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* In the planner's list a letter opens a page, so it must not be one that leads out of it. */
static void every_sheet_has_a_letter_and_a_word_of_its_own(void **state)
{
    (void)state;
    for (int id = 0; id < CY_SHEET_COUNT; id++) {
        const struct cy_sheet_info *info = cy_sheet_info((enum cy_sheet_id)id);
        assert_true(info->letter > ' ' && info->letter < 127);
        assert_null(strchr("pqx?-", info->letter));
        assert_true(*info->word && *info->title && info->make);
        assert_int_equal(cy_sheet_named(info->word), id);
        for (int other = 0; other < id; other++)
            assert_int_not_equal(cy_sheet_info((enum cy_sheet_id)other)->letter, info->letter);
    }
    assert_int_equal(cy_sheet_named("nothing"), CY_SHEET_COUNT);
}

static bool because(struct cy_trace *trace, const struct cy_sheet *sheet,
                    const struct cy_sheet_line *line)
{
    (void)sheet;
    cy_trace_begin(trace, "an answer", "6 x 7", "");
    cy_trace_result(trace, 6.0 * line->item, CY_Q_NUMBER, CY_BASIS_GROWER);
    return line->row == 3;
}

static void a_sheet_prints_its_figures_and_their_reasons(void **state)
{
    (void)state;
    struct cy_plan plan = {0};
    struct cy_sheet sheet = {.plan = &plan};
    struct cy_text out = {0};
    cy_text_add(&sheet.title, "Title");
    cy_sheet_add_figure(&sheet, CY_SHEET_GOOD, "forty-two", because, 3, 7);
    cy_sheet_print(&out, &sheet, false);
    assert_string_equal(cy_text_get(&out), "Title\n\nforty-two\n");
    cy_text_clear(&out);
    cy_sheet_print(&out, &sheet, true);
    assert_string_equal(cy_text_get(&out),
                        "Title\n\nforty-two\nan answer: 42 [grower]\n  formula: 6 x 7\n\n");
    cy_text_dispose(&out);
    cy_sheet_dispose(&sheet);
}

static void text_is_wrapped_and_pictures_are_not(void **state)
{
    (void)state;
    struct cy_sheet sheet = {0};
    struct cy_text out = {0}, line = {0};
    cy_text_add(&line, "  ");
    for (int i = 0; i < 30; i++)
        cy_text_add(&line, i % 2 ? "four " : "three  ");
    cy_sheet_add(&sheet, CY_SHEET_PICTURE, cy_text_get(&line));
    cy_sheet_print(&out, &sheet, false);
    assert_non_null(strstr(cy_text_get(&out), cy_text_get(&line)));
    sheet.lines[0].role = CY_SHEET_TEXT;
    cy_text_clear(&out);
    cy_sheet_print(&out, &sheet, false);
    int lines = 0;
    for (const char *at = cy_text_get(&out) + 2; *at; at += strcspn(at, "\n") + 1, lines++) {
        size_t length = strcspn(at, "\n");
        assert_true(length <= 80 && strncmp(at, "  ", 2) == 0 && at[2] != ' ');
        assert_true(at[length - 1] != ' ');
    }
    assert_int_equal(lines, 3); /* 180 columns and their indent */
    cy_text_dispose(&line);
    cy_text_dispose(&out);
    cy_sheet_dispose(&sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_sheet_has_a_letter_and_a_word_of_its_own),
        cmocka_unit_test(a_sheet_prints_its_figures_and_their_reasons),
        cmocka_unit_test(text_is_wrapped_and_pictures_are_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
