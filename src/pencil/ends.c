/* SPDX-License-Identifier: MIT
 * Calculations of the trellis: end assemblies, anchors, parts, rows in a field. */
#include "inside.h"

#include <string.h>

#include <caneyear/trellis/anchor.h>
#include <caneyear/trellis/end.h>
#include <caneyear/trellis/parts.h>

#define SUBJECT "Trellis"

/* ---- end assemblies ------------------------------------------------------------------------- */

static const struct cy_pencil_argument brace_arguments[] = {
    NEED_CHOICE("kind", "h, slant, tie", "two posts with a rail; a strut; a line to an anchor"),
    {.name = "pulls",
     .help = "each wire's pull and height: 250lbf@3ft,250lbf@4ft",
     .kind = CY_PENCIL_TEXT,
     .required = true},
    NEED("height", METRE, 0.05, 30, "of the rail, strut or tie on the post"),
    MAY("length", METRE, 0.05, 30, NULL, "h: between its posts"),
    MAY("foot", METRE, 0.05, 30, NULL, "slant: from the post to the strut's foot"),
    MAY("angle", DEGREE, 1, 89, NULL, "tie: to the ground"),
};

/* "force@height" with commas between. */
static bool read_pulls(struct cy_pull pulls[CY_PULLS_MAX], size_t *count, const char *text)
{
    for (*count = 0; *count < CY_PULLS_MAX; text++) {
        size_t force = strcspn(text, "@,"), end = strcspn(text, ",");
        struct cy_pull *pull = &pulls[(*count)++];
        if (force == end ||
            cy_pencil__quantity(&pull->force_n, text, force, CY_PENCIL_NEWTON) != CY_UNIT_OK ||
            cy_pencil__quantity(&pull->height_m, text + force + 1, end - force - 1,
                                CY_PENCIL_METRE) != CY_UNIT_OK)
            return false;
        text += end;
        if (!*text)
            return true;
    }
    return false;
}

