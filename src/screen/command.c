/* SPDX-License-Identifier: MIT
 * What an action does that no band took: moving, writing records, undo. */
#include "screen/view.h"

#include <math.h>
#include <string.h>

#include "words/words.h"

/* ---- moving --------------------------------------------------------------------------------- */

static unsigned moved(struct cy_screen *screen, bool did, const char *otherwise)
{
    if (!did)
        cy_screen_say(screen, CY_ROLE_NORMAL, otherwise);
    return CY_DID_REDRAW;
}

static unsigned go(struct cy_screen *screen, int days)
{
    return moved(screen, cy_model_go(&screen->model, screen->model.day + days),
                 "The plan goes no further: one season before and after today's.");
}

static unsigned go_months(struct cy_screen *screen, int months)
{
    return moved(screen, cy_model_step_month(&screen->model, months),
                 "The plan goes no further: one season before and after today's.");
}

static unsigned focus(struct cy_screen *screen, int step)
{
    screen->focus = (enum cy_band)((screen->focus + step + CY_BAND_COUNT) % CY_BAND_COUNT);
    if (screen->zoomed >= 0)
        screen->zoomed = screen->focus;
    return CY_DID_LAYOUT;
}

static unsigned zoom(struct cy_screen *screen)
{
    screen->zoomed = screen->zoomed >= 0 ? -1 : (int)screen->focus;
    return CY_DID_LAYOUT;
}

static unsigned toggle_farm(struct cy_screen *screen)
{
    cy_model_set_scope(&screen->model, !screen->model.whole_farm);
    cy_screen_say(
        screen, CY_ROLE_NORMAL,
        screen->page.at.open
            ? (screen->model.whole_farm ? "The whole farm." : "This row alone.")
            : (screen->model.whole_farm ? "Jobs of the whole farm." : "Jobs of this row."));
    return CY_DID_REDRAW;
}

static unsigned toggle_mouse(struct cy_screen *screen)
{
    cy_term_mouse(!cy_term_has_mouse());
    cy_screen_say(screen, CY_ROLE_NORMAL,
                  cy_term_has_mouse() ? "The mouse is on: click on a row, a day, a job or a line. "
                                        "Shift and drag selects text."
                                      : "The mouse is off.");
    return CY_DID_REDRAW;
}

/* ---- undo ----------------------------------------------------------------------------------- */

static unsigned undo(struct cy_screen *screen, bool redo)
{
    struct cy_issues issues = {0};
    struct cy_text what = {0}, message = {0};
    int status = redo ? cy_file_redo(screen->model.file, screen->author, &what, &issues)
                      : cy_file_undo(screen->model.file, screen->author, &what, &issues);
    if (status != CY_OK) {
        if (issues.count && (issues.items[0].code == CY_ISSUE_NOTHING_TO_UNDO ||
                             issues.items[0].code == CY_ISSUE_NOTHING_TO_REDO))
            cy_screen_say(
                screen, CY_ROLE_NORMAL,
                redo ? "Nothing to redo."
                     : "Nothing to undo: notes and work done are corrected anew, by n or d.");
        else
            cy_screen_say_issue(screen, &issues);
        cy_text_dispose(&what);
        return CY_DID_REDRAW;
    }
    cy_text_add(&message, redo ? "Redone: " : "Undone: ");
    cy_text_add(&message, cy_text_get(&what));
    cy_text_add(&message, redo ? "." : ". U does it again. Notes and work done stay as they are.");
    cy_screen_say(screen, CY_ROLE_GOOD, cy_text_get(&message));
    cy_text_dispose(&what);
    cy_text_dispose(&message);
    return CY_DID_REPLAN;
}

/* ---- opening forms -------------------------------------------------------------------------- */

static bool may_write(struct cy_screen *screen)
{
    if (!cy_file_read_only(screen->model.file))
        return true;
    cy_screen_say(screen, CY_ROLE_WARNING, "This file can only be read, so nothing can be noted.");
    return false;
}

