/* SPDX-License-Identifier: MIT
 * Small sums behind the work and money pages: present value, return, repayment, break-even,
 * heat at work, pickers, visitors, hours. */
#ifndef CANEYEAR_SEASON_MONEY_H
#define CANEYEAR_SEASON_MONEY_H

#include <stdbool.h>
#include <stddef.h>

struct cy_money_flows {
    double rate;         /* share a period, above -1 */
    const double *flows; /* borrowed; what comes in is positive */
    size_t count;
    int first; /* period of the first flow: 0, not discounted, or 1 */
};

struct cy_money_value {
    double value;
    bool has_return; /* false where there is none, or may be more than one */
    double internal_return;
};

/* The sum of flow / (1 + rate)^period. The internal rate of return does not depend on `first`;
 * it is given where the flows change sign exactly once, so that there is one and only one. */
struct cy_money_value cy_money_net_value(const struct cy_money_flows *flows);

struct cy_money_capital {
    double rate;  /* share a year, 0 or more */
    double years; /* above 0 */
    double cost, salvage;
};

/* The level yearly charge that pays back cost less salvage with interest, plus interest on the
 * salvage; 1/years of what is not salvaged at rate 0. */
double cy_money_capital_recovery(const struct cy_money_capital *capital);

struct cy_money_margin {
    double fixed, price, variable; /* cost whatever is sold; by unit: what is paid, what it costs */
};

/* fixed / (price - variable). CY_INVALID, with *out left alone, unless price is above variable. */
int cy_money_break_even(double *out, const struct cy_money_margin *margin);

struct cy_heat_index {
    double index_c;
    int risk; /* OSHA's guidance: 1 below 91 F, 2 from there, 3 from 103 F, 4 above 115 F */
};

/* The National Weather Service's regression for shade: averaged with the temperature once, its
 * dry and humid terms on. Humidity 0 to 100 %. */
struct cy_heat_index cy_heat_index_of(double temp_c, double humidity_pct);

struct cy_pick_work {
    double ripe_kg;
    double rate_kg_h; /* of one picker, above 0 */
    double hours;     /* a day, above 0 */
    double days;      /* above 0 */
};

struct cy_pick_crew {
    double people; /* not rounded */
    double whole;  /* people who must come */
};

struct cy_pick_crew cy_pick_crew_of(const struct cy_pick_work *work);

struct cy_visit_work {
    double ripe_kg;
    double each_kg; /* taken by one visitor, above 0 */
    double left;    /* share of the ripe fruit that visitors leave, 0 to 1 */
};

/* How many visitors the ripe fruit serves, not rounded. */
double cy_visitors_of(const struct cy_visit_work *work);

struct cy_labour_work {
    double row_m;
    double rate_h_m; /* hours for a metre of row and pass */
    double passes;
};

double cy_labour_hours(const struct cy_labour_work *work);

#endif
