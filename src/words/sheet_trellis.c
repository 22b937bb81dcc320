/* SPDX-License-Identifier: MIT
 * The sheet of the trellis: of a row with its picture, checks, wires and changes; of the farm. */
#include <math.h>

#include <caneyear/trellis/wind.h>

#include "words/sheet_lines.h"
#include "words/trellis.h"
#include "words/words.h"

#define FOOT_M 0.3048

struct page {
    struct cy_sheet *sheet;
    const struct cy_sheet_request *request;
    const struct cy_plan *plan;
    const struct cy_trellis_verdict *verdict;
    struct cy_trellis_frame frame;
    enum cy_system system;
    size_t row;
    struct cy_text text; /* of the line being written */
};

static bool why(struct cy_trace *trace, const struct cy_sheet *sheet,
                const struct cy_sheet_line *line)
{
    return cy_plan_why_trellis(trace, sheet->plan, line->row, line->item);
}

static void end_figure(struct page *p, enum cy_sheet_role role, int item)
{
    cy_sheet_add_figure(p->sheet, role, cy_text_get(&p->text), item < 0 ? NULL : why, p->row, item);
    cy_text_clear(&p->text);
}

static void end_text(struct page *p, enum cy_sheet_role role)
{
    end_figure(p, role, -1);
}

static void heading(struct page *p, const char *text)
{
    cy_sheet_add(p->sheet, CY_SHEET_TEXT, "");
    cy_sheet_add(p->sheet, CY_SHEET_HEADING, text);
}

static void show(struct page *p, double value, enum cy_quantity quantity, int decimals)
{
    cy_quantity_show(&p->text, value, quantity, NULL, p->system, decimals);
}

static void length(struct page *p, double value_m)
{
    cy_say_length(&p->text, p->plan, value_m);
}

static void size(struct page *p, double value_m)
{
    show(p, value_m, CY_Q_SIZE, p->system == CY_US ? 2 : 0);
}

static void add(struct page *p, const char *words)
{
    cy_text_add(&p->text, words);
}

static void basis(struct page *p, cy_basis set)
{
    cy_say_behind(&p->text, set);
}

/* At least a blank, and blanks up to a column. */
static void tab(struct page *p, size_t start, int column)
{
    cy_text_add_char(&p->text, ' ');
    cy_text_pad(&p->text, start, column);
}

/* ---- the verdict ------------------------------------------------------------------------------
 */

static void verdict_line(struct page *p)
{
    const struct cy_trellis_verdict *v = p->verdict;
    if (v->governing < 0) {
        add(p, "No check could be made: see what is missing below.");
        end_text(p, CY_SHEET_WARNING);
        return;
    }
    const struct cy_trellis_check *check = &v->checks[v->governing];
    if (check->use <= 1)
        add(p, "Of the checks that could be made none is over its limit. Nearest to it: ");
    else
        add(p, "Over its limit, and most of all: ");
    cy_say_part(&p->text, p->plan, v, check);
    add(p, ", ");
    add(p, cy_check_what(check->kind));
    add(p, ", at ");
    cy_say_use(&p->text, check->use);
    add(p, " of what is allowed: ");
    add(p, cy_trellis_case_word(check->in));
    add(p, " (");
    add(p, cy_trellis_case_combination(check->in));
    add(p, ")");
    basis(p, check->basis);
    add(p, ".");
    end_figure(p, check->use <= 1 ? CY_SHEET_GOOD : CY_SHEET_WARNING, v->governing);
}

