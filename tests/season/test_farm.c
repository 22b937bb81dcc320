/* SPDX-License-Identifier: MIT
 * Things are kept in order, found by id and key, addressed, copied, and lent by a catalogue. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/season/farm.h>

static struct cy_farm fresh(void)
{
    struct cy_farm farm;
    assert_int_equal(cy_farm_init(&farm), CY_OK);
    return farm;
}

static int64_t add(struct cy_farm *farm, enum cy_kind kind, int64_t parent, const char *key)
{
    struct cy_thing *thing = cy_farm_add(farm, kind, parent, key, NULL, 0);
    assert_non_null(thing);
    return thing->id;
}

static void set(struct cy_farm *farm, int64_t id, enum cy_field field, const char *text)
{
    struct cy_value value;
    assert_int_equal(cy_value_parse(&value, field, text, strlen(text), NULL), CY_OK);
    assert_int_equal(cy_farm_set(farm, id, field, &value), CY_OK);
    cy_value_dispose(&value);
}

static const char *key_of(const struct cy_farm *farm, int64_t id)
{
    return cy_farm_by_id(farm, id)->key;
}

/* The keys of a kind under a parent, joined. */
static void assert_keys(const struct cy_farm *farm, enum cy_kind kind, int64_t parent,
                        const char *expected)
{
    struct cy_text keys = {0};
    const struct cy_thing *thing = NULL;
    int count = 0;
    while ((thing = cy_farm_next(farm, kind, parent, thing))) {
        if (count++)
            cy_text_add_char(&keys, ' ');
        cy_text_add(&keys, thing->key);
    }
    assert_string_equal(cy_text_get(&keys), expected);
    assert_int_equal(cy_farm_count(farm, kind, parent), count);
    cy_text_dispose(&keys);
}

static void an_empty_farm_has_its_single_things(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    assert_int_equal(farm.count, 4);
    assert_string_equal(cy_farm_one(&farm, CY_KIND_SITE)->key, "site");
    assert_null(cy_farm_add(&farm, CY_KIND_SITE, 0, "second", NULL, 0));
    cy_farm_remove(&farm, cy_farm_one(&farm, CY_KIND_SITE)->id);
    cy_farm_retire(&farm, cy_farm_one(&farm, CY_KIND_SITE)->id, true);
    assert_non_null(cy_farm_one(&farm, CY_KIND_SITE));
    /* Rows begin where a later kind of this sort can never want an id. */
    assert_true(add(&farm, CY_KIND_ROW, 0, NULL) > 100);
    cy_farm_dispose(&farm);
    assert_null(cy_farm_one(&farm, CY_KIND_SITE));
    assert_null(cy_farm_by_id(&farm, 1));
    assert_null(cy_farm_by_key(&farm, CY_KIND_ROW, 0, "row-1"));
}

static void keys_have_a_form(void **state)
{
    (void)state;
    const char *forty = "abcdefghij-abcdefghij-abcdefghij-1234567";
    assert_true(cy_key_valid("north-1", 7));
    assert_true(cy_key_valid("1", 1));
    assert_true(cy_key_valid(forty, 40));
    assert_false(cy_key_valid("abcdefghij-abcdefghij-abcdefghij-12345678", 41));
    assert_false(cy_key_valid("", 0));
    assert_false(cy_key_valid("-north", 6));
    assert_false(cy_key_valid("North", 5));
    assert_false(cy_key_valid("a.b", 3));
    struct cy_farm farm = fresh();
    assert_null(cy_farm_add(&farm, CY_KIND_ROW, 0, "North 1", NULL, 0));
    assert_non_null(cy_farm_add(&farm, CY_KIND_ROW, 0, "north", NULL, 0));
    assert_null(cy_farm_add(&farm, CY_KIND_ROW, 0, "north", NULL, 0));
    assert_non_null(cy_farm_add(&farm, CY_KIND_ZONE, 0, "north", NULL, 0));
    cy_farm_dispose(&farm);
}

