/* SPDX-License-Identifier: MIT
 * The sheets of trellis and parts: US and metric, wide and narrow, ASCII; refusals; JSON. */
#include "season/trellis_farm.h"

#include "words/trellis.h"
#include "words/words.h"

static struct cy_sheet sheet_of(const struct cy_plan *plan, enum cy_sheet_id id, bool farm,
                                int width, bool ascii)
{
    struct cy_sheet sheet;
    struct cy_sheet_request request = {
        .plan = plan, .whole_farm = farm, .day = plan->today, .width = width, .ascii = ascii};
    assert_int_equal(cy_sheet_make(&sheet, id, &request), CY_OK);
    return sheet;
}

static char *text_of(const struct cy_sheet *sheet, bool why)
{
    struct cy_text text = {0};
    cy_sheet_print(&text, sheet, why);
    assert_false(text.failed);
    return text.data; /* the caller frees it */
}

static void assert_says(const char *text, const char *words)
{
    if (!strstr(text, words))
        fail_msg("\"%s\" is not in:\n%s", words, text);
}

static void assert_silent(const char *text, const char *words)
{
    if (strstr(text, words))
        fail_msg("\"%s\" is in:\n%s", words, text);
}

/* What is set in columns: blanks stand inside it. */
static bool is_table(const char *text)
{
    return strstr(text + strspn(text, " "), "  ") != NULL;
}

/* Pictures and tables fit the page, the narrowest being that of 80 columns, and figures can be
 * asked why. */
