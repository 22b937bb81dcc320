/* SPDX-License-Identifier: MIT
 * The season's plan: what every cohort does when, and the jobs, from a farm and a day.
 *
 * A plan is a pure function of the farm, the day and the number of weathers. The planner only
 * remembers what it worked out before, so that an edit costs what it touches. */
#ifndef CANEYEAR_SEASON_PLAN_H
#define CANEYEAR_SEASON_PLAN_H

#include <caneyear/climate/ensemble.h>
#include <caneyear/crop/late.h>
#include <caneyear/crop/life.h>
#include <caneyear/season/farm.h>
#include <caneyear/season/frostodds.h>
#include <caneyear/season/schedule.h>

/* ---- rows and their cohorts ----------------------------------------------------------------- */

/* What a cohort is in a season: this year's canes or last year's. */
enum cy_role { CY_ROLE_NONE, CY_ROLE_PRIMOCANES, CY_ROLE_FLORICANES };

/* What the cold leaves of the summer crop, in the mean of the members; NaN where nothing is known
 * or nothing is borne. */
struct cy_plan_cold {
    double buds;    /* of the first buds, after the winter */
    double flowers; /* of their flowers, after spring */
};

#define CY_PLAN_LATE_DAYS 14 /* "tipped two weeks late", for what that costs */

struct cy_plan_cohort {
    int year;
    enum cy_role role;       /* in the plan's season; NONE where it lives before or after it */
    bool kept;               /* left over winter to fruit */
    struct cy_figure stage[CY_STAGE_COUNT]; /* days; NaN where it never comes */
    uint8_t never[CY_STAGE_COUNT]; /* enum cy_never: the commonest reason of those that miss */
    bool seen[CY_STAGE_COUNT];     /* the date was observed */
    double emerge_spread_d;
    struct cy_trait growth_m_d; /* the cultivar's, or what two heights seen of these canes tell */
    struct cy_figure glossy, dull; /* days on which what flowers at half bloom, on last year's
                                    * canes, is glossy black and dull black; NaN without bloom */
    cy_day gone;             /* the day on which it is cut out or mown; CY_DAY_NONE */
    bool chill_applies;      /* false: mown down, or canes that do not fruit */
    bool chill_known;
    enum cy_chill_kind chill_rule;
    struct cy_trait chill_need;
    double chill_met;        /* share of members; NaN where it does not apply */
    struct cy_plan_cold cold;
    struct cy_late_loss late; /* of the autumn crop, tipped CY_PLAN_LATE_DAYS late; NaN without */
};

/* Things worth saying of a row, as bits. */
enum cy_row_note {
    CY_NOTE_FRUITING_UNKNOWN = 1, /* nothing alive is cut down; how to find out */
    CY_NOTE_NO_FLORICANES_YET = 2, /* set this season: the first crop on old canes is next year */
    CY_NOTE_MOWN = 4,             /* mown down: chill does not apply */
    CY_NOTE_NO_CHILL_FIGURE = 8,  /* no need is published or typed: no verdict on chill */
    CY_NOTE_NOT_PLANTED = 16,     /* planting lies ahead of this season */
    CY_NOTE_REST_YEAR = 32,       /* alternate years: canes only */
    CY_NOTE_FRUIT_YEAR = 64       /* alternate years: fruit only */
};

/* What a row bears of one crop, over the weathers; `never` is the share in which it bears none. A
 * range's ends take the stand's low and high share of a full crop along with the weather's, so
 * that they read wide. */
#define CY_CROP_WEEKS 44
struct cy_plan_crop {
    int year;                 /* of the cohort */
    bool autumn;
    struct cy_figure total_kg;
    cy_day monday;            /* of the first week */
    int weeks;
    struct cy_figure week_kg[CY_CROP_WEEKS];
    double day_kg[7 * CY_CROP_WEEKS]; /* ripening on each day from `monday`: the mean */
};

#define CY_PLAN_COHORTS 4 /* of the season before, this one, and the next two */

struct cy_plan_row {
    int64_t thing;
    const char *key, *name; /* borrowed from the plan */
    int leaf;               /* which season of its life this is: 1 in the season of planting */
    unsigned notes;         /* enum cy_row_note */
    struct cy_plan_cohort cohorts[CY_PLAN_COHORTS]; /* oldest first */
    int cohort_count;
    struct cy_plan_crop *crops; /* of the season, the summer's first; owned by the plan */
    int crop_count;
    int pick_every_d;           /* days between pickings */
};

