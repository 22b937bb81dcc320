/* SPDX-License-Identifier: MIT
 * Quantities with units. */
#include <caneyear/base/unit.h>

#include <string.h>

#include <caneyear/base/random.h>

#include "support/near.h"
#include "support/soak.h"

static double read_bare(const char *text, enum cy_quantity quantity, const char *bare)
{
    double value = NAN;
    enum cy_unit_error error = cy_quantity_parse(&value, text, strlen(text), quantity, bare);
    if (error != CY_UNIT_OK)
        print_error("\"%s\" as %s: error %d\n", text, cy_quantity_word(quantity), error);
    assert_int_equal(error, CY_UNIT_OK);
    return value;
}

static double read(const char *text, enum cy_quantity quantity)
{
    return read_bare(text, quantity, NULL);
}

static void refused(const char *text, enum cy_quantity quantity, enum cy_unit_error expected)
{
    double value = 7;
    enum cy_unit_error error = cy_quantity_parse(&value, text, strlen(text), quantity, NULL);
    if (error != expected)
        print_error("\"%s\" as %s: error %d\n", text, cy_quantity_word(quantity), error);
    assert_int_equal(error, expected);
    assert_true(value == 7);
}

/* The double nearest to the exact product, not a product of rounded doubles. */
static void exact_definitions(void **state)
{
    (void)state;
    assert_true(read("1 in", CY_Q_LENGTH) == 0.0254);
    assert_true(read("180 ft", CY_Q_LENGTH) == 54.864);
    assert_true(read("1 yd", CY_Q_LENGTH) == 0.9144);
    assert_true(read("1 mi", CY_Q_LENGTH) == 1609.344);
    assert_true(read("1 acre", CY_Q_AREA) == 4046.8564224);
    assert_true(read("1 ha", CY_Q_AREA) == 10000);
    assert_true(read("1 gal", CY_Q_VOLUME) == 0.003785411784);
    assert_true(read("3 mL", CY_Q_VOLUME) == 0.000003);
    assert_true(read("1 lb", CY_Q_MASS) == 0.45359237);
    assert_true(read("1 oz", CY_Q_MASS) == 0.028349523125);
    assert_true(read("1 ton", CY_Q_MASS) == 907.18474);
    assert_true(read("1 t", CY_Q_MASS) == 1000);
    assert_true(read("1 lbf", CY_Q_FORCE) == 4.4482216152605);
    assert_true(read("1 kgf", CY_Q_FORCE) == 9.80665);
    assert_true(read("1 kip", CY_Q_FORCE) == 4448.2216152605);
    assert_true(read("1 mph", CY_Q_SPEED) == 0.44704);
    assert_true(read("36 kmh", CY_Q_SPEED) == 10);
    assert_true(read("1 in", CY_Q_DEPTH_OF_WATER) == 25.4);
    assert_true(read("1 gph", CY_Q_FLOW) == 3.785411784);
    assert_true(read("1 gpm", CY_Q_FLOW) == 227.12470704);
    assert_true(read("90 min", CY_Q_HOURS) == 1.5);
    assert_true(read("2 weeks", CY_Q_DAYS) == 14);
}

/* NIST Special Publication 811 (2008), appendix B.8, to the digits printed there. */
static void published_factors(void **state)
{
    (void)state;
    assert_near(read("1 psi", CY_Q_PRESSURE), 6894.757, 5e-4);
    assert_near(read("1 psf", CY_Q_PRESSURE), 47.88026, 5e-6);
    assert_near(read("1 lbf.ft", CY_Q_MOMENT), 1.355818, 5e-7);
    assert_near(read("1 lbf/ft", CY_Q_FORCE_PER_LENGTH), 14.59390, 5e-6);
    assert_near(read("1 lb/ft", CY_Q_MASS_PER_LENGTH), 1.488164, 5e-7);
    assert_near(read("1 lb/ft2", CY_Q_MASS_PER_AREA), 4.882428, 5e-7);
    assert_near(read("1 ft3", CY_Q_VOLUME), 0.02831685, 5e-9);
    assert_near(read("1 ft2", CY_Q_AREA), 0.09290304, 1e-17);
    assert_near(read("1 bar", CY_Q_PRESSURE), 1e5, 0);
    assert_near(read("1 psf/ft", CY_Q_PRESSURE_PER_LENGTH), 157.0875, 5e-5); /* 47.88026/0.3048 */
    assert_near(read("1 pcf", CY_Q_PRESSURE_PER_LENGTH), 157.0875, 5e-5);
    assert_near(read("1 plf", CY_Q_FORCE_PER_LENGTH), 14.59390, 5e-6);
    assert_near(read("1 cfs", CY_Q_FLOW), 101940.6, 0.05); /* 0.02831685 m3/s in L/h */
}

