/* SPDX-License-Identifier: MIT
 * The calculations of the trellis: values recomputed from published formulas unless a case names
 * its print, through the pencil's names and units. */
#include "bench.h"

#define FOOT 0.3048
#define POUND 4.4482216152605
#define PSI 6894.757293168361
#define PSF (PSI / 144)

static void sag_of_a_wire(void **state)
{
    (void)state;
    /* 12.5 gauge at 225 lb over 25 ft sags 0.10915 in by its own weight. */
    assert_result(work("wire-sag", "span=25ft load=0 tension=225lbf gauge=12.5"), 0.10915 * 0.0254,
                  1e-7);
    /* Without a gauge the wire has no weight. */
    struct bench loaded = work("wire-sag", "span=25ft load=1lbf/ft tension=156.25lbf");
    assert_result(loaded, 0.5 * FOOT, 1e-12);
    assert_also(loaded, "length", 25.02667 * FOOT, 1e-5);
    assert_also(loaded, "max_tension", hypot(156.25, 12.5) * POUND, 1e-9);
    assert_refused(work("wire-sag", "span=25ft load=0 tension=225lbf gauge=15"),
                   CY_ISSUE_OUT_OF_RANGE, "gauge");
}

static void tension_after_a_change(void **state)
{
    (void)state;
    assert_result(work("wire-tension", "span=25ft gauge=12.5 tension=200lbf rise=40dF"),
                  142.057 * POUND, 0.005);
    struct bench fruit =
        work("wire-tension", "span=25ft gauge=12.5 tension=200lbf new_load=3lbf/ft");
    assert_result(fruit, 455.967 * POUND, 0.005);
    assert_also(fruit, "sag", 0.51851 * FOOT, 1e-5);
    assert_no_also(fruit, "share_of_strength");
    /* One inch of lean on a row of 300 ft: 62.01 lb less. */
    assert_result(work("wire-tension", "span=25ft spans=12 gauge=12.5 tension=200lbf end_lean=1in"),
                  (200 - 62.01) * POUND, 0.5);
    /* Spring 50 lb/in, 60 F warmer: 161.137 lb by the straight rule. */
    assert_result(work("wire-tension", "span=25ft spans=12 gauge=12.5 tension=200lbf rise=60dF "
                                       "spring=600lbf/ft"),
                  161.137 * POUND, 0.5);
}

/* 250 lb is 32,477 psi in 12.5 gauge and 16.24 % of 200 ksi. */
static void share_of_a_wires_strength(void **state)
{
    (void)state;
    struct bench grade = work("wire-tension", "span=25ft gauge=12.5 tension=250lbf grade=200");
    assert_also(grade, "stress", 32477 * PSI, 1 * PSI);
    assert_also(grade, "share_of_strength", 0.1624, 5e-5);
    struct bench strength =
        work("wire-tension", "span=25ft gauge=12.5 tension=250lbf strength=200000psi");
    assert_also(strength, "share_of_strength", also_of(&grade, "share_of_strength"), 1e-12);
    assert_refused(work("wire-tension", "span=25ft gauge=12.5 tension=250lbf grade=oak"),
                   CY_ISSUE_OUT_OF_RANGE, "grade");
    assert_refused(
        work("wire-tension", "span=25ft gauge=12.5 tension=250lbf grade=200 strength=1e9"),
        CY_ISSUE_PAIR, "grade");
}

/* Problem 15.3 of a power-systems text (printed 541.9 kg, 20.76 m), its expansion ten times too
 * large as printed: 300 m, 240 mm2, w1 2.4517 and w2 1.0 kg/m, 4000 kg, 70 K warmer. */
static void a_line_by_area(void **state)
{
    (void)state;
    struct bench line =
        work("wire-tension", "span=300 area=240e-6 modulus=9.1398e10 expansion=18.44e-5 "
                             "weight=9.80665 tension=39226.6 load=14.23624 new_load=0 rise=70");
    assert_result(line, 541.9 * 9.80665, 5);
    assert_also(line, "sag", 20.76, 0.02);
    assert_refused(work("wire-tension", "span=300 tension=39226.6"), CY_ISSUE_MISSING, "gauge");
    assert_refused(work("wire-tension", "span=300 gauge=12.5 area=1e-6 tension=39226.6"),
                   CY_ISSUE_PAIR, "gauge");
    /* Ends that move by more than a tenth of the row are outside the equation. */
    assert_refused(work("wire-tension", "span=8 gauge=12.5 tension=900 end_lean=0.9"),
                   CY_ISSUE_OUT_OF_RANGE, "end_lean");
    assert_refused(work("wire-tension", "span=8 gauge=12.5 tension=900 take_up=0.9"),
                   CY_ISSUE_OUT_OF_RANGE, "take_up");
    struct bench wound =
        work("wire-tension", "span=8 gauge=12.5 tension=900 take_up=0.1 grade=170");
    assert_non_null(strstr(wound.result.note, "break"));
}

