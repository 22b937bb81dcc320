/* SPDX-License-Identifier: MIT
 * The two-year life of one cohort of canes in one weather. */
#include <caneyear/crop/life.h>

#include <math.h>

#include <caneyear/base/stats.h>
#include <caneyear/crop/calendar.h>

static const struct cy_life_constant constants[CY_LIFE_CONSTANT_COUNT] = {
    /* 7 days over the normal's 75 % point: half of the dates within 7 days of the forecast. */
    [CY_LIFE_BLOOM_ERROR] = {"error of the bloom date", 10.4, CY_Q_DAYS, CY_BASIS_PUBLISHED,
                             "Dickson et al., Horticulturae 9(10):1090, 2023: 50 % to 90 % of "
                             "flower dates within 7 days; the wider end"},
    [CY_LIFE_RIPEN_ERROR] = {"error of the days from bloom to ripe", 4, CY_Q_DAYS,
                             CY_BASIS_PUBLISHED,
                             "Vance et al., J. Amer. Pomol. Soc. 73(4), 2019: 55 to 65 days among "
                             "erect types, read as the middle 80 %"},
    [CY_LIFE_FLOWER_KILL] = {"temperature that kills flowers", -2.5, CY_Q_TEMPERATURE,
                             CY_BASIS_PUBLISHED,
                             "USDA-ARS Kearneysville data shown by NC State, April 2016: 27.5 F"},
    [CY_LIFE_FIRST_FREEZE] = {"first freeze, which brings dormancy", -2.2, CY_Q_TEMPERATURE,
                              CY_BASIS_PUBLISHED,
                              "Warmund and Krumme, HortScience 40(5):1259-1262, 2005: the "
                              "temperature from which chill counts, read as leaf fall"},
    [CY_LIFE_FLOWER_REACH] = {"days around half bloom with flowers open", 10, CY_Q_DAYS,
                              CY_BASIS_PLACEHOLDER, ""},
    [CY_LIFE_FIRST_TO_HALF_BLOOM] = {"days from first to half bloom", 7, CY_Q_DAYS,
                                     CY_BASIS_PLACEHOLDER, ""},
    [CY_LIFE_LATERAL_DAYS] = {"days from tip to laterals", 14, CY_Q_DAYS, CY_BASIS_PLACEHOLDER,
                              ""},
    [CY_LIFE_ROOTING_DAYS] = {"days from planting to growth", 14, CY_Q_DAYS, CY_BASIS_PLACEHOLDER,
                              ""},
};

/* A season's nominal length; chill that is not met within the first half of it is not met. */
enum { SEASON_DAYS = 365, CHILL_DAYS = 181, LATEST_REST = 45 };

const struct cy_life_constant *cy_life_constant(enum cy_life_constant_id id)
{
    return &constants[id];
}

void cy_sightings_clear(struct cy_sightings *sightings)
{
    for (int i = 0; i < CY_STAGE_COUNT; i++)
        sightings->stage[i] = CY_DAY_NONE;
    sightings->height_day = CY_DAY_NONE;
    sightings->height_m = NAN;
}

/* ---- one cohort in one weather -------------------------------------------------------------- */

struct run {
    struct cy_life *life;
    const struct cy_traits *traits;
    const struct cy_cohort *cohort;
    const struct cy_member *member;
    const struct cy_luck *luck;
};

static void comes(struct run *run, enum cy_stage stage, cy_day day)
{
    const struct cy_weather *weather = &run->member->weather;
    cy_day seen = run->cohort->seen.stage[stage];
    if (seen != CY_DAY_NONE)
        day = seen;
    bool in_sight = day >= weather->first && day < weather->first + weather->days;
    run->life->day[stage] = in_sight ? day : CY_DAY_NONE;
    run->life->never[stage] = in_sight ? CY_COMES : CY_OUT_OF_SIGHT;
}

static void never(struct run *run, enum cy_stage stage, enum cy_never why)
{
    if (run->cohort->seen.stage[stage] != CY_DAY_NONE) {
        comes(run, stage, CY_DAY_NONE);
        return;
    }
    run->life->day[stage] = CY_DAY_NONE;
    run->life->never[stage] = (uint8_t)why;
}

static void never_from_to(struct run *run, enum cy_stage first, enum cy_stage last,
                          enum cy_never why)
{
    for (enum cy_stage stage = first; stage <= last; stage++)
        never(run, stage, why);
}

