/* SPDX-License-Identifier: MIT
 * Steps change a farm or leave it as it was; reversed, they bring back what was there. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/base/random.h>
#include <caneyear/season/edit.h>

/* ---- a farm and what is lent to it ---------------------------------------------------------- */

static struct cy_farm catalogue, farm;

static struct cy_value parsed(enum cy_field field, const char *text)
{
    struct cy_value value;
    assert_int_equal(cy_value_parse(&value, field, text, strlen(text), NULL), CY_OK);
    return value;
}

static void put(struct cy_farm *to, int64_t id, enum cy_field field, const char *text)
{
    struct cy_value value = parsed(field, text);
    assert_int_equal(cy_farm_set(to, id, field, &value), CY_OK);
    cy_value_dispose(&value);
}

static int64_t add(struct cy_farm *to, enum cy_kind kind, int64_t parent, const char *key)
{
    struct cy_thing *thing = cy_farm_add(to, kind, parent, key, NULL, 0);
    assert_non_null(thing);
    return thing->id;
}

/* Made numbers: nothing is computed from them here. */
static void make_catalogue(void)
{
    assert_int_equal(cy_farm_init(&catalogue), CY_OK);
    int64_t home = add(&catalogue, CY_KIND_PLACE, 0, "home");
    put(&catalogue, home, CY_PLACE_LATITUDE, "36");
    put(&catalogue, home, CY_PLACE_LONGITUDE, "-80");
    for (int i = 0; i < 12; i++) {
        int64_t month = add(&catalogue, CY_KIND_MONTH, home, NULL);
        put(&catalogue, month, CY_MONTH_LOW, "1 C");
        put(&catalogue, month, CY_MONTH_HIGH, "11 C");
        put(&catalogue, month, CY_MONTH_RAIN, "80 mm");
    }
    int64_t one = add(&catalogue, CY_KIND_CULTIVAR, 0, "one");
    put(&catalogue, one, CY_CULTIVAR_NAME, "One");
    put(&catalogue, one, CY_CULTIVAR_HABIT, "erect");
    add(&catalogue, CY_KIND_CULTIVAR, 0, "two");
}

static int64_t row(const char *key)
{
    const struct cy_thing *thing = cy_farm_by_key(&farm, CY_KIND_ROW, 0, key);
    assert_non_null(thing);
    return thing->id;
}

static int set_up(void **state)
{
    (void)state;
    make_catalogue();
    assert_int_equal(cy_farm_init(&farm), CY_OK);
    put(&farm, cy_farm_one(&farm, CY_KIND_SITE)->id, CY_SITE_PLACE, "home");
    int64_t tall = add(&farm, CY_KIND_TRELLIS, 0, "tall");
    put(&farm, add(&farm, CY_KIND_WIRE, tall, "top"), CY_WIRE_HEIGHT, "5 ft");
    put(&farm, add(&farm, CY_KIND_WIRE, tall, "low"), CY_WIRE_HEIGHT, "3 ft");
    const char *const keys[] = {"a", "b", "c"};
    for (int i = 0; i < 3; i++) {
        int64_t id = add(&farm, CY_KIND_ROW, 0, keys[i]);
        put(&farm, id, CY_ROW_LENGTH, "100 ft");
        put(&farm, id, CY_ROW_CULTIVAR, i ? "one" : "two");
        put(&farm, id, CY_ROW_TRELLIS, "tall");
    }
    int64_t note = add(&farm, CY_KIND_SEEN, 0, "note-1");
    put(&farm, note, CY_SEEN_DAY, "2027-05-01");
    put(&farm, note, CY_SEEN_ROW, "b");
    put(&farm, note, CY_SEEN_WHAT, "full bloom");
    assert_int_equal(cy_farm_lend(&farm, &catalogue), CY_OK);
    assert_int_equal(cy_farm_check(&farm, NULL), CY_OK);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    cy_farm_dispose(&farm);
    cy_farm_dispose(&catalogue);
    return 0;
}

/* ---- comparing whole farms ------------------------------------------------------------------ */