static void check_line(struct page *p, int index)
{
    const struct cy_trellis_check *check = &p->verdict->checks[index];
    enum cy_quantity quantity = cy_check_quantity(check->kind);
    size_t start = p->text.length;
    cy_say_part(&p->text, p->plan, p->verdict, check);
    if (check->refusal) {
        add(p, ", ");
        add(p, cy_check_what(check->kind));
        add(p, ": ");
        add(p, cy_say_refusal(check->refusal));
        end_text(p, CY_SHEET_TEXT);
        return;
    }
    tab(p, start, 12);
    add(p, cy_check_what(check->kind));
    tab(p, start, 34);
    show(p, check->demand, quantity, 0);
    tab(p, start, 47);
    show(p, check->capacity, quantity, 0);
    tab(p, start, 59);
    struct cy_text use = {0};
    cy_say_use(&use, check->use);
    add(p, cy_text_get(&use));
    cy_text_dispose(&use);
    tab(p, start, 66);
    add(p, p->request->width >= 120 ? cy_trellis_case_word(check->in) : cy_case_short(check->in));
    cy_sheet_add_figure(p->sheet, check->use > 1 ? CY_SHEET_WARNING : CY_SHEET_TEXT,
                        cy_text_get(&p->text), why, p->row, index);
    cy_text_clear(&p->text);
}

/* The first wire that is the same as this one in every way that shows: itself, as a rule. */
static int like_wire(const struct cy_trellis_verdict *v, int wire)
{
    for (int i = 0; i < wire; i++) {
        const struct cy_trellis_wire *a = &v->wires[i], *b = &v->wires[wire];
        bool same = a->height_m == b->height_m && a->kind == b->kind && a->refusal == b->refusal;
        if (same &&
            (a->refusal || (a->set_n == b->set_n && a->set_at_c == b->set_at_c &&
                            a->working_n == b->working_n && a->strength_n == b->strength_n)))
            return i;
    }
    return wire;
}

static int count_alike(const struct cy_trellis_verdict *v, int wire)
{
    int count = 0;
    for (int i = wire; i < v->wire_count; i++)
        count += like_wire(v, i) == wire;
    return count;
}

static void checks(struct page *p)
{
    heading(p, "CHECK       WHAT                  ASKED        ALLOWED     USED   CASE");
    for (int i = 0; i < p->verdict->check_count; i++) {
        const struct cy_trellis_check *check = &p->verdict->checks[i], *last = check - 1;
        /* What is refused for one reason is said once, of each wire and of the end. */
        bool said =
            i > 0 && check->refusal && last->refusal == check->refusal && last->wire == check->wire;
        if (!said && (check->wire < 0 || like_wire(p->verdict, check->wire) == check->wire))
            check_line(p, i);
    }
    add(p, "Cases are combined as in allowable stress design (ASCE 7-16, 2.4.1, from memory); the "
           "gust counts whole, since it is one to be met in service.");
    end_text(p, CY_SHEET_TEXT);
}

/* ---- wires ------------------------------------------------------------------------------------
 */

static void month_row(struct page *p, const struct cy_trellis_wire *wire, const char *name,
                      int which)
{
    enum cy_quantity quantity = which == 3 ? CY_Q_SIZE : CY_Q_FORCE;
    const char *unit = cy_quantity_unit(quantity, p->system);
    add(p, "  ");
    size_t start = p->text.length;
    add(p, name);
    add(p, unit);
    for (int month = 0; month < 12; month++) {
        const struct cy_figure *n = &wire->month_n[month];
        double values[] = {n->p10, n->p50, n->p90, wire->month_sag_m[month]};
        struct cy_text number = {0};
        cy_text_add_fixed(&number, cy_quantity_in(values[which], quantity, unit),
                          which == 3 ? (p->system == CY_US ? 2 : 1) : 0);
        cy_text_pad(&p->text, start, 16 + 5 * month + 4 - (int)number.length);
        add(p, cy_text_get(&number));
        cy_text_dispose(&number);
    }
    cy_sheet_add(p->sheet, CY_SHEET_PICTURE, cy_text_get(&p->text));
    cy_text_clear(&p->text);
}

