/* SPDX-License-Identifier: MIT
 * The planner: weathers and lives worked out once and remembered, rows put together from them. */
#include "season/plan_parts.h"
#include "season/trellis_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/stats.h>
#include <caneyear/crop/calendar.h>
#include <caneyear/crop/late.h>
#include <caneyear/crop/yield.h>
#include <caneyear/season/learn.h>

/* What one distinct (cultivar, practice, age, sightings) does over all members. */
struct life_result {
    uint64_t fingerprint; /* 0: an empty place */
    struct cy_figure stage[CY_STAGE_COUNT];
    uint8_t never[CY_STAGE_COUNT];
    double chill_met; /* of the members in which the chill need was put to the test; NaN: none */
    struct cy_plan_cold cold;
    struct cy_late_loss late;           /* of the autumn crop, tipped CY_PLAN_LATE_DAYS late */
    struct cy_plan_crop summer, autumn; /* as shares of a full crop */
};

/* A power of two. Past three quarters full all are forgotten: the next plan refills what it needs.
 */
#define LIVES 2048

struct cy_planner {
    struct cy_ensemble ensemble;
    uint64_t ensemble_fingerprint; /* 0: none */
    struct life_result *lives;
    size_t life_count;
    size_t worked_out; /* lives, since the planner began */
    struct cy_learned *learned;
    size_t learned_count;
    uint64_t learned_fingerprint; /* 0: none */
    struct cy_trellis_memory *trellises;
    struct cy_water_memory *water;
};

struct cy_planner *cy_planner_new(void)
{
    struct cy_planner *planner = cy_zeroed(1, sizeof *planner);
    if (!planner)
        return NULL;
    planner->lives = cy_zeroed(LIVES, sizeof *planner->lives);
    planner->water = cy_water_memory_new();
    if (!planner->lives || !planner->water) {
        cy_planner_free(planner);
        return NULL;
    }
    return planner;
}

void cy_planner_free(struct cy_planner *planner)
{
    if (!planner)
        return;
    cy_ensemble_dispose(&planner->ensemble);
    cy_water_memory_free(planner->water);
    free(planner->lives);
    free(planner->learned);
    cy_trellis_memory_free(planner->trellises);
    free(planner);
}

static void forget_lives(struct cy_planner *planner)
{
    for (size_t i = 0; planner->life_count > 0 && i < LIVES; i++)
        planner->lives[i].fingerprint = 0;
    planner->life_count = 0;
}

/* ---- weathers ------------------------------------------------------------------------------- */

static uint64_t hash_weather(uint64_t hash, const struct cy_weather *weather)
{
    if (!weather)
        return cy_hash_number(hash, -1);
    size_t size = (size_t)weather->days * sizeof(double);
    hash = cy_hash_number(hash, weather->first);
    hash = cy_hash_number(hash, weather->days);
    hash = cy_hash(hash, weather->tmin_c, size);
    hash = cy_hash(hash, weather->tmax_c, size);
    hash = cy_hash(hash, weather->wind_m_s, size);
    hash = cy_hash(hash, weather->dew_c, size);
    hash = cy_hash(hash, weather->sun_h, size);
    return cy_hash(hash, weather->rain_mm, size);
}

static uint64_t hash_request(const struct cy_ensemble_request *request)
{
    uint64_t hash = CY_HASH_START;
    hash = cy_hash_number(hash, request->latitude_deg);
    for (int month = 0; month < 12; month++) {
        hash = cy_hash_number(hash, request->normals.tmin_c[month]);
        hash = cy_hash_number(hash, request->normals.tmax_c[month]);
        hash = cy_hash_number(hash, request->normals.rain_mm[month]);
    }
    hash = hash_weather(hash, request->station);
    /* Without a station, today splits nothing: made weathers stay the same as the days pass. */
    hash = cy_hash_number(hash, request->station ? request->today : 0);
    hash = cy_hash_number(hash, request->first);
    hash = cy_hash_number(hash, request->last);
    hash = cy_hash_number(hash, request->count);
    hash = cy_hash_number(hash, request->past_years);
    hash = cy_hash_number(hash, request->kinds);
    hash = cy_hash(hash, &request->seed, sizeof request->seed);
    return hash ? hash : 1;
}

#define PAST_YEARS 30
/* Seasons this near to today's share its weathers, so that stepping from one to the next makes
 * none anew and a season is the same from wherever it is looked at; one further off has its own. */
