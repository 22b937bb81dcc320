/* SPDX-License-Identifier: MIT
 * The farm model: things with values, described by the one table in fields.def. */
#ifndef CANEYEAR_SEASON_FARM_H
#define CANEYEAR_SEASON_FARM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <caneyear/base/basis.h>
#include <caneyear/base/issue.h>
#include <caneyear/base/text.h>
#include <caneyear/base/unit.h>
#include <caneyear/season/terms.h>

/* ---- the table ------------------------------------------------------------------------------ */

enum cy_kind {
#define KIND(id, word, section, shape, parent) CY_KIND_##id,
#include <caneyear/season/fields.def>
    CY_KIND_COUNT,
    CY_KIND_NONE = CY_KIND_COUNT
};

enum cy_field {
#define NUMBER(id, ...) CY_##id,
#define COUNT(id, ...) CY_##id,
#define TEXT(id, ...) CY_##id,
#define DATE(id, ...) CY_##id,
#define SEASON_DAY(id, ...) CY_##id,
#define CHOICE(id, ...) CY_##id,
#define REFERENCE(id, ...) CY_##id,
#include <caneyear/season/fields.def>
    CY_FIELD_COUNT,
    CY_FIELD_NONE = -1
};

enum cy_shape { CY_SHAPE_ONE, CY_SHAPE_LIST, CY_SHAPE_RECORD };

struct cy_kind_info {
    const char *word, *section;
    enum cy_shape shape;
    enum cy_kind parent;
    int first_field, field_count; /* its fields stand together in the table */
};

enum cy_type {
    CY_TYPE_NUMBER,
    CY_TYPE_COUNT,
    CY_TYPE_TEXT,
    CY_TYPE_DATE,
    CY_TYPE_SEASON_DAY,
    CY_TYPE_CHOICE,
    CY_TYPE_REFERENCE
};

struct cy_field_info {
    enum cy_kind kind;
    enum cy_type type;
    const char *name;
    enum cy_quantity quantity;  /* of a number */
    double low, high;           /* of a number or count; the longest text in high */
    double fallback;            /* NaN: none; of a choice its index; of a season day MMDD, northern */
    cy_basis basis;             /* of the default */
    const char *source, *help;  /* "" where there is none */
    const char *const *choices; /* of a choice */
    int choice_count;
    enum cy_kind target;        /* of a reference */
};

const struct cy_kind_info *cy_kind_info(enum cy_kind kind);
const struct cy_field_info *cy_field_info(enum cy_field field);
enum cy_kind cy_kind_of_word(const char *word, size_t length);       /* CY_KIND_NONE */
enum cy_kind cy_kind_of_section(const char *section, size_t length, enum cy_kind parent);
enum cy_field cy_field_named(enum cy_kind kind, const char *name, size_t length);

/* ---- values --------------------------------------------------------------------------------- */

/* A value as given. `number` holds numbers in the inside unit, counts, days, season days as
 * month * 100 + day, and the index of a choice; `text` holds text and the key of a reference. */
struct cy_value {
    bool set;
    double number;
    char *text;     /* owned; NULL unless text or reference */
    cy_basis basis; /* what stands behind it: CY_BASIS_GROWER unless the file says otherwise */
    char *source;   /* owned, or NULL */
    bool lent;      /* from the catalogue: neither stored nor exported */
};

void cy_value_dispose(struct cy_value *value);
bool cy_value_copy(struct cy_value *out, const struct cy_value *from); /* false: no memory */
/* The same number or text, basis, source and mark of being lent; any two unset values are
 * equal. */
bool cy_value_equal(const struct cy_value *a, const struct cy_value *b);

/* Reads a value as people write it ("180 ft", "2027-03-15", "semi-erect"); checks type, unit and
 * range. *out is overwritten, not disposed of; anything but CY_OK leaves it unset. On CY_INVALID
 * adds one issue with field, found and allowed filled in (thing, file and line are the caller's).
 * References are checked by cy_farm_check, not here. Basis: grower. */
int cy_value_parse(struct cy_value *out, enum cy_field field, const char *text, size_t length,
                   struct cy_issues *issues);
/* Prints what cy_value_parse reads back to the same value; numbers in the system's unit. */
void cy_value_print(struct cy_text *text, enum cy_field field, const struct cy_value *value,
                    enum cy_system system);
/* What a field allows, in words: "0.5 to 2000 m", "erect, semi-erect or trailing". */
void cy_field_allowed(struct cy_text *text, enum cy_field field, enum cy_system system);

/* ---- things --------------------------------------------------------------------------------- */

struct cy_thing {
    int64_t id;       /* private to a farm file, never 0 */
    enum cy_kind kind;
    int64_t parent;   /* 0 at the top level */
    int order;        /* among its kind and parent */
    char *key;        /* exported; unique within kind (children: within their parent) */
    bool catalogue;   /* lent by the shipped catalogue: neither stored nor exported */
    bool retired;     /* removed, but records still speak of it */
    struct cy_value *values; /* field_count of its kind, indexed by field - first_field */
    struct cy_thing *same_id_bucket, *same_key_bucket; /* private to farm.c */
};

/* Lent things take their ids from here on, so that what the catalogue holds does not shift the
 * ids of the farm's own. */
