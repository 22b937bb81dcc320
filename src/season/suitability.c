/* SPDX-License-Identifier: MIT
 * What suits a site: its own marks by published advice, its cultivars' by what the weathers do to
 * them. */
#include "season/suitability_parts.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/random.h>
#include <caneyear/crop/calendar.h>
#include <caneyear/season/traits.h>

const char *cy_suit_word(enum cy_suit suit)
{
    static const char *const words[] = {
#define SUIT(name, word) [CY_SUIT_##name] = word,
        CY_SUITS(SUIT)
#undef SUIT
    };
    return words[suit];
}

const char *cy_mark_word(enum cy_mark mark)
{
    static const char *const words[] = {
#define MARK(name, word) word,
        CY_MARKS(MARK)
#undef MARK
    };
    return words[mark];
}

/* ---- verdicts ------------------------------------------------------------------------------- */

static struct cy_verdict plain(enum cy_mark mark, enum cy_suit_reason reason, cy_basis basis,
                               const char *source)
{
    return (struct cy_verdict){.mark = mark,
                               .reason = reason,
                               .figure = NAN,
                               .limit = NAN,
                               .basis = basis,
                               .source = source};
}

static struct cy_verdict no_data(enum cy_suit_reason reason)
{
    return plain(CY_MARK_NO_DATA, reason, CY_BASIS_NONE, "");
}

/* A figure that is the better the greater it is. */
static enum cy_mark mark_of(double figure, double good, double fair)
{
    return figure >= good ? CY_MARK_GOOD : figure >= fair ? CY_MARK_FAIR : CY_MARK_POOR;
}

static enum cy_mark mark_of_share(double share)
{
    return mark_of(share, CY_SUIT_GOOD_SHARE, CY_SUIT_FAIR_SHARE);
}

/* How far a cultivar's figure can be trusted: its own, fitted here, or no better than a guess,
 * which counts as none. */
enum trust { TRUST_OWN, TRUST_FITTED, TRUST_NONE };

static enum trust trust_of(cy_basis basis)
{
    if (!basis || basis & (CY_BASIS_PRACTICE | CY_BASIS_MEMORY | CY_BASIS_PLACEHOLDER))
        return TRUST_NONE;
    return basis & CY_BASIS_FITTED ? TRUST_FITTED : TRUST_OWN;
}

/* ---- the sun -------------------------------------------------------------------------------- */

static struct cy_verdict verdict_of_sun(double hours, cy_basis basis)
{
    struct cy_verdict verdict =
        plain(mark_of(hours, CY_SUNLIGHT_FULL_H, CY_SUNLIGHT_ENOUGH_H), CY_SUIT_SAYS_SUN_HOURS,
              basis | CY_BASIS_MEMORY, CY_SUNLIGHT_SOURCE);
    verdict.figure = hours;
    verdict.quantity = CY_Q_HOURS;
    verdict.limit = verdict.mark == CY_MARK_POOR ? CY_SUNLIGHT_ENOUGH_H : CY_SUNLIGHT_FULL_H;
    return verdict;
}

static int judge_suns(struct cy_suitability *out)
{
    int status = cy_sunlight_of(&out->sun, &out->farm, out->latitude_deg, out->season);
    if (status != CY_OK)
        return status;
    out->site[CY_SUIT_SUN] = verdict_of_sun(out->sun.mean_h, out->sun.basis);
    out->rows = cy_zeroed(out->sun.row_count, sizeof *out->rows);
    if (!out->rows)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < out->sun.row_count; i++)
        out->rows[i] = verdict_of_sun(out->sun.rows[i].mean_h, out->sun.rows[i].basis);
    return CY_OK;
}

/* ---- the ground ----------------------------------------------------------------------------- */