#define NEAR_SEASONS 1
/* The calendar's ends less the seasons before and after that a plan looks at. */
enum { FIRST_SEASON = CY_YEAR_MIN + 3, LAST_SEASON = CY_YEAR_MAX - 3 };

/* The kinds of chill that a need of any cultivar at hand is told in. */
static unsigned chill_kinds(const struct cy_farm *farm)
{
    unsigned kinds = 1u << CY_CHILL_HOURS_32_45;
    for (const struct cy_thing *cultivar = NULL;
         (cultivar = cy_farm_next(farm, CY_KIND_CULTIVAR, 0, cultivar));) {
        int rule = cy_choice(cultivar, CY_CULTIVAR_CHILL_RULE);
        if (rule >= 0)
            kinds |= 1u << rule;
    }
    return kinds;
}

static int prepare_weather(struct cy_planner *planner, const struct cy_plan_request *request,
                           const struct cy_plan *plan, const struct cy_normals *normals)
{
    int middle = cy_season_of(plan->latitude_deg, request->today);
    if (abs(plan->season - middle) > NEAR_SEASONS)
        middle = plan->season;
    int first = middle - NEAR_SEASONS - 1, last = middle + NEAR_SEASONS + 1;
    struct cy_ensemble_request wanted = {
        .latitude_deg = plan->latitude_deg,
        .normals = *normals,
        .station = request->station,
        .today = request->today,
        .first = cy_season_start(plan->latitude_deg, first),
        .last = cy_season_start(plan->latitude_deg, last + 1) - 1,
        .count = request->members > 0 ? request->members : CY_PLAN_MEMBERS,
        .past_years = PAST_YEARS,
        .kinds = chill_kinds(request->farm),
        .seed = (uint64_t)cy_number(cy_farm_one(request->farm, CY_KIND_FARM), CY_FARM_SEED),
        .progress = request->progress,
        .payload = request->payload,
    };
    uint64_t fingerprint = hash_request(&wanted);
    if (fingerprint == planner->ensemble_fingerprint)
        return CY_OK;
    cy_ensemble_dispose(&planner->ensemble);
    planner->ensemble_fingerprint = 0;
    forget_lives(planner);
    int status = cy_ensemble_make(&planner->ensemble, &wanted);
    if (status == CY_OK)
        planner->ensemble_fingerprint = fingerprint;
    return status;
}

/* ---- lives ---------------------------------------------------------------------------------- */

uint64_t cy_hash_traits(uint64_t hash, const struct cy_traits *traits)
{
    const double numbers[] = {
        traits->fruiting,
        traits->cropping,
        traits->chill_rule,
        traits->chill_need.value,
        traits->bloom_heat_kh.value,
        traits->bud_break_share.value,
        traits->bloom_to_peak_d.value,
        traits->pick_length_d.value,
        traits->emerge_heat_kh.value,
        traits->growth_m_d.value,
        traits->tip_height_m.value,
        traits->autumn_heat_kh.value,
        traits->autumn_bloom_to_peak_d.value,
        traits->autumn_length_d.value,
        traits->growth_follows,
        traits->winter_limit.value,
        traits->second_share.value,
        traits->colder_k,
        traits->bloom_error_d.value,
        traits->autumn_bloom_error_d.value,
        traits->ripen_error_d.value,
    };
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        hash = cy_hash_number(hash, numbers[i]);
    for (size_t i = 0; i < traits->buds.count; i++) {
        hash = cy_hash_number(hash, traits->buds.turns[i].day);
        hash = cy_hash_number(hash, traits->buds.turns[i].t50_c);
    }
    return hash;
}

static uint64_t hash_life(const struct cy_planner *planner, const struct cy_traits *traits,
                          const struct cy_cohort *cohort, uint64_t luck_seed)
{
    const double numbers[] = {
        cohort->year,
        cohort->latitude_deg,
        cohort->stands,
        cohort->emerges_here,
        cohort->kept,
        cohort->planted,
        cohort->seen.half_bloom_guessed,
        cohort->seen.height_day,
        cohort->seen.height_m,
        cohort->seen.killed_day,
        cohort->seen.killed,
        cohort->seen.autumn_killed_day,
        cohort->seen.autumn_killed,
    };
    uint64_t hash = cy_hash(CY_HASH_START, &planner->ensemble_fingerprint, sizeof(uint64_t));
    hash = cy_hash(hash, &luck_seed, sizeof luck_seed);
    hash = cy_hash_traits(hash, traits);
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        hash = cy_hash_number(hash, numbers[i]);
    for (int i = 0; i < CY_STAGE_COUNT; i++)
        hash = cy_hash_number(hash, cohort->seen.stage[i]);
    return hash ? hash : 1;
}

