/* SPDX-License-Identifier: MIT
 * The jobs band: the queue of work around the day cursor as sentences, with the crew's week, which
 * can be chosen above the first job. */
#include "screen/view.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "words/words.h"

#define DATES_WIDTH 17 /* "28 May to 12 Jun" */
#define WEEKS_AHEAD 5

const char *cy_job_name(const struct cy_plan *plan, const struct cy_plan_job *job)
{
    return cy_thing_name(cy_farm_by_id(&plan->farm, job->kind));
}

const char *cy_job_row_name(const struct cy_plan *plan, const struct cy_plan_job *job)
{
    return cy_thing_name(cy_farm_by_id(&plan->farm, job->row));
}

void cy_screen_span(struct cy_text *out, cy_day from, cy_day to)
{
    cy_say_day(out, from, false);
    if (to == from)
        return;
    cy_text_add(out, " to ");
    cy_say_day(out, to, false);
}

void cy_screen_hours(struct cy_text *out, double hours)
{
    /* A short job takes minutes. */
    if (hours > 0 && hours < 0.05) {
        cy_text_add_int(out, (int)ceil(60 * hours));
        cy_text_add(out, " min");
        return;
    }
    if (isnan(hours))
        cy_text_add(out, "?");
    else
        cy_text_add_fixed(out, hours, 1);
    cy_text_add(out, " h");
}

/* ---- the crew's week ------------------------------------------------------------------------ */

static void say_share(struct cy_text *out, const struct cy_week_load *load)
{
    if (isnan(load->share))
        return;
    cy_text_add_fixed(out, load->share * 100, 0);
    /* No week holds more than the crew has: what it asks beyond that comes late. */
    cy_text_add(out, load->late_hours > 0 ? " %!" : " %");
}

/* Where there is no job, the week is all that can be chosen. */
static bool on_week(const struct cy_screen *screen)
{
    return screen->on_week || !screen->model.job_count;
}

static void draw_heading(const struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    const struct cy_plan *plan = screen->model.plan;
    struct cy_week_load load = cy_plan_week_load(plan, screen->model.day);
    struct cy_text detail = {0};
    const struct cy_plan_row *row = cy_model_row(&screen->model);
    cy_text_add(&detail, screen->model.whole_farm || !row ? "all rows" : row->name);
    cy_text_add(&detail, "; week of ");
    cy_say_day(&detail, load.monday, false);
    cy_text_add(&detail, ": ");
    cy_text_add_fixed(&detail, load.hours, 0);
    cy_text_add(&detail, " of ");
    cy_text_add_fixed(&detail, load.crew_hours, 0);
    cy_text_add(&detail, " h, ");
    say_share(&detail, &load);
    int late = 0;
    for (size_t i = 0; i < plan->job_count; i++)
        late += cy_plan_job_late(plan, &plan->jobs[i]);
    if (late) {
        cy_text_add(&detail, ", ");
        cy_text_add_int(&detail, late);
        cy_text_add(&detail, " late in all");
    }
    if (load.basis & CY_BASIS_PLACEHOLDER)
        cy_text_add(&detail, " [placeholder]");
    cy_draw_heading(pane, "Jobs", cy_text_get(&detail), focused);
    /* The weeks after, where the line has room. */
    int x = 8 + cy_utf8_columns(cy_text_get(&detail)) + 2;
    cy_text_clear(&detail);
    cy_text_add(&detail, " next weeks:");
    for (int week = 1; week <= WEEKS_AHEAD; week++) {
        struct cy_week_load next = cy_plan_week_load(plan, screen->model.day + 7 * week);
        cy_text_add(&detail, week == 1 ? " " : ", ");
        say_share(&detail, &next);
    }
    cy_text_add(&detail, " ");
    if (x + cy_utf8_columns(cy_text_get(&detail)) < pane.rect.width)
        cy_draw_text(pane, x, 0, cy_text_get(&detail), CY_ROLE_FAINT);
    cy_text_dispose(&detail);
    if (focused && on_week(screen))
        cy_draw_glyph(pane, 1, 0, CY_GLYPH_MARK, CY_ROLE_CHOSEN);
    if (focused)
        cy_draw_cursor(pane, 1, 0);
}

/* ---- one job -------------------------------------------------------------------------------- */

struct mark {
    enum cy_glyph_id glyph;
    enum cy_role_id role;
};