static void expressions(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum cy_quantity quantity;
        const char *same;
    } cases[] = {
        {"150 psf/ft", CY_Q_PRESSURE_PER_LENGTH, "150 lbf/ft3"},
        {"150psf/ft", CY_Q_PRESSURE_PER_LENGTH, "150 psf . ft-1"},
        {"10000 lb/acre", CY_Q_MASS_PER_AREA, "10000 pounds / acres"},
        {"100 lbf.ft", CY_Q_MOMENT, "100 ft lbf"},
        {"100 lbf*ft", CY_Q_MOMENT, "100 lbf\u00b7ft"},
        {"3lbf/ft", CY_Q_FORCE_PER_LENGTH, "36 lbf/12ft"},
        {"0.5gal/h", CY_Q_FLOW, "0.5 gph"},
        {"0.7 h/100ft", CY_Q_HOURS_PER_LENGTH, "0.007 h/ft"},
        {"0.7 h/100 ft", CY_Q_HOURS_PER_LENGTH, "42 min/100ft"},
        {"$2.50/lb", CY_Q_MONEY_PER_MASS, "2.50 $/lb"},
        {"$2.50 / lb", CY_Q_MONEY_PER_MASS, "2.5 dollars/lb"},
        {"$ 15/h", CY_Q_MONEY_PER_HOUR, "15 $/hr"},
        {"-$3", CY_Q_MONEY, "$-3"},
        {"1.5 in/week", CY_Q_GROWTH, "1.5 in/wk"},
        {"12 K.h", CY_Q_DEGREE_HOURS, "0.5 K.d"},
        {"9 dF.d", CY_Q_DEGREE_DAYS, "5 K.d"},
        {"16 m2", CY_Q_AREA, "16 m^2"},
        {"16 m\u00b2", CY_Q_AREA, "16 m.m"},
        {"2 m\u00b3", CY_Q_VOLUME, "2 m2.m"},
        {"4 m.s-1", CY_Q_SPEED, "4 m s^-1"},
        {"20 MJ/m2", CY_Q_ENERGY_PER_AREA, "20000 kJ/m2"},
        {"1 kg.m/s2", CY_Q_FORCE, "1 N"},
        {"1 kg/m/s2", CY_Q_PRESSURE, "1 Pa"},
        {"45\u00b0", CY_Q_ANGLE, "45 degrees"},
        {"21 \u00b0C", CY_Q_TEMPERATURE, "21 degC"},
        {"  7\tft  ", CY_Q_LENGTH, "7 feet"},
        {"+7 ft", CY_Q_LENGTH, "7 FEET"},
        {"1e2 cm", CY_Q_LENGTH, "100 cm"},
        {".5 in", CY_Q_LENGTH, "0.5 inches"},
        {"5 MPH", CY_Q_SPEED, "5 mi/h"},
        {"1 dC", CY_Q_TEMPERATURE_RISE, "1.8 dF"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        double value = read(cases[i].text, cases[i].quantity);
        assert_near(value, read(cases[i].same, cases[i].quantity), 1e-15 * fabs(value));
    }
}

