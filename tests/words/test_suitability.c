/* SPDX-License-Identifier: MIT
 * Every reason for a mark has a sentence, and traces come out as JSON. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "words/words.h"

static void every_reason_has_a_sentence(void **state)
{
    (void)state;
    struct cy_suitability table = {0};
    struct cy_text seen = {0};
    assert_int_equal(cy_farm_init(&table.farm), CY_OK);
    const struct cy_thing *thing = cy_farm_add(&table.farm, CY_KIND_CULTIVAR, 0, "x", NULL, 0);
    struct cy_value soft = {.set = true, .number = CY_FIRMNESS_SOFT, .basis = CY_BASIS_GROWER};
    assert_int_equal(cy_farm_set(&table.farm, thing->id, CY_CULTIVAR_FIRMNESS, &soft), CY_OK);
    struct cy_suit_cultivar cultivar = {.thing = thing->id, .key = "x", .name = "X"};
    for (int reason = 0; reason < CY_SUIT_REASON_COUNT; reason++) {
        struct cy_text words = {0};
        struct cy_verdict verdict = {.reason = (enum cy_suit_reason)reason,
                                     .figure = 0.5,
                                     .quantity = CY_Q_SHARE,
                                     .limit = 3};
        cy_say_verdict(&words, &table, &cultivar, &verdict);
        assert_true(words.length > 3);
        assert_null(strstr(cy_text_get(&words), "(null)"));
        assert_null(strstr(cy_text_get(&seen), cy_text_get(&words))); /* no two say the same */
        cy_text_add(&seen, cy_text_get(&words));
        cy_text_add_char(&seen, '\n');
        cy_text_dispose(&words);
    }
    cy_text_dispose(&seen);
    cy_farm_dispose(&table.farm);
}

static void a_trace_is_an_array_of_steps(void **state)
{
    (void)state;
    struct cy_trace trace = {0};
    struct cy_text out = {0};
    struct cy_json json;
    cy_trace_begin(&trace, "a share", "a / b", "");
    cy_trace_number(&trace, "a", 2, CY_Q_DAYS, CY_BASIS_GROWER, "typed");
    cy_trace_text(&trace, "b", "many", CY_BASIS_NONE, "");
    cy_trace_result(&trace, 0.5, CY_Q_SHARE, CY_BASIS_MEMORY);
    cy_json_begin(&json, &out);
    cy_trace_json(&json, &trace);
    assert_string_equal(
        cy_text_get(&out),
        "[{\"what\":\"a share\",\"formula\":\"a / b\",\"source\":null,\"inputs\":["
        "{\"name\":\"a\",\"value\":2,\"unit\":\"d\",\"basis\":\"grower\",\"source\":\"typed\"},"
        "{\"name\":\"b\",\"value\":\"many\",\"basis\":\"none\",\"source\":null}],"
        "\"result\":0.5,\"unit\":\"1\",\"basis\":\"from memory\"}]");
    assert_false(out.failed);
    cy_text_dispose(&out);
    cy_trace_dispose(&trace);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_reason_has_a_sentence),
        cmocka_unit_test(a_trace_is_an_array_of_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