/* "ASCE 7 Wind Velocity Pressure" page: 115 mph, Kd 0.85, Kz 0.85: 24.46 psf. */
static void pressure_of_wind(void **state)
{
    (void)state;
    struct bench wind = work("wind-pressure", "speed=115mph exposure=C height=10ft");
    assert_also(wind, "kz", 0.85, 0.001);
    assert_result(wind, 24.46 * PSF, 0.05 * PSF);
    assert_result(work("wind-pressure", "speed=115mph exposure=c height=10ft kd=1"),
                  wind.result.value / 0.85, 1e-6);
    assert_refused(work("wind-pressure", "speed=115mph height=10ft"), CY_ISSUE_MISSING, "exposure");
}

/* Allowable wind moments: 4x4 No. 2 1048 ft-lb; round 4 in 922; pipe of 2 in 1007 by Mott's
 * table and 36 ksi/1.67. */
static void bending_of_a_post(void **state)
{
    (void)state;
    assert_result(work("post-bending", "moment=1048lbf.ft section=4x4"), 1, 0.001);
    assert_result(work("post-bending", "force=230.5lbf arm=4ft section=round:4in"), 1, 0.001);
    assert_result(work("post-bending", "moment=1007lbf.ft section=pipe:2in"), 1, 0.001);
    struct bench years = work("post-bending", "moment=1000lbf.ft section=4x4 duration=1");
    assert_also(years, "allowable", 1100 * PSI, 1);
    assert_also(years, "stress", 12000 / 7.146 * PSI, 1000);
    struct bench graded = work("post-bending", "moment=1000lbf.ft section=4x4 strength=1050psi");
    assert_also(graded, "allowable", 1680 * PSI, 1);
    assert_refused(work("post-bending", "section=4x4"), CY_ISSUE_MISSING, "moment");
    assert_refused(work("post-bending", "force=100 section=4x4"), CY_ISSUE_MISSING, "arm");
    assert_refused(work("post-bending", "moment=100 section=5x5"), CY_ISSUE_OUT_OF_RANGE,
                   "section");
}

static void depth_of_a_post(void **state)
{
    (void)state;
    struct bench post = work("post-depth", "load=100lbf height=4ft width=4in soil=4");
    assert_result(post, 5.1026 * FOOT, 5e-5);
    assert_also(post, "a", 2.7515 * FOOT, 5e-5);
    assert_also(post, "s1", 255.13 * PSF, 0.5);
    assert_result(
        work("post-depth", "load=100lbf height=4ft width=4in bearing=150psf/ft isolated=yes"),
        3.8651 * FOOT, 5e-5);
    /* IBC 2018 flagpole sheet, printed 1.509 m. */
    assert_result(work("post-depth", "load=30000lbf height=3ft width=4.5ft bearing=350psf/ft "
                                     "isolated=yes constrained=yes"),
                  1.509, 0.001);
    assert_refused(work("post-depth", "load=100 height=1 width=0.1"), CY_ISSUE_MISSING, "soil");
    assert_refused(work("post-depth", "load=100 height=1 width=0.1 soil=1"), CY_ISSUE_OUT_OF_RANGE,
                   "soil");
    /* 4 in, 2 ft deep, 3.5 ft: 19.6 lb with the doubling. */
    assert_result(work("post-load", "depth=2ft height=3.5ft width=4in soil=4 isolated=yes"),
                  19.6 * POUND, 0.05 * POUND);
}

