/* SPDX-License-Identifier: MIT
 * The sheet of direct sun: on the field and at a row, what takes it, what would give more. */
#include <math.h>

#include "words/sheet.h"
#include "words/words.h"

#define WIDE 78     /* columns of a line of words */
#define TURN_DEG 15 /* from one bearing of the table to the next */
#define BAR_H 0.5   /* hours that a character of a bar stands for */

static const double times_moved[] = {1.5, 2, 3, 4};
#define TIMES ((int)(sizeof times_moved / sizeof *times_moved))

static void add_hours(struct cy_text *out, double hours)
{
    cy_text_add_fixed(out, hours, 1);
    cy_text_add(out, " h");
}

static void add_change(struct cy_text *out, double hours)
{
    double rounded = floor(fabs(hours) * 10 + 0.5) / 10;
    if (rounded == 0) {
        cy_text_add(out, "the same");
        return;
    }
    cy_text_add(out, hours > 0 ? "+" : "-");
    add_hours(out, rounded);
}

static const char *compass(double azimuth_deg)
{
    static const char *const names[] = {"north", "northeast", "east", "southeast",
                                        "south", "southwest", "west", "northwest"};
    return names[(int)floor(azimuth_deg / 45 + 0.5) % 8];
}

/* ---- why ------------------------------------------------------------------------------------ */

static size_t row_of(const struct cy_sheet *sheet, const struct cy_sheet_line *line)
{
    return line->row < sheet->sunlight.row_count ? line->row : CY_SUNLIGHT_FIELD;
}

static bool why_sun(struct cy_trace *trace, const struct cy_sheet *sheet,
                    const struct cy_sheet_line *line)
{
    size_t row = row_of(sheet, line);
    return row == CY_SUNLIGHT_FIELD ? cy_sunlight_why_field(trace, &sheet->sunlight)
                                    : cy_sunlight_why_row(trace, &sheet->sunlight, row);
}

static bool why_obstacle(struct cy_trace *trace, const struct cy_sheet *sheet,
                         const struct cy_sheet_line *line)
{
    return cy_sunlight_why_obstacle(trace, &sheet->sunlight, (size_t)line->item);
}

/* `item`: the bearing. */
static bool why_turned(struct cy_trace *trace, const struct cy_sheet *sheet,
                       const struct cy_sheet_line *line)
{
    return cy_sunlight_why_turned(trace, &sheet->sunlight, row_of(sheet, line), line->item);
}

/* `item`: the obstacle, and which of the distances. */
static bool why_moved(struct cy_trace *trace, const struct cy_sheet *sheet,
                      const struct cy_sheet_line *line)
{
    return cy_sunlight_why_moved(trace, &sheet->sunlight, (size_t)(line->item / TIMES),
                                 times_moved[line->item % TIMES], row_of(sheet, line));
}

/* ---- the season ----------------------------------------------------------------------------- */

/* The rule of 6 to 8 hours, for the season's mean. */
static enum cy_sheet_role say_rule(struct cy_text *out, double hours)
{
    cy_text_add(out, hours >= CY_SUNLIGHT_FULL_H     ? "at or over the 8 hours of full sun, by "
                     : hours >= CY_SUNLIGHT_ENOUGH_H ? "over the 6 hours asked for, by "
                                                     : "short of the 6 hours asked for, by ");
    double limit = hours >= CY_SUNLIGHT_FULL_H ? CY_SUNLIGHT_FULL_H : CY_SUNLIGHT_ENOUGH_H;
    add_hours(out, fabs(hours - limit));
    if (hours >= CY_SUNLIGHT_ENOUGH_H && hours < CY_SUNLIGHT_FULL_H) {
        cy_text_add(out, "; short of 8 by ");
        add_hours(out, CY_SUNLIGHT_FULL_H - hours);
    }
    return hours >= CY_SUNLIGHT_FULL_H     ? CY_SHEET_GOOD
           : hours >= CY_SUNLIGHT_ENOUGH_H ? CY_SHEET_TEXT
                                           : CY_SHEET_WARNING;
}