static void feet_and_inches_add_up(void **state)
{
    (void)state;
    static const char *const same[] = {"5.5 ft", "5 ft 6 in", "5ft 6in",         "5ft6in",
                                       "5'6\"",  "5' 6\"",    "5 feet 6 inches", "66 in",
                                       "66\"",   "5ft 6.0in", "5 ft 3 in 3 in"};
    for (size_t i = 0; i < sizeof same / sizeof *same; i++)
        assert_true(read(same[i], CY_Q_LENGTH) == 1.6764);
    assert_true(read("-5 ft 6 in", CY_Q_LENGTH) == -1.6764);
    assert_true(read("5ft10in", CY_Q_LENGTH) == 1.778);
    assert_true(read("1 h 30 min", CY_Q_HOURS) == 1.5);
    refused("5 ft 6", CY_Q_LENGTH, CY_UNIT_MISSING);
    refused("5 ft22", CY_Q_LENGTH, CY_UNIT_MISSING);
    refused("5 ft -6 in", CY_Q_LENGTH, CY_UNIT_UNKNOWN);
    refused("5 ft 6 lb", CY_Q_LENGTH, CY_UNIT_WRONG_KIND);
    refused("40 F 3 F", CY_Q_TEMPERATURE, CY_UNIT_WRONG_KIND);
}

static void temperatures(void **state)
{
    (void)state;
    assert_true(read("40F", CY_Q_TEMPERATURE) == 40.0 / 9.0);
    assert_true(read("32 F", CY_Q_TEMPERATURE) == 0);
    assert_true(read("212 F", CY_Q_TEMPERATURE) == 100);
    assert_true(read("-40 F", CY_Q_TEMPERATURE) == -40);
    assert_true(read("-6 F", CY_Q_TEMPERATURE) == -190.0 / 9.0);
    assert_true(read("-2.5 C", CY_Q_TEMPERATURE) == -2.5);
    assert_true(read("40dF", CY_Q_TEMPERATURE_RISE) == 200.0 / 9.0);
    assert_true(read("-9 dF", CY_Q_TEMPERATURE_RISE) == -5);
    assert_true(read("3 K", CY_Q_TEMPERATURE_RISE) == 3);
    assert_true(read_bare("40", CY_Q_TEMPERATURE, "F") == 40.0 / 9.0);
    refused("40dF", CY_Q_TEMPERATURE, CY_UNIT_WRONG_KIND);
    refused("300 K", CY_Q_TEMPERATURE, CY_UNIT_WRONG_KIND);
    refused("40F", CY_Q_TEMPERATURE_RISE, CY_UNIT_WRONG_KIND);
    refused("4 C", CY_Q_TEMPERATURE_RISE, CY_UNIT_WRONG_KIND);
    refused("10 F.d", CY_Q_DEGREE_DAYS, CY_UNIT_WRONG_KIND);
    refused("10 d.F", CY_Q_DEGREE_DAYS, CY_UNIT_WRONG_KIND);
    refused("10 F2", CY_Q_TEMPERATURE, CY_UNIT_WRONG_KIND);
    refused("10 C/1C", CY_Q_NUMBER, CY_UNIT_WRONG_KIND);
}

static void bare_numbers(void **state)
{
    (void)state;
    assert_true(read("0.4", CY_Q_SHARE) == 0.4);
    assert_true(read("40 %", CY_Q_SHARE) == 0.4);
    assert_true(read("40%", CY_Q_SHARE) == 0.4);
    assert_true(read("12", CY_Q_NUMBER) == 12);
    assert_true(read_bare("40", CY_Q_SHARE, "%") == 0.4);
    assert_true(read_bare("5", CY_Q_LENGTH, "ft") == 1.524);
    assert_true(read_bare("5 m", CY_Q_LENGTH, "ft") == 5);
    assert_true(read("$5", CY_Q_MONEY) == 5);
    assert_true(read_bare("$5", CY_Q_MONEY, "$") == 5);
    refused("5", CY_Q_LENGTH, CY_UNIT_MISSING);
    refused("5", CY_Q_MONEY, CY_UNIT_MISSING);
    refused("5", CY_Q_TEMPERATURE, CY_UNIT_MISSING);
}

