/* SPDX-License-Identifier: MIT
 * How much water the crop needs: crop coefficients, the establishment year, run times. */
#ifndef CANEYEAR_WATER_NEED_H
#define CANEYEAR_WATER_NEED_H

#include <stddef.h>

/* A crop coefficient over the season in four stages: flat, rising, flat, falling. */
struct cy_water_kc {
    double initial, mid, end;
    int days[4]; /* length of the stages, each 0 or more */
};

/* Berry bushes, FAO-56 Table 12: 0.30, 1.05, 0.50. No stage lengths are published for berries:
 * those here are the grape row's (20, 50, 75, 60 days) and a placeholder. */
extern const struct cy_water_kc cy_water_kc_berries;

/* `day` is counted from the start of the first stage; before it the first value holds, after the
 * fourth stage the last. */
double cy_water_kc_at(const struct cy_water_kc *curve, double day);

/* A tabulated mid or end value moved to the site's wind at 2 m and least humidity, FAO-56
 * equation 62, for a crop of this height. */
double cy_water_kc_at_site(double kc, double wind_m_s, double rh_min_pct, double height_m);

/* Measured on trailing blackberry in Oregon (weighing lysimeters: Carroll, Orr, Davis, Strik and
 * Bryla, Acta Horticulturae 1388, article 29): straight between the published dates, flat beyond
 * them. Erect eastern types were not measured. */
enum cy_water_measured { CY_WATER_FIRST_YEAR, CY_WATER_FULL_CROP };

/* `day_of_year` is a northern one: half a year is added in the south. */
double cy_water_kc_measured(enum cy_water_measured curve, int day_of_year);

/* The inch a week of a young planting. */
#define CY_WATER_WEEK_MM 25.4

struct cy_water_week {
    double need_mm;    /* over the wetted strip; CY_WATER_WEEK_MM */
    double rain_mm;    /* of the week */
    double storage_mm; /* the most that the strip's root zone keeps for the plant */
    double held_mm;    /* left over from the week before, 0 to storage_mm */
};

struct cy_water_week_need {
    double net_mm;      /* to be given, over the wetted strip */
    double credited_mm; /* the part of the need that rain and the store met */
    double lost_mm;     /* rain beyond what the store takes */
    double held_mm;     /* left over for the next week */
};

/* Rain counts only as far as the soil can store it; what the week does not use is carried on. */
struct cy_water_week_need cy_water_week_need(const struct cy_water_week *week);

struct cy_water_run_time {
    double net_mm;     /* to be given over the strip; crop coefficient and rain already in it */
    double width_m;    /* of the strip watered */
    double flow_lph;   /* of one emitter */
    double spacing_m;  /* between emitters along a line */
    double lines;      /* lines along each row */
    double efficiency; /* share of the water given that reaches the roots, above 0 to 1 */
};

struct cy_water_run_result {
    double minutes;
    double litres_per_100m;   /* of row, to be pumped */
    double flow_lph_per_100m; /* of row, with every line running */
};

/* One millimetre on one square metre is one litre. */
struct cy_water_run_result cy_water_run_time(const struct cy_water_run_time *run);

#endif
