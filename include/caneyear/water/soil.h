/* SPDX-License-Identifier: MIT
 * The soil as a store of water: what it holds, and its balance over a day and a run of days.
 * All depths are millimetres over the ground that the balance is drawn up for. */
#ifndef CANEYEAR_WATER_SOIL_H
#define CANEYEAR_WATER_SOIL_H

#include <stdbool.h>

/* TEXTURE(name, word, field capacity, wilting point), volumes of water per volume of soil:
 * typical pairs after FAO-56 Table 19, quoted from memory. */
#define CY_WATER_TEXTURES(TEXTURE)                                                                 \
    TEXTURE(SAND, "sand", 0.12, 0.045)                                                             \
    TEXTURE(LOAMY_SAND, "loamy sand", 0.15, 0.06)                                                  \
    TEXTURE(SANDY_LOAM, "sandy loam", 0.23, 0.11)                                                  \
    TEXTURE(SILT_LOAM, "silt loam", 0.29, 0.15)                                                    \
    TEXTURE(SILT, "silt", 0.32, 0.15)                                                              \
    TEXTURE(SILTY_CLAY, "silty clay", 0.35, 0.23)

enum cy_water_texture {
#define TEXTURE(name, word, capacity, wilting) CY_WATER_##name,
    CY_WATER_TEXTURES(TEXTURE)
#undef TEXTURE
        CY_WATER_TEXTURE_COUNT
};

const char *cy_water_texture_word(enum cy_water_texture texture);
double cy_water_field_capacity(enum cy_water_texture texture);
double cy_water_wilting_point(enum cy_water_texture texture);

/* Total available water of a root zone: 1000 (capacity - wilting) depth. */
double cy_water_available_mm(double field_capacity, double wilting_point, double root_depth_m);

/* The share of the available water that is taken before the plant feels it: the table's value
 * (for a crop use of 5 mm/d) plus 0.04 (5 - use), kept within 0.1 to 0.8. */
double cy_water_share_before_stress(double table_p, double etc_mm);

/* How much of its full use the plant still draws, 1 to 0, at a depletion. */
double cy_water_stress(double taw_mm, double p, double depletion_mm);

struct cy_water_day {
    double taw_mm;       /* total available water, above 0 */
    double p;            /* share taken before stress, 0 <= p < 1, used as it is given */
    double depletion_mm; /* missing from a full root zone in the morning, 0 to taw_mm */
    double et_mm;        /* reference evapotranspiration */
    double kc;           /* crop coefficient */
    double rain_mm, irrigation_mm;
};

struct cy_water_after {
    double depletion_mm; /* in the evening */
    double ks;           /* stress coefficient, from the morning's depletion */
    double etc_mm;       /* what the crop would use without stress */
    double eta_mm;       /* what it used */
    double drainage_mm;  /* what the root zone could not hold */
    double rain_kept_mm; /* effective rain: what drains away is put down to rain first */
};

/* FAO-56 equations 82 to 86 without run-off and capillary rise. Where a shallow root zone holds
 * less than the day's use, the use is what was there, so that water is never made or lost. */
struct cy_water_after cy_water_balance(const struct cy_water_day *day);

struct cy_water_soil {
    double taw_mm, p;
    bool p_follows_use; /* p is the table's value, corrected for each day's crop use */
};

struct cy_water_weather {
    double et_mm, kc, rain_mm, irrigation_mm;
};

struct cy_water_sum {
    double depletion_mm; /* after the last day */
    double etc_mm, eta_mm, rain_mm, rain_kept_mm, irrigation_mm, drainage_mm;
    int stress_days; /* mornings with ks below 1 */
};

/* The balance day after day from a first morning's depletion. `days` is NULL, or has room for
 * `count` results. */
struct cy_water_sum cy_water_run(struct cy_water_after *days, const struct cy_water_soil *soil,
                                 double depletion_mm, const struct cy_water_weather *weather,
                                 int count);

/* Rain over a run of days that the soil can hold: no more than is missing from it. */
double cy_water_rain_kept(double rain_mm, double depletion_mm);

#endif
