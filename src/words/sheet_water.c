/* SPDX-License-Identifier: MIT
 * The sheet of water: of a row its soil store through the season, what it needs and its drip line;
 * of the farm its zones, their turns and their source. */
#include <math.h>
#include <string.h>

#include <caneyear/season/water.h>

#include "words/sheet.h"
#include "words/words.h"

/* Weeks that a table looks ahead. */
enum { AHEAD = 10 };

struct page {
    struct cy_sheet *sheet;
    const struct cy_sheet_request *request;
    const struct cy_plan *plan;
    const struct cy_water_plan *water;
    enum cy_system system;
    int week; /* that it looks at */
};

/* ---- figures and their why ------------------------------------------------------------------ */

enum { WEEKS_TO_ITEM = 64 };

static bool why_water(struct cy_trace *trace, const struct cy_sheet *sheet,
                      const struct cy_sheet_line *line)
{
    return cy_plan_why_water(trace, sheet->plan, (enum cy_water_item)(line->item / WEEKS_TO_ITEM),
                             line->row, line->item % WEEKS_TO_ITEM);
}

static void add_figure(struct page *page, struct cy_text *text, enum cy_sheet_role role,
                       enum cy_water_item item, size_t which, int week)
{
    cy_sheet_add_figure(page->sheet, role, cy_text_get(text), why_water, which,
                        (int)item * WEEKS_TO_ITEM + week);
    page->sheet->failed = page->sheet->failed || text->failed;
    cy_text_clear(text);
}

static void add_line(struct page *page, struct cy_text *text, enum cy_sheet_role role)
{
    cy_sheet_add(page->sheet, role, cy_text_get(text));
    page->sheet->failed = page->sheet->failed || text->failed;
    cy_text_clear(text);
}

static void add(struct page *page, enum cy_sheet_role role, const char *words)
{
    cy_sheet_add(page->sheet, role, words);
}

static void add_heading(struct page *page, const char *words)
{
    add(page, CY_SHEET_TEXT, "");
    add(page, CY_SHEET_HEADING, words);
}

/* How a figure of each kind is shown: a depth, a volume from litres, hours. */
struct shown {
    enum cy_quantity quantity;
    double factor; /* to the inside unit */
    int us_decimals, metric_decimals;
};
static const struct shown a_depth = {CY_Q_DEPTH_OF_WATER, 1, 2, 0};
static const struct shown a_volume = {CY_Q_VOLUME, 0.001, 0, 0};
static const struct shown a_time = {CY_Q_HOURS, 1, 1, 1};

static void say(struct cy_text *out, double value, const struct shown *as, enum cy_system system)
{
    cy_quantity_show(out, value * as->factor, as->quantity, NULL, system,
                     system == CY_US ? as->us_decimals : as->metric_decimals);
}

/* Without its unit, behind one that has it. */
static void say_bare(struct cy_text *out, double value, const struct shown *as,
                     enum cy_system system)
{
    cy_text_add_fixed(
        out,
        cy_quantity_in(value * as->factor, as->quantity, cy_quantity_unit(as->quantity, system)),
        system == CY_US ? as->us_decimals : as->metric_decimals);
}

/* "0.79 in (0.00 to 1.46)" */
static void say_range(struct cy_text *out, const struct cy_figure *figure, double factor,
                      const struct shown *as, enum cy_system system)
{
    say(out, figure->p50 * factor, as, system);
    cy_text_add(out, " (");
    say_bare(out, figure->p10 * factor, as, system);
    cy_text_add(out, " to ");
    say_bare(out, figure->p90 * factor, as, system);
    cy_text_add(out, ")");
}

/* ---- the picture ---------------------------------------------------------------------------- */

enum { AXIS = 10, STORE_LINES = 9, LEVELS = 8 };

