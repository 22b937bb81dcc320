/* SPDX-License-Identifier: MIT
 * A layer under SQLite that loses power, fills the disk, or fails to sync, at a call of choice.
 *
 * What a program writes goes to the real file at once; beside it the layer keeps what a disk is
 * bound to hold: the bytes as of the last sync, and the names as of the last sync of the folder.
 * What came after is kept as a list of writes. At a power cut some, all or none of these reach
 * the disk, sector by sector, and names made or removed since may be back or gone.
 *
 * A header and no .c file: only tests that link SQLite include it. */
#ifndef TESTS_SUPPORT_FAULTVFS_H
#define TESTS_SUPPORT_FAULTVFS_H

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <sqlite3.h>

#include <caneyear/base/random.h>

enum fault_kind {
    FAULT_NONE,
    FAULT_CUT,    /* from the n-th change on nothing gets through: the power is gone */
    FAULT_DETACH, /* the same, and nothing can be read either: the stick was pulled */
    FAULT_FULL,   /* from the n-th write on the disk is full */
    FAULT_SYNC    /* the n-th sync fails, the others work */
};

enum fault_loss { FAULT_LOSE_ALL, FAULT_KEEP_ALL, FAULT_LOSE_SOME };

enum { FAULT_FILES = 8, FAULT_SECTOR = 512 };

struct fault_write {
    bool truncates;
    sqlite3_int64 at; /* or the new length */
    size_t length;
    char *bytes;
};

struct fault_bytes {
    char *bytes;
    size_t length;
};

struct fault_track {
    char path[256];
    bool named, doubtful; /* the name is on the disk; or may be gone (or there) after a cut */
    struct fault_bytes synced;
    struct fault_write *writes; /* since the last sync */
    size_t count, capacity;
};

static struct {
    sqlite3_vfs vfs, *real;
    struct fault_track tracks[FAULT_FILES];
    int track_count;
    enum fault_kind kind;
    int countdown; /* calls until the fault comes */
    bool struck;   /* it has come */
} fault;

struct fault_file {
    sqlite3_file base;
    struct fault_track *track; /* NULL: a temporary file without a name */
    sqlite3_file *real;
};

/* ---- what a disk is bound to hold ----------------------------------------------------------- */

static void fault_apply(struct fault_bytes *image, const struct fault_write *write, size_t from,
                        size_t to)
{
    size_t end = write->truncates ? (size_t)write->at : (size_t)write->at + to;
    if (write->truncates ? end != image->length : end > image->length) {
        image->bytes = realloc(image->bytes, end + 1);
        assert_non_null(image->bytes);
        if (end > image->length)
            memset(image->bytes + image->length, 0, end - image->length);
        image->length = end;
    }
    if (!write->truncates)
        memcpy(image->bytes + write->at + from, write->bytes + from, to - from);
}

static void fault_forget(struct fault_track *track)
{
    for (size_t i = 0; i < track->count; i++)
        free(track->writes[i].bytes);
    track->count = 0;
}

static void fault_synced(struct fault_track *track)
{
    for (size_t i = 0; i < track->count; i++)
        fault_apply(&track->synced, &track->writes[i], 0, track->writes[i].length);
    fault_forget(track);
    track->named = true; /* SQLite syncs the folder with a new journal */
    track->doubtful = false;
}

static struct fault_track *fault_track_of(const char *name)
{
    for (int i = 0; i < fault.track_count; i++)
        if (strcmp(fault.tracks[i].path, name) == 0)
            return &fault.tracks[i];
    assert_true(fault.track_count < FAULT_FILES);
    struct fault_track *track = &fault.tracks[fault.track_count++];
    memset(track, 0, sizeof *track);
    strncpy(track->path, name, sizeof track->path - 1);
    /* What stands there before the first call is on the disk. */
    FILE *file = fopen(name, "rb");
    if (file) {
        track->named = true;
        fseek(file, 0, SEEK_END);
        track->synced.length = (size_t)ftell(file);
        track->synced.bytes = malloc(track->synced.length + 1);
        assert_non_null(track->synced.bytes);
        rewind(file);
        assert_int_equal(fread(track->synced.bytes, 1, track->synced.length, file),
                         track->synced.length);
        fclose(file);
    }
    return track;
}

