/* SPDX-License-Identifier: MIT
 * What rain leaves a young planting short of, week by week, over the weathers. */
#include "season/water_parts.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/water/need.h>
#include <caneyear/water/soil.h>

/* Water that a loam holds, between the published sandy loam's and silt loam's. */
#define OTHER_SOIL_SHARE 0.13

/* The share of the soil's volume that is water a plant can draw. */
struct cy_trait cy_soil_water(const struct cy_farm *farm)
{
    const struct cy_thing *site = cy_farm_one(farm, CY_KIND_SITE);
    struct cy_given measured = cy_given(site, CY_SITE_SOIL_WATER);
    struct cy_given texture = cy_given(site, CY_SITE_SOIL);
    if (measured.known)
        return (struct cy_trait){measured.number, measured.basis, measured.source};
    const char *word = cy_field_info(CY_SITE_SOIL)->choices[(int)texture.number];
    for (int i = 0; i < CY_WATER_TEXTURE_COUNT; i++)
        if (cy_streq(word, cy_water_texture_word((enum cy_water_texture)i)))
            return (struct cy_trait){cy_water_field_capacity((enum cy_water_texture)i) -
                                         cy_water_wilting_point((enum cy_water_texture)i),
                                     texture.basis | CY_BASIS_MEMORY,
                                     "FAO-56 Table 19, from memory"};
    return (struct cy_trait){OTHER_SOIL_SHARE, CY_BASIS_PLACEHOLDER, ""};
}

double cy_thirst_storage_mm(cy_basis *basis, const struct cy_farm *farm)
{
    struct cy_trait water = cy_soil_water(farm);
    struct cy_given depth = cy_given(cy_farm_one(farm, CY_KIND_SITE), CY_SITE_SOIL_DEPTH);
    double roots_m =
        depth.number < CY_WATER_YOUNG_ROOTS_M ? depth.number : CY_WATER_YOUNG_ROOTS_M;
    *basis = water.basis | depth.basis | CY_BASIS_PUBLISHED;
    return cy_water_available_mm(water.value, 0, roots_m);
}

int cy_thirst_begin(struct cy_thirst *out, const struct cy_farm *farm,
                    const struct cy_ensemble *ensemble)
{
    *out = (struct cy_thirst){.ensemble = ensemble};
    out->storage_mm = cy_thirst_storage_mm(&out->basis, farm);
    out->held_mm = cy_zeroed((size_t)ensemble->count, sizeof *out->held_mm);
    out->missing_mm = cy_zeroed((size_t)ensemble->count, sizeof *out->missing_mm);
    if (out->held_mm && out->missing_mm)
        return CY_OK;
    cy_thirst_end(out);
    return CY_NO_MEMORY;
}

void cy_thirst_end(struct cy_thirst *thirst)
{
    free(thirst->held_mm);
    free(thirst->missing_mm);
}

struct cy_figure cy_thirst_week(struct cy_thirst *thirst, cy_day from, double dry_mm,
                                double *dry_share)
{
    const struct cy_ensemble *ensemble = thirst->ensemble;
    int dry = 0;
    for (int member = 0; member < ensemble->count; member++) {
        const struct cy_weather *weather = &ensemble->members[member].weather;
        struct cy_water_week week = {.need_mm = CY_WATER_WEEK_MM,
                                     .storage_mm = thirst->storage_mm,
                                     .held_mm = thirst->held_mm[member]};
        for (cy_day day = from; day < from + 7; day++)
            week.rain_mm += cy_water_log_rain(thirst->log, weather, day) +
                            cy_water_log_given(thirst->log, day);
        struct cy_water_week_need need = cy_water_week_need(&week);
        thirst->held_mm[member] = need.held_mm;
        thirst->missing_mm[member] = need.net_mm;
        dry += need.net_mm >= dry_mm;
    }
    *dry_share = (double)dry / ensemble->count;
    return cy_figure_of(thirst->missing_mm, (size_t)ensemble->count, CY_BASIS_NONE);
}
