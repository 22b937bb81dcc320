/* SPDX-License-Identifier: MIT
 * What one value alone cannot show: references, what must be given, what must go together. */
#include <caneyear/season/farm.h>

#include <math.h>

/* How far a key may be from the one that was meant, and how long jobs may wait for one another. */
enum { NEAR = 2, LONGEST_CHAIN = 64, MONTHS = 12 };

struct check {
    const struct cy_farm *farm;
    struct cy_issues *issues;
    bool failed;
};

/* ---- saying it ------------------------------------------------------------------------------ */

static void say(struct check *check, enum cy_issue_code code, const struct cy_thing *thing,
                enum cy_field field, const char *found, const char *allowed)
{
    check->failed = true;
    if (!check->issues)
        return;
    const struct cy_field_info *info = cy_field_info(field);
    struct cy_issue *issue = cy_issue_add(check->issues, code);
    struct cy_text name = {0};
    cy_thing_print(&name, check->farm, thing);
    issue->thing_id = thing->id;
    issue->field_id = field;
    cy_copy(issue->thing, sizeof issue->thing, cy_text_get(&name));
    cy_copy(issue->field, sizeof issue->field, info ? info->name : "");
    cy_copy(issue->found, sizeof issue->found, found);
    cy_copy(issue->allowed, sizeof issue->allowed, allowed);
    cy_text_dispose(&name);
}

static bool is_known(const struct cy_thing *thing, enum cy_field field)
{
    return cy_given(thing, field).known;
}

static void need(struct check *check, const struct cy_thing *thing, enum cy_field field)
{
    struct cy_text allowed = {0};
    if (is_known(thing, field))
        return;
    cy_field_allowed(&allowed, field, cy_farm_system(check->farm));
    say(check, CY_ISSUE_MISSING, thing, field, "", cy_text_get(&allowed));
    cy_text_dispose(&allowed);
}

/* A pair of numbers that stand the wrong way round: the field that should be the larger. */
static void say_smaller(struct check *check, const struct cy_thing *thing, enum cy_field larger,
                        enum cy_field smaller, const char *must_be)
{
    enum cy_system system = cy_farm_system(check->farm);
    const enum cy_field fields[] = {larger, smaller};
    struct cy_text found = {0}, allowed = {0};
    for (int i = 0; i < 2; i++) {
        const struct cy_field_info *info = cy_field_info(fields[i]);
        cy_text_add(&found, i ? " with " : "");
        cy_text_add(&found, info->name);
        cy_text_add_char(&found, ' ');
        cy_quantity_show(&found, cy_number(thing, fields[i]), info->quantity, NULL, system, 1);
    }
    cy_text_add(&allowed, must_be);
    cy_text_add_char(&allowed, ' ');
    cy_text_add(&allowed, cy_field_info(smaller)->name);
    say(check, CY_ISSUE_PAIR, thing, larger, cy_text_get(&found), cy_text_get(&allowed));
    cy_text_dispose(&found);
    cy_text_dispose(&allowed);
}

/* ---- references ----------------------------------------------------------------------------- */

static void say_unknown_key(struct check *check, const struct cy_thing *thing, enum cy_field field,
                            const char *key)
{
    enum cy_kind target = cy_field_info(field)->target;
    const struct cy_thing *other = NULL;
    struct cy_text allowed = {0};
    int distance = NEAR + 1;
    cy_field_allowed(&allowed, field, CY_US);
    /* Past the cap the issue is only counted: there is no use in looking for the nearest. */
    bool kept = check->issues && check->issues->count < CY_ISSUES_KEPT;
    while (kept && (other = cy_farm_next(check->farm, target, 0, other))) {
        int away = cy_edit_distance(key, other->key, distance);
        if (away < distance) {
            distance = away;
            cy_text_clear(&allowed);
            cy_text_add(&allowed, other->key);
        }
    }
    say(check, CY_ISSUE_BAD_REFERENCE, thing, field, key, cy_text_get(&allowed));
    cy_text_dispose(&allowed);
}

/* Records may speak of what was removed since; the plan may not. */
static void check_references(struct check *check, const struct cy_thing *thing)
{
    const struct cy_kind_info *kind = cy_kind_info(thing->kind);
    for (int i = 0; i < kind->field_count; i++) {
        enum cy_field field = (enum cy_field)(kind->first_field + i);
        const char *key = cy_string(thing, field);
        if (cy_field_info(field)->type != CY_TYPE_REFERENCE || !*key)
            continue;
        const struct cy_thing *target = cy_referred(check->farm, thing, field);
        if (!target)
            say_unknown_key(check, thing, field, key);
        else if (target->retired && kind->shape != CY_SHAPE_RECORD)
            say(check, CY_ISSUE_BAD_REFERENCE, thing, field, key, "one that was not removed");
    }
}

