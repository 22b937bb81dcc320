/* SPDX-License-Identifier: MIT
 * The two-year life of one cohort of canes in one weather. */
#include <caneyear/crop/life.h>

#include <math.h>

#include <caneyear/base/stats.h>
#include <caneyear/crop/calendar.h>
#include <caneyear/crop/injury.h>

static const struct cy_life_constant constants[CY_LIFE_CONSTANT_COUNT] = {
    /* 7 days over the normal's 75 % point: half of the dates within 7 days of the forecast. */
    [CY_LIFE_BLOOM_ERROR] = {"error of the bloom date", 10.4, CY_Q_DAYS, CY_BASIS_PUBLISHED,
                             "Dickson et al., Horticulturae 9(10):1090, 2023: 50 % to 90 % of "
                             "flower dates within 7 days; the wider end"},
    [CY_LIFE_RIPEN_ERROR] = {"error of the days from bloom to ripe", 4, CY_Q_DAYS,
                             CY_BASIS_PUBLISHED,
                             "Vance et al., J. Amer. Pomol. Soc. 73(4), 2019: 55 to 65 days among "
                             "erect types, read as the middle 80 %"},
    [CY_LIFE_FLOWER_KILL] = {"temperature that kills half of the flowers", CY_COLD_FLOWER_C,
                             CY_Q_TEMPERATURE, CY_BASIS_PUBLISHED,
                             "USDA-ARS Kearneysville data shown by NC State, April 2016: 27.5 F"},
    [CY_LIFE_FIRST_FREEZE] = {"first freeze, which brings dormancy", -2.2, CY_Q_TEMPERATURE,
                              CY_BASIS_PUBLISHED,
                              "Warmund and Krumme, HortScience 40(5):1259-1262, 2005: the "
                              "temperature from which chill counts, read as leaf fall"},
    [CY_LIFE_FLOWER_REACH] = {"days from half bloom until petals have fallen", 10, CY_Q_DAYS,
                              CY_BASIS_PLACEHOLDER, ""},
    [CY_LIFE_FIRST_TO_HALF_BLOOM] = {"days from first to half bloom", 7, CY_Q_DAYS,
                                     CY_BASIS_PLACEHOLDER, ""},
    [CY_LIFE_LATERAL_DAYS] = {"days from tip to laterals", 14, CY_Q_DAYS, CY_BASIS_PLACEHOLDER, ""},
    [CY_LIFE_ROOTING_DAYS] = {"days from planting to growth", 14, CY_Q_DAYS, CY_BASIS_PLACEHOLDER,
                              ""},
    [CY_LIFE_SECOND_BUDS_LATE] = {"days that what grows from second buds runs late", 14, CY_Q_DAYS,
                                  CY_BASIS_PUBLISHED,
                                  "NC State post, 10 April 2012, after the freeze of April 2007: "
                                  "2 or more weeks"},
    [CY_LIFE_FLOWER_OPEN] = {"days that an open flower can freeze", CY_INJURY_OPEN_DAYS, CY_Q_DAYS,
                             CY_BASIS_MEMORY, ""},
};

/* Chill that half a year does not bring does not come; canes rest at the latest so many days after
 * nominal leaf fall; and a mild autumn goes on ripening fruit so long after it. */
enum { CHILL_DAYS = 181, LATEST_REST = 45, LATE_AUTUMN = 60 };

/* From 5 to 95 % of a normal curve, in its deviations. */
#define FIRST_TO_LAST (2 * 1.6448536269514722)

const struct cy_life_constant *cy_life_constant(enum cy_life_constant_id id)
{
    return &constants[id];
}

void cy_traits_set_errors(struct cy_traits *traits)
{
    const struct cy_life_constant *bloom = &constants[CY_LIFE_BLOOM_ERROR];
    const struct cy_life_constant *ripen = &constants[CY_LIFE_RIPEN_ERROR];
    traits->bloom_error_d = (struct cy_trait){bloom->value, bloom->basis, bloom->source};
    traits->autumn_bloom_error_d = traits->bloom_error_d;
    traits->ripen_error_d = (struct cy_trait){ripen->value, ripen->basis, ripen->source};
}

void cy_sightings_clear(struct cy_sightings *sightings)
{
    for (int i = 0; i < CY_STAGE_COUNT; i++)
        sightings->stage[i] = CY_DAY_NONE;
    sightings->half_bloom_guessed = false;
    sightings->height_day = CY_DAY_NONE;
    sightings->height_m = NAN;
    sightings->first_height_day = CY_DAY_NONE;
    sightings->first_height_m = NAN;
    sightings->killed_day = sightings->autumn_killed_day = CY_DAY_NONE;
    sightings->killed = sightings->autumn_killed = NAN;
}

