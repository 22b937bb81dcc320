/* SPDX-License-Identifier: MIT
 * What would put a trellis right, parts and their prices. */
#include "season/trellis_farm.h"

/* Deep posts close together, a hair over their limit in the ground. */
static void sturdy_farm(struct cy_farm *farm, const char *gust)
{
    trellis_farm(farm);
    put(farm, "trellis.wires.post", "square wood");
    put(farm, "trellis.wires.post_size", "5.5 in");
    put(farm, "trellis.wires.post_spacing", "10 ft");
    put(farm, "trellis.wires.post_depth", "3.5 ft");
    put(farm, "trellis.wires.end", "none");
    put(farm, "trellis.wires.end_post_size", "9 in");
    put(farm, "trellis.wires.end_post_depth", "9 ft");
    put(farm, "site.gust", gust);
}

enum field { DEPTH, SIZE, SPACING };

/* The use of the ground where one thing of a frame is another. */
static double use_with(const struct cy_trellis_frame *frame, enum field field, double to)
{
    struct cy_trellis_frame other = *frame;
    if (field == DEPTH)
        other.post_depth_m.value = to;
    else if (field == SIZE)
        other.post_size_m.value = to;
    else
        other.spacing_m.value = to;
    struct cy_trellis_verdict verdict = judged(&other);
    double use = check_of(&verdict, CY_CHECK_POST_GROUND, -1)->use;
    cy_trellis_verdict_dispose(&verdict);
    return use;
}

static void changes_are_as_small_as_will_do(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trellis_fixes fixes;
    sturdy_farm(&farm, "80 mph");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, 0);
    struct cy_trellis_frame frame = frame_of(plan);
    const struct cy_trellis_check *check = &verdict->checks[verdict->governing];
    assert_int_equal(check->kind, CY_CHECK_POST_GROUND);
    assert_true(check->use > 1);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    assert_true(fixes.needed);
    const struct cy_trellis_fix *deeper = &fixes.fixes[CY_FIX_DEEPER];
    const struct cy_trellis_fix *larger = &fixes.fixes[CY_FIX_LARGER];
    const struct cy_trellis_fix *closer = &fixes.fixes[CY_FIX_CLOSER];
    assert_true(deeper->applies && deeper->enough && !deeper->end);
    near(use_with(&frame, DEPTH, deeper->value), 1, 1e-6);
    assert_true(use_with(&frame, DEPTH, deeper->value * 0.999) > 1);
    assert_true(larger->enough && larger->value > frame.post_size_m.value);
    near(use_with(&frame, SIZE, larger->value), 1, 1e-6);
    /* Bays are whole: one fewer would not do. */
    assert_true(closer->enough);
    int bays = (int)(frame.length_m.value / closer->value + 0.5);
    assert_true(closer->use <= 1);
    assert_true(use_with(&frame, SPACING, frame.length_m.value / (bays - 1)) > 1);
    /* A wire more does nothing for the ground, and thicker wire is no matter of posts. */
    assert_true(fixes.fixes[CY_FIX_WIRE].applies && !fixes.fixes[CY_FIX_WIRE].enough);
    near(fixes.fixes[CY_FIX_WIRE].value, 4 * FT, 1e-9);
    assert_false(fixes.fixes[CY_FIX_THICKER].applies);
    assert_false(check_of(verdict, CY_CHECK_POST_GROUND, -1)->use <= deeper->then.use &&
                 deeper->then.use > check->use);
    cy_plan_free(plan);
    put(&farm, "site.gust", "30 mph");
    plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    assert_false(fixes.needed);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void wires_are_helped_by_closer_posts_and_more_wire(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trellis_fixes fixes;
    sturdy_farm(&farm, "70 mph");
    put(&farm, "trellis.wires.post_depth", "9 ft");
    put(&farm, "trellis.wires.post_size", "15 in");
    put(&farm, "trellis.wires.post_spacing", "25 ft");
    put(&farm, "trellis.wires.end_post_size", "19 in");
    put(&farm, "trellis.wires.wire.top.tension", "450 lbf");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, 0);
    assert_true(verdict->checks[verdict->governing].wire >= 0);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    assert_true(fixes.fixes[CY_FIX_THICKER].applies);
    assert_true(fixes.fixes[CY_FIX_WIRE].applies);
    assert_false(fixes.fixes[CY_FIX_DEEPER].applies);
    assert_true(fixes.fixes[CY_FIX_THICKER].use < verdict->checks[verdict->governing].use);
    assert_true(fixes.fixes[CY_FIX_WIRE].use < verdict->checks[verdict->governing].use);
    assert_true(fixes.fixes[CY_FIX_CLOSER].use < verdict->checks[verdict->governing].use);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* A screw by its formula may be larger, as far as it is deep; one that was pulled is what it is; a
 * deadman may be deeper, as far as its table goes. */
