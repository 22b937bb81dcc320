/* SPDX-License-Identifier: MIT
 * caneyear fields: everything that can be said of a farm, from the one table of fields; also as
 * the list in caneyear(5). */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <caneyear/season/farm.h>

#include "main/commands.h"
#include "main/options.h"
#include "screen/screen.h"

static const char help[] =
    "usage: caneyear fields [SECTION] [--mdoc]\n"
    "       caneyear fields --keys\n"
    "Lists what a farm's YAML can say: each section's fields with what they take, what counts\n"
    "where they are left out, and what stands behind that.\n"
    "  --mdoc  as the source of the manual page\n"
    "  --keys  the planner's keys instead, a tab before what each does\n";

static bool is_fallback(const struct cy_field_info *info)
{
    return !isnan(info->fallback) && !(info->type == CY_TYPE_SEASON_DAY && info->fallback == 0) &&
           info->type != CY_TYPE_TEXT && info->type != CY_TYPE_DATE &&
           info->type != CY_TYPE_REFERENCE;
}

static void add_fallback(struct cy_text *out, enum cy_field field)
{
    const struct cy_field_info *info = cy_field_info(field);
    struct cy_value value = {.set = true, .number = info->fallback};
    if (!is_fallback(info))
        return;
    cy_text_add(out, "Left out: ");
    cy_value_print(out, field, &value, CY_US);
    if (info->basis != CY_BASIS_NONE) {
        cy_text_add(out, " (");
        cy_text_add(out, cy_basis_word(info->basis));
        if (*info->source) {
            cy_text_add(out, ": ");
            cy_text_add(out, info->source);
        }
        cy_text_add(out, ")");
    }
    cy_text_add(out, ".");
}

static void add_field(struct cy_text *out, enum cy_field field)
{
    const struct cy_field_info *info = cy_field_info(field);
    if (*info->help) {
        cy_text_add(out, info->help);
        cy_text_add(out, ": ");
    }
    cy_field_allowed(out, field, CY_US);
    cy_text_add(out, ".");
}

static const char *shape_word(enum cy_shape shape)
{
    return shape == CY_SHAPE_ONE ? "a mapping"
                                 : shape == CY_SHAPE_LIST ? "a list" : "a list of records";
}

/* mdoc takes a backslash, and a period or quote that begins a line, as its own. */
static void print_line(const char *text, bool mdoc)
{
    if (!mdoc) {
        printf("      %s\n", text);
        return;
    }
    if (*text == '.' || *text == '\'')
        fputs("\\&", stdout);
    for (; *text; text++)
        if (*text == '\\')
            fputs("\\e", stdout);
        else
            putchar(*text);
    putchar('\n');
}

static void print_kind(enum cy_kind kind, bool mdoc)
{
    const struct cy_kind_info *info = cy_kind_info(kind);
    struct cy_text line = {0};
    bool child = info->parent != CY_KIND_NONE;
    if (mdoc)
        printf(".Ss %s\n%s%s%s.\n.Bl -tag -width Ds\n", info->section,
               shape_word(info->shape), child ? " inside a " : "",
               child ? cy_kind_info(info->parent)->word : "");
    else
        printf("%s: %s%s%s\n", info->section, shape_word(info->shape),
               child ? " inside a " : "", child ? cy_kind_info(info->parent)->word : "");
    for (int i = 0; i < info->field_count; i++) {
        enum cy_field field = (enum cy_field)(info->first_field + i);
        printf(mdoc ? ".It Ic %s\n" : "  %s\n", cy_field_info(field)->name);
        cy_text_clear(&line);
        add_field(&line, field);
        print_line(cy_text_get(&line), mdoc);
        cy_text_clear(&line);
        add_fallback(&line, field);
        if (line.length > 0)
            print_line(cy_text_get(&line), mdoc);
    }
    puts(mdoc ? ".El" : "");
    cy_text_dispose(&line);
}

static void print_keys(void)
{
    struct cy_text keys = {0};
    cy_screen_keys(&keys);
    fputs(cy_text_get(&keys), stdout);
    cy_text_dispose(&keys);
}

int cy_main_fields(int argc, char **argv)
{
    bool mdoc = false, keys = false, wants_help = false;
    const struct cy_option options[] = {
        {"--mdoc", NULL, NULL, &mdoc},
        {"--keys", NULL, NULL, &keys},
        {"--help", "-h", NULL, &wants_help},
        {NULL, NULL, NULL, NULL},
    };
    int count = cy_options_read("fields", argc, argv, options);
    if (count < 0)
        return EXIT_USAGE;
    if (wants_help) {
        fputs(help, stdout);
        return 0;
    }
    if (keys && count == 0) {
        print_keys();
        return 0;
    }
    if (count > 1 || keys)
        return cy_usage("fields", "name one section, or none", NULL);
    bool found = false;
    for (int kind = 0; kind < CY_KIND_COUNT; kind++) {
        const char *section = cy_kind_info((enum cy_kind)kind)->section;
        if (count == 1 && strcmp(argv[0], section) != 0)
            continue;
        print_kind((enum cy_kind)kind, mdoc);
        found = true;
    }
    return found ? 0 : cy_usage("fields", "there is no section", argv[0]);
}