static void fault_log(struct fault_track *track, const void *bytes, size_t length, sqlite3_int64 at,
                      bool truncates)
{
    if (!track)
        return;
    if (track->count == track->capacity) {
        track->capacity = track->capacity ? track->capacity * 2 : 16;
        track->writes = realloc(track->writes, track->capacity * sizeof *track->writes);
        assert_non_null(track->writes);
    }
    struct fault_write *write = &track->writes[track->count++];
    *write = (struct fault_write){.truncates = truncates, .at = at, .length = length};
    if (length > 0) {
        write->bytes = malloc(length);
        assert_non_null(write->bytes);
        memcpy(write->bytes, bytes, length);
    }
}

/* ---- when it strikes ------------------------------------------------------------------------ */

/* Counts a call; true if it must fail. */
static bool fault_strikes(enum fault_kind kind, bool lasts)
{
    bool cut = fault.kind == FAULT_CUT || fault.kind == FAULT_DETACH;
    if (fault.kind == FAULT_NONE || !(fault.kind == kind || cut))
        return false;
    if (fault.struck)
        return lasts || cut;
    if (fault.countdown-- > 0)
        return false;
    return fault.struck = true;
}

static bool fault_is_detached(void)
{
    return fault.kind == FAULT_DETACH && fault.struck;
}

/* ---- files ---------------------------------------------------------------------------------- */

static sqlite3_file *fault_real(sqlite3_file *file)
{
    return ((struct fault_file *)file)->real;
}

static int fault_close(sqlite3_file *file)
{
    return fault_real(file)->pMethods ? fault_real(file)->pMethods->xClose(fault_real(file))
                                      : SQLITE_OK;
}

static int fault_read(sqlite3_file *file, void *out, int length, sqlite3_int64 at)
{
    if (fault_is_detached())
        return SQLITE_IOERR_READ;
    return fault_real(file)->pMethods->xRead(fault_real(file), out, length, at);
}

static int fault_write(sqlite3_file *file, const void *bytes, int length, sqlite3_int64 at)
{
    if (fault_strikes(FAULT_FULL, true))
        return fault.kind == FAULT_FULL ? SQLITE_FULL : SQLITE_IOERR_WRITE;
    int result = fault_real(file)->pMethods->xWrite(fault_real(file), bytes, length, at);
    if (result == SQLITE_OK)
        fault_log(((struct fault_file *)file)->track, bytes, (size_t)length, at, false);
    return result;
}

static int fault_truncate(sqlite3_file *file, sqlite3_int64 length)
{
    if (fault_strikes(FAULT_CUT, true))
        return SQLITE_IOERR_TRUNCATE;
    int result = fault_real(file)->pMethods->xTruncate(fault_real(file), length);
    if (result == SQLITE_OK)
        fault_log(((struct fault_file *)file)->track, NULL, 0, length, true);
    return result;
}

static int fault_sync(sqlite3_file *file, int flags)
{
    struct fault_track *track = ((struct fault_file *)file)->track;
    if (fault_strikes(FAULT_SYNC, false))
        return SQLITE_IOERR_FSYNC;
    int result = fault_real(file)->pMethods->xSync(fault_real(file), flags);
    if (result == SQLITE_OK && track)
        fault_synced(track);
    return result;
}

static int fault_size(sqlite3_file *file, sqlite3_int64 *out)
{
    if (fault_is_detached())
        return SQLITE_IOERR_FSTAT;
    return fault_real(file)->pMethods->xFileSize(fault_real(file), out);
}

static int fault_lock(sqlite3_file *file, int level)
{
    return fault_real(file)->pMethods->xLock(fault_real(file), level);
}

static int fault_unlock(sqlite3_file *file, int level)
{
    return fault_real(file)->pMethods->xUnlock(fault_real(file), level);
}

static int fault_reserved(sqlite3_file *file, int *out)
{
    return fault_real(file)->pMethods->xCheckReservedLock(fault_real(file), out);
}

static int fault_control(sqlite3_file *file, int op, void *argument)
{
    return fault_real(file)->pMethods->xFileControl(fault_real(file), op, argument);
}

static int fault_sector(sqlite3_file *file)
{
    return fault_real(file)->pMethods->xSectorSize(fault_real(file));
}

static int fault_traits(sqlite3_file *file)
{
    return fault_real(file)->pMethods->xDeviceCharacteristics(fault_real(file));
}

static const sqlite3_io_methods fault_methods = {
    .iVersion = 1,
    .xClose = fault_close,
    .xRead = fault_read,
    .xWrite = fault_write,
    .xTruncate = fault_truncate,
    .xSync = fault_sync,
    .xFileSize = fault_size,
    .xLock = fault_lock,
    .xUnlock = fault_unlock,
    .xCheckReservedLock = fault_reserved,
    .xFileControl = fault_control,
    .xSectorSize = fault_sector,
    .xDeviceCharacteristics = fault_traits,
};

