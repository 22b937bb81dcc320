/* SPDX-License-Identifier: MIT
 * The why page: what stands behind a job, a date of the canes, or a figure of a page. */
#include "screen/view.h"

#include <math.h>
#include <string.h>

#include "words/words.h"

static void add_line(struct cy_text *out, const char *label, const char *value)
{
    if (!*value)
        return;
    cy_text_add(out, label);
    cy_text_add(out, value);
    cy_text_add_char(out, '\n');
}

/* A field of the kind of work, with what stands behind it. */
static void add_field(struct cy_text *out, const char *label, const struct cy_thing *kind,
                      enum cy_field field)
{
    struct cy_given given = cy_given(kind, field);
    if (!*given.text)
        return;
    cy_text_add(out, label);
    cy_text_add(out, given.text);
    cy_text_add(out, " [");
    cy_text_add(out, *given.source ? given.source : cy_basis_word(given.basis));
    cy_text_add(out, "]\n");
}

/* What was asked comes first, and then what it rests on, back to the weather: the last step of a
 * trace is the one that ends in the figure. The trace is turned round for it. */
static void add_trace(struct cy_text *out, struct cy_trace *trace, enum cy_system system)
{
    for (size_t i = 0; i < trace->count / 2; i++) {
        struct cy_trace_step step = trace->steps[i];
        trace->steps[i] = trace->steps[trace->count - 1 - i];
        trace->steps[trace->count - 1 - i] = step;
    }
    cy_text_add(out, "\nHow it was worked out, the last step first\n");
    cy_say_trace(out, trace, system);
}

static void say_notes(struct cy_text *out, unsigned notes)
{
    for (unsigned bit = 1; bit <= CY_NOTE_FRUIT_YEAR; bit <<= 1)
        if (notes & bit) {
            cy_say_note(out, (enum cy_row_note)bit);
            cy_text_add_char(out, '\n');
        }
}

static void say_job(struct cy_text *out, const struct cy_plan *plan, const struct cy_plan_job *job)
{
    const struct cy_thing *kind = cy_farm_by_id(&plan->farm, job->kind);
    const struct cy_thing *after = cy_referred(&plan->farm, kind, CY_JOB_AFTER);
    struct cy_text text = {0};
    cy_screen_span(&text, job->from, job->to);
    cy_text_add(&text, ", ");
    cy_screen_hours(&text, job->hours);
    cy_text_add(&text, " [");
    cy_say_basis(&text, job->basis);
    cy_text_add(&text, "]");
    add_line(out, "When: ", cy_text_get(&text));
    cy_text_clear(&text);
    cy_say_reason(&text, plan, job);
    add_line(out, "Reason: ", cy_text_get(&text));
    if (job->done) {
        cy_text_clear(&text);
        cy_say_day(&text, job->done_on, true);
        add_line(out, "Done: ", cy_text_get(&text));
    }
    if (job->urgent)
        cy_text_add(out, "This work cannot wait.\n");
    if (after)
        add_line(out, "After: ", cy_thing_name(after));
    add_field(out, "Why: ", kind, CY_JOB_WHY);
    add_field(out, "Tools: ", kind, CY_JOB_TOOLS);
    add_field(out, "Mind: ", kind, CY_JOB_CAUTION);
    cy_text_dispose(&text);
}

unsigned cy_why_job(struct cy_screen *screen)
{
    const struct cy_model *model = &screen->model;
    const struct cy_plan_job *job = cy_model_job(model);
    struct cy_trace trace = {0};
    if (!job)
        return CY_DID_REDRAW;
    cy_page_begin(screen);
    cy_text_add(&screen->page.title, cy_job_name(model->plan, job));
    cy_text_add(&screen->page.title, ", ");
    cy_text_add(&screen->page.title, cy_job_row_name(model->plan, job));
    say_job(&screen->page.text, model->plan, job);
    if (cy_plan_why_job(&trace, model->plan, model->jobs[model->job]))
        add_trace(&screen->page.text, &trace, cy_screen_system(screen));
    cy_trace_dispose(&trace);
    cy_page_open(screen, false);
    return CY_DID_REDRAW;
}

