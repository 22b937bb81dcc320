/* SPDX-License-Identifier: MIT
 * The two-year life of one cohort of canes in one weather: when each stage comes, or why never.
 *
 * A row's cohort of year Y is all canes that emerge in season Y: primocanes in Y, floricanes in
 * Y + 1, then spent. Heat is summed in degree hours, base 6 C and optimum 25 C, straight between
 * (Black et al., HortScience 43(7):2000-2004, 2008, bloom of 117 Rubus genotypes). The paper's
 * start of the sum was not to be read; here it is midwinter, or the day on which the chill need
 * is met where that is later, since buds at rest do not answer to heat. */
#ifndef CANEYEAR_CROP_LIFE_H
#define CANEYEAR_CROP_LIFE_H

#include <stdbool.h>
#include <stdint.h>

#include <caneyear/base/basis.h>
#include <caneyear/climate/ensemble.h>
#include <caneyear/crop/cold.h>
#include <caneyear/crop/terms.h>

/* A number with what stands behind it. */
struct cy_trait {
    double value; /* NaN where not known */
    cy_basis basis;
    const char *source; /* borrowed; "" where there is none */
};

/* A cultivar under a practice on a row. */
struct cy_traits {
    enum cy_fruiting fruiting;
    enum cy_cropping cropping;
    enum cy_chill_kind chill_rule;   /* counts only where chill_need is known */
    struct cy_trait chill_need;      /* in the rule's own unit */
    struct cy_trait bloom_heat_kh;   /* rest to half bloom */
    struct cy_trait bud_break_share; /* of bloom_heat_kh, 0 to 1 */
    struct cy_trait bloom_to_peak_d; /* half bloom to half of the weight picked */
    struct cy_trait pick_length_d;   /* 5 % to 95 % of the weight */
    struct cy_trait glossy_d;        /* an open flower to glossy black fruit */
    struct cy_trait dull_d;          /* and from there to dull black, fully ripe */
    struct cy_trait emerge_heat_kh;  /* midwinter to half of the canes up */
    struct cy_trait emerge_spread_d; /* deviation of emergence among the canes */
    struct cy_trait growth_m_d;      /* height gained a day */
    enum cy_growth growth_follows;   /* days, or heat: then on a day of CY_LIFE_GROWTH_DAY_KH */
    struct cy_trait tip_height_m;    /* NaN where canes are not tipped */
    struct cy_trait autumn_heat_kh;  /* emergence to half bloom on this year's canes */
    struct cy_trait autumn_bloom_to_peak_d;
    struct cy_trait autumn_length_d;
    struct cy_cold_course buds;   /* what dormant buds bear; unknown: no loss is assumed */
    struct cy_trait winter_limit; /* C, a night that cold kills the canes; NaN: no verdict */
    struct cy_trait second_share; /* what second buds bear in place of dead ones, of their crop */
    double colder_k;              /* the row's nights below the station's */
    /* The model's own error, deviations in days: of both blooms, and of the days from bloom to
     * ripe. Published, or learned from this farm's seasons. */
    struct cy_trait bloom_error_d, autumn_bloom_error_d, ripen_error_d;
};

/* How new canes gain height: so much a day, or in proportion to the degree hours of each day (base
 * 6 C, optimum 25 C). Cane growth is faster at 20 C than at 16 than at 12 (Horticulturae
 * 9(12):1285, 2023: the order alone); that it follows those degree hours is a placeholder, as is
 * the rate, which is then that of a day at a steady 20 C. */
#define CY_LIFE_GROWTH_DAY_KH (24 * (20.0 - 6.0))

/* The published errors. */
void cy_traits_set_errors(struct cy_traits *traits);

/* What was seen of a cohort; it replaces the model from then on. */
struct cy_sightings {
    cy_day stage[CY_STAGE_COUNT]; /* CY_DAY_NONE where not seen */
    bool half_bloom_guessed;      /* the bloom above is reckoned from a first bloom that was seen */
    cy_day height_day;            /* of the last height; CY_DAY_NONE without one */
    double height_m;
    cy_day first_height_day; /* of the first one, which may be the same */
    double first_height_m;
    /* The share that was dead of all buds or flowers there had been, on a day; it replaces what
     * the nights up to it killed in the model. CY_DAY_NONE where nobody counted. */
    cy_day killed_day, autumn_killed_day;
    double killed, autumn_killed;
};
void cy_sightings_clear(struct cy_sightings *sightings);
/* What the canes gained a day between the first height seen and the last; NaN where one height,
 * or none, says nothing of it. */
