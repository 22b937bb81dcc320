/* SPDX-License-Identifier: MIT
 * The jobs of a plan as text: those of one kind that share a window, or are rounds of one row, are
 * said together. */
#include "words/words.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

/* A job by what it is said together with, so that a farm of any size is sorted and not searched. */
struct entry {
    int64_t kind;
    bool rounds;
    int64_t first, second; /* of rounds the row and the stage, else the window */
    size_t job, lead;      /* places in the plan; the lead is the first job of its bundle */
};

static struct entry entry_of(const struct cy_plan_job *job, size_t place)
{
    bool rounds = job->reason.kind == CY_REASON_PICKING || job->reason.kind == CY_REASON_DRY_WEEK ||
                  job->reason.kind == CY_REASON_BALANCE;
    return (struct entry){
        .kind = job->kind,
        .rounds = rounds,
        .first = rounds ? job->row : job->from,
        .second = rounds ? (int64_t)job->reason.stage : job->to,
        .job = place,
    };
}

static bool together(const struct entry *a, const struct entry *b)
{
    return a->kind == b->kind && a->rounds == b->rounds && a->first == b->first &&
           a->second == b->second;
}

static int order(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

static int by_bundle(const void *left, const void *right)
{
    const struct entry *a = left, *b = right;
    int by = order(a->kind, b->kind);
    by = by ? by : order(a->rounds, b->rounds);
    by = by ? by : order(a->first, b->first);
    by = by ? by : order(a->second, b->second);
    return by ? by : order((int64_t)a->job, (int64_t)b->job);
}

static int by_lead(const void *left, const void *right)
{
    const struct entry *a = left, *b = right;
    int by = order((int64_t)a->lead, (int64_t)b->lead);
    return by ? by : order((int64_t)a->job, (int64_t)b->job);
}

static void say_job_row(struct cy_text *out, const struct cy_plan *plan,
                        const struct cy_plan_job *job, bool ascii)
{
    cy_say_clean(out, cy_thing_name(cy_farm_by_id(&plan->farm, job->row)), ascii);
    if (job->done) {
        cy_text_add(out, " (done ");
        cy_say_day(out, job->done_on, false);
        cy_text_add(out, ")");
    } else if (job->missed) {
        cy_text_add(out, " (MISSED)");
    } else if (job->to < plan->today) {
        cy_text_add(out, " (LATE)");
    }
}

/* What jobs that are said together come to. */
struct bundle {
    int count, done, missed, unknown, unplanned;
    double hours;
    cy_basis basis;
    cy_day to, planned_from, planned_to;
    int late_days;
};

static void add_to_bundle(struct bundle *bundle, const struct cy_plan_job *job)
{
    bool to_do = !job->done && !job->missed;
    bundle->done += job->done;
    bundle->missed += job->missed;
    bundle->unknown += isnan(job->hours);
    bundle->hours += isnan(job->hours) ? 0 : job->hours;
    bundle->basis |= job->basis;
    bundle->to = job->to > bundle->to ? job->to : bundle->to;
    if (job->planned_from == CY_DAY_NONE) {
        bundle->unplanned += to_do && !isnan(job->hours);
        return;
    }
    if (bundle->planned_from == CY_DAY_NONE || job->planned_from < bundle->planned_from)
        bundle->planned_from = job->planned_from;
    if (bundle->planned_to == CY_DAY_NONE || job->planned_to > bundle->planned_to)
        bundle->planned_to = job->planned_to;
    if (job->late_days > bundle->late_days)
        bundle->late_days = job->late_days;
}

/* The rows, or the one row with its rounds. */
static void say_bundle_rows(struct cy_text *out, const struct cy_plan *plan,
                            const struct entry *entries, struct bundle *bundle, bool ascii)
{
    const struct cy_plan_job *job = &plan->jobs[entries[0].job];
    size_t count = (size_t)bundle->count;
    bool rounds = false;
    for (size_t i = 1; !rounds && i < count; i++)
        rounds = plan->jobs[entries[i].job].row == job->row;
    for (size_t i = 0; i < count; i++) {
        const struct cy_plan_job *other = &plan->jobs[entries[i].job];
        add_to_bundle(bundle, other);
        if (rounds)
            continue;
        cy_text_add(out, i > 0 ? ", " : "");
        say_job_row(out, plan, other, ascii);
    }
    if (!rounds)
        return;
    cy_say_clean(out, cy_thing_name(cy_farm_by_id(&plan->farm, job->row)), ascii);
    cy_text_add(out, ", ");
    cy_text_add_int(out, bundle->count);
    cy_text_add(out, " rounds");
    if (bundle->done) {
        cy_text_add(out, ", ");
        cy_text_add_int(out, bundle->done);
        cy_text_add(out, " done");
    }
    if (bundle->missed) {
        cy_text_add(out, ", ");
        cy_text_add_int(out, bundle->missed);
        cy_text_add(out, " MISSED");
    }
}

static void say_bundle_days(struct cy_text *out, const struct bundle *bundle)
{
    if (bundle->planned_from != CY_DAY_NONE) {
        cy_text_add(out, "\n      the crew gets to it from ");
        cy_say_day(out, bundle->planned_from, false);
        cy_text_add(out, " to ");
        cy_say_day(out, bundle->planned_to, false);
        if (bundle->late_days > 0) {
            cy_text_add(out, ", up to ");
            cy_text_add_int(out, bundle->late_days);
            cy_text_add(out, bundle->late_days == 1 ? " day LATE" : " days LATE");
        }
    }
    if (bundle->unplanned == 0)
        return;
    cy_text_add(out, "\n      the crew has no hours left for ");
    if (bundle->unplanned < bundle->count) {
        cy_text_add_int(out, bundle->unplanned);
        cy_text_add(out, " of these jobs");
    } else {
        cy_text_add(out, "it");
    }
}

static void say_bundle(struct cy_text *out, const struct cy_plan *plan, const struct entry *entries,
                       int count, bool ascii)
{
    const struct cy_plan_job *job = &plan->jobs[entries[0].job];
    struct bundle bundle = {
        .count = count, .to = job->to, .planned_from = CY_DAY_NONE, .planned_to = CY_DAY_NONE};
    struct cy_text rows = {0};
    say_bundle_rows(&rows, plan, entries, &bundle, ascii);
    size_t start = out->length;
    cy_text_add(out, "  ");
    cy_say_day(out, job->from, cy_day_year(job->from) != cy_day_year(bundle.to));
    cy_text_add(out, " to ");
    cy_say_day(out, bundle.to, true);
    cy_text_pad(out, start, 30);
    cy_text_add(out, cy_text_get(&rows));
    cy_text_add(out, ": ");
    if (bundle.unknown < bundle.count) {
        cy_text_add_fixed(out, bundle.hours, 1);
        cy_text_add(out, " h");
    } else {
        cy_text_add(out, "nobody gave hours");
    }
    cy_say_behind(out, bundle.basis);
    cy_text_add(out, "\n      ");
    cy_say_reason(out, plan, job);
    say_bundle_days(out, &bundle);
    cy_text_add_char(out, '\n');
    cy_text_dispose(&rows);
}

/* A kind of work's name, its reason and its care. */
static void say_kind(struct cy_text *out, const struct cy_thing *kind, bool ascii)
{
    static const enum cy_field fields[] = {CY_JOB_WHY, CY_JOB_CAUTION};
    static const char *const labels[] = {"  Why: ", "  Take care: "};
    cy_text_add_char(out, '\n');
    cy_say_clean(out, cy_thing_name(kind), ascii);
    cy_text_add_char(out, '\n');
    for (int field = 0; field < 2; field++) {
        const char *words = cy_string(kind, fields[field]);
        if (!*words)
            continue;
        cy_text_add(out, labels[field]);
        cy_say_clean(out, words, ascii);
        cy_text_add_char(out, '\n');
    }
}

/* The kinds of work in the order of the file, each with its bundles by their first job. */
static void say_sorted(struct cy_text *out, const struct cy_plan *plan, struct entry *entries,
                       bool ascii)
{
    size_t count = plan->job_count;
    qsort(entries, count, sizeof *entries, by_bundle);
    for (size_t i = 0, lead = 0; i < count; i++) {
        if (!together(&entries[lead], &entries[i]))
            lead = i;
        entries[i].lead = entries[lead].job;
    }
    qsort(entries, count, sizeof *entries, by_lead);
    for (const struct cy_thing *kind = NULL;
         (kind = cy_farm_next(&plan->farm, CY_KIND_JOB, 0, kind));) {
        bool named = false;
        for (size_t i = 0, end; i < count; i = end) {
            for (end = i + 1; end < count && entries[end].lead == entries[i].lead; end++)
                ;
            if (entries[i].kind != kind->id)
                continue;
            if (!named)
                say_kind(out, kind, ascii);
            named = true;
            say_bundle(out, plan, &entries[i], (int)(end - i), ascii);
        }
    }
}

void cy_say_jobs(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    struct entry *entries = cy_zeroed(plan->job_count, sizeof *entries);
    if (!entries) {
        out->failed = true;
        return;
    }
    for (size_t i = 0; i < plan->job_count; i++)
        entries[i] = entry_of(&plan->jobs[i], i);
    say_sorted(out, plan, entries, ascii);
    free(entries);
}
