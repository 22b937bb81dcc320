/* SPDX-License-Identifier: MIT
 * What the tables of calculations share: how an argument is written down, read and answered. */
#ifndef PENCIL_INSIDE_H
#define PENCIL_INSIDE_H

#include <math.h>

#include <caneyear/pencil/pencil.h>
#include <caneyear/trellis/domain.h>

/* Rows of the argument tables: a number that must be given, one that may be (fallback NULL: it
 * stays unknown), and the other kinds. */
#define NEED(key, in_unit, from, to, text)                                                         \
    {                                                                                              \
        .name = key, .help = text, .unit = CY_PENCIL_##in_unit, .low = from, .high = to,           \
        .required = true                                                                           \
    }
#define MAY(key, in_unit, from, to, otherwise, text)                                               \
    {                                                                                              \
        .name = key, .help = text, .unit = CY_PENCIL_##in_unit, .low = from, .high = to,           \
        .fallback = otherwise                                                                      \
    }
#define NEED_WHOLE(key, from, to, text)                                                            \
    {                                                                                              \
        .name = key, .help = text, .kind = CY_PENCIL_WHOLE, .low = from, .high = to,               \
        .required = true                                                                           \
    }
#define MAY_WHOLE(key, from, to, otherwise, text)                                                  \
    {                                                                                              \
        .name = key, .help = text, .kind = CY_PENCIL_WHOLE, .low = from, .high = to,               \
        .fallback = otherwise                                                                      \
    }
#define NEED_DATE(key, text)                                                                       \
    {                                                                                              \
        .name = key, .help = text, .kind = CY_PENCIL_DATE, .required = true                        \
    }
#define MAY_DATE(key, text)                                                                        \
    {                                                                                              \
        .name = key, .help = text, .kind = CY_PENCIL_DATE                                          \
    }
#define NEED_CHOICE(key, words, text)                                                              \
    {                                                                                              \
        .name = key, .help = text, .kind = CY_PENCIL_CHOICE, .choices = words, .required = true    \
    }
#define MAY_CHOICE(key, words, otherwise, text)                                                    \
    {                                                                                              \
        .name = key, .help = text, .kind = CY_PENCIL_CHOICE, .choices = words,                     \
        .fallback = otherwise                                                                      \
    }

#define LATITUDE "degrees, north positive"

#define COUNT_OF(table) (sizeof(table) / sizeof *(table))
#define TAKES(table) .arguments = table, .count = COUNT_OF(table)

/* One subject's calculations. */
struct cy_pencil__subject {
    const struct cy_pencil_calculation *calculations;
    size_t count;
};
extern const struct cy_pencil__subject cy_pencil__climate, cy_pencil__sky, cy_pencil__canes,
    cy_pencil__bloom, cy_pencil__water, cy_pencil__trellis, cy_pencil__ends, cy_pencil__work;

/* An argument's value by name. Every calculation names only its own arguments. */
const struct cy_pencil_value *cy_pencil__value(const struct cy_pencil_inputs *in, const char *name);
bool cy_pencil__given(const struct cy_pencil_inputs *in, const char *name);
/* NAN where it is not given. */
double cy_pencil__number(const struct cy_pencil_inputs *in, const char *name);
int cy_pencil__choice(const struct cy_pencil_inputs *in, const char *name);
cy_day cy_pencil__day(const struct cy_pencil_inputs *in, const char *name);
/* 1 to 366, from `date` or else from `day`; false and an issue without either. */
bool cy_pencil__day_of_year(int *out, const struct cy_pencil_inputs *in, struct cy_issues *issues);

/* One more secondary result. */
void cy_pencil__also(struct cy_pencil_result *out, const char *name, double value,
                     enum cy_pencil_unit unit);
/* A day of the year, with its date where the year is known. */
void cy_pencil__also_day(struct cy_pencil_result *out, const char *name, double value,
                         enum cy_pencil_unit unit, cy_day day);
void cy_pencil__note(struct cy_pencil_result *out, const char *note);

/* Says what is wrong with the argument and returns CY_INVALID. */
int cy_pencil__wrong(const struct cy_pencil_inputs *in, struct cy_issues *issues, const char *name,
                     const char *allowed);
/* The same for arguments that do not go together. */
int cy_pencil__clash(const struct cy_pencil_inputs *in, struct cy_issues *issues, const char *name,
                     const char *found, const char *allowed);
int cy_pencil__missing(const struct cy_pencil_inputs *in, struct cy_issues *issues,
                       const char *name, const char *allowed);
/* What a function of the trellis room found out of bounds. */
int cy_pencil__refused(const struct cy_pencil_inputs *in, struct cy_issues *issues,
                       const struct cy_trellis_domain *bad);

/* Hours of temperature from `file` with `from` and `to`, from `temps`, or from `temp` and `hours`,
 * whichever is given. Hours that the file does not have are left out; where `unbroken` is asked
 * for, gaps of up to three days are filled between their ends instead and longer ones refused.
 * The caller frees temp_c. */
struct cy_pencil__hours {
    double *temp_c;
    size_t count;   /* hours in temp_c */
    size_t counted; /* of them, or of the file's, that were read and not filled */
    size_t lacking; /* hours asked for that the file does not have */
};
int cy_pencil__hours_of(struct cy_pencil__hours *out, const struct cy_pencil_inputs *in,
                        const struct cy_pencil_series *series, bool unbroken,
                        struct cy_issues *issues);
/* The days asked for by `from` and `to`, by default all from `first` to `last`. */
int cy_pencil__window(cy_day *from, cy_day *to, const struct cy_pencil_inputs *in, cy_day first,
                      cy_day last, struct cy_issues *issues);
/* Notes days or hours that the file lacks, unless there are none. */
void cy_pencil__note_lacking(struct cy_pencil_result *out, size_t lacking, const char *what,
                             const char *treatment);

/* text[0..length) as a bare or dressed number in `unit`, in which it is returned. */
enum cy_unit_error cy_pencil__quantity(double *out, const char *text, size_t length,
                                       enum cy_pencil_unit unit);

#endif