static void slack_line(struct page *p, const struct cy_trellis_wire *wire, int index)
{
    add(p, "  ");
    if (isnan(wire->slack.p50) || wire->slack.never > 0.9) {
        add(p, "Stays at its working tension of ");
        show(p, wire->working_n, CY_Q_FORCE, 0);
        add(p, " or above it in nearly every weather: no tightening is planned.");
    } else {
        add(p, "Under its working tension of ");
        show(p, wire->working_n, CY_Q_FORCE, 0);
        add(p, " for a week by ");
        cy_say_day(&p->text, wire->slack.p50, false);
        add(p, " (");
        cy_say_day(&p->text, wire->slack.p10, false);
        add(p, " to ");
        cy_say_day(&p->text, wire->slack.p90, false);
        add(p, "), once daily means are above ");
        show(p, wire->slack_above_c, CY_Q_TEMPERATURE, 0);
        if (wire->slack.never > 0) {
            add(p, "; not at all in ");
            cy_say_use(&p->text, wire->slack.never);
            add(p, " of the years");
        }
        add(p, ". Take up ");
        size(p, wire->take_up_m);
        add(p, ", from ");
        show(p, wire->slack_n, CY_Q_FORCE, 0);
        add(p, " to ");
        show(p, wire->set_n, CY_Q_FORCE, 0);
        add(p, ".");
    }
    end_figure(p, CY_SHEET_TEXT, CY_TRELLIS_WHY_WIRE + index);
}

static void wire_lines(struct page *p, int index)
{
    const struct cy_trellis_wire *wire = &p->verdict->wires[index];
    int alike = count_alike(p->verdict, index);
    if (alike > 1)
        cy_text_add_int(&p->text, alike);
    add(p, alike > 1 ? " wires at " : "Wire at ");
    length(p, wire->height_m);
    if (alike > 1)
        add(p, ", each");
    if (wire->refusal) {
        add(p, ": ");
        add(p, cy_say_refusal(wire->refusal));
        add(p, ".");
        end_text(p, CY_SHEET_WARNING);
        return;
    }
    add(p, ": set to ");
    show(p, wire->set_n, CY_Q_FORCE, 0);
    add(p, " at ");
    show(p, wire->set_at_c, CY_Q_TEMPERATURE, 0);
    add(p, "; breaks at about ");
    show(p, wire->strength_n, CY_Q_FORCE, 0);
    add(p, ".");
    end_figure(p, CY_SHEET_TEXT, CY_TRELLIS_WHY_WIRE + index);
    slack_line(p, wire, index);
    add(p, "  The coldest night of one winter in ten makes it ");
    show(p, wire->cold_n, CY_Q_FORCE, 0);
    add(p, ", ");
    cy_say_use(&p->text, wire->cold_n / wire->strength_n);
    add(p, " of its strength; had it been tightened on the hottest day, ");
    show(p, wire->heat_set_cold_n, CY_Q_FORCE, 0);
    add(p, ", ");
    cy_say_use(&p->text, wire->heat_set_cold_n / wire->strength_n);
    add(p, ". With fruit on it ");
    show(p, wire->fruit_n, CY_Q_FORCE, 0);
    add(p, ", sagging ");
    size(p, wire->fruit_sag_m);
    add(p, ".");
    end_figure(p, CY_SHEET_TEXT, CY_TRELLIS_WHY_WIRE + index);
    if (wire->kind == CY_WIRE_POLYMER) {
        add(p,
            "  Polymer line creeps besides: expect it to lose tension in its first weeks, and look "
            "again then [from memory].");
        end_text(p, CY_SHEET_TEXT);
    }
    if (p->frame.lean_m.value != 0) {
        add(p, "  The ends have moved in by ");
        size(p, p->frame.lean_m.value);
        add(p, " together, which takes ");
        show(p, wire->lean_n, CY_Q_FORCE, 0);
        add(p, " off it.");
        end_text(p, CY_SHEET_TEXT);
    }
    cy_sheet_add(p->sheet, CY_SHEET_PICTURE,
                 "  bare wire        Jan  Feb  Mar  Apr  May  Jun  Jul  Aug  Sep  Oct  Nov  Dec");
    month_row(p, wire, "1 day in 10, ", 0);
    month_row(p, wire, "middle, ", 1);
    month_row(p, wire, "9 in 10, ", 2);
    month_row(p, wire, "middle sag, ", 3);
}

