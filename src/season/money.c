/* SPDX-License-Identifier: MIT
 * Small sums behind the work and money pages: present value, return, repayment, break-even,
 * heat at work, pickers, visitors, hours. */
#include <caneyear/season/money.h>

#include <math.h>

#include <caneyear/base/issue.h>

static int sign_changes(const double *flows, size_t count)
{
    double last = 0.0;
    int changes = 0;

    for (size_t i = 0; i < count; i++) {
        if (flows[i] == 0.0)
            continue;
        if (last != 0.0 && (last > 0.0) != (flows[i] > 0.0))
            changes++;
        last = flows[i];
    }
    return changes;
}

/* The value at log(1 + rate) = force, scaled by its largest discount so that nothing overflows:
 * only its sign counts. */
static double scaled_value(const double *flows, size_t count, double force)
{
    double value = 0.0;

    for (size_t i = 0; i < count; i++) {
        const double period = force > 0.0 ? (double)i : (double)i - (double)(count - 1);
        value += flows[i] * exp(-force * period);
    }
    return value;
}

/* With one change of sign there is one root. The early flows win at a high rate, the late ones
 * at a low one, so the bracket is found by widening it; the rest is halving. */
static double only_return(const double *flows, size_t count)
{
    size_t first = 0, last = count - 1;
    while (flows[first] == 0.0)
        first++;
    while (flows[last] == 0.0)
        last--;
    flows += first;
    count = last - first + 1;

    const bool pays = flows[0] > 0.0;
    double low = -1.0, high = 1.0;
    while ((scaled_value(flows, count, high) > 0.0) != pays)
        high *= 2.0;
    while ((scaled_value(flows, count, low) > 0.0) == pays)
        low *= 2.0;
    for (int turn = 0; turn < 200; turn++) {
        const double middle = low + (high - low) / 2.0;
        if (middle <= low || middle >= high)
            break;
        if ((scaled_value(flows, count, middle) > 0.0) == pays)
            high = middle;
        else
            low = middle;
    }
    return expm1(low + (high - low) / 2.0);
}

struct cy_money_value cy_money_net_value(const struct cy_money_flows *flows)
{
    struct cy_money_value result = {0};

    for (size_t i = flows->count; i-- > 0;)
        result.value = result.value / (1.0 + flows->rate) + flows->flows[i];
    for (int period = 0; period < flows->first; period++)
        result.value /= 1.0 + flows->rate;
    result.has_return = sign_changes(flows->flows, flows->count) == 1;
    if (result.has_return)
        result.internal_return = only_return(flows->flows, flows->count);
    return result;
}

double cy_money_capital_recovery(const struct cy_money_capital *capital)
{
    const double lost = capital->cost - capital->salvage;

    if (capital->rate == 0.0)
        return lost / capital->years;
    return lost * capital->rate / -expm1(-capital->years * log1p(capital->rate)) +
           capital->salvage * capital->rate;
}

int cy_money_break_even(double *out, const struct cy_money_margin *margin)
{
    if (!(margin->price > margin->variable))
        return CY_INVALID;
    *out = margin->fixed / (margin->price - margin->variable);
    return CY_OK;
}

/* Rothfusz's regression with the two corrections of the Weather Prediction Center's page; below
 * 80 F the simple formula, which already is an average with the temperature. */
static double heat_index_f(double t, double r)
{
    const double simple = 0.5 * (t + 61.0 + (t - 68.0) * 1.2 + 0.094 * r);
    if (simple < 80.0)
        return simple;

    double index = -42.379 + 2.04901523 * t + 10.14333127 * r - 0.22475541 * t * r -
                   0.00683783 * t * t - 0.05481717 * r * r + 0.00122874 * t * t * r +
                   0.00085282 * t * r * r - 0.00000199 * t * t * r * r;
    if (r < 13.0 && t >= 80.0 && t <= 112.0)
        index -= (13.0 - r) / 4.0 * sqrt((17.0 - fabs(t - 95.0)) / 17.0);
    else if (r > 85.0 && t >= 80.0 && t <= 87.0)
        index += (r - 85.0) / 10.0 * (87.0 - t) / 5.0;
    return index;
}

struct cy_heat_index cy_heat_index_of(double temp_c, double humidity_pct)
{
    const double index_f = heat_index_f(temp_c * 1.8 + 32.0, humidity_pct);

    return (struct cy_heat_index){.index_c = (index_f - 32.0) / 1.8,
                                  .risk = 1 + (index_f >= 91.0) + (index_f >= 103.0) +
                                          (index_f > 115.0)};
}

struct cy_pick_crew cy_pick_crew_of(const struct cy_pick_work *work)
{
    const double people = work->ripe_kg / (work->rate_kg_h * work->hours * work->days);

    /* A crew of 3 whose quotient rounded to a hair above 3 is a crew of 3. */
    return (struct cy_pick_crew){.people = people, .whole = ceil(people * (1.0 - 1e-12))};
}

double cy_visitors_of(const struct cy_visit_work *work)
{
    return work->ripe_kg * (1.0 - work->left) / work->each_kg;
}

double cy_labour_hours(const struct cy_labour_work *work)
{
    return work->row_m * work->rate_h_m * work->passes;
}