static void assert_same_farm(const struct cy_farm *a, const struct cy_farm *b)
{
    assert_int_equal(a->count, b->count);
    for (size_t i = 0; i < a->count; i++) {
        const struct cy_thing *left = a->things[i], *right = b->things[i];
        assert_int_equal(left->id, right->id);
        assert_int_equal(left->kind, right->kind);
        assert_int_equal(left->parent, right->parent);
        assert_int_equal(left->order, right->order);
        assert_string_equal(left->key, right->key);
        assert_int_equal(left->catalogue, right->catalogue);
        assert_int_equal(left->retired, right->retired);
        for (int f = 0; f < cy_kind_info(left->kind)->field_count; f++)
            assert_true(cy_value_equal(&left->values[f], &right->values[f]));
    }
}

static struct cy_farm copy_of(const struct cy_farm *from)
{
    struct cy_farm copy;
    assert_int_equal(cy_farm_copy(&copy, from), CY_OK);
    return copy;
}

/* Applies a step, or expects it to be refused and to leave no trace. */
static void apply(const struct cy_step *step)
{
    struct cy_issues issues = {0};
    int status = cy_step_apply_lent(&farm, step, &catalogue, false, &issues);
    for (size_t i = 0; i < issues.count; i++)
        print_error("issue %d, %s %s: found \"%s\", allowed \"%s\"\n", (int)issues.items[i].code,
                    issues.items[i].thing, issues.items[i].field, issues.items[i].found,
                    issues.items[i].allowed);
    assert_int_equal(status, CY_OK);
}

static struct cy_issue refused(const struct cy_step *step)
{
    struct cy_issues issues = {0};
    struct cy_farm before = copy_of(&farm);
    assert_int_equal(cy_step_apply_lent(&farm, step, &catalogue, false, &issues), CY_INVALID);
    assert_same_farm(&farm, &before);
    assert_int_equal(farm.next_id, before.next_id);
    cy_farm_dispose(&before);
    assert_true(issues.count > 0);
    return issues.items[0];
}

/* Applies a step and then its reverse, which must bring back what there was. */
static void apply_and_back(struct cy_step *step)
{
    struct cy_step back;
    struct cy_farm before = copy_of(&farm), after;
    apply(step);
    after = copy_of(&farm);
    step->id = 7;
    assert_int_equal(cy_step_reverse(&back, step), CY_OK);
    assert_int_equal(back.reverses, 7);
    apply(&back);
    assert_same_farm(&farm, &before);
    step->id = 0;
    apply(step);
    assert_same_farm(&farm, &after);
    cy_step_dispose(&back);
    cy_farm_dispose(&before);
    cy_farm_dispose(&after);
}

static void build_set(struct cy_step *step, int64_t id, enum cy_field field, const char *text)
{
    struct cy_value value = {0};
    if (text)
        value = parsed(field, text);
    assert_int_equal(cy_step_set(step, &farm, id, field, &value), CY_OK);
    cy_value_dispose(&value);
}

/* ---- setting -------------------------------------------------------------------------------- */

static void a_field_is_set_and_set_back(void **state)
{
    (void)state;
    struct cy_step step = {0};
    build_set(&step, row("a"), CY_ROW_SPACING, "4 ft");
    build_set(&step, row("a"), CY_ROW_LENGTH, "90 ft");
    build_set(&step, row("a"), CY_ROW_LENGTH, "80 ft"); /* what the step itself set is replaced */
    build_set(&step, row("a"), CY_ROW_TRELLIS, NULL);
    build_set(&step, row("a"), CY_ROW_ZONE, NULL); /* no change at all */
    assert_int_equal(step.count, 4);
    assert_true(step.edits[2].before.number > step.edits[2].after.number);
    apply_and_back(&step);
    assert_true(fabs(cy_number(cy_farm_by_id(&farm, row("a")), CY_ROW_LENGTH) - 80 * 0.3048) <
                1e-12);
    cy_step_dispose(&step);
}

static void a_clash_names_both_values(void **state)
{
    (void)state;
    struct cy_step mine = {0}, theirs = {0};
    build_set(&mine, row("b"), CY_ROW_NAME, "whole");
    build_set(&mine, row("a"), CY_ROW_LENGTH, "90 ft");
    build_set(&theirs, row("a"), CY_ROW_LENGTH, "70 ft");
    apply(&theirs);
    struct cy_issue issue = refused(&mine);
    assert_int_equal(issue.code, CY_ISSUE_CLASH);
    assert_string_equal(issue.thing, "row a");
    assert_string_equal(issue.field, "length");
    assert_int_equal(issue.field_id, CY_ROW_LENGTH);
    assert_string_equal(issue.found, "70 ft");
    assert_string_equal(issue.allowed, "100 ft");
    cy_step_dispose(&mine);
    cy_step_dispose(&theirs);
}

