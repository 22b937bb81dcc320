/* SPDX-License-Identifier: MIT
 * Station weather in the farm file: batches that never change, each a few days more than its
 * base. */
#include "store/farmfile_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <caneyear/base/array.h>
#include <caneyear/climate/gaps.h>

enum { FIGURES = 6, FIRST_OF_AIR = 3, MOST_DAYS = 150000, DAYS_A_TICK = 1024 };

/* What is stored is a whole number of these. */
static const double PARTS = 1000;

static const struct {
    int64_t low, high;
} ranges[FIGURES] = {{-90000, 60000}, {-90000, 60000},  {0, 2000000},
                     {0, 75000},      {-150000, 60000}, {0, 24000}};

struct batch {
    int64_t id, base; /* base 0: none */
    char station[64];
    cy_day first, last;
};

static int damaged(const struct cy_file *file, const char *found, cy_day day,
                   struct cy_issues *issues)
{
    struct cy_text text = {0};
    cy_text_add(&text, found);
    if (day != CY_DAY_NONE)
        cy_text_add_day(&text, day);
    int status = cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, cy_text_get(&text), "", issues);
    cy_text_dispose(&text);
    return status;
}

static int fail(const struct cy_file *file, struct cy_issues *issues)
{
    return cy_file_fail(file, sqlite3_extended_errcode(file->db), issues);
}

static double *const *figures_of(double *out[FIGURES], const struct cy_weather *weather)
{
    out[0] = weather->tmin_c;
    out[1] = weather->tmax_c;
    out[2] = weather->rain_mm;
    out[3] = weather->wind_m_s;
    out[4] = weather->dew_c;
    out[5] = weather->sun_h;
    return out;
}

static int init_days(struct cy_weather *out, cy_day first, cy_day last)
{
    int status = cy_weather_init(out, first, last - first + 1);
    for (int i = 0; status == CY_OK && i < out->days; i++)
        out->tmin_c[i] = out->tmax_c[i] = out->rain_mm[i] = NAN;
    return status;
}

/* ---- reading -------------------------------------------------------------------------------- */

static int read_batch(struct cy_file *file, struct batch *out, int64_t id, struct cy_issues *issues)
{
    sqlite3_stmt *statement = cy_sql(file, CY_SQL_READ_BATCH);
    if (!statement)
        return fail(file, issues);
    sqlite3_bind_int64(statement, 1, id);
    int result = sqlite3_step(statement);
    int64_t first = sqlite3_column_int64(statement, 2), last = sqlite3_column_int64(statement, 3);
    const char *station = (const char *)sqlite3_column_text(statement, 1);
    *out = (struct batch){.id = id, .base = sqlite3_column_int64(statement, 0)};
    cy_copy(out->station, sizeof out->station, station ? station : "");
    cy_sql_done(statement);
    if (result != SQLITE_ROW && result != SQLITE_DONE)
        return cy_file_fail(file, result, issues);
    if (result == SQLITE_DONE || out->base >= id || out->base < 0)
        return damaged(file, "a batch of weather stands on one that is not there", CY_DAY_NONE,
                       issues);
    if (first < cy_day_of(CY_YEAR_MIN, 1, 1) || last > cy_day_of(CY_YEAR_MAX, 12, 31) ||
        last < first || last - first >= MOST_DAYS)
        return damaged(file, "a batch of weather has a span that cannot be", CY_DAY_NONE, issues);
    out->first = (cy_day)first;
    out->last = (cy_day)last;
    return CY_OK;
}

/* A figure of a row in hand; NAN where there is none. False where it cannot be one. */
static bool read_figure(double *out, sqlite3_stmt *row, int figure)
{
    int column = figure % FIRST_OF_AIR + 1;
    *out = NAN;
    if (sqlite3_column_type(row, column) == SQLITE_NULL)
        return true;
    int64_t parts = sqlite3_column_int64(row, column);
    *out = (double)parts / PARTS;
    return sqlite3_column_type(row, column) == SQLITE_INTEGER && parts >= ranges[figure].low &&
           parts <= ranges[figure].high;
}