static void say_stage(struct cy_text *out, const struct cy_plan_cohort *cohort, enum cy_stage stage)
{
    const struct cy_figure *figure = &cohort->stage[stage];
    if (!isnan(figure->p50)) {
        cy_text_add(out, "In the middle year ");
        cy_say_day(out, figure->p50, true);
        if (cohort->seen[stage]) {
            cy_text_add(out, ", as seen");
        } else {
            cy_text_add(out, "; between ");
            cy_say_day(out, figure->p10, false);
            cy_text_add(out, " and ");
            cy_say_day(out, figure->p90, false);
            cy_text_add(out, " in 8 years of 10");
        }
        cy_text_add(out, " [");
        cy_say_basis(out, figure->basis);
        cy_text_add(out, "]\n");
    }
    if (figure->never > 0) {
        cy_text_add(out, "It never comes: ");
        cy_say_never(out, (enum cy_never)cohort->never[stage], figure->never);
        cy_text_add_char(out, '\n');
    }
    cy_text_add(out, "Chill: ");
    cy_say_chill(out, cohort);
    cy_text_add_char(out, '\n');
}

unsigned cy_why_stage(struct cy_screen *screen)
{
    const struct cy_model *model = &screen->model;
    const struct cy_plan_row *row = cy_model_row(model);
    struct cy_coming coming[CY_COMING_MOST];
    size_t count = cy_model_coming(coming, model);
    struct cy_trace trace = {0};
    if (!row || model->stage >= count)
        return cy_why_row(screen); /* no date of its canes lies ahead: the day itself is asked */
    const struct cy_coming *chosen = &coming[model->stage];
    const struct cy_plan_cohort *cohort = &row->cohorts[chosen->cohort];
    cy_page_begin(screen);
    struct cy_text *title = &screen->page.title;
    cy_text_add(title, row->name);
    cy_text_add(title, ", canes of ");
    cy_text_add_int(title, cohort->year);
    cy_text_add(title, ": ");
    cy_text_add(title, cy_stage_word(chosen->stage));
    say_stage(&screen->page.text, cohort, chosen->stage);
    say_notes(&screen->page.text, row->notes);
    if (cy_plan_why_stage(&trace, model->plan, model->row, chosen->cohort, chosen->stage))
        add_trace(&screen->page.text, &trace, cy_screen_system(screen));
    cy_trace_dispose(&trace);
    cy_page_open(screen, false);
    return CY_DID_REDRAW;
}

/* ---- a row on a day ------------------------------------------------------------------------- */

static void say_states(struct cy_text *out, const struct cy_plan_row *row, cy_day day)
{
    static const struct {
        enum cy_role role;
        const char *label;
    } canes[] = {{CY_ROLE_FLORICANES, "Last year's canes: "},
                 {CY_ROLE_PRIMOCANES, "This year's canes: "}};
    for (int i = 0; i < 2; i++) {
        const struct cy_plan_cohort *cohort = cy_model_cohort(row, canes[i].role);
        if (cohort)
            add_line(out, canes[i].label, cy_state_word(cy_plan_state(cohort, day)));
    }
}

static void say_weights(struct cy_text *out, const struct cy_screen *screen,
                        const struct cy_plan_row *row)
{
    const struct cy_model *model = &screen->model;
    double all_kg = 0;
    for (size_t i = 0; i < model->plan->row_count; i++)
        all_kg += cy_plan_ripe_kg(&model->plan->rows[i], model->day);
    cy_text_add(out, "Ripe to be picked: ");
    cy_quantity_show(out, cy_plan_ripe_kg(row, model->day), CY_Q_MASS, NULL,
                     cy_screen_system(screen), 0);
    cy_text_add(out, " in the row, ");
    cy_quantity_show(out, all_kg, CY_Q_MASS, NULL, cy_screen_system(screen), 0);
    cy_text_add(out, " on the whole farm\n");
}