static void a_field_of_a_thing_that_went_is_a_clash(void **state)
{
    (void)state;
    struct cy_step mine = {0}, theirs = {0};
    build_set(&mine, row("a"), CY_ROW_NAME, "gone");
    assert_int_equal(cy_step_remove(&theirs, &farm, row("a"), NULL), CY_OK);
    apply(&theirs);
    struct cy_issue issue = refused(&mine);
    assert_int_equal(issue.code, CY_ISSUE_CLASH);
    assert_string_equal(issue.found, "nothing");
    cy_step_dispose(&mine);
    cy_step_dispose(&theirs);
}

static void values_out_of_range_are_refused(void **state)
{
    (void)state;
    struct cy_step step = {0};
    struct cy_value long_row = {.set = true, .number = 5000, .basis = CY_BASIS_GROWER};
    assert_int_equal(cy_step_set(&step, &farm, row("a"), CY_ROW_LENGTH, &long_row), CY_INVALID);
    assert_int_equal(cy_step_set(&step, &farm, row("a"), CY_SITE_SLOPE, &long_row), CY_INVALID);
    assert_int_equal(cy_step_set(&step, &farm, 99999, CY_ROW_LENGTH, &long_row), CY_INVALID);
    assert_int_equal(step.count, 0);
    build_set(&step, row("a"), CY_ROW_LENGTH, "90 ft");
    step.edits[0].after.number = 5000; /* as a step from elsewhere may bring */
    assert_int_equal(refused(&step).code, CY_ISSUE_OUT_OF_RANGE);
    cy_step_dispose(&step);
}

static void values_fit_the_table_or_not(void **state)
{
    (void)state;
    struct cy_value value = {.set = true, .number = 201};
    assert_true(cy_value_fits(CY_PRACTICE_TIP_CUTOFF, &value));
    value.number = 230; /* 30 February */
    assert_false(cy_value_fits(CY_PRACTICE_TIP_CUTOFF, &value));
    assert_false(cy_value_fits(CY_ROW_PLANTED, &(struct cy_value){.set = true, .number = 1e8}));
    assert_true(cy_value_fits(CY_ROW_PLANTED, &(struct cy_value){.set = true, .number = 20000}));
    value.number = NAN;
    assert_false(cy_value_fits(CY_ROW_LENGTH, &value));
    value.number = 2.5;
    assert_false(cy_value_fits(CY_ROW_MISSING, &value));
    value.number = 99;
    assert_false(cy_value_fits(CY_ROW_STOCK, &value));
    assert_false(cy_value_fits(CY_ROW_NAME, &value)); /* no text */
    char bad[] = "\x1b[2J", key[] = "North 1";
    assert_false(cy_value_fits(CY_ROW_NAME, &(struct cy_value){.set = true, .text = bad}));
    assert_false(cy_value_fits(CY_ROW_ZONE, &(struct cy_value){.set = true, .text = key}));
    assert_true(cy_value_fits(CY_ROW_NAME, &(struct cy_value){.set = true, .text = key}));
    assert_false(
        cy_value_fits(CY_ROW_LENGTH, &(struct cy_value){.set = true, .number = 9, .source = bad}));
}

static void paired_values_change_together(void **state)
{
    (void)state;
    struct cy_step alone = {0}, both = {0};
    int64_t id;
    /* A practice whose ceiling is below the height of tipping fails the check of the whole. */
    assert_int_equal(cy_step_add(&both, &farm, CY_KIND_PRACTICE, 0, "tall", NULL, &id), CY_OK);
    apply(&both);
    cy_step_dispose(&both);
    build_set(&alone, id, CY_PRACTICE_TIP_HEIGHT, "6 ft");
    assert_int_equal(refused(&alone).code, CY_ISSUE_PAIR);
    build_set(&both, id, CY_PRACTICE_TIP_HEIGHT, "6 ft");
    build_set(&both, id, CY_PRACTICE_TIP_CEILING, "7 ft");
    apply_and_back(&both);
    cy_step_dispose(&alone);
    cy_step_dispose(&both);
}