static void add_season(struct cy_sheet *out, size_t row)
{
    const struct cy_sunlight *sun = &out->sunlight;
    bool field = row == CY_SUNLIGHT_FIELD;
    double mean_h = field ? sun->mean_h : sun->rows[row].mean_h;
    const double *day_h = field ? sun->day_h : sun->rows[row].day_h;
    struct cy_text text = {0};
    cy_text_add(&text, field ? "On the open field: " : "At the row, half way up: ");
    add_hours(&text, mean_h);
    cy_text_add(&text, " a day, the season's mean");
    cy_say_behind(&text, field ? sun->basis : sun->rows[row].basis);
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_sun, row, 0);
    cy_text_clear(&text);
    cy_text_add(&text, "  ");
    enum cy_sheet_role role = say_rule(&text, mean_h);
    cy_say_behind(&text, CY_BASIS_MEMORY);
    cy_sheet_add_figure(out, role, cy_text_get(&text), why_sun, row, 0);
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        cy_text_clear(&text);
        cy_text_add(&text, "  ");
        cy_say_day(&text, sun->day[i], false);
        cy_text_pad(&text, 0, 10);
        add_hours(&text, day_h[i]);
        cy_text_pad(&text, 0, 18);
        for (double bar = BAR_H; bar <= day_h[i]; bar += BAR_H)
            cy_text_add_char(&text, '=');
        cy_sheet_add_figure(out, CY_SHEET_PICTURE, cy_text_get(&text), why_sun, row, 0);
    }
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_horizon(struct cy_sheet *out, size_t row, const struct cy_sheet_request *request)
{
    struct cy_text text = {0};
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_sheet_add(out, CY_SHEET_HEADING, "The horizon all round, altitude upwards, in degrees");
    cy_say_horizon(&text, &out->sunlight, row, request->width, request->ascii);
    cy_sheet_add_text(out, CY_SHEET_PICTURE, &text);
    cy_text_dispose(&text);
}

/* ---- what takes it -------------------------------------------------------------------------- */

static void add_obstacle(struct cy_sheet *out, size_t index, bool ascii)
{
    const struct cy_sunlight_obstacle *obstacle = &out->sunlight.obstacles[index];
    enum cy_system system = cy_farm_system(&out->plan->farm);
    struct cy_text text = {0};
    cy_text_add(&text, "  ");
    cy_say_clean(&text, obstacle->key, ascii);
    cy_text_add(&text, ", ");
    cy_text_add_fixed(&text, out->sunlight.bands[index].altitude_deg, 0);
    cy_text_add(&text, " deg high");
    if (!obstacle->altitude.known) {
        cy_text_add(&text, ", ");
        cy_quantity_show(&text, obstacle->distance.number, CY_Q_LENGTH, NULL, system, 0);
        cy_text_add(&text, " off");
    }
    cy_text_add(&text, ": hides it ");
    add_hours(&text, obstacle->hides_h);
    cy_text_add(&text, " a day; without it ");
    add_change(&text, obstacle->alone_h);
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_obstacle, CY_SUNLIGHT_FIELD,
                        (int)index);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_neighbour(struct cy_sheet *out, size_t row, int face, bool ascii)
{
    const struct cy_sunlight_row *one = &out->sunlight.rows[row];
    const struct cy_neighbour *next = &one->next[face];
    enum cy_system system = cy_farm_system(&out->plan->farm);
    struct cy_text text = {0};
    cy_text_add(&text, "    ");
    cy_text_add(&text, compass(cy_obstacle_face_azimuth(one->bearing.number, face)));
    cy_text_add(&text, ": ");
    if (next->height_m > 0) {
        if (one->placed)
            cy_say_clean(&text, one->next_name[face], ascii);
        else
            cy_text_add(&text, "taken as high as this one");
        cy_text_add(&text, ", ");
        cy_quantity_show(&text, next->height_m, CY_Q_LENGTH, NULL, system, 1);
        cy_text_add(&text, " high, ");
        cy_quantity_show(&text, next->distance_m, CY_Q_LENGTH, NULL, system, 1);
        cy_text_add(&text, " off");
    } else {
        cy_text_add(&text, "no row that hides any");
    }
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_sun, row, 0);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_neighbours(struct cy_sheet *out, size_t row, bool ascii)
{
    struct cy_text text = {0};
    cy_text_add(&text, "  the next rows: take ");
    add_hours(&text, out->sunlight.mean_h - out->sunlight.rows[row].mean_h);
    cy_text_add(&text, " more");
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_sun, row, 0);
    for (int face = 0; face < CY_FACE_COUNT; face++)
        add_neighbour(out, row, face, ascii);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_takers(struct cy_sheet *out, size_t row, bool ascii)
{
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_sheet_add(out, CY_SHEET_HEADING, "What takes it");
    struct cy_text text = {0};
    cy_text_add(&text, "  On the field, over a level horizon with nothing around: ");
    add_hours(&text, out->sunlight.level_h);
    cy_text_add(&text, " a day.");
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_sun, CY_SUNLIGHT_FIELD, 0);
    cy_text_dispose(&text);
    for (size_t i = 0; i < out->sunlight.obstacle_count; i++)
        add_obstacle(out, i, ascii);
    if (out->sunlight.obstacle_count == 0)
        cy_sheet_add(out, CY_SHEET_TEXT,
                     "  No obstacle is described, so an open sky is taken [placeholder]. Give "
                     "the site its obstacles: from, to, and altitude or height and distance.");
    if (row != CY_SUNLIGHT_FIELD)
        add_neighbours(out, row, ascii);
}