static struct cy_verdict judge_drainage(const struct cy_thing *site)
{
    struct cy_given drainage = cy_given(site, CY_SITE_DRAINAGE);
    if (!drainage.known)
        return no_data(CY_SUIT_SAYS_NOT_SAID);
    if (drainage.number == CY_DRAINAGE_GOOD)
        return plain(CY_MARK_GOOD, CY_SUIT_SAYS_DRAINS_WELL, drainage.basis, CY_SUIT_SITE_SOURCE);
    if (drainage.number == CY_DRAINAGE_SLOW)
        return plain(CY_MARK_FAIR, CY_SUIT_SAYS_DRAINS_SLOWLY, drainage.basis,
                     CY_SUIT_RAISED_SOURCE);
    return plain(CY_MARK_POOR, CY_SUIT_SAYS_DRAINS_POORLY, drainage.basis, CY_SUIT_RAISED_SOURCE);
}

static struct cy_verdict judge_slope(const struct cy_thing *site)
{
    struct cy_given slope = cy_given(site, CY_SITE_SLOPE);
    if (!slope.known)
        return no_data(CY_SUIT_SAYS_NOT_SAID);
    struct cy_verdict verdict =
        plain(mark_of(-slope.number, -CY_SUIT_GENTLE_DEG, -CY_SUIT_STEEP_DEG), CY_SUIT_SAYS_SLOPE,
              slope.basis | CY_BASIS_PUBLISHED, CY_SUIT_SLOPE_SOURCE);
    verdict.figure = slope.number;
    verdict.quantity = CY_Q_ANGLE;
    verdict.limit = verdict.mark == CY_MARK_POOR ? CY_SUIT_STEEP_DEG : CY_SUIT_GENTLE_DEG;
    return verdict;
}

/* East to poleward is asked for; towards the noon sun all comes earlier and more of it freezes.
 * South of the equator north and south change places. */
static struct cy_verdict judge_facing(const struct cy_thing *site, double latitude_deg)
{
    struct cy_given slope = cy_given(site, CY_SITE_SLOPE), aspect = cy_given(site, CY_SITE_ASPECT);
    if (slope.known && slope.number < CY_SUIT_LEVEL_DEG)
        return plain(CY_MARK_DOES_NOT_APPLY, CY_SUIT_SAYS_LEVEL, slope.basis, "");
    if (!aspect.known)
        return no_data(CY_SUIT_SAYS_NOT_SAID);
    double azimuth = latitude_deg < 0 ? 180 - aspect.number : aspect.number;
    azimuth = fmod(azimuth + 360, 360);
    enum cy_suit_reason reason = CY_SUIT_SAYS_FACES_WEST;
    if (azimuth <= 112.5 || azimuth >= 337.5)
        reason = CY_SUIT_SAYS_FACES_COOL;
    else if (azimuth < 247.5)
        reason = CY_SUIT_SAYS_FACES_SUN;
    struct cy_verdict verdict =
        plain(reason == CY_SUIT_SAYS_FACES_COOL ? CY_MARK_GOOD : CY_MARK_FAIR, reason,
              aspect.basis | CY_BASIS_PUBLISHED, CY_SUIT_FACING_SOURCE);
    verdict.figure = aspect.number;
    verdict.quantity = CY_Q_ANGLE;
    return verdict;
}

static struct cy_verdict judge_before(const struct cy_thing *site)
{
    struct cy_given before = cy_given(site, CY_SITE_BEFORE);
    if (!before.known)
        return no_data(CY_SUIT_SAYS_NOT_SAID);
    cy_basis basis = before.basis | CY_BASIS_PUBLISHED;
    switch ((enum cy_before)before.number) {
    case CY_BEFORE_GRASS:
    case CY_BEFORE_GRAIN:
        return plain(CY_MARK_GOOD, CY_SUIT_SAYS_GREW_CLEAN, basis, CY_SUIT_BEFORE_SOURCE);
    case CY_BEFORE_NIGHTSHADES:
    case CY_BEFORE_STRAWBERRIES:
    case CY_BEFORE_BRAMBLES:
    case CY_BEFORE_FRUIT:
        return plain(CY_MARK_POOR, CY_SUIT_SAYS_GREW_HOST, basis, CY_SUIT_BEFORE_SOURCE);
    case CY_BEFORE_OTHER:
        break;
    }
    return no_data(CY_SUIT_SAYS_GREW_OTHER);
}

