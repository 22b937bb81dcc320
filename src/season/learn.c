/* SPDX-License-Identifier: MIT
 * What this farm's own seasons say: each date noted, read back as the need that would have given
 * it, and the catalogue's value drawn towards them. */
#include <caneyear/season/learn.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/crop/calendar.h>
#include <caneyear/season/traits.h>

#include "season/plan_parts.h"

/* A date's worth of heat is the mean of so many days on either side. */
enum { AROUND_DAYS = 3 };

static const struct {
    const char *word;
    enum cy_quantity quantity;
} infos[CY_LEARN_COUNT] = {
#define LEARN(name, word, quantity) [CY_LEARN_##name] = {word, CY_Q_##quantity},
    CY_LEARNS(LEARN)
#undef LEARN
};

const char *cy_learn_word(enum cy_learn what)
{
    return infos[what].word;
}

enum cy_quantity cy_learn_quantity(enum cy_learn what)
{
    return infos[what].quantity;
}

/* ---- one season of one value ---------------------------------------------------------------- */

struct bin {
    int64_t thing;
    enum cy_learn what;
    int year;
    double sum, weights, a_day; /* sums over the rows; of nights, over the nights */
    double best;                /* the greatest weight of a row */
};

/* The station's days around one cohort's life, as far as none is missing. */
struct past {
    int year; /* of the cohort */
    struct cy_member member;
};

/* Where each member's sum to bloom starts, then each one's to autumn bloom, by some traits. */
struct starts {
    uint64_t traits; /* their fingerprint */
    cy_day *days;
};

struct learner {
    const struct cy_plan *plan;
    const struct cy_records *seen;
    const struct cy_ensemble *ensemble;
    const struct cy_weather *station; /* or NULL */
    struct cy_warmth_sun *sun;
    unsigned kinds;
    struct past *pasts;
    size_t past_count, past_capacity;
    struct bin *bins;
    size_t bin_count, bin_capacity;
    struct starts *starts;
    size_t start_count, start_capacity;
    int status;
};

/* What was seen of one cohort of one row, and what the model makes of it in that season's weather
 * without any error of its own. */
struct sitting {
    struct learner *learner;
    const struct cy_row_facts *facts;
    struct cy_cohort cohort;
    const struct past *past;
    struct cy_life life;
};

static void add(struct learner *learner, int64_t thing, enum cy_learn what, int year, double value,
                double weight, double a_day)
{
    struct bin *bin = NULL;
    if (!isfinite(value) || !(weight > 0))
        return;
    for (size_t i = 0; !bin && i < learner->bin_count; i++)
        if (learner->bins[i].thing == thing && learner->bins[i].what == what &&
            learner->bins[i].year == year)
            bin = &learner->bins[i];
    if (!bin) {
        if (!cy_grow(&learner->bins, &learner->bin_capacity, learner->bin_count,
                     sizeof *learner->bins)) {
            learner->status = CY_NO_MEMORY;
            return;
        }
        bin = &learner->bins[learner->bin_count++];
        *bin = (struct bin){.thing = thing, .what = what, .year = year};
    }
    bin->sum += weight * value;
    bin->weights += weight;
    bin->a_day += weight * a_day;
    bin->best = fmax(bin->best, weight);
}

/* ---- the weather of a past season ----------------------------------------------------------- */

static bool is_known(const struct cy_weather *station, cy_day day)
{
    int i = cy_weather_index(station, day);
    return i >= 0 && isfinite(station->tmin_c[i]) && isfinite(station->tmax_c[i]);
}

/* The longest run of known days in [from, to]. */
static void longest_run(cy_day *first, int *days, const struct cy_weather *station, cy_day from,
                        cy_day to)
{
    int run = 0;
    *days = 0;
    for (cy_day day = from; station && day <= to; day++) {
        run = is_known(station, day) ? run + 1 : 0;
        if (run > *days) {
            *days = run;
            *first = day - run + 1;
        }
    }
}