/* ---- site and weather ----------------------------------------------------------------------- */

static void check_month(struct check *check, const struct cy_thing *month, int number)
{
    static const char *const keys[MONTHS] = {"jan", "feb", "mar", "apr", "may", "jun",
                                             "jul", "aug", "sep", "oct", "nov", "dec"};
    need(check, month, CY_MONTH_LOW);
    need(check, month, CY_MONTH_HIGH);
    need(check, month, CY_MONTH_RAIN);
    if (cy_number(month, CY_MONTH_HIGH) <= cy_number(month, CY_MONTH_LOW))
        say_smaller(check, month, CY_MONTH_HIGH, CY_MONTH_LOW, "more than");
    for (int i = 0; i < MONTHS; i++)
        if (i != number && cy_streq(month->key, keys[i]))
            say(check, CY_ISSUE_PAIR, month, CY_FIELD_NONE, "a month out of its order",
                "jan to dec, in order");
}

/* The place that stands in for the farm's own weather. */
static void check_place(struct check *check, const struct cy_thing *place)
{
    const struct cy_thing *month = NULL;
    int count = 0;
    need(check, place, CY_PLACE_LATITUDE);
    while ((month = cy_farm_next(check->farm, CY_KIND_MONTH, place->id, month)))
        check_month(check, month, count++);
    if (count == MONTHS)
        return;
    struct cy_text found = {0};
    cy_text_add_int(&found, count);
    cy_text_add(&found, count == 1 ? " month" : " months");
    say(check, CY_ISSUE_MISSING, place, CY_FIELD_NONE, cy_text_get(&found), "12 months");
    cy_text_dispose(&found);
}

static void check_site(struct check *check, const struct cy_thing *site)
{
    const struct cy_thing *place = cy_farm_place(check->farm);
    if (place && !place->retired)
        check_place(check, place);
    else if (!is_known(site, CY_SITE_PLACE))
        need(check, site, CY_SITE_PLACE);
}

static void check_obstacle(struct check *check, const struct cy_thing *obstacle)
{
    need(check, obstacle, CY_OBSTACLE_FROM);
    need(check, obstacle, CY_OBSTACLE_TO);
    bool by_height = is_known(obstacle, CY_OBSTACLE_HEIGHT);
    bool by_distance = is_known(obstacle, CY_OBSTACLE_DISTANCE);
    if (is_known(obstacle, CY_OBSTACLE_ALTITUDE)) {
        if (by_height || by_distance)
            say(check, CY_ISSUE_PAIR, obstacle, CY_OBSTACLE_ALTITUDE,
                "altitude beside height or distance", "either altitude, or height and distance");
    } else if (!by_height && !by_distance) {
        say(check, CY_ISSUE_MISSING, obstacle, CY_OBSTACLE_ALTITUDE, "",
            "altitude, or height and distance");
    } else {
        need(check, obstacle, CY_OBSTACLE_HEIGHT);
        need(check, obstacle, CY_OBSTACLE_DISTANCE);
    }
}

static void check_corner(struct check *check, const struct cy_thing *corner)
{
    need(check, corner, CY_CORNER_X);
    need(check, corner, CY_CORNER_Y);
}

/* ---- canes, jobs, rows ---------------------------------------------------------------------- */

static void check_cultivar(struct check *check, const struct cy_thing *cultivar)
{
    if (is_known(cultivar, CY_CULTIVAR_CHILL) || is_known(cultivar, CY_CULTIVAR_CHILL_LOW))
        need(check, cultivar, CY_CULTIVAR_CHILL_RULE);
    if (cy_number(cultivar, CY_CULTIVAR_CHILL) < cy_number(cultivar, CY_CULTIVAR_CHILL_LOW))
        say_smaller(check, cultivar, CY_CULTIVAR_CHILL, CY_CULTIVAR_CHILL_LOW, "no less than");
}

static void check_practice(struct check *check, const struct cy_thing *practice)
{
    if (cy_number(practice, CY_PRACTICE_TIP_CEILING) <= cy_number(practice, CY_PRACTICE_TIP_HEIGHT))
        say_smaller(check, practice, CY_PRACTICE_TIP_CEILING, CY_PRACTICE_TIP_HEIGHT, "more than");
}