static struct cy_verdict judge_wild(const struct cy_thing *site)
{
    struct cy_given wild = cy_given(site, CY_SITE_WILD);
    if (!wild.known)
        return no_data(CY_SUIT_SAYS_NOT_SAID);
    struct cy_verdict verdict =
        plain(mark_of(wild.number, CY_SUIT_WILD_FAR_M, CY_SUIT_WILD_NEAR_M), CY_SUIT_SAYS_WILD_AWAY,
              wild.basis | CY_BASIS_MEMORY, CY_SUIT_WILD_SOURCE);
    verdict.figure = wild.number;
    verdict.quantity = CY_Q_LENGTH;
    verdict.limit = verdict.mark == CY_MARK_POOR ? CY_SUIT_WILD_NEAR_M : CY_SUIT_WILD_FAR_M;
    return verdict;
}

static void judge_ground(struct cy_suitability *out)
{
    const struct cy_thing *site = cy_farm_one(&out->farm, CY_KIND_SITE);
    out->site[CY_SUIT_DRAINAGE] = judge_drainage(site);
    out->site[CY_SUIT_SLOPE] = judge_slope(site);
    out->site[CY_SUIT_FACING] = judge_facing(site, out->latitude_deg);
    out->site[CY_SUIT_BEFORE] = judge_before(site);
    out->site[CY_SUIT_WILD] = judge_wild(site);
}

/* ---- cultivars ------------------------------------------------------------------------------ */

/* What a cultivar is judged by: its canes in every weather. */
struct work {
    const struct cy_suitability *table;
    const struct cy_ensemble *ensemble;
    struct cy_life *old, *young; /* one a member: last year's canes, and this year's */
    struct cy_traits traits;
    const struct cy_thing *cultivar;
    int fruiting; /* -1 where not said */
};

static void run_lives(struct work *work)
{
    const struct cy_suitability *table = work->table;
    cy_cultivar_traits(&work->traits, work->cultivar);
    work->fruiting = cy_choice(work->cultivar, CY_CULTIVAR_FRUITING);
    struct cy_cohort old = {.year = table->season - 1,
                            .latitude_deg = table->latitude_deg,
                            .stands = true,
                            .kept = true,
                            .planted = CY_DAY_NONE};
    struct cy_cohort young = {.year = table->season,
                              .latitude_deg = table->latitude_deg,
                              .stands = true,
                              .emerges_here = true,
                              .planted = CY_DAY_NONE};
    cy_sightings_clear(&old.seen);
    cy_sightings_clear(&young.seen);
    double seed = cy_number(cy_farm_one(&table->farm, CY_KIND_FARM), CY_FARM_SEED);
    uint64_t hash = cy_hash_number(cy_hash_number(CY_HASH_START, seed), table->season);
    hash = cy_hash_string(hash, work->cultivar->key);
    for (int i = 0; i < work->ensemble->count; i++) {
        const struct cy_member *member = &work->ensemble->members[i];
        struct cy_luck luck = cy_plan_luck(hash, i);
        work->old[i] = work->young[i] = (struct cy_life){0};
        cy_life_run(&work->old[i], &work->traits, &old, member, &luck);
        cy_life_run(&work->young[i], &work->traits, &young, member, &luck);
    }
}

/* The share of years in which the need is met, by its own count. */
static struct cy_verdict judge_chill(const struct work *work)
{
    const struct cy_trait *need = &work->traits.chill_need;
    struct cy_given rule = cy_given(work->cultivar, CY_CULTIVAR_CHILL_RULE);
    if (isnan(need->value) || trust_of(need->basis) == TRUST_NONE)
        return no_data(CY_SUIT_SAYS_CHILL_NO_NEED);
    if (!rule.known || trust_of(rule.basis) == TRUST_NONE)
        return no_data(CY_SUIT_SAYS_CHILL_NO_RULE);
    int met = 0, missed = 0;
    for (int i = 0; i < work->ensemble->count; i++) {
        met += work->old[i].never[CY_STAGE_CHILL_MET] == CY_COMES;
        missed += work->old[i].never[CY_STAGE_CHILL_MET] == CY_TOO_LITTLE_CHILL;
    }
    if (met + missed == 0)
        return plain(CY_MARK_DOES_NOT_APPLY, CY_SUIT_SAYS_CHILL_NO_COUNT, rule.basis, rule.source);
    double share = (double)met / (met + missed);
    struct cy_verdict verdict =
        plain(mark_of_share(share), CY_SUIT_SAYS_CHILL_MET,
              need->basis | rule.basis | work->table->weather, need->source);
    verdict.figure = share;
    verdict.quantity = CY_Q_SHARE;
    verdict.limit = need->value;
    verdict.ranked = trust_of(need->basis | rule.basis) == TRUST_OWN;
    return verdict;
}