static struct mark mark_of(const struct cy_model *model, const struct cy_plan_job *job)
{
    if (job->done)
        return (struct mark){CY_GLYPH_DONE, CY_ROLE_GOOD};
    if (cy_plan_job_late(model->plan, job))
        return (struct mark){CY_GLYPH_LATE, CY_ROLE_LATE};
    if (job->from <= model->day && job->to >= model->day)
        return (struct mark){CY_GLYPH_OPEN, CY_ROLE_NORMAL};
    return (struct mark){CY_GLYPH_AHEAD, CY_ROLE_NORMAL};
}

/* What stands to the right: the hours, or that it is done or late. */
static void say_right(struct cy_text *out, const struct cy_model *model,
                      const struct cy_plan_job *job, bool tell_urgent)
{
    if (job->done) {
        cy_text_add(out, "done ");
        cy_say_day(out, job->done_on, false);
        return;
    }
    if (cy_plan_job_late(model->plan, job)) {
        cy_text_add_int(out, model->today - job->to);
        cy_text_add(out, " d late, ");
    } else if (job->urgent && tell_urgent) {
        cy_text_add(out, "cannot wait, ");
    }
    cy_screen_hours(out, job->hours);
    if (job->planned_from == CY_DAY_NONE)
        return;
    cy_text_add(out, ", on ");
    cy_say_day(out, job->planned_from, false);
}

/* "It cannot wait. The crew gets to it from 6 Jun to 8 Jun, 2 days late." */
static void say_planned(struct cy_text *out, const struct cy_plan_job *job)
{
    if (job->urgent && !job->done)
        cy_text_add(out, " It cannot wait.");
    if (job->planned_from == CY_DAY_NONE)
        return;
    cy_text_add(out, " The crew gets to it ");
    if (job->planned_to > job->planned_from)
        cy_text_add(out, "from ");
    else
        cy_text_add(out, "on ");
    cy_screen_span(out, job->planned_from, job->planned_to);
    if (job->late_days > 0) {
        cy_text_add(out, ", ");
        cy_text_add_int(out, job->late_days);
        cy_text_add(out, job->late_days == 1 ? " day late" : " days late");
    }
    cy_text_add(out, ".");
}

static void say_sentence(struct cy_text *out, const struct cy_model *model,
                         const struct cy_plan_job *job)
{
    cy_text_add(out, cy_job_name(model->plan, job));
    if (model->whole_farm) {
        cy_text_add(out, ", ");
        cy_text_add(out, cy_job_row_name(model->plan, job));
    }
    if (job->round > 1) {
        cy_text_add(out, ", round ");
        cy_text_add_int(out, job->round);
    }
}

/* The reason, with what stands behind the dates. */
static void say_why(struct cy_text *out, const struct cy_plan *plan, const struct cy_plan_job *job)
{
    cy_say_reason(out, plan, job);
    char *first = out->data;
    if (first && first[0] >= 'a' && first[0] <= 'z')
        first[0] = (char)(first[0] - 'a' + 'A');
    cy_text_add(out, ". [");
    cy_say_basis(out, job->basis);
    cy_text_add(out, "]");
    say_planned(out, job);
}

static int draw_job(const struct cy_screen *screen, struct cy_pane pane,
                    const struct cy_plan_job *job, int y, bool chosen, bool focused)
{
    const struct cy_model *model = &screen->model;
    struct mark mark = mark_of(model, job);
    struct cy_text right = {0}, text = {0};
    enum cy_role_id role = job->done ? CY_ROLE_FAINT : chosen ? CY_ROLE_CHOSEN : CY_ROLE_NORMAL;
    int x = 4 + DATES_WIDTH;
    say_sentence(&text, model, job);
    say_right(&right, model, job, true);
    /* Where both don't fit, which round it is says more: the chosen job's reason tells the other.
     */
    if (cy_utf8_columns(cy_text_get(&text)) + cy_utf8_columns(cy_text_get(&right)) >
        pane.rect.width - x - 2) {
        cy_text_clear(&right);
        say_right(&right, model, job, false);
    }
    cy_text_clear(&text);
    int width = cy_utf8_columns(cy_text_get(&right));
    cy_draw_glyph(pane, 2, y, mark.glyph, mark.role);
    cy_screen_span(&text, job->from, job->to);
    cy_draw_fit(pane, 4, y, DATES_WIDTH, cy_text_get(&text), role);
    cy_text_clear(&text);
    say_sentence(&text, model, job);
    cy_draw_fit(pane, x, y, pane.rect.width - x - width - 2, cy_text_get(&text), role);
    cy_draw_fit(pane, pane.rect.width - width - 1, y, width, cy_text_get(&right),
                mark.glyph == CY_GLYPH_LATE ? CY_ROLE_LATE : role);
    int lines = 1;
    if (chosen) {
        if (!on_week(screen) || !focused)
            cy_draw_glyph(pane, 1, y, CY_GLYPH_MARK, CY_ROLE_CHOSEN);
        if (focused && !on_week(screen)) {
            cy_draw_over(pane, 2, y, pane.rect.width - 3, CY_ROLE_SELECTED);
            cy_draw_cursor(pane, 1, y);
        }
        cy_text_clear(&text);
        say_why(&text, model->plan, job);
        lines += cy_draw_wrapped(pane, x, y + 1, pane.rect.height - y - 1, cy_text_get(&text),
                                 CY_ROLE_NORMAL);
    }
    cy_text_dispose(&right);
    cy_text_dispose(&text);
    return lines;
}