static void records_are_not_edited(void **state)
{
    (void)state;
    struct cy_step step = {0};
    struct cy_value value = parsed(CY_SEEN_DAY, "2027-05-02");
    int64_t note = cy_farm_by_key(&farm, CY_KIND_SEEN, 0, "note-1")->id;
    assert_int_equal(cy_step_set(&step, &farm, note, CY_SEEN_DAY, &value), CY_INVALID);
    assert_int_equal(cy_step_remove(&step, &farm, note, NULL), CY_INVALID);
    assert_int_equal(cy_step_add(&step, &farm, CY_KIND_SEEN, 0, NULL, NULL, NULL), CY_INVALID);
    assert_int_equal(step.count, 0);
    /* Nor by a step that was forged. */
    struct cy_edit forged = {.op = CY_OP_REMOVE, .kind = CY_KIND_SEEN, .thing = note};
    struct cy_step bad = {.edits = &forged, .count = 1};
    assert_int_equal(cy_step_apply(&farm, &bad, false, NULL), CY_INVALID);
    forged.op = CY_OP_SET;
    forged.field = CY_SEEN_DAY;
    forged.kind = CY_KIND_ROW;
    assert_int_equal(cy_step_apply(&farm, &bad, true, NULL), CY_INVALID);
    assert_non_null(cy_farm_by_id(&farm, note));
}

/* ---- adding and removing -------------------------------------------------------------------- */

static void things_are_added_with_their_children(void **state)
{
    (void)state;
    struct cy_step step = {0};
    int64_t trellis, wire, other, made;
    struct cy_value name = parsed(CY_TRELLIS_NAME, "Low and wide");
    struct cy_value values[64] = {0};
    values[CY_TRELLIS_NAME - cy_kind_info(CY_KIND_TRELLIS)->first_field] = name;
    assert_int_equal(cy_step_add(&step, &farm, CY_KIND_TRELLIS, 0, NULL, values, &trellis), CY_OK);
    assert_int_equal(cy_step_add(&step, &farm, CY_KIND_WIRE, trellis, NULL, NULL, &wire), CY_OK);
    assert_int_equal(cy_step_add(&step, &farm, CY_KIND_WIRE, trellis, NULL, NULL, &other), CY_OK);
    build_set(&step, wire, CY_WIRE_HEIGHT, "2 ft");
    assert_int_equal(cy_step_add(&step, &farm, CY_KIND_TRELLIS, 0, NULL, values, &made), CY_OK);
    assert_true(wire == trellis + 1 && other == wire + 1 && made == other + 1);
    apply_and_back(&step);
    assert_string_equal(cy_farm_by_id(&farm, trellis)->key, "low-and-wide");
    assert_string_equal(cy_farm_by_id(&farm, made)->key, "low-and-wide-2");
    assert_string_equal(cy_farm_by_id(&farm, wire)->key, "wire-1");
    assert_string_equal(cy_farm_by_id(&farm, other)->key, "wire-2");
    cy_step_dispose(&step);
    cy_value_dispose(&name);
}

static void a_key_that_another_took_is_a_clash(void **state)
{
    (void)state;
    struct cy_step step = {0};
    assert_int_equal(cy_step_add(&step, &farm, CY_KIND_TRELLIS, 0, "tall", NULL, NULL), CY_OK);
    struct cy_issue issue = refused(&step);
    assert_int_equal(issue.code, CY_ISSUE_CLASH);
    assert_string_equal(issue.found, "tall");
    cy_step_dispose(&step);
}

static void what_others_refer_to_stays(void **state)
{
    (void)state;
    struct cy_step step = {0};
    struct cy_issues issues = {0};
    int64_t tall = cy_farm_by_key(&farm, CY_KIND_TRELLIS, 0, "tall")->id;
    assert_int_equal(cy_step_remove(&step, &farm, tall, &issues), CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_IN_USE);
    assert_string_equal(issues.items[0].thing, "trellis tall");
    assert_string_equal(issues.items[0].found, "row a");
    /* Taken from the rows in the same step, it can go, wires and all, and come back. */
    for (int i = 0; i < 3; i++)
        build_set(&step, row((const char *[]){"a", "b", "c"}[i]), CY_ROW_TRELLIS, NULL);
    apply(&step);
    cy_step_dispose(&step);
    assert_int_equal(cy_step_remove(&step, &farm, tall, &issues), CY_OK);
    apply_and_back(&step);
    assert_null(cy_farm_by_id(&farm, tall));
    cy_step_dispose(&step);
}