/* The share of winters whose coldest night, from mid-November to the end of February, is at or
 * below a limit. */
static double share_below(const struct work *work, double limit_c)
{
    double latitude = work->table->latitude_deg;
    cy_day from = cy_season_day(latitude, work->table->season, CY_SUIT_WINTER_FROM, true);
    cy_day to = cy_season_day(latitude, work->table->season, CY_SUIT_WINTER_TO, true);
    int below = 0;
    for (int i = 0; i < work->ensemble->count; i++) {
        const struct cy_weather *weather = &work->ensemble->members[i].weather;
        bool killed = false;
        for (cy_day day = from; day <= to && !killed; day++)
            killed = weather->tmin_c[day - weather->first] <= limit_c;
        below += killed;
    }
    return (double)below / work->ensemble->count;
}

/* By the cultivar's own limits, the one that is reached first; else by that of its type. */
static struct cy_verdict judge_winter(const struct work *work)
{
    struct cy_given buds = cy_given(work->cultivar, CY_CULTIVAR_BUD_T50);
    struct cy_given canes = cy_given(work->cultivar, CY_CULTIVAR_WINTER_LIMIT);
    const struct cy_trait *type = &work->traits.winter_limit;
    bool by_buds = buds.known && trust_of(buds.basis) != TRUST_NONE;
    bool by_canes = canes.known && trust_of(canes.basis) != TRUST_NONE;
    struct cy_verdict verdict = no_data(CY_SUIT_SAYS_NO_LIMIT);
    if (by_buds && !(by_canes && canes.number > buds.number)) {
        verdict = plain(CY_MARK_NO_DATA, CY_SUIT_SAYS_BUDS_KILLED, buds.basis, buds.source);
        verdict.limit = buds.number;
    } else if (by_canes) {
        verdict = plain(CY_MARK_NO_DATA, CY_SUIT_SAYS_CANES_KILLED, canes.basis, canes.source);
        verdict.limit = canes.number;
    } else if (!canes.known && !isnan(type->value)) {
        verdict = plain(CY_MARK_NO_DATA, CY_SUIT_SAYS_TYPE_INJURED, type->basis, type->source);
        verdict.limit = type->value;
    } else {
        return verdict;
    }
    verdict.ranked =
        verdict.reason != CY_SUIT_SAYS_TYPE_INJURED && trust_of(verdict.basis) == TRUST_OWN;
    verdict.basis |= work->table->weather;
    verdict.figure = share_below(work, verdict.limit);
    verdict.quantity = CY_Q_SHARE;
    verdict.mark = mark_of_share(1 - verdict.figure);
    return verdict;
}

/* A verdict on a share of years by dates that rest on a heat sum. */
static struct cy_verdict by_heat(const struct work *work, enum cy_suit_reason reason,
                                 const struct cy_trait *heat, double figure, double good_share)
{
    struct cy_verdict verdict =
        plain(mark_of_share(good_share), reason, heat->basis | work->table->weather, heat->source);
    verdict.figure = figure;
    verdict.quantity = CY_Q_SHARE;
    verdict.ranked = trust_of(heat->basis) == TRUST_OWN;
    return verdict;
}

/* The share of years, of those in which it blooms, in which frost takes half of the flowers or
 * more; what second buds bear then is one case's figure and makes no cultivar suit a site. */