static void keys_are_made_where_none_is_given(void **state)
{
    (void)state;
    static const struct {
        const char *name, *key;
    } cases[] = {
        {"Navaho (east field)", "navaho-east-field"},
        {"Navaho, East-Field!", "navaho-east-field-2"},
        {"navaho east field", "navaho-east-field-3"},
        {NULL, "row-4"},
        {"***", "row-5"},
        {"  Père ", "p-re"},
        {"abcdefghij abcdefghij abcdefghij abcdefghij", "abcdefghij-abcdefghij-abcdefghij-abcdefg"},
        {"abcdefghij abcdefghij abcdefghij abcdefghij",
         "abcdefghij-abcdefghij-abcdefghij-abcde-2"}};
    struct cy_farm farm = fresh();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_thing *row = cy_farm_add(&farm, CY_KIND_ROW, 0, NULL, cases[i].name, 0);
        assert_string_equal(row->key, cases[i].key);
        assert_true(cy_key_valid(row->key, strlen(row->key)));
    }
    add(&farm, CY_KIND_ROW, 0, "row-10");
    assert_string_equal(key_of(&farm, add(&farm, CY_KIND_ROW, 0, NULL)), "row-11");
    /* A cut that ends on a gap leaves no dash behind. */
    struct cy_thing *cut =
        cy_farm_add(&farm, CY_KIND_ZONE, 0, NULL, "abcdefghijabcdefghijabcdefghijabcdefghi xyz", 0);
    assert_string_equal(cut->key, "abcdefghijabcdefghijabcdefghijabcdefghi");
    cy_farm_dispose(&farm);
}

static void months_are_called_by_their_order(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    int64_t place = add(&farm, CY_KIND_PLACE, 0, "clemson");
    for (int i = 0; i < 13; i++)
        add(&farm, CY_KIND_MONTH, place, NULL);
    assert_keys(&farm, CY_KIND_MONTH, place,
                "jan feb mar apr may jun jul aug sep oct nov dec month-13");
    cy_farm_dispose(&farm);
}

static void children_stand_under_the_right_parent(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    int64_t tall = add(&farm, CY_KIND_TRELLIS, 0, "tall"),
            low = add(&farm, CY_KIND_TRELLIS, 0, "low");
    add(&farm, CY_KIND_WIRE, low, "top");
    add(&farm, CY_KIND_WIRE, tall, "top"); /* the same key under another parent */
    add(&farm, CY_KIND_WIRE, tall, "middle");
    assert_keys(&farm, CY_KIND_WIRE, tall, "top middle");
    assert_keys(&farm, CY_KIND_WIRE, low, "top");
    assert_null(cy_farm_add(&farm, CY_KIND_WIRE, 0, "loose", NULL, 0));
    assert_null(cy_farm_add(&farm, CY_KIND_MONTH, tall, "jan", NULL, 0));
    assert_null(cy_farm_add(&farm, CY_KIND_ROW, tall, "r", NULL, 0));
    cy_farm_remove(&farm, tall);
    assert_keys(&farm, CY_KIND_WIRE, tall, "");
    assert_keys(&farm, CY_KIND_WIRE, low, "top");
    assert_null(cy_farm_by_key(&farm, CY_KIND_WIRE, tall, "top"));
    cy_farm_remove(&farm, tall); /* not there: nothing happens */
    assert_keys(&farm, CY_KIND_TRELLIS, 0, "low");
    cy_farm_dispose(&farm);
}

static void things_keep_their_order_and_come_back_to_it(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    add(&farm, CY_KIND_ROW, 0, "a");
    int64_t b = add(&farm, CY_KIND_ROW, 0, "b");
    add(&farm, CY_KIND_ROW, 0, "c");
    add(&farm, CY_KIND_SEEN, 0, "first");
    add(&farm, CY_KIND_PLACE, 0, "clemson");
    int order = cy_farm_by_id(&farm, b)->order;
    cy_farm_remove(&farm, b);
    assert_keys(&farm, CY_KIND_ROW, 0, "a c");
    assert_non_null(cy_farm_add(&farm, CY_KIND_ROW, 0, "b", NULL, b));
    assert_keys(&farm, CY_KIND_ROW, 0, "a c b");
    cy_farm_reorder(&farm, b, order);
    assert_keys(&farm, CY_KIND_ROW, 0, "a b c");
    assert_null(cy_farm_add(&farm, CY_KIND_ROW, 0, "d", NULL, b)); /* the id is taken */
    cy_farm_retire(&farm, b, true);
    assert_keys(&farm, CY_KIND_ROW, 0, "a c");
    assert_int_equal(cy_farm_by_key(&farm, CY_KIND_ROW, 0, "b")->id, b);
    cy_farm_retire(&farm, b, false);
    assert_keys(&farm, CY_KIND_ROW, 0, "a b c");
    cy_farm_dispose(&farm);
}