/* The first day from `from` on which the daily amounts add up to `need`, before `end`. */
static cy_day day_of_sum(const double *daily, const struct cy_weather *weather, cy_day from,
                         cy_day end, double need)
{
    double sum = 0;
    cy_day last = weather->first + weather->days;
    if (end > last)
        end = last;
    for (cy_day day = from < weather->first ? weather->first : from; day < end; day++) {
        sum += daily[day - weather->first];
        if (sum >= need)
            return day;
    }
    return CY_DAY_NONE;
}

/* The first day of [from, end) whose minimum on this row is at or below `limit_c`. */
static cy_day day_of_cold(const struct run *run, cy_day from, cy_day end, double limit_c)
{
    const struct cy_weather *weather = &run->member->weather;
    cy_day last = weather->first + weather->days;
    if (end > last)
        end = last;
    for (cy_day day = from < weather->first ? weather->first : from; day < end; day++)
        if (weather->tmin_c[day - weather->first] - run->traits->colder_k <= limit_c)
            return day;
    return CY_DAY_NONE;
}

static cy_day days_later(cy_day day, double days)
{
    return day + (cy_day)floor(days + 0.5);
}

/* First, peak and last pick as the 5, 50 and 95 % days of a normal crop around `peak`, cut off by
 * a freeze (CY_DAY_NONE: none) that takes what is not ripe yet. */
static void pick(struct run *run, enum cy_stage first, cy_day peak, double length_d, cy_day freeze)
{
    double deviation = length_d / (2 * 1.6448536269514722); /* the normal's 95 % point */
    double ripened = 1;
    if (freeze != CY_DAY_NONE)
        ripened = cy_normal_cdf((freeze - peak) / deviation);
    if (ripened < 0.05) {
        never_from_to(run, first, first + 2, CY_FREEZE_FIRST);
        return;
    }
    static const double shares[3] = {0.05, 0.5, 0.95};
    for (int i = 0; i < 3; i++)
        comes(run, first + i, days_later(peak, deviation * cy_normal_inverse(shares[i] * ripened)));
}

/* A sighting of the first pick moves the peak behind it; NONE where there is none. */
static cy_day peak_from_first(const struct run *run, enum cy_stage first, double length_d)
{
    cy_day seen = run->cohort->seen.stage[first];
    return seen == CY_DAY_NONE ? CY_DAY_NONE : days_later(seen, length_d / 2);
}

static void grow(struct run *run, cy_day midwinter, cy_day season_end)
{
    const struct cy_traits *traits = run->traits;
    cy_day up = day_of_sum(run->member->warmth.heat_kh, &run->member->weather, midwinter,
                           season_end, traits->emerge_heat_kh.value);
    cy_day rooted = run->cohort->planted == CY_DAY_NONE
                        ? CY_DAY_NONE
                        : days_later(run->cohort->planted,
                                     constants[CY_LIFE_ROOTING_DAYS].value);
    if (up != CY_DAY_NONE && rooted > up)
        up = rooted < season_end ? rooted : CY_DAY_NONE;
    if (up == CY_DAY_NONE)
        never(run, CY_STAGE_EMERGENCE, CY_TOO_LITTLE_HEAT);
    else
        comes(run, CY_STAGE_EMERGENCE, up);
    up = run->life->day[CY_STAGE_EMERGENCE];

    if (isnan(traits->tip_height_m.value)) {
        never_from_to(run, CY_STAGE_TIP, CY_STAGE_LATERALS, CY_DOES_NOT_APPLY);
        return;
    }
    if (up == CY_DAY_NONE) {
        never_from_to(run, CY_STAGE_TIP, CY_STAGE_LATERALS, CY_TOO_LITTLE_HEAT);
        return;
    }
    cy_day tip = days_later(up, traits->tip_height_m.value / traits->growth_m_d.value);
    const struct cy_sightings *seen = &run->cohort->seen;
    if (seen->height_day != CY_DAY_NONE) {
        double missing_m = traits->tip_height_m.value - seen->height_m;
        tip = days_later(seen->height_day, missing_m / traits->growth_m_d.value);
        if (tip < up)
            tip = up;
    }
    if (tip >= season_end) {
        never_from_to(run, CY_STAGE_TIP, CY_STAGE_LATERALS, CY_TOO_LITTLE_HEAT);
        return;
    }
    comes(run, CY_STAGE_TIP, tip);
    tip = run->life->day[CY_STAGE_TIP];
    if (tip != CY_DAY_NONE)
        comes(run, CY_STAGE_LATERALS,
              days_later(tip, constants[CY_LIFE_LATERAL_DAYS].value));
    else
        never(run, CY_STAGE_LATERALS, CY_OUT_OF_SIGHT);
}