/* ---- jobs ----------------------------------------------------------------------------------- */

enum cy_reason_kind {
    CY_REASON_DATE,     /* the kind's own dates */
    CY_REASON_PLANTING, /* days before or after planting */
    CY_REASON_STAGE,    /* a stage of the canes, with its spread */
    CY_REASON_TIP,      /* the same for tipping: half of the canes pass a height */
    CY_REASON_PICKING,  /* rounds from first to last pick */
    CY_REASON_PRACTICE, /* the practice's window */
    CY_REASON_DRY_WEEK, /* an inch a week less the rain */
    CY_REASON_BALANCE,  /* what the soil lacks in the week */
    CY_REASON_LATERALS, /* laterals as long as the practice asks, some days after they start */
    CY_REASON_WIRE      /* a wire has been under its working tension for a week */
};

struct cy_reason {
    enum cy_reason_kind kind;
    enum cy_stage stage;
    struct cy_figure figure;  /* of the stage; of the millimetres short in a dry week */
    struct cy_figure closing; /* of the last pick */
    double height_m;
    double days;              /* from planting; between rounds; that laterals grow */
    double volume_m3;         /* of a dry week's median, over the row's wetted strip */
    int rounds;               /* of tipping: passes in all */
    double share;             /* of members with a dry week; of canes that no pass catches */
    cy_day day;               /* planting */
    double force_n;           /* of the first wire to go slack: its tension then, */
    double working_n;         /* and the tension it should have */
    double length_m;          /* to take up, the most of any wire; height_m is that of the first */
    int wires;                /* that go slack */
};

struct cy_plan_job {
    char *key;          /* "first-tip.north-1.2027", rounds with ".3" behind */
    int64_t kind, row;  /* things */
    size_t row_place;   /* of the row among the plan's */
    const char *kind_key, *row_key; /* borrowed from the plan */
    int season, round;
    cy_day from, to;    /* both included */
    double hours;       /* NaN where no rate is known */
    bool urgent;        /* cannot wait */
    bool done;
    cy_day done_on;
    cy_day lost_on;     /* from this day on it is not made up; CY_DAY_NONE where it always is */
    bool missed;        /* over, and not to be made up: fruit that fell, a dry week gone by, a
                         * round whose next one has begun; the crew has no hours for it */
    cy_day planned_from, planned_to; /* when the crew gets to it: its first and last day of work;
                                      * CY_DAY_NONE where done, missed, without hours or out of
                                      * the crew's days */
    int late_days;      /* planned_to less `to` where that is more than 0; out of days: at least
                         * this, 1 or more */
    struct cy_reason reason;
    cy_basis basis;     /* of the window and the hours */
};

struct cy_records; /* private to the planner */
struct cy_water_plan; /* caneyear/season/water.h */

/* ---- the plan ------------------------------------------------------------------------------- */

struct cy_learned; /* season/learn.h */
struct cy_trellis_verdict;
struct cy_trellis_climate;

/* Days that age ripe fruit sooner than others. Placeholders. */
#define CY_PLAN_HOT_C ((85 - 32) / 1.8)
#define CY_PLAN_WET_MM 2.54

struct cy_plan {
    int season;
    cy_day today, first, last; /* of the season */
    int members, past_years, made_years, observed_days;
    size_t lives_worked_out;   /* anew for this plan; the planner remembered the rest */
    double latitude_deg;
    double *hot, *wet; /* of each day from `first` to `last`, the share of the members in which it
                        * is hot (CY_PLAN_HOT_C) and wet (CY_PLAN_WET_MM) */
    struct cy_plan_row *rows;  /* in the farm's order */
    size_t row_count, row_capacity;
    struct cy_plan_job *jobs;  /* by first day, then kind, then row */
    size_t job_count, job_capacity;
    struct cy_schedule_week *weeks; /* what the crew has planned in each week: from today's, or
                                     * where the season lies ahead from its first job's */
    size_t week_count;
    struct cy_schedule_crew crew;   /* the smallest crew with nothing late, of the one there is */
    cy_basis crew_basis;            /* of the crew's hours */
    struct cy_learned *learned; /* what the farm's own seasons moved, by thing and value */
    size_t learned_count;
    struct cy_frostodds frost; /* of the station's nights; its sources point into the farm */
    struct cy_trellis_verdict **trellis; /* one a row, NULL without a trellis: season/trellis.h */
    struct cy_trellis_climate *trellis_climate; /* what they share; private */
    size_t trellises_worked_out; /* anew for this plan; the planner remembered the rest */
    struct cy_water_plan *water; /* owned by the plan; never NULL */
    struct cy_farm farm;       /* the farm as planned, catalogue lent; names point into it */
    struct cy_records *seen;   /* the notes of it that count, for whoever asks why; or NULL */
};