static void a_thing_comes_back_to_its_place(void **state)
{
    (void)state;
    struct cy_step step = {0};
    assert_int_equal(cy_step_remove(&step, &farm, row("a"), NULL), CY_OK);
    apply_and_back(&step);
    assert_null(cy_farm_by_key(&farm, CY_KIND_ROW, 0, "a"));
    cy_step_dispose(&step);
}

static void a_row_with_records_retires(void **state)
{
    (void)state;
    struct cy_step step = {0};
    int64_t b = row("b");
    assert_int_equal(cy_step_remove(&step, &farm, b, NULL), CY_OK);
    assert_int_equal(step.count, 1);
    assert_int_equal(step.edits[0].op, CY_OP_RETIRE);
    apply_and_back(&step);
    assert_true(cy_farm_by_id(&farm, b)->retired);
    assert_string_equal(cy_string(cy_farm_by_id(&farm, b), CY_ROW_CULTIVAR), "one");
    cy_step_dispose(&step);
    /* Removing it again changes nothing. */
    assert_int_equal(cy_step_remove(&step, &farm, b, NULL), CY_OK);
    assert_int_equal(step.count, 0);
}

static void taking_back_an_addition_spares_what_records_speak_of(void **state)
{
    (void)state;
    struct cy_step step = {0}, back;
    struct cy_value values[64] = {0};
    int first = cy_kind_info(CY_KIND_ROW)->first_field;
    int64_t d, e;
    values[CY_ROW_LENGTH - first] = parsed(CY_ROW_LENGTH, "50 ft");
    values[CY_ROW_CULTIVAR - first] = parsed(CY_ROW_CULTIVAR, "one");
    assert_int_equal(cy_step_add(&step, &farm, CY_KIND_ROW, 0, "d", values, &d), CY_OK);
    assert_int_equal(cy_step_add(&step, &farm, CY_KIND_ROW, 0, "e", values, &e), CY_OK);
    apply(&step);
    int64_t work = add(&farm, CY_KIND_DONE, 0, NULL);
    put(&farm, work, CY_DONE_DAY, "2027-05-02");
    put(&farm, work, CY_DONE_ROW, "d");
    put(&farm, work, CY_DONE_TEXT, "weeded");
    assert_int_equal(cy_step_reverse(&back, &step), CY_OK);
    assert_int_equal(cy_step_spare(&back, &farm), CY_OK);
    apply(&back);
    assert_true(cy_farm_by_id(&farm, d)->retired);
    assert_true(cy_number(cy_farm_by_id(&farm, d), CY_ROW_LENGTH) > 0);
    assert_null(cy_farm_by_id(&farm, e));
    cy_step_dispose(&step);
    assert_int_equal(cy_step_reverse(&step, &back), CY_OK);
    apply(&step);
    assert_false(cy_farm_by_id(&farm, d)->retired);
    cy_step_dispose(&step);
    cy_step_dispose(&back);
    cy_value_dispose(&values[CY_ROW_CULTIVAR - first]);
}

/* ---- what is lent --------------------------------------------------------------------------- */

static void setting_a_lent_cultivar_makes_it_the_farms_own(void **state)
{
    (void)state;
    struct cy_step step = {0}, back;
    struct cy_farm before = copy_of(&farm);
    int64_t lent = cy_farm_by_key(&farm, CY_KIND_CULTIVAR, 0, "one")->id;
    build_set(&step, lent, CY_CULTIVAR_NAME, "My One");
    build_set(&step, lent, CY_CULTIVAR_THORNS, "thornless");
    assert_int_equal(step.count, 3); /* one thing, two fields */
    apply(&step);
    const struct cy_thing *own = cy_farm_by_key(&farm, CY_KIND_CULTIVAR, 0, "one");
    assert_false(own->catalogue);
    assert_true(own->id < CY_LENT_ID);
    assert_string_equal(cy_string(own, CY_CULTIVAR_NAME), "My One");
    /* What it does not say itself is still filled from the catalogue. */
    assert_int_equal(
        cy_choice(own, CY_CULTIVAR_HABIT),
        cy_choice(cy_farm_by_key(&catalogue, CY_KIND_CULTIVAR, 0, "one"), CY_CULTIVAR_HABIT));
    assert_int_equal(cy_step_reverse(&back, &step), CY_OK);
    apply(&back);
    assert_same_farm(&farm, &before);
    cy_step_dispose(&step);
    cy_step_dispose(&back);
    cy_farm_dispose(&before);
}

