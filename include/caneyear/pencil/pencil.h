/* SPDX-License-Identifier: MIT
 * The pencil: hand calculations, one table of what each takes, does and rests on.
 *
 * Whoever runs one finds it, reads the words "key=value" into inputs, supplies the series of a
 * file and what the catalogue says where one is named, and runs it:
 *
 *     const struct cy_pencil_calculation *calculation = cy_pencil_find("wire-sag");
 *     if (cy_pencil_read(&inputs, calculation, words, count, &issues) == CY_OK &&
 *         cy_pencil_run(&result, &inputs, &series, &issues) == CY_OK) ...
 */
#ifndef CANEYEAR_PENCIL_PENCIL_H
#define CANEYEAR_PENCIL_PENCIL_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/day.h>
#include <caneyear/base/issue.h>
#include <caneyear/base/unit.h>
#include <caneyear/climate/maker.h>
#include <caneyear/climate/weather.h>
#include <caneyear/crop/life.h>

/* UNIT(name, quantity, as cy_quantity_parse reads it, what it is in US units, how it is shown):
 * the units of bare numbers and of results. */
#define CY_PENCIL_UNITS(UNIT)                                                                      \
    UNIT(NUMBER, NUMBER, "1", "1", "")                                                             \
    UNIT(SHARE, SHARE, "1", "%", "share")                                                          \
    UNIT(PERCENT, SHARE, "%", "%", "%")                                                            \
    UNIT(CELSIUS, TEMPERATURE, "C", "F", "C")                                                      \
    UNIT(RISE, TEMPERATURE_RISE, "K", "dF", "K")                                                   \
    UNIT(METRE, LENGTH, "m", "ft", "m")                                                            \
    UNIT(SIZE, SIZE, "m", "in", "m")                                                               \
    UNIT(AREA, AREA, "m2", "ft2", "m2")                                                            \
    UNIT(SECTION, AREA, "m2", "in2", "m2")                                                         \
    UNIT(LITRE, VOLUME, "L", "gal", "L")                                                           \
    UNIT(KG, MASS, "kg", "lb", "kg")                                                               \
    UNIT(KG_M, MASS_PER_LENGTH, "kg/m", "lb/ft", "kg/m")                                           \
    UNIT(KG_M2, MASS_PER_AREA, "kg/m2", "lb/acre", "kg/m2")                                        \
    UNIT(KG_H, MASS_PER_HOUR, "kg/h", "lb/h", "kg/h")                                              \
    UNIT(HOUR, HOURS, "h", "h", "h")                                                               \
    UNIT(MINUTE, HOURS, "min", "min", "min")                                                       \
    UNIT(DAY, DAYS, "d", "d", "d")                                                                 \
    UNIT(DEGREE, ANGLE, "deg", "deg", "deg")                                                       \
    UNIT(NEWTON, FORCE, "N", "lbf", "N")                                                           \
    UNIT(NEWTON_METRE, MOMENT, "N.m", "lbf.ft", "N m")                                             \
    UNIT(N_M, FORCE_PER_LENGTH, "N/m", "lbf/ft", "N/m")                                            \
    UNIT(STRESS, PRESSURE, "Pa", "psi", "Pa")                                                      \
    UNIT(PASCAL, PRESSURE, "Pa", "psf", "Pa")                                                      \
    UNIT(KILOPASCAL, PRESSURE, "kPa", "psi", "kPa")                                                \
    UNIT(HECTOPASCAL, PRESSURE, "hPa", "hPa", "hPa")                                               \
    UNIT(PA_M, PRESSURE_PER_LENGTH, "Pa/m", "psf/ft", "Pa/m")                                      \
    UNIT(M_S, SPEED, "m/s", "mph", "m/s")                                                          \
    UNIT(M_DAY, GROWTH, "m/d", "in/d", "m/d")                                                      \
    UNIT(MM, DEPTH_OF_WATER, "mm", "in", "mm")                                                     \
    UNIT(MM_DAY, GROWTH, "mm/d", "in/d", "mm/d")                                                   \
    UNIT(L_H, FLOW, "L/h", "gal/h", "L/h")                                                         \
    UNIT(L_S, FLOW, "L/s", "gal/min", "L/s")                                                       \
    UNIT(DEGREE_HOUR, DEGREE_HOURS, "K.h", "dF.h", "C h")                                          \
    UNIT(DEGREE_DAY, DEGREE_DAYS, "K.d", "dF.d", "C d")                                            \
    UNIT(MJ_DAY, ENERGY_PER_AREA, "MJ/m2", "MJ/m2", "MJ/m2 d")                                     \
    UNIT(H_100M, HOURS_PER_LENGTH, "h/100m", "h/100ft", "h/100 m")                                 \
    UNIT(MONEY, MONEY, "$", "$", "$")

enum cy_pencil_unit {
#define UNIT(name, quantity, bare, us, shown) CY_PENCIL_##name,
    CY_PENCIL_UNITS(UNIT)
#undef UNIT
        CY_PENCIL_UNIT_COUNT
};

enum cy_quantity cy_pencil_quantity(enum cy_pencil_unit unit);
const char *cy_pencil_unit_bare(enum cy_pencil_unit unit);
const char *cy_pencil_unit_us(enum cy_pencil_unit unit);
const char *cy_pencil_unit_shown(enum cy_pencil_unit unit);