static void put_day(struct cy_entry *form, enum cy_field field, cy_day day)
{
    char text[CY_DAY_TEXT];
    cy_entry_put(form, field, cy_day_print(text, day));
}

static unsigned open_note(struct cy_screen *screen)
{
    const struct cy_plan_row *row = cy_model_row(&screen->model);
    struct cy_entry_about about = {0};
    if (!row || !may_write(screen))
        return CY_DID_REDRAW;
    cy_copy(about.row, sizeof about.row, row->key);
    cy_entry_begin(&screen->form, CY_KIND_SEEN, &about, cy_screen_system(screen),
                   screen->model.today);
    cy_copy(screen->form.title, sizeof screen->form.title, row->name);
    /* What is seen is seen on the day that the reader looks at, but never ahead of today. */
    cy_day day = screen->model.day < screen->model.today ? screen->model.day : screen->model.today;
    put_day(&screen->form, CY_SEEN_DAY, day);
    cy_entry_put(&screen->form, CY_SEEN_WHAT, cy_field_info(CY_SEEN_WHAT)->choices[0]);
    return CY_DID_REDRAW;
}

static bool is_about(const struct cy_thing *record, enum cy_field field, int number)
{
    struct cy_given given = cy_given(record, field);
    return !given.is_set || (int)given.number == number;
}

/* The record by which a job is done: the last that speaks of it. */
static const struct cy_thing *record_of(const struct cy_plan *plan, const struct cy_plan_job *job)
{
    const struct cy_thing *found = NULL, *record = NULL;
    while ((record = cy_farm_next(&plan->farm, CY_KIND_DONE, 0, record)))
        if (cy_streq(cy_string(record, CY_DONE_ROW), job->row_key) &&
            cy_streq(cy_string(record, CY_DONE_JOB), job->kind_key) &&
            cy_date(record, CY_DONE_DAY) == job->done_on &&
            is_about(record, CY_DONE_SEASON, job->season) &&
            is_about(record, CY_DONE_ROUND, job->round))
            found = record;
    return found;
}

static void put_value(struct cy_entry *form, const struct cy_thing *record, enum cy_field field)
{
    const struct cy_value *value =
        &record->values[(int)field - cy_kind_info(record->kind)->first_field];
    struct cy_text text = {0};
    if (value->set)
        cy_value_print(&text, field, value, form->system);
    cy_entry_put(form, field, cy_text_get(&text));
    cy_text_dispose(&text);
}

static void put_hours(struct cy_entry *form, double hours)
{
    struct cy_text text = {0};
    if (!isnan(hours))
        cy_quantity_show(&text, hours, CY_Q_HOURS, NULL, form->system, 1);
    cy_entry_put(form, CY_DONE_HOURS, cy_text_get(&text));
    cy_text_dispose(&text);
}

static unsigned open_done(struct cy_screen *screen)
{
    const struct cy_plan *plan = screen->model.plan;
    const struct cy_plan_job *job = cy_model_job(&screen->model);
    if (!job) {
        cy_screen_say(screen, CY_ROLE_NORMAL, "There is no job to mark here.");
        return CY_DID_REDRAW;
    }
    if (!may_write(screen))
        return CY_DID_REDRAW;
    const struct cy_thing *record = job->done ? record_of(plan, job) : NULL;
    struct cy_entry_about about = {.season = job->season, .round = job->round};
    cy_copy(about.row, sizeof about.row, job->row_key);
    cy_copy(about.job, sizeof about.job, job->kind_key);
    if (record)
        cy_copy(about.corrects, sizeof about.corrects, record->key);
    struct cy_entry *form = &screen->form;
    cy_entry_begin(form, CY_KIND_DONE, &about, cy_screen_system(screen), screen->model.today);
    struct cy_text title = {0};
    cy_text_add(&title, record ? "correct: " : "");
    cy_text_add(&title, cy_job_name(plan, job));
    cy_text_add(&title, ", ");
    cy_text_add(&title, cy_job_row_name(plan, job));
    cy_copy(form->title, sizeof form->title, cy_text_get(&title));
    cy_text_dispose(&title);
    if (record) {
        put_value(form, record, CY_DONE_DAY);
        put_value(form, record, CY_DONE_HOURS);
        put_value(form, record, CY_DONE_TEXT);
    } else {
        put_day(form, CY_DONE_DAY, screen->model.today);
        put_hours(form, job->hours);
    }
    return CY_DID_REDRAW;
}