static int fill_past(struct past *past, const struct learner *learner)
{
    double latitude = learner->plan->latitude_deg;
    cy_day last = cy_season_start(latitude, past->year + 2) - 1, first = 0;
    int days;
    last = last < learner->plan->today ? last : learner->plan->today;
    longest_run(&first, &days, learner->station, cy_season_start(latitude, past->year), last);
    if (days == 0)
        return CY_OK;
    struct cy_weather *weather = &past->member.weather;
    int status = cy_weather_init(weather, first, days);
    for (int i = 0; status == CY_OK && i < days; i++) {
        int at = cy_weather_index(learner->station, first + i);
        weather->tmin_c[i] = learner->station->tmin_c[at];
        weather->tmax_c[i] = learner->station->tmax_c[at];
    }
    if (status == CY_OK)
        status = cy_warmth_with(&past->member.warmth, weather, learner->sun, learner->kinds);
    return status;
}

static const struct past *past_of(struct learner *learner, int year)
{
    for (size_t i = 0; i < learner->past_count; i++)
        if (learner->pasts[i].year == year)
            return &learner->pasts[i];
    if (!cy_grow(&learner->pasts, &learner->past_capacity, learner->past_count,
                 sizeof *learner->pasts)) {
        learner->status = CY_NO_MEMORY;
        return NULL;
    }
    struct past *past = &learner->pasts[learner->past_count++];
    *past = (struct past){.year = year};
    if (fill_past(past, learner) != CY_OK)
        learner->status = CY_NO_MEMORY;
    return past;
}

/* ---- heat up to a day ----------------------------------------------------------------------- */

/* The need that is met in the middle of `day` by a sum from `from` on; NaN where a day between is
 * out of sight. */
static double heat_to(const struct cy_member *member, cy_day from, cy_day day)
{
    int first = cy_weather_index(&member->weather, from);
    int last = cy_weather_index(&member->weather, day);
    double sum = 0;
    if (from == CY_DAY_NONE || first < 0 || last < first)
        return NAN;
    for (int i = first; i < last; i++)
        sum += member->warmth.heat_kh[i];
    return sum + member->warmth.heat_kh[last] / 2;
}

static double heat_of_a_day(const struct cy_member *member, cy_day day)
{
    double sum = 0;
    int count = 0;
    for (cy_day near = day - AROUND_DAYS; near <= day + AROUND_DAYS; near++) {
        int i = cy_weather_index(&member->weather, near);
        sum += i >= 0 ? member->warmth.heat_kh[i] : 0;
        count += i >= 0;
    }
    return count > 0 ? sum / count : NAN;
}

/* In each member, in the plan's season, by the model alone. */
static void find_starts(cy_day *out, const struct learner *learner,
                        const struct cy_row_facts *facts)
{
    int count = learner->ensemble->count, season = learner->plan->season;
    const struct cy_luck none = {0};
    for (int autumn = 0; autumn < 2; autumn++)
        for (int i = 0; i < count; i++) {
            struct cy_cohort cohort = {.year = autumn ? season : season - 1,
                                       .latitude_deg = facts->latitude_deg,
                                       .stands = true,
                                       .emerges_here = true,
                                       .kept = true,
                                       .planted = CY_DAY_NONE};
            struct cy_life life;
            cy_sightings_clear(&cohort.seen);
            cy_life_run(&life, &facts->traits, &cohort, &learner->ensemble->members[i], &none);
            cy_day midwinter = cy_season_midwinter(facts->latitude_deg, season);
            cy_day met = life.day[CY_STAGE_CHILL_MET];
            out[autumn * count + i] = autumn            ? life.day[CY_STAGE_EMERGENCE]
                                      : met > midwinter ? met
                                                        : midwinter;
        }
}

/* Rows of one cultivar mostly share their traits, and so the starts. NULL without memory. */
static const cy_day *starts_of(struct learner *learner, const struct cy_row_facts *facts)
{
    uint64_t traits = cy_hash_traits(CY_HASH_START, &facts->traits);
    for (size_t i = 0; i < learner->start_count; i++)
        if (learner->starts[i].traits == traits)
            return learner->starts[i].days;
    cy_day *days = cy_zeroed(2 * (size_t)learner->ensemble->count, sizeof *days);
    if (!days || !cy_grow(&learner->starts, &learner->start_capacity, learner->start_count,
                          sizeof *learner->starts)) {
        free(days);
        learner->status = CY_NO_MEMORY;
        return NULL;
    }
    find_starts(days, learner, facts);
    learner->starts[learner->start_count++] = (struct starts){traits, days};
    return days;
}

