/* SPDX-License-Identifier: MIT
 * The table of unit words. The base units are m, kg, s, K, $ and the degree of angle. Factors:
 * A. Thompson and B. N. Taylor, Guide for the Use of the International System of Units, NIST
 * Special Publication 811 (2008), appendix B; exact, as quotients of integers. */
#include "unit_words.h"

#include <caneyear/base/text.h>

/* clang-format off */
#define D_NUMBER   {0, 0, 0, 0, 0, 0}
#define D_LENGTH   {1, 0, 0, 0, 0, 0}
#define D_AREA     {2, 0, 0, 0, 0, 0}
#define D_VOLUME   {3, 0, 0, 0, 0, 0}
#define D_MASS     {0, 1, 0, 0, 0, 0}
#define D_TIME     {0, 0, 1, 0, 0, 0}
#define D_WARMTH   {0, 0, 0, 1, 0, 0}
#define D_MONEY    {0, 0, 0, 0, 1, 0}
#define D_ANGLE    {0, 0, 0, 0, 0, 1}
#define D_SPEED    {1, 0, -1, 0, 0, 0}
#define D_FLOW     {3, 0, -1, 0, 0, 0}
#define D_FORCE    {1, 1, -2, 0, 0, 0}
#define D_PRESSURE {-1, 1, -2, 0, 0, 0}
#define D_LINE     {0, 1, -2, 0, 0, 0}  /* force per length */
#define D_DEPTH    {-2, 1, -2, 0, 0, 0} /* force per volume: pressure per depth */
#define D_ENERGY   {2, 1, -2, 0, 0, 0}

/* Products of the definitions, written out so that each is one exact integer. */
#define LB_TIMES 45359237.0     /* 0.45359237 kg */
#define LB_OVER 1e8
#define LBF_TIMES 44482216152605.0 /* times 9.80665 m/s2 */
#define LBF_OVER 1e13
#define GALLON_TIMES 3785411784.0  /* 231 cubic inches of 2.54 cm */
#define GALLON_OVER 1e12
#define ACRE_TIMES 40468564224.0   /* 43560 square feet of 0.3048 m */
#define ACRE_OVER 1e7