static void ids_go_on_from_the_highest(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    assert_int_equal(cy_farm_add(&farm, CY_KIND_ROW, 0, "a", NULL, 5000)->id, 5000);
    assert_int_equal(add(&farm, CY_KIND_ROW, 0, "b"), 5001);
    assert_non_null(cy_farm_add(&farm, CY_KIND_ROW, 0, "c", NULL, CY_LENT_ID + 7));
    assert_int_equal(add(&farm, CY_KIND_ROW, 0, "d"), 5002);
    assert_int_equal(farm.next_lent_id, CY_LENT_ID + 8);
    cy_farm_dispose(&farm);
}

static void values_are_set_and_cleared(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    int64_t row = add(&farm, CY_KIND_ROW, 0, "north");
    struct cy_value unset = {0}, number = {.set = true, .number = 3};
    set(&farm, row, CY_ROW_NAME, "North");
    set(&farm, row, CY_ROW_NAME, "North side");
    assert_string_equal(cy_thing_name(cy_farm_by_id(&farm, row)), "North side");
    assert_int_equal(cy_farm_set(&farm, row, CY_ROW_NAME, &unset), CY_OK);
    assert_string_equal(cy_thing_name(cy_farm_by_id(&farm, row)), "north");
    assert_int_equal(cy_farm_set(&farm, row, CY_WIRE_HEIGHT, &number), CY_INVALID);
    assert_int_equal(cy_farm_set(&farm, 999, CY_ROW_LENGTH, &number), CY_INVALID);
    assert_int_equal(cy_farm_set(&farm, row, CY_FIELD_NONE, &number), CY_INVALID);
    cy_farm_dispose(&farm);
}

static void defaults_count_with_their_own_basis(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    const struct cy_thing *practice =
        cy_farm_by_id(&farm, add(&farm, CY_KIND_PRACTICE, 0, "standard"));
    struct cy_given tip = cy_given(practice, CY_PRACTICE_TIP_HEIGHT);
    assert_true(tip.known && !tip.is_set);
    assert_int_equal(tip.basis, CY_BASIS_PUBLISHED);
    assert_true(tip.source[0] != '\0');
    assert_float_equal(tip.number, 1.0668, 0);
    set(&farm, practice->id, CY_PRACTICE_TIP_HEIGHT, "40 in");
    tip = cy_given(practice, CY_PRACTICE_TIP_HEIGHT);
    assert_true(tip.known && tip.is_set);
    assert_int_equal(tip.basis, CY_BASIS_GROWER);
    assert_string_equal(tip.source, "");
    assert_float_equal(tip.number, 1.016, 0);
    /* No default: not known. Without a thing: the default. Of another kind: nothing. */
    assert_false(cy_given(practice, CY_PRACTICE_LATERAL_TIP).known);
    assert_true(isnan(cy_number(practice, CY_PRACTICE_LATERAL_TIP)));
    assert_float_equal(cy_number(NULL, CY_PRACTICE_TIP_HEIGHT), 1.0668, 0);
    assert_false(cy_given(practice, CY_ROW_SPACING).known);
    assert_float_equal(cy_number(practice, CY_PRACTICE_SPENT_FROM), 1001, 0);
    assert_true(isnan(cy_number(practice, CY_PRACTICE_TIP_CUTOFF)));
    cy_farm_dispose(&farm);
}