/* The commonest reason among the members that miss a stage. */
static enum cy_never commonest(const int counts[CY_OUT_OF_SIGHT + 1])
{
    enum cy_never best = CY_DOES_NOT_APPLY;
    for (int i = CY_DOES_NOT_APPLY; i <= CY_OUT_OF_SIGHT; i++)
        if (counts[i] > counts[best])
            best = (enum cy_never)i;
    return counts[best] > 0 ? best : CY_COMES;
}

static void gather_stage(struct life_result *out, enum cy_stage stage, const struct cy_life *lives,
                         int count, double *days)
{
    int reached = 0;
    int reasons[CY_OUT_OF_SIGHT + 1] = {0};
    for (int member = 0; member < count; member++) {
        if (lives[member].never[stage] == CY_COMES)
            days[reached++] = lives[member].day[stage];
        else
            reasons[lives[member].never[stage]]++;
    }
    out->stage[stage] = cy_figure_of(days, (size_t)reached, CY_BASIS_NONE);
    out->stage[stage].never = (double)(count - reached) / count;
    out->never[stage] = (uint8_t)commonest(reasons);
}

static double share_met(const struct cy_life *lives, int count)
{
    int met = 0, missed = 0;
    for (int member = 0; member < count; member++) {
        met += lives[member].never[CY_STAGE_CHILL_MET] == CY_COMES;
        missed += lives[member].never[CY_STAGE_CHILL_MET] == CY_TOO_LITTLE_CHILL;
    }
    return met + missed > 0 ? (double)met / (met + missed) : NAN;
}

/* The means over the members in which buds break, or would have, and in which they bloom. */
static struct cy_plan_cold cold_of(const struct cy_life *lives, int count)
{
    double buds = 0, flowers = 0;
    int broken = 0, bloomed = 0;
    for (int member = 0; member < count; member++) {
        const struct cy_life *life = &lives[member];
        if (!isnan(life->buds_left)) {
            buds += life->buds_left;
            broken++;
        }
        if (!isnan(life->flowers_left)) {
            flowers += life->flowers_left;
            bloomed++;
        }
    }
    return (struct cy_plan_cold){broken > 0 ? buds / broken : NAN,
                                 bloomed > 0 ? flowers / bloomed : NAN};
}

struct cy_luck cy_plan_luck(uint64_t seed, int member)
{
    struct cy_random random;
    struct cy_luck luck;
    cy_random_seed(&random, seed, (uint64_t)member);
    luck.bloom = cy_random_normal(&random);
    luck.ripening = cy_random_normal(&random);
    luck.autumn_bloom = cy_random_normal(&random);
    luck.autumn_ripening = cy_random_normal(&random);
    return luck;
}

static int run_life(struct life_result *out, const struct cy_planner *planner,
                    const struct cy_traits *traits, const struct cy_cohort *cohort,
                    uint64_t luck_seed)
{
    int count = planner->ensemble.count;
    struct cy_life *lives = cy_zeroed((size_t)count, sizeof *lives);
    double *days = cy_zeroed(2 * (size_t)count, sizeof *days);
    int status = lives && days ? CY_OK : CY_NO_MEMORY;
    for (int member = 0; status == CY_OK && member < count; member++) {
        struct cy_luck luck = cy_plan_luck(luck_seed, member);
        cy_life_run(&lives[member], traits, cohort, &planner->ensemble.members[member], &luck);
    }
    for (int stage = 0; status == CY_OK && stage < CY_STAGE_COUNT; stage++)
        gather_stage(out, (enum cy_stage)stage, lives, count, days);
    if (status == CY_OK) {
        out->chill_met = share_met(lives, count);
        out->cold = cold_of(lives, count);
        cy_late_autumn(&out->late, lives, count, traits->autumn_length_d.value, CY_PLAN_LATE_DAYS);
        cy_crop_shape(&out->summer, lives, count, false, days);
        cy_crop_shape(&out->autumn, lives, count, true, days);
    }
    free(lives);
    free(days);
    return status;
}