static void wires(struct page *p)
{
    heading(p, "WIRES through this farm's year");
    for (int i = 0; i < p->verdict->wire_count; i++)
        if (like_wire(p->verdict, i) == i)
            wire_lines(p, i);
    if (p->verdict->wire_count == 0) {
        add(p, "No wires are typed.");
        end_text(p, CY_SHEET_WARNING);
    }
    if (p->frame.lean_m.value == 0) {
        add(p, "The ends are taken to stand where they stood (end_lean)");
        basis(p, p->frame.lean_m.basis);
        add(p, ". An end that leans loosens a wire more than a warm day does: ");
        add(p, p->system == CY_US ? "an inch over 300 ft takes as much off 12.5 gauge as 43 F."
                                  : "25 mm over 91 m take as much off 12.5 gauge as 24 K.");
        end_text(p, CY_SHEET_TEXT);
    }
}

/* ---- practice and code ------------------------------------------------------------------------
 */

/* Shelter is not in the verdict: a row at the edge has none, and the wind comes from all sides. */
static void shelter(struct page *p)
{
    const struct cy_trellis_practice *q = &p->verdict->practice;
    double share = cy_wind_shelter(4);
    add(p, "Shelter is not counted above. With three rows or more to windward as much as ");
    cy_say_use(&p->text, share);
    add(p, " of it may reach a post, ");
    show(p, share * q->asks_n, CY_Q_FORCE, 0);
    add(p, " [placeholder]: ");
    cy_text_add_fixed(&p->text, share * q->ratio, 1);
    add(p, " times what is allowed. A row at the edge has none.");
    end_figure(p, CY_SHEET_TEXT, CY_TRELLIS_WHY_PRACTICE);
}

static void practice(struct page *p)
{
    const struct cy_trellis_practice *q = &p->verdict->practice;
    heading(p, "PRACTICE AND CODE");
    add(p, "Practice: line posts ");
    length(p, 2 * FOOT_M);
    add(p, " deep and ");
    length(p, 25 * FOOT_M);
    add(p, " to ");
    length(p, 30 * FOOT_M);
    add(p, " apart, end posts ");
    length(p, 3 * FOOT_M);
    add(p, " deep (NC State Extension). Here: line posts ");
    length(p, p->frame.post_depth_m.value);
    add(p, " deep and ");
    length(p, p->verdict->bay_m);
    add(p, " apart, end posts ");
    length(p, p->frame.end_depth_m.value);
    add(p, " deep.");
    end_text(p, CY_SHEET_TEXT);
    if (isnan(q->ratio)) {
        if (isnan(p->frame.gust_m_s.value))
            cy_say_trellis_note(&p->text, CY_TRELLIS_NO_GUST);
        else
            add(p, "There is no line post to compare: the ends take all of the wind.");
        end_text(p, CY_SHEET_WARNING);
        return;
    }
    add(p, "A gust of ");
    show(p, p->frame.gust_m_s.value, CY_Q_SPEED, 0);
    add(p, " asks ");
    show(p, q->asks_n, CY_Q_FORCE, 0);
    add(p, " of a line post, at ");
    length(p, q->at_m);
    add(p, ". The code formula allows ");
    show(p, q->allows_n, CY_Q_FORCE, 0);
    add(p, " at this depth, ");
    show(p, q->customary_n, CY_Q_FORCE, 0);
    add(p, p->system == CY_US ? " of a customary post (4 in, 2 ft deep), and wants "
                              : " of a customary post (102 mm, 0.61 m deep), and wants ");
    length(p, q->need_depth_m);
    add(p, " of depth: asked is ");
    cy_text_add_fixed(&p->text, q->ratio, 1);
    add(p, " times allowed. What is allowed is reached at a gust of ");
    show(p, q->held_gust_m_s, CY_Q_SPEED, 0);
    basis(p, q->basis);
    add(p, ".");
    end_figure(p, q->ratio > 1 ? CY_SHEET_WARNING : CY_SHEET_TEXT, CY_TRELLIS_WHY_PRACTICE);
    if (!isnan(q->ultimate_n)) {
        add(p, "In sand the ground itself gives way at about ");
        show(p, q->ultimate_n, CY_Q_FORCE, 0);
        add(p, " [placeholder].");
        end_figure(p, CY_SHEET_TEXT, CY_TRELLIS_WHY_PRACTICE);
    }
    if (q->customary_n < q->asks_n) {
        add(p, "A customary post passes no building code, and such posts stand for decades: rows "
               "shelter one another, leaves and canes give way to a gust, wires share it among "
               "many posts, a post may lean a little, and the code's soil values are cautious and "
               "meant for about ");
        add(p, p->system == CY_US ? "half an inch" : "13 mm");
        add(p, " of movement. The depth of practice is experience, not a calculation.");
        end_text(p, CY_SHEET_TEXT);
        shelter(p);
    }
    add(p, "Under that gust the post itself would bend by ");
    size(p, p->verdict->deflection_m);
    add(p, " at ");
    length(p, p->verdict->deflected_at_m);
    add(p, ", the ground's give not counted. Wind along the row puts ");
    show(p, p->verdict->along_n, CY_Q_FORCE, 0);
    add(p, " on an end.");
    end_figure(p, CY_SHEET_TEXT, CY_TRELLIS_WHY_DEFLECTION);
}