static struct cy_verdict judge_flowers(const struct work *work)
{
    const struct cy_trait *heat = &work->traits.bloom_heat_kh;
    if (trust_of(heat->basis) == TRUST_NONE)
        return no_data(CY_SUIT_SAYS_NO_BLOOM_HEAT);
    int bloomed = 0, frozen = 0;
    for (int i = 0; i < work->ensemble->count; i++) {
        bloomed += work->old[i].never[CY_STAGE_BLOOM] == CY_COMES;
        frozen += work->old[i].flowers_left <= 0.5;
    }
    if (bloomed == 0)
        return plain(CY_MARK_POOR, CY_SUIT_SAYS_NEVER_BLOOMS, heat->basis | work->table->weather,
                     heat->source);
    double share = (double)frozen / bloomed;
    struct cy_verdict verdict = by_heat(work, CY_SUIT_SAYS_FLOWERS_FROZEN, heat, share, 1 - share);
    verdict.basis |= work->traits.pick_length_d.basis;
    verdict.limit = cy_life_constant(CY_LIFE_FLOWER_KILL)->value;
    return verdict;
}

/* Whether a week of hot days falls into the middle half of the bloom, which lasts as long as
 * picking does. */
static bool hot_bloom(const struct work *work, int number)
{
    const struct cy_weather *weather = &work->ensemble->members[number].weather;
    cy_day bloom = work->young[number].day[CY_STAGE_AUTUMN_BLOOM];
    int quarter = (int)floor(work->traits.autumn_length_d.value / 4 + 0.5);
    int run = 0;
    for (cy_day day = bloom - quarter; day <= bloom + quarter && run < CY_SUIT_HOT_DAYS; day++) {
        int i = cy_weather_index(weather, day);
        run = i >= 0 && weather->tmax_c[i] > CY_SUIT_HOT_C ? run + 1 : 0;
    }
    return run >= CY_SUIT_HOT_DAYS;
}

/* What keeps an autumn crop from being judged, if anything does. */
static bool no_autumn(struct cy_verdict *out, const struct work *work)
{
    if (work->fruiting == CY_FRUITING_FLORICANE)
        *out = plain(CY_MARK_DOES_NOT_APPLY, CY_SUIT_SAYS_NO_AUTUMN_CROP,
                     cy_given(work->cultivar, CY_CULTIVAR_FRUITING).basis, "");
    else if (work->fruiting != CY_FRUITING_PRIMOCANE)
        *out = no_data(CY_SUIT_SAYS_FRUITING_UNKNOWN);
    else if (trust_of(work->traits.autumn_heat_kh.basis) == TRUST_NONE)
        *out = no_data(CY_SUIT_SAYS_NO_BLOOM_HEAT);
    else
        return false;
    return true;
}

static struct cy_verdict judge_heat(const struct work *work)
{
    struct cy_verdict verdict;
    if (no_autumn(&verdict, work))
        return verdict;
    const struct cy_trait *heat = &work->traits.autumn_heat_kh;
    int bloomed = 0, hot = 0;
    for (int i = 0; i < work->ensemble->count; i++) {
        if (work->young[i].never[CY_STAGE_AUTUMN_BLOOM] != CY_COMES)
            continue;
        bloomed++;
        hot += hot_bloom(work, i);
    }
    if (bloomed == 0)
        return plain(CY_MARK_POOR, CY_SUIT_SAYS_NEVER_BLOOMS, heat->basis | work->table->weather,
                     heat->source);
    double share = (double)hot / bloomed;
    verdict = by_heat(work, CY_SUIT_SAYS_HOT_BLOOM, heat, share, 1 - share);
    verdict.basis |= CY_BASIS_PUBLISHED | work->traits.autumn_length_d.basis;
    verdict.limit = CY_SUIT_HOT_C;
    return verdict;
}

