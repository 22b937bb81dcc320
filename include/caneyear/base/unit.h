/* SPDX-License-Identifier: MIT
 * Quantities with units as people write them: "180 ft", "150 psf/ft", "10000 lb/acre",
 * "100 lbf.ft", "40F", "40dF", "$2.50/lb". Inside, everything is in the quantity's own inside
 * unit (SI, but degrees Celsius, and hours and days where a name ends in _h or _d). */
#ifndef CANEYEAR_BASE_UNIT_H
#define CANEYEAR_BASE_UNIT_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/text.h>

/* QUANTITY(name, word, inside unit, US units, metric units): the first of each list is what is
 * shown by default; the others are shown where the caller asks for them. */
#define CY_QUANTITIES(QUANTITY)                                                                    \
    QUANTITY(NUMBER, "number", "1", "1", "1")                                                      \
    QUANTITY(SHARE, "share", "1", "%", "%")                                                        \
    QUANTITY(LENGTH, "length", "m", "ft", "m")                                                     \
    QUANTITY(SIZE, "small length", "m", "in", "mm")                                                \
    QUANTITY(DEPTH_OF_WATER, "depth of water", "mm", "in", "mm")                                   \
    QUANTITY(AREA, "area", "m2", "acre", "ha")                                                     \
    QUANTITY(VOLUME, "volume", "m3", "gal", "L")                                                   \
    QUANTITY(MASS, "weight", "kg", "lb", "kg")                                                     \
    QUANTITY(SMALL_MASS, "small weight", "kg", "g", "g")                                           \
    QUANTITY(TEMPERATURE, "temperature", "C", "F", "C")                                            \
    QUANTITY(TEMPERATURE_RISE, "temperature difference", "K", "dF", "K")                           \
    QUANTITY(FORCE, "force", "N", "lbf", "N")                                                      \
    QUANTITY(MOMENT, "moment", "N.m", "lbf.ft", "N.m")                                             \
    QUANTITY(FORCE_PER_LENGTH, "force per length", "N/m", "lbf/ft", "N/m")                         \
    QUANTITY(MASS_PER_LENGTH, "weight per length", "kg/m", "lb/ft", "kg/m")                        \
    QUANTITY(MASS_PER_AREA, "weight per area", "kg/m2", "lb/acre", "kg/ha")                        \
    QUANTITY(PRESSURE, "pressure", "Pa", "psi", "kPa")                                             \
    QUANTITY(PRESSURE_PER_LENGTH, "pressure per depth", "Pa/m", "psf/ft", "kPa/m")                 \
    QUANTITY(SPEED, "speed", "m/s", "mph", "m/s")                                                  \
    QUANTITY(GROWTH, "growth rate", "m/d", "in/week", "cm/d")                                      \
    QUANTITY(FLOW, "flow", "L/h", "gal/h", "L/h")                                                  \
    QUANTITY(HOURS, "hours", "h", "h", "h")                                                        \
    QUANTITY(DAYS, "days", "d", "d", "d")                                                          \
    QUANTITY(HOURS_PER_LENGTH, "hours per length", "h/m", "h/100ft", "h/100m")                     \
    QUANTITY(MASS_PER_HOUR, "weight per hour", "kg/h", "lb/h", "kg/h")                             \
    QUANTITY(DEGREE_HOURS, "degree hours", "K.h", "K.h", "K.h")                                    \
    QUANTITY(DEGREE_DAYS, "degree days", "K.d", "dF.d", "K.d")                                     \
    QUANTITY(MONEY, "money", "$", "$", "$")                                                        \
    QUANTITY(MONEY_PER_MASS, "price by weight", "$/kg", "$/lb", "$/kg")                            \
    QUANTITY(MONEY_PER_LENGTH, "price by length", "$/m", "$/ft", "$/m")                            \
    QUANTITY(MONEY_PER_HOUR, "pay", "$/h", "$/h", "$/h")                                           \
    QUANTITY(MONEY_PER_AREA, "cost by area", "$/m2", "$/acre", "$/ha")                             \
    QUANTITY(ANGLE, "angle", "deg", "deg", "deg")                                                  \
    QUANTITY(ENERGY_PER_AREA, "radiation", "MJ/m2", "MJ/m2", "MJ/m2")

enum cy_quantity {
#define QUANTITY(name, word, inside, us, metric) CY_Q_##name,
    CY_QUANTITIES(QUANTITY)
#undef QUANTITY
        CY_Q_COUNT
};

enum cy_system { CY_US, CY_METRIC };

enum cy_unit_error {
    CY_UNIT_OK,
    CY_UNIT_NO_NUMBER,  /* the text does not begin with a number */
    CY_UNIT_UNKNOWN,    /* a unit word nobody knows */
    CY_UNIT_WRONG_KIND, /* a known unit of another dimension, or degrees where a rise is due */
    CY_UNIT_MISSING     /* a bare number where the caller gave no unit for one */
};

/* Reads "number [unit expression]" into the inside unit of `quantity`. A unit expression is unit
 * words with exponents ("m2", "ft^2", "s-1"), joined by "." or "*" or a blank, with "/" dividing
 * by the one word after it, before which a count may stand ("h/100ft"). "5 ft 6 in" and 5'6"
 * add up, and a "$" may stand before the number. `bare` is the unit of a bare number; NULL means
 * that a unit must be written (plain numbers and shares never need one). An error leaves *out
 * alone. Letter case is ignored but for m and M in short words (mL, MPa). */
enum cy_unit_error cy_quantity_parse(double *out, const char *text, size_t length,
                                     enum cy_quantity quantity, const char *bare);

/* Prints the value in `unit` (NULL: the system's first), a blank between number and unit, with
 * the fewest digits that cy_quantity_parse reads back to the same double. Falls back to the
 * inside unit if `unit` is none of this quantity, and for a temperature so near the scale's zero
 * that no digits will do (1e-30 C in F). Not finite: "nan", "inf" or "-inf" without a unit. */
void cy_quantity_print(struct cy_text *text, double value, enum cy_quantity quantity,
                       const char *unit, enum cy_system system);
/* The same rounded to `decimals`, for people's eyes. */
void cy_quantity_show(struct cy_text *text, double value, enum cy_quantity quantity,
                      const char *unit, enum cy_system system, int decimals);
/* The same with so many significant digits, 1 to 9, zeros at the end left off; whole digits stay. */
void cy_quantity_show_digits(struct cy_text *text, double value, enum cy_quantity quantity,
                             enum cy_system system, int digits);

/* The value in `unit` (the inside unit, if it is none of this quantity) as a bare number. */
double cy_quantity_in(double value, enum cy_quantity quantity, const char *unit);

const char *cy_quantity_unit(enum cy_quantity quantity, enum cy_system system);
const char *cy_quantity_inside(enum cy_quantity quantity);
const char *cy_quantity_word(enum cy_quantity quantity);

#endif