/* ---- what would put it right ------------------------------------------------------------------
 */

static int fixes(struct page *p)
{
    struct cy_trellis_fixes list;
    int status = cy_trellis_fixes_of(&list, p->plan, p->row);
    if (status != CY_OK || !list.needed)
        return status;
    heading(p, "WHAT WOULD PUT IT RIGHT, each by itself, to what governs");
    bool any = false;
    for (int i = 0; i < CY_FIX_COUNT; i++) {
        if (!list.fixes[i].applies)
            continue;
        any = any || list.fixes[i].enough;
        cy_say_fix(&p->text, p->plan, p->row, &list.fixes[i]);
        add(p, ".");
        end_figure(p, CY_SHEET_TEXT, CY_TRELLIS_WHY_FIX + i);
    }
    if (!any) {
        add(p, "None of them does it alone.");
    } else if (list.cheapest >= 0) {
        add(p, "The cheapest by your prices, work not counted: ");
        add(p, cy_fix_word((enum cy_fix_kind)list.cheapest));
        add(p, ", ");
        cy_say_money(&p->text, list.fixes[list.cheapest].cost);
        add(p, ".");
    } else {
        add(p, "None is called the cheapest before the prices of all parts that these changes "
               "need are your own (parts, price).");
    }
    end_text(p, CY_SHEET_TEXT);
    return CY_OK;
}

/* ---- canes, notes, cautions -------------------------------------------------------------------
 */

static void habit(struct page *p)
{
    static const char *const leans[] = {
        [CY_HABIT_ERECT] = "Erect canes stand by themselves and lean on wires under fruit",
        [CY_HABIT_SEMI_ERECT] = "Semi-erect canes arch over and hang on wires",
        [CY_HABIT_TRAILING] = "Trailing canes hang on wires with all their weight"};
    const struct cy_trellis_frame *f = &p->frame;
    heading(p, "CANES AND WIRES");
    if (f->habit_known) {
        add(p, leans[f->habit]);
        add(p, "; ");
    } else {
        add(p, "The cultivar's habit is not known: the heaviest is taken; ");
    }
    add(p, "top wire ");
    length(p, p->verdict->top_m);
    if (!isnan(f->tip_m.value)) {
        add(p, ", tipped at ");
        length(p, f->tip_m.value);
    } else {
        add(p, ", not tipped");
    }
    if (!isnan(f->cane_m.value)) {
        add(p, ", grown to ");
        length(p, f->cane_m.value);
        add(p, " by the season's end if left");
        basis(p, f->cane_m.basis);
    }
    add(p, ".");
    end_figure(p, CY_SHEET_TEXT, CY_TRELLIS_WHY_HABIT);
}

