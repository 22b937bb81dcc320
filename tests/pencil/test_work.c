/* SPDX-License-Identifier: MIT
 * The calculations of work and money. */
#include "bench.h"

/* Documentation of an open numerical finance library: 0.5672303344358536. Two lessons of "A
 * Student's Guide to Cost-Benefit Analysis", their slips put right: 876.32 and -1258.60. */
static void value_of_flows(void **state)
{
    (void)state;
    assert_also(work("net-value", "rate=0.05 flows=-250000,100000,150000,200000,250000,300000"),
                "irr", 0.5672303344358536, 1e-12);
    assert_result(work("net-value", "rate=4% flows=-3000,1200,1200,700,1200 first=1"), 876.32,
                  0.005);
    assert_result(work("net-value", "rate=0.078 flows=-10000,$2000,2000,2000,2500,2500"), -1258.60,
                  0.005);
    assert_no_also(work("net-value", "rate=0.05 flows=-1,3,-2"), "irr");
    assert_refused(work("net-value", "rate=0.05 flows=1 first=2"), CY_ISSUE_OUT_OF_RANGE, "first");
}

/* A/P at 5 % and 15 years 0.0963423; 93,500 with 25,300 left: 7,835.54 (Iowa State Ag Decision
 * Maker's example with the exact factor). */
static void recovery_of_capital(void **state)
{
    (void)state;
    assert_result(work("capital-recovery", "rate=5% years=15"), 0.0963423, 5e-8);
    assert_result(work("capital-recovery", "rate=0.05 years=15 cost=93500 salvage=25300"), 7835.54,
                  0.005);
    assert_result(work("capital-recovery", "rate=0 years=8"), 0.125, 0);
}

static void even_at(void **state)
{
    (void)state;
    assert_result(work("break-even", "fixed=1000 price=2.5"), 400, 0);
    assert_result(work("break-even", "fixed=1000 price=2.5 variable=0.5"), 500, 0);
    assert_refused(work("break-even", "fixed=1000 price=2 variable=2"), CY_ISSUE_PAIR, "price");
}

/* Chart of the National Weather Service: 90 F at 60 % feels like 100; 85 F at 90 %, 102. */
static void heat_at_work(void **state)
{
    (void)state;
    struct bench hot = work("heat-index", "temp=90F humidity=60");
    assert_result(hot, (99.68 - 32) / 1.8, 0.01);
    assert_also(hot, "class", 2, 0);
    assert_result(work("heat-index", "temp=85F humidity=90"), (101.78 - 32) / 1.8, 0.01);
    assert_also(work("heat-index", "temp=110F humidity=40"), "class", 4, 0);
    assert_also(work("heat-index", "temp=20 humidity=40"), "class", 1, 0);
}

static void hands(void **state)
{
    (void)state;
    struct bench crew = work("pick-crew", "ripe=100lb rate=10lb/h hours=4 days=1");
    assert_result(crew, 2.5, 1e-12);
    assert_also(crew, "whole", 3, 0);
    assert_result(work("visitors", "ripe=100 each=2 left=20%"), 40, 1e-12);
    assert_result(work("labour", "row=250 rate=4 passes=3"), 30, 1e-12);
    assert_result(work("labour", "row=100ft rate=2h/100ft"), 2, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(value_of_flows), cmocka_unit_test(recovery_of_capital),
        cmocka_unit_test(even_at),        cmocka_unit_test(heat_at_work),
        cmocka_unit_test(hands),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