/* The heat that the weathers of the forecast bring by that time of year, what a day is worth then,
 * and what the season counts for, the weathers being as far apart as they are. */
static double usual_heat(double *weight, double *a_day, struct learner *learner,
                         const struct cy_row_facts *facts, enum cy_learn what, cy_day day)
{
    int count = learner->ensemble->count, known = 0, season = learner->plan->season;
    double latitude = facts->latitude_deg, sum = 0, squares = 0, days = 0;
    cy_day here = day - cy_season_start(latitude, cy_season_of(latitude, day)) +
                  cy_season_start(latitude, season);
    const cy_day *starts = starts_of(learner, facts);
    for (int i = 0; starts && i < count; i++) {
        const struct cy_member *member = &learner->ensemble->members[i];
        cy_day from = what == CY_LEARN_EMERGE_HEAT
                          ? cy_season_midwinter(latitude, season)
                          : starts[(what == CY_LEARN_AUTUMN_HEAT) * count + i];
        double heat = heat_to(member, from, here);
        if (isnan(heat))
            continue;
        sum += heat;
        squares += heat * heat;
        days += heat_of_a_day(member, here);
        known++;
    }
    double mean = sum / known, noise = CY_LEARN_NOISE_D * days / known;
    *a_day = days / known;
    *weight =
        known > 1 ? noise * noise / (noise * noise + fmax(squares / known - mean * mean, 0)) : 0;
    return known > 1 ? mean : NAN;
}

/* Learns a heat from the day that it brought: in that season's weather, or else in the usual one.
 * `sure` is what the day counts for by itself. */
static void learn_heat(struct sitting *sitting, enum cy_learn what, cy_day from, cy_day day,
                       double sure)
{
    struct learner *learner = sitting->learner;
    const struct cy_row_facts *facts = sitting->facts;
    const struct cy_member *member = &sitting->past->member;
    double weight = 1, a_day = heat_of_a_day(member, day);
    double value = heat_to(member, from, day);
    if (isnan(value))
        value = usual_heat(&weight, &a_day, learner, facts, what, day);
    add(learner, facts->cultivar->id, what, cy_season_of(facts->latitude_deg, day), value,
        weight * sure, a_day);
}

/* ---- what one cohort teaches ---------------------------------------------------------------- */

static cy_day seen(const struct sitting *sitting, enum cy_stage stage)
{
    return sitting->cohort.seen.stage[stage];
}

/* Where a seen first pick puts the peak, a seen last pick beside it or not. */
static double peak_of(const struct sitting *sitting, enum cy_stage first, double length_d)
{
    cy_day from = seen(sitting, first), to = seen(sitting, first + 2);
    if (from == CY_DAY_NONE)
        return NAN;
    return from + (to != CY_DAY_NONE ? (to - from) / 2.0 : length_d / 2);
}

static void learn_days(struct sitting *sitting, enum cy_learn what, cy_day bloom, double peak)
{
    const struct cy_row_facts *facts = sitting->facts;
    add(sitting->learner, facts->cultivar->id, what, cy_season_of(facts->latitude_deg, bloom),
        peak - bloom, 1, 1);
}

static void learn_emergence(struct sitting *sitting)
{
    const struct cy_row_facts *facts = sitting->facts;
    cy_day day = seen(sitting, CY_STAGE_EMERGENCE);
    /* In the year of planting the roots decide. */
    if (day == CY_DAY_NONE || sitting->cohort.year == facts->planted_season)
        return;
    learn_heat(sitting, CY_LEARN_EMERGE_HEAT,
               cy_season_midwinter(facts->latitude_deg, sitting->cohort.year), day, 1);
}