static void values_are_read_by_type(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    int64_t row = add(&farm, CY_KIND_ROW, 0, "north");
    int64_t cultivar = add(&farm, CY_KIND_CULTIVAR, 0, "navaho");
    const struct cy_thing *thing = cy_farm_by_id(&farm, row);
    assert_int_equal(cy_date(thing, CY_ROW_PLANTED), CY_DAY_NONE);
    assert_int_equal(cy_choice(thing, CY_ROW_PHASE), -1);
    assert_int_equal(cy_choice(thing, CY_ROW_STOCK), CY_STOCK_BARE_ROOT);
    assert_string_equal(cy_string(thing, CY_ROW_CULTIVAR), "");
    assert_null(cy_referred(&farm, thing, CY_ROW_CULTIVAR));
    set(&farm, row, CY_ROW_PLANTED, "2027-03-15");
    set(&farm, row, CY_ROW_PHASE, "even years");
    set(&farm, row, CY_ROW_CULTIVAR, "navaho");
    assert_int_equal(cy_date(thing, CY_ROW_PLANTED), cy_day_of(2027, 3, 15));
    assert_int_equal(cy_choice(thing, CY_ROW_PHASE), CY_PHASE_EVEN);
    assert_int_equal(cy_referred(&farm, thing, CY_ROW_CULTIVAR)->id, cultivar);
    set(&farm, row, CY_ROW_CULTIVAR, "ouachita");
    assert_null(cy_referred(&farm, thing, CY_ROW_CULTIVAR));
    assert_null(cy_referred(&farm, thing, CY_ROW_NAME));
    assert_int_equal(cy_farm_system(&farm), CY_US);
    set(&farm, cy_farm_one(&farm, CY_KIND_FARM)->id, CY_FARM_UNITS, "metric");
    assert_int_equal(cy_farm_system(&farm), CY_METRIC);
    cy_farm_dispose(&farm);
}

/* ---- addresses ------------------------------------------------------------------------------ */

static struct cy_farm addressed(void)
{
    struct cy_farm farm = fresh();
    add(&farm, CY_KIND_ROW, 0, "north-1");
    add(&farm, CY_KIND_ROW, 0, "south-1");
    add(&farm, CY_KIND_WIRE, add(&farm, CY_KIND_TRELLIS, 0, "tall"), "top");
    add(&farm, CY_KIND_MONTH, add(&farm, CY_KIND_PLACE, 0, "clemson"), NULL);
    add(&farm, CY_KIND_PERSON, cy_farm_one(&farm, CY_KIND_CREW)->id, "ann");
    return farm;
}

static void addresses_read_back(void **state)
{
    (void)state;
    static const char *const cases[] = {"site.slope",
                                        "farm.units",
                                        "farm",
                                        "row.north-1",
                                        "row.north-1.spacing",
                                        "trellis.tall.form",
                                        "trellis.tall.wire.top",
                                        "trellis.tall.wire.top.height",
                                        "place.clemson.month.jan.low",
                                        "crew.hours_per_day",
                                        "crew.person.ann.hours_per_day"};
    struct cy_farm farm = addressed();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        int64_t id = 0;
        enum cy_field field;
        struct cy_text text = {0};
        assert_int_equal(cy_farm_address(&farm, cases[i], &id, &field, NULL), CY_OK);
        cy_farm_print_address(&text, &farm, cy_farm_by_id(&farm, id), field);
        assert_string_equal(cy_text_get(&text), cases[i]);
        cy_text_dispose(&text);
    }
    cy_farm_dispose(&farm);
}