static void malformed(void **state)
{
    (void)state;
    static const char *const no_number[] = {
        "",     " ", "ft",   "-",   "- 5 ft", "--5 ft",   "+-5 ft",   "$",     "$$5",
        "-$-5", ".", ". ft", "nan", "inf ft", "1e999 ft", "1e308 km", "x5 ft", "\xC2\xA0 5 ft"};
    for (size_t i = 0; i < sizeof no_number / sizeof *no_number; i++)
        refused(no_number[i], CY_Q_LENGTH, CY_UNIT_NO_NUMBER);
    static const char *const unknown[] = {
        "5 furlong", "5 ft/",   "5 /ft",    "5 ft.",   "5 ft..ft", "5 ft//ft",
        "5 ft/0s",   "5 ft)",   "5, ft",    "5 ft^",   "5 ft2x",   "5 \xFF",
        "5 \xC2",    "5 q t",   "1,000 ft", "5 ft^-0", "5 \xB0",   "5 m.m.m.m.m.m.m.m.m",
        "5 ft 6/in", "0x10 ft", "5 ft/s/",  "5 1/2 ft"};
    for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++)
        refused(unknown[i], CY_Q_LENGTH, CY_UNIT_UNKNOWN);
    static const char *const wrong_kind[] = {"5 lb",   "5 ft2", "5 ft/s", "5 %",  "$5",
                                             "5 $/ft", "5 K",   "5 m-1",  "5 m9", "5 m9.m9.m9"};
    for (size_t i = 0; i < sizeof wrong_kind / sizeof *wrong_kind; i++)
        refused(wrong_kind[i], CY_Q_LENGTH, CY_UNIT_WRONG_KIND);
    /* weight is no force: a pound of fruit and a pound of pull are written apart */
    refused("5 lb", CY_Q_FORCE, CY_UNIT_WRONG_KIND);
    refused("5 lbf", CY_Q_MASS, CY_UNIT_WRONG_KIND);
    /* m and M are a thousand million apart */
    refused("5 mPa", CY_Q_PRESSURE, CY_UNIT_UNKNOWN);
    refused("5 ML", CY_Q_VOLUME, CY_UNIT_UNKNOWN);
    refused("5 mJ/m2", CY_Q_ENERGY_PER_AREA, CY_UNIT_UNKNOWN);
}

/* Every string of up to three characters from those that mean something here. */
static void no_text_breaks_it(void **state)
{
    (void)state;
    static const char alphabet[] = "15.-+$ %/'\"^*fmCFKeE\xC2\xB0\xB2";
    const size_t count = sizeof alphabet; /* the terminator too */
    for (size_t n = 0; n < count * count * count * count; n++) {
        const char text[5] = {'3', alphabet[n % count], alphabet[n / count % count],
                              alphabet[n / count / count % count],
                              alphabet[n / count / count / count]};
        double value = 7;
        enum cy_unit_error error = cy_quantity_parse(&value, text, 5, CY_Q_LENGTH, "ft");
        assert_true(error == CY_UNIT_OK ? isfinite(value) : value == 7);
    }
}

static void shown_for_people(void **state)
{
    (void)state;
    struct cy_text text = {0};
    cy_quantity_show(&text, 54.864, CY_Q_LENGTH, NULL, CY_US, 1);
    assert_text(&text, "180.0 ft");
    cy_quantity_show(&text, 54.864, CY_Q_LENGTH, NULL, CY_METRIC, 1);
    assert_text(&text, "54.9 m");
    cy_quantity_show(&text, 54.864, CY_Q_LENGTH, "yd", CY_METRIC, 0);
    assert_text(&text, "60 yd");
    cy_quantity_show(&text, -2.5, CY_Q_TEMPERATURE, NULL, CY_US, 0);
    assert_text(&text, "28 F"); /* 27.5 */
    cy_quantity_show(&text, 12, CY_Q_NUMBER, NULL, CY_US, 0);
    assert_text(&text, "12");
    cy_quantity_show(&text, NAN, CY_Q_LENGTH, NULL, CY_US, 1);
    assert_text(&text, "nan");
    cy_quantity_print(&text, 0.4, CY_Q_SHARE, NULL, CY_US);
    assert_text(&text, "40 %");
    cy_quantity_print(&text, 5.4864, CY_Q_LENGTH, "in", CY_US);
    assert_text(&text, "216 in");
    cy_quantity_print(&text, 2, CY_Q_LENGTH, "lb", CY_US); /* not a length: the inside unit */
    assert_text(&text, "2 m");
    cy_quantity_print(&text, 1e-30, CY_Q_TEMPERATURE, NULL, CY_US);
    assert_text(&text, "1e-30 C");
    cy_quantity_print(&text, -INFINITY, CY_Q_LENGTH, NULL, CY_US);
    assert_text(&text, "-inf");
    cy_text_dispose(&text);
    assert_near(cy_quantity_in(1.524, CY_Q_LENGTH, "ft"), 5, 0);
    assert_near(cy_quantity_in(100, CY_Q_TEMPERATURE, "F"), 212, 0);
    assert_true(isnan(cy_quantity_in(NAN, CY_Q_LENGTH, "ft")));
}