static void check_job(struct check *check, const struct cy_thing *job)
{
    need(check, job, CY_JOB_FROM);
    need(check, job, CY_JOB_TO);
    if (cy_choice(job, CY_JOB_FROM) == CY_MOMENT_DATE)
        need(check, job, CY_JOB_FROM_DATE);
    if (cy_choice(job, CY_JOB_TO) == CY_MOMENT_DATE)
        need(check, job, CY_JOB_TO_DATE);
    int links = 0;
    const struct cy_thing *before = cy_referred(check->farm, job, CY_JOB_AFTER);
    while (before && before != job && links++ < LONGEST_CHAIN)
        before = cy_referred(check->farm, before, CY_JOB_AFTER);
    if (before)
        say(check, CY_ISSUE_PAIR, job, CY_JOB_AFTER, "jobs that wait for each other",
            "a job that does not wait for this one");
}

static void check_missing_plants(struct check *check, const struct cy_thing *row)
{
    double length = cy_number(row, CY_ROW_LENGTH), spacing = cy_number(row, CY_ROW_SPACING);
    double missing = cy_number(row, CY_ROW_MISSING), plants = floor(length / spacing + 1e-9) + 1;
    struct cy_text found = {0}, allowed = {0};
    if (!(missing > plants))
        return;
    cy_text_add_int(&found, (long long)missing);
    cy_text_add(&found, " plants missing");
    cy_text_add(&allowed, "at most the row's ");
    cy_text_add_int(&allowed, (long long)plants);
    say(check, CY_ISSUE_PAIR, row, CY_ROW_MISSING, cy_text_get(&found), cy_text_get(&allowed));
    cy_text_dispose(&found);
    cy_text_dispose(&allowed);
}

static void check_cropping(struct check *check, const struct cy_thing *row)
{
    const struct cy_thing *cultivar = cy_referred(check->farm, row, CY_ROW_CULTIVAR);
    const struct cy_thing *practice = cy_referred(check->farm, row, CY_ROW_PRACTICE);
    int cropping = practice ? cy_choice(practice, CY_PRACTICE_CROPPING) : CY_CROPPING_UNKNOWN;
    if (cropping == CY_CROPPING_ALTERNATE)
        need(check, row, CY_ROW_PHASE);
    bool autumn = cropping == CY_CROPPING_BOTH || cropping == CY_CROPPING_AUTUMN;
    if (!autumn || !cultivar || cy_choice(cultivar, CY_CULTIVAR_FRUITING) != CY_FRUITING_FLORICANE)
        return;
    struct cy_text found = {0};
    cy_text_add(&found, cy_field_info(CY_PRACTICE_CROPPING)->choices[cropping]);
    cy_text_add(&found, " from ");
    cy_text_add(&found, cy_thing_name(cultivar));
    cy_text_add(&found, ", which fruits on last year's canes only");
    say(check, CY_ISSUE_PAIR, row, CY_ROW_PRACTICE, cy_text_get(&found),
        "a practice of the floricane crop, or a primocane-fruiting cultivar");
    cy_text_dispose(&found);
}

static void check_row(struct check *check, const struct cy_thing *row)
{
    need(check, row, CY_ROW_LENGTH);
    need(check, row, CY_ROW_CULTIVAR);
    check_missing_plants(check, row);
    check_cropping(check, row);
}

/* ---- records -------------------------------------------------------------------------------- */

/* Only the later of two records can correct the earlier. */
static void check_corrects(struct check *check, const struct cy_thing *record, enum cy_field field)
{
    const struct cy_thing *earlier = cy_referred(check->farm, record, field);
    if (earlier && earlier->order >= record->order)
        say(check, CY_ISSUE_PAIR, record, field, earlier->key, "an earlier record");
}