static void learn_growth(struct sitting *sitting)
{
    const struct cy_row_facts *facts = sitting->facts;
    const struct cy_sightings *heights = &sitting->cohort.seen;
    double rate = cy_sightings_growth_m_d(heights);
    if (facts->traits.growth_follows == CY_GROWTH_HEAT)
        rate = (heights->height_m - heights->first_height_m) * CY_LIFE_GROWTH_DAY_KH /
               heat_to(&sitting->past->member, heights->first_height_day, heights->height_day);
    if (heights->height_day > heights->first_height_day && rate > 0)
        add(sitting->learner, facts->cultivar->id, CY_LEARN_GROWTH, sitting->cohort.year, rate, 1,
            NAN);
}

static void learn_bloom(struct sitting *sitting)
{
    const struct cy_traits *traits = &sitting->facts->traits;
    cy_day midwinter = cy_season_midwinter(sitting->facts->latitude_deg, sitting->cohort.year + 1);
    cy_day met = sitting->life.day[CY_STAGE_CHILL_MET];
    cy_day from = met > midwinter ? met : midwinter;
    cy_day bud = seen(sitting, CY_STAGE_BUD_BREAK), bloom = seen(sitting, CY_STAGE_BLOOM);
    double peak = peak_of(sitting, CY_STAGE_FIRST_PICK, traits->pick_length_d.value);
    double noise = CY_LEARN_NOISE_D * CY_LEARN_NOISE_D;
    double ripen = traits->ripen_error_d.value * traits->ripen_error_d.value;
    if (bud != CY_DAY_NONE)
        learn_heat(sitting, CY_LEARN_BUD_BREAK_SHARE, from, bud, 1);
    if (bloom != CY_DAY_NONE)
        learn_heat(sitting, CY_LEARN_BLOOM_HEAT, from, bloom, 1);
    if (bloom != CY_DAY_NONE && !isnan(peak))
        learn_days(sitting, CY_LEARN_BLOOM_TO_PEAK, bloom, peak);
    else if (!isnan(peak)) /* fruit alone still says when it bloomed, less surely */
        learn_heat(sitting, CY_LEARN_BLOOM_HEAT, from,
                   (cy_day)floor(peak - traits->bloom_to_peak_d.value + 0.5),
                   noise / (noise + ripen));
}

static void learn_autumn(struct sitting *sitting)
{
    const struct cy_traits *traits = &sitting->facts->traits;
    cy_day bloom = seen(sitting, CY_STAGE_AUTUMN_BLOOM);
    double peak = peak_of(sitting, CY_STAGE_AUTUMN_FIRST_PICK, traits->autumn_length_d.value);
    if (bloom == CY_DAY_NONE)
        return;
    learn_heat(sitting, CY_LEARN_AUTUMN_HEAT, sitting->life.day[CY_STAGE_EMERGENCE], bloom, 1);
    if (!isnan(peak))
        learn_days(sitting, CY_LEARN_AUTUMN_TO_PEAK, bloom, peak);
}

static void learn_cohort(struct learner *learner, const struct cy_row_facts *facts, int year)
{
    struct sitting sitting = {.learner = learner, .facts = facts};
    sitting.cohort = (struct cy_cohort){
        .year = year, .latitude_deg = facts->latitude_deg, .planted = CY_DAY_NONE};
    cy_cohort_place(&sitting.cohort, &facts->traits, facts->stock, facts->planted_season,
                    facts->phase);
    /* Canes that came up before this planting were other ones. */
    if (year < facts->planted_season && !sitting.cohort.stands)
        return;
    cy_row_sightings(&sitting.cohort.seen, learner->seen, facts, year, learner->plan->today);
    sitting.past = past_of(learner, year);
    if (!sitting.past)
        return;
    const struct cy_luck none = {0};
    for (int stage = 0; stage < CY_STAGE_COUNT; stage++)
        sitting.life.day[stage] = CY_DAY_NONE;
    if (sitting.past->member.weather.days > 0)
        cy_life_run(&sitting.life, &facts->traits, &sitting.cohort, &sitting.past->member, &none);
    learn_emergence(&sitting);
    learn_growth(&sitting);
    learn_bloom(&sitting);
    learn_autumn(&sitting);
}