static void anchors_are_made_larger_or_deeper(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trellis_fixes fixes;
    struct cy_value unset = {0};
    sturdy_farm(&farm, "20 mph");
    put(&farm, "site.soil", "clay loam");
    put(&farm, "trellis.wires.end", "tie");
    put(&farm, "trellis.wires.tie_angle", "30 deg");
    put(&farm, "trellis.wires.anchor_size", "3 in");
    put(&farm, "trellis.wires.anchor_depth", "6 ft");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, 0);
    assert_int_equal(verdict->checks[verdict->governing].kind, CY_CHECK_ANCHOR);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    const struct cy_trellis_fix *larger = &fixes.fixes[CY_FIX_LARGER];
    assert_true(larger->applies && larger->anchor && larger->enough);
    near(larger->use, 1, 1e-6);
    /* Holding goes with the plate's area. */
    near(larger->value, 3 * IN * sqrt(verdict->checks[verdict->governing].use), 1e-6);
    assert_false(fixes.fixes[CY_FIX_DEEPER].applies);
    cy_plan_free(plan);
    put(&farm, "trellis.wires.anchor_holds", "300 lbf");
    plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    assert_false(fixes.fixes[CY_FIX_LARGER].applies);
    cy_plan_free(plan);
    const struct cy_thing *trellis = cy_farm_by_key(&farm, CY_KIND_TRELLIS, 0, "wires");
    assert_int_equal(cy_farm_set(&farm, trellis->id, CY_TRELLIS_ANCHOR_HOLDS, &unset), CY_OK);
    put(&farm, "trellis.wires.anchor", "deadman");
    put(&farm, "trellis.wires.anchor_depth", "3 ft");
    put(&farm, "trellis.wires.anchor_length", "2 ft");
    plan = plan_of(&farm, TODAY, 2027);
    verdict = cy_trellis_of(plan, 0);
    /* TM 5-5420-278-10, table 9: 3 ft deep, between 950 and 1300 lb/ft2 from 45 to 26.5 degrees; 1
     * ft of its 2 is the tie's trench. */
    double psf = check_of(verdict, CY_CHECK_ANCHOR, -1)->capacity * 2 / (0.25 * LB);
    assert_true(psf > 950 && psf < 1300);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    assert_true(fixes.fixes[CY_FIX_DEEPER].applies && fixes.fixes[CY_FIX_DEEPER].value > 3 * FT);
    assert_true(fixes.fixes[CY_FIX_DEEPER].use < verdict->checks[verdict->governing].use);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- prices -----------------------------------------------------------------------------------
 */

