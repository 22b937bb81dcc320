/* SPDX-License-Identifier: MIT
 * Reading arguments: units, bare numbers, defaults, and everything that is refused; and the table
 * itself, held to the contract of names. */
#include "bench.h"

#include <caneyear/base/text.h>

static void the_names_that_are_promised(void **state)
{
    (void)state;
    static const char *const names[] = {
        "hourly",        "chill-hours",   "chill-units", "chill-weighted", "chill-portions",
        "degree-hours",  "degree-days",   "day-length",  "sun-position",   "sun-times",
        "sun-hours",     "row-shadow",    "radiation",   "frost-odds",     "tipping",
        "bud-kill",      "row-yield",     "plants",      "reference-et",   "water-balance",
        "drip-line",     "pipe-loss",     "run-time",    "wire-sag",       "wire-tension",
        "wind-pressure", "post-bending",  "post-depth",  "post-load",      "end-brace",
        "anchor",        "trellis-parts", "row-count",   "net-value",      "capital-recovery",
        "break-even",    "heat-index",    "pick-crew",   "visitors",       "labour"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        assert_non_null(cy_pencil_find(names[i]));
    assert_null(cy_pencil_find("no-such-sum"));
    assert_null(cy_pencil_at(cy_pencil_count()));
}

static void every_row_of_the_table_is_whole(void **state)
{
    (void)state;
    for (size_t i = 0; i < cy_pencil_count(); i++) {
        const struct cy_pencil_calculation *c = cy_pencil_at(i);
        assert_ptr_equal(cy_pencil_find(c->name), c); /* no name twice */
        assert_true(c->subject[0] && c->what[0] && c->formula[0] && c->source[0] && c->range[0]);
        assert_true(c->count > 0 && c->count <= CY_PENCIL_ARGUMENTS);
        for (size_t k = 0; k < c->count; k++) {
            const struct cy_pencil_argument *argument = &c->arguments[k];
            assert_true(argument->name[0] && argument->help[0]);
            assert_int_equal(argument->kind == CY_PENCIL_CHOICE, argument->choices != NULL);
            if (argument->kind <= CY_PENCIL_LIST)
                assert_true(argument->low < argument->high);
            for (size_t j = 0; j < k; j++)
                assert_string_not_equal(c->arguments[j].name, argument->name);
        }
    }
}

/* Given alone, each argument that must be given but the first lacks; none crashes on nothing. */
static void every_calculation_asks_for_what_it_needs(void **state)
{
    (void)state;
    for (size_t i = 0; i < cy_pencil_count(); i++) {
        struct bench bench = work(cy_pencil_at(i)->name, "");
        assert_refused(bench, CY_ISSUE_MISSING, bench.issues.items[0].field);
        assert_string_equal(bench.issues.items[0].thing, cy_pencil_at(i)->name);
    }
}

static void bare_numbers_have_the_unit_of_the_table(void **state)
{
    (void)state;
    struct bench metric = work("wire-sag", "span=7.62 load=43.7817 tension=1112.0554");
    struct bench us = work("wire-sag", "span=25ft load=3lbf/ft tension=250lbf");
    assert_result(us, 25.0 * 25 * 3 / (8 * 250) * 0.3048, 1e-12);
    assert_result(metric, us.result.value, 1e-6);
    struct bench rise = work("wire-tension", "span=25ft gauge=12.5 tension=200lbf rise=40dF");
    struct bench kelvin =
        work("wire-tension", "span=25ft gauge=12.5 tension=200lbf rise=22.2222222");
    assert_result(rise, kelvin.result.value, 1e-4);
    struct bench percent = work("heat-index", "temp=90F humidity=60%");
    struct bench bare = work("heat-index", "temp=32.22222222222222 humidity=60");
    assert_result(percent, bare.result.value, 1e-9);
}

static void a_wrong_unit_is_refused(void **state)
{
    (void)state;
    assert_refused(work("wire-sag", "span=25lb load=1 tension=5"), CY_ISSUE_BAD_UNIT, "span");
    assert_refused(work("wire-sag", "span=25parsec load=1 tension=5"), CY_ISSUE_BAD_UNIT, "span");
    /* Degrees of a scale are no difference. */
    assert_refused(work("wire-tension", "span=25ft gauge=12.5 tension=200lbf rise=40F"),
                   CY_ISSUE_BAD_UNIT, "rise");
}

static void malformed_values_are_refused(void **state)
{
    (void)state;
    assert_refused(work("wire-sag", "span=wide load=1 tension=5"), CY_ISSUE_BAD_NUMBER, "span");
    assert_refused(work("wire-sag", "span= load=1 tension=5"), CY_ISSUE_BAD_NUMBER, "span");
    assert_refused(work("wire-sag", "span=nan load=1 tension=5"), CY_ISSUE_BAD_NUMBER, "span");
    assert_refused(work("wire-sag", "span=-1 load=1 tension=5"), CY_ISSUE_OUT_OF_RANGE, "span");
    assert_refused(work("day-length", "lat=32 date=2024-02-30"), CY_ISSUE_BAD_DATE, "date");
    assert_refused(work("day-length", "lat=91 date=2024-02-28"), CY_ISSUE_OUT_OF_RANGE, "lat");
    assert_refused(work("radiation", "lat=32 day=1.5"), CY_ISSUE_BAD_NUMBER, "day");
    assert_refused(work("wind-pressure", "speed=40 height=3 exposure=E"), CY_ISSUE_BAD_CHOICE,
                   "exposure");
    assert_refused(work("chill-hours", "temps=1,,2"), CY_ISSUE_BAD_NUMBER, "temps");
    assert_refused(work("chill-hours", "temps=1,200"), CY_ISSUE_OUT_OF_RANGE, "temps");
}

static void unknown_and_doubled_arguments_are_refused(void **state)
{
    (void)state;
    assert_refused(work("wire-sag", "span=7 load=1 tension=5 colour=red"), CY_ISSUE_BAD_ARGUMENT,
                   "");
    assert_refused(work("wire-sag", "span=7 load=1 tension=5 extra"), CY_ISSUE_BAD_ARGUMENT, "");
    assert_refused(work("wire-sag", "span=7 span=8 load=1 tension=5"), CY_ISSUE_PAIR, "span");
    assert_refused(work("wire-sag", "span=7 load=1"), CY_ISSUE_MISSING, "tension");
}

static void the_issue_names_what_is_allowed(void **state)
{
    (void)state;
    struct bench range = work("wire-sag", "span=-1 load=1 tension=5");
    assert_string_equal(range.issues.items[0].allowed, "0.01 to 2000 m");
    struct bench choice = work("wind-pressure", "speed=40 height=3 exposure=E");
    assert_string_equal(choice.issues.items[0].allowed, "B, C, D");
    struct bench unknown = work("wire-sag", "colour=red");
    assert_string_equal(unknown.issues.items[0].allowed, "span=, load=, tension=, gauge=");
}

static void times_carry_their_zone(void **state)
{
    (void)state;
    static const char *const same[] = {
        "time=2003-10-17T12:30:30-07:00", "time=2003-10-17T19:30:30+00:00",
        "time=2003-10-17T19:30:30Z", "time=2003-10-18T01:00:30+05:30"};
    for (size_t i = 0; i < sizeof same / sizeof *same; i++) {
        char line[128];
        strcpy(line, "lat=39.742476 lon=-105.1786 ");
        strcat(line, same[i]);
        assert_result(work("sun-position", line), 39.872, 0.002);
    }
    static const char *const wrong[] = {"time=2003-10-17",
                                        "time=2003-10-17T12:30:30",
                                        "time=2003-10-17T24:30:30Z",
                                        "time=2003-10-17T12:30Zx",
                                        "time=noon",
                                        "time=2003-10-17T12:30:30-07"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        char line[128];
        strcpy(line, "lat=39.7 lon=-105.2 ");
        strcat(line, wrong[i]);
        assert_refused(work("sun-position", line), CY_ISSUE_BAD_DATE, "time");
    }
}

static void fallbacks_are_marked(void **state)
{
    (void)state;
    static const char *const words[] = {"flow=0.1", "bore=20mm", "length=100"};
    struct cy_pencil_inputs in;
    struct cy_issues issues = {0};
    const struct cy_pencil_calculation *calculation = cy_pencil_find("pipe-loss");
    assert_int_equal(cy_pencil_read(&in, calculation, words, 3, &issues), CY_OK);
    assert_string_equal(calculation->arguments[3].name, "c");
    assert_true(in.values[3].given && in.values[3].is_fallback);
    assert_near(in.values[3].number, 150, 0);
    assert_near(in.values[1].number, 0.02, 0);
    assert_false(in.values[1].is_fallback);
    assert_null(cy_pencil_named(&in, CY_PENCIL_FILE));
    cy_pencil_inputs_dispose(&in);
}

/* One "key=value" at an end of what is allowed; false where the kind has no ends. */
static bool extreme(struct cy_text *word, const struct cy_pencil_argument *argument, bool high)
{
    cy_text_add(word, argument->name);
    cy_text_add(word, "=");
    switch (argument->kind) {
    case CY_PENCIL_REAL:
    case CY_PENCIL_WHOLE:
    case CY_PENCIL_LIST:
        cy_text_add_number(word, high ? argument->high : argument->low);
        return true;
    case CY_PENCIL_DATE:
        cy_text_add(word, high ? "2400-12-31" : "1800-01-01");
        return true;
    case CY_PENCIL_TIME:
        cy_text_add(word, high ? "2400-12-31T23:59:59-14:00" : "1800-01-01T00:00:00+14:00");
        return true;
    case CY_PENCIL_CHOICE: {
        const char *last = strrchr(argument->choices, ' ');
        size_t first = strcspn(argument->choices, ",");
        cy_text_add_n(word, high ? last + 1 : argument->choices, high ? strlen(last + 1) : first);
        return true;
    }
    default:
        cy_text_add(word, strcmp(argument->name, "section") == 0 ? "4x4" : "1e5@30");
        return argument->required && argument->kind == CY_PENCIL_TEXT;
    }
}

/* Every argument at either end, all at once and with each one left out: an answer or a refusal. */
static void the_ends_of_every_range_do_no_harm(void **state)
{
    (void)state;
    for (size_t i = 0; i < cy_pencil_count(); i++) {
        const struct cy_pencil_calculation *c = cy_pencil_at(i);
        for (size_t turn = 0; turn < 2 * (c->count + 1); turn++) {
            struct cy_text words[CY_PENCIL_ARGUMENTS] = {0};
            const char *given[CY_PENCIL_ARGUMENTS];
            size_t count = 0;
            for (size_t k = 0; k < c->count; k++)
                if (k != turn / 2 && extreme(&words[k], &c->arguments[k], turn % 2))
                    given[count++] = cy_text_get(&words[k]);
            struct cy_pencil_inputs in;
            struct cy_pencil_result result;
            struct cy_issues issues = {0};
            int status = cy_pencil_read(&in, c, given, count, &issues);
            if (status == CY_OK) {
                status = cy_pencil_run(&result, &in, NULL, &issues);
                cy_pencil_inputs_dispose(&in);
            }
            assert_true(status == CY_OK ? isfinite(result.value) : issues.count > 0);
            for (size_t k = 0; k < c->count; k++)
                cy_text_dispose(&words[k]);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_names_that_are_promised),
        cmocka_unit_test(every_row_of_the_table_is_whole),
        cmocka_unit_test(every_calculation_asks_for_what_it_needs),
        cmocka_unit_test(bare_numbers_have_the_unit_of_the_table),
        cmocka_unit_test(a_wrong_unit_is_refused),
        cmocka_unit_test(malformed_values_are_refused),
        cmocka_unit_test(unknown_and_doubled_arguments_are_refused),
        cmocka_unit_test(the_issue_names_what_is_allowed),
        cmocka_unit_test(times_carry_their_zone),
        cmocka_unit_test(fallbacks_are_marked),
        cmocka_unit_test(the_ends_of_every_range_do_no_harm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