static void emptying_an_own_field_lets_the_catalogue_fill_it(void **state)
{
    (void)state;
    struct cy_step step = {0};
    build_set(&step, cy_farm_by_key(&farm, CY_KIND_CULTIVAR, 0, "one")->id, CY_CULTIVAR_NAME,
              "Mine");
    apply(&step);
    cy_step_dispose(&step);
    int64_t own = cy_farm_by_key(&farm, CY_KIND_CULTIVAR, 0, "one")->id;
    build_set(&step, own, CY_CULTIVAR_NAME, NULL);
    apply_and_back(&step);
    assert_string_equal(cy_string(cy_farm_by_id(&farm, own), CY_CULTIVAR_NAME), "One");
    cy_step_dispose(&step);
    /* Removed although rows refer to it: the lent one comes to light and takes over. */
    assert_int_equal(cy_step_remove(&step, &farm, own, NULL), CY_OK);
    apply_and_back(&step);
    assert_true(cy_farm_by_key(&farm, CY_KIND_CULTIVAR, 0, "one")->catalogue);
    cy_step_dispose(&step);
}

static void a_lent_month_brings_its_year(void **state)
{
    (void)state;
    struct cy_step step = {0};
    const struct cy_thing *home = cy_farm_by_key(&farm, CY_KIND_PLACE, 0, "home");
    int64_t june = cy_farm_by_key(&farm, CY_KIND_MONTH, home->id, "jun")->id;
    build_set(&step, june, CY_MONTH_RAIN, "20 mm");
    apply_and_back(&step);
    home = cy_farm_by_key(&farm, CY_KIND_PLACE, 0, "home");
    assert_false(home->catalogue);
    assert_int_equal(cy_farm_count(&farm, CY_KIND_MONTH, home->id), 12);
    const struct cy_thing *month = cy_farm_by_key(&farm, CY_KIND_MONTH, home->id, "jul");
    assert_false(month->catalogue);
    assert_true(cy_number(month, CY_MONTH_RAIN) > 0);
    cy_step_dispose(&step);
}

static void what_is_lent_is_not_removed(void **state)
{
    (void)state;
    struct cy_step step = {0};
    struct cy_issues issues = {0};
    int64_t two = cy_farm_by_key(&farm, CY_KIND_CULTIVAR, 0, "two")->id;
    assert_int_equal(cy_step_remove(&step, &farm, two, &issues), CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_IN_USE);
    assert_int_equal(step.count, 0);
}

static void a_faulty_farm_is_mended_one_by_one(void **state)
{
    (void)state;
    struct cy_step mend = {0}, worsen = {0}, other = {0};
    put(&farm, row("a"), CY_ROW_CULTIVAR, "three");
    put(&farm, row("b"), CY_ROW_CULTIVAR, "three");
    assert_int_equal(cy_farm_check(&farm, NULL), CY_INVALID);
    build_set(&worsen, row("c"), CY_ROW_CULTIVAR, "three");
    assert_int_equal(refused(&worsen).code, CY_ISSUE_BAD_REFERENCE);
    build_set(&other, row("c"), CY_ROW_LENGTH, "60 ft");
    apply(&other);
    build_set(&mend, row("a"), CY_ROW_CULTIVAR, "one");
    apply(&mend);
    assert_string_equal(cy_string(cy_farm_by_id(&farm, row("a")), CY_ROW_CULTIVAR), "one");
    cy_step_dispose(&mend);
    cy_step_dispose(&worsen);
    cy_step_dispose(&other);
}

/* ---- differences ---------------------------------------------------------------------------- */

/* The keys of the rows, joined, retired ones in brackets. */
static void print_rows(struct cy_text *text, const struct cy_farm *of)
{
    for (size_t i = 0; i < of->count; i++)
        if (of->things[i]->kind == CY_KIND_ROW) {
            cy_text_add(text, of->things[i]->retired ? "(" : "");
            cy_text_add(text, of->things[i]->key);
            cy_text_add(text, of->things[i]->retired ? ")" : "");
        }
}

static void assert_rows(const char *expected)
{
    struct cy_text rows = {0};
    print_rows(&rows, &farm);
    assert_string_equal(cy_text_get(&rows), expected);
    cy_text_dispose(&rows);
}