/* The figures of a row of days, or of their air. */
static bool read_day(double out[FIGURES], sqlite3_stmt *row, int first)
{
    bool good = true;
    for (int f = first; f < first + FIRST_OF_AIR; f++)
        good &= read_figure(&out[f], row, f);
    return good && (first > 0 || !(out[0] > out[1]));
}

/* The batch's own days, or their air, laid over `into` (or NULL, to look at them only), which
 * covers them. `first` is the first of their figures. */
static int read_rows(struct cy_file *file, const struct batch *batch, struct cy_weather *into,
                     int first, struct cy_issues *issues)
{
    double *to[FIGURES] = {0}, figures[FIGURES];
    sqlite3_stmt *statement =
        cy_sql(file, first == 0 ? CY_SQL_READ_BATCH_DAYS : CY_SQL_READ_BATCH_AIR);
    if (!statement)
        return fail(file, issues);
    if (into)
        figures_of(to, into);
    sqlite3_bind_int64(statement, 1, batch->id);
    int64_t before = INT64_MIN;
    int result, status = CY_OK;
    while (status == CY_OK && (result = sqlite3_step(statement)) == SQLITE_ROW) {
        int64_t day = sqlite3_column_int64(statement, 0);
        if (day <= before || day < batch->first || day > batch->last)
            status = damaged(file, "weather stands out of its order", CY_DAY_NONE, issues);
        else if (!read_day(figures, statement, first))
            status = damaged(file, "weather that cannot be, on ", (cy_day)day, issues);
        for (int f = first; f < first + FIRST_OF_AIR && into && status == CY_OK; f++)
            to[f][day - into->first] = figures[f];
        before = day;
    }
    if (status == CY_OK && result != SQLITE_DONE)
        status = cy_file_fail(file, result, issues);
    cy_sql_done(statement);
    return status;
}

/* Files of version 1 hold no air. */
static int has_air(bool *out, struct cy_file *file, struct cy_issues *issues)
{
    int64_t version = 0;
    int result = cy_sql_number(file, CY_SQL_VERSION, &version);
    *out = version >= 2;
    return result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
}

static int read_days(struct cy_file *file, const struct batch *batch, struct cy_weather *into,
                     struct cy_issues *issues)
{
    bool air = false;
    int status = read_rows(file, batch, into, 0, issues);
    if (status == CY_OK)
        status = has_air(&air, file, issues);
    return status == CY_OK && air ? read_rows(file, batch, into, FIRST_OF_AIR, issues) : status;
}

struct chain {
    struct batch *batches; /* the newest first */
    size_t count, capacity;
};

/* A batch and what it stands on; ids fall, so it ends. */
static int read_chain(struct cy_file *file, struct chain *out, int64_t id, struct cy_issues *issues)
{
    int status = CY_OK;
    while (status == CY_OK && id != 0) {
        if (!cy_grow(&out->batches, &out->capacity, out->count, sizeof *out->batches))
            return CY_NO_MEMORY;
        struct batch *batch = &out->batches[out->count];
        status = read_batch(file, batch, id, issues);
        if (status == CY_OK && out->count > 0 &&
            (batch->first < batch[-1].first || batch->last > batch[-1].last))
            status =
                damaged(file, "a batch of weather is shorter than its base", CY_DAY_NONE, issues);
        out->count++;
        id = batch->base;
    }
    return status;
}

/* All that a batch says, as observed. *tip is the batch itself. */
static int load(struct cy_file *file, struct cy_weather *out, struct batch *tip, int64_t id,
                struct cy_issues *issues)
{
    struct chain chain = {0};
    *out = (struct cy_weather){0};
    int status = read_chain(file, &chain, id, issues);
    if (status == CY_OK) {
        *tip = chain.batches[0];
        status = init_days(out, tip->first, tip->last);
    }
    for (size_t i = chain.count; i > 0 && status == CY_OK; i--)
        status = read_days(file, &chain.batches[i - 1], out, issues);
    free(chain.batches);
    if (status != CY_OK)
        cy_weather_dispose(out);
    return status;
}

/* ---- what the farm points at ---------------------------------------------------------------- */