static int remembered_life(const struct life_result **out, struct cy_planner *planner,
                           const struct cy_traits *traits, const struct cy_cohort *cohort,
                           uint64_t luck_seed)
{
    uint64_t fingerprint = hash_life(planner, traits, cohort, luck_seed);
    if (planner->life_count > LIVES / 4 * 3)
        forget_lives(planner);
    size_t place = fingerprint & (LIVES - 1);
    while (planner->lives[place].fingerprint && planner->lives[place].fingerprint != fingerprint)
        place = (place + 1) & (LIVES - 1);
    struct life_result *result = &planner->lives[place];
    *out = result;
    if (result->fingerprint)
        return CY_OK;
    int status = run_life(result, planner, traits, cohort, luck_seed);
    if (status == CY_OK) {
        result->fingerprint = fingerprint;
        planner->life_count++;
        planner->worked_out++;
    }
    return status;
}

/* ---- learning -------------------------------------------------------------------------------- */

/* What the farm's seasons say, as remembered where nothing that it rests on has changed. */
static int learn(struct cy_plan *plan, struct cy_planner *planner,
                 const struct cy_plan_request *request)
{
    const struct cy_records *seen = plan->seen;
    uint64_t fingerprint = cy_learn_fingerprint(planner->ensemble_fingerprint, plan, seen);
    int status = CY_OK;
    if (seen->count == 0)
        return CY_OK;
    if (fingerprint != planner->learned_fingerprint) {
        free(planner->learned);
        planner->learned_fingerprint = 0;
        status = cy_learn_from(&planner->learned, &planner->learned_count, plan, seen,
                               &planner->ensemble, request->station, chill_kinds(request->farm));
    }
    if (status != CY_OK)
        return status;
    planner->learned_fingerprint = fingerprint;
    plan->learned = cy_zeroed(planner->learned_count, sizeof *plan->learned);
    if (!plan->learned)
        return CY_NO_MEMORY;
    plan->learned_count = planner->learned_count;
    if (plan->learned_count > 0)
        memcpy(plan->learned, planner->learned, plan->learned_count * sizeof *plan->learned);
    cy_learn_borrow(plan);
    return CY_OK;
}

/* ---- rows ----------------------------------------------------------------------------------- */

const struct cy_plan_cohort *cy_plan_cohort_of(const struct cy_plan_row *row, int year)
{
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].year == year)
            return &row->cohorts[i];
    return NULL;
}

/* The day on which a cohort goes: mown in its first winter, when canes are thinned elsewhere, or
 * cut out when it is spent. */
static cy_day day_gone(const struct cy_row_facts *facts, const struct cy_cohort *cohort,
                       const struct cy_plan_cohort *done)
{
    cy_day from, to;
    if (!cohort->stands || facts->fruiting_unknown)
        return CY_DAY_NONE;
    enum cy_field first = cohort->kept ? CY_PRACTICE_SPENT_FROM : CY_PRACTICE_THIN_FROM;
    enum cy_field last = cohort->kept ? CY_PRACTICE_SPENT_TO : CY_PRACTICE_THIN_TO;
    double over = done->stage[cohort->kept ? CY_STAGE_SPENT : CY_STAGE_DORMANT].p50;
    for (int season = cohort->year + 1; !isnan(over) && season <= cohort->year + 2; season++)
        if (cy_practice_window(&from, &to, facts, season, first, last) && to >= over)
            return to;
    return CY_DAY_NONE;
}

cy_basis cy_plan_weather_basis(const struct cy_plan *plan)
{
    struct cy_normals normals;
    cy_basis normals_basis, basis = CY_BASIS_NONE;
    if (plan->made_years > 0 && cy_farm_normals(&normals, &normals_basis, &plan->farm) == CY_OK)
        basis |= CY_BASIS_MADE | normals_basis;
    if (plan->past_years > 0 || plan->observed_days > 0)
        basis |= CY_BASIS_OBSERVED;
    return basis;
}

static void set_basis(struct cy_plan_cohort *cohort, const struct cy_traits *traits,
                      const struct cy_sightings *seen, cy_basis weather)
{
    for (int stage = 0; stage < CY_STAGE_COUNT; stage++) {
        cohort->seen[stage] = seen->stage[stage] != CY_DAY_NONE && !isnan(cohort->stage[stage].p50);
        cohort->stage[stage].basis = cy_life_basis(traits, seen, weather, (enum cy_stage)stage);
    }
}

