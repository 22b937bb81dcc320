/* SPDX-License-Identifier: MIT
 * The farm file: one SQLite database that holds a farm, its steps, records and weather.
 *
 * What is acknowledged is on disk. Reads go to memory and end at once; a write begins
 * immediately, reads the steps that others appended since, compares, applies, commits, and only
 * then answers. Busy waits are short (CY_FILE_WAIT_MS in all) and end in a sentence. */
#ifndef STORE_FARMFILE_H
#define STORE_FARMFILE_H

#include <stdbool.h>
#include <stdint.h>

#include <caneyear/climate/weather.h>
#include <caneyear/season/edit.h>

#define CY_FILE_APPLICATION_ID 0x43594541 /* "CYEA" */
#define CY_FILE_VERSION 2
#define CY_FILE_WAIT_MS 2000

struct cy_file;

/* Creates a new file (EXISTS where there is one already) holding `farm` as its first step, and
 * its records. A failure leaves no file behind. */
int cy_file_create(struct cy_file **out, const char *path, const struct cy_farm *farm,
                   const char *author, const struct cy_farm *catalogue, struct cy_issues *issues);

/* Opens a file, verified before anything is read: NOT_A_FARM, FUTURE_FARM, DAMAGED_FARM,
 * EMPTY_FILE, NOT_READABLE and LOCKED each say their own sentence, and nothing is written. A file
 * that cannot be written opens for reading only. The catalogue is lent to the farm (borrowed until
 * close). */
int cy_file_open(struct cy_file **out, const char *path, const struct cy_farm *catalogue,
                 struct cy_issues *issues);
void cy_file_close(struct cy_file *file);

/* The farm as of the last step read; borrowed, replaced by whatever changes it. */
const struct cy_farm *cy_file_farm(const struct cy_file *file);
bool cy_file_read_only(const struct cy_file *file);
const char *cy_file_path(const struct cy_file *file);
int64_t cy_file_last_step(const struct cy_file *file);

/* Reads what others wrote since; *changed tells whether there was anything. */
int cy_file_refresh(struct cy_file *file, bool *changed, struct cy_issues *issues);

/* One step: on CY_OK it is on disk and step->id is set. CLASH where a field changed since. */
int cy_file_step(struct cy_file *file, struct cy_step *step, struct cy_issues *issues);
/* The last step of this author that is not undone; or the last undo that is not redone. *what
 * (or NULL) says in an address which field or thing it touched first. */
int cy_file_undo(struct cy_file *file, const char *author, struct cy_text *what,
                 struct cy_issues *issues);
int cy_file_redo(struct cy_file *file, const char *author, struct cy_text *what,
                 struct cy_issues *issues);
bool cy_file_can_undo(struct cy_file *file, const char *author);
bool cy_file_can_redo(struct cy_file *file, const char *author);

/* One record (a kind of shape RECORD): values is an array of the kind's field_count. Never part
 * of a step, never undone; a wrong one is corrected by another. */
int cy_file_record(struct cy_file *file, enum cy_kind kind, const char *author,
                   const struct cy_value *values, struct cy_issues *issues);

/* ---- weather -------------------------------------------------------------------------------- */

/* The days of the batch that the plan points at (site.station), gaps of up to CY_GAPS_FILLED days
 * filled, NAN where a day is missing; NULL where it points at none or `file` is NULL. Borrowed,
 * replaced by whatever moves the pointer. */
const struct cy_weather *cy_file_weather(const struct cy_file *file);

struct cy_weather_source {
    const struct cy_weather *days; /* as read: NAN where there is nothing */
    const char *station;           /* "" where the file does not say */
    const char *path;              /* of the file; its last part is kept */
    uint64_t hash;                 /* of its bytes */
    bool newer_wins;               /* these days replace others of the same date */
    cy_progress progress;          /* or NULL */
    void *payload;
};

struct cy_weather_day {
    cy_day day;
    double figure[6]; /* minimum, maximum, rain, wind, dew point, sun; NAN where there is none */
};

struct cy_weather_added {
    bool changed;    /* false: every day was there */
    bool anew;       /* the days before were of another station and were not joined */
    char before[64]; /* the station of the days before; "" where there were none */
    int new_days;
    int completed;                      /* days that were there in part */
    int conflicts;                      /* days on which both have a figure and it differs */
    struct cy_weather_day older, newer; /* of the first conflict */
};

/* Joins a station's days to those that the plan points at and points it at the result: a new
 * batch, as one step. Where both have a figure and it differs the older stays, unless newer_wins.
 * Days of another station stand alone. Anything but CY_OK (CY_CANCELLED among them) leaves the
 * file as it was. */
int cy_file_weather_add(struct cy_file *file, const struct cy_weather_source *source,
                        const char *author, struct cy_weather_added *report,
                        struct cy_issues *issues);

/* Replaces the farm by another, compared by key, as one step; records not there yet are added.
 * Weather is left alone: it still points at the same batch. */
int cy_file_replace(struct cy_file *file, const struct cy_farm *wanted, const char *author,
                    struct cy_issues *issues);

/* A consistent copy while in use; EXISTS where the target is there. */
int cy_file_backup(struct cy_file *file, const char *target, struct cy_issues *issues);

/* The full integrity check, foreign keys, every step replayed and compared with the values. */
int cy_file_verify(struct cy_file *file, struct cy_issues *issues);

/* The user's name as an author of steps: $LOGNAME, $USER or "someone". */
void cy_file_author(char out[CY_AUTHOR_TEXT]);

#endif