static const char *pointer_of(const struct cy_farm *farm)
{
    return cy_string(cy_farm_one(farm, CY_KIND_SITE), CY_SITE_STATION);
}

/* The batch that the farm points at, or 0: a farm made from YAML may name what it does not hold. */
static int find_batch(struct cy_file *file, int64_t *out, struct cy_issues *issues)
{
    const char *key = pointer_of(&file->farm);
    *out = 0;
    if (*key == '\0')
        return CY_OK;
    sqlite3_stmt *statement = cy_sql(file, CY_SQL_FIND_BATCH);
    if (!statement)
        return fail(file, issues);
    sqlite3_bind_text(statement, 1, key, -1, SQLITE_STATIC);
    int result = sqlite3_step(statement);
    if (result == SQLITE_ROW)
        *out = sqlite3_column_int64(statement, 0);
    cy_sql_done(statement);
    return result == SQLITE_ROW || result == SQLITE_DONE ? CY_OK
                                                         : cy_file_fail(file, result, issues);
}

int cy_file_follow_weather(struct cy_file *file, struct cy_issues *issues)
{
    const char *key = pointer_of(&file->farm);
    struct cy_weather weather = {0};
    struct batch tip;
    int64_t id;
    if (cy_streq(file->weather_key, key)) /* batches never change */
        return CY_OK;
    int status = find_batch(file, &id, issues);
    if (status == CY_OK && id != 0)
        status = load(file, &weather, &tip, id, issues);
    if (status != CY_OK)
        return status;
    cy_gaps_fill(NULL, &weather, CY_GAPS_FILLED);
    cy_weather_dispose(&file->weather);
    file->weather = weather;
    cy_copy(file->weather_key, sizeof file->weather_key, id != 0 ? key : "");
    return CY_OK;
}

const struct cy_weather *cy_file_weather(const struct cy_file *file)
{
    if (!file || file->weather_key[0] == '\0' ||
        !cy_streq(file->weather_key, pointer_of(&file->farm)))
        return NULL;
    return &file->weather;
}

int cy_file_check_weather(struct cy_file *file, struct cy_issues *issues)
{
    sqlite3_stmt *statement = cy_sql(file, CY_SQL_LIST_BATCHES);
    int result = SQLITE_DONE, status = statement ? CY_OK : fail(file, issues);
    while (status == CY_OK && (result = sqlite3_step(statement)) == SQLITE_ROW) {
        struct batch batch;
        status = read_batch(file, &batch, sqlite3_column_int64(statement, 0), issues);
        if (status == CY_OK)
            status = read_days(file, &batch, NULL, issues);
    }
    if (status == CY_OK && result != SQLITE_DONE)
        status = cy_file_fail(file, result, issues);
    cy_sql_done(statement);
    return status;
}

/* ---- joining -------------------------------------------------------------------------------- */

/* The days before and those that come in, as one run. */
struct joint {
    struct cy_weather days;
    uint8_t *changed; /* of each day */
    bool newer_wins;
    struct cy_weather_added *report;
};

static bool same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/* The figures of a day that count, of the older and the newer; whether they conflict. */
static bool settle(double out[FIGURES], const double older[FIGURES], const double newer[FIGURES],
                   bool newer_wins)
{
    bool conflict = false;
    for (int f = 0; f < FIGURES; f++) {
        bool both = !isnan(older[f]) && !isnan(newer[f]);
        conflict |= both && older[f] != newer[f];
        out[f] = isnan(older[f]) || (both && newer_wins) ? newer[f] : older[f];
    }
    if (!(out[0] > out[1]))
        return conflict;
    /* A minimum of the one above a maximum of the other: they are not halves of one day. */
    out[0] = newer_wins ? newer[0] : older[0];
    out[1] = newer_wins ? newer[1] : older[1];
    return true;
}