/* So many days after half bloom, as far apart as bloom and ripening are together. */
static struct cy_figure days_after_bloom(const struct cy_figure *bloom,
                                         const struct cy_traits *traits, double days,
                                         cy_basis basis)
{
    const double apart = cy_normal_inverse(0.9) * traits->ripen_error_d.value;
    return (struct cy_figure){
        .p10 = bloom->p50 + days - hypot(bloom->p50 - bloom->p10, apart),
        .p50 = bloom->p50 + days,
        .p90 = bloom->p50 + days + hypot(bloom->p90 - bloom->p50, apart),
        .never = bloom->never,
        .basis = bloom->basis | traits->ripen_error_d.basis | basis,
    };
}

static void set_black(struct cy_plan_cohort *cohort, const struct cy_traits *traits)
{
    const struct cy_figure *bloom = &cohort->stage[CY_STAGE_BLOOM];
    const struct cy_trait *glossy = &traits->glossy_d, *dull = &traits->dull_d;
    cohort->glossy = days_after_bloom(bloom, traits, glossy->value, glossy->basis);
    cohort->dull =
        days_after_bloom(bloom, traits, glossy->value + dull->value, glossy->basis | dull->basis);
}

static void set_chill(struct cy_plan_cohort *cohort, const struct cy_traits *traits,
                      double chill_met)
{
    cohort->chill_rule = traits->chill_rule;
    cohort->chill_need = traits->chill_need;
    cohort->chill_known = !isnan(traits->chill_need.value);
    /* A count that begins with a freeze does not apply where it never freezes. */
    cohort->chill_applies = cohort->kept && !(cohort->chill_known && isnan(chill_met));
    cohort->chill_met = cohort->chill_applies && cohort->chill_known ? chill_met : NAN;
}

static void scale_figure(struct cy_figure *figure, double scale, cy_basis basis)
{
    figure->p10 *= scale;
    figure->p50 *= scale;
    figure->p90 *= scale;
    figure->basis |= basis;
}

static void scale_crop(struct cy_plan_crop *crop, double scale, cy_basis basis)
{
    for (int week = 0; week < crop->weeks; week++)
        scale_figure(&crop->week_kg[week], scale, basis);
    for (int day = 0; day < 7 * crop->weeks; day++)
        crop->day_kg[day] *= scale;
    scale_figure(&crop->total_kg, scale, basis);
}

double cy_row_stand_counted(cy_basis *basis, const struct cy_plan *plan,
                            const struct cy_records *seen, const struct cy_row_facts *facts,
                            int year)
{
    enum { FIRST_GROWN_LEAF = 3 };
    double counted = cy_row_counted(basis, seen, facts, year, plan->today);
    double plants = cy_yield_plants(facts->length_m, cy_number(facts->row, CY_ROW_SPACING));
    double expected = cy_yield_present(cy_number(facts->row, CY_ROW_FILLED),
                                       cy_number(facts->row, CY_ROW_MISSING), plants);
    bool young =
        facts->planted_season > 0 && plan->season - facts->planted_season + 1 < FIRST_GROWN_LEAF;
    return young || expected <= 0 ? NAN : counted / expected;
}

static void stand_as_counted(struct cy_plan_crop *crop, const struct cy_plan *plan,
                             const struct cy_records *seen, const struct cy_row_facts *facts,
                             int year)
{
    cy_basis basis;
    double counted = cy_row_stand_counted(&basis, plan, seen, facts, year);
    if (!isnan(counted))
        scale_crop(crop, counted, basis);
}

static uint64_t luck_seed_of(const struct cy_plan *plan, const struct cy_thing *row, int year)
{
    double seed = cy_number(cy_farm_one(&plan->farm, CY_KIND_FARM), CY_FARM_SEED);
    uint64_t hash = cy_hash_number(cy_hash_number(CY_HASH_START, seed), year);
    return cy_hash_string(hash, cy_string(row, CY_ROW_CULTIVAR));
}

/* What the rows of a plan are put together from. */
struct work {
    struct cy_planner *planner;
    struct cy_plan *plan;
    const struct cy_records *seen;
    cy_basis weather;
};