static const char *const blocks[LEVELS + 1] = {" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
static const char *const stripes[LEVELS + 1] = {" ", ".", ".", ":", ":", "+", "+", "#", "#"};

struct picture {
    const struct cy_water_row *row;
    int weeks, columns;
    bool ascii;
};

/* What a column of the picture stands for, in weeks from the season's first. */
static double place(const struct picture *picture, int column)
{
    return (column + 0.5) * picture->weeks / picture->columns - 0.5;
}

/* A depletion between the evenings of two Sundays; NaN where the row does not stand yet. */
static double depletion_at(const struct picture *picture, int column, bool wetter)
{
    double at = place(picture, column);
    int left = at < 0 ? 0 : (int)floor(at), right = left + 1;
    right = right < picture->weeks ? right : picture->weeks - 1;
    const struct cy_water_row_week *a = &picture->row->weeks[left];
    const struct cy_water_row_week *b = &picture->row->weeks[right];
    double share = fmin(1, fmax(0, at - left));
    double from = wetter ? a->depletion_mm.p10 : a->depletion_mm.p50;
    double to = wetter ? b->depletion_mm.p10 : b->depletion_mm.p50;
    return a->monday + 6 < picture->row->stages.from ? NAN : from + share * (to - from);
}

/* One cell: what fills it up to `level` of it, 0 to 1. */
static const char *cell(const struct picture *picture, double level)
{
    int eighths = (int)floor(fmin(1, fmax(0, level)) * LEVELS + 0.5);
    return picture->ascii ? (eighths >= LEVELS / 2 ? "#" : " ") : blocks[eighths];
}

static void draw_store_line(struct cy_text *out, const struct picture *picture, int line,
                            enum cy_system system)
{
    const double taw_mm = picture->row->taw_mm, each_mm = taw_mm / STORE_LINES;
    const double below_mm = each_mm * (STORE_LINES - 1 - line);
    const double edge_mm = taw_mm - picture->row->raw_mm;
    bool edge = edge_mm >= below_mm && edge_mm < below_mm + each_mm;
    size_t start = out->length;
    if (line == 0)
        say(out, taw_mm, &a_depth, system);
    else if (edge)
        say(out, edge_mm, &a_depth, system);
    else if (line == STORE_LINES - 1)
        say(out, 0, &a_depth, system);
    cy_text_pad(out, start, AXIS - 2);
    cy_text_add(out, picture->ascii ? "|" : edge ? "┼" : "│");
    for (int column = 0; column < picture->columns; column++) {
        double store_mm = taw_mm - depletion_at(picture, column, false);
        double wetter_mm = taw_mm - depletion_at(picture, column, true);
        const char *filled = cell(picture, (store_mm - below_mm) / each_mm);
        if (isnan(store_mm))
            cy_text_add(out, " ");
        else if (*filled != ' ')
            cy_text_add(out, filled);
        else if (wetter_mm >= below_mm + each_mm / 2)
            cy_text_add(out, picture->ascii ? ":" : "░");
        else
            cy_text_add(out, edge ? (picture->ascii ? "-" : "╌") : " ");
    }
}

static double rain_of(const struct cy_water_row_week *week)
{
    return week->rain_mm;
}

static double given_of(const struct cy_water_row_week *week)
{
    return week->given_mm + week->planned_mm;
}

static double most_of(const struct picture *picture)
{
    double most = 0;
    for (int i = 0; i < picture->weeks; i++)
        most =
            fmax(most, fmax(rain_of(&picture->row->weeks[i]), given_of(&picture->row->weeks[i])));
    return most;
}

static void draw_bars(struct cy_text *out, const struct picture *picture, const char *label,
                      double (*of)(const struct cy_water_row_week *))
{
    size_t start = out->length;
    double most = most_of(picture);
    cy_text_add(out, label);
    cy_text_pad(out, start, AXIS - 2);
    cy_text_add(out, picture->ascii ? "|" : "│");
    for (int column = 0; column < picture->columns; column++) {
        double at = place(picture, column) + 0.5;
        const struct cy_water_row_week *week = &picture->row->weeks[(int)floor(at)];
        int level = most > 0 ? (int)ceil(of(week) / most * LEVELS - 0.05) : 0;
        cy_text_add(out, (picture->ascii ? stripes : blocks)[level < 0 ? 0 : level]);
    }
}

/* The first letters of the months below their first days. */
static void draw_months(struct cy_text *out, const struct picture *picture)
{
    int last = 0;
    size_t free_from = 0, start = out->length;
    cy_text_pad(out, start, AXIS - 1);
    for (int column = 0; column < picture->columns; column++) {
        int week = (int)floor(place(picture, column) + 0.5);
        struct cy_date date = cy_day_date(picture->row->weeks[week].monday + 6);
        if (date.month == last || (size_t)column < free_from)
            continue;
        struct cy_text name = {0};
        last = date.month;
        cy_say_day(&name, picture->row->weeks[week].monday + 6, false);
        const char *month = strchr(cy_text_get(&name), ' ');
        cy_text_pad(out, start, AXIS - 1 + (size_t)column);
        if (month && column + 3 <= picture->columns)
            cy_text_add(out, month + 1);
        free_from = (size_t)column + 4;
        cy_text_dispose(&name);
    }
}

/* The day below its column, its name on the side that has room. */
static void draw_day(struct cy_text *out, const struct picture *picture, cy_day day)
{
    size_t start = out->length;
    int column = (int)((double)(day - picture->row->weeks[0].monday) / 7 * picture->columns /
                       picture->weeks);
    struct cy_text name = {0};
    cy_say_day(&name, day, false);
    column = column < picture->columns ? column : picture->columns - 1;
    bool left = column + 2 + (int)name.length > picture->columns;
    int at = AXIS - 1 + column - (left ? (int)name.length + 1 : 0);
    cy_text_pad(out, start, (size_t)(at > 0 ? at : 0));
    cy_text_add(out, left ? cy_text_get(&name) : "^ ");
    cy_text_add(out, left ? " ^" : cy_text_get(&name));
    cy_text_dispose(&name);
}

static void add_picture(struct page *page, const struct cy_water_row *row)
{
    struct picture picture = {
        .row = row, .weeks = page->water->week_count, .ascii = page->request->ascii};
    int room = page->request->width - AXIS;
    room = room < 20 ? 20 : room;
    picture.columns = room < picture.weeks ? room : room / picture.weeks * picture.weeks;
    struct cy_text line = {0};
    add_heading(page, "What the soil holds through the season");
    for (int i = 0; i < STORE_LINES; i++) {
        draw_store_line(&line, &picture, i, page->system);
        add_line(page, &line, CY_SHEET_PICTURE);
    }
    draw_bars(&line, &picture, "rain", rain_of);
    add_line(page, &line, CY_SHEET_PICTURE);
    draw_bars(&line, &picture, "given", given_of);
    add_line(page, &line, CY_SHEET_PICTURE);
    draw_months(&line, &picture);
    add_line(page, &line, CY_SHEET_PICTURE);
    if (page->week >= 0) {
        draw_day(&line, &picture, page->request->day);
        add_line(page, &line, CY_SHEET_PICTURE);
    }
    cy_text_dispose(&line);
    line = (struct cy_text){0};
    cy_text_add(&line, picture.ascii ? "#" : "█");
    cy_text_add(&line, " the middle year, ");
    cy_text_add(&line, picture.ascii ? ":" : "░");
    cy_text_add(&line, " one year in ten holds as much. Below the dashes growth "
                       "suffers. Bars: means of the week, the tallest ");
    say(&line, most_of(&picture), &a_depth, page->system);
    cy_text_add(&line, "; given is what was written down, and ahead what the balance asks for.");
    add_line(page, &line, CY_SHEET_TEXT);
    cy_text_dispose(&line);
}

/* ---- a row ---------------------------------------------------------------------------------- */

static void add_soil(struct page *page, const struct cy_water_row *row)
{
    const struct cy_thing *site = cy_farm_one(&page->plan->farm, CY_KIND_SITE);
    struct cy_text line = {0};
    cy_text_add(&line, "The strip's ");
    cy_text_add(&line, cy_field_info(CY_SITE_SOIL)->choices[cy_choice(site, CY_SITE_SOIL)]);
    cy_text_add(&line, " holds ");
    say(&line, row->taw_mm, &a_depth, page->system);
    cy_text_add(&line, " for roots ");
    cy_quantity_show(&line, row->roots_m, CY_Q_LENGTH, NULL, page->system, 1);
    cy_text_add(&line, " deep; ");
    say(&line, row->raw_mm, &a_depth, page->system);
    cy_text_add(&line, " of it is drawn without harm");
    if (isnan(row->today_mm.p50)) {
        cy_text_add_char(&line, '.');
        add_line(page, &line, CY_SHEET_TEXT);
    } else {
        cy_text_add_char(&line, '.');
        add_line(page, &line, CY_SHEET_TEXT);
        cy_text_add(&line, "On the evening of ");
        cy_say_day(&line, page->plan->today, false);
        cy_text_add(&line, " it lacks ");
        say_range(&line, &row->today_mm, 1, &a_depth, page->system);
        cy_say_behind(&line, row->today_mm.basis);
        cy_text_add_char(&line, '.');
        add_figure(page, &line,
                   row->today_mm.p50 > row->today_kept_mm ? CY_SHEET_WARNING : CY_SHEET_TEXT,
                   CY_WATER_WHY_TODAY, row->row, 0);
    }
    if (row->rain_notes + row->given_notes == 0) {
        add(page, CY_SHEET_TEXT,
            "No rain of a gauge and no water given is written down. On days that a station "
            "observed none counts as given: note what you give. Where none did, the plan's "
            "watering counts.");
    } else {
        cy_text_add_int(&line, row->rain_notes);
        cy_text_add(&line, row->rain_notes == 1 ? " day" : " days");
        cy_text_add(&line, " with rain by the gauge and ");
        cy_text_add_int(&line, row->given_notes);
        cy_text_add(&line, row->given_notes == 1 ? " note" : " notes");
        cy_text_add(&line, " of water given count here.");
        add_line(page, &line, CY_SHEET_TEXT);
    }
    cy_text_dispose(&line);
}

/* What brings on its watering jobs. */
static void add_rule(struct page *page, const struct cy_water_row *row)
{
    static const char *const words[] = {
        "The balance brings on its watering: its zone's rule.",
        "An inch a week brings on its watering in this first year: its zone's rule.",
        "An inch a week brings on its watering in this first year: it is on no zone that "
        "says otherwise.",
        "Nothing brings on its watering: its zone's rule, an inch a week, is for rows in "
        "their first year. Set the zone's rule to balance for jobs here.",
        "Nothing brings on its watering: it is on no zone. On one whose rule is the "
        "balance it has watering jobs.",
    };
    bool zoned = row->zone < page->water->zone_count;
    int which = row->rule == CY_WATER_RULE_BALANCE ? 0 : (row->first_year ? 1 : 3) + !zoned;
    add(page, CY_SHEET_TEXT, words[which]);
}

static void add_need_line(struct page *page, const struct cy_water_row *row, int week,
                          enum cy_water_item item)
{
    const struct cy_figure *figure =
        item == CY_WATER_WHY_INCH ? &row->weeks[week].inch_mm : &row->weeks[week].need_mm;
    struct cy_text line = {0};
    cy_text_add(&line, "  ");
    cy_say_day(&line, row->weeks[week].monday, false);
    cy_text_pad(&line, 0, 10);
    if (row->first_year)
        cy_text_add(&line, item == CY_WATER_WHY_INCH ? "an inch  " : "balance  ");
    size_t start = line.length;
    say_range(&line, figure, 1, &a_depth, page->system);
    cy_text_pad(&line, start, 31);
    say_range(&line, figure, row->strip_m2, &a_volume, page->system);
    add_figure(page, &line, CY_SHEET_TEXT, item, row->row, week);
    cy_text_dispose(&line);
}

static void add_weeks(struct page *page, const struct cy_water_row *row)
{
    int from = page->week < 0 ? 0 : page->week;
    struct cy_text line = {0};
    cy_text_add(&line, "To be given over its strip, week by week");
    cy_say_behind(&line, row->basis);
    add_heading(page, cy_text_get(&line));
    cy_text_dispose(&line);
    for (int week = from; week < from + AHEAD && week < page->water->week_count; week++) {
        add_need_line(page, row, week, CY_WATER_WHY_NEED);
        if (row->first_year)
            add_need_line(page, row, week, CY_WATER_WHY_INCH);
    }
    line = (struct cy_text){0};
    cy_text_add(&line, "Season by the balance: ");
    say_range(&line, &row->season_mm, 1, &a_depth, page->system);
    cy_text_add(&line, ", ");
    say_range(&line, &row->season_mm, row->strip_m2, &a_volume, page->system);
    cy_text_add_char(&line, '.');
    add_figure(page, &line, CY_SHEET_TEXT, CY_WATER_WHY_SEASON, row->row, 0);
    cy_text_dispose(&line);
}

static void add_line_verdict(struct page *page, const struct cy_water_row_line *line, size_t row)
{
    struct cy_text text = {0};
    cy_text_add(&text, "Flow varies by ");
    cy_quantity_show(&text, line->result.variation, CY_Q_SHARE, "%", page->system, 1);
    cy_text_add(&text, " along it; the longest line within ");
    cy_quantity_show(&text, line->variation, CY_Q_SHARE, "%", page->system, 0);
    cy_text_add(&text, " is ");
    cy_text_add(&text, line->longest_is_more ? "over " : "");
    cy_quantity_show(&text, line->longest_m, CY_Q_LENGTH, NULL, page->system, 0);
    cy_text_add_char(&text, '.');
    add_figure(page, &text, line->fits ? CY_SHEET_TEXT : CY_SHEET_WARNING, CY_WATER_WHY_LINE, row,
               0);
    if (line->result.dry > 0) {
        cy_text_add_int(&text, line->result.dry);
        cy_text_add(&text, " emitters at its far end get no water.");
        add_figure(page, &text, CY_SHEET_WARNING, CY_WATER_WHY_LINE, row, 0);
    } else if (!line->fits) {
        add(page, CY_SHEET_WARNING,
            "Feed it from its middle, shorten it, or take a wider line or emitters that hold "
            "their flow.");
    }
    cy_text_dispose(&text);
}

static void add_drip(struct page *page, const struct cy_water_row *row)
{
    struct cy_water_row_line line;
    struct cy_text text = {0};
    add_heading(page, "Its drip line");
    if (cy_water_row_line(&line, page->plan, row->row) != CY_OK) {
        add(page, CY_SHEET_TEXT,
            "Not known: give its zone an emitter, emitter_spacing, bore and pressure.");
        return;
    }
    cy_text_add_int(&text, line.line.emitters);
    cy_text_add(&text, " emitters over ");
    cy_quantity_show(&text, line.length_m, CY_Q_LENGTH, NULL, page->system, 0);
    cy_text_add(&text, ", ");
    cy_quantity_show(&text, line.result.flow_total_lph, CY_Q_FLOW, NULL, page->system, 1);
    cy_text_add(&text, fabs(line.line.slope) < 5e-4 ? ", level"
                       : line.line.slope > 0        ? ", rising "
                                                    : ", falling ");
    if (fabs(line.line.slope) >= 5e-4) {
        cy_quantity_show(&text, fabs(line.line.slope), CY_Q_SHARE, "%", page->system, 1);
        cy_text_add(&text, " from its first post");
    }
    cy_text_add(&text, "; friction takes ");
    cy_quantity_show(&text, line.result.friction_m * 9806.65, CY_Q_PRESSURE, NULL, page->system, 2);
    cy_text_add(&text, " of ");
    cy_quantity_show(&text, line.line.head_m * 9806.65, CY_Q_PRESSURE, NULL, page->system, 1);
    cy_text_add(&text, ", ");
    cy_quantity_show(&text, line.result.head_end_m * 9806.65, CY_Q_PRESSURE, NULL, page->system, 1);
    cy_text_add(&text, " are left at its end.");
    add_figure(page, &text, CY_SHEET_TEXT, CY_WATER_WHY_LINE, row->row, 0);
    cy_text_add(&text, "Emission uniformity ");
    cy_text_add_fixed(&text, line.result.uniformity_pct, 0);
    cy_text_add(&text, " %");
    cy_say_behind(&text, line.basis);
    cy_text_add_char(&text, '.');
    add_figure(page, &text, CY_SHEET_TEXT, CY_WATER_WHY_LINE, row->row, 0);
    add_line_verdict(page, &line, row->row);
    cy_text_dispose(&text);
}

static void add_row(struct page *page, const struct cy_water_row *row)
{
    if (!row->waters) {
        add(page, CY_SHEET_TEXT, "It is not planted in this season: there is nothing to water.");
        return;
    }
    add_soil(page, row);
    add_rule(page, row);
    add_picture(page, row);
    add_weeks(page, row);
    add_drip(page, row);
}

/* ---- the farm ------------------------------------------------------------------------------- */

static void add_zone(struct page *page, size_t number, int week)
{
    const struct cy_water_zone *zone = &page->water->zones[number];
    const struct cy_water_source *source = &page->water->sources[zone->source];
    struct cy_text line = {0};
    cy_say_clean(&line, zone->name, page->request->ascii);
    cy_text_add(&line, ", ");
    cy_text_add_int(&line, (long long)zone->row_count);
    cy_text_add(&line, zone->row_count == 1 ? " row, " : " rows, ");
    cy_quantity_show(&line, zone->length_m, CY_Q_LENGTH, NULL, page->system, 0);
    if (!isnan(zone->flow_lph)) {
        cy_text_add(&line, ", ");
        cy_quantity_show(&line, zone->flow_lph, CY_Q_FLOW, NULL, page->system, 0);
        cy_text_add(&line, ", turn ");
        cy_text_add_int(&line, zone->turn);
        cy_text_add(&line, " of ");
        cy_text_add_int(&line, source->turns);
        if (zone->parts > 1) {
            cy_text_add(&line, " in ");
            cy_text_add_int(&line, zone->parts);
            cy_text_add(&line, " parts");
        }
    }
    add_line(page, &line, CY_SHEET_HEADING);
    cy_text_add(&line, "  its thirstiest row needs ");
    say_range(&line, &zone->weeks[week].need_mm, 1, &a_depth, page->system);
    cy_say_behind(&line, zone->basis);
    add_figure(page, &line, CY_SHEET_TEXT, CY_WATER_WHY_RUN, number, week);
    cy_text_add(&line, "  to pump: ");
    say_range(&line, &zone->weeks[week].litres, 1, &a_volume, page->system);
    if (!isnan(zone->flow_lph)) {
        cy_text_add(&line, "; to run: ");
        say_range(&line, &zone->weeks[week].hours, 1, &a_time, page->system);
    } else {
        cy_text_add(&line, "; no emitters known, no run time");
    }
    add_figure(page, &line, CY_SHEET_TEXT, CY_WATER_WHY_RUN, number, week);
    cy_text_dispose(&line);
}

static double flow_of(const struct cy_water_plan *water, size_t source)
{
    double sum = 0;
    for (size_t i = 0; i < water->zone_count; i++)
        if (water->zones[i].source == source && !isnan(water->zones[i].flow_lph))
            sum += water->zones[i].flow_lph;
    return sum;
}

static void add_turns(struct page *page, size_t number, int week)
{
    const struct cy_water_source *source = &page->water->sources[number];
    double hours = source->hours[week];
    struct cy_text line = {0};
    if (isnan(source->supply_lph)) {
        add(page, CY_SHEET_TEXT,
            "Nobody said what the source gives: all run at once, in one turn.");
    } else {
        cy_text_add(&line, "The source gives ");
        cy_quantity_show(&line, source->supply_lph, CY_Q_FLOW, NULL, page->system, 0);
        cy_text_add(&line, ", its zones ask for ");
        cy_quantity_show(&line, flow_of(page->water, number), CY_Q_FLOW, NULL, page->system, 0);
        cy_text_add(&line, source->turns > 1 ? ": they take turns." : ": all run at once.");
        add_line(page, &line, CY_SHEET_TEXT);
    }
    if (!isnan(hours)) {
        cy_text_add(&line, "In this week all turns take ");
        say(&line, hours, &a_time, page->system);
        cy_text_add(&line, " of the week's 168 in the middle year.");
        add_figure(page, &line, hours > 168 ? CY_SHEET_WARNING : CY_SHEET_TEXT, CY_WATER_WHY_TURNS,
                   number, week);
    }
    cy_text_dispose(&line);
}

static void add_season(struct page *page, size_t number)
{
    const struct cy_water_source *source = &page->water->sources[number];
    struct cy_text line = {0};
    cy_text_add(&line, "Season: ");
    say_range(&line, &source->season_l, 1, &a_volume, page->system);
    cy_text_add(&line, " to pump");
    cy_say_behind(&line, source->season_l.basis);
    cy_text_add_char(&line, '.');
    add_figure(page, &line, CY_SHEET_TEXT, CY_WATER_WHY_SOURCE, number, 0);
    if (isnan(source->season_limit_l)) {
        add(page, CY_SHEET_TEXT,
            "Nobody said what the source may give in a season (season_limit of a zone).");
    } else {
        cy_text_add(&line, "It may give ");
        say(&line, source->season_limit_l, &a_volume, page->system);
        cy_text_add(&line, ": the season asks for more ");
        cy_text_add(&line, source->short_share == 0 ? "in no weather of " : "in ");
        if (source->short_share > 0) {
            cy_text_add_fixed(&line, source->short_share * page->plan->members, 0);
            cy_text_add(&line, " of ");
        }
        cy_text_add_int(&line, page->plan->members);
        cy_text_add(&line, source->short_share > 0 ? " weathers." : ".");
        add_figure(page, &line, source->short_share > 0.1 ? CY_SHEET_WARNING : CY_SHEET_GOOD,
                   CY_WATER_WHY_SOURCE, number, 0);
    }
    cy_text_dispose(&line);
}

/* The hours of a source's zones, some to a table, and of all its turns. */
static void add_hours(struct page *page, size_t source, int from)
{
    enum { COLUMNS = 5, COLUMN = 11 };
    const struct cy_water_plan *water = page->water;
    struct cy_text line = {0};
    for (size_t zone = 0; zone < water->zone_count;) {
        size_t shown[COLUMNS], count = 0;
        for (; zone < water->zone_count && count < COLUMNS; zone++)
            if (water->zones[zone].source == source && !isnan(water->zones[zone].flow_lph))
                shown[count++] = zone;
        if (count == 0)
            continue;
        cy_text_add(&line, "  week of ");
        for (size_t i = 0; i < count; i++) {
            struct cy_text name = {0};
            cy_say_clean(&name, water->zones[shown[i]].key, page->request->ascii);
            cy_text_pad(&line, 0, 10 + COLUMN * i);
            cy_text_add_fit(&line, cy_text_get(&name), COLUMN - 1, "~");
            cy_text_dispose(&name);
        }
        cy_text_pad(&line, 0, 10 + COLUMN * count);
        cy_text_add(&line, "all turns");
        add_line(page, &line, CY_SHEET_PICTURE);
        for (int week = from; week < from + AHEAD && week < water->week_count; week++) {
            cy_text_add(&line, "  ");
            cy_say_day(&line, water->monday + 7 * week, false);
            for (size_t i = 0; i < count; i++) {
                cy_text_pad(&line, 0, 10 + COLUMN * i);
                say(&line, water->zones[shown[i]].weeks[week].hours.p50, &a_time, page->system);
            }
            cy_text_pad(&line, 0, 10 + COLUMN * count);
            say(&line, water->sources[source].hours[week], &a_time, page->system);
            add_figure(page, &line, CY_SHEET_PICTURE, CY_WATER_WHY_TURNS, source, week);
        }
    }
    cy_text_dispose(&line);
}

static bool brings_jobs(const struct cy_water_row *row)
{
    return row->rule == CY_WATER_RULE_BALANCE || row->first_year;
}

static void add_row_line(struct page *page, const struct cy_water_row *row, int week)
{
    if (!row->waters)
        return;
    const struct cy_figure *figure = cy_water_chosen(row, week);
    struct cy_text line = {0};
    bool inch = figure == &row->weeks[week].inch_mm;
    struct cy_text name = {0};
    cy_say_clean(&name, page->plan->rows[row->row].name, page->request->ascii);
    cy_text_add(&line, "  ");
    cy_text_add_fit(&line, cy_text_get(&name), 18, "~");
    cy_text_dispose(&name);
    cy_text_pad(&line, 0, 21);
    size_t start = line.length;
    say_range(&line, figure, 1, &a_depth, page->system);
    cy_text_pad(&line, start, 29);
    start = line.length;
    say(&line, figure->p50 * row->strip_m2, &a_volume, page->system);
    cy_text_pad(&line, start, 9);
    cy_text_add(&line, inch ? "an inch a week" : "balance");
    if (!brings_jobs(row))
        cy_text_add(&line, ", no jobs");
    add_figure(page, &line, CY_SHEET_TEXT, inch ? CY_WATER_WHY_INCH : CY_WATER_WHY_NEED, row->row,
               week);
    cy_text_dispose(&line);
}

static void add_farm(struct page *page)
{
    int week = page->week < 0 ? 0 : page->week;
    struct cy_text line = {0};
    cy_text_add(&line, "Week of ");
    cy_say_day(&line, page->water->monday + 7 * week, true);
    cy_text_add(&line, ": the middle year, and 8 years of 10 in brackets.");
    add_line(page, &line, CY_SHEET_TEXT);
    cy_text_dispose(&line);
    for (size_t source = 0; source < page->water->source_count; source++) {
        if (*page->water->sources[source].name) {
            struct cy_text name = {0};
            cy_text_add(&name, "Source: ");
            cy_say_clean(&name, page->water->sources[source].name, page->request->ascii);
            add_heading(page, cy_text_get(&name));
            cy_text_dispose(&name);
        } else {
            add(page, CY_SHEET_TEXT, "");
        }
        for (size_t zone = 0; zone < page->water->zone_count; zone++)
            if (page->water->zones[zone].source == source)
                add_zone(page, zone, week);
        add_turns(page, source, week);
        add_season(page, source);
    }
    if (page->water->zone_count == 0) {
        add(page, CY_SHEET_TEXT, "");
        add(page, CY_SHEET_TEXT,
            "No row is on a zone: one with emitters gives run times, one with a supply turns.");
    } else {
        add_heading(page, "Hours to run, week by week, in the middle year");
    }
    for (size_t source = 0; source < page->water->source_count; source++)
        add_hours(page, source, week);
    add_heading(page, "What each row's strip needs in the week");
    bool jobless = false;
    for (size_t i = 0; i < page->water->row_count; i++) {
        const struct cy_water_row *row = &page->water->rows[i];
        add_row_line(page, row, week);
        jobless = jobless || (row->waters && !brings_jobs(row));
    }
    if (jobless) {
        add(page, CY_SHEET_TEXT,
            "No jobs: an inch a week is for rows in their first year. Where a zone's rule is "
            "the balance, all its rows have watering jobs.");
    }
    if (page->water->uncounted_notes > 0) {
        add(page, CY_SHEET_WARNING,
            "Some notes of water given by the time that it ran do not count: the zone's emitters "
            "are not known.");
    }
}

/* ---- the sheet ------------------------------------------------------------------------------ */

static void add_care(struct page *page)
{
    add_heading(page, "Take care");
    add(page, CY_SHEET_CAUTION,
        "Shut off and vent a line before you open it. Pumps and cords near water: guarded "
        "and by the electrical code. A line on a drinking-water main, or one that feeds "
        "fertilizer, needs what the local code asks for against backflow. A well or pond "
        "may need a right or permit; fence open water where children come.");
}

/* By which equation the days' reference was reckoned. */
static void add_reference(struct page *page)
{
    struct cy_text line = {0};
    double share = page->water->combined_share;
    add(page, CY_SHEET_TEXT, "");
    if (share == 0) {
        add(page, CY_SHEET_TEXT,
            "What the air draws from a lawn (reference ET), on which all this rests, is by "
            "temperature alone: the weather has no wind, humidity and sun.");
        return;
    }
    cy_text_add(&line, "What the air draws from a lawn (reference ET), on which all this rests, is "
                       "by the full combination equation on ");
    cy_quantity_show(&line, share, CY_Q_SHARE, "%", page->system, 0);
    cy_text_add(&line, " of the days, by temperature alone where wind, humidity or sun is "
                       "missing.");
    add_line(page, &line, CY_SHEET_TEXT);
    cy_text_dispose(&line);
}

int cy_sheet_water(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    struct page page = {.sheet = out,
                        .request = request,
                        .plan = request->plan,
                        .water = request->plan->water,
                        .system = cy_farm_system(&request->plan->farm),
                        .week = cy_water_week_of(request->plan->water, request->day)};
    cy_text_add(&out->title, "Water");
    if (!request->whole_farm && request->row < request->plan->row_count) {
        cy_text_add(&out->title, ": ");
        cy_say_clean(&out->title, request->plan->rows[request->row].name, request->ascii);
        add_row(&page, &page.water->rows[request->row]);
    } else {
        add_farm(&page);
    }
    add_reference(&page);
    add_care(&page);
    return CY_OK;
}
