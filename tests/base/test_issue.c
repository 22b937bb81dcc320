/* SPDX-License-Identifier: MIT
 * Lists of issues, growable arrays, copies. */
#include <caneyear/base/issue.h>

#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/text.h>

#include "support/near.h"

static void issues_say_where_and_what(void **state)
{
    (void)state;
    struct cy_issues issues = {0};
    cy_issue_say(&issues, CY_ISSUE_OUT_OF_RANGE, "row north-1", "spacing", "90 ft", "1 ft to 8 ft");
    assert_int_equal(issues.count, 1);
    const struct cy_issue *issue = &issues.items[0];
    assert_int_equal(issue->code, CY_ISSUE_OUT_OF_RANGE);
    assert_string_equal(issue->thing, "row north-1");
    assert_string_equal(issue->field, "spacing");
    assert_string_equal(issue->found, "90 ft");
    assert_string_equal(issue->allowed, "1 ft to 8 ft");
    assert_string_equal(issue->file, "");
    assert_int_equal(issue->line, 0);
    cy_issue_say(NULL, CY_ISSUE_SYNTAX, NULL, NULL, NULL, NULL);
}

static void the_list_is_capped_and_counts_the_rest(void **state)
{
    (void)state;
    struct cy_issues issues = {0};
    for (int i = 0; i < CY_ISSUES_KEPT + 5; i++) {
        struct cy_issue *issue = cy_issue_add(&issues, CY_ISSUE_SYNTAX);
        assert_non_null(issue);
        issue->line = i + 1;
    }
    assert_int_equal(issues.count, CY_ISSUES_KEPT);
    assert_int_equal(issues.dropped, 5);
    assert_int_equal(issues.items[0].line, 1);
    assert_int_equal(issues.items[CY_ISSUES_KEPT - 1].line, CY_ISSUES_KEPT);
}

static void long_texts_are_cut_at_whole_characters(void **state)
{
    (void)state;
    struct cy_issues issues = {0};
    char found[400] = "x";
    for (size_t i = 1; i + 2 < sizeof found; i += 2)
        memcpy(found + i, "\u00e9", 3);
    cy_issue_say(&issues, CY_ISSUE_BAD_CHOICE, found, found, found, NULL);
    const struct cy_issue *issue = &issues.items[0];
    assert_int_equal(strlen(issue->found), CY_ISSUE_TEXT - 1);
    assert_int_equal(strlen(issue->thing), sizeof issue->thing - 1);
    assert_true(cy_utf8_valid(issue->found, strlen(issue->found)));
    cy_issue_say(&issues, CY_ISSUE_BAD_CHOICE, NULL, NULL, found + 1, NULL);
    assert_int_equal(strlen(issues.items[1].found), CY_ISSUE_TEXT - 2);
    assert_true(cy_utf8_valid(issues.items[1].found, CY_ISSUE_TEXT - 2));
}

static void arrays_grow_and_keep_their_items(void **state)
{
    (void)state;
    int *items = NULL;
    size_t capacity = 0;
    for (size_t count = 0; count < 1000; count++) {
        assert_true(cy_grow(&items, &capacity, count, sizeof *items));
        assert_true(capacity > count);
        items[count] = (int)count * 3;
    }
    for (int i = 0; i < 1000; i++)
        assert_int_equal(items[i], i * 3);
    /* a size no machine has changes nothing */
    int *before = items;
    size_t full = capacity;
    assert_false(cy_grow(&items, &capacity, full, SIZE_MAX / 4));
    assert_ptr_equal(items, before);
    assert_int_equal(capacity, full);
    free(items);
}

static void zeroed_and_copies(void **state)
{
    (void)state;
    unsigned char *bytes = cy_zeroed(10, 10);
    assert_non_null(bytes);
    for (int i = 0; i < 100; i++)
        assert_int_equal(bytes[i], 0);
    free(bytes);
    void *none = cy_zeroed(0, 8);
    assert_non_null(none);
    free(none);
    assert_null(cy_zeroed(SIZE_MAX / 2, 4));
    char *copy = cy_strdup("cane");
    assert_string_equal(copy, "cane");
    free(copy);
    copy = cy_strndup("cane", 2);
    assert_string_equal(copy, "ca");
    free(copy);
    assert_null(cy_strdup(NULL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(issues_say_where_and_what),
        cmocka_unit_test(the_list_is_capped_and_counts_the_rest),
        cmocka_unit_test(long_texts_are_cut_at_whole_characters),
        cmocka_unit_test(arrays_grow_and_keep_their_items),
        cmocka_unit_test(zeroed_and_copies),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