static int plan_cohort(struct cy_plan_row *row, const struct work *work,
                       const struct cy_row_facts *facts, int year)
{
    const struct cy_plan *plan = work->plan;
    struct cy_plan_cohort *out = &row->cohorts[row->cohort_count++];
    struct cy_cohort cohort = {
        .year = year, .latitude_deg = plan->latitude_deg, .planted = CY_DAY_NONE};
    if (year == facts->planted_season)
        cohort.planted = facts->planted;
    cy_cohort_place(&cohort, &facts->traits, facts->stock, facts->planted_season, facts->phase);
    cy_row_sightings(&cohort.seen, work->seen, facts, year, plan->today);

    struct cy_traits traits = facts->traits;
    double growth_m_d = cy_sightings_growth_m_d(&cohort.seen);
    if (!isnan(growth_m_d)) {
        traits.growth_m_d =
            (struct cy_trait){growth_m_d, CY_BASIS_OBSERVED, "two heights seen in this row"};
        traits.growth_follows = CY_GROWTH_DAYS;
    }
    const struct life_result *life;
    int status = remembered_life(&life, work->planner, &traits, &cohort,
                                 luck_seed_of(plan, facts->row, year));
    if (status != CY_OK)
        return status;

    *out = (struct cy_plan_cohort){.year = year, .kept = cohort.kept};
    memcpy(out->stage, life->stage, sizeof out->stage);
    memcpy(out->never, life->never, sizeof out->never);
    set_basis(out, &traits, &cohort.seen, work->weather);
    set_black(out, &traits);
    out->growth_m_d = traits.growth_m_d;
    if (cohort.stands && year == plan->season)
        out->role = CY_ROLE_PRIMOCANES;
    else if (cohort.kept && year == plan->season - 1)
        out->role = CY_ROLE_FLORICANES;
    out->emerge_spread_d = facts->traits.emerge_spread_d.value;
    out->gone = day_gone(facts, &cohort, out);
    set_chill(out, &facts->traits, life->chill_met);
    out->cold = life->cold;
    out->late = life->late;
    if (out->role == CY_ROLE_NONE)
        return CY_OK;
    int crops = row->crop_count;
    status = cy_row_crop(row, plan, facts, out,
                         out->role == CY_ROLE_FLORICANES ? &life->summer : &life->autumn);
    if (status != CY_OK || row->crop_count == crops)
        return status;
    /* That a winter takes nothing where no hardiness is known is an assumption. */
    if (out->role == CY_ROLE_FLORICANES && isnan(out->cold.buds))
        scale_crop(&row->crops[crops], 1, CY_BASIS_PLACEHOLDER);
    stand_as_counted(&row->crops[crops], plan, work->seen, facts, year);
    return CY_OK;
}

static unsigned notes_of(const struct cy_plan_row *row, const struct cy_row_facts *facts,
                         int season)
{
    const struct cy_plan_cohort *old = cy_plan_cohort_of(row, season - 1);
    unsigned notes = 0;
    if (facts->fruiting_unknown)
        notes |= CY_NOTE_FRUITING_UNKNOWN;
    if (facts->planted_season > season)
        notes |= CY_NOTE_NOT_PLANTED;
    if (facts->planted_season == season && facts->stock != CY_STOCK_LONG_CANE)
        notes |= CY_NOTE_NO_FLORICANES_YET;
    if (facts->traits.cropping == CY_CROPPING_AUTUMN)
        notes |= CY_NOTE_MOWN;
    else if (isnan(facts->traits.chill_need.value))
        notes |= CY_NOTE_NO_CHILL_FIGURE;
    if (facts->traits.cropping == CY_CROPPING_ALTERNATE)
        notes |= old && old->role == CY_ROLE_FLORICANES ? CY_NOTE_FRUIT_YEAR : CY_NOTE_REST_YEAR;
    return notes;
}

static int plan_row(struct cy_plan_row *out, const struct work *work, const struct cy_thing *row)
{
    const struct cy_plan *plan = work->plan;
    struct cy_row_facts facts;
    cy_plan_facts_of(&facts, plan, row);
    *out = (struct cy_plan_row){.thing = row->id, .key = row->key, .name = cy_thing_name(row)};
    out->pick_every_d = (int)floor(cy_number(facts.practice, CY_PRACTICE_PICK_EVERY) + 0.5);
    out->leaf = facts.planted_season > 0 ? plan->season - facts.planted_season + 1 : 0;
    for (int year = plan->season - 2; year <= plan->season + 1; year++) {
        int status = plan_cohort(out, work, &facts, year);
        if (status != CY_OK)
            return status;
    }
    out->notes = notes_of(out, &facts, plan->season);
    return CY_OK;
}

