/* SPDX-License-Identifier: MIT
 * The records that count, and what they say of a row's canes. */
#include "season/plan_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/crop/calendar.h>
#include <caneyear/crop/yield.h>

/* In a mild autumn new canes go on fruiting this long after nominal leaf fall. */
enum { LATE_AUTUMN_DAYS = 60 };

/* Northern days: from the first a frost is an autumn's; from the second canes that are counted are
 * the new ones. */
enum { LATE_SUMMER = 901, MIDSUMMER = 701 };

/* ---- by row, without those that were corrected ---------------------------------------------- */

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static int by_row(const void *a, const void *b)
{
    const struct cy_record *left = a, *right = b;
    int order = strcmp(left->row, right->row);
    if (order != 0)
        return order;
    return (left->thing->order > right->thing->order) - (left->thing->order < right->thing->order);
}

/* Gathers all records, and the keys of those that later ones correct. */
static void gather(struct cy_records *out, const char **corrected, size_t *corrected_count,
                   const struct cy_farm *farm, enum cy_kind kind)
{
    bool seen = kind == CY_KIND_SEEN;
    for (const struct cy_thing *thing = NULL; (thing = cy_farm_next(farm, kind, 0, thing));) {
        const char *corrects = cy_string(thing, seen ? CY_SEEN_CORRECTS : CY_DONE_CORRECTS);
        if (*corrects)
            corrected[(*corrected_count)++] = corrects;
        out->items[out->count++] =
            (struct cy_record){cy_string(thing, seen ? CY_SEEN_ROW : CY_DONE_ROW), thing};
    }
}

int cy_records_gather(struct cy_records *out, const struct cy_farm *farm, enum cy_kind kind)
{
    size_t room = (size_t)cy_farm_count(farm, kind, 0), corrected_count = 0, count = 0;
    const char **corrected = cy_zeroed(room, sizeof *corrected);
    *out = (struct cy_records){.items = cy_zeroed(room, sizeof *out->items)};
    if (!corrected || !out->items) {
        free(corrected);
        cy_records_dispose(out);
        return CY_NO_MEMORY;
    }
    gather(out, corrected, &corrected_count, farm, kind);
    if (corrected_count > 1)
        qsort(corrected, corrected_count, sizeof *corrected, by_text);
    for (size_t i = 0; i < out->count; i++) {
        const char *key = out->items[i].thing->key;
        if (corrected_count == 0 ||
            !bsearch(&key, corrected, corrected_count, sizeof *corrected, by_text))
            out->items[count++] = out->items[i];
    }
    out->count = count;
    if (count > 1)
        qsort(out->items, count, sizeof *out->items, by_row);
    free(corrected);
    return CY_OK;
}

void cy_records_dispose(struct cy_records *records)
{
    free(records->items);
    *records = (struct cy_records){0};
}