static void join_day(struct joint *joint, cy_day day, const double newer[FIGURES])
{
    struct cy_weather_added *report = joint->report;
    double *to[FIGURES], older[FIGURES], settled[FIGURES];
    int i = day - joint->days.first;
    bool had_any = false, changed = false;
    figures_of(to, &joint->days);
    for (int f = 0; f < FIGURES; f++) {
        older[f] = to[f][i];
        had_any |= !isnan(older[f]);
    }
    if (settle(settled, older, newer, joint->newer_wins) && report->conflicts++ == 0) {
        report->older.day = report->newer.day = day;
        memcpy(report->older.figure, older, sizeof older);
        memcpy(report->newer.figure, newer, sizeof older);
    }
    for (int f = 0; f < FIGURES; f++) {
        changed |= !same(older[f], settled[f]);
        to[f][i] = settled[f];
    }
    joint->changed[i] = changed;
    report->new_days += changed && !had_any;
    report->completed += changed && had_any;
}

static void join_days(struct joint *joint, const struct cy_weather *days)
{
    double *from[FIGURES], newer[FIGURES];
    figures_of(from, days);
    for (int j = 0; j < days->days; j++) {
        for (int f = 0; f < FIGURES; f++)
            newer[f] = round(from[f][j] * PARTS) / PARTS;
        join_day(joint, days->first + j, newer);
    }
}

/* `older` may be empty. */
static int join(struct joint *out, const struct cy_weather *older, const struct cy_weather *newer)
{
    cy_day first = newer->first, last = newer->first + newer->days - 1;
    if (older->days > 0 && older->first < first)
        first = older->first;
    if (older->days > 0 && older->first + older->days - 1 > last)
        last = older->first + older->days - 1;
    if (last - first >= MOST_DAYS)
        return CY_INVALID;
    int status = init_days(&out->days, first, last);
    out->changed = cy_zeroed((size_t)(last - first + 1), 1);
    if (status != CY_OK || !out->changed)
        return CY_NO_MEMORY;
    double *from[FIGURES], *to[FIGURES];
    figures_of(from, older);
    figures_of(to, &out->days);
    for (int f = 0; f < FIGURES && older->days > 0; f++)
        memcpy(to[f] + (older->first - first), from[f], (size_t)older->days * sizeof **to);
    join_days(out, newer);
    return CY_OK;
}

static void joint_dispose(struct joint *joint)
{
    cy_weather_dispose(&joint->days);
    free(joint->changed);
}

/* ---- writing -------------------------------------------------------------------------------- */

static const char *last_part(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* A key from what a station or its file is called: "usw00013743-3" of batch 3. */
static void add_key(struct cy_text *key, const char *station, const char *path, int64_t id)
{
    enum { LONGEST = 40, NUMBER = 20 };
    const char *name = *station ? station : last_part(path);
    size_t length = *station ? strlen(name) : strcspn(name, ".");
    for (size_t i = 0; i < length && key->length < LONGEST - NUMBER; i++) {
        char c = name[i] >= 'A' && name[i] <= 'Z' ? (char)(name[i] - 'A' + 'a') : name[i];
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))
            cy_text_add_char(key, c);
        else if (key->length > 0 && key->data[key->length - 1] != '-')
            cy_text_add_char(key, '-');
    }
    if (key->length == 0)
        cy_text_add(key, "station");
    if (key->data && key->data[key->length - 1] != '-')
        cy_text_add_char(key, '-');
    cy_text_add_int(key, id);
}

static void add_hex(struct cy_text *text, uint64_t number)
{
    for (int shift = 60; shift >= 0; shift -= 4)
        cy_text_add_char(text, "0123456789abcdef"[number >> shift & 15]);
}

static int write_batch(struct cy_file *file, const struct batch *batch, const char *key,
                       const struct cy_weather_source *source, const char *author)
{
    sqlite3_stmt *statement = cy_sql(file, CY_SQL_ADD_BATCH);
    struct cy_text name = {0}, hash = {0};
    const char *path = last_part(source->path);
    if (!statement)
        return sqlite3_extended_errcode(file->db);
    cy_text_add_clean(&name, path, strlen(path), false);
    add_hex(&hash, source->hash);
    sqlite3_bind_int64(statement, 1, batch->id);
    sqlite3_bind_text(statement, 2, key, -1, SQLITE_STATIC);
    if (batch->base != 0)
        sqlite3_bind_int64(statement, 3, batch->base);
    sqlite3_bind_text(statement, 4, batch->station, -1, SQLITE_STATIC);
    sqlite3_bind_text(statement, 5, cy_text_get(&name), -1, SQLITE_STATIC);
    sqlite3_bind_text(statement, 6, cy_text_get(&hash), -1, SQLITE_STATIC);
    sqlite3_bind_int64(statement, 7, batch->first);
    sqlite3_bind_int64(statement, 8, batch->last);
    sqlite3_bind_text(statement, 9, author, -1, SQLITE_STATIC);
    sqlite3_bind_int64(statement, 10, time(NULL));
    int result = cy_sql_run(statement);
    cy_text_dispose(&name);
    cy_text_dispose(&hash);
    return result;
}

