/* SPDX-License-Identifier: MIT
 * Wind on a trellis row: pressure, and the force on the canopy. */
#ifndef CANEYEAR_TRELLIS_WIND_H
#define CANEYEAR_TRELLIS_WIND_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/trellis/domain.h>

/* EXPOSURE(name, word) */
#define CY_EXPOSURES(EXPOSURE)                                                                     \
    EXPOSURE(B, "B") /* houses or woods all around */                                              \
    EXPOSURE(C, "C") /* open country */                                                            \
    EXPOSURE(D, "D") /* flat ground or water to windward */

enum cy_exposure {
#define EXPOSURE(name, word) CY_EXPOSURE_##name,
    CY_EXPOSURES(EXPOSURE)
#undef EXPOSURE
        CY_EXPOSURE_COUNT
};

const char *cy_exposure_word(enum cy_exposure exposure);
bool cy_exposure_parse(enum cy_exposure *out, const char *text, size_t length);

#define CY_WIND_KD 0.85   /* open structures, ASCE 7: from memory; 1 is the cautious choice */
#define CY_WIND_KZT 1.0   /* flat ground */
#define CY_WIND_GUST 0.85 /* G of a rigid structure: coursework note on ASCE 7 */

struct cy_wind_input {
    double speed_m_s; /* 3-second gust, service level */
    enum cy_exposure exposure;
    double height_m;
    double kd, kzt; /* usually CY_WIND_KD and CY_WIND_KZT */
};

struct cy_wind_result {
    double pressure_pa, kz;
};

int cy_wind_pressure(struct cy_wind_result *out, const struct cy_wind_input *in,
                     struct cy_trellis_domain *bad);

/* Optical porosity of a row in leaf and of one without leaves: Gonzales and others, Transactions
 * of the ASABE 61(2), 2018, measured on a tree hedge. */
#define CY_POROSITY_LEAF 0.20
#define CY_POROSITY_BARE 0.61

/* Drag of the gross canopy area. No blackberry canopy has been measured: straight between the two
 * published points for a tree hedge, so a placeholder. */
double cy_wind_drag(double porosity);

/* 1 for the first three rows from the windward edge, 0.7 beyond: placeholder. */
double cy_wind_shelter(int row_from_edge);

struct cy_canopy_input {
    double pressure_pa;
    double porosity;
    double canopy_m; /* from lowest to highest leaf */
    double middle_m; /* of the canopy, above ground */
    double post_spacing_m;
    double shelter;
};

struct cy_canopy_result {
    double drag, force_n, moment_nm; /* on one line post, moment at grade */
};

int cy_wind_canopy(struct cy_canopy_result *out, const struct cy_canopy_input *in,
                   struct cy_trellis_domain *bad);

#endif
