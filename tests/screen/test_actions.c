/* SPDX-License-Identifier: MIT
 * The list of actions: each key means one thing, and none needs Esc, Alt or a function key. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <curses.h>

#include "screen/actions.h"
#include "screen/screen.h"

static const int keys[][2] = {{0, 0},
#define ACTION(name, group, key, second, hint, help) {key, second},
                              CY_ACTIONS(ACTION)
#undef ACTION
};

static void every_key_leads_to_its_action_alone(void **state)
{
    (void)state;
    for (int i = 1; i < CY_ACTION_COUNT; i++)
        for (int k = 0; k < 2; k++)
            if (keys[i][k])
                assert_int_equal(cy_action_of_key(keys[i][k], keys[i][k] >= KEY_MIN), i);
}

static void no_action_needs_a_key_that_terminals_take(void **state)
{
    (void)state;
    for (int i = 1; i < CY_ACTION_COUNT; i++) {
        int first = keys[i][0];
        assert_true(first != 0 && first != 27);
        assert_false(first >= KEY_F0 && first <= KEY_F0 + 63);
    }
}

static void unknown_keys_are_no_action(void **state)
{
    (void)state;
    assert_int_equal(cy_action_of_key('y', false), CY_ACTION_NONE);
    assert_int_equal(cy_action_of_key(0, false), CY_ACTION_NONE);
    assert_int_equal(cy_action_of_key(-1, false), CY_ACTION_NONE);
    /* A letter whose code point is that of a curses key is a letter. */
    assert_int_equal(cy_action_of_key(KEY_DOWN, false), CY_ACTION_NONE);
    assert_int_equal(cy_action_of_key(KEY_DOWN, true), CY_ACTION_DOWN);
    assert_int_equal(cy_action_of_key('\r', false), CY_ACTION_OPEN);
}

static void help_and_manual_list_every_action(void **state)
{
    (void)state;
    struct cy_text help = {0}, manual = {0};
    cy_actions_list(&help, true);
    cy_screen_keys(&manual);
    static const char *const sentences[] = {"",
#define ACTION(name, group, key, second, hint, help) help,
                                            CY_ACTIONS(ACTION)
#undef ACTION
    };
    for (int i = 1; i < CY_ACTION_COUNT; i++) {
        assert_non_null(strstr(cy_text_get(&help), sentences[i]));
        assert_non_null(strstr(cy_text_get(&manual), sentences[i]));
    }
    for (const char *c = cy_text_get(&manual); *c; c++)
        assert_true(*c > 0);
    cy_text_dispose(&help);
    cy_text_dispose(&manual);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_key_leads_to_its_action_alone),
        cmocka_unit_test(no_action_needs_a_key_that_terminals_take),
        cmocka_unit_test(unknown_keys_are_no_action),
        cmocka_unit_test(help_and_manual_list_every_action),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