static void lines_fit_the_page(void **state)
{
    (void)state;
    static const int widths[] = {77, 80, 120, 180};
    static const char *const ends[] = {"none", "h", "slant", "tie"};
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "row.a.name", "A row with a rather long name of its own");
    for (int end = 0; end < 4; end++) {
        put(&farm, "trellis.wires.end", ends[end]);
        put(&farm, "row.a.length", end % 2 ? "30 ft" : "900 ft");
        struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
        for (size_t i = 0; i < 2 * sizeof widths / sizeof *widths; i++) {
            int width = widths[i / 2], figures = 0;
            struct cy_sheet sheet = sheet_of(plan, CY_SHEET_TRELLIS, false, width, i % 2);
            for (size_t line = 0; line < sheet.count; line++) {
                struct cy_trace trace = {0};
                const char *text = sheet.lines[line].text;
                bool wraps = sheet.lines[line].role != CY_SHEET_PICTURE && !is_table(text);
                if (!wraps && cy_utf8_columns(text) > width)
                    fail_msg("%d columns at %d: %s", cy_utf8_columns(text), width, text);
                for (const char *at = text; i % 2 && *at; at++)
                    assert_true(*at >= ' ' && *at <= '~');
                if (!sheet.lines[line].why)
                    continue;
                assert_true(sheet.lines[line].why(&trace, &sheet, &sheet.lines[line]));
                assert_true(trace.count > 0);
                cy_trace_dispose(&trace);
                figures++;
            }
            assert_true(figures > 15);
            cy_sheet_dispose(&sheet);
        }
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

/* A T is drawn with its arm and both wires, a V with its legs apart, an I not at all. */
static void a_t_or_v_is_drawn_from_its_end(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "trellis.wires.wire.low.height", "5 ft"); /* two wires at the top */
    static const struct {
        const char *form, *said, *top, *foot;
    } forms[] = {{"I", NULL, NULL, NULL},
                 {"T", "From the row's end: 4.0 ft wide", "5.0 ft           o----|----o", "|"},
                 {"V", "From the row's end: 2.3 ft wide at its top", "5.0 ft            o\\     /o",
                  "\\ /"}};
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        put(&farm, "trellis.wires.form", forms[i].form);
        struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
        struct cy_sheet sheet = sheet_of(plan, CY_SHEET_TRELLIS, false, 80, true);
        char *text = text_of(&sheet, true);
        if (!forms[i].said)
            assert_silent(text, "From the row's end");
        if (forms[i].said) {
            assert_says(text, forms[i].said);
            assert_says(text, " (usual: no arm is typed); o: wires");
            assert_says(text, forms[i].top);
            assert_says(text, forms[i].foot);
        }
        free(text);
        cy_sheet_dispose(&sheet);
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

static void a_row_has_picture_checks_and_cautions(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    struct cy_sheet sheet = sheet_of(plan, CY_SHEET_TRELLIS, false, 80, true);
    char *text = text_of(&sheet, false);
    assert_says(text, "Over its limit, and most of all: line post, hold of soil sideways");
    assert_says(text, "wind across canes in leaf (D + W across, in leaf)");
    assert_says(text, "  5.0 ft  ");
    assert_says(text, "4 bays of 25.0 ft");
    assert_says(text, "times its depth");
    assert_says(text, "A gust of 50 mph asks 383 lbf of a line post, at 3.5 ft.");
    assert_says(text, "20 lbf of a customary post");
    assert_says(text, "stand for decades");
    /* 0.7 of 383 lbf. */
    assert_says(text, "Shelter is not counted above. With three rows or more");
    assert_says(text, "268 lbf [placeholder]");
    assert_says(text, "Wire at 5.0 ft: set to 225 lbf at 60 F");
    assert_says(text, "for a week by");
    assert_says(text, "Practice: line posts 2.0 ft deep and 25.0 ft to 30.0 ft apart");
    assert_says(text, "None is called the cheapest before the prices");
    assert_says(text, "never straddle it");
    assert_says(text, "811");
    assert_says(text, "overhead");
    assert_says(text, "Treated wood");
    assert_says(text, "licensed engineer");
    assert_silent(text, "safe");
    int cautions = 0, pictures = 0;
    for (size_t i = 0; i < sheet.count; i++) {
        cautions += sheet.lines[i].role == CY_SHEET_CAUTION;
        pictures += sheet.lines[i].role == CY_SHEET_PICTURE;
    }
    assert_true(cautions > 3 && pictures > 15);
    free(text);
    cy_sheet_dispose(&sheet);
    cy_plan_free(plan);
    put(&farm, "farm.units", "metric");
    plan = plan_of(&farm, TODAY, 2027);
    sheet = sheet_of(plan, CY_SHEET_TRELLIS, false, 80, true);
    text = text_of(&sheet, false);
    assert_says(text, "4 bays of 7.62 m");
    assert_says(text, "A gust of 22 m/s asks 1705 N of a line post, at 1.07 m.");
    assert_says(text, "Wire at 1.52 m: set to 1001 N at 16 C");
    assert_says(text, "Practice: line posts 0.61 m deep and 7.62 m to 9.14 m apart");
    assert_silent(text, "lbf");
    free(text);
    cy_sheet_dispose(&sheet);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void polymer_line_by_its_maker_creeps(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "trellis.wires.wire.low.kind", "polymer");
    put(&farm, "trellis.wires.wire.low.breaks", "600 lbf");
    put(&farm, "trellis.wires.wire.low.diameter", "3 mm");
    put(&farm, "trellis.wires.wire.low.modulus", "7000 MPa");
    put(&farm, "trellis.wires.wire.low.expansion", "117");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    struct cy_sheet sheet = sheet_of(plan, CY_SHEET_TRELLIS, false, 80, true);
    char *text = text_of(&sheet, true);
    assert_says(text, "breaks at about 600 lbf.");
    assert_says(text, "Polymer line creeps besides");
    assert_says(text, "its expansion, millionths per C");
    free(text);
    cy_sheet_dispose(&sheet);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void what_is_not_known_is_said(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_value unset = {0};
    trellis_farm(&farm);
    put(&farm, "trellis.wires.wire.low.kind", "polymer");
    const struct cy_thing *site = cy_farm_one(&farm, CY_KIND_SITE);
    assert_int_equal(cy_farm_set(&farm, site->id, CY_SITE_GUST, &unset), CY_OK);
    const struct cy_thing *trellis = cy_farm_by_key(&farm, CY_KIND_TRELLIS, 0, "wires");
    const struct cy_thing *top = cy_farm_by_key(&farm, CY_KIND_WIRE, trellis->id, "top");
    assert_int_equal(cy_farm_set(&farm, top->id, CY_WIRE_TENSION, &unset), CY_OK);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    struct cy_sheet sheet = sheet_of(plan, CY_SHEET_TRELLIS, false, 80, true);
    char *text = text_of(&sheet, true);
    assert_says(text, "Wire at 3.0 ft: no figure for this kind or gauge of wire.");
    assert_says(text, "Wire at 5.0 ft: no verdict: a wire's tension and set_at are not known.");
    assert_says(text, "No gust is typed (site.gust), so nothing is said of wind.");
    assert_says(text, "Wires are drawn straight");
    assert_says(text, "none is over its limit"); /* what could be checked: the weight on a foot */
    free(text);
    cy_sheet_dispose(&sheet);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void the_farm_has_a_line_a_row(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_value unset = {0};
    trellis_farm(&farm);
    add_row(&farm, "c", "natchez", "hedge", "2020-03-20");
    const struct cy_thing *c = cy_farm_by_key(&farm, CY_KIND_ROW, 0, "c");
    assert_int_equal(cy_farm_set(&farm, c->id, CY_ROW_TRELLIS, &unset), CY_OK);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    struct cy_sheet sheet = sheet_of(plan, CY_SHEET_TRELLIS, true, 80, true);
    char *text = text_of(&sheet, false);
    assert_says(text, "2 rows are over a limit, 0 are within all that could be checked, 1 has no");
    assert_says(text, "no trellis");
    assert_says(text, "hold of soil sideways");
    free(text);
    cy_sheet_dispose(&sheet);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void parts_have_prices_or_say_so(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    ADD(&farm, PART, "wire", PLACEHOLDER, "what", "high-tensile wire", "price_by_length",
        "$0.05/ft");
    ADD(&farm, PART, "post", GROWER, "what", "round post", "price", "$9");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    for (int all = 0; all < 2; all++) {
        struct cy_sheet sheet = sheet_of(plan, CY_SHEET_PARTS, all, 80, true);
        char *text = text_of(&sheet, true);
        assert_says(text, "round post 4.0 in, 7.2 ft");
        assert_says(text, "0.050 $/ft");
        assert_says(text, "no price");
        assert_says(text, "have no price and are not in the sum");
        assert_says(text, "Prices marked placeholder are nobody's");
        assert_says(text, all ? "of row: " : "for 100 ft of row: ");
        free(text);
        cy_sheet_dispose(&sheet);
    }
    put(&farm, "farm.units", "metric");
    cy_plan_free(plan);
    plan = plan_of(&farm, TODAY, 2027);
    struct cy_sheet sheet = sheet_of(plan, CY_SHEET_PARTS, false, 80, true);
    char *text = text_of(&sheet, false);
    assert_says(text, "round post 102 mm, 2.2 m");
    assert_says(text, "0.164 $/m");
    free(text);
    cy_sheet_dispose(&sheet);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void every_word_is_there(void **state)
{
    (void)state;
    for (int in = 0; in < CY_CASE_COUNT; in++) {
        assert_true(*cy_trellis_case_word((enum cy_trellis_case)in));
        assert_true(*cy_trellis_case_combination((enum cy_trellis_case)in));
        assert_in_range(strlen(cy_case_short((enum cy_trellis_case)in)), 1, 10);
    }
    for (int kind = 0; kind < CY_CHECK_COUNT; kind++)
        assert_in_range(strlen(cy_check_what((enum cy_trellis_check_kind)kind)), 1, 24);
    for (unsigned note = 1; note <= CY_TRELLIS_LAST_NOTE; note <<= 1) {
        struct cy_text words = {0};
        cy_say_trellis_note(&words, (enum cy_trellis_note)note);
        assert_true(words.length > 10);
        cy_text_dispose(&words);
    }
}

static void json_holds_the_checks_and_why(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_text out = {0};
    struct cy_steps steps = {0};
    struct cy_json json;
    trellis_farm(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    cy_json_begin(&json, &out);
    cy_trellis_json(&json, &steps, plan, 0);
    assert_false(out.failed);
    const char *text = cy_text_get(&out);
    assert_says(text, "\"part\":\"line post\",\"check\":\"hold of soil sideways\"");
    assert_says(text, "\"governs\":true");
    assert_says(text, "\"combination\":\"D + W across, in leaf\"");
    assert_says(text, "\"take_up_m\":");
    assert_says(text, "\"why\":[0");
    assert_true(steps.distinct.count > 10);
    assert_says(text, "\"change\":\"posts closer together\"");
    assert_says(text, "\"cost_per_m\":");
    cy_text_clear(&out);
    cy_json_begin(&json, &out);
    cy_trellis_json(&json, &steps, plan, 7);
    assert_string_equal(cy_text_get(&out), "null");
    cy_steps_dispose(&steps);
    cy_text_dispose(&out);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void the_job_says_which_wire_and_how_much(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_text text = {0};
    trellis_farm(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    struct cy_plan_job job = {.round = 1,
                              .reason = {.kind = CY_REASON_WIRE,
                                         .figure = {day_at("2027-05-09"), day_at("2027-05-18"),
                                                    day_at("2027-05-29"), .never = 0.2},
                                         .height_m = 5 * FT,
                                         .working_n = 190 * LB,
                                         .force_n = 184 * LB,
                                         .length_m = 0.75 * IN,
                                         .wires = 2}};
    cy_say_reason(&text, plan, &job);
    assert_text(&text, "the wire at 5.0 ft has been under its working tension of 190 lbf for a "
                       "week, at 184 lbf, by 18 May; between 9 May and 29 May in 8 years of 10, "
                       "never in 2 years of 10; take up at most 0.75 in of each of 2 wires");
    cy_text_dispose(&text);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_fit_the_page),
        cmocka_unit_test(a_t_or_v_is_drawn_from_its_end),
        cmocka_unit_test(a_row_has_picture_checks_and_cautions),
        cmocka_unit_test(polymer_line_by_its_maker_creeps),
        cmocka_unit_test(what_is_not_known_is_said),
        cmocka_unit_test(the_farm_has_a_line_a_row),
        cmocka_unit_test(parts_have_prices_or_say_so),
        cmocka_unit_test(every_word_is_there),
        cmocka_unit_test(json_holds_the_checks_and_why),
        cmocka_unit_test(the_job_says_which_wire_and_how_much),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
