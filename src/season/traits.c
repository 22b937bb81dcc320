/* SPDX-License-Identifier: MIT
 * From the farm's things to the plain structs that the lower rooms work on. */
#include "season/plan_parts.h"

#include <math.h>

#include <caneyear/crop/calendar.h>
#include <caneyear/season/traits.h>

#define THORNLESS_LIMIT_C ((-6 - 32) / 1.8)
#define TRAILING_LIMIT_C ((12 - 32) / 1.8)

/* A row set this shortly before leaf fall grows from the next spring on. */
enum { LATE_PLANTING_DAYS = 90 };

double cy_farm_latitude(const struct cy_farm *farm)
{
    const struct cy_thing *site = cy_farm_one(farm, CY_KIND_SITE);
    double latitude = cy_number(site, CY_SITE_LATITUDE);
    const struct cy_thing *place = cy_farm_place(farm);
    if (isnan(latitude) && place)
        latitude = cy_number(place, CY_PLACE_LATITUDE);
    return latitude;
}

int cy_place_normals(struct cy_normals *out, cy_basis *basis, const struct cy_farm *farm,
                     const struct cy_thing *place)
{
    const struct cy_thing *month = NULL;
    int count = 0;
    *basis = CY_BASIS_NONE;
    while (count < 12 && (month = cy_farm_next(farm, CY_KIND_MONTH, place->id, month))) {
        struct cy_given low = cy_given(month, CY_MONTH_LOW);
        struct cy_given high = cy_given(month, CY_MONTH_HIGH);
        struct cy_given rain = cy_given(month, CY_MONTH_RAIN);
        if (!low.known || !high.known || !rain.known)
            return CY_INVALID;
        out->tmin_c[count] = low.number;
        out->tmax_c[count] = high.number;
        out->rain_mm[count] = rain.number;
        *basis |= low.basis | high.basis;
        count++;
    }
    return count == 12 ? CY_OK : CY_INVALID;
}

int cy_farm_normals(struct cy_normals *out, cy_basis *basis, const struct cy_farm *farm)
{
    const struct cy_thing *place = cy_farm_place(farm);
    return place ? cy_place_normals(out, basis, farm, place) : CY_INVALID;
}

static struct cy_trait trait_of(const struct cy_thing *thing, enum cy_field field)
{
    struct cy_given given = cy_given(thing, field);
    return (struct cy_trait){given.number, given.basis, given.source};
}

/* A cultivar that says nothing takes what is published for its habit. */
static void fall_back_on_habit(struct cy_traits *traits, int habit)
{
    static const char *vance = "Vance et al., J. Amer. Pomol. Soc. 73(4):227-239, 2019: the "
                               "middle of the days printed for the habit";
    static const double days[] = {
        [CY_HABIT_ERECT] = 60, [CY_HABIT_SEMI_ERECT] = 62.5, [CY_HABIT_TRAILING] = 52};
    struct cy_trait ripen = {60, CY_BASIS_PLACEHOLDER, ""};
    struct cy_trait length = {32, CY_BASIS_PLACEHOLDER, ""};
    if (habit >= 0)
        ripen = (struct cy_trait){days[habit], CY_BASIS_PUBLISHED, vance};
    if (habit == CY_HABIT_TRAILING)
        length = (struct cy_trait){28, CY_BASIS_PUBLISHED,
                                   "OSU, Blackberry Cultivars for Oregon, EC 1617: about 4 weeks"};
    else if (habit == CY_HABIT_ERECT)
        length = (struct cy_trait){32, CY_BASIS_PUBLISHED,
                                   "USDA-ARS publication 91887, 1998: 3 to 6 weeks, the middle"};
    if (isnan(traits->bloom_to_peak_d.value))
        traits->bloom_to_peak_d = ripen;
    if (isnan(traits->glossy_d.value))
        traits->glossy_d = ripen;
    if (isnan(traits->pick_length_d.value))
        traits->pick_length_d = length;
    if (isnan(traits->autumn_bloom_to_peak_d.value))
        traits->autumn_bloom_to_peak_d = (struct cy_trait){ripen.value, CY_BASIS_PLACEHOLDER, ""};
    if (isnan(traits->autumn_length_d.value))
        traits->autumn_length_d = (struct cy_trait){56, CY_BASIS_PLACEHOLDER, ""};
}