/* ---- what one row teaches ------------------------------------------------------------------- */

static void learn_night(struct learner *learner, const struct cy_thing *row,
                        const struct cy_thing *note, cy_day day)
{
    double low_c = cy_number(note, CY_SEEN_LOW);
    if (!learner->station || isnan(low_c) || !is_known(learner->station, day))
        return;
    int i = cy_weather_index(learner->station, day);
    add(learner, row->id, CY_LEARN_COLDER, cy_season_of(learner->plan->latitude_deg, day),
        learner->station->tmin_c[i] - low_c, 1, NAN);
}

static void learn_row(struct learner *learner, const struct cy_thing *row)
{
    const struct cy_record *records;
    size_t count = cy_records_of_row(&records, learner->seen, row->key);
    struct cy_row_facts facts;
    double latitude = learner->plan->latitude_deg;
    int first = CY_YEAR_MAX, last = CY_YEAR_MIN;
    if (count == 0)
        return;
    cy_row_facts_of(&facts, &learner->plan->farm, row, latitude);
    for (size_t i = 0; i < count; i++) {
        cy_day day = cy_date(records[i].thing, CY_SEEN_DAY);
        if (day == CY_DAY_NONE || day > learner->plan->today)
            continue;
        int season = cy_season_of(latitude, day);
        first = season < first ? season : first;
        last = season > last ? season : last;
        if (cy_choice(records[i].thing, CY_SEEN_WHAT) == CY_SIGHT_NIGHT_LOW)
            learn_night(learner, row, records[i].thing, day);
    }
    if (last - first >= CY_LEARN_MOST)
        first = last - CY_LEARN_MOST + 1;
    for (int year = first - 1; facts.cultivar && year <= last; year++)
        learn_cohort(learner, &facts, year);
}

/* ---- from seasons to values ----------------------------------------------------------------- */

static struct cy_trait *trait_of(struct cy_traits *traits, enum cy_learn what)
{
    switch (what) {
    case CY_LEARN_EMERGE_HEAT:
        return &traits->emerge_heat_kh;
    case CY_LEARN_GROWTH:
        return &traits->growth_m_d;
    case CY_LEARN_BLOOM_HEAT:
        return &traits->bloom_heat_kh;
    case CY_LEARN_BUD_BREAK_SHARE:
        return &traits->bud_break_share;
    case CY_LEARN_BLOOM_TO_PEAK:
        return &traits->bloom_to_peak_d;
    case CY_LEARN_AUTUMN_HEAT:
        return &traits->autumn_heat_kh;
    case CY_LEARN_AUTUMN_TO_PEAK:
        return &traits->autumn_bloom_to_peak_d;
    default:
        return NULL;
    }
}

static struct cy_trait *error_of(struct cy_traits *traits, enum cy_learn what)
{
    switch (what) {
    case CY_LEARN_BLOOM_HEAT:
        return &traits->bloom_error_d;
    case CY_LEARN_BLOOM_TO_PEAK:
        return &traits->ripen_error_d;
    case CY_LEARN_AUTUMN_HEAT:
        return &traits->autumn_bloom_error_d;
    default:
        return NULL;
    }
}

/* The value before any learning; its source is borrowed from the farm. */
static struct cy_trait before_of(const struct cy_learned *learned, const struct cy_farm *farm)
{
    const struct cy_thing *thing = cy_farm_by_id(farm, learned->thing);
    struct cy_traits traits;
    if (learned->what == CY_LEARN_COLDER) {
        struct cy_given given = cy_given(thing, CY_ROW_COLDER);
        return (struct cy_trait){given.number, given.basis, given.source};
    }
    cy_cultivar_traits(&traits, thing);
    return *trait_of(&traits, learned->what);
}

static void set_before(struct cy_learned *out, const struct cy_plan *plan)
{
    out->before = before_of(out, &plan->farm);
    bool nothing = out->before.basis & CY_BASIS_PLACEHOLDER;
    out->before_weight = out->what == CY_LEARN_COLDER ? CY_LEARN_NIGHTS
                         : nothing                    ? CY_LEARN_PLACEHOLDER
                                                      : CY_LEARN_CATALOGUE;
}

