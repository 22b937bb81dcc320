/* SPDX-License-Identifier: MIT
 * The sheet of rows proposed for the field: a plan, a table, and every bearing compared. */
#include <math.h>

#include "words/sheet.h"
#include "words/words.h"

/* ---- without an outline --------------------------------------------------------------------- */

static void add_missing(struct cy_sheet *out, enum cy_rowplan_state state)
{
    static const char *const first[] = {
        [CY_ROWPLAN_NO_OUTLINE] = "No outline of the field is given, so no rows can be proposed.",
        [CY_ROWPLAN_CROSSES] = "Two sides of the field's outline cross or touch: its corners must "
                               "follow one another round the field.",
        [CY_ROWPLAN_NO_AREA] = "All corners of the field's outline stand in one line.",
    };
    struct cy_text text = {0};
    cy_text_add(&text, first[state]);
    cy_text_add(&text, "\n\nGive its corners in their order round it, three or more: x is east and "
                       "y north of the field's corner, as the rows have them. In a farm's YAML:\n");
    cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
    bool us = cy_farm_system(&out->plan->farm) == CY_US;
    cy_text_add(&text, "\n  site:\n    corners:\n");
    cy_text_add(&text, us ? "      - {key: southwest, x: 0 ft, y: 0 ft}\n"
                            "      - {key: southeast, x: 120 ft, y: 0 ft}\n"
                            "      - {key: northeast, x: 120 ft, y: 300 ft}\n"
                            "      - {key: northwest, x: 0 ft, y: 300 ft}\n"
                          : "      - {key: southwest, x: 0 m, y: 0 m}\n"
                            "      - {key: southeast, x: 40 m, y: 0 m}\n"
                            "      - {key: northeast, x: 40 m, y: 90 m}\n"
                            "      - {key: northwest, x: 0 m, y: 90 m}\n");
    cy_sheet_add_text(out, CY_SHEET_PICTURE, &text);
    cy_text_add(&text, "\nThe site's headland, row_spacing, row_bearing, plant_spacing, "
                       "shortest_row and row_trellis say the rest.\n");
    cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
    cy_text_dispose(&text);
}

/* ---- why ------------------------------------------------------------------------------------ */

/* `item`: the bearing of the comparison, or -1 for the site's own. */
static bool why(struct cy_trace *trace, const struct cy_sheet *sheet,
                const struct cy_sheet_line *line)
{
    double bearing = line->item < 0 ? sheet->field.bearing.number : line->item;
    return cy_rowplan_why(trace, &sheet->field, &sheet->sunlight, bearing);
}

/* ---- the proposal --------------------------------------------------------------------------- */

static void add_length(struct cy_text *out, const struct cy_sheet *sheet, double metres,
                       int decimals)
{
    cy_quantity_show(out, metres, CY_Q_LENGTH, NULL, cy_farm_system(&sheet->plan->farm), decimals);
}

static void add_given(struct cy_text *out, const struct cy_sheet *sheet, const char *name,
                      const struct cy_given *value)
{
    cy_text_add(out, "  ");
    cy_text_add(out, name);
    cy_text_pad(out, 0, 24);
    add_length(out, sheet, value->number, 1);
    cy_say_behind(out, value->basis);
}