/* ---- rows ----------------------------------------------------------------------------------- */

/* Rows with one sun in one figure, their names wrapped below one another. */
static void add_alike(struct cy_sheet *out, size_t first, bool ascii)
{
    const struct cy_sunlight *sun = &out->sunlight;
    struct cy_text text = {0}, name = {0};
    enum { INDENT = 25 };
    cy_text_add(&text, "  ");
    add_hours(&text, sun->rows[first].mean_h);
    cy_say_behind(&text, sun->rows[first].basis);
    cy_text_add_char(&text, ' ');
    cy_text_pad(&text, 0, INDENT);
    bool begun = false;
    for (size_t i = first; i < sun->row_count; i++) {
        if (sun->rows[i].alike != first)
            continue;
        cy_text_clear(&name);
        cy_text_add(&name, begun ? ", " : "");
        cy_say_clean(&name, sun->rows[i].name, ascii);
        if (cy_utf8_columns(cy_text_get(&text)) + cy_utf8_columns(cy_text_get(&name)) > WIDE) {
            cy_text_add(&text, begun ? "," : "");
            cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_sun, first, 0);
            cy_text_clear(&text);
            cy_text_pad(&text, 0, INDENT);
            cy_text_clear(&name);
            cy_say_clean(&name, sun->rows[i].name, ascii);
        }
        cy_text_add(&text, cy_text_get(&name));
        begun = true;
    }
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_sun, first, 0);
    out->failed = out->failed || text.failed || name.failed;
    cy_text_dispose(&text);
    cy_text_dispose(&name);
}

static void add_rows(struct cy_sheet *out, bool ascii)
{
    if (out->sunlight.row_count == 0)
        return;
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_sheet_add(out, CY_SHEET_HEADING, "At the rows, half way up, between their neighbours");
    for (size_t i = 0; i < out->sunlight.row_count; i++)
        if (out->sunlight.rows[i].alike == i)
            add_alike(out, i, ascii);
}

static void say_faces(struct cy_text *out, const double face_h[CY_FACE_COUNT], double bearing_deg)
{
    for (int face = 0; face < CY_FACE_COUNT; face++) {
        cy_text_add(out, face ? ", " : "");
        cy_text_add(out, compass(cy_obstacle_face_azimuth(bearing_deg, face)));
        cy_text_add(out, " face ");
        add_hours(out, face_h[face]);
    }
}

/* ---- what would give more ------------------------------------------------------------------- */