/* ---- keeping a form ------------------------------------------------------------------------- */

/* The greatest move of a date that lies ahead, in words. */
static void say_move(struct cy_text *out, const struct cy_plan_row *before,
                     const struct cy_plan_row *after)
{
    double greatest = 0.5;
    int cohort = -1, stage = -1;
    for (int c = 0; c < before->cohort_count && c < after->cohort_count; c++)
        for (int s = 0; s < CY_STAGE_COUNT; s++) {
            double moved = after->cohorts[c].stage[s].p50 - before->cohorts[c].stage[s].p50;
            if (before->cohorts[c].year != after->cohorts[c].year || after->cohorts[c].seen[s] ||
                isnan(moved) || fabs(moved) < greatest)
                continue;
            greatest = fabs(moved);
            cohort = c;
            stage = s;
        }
    if (cohort < 0)
        return;
    cy_text_add(out, " ");
    cy_text_add_int(out, after->cohorts[cohort].year);
    cy_text_add(out, " canes, ");
    cy_text_add(out, cy_stage_word((enum cy_stage)stage));
    cy_text_add(out, ": was ");
    cy_say_day(out, before->cohorts[cohort].stage[stage].p50, false);
    cy_text_add(out, ", now ");
    cy_say_day(out, after->cohorts[cohort].stage[stage].p50, false);
    cy_text_add(out, ".");
}

static void say_kept(struct cy_screen *screen, const struct cy_plan_row *before)
{
    const struct cy_plan_row *after = cy_model_row(&screen->model);
    struct cy_text message = {0};
    cy_text_add(&message, screen->form.kind == CY_KIND_SEEN ? "Noted: " : "Done: ");
    cy_entry_say_of(&message, &screen->form);
    if (screen->form.kind == CY_KIND_SEEN) {
        cy_text_add(&message, ", ");
        cy_text_add(&message, screen->form.fields[0].text);
    }
    cy_text_add(&message, ".");
    if (before->thing && after && before->thing == after->thing)
        say_move(&message, before, after);
    cy_screen_say(screen, CY_ROLE_GOOD, cy_text_get(&message));
    cy_text_dispose(&message);
}

static unsigned keep_form(struct cy_screen *screen)
{
    struct cy_issues issues = {0};
    struct cy_value *values = cy_entry_values(&screen->form, &issues);
    int status = CY_INVALID;
    if (values)
        status =
            cy_file_record(screen->model.file, screen->form.kind, screen->author, values, &issues);
    cy_entry_free(&screen->form, values);
    if (status != CY_OK) {
        cy_screen_say_issue(screen, &issues);
        return CY_DID_REDRAW;
    }
    const struct cy_plan_row *row = cy_model_row(&screen->model);
    struct cy_plan_row before = {0};
    if (row)
        before = *row;
    screen->form.open = false;
    cy_keep_remove(screen->keep.draft);
    if (cy_screen_replan(screen) == CY_OK)
        say_kept(screen, &before);
    return CY_DID_LAYOUT;
}

void cy_screen_form_cancel(struct cy_screen *screen)
{
    screen->form.open = false;
    cy_keep_remove(screen->keep.draft);
    cy_screen_say(screen, CY_ROLE_NORMAL, "Nothing was kept of the form.");
}

