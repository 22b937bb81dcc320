/* SPDX-License-Identifier: MIT
 * The tables of kinds and fields, made from fields.def. */
#include <caneyear/season/farm.h>

#include <math.h>
#include <string.h>

/* Where each kind's fields begin. The second constant of a kind steps back by one, so that the
 * kind itself takes no number. */
enum {
#define KIND(id, word, section, shape, parent) FIRST_##id, BEFORE_##id = FIRST_##id - 1,
#define NUMBER(id, ...) AT_##id,
#define COUNT(id, ...) AT_##id,
#define TEXT(id, ...) AT_##id,
#define DATE(id, ...) AT_##id,
#define SEASON_DAY(id, ...) AT_##id,
#define CHOICE(id, ...) AT_##id,
#define REFERENCE(id, ...) AT_##id,
#include <caneyear/season/fields.def>
};

/* How many each kind has: a struct of one byte for the kind and one for each field; each kind
 * closes the struct of the kind before. */
struct no_kind {
    char kind;
#define KIND(id, word, section, shape, parent)                                                     \
    }                                                                                              \
    ;                                                                                              \
    struct fields_of_##id {                                                                        \
        char kind;
#define NUMBER(id, ...) char id;
#define COUNT(id, ...) char id;
#define TEXT(id, ...) char id;
#define DATE(id, ...) char id;
#define SEASON_DAY(id, ...) char id;
#define CHOICE(id, ...) char id;
#define REFERENCE(id, ...) char id;
#include <caneyear/season/fields.def>
};

#define COUNT_OF(id) (int)(sizeof(struct fields_of_##id) - 1)

static const struct cy_kind_info kinds[CY_KIND_COUNT] = {
#define KIND(id, word, section, shape, parent)                                                     \
    [CY_KIND_##id] = {word, section, CY_SHAPE_##shape, CY_KIND_##parent, FIRST_##id, COUNT_OF(id)},
#include <caneyear/season/fields.def>
};

#define TERM(name, word) word,
#define CHOICE(id, kind, name, list, ...) static const char *const choices_##id[] = {list(TERM)};
#include <caneyear/season/fields.def>

#define TABLE(of, is, named) .kind = CY_KIND_##of, .type = CY_TYPE_##is, .name = named
#define DEFAULT(value, behind, from)                                                               \
    .fallback = (value), .basis = CY_BASIS_##behind, .source = (from)
#define NO_DEFAULT .fallback = NAN, .source = ""
#define CHOICES_OF(id) sizeof choices_##id / sizeof *choices_##id

static const struct cy_field_info fields[CY_FIELD_COUNT] = {
#define NUMBER(id, kind, name, unit, lowest, highest, fallback, basis, source, words)              \
    [CY_##id] = {TABLE(kind, NUMBER, name), DEFAULT(fallback, basis, source),                      \
                 .quantity = CY_Q_##unit,   .low = (lowest),                                       \
                 .high = (highest),         .help = (words),                                       \
                 .target = CY_KIND_NONE},
#define COUNT(id, kind, name, lowest, highest, fallback, basis, source, words)                     \
    [CY_##id] = {TABLE(kind, COUNT, name), DEFAULT(fallback, basis, source),                       \
                 .low = (lowest),          .high = (highest),                                      \
                 .help = (words),          .target = CY_KIND_NONE},
#define TEXT(id, kind, name, longest, words)                                                       \
    [CY_##id] = {TABLE(kind, TEXT, name), NO_DEFAULT, .high = (longest), .help = (words),          \
                 .target = CY_KIND_NONE},
#define DATE(id, kind, name, words)                                                                \
    [CY_##id] = {TABLE(kind, DATE, name), NO_DEFAULT, .help = (words), .target = CY_KIND_NONE},
#define SEASON_DAY(id, kind, name, fallback, basis, source, words)                                 \
    [CY_##id] = {TABLE(kind, SEASON_DAY, name),                                                    \
                 DEFAULT((fallback) ? (double)(fallback) : NAN, basis, source), .help = (words),   \
                 .target = CY_KIND_NONE},
#define CHOICE(id, kind, name, list, fallback, basis, source, words)                               \
    [CY_##id] = {                                                                                  \
        TABLE(kind, CHOICE, name), DEFAULT(fallback, basis, source), .help = (words),              \
        .choices = choices_##id,   .choice_count = CHOICES_OF(id),   .target = CY_KIND_NONE},
#define REFERENCE(id, kind, name, to, words)                                                       \
    [CY_##id] = {TABLE(kind, REFERENCE, name), NO_DEFAULT, .help = (words), .target = CY_KIND_##to},
#include <caneyear/season/fields.def>
};

const struct cy_kind_info *cy_kind_info(enum cy_kind kind)
{
    return (unsigned)kind < CY_KIND_COUNT ? &kinds[kind] : NULL;
}

const struct cy_field_info *cy_field_info(enum cy_field field)
{
    return field >= 0 && field < CY_FIELD_COUNT ? &fields[field] : NULL;
}

static bool is_word(const char *word, const char *text, size_t length)
{
    return strlen(word) == length && memcmp(word, text, length) == 0;
}

enum cy_kind cy_kind_of_word(const char *word, size_t length)
{
    int kind = 0;
    while (kind < CY_KIND_COUNT && !is_word(kinds[kind].word, word, length))
        kind++;
    return (enum cy_kind)kind;
}

enum cy_kind cy_kind_of_section(const char *section, size_t length, enum cy_kind parent)
{
    int kind = 0;
    while (kind < CY_KIND_COUNT &&
           !(kinds[kind].parent == parent && is_word(kinds[kind].section, section, length)))
        kind++;
    return (enum cy_kind)kind;
}

enum cy_field cy_field_named(enum cy_kind kind, const char *name, size_t length)
{
    const struct cy_kind_info *info = cy_kind_info(kind);
    for (int i = 0; info && i < info->field_count; i++)
        if (is_word(fields[info->first_field + i].name, name, length))
            return (enum cy_field)(info->first_field + i);
    return CY_FIELD_NONE;
}