static void add_turned(struct cy_sheet *out, size_t row, int bearing_deg)
{
    const struct cy_sunlight *sun = &out->sunlight;
    bool farm = row == CY_SUNLIGHT_FIELD;
    struct cy_hedge_sun turned = {0};
    double now_h = farm ? cy_sunlight_farm(sun, NAN) : sun->rows[row].mean_h;
    if (farm)
        turned.hours = cy_sunlight_farm(sun, bearing_deg);
    else
        cy_sunlight_turn(&turned, sun, row, bearing_deg);
    struct cy_text text = {0};
    cy_text_add(&text, "  ");
    cy_text_add_int(&text, bearing_deg);
    cy_text_add(&text, " deg");
    cy_text_pad(&text, 0, 11);
    cy_text_add(&text, bearing_deg == 0 ? "N-S" : bearing_deg == 90 ? "E-W" : "");
    cy_text_pad(&text, 0, 16);
    add_hours(&text, turned.hours);
    cy_text_pad(&text, 0, 24);
    add_change(&text, turned.hours - now_h);
    if (!farm) {
        cy_text_pad(&text, 0, 34);
        say_faces(&text, turned.face_h, bearing_deg);
    }
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_turned, row, bearing_deg);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_turns(struct cy_sheet *out, size_t row)
{
    if (out->sunlight.row_count == 0)
        return;
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_sheet_add(out, CY_SHEET_HEADING,
                 row == CY_SUNLIGHT_FIELD ? "If all rows were turned: the mean by their lengths"
                                          : "If the row and its neighbours were turned");
    struct cy_text text = {0};
    cy_text_add(&text, "  as it stands  ");
    add_hours(&text, row == CY_SUNLIGHT_FIELD ? cy_sunlight_farm(&out->sunlight, NAN)
                                              : out->sunlight.rows[row].mean_h);
    if (row != CY_SUNLIGHT_FIELD) {
        cy_text_pad(&text, 0, 34);
        say_faces(&text, out->sunlight.rows[row].face_h, out->sunlight.rows[row].bearing.number);
    }
    cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_sun, row, 0);
    out->failed = out->failed || text.failed;
    cy_text_dispose(&text);
    for (int bearing = 0; bearing < 180; bearing += TURN_DEG)
        add_turned(out, row, bearing);
}

static void add_moves(struct cy_sheet *out, size_t row, bool ascii)
{
    const struct cy_sunlight *sun = &out->sunlight;
    enum cy_system system = cy_farm_system(&out->plan->farm);
    double now_h = row == CY_SUNLIGHT_FIELD ? sun->mean_h : sun->rows[row].mean_h;
    for (size_t i = 0; i < sun->obstacle_count; i++) {
        struct cy_text text = {0};
        if (!cy_sunlight_can_move(sun, i))
            continue;
        cy_text_add(&text, row == CY_SUNLIGHT_FIELD ? "If the field stood further from "
                                                    : "If the row stood further from ");
        cy_say_clean(&text, sun->obstacles[i].key, ascii);
        cy_sheet_add(out, CY_SHEET_TEXT, "");
        cy_sheet_add(out, CY_SHEET_HEADING, cy_text_get(&text));
        for (int k = 0; k < TIMES; k++) {
            double hours = cy_sunlight_moved(sun, i, times_moved[k], row);
            cy_text_clear(&text);
            cy_text_add(&text, "  ");
            cy_text_add_number(&text, times_moved[k]);
            cy_text_add(&text, " times, ");
            cy_quantity_show(&text, times_moved[k] * sun->obstacles[i].distance.number, CY_Q_LENGTH,
                             NULL, system, 0);
            cy_text_pad(&text, 0, 24);
            add_hours(&text, hours);
            cy_text_pad(&text, 0, 34);
            add_change(&text, hours - now_h);
            cy_sheet_add_figure(out, CY_SHEET_TEXT, cy_text_get(&text), why_moved, row,
                                (int)i * TIMES + k);
        }
        out->failed = out->failed || text.failed;
        cy_text_dispose(&text);
    }
}

int cy_sheet_sun(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    const struct cy_plan *plan = request->plan;
    int status = cy_sunlight_of(&out->sunlight, &plan->farm, plan->latitude_deg, plan->season);
    if (status != CY_OK)
        return status;
    size_t row = request->whole_farm || request->row >= out->sunlight.row_count ? CY_SUNLIGHT_FIELD
                                                                                : request->row;
    cy_text_add(&out->title, "Direct sun ");
    if (row == CY_SUNLIGHT_FIELD)
        cy_text_add(&out->title, "on the field");
    else {
        cy_text_add(&out->title, "at ");
        cy_say_clean(&out->title, out->sunlight.rows[row].name, request->ascii);
    }
    cy_text_add(&out->title, ", season ");
    cy_text_add_int(&out->title, plan->season);
    add_season(out, row);
    add_horizon(out, row, request);
    add_takers(out, row, request->ascii);
    if (row == CY_SUNLIGHT_FIELD)
        add_rows(out, request->ascii);
    add_turns(out, row);
    add_moves(out, row, request->ascii);
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    cy_sheet_add(out, CY_SHEET_TEXT,
                 "Clouds and the slope are left out; all rows see the obstacles from one point.");
    return CY_OK;
}