/* What its buds bear in winter, from what is published under its name or typed; else the limit that
 * is published for canes of its kind; thorny erect canes have neither. */
static void hardiness_of(struct cy_traits *traits, const struct cy_thing *cultivar)
{
    static const char *limits = "Ohio State Univ. ANR-0104, 6 June 2022: mid-winter injury limits, "
                                "eastern thornless and trailing";
    struct cy_trait bud_t50 = trait_of(cultivar, CY_CULTIVAR_BUD_T50);
    int habit = cy_choice(cultivar, CY_CULTIVAR_HABIT);
    bool thornless = cy_choice(cultivar, CY_CULTIVAR_THORNS) == CY_THORNS_THORNLESS;
    cy_cold_course_of(&traits->buds, cultivar ? cy_thing_name(cultivar) : "", bud_t50.value,
                      isnan(bud_t50.value) ? CY_BASIS_NONE : bud_t50.basis);
    traits->winter_limit = trait_of(cultivar, CY_CULTIVAR_WINTER_LIMIT);
    if (!isnan(traits->winter_limit.value) || traits->buds.count > 0)
        return;
    if (habit == CY_HABIT_TRAILING)
        traits->winter_limit = (struct cy_trait){TRAILING_LIMIT_C, CY_BASIS_PUBLISHED, limits};
    else if (thornless && (habit == CY_HABIT_ERECT || habit == CY_HABIT_SEMI_ERECT))
        traits->winter_limit = (struct cy_trait){THORNLESS_LIMIT_C, CY_BASIS_PUBLISHED, limits};
}

static void cropping_of(struct cy_row_facts *facts)
{
    struct cy_traits *traits = &facts->traits;
    struct cy_given cropping = cy_given(facts->practice, CY_PRACTICE_CROPPING);
    int fruiting = cy_choice(facts->cultivar, CY_CULTIVAR_FRUITING);
    traits->fruiting = fruiting < 0 ? CY_FRUITING_UNKNOWN : (enum cy_fruiting)fruiting;
    if (cropping.is_set)
        traits->cropping = (enum cy_cropping)cropping.number;
    else if (traits->fruiting == CY_FRUITING_FLORICANE)
        traits->cropping = CY_CROPPING_FLORICANE;
    else if (traits->fruiting == CY_FRUITING_PRIMOCANE)
        traits->cropping = CY_CROPPING_BOTH;
    else
        traits->cropping = CY_CROPPING_UNKNOWN;
    facts->fruiting_unknown =
        traits->fruiting == CY_FRUITING_UNKNOWN || traits->cropping == CY_CROPPING_UNKNOWN;
    /* What nobody knows is not mown, whatever the practice. */
    if (facts->fruiting_unknown)
        traits->cropping = CY_CROPPING_UNKNOWN;
}

static void tipping_of(struct cy_row_facts *facts)
{
    int tips = cy_choice(facts->practice, CY_PRACTICE_TIPS);
    bool trailing = cy_choice(facts->cultivar, CY_CULTIVAR_HABIT) == CY_HABIT_TRAILING;
    /* OSU, Blackberries for the Home Garden: trailing canes are not tipped in summer. */
    bool tipped = tips < 0 ? !trailing : tips == CY_YES;
    facts->traits.tip_height_m = trait_of(facts->practice, CY_PRACTICE_TIP_HEIGHT);
    if (!tipped)
        facts->traits.tip_height_m.value = NAN;
}

static void planting_of(struct cy_row_facts *facts)
{
    facts->planted = cy_date(facts->row, CY_ROW_PLANTED);
    facts->planted_season = 0;
    if (facts->planted == CY_DAY_NONE)
        return;
    int season = cy_season_of(facts->latitude_deg, facts->planted);
    cy_day leaf_fall = cy_season_start(facts->latitude_deg, season + 1);
    facts->planted_season = leaf_fall - facts->planted < LATE_PLANTING_DAYS ? season + 1 : season;
}