unsigned cy_screen_form_key(struct cy_screen *screen, const struct cy_key *key)
{
    struct cy_issues issues = {0};
    cy_screen_say(screen, CY_ROLE_NORMAL, "");
    switch (cy_entry_key(&screen->form, key, &issues)) {
    case CY_ENTRY_KEEP:
        return keep_form(screen);
    case CY_ENTRY_DROP:
        cy_screen_form_cancel(screen);
        break;
    case CY_ENTRY_REFUSED:
        cy_screen_say_issue(screen, &issues);
        break;
    case CY_ENTRY_GOES_ON:
        break;
    }
    return CY_DID_REDRAW;
}

void cy_screen_draft_keep(struct cy_screen *screen)
{
    struct cy_text text = {0};
    if (!screen->form.open)
        return;
    cy_entry_save(&text, &screen->form);
    cy_keep_write(screen->keep.draft, &text);
    cy_text_dispose(&text);
}

void cy_screen_draft_offer(struct cy_screen *screen)
{
    struct cy_text text = {0};
    cy_keep_read(&text, screen->keep.draft);
    if (!cy_file_read_only(screen->model.file) &&
        cy_entry_load(&screen->form, &text, cy_screen_system(screen), screen->model.today))
        cy_screen_say(
            screen, CY_ROLE_WARNING,
            "This form was open when the terminal went away. Enter keeps it, Esc drops it.");
    cy_text_dispose(&text);
}

/* ---- one table of what is left -------------------------------------------------------------- */

unsigned cy_screen_act(struct cy_screen *screen, enum cy_action action)
{
    struct cy_model *model = &screen->model;
    switch (action) {
    case CY_ACTION_DAY_NEXT:
        return go(screen, 1);
    case CY_ACTION_DAY_BACK:
        return go(screen, -1);
    case CY_ACTION_WEEK_NEXT:
        return go(screen, 7);
    case CY_ACTION_WEEK_BACK:
        return go(screen, -7);
    case CY_ACTION_MONTH_NEXT:
        return go_months(screen, 1);
    case CY_ACTION_MONTH_BACK:
        return go_months(screen, -1);
    case CY_ACTION_TODAY:
        cy_model_go(model, model->today);
        return CY_DID_REDRAW;
    case CY_ACTION_JOB_NEXT:
        return moved(screen, cy_model_step_job(model, 1), "No job opens later in this season.");
    case CY_ACTION_JOB_BACK:
        return moved(screen, cy_model_step_job(model, -1), "No job opens earlier in this season.");
    case CY_ACTION_STAGE_NEXT:
        return moved(screen, cy_model_step_stage(model, 1), "No later date is planned here.");
    case CY_ACTION_STAGE_BACK:
        return moved(screen, cy_model_step_stage(model, -1), "No earlier date is planned here.");
    case CY_ACTION_BAND_NEXT:
        return focus(screen, 1);
    case CY_ACTION_BAND_BACK:
        return focus(screen, -1);
    case CY_ACTION_ROW_NEXT:
    case CY_ACTION_ROW_BACK:
        return cy_view_rows.act(screen, action);
    case CY_ACTION_ZOOM:
        return zoom(screen);
    case CY_ACTION_FARM:
        return toggle_farm(screen);
    case CY_ACTION_DONE:
        return open_done(screen);
    case CY_ACTION_NOTE:
        return open_note(screen);
    case CY_ACTION_UNDO:
        return undo(screen, false);
    case CY_ACTION_REDO:
        return undo(screen, true);
    case CY_ACTION_MOUSE:
        return toggle_mouse(screen);
    case CY_ACTION_HELP:
        return cy_help_open(screen);
    case CY_ACTION_PAGES:
        return cy_pages_open(screen);
    case CY_ACTION_REPAINT:
        cy_term_repaint();
        return CY_DID_REDRAW;
    case CY_ACTION_QUIT:
        return CY_DID_QUIT;
    default:
        return CY_DID_NOTHING;
    }
}