double cy_sightings_growth_m_d(const struct cy_sightings *sightings)
{
    if (sightings->first_height_day == CY_DAY_NONE ||
        sightings->height_day <= sightings->first_height_day ||
        sightings->height_m <= sightings->first_height_m)
        return NAN;
    return (sightings->height_m - sightings->first_height_m) /
           (sightings->height_day - sightings->first_height_day);
}

bool cy_takes_autumn_crop(const struct cy_traits *traits)
{
    return traits->fruiting == CY_FRUITING_PRIMOCANE && traits->cropping != CY_CROPPING_FLORICANE &&
           traits->cropping != CY_CROPPING_ALTERNATE;
}

/* ---- one cohort in one weather -------------------------------------------------------------- */

struct run {
    struct cy_life *life;
    const struct cy_traits *traits;
    const struct cy_cohort *cohort;
    const struct cy_member *member;
    const struct cy_luck *luck;
    cy_day midwinter, late_summer; /* of the season in which the canes emerge */
    cy_day leaf_fall;              /* where the season in which they bear begins */
    cy_day second_midwinter, end;  /* of that season; `end` is the day after its last */
    struct cy_injury_buds buds;    /* what the winter leaves of them */
};

static cy_day seen_day(const struct run *run, enum cy_stage stage)
{
    return run->cohort->seen.stage[stage];
}

static void comes(struct run *run, enum cy_stage stage, cy_day day)
{
    const struct cy_weather *weather = &run->member->weather;
    if (seen_day(run, stage) != CY_DAY_NONE)
        day = seen_day(run, stage);
    bool in_sight = cy_weather_index(weather, day) >= 0;
    run->life->day[stage] = in_sight ? day : CY_DAY_NONE;
    run->life->never[stage] = in_sight ? CY_COMES : CY_OUT_OF_SIGHT;
}

