/* SPDX-License-Identifier: MIT
 * Why a site or a cultivar is marked as it is: inputs, formulas, sources. */
#include "season/suitability_parts.h"

#include <math.h>

/* What is said of the site or of the cultivar, as people write it. */
static void said(struct cy_trace *trace, const char *name, const struct cy_farm *farm,
                 const struct cy_thing *thing, enum cy_field field)
{
    struct cy_given given = cy_given(thing, field);
    const struct cy_field_info *info = cy_field_info(field);
    if (!given.known)
        cy_trace_text(trace, name, "not given", CY_BASIS_NONE, "");
    else if (info->type == CY_TYPE_CHOICE)
        cy_trace_text(trace, name, info->choices[(int)given.number], given.basis, given.source);
    else if (info->type == CY_TYPE_REFERENCE)
        cy_trace_text(trace, name, cy_thing_name(cy_referred(farm, thing, field)), given.basis,
                      given.source);
    else
        cy_trace_number(trace, name, given.number, info->quantity, given.basis, given.source);
}

static void result(struct cy_trace *trace, const struct cy_verdict *verdict)
{
    if (isnan(verdict->figure))
        cy_trace_result_text(trace, cy_mark_word(verdict->mark), verdict->basis);
    else
        cy_trace_result(trace, verdict->figure, verdict->quantity, verdict->basis);
}

static void by_shares(struct cy_trace *trace)
{
    cy_trace_number(trace, "good from", CY_SUIT_GOOD_SHARE, CY_Q_SHARE, CY_BASIS_PLACEHOLDER, "");
    cy_trace_number(trace, "fair from", CY_SUIT_FAIR_SHARE, CY_Q_SHARE, CY_BASIS_PLACEHOLDER, "");
}

/* ---- the site ------------------------------------------------------------------------------- */

static void why_site(struct cy_trace *trace, const struct cy_suitability *table, enum cy_suit suit)
{
    static const struct {
        enum cy_field field;
        const char *formula;
    } rules[] = {
        [CY_SUIT_DRAINAGE] = {CY_SITE_DRAINAGE, "good: good; slow: fair; poor: poor"},
        [CY_SUIT_SLOPE] = {CY_SITE_SLOPE, "good up to 10 degrees, fair up to 15"},
        [CY_SUIT_FACING] = {CY_SITE_ASPECT,
                            "good from north by north-west to east by south-east (south of the "
                            "equator from south by south-west to east by north-east), fair else; "
                            "what slopes less than 1 degree faces nowhere"},
        [CY_SUIT_BEFORE] = {CY_SITE_BEFORE, "good after grass or grain, poor after hosts"},
        [CY_SUIT_WILD] = {CY_SITE_WILD, "good from 1000 ft, fair from 500 ft"},
    };
    const struct cy_thing *site = cy_farm_one(&table->farm, CY_KIND_SITE);
    cy_trace_begin(trace, cy_suit_word(suit), rules[suit].formula, table->site[suit].source);
    said(trace, cy_field_info(rules[suit].field)->name, &table->farm, site, rules[suit].field);
    if (suit == CY_SUIT_FACING)
        said(trace, "slope", &table->farm, site, CY_SITE_SLOPE);
    result(trace, &table->site[suit]);
}

/* ---- cultivars ------------------------------------------------------------------------------ */

static void weathers(struct cy_trace *trace, const struct cy_suitability *table)
{
    cy_trace_number(trace, "weathers", table->years, CY_Q_NUMBER, table->weather,
                    cy_thing_name(cy_farm_place(&table->farm)));
    cy_trace_number(trace, "season judged", table->season, CY_Q_NUMBER, CY_BASIS_NONE, "");
}

static void why_chill(struct cy_trace *trace, const struct cy_suitability *table,
                      const struct cy_thing *cultivar)
{
    cy_trace_begin(trace, "chill met, share of years",
                   "chill counted from leaf fall by the need's own rule; a year counts where the "
                   "sum reaches the need. Without a need, or a rule to count it by, no verdict",
                   "");
    weathers(trace, table);
    said(trace, "need", &table->farm, cultivar, CY_CULTIVAR_CHILL);
    said(trace, "low end of a published range", &table->farm, cultivar, CY_CULTIVAR_CHILL_LOW);
    said(trace, "counted by", &table->farm, cultivar, CY_CULTIVAR_CHILL_RULE);
}

static void why_winter(struct cy_trace *trace, const struct cy_suitability *table,
                       const struct cy_thing *cultivar, const struct cy_verdict *verdict)
{
    cy_trace_begin(trace, "winter kill, share of years",
                   "a year counts where the coldest night from mid-November to the end of February "
                   "(six months on in the south) is at or below the limit: what kills half of the "
                   "buds in mid-November, or its canes; without those, what injures canes of its "
                   "type. Hard on "
                   "mid-winter, when buds are 2 to 3 C hardier",
                   "Warmund, J. Amer. Pomol. Soc., January 2024: hardiness by month");
    weathers(trace, table);
    said(trace, "kills half of the buds", &table->farm, cultivar, CY_CULTIVAR_BUD_T50);
    said(trace, "kills its canes", &table->farm, cultivar, CY_CULTIVAR_WINTER_LIMIT);
    said(trace, "habit", &table->farm, cultivar, CY_CULTIVAR_HABIT);
    if (verdict->reason == CY_SUIT_SAYS_TYPE_INJURED)
        cy_trace_number(trace, "injures its type", verdict->limit, CY_Q_TEMPERATURE,
                        CY_BASIS_PUBLISHED, verdict->source);
}