/* A wanted farm that has these rows in this order, each as the farm has it or new. */
static struct cy_farm with_rows(const char *keys)
{
    struct cy_farm wanted = copy_of(&farm);
    for (size_t i = farm.count; i > 0; i--)
        if (farm.things[i - 1]->kind == CY_KIND_ROW)
            cy_farm_remove(&wanted, farm.things[i - 1]->id);
    for (; *keys; keys++) {
        const char key[] = {*keys, '\0'};
        const struct cy_thing *there = cy_farm_by_key(&farm, CY_KIND_ROW, 0, key);
        int64_t id = add(&wanted, CY_KIND_ROW, 0, key);
        if (there)
            for (int f = 0; f < cy_kind_info(CY_KIND_ROW)->field_count; f++)
                cy_farm_set(&wanted, id,
                            (enum cy_field)(cy_kind_info(CY_KIND_ROW)->first_field + f),
                            &there->values[f]);
        else
            put(&wanted, id, CY_ROW_CULTIVAR, "two"), put(&wanted, id, CY_ROW_LENGTH, "10 ft");
    }
    return wanted;
}

static void rows_come_into_the_wanted_order(void **state)
{
    (void)state;
    /* b has a record: it is never gone. */
    static const struct {
        const char *wanted, *rows;
        size_t edits;
    } cases[] = {
        {"abc", "abc", 0}, {"abcd", "abcd", 3}, {"dabc", "dabc", 3},      {"adebc", "adebc", 6},
        {"bac", "bac", 8}, {"cba", "cba", 16},  {"xcybza", "xcybza", 25}, {"ac", "a(b)c", 1},
        {"", "(b)", 9},    {"cb", "cb", 12},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_step step = {0}, back;
        struct cy_farm wanted = with_rows(cases[i].wanted), before = copy_of(&farm);
        assert_int_equal(cy_step_difference(&step, &farm, &wanted), CY_OK);
        apply(&step);
        assert_rows(cases[i].rows);
        if (step.count != cases[i].edits)
            print_message("%s: %zu edits\n", cases[i].wanted, step.count);
        assert_int_equal(step.count, cases[i].edits);
        assert_int_equal(cy_step_reverse(&back, &step), CY_OK);
        assert_int_equal(cy_step_spare(&back, &farm), CY_OK);
        apply(&back);
        assert_same_farm(&farm, &before);
        cy_step_dispose(&step);
        cy_step_dispose(&back);
        cy_farm_dispose(&wanted);
        cy_farm_dispose(&before);
    }
}

static void children_and_values_are_compared(void **state)
{
    (void)state;
    struct cy_step step = {0}, again = {0};
    struct cy_farm wanted = copy_of(&farm);
    int64_t tall = cy_farm_by_key(&wanted, CY_KIND_TRELLIS, 0, "tall")->id;
    cy_farm_remove(&wanted, cy_farm_by_key(&wanted, CY_KIND_WIRE, tall, "top")->id);
    put(&wanted, add(&wanted, CY_KIND_WIRE, tall, "middle"), CY_WIRE_HEIGHT, "4 ft");
    int64_t low = add(&wanted, CY_KIND_TRELLIS, 0, "low");
    put(&wanted, add(&wanted, CY_KIND_WIRE, low, "only"), CY_WIRE_HEIGHT, "2 ft");
    put(&wanted, cy_farm_one(&wanted, CY_KIND_FARM)->id, CY_FARM_NAME, "Ours");
    put(&wanted, row("a"), CY_ROW_TRELLIS, "low");
    assert_int_equal(cy_step_difference(&step, &farm, &wanted), CY_OK);
    apply_and_back(&step);
    assert_int_equal(cy_step_difference(&again, &farm, &wanted), CY_OK);
    assert_int_equal(again.count, 0);
    cy_step_dispose(&step);
    cy_farm_dispose(&wanted);
}

static void a_farm_is_made_from_nothing(void **state)
{
    (void)state;
    struct cy_step step = {0};
    struct cy_farm made = {.next_id = 1, .next_lent_id = CY_LENT_ID};
    assert_int_equal(cy_step_difference(&step, &made, &farm), CY_OK);
    assert_int_equal(cy_step_apply_lent(&made, &step, &catalogue, true, NULL), CY_OK);
    assert_int_equal(cy_farm_check(&made, NULL), CY_OK);
    cy_step_dispose(&step);
    assert_int_equal(cy_step_difference(&step, &made, &farm), CY_OK);
    assert_int_equal(step.count, 0);
    cy_farm_dispose(&made);
}