static int plan_rows(struct cy_plan *plan, struct cy_planner *planner)
{
    struct work work = {planner, plan, plan->seen, cy_plan_weather_basis(plan)};
    size_t before = planner->worked_out;
    int status = CY_OK;
    for (const struct cy_thing *row = NULL;
         status == CY_OK && (row = cy_farm_next(&plan->farm, CY_KIND_ROW, 0, row));) {
        if (!cy_grow(&plan->rows, &plan->row_capacity, plan->row_count, sizeof *plan->rows))
            status = CY_NO_MEMORY;
        else
            status = plan_row(&plan->rows[plan->row_count++], &work, row);
    }
    plan->lives_worked_out = planner->worked_out - before;
    return status;
}

/* ---- the plan ------------------------------------------------------------------------------- */

/* The season, and whether the calendar has room for it and for today. */
static int set_season(struct cy_plan *plan, const struct cy_plan_request *request,
                      struct cy_issues *issues)
{
    int now = cy_season_of(plan->latitude_deg, request->today);
    int season = request->season ? request->season : now;
    int wrong = season < FIRST_SEASON || season > LAST_SEASON ? season : now;
    if (wrong < FIRST_SEASON || wrong > LAST_SEASON) {
        struct cy_text found = {0}, allowed = {0};
        cy_text_add_int(&found, wrong);
        cy_text_add_int(&allowed, FIRST_SEASON);
        cy_text_add(&allowed, " to ");
        cy_text_add_int(&allowed, LAST_SEASON);
        cy_issue_say(issues, CY_ISSUE_OUT_OF_RANGE, "plan", "season", cy_text_get(&found),
                     cy_text_get(&allowed));
        cy_text_dispose(&found);
        cy_text_dispose(&allowed);
        return CY_INVALID;
    }
    plan->today = request->today;
    plan->season = season;
    plan->first = cy_season_start(plan->latitude_deg, season);
    plan->last = cy_season_start(plan->latitude_deg, season + 1) - 1;
    return CY_OK;
}

/* The farm, the season and the weathers, before any row. */
static int prepare(struct cy_plan *plan, struct cy_planner *planner,
                   const struct cy_plan_request *request, struct cy_issues *issues)
{
    struct cy_normals normals;
    cy_basis normals_basis;
    int status = cy_farm_copy(&plan->farm, request->farm);
    if (status != CY_OK)
        return status;
    plan->latitude_deg = cy_farm_latitude(&plan->farm);
    if (isnan(plan->latitude_deg) ||
        cy_farm_normals(&normals, &normals_basis, &plan->farm) != CY_OK) {
        cy_issue_say(issues, CY_ISSUE_MISSING, "site", "place", "", "a place with twelve months");
        return CY_INVALID;
    }
    status = set_season(plan, request, issues);
    if (status == CY_OK)
        status = prepare_weather(planner, request, plan, &normals);
    if (status != CY_OK)
        return status;
    plan->members = planner->ensemble.count;
    plan->past_years = planner->ensemble.past_years;
    plan->made_years = planner->ensemble.made_years;
    plan->observed_days = planner->ensemble.observed_days;
    return CY_OK;
}

static int share_days(struct cy_plan *plan, const struct cy_ensemble *ensemble)
{
    size_t days = (size_t)(plan->last - plan->first + 1);
    plan->hot = cy_zeroed(days, sizeof *plan->hot);
    plan->wet = cy_zeroed(days, sizeof *plan->wet);
    if (!plan->hot || !plan->wet)
        return CY_NO_MEMORY;
    for (int i = 0; i < ensemble->count; i++) {
        const struct cy_weather *weather = &ensemble->members[i].weather;
        int from = cy_weather_index(weather, plan->first);
        for (size_t day = 0; from >= 0 && day < days; day++) {
            plan->hot[day] += weather->tmax_c[(size_t)from + day] >= CY_PLAN_HOT_C;
            plan->wet[day] += weather->rain_mm[(size_t)from + day] >= CY_PLAN_WET_MM;
        }
    }
    for (size_t day = 0; day < days; day++) {
        plan->hot[day] /= ensemble->count;
        plan->wet[day] /= ensemble->count;
    }
    return CY_OK;
}