static void wrong_addresses_say_what_is_near(void **state)
{
    (void)state;
    static const char kinds[] = "farm, site, place, cultivar, practice, trellis, part, zone, crew, "
                                "market, job, row, note, work";
    static const char wire[] = "height, kind, gauge, tension, working, set_at, breaks, "
                               "diameter, modulus, expansion";
    static const struct {
        const char *address;
        enum cy_issue_code code;
        const char *thing, *allowed;
    } cases[] = {
        {"", CY_ISSUE_NO_SUCH_THING, "", kinds},
        {"rows.north-1", CY_ISSUE_NO_SUCH_THING, "", kinds},
        {"wire.top", CY_ISSUE_NO_SUCH_THING, "", kinds},
        {"row", CY_ISSUE_NO_SUCH_THING, "", "north-1, south-1"},
        {"row.nort-1.spacing", CY_ISSUE_NO_SUCH_THING, "", "north-1"},
        {"row.far-away", CY_ISSUE_NO_SUCH_THING, "", "north-1, south-1"},
        {"row.north-1.spacin", CY_ISSUE_NO_SUCH_FIELD, "row north-1", "spacing"},
        {"row.north-1.spacing.x", CY_ISSUE_NO_SUCH_FIELD, "row north-1", "spacing"},
        {"trellis.tall.wire", CY_ISSUE_NO_SUCH_THING, "trellis tall", "top"},
        {"trellis.tall.wire.tip", CY_ISSUE_NO_SUCH_THING, "trellis tall", "top"},
        {"trellis.tall.wire.top.colour", CY_ISSUE_NO_SUCH_FIELD, "trellis tall wire top", wire},
        {"trellis.tall.wire.top.", CY_ISSUE_NO_SUCH_FIELD, "trellis tall wire top", wire}};
    struct cy_farm farm = addressed();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        int64_t id = 0;
        enum cy_field field;
        struct cy_issues issues = {0};
        assert_int_equal(cy_farm_address(&farm, cases[i].address, &id, &field, &issues),
                         CY_INVALID);
        assert_int_equal(issues.count, 1);
        assert_int_equal(issues.items[0].code, cases[i].code);
        assert_string_equal(issues.items[0].found, cases[i].address);
        assert_string_equal(issues.items[0].thing, cases[i].thing);
        assert_string_equal(issues.items[0].allowed, cases[i].allowed);
        assert_int_equal(issues.items[0].field_id, CY_FIELD_NONE);
    }
    cy_farm_dispose(&farm);
}

/* ---- copies, lending, size ------------------------------------------------------------------ */

static void assert_same(const struct cy_farm *a, const struct cy_farm *b)
{
    assert_int_equal(a->count, b->count);
    assert_int_equal(a->next_id, b->next_id);
    assert_int_equal(a->next_lent_id, b->next_lent_id);
    for (size_t i = 0; i < a->count; i++) {
        const struct cy_thing *x = a->things[i], *y = b->things[i];
        assert_true(x != y && x->id == y->id && x->kind == y->kind && x->parent == y->parent);
        assert_int_equal(x->order, y->order);
        assert_string_equal(x->key, y->key);
        assert_int_equal(x->catalogue, y->catalogue);
        assert_int_equal(x->retired, y->retired);
        for (int f = 0; f < cy_kind_info(x->kind)->field_count; f++)
            assert_true(cy_value_equal(&x->values[f], &y->values[f]));
    }
}

static struct cy_farm catalogue(void)
{
    struct cy_farm farm = fresh();
    int64_t navaho = add(&farm, CY_KIND_CULTIVAR, 0, "navaho");
    set(&farm, navaho, CY_CULTIVAR_NAME, "Navaho");
    set(&farm, navaho, CY_CULTIVAR_HABIT, "erect");
    set(&farm, add(&farm, CY_KIND_CULTIVAR, 0, "ouachita"), CY_CULTIVAR_NAME, "Ouachita");
    int64_t place = add(&farm, CY_KIND_PLACE, 0, "clemson");
    set(&farm, place, CY_PLACE_NAME, "Clemson");
    set(&farm, place, CY_PLACE_LATITUDE, "34.7");
    set(&farm, place, CY_PLACE_LONGITUDE, "-82.8");
    set(&farm, add(&farm, CY_KIND_MONTH, place, NULL), CY_MONTH_LOW, "0 C");
    set(&farm, add(&farm, CY_KIND_MONTH, place, NULL), CY_MONTH_LOW, "1 C");
    set(&farm, cy_farm_one(&farm, CY_KIND_FARM)->id, CY_FARM_NAME, "the catalogue");
    return farm;
}

