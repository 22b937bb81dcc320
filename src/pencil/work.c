/* SPDX-License-Identifier: MIT
 * Calculations of work and money. */
#include "inside.h"

#include <caneyear/season/money.h>

#define SUBJECT "Work and money"

static const struct cy_pencil_argument value_arguments[] = {
    NEED("rate", SHARE, -0.99, 10, "discount a period, such as 0.05 or 5%"),
    {.name = "flows",
     .help = "money by period with commas between, what comes in positive",
     .kind = CY_PENCIL_LIST,
     .unit = CY_PENCIL_MONEY,
     .low = -1e12,
     .high = 1e12,
     .required = true},
    MAY_WHOLE("first", 0, 1, "0", "period of the first flow: 0 is not discounted"),
};

static int run_value(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    const struct cy_pencil_value *list = cy_pencil__value(in, "flows");
    struct cy_money_flows flows = {
        .rate = cy_pencil__number(in, "rate"),
        .flows = list->list,
        .count = list->count,
        .first = (int)cy_pencil__number(in, "first"),
    };
    struct cy_money_value value = cy_money_net_value(&flows);
    out->value = value.value;
    if (value.has_return)
        cy_pencil__also(out, "irr", value.internal_return, CY_PENCIL_SHARE);
    return CY_OK;
}

static const struct cy_pencil_argument capital_arguments[] = {
    NEED("rate", SHARE, 0, 10, "interest a year, such as 0.05 or 5%"),
    NEED("years", NUMBER, 0.01, 1000, "of use"),
    MAY("cost", MONEY, 0, 1e12, "1", "at the start"),
    MAY("salvage", MONEY, 0, 1e12, "0", "at the end"),
};

static int run_capital(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                       const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    struct cy_money_capital capital = {
        .rate = cy_pencil__number(in, "rate"),
        .years = cy_pencil__number(in, "years"),
        .cost = cy_pencil__number(in, "cost"),
        .salvage = cy_pencil__number(in, "salvage"),
    };
    out->value = cy_money_capital_recovery(&capital);
    return CY_OK;
}

static const struct cy_pencil_argument even_arguments[] = {
    NEED("fixed", MONEY, 0, 1e12, "cost whatever is sold"),
    NEED("price", MONEY, 0, 1e9, "paid for one unit"),
    MAY("variable", MONEY, 0, 1e9, "0", "cost of one unit more"),
};

static int run_even(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_money_margin margin = {
        .fixed = cy_pencil__number(in, "fixed"),
        .price = cy_pencil__number(in, "price"),
        .variable = cy_pencil__number(in, "variable"),
    };
    if (cy_money_break_even(&out->value, &margin))
        return cy_pencil__clash(in, issues, "price", "the price does not cover the variable cost",
                                "price above variable");
    return CY_OK;
}

static const struct cy_pencil_argument heat_arguments[] = {
    NEED("temp", CELSIUS, -60, 60, "of the air, in the shade"),
    NEED("humidity", PERCENT, 0, 100, "relative"),
};

static int run_heat(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    struct cy_heat_index index =
        cy_heat_index_of(cy_pencil__number(in, "temp"), cy_pencil__number(in, "humidity"));
    out->value = index.index_c;
    cy_pencil__also(out, "class", index.risk, CY_PENCIL_NUMBER);
    return CY_OK;
}

static const struct cy_pencil_argument crew_arguments[] = {
    NEED("ripe", KG, 0, 1e9, "fruit to pick"),
    NEED("rate", KG_H, 0.01, 1000, "of one picker"),
    NEED("hours", HOUR, 0.1, 24, "of picking a day"),
    NEED("days", DAY, 0.01, 366, "to pick it in"),
};

static int run_crew(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    struct cy_pick_work work = {
        .ripe_kg = cy_pencil__number(in, "ripe"),
        .rate_kg_h = cy_pencil__number(in, "rate"),
        .hours = cy_pencil__number(in, "hours"),
        .days = cy_pencil__number(in, "days"),
    };
    struct cy_pick_crew crew = cy_pick_crew_of(&work);
    out->value = crew.people;
    cy_pencil__also(out, "whole", crew.whole, CY_PENCIL_NUMBER);
    return CY_OK;
}