/* The share of the autumn crop that ripens before the freeze, over the years. */
static struct cy_verdict judge_autumn(const struct work *work)
{
    struct cy_verdict verdict;
    if (no_autumn(&verdict, work))
        return verdict;
    const struct cy_trait *heat = &work->traits.autumn_heat_kh;
    int years = 0;
    double ripe = 0;
    for (int i = 0; i < work->ensemble->count; i++) {
        const struct cy_life *life = &work->young[i];
        if (life->never[CY_STAGE_AUTUMN_PEAK_PICK] == CY_OUT_OF_SIGHT)
            continue;
        years++;
        if (life->never[CY_STAGE_AUTUMN_PEAK_PICK] == CY_COMES)
            ripe += life->autumn_share;
    }
    if (years == 0)
        return plain(CY_MARK_POOR, CY_SUIT_SAYS_NEVER_BLOOMS, heat->basis | work->table->weather,
                     heat->source);
    verdict = by_heat(work, CY_SUIT_SAYS_RIPE_IN_TIME, heat, ripe / years, ripe / years);
    verdict.basis |= work->traits.autumn_bloom_to_peak_d.basis | work->traits.autumn_length_d.basis;
    verdict.limit = cy_life_constant(CY_LIFE_FLOWER_KILL)->value;
    return verdict;
}

/* ---- what the farm sells -------------------------------------------------------------------- */

struct selling {
    bool said, visitors, shipped;
};

static struct selling selling_of(const struct cy_farm *farm)
{
    const struct cy_thing *market = cy_farm_one(farm, CY_KIND_MARKET);
    struct cy_given share = cy_given(market, CY_MARKET_UPICK_SHARE);
    struct selling selling = {.visitors = cy_given(market, CY_MARKET_UPICK).known,
                              .shipped = cy_given(market, CY_MARKET_WHOLESALE).known};
    if (share.known) {
        selling.visitors = share.number > 0;
        selling.shipped = share.number < 1;
    }
    selling.said = selling.visitors || selling.shipped;
    return selling;
}

static struct cy_verdict judge_thorns(const struct work *work, const struct selling *selling)
{
    struct cy_given thorns = cy_given(work->cultivar, CY_CULTIVAR_THORNS);
    if (!thorns.known)
        return no_data(CY_SUIT_SAYS_NOT_SAID);
    if (thorns.number == CY_THORNS_THORNLESS)
        return plain(CY_MARK_GOOD, CY_SUIT_SAYS_THORNLESS, thorns.basis, thorns.source);
    if (selling->visitors)
        return plain(CY_MARK_POOR, CY_SUIT_SAYS_THORNY_VISITORS, thorns.basis, thorns.source);
    return plain(CY_MARK_FAIR, CY_SUIT_SAYS_THORNY, thorns.basis, thorns.source);
}

static struct cy_verdict judge_firmness(const struct work *work, const struct selling *selling)
{
    struct cy_given firmness = cy_given(work->cultivar, CY_CULTIVAR_FIRMNESS);
    if (!firmness.known)
        return no_data(CY_SUIT_SAYS_NOT_SAID);
    if (firmness.number == CY_FIRMNESS_FIRM)
        return plain(CY_MARK_GOOD, CY_SUIT_SAYS_FIRM, firmness.basis, firmness.source);
    if (!selling->said)
        return plain(CY_MARK_FAIR, CY_SUIT_SAYS_HOLDS_UNSAID, firmness.basis, firmness.source);
    if (!selling->shipped)
        return plain(CY_MARK_GOOD, CY_SUIT_SAYS_HOLDS_ON_SPOT, firmness.basis, firmness.source);
    return plain(firmness.number == CY_FIRMNESS_SOFT ? CY_MARK_POOR : CY_MARK_FAIR,
                 CY_SUIT_SAYS_HOLDS_SHIPPED, firmness.basis, firmness.source);
}

/* ---- the table ------------------------------------------------------------------------------ */

static bool is_grown(const struct cy_farm *farm, const struct cy_thing *cultivar)
{
    for (const struct cy_thing *row = NULL; (row = cy_farm_next(farm, CY_KIND_ROW, 0, row));)
        if (cy_referred(farm, row, CY_ROW_CULTIVAR) == cultivar)
            return true;
    return false;
}