static void never(struct run *run, enum cy_stage stage, enum cy_never why)
{
    if (seen_day(run, stage) != CY_DAY_NONE) {
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

/* What did not happen in [from, end) is only known not to happen where all of it is in sight. */
static enum cy_never unless_unseen(const struct run *run, cy_day from, cy_day end,
                                   enum cy_never why)
{
    const struct cy_weather *weather = &run->member->weather;
    bool seen = from >= weather->first && end <= weather->first + weather->days;
    return seen ? why : CY_OUT_OF_SIGHT;
}

/* The first day in [from, end) on which the daily amounts, summed but never below `lowest`, reach
 * `need`; CY_DAY_NONE where they do not, or where `from` is not in sight. */
static cy_day day_of_sum(const struct run *run, const double *daily, cy_day from, cy_day end,
                         double need, double lowest)
{
    const struct cy_weather *weather = &run->member->weather;
    double sum = 0;
    cy_day last = weather->first + weather->days;
    if (from < weather->first)
        return CY_DAY_NONE;
    for (cy_day day = from; day < end && day < last; day++) {
        sum += daily[day - weather->first];
        if (sum < lowest)
            sum = lowest;
        if (sum >= need)
            return day;
    }
    return CY_DAY_NONE;
}

static cy_day day_of_heat(const struct run *run, cy_day from, cy_day end, double need_kh)
{
    return day_of_sum(run, run->member->warmth.heat_kh, from, end, need_kh, 0);
}

/* The first day in [from, end) whose minimum is at or below the limit; CY_DAY_NONE where none. */
static cy_day day_of_cold(const struct run *run, cy_day from, cy_day end, double limit_c)
{
    const struct cy_weather *weather = &run->member->weather;
    cy_day last = weather->first + weather->days;
    for (cy_day day = from < weather->first ? weather->first : from; day < end && day < last; day++)
        if (weather->tmin_c[day - weather->first] <= limit_c)
            return day;
    return CY_DAY_NONE;
}

/* The same in the row, whose nights may be colder than the station's. */
static cy_day day_of_frost(const struct run *run, cy_day from, cy_day end,
                           enum cy_life_constant_id limit)
{
    return day_of_cold(run, from, end, constants[limit].value + run->traits->colder_k);
}

static cy_day days_later(cy_day day, double days)
{
    return day + (cy_day)floor(days + 0.5);
}

double cy_life_ripened(cy_day peak, double length_d, cy_day freeze)
{
    double deviation = length_d / FIRST_TO_LAST;
    return freeze == CY_DAY_NONE ? 1 : cy_normal_cdf((freeze - peak) / deviation);
}

/* First, peak and last pick of an autumn crop as the 5, 50 and 95 % days of a normal crop around
 * `peak`, cut off by a freeze (CY_DAY_NONE: none) that takes what is not ripe yet; `alive` is what
 * somebody saw left of it. */
static void pick_autumn(struct run *run, cy_day peak, double length_d, cy_day freeze, double alive)
{
    static const double shares[3] = {0.05, 0.5, 0.95};
    double ripened = cy_life_ripened(peak, length_d, freeze);
    if (ripened * alive < CY_INJURY_NONE_LEFT) {
        never_from_to(run, CY_STAGE_AUTUMN_FIRST_PICK, CY_STAGE_AUTUMN_LAST_PICK, CY_FREEZE_FIRST);
        return;
    }
    for (int i = 0; i < 3; i++) {
        double days = cy_normal_inverse(shares[i] * ripened) * length_d / FIRST_TO_LAST;
        comes(run, CY_STAGE_AUTUMN_FIRST_PICK + i, days_later(peak, days));
    }
    run->life->autumn_share = ripened * alive;
}

/* The peak by what was seen of the picking; CY_DAY_NONE where nothing was. */
static cy_day peak_seen(const struct run *run, enum cy_stage first_stage, double length_d)
{
    cy_day first = seen_day(run, first_stage), peak = seen_day(run, first_stage + 1),
           last = seen_day(run, first_stage + 2);
    if (peak != CY_DAY_NONE)
        return peak;
    if (first != CY_DAY_NONE && last != CY_DAY_NONE)
        return days_later(first, (last - first) / 2.0);
    if (first != CY_DAY_NONE) {
        /* The rest of the picking is still ahead: how long it takes is as uncertain as ripening. */
        double luck =
            first_stage == CY_STAGE_FIRST_PICK ? run->luck->ripening : run->luck->autumn_ripening;
        cy_day ahead = days_later(first, length_d / 2 + luck * run->traits->ripen_error_d.value);
        return ahead > first ? ahead : first + 1;
    }
    return last != CY_DAY_NONE ? days_later(last, -length_d / 2) : CY_DAY_NONE;
}

/* The day on which canes have gained so much height since a day; CY_DAY_NONE where the heat does
 * not last. Where they are past it, so many days back. */
static cy_day day_grown(const struct run *run, cy_day from, double missing_m)
{
    double days = missing_m / run->traits->growth_m_d.value;
    if (run->traits->growth_follows == CY_GROWTH_DAYS || days <= 0)
        return days_later(from, days);
    return day_of_heat(run, from + 1, run->leaf_fall, days * CY_LIFE_GROWTH_DAY_KH);
}

static void emerge(struct run *run)
{
    const struct cy_traits *traits = run->traits;
    const struct cy_sightings *seen = &run->cohort->seen;
    cy_day planted = run->cohort->planted;
    cy_day up = day_of_heat(run, run->midwinter, run->leaf_fall, traits->emerge_heat_kh.value);
    if (up != CY_DAY_NONE && planted != CY_DAY_NONE) {
        cy_day rooted = days_later(planted, constants[CY_LIFE_ROOTING_DAYS].value);
        up = rooted > up ? rooted : up;
    }
    /* Canes that were measured are up, whatever the sum says. */
    if (seen->height_day != CY_DAY_NONE && (up == CY_DAY_NONE || up > seen->height_day))
        up = days_later(seen->height_day, -seen->height_m / traits->growth_m_d.value);
    if (up == CY_DAY_NONE || up >= run->leaf_fall)
        never(run, CY_STAGE_EMERGENCE,
              unless_unseen(run, run->midwinter, run->leaf_fall, CY_TOO_LITTLE_HEAT));
    else
        comes(run, CY_STAGE_EMERGENCE, up);
}

static void tip(struct run *run)
{
    const struct cy_traits *traits = run->traits;
    const struct cy_sightings *seen = &run->cohort->seen;
    cy_day up = run->life->day[CY_STAGE_EMERGENCE];
    if (isnan(traits->tip_height_m.value)) {
        never_from_to(run, CY_STAGE_TIP, CY_STAGE_LATERALS, CY_DOES_NOT_APPLY);
        return;
    }
    if (up == CY_DAY_NONE) {
        never_from_to(run, CY_STAGE_TIP, CY_STAGE_LATERALS,
                      (enum cy_never)run->life->never[CY_STAGE_EMERGENCE]);
        return;
    }
    cy_day day =
        seen->height_day == CY_DAY_NONE
            ? day_grown(run, up, traits->tip_height_m.value)
            : day_grown(run, seen->height_day, traits->tip_height_m.value - seen->height_m);
    if (day != CY_DAY_NONE && day < up)
        day = up;
    if ((day == CY_DAY_NONE || day >= run->leaf_fall) &&
        seen_day(run, CY_STAGE_TIP) == CY_DAY_NONE) {
        never_from_to(run, CY_STAGE_TIP, CY_STAGE_LATERALS,
                      unless_unseen(run, up, run->leaf_fall, CY_TOO_LITTLE_HEAT));
        return;
    }
    comes(run, CY_STAGE_TIP, day);
    day = run->life->day[CY_STAGE_TIP];
    if (day != CY_DAY_NONE)
        comes(run, CY_STAGE_LATERALS, days_later(day, constants[CY_LIFE_LATERAL_DAYS].value));
    else
        never(run, CY_STAGE_LATERALS, CY_OUT_OF_SIGHT);
}

/* The killing freeze that ends the autumn crop; none before what was seen of it. */
static cy_day autumn_freeze(const struct run *run, cy_day limit)
{
    cy_day from = run->late_summer;
    for (int stage = CY_STAGE_AUTUMN_BLOOM; stage <= CY_STAGE_AUTUMN_LAST_PICK; stage++)
        if (seen_day(run, stage) >= from)
            from = seen_day(run, stage) + 1;
    if (run->cohort->seen.autumn_killed_day >= from)
        from = run->cohort->seen.autumn_killed_day + 1;
    return day_of_frost(run, from, limit, CY_LIFE_FLOWER_KILL);
}

/* What a note on the killed leaves of the autumn crop; not nothing once fruit was seen. */
static double autumn_alive(const struct run *run)
{
    const struct cy_sightings *seen = &run->cohort->seen;
    if (seen->autumn_killed_day == CY_DAY_NONE)
        return 1;
    bool fruited = peak_seen(run, CY_STAGE_AUTUMN_FIRST_PICK, 0) != CY_DAY_NONE;
    return fruited ? fmax(1 - seen->autumn_killed, CY_INJURY_NONE_LEFT) : 1 - seen->autumn_killed;
}

static void autumn_bloom(struct run *run, cy_day limit, cy_day freeze)
{
    cy_day up = run->life->day[CY_STAGE_EMERGENCE];
    cy_day bloom = day_of_heat(run, up, limit, run->traits->autumn_heat_kh.value);
    if (bloom == CY_DAY_NONE) {
        never(run, CY_STAGE_AUTUMN_BLOOM, unless_unseen(run, up, limit, CY_TOO_LITTLE_HEAT));
        return;
    }
    bloom = days_later(bloom, run->luck->autumn_bloom * run->traits->autumn_bloom_error_d.value);
    bloom = bloom <= up ? up + 1 : bloom;
    if (freeze != CY_DAY_NONE && freeze <= bloom)
        never(run, CY_STAGE_AUTUMN_BLOOM, CY_FREEZE_FIRST);
    else
        comes(run, CY_STAGE_AUTUMN_BLOOM, bloom);
}

static void autumn_crop(struct run *run)
{
    const struct cy_traits *traits = run->traits;
    cy_day limit = run->leaf_fall + LATE_AUTUMN;
    cy_day freeze = autumn_freeze(run, limit);
    if (run->life->day[CY_STAGE_EMERGENCE] != CY_DAY_NONE)
        autumn_bloom(run, limit, freeze);
    else
        never(run, CY_STAGE_AUTUMN_BLOOM, (enum cy_never)run->life->never[CY_STAGE_EMERGENCE]);

    double length = traits->autumn_length_d.value;
    cy_day bloom = run->life->day[CY_STAGE_AUTUMN_BLOOM];
    cy_day peak = peak_seen(run, CY_STAGE_AUTUMN_FIRST_PICK, length);
    if (peak == CY_DAY_NONE && bloom != CY_DAY_NONE)
        peak = days_later(bloom, traits->autumn_bloom_to_peak_d.value +
                                     run->luck->autumn_ripening * traits->ripen_error_d.value);
    if (peak == CY_DAY_NONE)
        never_from_to(run, CY_STAGE_AUTUMN_FIRST_PICK, CY_STAGE_AUTUMN_LAST_PICK,
                      (enum cy_never)run->life->never[CY_STAGE_AUTUMN_BLOOM]);
    else
        pick_autumn(run, peak, length, freeze, autumn_alive(run));
    run->life->autumn_due = peak;
    run->life->autumn_freeze = freeze;
}

static void rest(struct run *run)
{
    cy_day latest = run->leaf_fall + LATEST_REST;
    cy_day freeze = day_of_frost(run, run->late_summer, latest, CY_LIFE_FIRST_FREEZE);
    if (unless_unseen(run, run->late_summer, run->late_summer, CY_COMES) != CY_COMES)
        never(run, CY_STAGE_DORMANT, CY_OUT_OF_SIGHT);
    else
        comes(run, CY_STAGE_DORMANT, freeze != CY_DAY_NONE ? freeze : latest);
}

/* The day on which the chill need is met. Chill is counted from leaf fall; blackberry units from
 * the station's first freeze, and without one that count does not apply. False where the buds
 * cannot wake. */
static bool meet_chill(struct run *run)
{
    const struct cy_traits *traits = run->traits;
    cy_day from = run->leaf_fall, end = run->leaf_fall + CHILL_DAYS;
    if (isnan(traits->chill_need.value)) {
        never(run, CY_STAGE_CHILL_MET, CY_DOES_NOT_APPLY);
        return true;
    }
    if (traits->chill_rule == CY_CHILL_WEIGHTED)
        from = day_of_cold(run, run->late_summer, end, constants[CY_LIFE_FIRST_FREEZE].value);
    if (from == CY_DAY_NONE) {
        never(run, CY_STAGE_CHILL_MET, unless_unseen(run, run->leaf_fall, end, CY_DOES_NOT_APPLY));
        return run->life->never[CY_STAGE_CHILL_MET] == CY_DOES_NOT_APPLY;
    }
    /* Utah units start after the lowest running total (Richardson et al., HortScience 9, 1974). */
    double lowest = traits->chill_rule == CY_CHILL_UTAH ? 0 : -INFINITY;
    cy_day met = day_of_sum(run, run->member->warmth.chill[traits->chill_rule], from, end,
                            traits->chill_need.value, lowest);
    if (met == CY_DAY_NONE)
        never(run, CY_STAGE_CHILL_MET, unless_unseen(run, from, end, CY_TOO_LITTLE_CHILL));
    else
        comes(run, CY_STAGE_CHILL_MET, met);
    return met != CY_DAY_NONE;
}

/* Bud break at its share of the heat, bloom at all of it; a bud break that was seen replaces the
 * start of the sum. */
static void wake(struct run *run, cy_day rested)
{
    const struct cy_traits *traits = run->traits;
    double heat = traits->bloom_heat_kh.value, share = traits->bud_break_share.value;
    double shift = run->luck->bloom * traits->bloom_error_d.value;
    cy_day broken = seen_day(run, CY_STAGE_BUD_BREAK);
    if (broken != CY_DAY_NONE) {
        rested = broken + 1;
        heat *= 1 - share;
    } else {
        broken = day_of_heat(run, rested, run->end, heat * share);
        if (broken == CY_DAY_NONE) {
            never_from_to(run, CY_STAGE_BUD_BREAK, CY_STAGE_BLOOM,
                          unless_unseen(run, rested, run->end, CY_TOO_LITTLE_HEAT));
            return;
        }
        /* Buds break nearer to the start of the sum, so less error has gathered by then. */
        broken = days_later(broken, shift * share);
        broken = broken < rested ? rested : broken;
    }
    comes(run, CY_STAGE_BUD_BREAK, broken);
    cy_day bloom = day_of_heat(run, rested, run->end, heat);
    if (bloom == CY_DAY_NONE) {
        never(run, CY_STAGE_BLOOM, unless_unseen(run, rested, run->end, CY_TOO_LITTLE_HEAT));
        return;
    }
    bloom = days_later(bloom, shift);
    comes(run, CY_STAGE_BLOOM, bloom <= broken ? broken + 1 : bloom);
}

/* ---- what the cold leaves of the summer crop ------------------------------------------------- */

static struct cy_nights nights_of(const struct run *run)
{
    const struct cy_weather *weather = &run->member->weather;
    return (struct cy_nights){weather->tmin_c, weather->first, weather->days,
                              run->traits->colder_k};
}

/* Whether anything was seen that only living buds do. */
static bool seen_alive(const struct run *run)
{
    for (int stage = CY_STAGE_BUD_BREAK; stage <= CY_STAGE_LAST_PICK; stage++)
        if (seen_day(run, (enum cy_stage)stage) != CY_DAY_NONE)
            return true;
    return false;
}

/* What is left of the buds when they break, by the nights since they went to rest; of the first
 * ones, since somebody counted the dead. Canes that plants brought along wintered nobody knows
 * where. A night that kills the canes leaves neither. */
static struct cy_injury_buds buds_left(const struct run *run, cy_day broken)
{
    const struct cy_traits *traits = run->traits;
    const struct cy_sightings *seen = &run->cohort->seen;
    const struct cy_nights nights = nights_of(run);
    const cy_day winter = run->second_midwinter, counted = seen->killed_day;
    cy_day from = run->life->day[CY_STAGE_DORMANT];
    struct cy_injury_buds buds = {1, 1};
    from = from < run->leaf_fall ? run->leaf_fall : from;
    if (run->cohort->emerges_here)
        buds = cy_injury_buds(&traits->buds, &nights, winter, from, broken);
    if (counted != CY_DAY_NONE && counted >= from) {
        /* What is counted behind bud break counts the winter in, but is of the flowers. */
        from = counted < broken ? counted + 1 : broken;
        buds.first = cy_injury_buds(&traits->buds, &nights, winter, from, broken).first;
        buds.first *= counted < broken ? 1 - seen->killed : 1;
    }
    if (run->cohort->emerges_here &&
        cy_nights_lowest(&nights, from, broken) <= traits->winter_limit.value)
        buds = (struct cy_injury_buds){0, 0};
    return buds;
}

static bool none_left(double share)
{
    return share < CY_INJURY_NONE_LEFT - 1e-9; /* rounding apart */
}

static bool knows_winter(const struct run *run)
{
    return run->traits->buds.count > 0 || !isnan(run->traits->winter_limit.value) ||
           run->cohort->seen.killed_day != CY_DAY_NONE;
}

/* The winter's verdict. Bud break keeps its day: what lives breaks then, and the row's work waits
 * for it. What was seen alive lives, whatever the model. */
static void winter(struct run *run)
{
    struct cy_life *life = run->life;
    cy_day broken = life->day[CY_STAGE_BUD_BREAK];
    if (broken == CY_DAY_NONE || !knows_winter(run))
        return;
    run->buds = buds_left(run, broken);
    if (seen_alive(run))
        run->buds.first = fmax(run->buds.first, CY_INJURY_NONE_LEFT);
    life->buds_left = run->buds.first;
    double second = (1 - run->buds.first) * run->buds.second * run->traits->second_share.value;
    if (none_left(run->buds.first + second))
        never(run, CY_STAGE_BLOOM, CY_WINTER_KILLED);
}

/* What is left of the flowers, and when it ripens. They open as long before half bloom as fruit
 * ripens before the peak. A bloom that was seen has not frozen before. */
static void flowers(struct cy_injury_crop *out, const struct run *run, cy_day half)
{
    const struct cy_traits *traits = run->traits;
    const struct cy_sightings *seen = &run->cohort->seen;
    const struct cy_nights nights = nights_of(run);
    struct cy_injury_bloom bloom = {
        .first = days_later(half, -traits->pick_length_d.value / 2),
        .half = half,
        .deviation_d = traits->pick_length_d.value / FIRST_TO_LAST,
        .alive = run->buds.first,
        .second = run->buds.second * traits->second_share.value,
        .second_late_d = constants[CY_LIFE_SECOND_BUDS_LATE].value,
    };
    bloom.from = bloom.first;
    if (seen->half_bloom_guessed) {
        bloom.first = days_later(half, -constants[CY_LIFE_FIRST_TO_HALF_BLOOM].value);
        bloom.from = bloom.first + 1;
    } else if (seen_day(run, CY_STAGE_BLOOM) != CY_DAY_NONE) {
        bloom.from = half + 1;
    }
    if (seen->killed_day != CY_DAY_NONE && seen->killed_day >= run->life->day[CY_STAGE_BUD_BREAK]) {
        bloom.alive *= 1 - seen->killed;
        bloom.from = seen->killed_day >= bloom.from ? seen->killed_day + 1 : bloom.from;
    }
    cy_injury_flowers(out, &bloom, &nights);
}

/* ---- the summer crop ------------------------------------------------------------------------- */

/* The peak by what was seen, or by the bloom; CY_DAY_NONE where neither comes. */
static cy_day summer_peak(const struct run *run, bool *seen)
{
    cy_day bloom = run->life->day[CY_STAGE_BLOOM];
    cy_day peak = peak_seen(run, CY_STAGE_FIRST_PICK, run->traits->pick_length_d.value);
    *seen = peak != CY_DAY_NONE;
    if (!*seen && bloom != CY_DAY_NONE)
        peak = days_later(bloom, run->traits->bloom_to_peak_d.value +
                                     run->luck->ripening * run->traits->ripen_error_d.value);
    return peak;
}

static void lose_crop(struct run *run, cy_day peak)
{
    double late = run->traits->pick_length_d.value / 2 + constants[CY_LIFE_SECOND_BUDS_LATE].value;
    never_from_to(run, CY_STAGE_FIRST_PICK, CY_STAGE_LAST_PICK,
                  run->buds.first < run->life->flowers_left ? CY_WINTER_KILLED : CY_FLOWERS_FROZEN);
    comes(run, CY_STAGE_SPENT, days_later(peak, late) + 1);
}

static void summer_crop(struct run *run)
{
    struct cy_life *life = run->life;
    double length = run->traits->pick_length_d.value;
    bool seen;
    cy_day bloom = life->day[CY_STAGE_BLOOM], peak = summer_peak(run, &seen);
    if (peak == CY_DAY_NONE) {
        never_from_to(run, CY_STAGE_FIRST_PICK, CY_STAGE_LAST_PICK,
                      (enum cy_never)life->never[CY_STAGE_BLOOM]);
        /* Canes that bear nothing die with the season all the same. */
        comes(run, CY_STAGE_SPENT, run->end - 1);
        return;
    }
    struct cy_injury_crop crop = {.share = run->buds.first};
    if (bloom != CY_DAY_NONE) {
        flowers(&crop, run, bloom);
        life->flowers_left = crop.flowers_left;
    }
    /* Picking that was seen says when, and that some of it lives, but not how much. */
    double share = seen ? fmax(crop.share, CY_INJURY_NONE_LEFT) : crop.share;
    if (none_left(share)) {
        lose_crop(run, peak);
        return;
    }
    for (int i = 0; i < 3; i++)
        comes(run, CY_STAGE_FIRST_PICK + i,
              days_later(peak, seen ? (i - 1) * length / 2 : crop.day[i]));
    life->summer_share = share;
    cy_day last = life->day[CY_STAGE_LAST_PICK];
    comes(run, CY_STAGE_SPENT, (last != CY_DAY_NONE ? last : days_later(peak, length / 2)) + 1);
}

void cy_life_run(struct cy_life *out, const struct cy_traits *traits,
                 const struct cy_cohort *cohort, const struct cy_member *member,
                 const struct cy_luck *luck)
{
    double latitude = cohort->latitude_deg;
    int year = cohort->year;
    struct run run = {.life = out,
                      .traits = traits,
                      .cohort = cohort,
                      .member = member,
                      .luck = luck,
                      .midwinter = cy_season_midwinter(latitude, year),
                      .late_summer = cy_season_day(latitude, year, 901, true),
                      .leaf_fall = cy_season_start(latitude, year + 1),
                      .second_midwinter = cy_season_midwinter(latitude, year + 1),
                      .end = cy_season_start(latitude, year + 2),
                      .buds = {1, 1}};
    for (int i = 0; i < CY_STAGE_COUNT; i++) {
        out->day[i] = CY_DAY_NONE;
        out->never[i] = CY_DOES_NOT_APPLY;
    }
    out->autumn_share = out->summer_share = 0;
    out->buds_left = out->flowers_left = NAN;
    out->autumn_due = out->autumn_freeze = CY_DAY_NONE;
    if (cohort->stands && cohort->emerges_here) {
        emerge(&run);
        tip(&run);
        /* Fruit that was seen settles what nobody knew. */
        if (cy_takes_autumn_crop(traits) ||
            cohort->seen.stage[CY_STAGE_AUTUMN_BLOOM] != CY_DAY_NONE ||
            cohort->seen.stage[CY_STAGE_AUTUMN_FIRST_PICK] != CY_DAY_NONE)
            autumn_crop(&run);
        rest(&run);
    }
    if (!cohort->stands || !cohort->kept)
        return;
    bool awake = meet_chill(&run) || cohort->seen.stage[CY_STAGE_BUD_BREAK] != CY_DAY_NONE;
    cy_day met = out->day[CY_STAGE_CHILL_MET];
    if (awake)
        wake(&run, met > run.second_midwinter ? met : run.second_midwinter);
    else
        never_from_to(&run, CY_STAGE_BUD_BREAK, CY_STAGE_BLOOM,
                      (enum cy_never)out->never[CY_STAGE_CHILL_MET]);
    winter(&run);
    summer_crop(&run);
}

/* ---- what stands behind a date, which cohorts stand, what they do ---------------------------- */

static cy_basis known(const struct cy_trait *trait)
{
    return isnan(trait->value) ? CY_BASIS_NONE : trait->basis;
}

static cy_basis tip_basis(const struct cy_traits *traits, const struct cy_sightings *seen,
                          cy_basis weather)
{
    if (seen->height_day == CY_DAY_NONE)
        return cy_life_basis(traits, seen, weather, CY_STAGE_EMERGENCE) |
               traits->tip_height_m.basis | traits->growth_m_d.basis;
    /* Once a height is seen, what is left to guess is the growth from there to the tip height, or
     * back to it. */
    bool there = traits->tip_height_m.value - seen->height_m == 0;
    return CY_BASIS_OBSERVED | traits->tip_height_m.basis |
           (there ? CY_BASIS_NONE : traits->growth_m_d.basis);
}

/* What is behind the verdict of the winter. */
static cy_basis winter_basis(const struct cy_traits *traits)
{
    return traits->buds.basis | known(&traits->winter_limit);
}

/* What is behind a crop's being there in spite of the cold. How long an open flower can freeze
 * moves little of it and no date in a mild spring: that it is from memory stands by the weights,
 * whose share by age is. */
static cy_basis cold_basis(const struct cy_traits *traits, const struct cy_sightings *seen)
{
    cy_basis basis =
        constants[CY_LIFE_FLOWER_KILL].basis | winter_basis(traits) | traits->second_share.basis;
    return seen->killed_day != CY_DAY_NONE ? basis | CY_BASIS_OBSERVED : basis;
}

static cy_basis bloom_basis(const struct cy_traits *traits, const struct cy_sightings *seen,
                            cy_basis weather)
{
    cy_basis start = known(&traits->chill_need);
    if (seen->stage[CY_STAGE_BUD_BREAK] != CY_DAY_NONE)
        start = CY_BASIS_OBSERVED | traits->bud_break_share.basis;
    return start | traits->bloom_heat_kh.basis | traits->bloom_error_d.basis |
           winter_basis(traits) | weather;
}

cy_basis cy_life_basis(const struct cy_traits *traits, const struct cy_sightings *seen,
                       cy_basis weather, enum cy_stage stage)
{
    cy_basis before;
    if (seen->stage[stage] != CY_DAY_NONE)
        return stage == CY_STAGE_BLOOM && seen->half_bloom_guessed
                   ? CY_BASIS_OBSERVED | constants[CY_LIFE_FIRST_TO_HALF_BLOOM].basis
                   : CY_BASIS_OBSERVED;
    switch (stage) {
    case CY_STAGE_EMERGENCE:
        return traits->emerge_heat_kh.basis | weather;
    case CY_STAGE_TIP:
        return tip_basis(traits, seen, weather);
    case CY_STAGE_LATERALS:
        return cy_life_basis(traits, seen, weather, CY_STAGE_TIP) |
               constants[CY_LIFE_LATERAL_DAYS].basis;
    case CY_STAGE_AUTUMN_BLOOM:
        return cy_life_basis(traits, seen, weather, CY_STAGE_EMERGENCE) |
               traits->autumn_heat_kh.basis | traits->autumn_bloom_error_d.basis | weather;
    case CY_STAGE_AUTUMN_FIRST_PICK:
    case CY_STAGE_AUTUMN_PEAK_PICK:
    case CY_STAGE_AUTUMN_LAST_PICK:
        before = seen->stage[CY_STAGE_AUTUMN_FIRST_PICK] != CY_DAY_NONE
                     ? CY_BASIS_OBSERVED
                     : cy_life_basis(traits, seen, weather, CY_STAGE_AUTUMN_BLOOM) |
                           traits->autumn_bloom_to_peak_d.basis;
        return before | traits->autumn_length_d.basis | weather;
    case CY_STAGE_DORMANT:
        return constants[CY_LIFE_FIRST_FREEZE].basis | weather;
    case CY_STAGE_CHILL_MET:
        return known(&traits->chill_need) | weather;
    case CY_STAGE_BUD_BREAK:
        return bloom_basis(traits, seen, weather) | traits->bud_break_share.basis;
    case CY_STAGE_BLOOM:
        return bloom_basis(traits, seen, weather);
    default:
        before = seen->stage[CY_STAGE_FIRST_PICK] != CY_DAY_NONE ||
                         seen->stage[CY_STAGE_LAST_PICK] != CY_DAY_NONE
                     ? CY_BASIS_OBSERVED
                     : cy_life_basis(traits, seen, weather, CY_STAGE_BLOOM) |
                           traits->bloom_to_peak_d.basis | traits->ripen_error_d.basis |
                           cold_basis(traits, seen);
        return before | traits->pick_length_d.basis;
    }
}

void cy_cohort_place(struct cy_cohort *cohort, const struct cy_traits *traits, enum cy_stock stock,
                     int planted_season, enum cy_phase phase)
{
    bool mown = traits->cropping == CY_CROPPING_AUTUMN;
    bool brought = stock == CY_STOCK_LONG_CANE && cohort->year == planted_season - 1 && !mown;
    cohort->emerges_here = cohort->year >= planted_season;
    cohort->stands = cohort->emerges_here || brought;
    cohort->kept = cohort->stands && !mown;
    if (traits->cropping == CY_CROPPING_ALTERNATE && cohort->emerges_here) {
        /* One year canes only, the next fruit only: canes that come up in a fruiting year go, but
         * for the first ones of a young row, which feed its roots. */
        bool fruits_next = ((cohort->year + 1) % 2 != 0) == (phase == CY_PHASE_ODD);
        cohort->kept = fruits_next;
        cohort->stands = fruits_next || cohort->year == planted_season;
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
        /* Canes in leaf whose flowers froze have no green fruit. */
        if (order[i].state == CY_STATE_BLOOM &&
            since > (cy_day)constants[CY_LIFE_FLOWER_REACH].value)
            return stage[CY_STAGE_FIRST_PICK] != CY_DAY_NONE ? CY_STATE_GREEN_FRUIT
                                                             : CY_STATE_BUD_BREAK;
        if (order[i].state == CY_STATE_ELONGATING && since < (cy_day)emerge_spread_d)
            return CY_STATE_EMERGING;
        return order[i].state;
    }
    return CY_STATE_ABSENT;
}
