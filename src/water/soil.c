/* SPDX-License-Identifier: MIT
 * The soil as a store of water: what it holds, and its balance over a day and a run of days. */
#include <caneyear/water/soil.h>

#include <math.h>
#include <stddef.h>

static const struct {
    const char *word;
    double capacity, wilting;
} textures[CY_WATER_TEXTURE_COUNT] = {
#define TEXTURE(name, word, capacity, wilting) [CY_WATER_##name] = {word, capacity, wilting},
    CY_WATER_TEXTURES(TEXTURE)
#undef TEXTURE
};

const char *cy_water_texture_word(enum cy_water_texture texture)
{
    return textures[texture].word;
}

double cy_water_field_capacity(enum cy_water_texture texture)
{
    return textures[texture].capacity;
}

double cy_water_wilting_point(enum cy_water_texture texture)
{
    return textures[texture].wilting;
}

double cy_water_available_mm(double field_capacity, double wilting_point, double root_depth_m)
{
    return 1000.0 * (field_capacity - wilting_point) * root_depth_m;
}

double cy_water_share_before_stress(double table_p, double etc_mm)
{
    return fmin(0.8, fmax(0.1, table_p + 0.04 * (5.0 - etc_mm)));
}

double cy_water_stress(double taw_mm, double p, double depletion_mm)
{
    if (depletion_mm <= p * taw_mm)
        return 1.0;
    return fmax(0.0, (taw_mm - depletion_mm) / ((1.0 - p) * taw_mm));
}

struct cy_water_after cy_water_balance(const struct cy_water_day *day)
{
    const double given = day->rain_mm + day->irrigation_mm;
    struct cy_water_after after = {.ks = cy_water_stress(day->taw_mm, day->p, day->depletion_mm),
                                   .etc_mm = day->kc * day->et_mm};

    after.eta_mm =
        fmin(after.ks * after.etc_mm, fmax(0.0, day->taw_mm - day->depletion_mm + given));
    after.depletion_mm = day->depletion_mm - given + after.eta_mm;
    if (after.depletion_mm < 0.0) {
        after.drainage_mm = -after.depletion_mm;
        after.depletion_mm = 0.0;
    }
    after.rain_kept_mm = fmax(0.0, day->rain_mm - after.drainage_mm);
    return after;
}

struct cy_water_sum cy_water_run(struct cy_water_after *days, const struct cy_water_soil *soil,
                                 double depletion_mm, const struct cy_water_weather *weather,
                                 int count)
{
    struct cy_water_sum sum = {.depletion_mm = depletion_mm};

    for (int i = 0; i < count; i++) {
        const double etc_mm = weather[i].kc * weather[i].et_mm;
        const struct cy_water_day day = {
            .taw_mm = soil->taw_mm,
            .p = soil->p_follows_use ? cy_water_share_before_stress(soil->p, etc_mm) : soil->p,
            .depletion_mm = sum.depletion_mm,
            .et_mm = weather[i].et_mm,
            .kc = weather[i].kc,
            .rain_mm = weather[i].rain_mm,
            .irrigation_mm = weather[i].irrigation_mm,
        };
        const struct cy_water_after after = cy_water_balance(&day);
        if (days != NULL)
            days[i] = after;
        sum.depletion_mm = after.depletion_mm;
        sum.etc_mm += after.etc_mm;
        sum.eta_mm += after.eta_mm;
        sum.rain_mm += day.rain_mm;
        sum.rain_kept_mm += after.rain_kept_mm;
        sum.irrigation_mm += day.irrigation_mm;
        sum.drainage_mm += after.drainage_mm;
        sum.stress_days += after.ks < 1.0;
    }
    return sum;
}

double cy_water_rain_kept(double rain_mm, double depletion_mm)
{
    return fmin(rain_mm, depletion_mm);
}