static void a_copy_is_the_same_and_apart(void **state)
{
    (void)state;
    struct cy_farm farm = addressed(), lender = catalogue(), copy;
    assert_int_equal(cy_farm_lend(&farm, &lender), CY_OK);
    int64_t north = cy_farm_by_key(&farm, CY_KIND_ROW, 0, "north-1")->id;
    cy_farm_retire(&farm, north, true);
    cy_farm_reorder(&farm, north, 40);
    assert_int_equal(cy_farm_copy(&copy, &farm), CY_OK);
    assert_same(&farm, &copy);
    set(&copy, north, CY_ROW_NAME, "changed");
    assert_string_equal(cy_thing_name(cy_farm_by_id(&farm, north)), "north-1");
    cy_farm_dispose(&farm);
    assert_string_equal(cy_thing_name(cy_farm_by_id(&copy, north)), "changed");
    cy_farm_dispose(&copy);
    cy_farm_dispose(&lender);
}

static void the_catalogue_lends_what_is_lacking(void **state)
{
    (void)state;
    struct cy_farm farm = fresh(), lender = catalogue(), again;
    int64_t own = add(&farm, CY_KIND_CULTIVAR, 0, "navaho");
    set(&farm, own, CY_CULTIVAR_HABIT, "trailing");
    int64_t next_id = farm.next_id;
    assert_int_equal(cy_farm_lend(&farm, &lender), CY_OK);
    /* The farm's own thing keeps what it says and has its gaps filled. */
    const struct cy_thing *navaho = cy_farm_by_key(&farm, CY_KIND_CULTIVAR, 0, "navaho");
    int first = cy_kind_info(CY_KIND_CULTIVAR)->first_field;
    assert_int_equal(navaho->id, own);
    assert_false(navaho->catalogue);
    assert_int_equal(cy_choice(navaho, CY_CULTIVAR_HABIT), CY_HABIT_TRAILING);
    assert_false(navaho->values[CY_CULTIVAR_HABIT - first].lent);
    assert_string_equal(cy_string(navaho, CY_CULTIVAR_NAME), "Navaho");
    assert_true(navaho->values[CY_CULTIVAR_NAME - first].lent);
    /* The rest is added and marked, with its children; single things are never lent. */
    const struct cy_thing *place = cy_farm_by_key(&farm, CY_KIND_PLACE, 0, "clemson");
    assert_true(place->catalogue && place->id >= CY_LENT_ID);
    assert_keys(&farm, CY_KIND_MONTH, place->id, "jan feb");
    assert_true(cy_farm_next(&farm, CY_KIND_MONTH, place->id, NULL)->catalogue);
    assert_float_equal(
        cy_number(cy_farm_by_key(&farm, CY_KIND_MONTH, place->id, "feb"), CY_MONTH_LOW), 1, 0);
    assert_string_equal(cy_string(cy_farm_one(&farm, CY_KIND_FARM), CY_FARM_NAME), "");
    assert_int_equal(farm.next_id, next_id);
    assert_int_equal(cy_farm_copy(&again, &farm), CY_OK);
    assert_int_equal(cy_farm_lend(&again, &lender), CY_OK);
    assert_same(&farm, &again);
    cy_farm_dispose(&again);
    cy_farm_dispose(&farm);
    cy_farm_dispose(&lender);
}

static void own_months_are_kept(void **state)
{
    (void)state;
    struct cy_farm farm = fresh(), lender = catalogue();
    int64_t place = add(&farm, CY_KIND_PLACE, 0, "clemson");
    set(&farm, add(&farm, CY_KIND_MONTH, place, NULL), CY_MONTH_HIGH, "12 C");
    assert_int_equal(cy_farm_lend(&farm, &lender), CY_OK);
    assert_keys(&farm, CY_KIND_MONTH, place, "jan");
    assert_false(cy_given(cy_farm_next(&farm, CY_KIND_MONTH, place, NULL), CY_MONTH_LOW).known);
    cy_farm_dispose(&farm);
    cy_farm_dispose(&lender);
}

