/* SPDX-License-Identifier: MIT
 * The values that count: as set, or the table's defaults. */
#include <caneyear/season/farm.h>

#include <math.h>

static const struct cy_value *value_of(const struct cy_thing *thing, enum cy_field field)
{
    const struct cy_field_info *info = cy_field_info(field);
    if (!thing || !info || info->kind != thing->kind)
        return NULL;
    return &thing->values[field - cy_kind_info(thing->kind)->first_field];
}

struct cy_given cy_given(const struct cy_thing *thing, enum cy_field field)
{
    struct cy_given given = {.number = NAN, .text = "", .source = ""};
    const struct cy_field_info *info = cy_field_info(field);
    const struct cy_value *value = value_of(thing, field);
    if (!info || (thing && !value))
        return given;
    if (value && value->set) {
        given.known = given.is_set = true;
        if (info->type == CY_TYPE_TEXT || info->type == CY_TYPE_REFERENCE)
            given.text = value->text ? value->text : "";
        else
            given.number = value->number;
        given.basis = value->basis;
        given.source = value->source ? value->source : "";
    } else if (!isnan(info->fallback)) {
        given.known = true;
        given.number = info->fallback;
        given.basis = info->basis;
        given.source = info->source;
    }
    return given;
}

double cy_number(const struct cy_thing *thing, enum cy_field field)
{
    return cy_given(thing, field).number;
}

int cy_choice(const struct cy_thing *thing, enum cy_field field)
{
    double index = cy_number(thing, field);
    return isnan(index) ? -1 : (int)index;
}

cy_day cy_date(const struct cy_thing *thing, enum cy_field field)
{
    double day = cy_number(thing, field);
    return isnan(day) ? CY_DAY_NONE : (cy_day)day;
}

const char *cy_string(const struct cy_thing *thing, enum cy_field field)
{
    return cy_given(thing, field).text;
}

const struct cy_thing *cy_referred(const struct cy_farm *farm, const struct cy_thing *thing,
                                   enum cy_field field)
{
    const struct cy_field_info *info = cy_field_info(field);
    const char *key = cy_string(thing, field);
    if (!info || info->type != CY_TYPE_REFERENCE || !*key)
        return NULL;
    return cy_farm_by_key(farm, info->target, 0, key);
}

const char *cy_thing_name(const struct cy_thing *thing)
{
    const char *name = cy_string(thing, cy_field_named(thing->kind, "name", 4));
    return *name ? name : thing->key;
}

enum cy_system cy_farm_system(const struct cy_farm *farm)
{
    return cy_choice(cy_farm_one(farm, CY_KIND_FARM), CY_FARM_UNITS) == CY_UNITS_METRIC ? CY_METRIC
                                                                                        : CY_US;
}

/* The square of the chord between two points of the globe, radius 1: enough to compare by. */
static double chord2(double latitude1, double longitude1, double latitude2, double longitude2)
{
    const double degree = acos(-1.0) / 180;
    double up = sin((latitude2 - latitude1) * degree / 2);
    double along = sin((longitude2 - longitude1) * degree / 2);
    return up * up + cos(latitude1 * degree) * cos(latitude2 * degree) * along * along;
}

const struct cy_thing *cy_farm_place(const struct cy_farm *farm)
{
    const struct cy_thing *site = cy_farm_one(farm, CY_KIND_SITE);
    if (cy_given(site, CY_SITE_PLACE).known)
        return cy_referred(farm, site, CY_SITE_PLACE);
    double latitude = cy_number(site, CY_SITE_LATITUDE);
    double longitude = cy_number(site, CY_SITE_LONGITUDE);
    const struct cy_thing *place = NULL, *nearest = NULL;
    double least = INFINITY;
    while ((place = cy_farm_next(farm, CY_KIND_PLACE, 0, place))) {
        double away = chord2(latitude, longitude, cy_number(place, CY_PLACE_LATITUDE),
                             cy_number(place, CY_PLACE_LONGITUDE));
        if (away < least) { /* never of NaN: a place or site that is nowhere is passed over */
            least = away;
            nearest = place;
        }
    }
    return nearest;
}
