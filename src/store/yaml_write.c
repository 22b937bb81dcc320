/* SPDX-License-Identifier: MIT
 * A farm to YAML, driven by the table of fields. */
#include "store/yaml.h"

#include <string.h>

#include "store/yaml_reader.h"

/* What stands behind a value, in the words it is written with. */
struct behind {
    const char *basis, *source;
};

struct writer {
    struct cy_text *out;
    const struct cy_farm *farm;
    enum cy_system system;
};

static struct behind grower(void)
{
    return (struct behind){cy_basis_word(CY_BASIS_GROWER), ""};
}

static struct behind behind_of(const struct cy_value *value)
{
    return (struct behind){cy_basis_word(value->basis ? value->basis : CY_BASIS_GROWER),
                           value->source ? value->source : ""};
}

static bool is_same(struct behind a, struct behind b)
{
    return cy_streq(a.basis, b.basis) && cy_streq(a.source, b.source);
}

/* ---- scalars -------------------------------------------------------------------------------- */

static bool is_letter_or_digit(int32_t c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Words and digits that other YAML programs would take for something else than text. */
static bool looks_typed(const char *text)
{
    static const char *const words[] = {"y",   "n",    "yes",   "no",  "on",
                                        "off", "true", "false", "null"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        if (cy_word_is(text, strlen(text), words[i]))
            return true;
    }
    return is_digit(text[0]);
}

/* A character that must not reach the file as it is. */
static bool is_unfit(int32_t c)
{
    return cy_utf8_is_control(c) || c == 0xFEFF || c == 0xFFFE || c == 0xFFFF;
}

/* Text that YAML reads back as it is without quotes; `inside` a {} mapping less may stand. */
static bool may_be_plain(const char *text, bool inside)
{
    size_t length = strlen(text), used;
    if (!is_letter_or_digit(text[0]) && !((text[0] == '-' || text[0] == '$') && is_digit(text[1])))
        return false;
    if (text[length - 1] == ' ' || text[length - 1] == ':')
        return false;
    for (size_t i = 0; i < length; i += used) {
        int32_t c = cy_utf8_next(text + i, length - i, &used);
        if (is_unfit(c) || (c == ':' && text[i + 1] == ' ') || (c == ' ' && text[i + 1] == '#') ||
            (inside && c < 0x80 && strchr(",[]{}:", (int)c)))
            return false;
    }
    return true;
}

static void add_escape(struct cy_text *out, int32_t c)
{
    cy_text_add(out, c < 0x100 ? "\\x" : "\\u");
    for (int shift = c < 0x100 ? 4 : 12; shift >= 0; shift -= 4)
        cy_text_add_char(out, "0123456789ABCDEF"[c >> shift & 0xF]);
}

static void add_quoted(struct cy_text *out, const char *text)
{
    size_t length = strlen(text), used;
    cy_text_add_char(out, '"');
    for (size_t i = 0; i < length; i += used) {
        int32_t c = cy_utf8_next(text + i, length - i, &used);
        if (c < 0) {
            cy_text_add_clean(out, text + i, used, false);
        } else if (is_unfit(c)) {
            add_escape(out, c);
        } else {
            if (c == '"' || c == '\\')
                cy_text_add_char(out, '\\');
            cy_text_add_n(out, text + i, used);
        }
    }
    cy_text_add_char(out, '"');
}

/* `typed`: numbers, dates and choices, whose look is what they are. */
static void add_scalar(struct cy_text *out, const char *text, bool typed, bool inside)
{
    if (may_be_plain(text, inside) && (typed || !looks_typed(text)))
        cy_text_add(out, text);
    else
        add_quoted(out, text);
}

/* ---- lines ---------------------------------------------------------------------------------- */

static void add_name(struct cy_text *out, int indent, const char *name)
{
    for (int i = 0; i < indent; i++)
        cy_text_add_char(out, ' ');
    cy_text_add(out, name);
    cy_text_add_char(out, ':');
}

static void add_line(struct cy_text *out, int indent, const char *name, const char *text,
                     bool typed)
{
    add_name(out, indent, name);
    cy_text_add_char(out, ' ');
    add_scalar(out, text, typed, false);
    cy_text_add_char(out, '\n');
}

static void add_behind(struct cy_text *out, int indent, struct behind behind)
{
    add_line(out, indent, "basis", behind.basis, false);
    if (behind.source[0])
        add_line(out, indent, "source", behind.source, false);
}

static void add_value(struct writer *w, int indent, enum cy_field field,
                      const struct cy_value *value, struct behind above)
{
    const struct cy_field_info *info = cy_field_info(field);
    bool typed = info->type != CY_TYPE_TEXT && info->type != CY_TYPE_REFERENCE;
    struct behind behind = behind_of(value);
    struct cy_text text = {0};
    cy_value_print(&text, field, value, w->system);
    if (is_same(behind, above)) {
        add_line(w->out, indent, info->name, cy_text_get(&text), typed);
    } else {
        add_name(w->out, indent, info->name);
        cy_text_add(w->out, " {value: ");
        add_scalar(w->out, cy_text_get(&text), typed, true);
        cy_text_add(w->out, ", basis: ");
        add_scalar(w->out, behind.basis, false, true);
        if (behind.source[0]) {
            cy_text_add(w->out, ", source: ");
            add_scalar(w->out, behind.source, false, true);
        }
        cy_text_add(w->out, "}\n");
    }
    w->out->failed |= text.failed;
    cy_text_dispose(&text);
}

/* ---- things --------------------------------------------------------------------------------- */

static bool is_written(const struct cy_value *value)
{
    return value->set && !value->lent;
}

/* What stands behind all values of a thing alike; else what is handed down to it. */
static struct behind common_behind(const struct cy_thing *thing, struct behind above)
{
    struct behind common = {0};
    for (int i = 0; i < cy_kind_info(thing->kind)->field_count; i++) {
        if (!is_written(&thing->values[i]))
            continue;
        struct behind behind = behind_of(&thing->values[i]);
        if (common.basis && !is_same(common, behind))
            return above;
        common = behind;
    }
    return common.basis ? common : above;
}

/* The next thing of a kind and parent that is the farm's own, retired ones too; *at moves on. */
static const struct cy_thing *next_own(const struct cy_farm *farm, size_t *at, enum cy_kind kind,
                                       int64_t parent)
{
    while (*at < farm->count) {
        const struct cy_thing *thing = farm->things[(*at)++];
        if (thing->kind == kind && thing->parent == parent && !thing->catalogue)
            return thing;
    }
    return NULL;
}

static void write_list(struct writer *w, int indent, enum cy_kind kind, int64_t parent,
                       struct behind above);

/* The fields and children of a thing, its basis first where they share one. */
static void write_insides(struct writer *w, int indent, const struct cy_thing *thing,
                          struct behind above)
{
    const struct cy_kind_info *info = cy_kind_info(thing->kind);
    struct behind behind = common_behind(thing, above);
    if (!is_same(behind, above))
        add_behind(w->out, indent, behind);
    for (int i = 0; i < info->field_count; i++) {
        if (is_written(&thing->values[i]))
            add_value(w, indent, info->first_field + i, &thing->values[i], behind);
    }
    for (int kind = 0; kind < CY_KIND_COUNT; kind++) {
        if (cy_kind_info(kind)->parent == thing->kind)
            write_list(w, indent, kind, thing->id, behind);
    }
}

static void write_list(struct writer *w, int indent, enum cy_kind kind, int64_t parent,
                       struct behind above)
{
    size_t at = 0;
    const struct cy_thing *thing = next_own(w->farm, &at, kind, parent);
    if (!thing)
        return;
    add_name(w->out, indent, cy_kind_info(kind)->section);
    cy_text_add_char(w->out, '\n');
    for (; thing; thing = next_own(w->farm, &at, kind, parent)) {
        add_line(w->out, indent + 2, "- key", thing->key, false);
        if (thing->retired)
            add_line(w->out, indent + 4, "retired", "yes", true);
        write_insides(w, indent + 4, thing, above);
    }
}

void cy_yaml_write(struct cy_text *out, const struct cy_farm *farm)
{
    struct writer w = {.out = out, .farm = farm, .system = cy_farm_system(farm)};
    cy_text_add(out, "caneyear: " CY_YAML_VERSION "\n");
    for (int kind = 0; kind < CY_KIND_COUNT; kind++) {
        const struct cy_kind_info *info = cy_kind_info(kind);
        if (info->parent != CY_KIND_NONE)
            continue;
        struct cy_text section = {0};
        w.out = &section;
        if (info->shape == CY_SHAPE_ONE)
            write_insides(&w, 2, cy_farm_one(farm, kind), grower());
        else
            write_list(&w, 0, kind, 0, grower());
        if (section.length > 0) {
            cy_text_add_char(out, '\n');
            if (info->shape == CY_SHAPE_ONE) {
                add_name(out, 0, info->section);
                cy_text_add_char(out, '\n');
            }
            cy_text_add_n(out, section.data, section.length);
        }
        out->failed |= section.failed;
        cy_text_dispose(&section);
    }
}