/* ---- any steps at all ----------------------------------------------------------------------- */

static int below(struct cy_random *random, int count)
{
    return (int)(cy_random_uniform(random) * count);
}

static void build_any(struct cy_step *step, struct cy_random *random)
{
    static const char *const lengths[] = {"10 ft", "20 m", "90 ft", "300 ft"};
    static const char *const names[] = {"first", "long row", "shade"};
    const struct cy_thing *any = farm.things[below(random, (int)farm.count)];
    struct cy_value values[64] = {0};
    int first = cy_kind_info(CY_KIND_ROW)->first_field;
    switch (below(random, 5)) {
    case 0:
        cy_step_remove(step, &farm, any->id, NULL);
        break;
    case 1:
        values[CY_ROW_LENGTH - first] = parsed(CY_ROW_LENGTH, lengths[below(random, 4)]);
        values[CY_ROW_CULTIVAR - first] = parsed(CY_ROW_CULTIVAR, "one");
        cy_step_add(step, &farm, CY_KIND_ROW, 0, NULL, values, NULL);
        cy_value_dispose(&values[CY_ROW_CULTIVAR - first]);
        break;
    case 2:
        if (any->kind == CY_KIND_CULTIVAR)
            build_set(step, any->id, CY_CULTIVAR_NAME, names[below(random, 3)]);
        break;
    default:
        if (any->kind == CY_KIND_ROW)
            build_set(step, any->id, CY_ROW_LENGTH, lengths[below(random, 4)]);
        if (any->kind == CY_KIND_ROW && below(random, 2))
            build_set(step, any->id, CY_ROW_NAME, names[below(random, 3)]);
        if (any->kind == CY_KIND_WIRE)
            build_set(step, any->id, CY_WIRE_HEIGHT, lengths[0]);
        break;
    }
}

static void random_steps_go_back_the_way_they_came(void **state)
{
    (void)state;
    enum { STEPS = 60, ROUNDS = 6 };
    for (int round = 0; round < ROUNDS; round++) {
        struct cy_random random;
        struct cy_step steps[STEPS] = {0};
        struct cy_farm before[STEPS];
        cy_random_seed(&random, 20270301, (uint64_t)round);
        for (int i = 0; i < STEPS; i++) {
            before[i] = copy_of(&farm);
            for (int part = below(&random, 4); part >= 0; part--)
                build_any(&steps[i], &random);
            if (cy_step_apply_lent(&farm, &steps[i], &catalogue, false, NULL) != CY_OK) {
                assert_same_farm(&farm, &before[i]);
                cy_step_dispose(&steps[i]);
            }
        }
        for (int i = STEPS - 1; i >= 0; i--) {
            struct cy_step back;
            assert_int_equal(cy_step_reverse(&back, &steps[i]), CY_OK);
            apply(&back);
            assert_same_farm(&farm, &before[i]);
            cy_step_dispose(&back);
            cy_step_dispose(&steps[i]);
            cy_farm_dispose(&before[i]);
        }
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_field_is_set_and_set_back),
        TEST(a_clash_names_both_values),
        TEST(a_field_of_a_thing_that_went_is_a_clash),
        TEST(values_out_of_range_are_refused),
        TEST(values_fit_the_table_or_not),
        TEST(paired_values_change_together),
        TEST(records_are_not_edited),
        TEST(things_are_added_with_their_children),
        TEST(a_key_that_another_took_is_a_clash),
        TEST(what_others_refer_to_stays),
        TEST(a_thing_comes_back_to_its_place),
        TEST(a_row_with_records_retires),
        TEST(taking_back_an_addition_spares_what_records_speak_of),
        TEST(setting_a_lent_cultivar_makes_it_the_farms_own),
        TEST(emptying_an_own_field_lets_the_catalogue_fill_it),
        TEST(a_lent_month_brings_its_year),
        TEST(what_is_lent_is_not_removed),
        TEST(a_faulty_farm_is_mended_one_by_one),
        TEST(rows_come_into_the_wanted_order),
        TEST(children_and_values_are_compared),
        TEST(a_farm_is_made_from_nothing),
        TEST(random_steps_go_back_the_way_they_came),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