/* From the cultivar, the practice and the row, each of which may be NULL. */
static void traits_of(struct cy_row_facts *facts)
{
    struct cy_traits *traits = &facts->traits;
    const struct cy_thing *cultivar = facts->cultivar;
    cropping_of(facts);
    tipping_of(facts);
    int rule = cy_choice(cultivar, CY_CULTIVAR_CHILL_RULE);
    traits->chill_rule = rule < 0 ? CY_CHILL_HOURS_32_45 : (enum cy_chill_kind)rule;
    traits->chill_need = trait_of(cultivar, CY_CULTIVAR_CHILL);
    traits->bloom_heat_kh = trait_of(cultivar, CY_CULTIVAR_BLOOM_HEAT);
    traits->bud_break_share = trait_of(cultivar, CY_CULTIVAR_BUD_BREAK_SHARE);
    traits->bloom_to_peak_d = trait_of(cultivar, CY_CULTIVAR_BLOOM_TO_PEAK);
    traits->glossy_d = trait_of(cultivar, CY_CULTIVAR_GLOSSY);
    traits->dull_d = trait_of(cultivar, CY_CULTIVAR_DULL);
    traits->pick_length_d = trait_of(cultivar, CY_CULTIVAR_PICK_LENGTH);
    traits->emerge_heat_kh = trait_of(cultivar, CY_CULTIVAR_EMERGE_HEAT);
    traits->emerge_spread_d = trait_of(cultivar, CY_CULTIVAR_EMERGE_SPREAD);
    traits->growth_m_d = trait_of(cultivar, CY_CULTIVAR_GROWTH);
    traits->autumn_heat_kh = trait_of(cultivar, CY_CULTIVAR_AUTUMN_HEAT);
    traits->autumn_bloom_to_peak_d = trait_of(cultivar, CY_CULTIVAR_AUTUMN_DAYS);
    traits->autumn_length_d = trait_of(cultivar, CY_CULTIVAR_AUTUMN_LENGTH);
    traits->growth_follows = (enum cy_growth)cy_choice(cultivar, CY_CULTIVAR_GROWTH_BY);
    traits->second_share = trait_of(cultivar, CY_CULTIVAR_SECOND_BUDS);
    hardiness_of(traits, cultivar);
    traits->colder_k = cy_number(facts->row, CY_ROW_COLDER);
    cy_traits_set_errors(traits);
    fall_back_on_habit(traits, cy_choice(cultivar, CY_CULTIVAR_HABIT));
}

void cy_cultivar_traits(struct cy_traits *out, const struct cy_thing *cultivar)
{
    struct cy_row_facts facts = {.cultivar = cultivar};
    traits_of(&facts);
    *out = facts.traits;
}

void cy_row_facts_of(struct cy_row_facts *out, const struct cy_farm *farm,
                     const struct cy_thing *row, double latitude_deg)
{
    *out = (struct cy_row_facts){.row = row, .latitude_deg = latitude_deg};
    out->cultivar = cy_referred(farm, row, CY_ROW_CULTIVAR);
    out->practice = cy_referred(farm, row, CY_ROW_PRACTICE);
    out->length_m = cy_number(row, CY_ROW_LENGTH);
    out->stock = (enum cy_stock)cy_choice(row, CY_ROW_STOCK);
    int phase = cy_choice(row, CY_ROW_PHASE);
    out->phase = phase < 0 ? CY_PHASE_EVEN : (enum cy_phase)phase;
    planting_of(out);
    traits_of(out);
}

void cy_plan_facts_of(struct cy_row_facts *out, const struct cy_plan *plan,
                      const struct cy_thing *row)
{
    cy_row_facts_of(out, &plan->farm, row, plan->latitude_deg);
    cy_learn_apply(out, plan);
}

/* ---- the practice's windows ----------------------------------------------------------------- */

bool cy_practice_window(cy_day *from, cy_day *to, const struct cy_row_facts *facts, int season,
                        enum cy_field from_field, enum cy_field to_field)
{
    struct cy_given first = cy_given(facts->practice, from_field);
    struct cy_given last = cy_given(facts->practice, to_field);
    if (!first.known || !last.known)
        return false;
    /* A date that this farm's grower typed is a local one; all that we ship are northern. */
    bool first_northern = first.basis != CY_BASIS_GROWER;
    bool last_northern = last.basis != CY_BASIS_GROWER;
    *to = cy_season_day(facts->latitude_deg, season, (int)last.number, last_northern);
    *from = cy_season_day(facts->latitude_deg, season, (int)first.number, first_northern);
    if (*from > *to)
        *from = cy_season_day(facts->latitude_deg, season - 1, (int)first.number, first_northern);
    return true;
}