static int fault_open(sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out)
{
    struct fault_file *layered = (struct fault_file *)file;
    (void)vfs;
    file->pMethods = NULL;
    layered->real = (sqlite3_file *)(layered + 1);
    layered->track = name ? fault_track_of(name) : NULL;
    bool creates = name && (flags & SQLITE_OPEN_CREATE) && access(name, F_OK) != 0;
    if (creates && fault_strikes(FAULT_CUT, true))
        return SQLITE_CANTOPEN;
    int result = fault.real->xOpen(fault.real, name, layered->real, flags, out);
    if (result != SQLITE_OK)
        return result;
    file->pMethods = &fault_methods;
    if (creates) {
        /* A new file of an old name: what was there lasts until the new name is synced. */
        fault_forget(layered->track);
        if (!layered->track->named)
            layered->track->synced.length = 0;
        fault_log(layered->track, NULL, 0, 0, true);
        layered->track->doubtful = true;
    }
    return SQLITE_OK;
}

static int fault_delete(sqlite3_vfs *vfs, const char *name, int sync_folder)
{
    struct fault_track *track = fault_track_of(name);
    (void)vfs;
    if (fault_strikes(sync_folder ? FAULT_SYNC : FAULT_CUT, false)) {
        track->doubtful = true;
        if (fault.kind != FAULT_SYNC)
            return SQLITE_IOERR_DELETE;
        fault.real->xDelete(fault.real, name, 0);
        return SQLITE_IOERR_DIR_FSYNC;
    }
    int result = fault.real->xDelete(fault.real, name, sync_folder);
    if (result == SQLITE_OK) {
        track->doubtful = !sync_folder;
        if (sync_folder) {
            track->named = false;
            track->synced.length = 0;
            fault_forget(track);
        }
    }
    return result;
}

/* ---- for the tests -------------------------------------------------------------------------- */

/* From here on every database is opened through the layer. */
static void fault_install(void)
{
    fault.real = sqlite3_vfs_find(NULL);
    fault.vfs = *fault.real;
    fault.vfs.zName = "fault";
    fault.vfs.pNext = NULL;
    fault.vfs.szOsFile = (int)sizeof(struct fault_file) + fault.real->szOsFile;
    fault.vfs.xOpen = fault_open;
    fault.vfs.xDelete = fault_delete;
    sqlite3_vfs_register(&fault.vfs, 1);
}

/* Forgets all that was seen of any file, once all are closed. */
static void fault_start(void)
{
    for (int i = 0; i < fault.track_count; i++) {
        fault_forget(&fault.tracks[i]);
        free(fault.tracks[i].writes);
        free(fault.tracks[i].synced.bytes);
    }
    fault.track_count = 0;
    fault.kind = FAULT_NONE;
}

/* After `count` more calls of its sort comes the fault. */
static void fault_arm(enum fault_kind kind, int count)
{
    fault.kind = kind;
    fault.countdown = count;
    fault.struck = false;
}

/* The files as they are found when the power is back; all must be closed. */
static void fault_power_on(enum fault_loss loss, struct cy_random *random)
{
    fault.kind = FAULT_NONE;
    for (int i = 0; i < fault.track_count; i++) {
        struct fault_track *track = &fault.tracks[i];
        bool there = track->named;
        if (track->doubtful && loss != FAULT_LOSE_ALL)
            there = loss == FAULT_KEEP_ALL ? access(track->path, F_OK) == 0
                                           : cy_random_uniform(random) < 0.5;
        for (size_t w = 0; w < track->count && loss != FAULT_LOSE_ALL; w++) {
            const struct fault_write *write = &track->writes[w];
            size_t from = 0, to;
            do {
                to = write->length;
                if (loss == FAULT_LOSE_SOME && to - from > FAULT_SECTOR)
                    to = from + FAULT_SECTOR;
                if (loss == FAULT_KEEP_ALL || cy_random_uniform(random) < 0.5)
                    fault_apply(&track->synced, write, from, to);
                from = to;
            } while (from < write->length);
        }
        unlink(track->path);
        if (!there)
            continue;
        FILE *file = fopen(track->path, "wb");
        assert_non_null(file);
        if (track->synced.length > 0)
            assert_int_equal(fwrite(track->synced.bytes, 1, track->synced.length, file),
                             track->synced.length);
        assert_int_equal(fclose(file), 0);
    }
    fault_start();
}

#endif
