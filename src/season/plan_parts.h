/* SPDX-License-Identifier: MIT
 * What the files of the planner share with one another and with nobody else. */
#ifndef SEASON_PLAN_PARTS_H
#define SEASON_PLAN_PARTS_H

#include <caneyear/crop/tipping.h>
#include <caneyear/crop/yield.h>
#include <caneyear/season/plan.h>
#include <caneyear/season/suitability.h>

/* A row with everything that its references say, ready for the engine's lower rooms. */
struct cy_row_facts {
    const struct cy_thing *row, *cultivar, *practice; /* cultivar and practice may be NULL */
    struct cy_traits traits;
    double latitude_deg, length_m;
    cy_day planted;     /* CY_DAY_NONE where not known */
    int planted_season; /* 0 where not known: long ago */
    enum cy_stock stock;
    enum cy_phase phase;
    bool fruiting_unknown; /* nobody knows: nothing alive is cut down */
};

/* traits.c */
double cy_farm_latitude(const struct cy_farm *farm); /* NaN where neither site nor place has one */
int cy_farm_normals(struct cy_normals *out, cy_basis *basis, const struct cy_farm *farm);
void cy_row_facts_of(struct cy_row_facts *out, const struct cy_farm *farm,
                     const struct cy_thing *row, double latitude_deg);
/* The same with what the plan's farm learned from its own seasons. */
void cy_plan_facts_of(struct cy_row_facts *out, const struct cy_plan *plan,
                      const struct cy_thing *row);
/* The window of a practice in a season: the one that ends in it. False without a practice. */
bool cy_practice_window(cy_day *from, cy_day *to, const struct cy_row_facts *facts, int season,
                        enum cy_field from_field, enum cy_field to_field);

/* records.c: the records of a kind that no later one corrects, by row and then as they were added.
 * The things are the farm's; dispose of the list. */
struct cy_record {
    const char *row; /* its key, "" where it names none */
    const struct cy_thing *thing;
};
struct cy_records {
    struct cy_record *items;
    size_t count;
};
int cy_records_gather(struct cy_records *out, const struct cy_farm *farm, enum cy_kind kind);
void cy_records_dispose(struct cy_records *records);
/* What was seen of a row's cohort of a year, up to and including `today`. */
void cy_row_sightings(struct cy_sightings *out, const struct cy_records *seen,
                      const struct cy_row_facts *facts, int year, cy_day today);

/* What share of a full stand of canes somebody counted of a row's cohort of a year, at most 1; NaN
 * where nobody did. A count from midsummer on is of the new canes, one before it of last year's;
 * on a mown row always of the new ones. */
double cy_row_counted(cy_basis *basis, const struct cy_records *seen,
                      const struct cy_row_facts *facts, int year, cy_day today);

/* How many records there are of a row; *out is the first. */
size_t cy_records_of_row(const struct cy_record **out, const struct cy_records *records,
                         const char *row);

/* plan.c: a fingerprint of traits, and of what was seen. */
uint64_t cy_hash_traits(uint64_t hash, const struct cy_traits *traits);

/* learn.c: what the farm's seasons say, from its notes, the station's days (or NULL) and the
 * weathers of the forecast; *out is the caller's to free, NULL where nothing is learned. */
int cy_learn_from(struct cy_learned **out, size_t *count, const struct cy_plan *plan,
                  const struct cy_records *seen, const struct cy_ensemble *ensemble,
                  const struct cy_weather *station, unsigned chill_kinds);
/* Fingerprint of all that it is made from but the weathers. */
uint64_t cy_learn_fingerprint(uint64_t hash, const struct cy_plan *plan,
                              const struct cy_records *seen);
/* What was remembered borrows its sources from the farm of another plan: from here on of this. */
void cy_learn_borrow(struct cy_plan *plan);
/* Moves the traits of a row by what was learned. */
void cy_learn_apply(struct cy_row_facts *facts, const struct cy_plan *plan);

/* learn_why.c: the steps of what was learned that a stage's date rests on. */
void cy_why_learned_behind(struct cy_trace *trace, const struct cy_plan *plan,
                           const struct cy_row_facts *facts, const struct cy_plan_cohort *canes,
                           enum cy_stage stage);

/* plan.c: canes that were counted stand in for what the row's length and gaps let expect: their
 * ratio, or NaN where nobody counted, and for a row in its first two leaves, which has few of them
 * already by its age's share. */
double cy_row_stand_counted(cy_basis *basis, const struct cy_plan *plan,
                            const struct cy_records *seen, const struct cy_row_facts *facts,
                            int year);
/* plan.c: what stands behind the plan's weathers. */
cy_basis cy_plan_weather_basis(const struct cy_plan *plan);
/* The model's own error in a member: the same from the same seed. */
struct cy_luck cy_plan_luck(uint64_t seed, int member);