static const struct cy_pencil_argument visitor_arguments[] = {
    NEED("ripe", KG, 0, 1e9, "fruit"),
    NEED("each", KG, 0.001, 10000, "taken by one visitor"),
    NEED("left", SHARE, 0, 1, "share of the ripe fruit that is not picked"),
};

static int run_visitors(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                        const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    struct cy_visit_work work = {
        .ripe_kg = cy_pencil__number(in, "ripe"),
        .each_kg = cy_pencil__number(in, "each"),
        .left = cy_pencil__number(in, "left"),
    };
    out->value = cy_visitors_of(&work);
    return CY_OK;
}

static const struct cy_pencil_argument labour_arguments[] = {
    NEED("row", METRE, 0, 1e7, "of row"),
    NEED("rate", H_100M, 0, 10000, "hours for 100 m, or such as 2h/100ft"),
    MAY("passes", NUMBER, 0, 1000, "1", "how often"),
};

static int run_labour(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                      const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series, (void)issues;
    struct cy_labour_work work = {
        .row_m = cy_pencil__number(in, "row"),
        .rate_h_m = cy_pencil__number(in, "rate") / 100,
        .passes = cy_pencil__number(in, "passes"),
    };
    out->value = cy_labour_hours(&work);
    return CY_OK;
}

/* ---- the table ------------------------------------------------------------------------------ */

static const struct cy_pencil_calculation calculations[] = {
    {.name = "net-value",
     .subject = SUBJECT,
     .what = "the present value of money that comes and goes",
     TAKES(value_arguments),
     .unit = CY_PENCIL_MONEY,
     .formula = "sum of flow/(1 + rate)^period; irr: the rate at which it is 0",
     .source = "arithmetic",
     .range = "rate above -1; irr is left out unless the flows change sign exactly once",
     .run = run_value},
    {.name = "capital-recovery",
     .subject = SUBJECT,
     .what = "the yearly charge that pays back a cost with interest",
     TAKES(capital_arguments),
     .unit = CY_PENCIL_MONEY,
     .formula = "(cost - salvage) rate/(1 - (1 + rate)^-years) + salvage rate; (cost - "
                "salvage)/years at rate 0",
     .source = "engineering economy, the A/P factor",
     .range = "level yearly payments at the end of each year",
     .run = run_capital},
    {.name = "break-even",
     .subject = SUBJECT,
     .what = "how much must be sold to cover the cost",
     TAKES(even_arguments),
     .counted = "units",
     .formula = "fixed/(price - variable)",
     .source = "arithmetic",
     .range = "price above variable; price and variable by the same unit of what is sold",
     .run = run_even},
    {.name = "heat-index",
     .subject = SUBJECT,
     .what = "how hot it feels at work",
     TAKES(heat_arguments),
     .unit = CY_PENCIL_CELSIUS,
     .formula =
         "the National Weather Service's regression with its dry and humid terms; below 80 F "
         "0.5 (T + 61 + 1.2 (T - 68) + 0.094 RH); class 1 below 91 F, 2 to 103, 3 to 115, 4 "
         "above",
     .source = "Weather Prediction Center, The Heat Index Equation; classes: OSHA guidance",
     .range = "shade and light wind, to about 1.3 F",
     .caution = "full sun can add 15 F; new workers need days to get used to heat",
     .run = run_heat},
    {.name = "pick-crew",
     .subject = SUBJECT,
     .what = "pickers needed for the ripe fruit",
     TAKES(crew_arguments),
     .counted = "people",
     .formula = "ripe/(rate hours days); whole: rounded up",
     .source = "arithmetic; no picking rate for blackberries is published",
     .range = "pickers alike",
     .run = run_crew},
    {.name = "visitors",
     .subject = SUBJECT,
     .what = "visitors whom the ripe fruit serves",
     TAKES(visitor_arguments),
     .counted = "visitors",
     .formula = "ripe (1 - left)/each",
     .source = "arithmetic; no share left by visitors is published",
     .range = "not rounded",
     .run = run_visitors},
    {.name = "labour",
     .subject = SUBJECT,
     .what = "hours of work along rows",
     TAKES(labour_arguments),
     .unit = CY_PENCIL_HOUR,
     .formula = "row rate passes",
     .source = "arithmetic",
     .range = "a rate that holds for the whole row",
     .run = run_labour},
};

const struct cy_pencil__subject cy_pencil__work = {calculations, COUNT_OF(calculations)};