static void shown_with_so_many_digits(void **state)
{
    (void)state;
    static const struct {
        double value;
        enum cy_quantity quantity;
        const char *shown;
    } cases[] = {
        {6000, CY_Q_DEGREE_HOURS, "6000 K.h"},  {63.35534, CY_Q_SHARE, "6336 %"},
        {0.25, CY_Q_NUMBER, "0.25"},            {1.0 / 3, CY_Q_NUMBER, "0.3333"},
        {0.00123456, CY_Q_NUMBER, "0.001235"},  {12345.6, CY_Q_NUMBER, "12346"},
        {-7.25049, CY_Q_NUMBER, "-7.25"},       {0, CY_Q_NUMBER, "0"},
        {100, CY_Q_NUMBER, "100"},
    };
    struct cy_text text = {0};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        cy_text_clear(&text);
        cy_quantity_show_digits(&text, cases[i].value, cases[i].quantity, CY_US, 4);
        assert_string_equal(cy_text_get(&text), cases[i].shown);
    }
    cy_text_dispose(&text);
}

static void what_people_type_comes_back_as_they_typed_it(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        enum cy_quantity quantity;
    } typed[] = {{"8 ft", CY_Q_LENGTH},
                 {"12.5 in", CY_Q_SIZE},
                 {"0.1 in", CY_Q_DEPTH_OF_WATER},
                 {"10000 lb/acre", CY_Q_MASS_PER_AREA},
                 {"2.5 $/lb", CY_Q_MONEY_PER_MASS},
                 {"0.7 h/100ft", CY_Q_HOURS_PER_LENGTH},
                 {"27.3 F", CY_Q_TEMPERATURE},
                 {"-6 F", CY_Q_TEMPERATURE},
                 {"0.45 gal/h", CY_Q_FLOW},
                 {"90 mph", CY_Q_SPEED},
                 {"33.3 %", CY_Q_SHARE},
                 {"250 lbf", CY_Q_FORCE},
                 {"1.3 dF", CY_Q_TEMPERATURE_RISE},
                 {"3.25 acre", CY_Q_AREA}};
    struct cy_text text = {0};
    for (size_t i = 0; i < sizeof typed / sizeof *typed; i++) {
        cy_quantity_print(&text, read(typed[i].text, typed[i].quantity), typed[i].quantity, NULL,
                          CY_US);
        assert_text(&text, typed[i].text);
    }
    cy_text_dispose(&text);
}

/* Each unit word with a quantity it can stand for. */
static const struct {
    enum cy_quantity quantity;
    const char *units;
} units[] = {
    {CY_Q_NUMBER, "1 % percent"},
    {CY_Q_LENGTH, "m meter meters metre metres mm cm km in \" inch inches ft ' foot feet yd yard "
                  "yards mi mile miles"},
    {CY_Q_AREA, "acre acres ac ha hectare hectares sqft m2 ft2 in2 mi2"},
    {CY_Q_VOLUME, "L mL liter liters litre litres gal gallon gallons cuft m3 ft3 acre.in"},
    {CY_Q_MASS, "g mg gram grams kg kilogram kilograms t tonne tonnes lb lbs pound pounds oz ounce "
                "ounces ton tons"},
    {CY_Q_HOURS, "s sec second seconds min minute minutes h hr hrs hour hours d day days wk week "
                 "weeks"},
    {CY_Q_TEMPERATURE, "C \u00b0C degC celsius F \u00b0F degF fahrenheit"},
    {CY_Q_TEMPERATURE_RISE, "K kelvin dC dF"},
    {CY_Q_MONEY, "$ dollar dollars"},
    {CY_Q_ANGLE, "deg \u00b0 degree degrees"},
    {CY_Q_SPEED, "mph MPH kmh kph ft/s"},
    {CY_Q_FLOW, "gph gpm lph lpm cfs m3/s acre.ft/d"},
    {CY_Q_FORCE, "N kN kgf lbf kip klbf"},
    {CY_Q_FORCE_PER_LENGTH, "plf"},
    {CY_Q_PRESSURE, "Pa hPa kPa MPa bar mbar cbar cb psi psf"},
    {CY_Q_PRESSURE_PER_LENGTH, "pcf"},
    {CY_Q_MOMENT, "J kJ MJ"},
    {CY_Q_MASS_PER_AREA, "ton/acre t/ha oz/ft2"},
    {CY_Q_MONEY_PER_LENGTH, "$/100ft"},
};