static void notes(struct page *p)
{
    for (unsigned note = 1; note <= CY_TRELLIS_LAST_NOTE; note <<= 1) {
        if (!(p->verdict->notes & note) || note == CY_TRELLIS_NO_GUST)
            continue;
        cy_say_trellis_note(&p->text, (enum cy_trellis_note)note);
        if (note == CY_TRELLIS_HEAVE)
            end_figure(p, CY_SHEET_WARNING, CY_TRELLIS_WHY_HEAVE);
        else
            end_text(p, CY_SHEET_WARNING);
    }
}

static void caution(struct page *p, const char *words)
{
    add(p, words);
    end_text(p, CY_SHEET_CAUTION);
}

static void cautions(struct page *p)
{
    heading(p, "TAKE CARE");
    caution(p,
            "Wires: eye protection, gloves, long sleeves. Stand clear of the line of a tensioned "
            "wire and never straddle it; hold it on both sides of a cut. Do not use a kinked "
            "piece.");
    caution(p, "Posts and anchors: have buried utilities located some days before you dig (811 in "
               "the United States). Keep posts, augers and wires at least 10 ft (3 m) from "
               "overhead lines, more where the voltage is high; never tie to a utility pole.");
    caution(p, "Treated wood: gloves, a dust mask when you saw it; never burn the offcuts.");
    caution(p, "These figures are for planning a garden-scale row. What is larger, stands on a "
               "slope or near a public way, carries netting or shade, or has people under it is "
               "for a licensed engineer and the local code, which come before anything here. Soil "
               "varies: pull an anchor before you trust it.");
}

static int row_sheet(struct page *p)
{
    const struct cy_plan_row *row = &p->plan->rows[p->row];
    const struct cy_thing *thing = cy_farm_by_id(&p->plan->farm, row->thing);
    const struct cy_thing *trellis = cy_referred(&p->plan->farm, thing, CY_ROW_TRELLIS);
    cy_text_add(&p->sheet->title, "Trellis of ");
    cy_say_clean(&p->sheet->title, row->name, p->request->ascii);
    if (!p->verdict || !trellis) {
        add(p, "This row names no trellis, so there is nothing to check. Give the farm a trellis, "
               "and the row its key (row.");
        add(p, row->key);
        add(p, ".trellis).");
        end_text(p, CY_SHEET_TEXT);
        return CY_OK;
    }
    cy_text_add(&p->sheet->title, ": ");
    cy_say_clean(&p->sheet->title, cy_thing_name(trellis), p->request->ascii);
    verdict_line(p);
    cy_sheet_add(p->sheet, CY_SHEET_TEXT, "");
    cy_trellis_picture(p->sheet, p->request, p->verdict, &p->frame);
    cy_trellis_end_on(p->sheet, p->request, p->verdict, &p->frame);
    checks(p);
    wires(p);
    practice(p);
    int status = fixes(p);
    habit(p);
    notes(p);
    cautions(p);
    return status;
}

/* ---- the farm ---------------------------------------------------------------------------------
 */