unsigned cy_why_row(struct cy_screen *screen)
{
    const struct cy_model *model = &screen->model;
    const struct cy_plan_row *row = cy_model_row(model);
    struct cy_trace trace = {0};
    if (!row) {
        cy_screen_say(screen, CY_ROLE_NORMAL, "There is no row to look into.");
        return CY_DID_REDRAW;
    }
    const struct cy_thing *thing = cy_farm_by_id(&model->plan->farm, row->thing);
    const struct cy_thing *cultivar = cy_referred(&model->plan->farm, thing, CY_ROW_CULTIVAR);
    cy_page_begin(screen);
    struct cy_text *text = &screen->page.text;
    cy_text_add(&screen->page.title, row->name);
    cy_text_add(&screen->page.title, ", ");
    cy_say_day(&screen->page.title, model->day, true);
    if (cultivar)
        add_line(text, "Cultivar: ", cy_thing_name(cultivar));
    say_states(text, row, model->day);
    if (row->crop_count)
        say_weights(text, screen, row);
    say_notes(text, row->notes);
    if (cy_plan_why_day(&trace, model->plan, model->row, model->day) && trace.count)
        add_trace(text, &trace, cy_screen_system(screen));
    cy_trace_dispose(&trace);
    cy_page_open(screen, false);
    return CY_DID_REDRAW;
}

unsigned cy_why_week(struct cy_screen *screen)
{
    const struct cy_model *model = &screen->model;
    struct cy_trace trace = {0};
    if (!model->plan)
        return CY_DID_REDRAW;
    cy_page_begin(screen);
    cy_text_add(&screen->page.title, "The crew's week of ");
    cy_say_day(&screen->page.title, model->day - cy_day_weekday(model->day), true);
    if (cy_plan_why_week(&trace, model->plan, model->day) && cy_plan_why_crew(&trace, model->plan))
        cy_say_trace(&screen->page.text, &trace, cy_screen_system(screen));
    cy_trace_dispose(&trace);
    cy_page_open(screen, false);
    return CY_DID_REDRAW;
}

/* ---- a figure of a page --------------------------------------------------------------------- */

static size_t indent_of(const struct cy_sheet_line *line)
{
    return strspn(line->text, " ");
}

/* The figure as it stands in its page: below the heading that it belongs to, with the lines that it
 * goes on in, which stand further in. */
static void say_figure(struct cy_text *out, const struct cy_sheet *sheet, size_t at)
{
    const struct cy_sheet_line *figure = &sheet->lines[at];
    size_t heading = at;
    while (heading > 0 && sheet->lines[heading].role != CY_SHEET_HEADING)
        heading--;
    if (sheet->lines[heading].role == CY_SHEET_HEADING && heading != at)
        add_line(out, "", sheet->lines[heading].text);
    add_line(out, "", figure->text + indent_of(figure));
    for (size_t i = at + 1; i < sheet->count; i++) {
        const struct cy_sheet_line *more = &sheet->lines[i];
        if (more->why || !*more->text || more->role != figure->role ||
            indent_of(more) <= indent_of(figure))
            break;
        add_line(out, "  ", more->text + indent_of(more));
    }
}

unsigned cy_why_line(struct cy_screen *screen)
{
    struct cy_page *page = &screen->page;
    struct cy_trace trace = {0};
    struct cy_text title = {0}, text = {0};
    if (!cy_page_line_chosen(page)) {
        cy_screen_say(screen, CY_ROLE_NORMAL, "No figure is in sight here.");
        return CY_DID_REDRAW;
    }
    const struct cy_sheet_line *line = &page->lines.lines[page->at.line];
    if (line->why(&trace, &page->lines, line)) {
        cy_text_add(&title, "Why: ");
        cy_text_add(&title, cy_text_get(&page->lines.title));
        say_figure(&text, &page->lines, page->at.line);
        add_trace(&text, &trace, cy_screen_system(screen));
        bool whole = cy_page_rect(screen).height == screen->layout.body.height;
        cy_page_begin(screen);
        cy_text_add(&page->title, cy_text_get(&title));
        cy_text_add(&page->text, cy_text_get(&text));
        cy_page_open(screen, whole);
    } else {
        cy_screen_say(screen, CY_ROLE_NORMAL, "Nothing is known behind this figure.");
    }
    cy_trace_dispose(&trace);
    cy_text_dispose(&title);
    cy_text_dispose(&text);
    return CY_DID_REDRAW;
}