size_t cy_records_of_row(const struct cy_record **out, const struct cy_records *records,
                         const char *row)
{
    size_t low = 0, high = records->count, count = 0;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (strcmp(records->items[middle].row, row) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    while (low + count < records->count && cy_streq(records->items[low + count].row, row))
        count++;
    *out = records->items + low;
    return count;
}

/* ---- what was seen -------------------------------------------------------------------------- */

struct sight {
    enum cy_stage stage; /* CY_STAGE_COUNT: no stage */
    int season_after;    /* 1 where it is seen in the season after the cohort emerged */
    int late_days;       /* how long after leaf fall it still belongs to the season before */
};

static struct sight sight_of(int what)
{
    switch (what) {
    case CY_SIGHT_EMERGENCE:
        return (struct sight){CY_STAGE_EMERGENCE, 0, 0};
    case CY_SIGHT_BUD_BREAK:
        return (struct sight){CY_STAGE_BUD_BREAK, 1, 0};
    case CY_SIGHT_FIRST_BLOOM:
    case CY_SIGHT_FULL_BLOOM:
        return (struct sight){CY_STAGE_BLOOM, 1, 0};
    case CY_SIGHT_FIRST_RIPE:
        return (struct sight){CY_STAGE_FIRST_PICK, 1, 0};
    case CY_SIGHT_LAST_RIPE:
        return (struct sight){CY_STAGE_LAST_PICK, 1, 0};
    case CY_SIGHT_AUTUMN_BLOOM:
        return (struct sight){CY_STAGE_AUTUMN_BLOOM, 0, LATE_AUTUMN_DAYS};
    case CY_SIGHT_AUTUMN_FIRST_RIPE:
        return (struct sight){CY_STAGE_AUTUMN_FIRST_PICK, 0, LATE_AUTUMN_DAYS};
    default:
        return (struct sight){CY_STAGE_COUNT, 0, 0};
    }
}

static void take_height(struct cy_sightings *out, const struct cy_thing *note, cy_day day)
{
    double height_m = cy_number(note, CY_SEEN_HEIGHT);
    if (!isnan(height_m) &&
        (out->first_height_day == CY_DAY_NONE || day < out->first_height_day)) {
        out->first_height_day = day;
        out->first_height_m = height_m;
    }
    if (isnan(height_m) || (out->height_day != CY_DAY_NONE && day < out->height_day))
        return;
    out->height_day = day;
    out->height_m = height_m;
}

static void take_sight(struct cy_sightings *out, int what, enum cy_stage stage, cy_day day)
{
    bool first_bloom = what == CY_SIGHT_FIRST_BLOOM;
    bool have_full = out->stage[CY_STAGE_BLOOM] != CY_DAY_NONE && !out->half_bloom_guessed;
    if (first_bloom && have_full)
        return;
    if (first_bloom)
        day += (cy_day)cy_life_constant(CY_LIFE_FIRST_TO_HALF_BLOOM)->value;
    if (stage == CY_STAGE_BLOOM)
        out->half_bloom_guessed = first_bloom;
    out->stage[stage] = day;
}

/* A share killed is of last year's canes' buds and flowers, from leaf fall on; from late summer
 * on it is of the autumn crop. The later note counts. */
static void take_killed(struct cy_sightings *out, const struct cy_row_facts *facts,
                        const struct cy_thing *note, cy_day day, int year)
{
    double killed = cy_number(note, CY_SEEN_KILL);
    int season = cy_season_of(facts->latitude_deg, day);
    bool autumn = day >= cy_season_day(facts->latitude_deg, season, LATE_SUMMER, true);
    cy_day *at = autumn ? &out->autumn_killed_day : &out->killed_day;
    if (isnan(killed) || season != year + !autumn || (*at != CY_DAY_NONE && day < *at))
        return;
    *at = day;
    *(autumn ? &out->autumn_killed : &out->killed) = killed;
}

void cy_row_sightings(struct cy_sightings *out, const struct cy_records *seen,
                      const struct cy_row_facts *facts, int year, cy_day today)
{
    const struct cy_record *records;
    size_t count = cy_records_of_row(&records, seen, facts->row->key);
    cy_sightings_clear(out);
    for (size_t i = 0; i < count; i++) {
        const struct cy_thing *note = records[i].thing;
        cy_day day = cy_date(note, CY_SEEN_DAY);
        int what = cy_choice(note, CY_SEEN_WHAT);
        struct sight sight = sight_of(what);
        if (what == CY_SIGHT_FROST_KILL && day != CY_DAY_NONE && day <= today)
            take_killed(out, facts, note, day, year);
        if (day == CY_DAY_NONE || day > today ||
            cy_season_of(facts->latitude_deg, day - sight.late_days) != year + sight.season_after)
            continue;
        if (what == CY_SIGHT_HEIGHT)
            take_height(out, note, day);
        else if (sight.stage != CY_STAGE_COUNT)
            take_sight(out, what, sight.stage, day);
    }
}

/* ---- canes that were counted ---------------------------------------------------------------- */

static bool counts_cohort(const struct cy_row_facts *facts, cy_day day, int year)
{
    int season = cy_season_of(facts->latitude_deg, day);
    bool young = facts->traits.cropping == CY_CROPPING_AUTUMN ||
                 day >= cy_season_day(facts->latitude_deg, season, MIDSUMMER, true);
    return (young ? season : season - 1) == year;
}

double cy_row_counted(cy_basis *basis, const struct cy_records *seen,
                      const struct cy_row_facts *facts, int year, cy_day today)
{
    const struct cy_record *records;
    size_t count = cy_records_of_row(&records, seen, facts->row->key);
    cy_day last = CY_DAY_NONE;
    double counted = NAN;
    for (size_t i = 0; i < count; i++) {
        const struct cy_thing *note = records[i].thing;
        cy_day day = cy_date(note, CY_SEEN_DAY);
        double canes = cy_number(note, CY_SEEN_COUNT);
        if (cy_choice(note, CY_SEEN_WHAT) != CY_SIGHT_COUNT || isnan(canes) || day == CY_DAY_NONE ||
            day > today || day < last || !counts_cohort(facts, day, year))
            continue;
        last = day;
        counted = canes;
    }
    struct cy_given kept = cy_given(facts->practice, CY_PRACTICE_CANES);
    struct cy_given spacing = cy_given(facts->row, CY_ROW_SPACING);
    *basis = CY_BASIS_OBSERVED | kept.basis | spacing.basis;
    double share = counted / (cy_yield_plants(facts->length_m, spacing.number) * kept.number);
    return share > 1 ? 1 : share;
}