static void autumn_crop(struct run *run, cy_day late_summer, cy_day season_end)
{
    const struct cy_traits *traits = run->traits;
    cy_day up = run->life->day[CY_STAGE_EMERGENCE];
    if (up == CY_DAY_NONE) {
        never_from_to(run, CY_STAGE_AUTUMN_BLOOM, CY_STAGE_AUTUMN_LAST_PICK, CY_TOO_LITTLE_HEAT);
        return;
    }
    /* A season ends at nominal leaf fall, but a mild autumn goes on ripening fruit. */
    cy_day limit = season_end + 60;
    cy_day freeze = day_of_cold(run, late_summer, limit, constants[CY_LIFE_FLOWER_KILL].value);
    cy_day bloom = day_of_sum(run->member->warmth.heat_kh, &run->member->weather, up, limit,
                              traits->autumn_heat_kh.value);
    if (bloom != CY_DAY_NONE)
        bloom = days_later(bloom, run->luck->autumn_bloom * constants[CY_LIFE_BLOOM_ERROR].value);
    if (bloom != CY_DAY_NONE && bloom <= up)
        bloom = up + 1;
    if (bloom == CY_DAY_NONE)
        never(run, CY_STAGE_AUTUMN_BLOOM, CY_TOO_LITTLE_HEAT);
    else if (freeze != CY_DAY_NONE && freeze <= bloom)
        never(run, CY_STAGE_AUTUMN_BLOOM, CY_FREEZE_FIRST);
    else
        comes(run, CY_STAGE_AUTUMN_BLOOM, bloom);

    double length = traits->autumn_length_d.value;
    cy_day peak = peak_from_first(run, CY_STAGE_AUTUMN_FIRST_PICK, length);
    bloom = run->life->day[CY_STAGE_AUTUMN_BLOOM];
    if (peak == CY_DAY_NONE && bloom != CY_DAY_NONE)
        peak = days_later(bloom, traits->autumn_bloom_to_peak_d.value +
                                     run->luck->autumn_ripening *
                                         constants[CY_LIFE_RIPEN_ERROR].value);
    if (peak == CY_DAY_NONE)
        never_from_to(run, CY_STAGE_AUTUMN_FIRST_PICK, CY_STAGE_AUTUMN_LAST_PICK,
                      (enum cy_never)run->life->never[CY_STAGE_AUTUMN_BLOOM]);
    else
        pick(run, CY_STAGE_AUTUMN_FIRST_PICK, peak, length, freeze);
}

/* The day from which chill is counted: leaf fall, or the first freeze for the model that starts
 * with it; CY_DAY_NONE where that model never starts. */
static cy_day chill_start(const struct run *run, cy_day leaf_fall)
{
    if (run->traits->chill_rule != CY_CHILL_WEIGHTED)
        return leaf_fall;
    return day_of_cold(run, leaf_fall, leaf_fall + CHILL_DAYS,
                       constants[CY_LIFE_FIRST_FREEZE].value);
}

static void wake(struct run *run, cy_day leaf_fall, cy_day midwinter)
{
    const struct cy_traits *traits = run->traits;
    const struct cy_warmth *warmth = &run->member->warmth;
    const struct cy_weather *weather = &run->member->weather;
    cy_day season_end = leaf_fall + SEASON_DAYS;
    cy_day rested = midwinter;
    if (isnan(traits->chill_need.value)) {
        never(run, CY_STAGE_CHILL_MET, CY_DOES_NOT_APPLY);
    } else {
        cy_day from = chill_start(run, leaf_fall);
        cy_day met = from == CY_DAY_NONE
                         ? CY_DAY_NONE
                         : day_of_sum(warmth->chill[traits->chill_rule], weather, from,
                                      leaf_fall + CHILL_DAYS, traits->chill_need.value);
        if (met == CY_DAY_NONE)
            never(run, CY_STAGE_CHILL_MET, CY_TOO_LITTLE_CHILL);
        else
            comes(run, CY_STAGE_CHILL_MET, met);
        if (met > rested)
            rested = met;
        if (met == CY_DAY_NONE) {
            never_from_to(run, CY_STAGE_BUD_BREAK, CY_STAGE_BLOOM, CY_TOO_LITTLE_CHILL);
            return;
        }
    }
    double heat = traits->bloom_heat_kh.value;
    double shift = run->luck->bloom * constants[CY_LIFE_BLOOM_ERROR].value;
    cy_day broken = day_of_sum(warmth->heat_kh, weather, rested, season_end,
                               heat * traits->bud_break_share.value);
    cy_day bloom = day_of_sum(warmth->heat_kh, weather, rested, season_end, heat);
    if (broken == CY_DAY_NONE) {
        never_from_to(run, CY_STAGE_BUD_BREAK, CY_STAGE_BLOOM, CY_TOO_LITTLE_HEAT);
        return;
    }
    /* Buds break nearer to the start of the sum, so less error has gathered by then. */
    broken = days_later(broken, shift * traits->bud_break_share.value);
    if (broken < rested)
        broken = rested;
    comes(run, CY_STAGE_BUD_BREAK, broken);
    broken = run->life->day[CY_STAGE_BUD_BREAK];
    if (bloom == CY_DAY_NONE) {
        never(run, CY_STAGE_BLOOM, CY_TOO_LITTLE_HEAT);
        return;
    }
    bloom = days_later(bloom, shift);
    if (broken != CY_DAY_NONE && bloom <= broken)
        bloom = broken + 1;
    comes(run, CY_STAGE_BLOOM, bloom);
}

