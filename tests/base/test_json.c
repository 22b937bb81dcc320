/* SPDX-License-Identifier: MIT
 * JSON. */
#include <caneyear/base/json.h>

#include "support/near.h"

static void objects_and_arrays(void **state)
{
    (void)state;
    struct cy_text text = {0};
    struct cy_json json;
    cy_json_begin(&json, &text);
    cy_json_object(&json);
    cy_json_key(&json, "rows");
    cy_json_array(&json);
    cy_json_object(&json);
    cy_json_end_object(&json);
    cy_json_number(&json, 0.1);
    cy_json_number(&json, NAN);
    cy_json_array(&json);
    cy_json_end_array(&json);
    cy_json_end_array(&json);
    cy_json_key(&json, "ok");
    cy_json_bool(&json, true);
    cy_json_key(&json, "from");
    cy_json_day(&json, cy_day_of(2025, 6, 1));
    cy_json_key(&json, "to");
    cy_json_day(&json, CY_DAY_NONE);
    cy_json_key(&json, "name");
    cy_json_string(&json, NULL);
    cy_json_key(&json, "done");
    cy_json_bool(&json, false);
    cy_json_end_object(&json);
    assert_text(&text, "{\"rows\":[{},0.1,null,[]],\"ok\":true,\"from\":\"2025-06-01\","
                       "\"to\":null,\"name\":null,\"done\":false}");
    cy_text_dispose(&text);
}

static void strings_are_escaped(void **state)
{
    (void)state;
    static const struct {
        const char *value, *expected;
    } cases[] = {
        {"", "\"\""},
        {"a\"b\\c/", "\"a\\\"b\\\\c/\""},
        {"line\nnext", "\"line\\nnext\""},
        {"\t\x1b[2J\x7f", "\"\\u0009\\u001b[2J\\u007f\""},
        {"caf\u00e9 \u6f22 \U0001F347", "\"caf\u00e9 \u6f22 \U0001F347\""},
        {"\xC2\x85\u2028\u202e", "\"\\u0085\\u2028\\u202e\""},
        {"a\xff\xc3", "\"a\uFFFD\uFFFD\""},
    };
    struct cy_text text = {0};
    struct cy_json json;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        cy_json_begin(&json, &text);
        cy_json_string(&json, cases[i].value);
        assert_text(&text, cases[i].expected);
    }
    cy_text_dispose(&text);
}

static void keys_are_escaped_too(void **state)
{
    (void)state;
    struct cy_text text = {0};
    struct cy_json json;
    cy_json_begin(&json, &text);
    cy_json_object(&json);
    cy_json_key(&json, "a\"b");
    cy_json_number(&json, -5);
    cy_json_end_object(&json);
    assert_text(&text, "{\"a\\\"b\":-5}");
    cy_text_dispose(&text);
}

static void too_deep_fails(void **state)
{
    (void)state;
    struct cy_text text = {0};
    struct cy_json json;
    cy_json_begin(&json, &text);
    for (int i = 0; i < CY_JSON_DEPTH - 1; i++)
        cy_json_array(&json);
    assert_false(text.failed);
    cy_json_array(&json);
    assert_true(text.failed);
    cy_text_dispose(&text);
    cy_json_begin(&json, &text);
    cy_json_end_array(&json);
    assert_true(text.failed);
    cy_text_dispose(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(objects_and_arrays),
        cmocka_unit_test(strings_are_escaped),
        cmocka_unit_test(keys_are_escaped_too),
        cmocka_unit_test(too_deep_fails),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