/* ---- the band ------------------------------------------------------------------------------- */

static size_t first_shown(const struct cy_screen *screen, struct cy_pane pane)
{
    const struct cy_plan_job *job = cy_model_job(&screen->model);
    struct cy_text text = {0};
    say_why(&text, screen->model.plan, job);
    int height = pane.rect.height - 1;
    int own = 1 + cy_draw_measure(pane, 4 + DATES_WIDTH, height, cy_text_get(&text));
    cy_text_dispose(&text);
    /* A third of what the chosen job leaves free, rounded up, shows what came before it. */
    size_t above = height > own ? (size_t)(height - own + 2) / 3 : 0;
    return screen->model.job > above ? screen->model.job - above : 0;
}

static void draw(struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    const struct cy_model *model = &screen->model;
    if (!model->plan) {
        cy_draw_heading(pane, "Jobs", "", focused);
        if (focused)
            cy_draw_cursor(pane, 1, 0);
        return;
    }
    draw_heading(screen, pane, focused);
    if (!model->job_count) {
        cy_draw_text(pane, 4, 1, "no jobs in this season", CY_ROLE_FAINT);
        return;
    }
    int y = 1;
    for (size_t i = first_shown(screen, pane); i < model->job_count && y < pane.rect.height; i++)
        y +=
            draw_job(screen, pane, &model->plan->jobs[model->jobs[i]], y, i == model->job, focused);
}

static unsigned choose(struct cy_screen *screen, long step)
{
    long count = (long)screen->model.job_count, wanted = (long)screen->model.job + step;
    screen->on_week = false;
    if (count)
        cy_model_choose_job(&screen->model, (size_t)(wanted < 0        ? 0
                                                     : wanted >= count ? count - 1
                                                                       : wanted));
    return CY_DID_REDRAW;
}

static unsigned act(struct cy_screen *screen, enum cy_action action)
{
    long page = screen->layout.band[CY_BAND_JOBS].height - 3;
    switch (action) {
    case CY_ACTION_UP:
        if (screen->model.job > 0 && !screen->on_week)
            return choose(screen, -1);
        screen->on_week = true;
        return CY_DID_REDRAW;
    case CY_ACTION_DOWN:
        return choose(screen, screen->on_week ? 0 : 1);
    case CY_ACTION_PAGE_UP:
        return choose(screen, -page);
    case CY_ACTION_PAGE_DOWN:
        return choose(screen, page);
    case CY_ACTION_FIRST:
        return choose(screen, -(long)screen->model.job_count);
    case CY_ACTION_LAST:
        return choose(screen, (long)screen->model.job_count);
    case CY_ACTION_OPEN:
        return on_week(screen) ? cy_why_week(screen) : cy_why_job(screen);
    default:
        return CY_DID_NOTHING;
    }
}

static unsigned click(struct cy_screen *screen, int x, int y)
{
    (void)x;
    if (!cy_model_job(&screen->model) || y < 1)
        return CY_DID_REDRAW;
    /* Lines below the chosen job are its own reason: a click there changes nothing. */
    struct cy_pane pane = {&screen->canvas, screen->layout.band[CY_BAND_JOBS]};
    size_t job = first_shown(screen, pane) + (size_t)y - 1;
    screen->on_week = false;
    if (job <= screen->model.job)
        cy_model_choose_job(&screen->model, job);
    return CY_DID_REDRAW;
}

const struct cy_view cy_view_jobs = {.draw = draw, .act = act, .click = click};