double cy_sightings_growth_m_d(const struct cy_sightings *sightings);

struct cy_cohort {
    int year;
    double latitude_deg;
    bool stands;       /* whether there are such canes at all */
    bool emerges_here; /* false for the canes that long-cane plants bring along */
    bool kept;         /* whether they are left standing over winter to fruit */
    cy_day planted;    /* of the row; CY_DAY_NONE where long ago or not known */
    struct cy_sightings seen;
};

/* The model's own error, drawn once for each member, cultivar and year: standard normal. */
struct cy_luck {
    double bloom, ripening, autumn_bloom, autumn_ripening;
};

enum cy_never {
    CY_COMES,
    CY_DOES_NOT_APPLY,
    CY_TOO_LITTLE_CHILL,
    CY_FLOWERS_FROZEN, /* a spring frost on the flowers */
    CY_WINTER_KILLED,  /* the buds, or the canes, died in winter */
    CY_FREEZE_FIRST,   /* the first autumn freeze came before */
    CY_TOO_LITTLE_HEAT,
    CY_OUT_OF_SIGHT /* past the days that the weathers cover */
};

struct cy_life {
    cy_day day[CY_STAGE_COUNT];    /* CY_DAY_NONE where it never comes */
    uint8_t never[CY_STAGE_COUNT]; /* enum cy_never */
    double autumn_share, summer_share; /* of what the canes could bear, ripens: 0 where lost */
    double buds_left;    /* first buds after the winter; NaN where none wakes or nothing is known */
    double flowers_left; /* of their flowers after spring, second buds apart; NaN without bloom */
    cy_day autumn_due, autumn_freeze; /* the peak without a freeze, and the freeze; CY_DAY_NONE */
};

/* What ripens of a crop around its peak before a freeze, 0 to 1; all where there is none. */
double cy_life_ripened(cy_day peak, double length_d, cy_day freeze);

void cy_life_run(struct cy_life *out, const struct cy_traits *traits,
                 const struct cy_cohort *cohort, const struct cy_member *member,
                 const struct cy_luck *luck);

/* The bits behind a stage's date: those of what was seen, or of the traits and the weather that it
 * rests on. */
cy_basis cy_life_basis(const struct cy_traits *traits, const struct cy_sightings *seen,
                       cy_basis weather, enum cy_stage stage);

/* Whether fruit on this year's canes is part of the plan. */
bool cy_takes_autumn_crop(const struct cy_traits *traits);

/* Whether this cohort stands, and is kept to fruit next year. */
void cy_cohort_place(struct cy_cohort *cohort, const struct cy_traits *traits, enum cy_stock stock,
                     int planted_season, enum cy_phase phase);

/* What the canes do on a day, from the days of their stages (a stage that never comes is
 * CY_DAY_NONE); `gone` is the day on which they are taken out or mown, or CY_DAY_NONE. */
enum cy_state cy_life_state(const cy_day stage[CY_STAGE_COUNT], double emerge_spread_d, cy_day gone,
                            cy_day day);

/* The constants behind the dates, for the trace and for tests. */
struct cy_life_constant {
    const char *name;
    double value;
    enum cy_quantity quantity;
    cy_basis basis;
    const char *source;
};
enum cy_life_constant_id {
    CY_LIFE_BLOOM_ERROR,  /* deviation of the bloom date, days */
    CY_LIFE_RIPEN_ERROR,  /* deviation of the days from bloom to ripe */
    CY_LIFE_FLOWER_KILL,  /* C */
    CY_LIFE_FIRST_FREEZE, /* C */
    CY_LIFE_FLOWER_REACH, /* days from half bloom to green fruit, for what is shown of a day */
    CY_LIFE_FIRST_TO_HALF_BLOOM, /* days */
    CY_LIFE_LATERAL_DAYS,        /* from tip to laterals */
    CY_LIFE_ROOTING_DAYS,        /* from planting to growth */
    CY_LIFE_SECOND_BUDS_LATE,    /* after a frost on the flowers */
    CY_LIFE_FLOWER_OPEN,         /* days */
    CY_LIFE_CONSTANT_COUNT
};
const struct cy_life_constant *cy_life_constant(enum cy_life_constant_id id);

#endif