struct cy_plan_request {
    const struct cy_farm *farm;      /* with the catalogue lent, and checked */
    const struct cy_weather *station; /* or NULL: the place's normals alone */
    cy_day today;
    int season;                      /* 0: the season of today */
    int members;                     /* 0: CY_PLAN_MEMBERS */
    cy_progress progress;            /* or NULL */
    void *payload;
};

#define CY_PLAN_MEMBERS 60

struct cy_planner; /* what was worked out before: weathers, lives */

struct cy_planner *cy_planner_new(void); /* NULL without memory */
void cy_planner_free(struct cy_planner *planner);

/* The plan of a season. The caller frees it. CY_INVALID where the farm has no weather to plan
 * with (see the issues). */
int cy_planner_plan(struct cy_plan **out, struct cy_planner *planner,
                    const struct cy_plan_request *request, struct cy_issues *issues);
void cy_plan_free(struct cy_plan *plan);

/* The odds of frost for ground whose nights run so much colder than the station's, over the weathers
 * of a plan that this planner made from this request. */
void cy_planner_frost(struct cy_frostodds *out, const struct cy_planner *planner,
                      const struct cy_plan_request *request, const struct cy_plan *plan,
                      double colder_k);

/* What the cohort most likely does on a day, by the middle of each date. */
enum cy_state cy_plan_state(const struct cy_plan_cohort *cohort, cy_day day);

/* What a row has to be picked on a day: the mean weight that ripened since the last round, and
 * nothing where no yield is known. */
double cy_plan_ripe_kg(const struct cy_plan_row *row, cy_day day);
/* What a row bears in the week from a Monday, all its crops together. */
struct cy_figure cy_plan_week_kg(const struct cy_plan_row *row, cy_day monday);

/* ---- why ------------------------------------------------------------------------------------ */

/* Fills a trace for the date of a stage: inputs, formulas, sources. False where the cohort or the
 * stage is not in the plan. */
bool cy_plan_why_stage(struct cy_trace *trace, const struct cy_plan *plan, size_t row, size_t cohort,
                       enum cy_stage stage);
/* Of the day on which the fruit of half bloom is glossy, or dull, black. */
bool cy_plan_why_black(struct cy_trace *trace, const struct cy_plan *plan, size_t row,
                       size_t cohort, bool dull);
bool cy_plan_why_job(struct cy_trace *trace, const struct cy_plan *plan, size_t job);
/* The job's own steps alone, without those of the stage that brings it on: which is that of the
 * row's `*cohort`, or -1 where no stage does. */
bool cy_plan_why_job_itself(struct cy_trace *trace, const struct cy_plan *plan, size_t job,
                            int *cohort);

/* The weight of a row's crop, all of it or that of a week counted from its first; with all that
 * its dates rest on before it. */
#define CY_WHY_ALL_WEEKS (-1)
bool cy_plan_why_crop(struct cy_trace *trace, const struct cy_plan *plan, size_t row, size_t crop,
                      int week);
/* What a row's canes do on a day, and what is ripe there and on the whole farm. */
bool cy_plan_why_day(struct cy_trace *trace, const struct cy_plan *plan, size_t row, cy_day day);
/* The hours that the crew has in the week of a day, those planned in it, and all work that is late
 * now. */
bool cy_plan_why_week(struct cy_trace *trace, const struct cy_plan *plan, cy_day day);
/* The smallest crew with nothing late. */
bool cy_plan_why_crew(struct cy_trace *trace, const struct cy_plan *plan);

#endif
