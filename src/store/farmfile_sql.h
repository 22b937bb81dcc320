/* SPDX-License-Identifier: MIT
 * Every SQL text of the farm file that is prepared, by name.
 *
 * Things and values are kept under the words and names of the table of fields ("row", "spacing"),
 * never under the numbers of its enums, and choices by their words: the numbers move from version
 * to version, the names are exported and stay. A name that this program does not know was
 * written by a newer one. */
#ifndef STORE_FARMFILE_SQL_H
#define STORE_FARMFILE_SQL_H

/* SQL(id, text) */
#define CY_SQLS(SQL)                                                                               \
    SQL(BEGIN, "BEGIN")                                                                            \
    SQL(BEGIN_WRITE, "BEGIN IMMEDIATE")                                                            \
    SQL(COMMIT, "COMMIT")                                                                          \
    SQL(ROLLBACK, "ROLLBACK")                                                                      \
    SQL(DATA_VERSION, "PRAGMA data_version")                                                       \
    SQL(READ_NEXT_ID, "SELECT next_id FROM farm")                                                  \
    SQL(READ_THINGS, "SELECT id, kind, parent, ord, key, retired FROM thing"                       \
                     " ORDER BY parent IS NOT NULL, kind, parent, ord, id")                        \
    SQL(READ_VALUES, "SELECT thing, field, num, txt, basis, source FROM value")                    \
    SQL(READ_RECORDS, "SELECT id, kind, key FROM record WHERE id > ?1 ORDER BY id")                \
    SQL(READ_RECORD_VALUES, "SELECT record, field, num, txt, basis, source FROM record_value"      \
                            " WHERE record > ?1")                                                  \
    SQL(READ_LAST_STEP, "SELECT coalesce(max(id), 0) FROM step")                                   \
    SQL(READ_STEP, "SELECT coalesce(reverses, 0), author FROM step WHERE id = ?1")                 \
    SQL(READ_EDITS, "SELECT op, kind, thing, parent, ord, key, field,"                             \
                    " before_num, before_txt, before_basis, before_source,"                        \
                    " after_num, after_txt, after_basis, after_source"                             \
                    " FROM edit WHERE step = ?1 ORDER BY n")                                       \
    SQL(FIND_UNDO, "SELECT id FROM step WHERE author = ?1 AND role IN ('edit', 'redo')"            \
                   " AND NOT EXISTS (SELECT 1 FROM step AS later WHERE later.reverses = step.id)"  \
                   " ORDER BY id DESC LIMIT 1")                                                    \
    SQL(FIND_REDO, "SELECT id FROM step WHERE author = ?1 AND role = 'undo'"                       \
                   " AND NOT EXISTS (SELECT 1 FROM step AS later WHERE later.reverses = step.id)"  \
                   " AND NOT EXISTS (SELECT 1 FROM step AS later WHERE later.author = ?1"          \
                   " AND later.role = 'edit' AND later.id > step.id)"                              \
                   " ORDER BY id DESC LIMIT 1")                                                    \
    SQL(SET_NEXT_ID, "UPDATE farm SET next_id = ?1")                                               \
    SQL(ADD_STEP, "INSERT INTO step(id, role, reverses, author, at) VALUES (?1, ?2, ?3, ?4, ?5)")  \
    SQL(ADD_EDIT, "INSERT INTO edit(step, n, op, kind, thing, parent, ord, key, field,"            \
                  " before_num, before_txt, before_basis, before_source,"                          \
                  " after_num, after_txt, after_basis, after_source)"                              \
                  " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9,"                                   \
                  " ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17)")                                      \
    SQL(ADD_THING, "INSERT INTO thing(id, kind, parent, ord, key, retired)"                        \
                   " VALUES (?1, ?2, ?3, ?4, ?5, 0)")                                              \
    SQL(REMOVE_THING, "DELETE FROM thing WHERE id = ?1")                                           \
    SQL(RETIRE_THING, "UPDATE thing SET retired = ?2 WHERE id = ?1")                               \
    SQL(SET_VALUE, "INSERT INTO value(thing, field, num, txt, basis, source)"                      \
                   " VALUES (?1, ?2, ?3, ?4, ?5, ?6)"                                              \
                   " ON CONFLICT(thing, field) DO UPDATE SET num = excluded.num,"                  \
                   " txt = excluded.txt, basis = excluded.basis, source = excluded.source")        \
    SQL(CLEAR_VALUE, "DELETE FROM value WHERE thing = ?1 AND field = ?2")                          \
    SQL(ADD_RECORD, "INSERT INTO record(id, kind, key, author, at) VALUES (?1, ?2, ?3, ?4, ?5)")   \
    SQL(ADD_RECORD_VALUE, "INSERT INTO record_value(record, field, num, txt, basis, source)"       \
                          " VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                      \
    SQL(FIND_BATCH, "SELECT id FROM batch WHERE key = ?1")                                         \
    SQL(LAST_BATCH, "SELECT coalesce(max(id), 0) FROM batch")                                      \
    SQL(LIST_BATCHES, "SELECT id FROM batch ORDER BY id")                                          \
    SQL(READ_BATCH, "SELECT coalesce(base, 0), station, first, last FROM batch WHERE id = ?1")     \
    SQL(READ_BATCH_DAYS, "SELECT day, tmin, tmax, rain FROM batch_day WHERE batch = ?1"            \
                         " ORDER BY day")                                                          \
    SQL(READ_BATCH_AIR, "SELECT day, wind, dew, sun FROM batch_air WHERE batch = ?1 ORDER BY day") \
    SQL(ADD_BATCH_AIR, "INSERT INTO batch_air(batch, day, wind, dew, sun)"                         \
                       " VALUES (?1, ?2, ?3, ?4, ?5)")                                             \
    SQL(VERSION, "PRAGMA user_version")                                                            \
    SQL(ADD_BATCH, "INSERT INTO batch(id, key, base, station, file, hash, first, last, author,"    \
                   " at) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)")                        \
    SQL(ADD_BATCH_DAY, "INSERT INTO batch_day(batch, day, tmin, tmax, rain)"                       \
                       " VALUES (?1, ?2, ?3, ?4, ?5)")                                             \
    SQL(INTEGRITY, "PRAGMA integrity_check(20)")                                                   \
    SQL(FOREIGN_KEYS, "PRAGMA foreign_key_check")                                                  \
    SQL(COPY_INTO, "VACUUM INTO ?1")

enum cy_sql {
#define SQL(id, text) CY_SQL_##id,
    CY_SQLS(SQL)
#undef SQL
        CY_SQL_COUNT
};

#endif
