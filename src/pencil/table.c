/* SPDX-License-Identifier: MIT
 * The table of calculations, put together from its subjects, and the words of its units. */
#include "inside.h"

#include <caneyear/base/text.h>

static const struct cy_pencil__subject *const subjects[] = {
    &cy_pencil__climate, &cy_pencil__sky,     &cy_pencil__canes, &cy_pencil__bloom,
    &cy_pencil__water,   &cy_pencil__trellis, &cy_pencil__ends,  &cy_pencil__work,
};

static const struct {
    enum cy_quantity quantity;
    const char *bare, *us, *shown;
} units[] = {
#define UNIT(name, quantity, bare, us, shown) {CY_Q_##quantity, bare, us, shown},
    CY_PENCIL_UNITS(UNIT)
#undef UNIT
};

static const char *const forms[] = {
#define KIND(name, form) form,
    CY_PENCIL_KINDS(KIND)
#undef KIND
};

enum cy_quantity cy_pencil_quantity(enum cy_pencil_unit unit)
{
    return units[unit].quantity;
}

const char *cy_pencil_unit_bare(enum cy_pencil_unit unit)
{
    return units[unit].bare;
}

const char *cy_pencil_unit_us(enum cy_pencil_unit unit)
{
    return units[unit].us;
}

const char *cy_pencil_unit_shown(enum cy_pencil_unit unit)
{
    return units[unit].shown;
}

const char *cy_pencil_kind_form(enum cy_pencil_kind kind)
{
    return forms[kind];
}

const struct cy_pencil_calculation *cy_pencil_at(size_t index)
{
    for (size_t i = 0; i < COUNT_OF(subjects); i++) {
        if (index < subjects[i]->count)
            return &subjects[i]->calculations[index];
        index -= subjects[i]->count;
    }
    return NULL;
}

size_t cy_pencil_count(void)
{
    size_t count = 0;
    for (size_t i = 0; i < COUNT_OF(subjects); i++)
        count += subjects[i]->count;
    return count;
}

const struct cy_pencil_calculation *cy_pencil_find(const char *name)
{
    const struct cy_pencil_calculation *calculation;
    for (size_t i = 0; (calculation = cy_pencil_at(i)); i++)
        if (cy_streq(calculation->name, name))
            return calculation;
    return NULL;
}