static int fill(struct cy_plan *plan, struct cy_planner *planner,
                const struct cy_plan_request *request, struct cy_issues *issues)
{
    int status = prepare(plan, planner, request, issues);
    plan->seen = cy_zeroed(1, sizeof *plan->seen);
    if (status == CY_OK)
        status =
            plan->seen ? cy_records_gather(plan->seen, &plan->farm, CY_KIND_SEEN) : CY_NO_MEMORY;
    if (status == CY_OK)
        status = share_days(plan, &planner->ensemble);
    if (status == CY_OK)
        cy_planner_frost(&plan->frost, planner, request, plan, 0);
    if (status == CY_OK)
        status = learn(plan, planner, request);
    if (status == CY_OK)
        status = plan_rows(plan, planner);
    if (status == CY_OK)
        status = cy_plan_trellises(plan, &planner->trellises, &planner->ensemble,
                                   planner->ensemble_fingerprint);
    if (status == CY_OK)
        status = cy_plan_fill_water(plan, planner->water, &planner->ensemble,
                                    planner->ensemble_fingerprint);
    if (status == CY_OK)
        status = cy_plan_jobs(plan, &planner->ensemble);
    return status == CY_OK ? cy_plan_timetable(plan) : status;
}

void cy_planner_frost(struct cy_frostodds *out, const struct cy_planner *planner,
                      const struct cy_plan_request *request, const struct cy_plan *plan,
                      double colder_k)
{
    struct cy_frostodds_request wanted = {.farm = &plan->farm,
                                          .latitude_deg = plan->latitude_deg,
                                          .season = plan->season,
                                          .station = request->station,
                                          .ensemble = &planner->ensemble,
                                          .weather = cy_plan_weather_basis(plan),
                                          .colder_k = colder_k};
    cy_frostodds_of(out, &wanted);
}

int cy_planner_suitability(struct cy_suitability *out, struct cy_planner *planner,
                           const struct cy_plan_request *request, struct cy_issues *issues)
{
    *out = (struct cy_suitability){0};
    struct cy_plan *plan = cy_zeroed(1, sizeof *plan);
    int status = plan ? prepare(plan, planner, request, issues) : CY_NO_MEMORY;
    if (status == CY_OK)
        status = cy_suitability_judge(out, plan, &planner->ensemble);
    cy_plan_free(plan);
    return status;
}

int cy_planner_plan(struct cy_plan **out, struct cy_planner *planner,
                    const struct cy_plan_request *request, struct cy_issues *issues)
{
    struct cy_plan *plan = cy_zeroed(1, sizeof *plan);
    int status = plan ? fill(plan, planner, request, issues) : CY_NO_MEMORY;
    if (status != CY_OK) {
        cy_plan_free(plan);
        plan = NULL;
    }
    *out = plan;
    return status;
}

void cy_plan_free(struct cy_plan *plan)
{
    if (!plan)
        return;
    for (size_t i = 0; i < plan->job_count; i++)
        free(plan->jobs[i].key);
    free(plan->jobs);
    free(plan->weeks);
    cy_plan_trellises_dispose(plan);
    for (size_t i = 0; i < plan->row_count; i++)
        free(plan->rows[i].crops);
    free(plan->rows);
    free(plan->learned);
    free(plan->hot);
    free(plan->wet);
    if (plan->seen)
        cy_records_dispose(plan->seen);
    free(plan->seen);
    cy_water_plan_free(plan->water);
    cy_farm_dispose(&plan->farm);
    free(plan);
}

enum cy_state cy_plan_state(const struct cy_plan_cohort *cohort, cy_day day)
{
    cy_day stage[CY_STAGE_COUNT];
    for (int i = 0; i < CY_STAGE_COUNT; i++) {
        /* What most members never reach is not what the canes most likely do. */
        bool likely = !isnan(cohort->stage[i].p50) && cohort->stage[i].never <= 0.5;
        stage[i] = likely ? (cy_day)floor(cohort->stage[i].p50 + 0.5) : CY_DAY_NONE;
    }
    return cy_life_state(stage, cohort->emerge_spread_d, cohort->gone, day);
}