/* A note of water: how much, on what; rain may be that of the whole farm. */
static void check_water_note(struct check *check, const struct cy_thing *seen, int what)
{
    static const enum cy_field amounts[] = {CY_SEEN_DEPTH, CY_SEEN_VOLUME, CY_SEEN_RAN};
    int given = 0;
    bool on_row = is_known(seen, CY_SEEN_ROW), on_zone = is_known(seen, CY_SEEN_ZONE);
    for (int i = 0; i < 3; i++)
        given += is_known(seen, amounts[i]);
    if (on_row && on_zone)
        say(check, CY_ISSUE_PAIR, seen, CY_SEEN_ZONE, "a row and a zone", "the one or the other");
    if (what == CY_SIGHT_RAIN) {
        need(check, seen, CY_SEEN_DEPTH);
        if (given > 1)
            say(check, CY_ISSUE_PAIR, seen, CY_SEEN_DEPTH, "rain by more than its depth",
                "the depth in the gauge alone");
        return;
    }
    if (!on_row && !on_zone)
        say(check, CY_ISSUE_MISSING, seen, CY_SEEN_ROW, "", "a row or a zone");
    if (given == 0)
        say(check, CY_ISSUE_MISSING, seen, CY_SEEN_VOLUME, "",
            "a depth, a volume or the time that it ran");
    else if (given > 1)
        say(check, CY_ISSUE_PAIR, seen, CY_SEEN_VOLUME, "more than one amount",
            "one of depth, volume and ran");
}

static void check_seen(struct check *check, const struct cy_thing *seen)
{
    static const struct {
        enum cy_field field;
        enum cy_sight sight;
        const char *beside;
    } sizes[] = {{CY_SEEN_HEIGHT, CY_SIGHT_HEIGHT, "a height only of cane height"},
                 {CY_SEEN_COUNT, CY_SIGHT_COUNT, "a count only of cane count"},
                 {CY_SEEN_KILL, CY_SIGHT_FROST_KILL, "a share killed only of frost kill"},
                 {CY_SEEN_LOW, CY_SIGHT_NIGHT_LOW, "a low only of night low"}};
    static const enum cy_field waters[] = {CY_SEEN_ZONE, CY_SEEN_DEPTH, CY_SEEN_VOLUME,
                                           CY_SEEN_RAN};
    int what = cy_choice(seen, CY_SEEN_WHAT);
    bool water = what == CY_SIGHT_RAIN || what == CY_SIGHT_GIVEN;
    need(check, seen, CY_SEEN_DAY);
    need(check, seen, CY_SEEN_WHAT);
    if (!water)
        need(check, seen, CY_SEEN_ROW);
    for (size_t i = 0; what >= 0 && i < sizeof sizes / sizeof *sizes; i++) {
        if (what == (int)sizes[i].sight)
            need(check, seen, sizes[i].field);
        else if (is_known(seen, sizes[i].field))
            say(check, CY_ISSUE_PAIR, seen, sizes[i].field,
                cy_field_info(CY_SEEN_WHAT)->choices[what], sizes[i].beside);
    }
    if (water)
        check_water_note(check, seen, what);
    for (size_t i = 0; !water && what >= 0 && i < sizeof waters / sizeof *waters; i++)
        if (is_known(seen, waters[i]))
            say(check, CY_ISSUE_PAIR, seen, waters[i], cy_field_info(CY_SEEN_WHAT)->choices[what],
                "it only of rain or water given");
    if (what == CY_SIGHT_OTHER)
        need(check, seen, CY_SEEN_TEXT);
    check_corrects(check, seen, CY_SEEN_CORRECTS);
}

static void check_done(struct check *check, const struct cy_thing *done)
{
    need(check, done, CY_DONE_DAY);
    if (!is_known(done, CY_DONE_TEXT))
        need(check, done, CY_DONE_JOB);
    check_corrects(check, done, CY_DONE_CORRECTS);
}

/* ---- the whole ------------------------------------------------------------------------------ */

static void check_thing(struct check *check, const struct cy_thing *thing)
{
    static void (*const checks[CY_KIND_COUNT])(struct check *, const struct cy_thing *) = {
        [CY_KIND_SITE] = check_site,         [CY_KIND_OBSTACLE] = check_obstacle,
        [CY_KIND_CORNER] = check_corner,     [CY_KIND_CULTIVAR] = check_cultivar,
        [CY_KIND_PRACTICE] = check_practice, [CY_KIND_JOB] = check_job,
        [CY_KIND_ROW] = check_row,           [CY_KIND_SEEN] = check_seen,
        [CY_KIND_DONE] = check_done,
    };
    check_references(check, thing);
    if (checks[thing->kind])
        checks[thing->kind](check, thing);
}

int cy_farm_check(const struct cy_farm *farm, struct cy_issues *issues)
{
    struct check check = {farm, issues, false};
    for (size_t i = 0; i < farm->count; i++)
        if (!farm->things[i]->retired)
            check_thing(&check, farm->things[i]);
    return check.failed ? CY_INVALID : CY_OK;
}