static const struct cy_unit_word table[] = {
    {"%", D_NUMBER, 1, 100, false, 0}, {"percent", D_NUMBER, 1, 100, false, 0},

    {"m", D_LENGTH, 1, 1, false, 0},
    {"meter", D_LENGTH, 1, 1, false, 0}, {"meters", D_LENGTH, 1, 1, false, 0},
    {"metre", D_LENGTH, 1, 1, false, 0}, {"metres", D_LENGTH, 1, 1, false, 0},
    {"mm", D_LENGTH, 1, 1000, false, 0}, {"cm", D_LENGTH, 1, 100, false, 0},
    {"km", D_LENGTH, 1000, 1, false, 0},
    {"in", D_LENGTH, 254, 10000, false, 0}, {"\"", D_LENGTH, 254, 10000, false, 0},
    {"inch", D_LENGTH, 254, 10000, false, 0}, {"inches", D_LENGTH, 254, 10000, false, 0},
    {"ft", D_LENGTH, 3048, 10000, false, 0}, {"'", D_LENGTH, 3048, 10000, false, 0},
    {"foot", D_LENGTH, 3048, 10000, false, 0}, {"feet", D_LENGTH, 3048, 10000, false, 0},
    {"yd", D_LENGTH, 9144, 10000, false, 0},
    {"yard", D_LENGTH, 9144, 10000, false, 0}, {"yards", D_LENGTH, 9144, 10000, false, 0},
    {"mi", D_LENGTH, 1609344, 1000, false, 0},
    {"mile", D_LENGTH, 1609344, 1000, false, 0}, {"miles", D_LENGTH, 1609344, 1000, false, 0},

    {"acre", D_AREA, ACRE_TIMES, ACRE_OVER, false, 0},
    {"acres", D_AREA, ACRE_TIMES, ACRE_OVER, false, 0},
    {"ac", D_AREA, ACRE_TIMES, ACRE_OVER, false, 0},
    {"ha", D_AREA, 10000, 1, false, 0},
    {"hectare", D_AREA, 10000, 1, false, 0}, {"hectares", D_AREA, 10000, 1, false, 0},
    {"sqft", D_AREA, 9290304, 1e8, false, 0},

    {"L", D_VOLUME, 1, 1000, false, 0}, {"mL", D_VOLUME, 1, 1000000, false, 0},
    {"liter", D_VOLUME, 1, 1000, false, 0}, {"liters", D_VOLUME, 1, 1000, false, 0},
    {"litre", D_VOLUME, 1, 1000, false, 0}, {"litres", D_VOLUME, 1, 1000, false, 0},
    {"gal", D_VOLUME, GALLON_TIMES, GALLON_OVER, false, 0},
    {"gallon", D_VOLUME, GALLON_TIMES, GALLON_OVER, false, 0},
    {"gallons", D_VOLUME, GALLON_TIMES, GALLON_OVER, false, 0},
    {"cuft", D_VOLUME, 28316846592.0, 1e12, false, 0},

    {"g", D_MASS, 1, 1000, false, 0}, {"mg", D_MASS, 1, 1000000, false, 0},
    {"gram", D_MASS, 1, 1000, false, 0}, {"grams", D_MASS, 1, 1000, false, 0},
    {"kg", D_MASS, 1, 1, false, 0},
    {"kilogram", D_MASS, 1, 1, false, 0}, {"kilograms", D_MASS, 1, 1, false, 0},
    {"t", D_MASS, 1000, 1, false, 0},
    {"tonne", D_MASS, 1000, 1, false, 0}, {"tonnes", D_MASS, 1000, 1, false, 0},
    {"lb", D_MASS, LB_TIMES, LB_OVER, false, 0}, {"lbs", D_MASS, LB_TIMES, LB_OVER, false, 0},
    {"pound", D_MASS, LB_TIMES, LB_OVER, false, 0},
    {"pounds", D_MASS, LB_TIMES, LB_OVER, false, 0},
    {"oz", D_MASS, LB_TIMES, 16 * LB_OVER, false, 0},
    {"ounce", D_MASS, LB_TIMES, 16 * LB_OVER, false, 0},
    {"ounces", D_MASS, LB_TIMES, 16 * LB_OVER, false, 0},
    {"ton", D_MASS, 2000 * LB_TIMES, LB_OVER, false, 0}, /* the short ton; "t" is metric */
    {"tons", D_MASS, 2000 * LB_TIMES, LB_OVER, false, 0},

    {"s", D_TIME, 1, 1, false, 0}, {"sec", D_TIME, 1, 1, false, 0},
    {"second", D_TIME, 1, 1, false, 0}, {"seconds", D_TIME, 1, 1, false, 0},
    {"min", D_TIME, 60, 1, false, 0},
    {"minute", D_TIME, 60, 1, false, 0}, {"minutes", D_TIME, 60, 1, false, 0},
    {"h", D_TIME, 3600, 1, false, 0}, {"hr", D_TIME, 3600, 1, false, 0},
    {"hrs", D_TIME, 3600, 1, false, 0},
    {"hour", D_TIME, 3600, 1, false, 0}, {"hours", D_TIME, 3600, 1, false, 0},
    {"d", D_TIME, 86400, 1, false, 0},
    {"day", D_TIME, 86400, 1, false, 0}, {"days", D_TIME, 86400, 1, false, 0},
    {"wk", D_TIME, 604800, 1, false, 0},
    {"week", D_TIME, 604800, 1, false, 0}, {"weeks", D_TIME, 604800, 1, false, 0},

    {"C", D_WARMTH, 1, 1, true, 0}, {"°C", D_WARMTH, 1, 1, true, 0},
    {"degC", D_WARMTH, 1, 1, true, 0}, {"celsius", D_WARMTH, 1, 1, true, 0},
    {"F", D_WARMTH, 5, 9, true, 32}, {"°F", D_WARMTH, 5, 9, true, 32},
    {"degF", D_WARMTH, 5, 9, true, 32}, {"fahrenheit", D_WARMTH, 5, 9, true, 32},
    {"K", D_WARMTH, 1, 1, false, 0}, {"kelvin", D_WARMTH, 1, 1, false, 0},
    {"dC", D_WARMTH, 1, 1, false, 0}, {"dF", D_WARMTH, 5, 9, false, 0},

    {"$", D_MONEY, 1, 1, false, 0},
    {"dollar", D_MONEY, 1, 1, false, 0}, {"dollars", D_MONEY, 1, 1, false, 0},

    {"deg", D_ANGLE, 1, 1, false, 0}, {"°", D_ANGLE, 1, 1, false, 0},
    {"degree", D_ANGLE, 1, 1, false, 0}, {"degrees", D_ANGLE, 1, 1, false, 0},

    {"mph", D_SPEED, 44704, 100000, false, 0}, {"MPH", D_SPEED, 44704, 100000, false, 0},
    {"kmh", D_SPEED, 1000, 3600, false, 0}, {"kph", D_SPEED, 1000, 3600, false, 0},

    {"gph", D_FLOW, GALLON_TIMES, 3600 * GALLON_OVER, false, 0},
    {"gpm", D_FLOW, GALLON_TIMES, 60 * GALLON_OVER, false, 0},
    {"lph", D_FLOW, 1, 3600000, false, 0}, {"lpm", D_FLOW, 1, 60000, false, 0},
    {"cfs", D_FLOW, 28316846592.0, 1e12, false, 0},

    {"N", D_FORCE, 1, 1, false, 0}, {"kN", D_FORCE, 1000, 1, false, 0},
    {"kgf", D_FORCE, 980665, 100000, false, 0},
    {"lbf", D_FORCE, LBF_TIMES, LBF_OVER, false, 0},
    {"kip", D_FORCE, LBF_TIMES, LBF_OVER / 1000, false, 0},
    {"klbf", D_FORCE, LBF_TIMES, LBF_OVER / 1000, false, 0},
    {"plf", D_LINE, LBF_TIMES, 3048 * LBF_OVER / 10000, false, 0},

    {"Pa", D_PRESSURE, 1, 1, false, 0}, {"hPa", D_PRESSURE, 100, 1, false, 0},
    {"kPa", D_PRESSURE, 1000, 1, false, 0}, {"MPa", D_PRESSURE, 1000000, 1, false, 0},
    {"bar", D_PRESSURE, 100000, 1, false, 0}, {"mbar", D_PRESSURE, 100, 1, false, 0},
    {"cbar", D_PRESSURE, 1000, 1, false, 0}, {"cb", D_PRESSURE, 1000, 1, false, 0},
    {"psi", D_PRESSURE, LBF_TIMES, 64516 * LBF_OVER / 1e8, false, 0},
    {"psf", D_PRESSURE, LBF_TIMES, 9290304 * LBF_OVER / 1e8, false, 0},
    {"pcf", D_DEPTH, LBF_TIMES * 10, 28316846592.0 * (LBF_OVER / 1e11), false, 0},

    {"J", D_ENERGY, 1, 1, false, 0}, {"kJ", D_ENERGY, 1000, 1, false, 0},
    {"MJ", D_ENERGY, 1000000, 1, false, 0},
};
/* clang-format on */

static bool is_m(char c)
{
    return c == 'm' || c == 'M';
}

const struct cy_unit_word *cy_unit_word_find(const char *word, size_t length)
{
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        const struct cy_unit_word *entry = &table[i];
        if (((word[0] ^ entry->word[0]) & ~0x20) != 0) /* case aside: most are passed here */
            continue;
        if (length <= 3 && is_m(word[0]) && word[0] != entry->word[0])
            continue;
        if (cy_word_is(word, length, entry->word))
            return entry;
    }
    return NULL;
}