static void add_asked(struct cy_sheet *out)
{
    const struct cy_rowplan_site *site = &out->field;
    const struct {
        const char *name;
        const struct cy_given *value;
    } asked[] = {{"from row to row", &site->spacing},
                 {"headland at each end", &site->headland},
                 {"shortest row", &site->shortest},
                 {"from plant to plant", &site->plant_spacing},
                 {"from post to post", &site->post_spacing}};
    struct cy_text text = {0};
    cy_text_add(&text, "  rows run");
    cy_text_pad(&text, 0, 24);
    cy_text_add_fixed(&text, site->bearing.number, 0);
    cy_text_add(&text, " deg from north by east [");
    cy_say_basis(&text, site->bearing.basis);
    cy_text_add(&text, "]");
    cy_sheet_add(out, CY_SHEET_TEXT, cy_text_get(&text));
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++) {
        cy_text_clear(&text);
        add_given(&text, out, asked[i].name, asked[i].value);
        cy_sheet_add(out, CY_SHEET_TEXT, cy_text_get(&text));
    }
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_total(struct cy_sheet *out, const struct cy_rowplan *layout)
{
    enum cy_system system = cy_farm_system(&out->plan->farm);
    struct cy_text text = {0};
    cy_text_add_int(&text, (long long)layout->row_count);
    cy_text_add(&text, layout->row_count == 1 ? " row, " : " rows, ");
    add_length(&text, out, layout->length_m, 0);
    cy_text_add(&text, " in all, on ");
    cy_quantity_show(&text, layout->area_m2, CY_Q_AREA, NULL, system, 2);
    cy_text_add(&text, ": ");
    cy_text_add_fixed(&text, floor(layout->plants), 0);
    cy_text_add(&text, " plants, ");
    cy_text_add_int(&text, layout->line_posts);
    cy_text_add(&text, " line posts, ");
    cy_text_add_int(&text, layout->end_posts);
    cy_text_add(&text, " end posts [");
    cy_say_basis(&text, out->field.basis);
    cy_text_add(&text, "].");
    double stands_m = 0;
    size_t stand = out->sunlight.row_count;
    for (size_t i = 0; i < stand; i++)
        stands_m += out->sunlight.rows[i].length_m;
    if (stand > 0) {
        cy_text_add(&text, stand == 1 ? " The farm's row: " : " The farm's rows: ");
        cy_text_add_int(&text, (long long)stand);
        cy_text_add(&text, ", ");
        add_length(&text, out, stands_m, 0);
        cy_text_add(&text, " in all.");
    }
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why, 0, -1);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_row(struct cy_sheet *out, const struct cy_rowplan *layout, size_t index)
{
    const struct cy_rowplan_row *row = &layout->rows[index];
    struct cy_text text = {0};
    cy_text_add(&text, "  ");
    cy_text_add_int(&text, (long long)index + 1);
    cy_text_pad(&text, 0, 7);
    add_length(&text, out, row->from.x_m, 1);
    cy_text_pad(&text, 0, 18);
    add_length(&text, out, row->from.y_m, 1);
    cy_text_pad(&text, 0, 29);
    add_length(&text, out, row->length_m, 1);
    cy_text_pad(&text, 0, 40);
    cy_text_add_fixed(&text, floor(row->plants), 0);
    cy_text_pad(&text, 0, 49);
    cy_text_add_int(&text, row->line_posts);
    cy_text_add(&text, " + ");
    cy_text_add_int(&text, row->end_posts);
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why, 0, -1);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_table(struct cy_sheet *out, const struct cy_rowplan *layout)
{
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_sheet_add(out, CY_SHEET_HEADING,
                 "Row  x          y          length     plants   line + end posts");
    for (size_t i = 0; i < layout->row_count; i++)
        add_row(out, layout, i);
    if (layout->row_count == 0)
        cy_sheet_add(out, CY_SHEET_WARNING, "  no row as long as the shortest fits this way");
}

/* ---- every bearing -------------------------------------------------------------------------- */

static void add_choice(struct cy_sheet *out, const struct cy_rowplan_choice *choice, int item)
{
    struct cy_text text = {0};
    cy_text_add(&text, "  ");
    cy_text_add_fixed(&text, choice->bearing_deg, 0);
    cy_text_add(&text, " deg");
    cy_text_pad(&text, 0, 11);
    cy_text_add_int(&text, (long long)choice->rows);
    cy_text_pad(&text, 0, 17);
    add_length(&text, out, choice->length_m, 0);
    cy_text_pad(&text, 0, 27);
    cy_text_add_fixed(&text, floor(choice->plants), 0);
    cy_text_pad(&text, 0, 36);
    cy_text_add_int(&text, choice->posts);
    cy_text_pad(&text, 0, 43);
    cy_text_add_fixed(&text, choice->sun_h, 1);
    cy_text_add(&text, " h");
    if (!isnan(choice->fall_deg)) {
        cy_text_pad(&text, 0, 52);
        cy_text_add_fixed(&text, choice->fall_deg, 1);
        cy_text_add(&text, " deg");
    }
    cy_text_add(&text, item < 0 ? "  the site's" : "");
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why, 0, item);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