static void why_flowers(struct cy_trace *trace, const struct cy_suitability *table,
                        const struct cy_thing *cultivar)
{
    cy_trace_begin(trace, "frost on the flowers, share of years",
                   "of the years in which it blooms, those whose nights from the first flower on "
                   "leave half of the first buds' flowers or fewer; second buds are left out",
                   "");
    weathers(trace, table);
    said(trace, "degree hours to half bloom", &table->farm, cultivar, CY_CULTIVAR_BLOOM_HEAT);
    said(trace, "days from first to last pick", &table->farm, cultivar, CY_CULTIVAR_PICK_LENGTH);
    cy_why_constant(trace, CY_LIFE_FLOWER_KILL);
    cy_why_constant(trace, CY_LIFE_FLOWER_OPEN);
    cy_why_constant(trace, CY_LIFE_BLOOM_ERROR);
}

static void autumn_inputs(struct cy_trace *trace, const struct cy_suitability *table,
                          const struct cy_thing *cultivar)
{
    weathers(trace, table);
    said(trace, "fruiting", &table->farm, cultivar, CY_CULTIVAR_FRUITING);
    said(trace, "degree hours from emergence to half bloom", &table->farm, cultivar,
         CY_CULTIVAR_AUTUMN_HEAT);
    said(trace, "days from first to last pick", &table->farm, cultivar, CY_CULTIVAR_AUTUMN_LENGTH);
}

static void why_heat(struct cy_trace *trace, const struct cy_suitability *table,
                     const struct cy_thing *cultivar)
{
    cy_trace_begin(trace, "heat at the autumn crop's bloom, share of years",
                   "of the years in which it blooms, those with seven days on end above 85 F in "
                   "the middle half of the bloom, which lasts as long as picking does",
                   "about a week above 85 F makes primocane flowers abort: Univ. of Kentucky, "
                   "Blackberries crop profile, c. 2018; the middle half is ours");
    autumn_inputs(trace, table, cultivar);
    cy_trace_number(trace, "hot above", CY_SUIT_HOT_C, CY_Q_TEMPERATURE, CY_BASIS_PUBLISHED, "");
    cy_trace_number(trace, "days on end", CY_SUIT_HOT_DAYS, CY_Q_DAYS, CY_BASIS_PUBLISHED, "");
}

static void why_autumn(struct cy_trace *trace, const struct cy_suitability *table,
                       const struct cy_thing *cultivar)
{
    cy_trace_begin(trace, "autumn crop ripe before a freeze, share of it",
                   "ripening is normal around the peak; what is not ripe on the day of the killing "
                   "freeze is lost; the mean over the years",
                   "");
    autumn_inputs(trace, table, cultivar);
    said(trace, "days from half bloom to peak", &table->farm, cultivar, CY_CULTIVAR_AUTUMN_DAYS);
    cy_why_constant(trace, CY_LIFE_FLOWER_KILL);
}

static void why_sold(struct cy_trace *trace, const struct cy_suitability *table,
                     const struct cy_thing *cultivar, enum cy_suit suit)
{
    const struct cy_thing *market = cy_farm_one(&table->farm, CY_KIND_MARKET);
    if (suit == CY_SUIT_THORNS)
        cy_trace_begin(trace, "thorns",
                       "thornless: good; thorny: poor where visitors pick, with "
                       "children among them, else fair",
                       "ours");
    else
        cy_trace_begin(trace, "firmness",
                       "firm: good; softer fruit is good where visitors eat it the same day, fair "
                       "(medium) or poor (soft) where it is carried away, fair where nobody says",
                       "ours");
    said(trace, cy_suit_word(suit), &table->farm, cultivar,
         suit == CY_SUIT_THORNS ? CY_CULTIVAR_THORNS : CY_CULTIVAR_FIRMNESS);
    said(trace, "sold to visitors", &table->farm, market, CY_MARKET_UPICK_SHARE);
    said(trace, "what visitors pay", &table->farm, market, CY_MARKET_UPICK);
    said(trace, "what buyers pay", &table->farm, market, CY_MARKET_WHOLESALE);
}

bool cy_suitability_why(struct cy_trace *trace, const struct cy_suitability *table, size_t cultivar,
                        enum cy_suit suit)
{
    if ((unsigned)suit < CY_SUIT_OF_CULTIVAR) {
        if (suit == CY_SUIT_SUN)
            cy_sunlight_why_field(trace, &table->sun);
        else
            why_site(trace, table, suit);
        return true;
    }
    if ((unsigned)suit >= CY_SUIT_COUNT || cultivar >= table->cultivar_count)
        return false;
    const struct cy_suit_cultivar *judged = &table->cultivars[cultivar];
    const struct cy_thing *thing = cy_farm_by_id(&table->farm, judged->thing);
    const struct cy_verdict *verdict = &judged->verdicts[suit];
    switch (suit) {
    case CY_SUIT_CHILL:
        why_chill(trace, table, thing);
        break;
    case CY_SUIT_WINTER:
        why_winter(trace, table, thing, verdict);
        break;
    case CY_SUIT_FLOWERS:
        why_flowers(trace, table, thing);
        break;
    case CY_SUIT_HEAT:
        why_heat(trace, table, thing);
        break;
    case CY_SUIT_AUTUMN:
        why_autumn(trace, table, thing);
        break;
    default:
        why_sold(trace, table, thing, suit);
        break;
    }
    if (suit < CY_SUIT_THORNS)
        by_shares(trace);
    result(trace, verdict);
    return true;
}