static void judge_cultivar(struct cy_suit_cultivar *out, struct work *work,
                           const struct selling *selling)
{
    *out = (struct cy_suit_cultivar){.thing = work->cultivar->id,
                                     .key = work->cultivar->key,
                                     .name = cy_thing_name(work->cultivar),
                                     .grown = is_grown(&work->table->farm, work->cultivar),
                                     .rank_share = NAN};
    run_lives(work);
    out->verdicts[CY_SUIT_CHILL] = judge_chill(work);
    out->verdicts[CY_SUIT_WINTER] = judge_winter(work);
    out->verdicts[CY_SUIT_FLOWERS] = judge_flowers(work);
    out->verdicts[CY_SUIT_HEAT] = judge_heat(work);
    out->verdicts[CY_SUIT_AUTUMN] = judge_autumn(work);
    out->verdicts[CY_SUIT_THORNS] = judge_thorns(work, selling);
    out->verdicts[CY_SUIT_FIRMNESS] = judge_firmness(work, selling);
    const struct cy_verdict *chill = &out->verdicts[CY_SUIT_CHILL];
    const struct cy_verdict *winter = &out->verdicts[CY_SUIT_WINTER];
    if (chill->ranked && winter->ranked)
        out->rank_share = fmin(chill->figure, 1 - winter->figure);
}

/* Ranked ones in front, the best first; the rest, and equals, stay in the farm's order. */
static bool goes_before(const struct cy_suit_cultivar *a, const struct cy_suit_cultivar *b)
{
    if (isnan(a->rank_share) || isnan(b->rank_share))
        return !isnan(a->rank_share) && isnan(b->rank_share);
    return a->rank_share > b->rank_share;
}

static void rank(struct cy_suitability *table)
{
    struct cy_suit_cultivar *all = table->cultivars;
    for (size_t i = 1; i < table->cultivar_count; i++) {
        struct cy_suit_cultivar moved = all[i];
        size_t place = i;
        for (; place > 0 && goes_before(&moved, &all[place - 1]); place--)
            all[place] = all[place - 1];
        all[place] = moved;
    }
    for (size_t i = 0; i < table->cultivar_count && !isnan(all[i].rank_share); i++)
        all[i].rank =
            i > 0 && all[i].rank_share == all[i - 1].rank_share ? all[i - 1].rank : (int)i + 1;
}

static int judge_cultivars(struct cy_suitability *out, const struct cy_ensemble *ensemble)
{
    size_t members = (size_t)ensemble->count;
    struct selling selling = selling_of(&out->farm);
    struct work work = {.table = out,
                        .ensemble = ensemble,
                        .old = cy_zeroed(members, sizeof *work.old),
                        .young = cy_zeroed(members, sizeof *work.young)};
    int status = work.old && work.young ? CY_OK : CY_NO_MEMORY;
    while (status == CY_OK &&
           (work.cultivar = cy_farm_next(&out->farm, CY_KIND_CULTIVAR, 0, work.cultivar))) {
        if (!cy_grow(&out->cultivars, &out->cultivar_capacity, out->cultivar_count,
                     sizeof *out->cultivars))
            status = CY_NO_MEMORY;
        else
            judge_cultivar(&out->cultivars[out->cultivar_count++], &work, &selling);
    }
    free(work.old);
    free(work.young);
    return status;
}

int cy_suitability_judge(struct cy_suitability *out, struct cy_plan *plan,
                         const struct cy_ensemble *ensemble)
{
    int now = cy_season_of(plan->latitude_deg, plan->today);
    *out = (struct cy_suitability){
        .season = (plan->season > now ? plan->season : now) + 1,
        .today = plan->today,
        .years = ensemble->count,
        .latitude_deg = plan->latitude_deg,
        .weather = cy_plan_weather_basis(plan),
    };
    out->farm = plan->farm;
    plan->farm = (struct cy_farm){0};
    judge_ground(out);
    int status = judge_suns(out);
    if (status == CY_OK)
        status = judge_cultivars(out, ensemble);
    if (status == CY_OK)
        rank(out);
    else
        cy_suitability_dispose(out);
    return status;
}

void cy_suitability_dispose(struct cy_suitability *table)
{
    free(table->cultivars);
    free(table->rows);
    cy_sunlight_dispose(&table->sun);
    cy_farm_dispose(&table->farm);
    *table = (struct cy_suitability){0};
}