static int write_row(struct cy_file *file, int64_t batch, const struct cy_weather *days, int i,
                     int first)
{
    double *figures[FIGURES];
    sqlite3_stmt *statement =
        cy_sql(file, first == 0 ? CY_SQL_ADD_BATCH_DAY : CY_SQL_ADD_BATCH_AIR);
    if (!statement)
        return sqlite3_extended_errcode(file->db);
    figures_of(figures, days);
    sqlite3_bind_int64(statement, 1, batch);
    sqlite3_bind_int64(statement, 2, days->first + i);
    for (int f = first; f < first + FIRST_OF_AIR; f++) {
        if (isnan(figures[f][i]))
            sqlite3_bind_null(statement, 3 + f - first);
        else
            sqlite3_bind_int64(statement, 3 + f - first, llround(figures[f][i] * PARTS));
    }
    int result = sqlite3_step(statement);
    sqlite3_reset(statement);
    return result == SQLITE_DONE ? SQLITE_OK : result;
}

static bool has_any_air(const struct cy_weather *days, int i)
{
    return !isnan(days->wind_m_s[i]) || !isnan(days->dew_c[i]) || !isnan(days->sun_h[i]);
}

static int write_day(struct cy_file *file, int64_t batch, const struct cy_weather *days, int i)
{
    int result = write_row(file, batch, days, i, 0);
    return result == SQLITE_OK && has_any_air(days, i)
               ? write_row(file, batch, days, i, FIRST_OF_AIR)
               : result;
}

/* Brings a file of version 1 up to this one where the days need it: inside their write. */
static int make_room_for_air(struct cy_file *file, const struct joint *joint,
                             struct cy_issues *issues)
{
    bool air = false, needed = false;
    int status = has_air(&air, file, issues), result = SQLITE_OK;
    for (int i = 0; i < joint->days.days && !needed; i++)
        needed = joint->changed[i] && has_any_air(&joint->days, i);
    if (status != CY_OK || air || !needed)
        return status;
    for (int i = cy_sql_schema_count(1); i < cy_sql_schema_count(2) && result == SQLITE_OK; i++)
        result = sqlite3_exec(file->db, cy_sql_schema(i), NULL, NULL, NULL);
    if (result == SQLITE_OK)
        result = sqlite3_exec(file->db, "PRAGMA user_version = 2", NULL, NULL, NULL);
    return result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
}

static int write_days(struct cy_file *file, int64_t batch, const struct joint *joint,
                      const struct cy_weather_source *source, struct cy_issues *issues)
{
    int days = joint->days.days, result = SQLITE_OK;
    for (int i = 0; i < days && result == SQLITE_OK; i++) {
        if (i % DAYS_A_TICK == 0 && source->progress &&
            !source->progress((double)i / days, source->payload))
            return CY_CANCELLED;
        if (joint->changed[i])
            result = write_day(file, batch, &joint->days, i);
    }
    return result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
}

static int point_at(struct cy_file *file, struct cy_step *step, struct cy_text *key,
                    struct cy_issues *issues)
{
    struct cy_value value = {.set = true, .text = key->data, .basis = CY_BASIS_GROWER};
    int64_t site = cy_farm_one(&file->farm, CY_KIND_SITE)->id;
    int status = cy_step_set(step, &file->farm, site, CY_SITE_STATION, &value);
    return status == CY_OK ? cy_file_put_step(file, step, "edit", issues) : status;
}