static void summer_crop(struct run *run, cy_day leaf_fall)
{
    const struct cy_traits *traits = run->traits;
    cy_day bloom = run->life->day[CY_STAGE_BLOOM];
    double length = traits->pick_length_d.value;
    cy_day peak = peak_from_first(run, CY_STAGE_FIRST_PICK, length);
    bool seen = peak != CY_DAY_NONE;
    if (!seen && bloom != CY_DAY_NONE)
        peak = days_later(bloom, traits->bloom_to_peak_d.value +
                                     run->luck->ripening *
                                         constants[CY_LIFE_RIPEN_ERROR].value);
    /* Canes that bear nothing die with the season all the same. */
    cy_day spent = leaf_fall + SEASON_DAYS - 1;
    if (peak == CY_DAY_NONE) {
        never_from_to(run, CY_STAGE_FIRST_PICK, CY_STAGE_LAST_PICK,
                      (enum cy_never)run->life->never[CY_STAGE_BLOOM]);
        comes(run, CY_STAGE_SPENT, spent);
        return;
    }
    int reach = (int)constants[CY_LIFE_FLOWER_REACH].value;
    if (!seen && day_of_cold(run, bloom - reach, bloom + reach + 1,
                             constants[CY_LIFE_FLOWER_KILL].value) != CY_DAY_NONE)
        never_from_to(run, CY_STAGE_FIRST_PICK, CY_STAGE_LAST_PICK, CY_FLOWERS_FROZEN);
    else
        pick(run, CY_STAGE_FIRST_PICK, peak, length, CY_DAY_NONE);
    cy_day last = run->life->day[CY_STAGE_LAST_PICK];
    comes(run, CY_STAGE_SPENT, last != CY_DAY_NONE ? last + 1 : days_later(peak, length / 2) + 1);
}

void cy_life_run(struct cy_life *out, const struct cy_traits *traits,
                 const struct cy_cohort *cohort, const struct cy_member *member,
                 const struct cy_luck *luck)
{
    struct run run = {out, traits, cohort, member, luck};
    double latitude = cohort->latitude_deg;
    int year = cohort->year;
    for (int i = 0; i < CY_STAGE_COUNT; i++) {
        out->day[i] = CY_DAY_NONE;
        out->never[i] = CY_DOES_NOT_APPLY;
    }
    if (!cohort->stands)
        return;

    cy_day leaf_fall = cy_season_start(latitude, year + 1);
    if (cohort->emerges_here) {
        cy_day late_summer = cy_season_day(latitude, year, 901, true);
        grow(&run, cy_season_midwinter(latitude, year), leaf_fall);
        if (traits->fruiting == CY_FRUITING_PRIMOCANE)
            autumn_crop(&run, late_summer, leaf_fall);
        cy_day freeze = day_of_cold(&run, late_summer, leaf_fall + LATEST_REST,
                                    constants[CY_LIFE_FIRST_FREEZE].value);
        comes(&run, CY_STAGE_DORMANT, freeze != CY_DAY_NONE ? freeze : leaf_fall + LATEST_REST);
    }
    if (!cohort->kept)
        return;
    wake(&run, leaf_fall, cy_season_midwinter(latitude, year + 1));
    summer_crop(&run, leaf_fall);
}

/* ---- what stands behind a date, which cohorts stand, what they do ---------------------------- */