/* KIND(name, what a value of it looks like) */
#define CY_PENCIL_KINDS(KIND)                                                                      \
    KIND(REAL, "a number")                                                                         \
    KIND(WHOLE, "a whole number")                                                                  \
    KIND(LIST, "numbers with commas between them")                                                 \
    KIND(DATE, "YYYY-MM-DD")                                                                       \
    KIND(TIME, "YYYY-MM-DDThh:mm:ss+hh:mm")                                                        \
    KIND(CHOICE, "one of the words")                                                               \
    KIND(TEXT, "a word")                                                                           \
    KIND(FILE, "the name of a file")                                                               \
    KIND(CULTIVAR, "a key of the catalogue's cultivars")                                           \
    KIND(PLACE, "a key of the catalogue's places")

enum cy_pencil_kind {
#define KIND(name, form) CY_PENCIL_##name,
    CY_PENCIL_KINDS(KIND)
#undef KIND
        CY_PENCIL_KIND_COUNT
};

const char *cy_pencil_kind_form(enum cy_pencil_kind kind);

struct cy_pencil_argument {
    const char *name;
    const char *help;
    enum cy_pencil_kind kind;
    enum cy_pencil_unit unit; /* of a bare number */
    double low, high;         /* allowed, both included, in that unit */
    const char *fallback;     /* taken where the argument is left out; NULL for nothing */
    const char *choices;      /* "deadman, screw" */
    bool required, repeats;
};

struct cy_pencil_inputs;
struct cy_pencil_result;
struct cy_pencil_series;

struct cy_pencil_calculation {
    const char *name, *subject, *what;
    const struct cy_pencil_argument *arguments;
    size_t count;
    enum cy_pencil_unit unit; /* of the result */
    const char *counted;      /* what the result counts where it has no unit: "plants", or NULL */
    const char *formula, *source;
    const char *range;   /* where it holds */
    const char *caution; /* or NULL */
    int (*run)(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
               const struct cy_pencil_series *series, struct cy_issues *issues);
};

/* In the order of the subjects; NULL behind the last. */
const struct cy_pencil_calculation *cy_pencil_at(size_t index);
size_t cy_pencil_count(void);
/* NULL where there is none of that name. */
const struct cy_pencil_calculation *cy_pencil_find(const char *name);

/* ---- inputs --------------------------------------------------------------------------------- */

#define CY_PENCIL_ARGUMENTS 24
#define CY_PENCIL_WORDS 64
#define CY_PENCIL_LIST_MOST 100000 /* numbers in a list */

struct cy_pencil_value {
    bool given; /* typed, or taken from the fallback */
    bool is_fallback;
    const char *text; /* as typed; borrowed from the words */
    double number;    /* in the argument's unit; the number of a choice, from 0 */
    cy_day day;       /* of a date; of a time, the day in universal time */
    double hour;      /* of a time, in universal time */
    double *list;
    size_t count;
};

/* One word, kept for arguments that repeat. */
struct cy_pencil_word {
    size_t argument;
    const char *text; /* behind the "=" */
};

struct cy_pencil_inputs {
    const struct cy_pencil_calculation *calculation;
    struct cy_pencil_value values[CY_PENCIL_ARGUMENTS]; /* as the calculation's arguments */
    struct cy_pencil_word words[CY_PENCIL_WORDS];
    size_t word_count;
};

/* Reads words of the form "key=value". They are borrowed and must outlive the inputs. Anything
 * but CY_OK is said in `issues` and leaves nothing to dispose of. */
int cy_pencil_read(struct cy_pencil_inputs *out, const struct cy_pencil_calculation *calculation,
                   const char *const *words, size_t count, struct cy_issues *issues);
void cy_pencil_inputs_dispose(struct cy_pencil_inputs *inputs);

/* The file, cultivar or place that is named, or NULL. */
const char *cy_pencil_named(const struct cy_pencil_inputs *inputs, enum cy_pencil_kind kind);

/* What the caller read from the file: daily or hourly, the other NULL. Days of the weather that
 * are not marked observed were filled between their neighbours. */
struct cy_pencil_hours {
    cy_day first;
    int days;
    const double *temp_c; /* 24 for each day, NAN where there is none */
};

struct cy_pencil_place {
    double latitude_deg;
    struct cy_normals normals;
};

struct cy_pencil_series {
    const struct cy_weather *daily;
    const struct cy_pencil_hours *hourly;
    const struct cy_traits *cultivar;    /* NULL where none is named */
    const struct cy_pencil_place *place; /* the same */
};

/* ---- results -------------------------------------------------------------------------------- */

#define CY_PENCIL_ALSO 72
#define CY_PENCIL_NAME 24
#define CY_PENCIL_NOTE 320

struct cy_pencil_also {
    char name[CY_PENCIL_NAME];
    double value;
    enum cy_pencil_unit unit;
    cy_day day; /* the date of a day of the year, CY_DAY_NONE otherwise */
};

struct cy_pencil_result {
    double value;
    enum cy_pencil_unit unit; /* the calculation's, but where its kinds differ in it */
    struct cy_pencil_also also[CY_PENCIL_ALSO];
    size_t count;
    char note[CY_PENCIL_NOTE]; /* what this answer rests on, beyond the caution; "" for nothing */
};

/* CY_INVALID for inputs that do not go together or are out of range, CY_FAILED for a file that
 * does not hold what is asked of it; both are said in `issues`. Allocates nothing that lasts. */
int cy_pencil_run(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                  const struct cy_pencil_series *series, struct cy_issues *issues);

#endif