static void farm_line(struct page *p, size_t row)
{
    const struct cy_trellis_verdict *verdict = cy_trellis_of(p->plan, row);
    struct cy_text name = {0};
    p->row = row;
    cy_say_clean(&name, p->plan->rows[row].name, p->request->ascii);
    size_t start = p->text.length;
    cy_text_add_fit(&p->text, cy_text_get(&name), 20, "~");
    cy_text_dispose(&name);
    tab(p, start, 21);
    const struct cy_trellis_check *check =
        verdict && verdict->governing >= 0 ? &verdict->checks[verdict->governing] : NULL;
    if (!check) {
        add(p, verdict ? "no check could be made" : "no trellis");
    } else {
        cy_say_use(&p->text, check->use);
        tab(p, start, 30);
        cy_say_part(&p->text, p->plan, verdict, check);
        add(p, ", ");
        add(p, cy_check_what(check->kind));
        tab(p, start, 67);
        add(p, cy_case_short(check->in));
    }
    cy_sheet_add_figure(p->sheet, check && check->use > 1 ? CY_SHEET_WARNING : CY_SHEET_TEXT,
                        cy_text_get(&p->text), check ? why : NULL, row,
                        check ? verdict->governing : 0);
    cy_text_clear(&p->text);
}

static void farm_sum(struct page *p)
{
    int over = 0, within = 0, unchecked = 0, slack = 0;
    for (size_t row = 0; row < p->plan->row_count; row++) {
        const struct cy_trellis_verdict *verdict = cy_trellis_of(p->plan, row);
        if (!verdict || verdict->governing < 0) {
            unchecked++;
            continue;
        }
        if (verdict->checks[verdict->governing].use > 1)
            over++;
        else
            within++;
        slack += verdict->slack_wire >= 0;
    }
    cy_sheet_add(p->sheet, CY_SHEET_TEXT, "");
    cy_text_add_int(&p->text, over);
    add(p, over == 1 ? " row is over a limit, " : " rows are over a limit, ");
    cy_text_add_int(&p->text, within);
    add(p, within == 1 ? " is within all that could be checked, "
                       : " are within all that could be checked, ");
    cy_text_add_int(&p->text, unchecked);
    add(p, unchecked == 1 ? " has no verdict; " : " have no verdict; ");
    cy_text_add_int(&p->text, slack);
    add(p, slack == 1 ? " has wires that go slack in some weather."
                      : " have wires that go slack in some weather.");
    end_text(p, CY_SHEET_TEXT);
    add(p, "The limits are a building code's and ours, with factors in them; customary rows stand "
           "for decades beyond them. See a row's own page for why, and for what would put it "
           "right.");
    end_text(p, CY_SHEET_TEXT);
}

static void farm_sheet(struct page *p)
{
    bool any = false;
    for (size_t row = 0; row < p->plan->row_count && !any; row++)
        any = cy_trellis_of(p->plan, row) != NULL;
    cy_text_add(&p->sheet->title, "Trellises of all rows");
    if (!any) {
        add(p, "No row names a trellis, so there is nothing to check. Give the farm a trellis, and "
               "its rows the trellis's key (row.KEY.trellis).");
        end_text(p, CY_SHEET_TEXT);
        return;
    }
    cy_sheet_add(p->sheet, CY_SHEET_HEADING,
                 "ROW                  USED     OF WHAT                              CASE");
    for (size_t row = 0; row < p->plan->row_count; row++)
        farm_line(p, row);
    farm_sum(p);
    cautions(p);
}

int cy_sheet_trellis(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    struct page page = {.sheet = out,
                        .request = request,
                        .plan = request->plan,
                        .system = cy_farm_system(&request->plan->farm),
                        .row = request->row};
    int status = CY_OK;
    if (request->whole_farm) {
        farm_sheet(&page);
    } else if (request->row < request->plan->row_count) {
        page.verdict = cy_trellis_of(request->plan, request->row);
        if (page.verdict)
            cy_trellis_frame_of(&page.frame, request->plan, request->row);
        status = row_sheet(&page);
    }
    out->failed = out->failed || page.text.failed;
    cy_text_dispose(&page.text);
    return status;
}