/* why.c: parts of traces that several files of whys share. */
void cy_why_trait(struct cy_trace *trace, const char *name, const struct cy_trait *trait,
                  enum cy_quantity quantity);
void cy_why_given(struct cy_trace *trace, const char *name, const struct cy_thing *thing,
                  enum cy_field field); /* a number; nothing where it is not known */
void cy_why_value(struct cy_trace *trace, const char *name, const struct cy_given *value,
                  enum cy_quantity quantity); /* known or not */
void cy_why_constant(struct cy_trace *trace, enum cy_life_constant_id id);
void cy_why_weather(struct cy_trace *trace, const struct cy_plan *plan);

/* suitability.c: the table from a plan that has its farm, season and weathers and no more. The
 * table takes the plan's farm over. */
int cy_suitability_judge(struct cy_suitability *out, struct cy_plan *plan,
                         const struct cy_ensemble *ensemble);

/* jobs.c: fills plan->jobs from plan->rows; canes that were taken out are gone that day. */
int cy_plan_jobs(struct cy_plan *plan, const struct cy_ensemble *ensemble);

/* The plan's cohort that emerges in a year, or NULL. */
const struct cy_plan_cohort *cy_plan_cohort_of(const struct cy_plan_row *row, int year);

/* timetable.c: gives each job its days, against the crew's hours. */
int cy_plan_timetable(struct cy_plan *plan);
/* The crew's hours on a working day: as typed, else those of its people, else the default. */
struct cy_given cy_crew_hours(const struct cy_farm *farm);

/* passes.c: the days on which a row is tipped, fewest first to last. */
struct cy_passes {
    int count;
    double day[CY_TIPPING_MOST]; /* whole days */
    double missed;               /* share of the canes that outgrow every pass */
    cy_day last;                 /* no pass after it; CY_DAY_NONE where nothing ends them */
    bool met;                    /* as few as the practice asks */
    cy_basis basis;
};
/* The day by which it has frozen, of the nights last asked for. Zero-initialise for a plan. */
struct cy_frozen {
    bool is_known;
    double colder_k;
    cy_day day;
};
int cy_row_passes(struct cy_passes *out, const struct cy_plan *plan,
                  const struct cy_ensemble *ensemble, const struct cy_row_facts *facts,
                  const struct cy_plan_cohort *canes, struct cy_frozen *frozen);

/* thirst.c: the inch a week of a young planting less the rain, a storm credited only as far as
 * the soil holds it; weeks are asked for in order, since what is held is carried on. */
struct cy_water_log;
struct cy_thirst {
    const struct cy_ensemble *ensemble;
    const struct cy_water_log *log; /* what gauge and valve say of the row, or NULL */
    double storage_mm;
    double *held_mm, *missing_mm; /* one a member */
    cy_basis basis;
};
/* The share of the soil's volume that is water a plant can draw. */
struct cy_trait cy_soil_water(const struct cy_farm *farm);
double cy_thirst_storage_mm(cy_basis *basis, const struct cy_farm *farm);
int cy_thirst_begin(struct cy_thirst *out, const struct cy_farm *farm,
                    const struct cy_ensemble *ensemble);
/* What the week from a day lacks, and the share of members that lack `dry_mm` or more. */
struct cy_figure cy_thirst_week(struct cy_thirst *thirst, cy_day from, double dry_mm,
                                double *dry_share);
void cy_thirst_end(struct cy_thirst *thirst);

/* crop.c: what one life bears, as shares of a full crop; and what that is on a row. The scratch has
 * room for two numbers a life. */
void cy_crop_shape(struct cy_plan_crop *out, const struct cy_life *lives, int count, bool autumn,
                   double *scratch);
/* What the weight that a row can bear is reckoned from, and what stands behind its age and what
 * stands of it. */
struct cy_crop_stand {
    struct cy_yield_stand stand;
    cy_basis age, present;
    bool other_crops; /* the one yield said of the cultivar is that of its other crop */
};
void cy_row_stand(struct cy_crop_stand *out, const struct cy_plan *plan,
                  const struct cy_row_facts *facts, const struct cy_plan_cohort *cohort,
                  bool autumn);
/* Adds the crop to the row; nothing where no yield is known or nothing ripens. */
int cy_row_crop(struct cy_plan_row *row, const struct cy_plan *plan,
                const struct cy_row_facts *facts, const struct cy_plan_cohort *cohort,
                const struct cy_plan_crop *shape);

/* water.c: the season's water, from plan->rows; jobs depend on it. What was worked out before is
 * remembered. */
struct cy_water_memory;
struct cy_water_memory *cy_water_memory_new(void); /* NULL without memory */
void cy_water_memory_free(struct cy_water_memory *memory);
int cy_plan_fill_water(struct cy_plan *plan, struct cy_water_memory *memory,
                       const struct cy_ensemble *ensemble, uint64_t ensemble_fingerprint);
void cy_water_plan_free(struct cy_water_plan *water);

#endif