/* The site's own bearing is among the choices. */
static void say_best(struct cy_sheet *out, const struct cy_rowplan_choice *choices, size_t count)
{
    size_t longest = 0, sunniest = 0;
    struct cy_text text = {0};
    for (size_t i = 1; i < count; i++) {
        if (choices[i].length_m > choices[longest].length_m)
            longest = i;
        if (choices[i].sun_h > choices[sunniest].sun_h)
            sunniest = i;
    }
    cy_text_add(&text, "  most length of row at ");
    cy_text_add_fixed(&text, choices[longest].bearing_deg, 0);
    cy_text_add(&text, " deg, most sun at ");
    cy_text_add_fixed(&text, choices[sunniest].bearing_deg, 0);
    cy_text_add(&text, " deg; rows that run north and south light both their faces alike");
    cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static int add_choices(struct cy_sheet *out)
{
    struct cy_rowplan_choice choices[1 + CY_ROWPLAN_BEARINGS];
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_sheet_add(out, CY_SHEET_HEADING,
                 isnan(cy_rowplan_fall_deg(out->field.slope.number, out->field.aspect.number, 0))
                     ? "Bearing    rows  in all    plants   posts  sun a day"
                     : "Bearing    rows  in all    plants   posts  sun      fall along");
    for (int i = -1; i < CY_ROWPLAN_BEARINGS; i++) {
        double bearing_deg = i < 0 ? out->field.bearing.number : i * CY_ROWPLAN_TURN_DEG;
        struct cy_rowplan_choice *choice = &choices[1 + i];
        int status = cy_rowplan_choose(choice, &out->field, &out->sunlight, bearing_deg);
        if (status != CY_OK)
            return status;
        add_choice(out, choice, i < 0 ? -1 : i * CY_ROWPLAN_TURN_DEG);
    }
    say_best(out, choices, sizeof choices / sizeof *choices);
    return CY_OK;
}

/* ---- steep ground --------------------------------------------------------------------------- */

static bool why_fall(struct cy_trace *trace, const struct cy_sheet *sheet,
                     const struct cy_sheet_line *line)
{
    (void)line;
    return cy_rowplan_why_fall(trace, &sheet->field, sheet->field.bearing.number);
}

static void add_slope(struct cy_sheet *out)
{
    const struct cy_rowplan_site *site = &out->field;
    double slope = site->slope.number, aspect = site->aspect.number;
    double along = cy_rowplan_fall_deg(slope, aspect, site->bearing.number);
    double across = cy_rowplan_fall_deg(slope, aspect + 90, site->bearing.number);
    struct cy_text text = {0};
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    if (isnan(along)) {
        cy_sheet_add(out, CY_SHEET_TEXT,
                     "The site's slope and aspect are not both given, so it is not known whether "
                     "rows would run up and down steep ground.");
        if (!(slope > CY_ROWPLAN_GENTLE_DEG))
            return;
    } else {
        cy_text_add(&text, "The ground falls ");
        cy_text_add_fixed(&text, slope, 1);
        cy_text_add(&text, " deg: ");
        cy_text_add_fixed(&text, along, 1);
        cy_text_add(&text, " along rows at the site's bearing, ");
        cy_text_add_fixed(&text, across, 1);
        cy_text_add(&text, " across them.");
        cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_fall, 0, 0);
        cy_text_clear(&text);
    }
    if (slope > CY_ROWPLAN_GENTLE_DEG)
        cy_text_add(&text,
                    "Steep: under 10 deg is asked for (Univ. of Kentucky), over 12 to 15 it is "
                    "a problem for equipment (NC State). Along rows that run up and down it "
                    "soil washes out, and across it a tractor can turn over [from memory]: ask "
                    "your conservation office before you plant.\n");
    else
        cy_text_add(&text, "Under 10 is asked for (Univ. of Kentucky).\n");
    cy_sheet_add_text(out, slope > CY_ROWPLAN_GENTLE_DEG ? CY_SHEET_CAUTION : CY_SHEET_TEXT, &text);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

int cy_sheet_layout(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    const struct cy_plan *plan = request->plan;
    struct cy_rowplan layout;
    cy_text_add(&out->title, "Rows proposed for the field");
    int status = cy_rowplan_site_of(&out->field, &plan->farm);
    if (status == CY_OK)
        status = cy_sunlight_of(&out->sunlight, &plan->farm, plan->latitude_deg, plan->season);
    if (status == CY_OK)
        status = cy_rowplan_make(&layout, &out->field.ask);
    if (status != CY_OK)
        return status;
    if (layout.state != CY_ROWPLAN_PROPOSED) {
        add_missing(out, layout.state);
        cy_rowplan_dispose(&layout);
        return CY_OK;
    }
    struct cy_text text = {0};
    add_total(out, &layout);
    add_asked(out);
    cy_say_field(&text, &out->field.ask, &layout, cy_farm_system(&plan->farm), request->width,
                 request->ascii);
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_sheet_add_text(out, CY_SHEET_PICTURE, &text);
    cy_text_dispose(&text);
    add_table(out, &layout);
    cy_rowplan_dispose(&layout);
    status = add_choices(out);
    add_slope(out);
    return status;
}