/* Three wires of 250 lb at 3, 4, 5 ft on an H of 4.5 by 8 ft; a tie at 5 ft. */
static void end_assemblies(void **state)
{
    (void)state;
    struct bench h = work("end-brace", "kind=h pulls=250lbf@3ft,250lbf@4ft,250lbf@5ft "
                                       "height=4.5ft length=8ft");
    assert_result(h, 764.90 * POUND, 0.05);
    assert_also(h, "diagonal", 764.90 * POUND, 0.05);
    assert_also(h, "rail", 666.67 * POUND, 0.05);
    assert_also(h, "uplift", 375 * POUND, 0.05);
    assert_also(h, "push", 375 * POUND, 0.05);
    assert_also(h, "moment", 3000 * POUND * FOOT, 0.05);
    struct bench tie = work("end-brace", "kind=tie pulls=250lbf@3ft,250lbf@4ft,250lbf@5ft "
                                         "height=5ft angle=45");
    assert_result(tie, 848.53 * POUND, 0.05);
    assert_also(tie, "push", 600 * POUND, 0.05);
    assert_no_also(tie, "rail");
    struct bench slant = work("end-brace", "kind=slant pulls=1000@1 height=1 foot=1");
    assert_result(slant, 1000 * sqrt(2), 1e-9);
    assert_also(slant, "uplift", 1000, 1e-9);
    assert_refused(work("end-brace", "kind=h pulls=250 height=1 length=2"), CY_ISSUE_OUT_OF_RANGE,
                   "pulls");
    assert_refused(work("end-brace", "kind=h pulls=250@1, height=1 length=2"),
                   CY_ISSUE_OUT_OF_RANGE, "pulls");
    assert_refused(work("end-brace", "kind=tie pulls=250@1 height=1"), CY_ISSUE_MISSING, "angle");
}

/* TM 5-5420-278-10, table 9, 45 degrees, 3 ft: 950 lb a square foot, so 4.573 ft for 848.53 lb at
 * a factor of 2. A helix of 6 in in 1000 psf: 1767 lb ultimate. */
static void anchors(void **state)
{
    (void)state;
    struct bench deadman =
        work("anchor", "kind=deadman tie=848.53lbf slope=45 depth=3ft face=0.5ft");
    assert_result(deadman, 4.573 * FOOT, 5e-4);
    assert_int_equal(deadman.result.unit, CY_PENCIL_METRE);
    assert_also(deadman, "ultimate", 2 * 848.53 * POUND, 0.01);
    assert_true(deadman.result.note[0] != '\0'); /* 9.15 times its face */
    struct bench screw = work("anchor", "kind=screw diameter=6in cohesion=1000psf");
    assert_result(screw, 1767 / 2.0 * POUND, 2);
    assert_int_equal(screw.result.unit, CY_PENCIL_NEWTON);
    assert_also(screw, "ultimate", 1767 * POUND, 4);
    assert_refused(work("anchor", "kind=screw diameter=6in"), CY_ISSUE_MISSING, "cohesion");
    assert_refused(work("anchor", "kind=deadman tie=1000 slope=45 depth=1"), CY_ISSUE_MISSING,
                   "face");
}

/* A row of 200 ft, posts at 25 ft, 3 wires: 7 line posts, 655.2 ft, 17.2 lb, 39 staples. The wrap
 * is 1.22 m here, 4 ft there. */
static void parts_of_a_row(void **state)
{
    (void)state;
    struct bench row = work("trellis-parts", "row=200ft post_spacing=25ft wires=3 ends=tie");
    assert_result(row, 7, 0);
    assert_also(row, "end_posts", 2, 0);
    assert_also(row, "wire", 3 * (200 * FOOT + 2 * 1.22) * 1.05, 1e-9);
    assert_also(row, "wire_mass", 17.2 * 0.45359237, 0.05);
    assert_also(row, "staples", 39, 0);
    assert_also(row, "strainers", 3, 0);
    assert_also(row, "crimps", 12, 0);
    assert_also(work("trellis-parts", "row=200ft post_spacing=25ft wires=3 ends=h"), "end_posts", 4,
                0);
    assert_also(work("trellis-parts", "row=200ft post_spacing=25ft wires=3 ends=slant"),
                "end_posts", 2, 0);
}

static void rows_of_a_field(void **state)
{
    (void)state;
    struct bench field = work("row-count", "width=105ft length=200ft row_spacing=10ft "
                                           "headland=20ft plant_spacing=4ft");
    assert_result(field, 10, 0);
    assert_also(field, "row_length", 160 * FOOT, 1e-9);
    assert_also(field, "plants", 400, 1e-9);
    assert_no_also(work("row-count", "width=30 length=50 row_spacing=3"), "plants");
    assert_refused(work("row-count", "width=30 length=8 row_spacing=3 headland=4"),
                   CY_ISSUE_OUT_OF_RANGE, "headland");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sag_of_a_wire),
        cmocka_unit_test(tension_after_a_change),
        cmocka_unit_test(share_of_a_wires_strength),
        cmocka_unit_test(a_line_by_area),
        cmocka_unit_test(pressure_of_wind),
        cmocka_unit_test(bending_of_a_post),
        cmocka_unit_test(depth_of_a_post),
        cmocka_unit_test(end_assemblies),
        cmocka_unit_test(anchors),
        cmocka_unit_test(parts_of_a_row),
        cmocka_unit_test(rows_of_a_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