static void the_nearest_place_stands_in(void **state)
{
    (void)state;
    struct cy_farm farm = fresh(), lender = catalogue();
    int64_t site = cy_farm_one(&farm, CY_KIND_SITE)->id;
    assert_int_equal(cy_farm_lend(&farm, &lender), CY_OK);
    int64_t west = add(&farm, CY_KIND_PLACE, 0, "west"); /* across the date line */
    set(&farm, west, CY_PLACE_LATITUDE, "34.7");
    set(&farm, west, CY_PLACE_LONGITUDE, "179");
    add(&farm, CY_KIND_PLACE, 0, "nowhere");
    assert_null(cy_farm_place(&farm));
    set(&farm, site, CY_SITE_LATITUDE, "35");
    set(&farm, site, CY_SITE_LONGITUDE, "-83");
    assert_string_equal(cy_farm_place(&farm)->key, "clemson");
    set(&farm, site, CY_SITE_LONGITUDE, "-170");
    assert_string_equal(cy_farm_place(&farm)->key, "west");
    set(&farm, site, CY_SITE_PLACE, "clemson");
    assert_string_equal(cy_farm_place(&farm)->key, "clemson");
    set(&farm, site, CY_SITE_PLACE, "gone");
    assert_null(cy_farm_place(&farm));
    cy_farm_dispose(&farm);
    cy_farm_dispose(&lender);
}

static void a_name_may_come_a_thousand_times(void **state)
{
    (void)state;
    struct cy_farm farm = fresh();
    struct cy_thing *row = NULL;
    for (int i = 0; i < 1000; i++)
        row = cy_farm_add(&farm, CY_KIND_ROW, 0, NULL, "Row", 0);
    assert_string_equal(row->key, "row-1000");
    cy_farm_dispose(&farm);
}

/* A field of ten thousand rows, added the wrong way round, found by id and by key. */
static void ten_thousand_rows(void **state)
{
    (void)state;
    enum { ROWS = 10000 };
    struct cy_farm farm = fresh();
    for (int i = 0; i < ROWS; i++) {
        int64_t id = add(&farm, CY_KIND_ROW, 0, NULL);
        set(&farm, id, CY_ROW_LENGTH, "100 m");
        cy_farm_reorder(&farm, id, ROWS - i);
    }
    assert_int_equal(cy_farm_count(&farm, CY_KIND_ROW, 0), ROWS);
    int64_t last = INT64_MAX;
    const struct cy_thing *row = NULL;
    while ((row = cy_farm_next(&farm, CY_KIND_ROW, 0, row))) {
        assert_true(row->id < last);
        last = row->id;
        assert_ptr_equal(cy_farm_by_id(&farm, row->id), row);
        assert_ptr_equal(cy_farm_by_key(&farm, CY_KIND_ROW, 0, row->key), row);
    }
    for (int i = 0; i < ROWS; i += 2)
        cy_farm_remove(&farm, last + i);
    assert_int_equal(cy_farm_count(&farm, CY_KIND_ROW, 0), ROWS / 2);
    assert_null(cy_farm_by_id(&farm, last + 2));
    assert_non_null(cy_farm_by_id(&farm, last + 3));
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_farm_has_its_single_things),
        cmocka_unit_test(keys_have_a_form),
        cmocka_unit_test(keys_are_made_where_none_is_given),
        cmocka_unit_test(months_are_called_by_their_order),
        cmocka_unit_test(children_stand_under_the_right_parent),
        cmocka_unit_test(things_keep_their_order_and_come_back_to_it),
        cmocka_unit_test(ids_go_on_from_the_highest),
        cmocka_unit_test(values_are_set_and_cleared),
        cmocka_unit_test(defaults_count_with_their_own_basis),
        cmocka_unit_test(values_are_read_by_type),
        cmocka_unit_test(addresses_read_back),
        cmocka_unit_test(wrong_addresses_say_what_is_near),
        cmocka_unit_test(a_copy_is_the_same_and_apart),
        cmocka_unit_test(the_catalogue_lends_what_is_lacking),
        cmocka_unit_test(own_months_are_kept),
        cmocka_unit_test(the_nearest_place_stands_in),
        cmocka_unit_test(a_name_may_come_a_thousand_times),
        cmocka_unit_test(ten_thousand_rows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