void cy_learn_borrow(struct cy_plan *plan)
{
    for (size_t i = 0; i < plan->learned_count; i++)
        plan->learned[i].before = before_of(&plan->learned[i], &plan->farm);
}

/* Bud break is learned as a heat first: here it becomes its share of the heat to bloom, learned
 * just before it. */
static void heat_to_share(struct cy_learned *share, const struct cy_learned *before,
                          const struct cy_plan *plan)
{
    struct cy_traits traits;
    cy_cultivar_traits(&traits, cy_farm_by_id(&plan->farm, share->thing));
    bool learned = before && before->thing == share->thing && before->what == CY_LEARN_BLOOM_HEAT;
    double heat = learned ? before->value.value : traits.bloom_heat_kh.value;
    for (int i = 0; i < share->season_count; i++)
        share->seasons[i].value = fmin(share->seasons[i].value / heat, 1);
    share->a_day /= heat;
}

static void shrink(struct cy_learned *out)
{
    struct cy_shrink_seen all[CY_LEARN_MOST];
    bool nights = out->what == CY_LEARN_COLDER;
    struct cy_shrink_belief belief = {
        .value = out->before.value,
        .weight = out->before_weight,
        .noise = nights              ? CY_LEARN_NOISE_K
                 : isnan(out->a_day) ? 0
                                     : CY_LEARN_NOISE_D * out->a_day,
        .noise_weight = CY_LEARN_NOISE_COUNTS,
    };
    for (int i = 0; i < out->season_count; i++) {
        all[i] = (struct cy_shrink_seen){out->seasons[i].value, out->seasons[i].weight};
        out->full_seasons += out->seasons[i].weight > 1 - 1e-9;
    }
    struct cy_shrunk shrunk;
    cy_shrink(&shrunk, &belief, all, (size_t)out->season_count);
    bool own = !nights && out->full_seasons >= CY_LEARN_OWN_SPREAD;
    out->weight = shrunk.weight;
    out->value = (struct cy_trait){shrunk.value,
                                   CY_BASIS_LEARNED | (own ? CY_BASIS_NONE : out->before.basis),
                                   "this farm's own seasons"};
    out->error_d = (struct cy_trait){NAN, CY_BASIS_NONE, ""};
    struct cy_traits traits;
    if (own && error_of(&traits, out->what))
        out->error_d = (struct cy_trait){shrunk.deviation / out->a_day, CY_BASIS_LEARNED,
                                         "the scatter of this farm's own seasons"};
}

static int by_thing(const void *a, const void *b)
{
    const struct bin *left = a, *right = b;
    if (left->thing != right->thing)
        return left->thing < right->thing ? -1 : 1;
    if (left->what != right->what)
        return left->what < right->what ? -1 : 1;
    return (left->year > right->year) - (left->year < right->year);
}

/* All seasons of one value, from the first of its bins on. Returns how many bins it took. */
static size_t gather_value(struct cy_learned *out, const struct learner *learner, size_t first)
{
    const struct bin *bins = learner->bins;
    size_t end = first;
    double a_day = 0;
    while (end < learner->bin_count && bins[end].thing == bins[first].thing &&
           bins[end].what == bins[first].what)
        end++;
    size_t from = end - first > CY_LEARN_MOST ? end - CY_LEARN_MOST : first;
    *out = (struct cy_learned){.thing = bins[first].thing, .what = bins[first].what};
    for (size_t i = from; i < end; i++) {
        bool nights = out->what == CY_LEARN_COLDER;
        out->seasons[out->season_count++] = (struct cy_learn_season){
            bins[i].year, bins[i].sum / bins[i].weights, nights ? bins[i].weights : bins[i].best};
        a_day += bins[i].a_day / bins[i].weights;
    }
    out->a_day = a_day / out->season_count;
    set_before(out, learner->plan);
    return end - first;
}