static void nothing_is_cheapest_before_the_prices_are_the_growers(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trellis_fixes fixes;
    sturdy_farm(&farm, "80 mph");
    ADD(&farm, PART, "post", PLACEHOLDER, "what", "square post", "price", "$10");
    ADD(&farm, PART, "staple", PLACEHOLDER, "what", "staple", "price", "$0.05");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    assert_int_equal(fixes.cheapest, -1);
    assert_true(isnan(fixes.fixes[CY_FIX_DEEPER].cost));
    cy_plan_free(plan);
    /* One price typed is not all of them: closer posts want staples too. */
    put(&farm, "part.post.price", "$10");
    plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    assert_int_equal(fixes.cheapest, -1);
    near(fixes.fixes[CY_FIX_DEEPER].cost, 9 * 10, 1e-9); /* 100 ft of 10 ft bays: nine new posts */
    assert_true(isnan(fixes.fixes[CY_FIX_CLOSER].cost));
    cy_plan_free(plan);
    put(&farm, "part.staple.price", "$0.05");
    plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(cy_trellis_fixes_of(&fixes, plan, 0), CY_OK);
    const struct cy_trellis_fix *closer = &fixes.fixes[CY_FIX_CLOSER];
    int more = (int)(cy_trellis_of(plan, 0)->bay_m * 10 / closer->value + 0.5) - 10;
    near(closer->cost, more * 10 + 2 * more * 0.05, 1e-9); /* a staple a wire and post */
    assert_true(fixes.cheapest >= 0);
    for (int i = 0; i < CY_FIX_COUNT; i++)
        if (fixes.fixes[i].applies && fixes.fixes[i].enough)
            assert_true(fixes.fixes[fixes.cheapest].cost <= fixes.fixes[i].cost);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static const struct cy_parts_line *line_of(const struct cy_parts_list *list, enum cy_part_kind kind)
{
    for (int i = 0; i < list->count; i++)
        if (list->lines[i].kind == kind)
            return &list->lines[i];
    fail_msg("no line of kind %d", (int)kind);
    return NULL;
}

/* A row of 200 ft, posts 25 ft apart, 3 wires: 7 line posts, 2 end posts, 655.2 ft of wire of 17.2
 * lb, 39 staples, 3 strainers, 12 crimps (case of the reference). */
static void parts_are_counted_as_published(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_parts_list list;
    trellis_farm(&farm);
    put(&farm, "row.a.length", "200 ft");
    put(&farm, "trellis.wires.end_post_depth", "3 ft");
    add_wire(&farm, "wires", "middle", "4 ft", "225 lbf", "60 F");
    ADD(&farm, PART, "wire", GROWER, "what", "high-tensile wire", "price_by_length", "$0.05/ft");
    ADD(&farm, PART, "short", GROWER, "what", "round post", "width", "4 in", "length", "6 ft",
        "price", "$1");
    ADD(&farm, PART, "thin", GROWER, "what", "round post", "width", "3 in", "length", "8 ft",
        "price", "$1");
    ADD(&farm, PART, "fit", GROWER, "what", "round post", "width", "4 in", "length", "8 ft",
        "price", "$9");
    ADD(&farm, PART, "dear", GROWER, "what", "round post", "width", "6 in", "length", "10 ft",
        "price", "$25");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_true(cy_parts_of_row(&list, plan, 0));
    assert_int_equal((int)list.lines[0].amount, 7);
    assert_string_equal(list.lines[0].part->key, "fit"); /* long and wide enough, and cheaper */
    assert_int_equal((int)list.lines[1].amount, 2);
    assert_string_equal(list.lines[1].part->key, "dear");
    const struct cy_parts_line *wire = line_of(&list, CY_PART_HIGH_TENSILE);
    near(wire->amount, 655.2 * FT, 1e-3); /* our wrap is 1.22 m, not 4 ft */
    near(list.wire_kg, 17.2 * 0.45359237, 5e-3);
    near(wire->cost, 0.05 / FT * wire->amount, 1e-9);
    assert_int_equal((int)line_of(&list, CY_PART_STAPLE)->amount, 39);
    assert_int_equal((int)line_of(&list, CY_PART_STRAINER)->amount, 3);
    assert_int_equal((int)line_of(&list, CY_PART_CRIMP)->amount, 12);
    assert_int_equal((int)line_of(&list, CY_PART_ANCHOR)->amount, 2);
    near(list.cost, 7 * 9 + 2 * 25 + wire->cost, 1e-9);
    assert_true(list.unpriced > 0 && isnan(line_of(&list, CY_PART_STAPLE)->cost));
    struct cy_parts_list both, other;
    cy_parts_of_farm(&both, plan);
    assert_true(cy_parts_of_row(&other, plan, 1));
    near(both.cost, list.cost + other.cost, 1e-9);
    near(both.row_m, 350 * FT, 1e-9);
    assert_int_equal(both.rows, 2);
    cy_plan_free(plan);
    /* A dearer price of the grower's own comes before a lent one. */
    ADD(&farm, PART, "lent", PLACEHOLDER, "what", "round post", "price", "$2");
    plan = plan_of(&farm, TODAY, 2027);
    assert_true(cy_parts_of_row(&list, plan, 0));
    assert_string_equal(list.lines[0].part->key, "fit");
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void forms_and_ends_have_their_parts(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_parts_list list;
    trellis_farm(&farm);
    add_wire(&farm, "wires", "low-2", "3 ft", "200 lbf", "60 F");
    add_wire(&farm, "wires", "top-2", "5 ft", "225 lbf", "60 F");
    put(&farm, "trellis.wires.form", "T");
    put(&farm, "trellis.wires.end", "h");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_true(cy_parts_of_row(&list, plan, 0));
    assert_int_equal((int)line_of(&list, CY_PART_ARM)->amount, 10); /* 2 levels, 3 + 2 posts */
    assert_int_equal((int)line_of(&list, CY_PART_RAIL)->amount, 2);
    assert_int_equal((int)list.lines[1].amount, 4);
    assert_false(check_of(cy_trellis_of(plan, 0), CY_CHECK_ARM, -1)->refusal);
    cy_plan_free(plan);
    put(&farm, "trellis.wires.form", "V");
    put(&farm, "trellis.wires.end", "slant");
    put(&farm, "trellis.wires.post", "steel tee");
    plan = plan_of(&farm, TODAY, 2027);
    assert_true(cy_parts_of_row(&list, plan, 0));
    assert_int_equal(list.lines[0].kind, CY_PART_TEE_POST);
    assert_int_equal((int)list.lines[0].amount, 6); /* in pairs */
    assert_int_equal((int)line_of(&list, CY_PART_STRUT)->amount, 2);
    assert_true(line_of(&list, CY_PART_CLIP)->amount > 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(changes_are_as_small_as_will_do),
        cmocka_unit_test(wires_are_helped_by_closer_posts_and_more_wire),
        cmocka_unit_test(anchors_are_made_larger_or_deeper),
        cmocka_unit_test(nothing_is_cheapest_before_the_prices_are_the_growers),
        cmocka_unit_test(parts_are_counted_as_published),
        cmocka_unit_test(forms_and_ends_have_their_parts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