static int run_brace(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    static const char *const reach[] = {"length", "foot", "angle"}; /* by kind */
    struct cy_trellis_domain bad;
    struct cy_pull pulls[CY_PULLS_MAX];
    struct cy_end_input end = {
        .kind = (enum cy_end_kind)cy_pencil__choice(in, "kind"),
        .pulls = pulls,
        .height_m = cy_pencil__number(in, "height"),
        .length_m = cy_pencil__number(in, "length"),
        .foot_m = cy_pencil__number(in, "foot"),
        .angle_deg = cy_pencil__number(in, "angle"),
    };
    struct cy_end_result result;
    if (!read_pulls(pulls, &end.count, cy_pencil__value(in, "pulls")->text))
        return cy_pencil__wrong(in, issues, "pulls",
                                "force@height with commas between, such as 250lbf@3ft,250lbf@4ft; "
                                "16 at most");
    if (!cy_pencil__given(in, reach[end.kind]))
        return cy_pencil__missing(in, issues, reach[end.kind],
                                  end.kind == CY_END_TIE ? "1 to 89 deg" : "0.05 to 30 m");
    if (cy_end_brace(&result, &end, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = result.force_n;
    cy_pencil__also(out, "moment", result.moment_nm, CY_PENCIL_NEWTON_METRE);
    if (end.kind == CY_END_H) {
        cy_pencil__also(out, "rail", result.rail_n, CY_PENCIL_NEWTON);
        cy_pencil__also(out, "diagonal", result.diagonal_n, CY_PENCIL_NEWTON);
    }
    if (end.kind != CY_END_TIE)
        cy_pencil__also(out, "uplift", result.uplift_n, CY_PENCIL_NEWTON);
    if (end.kind != CY_END_SLANT)
        cy_pencil__also(out, "push", result.push_n, CY_PENCIL_NEWTON);
    return CY_OK;
}

/* ---- anchors -------------------------------------------------------------------------------- */

static const struct cy_pencil_argument anchor_arguments[] = {
    NEED_CHOICE("kind", "deadman, screw", "a buried log or timber; a screw anchor"),
    MAY("tie", NEWTON, 0, 1e6, NULL, "deadman: force along the tie"),
    MAY("slope", DEGREE, 14, 45, NULL, "deadman: of the tie, below horizontal"),
    MAY("depth", METRE, 0.9144, 2.1336, NULL, "deadman: to the middle of its face"),
    MAY("face", SIZE, 0.01, 2, NULL, "deadman: height of its face"),
    MAY_CHOICE("ground", "loam, sand, rock", "loam", "deadman: what it is buried in"),
    MAY("diameter", SIZE, 0.01, 2, NULL, "screw: of the helix"),
    MAY("cohesion", PASCAL, 0, 1e6, NULL, "screw: of the clay"),
    MAY("factor", NUMBER, 1, 10, "2", "of safety"),
};

static int need(const char *const *names, size_t count, const struct cy_pencil_inputs *in,
                struct cy_issues *issues)
{
    for (size_t i = 0; i < count; i++)
        if (!cy_pencil__given(in, names[i]))
            return cy_pencil__missing(in, issues, names[i],
                                      "tie, slope, depth, face for a deadman; diameter, cohesion "
                                      "for a screw");
    return CY_OK;
}

static int run_deadman(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                       struct cy_issues *issues)
{
    static const char *const names[] = {"tie", "slope", "depth", "face"};
    struct cy_trellis_domain bad;
    struct cy_deadman_input deadman = {
        .tie_n = cy_pencil__number(in, "tie"),
        .slope_deg = cy_pencil__number(in, "slope"),
        .depth_m = cy_pencil__number(in, "depth"),
        .face_m = cy_pencil__number(in, "face"),
        .ground = (enum cy_ground)cy_pencil__choice(in, "ground"),
        .factor = cy_pencil__number(in, "factor"),
    };
    struct cy_deadman_result result;
    int status = need(names, COUNT_OF(names), in, issues);
    if (status)
        return status;
    if (cy_anchor_deadman(&result, &deadman, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = result.length_m;
    out->unit = CY_PENCIL_METRE;
    cy_pencil__also(out, "ultimate", result.ultimate_n, CY_PENCIL_NEWTON);
    if (result.ratio > CY_DEADMAN_LOG_RATIO)
        cy_pencil__note(out, result.ratio > CY_DEADMAN_TIMBER_RATIO
                                 ? "longer than nine times its face: too slender for any deadman"
                                 : "longer than five times its face: too slender for a log");
    return CY_OK;
}

static int run_screw(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     struct cy_issues *issues)
{
    static const char *const names[] = {"diameter", "cohesion"};
    struct cy_trellis_domain bad;
    struct cy_screw_input screw = {
        .diameter_m = cy_pencil__number(in, "diameter"),
        .cohesion_pa = cy_pencil__number(in, "cohesion"),
        .factor = cy_pencil__number(in, "factor"),
    };
    struct cy_screw_result result;
    int status = need(names, COUNT_OF(names), in, issues);
    if (status)
        return status;
    if (cy_anchor_screw(&result, &screw, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = result.allowable_n;
    cy_pencil__also(out, "ultimate", result.ultimate_n, CY_PENCIL_NEWTON);
    return CY_OK;
}

static int run_anchor(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                      const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    return cy_pencil__choice(in, "kind") == 0 ? run_deadman(out, in, issues)
                                              : run_screw(out, in, issues);
}

/* ---- counting ------------------------------------------------------------------------------- */

static const struct cy_pencil_argument parts_arguments[] = {
    NEED("row", METRE, 0.1, 10000, "end post to end post"),
    NEED("post_spacing", METRE, 0.1, 100, "at most, from post to post"),
    NEED_WHOLE("wires", 1, 20, "in the row"),
    NEED_CHOICE("ends", "h, tie, slant", "the inner posts of an H count as end posts"),
    MAY("gauge", NUMBER, 1, 40, "12.5", "steel wire gauge, for the weight"),
};

static int run_parts(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    static const enum cy_end_kind kinds[] = {CY_END_H, CY_END_TIE, CY_END_SLANT};
    struct cy_trellis_domain bad;
    struct cy_parts_input row = {
        .row_m = cy_pencil__number(in, "row"),
        .post_spacing_m = cy_pencil__number(in, "post_spacing"),
        .wires = (int)cy_pencil__number(in, "wires"),
        .gauge = cy_pencil__number(in, "gauge"),
        .ends = kinds[cy_pencil__choice(in, "ends")],
    };
    struct cy_parts parts;
    if (cy_parts_of(&parts, &row, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = parts.line_posts;
    cy_pencil__also(out, "end_posts", parts.end_posts, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "wire", parts.wire_m, CY_PENCIL_METRE);
    cy_pencil__also(out, "wire_mass", parts.wire_kg, CY_PENCIL_KG);
    cy_pencil__also(out, "staples", parts.staples, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "strainers", parts.strainers, CY_PENCIL_NUMBER);
    cy_pencil__also(out, "crimps", parts.crimps, CY_PENCIL_NUMBER);
    return CY_OK;
}

static const struct cy_pencil_argument rows_arguments[] = {
    NEED("width", METRE, 0, 10000, "of the field across the rows"),
    NEED("length", METRE, 0, 10000, "along the rows"),
    NEED("row_spacing", METRE, 0.1, 100, "from row to row"),
    MAY("headland", METRE, 0, 1000, "0", "at each end"),
    MAY("plant_spacing", METRE, 0.05, 100, NULL, "from plant to plant"),
};

static int run_rows(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_trellis_domain bad;
    bool plants = cy_pencil__given(in, "plant_spacing");
    struct cy_rows_input field = {
        .width_m = cy_pencil__number(in, "width"),
        .length_m = cy_pencil__number(in, "length"),
        .row_spacing_m = cy_pencil__number(in, "row_spacing"),
        .headland_m = cy_pencil__number(in, "headland"),
        .plant_spacing_m = plants ? cy_pencil__number(in, "plant_spacing") : 0,
    };
    struct cy_rows rows;
    if (2 * field.headland_m >= field.length_m)
        return cy_pencil__wrong(in, issues, "headland", "less than half of the length");
    if (cy_rows_of(&rows, &field, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = rows.rows;
    cy_pencil__also(out, "row_length", rows.row_m, CY_PENCIL_METRE);
    if (plants)
        cy_pencil__also(out, "plants", rows.plants, CY_PENCIL_NUMBER);
    return CY_OK;
}

/* ---- the table ------------------------------------------------------------------------------ */

static const struct cy_pencil_calculation calculations[] = {
    {.name = "end-brace",
     .subject = SUBJECT,
     .what = "forces in a row's end assembly",
     TAKES(brace_arguments),
     .unit = CY_PENCIL_NEWTON,
     .formula = "level = sum(pull height)/height; h: rail = level, diagonal = level "
                "sqrt(length^2 + height^2)/length, uplift and push = moment/length; slant: strut = "
                "level/cos; tie = level/cos(angle), push = level tan(angle)",
     .source = "statics, pin-jointed; the assemblies: Giese and Henderson, Iowa State Research "
               "Bulletin 364, 1949",
     .range = "posts in line with the pull; real assemblies also bend the posts",
     .caution = "the pull of wires lasts for years: judge wood by a duration factor of 0.9 to 1.15",
     .run = run_brace},
    {.name = "anchor",
     .subject = SUBJECT,
     .what = "the length of a deadman, or what a screw anchor holds",
     TAKES(anchor_arguments),
     .unit = CY_PENCIL_NEWTON,
     .formula = "deadman, m: tie factor/(holding face) + 0.3048 for the trench, holding by depth "
                "and slope from the table; screw, N: 9 cohesion area/factor",
     .source = "deadman: TM 5-5420-278-10, table 9; screw: helical anchor product notes",
     .range = "deadman: 3 to 7 ft deep, tie 14 to 45 deg; screw: clay, five diameters deep or more",
     .caution = "soil varies: pull an anchor to proof before you trust it; call before digging",
     .run = run_anchor},
    {.name = "trellis-parts",
     .subject = SUBJECT,
     .what = "posts, wire and fittings of a row",
     TAKES(parts_arguments),
     .counted = "line posts",
     .formula = "line posts = ceil(row/post_spacing) - 1; wire = wires (row + 2 1.22 m) 1.05; a "
                "staple for each wire and line post, 3 more and 2 crimps for each wire end; a "
                "strainer for each wire and 1320 ft",
     .source = "strainers: NRCS Maine job sheet 382A, 2008; wrap, waste, staples and crimps are "
               "placeholders",
     .range = "wooden line posts",
     .run = run_parts},
    {.name = "row-count",
     .subject = SUBJECT,
     .what = "how many rows fit a field",
     TAKES(rows_arguments),
     .counted = "rows",
     .formula =
         "floor(width/row_spacing), centred; row_length = length - 2 headland; plants = rows "
         "row_length/plant_spacing",
     .source = "arithmetic",
     .range = "a rectangle",
     .run = run_rows},
};

const struct cy_pencil__subject cy_pencil__ends = {calculations, COUNT_OF(calculations)};