static int gather_values(struct cy_learned **out, size_t *count, struct learner *learner)
{
    size_t capacity = 0;
    if (learner->bin_count > 1)
        qsort(learner->bins, learner->bin_count, sizeof *learner->bins, by_thing);
    for (size_t i = 0; i < learner->bin_count;) {
        if (!cy_grow(out, &capacity, *count, sizeof **out))
            return CY_NO_MEMORY;
        struct cy_learned *learned = &(*out)[*count];
        i += gather_value(learned, learner, i);
        if (learned->what == CY_LEARN_BUD_BREAK_SHARE)
            heat_to_share(learned, *count > 0 ? learned - 1 : NULL, learner->plan);
        shrink(learned);
        ++*count;
    }
    return CY_OK;
}

int cy_learn_from(struct cy_learned **out, size_t *count, const struct cy_plan *plan,
                  const struct cy_records *seen, const struct cy_ensemble *ensemble,
                  const struct cy_weather *station, unsigned chill_kinds)
{
    struct learner learner = {.plan = plan,
                              .seen = seen,
                              .ensemble = ensemble,
                              .station = station,
                              .kinds = chill_kinds,
                              .status = CY_OK};
    *out = NULL;
    *count = 0;
    learner.sun = cy_warmth_sun_of(plan->latitude_deg);
    if (!learner.sun)
        learner.status = CY_NO_MEMORY;
    for (const struct cy_thing *row = NULL;
         learner.status == CY_OK && (row = cy_farm_next(&plan->farm, CY_KIND_ROW, 0, row));)
        learn_row(&learner, row);
    if (learner.status == CY_OK)
        learner.status = gather_values(out, count, &learner);
    for (size_t i = 0; i < learner.past_count; i++) {
        cy_weather_dispose(&learner.pasts[i].member.weather);
        cy_warmth_dispose(&learner.pasts[i].member.warmth);
    }
    for (size_t i = 0; i < learner.start_count; i++)
        free(learner.starts[i].days);
    cy_warmth_sun_free(learner.sun);
    free(learner.pasts);
    free(learner.bins);
    free(learner.starts);
    if (learner.status != CY_OK) {
        free(*out);
        *out = NULL;
        *count = 0;
    }
    return learner.status;
}

uint64_t cy_learn_fingerprint(uint64_t hash, const struct cy_plan *plan,
                              const struct cy_records *seen)
{
    static const enum cy_field fields[] = {CY_SEEN_DAY, CY_SEEN_WHAT, CY_SEEN_HEIGHT, CY_SEEN_LOW,
                                           CY_SEEN_KILL};
    hash = cy_hash_number(cy_hash_number(hash, plan->today), plan->season);
    for (size_t i = 0; i < seen->count; i++) {
        const struct cy_record *record = &seen->items[i];
        for (size_t k = 0; k < sizeof fields / sizeof *fields; k++)
            hash = cy_hash_number(hash, cy_number(record->thing, fields[k]));
        if (i > 0 && cy_streq(record->row, record[-1].row))
            continue;
        const struct cy_thing *row = cy_farm_by_key(&plan->farm, CY_KIND_ROW, 0, record->row);
        struct cy_row_facts facts;
        if (!row)
            continue;
        cy_row_facts_of(&facts, &plan->farm, row, plan->latitude_deg);
        hash = cy_hash_number(hash, (double)row->id);
        hash = cy_hash_number(hash, facts.cultivar ? (double)facts.cultivar->id : 0);
        hash = cy_hash_number(hash, facts.planted_season);
        hash = cy_hash_number(cy_hash_number(hash, facts.stock), facts.phase);
        hash = cy_hash_traits(hash, &facts.traits);
    }
    return hash ? hash : 1;
}

void cy_learn_apply(struct cy_row_facts *facts, const struct cy_plan *plan)
{
    for (size_t i = 0; i < plan->learned_count; i++) {
        const struct cy_learned *learned = &plan->learned[i];
        if (facts->row && learned->thing == facts->row->id)
            facts->traits.colder_k = learned->value.value;
        if (!facts->cultivar || learned->thing != facts->cultivar->id)
            continue;
        *trait_of(&facts->traits, learned->what) = learned->value;
        if (!isnan(learned->error_d.value))
            *error_of(&facts->traits, learned->what) = learned->error_d;
    }
}
