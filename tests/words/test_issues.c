/* SPDX-License-Identifier: MIT
 * Tests of the sentences: every code has one, places are named, nothing unclean gets through. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "words/words.h"

static const char *say(struct cy_text *out, struct cy_issue issue, bool ascii)
{
    cy_text_clear(out);
    cy_say_issue(out, &issue, ascii);
    assert_false(out->failed);
    return cy_text_get(out);
}

static void every_code_has_a_sentence(void **state)
{
    struct cy_text out = {0}, bare = {0};
    for (int code = 0; code < CY_ISSUE_COUNT; code++) {
        struct cy_issue issue = {.code = (enum cy_issue_code)code};
        assert_true(strlen(say(&bare, issue, true)) > 8);
        strcpy(issue.found, "FOUND");
        strcpy(issue.allowed, "ALLOWED");
        const char *said = say(&out, issue, true);
        assert_true(strlen(said) >= bare.length);
        assert_null(strchr(said, '$'));
        assert_null(strchr(cy_text_get(&bare), '$'));
        assert_null(strchr(said, '\n'));
    }
    cy_text_dispose(&out);
    cy_text_dispose(&bare);
    (void)state;
}

/* Two codes that read alike would leave the reader guessing. */
static void no_two_codes_say_the_same(void **state)
{
    struct cy_text one = {0}, other = {0};
    for (int a = 0; a < CY_ISSUE_COUNT; a++) {
        for (int b = 0; b < a; b++) {
            say(&one, (struct cy_issue){.code = (enum cy_issue_code)a}, true);
            say(&other, (struct cy_issue){.code = (enum cy_issue_code)b}, true);
            assert_string_not_equal(cy_text_get(&one), cy_text_get(&other));
        }
    }
    cy_text_dispose(&one);
    cy_text_dispose(&other);
    (void)state;
}

static void place_comes_first(void **state)
{
    struct cy_text out = {0};
    struct cy_issue issue = {.code = CY_ISSUE_OUT_OF_RANGE,
                             .file = "farm.yaml",
                             .line = 12,
                             .column = 9,
                             .thing = "row north-1",
                             .field = "spacing",
                             .found = "90 ft",
                             .allowed = "0.7 to 19 ft"};
    assert_string_equal(say(&out, issue, true),
                        "farm.yaml:12:9: row north-1, spacing: \"90 ft\" is "
                        "out of range; allowed: 0.7 to 19 ft");
    issue.line = 0;
    assert_string_equal(say(&out, issue, true), "farm.yaml: row north-1, spacing: \"90 ft\" is out "
                                                "of range; allowed: 0.7 to 19 ft");
    issue.file[0] = '\0';
    assert_string_equal(say(&out, issue, true),
                        "row north-1, spacing: \"90 ft\" is out of range; allowed: 0.7 to 19 ft");
    issue.thing[0] = '\0';
    assert_string_equal(say(&out, issue, true),
                        "spacing: \"90 ft\" is out of range; allowed: 0.7 to 19 ft");
    issue.field[0] = '\0';
    assert_string_equal(say(&out, issue, true), "\"90 ft\" is out of range; allowed: 0.7 to 19 ft");
    cy_text_dispose(&out);
    (void)state;
}

static void one_name_is_a_guess_and_several_are_a_list(void **state)
{
    struct cy_text out = {0};
    struct cy_issue issue = {.code = CY_ISSUE_UNKNOWN_KEY, .found = "lenght", .allowed = "length"};
    assert_string_equal(say(&out, issue, true),
                        "no key \"lenght\" is known here; did you mean \"length\"?");
    strcpy(issue.allowed, "value, basis, source");
    assert_string_equal(say(&out, issue, true),
                        "no key \"lenght\" is known here; allowed: value, basis, source");
    cy_text_dispose(&out);
    (void)state;
}

/* Escape, bell, delete, a C1 control and the mark that turns text round, in every part. */
static void control_bytes_are_neutralised(void **state)
{
    static const char hostile[] = "a\x1b[2J\x07\x7f\xc2\x9b\xe2\x80\xae\xff\nz";
    struct cy_text out = {0};
    for (int code = 0; code < CY_ISSUE_COUNT; code++) {
        struct cy_issue issue = {.code = (enum cy_issue_code)code, .line = 1, .column = 1};
        strcpy(issue.file, hostile);
        strcpy(issue.thing, hostile);
        strcpy(issue.field, hostile);
        strcpy(issue.found, hostile);
        strcpy(issue.allowed, hostile);
        const char *said = say(&out, issue, false);
        assert_true(cy_utf8_valid(said, strlen(said)));
        assert_false(cy_utf8_has_control(said, strlen(said)));
        said = say(&out, issue, true);
        for (const char *c = said; *c; c++)
            assert_true(*c >= ' ' && *c <= '~');
    }
    cy_text_dispose(&out);
    (void)state;
}

static void long_findings_are_cut(void **state)
{
    struct cy_text out = {0};
    struct cy_issue issue = {.code = CY_ISSUE_BAD_NUMBER};
    memset(issue.found, 'n', 150);
    const char *said = say(&out, issue, true);
    assert_int_equal(strlen(said), 1 + 59 + strlen("~\" is not a number"));
    assert_non_null(strstr(said, "nn~\" is not a number"));
    assert_non_null(strstr(say(&out, issue, false), "nn…\" is not a number"));
    cy_text_dispose(&out);
    (void)state;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_has_a_sentence),
        cmocka_unit_test(no_two_codes_say_the_same),
        cmocka_unit_test(place_comes_first),
        cmocka_unit_test(one_name_is_a_guess_and_several_are_a_list),
        cmocka_unit_test(control_bytes_are_neutralised),
        cmocka_unit_test(long_findings_are_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