static double dice(struct cy_random *random)
{
    static const double sizes[] = {1e-6, 1e-3, 1, 1e3, 1e6, 1e9};
    double value = 2 * cy_random_uniform(random) - 1;
    return value * sizes[cy_random_next(random) % 6];
}

static void round_trips(struct cy_text *text, struct cy_random *random, enum cy_quantity quantity,
                        const char *unit, int times)
{
    for (int i = 0; i < times; i++) {
        double value = dice(random), found = NAN;
        cy_text_clear(text);
        cy_quantity_print(text, value, quantity, unit, CY_US);
        enum cy_unit_error error =
            cy_quantity_parse(&found, text->data, text->length, quantity, NULL);
        if (error != CY_UNIT_OK || found != value)
            print_error("%.17g printed \"%s\" reads %.17g\n", value, text->data, found);
        assert_int_equal(error, CY_UNIT_OK);
        assert_memory_equal(&found, &value, sizeof value);
    }
}

/* More than a million values, spread over all quantities in the units they are shown in. */
static void a_million_values_read_back(void **state)
{
    (void)state;
    struct cy_text text = {0};
    struct cy_random random;
    cy_random_seed(&random, 11, 0);
    for (int quantity = 0; quantity < CY_Q_COUNT; quantity++) {
        for (int system = CY_US; system <= CY_METRIC; system++)
            round_trips(&text, &random, (enum cy_quantity)quantity,
                        cy_quantity_unit((enum cy_quantity)quantity, (enum cy_system)system),
                        soak(500000, 10) / CY_Q_COUNT + 1);
    }
    cy_text_dispose(&text);
}

static void every_unit_word_reads_back(void **state)
{
    (void)state;
    struct cy_text text = {0};
    struct cy_random random;
    cy_random_seed(&random, 12, 0);
    for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
        char list[200], *rest = list;
        assert_true(cy_copy(list, sizeof list, units[i].units));
        for (char *unit; (unit = strtok_r(rest, " ", &rest)) != NULL;) {
            round_trips(&text, &random, units[i].quantity, unit, 300);
            /* and it was this unit that was printed, except right beside zero on a scale */
            cy_text_clear(&text);
            cy_quantity_print(&text, 17, units[i].quantity, unit, CY_US);
            if (strcmp(unit, "1") != 0)
                assert_non_null(strstr(text.data, unit));
        }
    }
    cy_text_dispose(&text);
}

static void every_quantity_has_its_words(void **state)
{
    (void)state;
    for (int q = 0; q < CY_Q_COUNT; q++) {
        enum cy_quantity quantity = (enum cy_quantity)q;
        assert_true(strlen(cy_quantity_word(quantity)) > 0);
        assert_near(cy_quantity_in(3, quantity, cy_quantity_inside(quantity)), 3, 0);
    }
    assert_string_equal(cy_quantity_unit(CY_Q_FLOW, CY_US), "gal/h");
    assert_string_equal(cy_quantity_unit(CY_Q_FLOW, CY_METRIC), "L/h");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(exact_definitions),
        cmocka_unit_test(published_factors),
        cmocka_unit_test(expressions),
        cmocka_unit_test(feet_and_inches_add_up),
        cmocka_unit_test(temperatures),
        cmocka_unit_test(bare_numbers),
        cmocka_unit_test(malformed),
        cmocka_unit_test(no_text_breaks_it),
        cmocka_unit_test(shown_for_people),
        cmocka_unit_test(shown_with_so_many_digits),
        cmocka_unit_test(what_people_type_comes_back_as_they_typed_it),
        cmocka_unit_test(a_million_values_read_back),
        cmocka_unit_test(every_unit_word_reads_back),
        cmocka_unit_test(every_quantity_has_its_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