static int write_all(struct cy_file *file, const struct batch *batch, struct cy_text *key,
                     const struct joint *joint, const struct cy_weather_source *source,
                     struct cy_step *step, struct cy_issues *issues)
{
    if (key->failed)
        return CY_NO_MEMORY;
    int result = write_batch(file, batch, cy_text_get(key), source, step->author);
    if (result != SQLITE_OK)
        return cy_file_fail(file, result, issues);
    int status = make_room_for_air(file, joint, issues);
    if (status == CY_OK)
        status = write_days(file, batch->id, joint, source, issues);
    return status == CY_OK ? point_at(file, step, key, issues) : status;
}

/* Inside a write: the new batch and the step that points at it. */
static int put_batch(struct cy_file *file, const struct batch *base, const struct joint *joint,
                     const struct cy_weather_source *source, struct cy_step *step,
                     struct cy_issues *issues)
{
    struct cy_text key = {0};
    struct batch batch = {.base = base->id,
                          .first = joint->days.first,
                          .last = joint->days.first + joint->days.days - 1};
    int result = cy_sql_number(file, CY_SQL_LAST_BATCH, &batch.id);
    if (result != SQLITE_OK)
        return cy_file_fail(file, result, issues);
    batch.id++;
    cy_copy(batch.station, sizeof batch.station,
            *source->station ? source->station : base->station);
    add_key(&key, batch.station, source->path, batch.id);
    int status = write_all(file, &batch, &key, joint, source, step, issues);
    cy_text_dispose(&key);
    return status;
}

/* The days to join to: none where the farm has none, or another station's. */
static int load_base(struct cy_file *file, struct cy_weather *out, struct batch *base,
                     const struct cy_weather_source *source, struct cy_weather_added *report,
                     struct cy_issues *issues)
{
    int64_t id;
    *out = (struct cy_weather){0};
    *base = (struct batch){0};
    int status = find_batch(file, &id, issues);
    if (status != CY_OK || id == 0)
        return status;
    status = load(file, out, base, id, issues);
    if (status != CY_OK)
        return status;
    cy_copy(report->before, sizeof report->before, base->station);
    if (*source->station == '\0' || cy_streq(source->station, base->station))
        return CY_OK;
    report->anew = true;
    cy_weather_dispose(out);
    *base = (struct batch){0};
    return CY_OK;
}

static bool any_day(const struct joint *joint)
{
    return memchr(joint->changed, 1, (size_t)joint->days.days) != NULL;
}

static int add(struct cy_file *file, const struct cy_weather_source *source, struct cy_step *step,
               struct cy_weather_added *report, struct cy_issues *issues)
{
    struct cy_weather older;
    struct batch base;
    struct joint joint = {.newer_wins = source->newer_wins, .report = report};
    int status = load_base(file, &older, &base, source, report, issues);
    if (status == CY_OK)
        status = join(&joint, &older, source->days);
    if (status == CY_OK && any_day(&joint)) {
        report->changed = true;
        status = put_batch(file, &base, &joint, source, step, issues);
    }
    joint_dispose(&joint);
    cy_weather_dispose(&older);
    return status;
}

int cy_file_weather_add(struct cy_file *file, const struct cy_weather_source *source,
                        const char *author, struct cy_weather_added *report,
                        struct cy_issues *issues)
{
    struct cy_step step = {0};
    struct cy_text station = {0};
    struct cy_weather_source clean = *source;
    *report = (struct cy_weather_added){.older.day = CY_DAY_NONE, .newer.day = CY_DAY_NONE};
    if (source->days->days < 1 || source->days->days >= MOST_DAYS)
        return CY_INVALID;
    int status = cy_file_begin(file, issues);
    if (status != CY_OK)
        return status;
    cy_copy(step.author, sizeof step.author, author);
    cy_text_add_clean(&station, source->station, strlen(source->station), false);
    clean.station = cy_text_get(&station);
    status = station.failed ? CY_NO_MEMORY : add(file, &clean, &step, report, issues);
    status = cy_file_end(file, status, &step, issues);
    cy_text_dispose(&station);
    cy_step_dispose(&step);
    return status;
}