#define CY_LENT_ID (INT64_C(1) << 40)

struct cy_farm {
    struct cy_thing **things; /* sorted by kind, then parent, then order, then id */
    size_t count, capacity;
    int64_t next_id, next_lent_id;
    struct cy_thing **by_id, **by_key; /* private: chained hash tables of `buckets` each */
    size_t buckets;
};

/* An empty farm that has one thing of each ONE kind. */
int cy_farm_init(struct cy_farm *out);
void cy_farm_dispose(struct cy_farm *farm);
int cy_farm_copy(struct cy_farm *out, const struct cy_farm *farm);

/* Adds a thing behind its like; key NULL makes one ("row-3", or a slug of `name` where that is
 * given; months are "jan" to "dec"). id 0 takes the next one. NULL without memory, where the key
 * or the id is taken, the key unfit, or the parent not of the kind that the table names. Pointers
 * to things are borrowed; they live until the thing is removed. */
struct cy_thing *cy_farm_add(struct cy_farm *farm, enum cy_kind kind, int64_t parent,
                             const char *key, const char *name, int64_t id);
/* And its children. A thing of a ONE kind stays. */
void cy_farm_remove(struct cy_farm *farm, int64_t id);
/* Moves a thing among its like, as when a removal is undone. */
void cy_farm_reorder(struct cy_farm *farm, int64_t id, int order);
void cy_farm_retire(struct cy_farm *farm, int64_t id, bool retired);
int cy_farm_set(struct cy_farm *farm, int64_t id, enum cy_field field,
                const struct cy_value *value); /* an unset value clears the field */

const struct cy_thing *cy_farm_one(const struct cy_farm *farm, enum cy_kind kind);
const struct cy_thing *cy_farm_by_id(const struct cy_farm *farm, int64_t id);
const struct cy_thing *cy_farm_by_key(const struct cy_farm *farm, enum cy_kind kind,
                                      int64_t parent, const char *key);
/* The things of a kind under a parent in order; start with after NULL, ends with NULL. Retired
 * ones are passed over. */
const struct cy_thing *cy_farm_next(const struct cy_farm *farm, enum cy_kind kind, int64_t parent,
                                    const struct cy_thing *after);
int cy_farm_count(const struct cy_farm *farm, enum cy_kind kind, int64_t parent);

/* Form of a key: 1 to 40 of a-z, 0-9 and "-", beginning with a letter or digit. */
bool cy_key_valid(const char *key, size_t length);

/* "row.north-1.spacing", "site.slope", "trellis.tall.wire.top.height" to thing and field; a
 * thing's address alone gives CY_FIELD_NONE. CY_INVALID adds an issue. */
int cy_farm_address(const struct cy_farm *farm, const char *address, int64_t *thing,
                    enum cy_field *field, struct cy_issues *issues);
void cy_farm_print_address(struct cy_text *text, const struct cy_farm *farm,
                           const struct cy_thing *thing, enum cy_field field);

/* ---- reading values ------------------------------------------------------------------------- */

/* The value that counts: as set, or the table's default with its own basis and source. Where
 * there is no thing (NULL: a row without a practice) the defaults count. */
struct cy_given {
    bool known;   /* set, or defaulted */
    bool is_set;
    double number; /* NaN where not known */
    const char *text; /* "" where not known */
    cy_basis basis;
    const char *source; /* "" where there is none */
};

struct cy_given cy_given(const struct cy_thing *thing, enum cy_field field);
double cy_number(const struct cy_thing *thing, enum cy_field field); /* NaN where not known */
int cy_choice(const struct cy_thing *thing, enum cy_field field);    /* -1 where not known */
cy_day cy_date(const struct cy_thing *thing, enum cy_field field);   /* CY_DAY_NONE */
const char *cy_string(const struct cy_thing *thing, enum cy_field field);
/* What a reference names, or NULL. */
const struct cy_thing *cy_referred(const struct cy_farm *farm, const struct cy_thing *thing,
                                   enum cy_field field);
/* The name shown for a thing: its name field, else its key. */
const char *cy_thing_name(const struct cy_thing *thing);
/* "row north-1", "trellis tall wire top", "site": what issues call a thing. */
void cy_thing_print(struct cy_text *text, const struct cy_farm *farm, const struct cy_thing *thing);
/* The place whose normals stand in: the site's, else the nearest to its latitude and longitude;
 * NULL if neither is given. */
const struct cy_thing *cy_farm_place(const struct cy_farm *farm);
enum cy_system cy_farm_system(const struct cy_farm *farm);

/* ---- whole farms ---------------------------------------------------------------------------- */

/* Lends the catalogue's things to a farm: those it lacks are added (marked catalogue), and a
 * farm's thing of the same key has its empty fields filled; all lent values are marked `lent`. A
 * thing's children come along unless the farm's thing has its own of that kind. Lending again
 * changes nothing. */
int cy_farm_lend(struct cy_farm *farm, const struct cy_farm *catalogue);

/* Checks what one value alone cannot show: references, fields that must be given, values that
 * must go together. CY_OK, or CY_INVALID with an issue for each problem (thing_id and field_id
 * set). A farm that passes can be planned. */
int cy_farm_check(const struct cy_farm *farm, struct cy_issues *issues);

#endif