cy_basis cy_life_basis(const struct cy_traits *traits, enum cy_stage stage)
{
    cy_basis emergence = traits->emerge_heat_kh.basis;
    cy_basis tip = emergence | traits->tip_height_m.basis | traits->growth_m_d.basis;
    cy_basis rest = isnan(traits->chill_need.value) ? CY_BASIS_NONE : traits->chill_need.basis;
    cy_basis bloom = rest | traits->bloom_heat_kh.basis;
    cy_basis autumn = emergence | traits->autumn_heat_kh.basis;
    switch (stage) {
    case CY_STAGE_EMERGENCE:
        return emergence;
    case CY_STAGE_TIP:
        return tip;
    case CY_STAGE_LATERALS:
        return tip | constants[CY_LIFE_LATERAL_DAYS].basis;
    case CY_STAGE_AUTUMN_BLOOM:
        return autumn;
    case CY_STAGE_AUTUMN_FIRST_PICK:
    case CY_STAGE_AUTUMN_PEAK_PICK:
    case CY_STAGE_AUTUMN_LAST_PICK:
        return autumn | traits->autumn_bloom_to_peak_d.basis | traits->autumn_length_d.basis;
    case CY_STAGE_DORMANT:
        return constants[CY_LIFE_FIRST_FREEZE].basis;
    case CY_STAGE_CHILL_MET:
        return rest;
    case CY_STAGE_BUD_BREAK:
        return bloom | traits->bud_break_share.basis;
    case CY_STAGE_BLOOM:
        return bloom;
    default:
        return bloom | traits->bloom_to_peak_d.basis | traits->pick_length_d.basis;
    }
}

void cy_cohort_place(struct cy_cohort *cohort, const struct cy_traits *traits, enum cy_stock stock,
                     int planted_season, enum cy_phase phase)
{
    bool brought = stock == CY_STOCK_LONG_CANE && cohort->year == planted_season - 1;
    cohort->emerges_here = cohort->year >= planted_season;
    cohort->stands = cohort->emerges_here || brought;
    cohort->kept = cohort->stands && traits->cropping != CY_CROPPING_AUTUMN;
    if (traits->cropping == CY_CROPPING_ALTERNATE) {
        /* One year canes only, the next fruit only: canes that come up in a fruiting year go. */
        bool fruits_next = ((cohort->year + 1) % 2 != 0) == (phase == CY_PHASE_ODD);
        cohort->kept = cohort->kept && fruits_next;
        cohort->stands = cohort->kept;
    }
}

static bool past(const cy_day stage[CY_STAGE_COUNT], enum cy_stage which, cy_day day)
{
    return stage[which] != CY_DAY_NONE && day >= stage[which];
}

enum cy_state cy_life_state(const cy_day stage[CY_STAGE_COUNT], double emerge_spread_d, cy_day gone,
                            cy_day day)
{
    /* Latest first: the last stage passed names the state. */
    static const struct {
        enum cy_stage stage;
        enum cy_state state;
    } order[] = {
        {CY_STAGE_SPENT, CY_STATE_SPENT},
        {CY_STAGE_FIRST_PICK, CY_STATE_RIPE},
        {CY_STAGE_BLOOM, CY_STATE_BLOOM},
        {CY_STAGE_BUD_BREAK, CY_STATE_BUD_BREAK},
        {CY_STAGE_CHILL_MET, CY_STATE_CHILLED},
        {CY_STAGE_DORMANT, CY_STATE_DORMANT},
        {CY_STAGE_AUTUMN_LAST_PICK, CY_STATE_LATERALS},
        {CY_STAGE_AUTUMN_FIRST_PICK, CY_STATE_AUTUMN_RIPE},
        {CY_STAGE_AUTUMN_BLOOM, CY_STATE_AUTUMN_BLOOM},
        {CY_STAGE_LATERALS, CY_STATE_LATERALS},
        {CY_STAGE_TIP, CY_STATE_TIPPED},
        {CY_STAGE_EMERGENCE, CY_STATE_ELONGATING},
    };
    if (gone != CY_DAY_NONE && day >= gone)
        return CY_STATE_GONE;
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        if (!past(stage, order[i].stage, day))
            continue;
        cy_day since = day - stage[order[i].stage];
        if (order[i].state == CY_STATE_BLOOM &&
            since > (cy_day)constants[CY_LIFE_FLOWER_REACH].value)
            return CY_STATE_GREEN_FRUIT;
        if (order[i].state == CY_STATE_ELONGATING && since < (cy_day)emerge_spread_d)
            return CY_STATE_EMERGING;
        return order[i].state;
    }
    return CY_STATE_ABSENT;
}
